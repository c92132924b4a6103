"""Fuel flow against the worked example of AC 90-89A (from memory, checked by its arithmetic)."""

from __future__ import annotations

import pytest

from jurystrut.calculations.fuel_flow import caught_flow, needed_flow
from jurystrut.quantities import MassPerVolume, Power, SpecificConsumption, Time, Volume, VolumeFlow


def gallons_per_hour(flow: float) -> float:
    return flow / VolumeFlow.parse("1 US gal/h").si


def test_a_hundred_horsepower() -> None:
    # 0.55 lb/hp/h at 100 hp is 55 lb/h; by gravity 150 %, 82.5 lb/h or 13.75 gal/h at 6 lb/gal; by pump 68.75 lb/h or 11.46 gal/h
    need = gallons_per_hour(
        needed_flow(
            Power.parse("100 hp").si,
            SpecificConsumption.parse("0.55 lb/hp/h").si,
            MassPerVolume.parse("6 lb/US gal").si,
        )
    )
    assert need * 6 == pytest.approx(55, rel=1e-9)
    assert need * 1.5 * 6 == pytest.approx(82.5, rel=1e-9)
    assert need * 1.5 == pytest.approx(13.75, rel=1e-9)
    assert need * 1.25 * 6 == pytest.approx(68.75, rel=1e-9)
    assert need * 1.25 == pytest.approx(11.46, abs=0.005)


def test_two_cups_in_38_seconds() -> None:
    # builders' conversion: US cups x 225 / seconds = gal/h; a cup is a sixteenth of a gallon
    flow = caught_flow(Volume.parse("0.125 US gal").si, Time.parse("38 s").si)
    assert gallons_per_hour(flow) == pytest.approx(2 * 225 / 38, rel=1e-9)
    assert gallons_per_hour(flow) == pytest.approx(11.84, abs=0.005)


def test_no_time_is_no_flow() -> None:
    with pytest.raises(ValueError, match="no time"):
        caught_flow(1, 0)


def test_a_flow_caught_within_a_second_counts() -> None:
    assert caught_flow(3.0, 1.0) == pytest.approx(3.0)
    assert caught_flow(3.0, 0.5) == pytest.approx(6.0)
    with pytest.raises(ValueError, match="no time"):
        caught_flow(1, -1)
