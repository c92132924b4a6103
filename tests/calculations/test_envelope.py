"""The envelope's limits: a sloped polygon of our own, the rectangles of two handbooks, and polygons that are none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jurystrut.calculations.envelope import Envelope

SLOPED = ((1500, 35.0), (1950, 35.0), (2300, 38.5), (2300, 47.3), (1500, 47.3))
"""Pounds and inches; our own, as no sloped envelope with its corners was found in a general handbook."""
NOTCHED = (
    (1000, 10.0),
    (2000, 10.0),
    (2000, 20.0),
    (1500, 20.0),
    (1500, 15.0),
    (1200, 15.0),
    (1200, 30.0),
    (1000, 30.0),
)
STEPPED = ((1000, 10.0), (2000, 10.0), (2000, 20.0), (1500, 20.0), (1500, 30.0), (1000, 30.0))
FORKED = ((1000, 0.0), (2000, 0.0), (2000, 4.0), (1200, 5.0), (2000, 6.0), (2000, 10.0), (1000, 10.0))


@pytest.mark.parametrize(
    ("weight", "arm", "in_arm", "in_moment"),
    [
        (1700, 35.0, True, True),  # on the border
        (2125, 36.75, True, False),  # on the border joined in arm
        (2125, 36.8, True, False),  # the limit is 36.750 joined in arm and 36.894 in moment
        (2125, 36.9, True, True),
        (2125, 36.7, False, False),
        (2000, 41.0, True, True),
        (2300.1, 40.0, False, False),
        (2300, 40.0, True, True),
        (1600, 34.99, False, False),
        (1500, 47.3, True, True),  # a corner
        (1499.9, 40.0, False, False),
    ],
)
def test_a_sloped_limit_depends_on_how_corners_are_joined(
    weight: float,
    arm: float,
    in_arm: bool,
    in_moment: bool,
) -> None:
    assert Envelope(SLOPED, "arm").holds(weight, arm) is in_arm
    assert Envelope(SLOPED, "moment").holds(weight, arm) is in_moment


def test_the_limit_itself_differs() -> None:
    # By hand, half way from 1950 to 2300 lb: (35.0 + 38.5) / 2, and (1950 * 35.0 + 2300 * 38.5) / 2 / 2125.
    assert Envelope(SLOPED, "arm").limits_at(2125)[0][0] == pytest.approx(36.75)
    assert Envelope(SLOPED, "moment").limits_at(2125)[0][0] == pytest.approx(36.894, abs=0.0005)


def test_exactly_at_maximum_weight_is_inside_as_in_ac_43_13_1b_figure_10_13() -> None:
    rectangle = Envelope(((1169, 8.5), (2100, 8.5), (2100, 21.9), (1169, 21.9)))
    assert rectangle.holds(2100, 38466 / 2100)
    assert rectangle.holds(1439, 11.2)  # figure 10-10, printed verdict: satisfactory
    assert rectangle.holds(2036, 21.3)  # figure 10-11
    assert not rectangle.holds(2101, 18.3)


def test_the_margin_names_the_nearer_limit_and_keeps_weight_apart() -> None:
    envelope = Envelope(SLOPED)
    inside = envelope.margin(2125, 37.0)
    assert (inside.inside, inside.nearest, inside.to_heaviest, inside.to_lightest) == (True, "forward", 175, 625)
    assert inside.to_limit == pytest.approx(0.25)
    behind = envelope.margin(1600, 48.0)
    assert (behind.inside, behind.nearest) == (False, "aft")
    assert behind.to_limit == pytest.approx(-0.7)
    heavy, light = envelope.margin(2400, 40), envelope.margin(1400, 40)
    assert (heavy.inside, heavy.to_heaviest, heavy.to_limit, heavy.nearest) == (False, -100, None, None)
    assert (light.inside, light.to_lightest, light.to_limit, light.nearest) == (False, -100, None, None)


def test_rounding_does_not_put_a_border_outside() -> None:
    envelope = Envelope(SLOPED)
    assert envelope.holds(2300 * (1 + 1e-15), 38.5 * (1 - 1e-15))
    assert not envelope.holds(2300.001, 40)
    assert not envelope.holds(1600, 34.9999)


def test_a_notch_leaves_two_widths() -> None:
    envelope = Envelope(NOTCHED)
    assert envelope.limits_at(1100) == ((10, 30),)
    assert envelope.limits_at(1200) == ((10, 30),)  # the notch's own border is inside
    assert envelope.limits_at(1300) == ((10, 15),)
    assert envelope.limits_at(1500) == ((10, 20),)


def test_where_the_envelope_narrows_in_a_step_the_wider_part_counts() -> None:
    assert Envelope(STEPPED).limits_at(1500) == ((10, 30),)
    assert Envelope(STEPPED).limits_at(1500.01) == ((10, 20),)


def test_between_two_branches_the_nearer_one_is_named() -> None:
    envelope = Envelope(FORKED)
    assert envelope.limits_at(1600) == ((0, 4.5), (5.5, 10))
    assert envelope.limits_at(1200) == ((0, 10),)
    assert envelope.limits_around(1600, 5.3) == (5.5, 10)
    outside = envelope.margin(1600, 5.3)
    assert (outside.inside, outside.nearest) == (False, "forward")
    assert outside.to_limit == pytest.approx(-0.2)


def test_a_peak_is_inside_and_nothing_beside_it() -> None:
    peak = Envelope(((1000, 10.0), (2000, 15.0), (1000, 20.0)))
    assert peak.limits_at(2000) == ((15, 15),)
    assert peak.holds(2000, 15)
    assert not peak.holds(2000, 15.01)


@pytest.mark.parametrize("turn", range(5))
@pytest.mark.parametrize("backwards", [False, True])
def test_where_the_corners_begin_and_which_way_they_run_is_all_one(turn: int, backwards: bool) -> None:
    corners = (SLOPED[turn:] + SLOPED[:turn])[:: -1 if backwards else 1]
    for weight in (1500, 1700, 1950, 2125, 2300):
        assert Envelope(corners).limits_at(weight) == Envelope(SLOPED).limits_at(weight)


@given(st.floats(1400, 2400), st.floats(30, 50))
def test_joined_in_moment_is_the_same_polygon_drawn_over_moment(weight: float, arm: float) -> None:
    # The straight forward side from (1950, 68250) to (2300, 88550) in pounds and pound-inches, worked by hand.
    moment = weight * arm
    forward = 68250 + 20300 * (weight - 1950) / 350 if weight > 1950 else 35.0 * weight
    clear = min(abs(moment - forward), abs(arm - 47.3), abs(weight - 1500), abs(weight - 2300)) > 1e-3
    if clear:
        expected = 1500 < weight < 2300 and forward < moment and arm < 47.3
        assert Envelope(SLOPED, "moment").holds(weight, arm) is expected


@pytest.mark.parametrize(
    ("corners", "complaint"),
    [
        ((), "fewer than three"),
        (((1000, 10.0), (2000, 10.0)), "fewer than three"),
        (((1000, 10.0), (2000, 20.0), (2000, 10.0), (1000, 20.0)), "crosses or touches itself"),
        (((1000, 10.0), (2000, 10.0), (2000, 20.0), (1000, 20.0), (1500, 10.0)), "crosses or touches itself"),
        (((1000, 10.0), (3000, 10.0), (2000, 10.0), (2000, 20.0), (1000, 20.0)), "crosses or touches itself"),
        (((1000, 10.0), (2000, 20.0), (1500, 15.0)), "encloses nothing"),
        (((1000, 10.0), (1000, 20.0), (1000, 15.0)), "encloses nothing"),
        (((1000, 10.0), (2000, 10.0), (2000, 20.0), (1000, 10.0)), "twice in a row"),
        (((0, 10.0), (2000, 10.0), (2000, 20.0)), "more than nothing"),
        (((1000, float("nan")), (2000, 10.0), (2000, 20.0)), "not a number"),
    ],
)
def test_corners_that_make_no_envelope_are_refused(corners: tuple[tuple[float, float], ...], complaint: str) -> None:
    with pytest.raises(ValueError, match=complaint):
        Envelope(corners)


# Two prongs above a common base; the second narrows on both sides at 1500.
PRONGS = (
    *((1000, 0.0), (2000, 0.0), (2000, 4.0), (1200, 4.0)),
    *((1200, 6.0), (1500, 6.0), (1500, 7.0), (2000, 7.0), (2000, 9.0), (1500, 9.0), (1500, 12.0), (1000, 12.0)),
)


@pytest.mark.parametrize(
    ("weight", "limits"),
    [
        (1100, ((0, 12),)),
        (1200, ((0, 12),)),
        (1300, ((0, 4), (6, 12))),
        (1500, ((0, 4), (6, 12))),  # the wider part of the second prong counts, and the first stays as it is
        (1600, ((0, 4), (7, 9))),
    ],
)
def test_a_step_in_one_branch_leaves_the_other_alone(weight: float, limits: tuple[tuple[float, float], ...]) -> None:
    assert Envelope(PRONGS).limits_at(weight) == limits


def test_an_arm_within_one_branch_is_held_against_that_one() -> None:
    envelope = Envelope(FORKED)
    assert envelope.limits_around(1600, 4.4) == (0, 4.5)  # 0.1 within, though 4.4 behind its forward limit
    assert envelope.limits_around(1600, 5.6) == (5.5, 10)
    assert envelope.limits_around(1600, 4.9) == (0, 4.5)  # 0.4 behind the one, 0.6 ahead of the other
    assert envelope.limits_around(2100, 5.0) is None


def test_rounding_at_the_datum_puts_no_border_outside() -> None:
    envelope = Envelope(FORKED)  # its forward limit is arm 0, where a share of the arm would be no slack at all
    assert envelope.holds(1600, -1e-12)
    assert not envelope.holds(1600, -1e-6)


def test_an_envelope_may_be_given_in_any_unit() -> None:
    tonnes = Envelope(((0.5, 1.0), (0.9, 1.0), (0.9, 1.4), (0.5, 1.4)))
    assert tonnes.limits_at(0.7) == ((1.0, 1.4),)
    with pytest.raises(ValueError, match="more than nothing"):
        Envelope(((0.0, 1.0), (0.9, 1.0), (0.9, 1.4), (0.5, 1.4)))
