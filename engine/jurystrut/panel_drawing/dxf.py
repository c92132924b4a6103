"""DXF files: written for the cutter, and read from any program, by ezdxf."""

from __future__ import annotations

import io
import math
from itertools import islice
from typing import TYPE_CHECKING, Any

from jurystrut.errors import UsageError
from jurystrut.panel_drawing.contours import Contour, corners_around
from jurystrut.panel_drawing.engraving import Drawing, Words
from jurystrut.panel_drawing.foreign import FURTHEST, MOST_PIECES, MOST_SHAPES, measured, opened, understood

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from jurystrut.panel_drawing.contours import Corner
    from jurystrut.records.panel import Panel

__all__ = ["CUT", "ENGRAVE", "INCHES_IN", "REFERENCE", "read_dxf", "write_dxf"]

CUT, ENGRAVE, REFERENCE = "CUT", "ENGRAVE", "REFERENCE"
"""The layers: what the cutter follows, the words, and what is only there to be looked at."""

INCHES_IN = {"in": 1.0, "mm": 1 / 25.4, "cm": 1 / 2.54, "m": 1 / 0.0254, "ft": 12.0}
"""Inches in one unit of a drawing; the international inch is 25.4 mm."""

_INSUNITS = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""The header's $INSUNITS."""

_MIDDLE_CENTRE = 5
"""The attachment point of words of several lines that are placed by their middle."""
_FINE = 2e-5
"""Inches by which a curve's straight pieces may be off."""
_GAP = 1e-4
"""Inches between ends that count as joined."""
_DEEPEST = 20
_HIGHEST_DEGREE, _MOST_POINTS = 25, 2000
"""Of a spline; programs draw with the degrees 2 to 5, some up to 25."""


def _ezdxf() -> Any:
    try:
        import ezdxf
    except ImportError:
        raise UsageError("drawings need ezdxf and shapely: pip install 'jurystrut[drawing]'") from None
    return ezdxf


def write_dxf(contours: Iterable[Contour], panel: Panel, sheet: str | None = None) -> str:
    """The drawing in inches: contours to be cut, legends to be engraved, bezels and what is behind for reference."""
    document = _ezdxf().new("R2010", units=1)
    document.header["$MEASUREMENT"] = 0
    for name, colour in ((CUT, 1), (ENGRAVE, 5), (REFERENCE, 8)):
        document.layers.add(name, color=colour)
    space = document.modelspace()
    for contour in contours:
        _draw(space, contour, CUT)
    for contour in _reference(panel, sheet):
        _draw(space, contour, REFERENCE)
    if sheet is None:
        _engrave(space, panel)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def _draw(space: Any, contour: Contour, layer: str) -> None:
    if contour.circle:
        x, y, r = contour.circle
        space.add_circle((x, y), r, dxfattribs={"layer": layer})
    else:
        space.add_lwpolyline(contour.corners, format="xyb", close=True, dxfattribs={"layer": layer})


def _engrave(space: Any, panel: Panel) -> None:
    from ezdxf.enums import TextEntityAlignment

    for legend in panel.legends:
        if legend.centre and legend.letter_height:
            text = space.add_text(legend.text, height=legend.letter_height.to("in"), dxfattribs={"layer": ENGRAVE})
            place = tuple(side.to("in") for side in legend.centre)
            text.set_placement(place, align=TextEntityAlignment.MIDDLE_CENTER)


def _reference(panel: Panel, sheet: str | None) -> Iterator[Contour]:
    """Bezels in their places, and the zones behind the sheet."""
    holes = {hole.id: hole for hole in panel.holes if hole.sheet == sheet}
    for item in panel.items:
        if item.bezel and item.hole in holes:
            x, y = (side.to("in") for side in holes[item.hole].centre)
            if item.bezel.diameter:
                yield Contour(item.id, (x, y, item.bezel.diameter.to("in") / 2))
            elif item.bezel.width and item.bezel.height:
                w, h = item.bezel.width.to("in") / 2, item.bezel.height.to("in") / 2
                places = ((x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h))
                yield Contour(item.id, corners=corners_around(places))
    for zone in panel.keep_outs if sheet is None else ():
        yield Contour(zone.id, corners=corners_around(tuple((x.to("in"), y.to("in")) for x, y in zone.corners)))


