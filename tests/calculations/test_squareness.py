"""Triangles against plane coordinates, and the toe against worked figures."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jurystrut.calculations.squareness import off_square, off_square_angle, toe_angle

METRES = st.floats(0.1, 10)


@given(METRES, st.floats(-0.4, 0.4), METRES)
def test_the_apex_is_found_where_it_was_put(base: float, share: float, height: float) -> None:
    apex = share * base
    left, right = math.hypot(base / 2 + apex, height), math.hypot(base / 2 - apex, height)
    assert off_square(left, right, base) == pytest.approx(apex, abs=1e-6)
    assert off_square_angle(left, right, base) == pytest.approx(math.atan2(apex, height), abs=1e-6)


def test_equal_diagonals_are_square() -> None:
    assert off_square(5, 5, 6) == 0
    assert off_square_angle(5, 5, 6) == 0


def test_a_triangle_that_is_all_but_flat() -> None:
    assert abs(off_square_angle(1.0, 1.0 + 1e-15, 2.0)) <= math.pi


def test_a_right_angled_triangle() -> None:
    # 3-4-5 with the right angle at the right end: the apex stands over it, 1.5 right of the middle, 4 high
    assert off_square(5, 4, 3) == pytest.approx(1.5)
    assert off_square_angle(5, 4, 3) == pytest.approx(math.atan(1.5 / 4))


@pytest.mark.parametrize("sides", [(1, 1, 2), (1, 1, 3), (5, 1, 4), (1, 1, 0)])
def test_lengths_that_do_not_close_are_refused(sides: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="do not close"):
        off_square(*sides)


@pytest.mark.parametrize(("difference", "degrees"), [(0.157, 0.25), (0.314, 0.50)])
def test_toe_by_a_straightedge_of_36_inches(difference: float, degrees: float) -> None:
    assert math.degrees(toe_angle(33 + difference, 33, 36)) == pytest.approx(degrees, abs=0.0005)
    assert math.degrees(toe_angle(33, 33 + difference, 36)) == pytest.approx(-degrees, abs=0.0005)


def test_ends_farther_apart_than_the_straightedge_is_long() -> None:
    with pytest.raises(ValueError, match="straightedge"):
        toe_angle(40, 3, 36)


def test_a_straightedge_may_be_measured_in_any_unit() -> None:
    # 9 mm over 0.9 m, as 9 over 900 in millimetres
    assert toe_angle(0.459, 0.45, 0.9) == pytest.approx(math.asin(0.01))
    assert toe_angle(459, 450, 900) == pytest.approx(math.asin(0.01))
    with pytest.raises(ValueError, match="straightedge"):
        toe_angle(1, 1, 0)
