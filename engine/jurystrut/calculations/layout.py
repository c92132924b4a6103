"""Shapes on a flat sheet: circles and polygons, the gaps between them and to an edge. Any one unit of length.

Lengths below a billionth of the unit count as rounding: shapes that close are said to touch, at a gap of exactly 0.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Set

__all__ = [
    "Box",
    "Circle",
    "Corners",
    "Point",
    "Polygon",
    "Shape",
    "fault_of",
    "gap",
    "inside_distance",
    "near_pairs",
    "rectangle",
    "settled",
]

Point = tuple[float, float]
Corners = tuple[Point, ...]
Box = tuple[float, float, float, float]

_ROUNDING = 1e-9


class Circle(NamedTuple):
    """A round hole or bezel."""

    centre: Point
    radius: float

    @property
    def box(self) -> Box:
        """Left, bottom, right, top."""
        (x, y), r = self.centre, self.radius
        return x - r, y - r, x + r, y + r


@dataclass(frozen=True, slots=True)
class Polygon:
    """Any straight-sided outline, convex or not, its corners in order; ValueError for fewer than three.

    `fault_of` tells whether its border crosses itself; if so, gaps to it mean little.
    """

    corners: Corners
    hull: Corners = field(init=False, repr=False, compare=False)
    """The corners that a string around it would touch, anticlockwise."""

    def __post_init__(self) -> None:
        if len(self.corners) < 3:  # arithmetic
            raise ValueError("an outline needs at least three corners")
        object.__setattr__(self, "hull", _hull(self.corners))

    @property
    def box(self) -> Box:
        """Left, bottom, right, top."""
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def convex(self) -> bool:
        """Whether it has no inward corner."""
        return len(self.hull) == len(self.corners)


Shape = Circle | Polygon


def rectangle(centre: Point, width: float, height: float) -> Polygon:
    """An upright rectangle about its centre."""
    x, y, w, h = *centre, width / 2, height / 2
    return Polygon(((x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)))


def gap(one: Shape, other: Shape) -> float:
    """The least distance between two shapes; negative where they overlap: by the move that parts them.

    For circles and convex polygons that is the shortest such move. A concave polygon is then taken with its hollows filled,
    so the move is enough and may be more than the shortest.
    """
    if isinstance(one, Circle):
        if isinstance(other, Circle):
            return settled(math.dist(one.centre, other.centre) - one.radius - other.radius)
        return settled(_circle_to_polygon(one, other))
    if isinstance(other, Circle):
        return gap(other, one)
    return settled(_polygon_to_polygon(one, other))


def inside_distance(shape: Shape, outline: Polygon) -> float:
    """The least distance from a shape to the outline around it.

    Negative where the shape reaches outside: no shorter move can bring it in, and a longer one may be needed.
    """
    if isinstance(shape, Circle):
        return settled(-_beyond(shape.centre, outline.corners) - shape.radius)
    inner, outer = shape.corners, outline.corners
    beyond = [_beyond(point, outer) for point in inner]
    # In a convex outline the corners of the shape tell all; an inward corner of the outline may also bite into the shape.
    edge = [] if outline.convex else [-_beyond(point, inner) for point in outer]
    reach = max(*beyond, *edge)
    if reach <= _ROUNDING and not outline.convex:
        reach = _reach_between_corners(inner, outer)
    return -reach if reach > _ROUNDING else settled(min(map(abs, (*beyond, *edge))))


def near_pairs(
    shapes: Mapping[str, Shape], within: float, of: Set[str] | None = None
) -> Iterator[tuple[str, str, float]]:
    """Every pair of shapes less than `within` apart, once, with their gap; only pairs of one of `of` and one not, where given.

    Only shapes that share a cell of a grid are compared, so the work grows with the shapes and their neighbours, not with
    all pairs, unless a few shapes dwarf very many others.
    """
    names = list(shapes)
    grow = max(within, 0.0) / 2 + _ROUNDING
    boxes = [(x1 - grow, y1 - grow, x2 + grow, y2 + grow) for x1, y1, x2, y2 in (shapes[name].box for name in names)]
    size = math.sqrt(math.fsum((x2 - x1) ** 2 + (y2 - y1) ** 2 for x1, y1, x2, y2 in boxes) / max(len(boxes), 1))
    for cell, members in _grid(boxes, size).items():
        for i, j in combinations(members, 2):
            if of is not None and (names[i] in of) is (names[j] in of):
                continue
            if _first_common_cell(boxes[i], boxes[j], size) == cell:
                distance = gap(shapes[names[i]], shapes[names[j]])
                if distance < within:
                    yield names[i], names[j], distance


def fault_of(corners: Corners) -> str:
    """What keeps corners from going around an area, as the end of a sentence; "" where nothing does."""
    if len(corners) < 3:  # arithmetic
        return "has fewer than three corners"
    if not all(math.isfinite(x) and math.isfinite(y) for x, y in corners):
        return "has a corner that is not a number"
    if any(a == b for a, b in _sides(corners)):
        return "has the same corner twice in a row; the last joins the first without being told"
    if len(_hull(corners)) < 3:  # arithmetic
        return "encloses nothing"
    if _meets_itself(corners):
        return "has a border that crosses or touches itself; give the corners in order around it"
    return ""


def settled(distance: float) -> float:
    """A distance, or exactly 0 where it is mere rounding."""
    return 0.0 if abs(distance) <= _ROUNDING else distance


def _grid(boxes: list[Box], size: float) -> dict[tuple[int, int], list[int]]:
    """Which boxes reach into each square cell."""
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for index, (left, bottom, right, top) in enumerate(boxes):
        for column in range(math.floor(left / size), math.floor(right / size) + 1):
            for row in range(math.floor(bottom / size), math.floor(top / size) + 1):
                cells[column, row].append(index)
    return cells


def _first_common_cell(one: Box, other: Box, size: float) -> tuple[int, int] | None:
    """The lower left cell of what two boxes share, or None: so that a pair in several cells is looked at once."""
    left, bottom = max(one[0], other[0]), max(one[1], other[1])
    if left > min(one[2], other[2]) or bottom > min(one[3], other[3]):
        return None
    return math.floor(left / size), math.floor(bottom / size)


def _circle_to_polygon(circle: Circle, polygon: Polygon) -> float:
    distance = _beyond(circle.centre, polygon.corners) - circle.radius
    return distance if distance >= 0 or polygon.convex else _beyond(circle.centre, polygon.hull) - circle.radius


def _polygon_to_polygon(one: Polygon, other: Polygon) -> float:
    depth = _depth(one.hull, other.hull)
    if depth > _ROUNDING and ((one.convex and other.convex) or _overlap(one.corners, other.corners)):
        return -depth
    return _between_borders(one.corners, other.corners)


def _depth(one: Corners, other: Corners) -> float:
    """The shortest move that parts two convex polygons, square to one of their sides; not above 0 where they are apart."""
    depth = math.inf
    for corners, against in ((one, other), (other, one)):
        for (ax, ay), (bx, by) in _sides(corners):
            length = math.hypot(bx - ax, by - ay)
            out_x, out_y = (by - ay) / length, (ax - bx) / length
            depth = min(depth, out_x * ax + out_y * ay - min(out_x * x + out_y * y for x, y in against))
            if depth <= 0:
                return depth
    return depth


def _reach_between_corners(inner: Corners, outer: Corners) -> float:
    """How far a shape lies beyond an outline, or the outline's edge in the shape, by the middles of their stretches."""
    outside = max((_beyond(point, outer) for point in _stretches(inner, outer)), default=0.0)
    return max(outside, max((-_beyond(point, inner) for point in _stretches(outer, inner)), default=0.0))


