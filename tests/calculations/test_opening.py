"""Opening times, the heat let through, and k of IEC 60949 against the rows of IEC 60364-4-43."""

from __future__ import annotations

import math

import pytest

from jurystrut.calculations.opening import OpeningTimes, TimeRow, adiabatic_factor

FUSE = OpeningTimes(
    (
        TimeRow(110, 360000, None),
        TimeRow(135, 0.75, 600),
        TimeRow(160, 0.25, 50),
        TimeRow(200, 0.15, 5),
        TimeRow(350, 0.04, 0.5),
        TimeRow(600, None, 0.1),
    )
)


# IEC 60364-4-43 table 43A (from memory): 115, 103, 143 and 141; the computed 79.0 and 108.7 for 150 degC wire.
@pytest.mark.parametrize(
    ("start", "end", "k", "within"),
    [
        (70, 160, 115, 0.5),
        (70, 140, 103, 0.5),
        (90, 250, 143, 0.5),
        (60, 200, 141, 0.5),
        (150, 200, 79, 0.05),
        (150, 250, 108.7, 0.05),
    ],
)
def test_adiabatic_factor(start: float, end: float, k: float, within: float) -> None:
    assert adiabatic_factor(start, end) == pytest.approx(k, abs=within)


@pytest.mark.parametrize(
    ("percent", "earliest", "latest"),
    [
        (100, 360000, math.inf),
        (110, 360000, math.inf),
        (111, 0.75, math.inf),
        (135, 0.75, 600),
        (199, 0.15, 50),
        (200, 0.15, 5),
        (201, 0.04, 5),
        (600, 0.0, 0.1),
        (5000, 0.0, 0.1),
    ],
)
def test_between_rows_the_safe_one_is_taken(percent: float, earliest: float, latest: float) -> None:
    assert FUSE.earliest(percent) == earliest
    assert FUSE.latest(percent) == latest


def test_the_most_heat_passes_at_the_longest_short_overload() -> None:
    # 5 A: (10 A)^2 x 5 s = 500; (17.5 A)^2 x 0.5 s = 153; (30 A)^2 x 0.1 s = 90 A2s.
    heat, row = FUSE.heat(5, 5.0)
    assert heat == pytest.approx(500)
    assert row.percent == 200


def test_a_third_of_the_rating_opens_first() -> None:
    # 5 A behind 15 A. 8 A are 53 % of 15 A, 10 A 67 %, 17.5 A 117 %: next row 135 %, 0.75 s; 30 A 200 %: 0.15 s.
    assert list(FUSE.opens_before(5, FUSE, 15)) == [
        (8, 50, 360000),
        (10, 5, 360000),
        (17.5, 0.5, 0.75),
        (30, 0.1, 0.15),
    ]


def test_a_row_just_above_the_others_overload_is_the_one_that_counts() -> None:
    # 5 A behind 7.4 A: 10 A are 135.1 % of it, beyond the row of 135 %, and so open in 0.25 s at the earliest.
    assert list(FUSE.opens_before(5, FUSE, 7.4)) == [(8, 50, 360000), (10, 5, 0.25), (17.5, 0.5, 0.04), (30, 0.1, 0.0)]


@pytest.mark.parametrize(("most", "rows"), [(59.9, 1), (60.0, 0), (600.0, 0)])
def test_what_may_take_a_minute_is_no_fault(most: float, rows: int) -> None:
    slow = OpeningTimes((TimeRow(135, 0.75, most),))
    assert len(list(slow.opens_before(5, FUSE, 15))) == rows
