"""Flashes of several lights, against a count at every degree."""

from __future__ import annotations

import random

from jurystrut.calculations.flash_rates import Flasher, Together, fastest

ALL_ROUND = ((0.0, 360.0),)


def test_by_hand() -> None:
    left, right = Flasher("L", ((180.0, 360.0),), 56, "L"), Flasher("R", ((0.0, 180.0),), 60, "R")
    assert fastest([]) == Together(0.0, 0.0, ())
    assert fastest([left, right]) == Together(60.0, 0.0, ("R",))  # they only touch
    assert fastest([left, Flasher("R", ((350.0, 370.0),), 60, "R")]) == Together(116.0, 350.0, ("L", "R"))


def test_lights_in_step_count_once_at_the_fastest() -> None:
    lights = [Flasher("A", ALL_ROUND, 60, "A"), Flasher("B", ALL_ROUND, 70, "A"), Flasher("C", ALL_ROUND, 50, "C")]
    assert fastest(lights).rate == 120


def test_sectors_of_one_light_that_overlap_count_once() -> None:
    assert fastest([Flasher("A", ((0.0, 100.0), (50.0, 200.0)), 60, "A")]).rate == 60


def test_the_sum_at_every_degree() -> None:
    """Seen from the middle of every degree, as sectors end at whole ones; lights in step are given one rate."""
    chance = random.Random(7)
    for _ in range(100):
        rates = {str(step): chance.randint(1, 120) for step in range(4)}
        steps = [chance.choice(list(rates)) for _ in range(chance.randint(1, 6))]
        lights = [Flasher(str(i), _sectors(chance), rates[step], step) for i, step in enumerate(steps)]
        sums = [
            sum({light.step: light.rate for light in lights if _seen(light, degree + 0.5)}.values())
            for degree in range(360)
        ]
        together = fastest(lights)
        assert together.rate == max(sums)
        assert sums[int(together.bearing)] == max(sums)


def _sectors(chance: random.Random) -> tuple[tuple[float, float], ...]:
    starts = [chance.randint(0, 359) for _ in range(chance.randint(1, 3))]
    return tuple((float(start), float(start + chance.randint(1, 360))) for start in starts)


def _seen(light: Flasher, bearing: float) -> bool:
    return any((bearing - start) % 360 < end - start for start, end in light.sectors)
