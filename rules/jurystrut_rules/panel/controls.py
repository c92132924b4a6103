"""Can every control be reached, and found without mix-up?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jurystrut.calculations.layout import Circle, near_pairs
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    fact,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.panel.shapes import inch

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.electrical import Electrical
    from jurystrut.records.panel import Item, Panel, Place, Seat

__all__ = [
    "control_places",
    "controls_stand_apart",
    "controls_within_reach",
    "hurtful_controls_are_distinct",
    "place_in_inches",
]

_BY_HAND = frozenset({"switch", "breaker", "fuse-holder", "control"})


@fact
def control_places(panel: Panel) -> dict[str, tuple[float, float]]:
    """The middle of each item that a hand works, in inches; items without a hole are left out."""
    centres = {hole.id: inch(hole.centre) for hole in panel.holes}
    return {i.id: centres[i.hole] for i in panel.items if i.kind in _BY_HAND and i.hole in centres}


def _by_hand(panel: Panel) -> list[Item]:
    found = [item for item in panel.items if item.kind in _BY_HAND]
    if not found:
        raise MissingRecord("no switch, breaker or control is recorded on the panel", panel.at("items"))
    return found


def place_in_inches(place: Place) -> tuple[float, float, float]:
    """A place in the cabin, in inches."""
    return place[0].to("in"), place[1].to("in"), place[2].to("in")


def _placeless(items: list[Item], control_places: Mapping[str, object]) -> Iterator[Finding]:
    for item in items:
        if item.id not in control_places:
            yield no_data(
                item.id, "its hole is not recorded, so its place is not known", item.at(), remedy="Record 'hole'."
            )


@rule(
    "panel/within-reach",
    title="Controls within reach",
    asks="Can whoever flies reach every switch, breaker and control, belted in?",
    references=("23-1367", "23-777", "own-panel-people"),
    due=Stage.SYSTEMS,
    remedy="Move it nearer.",
)
def controls_within_reach(panel: Panel, control_places: Mapping[str, tuple[float, float]]) -> Iterator[Finding]:
    """The straight distance from the shoulder to the control is held against the reach that was measured on the pilot, belted
    in. Where several seats fly, one that reaches it is enough. The control's own length is left out, which errs to safety.
    """
    items = _by_hand(panel)
    seats = [seat for seat in panel.seats if seat.flies and seat.shoulder and seat.reach]
    if not seats:
        raise MissingRecord("no seat that flies has its 'shoulder' and 'reach' recorded", panel.at("seats"))
    yield from _placeless(items, control_places)
    for item in items:
        if item.id not in control_places:
            continue
        place = (*control_places[item.id], 0.0)
        reach, distance, seat = max((_reach(seat, place) for seat in seats), key=lambda found: found[0] - found[1])
        message = f"{distance:.1f} in from the shoulder in {seat}, who reaches {reach:.1f} in"
        remedy = f"Move it {distance - reach:.1f} in or more nearer to {seat}."
        where = (item.at("hole"), seat.at("reach"))
        yield at_most(item.id, distance, reach, "in", message, *where, remedy=remedy)


def _reach(seat: Seat, place: tuple[float, float, float]) -> tuple[float, float, Seat]:
    """How far a seat reaches, how far a place is, in inches, and the seat."""
    assert seat.shoulder
    assert seat.reach
    return seat.reach.to("in"), math.dist(place_in_inches(seat.shoulder), place), seat


_HAND = 0.75  # own-panel-people
"""Inches between the middles of two controls. Common practice, no source."""


@rule(
    "panel/hand-clearance",
    title="Room for fingers",
    asks="Do the controls stand far enough apart for a hand to work one and leave the next alone?",
    references=("23-777", "own-panel-people"),
    due=Stage.STRUCTURE,
    remedy="Move the two apart.",
)
def controls_stand_apart(panel: Panel, control_places: Mapping[str, tuple[float, float]]) -> Iterator[Finding]:
    """The distance between the middles of a control and its nearest neighbour is held against what the builder wants. Where
    nothing is recorded, 0.75 in is taken, which is common practice without a source and only warns.
    """
    items = _by_hand(panel)
    wanted = panel.hand_clearance.to("in") if panel.hand_clearance else _HAND
    otherwise = Verdict.FAIL if panel.hand_clearance else Verdict.WARN
    yield from _placeless(items, control_places)
    by_id = {item.id: item for item in items}
    found = _neighbours(control_places, 2 * wanted)
    for name, others in found.items():
        item = by_id[name]
        if not others:
            yield passes(name, f"no other control within {2 * wanted:g} in", item.at())
            continue
        distance, other = min(others)
        message = f"{distance:.3f} in from the middle of {other}"
        remedy = f"Move it {wanted - distance:.3f} in or more away from {other}."
        where = (item.at(), by_id[other].at())
        yield at_least(name, distance, wanted, "in", message, *where, remedy=remedy, otherwise=otherwise)


def _neighbours(places: Mapping[str, tuple[float, float]], within: float) -> dict[str, list[tuple[float, str]]]:
    """By control, the others whose middles are at most so far away, each after its distance."""
    found: dict[str, list[tuple[float, str]]] = {name: [] for name in places}
    dots = {name: Circle(place, 1e-6) for name, place in places.items()}
    for one, other, _ in near_pairs(dots, within):
        distance = math.dist(places[one], places[other])
        found[one].append((distance, other))
        found[other].append((distance, one))
    return found


_MIX_UP = 2.0  # own-panel-people
"""Inches around a control in which a hand may take its neighbour for it. Common practice, no source."""


@rule(
    "panel/guarded-or-distinct",
    title="No mix-up that hurts",
    asks="Is every control whose confusion would hurt guarded, or different by feel from its neighbours?",
    references=("23-777", "own-panel-people"),
    due=Stage.SYSTEMS,
    remedy="Guard it, give it a lever that feels different and record that in 'distinct', or move its neighbours away.",
    at_worst=Verdict.WARN,
)
def hurtful_controls_are_distinct(
    panel: Panel, control_places: Mapping[str, tuple[float, float]], electrical: Electrical | None = None
) -> Iterator[Finding]:
    """Old 23.777(a) wants controls kept from mix-up and unintended use. Asked are items recorded with `confusion_hurts`. One is
    well where its switch is guarded, where something is recorded that tells it by feel, or where nothing of the same kind is
    within 2 in, a distance of common practice without a source. So the rule only warns.
    """
    asked = [item for item in panel.items if item.confusion_hurts]
    if not asked:
        yield not_applicable("aircraft", "no item is recorded as one whose confusion would hurt", panel.at("items"))
        return
    guarded = {switch.id for switch in electrical.switches if switch.guarded} if electrical else set()
    kinds = {item.id: item.kind for item in panel.items}
    near = _neighbours(control_places, _MIX_UP)
    for item in asked:
        alike = sorted((d, other) for d, other in near.get(item.id, ()) if kinds[other] == item.kind)
        if (item.equipment or item.id) in guarded:
            yield passes(item.id, "it is guarded", item.at("equipment"))
        elif item.distinct:
            yield passes(item.id, f"it is told by feel: {item.distinct}", item.at("distinct"))
        elif item.id not in near:
            yield no_data(
                item.id, "its hole is not recorded, or it is not worked by hand", item.at(), remedy="Record it."
            )
        elif alike:
            distance, other = alike[0]
            yield warns(item.id, f"the {item.kind} {other}, {distance:.2f} in away, feels the same", item.at())
        else:
            yield passes(item.id, f"no other {item.kind} within {_MIX_UP:g} in", item.at())
