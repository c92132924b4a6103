"""Shapes on a panel, against shapely (a general geometry library) on random shapes, and by hand where shapes just touch."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest
import shapely
from shapely import affinity, geometry

from jurystrut.calculations import layout
from jurystrut.calculations.layout import (
    Circle,
    Point,
    Polygon,
    Shape,
    fault_of,
    gap,
    inside_distance,
    near_pairs,
    rectangle,
)

FINE = 256
"""Corners in a quarter of the many-cornered polygon that stands for a circle in shapely."""
ELL = Polygon(((0, 0), (4, 0), (4, 1), (1, 1), (1, 4), (0, 4)))


def other_library(shape: Shape, fine: int = FINE) -> geometry.Polygon:
    if isinstance(shape, Circle):
        return geometry.Point(shape.centre).buffer(shape.radius, quad_segs=fine)
    return geometry.Polygon(shape.corners)


def star(chance: random.Random, centre: Point, size: float) -> Polygon:
    """A polygon that does not cross itself, most often concave: random distances at growing angles."""
    count = chance.randint(3, 9)
    # Each corner in its own slice of the turn, less than half a turn apart, keeps the border from crossing itself.
    angles = [(index + chance.uniform(0, 0.45 if count == 3 else 0.9)) * math.tau / count for index in range(count)]
    reach = [size * chance.uniform(0.3, 1) for _ in angles]
    return Polygon(
        tuple((centre[0] + r * math.cos(a), centre[1] + r * math.sin(a)) for r, a in zip(reach, angles, strict=True))
    )


def some_shape(chance: random.Random, size: float = 2) -> Shape:
    centre = chance.uniform(-5, 5), chance.uniform(-5, 5)
    kind = chance.choice(("circle", "rectangle", "star"))
    if kind == "circle":
        return Circle(centre, size * chance.uniform(0.2, 1))
    if kind == "rectangle":
        return rectangle(centre, size * chance.uniform(0.3, 2), size * chance.uniform(0.3, 2))
    return star(chance, centre, size)


def slack(*shapes: Shape) -> float:
    """How far a circle's many-cornered stand-in may be from it."""
    return 1e-9 + sum(
        shape.radius * (1 - math.cos(math.pi / 4 / FINE)) for shape in shapes if isinstance(shape, Circle)
    )


def test_gaps_of_random_shapes_agree_with_shapely() -> None:
    chance = random.Random(7)
    overlapping = apart = 0
    for _ in range(2500):
        one, other = some_shape(chance), some_shape(chance)
        first, second = other_library(one), other_library(other)
        found, distance = gap(one, other), first.distance(second)
        assert gap(other, one) == pytest.approx(found, abs=1e-12)
        if distance > 0:
            assert found == pytest.approx(distance, abs=2 * slack(one, other))
            apart += 1
        elif first.intersection(second).area > 1e-4:
            assert found < 0
            overlapping += 1
    assert apart > 300
    assert overlapping > 300


def test_moving_by_the_overlap_parts_random_shapes() -> None:
    # The shortest parting move is searched for in 48 directions; a direction off by 3.75 degrees costs 0.2 percent.
    chance = random.Random(11)
    checked = 0
    while checked < 40:
        one, other = some_shape(chance), some_shape(chance)
        found = gap(one, other)
        if found > -0.05:
            continue
        shortest = min(_parting_move(one, other, math.tau * step / 48) for step in range(48))
        assert shortest <= -found + 0.03
        if all(isinstance(shape, Circle) or shape.convex for shape in (one, other)):
            assert shortest >= -found - 0.002
        checked += 1


def _parting_move(one: Shape, other: Shape, angle: float) -> float:
    """How far the other shape must go in a direction until the two share no area, by halving."""
    first, second = other_library(one, 32), other_library(other, 32)
    low, high = 0.0, 20.0
    for _ in range(12):
        middle = (low + high) / 2
        moved = affinity.translate(second, middle * math.cos(angle), middle * math.sin(angle))
        low, high = (middle, high) if first.intersection(moved).area > 1e-9 else (low, middle)
    return high


