"""Solid angles of what stays dark, against the sphere, the cone and the lune of any handbook of geometry."""

from __future__ import annotations

import math
import random

import pytest

from jurystrut.calculations.solid_angles import Beam, Shadow, dark_solid_angle

ALL_ROUND = (0.0, 360.0)


def dark(*beams: Beam, low: float = -90.0, high: float = 90.0) -> float:
    return dark_solid_angle(ALL_ROUND, low, high, beams)


def test_the_whole_sphere_is_four_pi() -> None:
    assert dark() == pytest.approx(4 * math.pi)
    assert dark(Beam((ALL_ROUND,))) == 0.0


def test_a_lune_is_twice_its_angle() -> None:
    """The lune between two meridians an angle a apart covers 2a of the unit sphere."""
    assert dark(Beam(((0.0, 300.0),))) == pytest.approx(2 * math.radians(60))


@pytest.mark.parametrize("half", [5.0, 30.0, 60.0, 90.0])
def test_a_cone_about_the_vertical(half: float) -> None:
    """A cone with a half-angle a about its axis holds 2 pi (1 - cos a)."""
    shadow = Shadow(ALL_ROUND, 90.0 - half, 90.0)
    assert dark(Beam((ALL_ROUND,), (shadow,))) == pytest.approx(2 * math.pi * (1 - math.cos(math.radians(half))))


def test_one_beam_fills_the_shadow_of_another() -> None:
    hidden = Beam((ALL_ROUND,), (Shadow((100.0, 140.0), -20.0, 90.0),))
    low = Beam(((90.0, 150.0),), (Shadow((90.0, 150.0), 10.0, 90.0),))
    both = math.radians(40) * (1 - math.sin(math.radians(10)))
    assert dark(hidden, low) == pytest.approx(both)


def test_random_shadows_against_points_thrown_at_the_sphere() -> None:
    """The share of a hundred thousand even points that no beam reaches; its error is below 0.005 of 4 pi at 3 sigma."""
    chance = random.Random(3)
    for _ in range(3):
        beams = [
            Beam(
                ((start := chance.uniform(0, 360), start + chance.uniform(60, 360)),),
                tuple(
                    Shadow(
                        (bearing := chance.uniform(0, 360), bearing + chance.uniform(5, 60)),
                        elevation := chance.uniform(-90, 60),
                        elevation + chance.uniform(5, 30),
                    )
                    for _ in range(3)
                ),
            )
            for _ in range(2)
        ]
        points = [(chance.uniform(0, 360), math.degrees(math.asin(chance.uniform(-1, 1)))) for _ in range(100_000)]
        share = sum(not any(_reaches(beam, *point) for beam in beams) for point in points) / len(points)
        assert dark(*beams) / (4 * math.pi) == pytest.approx(share, abs=0.005)


def _reaches(beam: Beam, bearing: float, elevation: float) -> bool:
    lit = any((bearing - start) % 360 <= end - start for start, end in beam.lit)
    hidden = any(
        (bearing - shadow.sector[0]) % 360 <= shadow.sector[1] - shadow.sector[0]
        and shadow.low <= elevation <= shadow.high
        for shadow in beam.shadows
    )
    return lit and not hidden


def test_a_shadow_hides_from_pole_to_pole_unless_it_is_told_otherwise() -> None:
    whole = dark(Beam((ALL_ROUND,), (Shadow((0.0, 180.0)),)))
    assert whole == pytest.approx(2 * math.pi)
    assert dark(Beam((ALL_ROUND,), (Shadow(ALL_ROUND),)), low=89.5) == pytest.approx(
        2 * math.pi * (1 - math.sin(math.radians(89.5)))
    )
