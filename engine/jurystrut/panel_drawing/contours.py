"""What is cut out of a sheet, exactly: circles, straight sides and arcs, as the records tell it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jurystrut.calculations.layout import fault_of
from jurystrut.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.panel import Hole, Panel, Point

__all__ = ["SHEET", "Contour", "Corner", "corners_around", "recorded_contours"]

SHEET = "outline"
"""The name under which the edge of the sheet itself goes."""

Corner = tuple[float, float, float]
"""A corner and the bulge of the side that follows: the tangent of a quarter of its arc, 0 where it is straight."""

_STEP = math.radians(1)


@dataclass(frozen=True, slots=True)
class Contour:
    """One closed line that the cutter follows: a circle (middle and radius), or corners in order."""

    name: str
    circle: tuple[float, float, float] | None = None
    corners: tuple[Corner, ...] = ()

    def border(self) -> list[tuple[float, float]]:
        """Places in order along it, arcs a degree at a time."""
        if self.circle:
            x, y, r = self.circle
            return [(x + r * math.cos(k * _STEP), y + r * math.sin(k * _STEP)) for k in range(360)]
        following = (*self.corners[1:], *self.corners[:1])
        return [place for one, other in zip(self.corners, following, strict=True) for place in _along(one, other)]

    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top."""
        if self.circle:
            x, y, r = self.circle
            return x - r, y - r, x + r, y + r
        xs, ys = zip(*self.border(), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def moved(self, right: float, up: float) -> Contour:
        """The same contour elsewhere."""
        circle = (self.circle[0] + right, self.circle[1] + up, self.circle[2]) if self.circle else None
        return Contour(self.name, circle, tuple((x + right, y + up, bulge) for x, y, bulge in self.corners))


def _along(start: Corner, end: Corner) -> Iterator[tuple[float, float]]:
    """From a corner to just before the next."""
    x, y, bulge = start
    yield x, y
    if bulge:
        turn = 4 * math.atan(bulge)
        # The arc's middle lies on the chord's perpendicular, (1 - b2) / 4b of the chord to its left.
        along_x, along_y = end[0] - x, end[1] - y
        aside = (1 - bulge**2) / (4 * bulge)
        middle_x, middle_y = x + along_x / 2 - aside * along_y, y + along_y / 2 + aside * along_x
        steps = max(1, math.ceil(abs(turn) / _STEP))
        off_x, off_y = x - middle_x, y - middle_y
        for step in range(1, steps):
            cosine, sine = math.cos(turn * step / steps), math.sin(turn * step / steps)
            yield middle_x + off_x * cosine - off_y * sine, middle_y + off_x * sine + off_y * cosine


def recorded_contours(panel: Panel, sheet: str | None = None) -> tuple[Contour, ...]:
    """The edge of the panel (or of one of its sub-panels), its holes and its screw holes.

    Raises UsageError where one of them cannot be drawn: a drawing with a hole missing must not reach the cutter.
    """
    owner = next((one for one in panel.sub_panels if one.id == sheet), None) if sheet else panel
    if owner is None:
        known = ", ".join(one.id for one in panel.sub_panels) or "none"
        raise UsageError(f"there is no sub-panel '{sheet}'; recorded: {known}")
    contours = [_polygon(SHEET, owner.outline)]
    for hole in panel.holes:
        if hole.sheet == sheet:
            contours.append(_hole(hole))
            contours += _screws(hole)
    return tuple(contours)


def _polygon(name: str, corners: tuple[Point, ...]) -> Contour:
    places = tuple((x.to("in"), y.to("in")) for x, y in corners)
    if fault := fault_of(places):
        raise UsageError(f"{name}: it {fault}")
    return Contour(name, corners=corners_around(places))


def corners_around(places: tuple[tuple[float, float], ...]) -> tuple[Corner, ...]:
    """Corners joined by straight sides."""
    return tuple((x, y, 0.0) for x, y in places)


def _hole(hole: Hole) -> Contour:
    x, y = (side.to("in") for side in hole.centre)
    if hole.corners:
        return _polygon(hole.id, hole.corners)
    if hole.diameter and hole.diameter.si:
        radius = hole.diameter.to("in") / 2
        if hole.across_flat:
            return _flat_sided(hole, x, y, radius, hole.across_flat.to("in") - radius)
        return Contour(hole.id, (x, y, radius))
    if hole.width and hole.height and hole.width.si and hole.height.si:
        w, h = hole.width.to("in") / 2, hole.height.to("in") / 2
        return Contour(
            hole.id, corners=corners_around(((x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)))
        )
    raise UsageError(f"{hole.id}: its size is not recorded, so it cannot be drawn ({hole.at().position})")


def _flat_sided(hole: Hole, x: float, y: float, radius: float, height: float) -> Contour:
    """A round hole with a flat side: one arc from one end of the flat to the other, and the flat back."""
    if not -radius < height < radius:
        raise UsageError(f"{hole.id}: its flat side lies outside the round hole ({hole.at().position})")
    end = math.sqrt(radius**2 - height**2)
    bulge = math.tan((math.tau - 2 * math.acos(height / radius)) / 4)
    corners = [(-end, height), (end, height)]
    for _ in range({"top": 0, "left": 1, "bottom": 2, "right": 3}[hole.flat]):
        corners = [(-b, a) for a, b in corners]
    (ax, ay), (bx, by) = corners
    return Contour(hole.id, corners=((x + ax, y + ay, bulge), (x + bx, y + by, 0.0)))


def _screws(hole: Hole) -> Iterator[Contour]:
    if hole.screws and not (hole.screw_diameter and hole.screw_diameter.si):
        raise UsageError(f"{hole.id}: the diameter of its screws is not recorded ({hole.at('screws').position})")
    for count, (right, up) in enumerate(hole.screws, start=1):
        assert hole.screw_diameter
        place = hole.centre[0].to("in") + right.to("in"), hole.centre[1].to("in") + up.to("in")
        yield Contour(f"{hole.id} screw {count}", (*place, hole.screw_diameter.to("in") / 2))