def test_random_shapes_in_random_outlines_agree_with_shapely() -> None:
    chance = random.Random(13)
    inside = outside = 0
    for _ in range(1500):
        outline = star(chance, (0, 0), 9)
        shape = some_shape(chance, 0.8)
        plate, piece = other_library(outline), other_library(shape)
        found = inside_distance(shape, outline)
        if plate.contains(piece):
            assert found == pytest.approx(plate.exterior.distance(piece), abs=2 * slack(shape))
            inside += 1
        elif piece.difference(plate).area > 1e-4:
            assert found < 0
            for _ in range(3):  # no move shorter than that brings it in
                move, angle = -found * chance.uniform(0, 0.999), chance.uniform(0, math.tau)
                assert not plate.contains(affinity.translate(piece, move * math.cos(angle), move * math.sin(angle)))
            outside += 1
    assert inside > 300
    assert outside > 300


Cells = set[tuple[int, int]]


def skyline(chance: random.Random) -> tuple[Polygon, Cells]:
    """Towers of unit squares side by side, somewhere on a small chessboard and perhaps upside down; and the squares."""
    towers = [chance.randint(1, 3) for _ in range(chance.randint(1, 4))]
    left, base, up = chance.randint(0, 4), chance.randint(0, 4), chance.choice((1, -1))
    roof = [(left + index + edge, base + up * height) for index, height in enumerate(towers) for edge in (0, 1)]
    corners = ((left, base), *roof, (left + len(towers), base))
    level = min(base, base + up)
    squares = {(left + index, level + up * floor) for index, height in enumerate(towers) for floor in range(height)}
    return Polygon(tuple(dict.fromkeys(corners))), squares


def turned(polygon: Polygon, angle: float) -> Polygon:
    """Off the chessboard's lines, so that corners lie on sides but for rounding."""
    cosine, sine = math.cos(angle) / 7, math.sin(angle) / 7
    return Polygon(tuple((x * cosine - y * sine, x * sine + y * cosine) for x, y in polygon.corners))


def test_shapes_with_sides_in_one_line_share_an_area_only_where_they_share_a_square() -> None:
    chance = random.Random(23)
    seen = {"overlap": 0, "touch": 0, "inside": 0, "reach out": 0}
    for _ in range(3000):
        (one, its), (other, others), angle = skyline(chance), skyline(chance), chance.uniform(0, math.tau)
        distance = gap(turned(one, angle), turned(other, angle))
        depth = inside_distance(turned(one, angle), turned(other, angle))
        assert (distance < 0) is bool(its & others)
        assert (depth >= 0) is (its <= others)
        seen["overlap"] += distance < 0
        seen["touch"] += distance == 0
        seen["inside"] += depth >= 0
        seen["reach out"] += depth < 0
    assert min(seen.values()) > 50, seen


def test_random_polygons_are_told_good_or_bad_as_by_shapely() -> None:
    chance = random.Random(17)
    good = bad = 0
    for _ in range(1000):
        count = chance.randint(3, 6)
        corners = tuple((chance.uniform(0, 9), chance.uniform(0, 9)) for _ in range(count))
        valid = bool(shapely.is_valid(geometry.Polygon(corners)))
        assert (fault_of(corners) == "") is valid
        good, bad = good + valid, bad + (not valid)
    assert min(good, bad) > 200


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        (Circle((0, 0), 1), Circle((3, 0), 1), 1),
        (Circle((0, 0), 1), Circle((2, 0), 1), 0),
        (Circle((0, 0), 1), Circle((1.5, 0), 1), -0.5),
        (Circle((0, 0), 1), Circle((0, 0), 1), -2),
        (Circle((0, 0), 3), Circle((1, 0), 1), -3),
        (Circle((0, 3), 1), rectangle((0, 0), 2, 2), 1),
        (Circle((4, 5), 1), rectangle((0, 0), 2, 2), 4),  # corner (1, 1): 3-4-5
        (Circle((0, 0), 0.5), rectangle((0, 0), 4, 4), -2.5),  # inside: out to the border, and its radius more
        (Circle((2.4, 0), 0.5), rectangle((0, 0), 4, 4), -0.1),
        (rectangle((0, 0), 2, 2), rectangle((3, 0), 2, 2), 1),
        (rectangle((0, 0), 2, 2), rectangle((2, 0), 2, 2), 0),  # side by side
        (rectangle((0, 0), 2, 2), rectangle((2, 2), 2, 2), 0),  # corner to corner
        (rectangle((0, 0), 2, 1), rectangle((1.5, 0), 2, 1), -0.5),  # same height, sides in one line
        (rectangle((0, 0), 2, 2), rectangle((0, 0), 2, 2), -2),  # the very same
        (rectangle((0, 0), 1, 5), rectangle((0, 0), 5, 1), -3),  # a cross: no corner in the other
        (rectangle((0, 0), 1, 1), rectangle((0, 0), 9, 9), -5),  # one in the other
        (ELL, rectangle((3, 3), 2, 2), 1),  # in the hollow, clear of it
        (ELL, rectangle((2, 2), 2, 2), 0),  # in the hollow, touching both sides
        (ELL, Circle((2, 2), 0.5), 0.5),
    ],
)
def test_gaps_by_hand(one: Shape, other: Shape, expected: float) -> None:
    assert gap(one, other) == pytest.approx(expected, abs=1e-12)
    assert gap(other, one) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(
    "other", [ELL, rectangle((1.9, 1.9), 2, 2), Circle((1.9, 1.9), 1), rectangle((0.5, 0.5), 1, 1)]
)
def test_a_concave_shape_is_overlapped(other: Shape) -> None:
    assert gap(ELL, other) < 0


