"""Papers that carry flights: 14 CFR 91.203 and 91.319(b), and what quoted operating limitations want. Judged on 1 June 2026."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings

ORACLES = {
    "nothing computed": "papers/airworthiness-certificate papers/flight-test-plan papers/phase-one",
}

NO_SUCH_CASE = {
    "papers/flight-test-plan": {"no data": "a plan that is not recorded is itself the warning"},
}

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"papers/{rule}", text)
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


def test_flight_test_plan() -> None:
    assert one("flight-test-plan", document("flight test plan")).verdict is PASS
    assert one("flight-test-plan", document("task list")).verdict is PASS
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


def test_phase_one_with_more_than_is_wanted() -> None:
    assert one("phase-one", document("phase one entry", f', text: "Today: {ENTRY}; nothing found"')).verdict is PASS


def test_phase_one_not_recorded() -> None:
    assert one("phase-one", document("phase one entry")).verdict is NO_DATA
    assert one("phase-one", document("flight test plan")).verdict is NO_DATA
