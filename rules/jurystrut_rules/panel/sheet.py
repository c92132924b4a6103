"""Is there metal around every hole, and does what lies on the front cover its hole and nothing else?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.layout import Circle, Polygon, Shape, inside_distance
from jurystrut.calculations.solids import cover
from jurystrut.rulebook import Finding, MissingRecord, Stage, at_least, fact, no_data, not_applicable, passes, rule
from jurystrut_rules.panel.shapes import LOOK_AROUND, inch, mounted, nearest

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.panel import Hole, Panel

__all__ = [
    "bezels_cover_their_holes",
    "bezels_do_not_overlap",
    "hole_inside_outline",
    "holes_keep_apart",
    "screw_holes",
    "screws_sit_in_metal",
]


def _without_shape(panel: Panel, hole_faults: Mapping[str, str]) -> Iterator[Finding]:
    if not panel.holes:
        raise MissingRecord("no hole is recorded", panel.at())
    for hole in panel.holes:
        if hole.id in hole_faults:
            remedy = "Record its diameter, its width and height, or its corners in order."
            yield no_data(hole.id, hole_faults[hole.id], hole.at(), remedy=remedy)


@rule(
    "panel/holes-keep-apart",
    title="Metal between the holes",
    asks="Is enough metal left between any two holes?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move one of the two holes.",
)
def holes_keep_apart(
    panel: Panel, hole_shapes: Mapping[str, Shape], hole_faults: Mapping[str, str]
) -> Iterator[Finding]:
    """The least distance from each hole to its neighbours is held against the web that the builder wants; where none is
    recorded, holes must at least not run into each other. Holes of a sub-panel are held against each other alone. No
    published figure is known for panels.
    """
    yield from _without_shape(panel, hole_faults)
    wanted = panel.web.to("in") if panel.web else 0.0
    look_around = max(wanted, LOOK_AROUND)
    holes = {hole.id: hole for hole in panel.holes}
    found: dict[str, tuple[float, str]] = {}
    for sheet in {hole.sheet for hole in panel.holes}:
        found |= nearest(
            {name: shape for name, shape in hole_shapes.items() if holes[name].sheet == sheet}, look_around
        )
    for name in hole_shapes:
        if name not in found:
            yield passes(name, f"no other hole within {look_around:g} in", holes[name].at())
            continue
        distance, neighbour = found[name]
        apart, into = f"{distance:.3f} in of metal to {neighbour}", f"it runs {-distance:.3f} in into {neighbour}"
        where = (holes[name].at("centre"), holes[neighbour].at("centre"))
        remedy = f"Move it {wanted - distance:.3f} in or more away from {neighbour}."
        yield at_least(name, distance, wanted, "in", apart if distance >= 0 else into, *where, remedy=remedy)


@rule(
    "panel/hole-inside-outline",
    title="Hole inside the sheet",
    asks="Is every hole inside the sheet, with enough metal to its edge?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move the hole inwards.",
)
def hole_inside_outline(
    panel: Panel,
    hole_shapes: Mapping[str, Shape],
    hole_faults: Mapping[str, str],
    outlines: Mapping[str | None, Polygon | str],
) -> Iterator[Finding]:
    """The least distance from each hole to the edge of its sheet is held against what the builder wants; where nothing is
    recorded, the hole must at least not cut the edge. No published figure is known for panels.
    """
    main = outlines[None]
    if isinstance(main, str):
        raise MissingRecord(main, panel.at("outline"))
    yield from _without_shape(panel, hole_faults)
    wanted = panel.edge_distance.to("in") if panel.edge_distance else 0.0
    holes = {hole.id: hole for hole in panel.holes}
    for name, shape in hole_shapes.items():
        outline = outlines.get(holes[name].sheet, "its sheet is not recorded")
        if isinstance(outline, str):
            yield no_data(name, f"{holes[name].sheet}: {outline}", holes[name].at("sheet"), remedy="Record 'outline'.")
            continue
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
def bezels_do_not_overlap(panel: Panel, front_shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """Each item's bezel lies centred on its hole; where none is recorded, the hole itself is taken. Two may touch."""
    if not panel.items:
        raise MissingRecord("no panel item is recorded", panel.at())
    if not mounted(panel):
        yield not_applicable("aircraft", "nothing is mounted in the sheet", panel.at("items"))
    for item in mounted(panel):
        if item.id not in front_shapes:
            message = "its hole, or the size of its hole or bezel, is not recorded"
            yield no_data(item.id, message, item.at(), remedy="Record 'hole', and its size.")
    items = {item.id: item for item in panel.items}
    clashes = nearest(front_shapes, 0.0)
    for name in front_shapes:
        if name not in clashes:
            yield passes(name, "it keeps clear of all others", items[name].at())
            continue
        distance, other = clashes[name]
        remedy = f"Move it {-distance:.3f} in or more away from {other}."
        where = (items[name].at(), items[other].at())
        yield at_least(name, distance, 0.0, "in", f"it lies {-distance:.3f} in over {other}", *where, remedy=remedy)