@pytest.mark.parametrize("shift", [0.1, 0.3, 0.7, 1 / 3])
def test_touching_is_exactly_no_gap_in_spite_of_rounding(shift: float) -> None:
    row = [rectangle((shift + index * 0.1, shift), 0.1, 0.1) for index in range(5)]
    assert [gap(a, b) for a, b in pairwise(row)] == [0.0] * 4
    assert gap(Circle((shift, shift), 0.1), Circle((shift + 0.2, shift), 0.1)) == 0.0


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        (Circle((0.5, 0.5), 0.25), 0.25),
        (Circle((2.5, 0.5), 0.5), 0),
        (Circle((2.5, 0.5), 0.75), -0.25),
        (Circle((3, 3), 0.5), -2.5),  # in the hollow: its centre is 2 outside
        (rectangle((2, 0.5), 1, 0.5), 0.25),
        (rectangle((0.5, 0.5), 1, 1), 0),  # corners on the border, and one on the inward corner
        (rectangle((2, 0.5), 1, 1.5), -0.25),
        (
            rectangle((1.25, 1.25), 2.5, 2.5),
            -1.5,
        ),  # the hollow bites into it: its corner (2.5, 2.5) is 1.5 from the sides
        (
            rectangle((0.5, 0.5), 9, 9),
            -math.hypot(4, 4),
        ),  # larger than the plate: corner (-4, -4) from (0, 0); see below
        (ELL, 0),
    ],
)
def test_distance_to_a_concave_edge_by_hand(shape: Shape, expected: float) -> None:
    assert inside_distance(shape, ELL) == pytest.approx(expected, abs=1e-9)


def test_a_slot_that_cuts_into_a_shape_without_reaching_its_corners_is_seen() -> None:
    slotted = Polygon(((0, 0), (10, 0), (10, 10), (5.1, 10), (5.1, 4), (4.9, 4), (4.9, 10), (0, 10)))
    assert inside_distance(rectangle((5, 6), 4, 2), slotted) < 0
    assert inside_distance(rectangle((5, 2), 4, 2), slotted) == pytest.approx(1)


def test_near_pairs_are_all_pairs_that_are_near() -> None:
    chance = random.Random(19)
    for within in (0.0, 0.25, 1.5):
        shapes = {f"S{index}": some_shape(chance, 0.9) for index in range(60)}
        shapes["WIDE"] = rectangle((0, 0), 12, 0.4)
        names = list(shapes)
        expected = {
            (a, b): gap(shapes[a], shapes[b])
            for index, a in enumerate(names)
            for b in names[index + 1 :]
            if gap(shapes[a], shapes[b]) < within
        }
        found = list(near_pairs(shapes, within))
        assert {(a, b): distance for a, b, distance in found} == expected
        assert len(found) == len(expected) > 5


def test_shapes_that_touch_are_no_overlapping_pair() -> None:
    shapes: dict[str, Shape] = {
        "A": rectangle((0, 0), 2, 2),
        "B": rectangle((2, 0), 2, 2),
        "C": rectangle((1.5, 0), 2, 2),
    }
    assert [pair[:2] for pair in near_pairs(shapes, 0.0)] == [("A", "C"), ("B", "C")]
    assert list(near_pairs({}, 1.0)) == []


