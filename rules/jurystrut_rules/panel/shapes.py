"""The shapes of what is cut in the sheet, lies on it and stands behind it, in inches; facts that the panel's rules share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.layout import Circle, Polygon, Shape, fault_of, near_pairs, rectangle
from jurystrut.calculations.solids import flat_sided
from jurystrut.rulebook import MissingRecord, fact

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from jurystrut.records.panel import Bezel, Body, Hole, Item, Panel, Point

__all__ = [
    "LOOK_AROUND",
    "body_shapes",
    "drawn_holes",
    "front_shapes",
    "hole_faults",
    "hole_shapes",
    "inch",
    "items_by_equipment",
    "mounted",
    "nearest",
    "outline_of",
    "outlines",
]

LOOK_AROUND = 1.0  # numerics
"""Inches around a thing in which its nearest neighbour is shown."""

_NO_SIZE = "its size is not recorded"


def inch(point: Point) -> tuple[float, float]:
    """A place on the sheet, in inches."""
    return point[0].to("in"), point[1].to("in")


def outline_of(corners: Iterable[Point], whose: str) -> Polygon | str:
    """The polygon of some corners, or in words why they do not make one."""
    places = tuple(map(inch, corners))
    fault = fault_of(places)
    return f"{whose} {fault}" if fault else Polygon(places)


def _plain(record: Hole | Bezel | Body, centre: tuple[float, float]) -> Shape | str:
    """A circle or an upright rectangle."""
    if record.diameter is not None:
        return Circle(centre, record.diameter.to("in") / 2) if record.diameter.si else "its diameter is nothing"
    if record.width is None or record.height is None:
        return _NO_SIZE
    if not record.width.si or not record.height.si:
        return "its width or height is nothing"
    return rectangle(centre, record.width.to("in"), record.height.to("in"))


def _hole(hole: Hole) -> Shape | str:
    if hole.corners:
        return outline_of(hole.corners, "its outline")
    if hole.across_flat is None or hole.diameter is None:
        return _plain(hole, inch(hole.centre))
    try:
        return flat_sided(inch(hole.centre), hole.diameter.to("in"), hole.across_flat.to("in"), hole.flat)
    except ValueError as error:
        return str(error)


@fact
def drawn_holes(panel: Panel) -> dict[str, Shape | str]:
    """Each hole's shape, or in words why it has none, by id."""
    return {hole.id: _hole(hole) for hole in panel.holes}


@fact
def hole_shapes(drawn_holes: Mapping[str, Shape | str]) -> dict[str, Shape]:
    """The holes' shapes in inches, by id; a hole that cannot be drawn is left out."""
    return {name: shape for name, shape in drawn_holes.items() if not isinstance(shape, str)}


@fact
def hole_faults(drawn_holes: Mapping[str, Shape | str]) -> dict[str, str]:
    """Why a hole cannot be drawn, by id."""
    return {name: fault for name, fault in drawn_holes.items() if isinstance(fault, str)}


@fact
def outlines(panel: Panel) -> dict[str | None, Polygon | str]:
    """The outline of the panel, under None, and of each sub-panel; or in words why there is none."""
    if not panel.outline:
        raise MissingRecord("the panel's outline is not recorded", panel.at("outline"))
    found: dict[str | None, Polygon | str] = {None: outline_of(panel.outline, "the panel's outline")}
    for sheet in panel.sub_panels:
        found[sheet.id] = outline_of(sheet.outline, "its outline") if sheet.outline else "its outline is not recorded"
    return found


@fact
def items_by_equipment(panel: Panel) -> dict[str, Item]:
    """The panel item that is the place of each device: by the equipment it names, or its own id."""
    return {item.equipment or item.id: item for item in panel.items}


@fact
def front_shapes(panel: Panel, hole_shapes: Mapping[str, Shape]) -> dict[str, Shape]:
    """What lies on the front, by item: its bezel, or else its hole; an item that cannot be drawn is left out."""
    centres = {hole.id: inch(hole.centre) for hole in panel.holes}
    found: dict[str, Shape] = {}
    for item in panel.items:
        if item.hole not in centres:
            continue
        shape = _plain(item.bezel, centres[item.hole]) if item.bezel else hole_shapes.get(item.hole)
        if shape and not isinstance(shape, str):
            found[item.id] = shape
    return found


@fact
def body_shapes(panel: Panel, hole_shapes: Mapping[str, Shape]) -> dict[str, Shape | str]:
    """What stands behind the sheet, by item, or in words why that is not known; an item without a hole is left out."""
    centres = {hole.id: inch(hole.centre) for hole in panel.holes}
    return {
        item.id: _body(item, centres[item.hole], hole_shapes.get(item.hole))
        for item in panel.items
        if item.hole and item.hole in centres
    }


def _body(item: Item, centre: tuple[float, float], hole: Shape | None) -> Shape | str:
    if item.body:
        right, up = inch(item.body.offset) if item.body.offset else (0.0, 0.0)
        shape = _plain(item.body, (centre[0] + right, centre[1] + up))
        return "the size of its body is not recorded" if shape == _NO_SIZE else shape
    if item.mounted == "rear":
        return "it is mounted from the rear, so its body may be wider than its hole, and is not recorded"
    return hole or "neither its body nor the size of its hole is recorded"


def mounted(panel: Panel) -> list[Item]:
    """The items that sit in the sheet: all but placards that have no hole."""
    return [item for item in panel.items if item.kind != "placard" or item.hole]


def nearest(shapes: Mapping[str, Shape], within: float) -> dict[str, tuple[float, str]]:
    """Each shape's nearest neighbour less than `within` away, after its distance."""
    found: dict[str, tuple[float, str]] = {}
    for one, other, distance in near_pairs(shapes, within):
        for name, neighbour in ((one, other), (other, one)):
            here = (distance, neighbour)
            found[name] = min(found.get(name, here), here)
    return found
