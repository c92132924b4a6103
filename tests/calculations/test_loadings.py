"""Every possible loading, held against linear programming (scipy's HiGHS) and against trying all of them.

The greatest excess over a straight limit is a fraction of two linear forms, (moment - limit moment) / weight. Charnes and Cooper
(Programming with linear fractional functionals, 1962) turn it into a linear program, which a general library solves.
"""

from __future__ import annotations

import itertools
import random
from typing import TYPE_CHECKING, Any

import numpy
import pytest
from scipy.optimize import linprog

from jurystrut.calculations import loadings
from jurystrut.calculations.balance import Body
from jurystrut.calculations.envelope import Envelope
from jurystrut.calculations.loadings import Place, Side, Worst, border, greatest_most, lightest, worst_loading

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

AIRCRAFT = 2000
PARTS = 16
"""Into so many tests the random aircraft are divided, each quick enough to be held against every mutant."""
TABLE_ENVELOPE = ((1500, 35.0), (1950, 35.0), (2300, 38.5), (2300, 47.3), (1500, 47.3))
"""A polygon of our own; between 1,950 and 2,300 lb its forward limit slopes."""


def random_places(chance: random.Random, most_places: int, choices: int) -> list[Place]:
    places = []
    for number in range(chance.randint(1, most_places)):
        least = chance.choice([0.0, chance.uniform(0, 120)])
        most = least + chance.choice([0.0, chance.uniform(0, 200)])
        places.append(Place(least, most, chance.uniform(-40, 140), f"P{number}", number < choices))
    return places


def random_envelope(chance: random.Random, joined_in: str) -> Envelope:
    """Four to six corners with sloping limits, around the weights and arms of the random aircraft."""
    low, high = chance.uniform(600, 1000), chance.uniform(1100, 1700)
    knees = sorted(chance.uniform(low, high) for _ in range(chance.randint(0, 2)))
    forward = [(w, chance.uniform(-5, 20)) for w in (low, *knees, high)]
    aft = [(high, chance.uniform(25, 50)), (low, chance.uniform(25, 50))]
    return Envelope((*forward, *aft), "arm" if joined_in == "arm" else "moment")