def read_dxf(path: Path, *, unit: str | None = None, layer: str | None = None) -> Drawing:
    """Every closed line of a drawing, in inches: on one layer, or on CUT where there is such a layer, or on all. And the words on
    the layer ENGRAVE, where there is one.

    Lines and arcs that meet at their ends are joined; blocks are taken apart. Raises UsageError where the file cannot be read,
    does not tell its unit, or holds lines on that layer that close nothing.
    """
    ezdxf = _ezdxf()
    opened(path)
    with understood(path, "DXF"):
        document = ezdxf.readfile(path)
        unit = unit or _INSUNITS.get(document.header.get("$INSUNITS", 0))
        if unit is None:
            raise UsageError(f"{path}: the drawing does not tell its unit; give it with --unit")
        everything = list(_drawn(document, path))
        layers = {entry.dxf.name.casefold() for entry in document.layers}
        wanted = (layer or (CUT if CUT.casefold() in layers else "")).casefold()
        cut = [entity for entity in everything if not wanted or entity.dxf.layer.casefold() == wanted]
        contours = measured(_contours(cut, INCHES_IN[unit], path), path)
        engraved = [entity for entity in everything if entity.dxf.layer.casefold() == ENGRAVE.casefold()]
        words = [_words(entity, INCHES_IN[unit]) for entity in engraved if entity.dxftype() in {"TEXT", "MTEXT"}]
        return Drawing(contours, words if ENGRAVE.casefold() in layers else None)


def _drawn(document: Any, path: Path) -> Iterator[Any]:
    """Every entity; UsageError where there are more than a panel has."""
    for count, entity in enumerate(_taken_apart(document.modelspace())):
        if count == MOST_SHAPES:
            raise UsageError(f"{path}: more than {MOST_SHAPES} lines; draw only what is cut")
        if entity is not None:
            yield entity


def _contours(entities: list[Any], scale: float, path: Path) -> Iterator[Contour]:
    """What is closed, and what closes when it is joined; what is raised is said above."""
    for entity in entities:
        if not _of_a_panel(entity, scale):
            raise UsageError(f"{path}: a {entity.dxftype()} is far larger than any panel; is the unit right?")
    yield from (contour for entity in entities if (contour := _closed(entity, scale)))
    joined, left = _joined([entity for entity in entities if not _is_closed(entity)], scale)
    if left:
        raise UsageError(f"{path}: {left} of the lines on the layer to be cut close nothing")
    yield from joined


_ESTIMATED = 0.15
"""Of the words' width, by which their middle may be off where it follows from letters of a font that another program draws."""


def _words(entity: Any, scale: float) -> Words:
    """What an entity says; its middle is given where it is placed by it, and estimated otherwise."""
    multiline = entity.dxftype() == "MTEXT"
    text = entity.plain_text()
    height = (entity.dxf.char_height if multiline else entity.dxf.height) * scale
    if multiline:
        centred, middle = entity.dxf.attachment_point == _MIDDLE_CENTRE, entity.dxf.insert
    else:
        align, middle, _ = entity.get_placement()
        centred = align.name in {"MIDDLE_CENTER", "MIDDLE"}
    if centred:
        return Words("", text, (middle.x * scale, middle.y * scale), height)
    from ezdxf.bbox import extents

    box = extents([entity])
    width = box.size.x * scale if box.has_data else 0.0
    place = box.center if box.has_data else middle
    return Words("", text, (place.x * scale, place.y * scale), height, max(height, _ESTIMATED * width))


