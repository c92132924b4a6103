"""Weights at the edges: parts without a weight, envelopes out of reach, very many places, very heavy aircraft."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA


def aircraft(
    *,
    gross: str = "gross_weight: 1400 lb, ",
    corners: tuple[int, int] = (1000, 1400),
    aft: float = 13,
    empty: str = "{id: ALL, weight: 1000 lb, arm: 10 in, basis: weighed}",
    stations: str = "{id: SEAT, what: pilot, kind: seat, arm: 11 in, minimum: 120 lb, maximum: 220 lb}",
    more: str = "",
) -> str:
    """1,000 lb at 10 in, and an envelope from 9 in aft between two weights."""
    low, high = corners
    box = ((low, 9.0), (high, 9.0), (high, aft), (low, aft))
    listed = ", ".join(f"{{weight: {weight} lb, arm: {arm} in}}" for weight, arm in box)
    return f"""
aircraft:
  name: Worked example
  authority: US
  stage: operating
  limits: {{{gross}mean_chord: 60 in, cg_envelope_joined_in: arm, cg_envelope: [{listed}]}}
fuel: {{density: 6 lb/US gal, tanks: []}}
weights:
  components: [{empty}]
  stations: [{stations}]
  {more}
"""


def test_without_stations_no_loading_can_be_thought_of() -> None:
    (found,) = findings("weights/every-loading", aircraft(stations=""))
    assert (found.verdict, found.message) == (NO_DATA, "no station is recorded")


def test_an_envelope_that_begins_above_all_loadings_covers_none() -> None:
    # 1,000 lb and 120 to 220 lb: 1,120 to 1,220 lb; the envelope begins at 1,300 lb, and gross weight is 1,400 lb.
    (found,) = findings("weights/every-loading", aircraft(corners=(1300, 1400)))
    assert found.verdict is FAIL
    assert found.message == "no loading up to gross weight has a weight that the envelope covers"


def many(count: int) -> str:
    """Lockers of 1 to `count` lb at 60 in, each of which may be full."""
    return ", ".join(
        f"{{id: S{n}, what: locker {n}, kind: baggage, arm: 60 in, maximum: {n} lb}}" for n in range(1, count + 1)
    )


def test_of_many_places_the_heaviest_are_told() -> None:
    # 15 lockers, 120 lb together: (10000 + 60 x 120) / 1120 = 15.36 in, behind 13 in.
    found = the_finding("weights/every-loading", aircraft(stations=many(15)), "aft")
    assert found.verdict is FAIL
    assert "locker 15" in found.message
    assert "locker 4 " in found.message
    assert "locker 3 " not in found.message
    assert "3 more stations, listed by `jurystrut explain`" in found.message
    assert found.working is not None
    assert any("locker 3" in line or "S3:" in line for line in found.working())


def test_of_very_many_places_no_single_one_is_blamed() -> None:
    found = the_finding("weights/every-loading", aircraft(stations=many(41)), "aft")
    assert found.verdict is FAIL
    assert found.remedy.startswith("Lower what the stations farthest beyond the limit may hold")


def test_where_no_single_change_mends_it_the_remedy_says_so() -> None:
    # Empty, 1,000 lb at 14 in lies behind 13 in already; the seat is farther aft still, and no component stands ahead of it.
    empty = "{id: ALL, weight: 1000 lb, arm: 14 in, basis: weighed}"
    seat = "{id: SEAT, what: pilot, kind: seat, arm: 20 in, minimum: 120 lb, maximum: 220 lb}"
    found = the_finding("weights/every-loading", aircraft(empty=empty, stations=seat), "aft")
    assert found.verdict is FAIL
    assert found.remedy == "No one limit on a station mends it; lower several, or move something heavy."


WEIGHED = "weighings: [{id: W1, day: 2026-01-10, scales: [%s], aboard: [], missing: [%s]%s}]"
ON_SCALES = ", ".join(f"{{wheel: {side}-main, reading: 500 lb, tare: 0 lb, arm: 10 in}}" for side in ("left", "right"))
SURE = ", scale_uncertainty: 0.5 lb, arm_uncertainty: 0.125 in, level_uncertainty: 0.25 deg"


def test_ballast_is_not_proposed_where_no_component_has_a_place() -> None:
    # The empty weight comes from a weighing; no component is on record whose place could carry ballast.
    text = aircraft(empty="", stations=many(15), more=WEIGHED % (ON_SCALES, "", ""))
    found = the_finding("weights/every-loading", text, "aft")
    assert found.verdict is FAIL
    assert "ballast" not in found.remedy


def test_a_weighing_without_readings_gives_no_empty_weight() -> None:
    (found,) = findings("weights/every-loading", aircraft(more=WEIGHED % ("", "", "")))
    assert (found.verdict, found.message) == (
        NO_DATA,
        "weighing W1 gives no empty weight: no scale reading is recorded",
    )


def test_a_part_that_was_missing_counts_as_noted_then_until_it_has_figures_of_its_own() -> None:
    noted = "{what: cowl, component: COWL, weight: 20 lb, arm: -10 in}"
    for figures, weight in (("", 1020), (", weight: 25 lb, arm: -10 in", 1025)):
        cowl = f"{{id: COWL, what: cowl{figures}, since: 2026-02-01}}"
        text = aircraft(empty=cowl, more=WEIGHED % (ON_SCALES, noted, ""))
        found = the_finding("weights/envelope-covers", text, "lightest")
        assert found.measured is not None
        assert found.measured.value == pytest.approx(weight + 120)


def test_a_planned_part_without_a_weight_leaves_the_finished_weight_open() -> None:
    planned = "{id: RADIO, what: radio, fitted: false}"
    text = aircraft(
        empty=planned,
        more=WEIGHED % (ON_SCALES, "", "")
        + "\n  goal: {occupants: 1, occupant: 170 lb, fuel: 0 US gal, baggage: 0 lb}",
    )
    (found,) = findings("weights/finished-weight", text)
    assert (found.verdict, found.message) == (NO_DATA, "RADIO has no weight or no arm")


def test_without_a_gross_weight_nothing_is_left_to_carry() -> None:
    (found,) = findings("weights/finished-weight", aircraft(gross=""))
    assert (found.verdict, found.message) == (NO_DATA, "the gross weight is not recorded")


def test_the_band_has_nothing_to_reach_where_no_declared_loading_is_inside() -> None:
    text = aircraft(
        aft=9.5, empty="", more=WEIGHED % (ON_SCALES, "", SURE) + "\n  level_height: 24 in\n  loadings: [{id: EMPTY}]"
    )
    (found,) = findings("weights/weighing-band", text)
    assert found.verdict is NO_DATA
    assert found.message.endswith("no declared loading is inside the envelope")


@pytest.mark.parametrize(("reading", "verdict"), [("2499 lb", WARN), ("2500 lb", NO_DATA)])
def test_what_is_negligible_is_not_known_from_5000_lb_on(reading: str, verdict: Verdict) -> None:
    fitted = "{id: RADIO, what: radio, weight: 5 lb, arm: 10 in, basis: weighed, since: 2026-02-01}"
    text = aircraft(empty=fitted, more=WEIGHED % (ON_SCALES.replace("500 lb", reading), "", ""))
    found = findings("weights/changes-since-weighing", text)
    assert found[0].verdict is verdict
    assert (found[0].message == "the figures used here hold below 5,000 lb empty") == (verdict is NO_DATA)