def straight_sides(envelope: Envelope, side: Side) -> Iterator[tuple[float, float, float, float]]:
    """Low weight, high weight, and a limit moment a + bW of each side; corners joined in moment, or limits of one arm."""
    corners = envelope.corners
    for (w1, x1), (w2, x2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        # The corners of these envelopes go up along the forward limit and down along the aft one.
        if w1 != w2 and (w2 > w1) == (side == "forward"):
            slope = (w2 * x2 - w1 * x1) / (w2 - w1)
            yield min(w1, w2), max(w1, w2), w1 * x1 - slope * w1, slope


def by_linear_programming(
    empty: Body, bounds: Sequence[tuple[float, float, float]], envelope: Envelope, gross: float, side: Side
) -> float | None:
    """Greatest excess in arm over one side, places given as (least, most, arm): one linear program a straight part."""
    sign = 1 if side == "aft" else -1
    least, most, arm = (numpy.array(column, dtype=float) for column in zip(*bounds, strict=True))
    count = len(bounds)
    best = None
    for low, high, a, b in straight_sides(envelope, side):
        if low > gross:
            continue
        # y = x t, t = 1 / W; W t = 1; least t <= y <= most t; low t <= 1 <= high t.
        objective = numpy.append(-sign * (arm - b), -sign * (empty.moment - a - b * empty.weight))
        above = numpy.hstack([numpy.eye(count), -most[:, None]])
        below = numpy.hstack([-numpy.eye(count), least[:, None]])
        weights = numpy.append(numpy.zeros(count), 1.0)
        rows = numpy.vstack([above, below, low * weights, -min(high, gross) * weights])
        right = numpy.concatenate([numpy.zeros(2 * count), [1.0], [-1.0]])
        solved: Any = linprog(
            objective,
            A_ub=rows,
            b_ub=right,
            A_eq=[numpy.append(numpy.ones(count), empty.weight)],
            b_eq=[1.0],
            bounds=[(None, None)] * count + [(0, None)],
        )
        assert solved.status in {0, 2}, solved.message  # solved, or no loading has such a weight
        if solved.status == 0 and (best is None or -solved.fun > best):
            best = -solved.fun
    return best


def each_way(places: Sequence[Place]) -> Iterator[list[tuple[float, float, float]]]:
    """Every choice of which places stay empty."""
    ways = [
        [(0.0, 0.0, p.arm), (p.least, p.most, p.arm)] if p.may_be_empty else [(p.least, p.most, p.arm)] for p in places
    ]
    yield from (list(way) for way in itertools.product(*ways))


def is_possible(worst: Worst, empty: Body, places: Sequence[Place], gross: float) -> None:
    """The loading told of can be had, and weighs and balances as told."""
    by_name = {place.name: place for place in places}
    assert worst.loads.__len__() == len(places)
    assert all(by_name[name].holds(load) for name, load in worst.loads)
    weight = empty.weight + sum(load for _, load in worst.loads)
    moment = empty.moment + sum(load * by_name[name].arm for name, load in worst.loads)
    assert weight <= gross * (1 + 1e-9)
    assert worst.weight == pytest.approx(weight, rel=1e-9)
    assert worst.arm * weight == pytest.approx(moment, rel=1e-8, abs=1e-5)


@pytest.mark.parametrize("seed", range(PARTS))
def test_agrees_with_linear_programming(seed: int) -> None:
    chance = random.Random(seed)
    compared = outside = 0
    for _ in range(AIRCRAFT // PARTS):
        empty = Body(chance.uniform(500, 900), chance.uniform(5, 30))
        places = random_places(chance, 6, choices=chance.choice([0, 0, 1, 2]))
        envelope, gross = random_envelope(chance, "moment"), chance.uniform(800, 1600)
        side: Side = chance.choice(["forward", "aft"])
        ours = worst_loading(empty, places, envelope, gross, side)
        theirs = [by_linear_programming(empty, way, envelope, gross, side) for way in each_way(places)]
        known = [value for value in theirs if value is not None]
        assert (ours is None) == (not known)
        if ours is not None:
            assert ours.exact
            assert ours.excess == pytest.approx(max(known), rel=1e-7, abs=1e-7)
            is_possible(ours, empty, places, gross)
            compared += 1
            outside += ours.excess > 0
    assert compared > AIRCRAFT // PARTS // 2
    assert 0 < outside < compared


@pytest.mark.parametrize("seed", range(PARTS))
@pytest.mark.parametrize("side", ["forward", "aft"])
def test_agrees_with_trying_all_loadings_where_limits_are_curved(side: Side, seed: int) -> None:
    """Corners joined in arm: no linear form. Trying loadings finds none worse, and the one told of is possible."""
    chance = random.Random(f"{side} {seed}")
    for _ in range(320 // PARTS):
        empty = Body(chance.uniform(500, 900), chance.uniform(5, 30))
        places = random_places(chance, 4, choices=1)
        envelope, gross = random_envelope(chance, "arm"), chance.uniform(900, 1600)
        ours = worst_loading(empty, places, envelope, gross, side)
        tried = [
            excess
            for way in each_way(places)
            for loads in itertools.product(*(numpy.linspace(low, high, 7) for low, high, _ in way))
            for excess in tried_excess(empty, loads, places, envelope, gross, side)
        ]
        if ours is None:
            assert not tried
            continue
        assert max(tried, default=ours.excess) <= ours.excess + 1e-9
        is_possible(ours, empty, places, gross)
        forward, aft = envelope.limits_at(min(ours.weight, envelope.heaviest))[0]
        excess = ours.arm - aft if side == "aft" else forward - ours.arm
        assert excess == pytest.approx(ours.excess, abs=1e-8)
        assert ours.limit == pytest.approx(aft if side == "aft" else forward, abs=1e-8)


@pytest.mark.parametrize(("side", "arm"), [("aft", 40.0), ("forward", -20.0)])
def test_beyond_a_sloping_limit_the_worst_load_may_be_neither_the_least_nor_the_most(side: Side, arm: float) -> None:
    """Worked by hand. 1,000 lb at 10 in, and P lb at 40 in: at weight w the arm is 40 - 30,000 / w, against an aft limit of
    w / 48 - 10.5. The excess 50.5 - 30,000 / w - w / 48 turns where w^2 = 48 x 30,000: at 1,200 lb, 0.5 in beyond; at 1,000
    and at 1,400 lb it is inside. The other side is its mirror image about 10 in.
    """
    behind = ((900, 8.25), (1500, 20.75), (1500, -40.0), (900, -40.0))
    corners = behind if side == "aft" else tuple((weight, 20 - place) for weight, place in behind)
    found = worst_loading(Body(1000, 10), [Place(0, 400, arm, "P")], Envelope(corners, "arm"), 1500, side)
    assert found is not None
    assert found.excess == pytest.approx(0.5)
    assert found.weight == pytest.approx(1200)
    assert dict(found.loads) == {"P": pytest.approx(200)}


def tried_excess(
    empty: Body, loads: Sequence[float], places: Sequence[Place], envelope: Envelope, gross: float, side: Side
) -> Iterator[float]:
    weight = empty.weight + sum(loads)
    limits = envelope.limits_at(weight)
    if weight <= gross and limits:
        arm = (empty.moment + sum(p.arm * load for p, load in zip(places, loads, strict=True))) / weight
        yield arm - limits[-1][1] if side == "aft" else limits[0][0] - arm


@pytest.mark.parametrize("seed", range(PARTS))
def test_agrees_with_trying_all_yes_and_no(seed: int) -> None:
    """Items carried whole or not at all: all 2^9 ways tried, at weights that the envelope covers."""
    chance = random.Random(seed)
    for _ in range(200 // PARTS):
        empty = Body(chance.uniform(700, 900), chance.uniform(10, 25))
        items = [
            Place(w, w, chance.uniform(-30, 120), f"I{i}", may_be_empty=True)
            for i, w in enumerate(chance.uniform(5, 90) for _ in range(9))
        ]
        envelope, gross = random_envelope(chance, "arm"), chance.uniform(950, 1300)
        ways = list(itertools.product(*((0.0, item.most) for item in items)))
        for side in ("forward", "aft"):
            tried = [e for loads in ways for e in tried_excess(empty, loads, items, envelope, gross, side)]
            ours = worst_loading(empty, items, envelope, gross, side)
            assert (ours is None) == (not tried)
            if ours is not None:
                assert ours.exact
                assert ours.excess == pytest.approx(max(tried), abs=1e-9)


# Below 1,000 lb one range, 10 to 20 in; above, a notch between 13 and 17 in, as deep as 1,200 lb.
NOTCHED = Envelope(
    ((800, 10.0), (1200, 10.0), (1200, 13.0), (1000, 15.0), (1200, 17.0), (1200, 20.0), (800, 20.0)), "arm"
)


def test_a_notch_is_found_between_two_ranges() -> None:
    # 800 lb at 15 in, and up to 400 lb at 15 in: at 1,200 lb it stands in the middle of the notch, 2 in from either side.
    found = worst_loading(Body(800, 15), [Place(0, 400, 15, "P")], NOTCHED, 1200, "gap")
    assert found is not None
    assert found.excess == pytest.approx(2)
    assert found.weight == pytest.approx(1200)
    assert dict(found.loads) == {"P": pytest.approx(400)}
    # 900 lb is below the notch.
    assert worst_loading(Body(800, 15), [Place(0, 100, 15, "P")], NOTCHED, 1200, "gap") is None


def test_a_notch_is_passed_by_on_one_side_of_it() -> None:
    # 150 lb either ahead or not at all: 1,150 lb at 11.0 in, left of the notch, which begins at 13.5 in there.
    assert worst_loading(Body(1000, 12), [Place(150, 150, 4.333, "P", may_be_empty=True)], NOTCHED, 1200, "gap") is None


@pytest.mark.parametrize("seed", range(PARTS // 2))
def test_in_a_notch_agrees_with_trying_all_loadings(seed: int) -> None:
    chance = random.Random(seed)
    found = 0
    for _ in range(640 // PARTS):
        empty = Body(chance.uniform(800, 1100), chance.uniform(11, 19))
        places = random_places(chance, 3, choices=1)
        ours = worst_loading(empty, places, NOTCHED, 1200, "gap")
        tried = [0.0]
        for way in each_way(places):
            for loads in itertools.product(*(numpy.linspace(low, high, 9) for low, high, _ in way)):
                weight = empty.weight + sum(loads)
                limits = NOTCHED.limits_at(weight)
                arm = (empty.moment + sum(p.arm * load for p, load in zip(places, loads, strict=True))) / weight
                if weight <= 1200 and len(limits) == 2:
                    tried.append(min(arm - limits[0][1], limits[1][0] - arm))
        assert max(tried) <= (ours.excess if ours else 0.0) + 1e-9
        if ours is not None:
            is_possible(ours, empty, places, 1200)
            (_, ahead), (behind, _) = NOTCHED.limits_at(min(ours.weight, 1200))
            assert min(ours.arm - ahead, behind - ours.arm) == pytest.approx(ours.excess, abs=1e-7)
            found += 1
    assert found


@pytest.mark.parametrize(("joined_in", "excess"), [("arm", -0.05), ("moment", 36.8941176470588 - 36.8)])
def test_how_corners_are_joined_decides(joined_in: Any, excess: float) -> None:
    """36.8 in at 2,125 lb lies inside if corners are joined in arm (limit 36.75), outside if in moment (limit 36.894)."""
    found = worst_loading(Body(2125, 36.8), [], Envelope(TABLE_ENVELOPE, joined_in), 2300, "forward")
    assert found is not None
    assert found.excess == pytest.approx(excess, abs=1e-9)


def test_exactly_on_the_limit_is_not_beyond() -> None:
    # 1,000 lb at 10 in; the seat at 40 in brings 1,000 + w to the aft limit 16 in where 10000 + 40 w = 16 (1000 + w): w = 250.
    box = Envelope(((900, 9.0), (1300, 9.0), (1300, 16.0), (900, 16.0)), "arm")
    for most, sign in ((250, 0), (249, -1), (251, 1)):
        found = worst_loading(Body(1000, 10), [Place(0, most, 40, "SEAT")], box, 1300, "aft")
        assert found is not None
        assert (abs(found.excess) < 1e-9) if sign == 0 else (found.excess * sign > 0)


def test_no_loading_below_gross_weight_gives_nothing() -> None:
    box = Envelope(((900, 9.0), (1300, 9.0), (1300, 16.0), (900, 16.0)), "arm")
    assert worst_loading(Body(1000, 10), [Place(150, 200, 20, "SEAT")], box, 1100, "aft") is None
    at_gross = worst_loading(Body(1000, 10), [Place(100, 200, 20, "SEAT")], box, 1100, "aft")
    assert at_gross is not None
    assert at_gross.weight == pytest.approx(1100)


def test_the_borders_enclose_every_mixture() -> None:
    chance = random.Random(11)
    empty, places = Body(700, 14), random_places(chance, 6, choices=0)
    ahead, behind = border(empty, places, "forward"), border(empty, places, "aft")
    assert ahead[0] == pytest.approx(behind[0])
    assert ahead[-1] == pytest.approx(behind[-1])
    for _ in range(200):
        loads = [chance.uniform(p.least, p.most) for p in places]
        weight = empty.weight + sum(loads)
        moment = empty.moment + sum(p.arm * load for p, load in zip(places, loads, strict=True))
        assert at_weight(ahead, weight) - 1e-6 <= moment <= at_weight(behind, weight) + 1e-6


def at_weight(line: list[tuple[float, float]], weight: float) -> float:
    weights, moments = zip(*line, strict=True)
    return float(numpy.interp(weight, weights, moments))


def test_the_lightest_loading() -> None:
    places = [Place(120, 220, 21), Place(30, 30, 50, may_be_empty=True)]
    assert lightest(Body(800, 10), places) == Body(920, (8000 + 120 * 21) / 920)


@pytest.mark.parametrize(("limit", "found"), [(37.0, 37.0), (36.94, 36.9), (100.0, 50.0), (9.0, None)])
def test_the_greatest_load_that_will_do_is_rounded_down(limit: float, found: float | None) -> None:
    answer = greatest_most(lambda load: load <= limit, 10, 50, 0.1)
    assert answer == (None if found is None else pytest.approx(found))


@pytest.mark.parametrize(
    ("curve", "zeros"),
    [
        ((6, -5, 1), [2, 3]),  # (W - 2)(W - 3)
        ((-12, 10, -2), [2, 3]),
        ((2, -3, 1), [2]),  # (W - 1)(W - 2): the end itself is looked at anyhow
        ((4, -4, 1), [2, 2]),  # it only touches
        ((-5, 2, 0), [2.5]),
        ((5, 0, 0), []),
        ((5, 0, 1), []),
        ((-9, 2, 0), []),
    ],
)
def test_where_a_curve_is_zero_between_one_and_four(curve: tuple[float, float, float], zeros: list[float]) -> None:
    assert sorted(loadings._roots(curve, 1, 4)) == pytest.approx(zeros)


@pytest.mark.parametrize(
    ("curve", "weights"),
    [
        ((8, 3, 2), [2]),
        ((-8, 3, -2), [2]),
        ((8, 3, -2), []),
        ((-1, 3, 2), []),
        ((8, 3, 0), []),
        ((0, 3, 2), []),
        ((2, 0, 2), []),
        ((32, 0, 2), []),
    ],
)
def test_where_the_arm_of_a_curve_turns_between_one_and_four(
    curve: tuple[float, float, float], weights: list[float]
) -> None:
    # a/W + b + cW has its extreme where -a/W2 + c is zero: at 2 for a = 8 and c = 2, at 1 and at 4 for 2 and 32.
    assert list(loadings._turning(curve, 1, 4)) == pytest.approx(weights)


def test_a_place_holds_what_lies_within_its_bounds_but_for_rounding() -> None:
    place, choice, nothing = Place(10, 20, 5), Place(10, 20, 5, may_be_empty=True), Place(0, 0, 5)
    assert [load for load in (0, 9.9, 10, 15, 20, 20.1) if place.holds(load)] == [10, 15, 20]
    assert [load for load in (0, 1, 9.9, 10, 20) if choice.holds(load)] == [0, 10, 20]
    assert place.holds(20 * (1 + 1e-12))
    assert choice.holds(1e-12)
    assert nothing.holds(1e-12)
    assert not nothing.holds(1e-6)


@pytest.mark.parametrize("most", [1, 2, 3])
def test_a_search_that_is_cut_short_says_so_and_errs_to_the_safe_side(
    most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    box = Envelope(((700, 9.0), (1300, 9.0), (1300, 16.0), (700, 16.0)), "arm")
    items = [
        Place(w, w, arm, f"I{w}", may_be_empty=True) for w, arm in ((70, 40), (90, 60), (110, 20), (50, -30), (60, 90))
    ]
    whole = worst_loading(Body(800, 12), items, box, 1000, "aft")
    assert whole is not None
    assert whole.exact
    monkeypatch.setattr(loadings, "_MOST_SPLITS", most)
    cut = worst_loading(Body(800, 12), items, box, 1000, "aft")
    assert cut is not None
    assert not cut.exact
    assert cut.excess >= whole.excess


def test_two_places_at_one_arm_are_filled_within_their_bounds_in_a_gap() -> None:
    # All arms are 15 in, in the middle of the notch: 400 of the 500 lb that both may hold bring it to 1,200 lb.
    places = [Place(0, 200, 15, "P"), Place(0, 300, 15, "Q")]
    found = worst_loading(Body(800, 15), places, NOTCHED, 1200, "gap")
    assert found is not None
    assert found.excess == pytest.approx(2)
    is_possible(found, Body(800, 15), places, 1200)


@pytest.mark.parametrize(("side", "limit", "excess"), [("forward", 10, 0.5), ("aft", 20, -10.5)])
def test_beside_a_notch_the_outermost_limits_count(side: Side, limit: float, excess: float) -> None:
    # 1,100 lb at 9.5 in, where the notch leaves 10 to 14 and 16 to 20 in.
    found = worst_loading(Body(1100, 9.5), [], NOTCHED, 1200, side)
    assert found is not None
    assert found.limit == pytest.approx(limit)
    assert found.excess == pytest.approx(excess)
