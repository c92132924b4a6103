"""Do belts, nets and straps hold people, baggage and heavy items? Yardstick arithmetic, with figures from memory."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, at_least, fails, no_data, passes, rule
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.hardware import Hardware, Restraint
    from jurystrut.records.weights import Weights

__all__ = ["baggage_is_held", "harness_at_every_seat", "harness_is_complete", "items_are_held", "occupant_is_held"]

_OCCUPANT = 215.0  # 23-785-a: lb
_FITTING = 1.33  # 23-785-a
_FORWARD = 9.0  # 23-787: g; 23.561(b)(2), from memory, has the same
_IN_CABIN = 18.0  # 23-561: g


@rule(
    "seats/harness",
    title="Belt and shoulder harness",
    asks="Has every harness a shoulder part, a metal latch and one release?",
    references=("23-785-b",),
    due=Stage.SYSTEMS,
    remedy="Fit a belt with shoulder harness that closes metal to metal and opens with one movement.",
)
def harness_is_complete(hardware: Hardware) -> Iterator[Finding]:
    """Old 23.785(b) and (d), a yardstick."""
    harnesses = [item for item in hardware.restraints if item.holds == "occupant"]
    yield from none_recorded(harnesses, "harness", hardware)
    for item in harnesses:
        wanted = ("shoulder_harness", "metal_latch", "single_release")
        unknown = next((field for field in wanted if getattr(item, field) is None), None)
        absent = next((field for field in wanted if getattr(item, field) is False), None)
        if absent:
            yield fails(item.id, f"it has no {absent.replace('_', ' ')}", item.at(absent))
        elif unknown:
            yield lacking(item, unknown)
        else:
            yield passes(item.id, "shoulder harness, metal latch, one release", item.at())


@rule(
    "seats/every-seat",
    title="Harness at every seat",
    asks="Has every seat a harness?",
    references=("23-785-b", "own-consistency"),
    due=Stage.SYSTEMS,
    remedy="Record a restraint that holds an occupant and names the seat as its station.",
)
def harness_at_every_seat(hardware: Hardware, weights: Weights) -> Iterator[Finding]:
    """Seats are the stations of the section weights that are of that kind."""
    seats = [station for station in weights.stations if station.kind == "seat"]
    if not seats:
        yield no_data("aircraft", "no seat is recorded among the stations", weights.at())
    by_station = {item.station: item for item in hardware.restraints if item.holds == "occupant"}
    for seat in seats:
        item = by_station.get(seat.id)
        if item:
            yield passes(seat.id, f"held by {item.id}", item.at(), seat.at())
        else:
            yield fails(seat.id, "no harness names this seat", hardware.at("restraints"), seat.at())


def _held(item: Restraint, load: float, message: str, steps: list[str], otherwise: Verdict) -> Finding:
    if item.strength is None or item.evidence is None:
        return lacking(item, "strength" if item.strength is None else "evidence", f"; {message}")
    have = item.strength.to("lb")
    text = f"{message}; it holds {have:.0f} lb by {item.evidence}"
    return at_least(item.id, have, load, "lb", text, item.at("strength"), working=lambda: steps, otherwise=otherwise)


def _other_ways(mass: float, up: float, side: float) -> str:
    """The loads upward and sideways, in g of old 23.561 from memory; shown and not judged."""
    return (
        f"for the drawing: {up:g} g upward pulls {up * mass:.0f} lb, {side:g} g sideways {side * mass:.0f} lb "
        "(old 23.561, from memory; not judged, as only what holds forward is recorded)"
    )


@rule(
    "seats/occupant-load",
    title="Harness holds its occupant",
    asks="Does every harness hold a heavy occupant at nine times the weight, with the factor for fittings?",
    references=("23-785-a", "23-561"),
    due=Stage.SYSTEMS,
    remedy="Strengthen the anchors, or show that they hold more.",
    at_worst=Verdict.WARN,
)
def occupant_is_held(hardware: Hardware, weights: Weights | None = None) -> Iterator[Finding]:
    """215 lb, or the seat's declared maximum where that is more, times 9 g forward, times 1.33 for the fittings, against what all
    anchors of the harness hold together. All three figures are from memory, so this warns at most.
    """
    stations = {station.id: station for station in weights.stations} if weights else {}
    harnesses = [item for item in hardware.restraints if item.holds == "occupant"]
    yield from none_recorded(harnesses, "harness", hardware)
    for item in harnesses:
        seat = stations.get(item.station or "")
        mass = max(_OCCUPANT, seat.maximum.to("lb") if seat and seat.maximum else 0.0)
        load = mass * _FORWARD * _FITTING
        steps = [
            f"{mass:.0f} lb x {_FORWARD:g} g x {_FITTING} = {load:.0f} lb (old 23.561 and 23.785, from memory)",
            _other_ways(mass * _FITTING, 3.0, 1.5),  # 23-561
        ]
        yield _held(item, load, f"{mass:.0f} lb at 9 g with fittings pulls {load:.0f} lb", steps, Verdict.WARN)


@rule(
    "seats/baggage-load",
    title="Baggage is held",
    asks="Does the net or partition hold the most baggage, forward, in a hard landing?",
    references=("23-787", "23-561"),
    due=Stage.SYSTEMS,
    remedy="Strengthen it, or lower the station's maximum.",
)
def baggage_is_held(hardware: Hardware, weights: Weights | None = None) -> Iterator[Finding]:
    """Behind structure 9 g forward count, old 23.787(a)(3), a yardstick. Where baggage and people share a space, 23.787(b)
    asks for the factor of items of mass, 18 g, which is from memory and warns at most.
    """
    stations = {station.id: station for station in weights.stations} if weights else {}
    nets = [item for item in hardware.restraints if item.holds == "baggage"]
    named = {item.station for item in nets}
    free = [s for s in stations.values() if s.kind == "baggage" and s.id not in named]
    if not free:
        yield from none_recorded(nets, "baggage restraint", hardware)
    for place in free:
        words = "no net or partition names this station"
        yield no_data(place.id, words, place.at(), remedy="Record a restraint that holds baggage and names it.")
    for item in nets:
        station = stations.get(item.station or "")
        mass = station.maximum if station and station.maximum else item.mass
        if mass is None or item.with_people is None:
            yield lacking(
                item, "with_people" if mass else "mass", ", nor a station with a maximum" if mass is None else ""
            )
            continue
        factor, verdict = (_IN_CABIN, Verdict.WARN) if item.with_people else (_FORWARD, Verdict.FAIL)
        load = mass.to("lb") * factor
        steps = [
            f"{mass} x {factor:g} g = {load:.0f} lb ({'23.561, from memory' if item.with_people else '23.787(a)(3)'})"
        ]
        yield _held(item, load, f"{mass} at {factor:g} g pulls {load:.0f} lb", steps, verdict)


@rule(
    "seats/item-load",
    title="Heavy items are held",
    asks="Is every heavy item in the cabin held at eighteen times its weight?",
    references=("23-561",),
    due=Stage.SYSTEMS,
    remedy="Strengthen its tray and straps, or move it out of the cabin.",
    at_worst=Verdict.WARN,
)
def items_are_held(hardware: Hardware) -> Iterator[Finding]:
    """A battery or radio behind the seats comes forward at 18 g in old 23.561(b)(3). The figure is from memory."""
    items = [item for item in hardware.restraints if item.holds == "item"]
    yield from none_recorded(items, "restraint of a heavy item", hardware)
    for item in items:
        if item.mass is None:
            yield lacking(item, "mass")
            continue
        load = item.mass.to("lb") * _IN_CABIN
        steps = [
            f"{item.mass} x {_IN_CABIN:g} g = {load:.0f} lb (old 23.561, from memory)",
            _other_ways(item.mass.to("lb"), 3.0, 4.5),  # 23-561
        ]
        yield _held(item, load, f"{item.mass} at {_IN_CABIN:g} g pulls {load:.0f} lb", steps, Verdict.WARN)