def _overlap(one: Corners, other: Corners) -> bool:
    """Whether two polygons share an area. Either some of a border lies inside the other, or the two are the same."""
    places = [_beyond(point, other) for point in (*one, *_stretches(one, other))]
    if min(places) < -_ROUNDING or max(places) <= _ROUNDING:
        return True
    return any(_beyond(point, one) < -_ROUNDING for point in (*other, *_stretches(other, one)))


def _stretches(border: Corners, other: Corners) -> Iterator[Point]:
    """The middle of every stretch of a border between the places where it meets another; none where they are well apart."""
    near = list(_sides_near(border, other))
    for a, b in _sides_near(other, border) if near else ():
        for start, end in pairwise(sorted((0.0, 1.0, *_meetings(a, b, near)))):
            middle = (start + end) / 2
            yield a[0] + (b[0] - a[0]) * middle, a[1] + (b[1] - a[1]) * middle


def _sides_near(border: Corners, other: Corners) -> Iterator[tuple[Point, Point]]:
    """The sides of another border that may meet this one: their boxes do."""
    xs, ys = zip(*border, strict=True)
    left, bottom, right, top = min(xs) - _ROUNDING, min(ys) - _ROUNDING, max(xs) + _ROUNDING, max(ys) + _ROUNDING
    for c, d in _sides(other):
        beside = (c[0] < left and d[0] < left) or (c[0] > right and d[0] > right)
        if not (beside or (c[1] < bottom and d[1] < bottom) or (c[1] > top and d[1] > top)):
            yield c, d


