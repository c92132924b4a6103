"""Fields of wires, against the textbook's closed forms and against numerical integration by scipy."""

from __future__ import annotations

import math
import random

import pytest
from scipy import integrate

from jurystrut.calculations.magnetism import VACUUM_PERMEABILITY, Vector, deviation, field_of_path, field_of_segment


def by_integration(start: Vector, end: Vector, current: float, place: Vector) -> Vector:
    """Biot and Savart: mu0 I / 4 pi times the integral of dl x r / r3, one axis at a time."""
    along = [b - a for a, b in zip(start, end, strict=True)]

    def part(share: float, axis: int) -> float:
        r = [p - a - share * d for p, a, d in zip(place, start, along, strict=True)]
        one, other = (axis + 1) % 3, (axis + 2) % 3
        return (along[one] * r[other] - along[other] * r[one]) / math.hypot(*r) ** 3

    factor = VACUUM_PERMEABILITY * current / (4 * math.pi)
    x, y, z = (factor * integrate.quad(part, 0, 1, args=(axis,), limit=200)[0] for axis in range(3))
    return x, y, z


def test_random_pieces_agree_with_numerical_integration() -> None:
    chance = random.Random(2)
    for _ in range(100):
        start, end, place = ((chance.uniform(-1, 1), chance.uniform(-1, 1), chance.uniform(-1, 1)) for _ in range(3))
        expected = by_integration(start, end, 10.0, place)
        assert field_of_segment(start, end, 10.0, place) == pytest.approx(expected, rel=1e-6, abs=1e-12)


def test_a_very_long_wire() -> None:
    # mu0 I / 2 pi d: 40 A at 0.3 m make 26.67 uT, a figure of any textbook's formula
    field = field_of_segment((0, 0, -1e4), (0, 0, 1e4), 40, (0.3, 0, 0))
    assert field == pytest.approx((0, 26.667e-6, 0), rel=1e-4)


def test_the_middle_of_a_square_loop() -> None:
    # 2 sqrt 2 mu0 I / pi a
    loop: list[Vector] = [(0, 0, 0), (1, 0, 0), (1, 1, 0), (0, 1, 0), (0, 0, 0)]
    expected = 2 * math.sqrt(2) * VACUUM_PERMEABILITY * 3 / math.pi
    assert field_of_path(loop, 3, (0.5, 0.5, 0)) == pytest.approx((0, 0, expected))


def test_there_and_back_along_one_path_makes_no_field() -> None:
    path: list[Vector] = [(0, 0, 0), (1, 0.3, 0), (2, 0, 1)]
    assert field_of_path([*path, *path[-2::-1]], 20, (0.2, 0.5, 0.1)) == pytest.approx((0, 0, 0), abs=1e-18)


def test_in_line_with_a_wire_there_is_no_field() -> None:
    assert field_of_segment((0, 0, 0), (1, 0, 0), 5, (2, 0, 0)) == pytest.approx((0, 0, 0))


def test_a_place_on_the_wire_is_refused() -> None:
    with pytest.raises(ValueError, match="on the wire"):
        field_of_segment((0, 0, 0), (1, 0, 0), 5, (0.5, 0, 0))


@pytest.mark.parametrize(("field", "degrees"), [(0, 0), (10, 30), (20, 90), (40, 90)])
def test_the_needle_turns_most_where_the_field_stands_square_to_where_it_points(field: float, degrees: float) -> None:
    assert math.degrees(deviation(field, 20)) == pytest.approx(degrees)
    if field < 20:
        headings = (math.radians(step / 10) for step in range(3600))
        turns = (math.atan2(field * math.sin(h), 20 + field * math.cos(h)) for h in headings)
        assert math.degrees(max(turns)) == pytest.approx(degrees, abs=0.01)


def test_close_to_a_long_wire_is_not_on_it() -> None:
    # mu0 I / 2 pi d at a tenth of a millimetre from the middle of a kilometre: 1 A makes 2 mT.
    field = field_of_segment((0, 0, -500), (0, 0, 500), 1, (1e-4, 0, 0))
    assert field == pytest.approx((0, 2e-3, 0), rel=5e-3)  # what rounding leaves so close to it


def test_a_path_without_length_makes_no_field() -> None:
    assert field_of_path([(1, 1, 1), (1, 1, 1)], 20, (0, 0, 0)) == (0, 0, 0)
    assert field_of_path([(1, 1, 1)], 20, (0, 0, 0)) == (0, 0, 0)
