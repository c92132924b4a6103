"""Diodes and junctions against the ratings declared for them; currents are plain sums, worked beside each case."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "own arithmetic": "electrical/part-rating",
}

RULE = "electrical/part-rating"
# The source feeds the splice J by W1, J feeds loads of 3 A and, through the diode D, of 4 A: W1 carries 7 A, D 4 A.
RECORDS = """electrical:
  sources: [{id: ALT, kind: alternator, rating: 40 A}]
  grounds: [{id: G, kind: single-point}]
  junctions: [{id: J, kind: splice%s}]
  diodes: [{id: D%s}]
  loads: [{id: A, current: 3 A, nature: led}, {id: B, current: 4 A, nature: led}]
  wires:
    - {id: W1, from: ALT, to: J, size: 14 AWG}
    - {id: W2, from: J, to: A, size: 14 AWG}
    - {id: W3, from: J, to: D.in, size: 14 AWG}
    - {id: W4, from: D.out, to: B, size: 14 AWG}
    - {id: W5, from: A.return, to: G, size: 14 AWG}
    - {id: W6, from: B.return, to: G, size: 14 AWG}
    - {id: W7, from: ALT.return, to: G, size: 14 AWG}
"""


def records(junction: str = ", rating: 10 A", diode: str = ", rating: 10 A") -> str:
    return RECORDS % (junction, diode)


@pytest.mark.parametrize(
    ("rating", "verdict"),
    [("7.1 A", Verdict.PASS), ("7 A", Verdict.PASS), ("6.9 A", Verdict.FAIL), ("7 mA", Verdict.FAIL)],
)
def test_a_junction_by_the_wire_that_carries_most(rating: str, verdict: Verdict) -> None:
    found = the_finding(RULE, records(junction=f", rating: {rating}"), "J")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.measured.value == pytest.approx(7)
    assert found.where[0].position.line == 5


@pytest.mark.parametrize(
    ("rating", "verdict"), [("4.1 A", Verdict.PASS), ("4 A", Verdict.PASS), ("3.9 A", Verdict.FAIL)]
)
def test_a_diode_by_the_loads_behind_it(rating: str, verdict: Verdict) -> None:
    found = the_finding(RULE, records(diode=f", rating: {rating}"), "D")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.measured.value == pytest.approx(4)


def test_without_a_rating_there_is_no_data() -> None:
    assert {f.subject: f.verdict for f in findings(RULE, records("", ""))} == dict.fromkeys(("J", "D"), Verdict.NO_DATA)


def test_a_starter_feeder_is_not_counted() -> None:
    text = records(", rating: 5 A").replace("to: J, size: 14 AWG", "to: J, size: 14 AWG, serves: starter-feeder")
    assert the_finding(RULE, text, "J").verdict is Verdict.PASS


def test_nothing_to_rate_is_not_asked() -> None:
    (found,) = findings(RULE, "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is Verdict.NOT_APPLICABLE
