"""The most forward and the most rearward loading by the published method, and the weight that must fit under gross."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.balance import Body, Loadable, extreme, total
from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, at_least, at_most, rule
from jurystrut_rules.weights.balance import envelope_of, limits_of
from jurystrut_rules.weights.ledger import Empty, inches, pounds

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from jurystrut.calculations.loadings import Place
    from jurystrut.records.aircraft import Aircraft, Limits
    from jurystrut.records.fuel import Fuel
    from jurystrut.records.weights import Station, Weights

__all__ = [
    "Extreme",
    "extreme_loading",
    "forward_extreme",
    "gross_weight_is_enough",
    "minimum_fuel",
    "rearward_extreme",
]

_POUND = 0.45359237  # arithmetic
_OCCUPANT = 170 * _POUND  # h8083-30-weights: 23.25(a)(2) has the same for normal category
_HORSEPOWER = 745.69987158227022  # arithmetic: watts; 550 ft lbf/s


class Extreme(NamedTuple):
    """An extreme loading: what it weighs, where it balances, and its lines."""

    whole: Body
    lines: tuple[str, ...]


def minimum_fuel(power: float) -> float:
    """Minimum fuel in kilograms for a power in watts: half a pound a horsepower of maximum continuous power.

    AC 43.13-1B, page 10-8. A convention for balance; not the half hour of old 23.25, and no reserve for a flight.
    """
    return power / _HORSEPOWER / 2 * _POUND


@rule(
    "weights/forward-extreme",
    title="Most forward loading by the published method",
    asks="Is the most forward loading of AC 43.13-1B behind the forward limit and below gross weight?",
    references=("ac43-10-17", "ac43-minimum-fuel", "h8083-30-weights"),
    due=Stage.SYSTEMS,
    remedy="Move something heavy aft, or carry ballast behind the limit.",
)
def forward_extreme(
    aircraft: Aircraft, weights: Weights, empty_aircraft: Empty, places: tuple[Place, ...]
) -> Iterator[Finding]:
    """The pilot stays, at 170 lb. Every other seat ahead of the forward limit holds 170 lb (a bench 170 lb a place), every
    baggage space there its most, and what is behind the limit is empty. Tanks ahead of it are full; minimum fuel, half a pound a
    horsepower of maximum continuous power, is in any case aboard (AC 43.13-1B figure 10-10).

    Where the forward limit slopes, its foremost arm decides what counts as ahead, and the limit at the weight found is applied.
    """
    yield from _judged("forward", aircraft, weights, empty_aircraft, places)


@rule(
    "weights/rearward-extreme",
    title="Most rearward loading by the published method",
    asks="Is the most rearward loading of AC 43.13-1B ahead of the aft limit and below gross weight?",
    references=("ac43-10-17", "ac43-minimum-fuel", "h8083-30-weights"),
    due=Stage.SYSTEMS,
    remedy="Lower what may be carried aft, or carry ballast ahead of the limit.",
)
def rearward_extreme(
    aircraft: Aircraft, weights: Weights, empty_aircraft: Empty, places: tuple[Place, ...]
) -> Iterator[Finding]:
    """The pilot stays, at 170 lb. Every other seat behind the aft limit holds 170 lb, every baggage space there its most, and
    what is ahead of the limit is empty. Tanks behind it are full; otherwise minimum fuel is aboard, half a pound a horsepower of
    maximum continuous power (AC 43.13-1B figure 10-11).

    Where the aft limit slopes, its rearmost arm decides what counts as behind, and the limit at the weight found is applied.
    """
    yield from _judged("aft", aircraft, weights, empty_aircraft, places)


def _judged(
    side: Literal["forward", "aft"], aircraft: Aircraft, weights: Weights, empty: Empty, places: Sequence[Place]
) -> Iterator[Finding]:
    limits = limits_of(aircraft)
    envelope = envelope_of(limits)
    if limits.gross_weight is None:
        raise MissingRecord("the gross weight is not recorded", limits.at())
    outermost = (min if side == "forward" else max)(arm for _, arm in envelope.corners)
    names = {station.id for station in weights.stations}
    tanks = [place for place in places if place.name not in names]
    fuel = _least_fuel(aircraft) if tanks else 0.0
    aboard = f"minimum fuel by AC 43.13-1B {pounds(fuel):.1f} lb" if tanks else "no tank is recorded"
    found = extreme_loading(side, empty.body, weights.stations, places, outermost, fuel)
    around = envelope.limits_around(min(found.whole.weight, envelope.heaviest), found.whole.arm) or (outermost,) * 2
    limit, arm = inches(around[side == "aft"]), inches(found.whole.arm)
    pound = pounds(found.whole.weight)
    judge = at_most if side == "aft" else at_least
    yield judge(
        side,
        arm,
        limit,
        "in",
        f"{pound:.1f} lb at {arm:.2f} in; the {side} limit there is {limit:.2f} in; {aboard}",
        weights.at("stations"),
        limits.at("cg_envelope"),
        working=lambda: [*empty.steps, *found.lines, f"together {pound:.1f} lb at {arm:.3f} in"],
    )
    yield _below_gross(side, pound, limits, weights)


def _least_fuel(aircraft: Aircraft) -> float:
    if aircraft.engine is None or aircraft.engine.power is None:
        raise MissingRecord(
            "the engine's power, which decides the minimum fuel, is not recorded", aircraft.at("engine")
        )
    return minimum_fuel(aircraft.engine.power.si)


def _below_gross(side: str, weight: float, limits: Limits, weights: Weights) -> Finding:
    assert limits.gross_weight is not None
    gross = limits.gross_weight.to("lb")
    return at_most(
        f"{side}-weight",
        weight,
        gross,
        "lb",
        f"the most {side} loading weighs {weight:.1f} lb; gross weight is {limits.gross_weight}",
        weights.at("stations"),
        limits.at("gross_weight"),
        remedy="Lower what the stations may hold together.",
    )


def extreme_loading(
    side: Literal["forward", "aft"],
    empty: Body,
    stations: Sequence[Station],
    places: Sequence[Place],
    limit: float,
    minimum: float,
) -> Extreme:
    """The published extreme loading; raises MissingRecord where no seat is recorded for the pilot.

    He sits where somebody must: at a station with a minimum, of several the one farthest to that side; where none has one, at
    the first.
    """
    seats = [station for station in stations if station.kind == "seat"]
    if not seats:
        raise MissingRecord("no seat is recorded", *(station.at() for station in stations[:1]))
    sat_in = [seat for seat in seats if seat.minimum and seat.minimum.si and not seat.may_be_empty]
    pilot = (max if side == "aft" else min)(sat_in, key=lambda seat: seat.arm.si) if sat_in else seats[0]
    bodies = [Body(_OCCUPANT, pilot.arm.si, pilot.id)]
    rest = [
        Loadable(0.0, _standard(s, s.occupants - (s is pilot)), s.arm.si, s.id)
        for s in stations
        if s is not pilot or s.occupants > 1
    ]
    tanks = [place for place in places if place.name not in {station.id for station in stations}]
    bodies += _fuel(side, tanks, limit, minimum)
    whole = extreme([empty, *bodies], rest, limit, aft=side == "aft")
    bodies += [Body(place.most, place.arm, place.name) for place in rest if _beyond(side, place.arm, limit)]
    return Extreme(whole, tuple(f"{b.name}: {pounds(b.weight):.1f} lb at {inches(b.arm):.2f} in" for b in bodies))


def _standard(station: Station, occupants: int) -> float:
    """A seat holds standard persons, any other place its most."""
    if station.kind == "seat" or station.maximum is None:
        return occupants * _OCCUPANT
    return station.maximum.si


def _beyond(side: str, arm: float, limit: float) -> bool:
    return arm > limit if side == "aft" else arm < limit


def _fuel(side: str, tanks: Sequence[Place], limit: float, minimum: float) -> Iterator[Body]:
    """Tanks beyond the limit are full; what minimum fuel still needs stands in the tanks nearest to that side."""
    needed = minimum
    for tank in sorted(tanks, key=lambda tank: tank.arm, reverse=side == "aft"):
        load = tank.most if _beyond(side, tank.arm, limit) else min(tank.most, max(needed, 0.0))
        needed -= load
        if load:
            yield Body(load, tank.arm, tank.name)


@rule(
    "weights/gross-weight-is-enough",
    title="Gross weight covers all seats",
    asks="Does gross weight leave room for a person of 170 lb in every seat, and for the least fuel?",
    references=("23-25-a", "ac43-minimum-fuel"),
    due=Stage.DESIGN,
    remedy="Lighten the aircraft, or record fewer seats.",
    at_worst=Verdict.WARN,
)
def gross_weight_is_enough(aircraft: Aircraft, empty_aircraft: Empty, fuel: Fuel | None = None) -> Iterator[Finding]:
    """Empty weight, 170 lb for every seat, and fuel are held against gross weight, as 23.25(a) asks of certificated aircraft.

    That section takes fuel for half an hour at maximum continuous power (45 min by night or on instruments). No fuel flow is on
    record, so half a pound a horsepower is taken, the minimum fuel of AC 43.13-1B, which at usual consumption lasts an hour: the
    safe side. The section does not bind an amateur-built aircraft; hence a warning at worst.
    """
    limits = limits_of(aircraft)
    if limits.gross_weight is None or aircraft.seats is None:
        raise MissingRecord("gross weight or the number of seats is not recorded", limits.at(), aircraft.at())
    least = 0.0 if fuel is not None and not fuel.tanks else _least_fuel(aircraft)
    people = aircraft.seats * _OCCUPANT
    whole = pounds(total([empty_aircraft.body, Body(people, 0.0), Body(least, 0.0)]).weight)
    words = (
        f"{pounds(empty_aircraft.body.weight):.1f} lb empty, {_occupants(aircraft.seats)} of 170 lb and "
        f"{pounds(least):.1f} lb of fuel are {whole:.1f} lb; gross weight is {limits.gross_weight}"
    )
    yield at_most(
        "aircraft",
        whole,
        limits.gross_weight.to("lb"),
        "lb",
        words,
        limits.at("gross_weight"),
        aircraft.at("seats"),
        remedy=f"Lighten it by {whole - limits.gross_weight.to('lb'):.1f} lb, or record fewer seats.",
        working=lambda: [*empty_aircraft.steps, words],
    )


def _occupants(seats: int) -> str:
    return "1 occupant" if seats == 1 else f"{seats} occupants"
