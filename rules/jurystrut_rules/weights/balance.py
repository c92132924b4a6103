"""Is the aircraft inside its limits in every loading that the builder declares?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.balance import Body, total
from jurystrut.calculations.envelope import Envelope
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Spot,
    Stage,
    at_most,
    between,
    fact,
    fails,
    no_data,
    not_applicable,
    rule,
)
from jurystrut_rules.weights.ledger import Empty, inches, pounds

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.calculations.envelope import Limits as Arms
    from jurystrut.quantities import Mass, Volume
    from jurystrut.records.aircraft import Aircraft, Limits
    from jurystrut.records.fuel import Fuel
    from jurystrut.records.weights import Loading, Station, Weights

__all__ = [
    "Loaded",
    "Placed",
    "envelope_of",
    "inside_envelope",
    "limits_of",
    "loading_below_gross",
    "loadings",
    "loadings_placed",
    "station_not_overloaded",
]


class Loaded(NamedTuple):
    """One declared loading in one state of its fuel; `lacks` says what is missing where it cannot be computed."""

    loading: Loading
    state: str
    body: Body | None
    steps: tuple[str, ...]
    lacks: str = ""


@fact
def loadings(weights: Weights, empty_aircraft: Empty, fuel: Fuel | None = None) -> list[Loaded]:
    """Every declared loading at take-off, at landing, and with no usable fuel."""
    stations = {station.id: station for station in weights.stations}
    if not weights.loadings:
        raise MissingRecord("no loading is declared", weights.at())
    return [
        _loaded(loading, state, burnt, stations, empty_aircraft, fuel)
        for loading in weights.loadings
        for state, burnt in _states(loading)
    ]


def _states(loading: Loading) -> Iterator[tuple[str, Mapping[str, Volume]]]:
    yield "at take-off", loading.fuel
    if loading.landing_fuel is not None:
        yield "at landing", loading.landing_fuel
    yield "without fuel", {}


def _loaded(
    loading: Loading,
    state: str,
    tanks: Mapping[str, Volume],
    stations: Mapping[str, Station],
    empty: Empty,
    fuel: Fuel | None,
) -> Loaded:
    parts = [(f"{name}: {mass}", Body(mass.si, stations[name].arm.si)) for name, mass in loading.stations.items()]
    known = {tank.id: tank for tank in fuel.tanks} if fuel else {}
    for name, volume in tanks.items():
        tank = known.get(name)
        if fuel is None or fuel.density is None or tank is None or tank.arm is None:
            return Loaded(loading, state, None, (), f"fuel density or the arm of tank {name} is not recorded")
        parts.append((f"{name}: {volume} at {fuel.density}", Body(volume.si * fuel.density.si, tank.arm.si)))
    body = total([empty.body, *(part for _, part in parts)])
    lines = [f"{words} = {pounds(part.weight):.1f} lb at {inches(part.arm):.2f} in" for words, part in parts]
    whole = f"loaded {state}: {pounds(body.weight):.1f} lb at {inches(body.arm):.2f} in"
    return Loaded(loading, state, body, (*empty.steps, *lines, whole))


def limits_of(aircraft: Aircraft) -> Limits:
    """The aircraft's limits; MissingRecord where there are none."""
    if aircraft.limits is None:
        raise MissingRecord("the aircraft's limits are not recorded", aircraft.at())
    return aircraft.limits


def _up(amount: float, places: int) -> float:
    """An amount to take off or to move by, rounded up, so that doing as told is enough."""
    steps = 10.0**places
    return math.ceil(amount * steps - 1e-6) / steps


_HELD_AGAINST = {"at take-off": "gross_weight", "at landing": "landing_weight", "without fuel": "zero_fuel_weight"}


