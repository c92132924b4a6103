"""Does a placard say how much each baggage space, ballast place and weaker seat may hold?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, at_most, no_data, not_applicable, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.quantities import Mass
    from jurystrut.records.markings import Markings, Placard
    from jurystrut.records.weights import Station, Weights

__all__ = ["baggage_is_placarded", "ballast_is_placarded", "weaker_seat_is_placarded"]


@rule(
    "markings/baggage-placard",
    title="Baggage placard",
    asks="Does a placard at every baggage space give the weight that it may hold?",
    references=("23-1557", "91-9"),
    due=Stage.SYSTEMS,
    remedy="Add a placard with the limit, and name the station in 'beside'.",
    at_worst=Verdict.WARN,
)
def baggage_is_placarded(markings: Markings, weights: Weights) -> Iterator[Finding]:
    """Old 23.1557(a), a yardstick, wants the limit of content and weight at each baggage space. The number on the placard may
    not be more than the station's maximum.
    """
    yield from _placarded("baggage", "baggage space", markings, weights)


@rule(
    "markings/ballast-placard",
    title="Ballast placard",
    asks="Does a placard at every place for ballast give the weight that it may hold?",
    references=("23-1557", "91-9"),
    due=Stage.SYSTEMS,
    remedy="Add a placard with the limit, and name the station in 'beside'.",
    at_worst=Verdict.WARN,
)
def ballast_is_placarded(markings: Markings, weights: Weights) -> Iterator[Finding]:
    """Old 23.1557(a), a yardstick, wants the limit of content and weight at each place for ballast too. The number on the placard
    may not be more than the station's maximum.
    """
    yield from _placarded("ballast", "place for ballast", markings, weights)


def _placarded(kind: str, words: str, markings: Markings, weights: Weights) -> Iterator[Finding]:
    stations = [station for station in weights.stations if station.kind == kind]
    beside = _beside(markings, kind)
    if not stations:
        yield not_applicable("aircraft", f"no {words} is recorded", weights.at())
    for station in stations:
        placard = beside.get(station.id)
        if station.maximum is None:
            yield no_data(station.id, "the most that it may hold is not recorded", station.at())
        elif placard is None:
            message = f"no placard stands beside this {words}"
            yield warns(station.id, message, station.at(), markings.at("placards"))
        else:
            yield _no_more(station, station.maximum, placard)


def _beside(markings: Markings, purpose: str) -> dict[str | None, Placard]:
    return {placard.beside: placard for placard in markings.placards if placard.purpose == purpose}


_SEAT_LB = 170.0  # 23-1557


@rule(
    "markings/seat-placard",
    title="Placard of a weaker seat",
    asks="Does a placard on every seat that may carry less than 170 lb give its limit?",
    references=("23-1557", "91-9"),
    due=Stage.SYSTEMS,
    remedy="Add a placard with the limit, and name the seat in 'beside'.",
    at_worst=Verdict.WARN,
)
def weaker_seat_is_placarded(markings: Markings, weights: Weights) -> Iterator[Finding]:
    """Old 23.1557(b), a yardstick from memory: a seat whose `maximum` is below 170 lb says so, lest somebody heavier sits there.
    The number on the placard may not be more than that maximum.
    """
    seats = [station for station in weights.stations if station.kind == "seat"]
    beside = _beside(markings, "seat")
    if not seats:
        yield not_applicable("aircraft", "no seat is recorded", weights.at())
    for seat in seats:
        placard = beside.get(seat.id)
        if placard and seat.maximum:
            yield _no_more(seat, seat.maximum, placard)
        elif seat.maximum is None:
            yield no_data(seat.id, "the most that it may carry is not recorded", seat.at(), remedy="Record 'maximum'.")
        elif seat.maximum.to("lb") >= _SEAT_LB * (1 - 1e-9):
            yield not_applicable(seat.id, f"it may carry {seat.maximum}, 170 lb or more", seat.at("maximum"))
        else:
            message = f"it may carry {seat.maximum}, less than 170 lb, and no placard says so"
            yield warns(seat.id, message, seat.at("maximum"), markings.at("placards"))


def _no_more(station: Station, maximum: Mass, placard: Placard) -> Finding:
    where = (placard.at("text"), station.at("maximum"))
    found = re.search(r"([0-9]+(?:\.[0-9]+)?) ?(lb|kg)", placard.text.lower())
    if not found:
        message = f"its placard reads {placard.text}: no weight in lb or kg"
        return warns(station.id, message, *where, remedy=f"Add {maximum} to its words.")
    unit = found[2]
    message = f"its placard reads {placard.text}; the space may hold {maximum}"
    remedy = f"Make it read {maximum}, or less."
    return at_most(station.id, float(found[1]), maximum.to(unit), unit, message, *where, remedy=remedy)
