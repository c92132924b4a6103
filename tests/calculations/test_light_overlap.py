"""14 CFR 23.1387 (25.1387 was read, the same): L and R 110 degrees from dead ahead, A 70 either side of aft."""

from __future__ import annotations

import pytest

from jurystrut.calculations.light_overlap import from_ahead, overlap


@pytest.mark.parametrize(
    ("light", "bearing", "past", "within"),
    [
        ("right", 0.0, 0.0, "forward"),
        ("right", 110.0, 0.0, "forward"),
        ("right", 125.0, 15.0, "rear"),
        ("right", 345.0, 15.0, "forward"),
        ("right", -15.0, 15.0, "forward"),
        ("right", 270.0, 90.0, "forward"),
        ("left", 0.0, 0.0, "forward"),
        ("left", 360.0, 0.0, "forward"),
        ("left", 15.0, 15.0, "forward"),
        ("left", 250.0, 0.0, "forward"),
        ("left", 235.0, 15.0, "rear"),
        ("rear", 180.0, 0.0, "rear"),
        ("rear", 110.0, 0.0, "rear"),
        ("rear", 250.0, 0.0, "rear"),
        ("rear", 95.0, 15.0, "forward"),
        ("rear", 265.0, 15.0, "forward"),
        ("rear", 0.0, 110.0, "forward"),
    ],
)
def test_overlap(light: str, bearing: float, past: float, within: str) -> None:
    found = overlap(light, bearing)  # type: ignore[arg-type]
    assert found.past == pytest.approx(past)
    assert found.within == within


def test_every_direction_is_in_the_angle_of_a_light() -> None:
    """The three angles close the circle: 110 + 110 + 140 = 360."""
    for bearing in range(360):
        assert any(overlap(light, float(bearing)).past == 0.0 for light in ("left", "right", "rear"))


def test_from_ahead_is_the_same_on_both_sides() -> None:
    for bearing in range(181):
        assert from_ahead(float(bearing)) == from_ahead(float(-bearing)) == bearing
