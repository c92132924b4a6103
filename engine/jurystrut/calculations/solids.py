"""Bodies behind a sheet: how far a front lies over its hole, how far bodies are apart, and what they meet as the sheet tilts."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.layout import Circle, Polygon, inside_distance, settled

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from jurystrut.calculations.layout import Point, Shape

__all__ = ["Section", "cover", "flat_sided", "moved_by_tilt", "room", "room_while_tilting", "swept"]

_SIDES = 96  # numerics


def flat_sided(centre: Point, diameter: float, across: float, flat: str) -> Polygon:
    """A round hole with one flat side (left, right, top, bottom), `across` from the flat to the round side opposite.

    Its round part is drawn by tangents, so it is nowhere smaller than the hole, and at most 0.06 % of the radius larger.
    Raises ValueError where the flat is not between the middle of nothing and the whole circle.
    """
    radius = diameter / 2
    height = across - radius
    if not -radius < height < radius:
        raise ValueError("the flat side lies outside the round hole")
    end = math.sqrt(radius**2 - height**2)
    beside = radius / math.cos(math.pi / _SIDES)
    angles = [(k + 0.5) * math.tau / _SIDES + math.pi / 2 for k in range(_SIDES)]  # arithmetic
    round_side = [(beside * math.cos(a), beside * math.sin(a)) for a in angles]
    corners = [(-end, height), *((x, y) for x, y in round_side if y < height), (end, height)]
    turn = {"top": 0, "left": 1, "bottom": 2, "right": 3}[flat]  # arithmetic
    for _ in range(turn):
        corners = [(-y, x) for x, y in corners]
    return Polygon(tuple((centre[0] + x, centre[1] + y) for x, y in corners))


def cover(hole: Shape, front: Shape) -> float:
    """How far a front lies over the sheet all round a hole, at least; negative where the hole shows beside it."""
    if isinstance(front, Polygon):
        return inside_distance(hole, front)
    if isinstance(hole, Circle):
        return front.radius - hole.radius - math.dist(front.centre, hole.centre)
    return front.radius - max(math.dist(front.centre, corner) for corner in hole.corners)


def room(beside: float, deep: float) -> float:
    """The distance between two upright bodies from their distances along the sheet and square to it.

    Negative where they run into each other: by the shorter of the two moves that part them.
    """
    return math.hypot(beside, deep) if beside > 0 and deep > 0 else max(beside, deep)


class Section(NamedTuple):
    """A body cut square to a hinge: its distances from the hinge line along the closed sheet, then behind it."""

    low: float
    high: float
    near: float
    far: float

    @property
    def corners(self) -> tuple[Point, ...]:
        """In order around it."""
        return (self.low, self.near), (self.high, self.near), (self.high, self.far), (self.low, self.far)


def moved_by_tilt(along: float, behind: float, angle: float) -> float:
    """How far a point is carried, in a straight line, by a tilt of `angle` radians about the hinge."""
    return 2 * math.hypot(along, behind) * math.sin(min(angle, math.pi) / 2)


def room_while_tilting(body: Section, structure: Section, angle: float) -> float:
    """The least distance between a body that tilts with the sheet by `angle` radians, and structure that stays.

    The side away from the hinge comes forward to the seats, so what is behind swings outwards, away from the hinge. The
    distance is least at one of a few angles: where a corner of one points at a corner or square to a side of the other. They
    are all looked at, and those where a corner meets a side, and the middles between, so no touch is missed. Where the two
    run into each other the depth is the greatest one met at these angles; the true one may be a little more.
    """
    angles = sorted({0.0, angle, *(a for a in _telling(body, structure) if 0 < a < angle)})
    middles = [(one + other) / 2 for one, other in pairwise(angles)]
    return min(_distance(body, structure, a) for a in (*angles, *middles))


def _distance(body: Section, structure: Section, angle: float) -> float:
    """How far a tilted body is from structure; negative where they meet: by the shortest move that parts them.

    Each is looked at from the other, whose sides are upright then: one of these sides parts two blocks that are apart, and a
    corner is nearest.
    """
    parted, near = _seen_from(structure, _turned(body.corners, angle))
    other_way = _seen_from(body, _turned(structure.corners, -angle))
    parted, near = max(parted, other_way[0]), min(near, other_way[1])
    return settled(near if parted > 0 else parted)


def _seen_from(block: Section, corners: Sequence[Point]) -> tuple[float, float]:
    """How far a side of a block keeps corners away, and the distance of the nearest one from the block."""
    low, high, near, far = block
    alongs, behinds = zip(*corners, strict=True)
    parted = max(min(alongs) - high, low - max(alongs), min(behinds) - far, near - max(behinds))
    return parted, min(math.hypot(max(low - x, x - high, 0.0), max(near - y, y - far, 0.0)) for x, y in corners)


def swept(body: Section, angle: float) -> Section:
    """The smallest section with square corners that holds a body all through a tilt of `angle` radians."""
    alongs, behinds = [], []
    for along, behind in body.corners:
        # A corner is farthest out, or farthest behind, at the ends of its arc or where it points along the sheet or square to it.
        start = math.atan2(behind, along)
        square_on = [(start - k * math.pi / 2) % math.tau for k in range(4)]  # arithmetic
        for a in (0.0, angle, *(a for a in square_on if a < angle)):
            place = _turned([(along, behind)], a)[0]
            alongs.append(place[0])
            behinds.append(place[1])
    return Section(min(alongs), max(alongs), min(behinds), max(behinds))


def _turned(points: Iterable[Point], angle: float) -> list[Point]:
    """Points carried by the tilt: what is behind the sheet moves outwards, what is far out moves forward."""
    cosine, sine = math.cos(angle), math.sin(angle)
    return [(along * cosine + behind * sine, behind * cosine - along * sine) for along, behind in points]


def _telling(body: Section, structure: Section) -> Iterator[float]:
    """The angles at which the distance can be least, 0 to a full turn."""
    square_on = [k * math.pi / 2 for k in range(4)]  # arithmetic
    for own in body.corners:
        reach, start = math.hypot(*own), math.atan2(own[1], own[0])
        ends = [math.atan2(corner[1], corner[0]) for corner in structure.corners]
        crossings = _crossings(reach, structure)
        yield from ((start - end) % math.tau for end in (*square_on, *ends, *crossings))
    for other in structure.corners:
        reach, end = math.hypot(*other), math.atan2(other[1], other[0])
        yield from ((start - end) % math.tau for start in (*square_on, *_crossings(reach, body)))


def _crossings(reach: float, section: Section) -> Iterator[float]:
    """The directions in which a circle about the hinge meets the lines through a section's sides."""
    for side in (section.low, section.high):
        if abs(side) <= reach and reach:
            yield from (math.acos(side / reach), -math.acos(side / reach))
    for side in (section.near, section.far):
        if abs(side) <= reach and reach:
            yield from (math.asin(side / reach), math.pi - math.asin(side / reach))
