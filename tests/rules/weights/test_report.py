"""The last weighing is that of the finished aircraft, and its report is complete."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
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