def _taken_apart(entities: Iterable[Any], depth: int = 0) -> Iterator[Any]:
    """What is drawn, blocks and rows of blocks resolved; None for each block, so that empty ones are counted as well."""
    if depth > _DEEPEST:
        raise UsageError(f"blocks within blocks, more than {_DEEPEST} deep")
    for entity in entities:
        if entity.dxftype() == "INSERT":
            for one in entity.multi_insert() if entity.mcount > 1 else (entity,):
                yield None
                yield from _taken_apart(one.virtual_entities(), depth + 1)
        else:
            yield entity


def _of_a_panel(entity: Any, scale: float) -> bool:
    """Whether a curve is no larger, and no harder to follow, than one in a panel; others would be divided without end."""
    kind, most = entity.dxftype(), FURTHEST / scale
    if kind in {"CIRCLE", "ARC"}:
        return bool(abs(entity.dxf.radius) <= most)
    if kind == "ELLIPSE":
        return bool(entity.dxf.major_axis.magnitude <= most and abs(entity.dxf.ratio) <= 1)
    if kind == "SPLINE":
        points = (*entity.control_points, *entity.fit_points)
        fine = entity.dxf.degree <= _HIGHEST_DEGREE and len(points) <= _MOST_POINTS
        return fine and all(abs(number) <= most for point in points for number in point)
    return True


def _is_closed(entity: Any) -> bool:
    from ezdxf.edgesmith import is_closed_entity

    return bool(is_closed_entity(entity))


def _closed(entity: Any, scale: float) -> Contour | None:
    """The contour of a circle, a closed polyline, ellipse or spline; None for anything else."""
    kind = entity.dxftype()
    if kind == "CIRCLE":
        centre = entity.ocs().to_wcs(entity.dxf.center)
        return Contour(kind, (centre.x * scale, centre.y * scale, entity.dxf.radius * scale))
    if kind not in {"LWPOLYLINE", "POLYLINE", "ELLIPSE", "SPLINE"} or not _is_closed(entity):
        return None
    if kind in {"LWPOLYLINE", "POLYLINE"}:
        return Contour(kind, corners=_corners(entity, scale))
    places = [(p.x * scale, p.y * scale) for p in islice(entity.flattening(_FINE / scale), MOST_PIECES)]
    return Contour(
        kind, corners=corners_around(tuple(places[:-1] if math.dist(places[0], places[-1]) < _GAP else places))
    )


def _corners(polyline: Any, scale: float) -> tuple[Corner, ...]:
    """A polyline's corners with their bulges; one that was drawn face down is turned over."""
    if polyline.dxftype() == "LWPOLYLINE":
        points = [(x, y, bulge) for x, y, bulge in polyline.get_points("xyb")]
    else:
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in polyline.vertices]
    face = -1 if polyline.dxf.extrusion.z < 0 else 1
    corners = [(face * x * scale, y * scale, face * bulge) for x, y, bulge in points]
    if math.dist(corners[0][:2], corners[-1][:2]) < _GAP:
        corners.pop()
    return tuple(corners)


def _joined(entities: list[Any], scale: float) -> tuple[list[Contour], int]:
    """Contours of open lines and arcs that meet end to end, and how many lines are left over."""
    from ezdxf import edgeminer, edgesmith

    edges = list(edgesmith.edges_from_entities_2d(entities, gap_tol=_GAP / scale))
    if not edges:
        return [], 0
    deposit = edgeminer.Deposit(edges, gap_tol=_GAP / scale)
    found, left = [], 0
    for chain in edgeminer.find_all_simple_chains(deposit):
        if not edgeminer.is_loop(chain, gap_tol=_GAP / scale):
            left += len(chain)
            continue
        found.append(
            Contour("LINES", corners=_corners(edgesmith.lwpolyline_from_chain(chain, max_sagitta=_FINE), scale))
        )
    return found, left
