"""The weighing: how it was done, and its result against published weighings and arithmetic written out here."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-figure-10-13": "weights/empty-weight",
    "h8083-1-figure-10-1": "weights/empty-weight",
    "nothing computed": "weights/weighing-usable weights/wheels-of-gear",
}

USABLE, RESULT = "weights/weighing-usable", "weights/empty-weight"
NONE = "; write [] for nothing"

GOOD = """
weights:
  weighings:
    - id: W1
      day: 2026-03-01
      levelled: true
      zeroed: true
      inside: true
      fuel: drained-to-unusable
      oil: full
      aboard: []
      missing: []
      scales:
        - {wheel: nose, reading: 200 lb, tare: 0 lb, arm: -40 in}
        - {wheel: left-main, reading: 405 lb, tare: 5 lb, arm: 20 in}
        - {wheel: right-main, reading: 405 lb, tare: 5 lb, arm: 20 in}
"""
"""200 lb at -40 in and 800 lb at 20 in: 1,000 lb, (-8000 + 16000) / 1000 = 8 in."""


def line_of(records: str, words: str) -> int:
    """The line in the file, below that of the aircraft."""
    (line,) = [number for number, text in enumerate(records.splitlines(), 2) if words in text]
    return line


def unsound(rule: str, records: str) -> Finding:
    (finding,) = [f for f in findings(rule, records) if f.verdict is not Verdict.PASS]
    return finding


def test_a_good_weighing_passes_on_every_count() -> None:
    assert [f.verdict for f in findings(USABLE, GOOD)] == [Verdict.PASS] * 8


@pytest.mark.parametrize(
    ("there", "instead", "verdict", "words"),
    [
        ("levelled: true", "levelled: false", Verdict.FAIL, "it was not level: its centre of gravity means nothing"),
        ("zeroed: true", "zeroed: false", Verdict.FAIL, "the scales were not set to zero before"),
        ("inside: true", "inside: false", Verdict.WARN, "it stood outside, where wind moves the readings"),
    ],
)
def test_a_bad_weighing_is_shown_where_it_is_bad(there: str, instead: str, verdict: Verdict, words: str) -> None:
    records = GOOD.replace(there, instead)
    finding = unsound(USABLE, records)
    assert (finding.verdict, finding.message) == (verdict, words)
    assert finding.where[0].position.line == line_of(records, instead)


@pytest.mark.parametrize(
    ("there", "words", "remedy"),
    [
        ("levelled: true", "not recorded: whether it stood in level flight attitude", "Record 'levelled'."),
        ("zeroed: true", "not recorded: whether the scales were set to zero", "Record 'zeroed'."),
        ("inside: true", "not recorded: whether it stood in a closed building", "Record 'inside'."),
        ("fuel: drained-to-unusable", "not recorded: what fuel was aboard", "Record 'fuel'."),
        ("oil: full", "not recorded: what oil was aboard", "Record 'oil'."),
        ("aboard: []", "not recorded: what was aboard and is not part of the aircraft", f"Record 'aboard'{NONE}."),
        ("missing: []", "not recorded: what belongs to the aircraft and was not aboard", f"Record 'missing'{NONE}."),
    ],
)
def test_a_weighing_without_data(there: str, words: str, remedy: str) -> None:
    records = GOOD.replace(f"      {there}\n", "")
    finding = unsound(USABLE, records)
    assert (finding.verdict, finding.message, finding.remedy) == (Verdict.NO_DATA, words, remedy)
    assert finding.where[0].position.line == line_of(records, "id: W1")


@pytest.mark.parametrize(
    ("there", "words", "remedy"),
    [
        ("tare: 0 lb, ", "the tare of the nose wheel is not recorded", "Record 'tare'; 0 lb if there was none."),
        (", arm: -40 in", "the arm of the nose wheel is not recorded", "Record 'arm', measured while levelled."),
    ],
)
def test_a_wheel_without_data(there: str, words: str, remedy: str) -> None:
    records = GOOD.replace(there, "")
    finding = unsound(USABLE, records)
    assert (finding.verdict, finding.message, finding.remedy) == (Verdict.NO_DATA, words, remedy)
    assert finding.where[0].position.line == line_of(records, "wheel: nose")
    assert unsound(RESULT, records).verdict is Verdict.NO_DATA


def test_a_weighing_without_scales_is_no_data() -> None:
    assert unsound(USABLE, GOOD[: GOOD.index("      scales:")]).message == "no scale reading is recorded"


@pytest.mark.parametrize("fuel", ["full", "measured"])
def test_fuel_on_the_scales_must_be_listed_as_aboard(fuel: str) -> None:
    # AC 43.13-1B paragraph 10-15: only what is left after draining stays in the empty weight.
    records = GOOD.replace("drained-to-unusable", fuel)
    finding = unsound(USABLE, records)
    assert finding.verdict is Verdict.NO_DATA
    assert finding.message == f"it stood with fuel ({fuel}), and none is listed as aboard"
    listed = records.replace("aboard: []", "aboard: [{what: fuel, weight: 60 lb, arm: 10 in}]")
    assert {f.verdict for f in findings(USABLE, listed)} == {Verdict.PASS}
    rags = records.replace("aboard: []", "aboard: [{what: bag of rags, weight: 60 lb, arm: 10 in}]")
    assert unsound(USABLE, rags).verdict is Verdict.NO_DATA


def test_oil_that_was_drained_must_come_back_somewhere() -> None:
    # AC 43.13-1B paragraph 10-2b counts residual oil only: the rest is missing, or it is load.
    drained = GOOD.replace("oil: full", "oil: drained")
    assert unsound(USABLE, drained).verdict is Verdict.WARN
    coil = drained.replace("missing: []", "missing: [{what: ignition coil, weight: 2 lb, arm: -20 in}]")
    assert unsound(USABLE, coil).verdict is Verdict.WARN
    missing = drained.replace("missing: []", "missing: [{what: engine oil, weight: 6 lb, arm: -20 in}]")
    station = drained + "  stations: [{id: SUMP, what: oil, kind: other, arm: -20 in}]\n"
    assert {f.verdict for records in (missing, station) for f in findings(USABLE, records)} == {Verdict.PASS}


WHEELS = "weights/wheels-of-gear"


@pytest.mark.parametrize(
    ("gear", "there", "instead", "verdict"),
    [
        ("nosewheel", "", "", Verdict.PASS),
        ("tailwheel", "", "", Verdict.WARN),
        ("nosewheel", "wheel: right-main", "wheel: left-main", Verdict.WARN),
        ("nosewheel", "wheel: nose", "wheel: tail", Verdict.WARN),
        ("nosewheel", "arm: -40 in", "arm: 40 in", Verdict.WARN),
        ("nosewheel", "arm: -40 in", "arm: 19.9 in", Verdict.PASS),
        ("nosewheel", "arm: -40 in", "arm: 20 in", Verdict.WARN),  # neither ahead of the main wheels nor behind
        ("floats", "", "", Verdict.NOT_APPLICABLE),
        (None, "", "", Verdict.NO_DATA),
    ],
)
def test_the_wheels_are_those_of_the_gear(gear: str | None, there: str, instead: str, verdict: Verdict) -> None:
    aircraft = "aircraft: {name: Test Article, authority: US, stage: operating" + (f", gear: {gear}}}" if gear else "}")
    (finding,) = findings(WHEELS, aircraft + (GOOD.replace(there, instead, 1) if there else GOOD))
    assert finding.verdict is verdict


def test_the_wheels_without_a_weighing() -> None:
    aircraft = "aircraft: {name: Test Article, authority: US, stage: operating, gear: nosewheel}\n"
    for weights in ("", "weights: {weighings: []}\n", "weights: {weighings: [{id: W1, day: 2026-03-01}]}\n"):
        (finding,) = findings(WHEELS, aircraft + weights)
        assert finding.verdict is Verdict.NO_DATA


@pytest.mark.parametrize("rule", [USABLE, RESULT])
@pytest.mark.parametrize("records", ["weights: {weighings: []}", "fuel: {tanks: []}"])
def test_no_weighing_is_no_data(rule: str, records: str) -> None:
    assert [f.verdict for f in findings(rule, records)] == [Verdict.NO_DATA]


def test_the_latest_weighing_counts() -> None:
    older = "    - {id: W0, day: 2025-01-01}\n"
    newer = "    - {id: W2, day: 2027-01-01}\n"
    assert {f.subject for f in findings(USABLE, GOOD + older)} == {"W1"}
    assert {f.subject for f in findings(USABLE, GOOD + newer)} == {"W2"}


PUBLISHED = """
weights:
  weighings:
    - id: W1
      day: 2026-03-01
      aboard: []
      missing: []
      scales:
        - {{wheel: nose, reading: {nose}, tare: 0 lb, arm: {nose_arm}}}
        - {{wheel: other, reading: {mains}, tare: 0 lb, arm: {mains_arm}}}
