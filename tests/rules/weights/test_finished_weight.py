"""The finished weight and what it still carries, and the share that is still estimated."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Stage, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "scipy": "weights/finished-weight",
    "own arithmetic": "weights/estimated-share",
}

FINISHED, SHARE = "weights/finished-weight", "weights/estimated-share"

# 400 lb weighed, 260 from a catalogue (5 %), 120 calculated (10 %), 80 estimated (20 %): 860 lb, expected 901, at most 942 lb;
# combined uncertainty 13.772 lb. Wanted: 2 x 170 lb, 20 US gal at 6 lb, 18 lb of baggage: 478 lb. At most 1,420 lb.
RECORDS = """
aircraft:
  name: Worked example
  authority: US
  stage: structure
  limits: {gross_weight: 1420 lb}
fuel: {density: 6 lb/US gal, tanks: []}
weights:
  goal: {occupants: 2, occupant: 170 lb, fuel: 20 US gal, baggage: 18 lb}
  components:
    - {id: A, weight: 400 lb, arm: 10 in, basis: weighed}
    - {id: B, weight: 260 lb, arm: -20 in, basis: catalogue}
    - {id: C, weight: 120 lb, arm: 40 in, basis: calculated}
    - {id: D, weight: 80 lb, arm: 60 in, basis: estimated}
