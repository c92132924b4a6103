"""Is every loading inside the envelope that the stations and tanks allow, declared or not?"""

from __future__ import annotations

import heapq
from operator import itemgetter
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.balance import Body
from jurystrut.calculations.loadings import Place, Worst, greatest_most, lightest, worst_loading
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    fact,
    fails,
    rule,
)
from jurystrut_rules.weights.balance import envelope_of, limits_of
from jurystrut_rules.weights.ledger import Empty, inches, pounds

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from jurystrut.calculations.envelope import Envelope
    from jurystrut.records.aircraft import Aircraft, Limits
    from jurystrut.records.fuel import Fuel, Tank
    from jurystrut.records.weights import Component, Station, Weights
    from jurystrut.rulebook import Spot

__all__ = ["Possible", "envelope_covers", "every_loading_inside", "places", "possible"]

_POUND = 0.45359237  # arithmetic
_STEP = 0.1 * _POUND  # numerics
_MOST_TOLD = 12  # numerics
_SHOWN_AS_NONE = 0.005  # numerics: kilograms
_MOST_MENDED = 40  # numerics
"""With more stations than this no single limit is searched for: each takes a dozen judgements of all loadings."""
_MOST_BALLAST = 0.10  # numerics
"""Share of the empty weight above which we name no ballast; a figure of our own."""


class Possible(NamedTuple):
    """All that can be loaded, in kilograms and metres, and what it is held against."""

    empty: Body
    places: tuple[Place, ...]
    envelope: Envelope
    gross: float
    limits: Limits
    steps: tuple[str, ...]

    def worst(self, side: Literal["forward", "aft", "gap"]) -> Worst | None:
        """The worst loading on one side."""
        return worst_loading(self.empty, self.places, self.envelope, self.gross, side)

    def mended(self, side: Literal["forward", "aft", "gap"]) -> bool:
        """Whether no loading is beyond that side; one by a billionth of an inch is rounding."""
        worst = self.worst(side)
        return worst is None or worst.excess <= 1e-9


class _Named(NamedTuple):
    """Stations, tanks, and both as places for load, by their ids."""

    stations: Mapping[str, Station]
    tanks: Mapping[str, Tank]
    places: Mapping[str, Place]


@fact
def places(weights: Weights, fuel: Fuel | None = None) -> tuple[Place, ...]:
    """Every station and every tank with the least and the most that it can hold in flight; tanks go down to no usable fuel."""
    if not weights.stations:
        raise MissingRecord("no station is recorded", weights.at())
    if fuel is None:
        raise MissingRecord("the fuel tanks are not recorded", weights.at("stations"))
    density = fuel.density
    if density is None and fuel.tanks:
        raise MissingRecord("the fuel's density is not recorded", fuel.at())
    return (*map(_station, weights.stations), *(_tank(tank, density.si) for tank in fuel.tanks if density))


def _station(station: Station) -> Place:
    if station.maximum is None:
        raise MissingRecord(f"the most that {station.id} may hold is not recorded", station.at())
    least, most = station.minimum.si if station.minimum else 0.0, station.maximum.si
    if least > most:
        raise MissingRecord(f"{station.id} has a minimum above its maximum", station.at("minimum"))
    return Place(least, most, station.arm.si, station.id, station.may_be_empty)


def _tank(tank: Tank, density: float) -> Place:
    if tank.usable is None or tank.arm is None:
        raise MissingRecord(f"the usable fuel or the arm of tank {tank.id} is not recorded", tank.at())
    return Place(0.0, tank.usable.si * density, tank.arm.si, tank.id)


@fact
def possible(aircraft: Aircraft, empty_aircraft: Empty, places: tuple[Place, ...]) -> Possible:
    """The empty aircraft, all that it can be loaded with, and its limits."""
    limits = limits_of(aircraft)
    if limits.gross_weight is None:
        raise MissingRecord("the gross weight is not recorded", limits.at())
    envelope = envelope_of(limits)
    return Possible(empty_aircraft.body, places, envelope, limits.gross_weight.si, limits, empty_aircraft.steps)


@rule(
    "weights/every-loading",
    title="Every possible loading inside the envelope",
    asks="Does every loading that stations and tanks allow, up to gross weight, stay inside the envelope?",
    references=("23-2100", "ac43-10-17", "91-9"),
    due=Stage.SYSTEMS,
    remedy="Lower what a station may hold, raise the least at another, or carry ballast.",
    no_deviation="the centre of gravity range is an operating limitation",
)
def every_loading_inside(possible: Possible, weights: Weights, fuel: Fuel | None = None) -> Iterator[Finding]:
    """Every station holds anything from its least to its most, every tank anything from full to no usable fuel, in any mixture.

    All these loadings together are a region of weight against moment whose border is known exactly; nothing is sampled. Its part
    up to gross weight must lie inside the envelope. The loading that goes farthest forward and the one that goes farthest aft are
    told in words. Fuel burnt tank by tank in any order stays in the region, and so does every landing. A station without a
    minimum counts as one that may be empty; one that `may_be_empty` is empty or at its minimum at least.
    """
    named = _Named(
        {station.id: station for station in weights.stations},
        {tank.id: tank for tank in fuel.tanks} if fuel else {},
        {place.name: place for place in possible.places},
    )
    said = [
        *_beyond(possible, "forward", named, weights.components),
        *_beyond(possible, "aft", named, weights.components),
        *_in_gap(possible, named),
    ]
    if not said:
        yield _nothing_possible(possible)
    yield from said


