"""Marks on the airspeed indicator against old 23.1545, read: white VS0 to VFE, green VS1 to VNO, yellow VNO to VNE, red VNE."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "23-1545": "markings/airspeed-marks",
}

RECORDS = """\
aircraft:
  name: Test Article
  authority: US
  stage: operating
  limits:
    stall_speed_flaps: 39 kt
    stall_speed: 44 kt
    flaps_speed: 78 kt
    cruise_speed: 108 kt
    never_exceed_speed: 138 kt
panel:
  items:
    - {id: ASI, kind: instrument}
markings:
  instrument_marks:
    - {id: WHITE, instrument: ASI, kind: arc, colour: white, low: 39 kt, high: 78 kt}
    - {id: GREEN, instrument: ASI, kind: arc, colour: green, low: 44 kt, high: 108 kt}
    - {id: YELLOW, instrument: ASI, kind: arc, colour: yellow, low: 108 kt, high: 138 kt}
    - {id: RED, instrument: ASI, kind: line, colour: red, high: 138 kt}
"""


def changed(*changes: tuple[str, str]) -> str:
    text = RECORDS
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


def judged(*changes: tuple[str, str]) -> tuple[Finding, ...]:
    return findings("markings/airspeed-marks", changed(*changes))


def other_than_pass(*changes: tuple[str, str]) -> Finding:
    (finding,) = (finding for finding in judged(*changes) if finding.verdict is not Verdict.PASS)
    return finding


def test_airspeed_marks_pass() -> None:
    found = judged()
    assert [finding.subject for finding in found] == ["WHITE", "WHITE", "GREEN", "GREEN", "YELLOW", "YELLOW", "RED"]
    assert {finding.verdict for finding in found} == {Verdict.PASS}
    assert found[0].message == "the low end of this white arc stands at 39 kt; VS0 is 39 kt"


@pytest.mark.parametrize(
    ("old", "new", "limit_line"),
    [
        ("white, low: 39 kt", "white, low: 39.6 kt", 6),
        ("high: 78 kt", "high: 77.4 kt", 8),
        ("green, low: 44 kt", "green, low: 44.6 kt", 7),
        ("low: 44 kt, high: 108 kt", "low: 44 kt, high: 107.4 kt", 9),
        ("yellow, low: 108 kt", "yellow, low: 108.6 kt", 9),
        ("low: 108 kt, high: 138 kt", "low: 108 kt, high: 138.6 kt", 10),
        ("red, high: 138 kt", "red, high: 138.6 kt", 10),
    ],
)
def test_airspeed_mark_just_over_half_a_knot_off_fails(old: str, new: str, limit_line: int) -> None:
    finding = other_than_pass((old, new))
    assert finding.verdict is Verdict.FAIL
    assert finding.where[0].position.line in {16, 17, 18, 19}
    assert finding.where[1].position.line == limit_line


def test_airspeed_mark_exactly_half_a_knot_off_passes() -> None:
    # Half a knot is our own choice: less than can be read.
    assert {f.verdict for f in judged(("red, high: 138 kt", "red, high: 138.5 kt"))} == {Verdict.PASS}
    assert {f.verdict for f in judged(("red, high: 138 kt", "red, high: 137.5 kt"))} == {Verdict.PASS}


def test_airspeed_mark_shows_how_far_it_is_off() -> None:
    finding = the_finding("markings/airspeed-marks", changed(("red, high: 138 kt", "red, high: 140 kt")), "RED")
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(2)
    assert finding.measured.unit == "kt"
    assert finding.limit.value == 0.5
    assert finding.margin == pytest.approx(-3)  # (0.5 - 2) / 0.5
    assert [spot.position.line for spot in finding.where] == [19, 10]
    assert finding.message == "this red line stands at 140 kt; VNE is 138 kt"
    assert finding.remedy == "Move it to 138 kt, or correct the limit."


def test_airspeed_marks_in_miles_an_hour() -> None:
    # A knot is 1.852 km/h and a mile 1.609344 km: 138 kt = 138 x 1.852 / 1.609344 = 158.81 mph; 159 mph is 0.17 kt more,
    # and 160 mph is 160 x 1.609344 / 1.852 - 138 = 1.04 kt more.
    assert {f.verdict for f in judged(("red, high: 138 kt", "red, high: 159 mph"))} == {Verdict.PASS}
    finding = other_than_pass(("red, high: 138 kt", "red, high: 160 mph"))
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(160 * 1.609344 / 1.852 - 138)


@pytest.mark.parametrize(
    ("mark", "subject"), [("WHITE", "white-arc"), ("GREEN", "green-arc"), ("YELLOW", "yellow-arc"), ("RED", "red-line")]
)
def test_a_mark_that_is_not_there_fails_once(mark: str, subject: str) -> None:
    gone = next(line for line in RECORDS.splitlines(keepends=True) if f"id: {mark}," in line)
    finding = other_than_pass((gone, ""))
    assert (finding.verdict, finding.subject) == (Verdict.FAIL, subject)
    assert finding.message == f"the airspeed indicator has no {subject.replace('-', ' ')}"


@pytest.mark.parametrize("end", ["low", "high"])
def test_airspeed_mark_no_data_without_an_end(end: str) -> None:
    speed = {"low": "low: 44 kt, ", "high": ", high: 108 kt"}[end]
    given = "green, low: 44 kt, high: 108 kt"
    finding = other_than_pass((given, given.replace(speed, "")))
    assert (finding.verdict, finding.subject) == (Verdict.NO_DATA, "GREEN")
    assert finding.message == f"where the {end} end of this green arc stands is not recorded as a speed"


@pytest.mark.parametrize("limit", ["stall_speed_flaps", "stall_speed", "flaps_speed"])
def test_airspeed_mark_no_data_without_a_limit(limit: str) -> None:
    line = next(line for line in RECORDS.splitlines(keepends=True) if f" {limit}:" in line)
    finding = other_than_pass((line, ""))
    assert finding.verdict is Verdict.NO_DATA
    assert finding.message == f"aircraft.limits.{limit} is not recorded"


FLAPLESS = (("    stall_speed_flaps: 39 kt\n", ""), ("    flaps_speed: 78 kt\n", ""))
NO_WHITE = "    - {id: WHITE, instrument: ASI, kind: arc, colour: white, low: 39 kt, high: 78 kt}\n"


def test_an_aircraft_without_flaps_has_no_white_arc() -> None:
    none = ("  limits:\n", "  flaps: false\n  limits:\n")
    assert other_than_pass(none, *FLAPLESS, (NO_WHITE, "")).verdict is Verdict.NOT_APPLICABLE
    for contradicted in ((none, *FLAPLESS), (none, (NO_WHITE, "")), (*FLAPLESS, (NO_WHITE, ""))):
        verdicts = {finding.verdict for finding in judged(*contradicted)}
        assert verdicts & {Verdict.FAIL, Verdict.NO_DATA}


def test_airspeed_marks_no_data_without_any() -> None:
    marks = RECORDS[RECORDS.index("  instrument_marks") :]
    (finding,) = judged((marks, "  instrument_marks: []\n"))
    assert finding.verdict is Verdict.NO_DATA


def test_airspeed_marks_no_data_without_limits() -> None:
    limits = RECORDS[RECORDS.index("  limits") : RECORDS.index("panel")]
    (finding,) = judged((limits, ""))
    assert finding.verdict is Verdict.NO_DATA


def test_marks_of_other_instruments_are_let_be() -> None:
    oil = "    - {id: OIL, instrument: ASI, kind: line, colour: red, high: 12 psi}\n"
    assert {f.verdict for f in judged(("    - {id: RED,", oil + "    - {id: RED,"))} == {Verdict.PASS}
    assert {f.subject for f in judged(("    - {id: RED,", oil + "    - {id: RED,"))} == {
        "WHITE",
        "GREEN",
        "YELLOW",
        "RED",
    }