@rule(
    "weights/gross-weight",
    title="Gross weight",
    asks="Does every declared loading stay within gross weight, and within the landing and zero fuel weight where there is one?",
    references=("91-9", "ac43-10-17"),
    holds_abroad="gross weight is the aircraft's own limit",
    due=Stage.SYSTEMS,
    remedy="Carry less, and record the loading that way.",
    no_deviation="gross weight is an operating limitation",
)
def loading_below_gross(aircraft: Aircraft, empty_aircraft: Empty, loadings: list[Loaded]) -> Iterator[Finding]:
    """The empty aircraft, the load at each station and the fuel at take-off are added and held against gross weight.

    The empty aircraft is the latest weighing and what was fitted after it. A loading exactly at gross weight passes.
    Where the aircraft has a landing weight or a zero fuel weight, the loading with the fuel left then is held against it.
    """
    limits = limits_of(aircraft)
    if limits.gross_weight is None:
        raise MissingRecord("the gross weight is not recorded", limits.at())
    for loaded in loadings:
        field = _HELD_AGAINST[loaded.state]
        limit = getattr(limits, field)
        if limit is not None:
            yield _against_weight(loaded, limit, field.replace("_", " "), limits.at(field), empty_aircraft)
        if loaded.state == "at take-off" and limits.landing_weight is not None and loaded.loading.landing_fuel is None:
            words = "the fuel left at landing is not recorded"
            where = (loaded.loading.at(), limits.at("landing_weight"))
            yield no_data(loaded.loading.id, words, *where, remedy="Record 'landing_fuel'.")


def _against_weight(loaded: Loaded, limit: Mass, name: str, where: Spot, empty: Empty) -> Finding:
    if loaded.body is None:
        return no_data(loaded.loading.id, loaded.lacks, loaded.loading.at(), remedy="Record it.")
    weight, most = pounds(loaded.body.weight), limit.to("lb")
    return at_most(
        loaded.loading.id,
        weight,
        most,
        "lb",
        f"{weight:.1f} lb {loaded.state}; {name} is {limit}",
        loaded.loading.at(),
        where,
        *empty.where[:-1],
        remedy=f"Carry {_up(weight - most, 1):.1f} lb less.",
        working=lambda: loaded.steps,
    )


class Placed(NamedTuple):
    """A loading in one state, the limits of the envelope at its weight in metres where there are any, and what that means."""

    loaded: Loaded
    allowed: Arms | None
    finding: Finding


@fact
def loadings_placed(aircraft: Aircraft, empty_aircraft: Empty, loadings: list[Loaded]) -> list[Placed]:
    """Every declared loading in each of its states, held against the envelope."""
    limits = limits_of(aircraft)
    envelope = envelope_of(limits)
    return [_placed(loaded, envelope, limits, empty_aircraft) for loaded in loadings]


@rule(
    "weights/cg-envelope",
    title="Centre of gravity inside the envelope",
    asks="Does the centre of gravity stay inside the envelope in every declared loading, from take-off until the fuel is gone?",
    references=("91-9", "ac43-10-17", "ac43-figure-10-13"),
    holds_abroad="the envelope is the aircraft's own limit",
    due=Stage.SYSTEMS,
    remedy="Move or lighten the load, or carry ballast; record the loading that way.",
    no_deviation="the centre of gravity range is an operating limitation",
)
def inside_envelope(loadings_placed: list[Placed]) -> Iterator[Finding]:
    """Each declared loading is computed at take-off, at landing where that is declared, and without usable fuel.

    Weights and moments are added; the centre of gravity must lie between the envelope's limits at that weight. The record
    says whether its corners are joined in arm or in moment: on a sloped limit the two differ. A point on the border is
    inside.
    """
    for placed in loadings_placed:
        yield placed.finding


def envelope_of(limits: Limits) -> Envelope:
    """The envelope of the records; MissingRecord where it is not there, not closed, or joined nobody says how."""
    if not limits.cg_envelope:
        raise MissingRecord("the envelope is not recorded", limits.at())
    if limits.cg_envelope_joined_in is None:
        words = "whether the envelope's corners are joined in arm or in moment is not recorded"
        raise MissingRecord(words, limits.at("cg_envelope"))
    corners = tuple((corner.weight.si, corner.arm.si) for corner in limits.cg_envelope)
    try:
        return Envelope(corners, limits.cg_envelope_joined_in)
    except ValueError as error:
        raise MissingRecord(str(error), limits.at("cg_envelope")) from None


