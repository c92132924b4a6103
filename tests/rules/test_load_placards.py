"""Placards of ballast places and weaker seats: 14 CFR 23.1557(a) and (b), before amendment 64."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "23-1557": "markings/seat-placard",
    "own arithmetic": "markings/ballast-placard",
}

PASS, WARN, NO_DATA, NA = Verdict.PASS, Verdict.WARN, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def records(kind: str, maximum: str, placard: str = "") -> str:
    most = f", maximum: {maximum}" if maximum else ""
    shown = f"{{id: P, purpose: {kind}, text: {placard}, beside: S}}" if placard else ""
    return f"""
weights:
  stations: [{{id: S, kind: {kind}, arm: 10 in{most}}}]
markings:
  placards: [{shown}]
"""


@pytest.mark.parametrize(
    ("maximum", "placard", "wanted", "line"),
    [
        ("30 lb", "BALLAST 30 LB MAXIMUM", PASS, 6),
        ("30 lb", "BALLAST 31 LB MAXIMUM", WARN, 6),
        ("30 lb", "BALLAST", WARN, 6),
        ("30 lb", "", WARN, 4),
        ("", "BALLAST 30 LB", NO_DATA, 4),
    ],
)
def test_ballast(maximum: str, placard: str, wanted: Verdict, line: int) -> None:
    finding = the_finding("markings/ballast-placard", records("ballast", maximum, placard), "S")
    assert (finding.verdict, finding.where[0].position.line) == (wanted, line)


@pytest.mark.parametrize(
    ("maximum", "placard", "wanted", "line"),
    [
        ("170 lb", "", NA, 4),  # less than 170 lb is what asks for a placard
        ("169.9 lb", "", WARN, 4),
        ("150 lb", "150 LB MAXIMUM", PASS, 6),
        ("150 lb", "151 LB MAXIMUM", WARN, 6),
        ("200 lb", "210 LB MAXIMUM", WARN, 6),
        ("", "", NO_DATA, 4),
    ],
)
def test_seat(maximum: str, placard: str, wanted: Verdict, line: int) -> None:
    finding = the_finding("markings/seat-placard", records("seat", maximum, placard), "S")
    assert (finding.verdict, finding.where[0].position.line) == (wanted, line)


@pytest.mark.parametrize("rule", ["ballast-placard", "seat-placard"])
def test_neither_is_recorded(rule: str) -> None:
    assert [f.verdict for f in findings(f"markings/{rule}", records("baggage", "40 lb"))] == [NA]
    assert [f.verdict for f in findings(f"markings/{rule}", "markings: {placards: []}\n")] == [NO_DATA]