def _nothing_possible(possible: Possible) -> Finding:
    least = pounds(lightest(possible.empty, possible.places).weight)
    where = (possible.limits.at("cg_envelope"), possible.limits.at("gross_weight"))
    if least > pounds(possible.gross):
        words = f"the lightest loading weighs {least:.1f} lb; gross weight is {possible.limits.gross_weight}"
        return fails(
            "aircraft", words, *reversed(where), remedy="Lighten the aircraft, or lower the least at a station."
        )
    words = "no loading up to gross weight has a weight that the envelope covers"
    return fails("aircraft", words, *where, remedy="Extend the envelope with the designer's limits.")


def _beyond(
    possible: Possible,
    side: Literal["forward", "aft"],
    named: _Named,
    components: tuple[Component, ...],
) -> Iterator[Finding]:
    worst = possible.worst(side)
    if worst is None:
        return
    arm, limit = inches(worst.arm), inches(worst.limit)
    loading = _in_words(worst, named)
    far = f"{abs(inches(worst.excess)):.2f} in {'beyond' if worst.excess > 0 else 'inside'} the {side} limit"
    words = f"{loading}: {pounds(worst.weight):.1f} lb at {arm:.2f} in, {far}"
    judge = at_most if side == "aft" else at_least
    finding = judge(
        side,
        arm,
        limit,
        "in",
        words if worst.exact else f"at the worst, {words}",
        *_places_of(worst, side, named),
        possible.limits.at("cg_envelope"),
        working=lambda: [*possible.steps, *_working(possible, worst), f"{side} limit there: {limit:.3f} in"],
    )
    sound = finding.verdict is Verdict.PASS
    yield finding if sound else finding._replace(remedy=_mend(possible, side, named.stations, components))


def _places_of(worst: Worst, side: str, named: _Named) -> Iterator[Spot]:
    """The place that pulls hardest to that side; its line is the first to look at."""
    sign, limit = (1 if side == "aft" else -1), worst.limit
    pulls = [(sign * load * (named.places[name].arm - limit), name) for name, load in worst.loads]
    most = max(pulls, key=itemgetter(0))[0]
    hardest = next(name for pull, name in pulls if pull >= most - 1e-6)  # of several that pull alike the first
    if hardest in named.stations:
        yield named.stations[hardest].at("maximum")
    else:
        yield named.tanks[hardest].at("usable")


def _in_gap(possible: Possible, named: _Named) -> Iterator[Finding]:
    worst = possible.worst("gap")
    if worst is None:
        return
    words = f"{_in_words(worst, named)}: {pounds(worst.weight):.1f} lb at {inches(worst.arm):.2f} in, "
    yield fails(
        "gap",
        f"{words}{inches(worst.excess):.2f} in inside a notch of the envelope",
        possible.limits.at("cg_envelope"),
        working=lambda: [*possible.steps, *_working(possible, worst)],
    )


def _in_words(worst: Worst, named: _Named) -> str:
    """The loading as a builder would tell it; of very many places only the heaviest are named."""
    loads = [load for load in worst.loads if load[0] not in named.tanks]
    told = loads if len(loads) <= _MOST_TOLD else heapq.nlargest(_MOST_TOLD, loads, key=itemgetter(1))
    parts = [_one(named.stations[name].what or name, load, named.places[name]) for name, load in told]
    if len(told) < len(loads):
        parts.append(f"{len(loads) - len(told)} more stations, listed by `jurystrut explain`")
    fuel = [(name, load) for name, load in worst.loads if name in named.tanks]
    return ", ".join([*parts, *_fuel_words(fuel, named.places)])


def _one(what: str, load: float, place: Place) -> str:
    if load < _SHOWN_AS_NONE:
        return f"{what} empty"
    at = (
        " (its most)"
        if abs(load - place.most) < _SHOWN_AS_NONE
        else " (its least)"
        if abs(load - place.least) < _SHOWN_AS_NONE
        else ""
    )
    return f"{what} {pounds(load):.1f} lb{at}"


def _fuel_words(fuel: list[tuple[str, float]], by_name: Mapping[str, Place]) -> Iterator[str]:
    if all(load < _SHOWN_AS_NONE for _, load in fuel):
        yield "no usable fuel"
    elif all(abs(load - by_name[name].most) < _SHOWN_AS_NONE for name, load in fuel):
        yield "full fuel"
    else:
        yield from (f"{name} {pounds(load):.1f} lb of fuel" for name, load in fuel if load >= _SHOWN_AS_NONE)