def _meetings(a: Point, b: Point, sides: Iterable[tuple[Point, Point]]) -> Iterator[float]:
    """Where between a and b, as a share of the way, one side meets others: at an end of theirs, or by crossing."""
    along_x, along_y = b[0] - a[0], b[1] - a[1]
    for c, d in sides:
        for end in (c, d):
            if _to_side(end, a, b) <= _ROUNDING:
                yield _share(end, a, b)
        across = along_x * (d[1] - c[1]) - along_y * (d[0] - c[0])
        if across and _turn(a, b, c) * _turn(a, b, d) <= 0:
            share = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / across
            if 0 < share < 1:
                yield share


def _between_borders(one: Corners, other: Corners) -> float:
    """The least distance between two borders that do not cross: it is at a corner of either."""
    return min(*(abs(_beyond(point, other)) for point in one), *(abs(_beyond(point, one)) for point in other))


def _beyond(point: Point, corners: Corners) -> float:
    """The distance from a point to a border; negative inside it, where a ray to the right crosses an odd number of sides.

    Nearly all the time goes here, so it is one loop and calls nothing.
    """
    x, y = point
    inside, least = False, math.inf
    ax, ay = corners[-1]
    for bx, by in corners:
        along_x, along_y, off_x, off_y = bx - ax, by - ay, x - ax, y - ay
        if (ay > y) != (by > y) and x < ax + off_y * along_x / along_y:
            inside = not inside
        along = off_x * along_x + off_y * along_y
        if along > 0:
            length = along_x * along_x + along_y * along_y
            share = along / length if along < length else 1.0
            off_x -= share * along_x
            off_y -= share * along_y
        off = off_x * off_x + off_y * off_y
        if off < least:  # noqa: PLR1730 - a call of min() here costs half as much again
            least = off
        ax, ay = bx, by
    return -math.sqrt(least) if inside else math.sqrt(least)


def _to_side(point: Point, a: Point, b: Point) -> float:
    share = _share(point, a, b)
    return math.hypot(point[0] - a[0] - share * (b[0] - a[0]), point[1] - a[1] - share * (b[1] - a[1]))


def _share(point: Point, a: Point, b: Point) -> float:
    """How far along the way from a to b the place nearest to a point is, 0 to 1."""
    along_x, along_y = b[0] - a[0], b[1] - a[1]
    square = along_x * along_x + along_y * along_y
    return min(max(((point[0] - a[0]) * along_x + (point[1] - a[1]) * along_y) / square, 0.0), 1.0) if square else 0.0


def _sides(corners: Corners) -> Iterator[tuple[Point, Point]]:
    return zip(corners, (*corners[1:], corners[0]), strict=True)


def _hull(corners: Corners) -> Corners:
    """The convex hull, anticlockwise, by lower and upper chains of the corners in order from left to right."""
    ordered = sorted(set(corners))
    return (*_chain(ordered), *_chain(ordered[::-1])) if len(ordered) > 1 else tuple(ordered)


def _chain(ordered: list[Point]) -> list[Point]:
    chain: list[Point] = []
    for point in ordered:
        while len(chain) > 1 and _turn(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain[:-1]


def _meets_itself(corners: Corners) -> bool:
    """Whether a side meets one that is not its neighbour; sides far apart are not compared."""
    sides = list(_sides(corners))
    ordered = sorted(range(len(sides)), key=lambda index: min(sides[index])[0])
    for place, i in enumerate(ordered):
        for j in ordered[place + 1 :]:
            if min(sides[j])[0] > max(sides[i])[0]:
                break
            if (i - j) % len(sides) not in {1, len(sides) - 1} and _meet(*sides[i], *sides[j]):
                return True
    return False


def _meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two sides have a point in common."""
    if _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0:
        return True
    ends = ((c, a, b), (d, a, b), (a, c, d), (b, c, d))
    return any(_turn(p, q, end) == 0 and _to_side(end, p, q) <= _ROUNDING for end, p, q in ends)


def _turn(a: Point, b: Point, p: Point) -> float:
    """Above 0 where p lies left of the way from a to b, below 0 right of it, 0 on it."""
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
