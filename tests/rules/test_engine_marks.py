"""Marks on the instrument that shows what they mark, and arcs inside the red lines: agreement of the records, our own."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "own arithmetic": "markings/arc-inside-red",
    "nothing computed": "markings/mark-on-instrument",
}

PASS, WARN, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

RECORDS = """
panel:
  items:
    - {{id: EMS, what: engine monitor, kind: display, provides: [rpm, oil-pressure]}}
    - {{id: ASI, what: airspeed indicator, kind: instrument}}
    - {{id: FUELP, what: fuel pressure gauge, kind: instrument}}
    - {{id: GPS, what: navigator, kind: display, provides: [navigation]}}
markings:
  instrument_marks:
    - {{id: RED-LOW, instrument: EMS, kind: line, colour: red, high: 12 psi}}
    - {{id: RED, instrument: EMS, kind: line, colour: red, high: 102 psi}}
    - {{id: RPM-RED, instrument: EMS, kind: line, colour: red, high: 5800 rpm}}
    - {{id: MARK, {mark}}}
"""


@pytest.mark.parametrize(
    ("mark", "verdict"),
    [
        ("instrument: EMS, kind: arc, colour: green, low: 29 psi, high: 73 psi", PASS),
        ("instrument: GPS, kind: arc, colour: green, low: 29 psi, high: 73 psi", WARN),
        ("instrument: ASI, kind: arc, colour: green, low: 44 kt, high: 108 kt", PASS),
        ("instrument: EMS, kind: arc, colour: green, low: 44 kt, high: 108 kt", WARN),
        ("instrument: EMS, kind: arc, colour: green, low: 60 degC, high: 110 degC", PASS),
        ("instrument: ASI, kind: arc, colour: green, low: 60 degC, high: 110 degC", WARN),
        ("instrument: FUELP, kind: line, colour: red, high: 8 psi", APART),
    ],
)
def test_a_mark_is_on_its_instrument(mark: str, verdict: Verdict) -> None:
    found = the_finding("markings/mark-on-instrument", RECORDS.format(mark=mark), "MARK")
    assert (found.verdict, found.where[0].position.line) == (verdict, 14)


def test_marks_that_tell_no_quantity() -> None:
    volts = "markings: {instrument_marks: [{id: M, instrument: V, kind: arc, colour: green, low: 13 V, high: 14 V}]}\n"
    panel = "panel: {items: [{id: V, kind: instrument}]}\n"
    assert [f.verdict for f in findings("markings/mark-on-instrument", volts + panel)] == [APART]


def test_marks_that_are_not_recorded_are_on_no_instrument() -> None:
    (found,) = findings("markings/mark-on-instrument", "panel: {items: [{id: V, kind: instrument}]}\n")
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("low", "high", "verdict"),
    [
        ("low: 29 psi, ", "high: 73 psi", PASS),
        ("low: 12 psi, ", "high: 102 psi", PASS),  # a red line stands at its end
        ("low: 11.9 psi, ", "high: 73 psi", WARN),
        ("low: 29 psi, ", "high: 102.1 psi", WARN),
        ("low: 103 psi, ", "high: 110 psi", WARN),
        ("low: 73 psi, ", "high: 29 psi", WARN),
        ("low: 5500 rpm, ", "high: 5800 rpm", PASS),
        ("low: 5500 rpm, ", "high: 5801 rpm", WARN),
        ("low: 13 V, ", "high: 14 V", PASS),
        ("low: 14 V, ", "high: 14 V", WARN),
        ("low: 0 A, ", "high: 30 A", PASS),  # in a unit that no instrument of these rules shows
        ("low: 30 A, ", "high: 0 A", WARN),
        ("", "high: 73 psi", NO_DATA),
    ],
)
def test_an_arc_stays_inside_the_red_lines(low: str, high: str, verdict: Verdict) -> None:
    mark = f"instrument: EMS, kind: arc, colour: green, {low}{high}"
    assert the_finding("markings/arc-inside-red", RECORDS.format(mark=mark), "MARK").verdict is verdict


def test_no_arc_is_not_asked() -> None:
    mark = "instrument: EMS, kind: line, colour: red, high: 5000 rpm"
    assert [f.verdict for f in findings("markings/arc-inside-red", RECORDS.format(mark=mark))] == [APART]
