"""Papers that carry flights: 14 CFR 91.203 and 91.319(b), and what quoted operating limitations want. Judged on 1 June 2026."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings

PASS, WARN, FAIL, NO_DATA, NA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"documents/{rule}", text)
    return finding


def document(kind: str, more: str = "") -> str:
    return f"documents:\n  - {{id: D, kind: {kind}{more}}}\n"


@pytest.mark.parametrize(
    ("more", "wanted"),
    [
        (", day: 2026-06-01", PASS),
        (", day: 2026-06-02", FAIL),
        (", day: 2026-05-01, expires: 2026-06-01", PASS),
        (", day: 2026-05-01, expires: 2026-05-31", FAIL),
        ("", NO_DATA),
    ],
)
def test_airworthiness_certificate(more: str, wanted: Verdict) -> None:
    finding = one("airworthiness-certificate", document("special airworthiness certificate", more))
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 3)


def test_no_certificate() -> None:
    assert one("airworthiness-certificate", document("application for airworthiness certificate")).verdict is NO_DATA


LIMITED = """
aircraft:
  name: T
  authority: US
  stage: operating
  operating_limitations: [{{id: OL, text: as issued, on: [night-vfr], says: allows{}}}]
documents: [{{id: D-LIM, kind: operating limitations}}]
"""


def test_limitations_entered() -> None:
    sound = one("limitations-entered", LIMITED.format(", document: D-LIM"))
    assert (sound.verdict, sound.where[0].position.line) == (PASS, 6)
    assert one("limitations-entered", LIMITED.format("")).verdict is NO_DATA
    assert one("limitations-entered", document("operating limitations")).verdict is NO_DATA
    assert one("limitations-entered", "panel: {}\n").verdict is NO_DATA


def test_flight_test_plan() -> None:
    assert one("flight-test-plan", document("flight test plan")).verdict is PASS
    assert one("flight-test-plan", document("building plan")).verdict is WARN
    assert one("flight-test-plan", "panel: {}\n").verdict is WARN


ENTRY = "91.319(b) complied with; VSO 39 kt, VX 58 kt, VY 66 kt at 1250 lb, cg 13.1 in"


@pytest.mark.parametrize(
    ("left_out", "wanted"),
    [("", PASS), ("91.319(b)", FAIL), ("VSO", FAIL), ("VX", FAIL), ("VY", FAIL), ("1250 lb", FAIL), ("cg", FAIL)],
)
def test_phase_one(left_out: str, wanted: Verdict) -> None:
    """The order's wording as quoted: 91.319(b), VSO, VX, VY, and the weight and CG at which they were found."""
    text = ENTRY.replace(left_out, "") if left_out else ENTRY
    finding = one("phase-one", document("phase one entry", f', text: "{text}"'))
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 3)


def test_phase_one_not_recorded() -> None:
    assert one("phase-one", document("phase one entry")).verdict is NO_DATA
    assert one("phase-one", document("flight test plan")).verdict is NO_DATA


WEIGHED = "weights: {weighings: [{id: W1, day: 2026-05-01}, {id: W2, day: 2026-05-20}]}\n"


@pytest.mark.parametrize(
    ("more", "wanted"),
    [(", day: 2026-05-21", PASS), (", day: 2026-05-20", PASS), (", day: 2026-05-19", FAIL), ("", NO_DATA)],
)
def test_weight_report(more: str, wanted: Verdict) -> None:
    finding = one("weight-report", WEIGHED + document("weight and balance report", more))
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 4)


def test_weight_report_with_nothing_to_contradict() -> None:
    assert one("weight-report", WEIGHED).verdict is NA
    assert one("weight-report", "weights: {weighings: []}\n" + document("weight and balance report")).verdict is NA
    assert one("weight-report", "panel: {}\n").verdict is NO_DATA
