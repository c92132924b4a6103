"""Bodies behind a panel, against shapely (a general geometry library) on random cases, and by hand."""

from __future__ import annotations

import math
import random
from typing import TYPE_CHECKING

import pytest
from shapely import affinity, geometry

from jurystrut.calculations.layout import Circle, Polygon, rectangle
from jurystrut.calculations.solids import Section, cover, flat_sided, moved_by_tilt, room, room_while_tilting, swept

if TYPE_CHECKING:
    from collections.abc import Callable

    from jurystrut.calculations.layout import Corners


def block(section: Section) -> geometry.Polygon:
    return geometry.box(section.low, section.near, section.high, section.far)


def by_many_steps(body: Section, structure: Section, angle: float, steps: int = 3000) -> float:
    """The least distance as shapely finds it, the body turned a little at a time; a turn that lowers what is behind."""
    fixed = block(structure)
    turned = (
        affinity.rotate(block(body), -angle * step / steps, origin=(0, 0), use_radians=True)
        for step in range(steps + 1)
    )
    return min(fixed.distance(shape) for shape in turned)


def some_sections(chance: random.Random) -> tuple[Section, Section]:
    low, near = chance.uniform(-2, 8), chance.uniform(-1, 6)
    body = Section(start := chance.uniform(-1, 6), start + chance.uniform(0.2, 3), 0.0, chance.uniform(0.5, 8))
    return body, Section(low, low + chance.uniform(0.2, 4), near, near + chance.uniform(0.2, 4))


def test_room_while_tilting_agrees_with_shapely_on_random_blocks() -> None:
    chance = random.Random(11)
    met = clear = 0
    for _ in range(60):
        body, structure = some_sections(chance)
        angle = chance.uniform(0.2, 2.0)
        found, expected = room_while_tilting(body, structure, angle), by_many_steps(body, structure, angle, 400)
        # Between two of shapely's steps a corner moves by no more than half a step's arc.
        step = max(math.hypot(*corner) for corner in body.corners) * angle / 400
        if expected > 0:
            assert expected - step <= found <= expected + 1e-9
            clear += 1
        else:
            assert found <= 1e-9
            met += 1
    assert met > 10
    assert clear > 10


def test_what_holds_a_body_all_through_its_tilt_agrees_with_shapely() -> None:
    chance = random.Random(12)
    for _ in range(40):
        body, _ = some_sections(chance)
        angle = chance.uniform(0.1, 2.5)
        steps = (angle * step / 500 for step in range(501))
        turned = [affinity.rotate(block(body), -a, origin=(0, 0), use_radians=True).bounds for a in steps]
        low, near, high, far = (
            choose(side) for choose, side in zip((min, min, max, max), zip(*turned, strict=True), strict=True)
        )
        assert swept(body, angle) == pytest.approx((low, high, near, far), abs=1e-3)


def test_a_short_touch_between_the_ends_of_the_tilt_is_not_missed() -> None:
    # A corner 5 in from the hinge just clears a wall at 5.01 in and meets one at 4.99 in, at mid tilt alone.
    body = Section(3.0, 3.0 + 1e-6, 0.0, 4.0)
    tilt = math.atan2(4, 3) * 2
    assert room_while_tilting(body, Section(5.01, 6, -9, 9), tilt) == pytest.approx(0.01, abs=1e-5)
    assert room_while_tilting(body, Section(4.99, 6, -9, 9), tilt) == pytest.approx(-0.01, abs=1e-5)


def test_a_body_that_does_not_tilt_keeps_its_distance() -> None:
    assert room_while_tilting(Section(0, 1, 0, 1), Section(3, 4, 0, 1), 0.0) == pytest.approx(2.0)


def test_points_are_carried_along_a_chord() -> None:
    # A right angle carries a point 5 in from the hinge by 5 sqrt 2.
    assert moved_by_tilt(3, 4, math.pi / 2) == pytest.approx(5 * math.sqrt(2))
    assert moved_by_tilt(3, 4, 0) == 0


@pytest.mark.parametrize(
    ("beside", "deep", "expected"), [(3, 4, 5), (3, -1, 3), (-1, 2, 2), (-1, -2, -1), (0, 0, 0), (0, 4, 4)]
)
def test_room_between_upright_bodies(beside: float, deep: float, expected: float) -> None:
    assert room(beside, deep) == expected


def test_room_agrees_with_the_distance_of_boxes_in_space() -> None:
    chance = random.Random(3)
    for _ in range(200):
        gaps = [chance.uniform(-1, 1) for _ in range(3)]
        beside = room(gaps[0], gaps[1])
        expected = math.hypot(*(max(gap, 0) for gap in gaps))
        if max(gaps) > 0:
            assert room(beside, gaps[2]) == pytest.approx(expected)


@pytest.mark.parametrize(("front", "expected"), [(Circle((1, 1), 1.6), 0.1), (Circle((1.05, 1), 1.6), 0.05)])
def test_a_round_front_over_a_round_hole(front: Circle, expected: float) -> None:
    assert cover(Circle((1, 1), 1.5), front) == pytest.approx(expected)


