"""Rule on what wires carry: AC 43.13-1B Table 11-9 (read), whose copper row for size 6 at 105 degC is 50 A."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-table-11-9": "electrical/wire-load",
}

RULE = "electrical/wire-load"

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating, limits: {altitude: 10000 ft}}"

SIX = "size: 6 AWG, insulation: 105 degC"
"""50 A by Table 11-9."""


def branch(current: str, wire: str, *, aircraft: str = AIRCRAFT) -> str:
    """BAT - MAIN - W1 - L - W2 - BAT.return."""
    return f"""{aircraft}
electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: MAIN}}]
  loads: [{{id: L, current: {current}, nature: led}}]
  wires:
    - {{id: W0, from: BAT, to: MAIN, size: 0000 AWG, insulation: 105 degC}}
    - {{id: W1, from: MAIN, to: L, {wire}}}
    - {{id: W2, from: L.return, to: BAT.return, {wire}}}
"""


def test_load_passes_below_the_ampacity() -> None:
    found = the_finding(RULE, branch("40 A", SIX), "W1")
    assert found.verdict is Verdict.PASS
    assert found.measured == (40, "A")
    assert found.limit == (50, "A", "at-most")
    assert found.margin == pytest.approx(0.2)
    assert found.message == "this 6 AWG wire feeds loads of 40 A; it carries 50.0 A as installed"


@pytest.mark.parametrize("wire", ["W1", "W2"])
def test_load_exactly_at_the_ampacity_passes_on_both_ways(wire: str) -> None:
    assert the_finding(RULE, branch("50 A", SIX), wire).verdict is Verdict.PASS


@pytest.mark.parametrize(("wire", "line"), [("W1", 8), ("W2", 9)])
def test_load_just_over_the_ampacity_fails_at_the_wires_line(wire: str, line: int) -> None:
    found = the_finding(RULE, branch("50.1 A", SIX), wire)
    assert found.verdict is Verdict.FAIL
    assert found.margin == pytest.approx(-0.1 / 50)
    assert found.where[0].position.line == line
    assert found.remedy == "Fit a thicker wire, or feed part of the loads by another."


def test_load_on_a_wire_without_data_is_not_judged() -> None:
    found = the_finding(RULE, branch("5 A", "size: 18 AWG"), "W1")
    assert found.verdict is Verdict.NO_DATA
    assert "insulation" in found.message


def test_load_without_an_altitude_is_not_judged() -> None:
    (found,) = findings(RULE, branch("5 A", SIX, aircraft=AIRCRAFT.replace(", limits: {altitude: 10000 ft}", "")))
    assert found.verdict is Verdict.NO_DATA


def test_load_on_a_starter_feeder_is_left_out() -> None:
    found = the_finding(RULE, branch("200 A", f"{SIX}, serves: starter-feeder"), "W1")
    assert found.verdict is Verdict.NOT_APPLICABLE


def test_load_working_ends_with_the_sum() -> None:
    found = the_finding(RULE, branch("40 A", SIX), "W1")
    assert found.working is not None
    first, *_, last = found.working()
    assert first == "Table 11-9, 6 AWG, 105 degC: 50 A in a full bundle at 70 degC and 60,000 ft"
    assert last == "all the loads behind the wire, on at once: 40 A"


TWO_SOURCES = f"""{AIRCRAFT}
electrical:
  sources: [{{id: BAT, kind: battery}}, {{id: ALT, kind: alternator, rating: 40 A}}]
  buses: [{{id: MAIN}}]
  grounds: [{{id: G, kind: single-point}}]
  loads:
    - {{id: L1, current: 30 A, nature: heater, grounded_at: G}}
    - {{id: L2, current: 25 A, nature: heater}}
  wires:
    - {{id: B-LEAD, from: ALT, to: MAIN, {SIX}}}
    - {{id: CABLE, from: BAT, to: MAIN, {SIX}}}
    - {{id: W1, from: MAIN, to: L1, {SIX}}}
    - {{id: W2, from: MAIN, to: L2, {SIX}}}
    - {{id: R2, from: L2.return, to: G, {SIX}}}
    - {{id: R-BAT, from: BAT.return, to: G, {SIX}}}
    - {{id: R-ALT, from: ALT.return, to: G, {SIX}}}
"""


@pytest.mark.parametrize(
    ("wire", "amperes"),
    [
        ("B-LEAD", 40),  # no more than the alternator gives
        ("CABLE", 55),  # the battery alone carries all: 30 + 25
        ("W1", 30),
        ("W2", 25),
        ("R2", 25),
        ("R-BAT", 55),
        ("R-ALT", 40),
    ],
)
def test_load_between_two_sources_is_the_larger_demand_of_either_side(wire: str, amperes: float) -> None:
    found = the_finding(RULE, TWO_SOURCES, wire)
    assert found.measured == (amperes, "A")
    assert found.verdict is (Verdict.FAIL if amperes > 50 else Verdict.PASS)


def test_load_of_a_coil_is_its_own_current() -> None:
    text = f"""
        {AIRCRAFT}
        electrical:
          sources: [{{id: BAT, kind: battery}}]
          switches: [{{id: K, kind: contactor, coil: 0.8 A}}]
          wires:
            - {{id: W1, from: BAT, to: K.coil, {SIX}}}
            - {{id: W2, from: K.coil-return, to: BAT.return, {SIX}}}
    """
    assert [finding.measured for finding in findings(RULE, text)] == [(0.8, "A"), (0.8, "A")]


def test_load_of_a_meshed_wire_is_bounded_by_what_is_let_through() -> None:
    text = f"""
        {AIRCRAFT}
        electrical:
          sources: [{{id: BAT, kind: battery}}]
          protection:
            - {{id: F1, kind: breaker, rating: 20 A, fed_from: BAT}}
            - {{id: F2, kind: breaker, rating: 30 A, fed_from: BAT}}
          junctions: [{{id: A, kind: stud}}]
          loads: [{{id: L, current: 45 A, nature: heater, grounded_at: BAT.return}}]
          wires:
            - {{id: W1, from: F1, to: A, {SIX}}}
            - {{id: W2, from: F2, to: A, {SIX}}}
            - {{id: W3, from: A, to: L, {SIX}}}
    """
    measured = {finding.subject: finding.measured for finding in findings(RULE, text)}
    assert measured == {"W1": (30, "A"), "W2": (30, "A"), "W3": (45, "A")}