"""


@pytest.mark.parametrize(
    ("nose", "nose_arm", "mains", "mains_arm", "result"),
    [
        # FAA-H-8083-1B, figures 10-1 and 10-2: 340 of 2,006 lb on the nose wheel, 78 in ahead of the mains: -13.2 in.
        pytest.param("340 lb", "-78 in", "1666 lb", "0 in", "2006.0 lb at -13.22 in", id="from the main wheels"),
        # FAA mechanic question bank (General): 22 lb on the nose wheel, 2 x 753 lb on the mains: 96.11, cut.
        pytest.param("22 lb", "9.875 in", "1506 lb", "97.375 in", "1528.0 lb at 96.12 in", id="tricycle"),
        # European pilot question bank, datum at the nose wheel: 3,145 kg and 83.7 in; kilograms stand as pounds here.
        pytest.param("285 lb", "0 in", "2860 lb", "92 in", "3145.0 lb at 83.66 in", id="an arm of zero"),
    ],
)
def test_published_weighings(nose: str, nose_arm: str, mains: str, mains_arm: str, result: str) -> None:
    records = PUBLISHED.format(nose=nose, nose_arm=nose_arm, mains=mains, mains_arm=mains_arm)
    finding = the_finding(RESULT, records, "W1")
    assert (finding.verdict, finding.message) == (Verdict.PASS, f"the readings give {result}")
    assert finding.where[0].position.line == 10


def test_a_published_result_cut_instead_of_rounded_passes() -> None:
    records = PUBLISHED.format(nose="22 lb", nose_arm="9.875 in", mains="1506 lb", mains_arm="97.375 in")
    finding = the_finding(RESULT, records + "      empty_arm: 96.11 in\n", "W1")
    assert finding.verdict is Verdict.PASS
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(96.115183 - 96.11, abs=1e-6)


@pytest.mark.parametrize(
    ("field", "value", "off", "limit", "verdict"),
    [
        pytest.param("empty_weight", "1000 lb", 0, 0.1, Verdict.PASS, id="weight passes"),
        pytest.param("empty_weight", "1000.1 lb", 0.1, 0.1, Verdict.PASS, id="weight exactly at the limit"),
        pytest.param("empty_weight", "999.9 lb", 0.1, 0.1, Verdict.PASS, id="weight exactly at the limit below"),
        pytest.param("empty_weight", "1000.11 lb", 0.11, 0.1, Verdict.FAIL, id="weight just over"),
        pytest.param("empty_arm", "8 in", 0, 0.02, Verdict.PASS, id="arm passes"),
        pytest.param("empty_arm", "8.02 in", 0.02, 0.02, Verdict.PASS, id="arm exactly at the limit"),
        pytest.param("empty_arm", "7.979 in", 0.021, 0.02, Verdict.FAIL, id="arm just over"),
        # (8000 + 16000) / 1000: the sign of the nose wheel's arm forgotten.
        pytest.param("empty_arm", "24 in", 16, 0.02, Verdict.FAIL, id="arm without its sign"),
    ],
)
def test_the_result_on_record(field: str, value: str, off: float, limit: float, verdict: Verdict) -> None:
    records = f"{GOOD}      {field}: {value}\n"
    finding = the_finding(RESULT, records, "W1")
    assert finding.verdict is verdict
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(off, abs=1e-9)
    assert finding.limit.value == limit
    assert finding.margin == pytest.approx((limit - off) / limit, abs=1e-6)
    assert finding.where[0].position.line == line_of(records, field)


def test_weight_and_arm_are_judged_apart() -> None:
    found = findings(RESULT, f"{GOOD}      empty_weight: 1000 lb\n      empty_arm: 9 in\n")
    assert [f.verdict for f in found] == [Verdict.PASS, Verdict.FAIL]


def test_what_was_aboard_comes_off_and_what_was_missing_comes_on() -> None:
    # AC 43.13-1B paragraphs 10-15 and 10-16: 1000 - 20 + 40 = 1020 lb; (8000 - 20 x 50 + 40 x -29) / 1020 = 5.725 in.
    records = GOOD.replace("aboard: []", "aboard: [{what: toolbox, weight: 20 lb, arm: 50 in}]")
    records = records.replace("missing: []", "missing: [{what: cowl, weight: 40 lb, arm: -29 in}]")
    finding = the_finding(RESULT, records, "W1")
    assert finding.message == "the readings give 1020.0 lb at 5.73 in"
    assert finding.working is not None
    assert list(finding.working()) == [
        "nose: 200 lb - 0 lb at -40 in",
        "left-main: 405 lb - 5 lb at 20 in",
        "right-main: 405 lb - 5 lb at 20 in",
        "aboard: - 20 lb at 50 in, toolbox",
        "missing: + 40 lb at -29 in, cowl",
        "sum: 1020.00 lb at 5.725 in",
    ]


@pytest.mark.parametrize("field", ["aboard", "missing"])
def test_the_result_without_data(field: str) -> None:
    records = GOOD.replace(f"      {field}: []\n", "") + "      empty_weight: 1000 lb\n"
    finding = the_finding(RESULT, records, "W1")
    assert (finding.verdict, finding.measured) == (Verdict.NO_DATA, None)


@pytest.mark.parametrize(
    ("there", "instead"),
    [
        pytest.param("reading: 200 lb, tare: 0 lb", "reading: 200 lb, tare: 200.1 lb", id="tare just over the reading"),
        pytest.param("aboard: []", "aboard: [{what: crates, weight: 1000 lb, arm: 8 in}]", id="nothing left"),
    ],
)
def test_readings_that_leave_nothing_give_no_result(there: str, instead: str) -> None:
    assert [f.verdict for f in findings(RESULT, GOOD.replace(there, instead))] == [Verdict.NO_DATA]


def test_a_tare_above_its_reading_is_shown() -> None:
    records = GOOD.replace("reading: 200 lb, tare: 0 lb", "reading: 200 lb, tare: 200.1 lb")
    finding = unsound(USABLE, records)
    assert (finding.verdict, finding.message) == (
        Verdict.FAIL,
        "200.1 lb of tare on the nose wheel, and a reading of 200 lb",
    )
    assert finding.where[0].position.line == line_of(records, "wheel: nose")
    at_the_limit = GOOD.replace("reading: 200 lb, tare: 0 lb", "reading: 200 lb, tare: 200 lb")
    assert {f.verdict for f in (*findings(USABLE, at_the_limit), *findings(RESULT, at_the_limit))} == {Verdict.PASS}


@pytest.mark.parametrize(
    ("there", "instead", "words"),
    [
        ("tare: 0 lb, arm: -40 in", "arm: -40 in", "the tare of wheel 'nose' is not recorded"),
        ("tare: 0 lb, arm: -40 in", "tare: 0 lb", "the arm of wheel 'nose' is not recorded"),
        (
            "tare: 0 lb",
            "tare: 150 lb, zero: 60 lb",
            "tare and zero of wheel 'nose' are more than its reading of 200 lb",
        ),
        ("      missing: []\n", "", "what was missing is not recorded; write [] for nothing"),
        (
            "aboard: []",
            "aboard: [{what: sand, weight: 1000 lb, arm: 3 in}]",
            "what was aboard weighs as much as the readings",
        ),
    ],
)
def test_why_the_readings_give_no_result_is_told(there: str, instead: str, words: str) -> None:
    finding = unsound(RESULT, GOOD.replace(there, instead, 1))
    assert (finding.verdict, finding.message, finding.remedy) == (Verdict.NO_DATA, words, "Record or correct it.")


def test_tare_and_zero_together_must_be_less_than_the_reading() -> None:
    """150 lb of tare and 50 lb shown empty leave nothing of 200 lb, which can be; 50.1 lb cannot."""
    at = GOOD.replace("tare: 0 lb", "tare: 150 lb, zero: 50 lb", 1)
    assert {f.verdict for f in findings(USABLE, at)} == {Verdict.PASS}
    over = unsound(USABLE, at.replace("zero: 50 lb", "zero: 50.1 lb"))
    assert over.verdict is Verdict.FAIL
    assert over.message == "150 lb of tare and 50.1 lb shown empty on the nose wheel, and a reading of 200 lb"


def test_of_two_weighings_on_one_day_the_one_recorded_last_counts_and_that_is_said() -> None:
    again = GOOD + GOOD.split("  weighings:\n")[1].replace("id: W1", "id: W2").replace("405 lb", "415 lb")
    assert findings(RESULT, again)[0].message.startswith("the readings give 1020.0 lb")
    finding = unsound(USABLE, again)
    assert (finding.subject, finding.verdict) == ("W2", Verdict.WARN)
    assert "W1 is of the same day" in finding.message


@pytest.mark.parametrize(("aboard", "result"), [("1008 lb", True), ("1010 lb", False), ("1011 lb", False)])
def test_what_was_missing_is_added_once_before_anything_is_left(aboard: str, result: bool) -> None:
    # 1,000 lb on the scales and 10 lb missing, less what was aboard: 2 lb, nothing, less than nothing.
    records = GOOD.replace("aboard: []", f"aboard: [{{what: sand, weight: {aboard}, arm: 3 in}}]").replace(
        "missing: []", "missing: [{what: seat, weight: 10 lb, arm: 3 in}]"
    )
    lacking = "what was aboard weighs as much as the readings"
    assert (lacking in [f.message for f in findings(RESULT, records)]) is not result