"""


def value(finding: Finding) -> float:
    assert finding.measured is not None
    return finding.measured.value


@pytest.mark.parametrize(
    ("gross", "verdict"), [("1450 lb", Verdict.PASS), ("1420 lb", Verdict.PASS), ("1419.9 lb", Verdict.WARN)]
)
def test_the_upper_bound_and_what_is_wanted_stay_below_gross(gross: str, verdict: Verdict) -> None:
    finding = the_finding(FINISHED, RECORDS.replace("1420 lb", gross), "aircraft")
    assert finding.verdict is verdict
    assert value(finding) == pytest.approx(1420)
    assert finding.where[0].position.line == 9


def test_the_message_tells_both_bands_and_the_likelihood() -> None:
    # Gross 1,400 lb less 478 wanted: 922; (922 - 901) / 13.772 = 1.5248 standard uncertainties, 6.4 % above it.
    finding = the_finding(FINISHED, RECORDS.replace("1420 lb", "1400 lb"), "aircraft")
    assert "901.0 lb expected" in finding.message
    assert "873.5 to 928.5 lb if errors are independent, 942.0 lb at most" in finding.message
    assert finding.message.endswith("exceeded with a likelihood of 6.4 %")
    assert finding.remedy == "Save 20.0 lb, or want so much less aboard."


def test_the_working_says_whose_figures_they_are_and_what_is_most_uncertain() -> None:
    working = the_finding(FINISHED, RECORDS, "aircraft").working
    assert working is not None
    text = "\n".join(working())
    assert "our own default figures, which rest on no published statistics" in text
    assert "most of the uncertainty: D 45 %, B 30 %, C 25 %" in text  # 256, 169 and 144 of 569


def test_the_builders_own_figures_are_used_and_named() -> None:
    # Estimated 10 % instead of 20: 16 lb less at the upper bound.
    finding = the_finding(FINISHED, f"{RECORDS}  allowance: {{estimated: 10 %}}\n", "aircraft")
    assert value(finding) == pytest.approx(1404)
    assert finding.working is not None
    assert "the builder's own figures" in "\n".join(finding.working())


def test_what_the_scales_found_does_not_grow() -> None:
    # 860 lb on the scales with D (80 lb) still missing then: only D grows, by 16 to 32 lb; the rest was weighed.
    records = RECORDS.replace("basis: estimated}", "basis: estimated, fitted: false}") + (
        "  weighings: [{id: W1, day: 2026-01-10, aboard: [], missing: [{what: D, weight: 80 lb, arm: 60 in}],"
        " scales: [{wheel: other, reading: 780 lb, tare: 0 lb, arm: 10 in}]}]\n"
    )
    finding = the_finding(FINISHED, records, "aircraft")
    assert value(finding) == pytest.approx(860 + 32 + 478)


@pytest.mark.parametrize(("since", "most"), [("2026-01-09", 780.0), ("2026-01-10", 780.0), ("2026-01-11", 860.0 + 32)])
def test_what_was_fitted_after_the_weighing_grows_as_what_was_never_on_the_scales(since: str, most: float) -> None:
    # 780 lb on the scales on the tenth; D, 80 lb estimated, may grow by up to 32 lb where it came later.
    records = RECORDS.replace("basis: estimated}", f"basis: estimated, since: {since}}}") + (
        "  weighings: [{id: W1, day: 2026-01-10, aboard: [], missing: [],"
        " scales: [{wheel: other, reading: 780 lb, tare: 0 lb, arm: 10 in}]}]\n"
    )
    assert value(the_finding(FINISHED, records, "aircraft")) == pytest.approx(most + 478)


@pytest.mark.parametrize(
    "there",
    [
        "  goal: {occupants: 2, occupant: 170 lb, fuel: 20 US gal, baggage: 18 lb}\n",
        ", occupant: 170 lb",
        "  limits: {gross_weight: 1420 lb}\n",
        "density: 6 lb/US gal, ",
        "weight: 120 lb, ",
    ],
)
def test_the_finished_weight_without_data(there: str) -> None:
    assert there in RECORDS
    assert [f.verdict for f in findings(FINISHED, RECORDS.replace(there, ""))] == [Verdict.NO_DATA]


# C and D, calculated and estimated, are 200 of 860 lb: 23.26 %. Allowed 60 % at structure, 25 % at systems, 10 % at engine-run.
@pytest.mark.parametrize(
    ("stage", "verdict"),
    [(Stage.STRUCTURE, Verdict.PASS), (Stage.SYSTEMS, Verdict.PASS), (Stage.ENGINE_RUN, Verdict.WARN)],
)
def test_the_share_that_may_be_estimated_shrinks(stage: Stage, verdict: Verdict) -> None:
    finding = the_finding(SHARE, RECORDS, "components", at=stage)
    assert finding.verdict is verdict
    assert value(finding) == pytest.approx(100 * 200 / 860)


@pytest.mark.parametrize(("weight", "verdict"), [("80 lb", Verdict.PASS), ("80.1 lb", Verdict.WARN)])
def test_the_share_exactly_at_the_limit_and_just_over(weight: str, verdict: Verdict) -> None:
    # 80 of 320 lb are 25 %.
    records = f"""
    weights:
      components:
        - {{id: A, weight: 240 lb, arm: 1 in, basis: weighed}}
        - {{id: B, weight: {weight}, arm: 1 in, basis: estimated}}
    """
    finding = the_finding(SHARE, records, "components", at=Stage.SYSTEMS)
    assert finding.verdict is verdict
    assert finding.where[0].position.line == 6


def test_a_part_without_a_basis_counts_as_estimated() -> None:
    finding = the_finding(SHARE, RECORDS.replace(", basis: catalogue", ""), "components", at=Stage.SYSTEMS)
    assert value(finding) == pytest.approx(100 * 460 / 860)


def test_the_share_without_data() -> None:
    assert [f.verdict for f in findings(SHARE, "weights: {components: [{id: A}]}")] == [Verdict.NO_DATA]


def test_what_was_planned_after_the_weighing_is_not_forgotten() -> None:
    """D (80 lb) was missing at the weighing and is in its result of 860 lb; E (30 lb) was thought of later: 890 lb, and
    growth of 16 lb on D and nothing on E. At most 890 + 32 = 922 lb, with 478 lb wanted 1,400 lb."""
    records = RECORDS.replace("basis: estimated}", "basis: estimated, fitted: false}") + (
        "    - {id: E, weight: 30 lb, arm: 20 in, basis: weighed, fitted: false}\n"
        "  weighings: [{id: W1, day: 2026-01-10, aboard: [], missing: [{what: D, weight: 80 lb, arm: 60 in}],"
        " scales: [{wheel: other, reading: 780 lb, tare: 0 lb, arm: 10 in}]}]\n"
    )
    finding = the_finding(FINISHED, records, "aircraft")
    assert value(finding) == pytest.approx(1400)
    assert "906.0 lb expected" in finding.message
    assert finding.working is not None
    text = "\n".join(finding.working())
    assert "not fitted yet 110.0 lb, of which 80.0 lb were added as missing: 30.0 lb more" in text
    assert "how wrong the weighing may be is not recorded, and taken as nothing" in text


def test_without_tanks_no_fuel_is_asked_for() -> None:
    # 942 lb at most and 358 lb wanted.
    assert value(the_finding(FINISHED, RECORDS.replace("fuel: 20 US gal, ", ""), "aircraft")) == pytest.approx(1300)
    with_tank = RECORDS.replace("tanks: []", "tanks: [{id: T, arm: 5 in}]").replace("fuel: 20 US gal, ", "")
    assert the_finding(FINISHED, with_tank, "aircraft").verdict is Verdict.NO_DATA


def test_what_was_missing_and_nothing_else_is_still_to_be_fitted() -> None:
    records = RECORDS.replace("basis: estimated}", "basis: estimated, fitted: false}") + (
        "  weighings: [{id: W1, day: 2026-01-10, aboard: [], missing: [{what: D, weight: 80 lb, arm: 60 in}],"
        " scales: [{wheel: other, reading: 780 lb, tare: 0 lb, arm: 10 in}]}]\n"
    )
    working = the_finding(FINISHED, records, "aircraft").working
    assert working is not None
    assert not [step for step in working() if "not fitted yet" in step]


def test_the_working_gives_both_ends_of_the_band() -> None:
    # 901 lb expected, and two standard uncertainties of 13.772 lb to either side.
    working = the_finding(FINISHED, RECORDS, "aircraft").working
    assert working is not None
    assert "if independent, 873.5 to 928.5 lb (two standard uncertainties)" in list(working())


@pytest.mark.parametrize(
    ("stage", "allowed"),
    [
        (Stage.DESIGN, 100),
        (Stage.STRUCTURE, 60),
        (Stage.COVERING, 40),
        (Stage.SYSTEMS, 25),
        (Stage.ENGINE_RUN, 10),
        (Stage.INSPECTION, 5),
        (Stage.OPERATING, 5),
    ],
)
def test_how_much_each_stage_allows(stage: Stage, allowed: float) -> None:
    """The shares that the entry `own-estimated-share` of the sources states."""
    finding = the_finding(SHARE, RECORDS, "components", at=stage)
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(allowed)


def test_a_design_may_be_estimated_altogether() -> None:
    records = "weights: {components: [{id: A, weight: 9 lb, arm: 1 in, basis: estimated}]}"
    assert the_finding(SHARE, records, "components", at=Stage.DESIGN).verdict is Verdict.PASS
    assert the_finding(SHARE, records, "components", at=Stage.STRUCTURE).verdict is Verdict.WARN
