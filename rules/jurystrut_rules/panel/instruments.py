"""Do the flight instruments stand before the pilot in their usual order, and can the words be read from the seat?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.panel.controls import place_in_inches
from jurystrut_rules.panel.shapes import inch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.panel import Item, Panel, Seat
    from jurystrut_rules.operations.equipment import Equipment

__all__ = ["flight_instruments_before_the_pilot", "flight_instruments_in_order", "legends_can_be_read"]

_DISTANCE_OVER_LETTERS = 200  # own-panel-people
"""Letters are legible to about 200 times their height. Common practice, no source."""


def _eyes(panel: Panel) -> list[Seat]:
    seats = [seat for seat in panel.seats if seat.flies and seat.eye]
    if not seats:
        raise MissingRecord("no seat that flies has its 'eye' recorded", panel.at("seats"))
    return seats


def _away(seat: Seat, place: tuple[float, float]) -> float:
    assert seat.eye
    return math.dist(place_in_inches(seat.eye), (*place, 0.0))


@rule(
    "panel/letters-readable",
    title="Legends can be read",
    asks="Are the letters of every legend high enough for the distance they are read from?",
    references=("own-panel-people", "23-1555-a"),
    due=Stage.SYSTEMS,
    remedy="Engrave higher letters.",
)
def legends_can_be_read(panel: Panel) -> Iterator[Finding]:
    """Where the builder records a least `letter_height`, that is the limit. Otherwise letters are held against a two-hundredth
    of the distance from the nearest eyes that fly: common practice without a source, so that only warns. A legend without a
    place is taken to be as far away as its item.
    """
    if not panel.legends:
        raise MissingRecord("no legend is recorded", panel.at())
    wanted = panel.letter_height.to("in") if panel.letter_height else None
    seats = _eyes(panel) if wanted is None else []
    places = _places(panel)
    for legend in panel.legends:
        if legend.letter_height is None:
            yield no_data(
                legend.id, "its letters' height is not recorded", legend.at(), remedy="Record 'letter_height'."
            )
            continue
        height = legend.letter_height.to("in")
        where = legend.at("letter_height")
        if wanted is not None:
            yield at_least(
                legend.id, height, wanted, "in", f"letters of {height:g} in", where, panel.at("letter_height")
            )
            continue
        place = inch(legend.centre) if legend.centre else places.get(legend.id)
        if place is None:
            yield no_data(legend.id, "its place is not recorded", legend.at(), remedy="Record 'centre'.")
            continue
        distance = min(_away(seat, place) for seat in seats)
        least = distance / _DISTANCE_OVER_LETTERS
        message = f"letters of {height:g} in, read from {distance:.1f} in"
        remedy = f"Engrave letters of {least:.3f} in or more."
        yield at_least(legend.id, height, least, "in", message, where, remedy=remedy, otherwise=Verdict.WARN)


def _places(panel: Panel) -> dict[str, tuple[float, float]]:
    """The place of each legend's item."""
    centres = {hole.id: inch(hole.centre) for hole in panel.holes}
    return {item.legend: centres[item.hole] for item in panel.items if item.legend and item.hole in centres}


_FLIGHT = ("attitude", "airspeed", "altitude", "direction")
_UNKNOWN = "no flight instrument is known by its name or by what it 'provides', with its hole"


def _shown(panel: Panel, equipment: Equipment) -> dict[str, list[tuple[tuple[float, float], Item]]]:
    """Where each of the four is shown, by items that are known by their name or by what they provide."""
    centres = {hole.id: inch(hole.centre) for hole in panel.holes}
    places = {item.id: (centres[item.hole], item) for item in panel.items if item.hole in centres}
    return {
        name: [places[fitted.record.id] for fitted in equipment.of(name) if fitted.record.id in places]
        for name in _FLIGHT
    }


@rule(
    "panel/flight-instrument-order",
    title="Flight instruments in their usual order",
    asks="Is attitude in the middle above, airspeed left of it, altitude right, direction below?",
    references=("23-1321",),
    due=Stage.STRUCTURE,
    remedy="Let the two change places.",
    at_worst=Verdict.WARN,
)
def flight_instruments_in_order(panel: Panel, equipment: Equipment) -> Iterator[Finding]:
    """Old 23.1321(d), from memory, binds no amateur-built aircraft and is the order that pilots' eyes are used to. Without an
    attitude instrument airspeed and altitude are held against each other. One display that shows several holds them in its own
    order. Of two that show the same, one in its place is enough.
    """
    shown = _shown(panel, equipment)
    if not any(shown.values()):
        raise MissingRecord(_UNKNOWN, panel.at("items"))
    asked = 0
    for name, middle, words, axis, sign in (
        ("airspeed", "attitude", "left of", 0, -1),
        ("altitude", "attitude", "right of", 0, 1),
        ("direction", "attitude", "below", 1, -1),
        ("airspeed", "altitude", "left of", 0, -1),
    ):
        if not shown[name] or not shown[middle] or (middle == "altitude" and shown["attitude"]):
            continue
        asked += 1
        pairs = [(one, other) for one in shown[name] for other in shown[middle]]
        good = [(a, b) for a, b in pairs if a[1] is b[1] or sign * (a[0][axis] - b[0][axis]) > 0]
        (_, item), (_, reference) = (good or pairs)[0]
        where = (item.at("hole"), reference.at("hole"))
        if not good:
            yield warns(item.id, f"{name} is not {words} {middle} ({reference.id})", *where)
        elif item is reference:
            yield passes(item.id, f"one display shows {name} and {middle}", *where)
        else:
            yield passes(item.id, f"{name} is {words} {middle} ({reference.id})", *where)
    if not asked:
        yield not_applicable(
            "aircraft", "no two of attitude, airspeed, altitude and direction are shown", panel.at("items")
        )


_VIEW_DEGREES = 30.0  # own-panel-people
"""Beside straight ahead, where the builder records no angle. Common practice, no source."""


@rule(
    "panel/flight-instruments-ahead",
    title="Flight instruments before the pilot",
    asks="Does whoever flies see attitude, airspeed, altitude and direction nearly straight ahead?",
    references=("own-panel-people", "23-1321"),
    due=Stage.STRUCTURE,
    remedy="Move it towards the middle of the pilot's side.",
)
def flight_instruments_before_the_pilot(panel: Panel, equipment: Equipment) -> Iterator[Finding]:
    """Old 23.1321(a), from memory, wants them plainly visible with the least movement of the head. The angle to the side of
    straight ahead, seen from the nearest eyes that fly, is held against the `view_angle` that the builder wants; where none is
    recorded, against 30 degrees, which is common practice without a source and only warns.
    """
    seats = _eyes(panel)
    limit = panel.view_angle.to("deg") if panel.view_angle else _VIEW_DEGREES
    otherwise = Verdict.FAIL if panel.view_angle else Verdict.WARN
    items = {item.id: (place, item) for places in _shown(panel, equipment).values() for place, item in places}
    if not items:
        raise MissingRecord(_UNKNOWN, panel.at("items"))
    for place, item in items.values():
        angle, seat = min((_beside(seat, place), seat.id) for seat in seats)
        message = f"{angle:.1f} deg beside straight ahead, seen from {seat}"
        yield at_most(item.id, angle, limit, "deg", message, item.at("hole"), panel.at("seats"), otherwise=otherwise)


def _beside(seat: Seat, place: tuple[float, float]) -> float:
    """The level angle from straight ahead, in degrees."""
    assert seat.eye
    right, _, aft = place_in_inches(seat.eye)
    return math.degrees(math.atan2(abs(place[0] - right), aft))
