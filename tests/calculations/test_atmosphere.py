"""Dew point against worked values, a coating chart, and a general psychrometrics library; hours across a change of clocks."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone, tzinfo

import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jurystrut.calculations.atmosphere import dew_point, dew_point_margin, hours_between, relative_humidity


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(
    ("air", "humidity", "dew"),
    [
        (20, 0.50, 9.26),
        (25, 0.60, 16.70),
        (10, 0.80, 6.71),
        (10, 0.90, 8.43),
        (30, 0.70, 23.93),
        (16, 0.71, 10.74),
        (0, 1.00, 0.00),
        (celsius(70), 0.65, celsius(57.70)),
    ],
)
def test_worked_values(air: float, humidity: float, dew: float) -> None:
    # Worked from the published constants, which other published sets match within 0.03 degC.
    assert dew_point(air, humidity) == pytest.approx(dew, abs=0.05)


def test_a_coating_chart_seen_in_a_copy() -> None:
    # 16 degC and 71 %: dew point about 11 degC in whole degrees; a surface at 13 degC is about 2 above it, short of 3.
    assert round(dew_point(16, 0.71)) == 11
    assert round(dew_point_margin(13, 16, 0.71)) == 2
    assert dew_point_margin(13, 16, 0.71) < 3


def test_the_margin_is_negative_where_dew_forms() -> None:
    assert dew_point_margin(5, 20, 0.5) == pytest.approx(5 - 9.26, abs=0.05)


def test_a_psychrometrics_library_agrees_above_freezing() -> None:
    # Below freezing psychrolib gives the frost point, another quantity; so the grid keeps dew points above 0 degC.
    psychrolib.SetUnitSystem(psychrolib.SI)
    apart, in_a_workshop = [], []
    for air in range(1, 51):
        for percent in range(5, 101, 5):
            expected = psychrolib.GetTDewPointFromRelHum(air, percent / 100)
            if expected > 0:
                apart.append(abs(dew_point(air, percent / 100) - expected))
                in_a_workshop += apart[-1:] if air <= 40 else []
    assert len(in_a_workshop) > 500
    assert max(in_a_workshop) < 0.03
    assert max(apart) < 0.06  # reached at 50 degC, the end of the formula's range


@given(st.floats(-40, 50), st.floats(0.05, 1))
def test_humidity_and_dew_point_undo_each_other(air: float, humidity: float) -> None:
    try:
        dew = dew_point(air, humidity)
    except ValueError:
        assert air < -5  # only there does air of 5 % or more have a dew point below -40 degC
        return
    assert dew <= air
    assert relative_humidity(air, dew) == pytest.approx(humidity, rel=1e-9)


@given(st.floats(-40, 50))
def test_saturated_air_is_at_its_dew_point(air: float) -> None:
    assert dew_point(air, 1.0) == air


@pytest.mark.parametrize("air", [-40.1, 50.1, float("nan"), float("inf")])
def test_temperatures_that_the_formula_does_not_cover_are_refused(air: float) -> None:
    with pytest.raises(ValueError, match="holds from -40 to 50 degC"):
        dew_point(air, 0.5)
    with pytest.raises(ValueError, match="holds from -40 to 50 degC"):
        relative_humidity(air, 0)


def test_a_dew_point_that_the_formula_does_not_cover_is_refused() -> None:
    with pytest.raises(ValueError, match="result holds from -40"):
        dew_point(-30, 0.05)


@pytest.mark.parametrize("humidity", [0.0, -0.1, 1.001, 65.0, float("nan")])
def test_impossible_humidities_are_refused(humidity: float) -> None:
    with pytest.raises(ValueError, match="relative humidity"):
        dew_point(20, humidity)


def test_a_dew_point_above_the_air_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot lie above"):
        relative_humidity(20, 20.1)


class Summer(tzinfo):
    """A zone that puts its clocks forward one hour at 02:00 on 29 March 2026."""

    def utcoffset(self, when: datetime | None) -> timedelta:
        return timedelta(hours=2 if when and when.replace(tzinfo=None) >= datetime(2026, 3, 29, 2) else 1)  # noqa: DTZ001

    def dst(self, when: datetime | None) -> timedelta:
        return self.utcoffset(when) - timedelta(hours=1)

    def tzname(self, when: datetime | None) -> str:
        return str(self.utcoffset(when))


def test_hours_between_plain_times() -> None:
    start, end = datetime(2026, 5, 1, 9, 30), datetime(2026, 5, 2, 11, 0)  # noqa: DTZ001
    assert hours_between(start, end) == 25.5
    assert hours_between(end, start) == -25.5


def test_hours_across_a_change_of_clocks() -> None:
    # By the clock 22:00 to 06:00 is eight hours; one of them was skipped.
    zone = Summer()
    assert hours_between(datetime(2026, 3, 28, 22, tzinfo=zone), datetime(2026, 3, 29, 6, tzinfo=zone)) == 7


def test_hours_between_zones() -> None:
    west = timezone(timedelta(hours=-6))
    assert hours_between(datetime(2026, 5, 1, 12, tzinfo=UTC), datetime(2026, 5, 1, 12, tzinfo=west)) == 6


def test_a_time_with_a_zone_and_one_without_are_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        hours_between(datetime(2026, 5, 1, tzinfo=UTC), datetime(2026, 5, 1))  # noqa: DTZ001


def test_a_humidity_that_is_none_is_told_in_percent() -> None:
    with pytest.raises(ValueError, match="not at 120 %"):
        dew_point(20, 1.2)
