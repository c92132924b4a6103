"""Do engine controls, flaps and gear stand in their order, and do they move and feel the way a pilot expects?"""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    fails,
    no_data,
    not_applicable,
    passes,
    read_table,
    rule,
    warns,
)
from jurystrut_rules.panel.shapes import inch

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.panel import Item, Motion, Panel, Point

__all__ = [
    "carburettor_heat_stands_apart",
    "controls_move_as_expected",
    "engine_controls_in_order",
    "knobs_differ",
    "power_lever_stands_out",
]


class _Motion(NamedTuple):
    function: str
    way: str
    does: str


@cache
def _motions() -> frozenset[_Motion]:
    table = read_table(Path(__file__).parents[1] / "tables/panel/motion.yaml")
    return frozenset(_Motion(*(str(row[column]) for column in _Motion._fields)) for row in table.rows)


@rule(
    "panel/control-motion",
    title="Controls move as expected",
    asks="Does every control do what a pilot expects of the way it is moved?",
    references=("23-779",),
    due=Stage.SYSTEMS,
    remedy="Turn its linkage round.",
)
def controls_move_as_expected(panel: Panel) -> Iterator[Finding]:
    """Old 23.779 gives each control its motion: power, propeller and mixture forward for more, rich; carburettor heat forward
    or up for cold; flaps forward or up for up; what is turned, clockwise for on. Trim moves as the aeroplane turns about an axis
    parallel to its own: forward for nose down, a knob on the panel clockwise for the right wing down; rudder trim to the side
    that the nose goes to. The section binds no amateur-built aircraft, but a hand in a hurry knows nothing else.
    """
    known = {motion.function for motion in _motions()}
    asked = [item for item in panel.items if item.function in known]
    if not asked:
        yield not_applicable("aircraft", "no item has a 'function' of which a motion is expected", panel.at("items"))
    for item in asked:
        if not item.motions:
            yield no_data(
                item.id, f"how this {item.function} moves is not recorded", item.at(), remedy="Record 'motions'."
            )
        for motion in item.motions:
            yield _moved(item, motion)


def _moved(item: Item, motion: Motion) -> Finding:
    message = f"this {item.function}: {motion.way} is {motion.does}"
    if {(item.function, motion.way, motion.does), ("any", motion.way, motion.does)} & _motions():
        return passes(item.id, message, motion.at())
    if item.function == "trim" and motion.way in {"up", "down"}:  # which axis a rocker turns about, nobody sees
        return not_applicable(item.id, f"{message}; 23.779 leaves up and down open for trim", motion.at())
    return fails(item.id, message, motion.at())


_SHAPED = {"flaps": "aerofoil", "gear": "wheel"}
"""Old 23.781, from memory: the shape of two knobs."""
_ENGINE = ("throttle", "propeller", "mixture", "carburettor-heat")


@rule(
    "panel/knob-shape",
    title="Knobs told by their shape",
    asks="Has every knob the shape that tells what it works, and no two engine controls the same?",
    references=("23-781",),
    due=Stage.SYSTEMS,
    remedy="Fit a knob of another shape.",
    at_worst=Verdict.WARN,
)
def knobs_differ(panel: Panel) -> Iterator[Finding]:
    """Old 23.781, from memory: a flap knob is shaped like an aerofoil, a gear knob like a wheel; throttle, propeller, mixture
    and carburettor heat have each a shape of their own. Its figure was not read, so the engine knobs are only compared with
    each other.
    """
    asked = [item for item in panel.items if item.kind == "control" and (item.function in {*_SHAPED, *_ENGINE})]
    if not asked:
        yield not_applicable("aircraft", "no control of engine, flaps or gear is recorded", panel.at("items"))
    taken: dict[str, Item] = {}
    for item in asked:
        shape = " ".join((item.knob or "").casefold().split())
        wanted = _SHAPED.get(item.function or "")
        twin = taken.setdefault(shape, item) if item.function in _ENGINE else item
        if not shape:
            yield no_data(item.id, "the shape of its knob is not recorded", item.at(), remedy="Record 'knob'.")
        elif wanted and wanted not in shape:
            yield warns(item.id, f"the {item.function} knob is {shape}, not like {wanted}", item.at("knob"))
        elif twin.function != item.function:
            message = f"its knob is {shape}, and so is that of {twin.id}"
            yield warns(item.id, message, item.at("knob"), twin.at("knob"))
        else:
            yield passes(item.id, f"its knob is {shape}", item.at("knob"))


_ORDER = ("throttle", "propeller", "mixture")


def _centres(panel: Panel) -> Mapping[str, Point]:
    return {hole.id: hole.centre for hole in panel.holes}