def test_covers_agree_with_shapely() -> None:
    chance = random.Random(5)
    for _ in range(300):
        hole = rectangle((0, 0), chance.uniform(1, 3), chance.uniform(1, 3))
        shape = geometry.Polygon(hole.corners)
        wide = rectangle((0.1, 0), chance.uniform(1, 5), chance.uniform(1, 5))
        outside = geometry.Polygon(wide.corners)
        found = cover(hole, wide)
        assert (found >= 0) == outside.covers(shape)
        if found > 0:
            assert found == pytest.approx(outside.exterior.distance(shape))
        round_front = Circle((0.1, 0), chance.uniform(0.5, 3))
        fine = geometry.Point(round_front.centre).buffer(round_front.radius, quad_segs=512)
        if (covered := cover(hole, round_front)) > 0:
            assert covered == pytest.approx(fine.exterior.distance(shape), abs=1e-4)


@pytest.mark.parametrize(("flat", "box"), [("top", 3), ("right", 2), ("bottom", 1), ("left", 0)])
def test_a_flat_sided_hole_is_cut_on_its_side(flat: str, box: int) -> None:
    hole = flat_sided((0, 0), 0.5, 0.43, flat)
    extents = [abs(side) for side in hole.box]
    assert extents[box] == pytest.approx(0.18)  # 0.43 - 0.25
    assert all(side == pytest.approx(0.25, abs=2e-4) for place, side in enumerate(extents) if place != box)


def test_a_flat_sided_hole_agrees_with_shapely() -> None:
    fine = geometry.Point(0, 0).buffer(0.25, quad_segs=2000).intersection(geometry.box(-1, -1, 1, 0.18))
    assert geometry.Polygon(flat_sided((0, 0), 0.5, 0.43, "top").corners).area == pytest.approx(fine.area, rel=1e-3)


@pytest.mark.parametrize("across", [0.0, 0.5, 0.6])
def test_a_flat_outside_the_hole_is_refused(across: float) -> None:
    with pytest.raises(ValueError, match="flat side"):
        flat_sided((0, 0), 0.5, across, "top")


def test_a_hole_with_corners_under_a_round_front() -> None:
    hole = Polygon(((0, 0), (3, 0), (0, 4)))
    assert cover(hole, Circle((0, 0), 5)) == pytest.approx(1)


@pytest.mark.parametrize(
    ("flat", "outermost"),
    [
        ("top", lambda corners: max(y for _, y in corners)),
        ("left", lambda corners: -min(x for x, _ in corners)),
        ("bottom", lambda corners: -min(y for _, y in corners)),
        ("right", lambda corners: max(x for x, _ in corners)),
    ],
)
def test_a_flat_side_lies_where_it_is_told(flat: str, outermost: Callable[[Corners], float]) -> None:
    # 2 across the round, 1.6 from the flat to the side opposite: the flat lies 0.6 from the middle.
    hole = flat_sided((0, 0), 2, 1.6, flat)
    assert outermost(hole.corners) == pytest.approx(0.6)
    # A circle less the segment beyond the flat: pi - (acos 0.6 - 0.6 x 0.8), by the formula of any handbook.
    area = math.pi - (math.acos(0.6) - 0.6 * 0.8)
    drawn = geometry.Polygon(hole.corners)
    assert area <= drawn.area <= area * 1.002
    # Nowhere smaller than the hole: every point of its round side lies within.
    turn = {"right": 0, "top": 90, "left": 180, "bottom": 270}[flat]
    for degrees in range(54, 307, 2):
        angle = math.radians(turn + degrees)
        assert drawn.buffer(1e-9).contains(geometry.Point(math.cos(angle), math.sin(angle)))


def test_a_flat_side_has_its_place_on_the_sheet() -> None:
    moved = flat_sided((3, -2), 2, 1.6, "left")
    assert min(x for x, _ in moved.corners) == pytest.approx(3 - 0.6)
    assert max(y for _, y in moved.corners) == pytest.approx(-2 + 1, abs=0.001)


@pytest.mark.parametrize("across", [0.0, 2.0, 2.1, -0.5])
def test_a_flat_outside_the_round_hole_is_refused(across: float) -> None:
    with pytest.raises(ValueError, match="outside"):
        flat_sided((0, 0), 2, across, "top")


@pytest.mark.parametrize(
    "structure", [Section(2, 10, 3, 3.2), Section(-10, 4.5, 3, 3.2), Section(3, 3.2, 2, 10), Section(3, 3.2, -10, 4.5)]
)
def test_a_thin_shelf_or_wall_in_the_way_of_a_small_body_is_not_passed_through(structure: Section) -> None:
    """A block far behind the hinge swings from (0, 5) to (5, 0) and crosses the shelf or wall in a twentieth of the way."""
    body = Section(-0.1, 0.1, 4.9, 5.0)
    assert by_many_steps(body, structure, math.pi / 2) == 0
    assert room_while_tilting(body, structure, math.pi / 2) < -0.09
    clear = Section(5.2, 10, 3, 3.2)
    assert room_while_tilting(body, clear, math.pi / 2) == pytest.approx(
        by_many_steps(body, clear, math.pi / 2), abs=1e-5
    )