def _working(possible: Possible, worst: Worst) -> Iterator[str]:
    arms = {place.name: place.arm for place in possible.places}
    yield from (f"{name}: {pounds(load):.1f} lb at {inches(arms[name]):.2f} in" for name, load in worst.loads)
    yield f"together {pounds(worst.weight):.1f} lb at {inches(worst.arm):.3f} in"


def _mend(
    possible: Possible,
    side: Literal["forward", "aft"],
    stations: Mapping[str, Station],
    components: tuple[Component, ...],
) -> str:
    """What alone would bring every loading inside that limit: a station's most, another's least, or ballast."""
    if len(stations) > _MOST_MENDED:
        return "Lower what the stations farthest beyond the limit may hold, or move something heavy."
    ways = [*_by_stations(possible, side, stations), *_by_ballast(possible, side, components)]
    if not ways:
        return "No one limit on a station mends it; lower several, or move something heavy."
    text = ", or ".join(ways)
    return f"{text[0].upper()}{text[1:]}."


def _by_stations(possible: Possible, side: Literal["forward", "aft"], stations: Mapping[str, Station]) -> Iterator[str]:
    for index, place in enumerate(possible.places):
        if place.name not in stations:
            continue

        def enough_less(most: float, index: int = index, place: Place = place) -> bool:
            return _with(possible, index, place._replace(most=most)).mended(side)

        def enough_more(less: float, index: int = index, place: Place = place) -> bool:
            return _with(possible, index, place._replace(least=place.most - less)).mended(side)

        most = greatest_most(enough_less, place.least, place.most, _STEP)
        if most is not None:
            yield f"let {place.name} hold at most {pounds(most):.1f} lb"
        less = greatest_most(enough_more, 0.0, place.most - place.least, _STEP) if not place.may_be_empty else None
        if less is not None and place.least > 0:
            yield f"let {place.name} hold at least {pounds(place.most - less):.1f} lb"


def _with(possible: Possible, index: int, place: Place) -> Possible:
    return possible._replace(places=(*possible.places[:index], place, *possible.places[index + 1 :]))


def _by_ballast(possible: Possible, side: Literal["forward", "aft"], components: Iterable[Component]) -> Iterator[str]:
    """Permanent ballast where the aircraft's foremost or rearmost component is; only if it mends this side and spoils none."""
    arms = [component.arm.si for component in components if component.arm is not None]
    if not arms:
        return
    arm = min(arms) if side == "aft" else max(arms)
    most = _MOST_BALLAST * possible.empty.weight

    def enough(less: float) -> bool:
        return possible._replace(empty=possible.empty + Body(most - less, arm)).mended(side)

    less = greatest_most(enough, 0.0, most - _STEP, _STEP)
    if less is not None:
        whole = possible._replace(empty=possible.empty + Body(most - less, arm))
        if whole.mended("aft") and whole.mended("forward") and whole.mended("gap"):
            yield f"secure {pounds(most - less):.1f} lb of ballast at {inches(arm):.1f} in"


@rule(
    "weights/envelope-covers",
    title="Envelope covers all weights flown",
    asks="Does the envelope reach from the lightest possible loading up to gross weight?",
    references=("23-25-b", "23-2100"),
    due=Stage.SYSTEMS,
    remedy="Extend the envelope with the designer's limits, or raise the least load.",
)
def envelope_covers(possible: Possible, weights: Weights) -> Iterator[Finding]:
    """The lightest loading has the least at every station and no usable fuel; nobody can fly lighter than that.

    Where the envelope begins above that weight or ends below gross weight, nobody has said where the centre of gravity may be.
    """
    envelope, limits = possible.envelope, possible.limits
    least = lightest(possible.empty, possible.places)
    low, high, gross = pounds(envelope.lightest), pounds(envelope.heaviest), pounds(possible.gross)
    stations = [station for station in weights.stations if station.minimum]
    yield at_least(
        "lightest",
        pounds(least.weight),
        low,
        "lb",
        f"with the least at every station and no usable fuel it weighs {pounds(least.weight):.1f} lb; "
        f"the envelope begins at {low:.1f} lb",
        limits.at("cg_envelope"),
        *(station.at("minimum") for station in stations),
        remedy=f"Raise the least load by {low - pounds(least.weight):.1f} lb, or extend the envelope downwards.",
        working=lambda: [*possible.steps, *(f"{p.name}: {pounds(p.lowest):.1f} lb" for p in possible.places)],
    )
    yield at_least(
        "gross",
        high,
        gross,
        "lb",
        f"the envelope ends at {high:.1f} lb; gross weight is {gross:.1f} lb",
        limits.at("cg_envelope"),
        limits.at("gross_weight"),
        remedy="Extend the envelope up to gross weight, or lower gross weight.",
    )