@rule(
    "panel/engine-control-order",
    title="Power, propeller, mixture",
    asks="Do power, propeller and mixture stand in this order from left to right?",
    references=("23-777-d",),
    due=Stage.STRUCTURE,
    remedy="Let the two change places.",
)
def engine_controls_in_order(panel: Panel) -> Iterator[Finding]:
    """Old 23.777(d) sets the order of these controls from left to right. The middles of their holes are compared. Where
    a throttle stands on either side, the one on the right is not held against what the one on the left is followed by.
    """
    centres = _centres(panel)
    asked = [item for item in panel.items if item.function in _ORDER]
    if len({item.function for item in asked}) < 2:
        yield not_applicable("aircraft", "there are not two of power, propeller and mixture", panel.at("items"))
        return
    known = [(centres[item.hole][0].to("in"), item) for item in asked if item.hole and item.hole in centres]
    for item in asked:
        if item.hole not in centres:
            yield no_data(item.id, "its hole is not recorded", item.at(), remedy="Record 'hole'.")
    for place, item in known:
        rank = _ORDER.index(item.function or "")
        # With a control of its own kind between it and the wrong neighbour, it belongs to the other set.
        later = [(x, o) for x, o in known if _ORDER.index(o.function or "") > rank]
        wrong = [
            o for x, o in later if x <= place and not any(p < x and o2.function == item.function for p, o2 in known)
        ]
        if wrong:
            message = f"the {item.function} stands right of {wrong[0].id}, the {wrong[0].function}"
            yield fails(item.id, message, item.at("hole"), wrong[0].at("hole"))
        else:
            yield passes(item.id, f"the {item.function} stands in its order", item.at("hole"))


_PROMINENCE = 1.0  # 23-777-d
"""Inches, old 23.777(d): the power lever is higher or longer than propeller and mixture."""


@rule(
    "panel/power-lever-stands-out",
    title="Power lever stands out",
    asks="Does the power lever stand out at least 1 in more than propeller and mixture?",
    references=("23-777-d",),
    due=Stage.SYSTEMS,
    remedy="Fit a longer power lever, or shorten the other.",
)
def power_lever_stands_out(panel: Panel) -> Iterator[Finding]:
    """Old 23.777(d) wants it higher or longer than both by at least 1 in, so that a hand finds it first."""
    others = [item for item in panel.items if item.function in _ORDER[1:]]
    power = next((item for item in panel.items if item.function == "throttle"), None)
    if not others or power is None:
        yield not_applicable(
            "aircraft", "there is no throttle beside a propeller or mixture control", panel.at("items")
        )
        return
    for item in others:
        missing = next((one for one in (power, item) if one.stands_out is None), None)
        if missing or not (power.stands_out and item.stands_out):
            yield no_data(
                item.id, f"{missing}: 'stands_out' is not recorded", (missing or item).at(), remedy="Record it."
            )
            continue
        more = power.stands_out.to("in") - item.stands_out.to("in")
        message = f"{power.id} stands out {more:.2f} in more than this {item.function}"
        yield at_least(item.id, more, _PROMINENCE, "in", message, item.at("stands_out"), power.at("stands_out"))


_HEAT_FROM_MIXTURE = 8.0  # 23-777-d
"""Inches, old 23.777(d): carburettor heat is left of the throttle, or so far from the mixture."""


@rule(
    "panel/carburettor-heat-apart",
    title="Carburettor heat apart from mixture",
    asks="Does the carburettor heat stand left of the throttle, or at least 8 in from the mixture?",
    references=("23-777-d",),
    due=Stage.STRUCTURE,
    remedy="Move it to the left of the throttle.",
)
def carburettor_heat_stands_apart(panel: Panel) -> Iterator[Finding]:
    """Pulling the mixture for the carburettor heat stops the engine. Old 23.777(d) keeps the two apart where they are not on a
    pedestal.
    """
    by_function = {item.function: item for item in panel.items if item.function}
    heat, mixture, power = (by_function.get(name) for name in ("carburettor-heat", "mixture", "throttle"))
    if heat is None or mixture is None:
        yield not_applicable("aircraft", "there are not both carburettor heat and mixture", panel.at("items"))
        return
    centres = {name: inch(centre) for name, centre in _centres(panel).items()}
    if heat.hole not in centres or mixture.hole not in centres:
        yield no_data(heat.id, "its hole or that of the mixture is not recorded", heat.at(), remedy="Record 'hole'.")
        return
    where = (heat.at("hole"), mixture.at("hole"))
    if power and power.hole in centres and centres[heat.hole][0] < centres[power.hole][0]:
        yield passes(heat.id, f"it stands left of {power.id}", *where)
        return
    distance = math.dist(centres[heat.hole], centres[mixture.hole])
    yield at_least(heat.id, distance, _HEAT_FROM_MIXTURE, "in", f"{distance:.2f} in from the mixture", *where)