def test_work_grows_with_the_shapes_and_not_with_their_pairs(monkeypatch: pytest.MonkeyPatch) -> None:
    compared = 0
    first_common_cell = layout._first_common_cell

    def counting(one: layout.Box, other: layout.Box, size: float) -> tuple[int, int] | None:
        nonlocal compared
        compared += 1
        return first_common_cell(one, other, size)

    monkeypatch.setattr(layout, "_first_common_cell", counting)
    for place in (lambda index: (0.0, index), lambda index: (index, 0.0), lambda index: (index % 63, index // 63)):
        shapes: dict[str, Shape] = {str(index): Circle(place(index), 0.4) for index in range(4000)}
        compared = 0
        assert len(list(near_pairs(shapes, 0.3))) >= 3999
        assert compared < 40_000  # of eight million pairs


@pytest.mark.parametrize(
    ("corners", "fault"),
    [
        (((0, 0), (1, 0)), "fewer than three"),
        (((0, 0), (1, 0), (2, 0)), "encloses nothing"),
        (((0, 0), (2, 0), (2, 2), (0, 0)), "twice in a row"),
        (((0, 0), (2, 2), (2, 0), (0, 2)), "crosses or touches"),
        (((0, 0), (4, 0), (4, 4), (2, 0), (0, 4)), "crosses or touches"),
        (((0, 0), (4, 0), (2, 0), (2, 2)), "crosses or touches"),
        (((0, 0), (math.inf, 0), (2, 2)), "not a number"),
    ],
)
def test_faults_are_named(corners: tuple[Point, ...], fault: str) -> None:
    assert fault in fault_of(corners)


def test_an_outline_of_two_corners_is_refused() -> None:
    with pytest.raises(ValueError, match="three corners"):
        Polygon(((0, 0), (1, 1)))


def test_where_one_side_meets_others_along_its_way() -> None:
    # By hand: (1, 2) + t (4, 8) meets (7, 3) + u (-7, 5) at u = 11/19, t = 37/76.
    assert list(layout._meetings((1, 2), (5, 10), [((7, 3), (0, 8))])) == [pytest.approx(37 / 76)]
    assert list(layout._meetings((1, 2), (5, 10), [((0, 8), (7, 3))])) == [pytest.approx(37 / 76)]
    # Beyond either end, beside, and parallel there is no meeting; a corner on the way is one, a quarter along it.
    assert list(layout._meetings((1, 2), (5, 10), [((9, 12), (5, 13)), ((0, 4), (1, 9)), ((2, 2), (6, 10))])) == []
    assert list(layout._meetings((0, 0), (8, 0), [((2, 0), (3, 5))])) == [pytest.approx(0.25), pytest.approx(0.25)]


SQUARE = ((0, 0), (10, 0), (10, 10), (0, 10))


@pytest.mark.parametrize(
    ("side", "near"),
    [
        (((-3, 4), (-1, 6)), False),  # left of it, right, below, above
        (((11, 4), (13, 6)), False),
        (((4, -3), (6, -1)), False),
        (((4, 11), (6, 13)), False),
        (((0, 4), (-2, 6)), True),  # one end on each border
        (((12, 4), (10, 6)), True),
        (((4, 0), (6, -2)), True),
        (((4, 12), (6, 10)), True),
        (((-3, 5), (13, 6)), True),  # across it, both ways
        (((5, -3), (6, 13)), True),
        (((4, 4), (6, 6)), True),
        (((-1, 4), (-3, -4)), False),  # left of it, and below as well
    ],
)
def test_sides_that_may_meet_a_square(side: tuple[Point, Point], near: bool) -> None:
    # A triangle so flat that its three sides lie in one box.
    assert bool(list(layout._sides_near(SQUARE, (*side, side[0])))) is near


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        (Circle((0.9, 0.9), 0.1), -1.0),  # in its corner: out to the left by 0.9, and its radius more
        (Circle((1.2, 1.1), 0.2), -(1.1 + 0.2)),  # reaches 0.1 into the lying part
        (Circle((1.1, 2.0), 0.2), -(1.1 + 0.2)),  # and into the upright part
    ],
)
def test_what_overlaps_an_ell_is_moved_clear_of_all_of_it(other: Circle, expected: float) -> None:
    assert gap(ELL, other) == pytest.approx(expected)
