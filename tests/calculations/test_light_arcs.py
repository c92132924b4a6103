"""Sectors of light, with the angles of old 14 CFR 23.1387: 110 degrees left, 110 right, 140 behind.

Those three numbers are from memory for part 23; 25.1387, which was read, gives the same.
"""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jurystrut.calculations.light_arcs import Sector, uncovered, width

LEFT, RIGHT, TAIL, ALL_ROUND = (250.0, 360.0), (0.0, 110.0), (110.0, 250.0), (0.0, 360.0)


def test_the_three_arcs_make_a_full_circle_without_overlap() -> None:
    assert width([LEFT]) == 110
    assert width([RIGHT]) == 110
    assert width([TAIL]) == 140
    assert uncovered(ALL_ROUND, [LEFT, RIGHT, TAIL]) == ()
    assert uncovered(LEFT, [RIGHT, TAIL]) == (LEFT,)


CASES: list[tuple[str, Sector, list[Sector], list[Sector], tuple[Sector, ...]]] = [
    ("exactly lit", RIGHT, [(0, 110)], [], ()),
    ("the left one written from the nose backwards", LEFT, [(-110, 0)], [], ()),
    ("lit over the nose", LEFT, [(240, 20)], [], ()),
    ("20 degrees short behind", RIGHT, [(350, 90)], [], ((90, 110),)),
    ("a gap between two lights of one function", RIGHT, [(0, 40), (60, 110)], [], ((40, 60),)),
    ("lights that overlap", RIGHT, [(0, 80), (60, 110)], [], ()),
    ("nothing lit", TAIL, [], [], ((110, 250),)),
    ("rudder in the middle of the tail light's arc", TAIL, [(110, 250)], [(175, 185)], ((175, 185),)),
    ("hidden beside the arc only", TAIL, [(110, 250)], [(80, 110), (250, 300)], ()),
    ("a hidden part next to an unlit one is one", RIGHT, [(0, 100)], [(90, 100)], ((90, 110),)),
    ("hidden across the nose", LEFT, [(250, 360)], [(355, 5)], ((355, 360),)),
    ("two hidden parts", RIGHT, [(0, 110)], [(10, 20), (30, 45)], ((10, 20), (30, 45))),
    ("all round from one light", ALL_ROUND, [(0, 360)], [], ()),
    ("all round from two, begun at the tail", ALL_ROUND, [(180, 360), (0, 180)], [], ()),
    ("all round, fin hides ten degrees behind", ALL_ROUND, [(-180, 180)], [(175, 185)], ((175, 185),)),
    ("all round asked from behind, hidden at the nose", (180, 540), [(0, 360)], [(350, 10)], ((350, 370),)),
    ("more than a turn is a turn", RIGHT, [(0, 720)], [], ()),
    ("an empty sector lights nothing", RIGHT, [(40, 40)], [], ((0, 110),)),
    ("an empty sector with its ends swapped by rounding", RIGHT, [(40, 40 - 1e-14)], [], ((0, 110),)),
    ("short by rounding only", RIGHT, [(1e-14, 110 - 1e-13)], [], ()),
    ("short by little", RIGHT, [(0, 109.999)], [], ((109.999, 110),)),
]


@pytest.mark.parametrize(("required", "lit", "blocked", "dark"), [x[1:] for x in CASES], ids=[x[0] for x in CASES])
def test_by_hand(required: Sector, lit: list[Sector], blocked: list[Sector], dark: tuple[Sector, ...]) -> None:
    assert uncovered(required, lit, blocked) == dark


def test_degrees_together() -> None:
    assert width([(40, 60), (350, 370)]) == 40
    assert width([(350, 10)]) == 20
    assert width([(0, 720)]) == 360
    assert width([(40, 40 - 1e-14)]) == 0
    assert width([]) == 0


TENTHS = st.tuples(st.integers(-3600, 3600), st.integers(0, 3600))
"""Start and extent of a sector in tenths of a degree."""
SECTORS = st.lists(TENTHS, max_size=5)


def _sector(start: int, extent: int) -> Sector:
    return start / 10, (start + extent) / 10


def _reached(sectors: list[tuple[int, int]]) -> set[int]:
    """Which of the 3600 tenths of a degree round the compass some sectors reach."""
    return {(start + step) % 3600 for start, extent in sectors for step in range(extent)}


@given(TENTHS, SECTORS, SECTORS)
def test_against_counting_every_tenth_of_a_degree(
    required: tuple[int, int], lit: list[tuple[int, int]], blocked: list[tuple[int, int]]
) -> None:
    expected = _reached([required]) - (_reached(lit) - _reached(blocked))
    dark = uncovered(_sector(*required), [_sector(*one) for one in lit], [_sector(*one) for one in blocked])
    found = [(round(low * 10), round((high - low) * 10)) for low, high in dark]
    assert _reached(found) == expected
    assert width(dark) == pytest.approx(len(expected) / 10, abs=1e-6)
    assert all(before[1] < after[0] for before, after in pairwise(dark))
