"""Weight and balance: what must hold of any aircraft, and what cannot be answered."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jurystrut.calculations.balance import (
    Body,
    Loadable,
    Net,
    ballast_needed,
    extreme,
    level_error,
    loaded,
    percent_of_chord,
    rounded_up,
    shifted,
    total,
    uncertainty,
    weighed,
    weighing_parts,
)

WEIGHTS = st.floats(0.1, 1000)
ARMS = st.floats(-300, 300)
BODIES = st.lists(st.builds(Body, WEIGHTS, ARMS), min_size=1, max_size=8)


@given(BODIES, st.floats(0.01, 100))
def test_scaling_every_weight_keeps_the_centre_of_gravity(bodies: list[Body], factor: float) -> None:
    scaled = total(Body(body.weight * factor, body.arm) for body in bodies)
    assert scaled.arm == pytest.approx(total(bodies).arm, abs=1e-9)
    assert scaled.weight == pytest.approx(total(bodies).weight * factor)


@given(BODIES, st.randoms())
def test_order_changes_nothing(bodies: list[Body], random: object) -> None:
    mixed = list(bodies)
    random.shuffle(mixed)  # type: ignore[attr-defined]
    assert total(mixed) == total(bodies)


@given(BODIES, st.floats(-500, 500))
def test_moving_the_datum_moves_the_centre_of_gravity_by_as_much(bodies: list[Body], by: float) -> None:
    moved = total(Body(body.weight, body.arm + by) for body in bodies)
    assert moved.arm == pytest.approx(total(bodies).arm + by, abs=1e-9)


@given(BODIES)
def test_the_centre_of_gravity_lies_among_the_parts(bodies: list[Body]) -> None:
    arms = [body.arm for body in bodies]
    assert min(arms) - 1e-9 <= total(bodies).arm <= max(arms) + 1e-9


@given(BODIES, BODIES)
def test_taking_off_undoes_putting_on(empty: list[Body], load: list[Body]) -> None:
    back = total([total([*empty, *load]), *(Body(-body.weight, body.arm) for body in load)])
    assert back.weight == pytest.approx(total(empty).weight)
    assert back.moment == pytest.approx(total(empty).moment, abs=1e-5)


@given(BODIES, ARMS, ARMS)
def test_a_shift_is_taking_off_here_and_putting_on_there(bodies: list[Body], start: float, end: float) -> None:
    whole = total(bodies)
    moved = total([whole, Body(-0.05, start), Body(0.05, end)])
    assert shifted(whole, 0.05, start, end).arm == pytest.approx(moved.arm, abs=1e-9)


@given(st.builds(Body, WEIGHTS, ARMS), ARMS, ARMS)
def test_ballast_brings_the_centre_of_gravity_to_the_limit(aircraft: Body, limit: float, beyond: float) -> None:
    side = 1 if limit >= aircraft.arm else -1
    place = limit + side * (abs(beyond) + 1)
    ballast = ballast_needed(aircraft, limit, place)
    assert ballast >= 0
    assert total([aircraft, Body(ballast, place)]).arm == pytest.approx(limit, abs=1e-7)


@pytest.mark.parametrize("place", [33.0, 32.5, 10.0])
def test_ballast_at_the_limit_or_before_it_cannot_help(place: float) -> None:
    with pytest.raises(ValueError, match="cannot bring"):
        ballast_needed(Body(1876, 32.2), 33.0, place)


@pytest.mark.parametrize("parts", [[], [Body(0, 10)], [Body(0.1, 1), Body(0.2, 2), Body(-0.3, 3)]])
def test_no_weight_has_no_centre_of_gravity(parts: list[Body]) -> None:
    with pytest.raises(ValueError, match="no centre of gravity"):
        total(parts)


def test_a_weighing_sheet_line_by_line() -> None:
    wheels = [Net(310, 5, 50, 2, "nose"), Net(410, 8, 10, -1, "left"), Net(405, 8, 10, 0, "right")]
    aboard, missing = [Body(12, 40, "tools")], [Body(7, -20, "propeller")]
    lines = weighing_parts(wheels, aboard, missing)
    # By hand: 310 - 5 - 2 = 303; 410 - 8 + 1 = 403; 405 - 8 = 397.
    assert [(line.name, line.weight) for line in lines] == [
        ("nose", 303),
        ("left", 403),
        ("right", 397),
        ("tools", -12),
        ("propeller", 7),
    ]
    # By hand: 303 + 403 + 397 - 12 + 7 = 1098; 15150 + 4030 + 3970 - 480 - 140 = 22530.
    assert weighed(wheels, aboard, missing) == Body(1098, 22530 / 1098)


def test_fuel_that_is_used_leaves_the_rest() -> None:
    empty, crew, fuel = Body(700, 20), Body(170, 30), Body(100, 40)
    take_off, without_fuel = loaded(empty, [crew], [fuel])
    assert take_off == total([empty, crew, fuel])
    assert without_fuel == total([empty, crew])


@given(st.lists(st.builds(Loadable, st.floats(0, 50), st.floats(50, 200), ARMS), max_size=6), ARMS, st.booleans())
def test_no_other_loading_pushes_harder_against_a_limit(places: list[Loadable], limit: float, aft: bool) -> None:
    fixed = Body(500, 0)
    side = 1 if aft else -1

    def push(body: Body) -> float:
        return side * (body.moment - body.weight * limit)

    worst = push(extreme([fixed], places, limit, aft=aft))
    for choice in range(2 ** len(places)):
        loads = [Body(p.most if choice >> bit & 1 else p.least, p.arm) for bit, p in enumerate(places)]
        assert push(total([fixed, *loads])) <= worst + 1e-6


@given(st.floats(0, 1000), st.sampled_from([0.1, 0.25, 1.0, 5.0]))
def test_rounding_up_is_never_too_little_nor_a_step_too_much(amount: float, step: float) -> None:
    assert amount - 1.1e-6 * step <= rounded_up(amount, step) < amount + step


def test_a_whole_number_of_steps_stays() -> None:
    assert rounded_up(0.1 + 0.2, 0.1) == pytest.approx(0.3)  # 0.30000000000000004


@pytest.mark.parametrize("chord", [0.0, -62.0])
def test_a_chord_of_no_length_is_refused(chord: float) -> None:
    with pytest.raises(ValueError, match="chord"):
        percent_of_chord(161, 144, chord)


def test_uncertainty_of_a_weighing() -> None:
    # Own arithmetic, worked separately: 0.5 lb a scale, 1/8 in an arm, the mains' arm measured once.
    found = uncertainty([Body(830, 128), Body(836, 128), Body(340, 50)], 0.5, 0.125)
    assert found.weight == pytest.approx(0.866025, abs=1e-6)
    assert found.arm_from_scales == pytest.approx(0.016806, abs=1e-6)
    assert found.arm_from_measuring == pytest.approx(0.105953, abs=1e-6)
    assert found.arm == pytest.approx(0.107278, abs=1e-6)


@given(st.lists(st.builds(Body, WEIGHTS, ARMS), min_size=2, max_size=4, unique_by=lambda body: body.arm))
def test_uncertainty_follows_from_small_changes_of_each_reading(wheels: list[Body]) -> None:
    step, found = 1e-4, uncertainty(wheels, 1.0, 1.0)

    def slope(index: int, weight: float, arm: float) -> float:
        ends = []
        for sign in (-1, 1):
            changed = Body(wheels[index].weight + sign * weight, wheels[index].arm + sign * arm)
            ends.append(total([*wheels[:index], changed, *wheels[index + 1 :]]).arm)
        return next(after - before for before, after in pairwise(ends)) / (2 * step)

    by_scale = math.hypot(*(slope(index, step, 0) for index in range(len(wheels))))
    by_arm = math.hypot(*(slope(index, 0, step) for index in range(len(wheels))))
    assert found.arm_from_scales == pytest.approx(by_scale, rel=1e-3, abs=1e-4)
    assert found.arm_from_measuring == pytest.approx(by_arm, rel=1e-3, abs=1e-4)


@pytest.mark.parametrize("degrees", [0.25, 0.5, 1.0, 2.0])
@pytest.mark.parametrize("height", [12.0, 24.0, 36.0])
def test_level_error_against_a_weighing_turned_by_hand(height: float, degrees: float) -> None:
    # The scales share the weight by the level distances of the turned aircraft; the arms used are those measured level.
    tilt = math.radians(degrees)
    nose, main, centre = 0.0, 78.0, 64.0
    level_centre = centre * math.cos(tilt) + height * math.sin(tilt)
    on_mains = (level_centre - nose) / ((main - nose) * math.cos(tilt))
    apparent = nose * (1 - on_mains) + main * on_mains
    assert apparent - centre == pytest.approx(level_error(height, tilt), abs=1e-9)


def test_level_error_of_one_degree_at_two_feet() -> None:
    assert level_error(24, math.radians(1)) == pytest.approx(0.419, abs=0.0005)


def test_a_chord_may_be_given_in_any_unit() -> None:
    # The same place on the same chord in metres: 0.3 m behind the leading edge of 0.8 m, as 300 mm of 800 mm.
    assert percent_of_chord(2.3, 2.0, 0.8) == pytest.approx(37.5)
    assert percent_of_chord(2300, 2000, 800) == pytest.approx(37.5)
    with pytest.raises(ValueError, match="longer than nothing"):
        percent_of_chord(2.3, 2.0, 0.0)


@pytest.mark.parametrize("bodies", [[], [Body(0.0, 3.0)], [Body(5.0, 1.0), Body(-5.0, 2.0)]])
def test_what_weighs_nothing_has_no_centre_of_gravity(bodies: list[Body]) -> None:
    with pytest.raises(ValueError, match="no centre of gravity"):
        total(bodies)