def _placed(loaded: Loaded, envelope: Envelope, limits: Limits, empty: Empty) -> Placed:
    loading = loaded.loading
    if loaded.body is None:
        lacking = no_data(loading.id, loaded.lacks, loading.at(), remedy="Record it.")
        return Placed(loaded, None, lacking)
    around = envelope.limits_around(loaded.body.weight, loaded.body.arm)
    where = (loading.at(), limits.at("cg_envelope"), *empty.where[:-1])
    return Placed(loaded, around, _in_envelope(loaded, loaded.body, around, envelope, where))


def _in_envelope(
    loaded: Loaded, body: Body, around: Arms | None, envelope: Envelope, where: tuple[Spot, ...]
) -> Finding:
    name = loaded.loading.id
    weight, arm = pounds(body.weight), inches(body.arm)
    if around is None:
        low, high = pounds(envelope.lightest), pounds(envelope.heaviest)
        message = f"{loaded.state} it weighs {weight:.1f} lb; the envelope covers {low:g} to {high:g} lb"
        remedy = "Change the weight; the envelope says nothing of this one."
        return fails(name, message, *where, remedy=remedy, working=lambda: loaded.steps)
    forward, aft = inches(around[0]), inches(around[1])
    return between(
        name,
        arm,
        forward,
        aft,
        "in",
        f"{loaded.state} the centre of gravity is at {arm:.2f} in, {weight:.1f} lb; allowed: {forward:.2f} to {aft:.2f} in",
        *where,
        remedy=f"Bring it {_up(max(forward - arm, arm - aft), 2):.2f} in {'aft' if arm < forward else 'forward'}.",
        working=lambda: (*loaded.steps, f"limits at that weight: {forward:.2f} to {aft:.2f} in"),
    )


@rule(
    "weights/station-load",
    title="Station not overloaded",
    asks="Does every declared loading respect the most that each seat, baggage space and tank may hold?",
    references=("91-9", "23-1557"),
    holds_abroad="the limit of a station is the aircraft's own",
    due=Stage.SYSTEMS,
    remedy="Carry less there, and record the loading that way.",
)
def station_not_overloaded(weights: Weights, fuel: Fuel | None = None) -> Iterator[Finding]:
    """The load at each station is held against its declared maximum, the fuel in each tank against what it can use, and the
    fuel left at landing against that at take-off.
    """
    if not weights.loadings:
        raise MissingRecord("no loading is declared", weights.at())
    stations = {station.id: station for station in weights.stations}
    tanks = {tank.id: tank for tank in fuel.tanks} if fuel else {}
    for loading in weights.loadings:
        if not loading.stations and not loading.fuel:
            yield not_applicable(loading.id, "nothing is carried", loading.at())
        for name, mass in loading.stations.items():
            most = stations[name].maximum
            where = (loading.at("stations"), stations[name].at("maximum"))
            if most is None:
                words = f"the most that {name} may hold is not recorded"
                yield no_data(loading.id, words, stations[name].at(), remedy="Record 'maximum'.")
            else:
                yield at_most(
                    loading.id, mass.to("lb"), most.to("lb"), "lb", f"{mass} at {name}, which may hold {most}", *where
                )
        for name, volume in loading.fuel.items():
            usable = tanks[name].usable
            if usable is None:
                words = f"the usable fuel of tank {name} is not recorded"
                yield no_data(loading.id, words, tanks[name].at(), remedy="Record 'usable'.")
            else:
                message = f"{volume} in {name}, which can use {usable}"
                where = (loading.at("fuel"), tanks[name].at("usable"))
                yield at_most(loading.id, volume.to("US gal"), usable.to("US gal"), "US gal", message, *where)
        yield from _fuel_at_landing(loading)


def _fuel_at_landing(loading: Loading) -> Iterator[Finding]:
    """Nothing is said of a tank that is fed by others in flight: more fuel altogether cannot be left than was aboard."""
    if loading.landing_fuel is None:
        return
    left = sum(volume.to("US gal") for volume in loading.landing_fuel.values())
    aboard = sum(volume.to("US gal") for volume in loading.fuel.values())
    yield at_most(
        loading.id,
        left,
        aboard,
        "US gal",
        f"{left:.1f} US gal are left at landing, of {aboard:.1f} US gal at take-off",
        loading.at("landing_fuel"),
        loading.at("fuel"),
        remedy="Correct the fuel at landing or at take-off.",
    )
