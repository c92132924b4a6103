"""Shapes on a flat sheet: circles and polygons, the gaps between them and to an edge. Any one unit of length."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

__all__ = ["Circle", "Point", "Polygon", "Shape", "gap", "inside_distance", "near_pairs", "rectangle"]

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Circle:
    """A round hole or bezel."""

    centre: Point
    radius: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top."""
        (x, y), r = self.centre, self.radius
        return x - r, y - r, x + r, y + r


@dataclass(frozen=True, slots=True)
class Polygon:
    """Any straight-sided outline, its corners in order; ValueError for fewer than three."""

    corners: tuple[Point, ...]

    def __post_init__(self) -> None:
        if len(self.corners) < 3:
            raise ValueError("an outline needs at least three corners")

    @property
    def sides(self) -> list[tuple[Point, Point]]:
        """Its sides in order."""
        return list(zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True))

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top."""
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def holds(self, point: Point) -> bool:
        """Whether a point lies inside, by counting the sides that a ray to the right crosses."""
        x, y = point
        crossings = 0
        for (x1, y1), (x2, y2) in self.sides:
            if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
                crossings += 1
        return crossings % 2 == 1


Shape = Circle | Polygon


def rectangle(centre: Point, width: float, height: float) -> Polygon:
    """An upright rectangle about its centre."""
    x, y, w, h = *centre, width / 2, height / 2
    return Polygon(((x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)))


def gap(one: Shape, other: Shape) -> float:
    """The least distance between two shapes; negative where they overlap, by no more than how far they do."""
    if isinstance(one, Circle) and isinstance(other, Circle):
        return math.dist(one.centre, other.centre) - one.radius - other.radius
    if isinstance(one, Polygon) and isinstance(other, Polygon):
        return _between_polygons(one, other)
    circle, polygon = (one, other) if isinstance(one, Circle) else (other, one)
    assert isinstance(circle, Circle)
    assert isinstance(polygon, Polygon)
    to_border = min(_to_side(circle.centre, *side) for side in polygon.sides)
    return -to_border - circle.radius if polygon.holds(circle.centre) else to_border - circle.radius


def inside_distance(shape: Shape, outline: Polygon) -> float:
    """The least distance from a shape to the outline that it lies in; negative where it reaches outside."""
    if isinstance(shape, Circle):
        to_border = min(_to_side(shape.centre, *side) for side in outline.sides)
        return (to_border if outline.holds(shape.centre) else -to_border) - shape.radius
    corners = [(_to_border(p, outline), outline.holds(p)) for p in shape.corners]
    outside = [distance for distance, inside in corners if not inside and distance > 0]
    if outside:
        return -max(outside)
    if any(_sides_cross(a, b, c, d) for a, b in shape.sides for c, d in outline.sides):
        return -min(_to_border(p, shape) for p in outline.corners)
    inward = [_to_border(p, shape) for p in outline.corners]
    return min([distance for distance, _ in corners] + inward)


def near_pairs(shapes: Mapping[str, Shape], within: float) -> Iterator[tuple[str, str, float]]:
    """Every pair of shapes less than `within` apart, with their gap; a sweep over left edges, not all pairs."""
    order = sorted(shapes, key=lambda name: shapes[name].box)
    active: list[str] = []
    for name in order:
        left, bottom, _, top = shapes[name].box
        active = [other for other in active if shapes[other].box[2] + within > left]
        for other in active:
            _, low, _, high = shapes[other].box
            if low - within < top and bottom < high + within:
                distance = gap(shapes[other], shapes[name])
                if distance < within:
                    yield other, name, distance
        active.append(name)


def _between_polygons(one: Polygon, other: Polygon) -> float:
    if one.holds(other.corners[0]) or other.holds(one.corners[0]):
        return -min(_to_border(other.corners[0], one), _to_border(one.corners[0], other))
    if any(_sides_cross(a, b, c, d) for a, b in one.sides for c, d in other.sides):
        return -min(_shared(one.box[0::2], other.box[0::2]), _shared(one.box[1::2], other.box[1::2]))
    return min(
        *(_to_border(point, other) for point in one.corners), *(_to_border(point, one) for point in other.corners)
    )


def _shared(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """The length that two stretches of a line have in common."""
    return min(one[1], other[1]) - max(one[0], other[0])


def _to_border(point: Point, polygon: Polygon) -> float:
    return min(_to_side(point, *side) for side in polygon.sides)


def _to_side(point: Point, a: Point, b: Point) -> float:
    (px, py), (ax, ay), (bx, by) = point, a, b
    length = (bx - ax) ** 2 + (by - ay) ** 2
    share = ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / length if length else 0.0
    share = min(max(share, 0.0), 1.0)
    return math.hypot(px - ax - share * (bx - ax), py - ay - share * (by - ay))


def _sides_cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _turn(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
