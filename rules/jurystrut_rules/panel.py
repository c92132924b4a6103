"""Does everything on the panel fit, have its place and its name, and exist elsewhere in the records?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.layout import Circle, Polygon, Shape, inside_distance, near_pairs, rectangle
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    fact,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from jurystrut.records.electrical import Electrical, Protection, Switch
    from jurystrut.records.panel import Bezel, Hole, Item, Legend, Panel, Point
    from jurystrut.records.project import Project

__all__ = [
    "bezels_do_not_overlap",
    "control_has_legend",
    "control_has_place",
    "hole_inside_outline",
    "hole_is_used",
    "hole_shapes",
    "holes_keep_apart",
    "item_is_known",
    "items_by_equipment",
    "legend_is_used",
]

_BY_HAND = frozenset({"toggle", "rocker", "push-button", "rotary", "key", "lever", "dimmer"})


def _inch(point: Point) -> tuple[float, float]:
    return point[0].to("in"), point[1].to("in")


def _shape(record: Hole | Bezel, centre: tuple[float, float]) -> Shape | None:
    """A hole's or bezel's shape in inches; None where its size is not recorded."""
    if record.diameter is not None:
        return Circle(centre, record.diameter.to("in") / 2)
    if record.width is not None and record.height is not None:
        return rectangle(centre, record.width.to("in"), record.height.to("in"))
    corners = getattr(record, "corners", ())
    return Polygon(tuple(_inch(corner) for corner in corners)) if len(corners) > 2 else None


@fact
def hole_shapes(panel: Panel) -> dict[str, Shape]:
    """The holes' shapes in inches, by id; a hole without its size is left out."""
    shapes = {hole.id: _shape(hole, _inch(hole.centre)) for hole in panel.holes}
    return {name: shape for name, shape in shapes.items() if shape}


@fact
def items_by_equipment(panel: Panel) -> dict[str, Item]:
    """The panel item that is the place of each device: by the equipment it names, or its own id."""
    return {item.equipment or item.id: item for item in panel.items}


def _controls(electrical: Electrical) -> Iterator[Switch | Protection]:
    """What the pilot works or resets by hand: switches, breakers, and fuses that can be reached in flight."""
    yield from (switch for switch in electrical.switches if switch.kind in _BY_HAND)
    for device in electrical.protection:
        if device.kind == "breaker" or (device.kind in {"blade-fuse", "glass-fuse"} and device.reachable_in_flight):
            yield device


@rule(
    "panel/control-has-place",
    title="Switch and breaker has a place",
    asks="Has every switch, breaker and fuse within reach a place on the panel, or elsewhere on record?",
    references=("23-1367", "23-1357-d", "own-consistency"),
    due=Stage.SYSTEMS,
    remedy="Add a panel item for it, or record its 'place'; if it is gone, take it out of the wiring too.",
)
def control_has_place(
    panel: Panel, electrical: Electrical, items_by_equipment: Mapping[str, Item]
) -> Iterator[Finding]:
    """Every switch that a hand moves, every breaker, and every fuse that can be reached in flight is looked for on the panel.

    One that stands elsewhere says so in its 'place'. One that stands nowhere was probably taken off the panel while its
    wires stayed.
    """
    controls = list(_controls(electrical))
    if not controls:
        yield not_applicable("aircraft", "no switch or breaker is recorded", electrical.at())
    for control in controls:
        item = items_by_equipment.get(control.id)
        if item:
            yield passes(control.id, f"on the panel as {item.id}", control.at(), item.at())
        elif control.place:
            yield passes(control.id, f"not on the panel: {control.place}", control.at("place"))
        else:
            message = f"this {control.kind} is in the wiring and has no place on the panel"
            yield fails(control.id, message, control.at(), panel.at("items"))


