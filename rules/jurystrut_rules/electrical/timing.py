"""Do devices open soon enough to save the wire, late enough for the load's inrush, and in the right order?"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from jurystrut.calculations.opening import adiabatic_factor
from jurystrut.rulebook import (
    Finding,
    Sound,
    Stage,
    Verdict,
    at_least,
    at_most,
    later_if,
    no_data,
    not_applicable,
    rule,
)
from jurystrut_rules.electrical.tables import blade_times, circular_mils, insulation_celsius

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.opening import TimeRow
    from jurystrut.records.electrical import Electrical, Load, Protection, Wire
    from jurystrut_rules.electrical.circuit import Circuit, WireKinds

__all__ = ["devices_open_in_order", "inrush_passes", "wire_stands_fault"]

_TABLE_COVERS = (3.0, 30.0)  # blade-fuse-times: amperes, by the table's own heading
_ADIABATIC_S = 5.0  # iec-60949: no longer than this without heat loss
_ETFE = (150.0, 200.0)  # m22759-16, iec-60949 (none): degC, as hot as it is rated, and a final one chosen here
_MM2_PER_CMIL = 0.0254**2 * 3.141592653589793 / 4  # arithmetic


def _has_table(device: Protection) -> bool:
    return device.kind == "blade-fuse" and _TABLE_COVERS[0] <= device.rating.si <= _TABLE_COVERS[1]


def _device_of(point: str, circuit: Circuit, devices: dict[str, Protection]) -> Protection | None:
    first = circuit.analysis.first_device(point)
    return devices[first.id] if first else None


@rule(
    "electrical/inrush",
    title="Inrush passes the fuse",
    asks="Is the inrush of every load over before its fuse may open?",
    references=("blade-fuse-times",),
    due=Stage.SYSTEMS,
    remedy="Fit a slower device or a larger one with thicker wire, or soften the start.",
    at_worst=Verdict.WARN,
)
def inrush_passes(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """A fuse need not open at an overload before the least time of the standard's band; between two rows the next overload
    above counts, beyond the last row no time is sure. Loads with an inrush behind blade fuses of 3 to 30 A are judged; motors
    and filament lamps there must record it. The times are partly from memory, so this rule warns at most.
    """
    devices = {device.id: device for device in electrical.protection}
    count = 0
    for load in electrical.loads:
        device = _device_of(load.id, circuit, devices) if load.inrush or load.nature in {"motor", "lamp"} else None
        if device is None or not _has_table(device):
            continue
        count += 1
        if load.inrush is None or load.inrush_time is None:
            what = "inrush" if load.inrush is None else "inrush_time"
            yield no_data(
                load.id, f"its {what} is not recorded; {device.id} feeds it", load.at(), remedy=f"Record its '{what}'."
            )
        else:
            yield _inrush(load, load.inrush.si, load.inrush_time.si, device)
    if not count:
        message = (
            "no load with an inrush hangs on a blade fuse of 3 to 30 A; no published times are held for other devices"
        )
        yield not_applicable("aircraft", message, electrical.at("loads"))


def _inrush(load: Load, amperes: float, seconds: float, device: Protection) -> Finding:
    percent = 100 * amperes / device.rating.si
    earliest = blade_times().earliest(percent)
    return at_most(
        load.id,
        seconds,
        earliest,
        "s",
        f"{amperes:g} A for {seconds:g} s at switch-on; {device.id}, {device.rating}, may open after {earliest:g} s of it",
        load.at("inrush_time"),
        device.at("rating"),
        remedy=f"Fit a larger fuse at {device.id} with wire to suit, or a breaker.",
        working=lambda: [
            f"{amperes:g} A / {device.rating.si:g} A = {percent:.0f} %",
            f"least opening time of the next row above: {earliest:g} s",
        ],
    )


@rule(
    "electrical/fault-heating",
    title="Wire stands the fault until the fuse opens",
    asks="Does every wire behind a fuse stay below its final temperature until the fuse has opened at the latest?",
    references=("iec-60949", "blade-fuse-times", "ac43-table-11-9", "m22759-16"),
    due=Stage.SYSTEMS,
    remedy="Fit a smaller fuse, or thicker wire.",
    at_worst=Verdict.WARN,
)
def wire_stands_fault(electrical: Electrical, circuit: Circuit, wire_kinds: WireKinds) -> Iterator[Finding | Sound]:
    """Over a few seconds a wire gives off no heat: it reaches its final temperature at I^2 t = k^2 S^2. The most that a fuse
    passes within 5 s is taken over the rows of its band, at the latest opening. Held against it is a wire rated 150 degC, as
    hot as it may be, that ends at 200 degC: no standard gives a final temperature for it, so this is a choice made here and
    warns at most. Beyond six times its rating the band gives no least current, and a fuse's own curve is needed.
    """
    devices = {device.id: device for device in electrical.protection if _has_table(device)}
    stands = [_stands(wire) for wire in wire_kinds.first]
    count = 0
    heats = {id_: _most_heat(device.rating.si)[0] for id_, device in devices.items()}
    for index, device in _behind_fuses(len(electrical.wires), circuit, devices):
        count += 1
        wire, known = electrical.wires[index], stands[wire_kinds.of[index]]
        cool = not isinstance(known, Verdict) and heats[device.id] <= known[1]
        yield later_if(cool, _heated, wire, device, known)
    if not count:
        message = "no wire hangs on a blade fuse of 3 to 30 A; no published times are held for other devices"
        yield not_applicable("aircraft", message, electrical.at("wires"))


def _behind_fuses(wires: int, circuit: Circuit, devices: dict[str, Protection]) -> Iterator[tuple[int, Protection]]:
    """The numbers of the wires of the supply side whose nearest device is a fuse with a table."""
    first_devices, side, edges = circuit.analysis.first_devices, circuit.analysis.side, circuit.network.edges
    for index in range(wires):
        first = first_devices[index]
        if first is not None and side[index] == "supply" and edges[first].id in devices:
            yield index, devices[edges[first].id]


def _stands(wire: Wire) -> tuple[float, float] | Verdict:
    """The section in mm2 and the A2s that a wire stands; or no-data, or not-applicable."""
    cmil = circular_mils(wire.size.name) if wire.size else None
    rating = wire.insulation.to("degC") if wire.insulation else insulation_celsius(wire.spec)
    if cmil is None or rating is None or wire.material != "copper":
        return Verdict.NO_DATA
    if round(rating) != round(_ETFE[0]):
        return Verdict.NOT_APPLICABLE
    return cmil * _MM2_PER_CMIL, (adiabatic_factor(*_ETFE) * cmil * _MM2_PER_CMIL) ** 2


def _heated(wire: Wire, device: Protection, known: tuple[float, float] | Verdict) -> Finding:
    if known is Verdict.NO_DATA:
        return no_data(
            wire.id, "its size, its insulation's temperature or that it is copper is not recorded", wire.at()
        )
    if isinstance(known, Verdict):
        return not_applicable(wire.id, "no final temperature is held for insulation but that of 150 degC", wire.at())
    square_mm, stands = known
    heat, row = _most_heat(device.rating.si)
    return at_most(
        wire.id,
        heat,
        stands,
        "A2s",
        f"{device.id} may pass {heat:.0f} A2s before it opens; this {wire.size} wire stands {stands:.0f} A2s",
        wire.at("size"),
        device.at("rating"),
        remedy=f"Fit a smaller fuse at {device.id}, or thicker wire.",
        working=lambda: [
            f"{row.percent:g} % of {device.rating.si:g} A for {row.most:g} s: {heat:.4g} A2s",
            f"k from {_ETFE[0]:g} to {_ETFE[1]:g} degC: {adiabatic_factor(*_ETFE):.1f}",
            f"section (Table 11-9): {square_mm:.4f} mm2",
            f"({adiabatic_factor(*_ETFE):.1f} x {square_mm:.4f})^2 = {stands:.4g} A2s",
        ],
    )


@cache
def _most_heat(rating: float) -> tuple[float, TimeRow]:
    return blade_times().heat(rating, _ADIABATIC_S)


@rule(
    "electrical/coordination",
    title="The device nearest the fault opens first",
    asks="Does the device nearest a load open before the next one towards the source?",
    references=("coordination", "blade-fuse-times"),
    due=Stage.SYSTEMS,
    remedy="Fit a smaller device near the load, or a larger one with wire to suit nearer the source.",
    at_worst=Verdict.WARN,
)
def devices_open_in_order(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """Where one blade fuse stands behind another, the latest opening of the first is compared with the earliest of the second
    at each overload of its band up to six times its rating. Where no times are published, as for breakers, the ratings are
    compared: the nearer device must have the smaller one. Beyond six times the rating nothing here tells which opens first.
    """
    devices = {device.id: device for device in electrical.protection}
    edges, beyond = circuit.network.edges, circuit.analysis.devices_beyond
    count = 0
    for device in electrical.protection:
        index = beyond[circuit.edge_of[device.id][0]]
        if index is None:
            continue
        count += 1
        before = devices[edges[index].id]
        timed = _has_table(device) and _has_table(before)
        yield _in_time(device, before) if timed else _by_rating(device, before)
    if not count:
        yield not_applicable("aircraft", "no device has a single other one before it", electrical.at("protection"))


def _by_rating(device: Protection, before: Protection) -> Finding:
    smaller = device.rating.si < before.rating.si
    finding = at_most(
        device.id,
        device.rating.si,
        before.rating.si,
        "A",
        f"{device.rating} behind {before.id} of {before.rating}",
        device.at("rating"),
        before.at("rating"),
        remedy=f"Fit a device of less than {before.rating} at {device.id}.",
        working=lambda: ["no published times for both: the ratings are compared, and equal ones are not in order"],
    )
    if smaller:
        return finding
    return finding._replace(verdict=Verdict.WARN, remedy=f"Fit a device of less than {before.rating} at {device.id}.")


def _in_time(device: Protection, before: Protection) -> Finding:
    rows = list(blade_times().opens_before(device.rating.si, blade_times(), before.rating.si))
    amperes, latest, earliest = min(rows, key=lambda row: row[2] / row[1])
    return at_least(
        device.id,
        earliest,
        latest,
        "s",
        f"at {amperes:g} A it has opened after {latest:g} s; {before.id}, {before.rating}, may open after {earliest:g} s",
        device.at("rating"),
        before.at("rating"),
        remedy=f"Fit a smaller fuse at {device.id}; a third of {before.rating} is in order by the published times.",
        working=lambda: [
            f"{a:g} A: {device.id} by {last:g} s, {before.id} not before {first:g} s" for a, last, first in rows
        ],
    )