@rule(
    "panel/bezel-covers-hole",
    title="Bezel covers its hole",
    asks="Does every bezel, and every sub-panel, lie over the sheet all round its hole?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Cut a smaller hole, or fit a wider bezel.",
)
def bezels_cover_their_holes(
    panel: Panel,
    hole_shapes: Mapping[str, Shape],
    front_shapes: Mapping[str, Shape],
    outlines: Mapping[str | None, Polygon | str] | None = None,
) -> Iterator[Finding]:
    """The least overlap all round is held against what the builder wants; where nothing is recorded, the hole must at least
    not show. A sub-panel must cover its opening in the same way. An item without a recorded bezel is not asked.
    """
    wanted = panel.bezel_overlap.to("in") if panel.bezel_overlap else 0.0
    fronts = [(item, item.hole, front_shapes.get(item.id)) for item in panel.items if item.bezel]
    sheets = [(sheet, sheet.opening, (outlines or {}).get(sheet.id)) for sheet in panel.sub_panels]
    if not fronts and not sheets:
        yield not_applicable("aircraft", "no bezel and no sub-panel is recorded", panel.at())
    for thing, name, front in (*fronts, *sheets):
        hole = hole_shapes.get(name or "")
        if hole is None:
            yield no_data(thing.id, "its hole, or that hole's size, is not recorded", thing.at(), remedy="Record it.")
        elif front is None or isinstance(front, str):
            yield no_data(thing.id, front or "its front cannot be drawn", thing.at(), remedy="Record it.")
        else:
            over = cover(hole, front)
            message = f"it lies {over:.3f} in over the edge of {name}" if over >= 0 else f"{name} shows beside it"
            remedy = f"Make {name} smaller by {wanted - over:.3f} in all round, or fit a wider front."
            yield at_least(thing.id, over, wanted, "in", message, thing.at(), remedy=remedy)


@fact
def screw_holes(panel: Panel) -> dict[str, Shape]:
    """The screw holes, by their hole's id and their place in its list; those without a diameter are left out."""
    found: dict[str, Shape] = {}
    for hole in panel.holes:
        x, y = inch(hole.centre)
        for count, (right, up) in enumerate(map(inch, hole.screws), start=1):
            if hole.screw_diameter and hole.screw_diameter.si:
                found[f"{hole.id} {count}"] = Circle((x + right, y + up), hole.screw_diameter.to("in") / 2)
    return found


@rule(
    "panel/screws-in-metal",
    title="Screws sit in metal",
    asks="Is there metal around every screw hole?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move the item, or turn its screw pattern.",
)
def screws_sit_in_metal(
    panel: Panel,
    hole_shapes: Mapping[str, Shape],
    screw_holes: Mapping[str, Shape],
    outlines: Mapping[str | None, Polygon | str] | None = None,
) -> Iterator[Finding]:
    """The metal between each screw hole and the nearest hole, its own included, the nearest screw hole or the edge is held
    against the web that the builder wants; where none is recorded, holes must at least not run into each other. One finding
    a hole, on its worst screw; a screw hole that runs into another has less than no metal.
    """
    wanted = panel.web.to("in") if panel.web else 0.0
    sheet_of = {hole.id: hole.sheet for hole in panel.holes}
    asked = [hole for hole in panel.holes if hole.screws]
    if not asked:
        yield not_applicable("aircraft", "no screw hole is recorded", panel.at("holes"))
    neighbours: dict[str, tuple[float, str]] = {}
    for sheet in {hole.sheet for hole in asked}:
        here = {n: s for n, s in (*hole_shapes.items(), *screw_holes.items()) if sheet_of[n.split()[0]] == sheet}
        neighbours |= nearest(here, max(wanted, LOOK_AROUND))
    for hole in asked:
        outline = (outlines or {}).get(hole.sheet, "the outline of its sheet is not recorded")
        own = {name: screw_holes[name] for name in _screw_names(hole) if name in screw_holes}
        if not own or isinstance(outline, str):
            fault = outline if isinstance(outline, str) else "the diameter of its screws is not recorded"
            yield no_data(hole.id, fault, hole.at("screws"), remedy="Record it.")
            continue
        edges = [(inside_distance(screw, outline), "the edge", name) for name, screw in own.items()]
        beside = [(*neighbours[name], name) for name in own if name in neighbours]
        distance, what, screw_name = min((*edges, *beside))
        message = f"screw {screw_name.split()[1]}: {distance:.3f} in of metal to {what}"
        remedy = f"Move it {wanted - distance:.3f} in or more away from {what}."
        yield at_least(hole.id, distance, wanted, "in", message, hole.at("screws"), remedy=remedy)


def _screw_names(hole: Hole) -> Iterator[str]:
    return (f"{hole.id} {count}" for count in range(1, len(hole.screws) + 1))
