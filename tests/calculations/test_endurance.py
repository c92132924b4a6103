"""Peukert's law against arithmetic from its restatements, and the emergency power form of an installation manual."""

from __future__ import annotations

import pytest

from jurystrut.calculations.endurance import endurance, peukert_hours


# Effective ampere-hours of 100 Ah at 20 h with k = 1.1: I x 20 (100 / 20 I)^1.1, worked out independently of this code.
@pytest.mark.parametrize(("amperes", "effective"), [(5, 100.0), (10, 93.3), (20, 87.1), (50, 79.4), (100, 74.1)])
def test_effective_capacity(amperes: float, effective: float) -> None:
    assert amperes * peukert_hours(100, 20, 1.1, amperes) == pytest.approx(effective, abs=0.05)


def test_a_20_hour_capacity_is_not_taken_at_1_ampere() -> None:
    # 100 Ah at 20 h, k 1.2, 10 A: 8.71 h; the common mistake t = C / I^k gives 6.31 h.
    assert peukert_hours(100, 20, 1.2, 10) == pytest.approx(8.71, abs=0.005)


def test_below_the_rated_current_no_more_than_the_capacity_is_credited() -> None:
    assert peukert_hours(20, 20, 1.3, 0.5) == 40
    assert peukert_hours(20, 20, 1.3, 0) == float("inf")


def test_the_worked_form_of_an_installation_manual() -> None:
    # Read in an avionics installation manual: 35 Ah x 0.75; 43.5 A for 5 min, 48.1 A for 10 min, 34.0 A: 25.8 min, 40.8 in all.
    hours = endurance(35 * 0.75, 1, 1.0, [(43.5, 5 / 60), (48.1, 10 / 60)], 34.0)
    assert hours * 60 == pytest.approx(40.8, abs=0.05)


def test_what_comes_before_may_empty_it_already() -> None:
    assert endurance(10, 1, 1.0, [(20, 1.0)], 5) == pytest.approx(0.5)


def test_what_comes_before_may_empty_it_in_its_second_part() -> None:
    # 10 Ah: 5 A take half of it in the first hour, 10 A the other half in half an hour.
    assert endurance(10, 1, 1.0, [(5, 1.0), (10, 1.0)], 1) == pytest.approx(1.5)
