"""The last weighing is that of the finished aircraft, and its report is complete."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "own arithmetic": "weights/report-extremes",
    "nothing computed": "weights/painted-weighing weights/report-complete",
}

PAINTED, COMPLETE = "weights/painted-weighing", "weights/report-complete"

RECORDS = """
weights:
  weighings:
    - {id: W1, day: 2026-01-10, painted: false}
    - {id: W2, day: 2026-03-10, painted: true}
  loadings: [{id: LIGHT}, {id: TAIL}, {id: FIRST}]
  report:
    weighing: W2
    most_forward: LIGHT
    most_aft: TAIL
    first_flight: FIRST
    equipment_list: true
    equipment_sorted: true
    oil: true
    evidence: evidence/weight-and-balance.pdf
"""


def verdicts(records: str) -> list[Verdict]:
    return [finding.verdict for finding in findings(COMPLETE, records)]


def test_painted_passes_by_the_latest_weighing() -> None:
    finding = the_finding(PAINTED, RECORDS, "W2")
    assert finding.verdict is Verdict.PASS
    assert finding.where[0].position.line == 6
    assert the_finding(PAINTED, RECORDS.replace("2026-01-10", "2026-03-09"), "W2").verdict is Verdict.PASS


def test_a_later_weighing_without_paint_warns() -> None:
    records = RECORDS.replace("2026-01-10", "2026-03-11")
    assert the_finding(PAINTED, records, "W1").verdict is Verdict.WARN


@pytest.mark.parametrize("records", [RECORDS.replace(", painted: true", ""), "weights: {components: []}"])
def test_painted_without_data(records: str) -> None:
    assert [f.verdict for f in findings(PAINTED, records)] == [Verdict.NO_DATA]


def test_a_complete_report_passes() -> None:
    assert set(verdicts(RECORDS)) == {Verdict.PASS}


@pytest.mark.parametrize("field", ["equipment_list", "equipment_sorted", "oil"])
def test_a_report_that_does_not_say_it_fails(field: str) -> None:
    found = [
        f for f in findings(COMPLETE, RECORDS.replace(f"{field}: true", f"{field}: false")) if f.verdict is Verdict.FAIL
    ]
    # An aircraft is put on a line before records that have none.
    (line,) = [number for number, text in enumerate(RECORDS.splitlines(), 2) if f" {field}:" in text]
    assert [f.where[0].position.line for f in found] == [line]


def test_a_report_on_an_earlier_weighing_fails() -> None:
    assert verdicts(RECORDS.replace("weighing: W2", "weighing: W1")).count(Verdict.FAIL) == 1
    later = RECORDS.replace("2026-01-10", "2026-03-11")
    assert verdicts(later).count(Verdict.FAIL) == 1


@pytest.mark.parametrize(
    "field",
    ["weighing", "most_forward", "most_aft", "first_flight", "equipment_list", "equipment_sorted", "oil", "evidence"],
)
def test_a_report_without_data(field: str) -> None:
    records = "".join(line for line in RECORDS.splitlines(keepends=True) if not line.startswith(f"    {field}:"))
    assert verdicts(records).count(Verdict.NO_DATA) == 1


def test_no_report_is_no_data() -> None:
    assert verdicts(RECORDS[: RECORDS.index("  report:")]) == [Verdict.NO_DATA]


def test_a_report_dated_before_its_weighing_fails() -> None:
    on_the_day = RECORDS.replace("weighing: W2\n", "weighing: W2\n    day: 2026-03-10\n")
    assert set(verdicts(on_the_day)) == {Verdict.PASS}
    assert verdicts(on_the_day.replace("    day: 2026-03-10", "    day: 2026-03-09"))[-1] is Verdict.FAIL


EXTREMES = "weights/report-extremes"

LOADED = """
weights:
  weighings:
    - id: W2
      day: 2026-03-10
      aboard: []
      missing: []
      scales:
        - {wheel: nose, reading: 200 lb, tare: 0 lb, arm: -40 in}
        - {wheel: left-main, reading: 800 lb, tare: 0 lb, arm: 20 in}
  stations: [{id: SEAT, kind: seat, arm: 8 in}, {id: SHELF, kind: baggage, arm: 58 in}]
  loadings:
    - {id: LIGHT, stations: {SEAT: 150 lb}}
    - {id: TAIL, stations: {SEAT: 150 lb, SHELF: 50 lb}}
  report: {most_forward: LIGHT, most_aft: TAIL}
"""
"""1,000 lb at 8 in. LIGHT stays at 8 in; TAIL is 1,150 lb at 8 in and 50 lb at 58 in: 12100 / 1200 = 10.083 in."""


SHELF_AND_AFT = "SHELF: 50 lb}}\n  report: {most_forward: LIGHT, most_aft: TAIL"


@pytest.mark.parametrize(
    ("there", "instead", "wanted"),
    [
        ("", "", [Verdict.PASS, Verdict.PASS]),
        ("most_forward: LIGHT", "most_forward: TAIL", [Verdict.WARN, Verdict.PASS]),
        ("most_aft: TAIL", "most_aft: LIGHT", [Verdict.PASS, Verdict.WARN]),
        # one pound on the shelf moves it by 50 / 1151 = 0.043 in, within the rounding; two by 0.087 in
        (SHELF_AND_AFT, SHELF_AND_AFT.replace("50", "1").replace("TAIL", "LIGHT"), [Verdict.PASS, Verdict.PASS]),
        (SHELF_AND_AFT, SHELF_AND_AFT.replace("50", "2").replace("TAIL", "LIGHT"), [Verdict.PASS, Verdict.WARN]),
        ("most_forward: LIGHT, ", "", [Verdict.NOT_APPLICABLE, Verdict.PASS]),
    ],
)
def test_the_report_shows_the_extremes(there: str, instead: str, wanted: list[Verdict]) -> None:
    assert not there or there in LOADED
    assert [f.verdict for f in findings(EXTREMES, LOADED.replace(there, instead, 1) if there else LOADED)] == wanted


def test_the_extremes_of_no_report() -> None:
    (finding,) = findings(EXTREMES, LOADED[: LOADED.index("  report:")])
    assert finding.verdict is Verdict.NO_DATA


def test_the_extremes_of_loadings_that_cannot_be_weighed() -> None:
    fuelled = LOADED.replace("{id: LIGHT, ", "{id: LIGHT, fuel: {TANK: 10 US gal}, ") + "fuel: {tanks: [{id: TANK}]}\n"
    (finding,) = findings(EXTREMES, fuelled)
    assert finding.verdict is Verdict.NO_DATA
    assert finding.message == "fuel density or the arm of tank TANK is not recorded"
