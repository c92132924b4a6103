"""The finished weight against a vector worked by hand, against sampling, and against SciPy's normal distribution."""

from __future__ import annotations

import random
import statistics

import pytest
from scipy.stats import norm

from jurystrut.calculations.finished import Item, chance_above, finished

# 400 lb weighed, 260 from data sheets (5 %), 120 calculated (10 %), 80 estimated (20 %). Growth 13 + 12 + 16 = 41 lb. Standard
# uncertainties 13, 12 and 16 over the square root of 3; together sqrt((169 + 144 + 256) / 3) = 13.772.
PARTS = [Item(400, 10, 0.0, "A"), Item(260, -20, 0.05, "B"), Item(120, 40, 0.10, "C"), Item(80, 60, 0.20, "D")]


def test_the_vector_worked_by_hand() -> None:
    found = finished(PARTS)
    assert found.basic == 860
    assert found.predicted == pytest.approx(901)
    assert found.uncertainty == pytest.approx((569 / 3) ** 0.5)
    assert found.band == pytest.approx((873.456, 928.544), abs=1e-3)
    assert (found.least, found.most) == pytest.approx((860, 942))
    assert found.arm == pytest.approx((4000 - 20 * 273 + 40 * 132 + 60 * 96) / 901)
    assert [name for name, _ in found.largest] == ["D", "B", "C"]
    assert sum(share for _, share in found.largest) == pytest.approx(1)
    assert found.largest[0][1] == pytest.approx(256 / 569)


def test_the_band_agrees_with_sampling() -> None:
    """Each part uniform between its weight and its weight with twice its growth, 20,000 times."""
    chance = random.Random(1)
    weights, arms = [], []
    for _ in range(20_000):
        drawn = [(chance.uniform(p.basic, p.basic * (1 + 2 * p.share)), p.arm) for p in PARTS]
        weights.append(sum(w for w, _ in drawn))
        arms.append(sum(w * x for w, x in drawn) / weights[-1])
    found = finished(PARTS)
    assert found.predicted == pytest.approx(statistics.fmean(weights), abs=0.5)
    assert found.uncertainty == pytest.approx(statistics.stdev(weights), rel=0.03)
    assert found.arm_uncertainty == pytest.approx(statistics.stdev(arms), rel=0.03)
    assert found.least <= min(weights)
    assert max(weights) <= found.most


def test_what_was_on_scales_has_their_spread_and_only_the_rest_grows() -> None:
    found = finished([Item(800, 10, spread=0.9, name="scales"), Item(0, 60, 0.2, "PAINT", grows=5.0)])
    assert found.predicted == pytest.approx(801)
    assert found.uncertainty == pytest.approx((0.81 + 1 / 3) ** 0.5)
    assert (found.least, found.most) == pytest.approx((800 - 1.8, 800 + 1.8 + 2))


def test_the_uncertainty_of_a_measured_arm_is_carried() -> None:
    # 900 of 1,000 lb uncertain by 0.1 in: 0.09 in of the whole.
    found = finished([Item(900, 10, arm_spread=0.1), Item(100, 20)])
    assert found.arm_uncertainty == pytest.approx(0.09)


def test_nothing_uncertain_has_no_band() -> None:
    found = finished([Item(400, 10, name="A")])
    assert (found.uncertainty, found.band, found.largest) == (0, (400, 400), ())
    with pytest.raises(ValueError, match="weighs nothing"):
        finished([])


@pytest.mark.parametrize(("limit", "expected", "spread"), [(1320, 1300, 12.5), (1320, 1320, 3), (1320, 1400, 20)])
def test_the_likelihood_agrees_with_scipy(limit: float, expected: float, spread: float) -> None:
    assert chance_above(limit, expected, spread) == pytest.approx(norm.sf(limit, expected, spread))


@pytest.mark.parametrize(("expected", "chance"), [(1319, 0), (1320, 0), (1321, 1)])
def test_without_uncertainty_it_is_yes_or_no(expected: float, chance: float) -> None:
    assert chance_above(1320, expected, 0) == chance
