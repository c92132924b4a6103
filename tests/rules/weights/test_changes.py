"""How sure the weighing is, what has changed since, and whether its scales were calibrated."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-10-2-c": "weights/changes-since-weighing",
    "own arithmetic": "weights/scales-calibrated weights/weighing-band",
}

BAND, CHANGES, SCALES = "weights/weighing-band", "weights/changes-since-weighing", "weights/scales-calibrated"

# Net 830, 836 and 340 lb at 128, 128 and 50 in: 2,006 lb at 114.780 in. Scales 0.5 lb and arms 0.125 in, one standard deviation:
# from the scales 0.016806 in, from the arms (both mains at one arm) 0.105953 in, together 0.107278 in: worked in the notes to
# the test of the calculation. A level error of 0.25 deg at 24 in is 24 tan(0.25 deg) = 0.104720 in.
RECORDS = """
aircraft:
  name: Worked example
  authority: US
  stage: operating
  limits:
    gross_weight: 2400 lb
    mean_chord: 60 in
    cg_envelope_joined_in: arm
    cg_envelope:
      - {weight: 1500 lb, arm: 100 in}
      - {weight: 2400 lb, arm: 100 in}
      - {weight: 2400 lb, arm: 120 in}
      - {weight: 1500 lb, arm: 120 in}
weights:
  level_height: 24 in
  weighings:
    - id: W1
      day: 2026-01-10
      calibrated: 2025-06-01
      scales:
        - {wheel: right-main, reading: 846 lb, tare: 16 lb, arm: 128 in}
        - {wheel: left-main, reading: 852 lb, tare: 16 lb, arm: 128 in}
        - {wheel: nose, reading: 348 lb, tare: 8 lb, arm: 50 in}
      aboard: []
      missing: []
      scale_uncertainty: 0.5 lb
      arm_uncertainty: 0.125 in
      level_uncertainty: 0.25 deg
  loadings: [{id: EMPTY}]