@rule(
    "panel/control-has-legend",
    title="Switch and breaker has a legend",
    asks="Has every switch, breaker and fuse on the panel a legend that names it?",
    references=("23-1367", "23-1555-a"),
    due=Stage.SYSTEMS,
    remedy="Add a legend and name it in the item.",
)
def control_has_legend(
    panel: Panel, electrical: Electrical, items_by_equipment: Mapping[str, Item]
) -> Iterator[Finding]:
    """Old 23.1367 wants a switch labelled for its operation and its circuit, old 23.1555(a) every control that is not
    obvious. Both are yardsticks here; the condition inspection of most operating limitations asks for marked controls too.
    """
    texts = {legend.id: legend.text for legend in panel.legends}
    on_panel = [control for control in _controls(electrical) if control.id in items_by_equipment]
    if not on_panel:
        yield not_applicable("aircraft", "no switch or breaker is on the panel", panel.at())
    for control in on_panel:
        item = items_by_equipment[control.id]
        if item.legend is None:
            yield fails(control.id, "it is on the panel without a legend", item.at())
        else:
            yield passes(control.id, f"its legend reads {texts.get(item.legend, item.legend)}", item.at("legend"))


@rule(
    "panel/holes-keep-apart",
    title="Metal between the holes",
    asks="Is enough metal left between any two holes?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move one of the two holes.",
)
def holes_keep_apart(panel: Panel, hole_shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """The least distance from each hole to its neighbours is held against the web that the builder wants; where none is
    recorded, holes must at least not run into each other. No published figure is known for panels.
    """
    yield from _without_size(panel, hole_shapes)
    wanted = panel.web.to("in") if panel.web else 0.0
    look_around = max(wanted, _LOOK_AROUND)
    holes = {hole.id: hole for hole in panel.holes}
    nearest = _nearest(hole_shapes, look_around)
    for name in hole_shapes:
        if name not in nearest:
            yield passes(name, f"no other hole within {look_around:g} in", holes[name].at())
            continue
        distance, neighbour = nearest[name]
        apart, into = f"{distance:.3f} in of metal to {neighbour}", f"it runs {-distance:.3f} in into {neighbour}"
        where = (holes[name].at("centre"), holes[neighbour].at("centre"))
        remedy = f"Move it {wanted - distance:.3f} in or more away from {neighbour}."
        yield at_least(name, distance, wanted, "in", apart if distance >= 0 else into, *where, remedy=remedy)


def _nearest(shapes: Mapping[str, Shape], within: float) -> dict[str, tuple[float, str]]:
    """Each shape's nearest neighbour less than `within` away, after its distance."""
    nearest: dict[str, tuple[float, str]] = {}
    for one, other, distance in near_pairs(shapes, within):
        for name, neighbour in ((one, other), (other, one)):
            found = (distance, neighbour)
            nearest[name] = min(nearest.get(name, found), found)
    return nearest


_LOOK_AROUND = 1.0
"""Inches around a hole in which its nearest neighbour is shown."""


def _without_size(panel: Panel, hole_shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    if not panel.holes:
        raise MissingRecord("no hole is recorded", panel.at())
    for hole in panel.holes:
        if hole.id not in hole_shapes:
            remedy = "Record its diameter, or width and height."
            yield no_data(hole.id, "its size is not recorded", hole.at(), remedy=remedy)


@rule(
    "panel/hole-inside-outline",
    title="Hole inside the sheet",
    asks="Is every hole inside the sheet, with enough metal to its edge?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move the hole inwards.",
)
def hole_inside_outline(panel: Panel, hole_shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """The least distance from each hole to the edge of the sheet is held against what the builder wants; where nothing is
    recorded, the hole must at least not cut the edge. No published figure is known for panels.
    """
    if len(panel.outline) < 3:
        raise MissingRecord("the panel's outline is not recorded", panel.at("outline"))
    yield from _without_size(panel, hole_shapes)
    outline = Polygon(tuple(_inch(corner) for corner in panel.outline))
    wanted = panel.edge_distance.to("in") if panel.edge_distance else 0.0
    holes = {hole.id: hole for hole in panel.holes}
    for name, shape in hole_shapes.items():
        distance = inside_distance(shape, outline)
        inside, beyond = f"{distance:.3f} in of metal to the edge", f"it reaches {-distance:.3f} in beyond the edge"
        message = inside if distance >= 0 else beyond
        remedy = f"Move it {wanted - distance:.3f} in or more inwards."
        yield at_least(name, distance, wanted, "in", message, holes[name].at("centre"), remedy=remedy)


@rule(
    "panel/bezels-do-not-overlap",
    title="Nothing on the front overlaps",
    asks="Do the bezels keep clear of each other?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move one of the two items.",
)
def bezels_do_not_overlap(panel: Panel, hole_shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """Each item's bezel lies centred on its hole; where none is recorded, the hole itself is taken. Two may touch."""
    if not panel.items:
        raise MissingRecord("no panel item is recorded", panel.at())
    holes = {hole.id: hole for hole in panel.holes}
    fronts: dict[str, Shape] = {}
    for item in panel.items:
        front = _front(item, holes, hole_shapes)
        if front is None:
            yield no_data(item.id, "its hole, or that hole's size, is not recorded", item.at(), remedy="Record 'hole'.")
        else:
            fronts[item.id] = front
    items = {item.id: item for item in panel.items}
    clashes = _nearest(fronts, 0.0)
    for name in fronts:
        if name not in clashes:
            yield passes(name, "it keeps clear of all others", items[name].at())
            continue
        distance, other = clashes[name]
        remedy = f"Move it {-distance:.3f} in or more away from {other}."
        where = (items[name].at(), items[other].at())
        yield at_least(name, distance, 0.0, "in", f"it lies {-distance:.3f} in over {other}", *where, remedy=remedy)


def _front(item: Item, holes: Mapping[str, Hole], hole_shapes: Mapping[str, Shape]) -> Shape | None:
    hole = holes.get(item.hole or "")
    if hole is None:
        return None
    return (_shape(item.bezel, _inch(hole.centre)) if item.bezel else None) or hole_shapes.get(hole.id)


_ELSEWHERE = ("electrical", "lighting", "weights.components", "fuel")


@rule(
    "panel/item-known",
    title="Panel item known elsewhere",
    asks="Is every item on the panel also an electrical device, a light, a tank's gauge or a weighed component?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Record what it is in the other section, or take it off the panel.",
)
def item_is_known(panel: Panel, project: Project) -> Iterator[Finding]:
    """An item that no other section knows has no wire, no weight and no load: it was forgotten there, or is left over here."""
    if not panel.items:
        raise MissingRecord("no panel item is recorded", panel.at())
    for item in panel.items:
        name = item.equipment or item.id
        home = next((section for section in _ELSEWHERE if name in project.index.get(section, {})), None)
        if home:
            yield passes(item.id, f"known in {home} as {name}", item.at())
        else:
            remedy = "Add it there, or name its 'equipment'."
            yield fails(item.id, "no other section knows this item", item.at(), remedy=remedy)


@rule(
    "panel/hole-used",
    title="Hole has its item",
    asks="Has every hole in the sheet an item that sits in it?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Mount an item in it, cover it, or take the hole out of the drawing before it is cut.",
    at_worst=Verdict.WARN,
)
def hole_is_used(panel: Panel) -> Iterator[Finding]:
    """A hole without an item is what stays when an item leaves the panel."""
    yield from _used("no item sits in this hole", _holes(panel), {item.hole for item in panel.items})


def _holes(panel: Panel) -> tuple[Hole, ...]:
    if not panel.holes:
        raise MissingRecord("no hole is recorded", panel.at())
    return panel.holes


@rule(
    "panel/legend-used",
    title="Legend has its item",
    asks="Does every legend name an item that is there?",
    references=("23-1555-a", "own-consistency"),
    due=Stage.SYSTEMS,
    remedy="Take the legend off, or name it in its item.",
    at_worst=Verdict.WARN,
)
def legend_is_used(panel: Panel) -> Iterator[Finding]:
    """A legend that no item names is what stays when an item leaves the panel, and it misleads."""
    if not panel.legends:
        raise MissingRecord("no legend is recorded", panel.at())
    yield from _used("no item has this legend", panel.legends, {item.legend for item in panel.items})


def _used(complaint: str, things: Iterable[Hole | Legend], used: set[str | None]) -> Iterator[Finding]:
    for thing in things:
        if thing.id in used:
            yield passes(thing.id, "an item has it", thing.at())
        else:
            yield warns(thing.id, complaint, thing.at())
