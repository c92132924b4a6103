"""A chart of three points, by hand."""

from __future__ import annotations

import pytest

from jurystrut.calculations.charts import between_points

CHART = [(100.0, 44.0), (40.0, 36.0), (70.0, 40.0)]


@pytest.mark.parametrize(("at", "value"), [(40, 36), (55, 38), (70, 40), (85, 42), (100, 44)])
def test_a_chart_is_read_straight_between_its_points(at: float, value: float) -> None:
    assert between_points(CHART, at) == pytest.approx(value)


@pytest.mark.parametrize(("points", "at"), [(CHART, 39.9), (CHART, 100.1), ([], 0), ([(1.0, 2.0)], 1.5)])
def test_a_chart_says_nothing_beyond_its_ends(points: list[tuple[float, float]], at: float) -> None:
    with pytest.raises(ValueError, match="does not reach"):
        between_points(points, at)