"""
CG = 230248 / 2006
TWICE = 2 * (0.107278**2 + 0.104720**2) ** 0.5  # 0.29983 in


def measured(finding: Finding) -> float:
    assert finding.measured is not None
    return finding.measured.value


def test_the_band_passes_with_room() -> None:
    finding = the_finding(BAND, RECORDS, "W1")
    assert finding.verdict is Verdict.PASS
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(TWICE, abs=1e-5)
    assert measured(finding) == pytest.approx(120 - CG)
    assert finding.message.startswith("2006.0 ± 1.7 lb at 114.78 ± 0.30 in")
    assert finding.where[0].position.line == 18


@pytest.mark.parametrize(("room", "verdict"), [(TWICE + 1e-3, Verdict.PASS), (TWICE - 1e-3, Verdict.WARN)])
def test_the_band_just_inside_and_just_over(room: float, verdict: Verdict) -> None:
    records = RECORDS.replace("arm: 120 in", f"arm: {CG + room:.6f} in")
    assert the_finding(BAND, records, "W1").verdict is verdict


def test_a_band_of_nothing_at_the_limit_itself_passes() -> None:
    # One scale, one arm, all without error, at 2,006 lb and exactly 120 in.
    records = RECORDS.replace("0.5 lb", "0 lb").replace("0.125 in", "0 in").replace("0.25 deg", "0 deg")
    records = records.replace("arm: 128 in", "arm: 120 in").replace("arm: 50 in", "arm: 120 in")
    finding = the_finding(BAND, records, "W1")
    assert finding.verdict is Verdict.PASS
    assert measured(finding) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    "there",
    [
        "      scale_uncertainty: 0.5 lb\n",
        "      arm_uncertainty: 0.125 in\n",
        "      level_uncertainty: 0.25 deg\n",
        "  level_height: 24 in\n",
        "  loadings: [{id: EMPTY}]\n",
        "      aboard: []\n",
    ],
)
def test_the_band_without_data(there: str) -> None:
    assert [f.verdict for f in findings(BAND, RECORDS.replace(there, ""))] == [Verdict.NO_DATA]


def test_repeated_readings_count_as_their_mean_and_the_zero_is_taken_off() -> None:
    # 846 + 848 + 850 lb mean 848, less 2 lb shown by the empty scale: 846 again.
    records = RECORDS.replace("reading: 846 lb", "reading: 846 lb, repeated: [848 lb, 850 lb], zero: 2 lb")
    assert the_finding(BAND, records, "W1").message.startswith("2006.0 ± 1.7 lb at 114.78")
    working = the_finding("weights/empty-weight", records, "W1").working
    assert working is not None
    assert working()[0] == "right-main: mean of 846 lb, 848 lb, 850 lb - 16 lb - 2 lb shown empty at 128 in"


def changed(*parts: str) -> str:
    lines = "".join(f"    - {{{part}, basis: weighed}}\n" for part in parts)
    return RECORDS + "  components:\n" + lines


def both(records: str) -> list[Verdict]:
    return [f.verdict for f in findings(CHANGES, records)]


def test_no_change_passes() -> None:
    (finding,) = findings(CHANGES, RECORDS)
    assert (finding.verdict, finding.subject) == (Verdict.PASS, "W1")


# AC 43.13-1B 10-2c: 1 lb, and 0.05 % of a mean chord of 60 in, which is 0.03 in.
@pytest.mark.parametrize(
    ("weight", "verdict"), [("0.9 lb", Verdict.PASS), ("1 lb", Verdict.PASS), ("1.01 lb", Verdict.WARN)]
)
def test_a_change_of_weight(weight: str, verdict: Verdict) -> None:
    found = findings(CHANGES, changed(f"id: RADIO, weight: {weight}, arm: {CG:.6f} in, since: 2026-02-01"))
    assert [f.verdict for f in found] == [verdict, Verdict.PASS]
    assert found[0].where[0].position.line == 32


def test_two_changes_do_not_hide_each_other() -> None:
    out = "id: OLD, weight: 0.6 lb, arm: 110 in, removed: 2026-02-01"
    new = "id: NEW, weight: 0.6 lb, arm: 110 in, since: 2026-02-01"
    assert both(changed(out, new)) == [Verdict.WARN, Verdict.PASS]


def test_what_was_taken_out_leaves_the_empty_weight() -> None:
    records = changed("id: OLD, weight: 6 lb, arm: 110 in, removed: 2026-02-01")
    finding = findings("weights/gross-weight", records)[0]
    assert measured(finding) == pytest.approx(2000)


# 1 lb at x moves the centre of gravity (x - CG) / 2007 in: 0.03 in at x = CG + 60.21 in.
@pytest.mark.parametrize(("away", "verdict"), [(60.2, Verdict.PASS), (60.22, Verdict.WARN)])
def test_a_change_of_arm(away: float, verdict: Verdict) -> None:
    records = changed(f"id: RADIO, weight: 1 lb, arm: {CG + away:.6f} in, since: 2026-02-01")
    assert both(records) == [Verdict.PASS, verdict]


def test_a_change_of_arm_exactly_at_the_limit_passes() -> None:
    # Mean chord 100 in: 0.05 in. 2,006 lb at CG; 1 lb more at CG + 0.05 * 2007 = CG + 100.35 in.
    records = changed(f"id: RADIO, weight: 1 lb, arm: {CG + 100.35!r} in, since: 2026-02-01")
    assert both(records.replace("mean_chord: 60 in", "mean_chord: 100 in"))[1] is Verdict.PASS


@pytest.mark.parametrize("there", ["    mean_chord: 60 in\n", "      aboard: []\n", ", weight: 1 lb"])
def test_changes_without_data(there: str) -> None:
    records = changed("id: RADIO, weight: 1 lb, arm: 110 in, since: 2026-02-01")
    assert Verdict.NO_DATA in both(records.replace(there, ""))


# A leap year lies in the first: 2024-01-10 to 2025-01-10 are 366 days.
@pytest.mark.parametrize(
    ("calibrated", "verdict"),
    [
        ("2025-06-01", Verdict.PASS),
        ("2025-01-09", Verdict.PASS),
        ("2025-01-08", Verdict.WARN),
        ("2026-01-10", Verdict.PASS),
        ("2026-01-11", Verdict.WARN),
    ],
)
def test_calibration_of_the_scales(calibrated: str, verdict: Verdict) -> None:
    finding = the_finding(SCALES, RECORDS.replace("calibrated: 2025-06-01", f"calibrated: {calibrated}"), "W1")
    assert finding.verdict is verdict


@pytest.mark.parametrize(
    "records", [RECORDS.replace("      calibrated: 2025-06-01\n", ""), "weights: {components: []}"]
)
def test_calibration_without_data(records: str) -> None:
    assert [f.verdict for f in findings(SCALES, records)] == [Verdict.NO_DATA]


CANOPY = "{id: CANOPY, weight: 20 lb, arm: 60 in, basis: weighed, since: 2026-02-01"


@pytest.mark.parametrize(
    ("named", "after", "weight"),
    [
        ("", "}", 2046),  # in the result as missing, and counted again: nobody said that it is the same
        (", component: CANOPY", "}", 2026),
        (", component: CANOPY", ", removed: 2026-03-01}", 2006),  # and taken out again
    ],
)
def test_what_was_missing_and_is_named_is_not_counted_twice(named: str, after: str, weight: float) -> None:
    """2,006 lb on the scales and 20 lb of canopy missing then."""
    records = RECORDS.replace("missing: []", f"missing: [{{what: canopy, weight: 20 lb, arm: 60 in{named}}}]").replace(
        "  loadings:", f"  components: [{CANOPY}{after}]\n  loadings:"
    )
    finding = the_finding("weights/gross-weight", records, "EMPTY")
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(weight)


@pytest.mark.parametrize("fitted", [", since: 2026-02-01}", ", fitted: false}"])
@pytest.mark.parametrize(
    ("weight", "arm", "expected"),
    [
        ("20 lb", "60 in", (2006 * 114.780 + 20 * 60) / 2026),
        ("26 lb", "60 in", (2006 * 114.780 + 26 * 60) / 2032),
        ("20 lb", "90 in", (2006 * 114.780 + 20 * 90) / 2026),
    ],
)
def test_what_was_missing_counts_as_what_it_has_become(weight: str, arm: str, expected: float, fitted: str) -> None:
    """2,006 lb at 114.780 in on the scales, and a canopy that was taken for 20 lb at 60 in then."""
    records = RECORDS.replace(
        "missing: []", "missing: [{what: canopy, weight: 20 lb, arm: 60 in, component: CANOPY}]"
    ).replace(
        "  loadings:",
        f"  components: [{{id: CANOPY, weight: {weight}, arm: {arm}, basis: weighed{fitted}]\n  loadings:",
    )
    finding = findings("weights/cg-envelope", records)[0]
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(expected, abs=0.001)


def test_the_working_ends_with_the_share_of_the_band_that_the_loaded_aircraft_has() -> None:
    # The loading EMPTY weighs what the weighing found: all of the band counts, and twice of it is asked for.
    finding = the_finding(BAND, RECORDS, "W1")
    assert finding.working is not None
    assert list(finding.working())[-1] == f"of the loaded weight 100.0 %, twice: {TWICE:.3f} in"
    heavier = RECORDS.replace(
        "[{id: EMPTY}]", "[{id: HALF, stations: {SEAT: 340 lb}}]\n  stations: [{id: SEAT, kind: seat, arm: 115 in}]"
    )
    share = 2006 / 2346
    finding = the_finding(BAND, heavier, "W1")
    assert finding.working is not None
    assert list(finding.working())[-1] == f"of the loaded weight {100 * share:.1f} %, twice: {TWICE * share:.3f} in"
