"""The instrument panel seen from the seat, to scale: sheet, holes, bezels, and a number on every item."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jurystrut.drawings.svg import Svg, circle, drawing, line, polygon, rectangle, text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

__all__ = ["Place", "panel_front"]

_Point = tuple[float, float]

_WIDTH, _ROOM = 700.0, 16.0


@dataclass(frozen=True, slots=True)
class Place:
    """Something on the sheet: round with a `diameter`, or square-cornered with a `size`; `label` is short, or empty.

    Lengths in inches, from the sheet's lower left corner. A `loose` place is a hole that no item names.
    """

    label: str
    centre: _Point
    diameter: float | None = None
    size: tuple[float, float] | None = None
    bezel_diameter: float | None = None
    bezel_size: tuple[float, float] | None = None
    corners: tuple[_Point, ...] = ()
    loose: bool = False


class _Sheet:
    def __init__(self, outline: Sequence[_Point]) -> None:
        xs, ys = [x for x, _ in outline], [y for _, y in outline]
        self.left, self.top = min(xs), max(ys)
        self.scale = (_WIDTH - 2 * _ROOM) / (max(xs) - min(xs))
        self.bottom = _ROOM + (max(ys) - min(ys)) * self.scale
        self.height = (max(ys) - min(ys)) * self.scale + 2 * _ROOM + 26

    def at(self, point: _Point) -> _Point:
        return _ROOM + (point[0] - self.left) * self.scale, _ROOM + (self.top - point[1]) * self.scale


def panel_front(name: str, outline: Sequence[_Point], places: Sequence[Place]) -> Svg:
    """The outline's corners and all places in inches; ValueError where the outline has no width."""
    sheet = _Sheet(outline)
    parts: list[Svg] = [polygon([sheet.at(corner) for corner in outline], "sheet")]
    parts += [part for place in places for part in _body(sheet, place)]
    parts += [part for place in places for part in _label(sheet, place)]
    parts += _ruler(sheet)
    return drawing(name, _WIDTH, sheet.height, "Panel, front view", f"{len(places)} items and holes, to scale", parts)


def _body(sheet: _Sheet, place: Place) -> Iterator[Svg]:
    if place.bezel_diameter or place.bezel_size:
        yield _outline(sheet, place.centre, place.bezel_diameter, place.bezel_size, "bezel")
    if place.corners:
        yield polygon([sheet.at(corner) for corner in place.corners], "hole")
    else:
        yield _outline(sheet, place.centre, place.diameter, place.size, "hole loose" if place.loose else "hole")


def _outline(sheet: _Sheet, centre: _Point, diameter: float | None, size: tuple[float, float] | None, look: str) -> Svg:
    x, y = sheet.at(centre)
    if size:
        w, h = size[0] * sheet.scale, size[1] * sheet.scale
        return rectangle((x - w / 2, y - h / 2), w, h, look)
    return circle((x, y), (diameter or 0.1) * sheet.scale / 2, look)


def _label(sheet: _Sheet, place: Place) -> Iterator[Svg]:
    """The number in the middle; below a hole that is too small for it."""
    if not place.label:
        return
    x, y = sheet.at(place.centre)
    across, high = _extent(place)
    across, high = across * sheet.scale, high * sheet.scale
    size = 15.0 if across > 45 else 9.5
    small = across < 0.95 * len(place.label) * size or high < size
    below = high / 2 + 9.5
    if y + below > sheet.bottom:
        below = -high / 2 - 3
    yield text((x, y + (below if small else size * 0.36)), place.label, size=size, anchor="middle", look="words strong")


def _extent(place: Place) -> tuple[float, float]:
    """The room inside a hole for a number; and the height of all that is drawn of it, where the number must go below."""
    width, height = place.size or (place.diameter or 0.1, place.diameter or 0.1)
    outer = max(height, place.bezel_diameter or 0, place.bezel_size[1] if place.bezel_size else 0)
    return width, outer


def _ruler(sheet: _Sheet) -> Iterator[Svg]:
    """A stretch of known length: the drawing is to scale on any paper."""
    y = sheet.height - 14
    yield line((_ROOM, y), (_ROOM + 10 * sheet.scale, y), "line")
    for inch in range(11):
        x = _ROOM + inch * sheet.scale
        yield line((x, y - (6 if inch % 5 == 0 else 3)), (x, y), "line")
    yield text((_ROOM + 10 * sheet.scale + 8, y + 1), "10 in")
