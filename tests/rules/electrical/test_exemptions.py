"""Rules on wires without protection: old 23.1357(a), read in a translation, and the builder's own manual."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "own arithmetic": "electrical/unprotected-length",
    "nothing computed": "electrical/starter-feeder",
}

PASS, FAIL, NO_DATA, NOT = Verdict.PASS, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
LENGTH, STARTER = "electrical/unprotected-length", "electrical/starter-feeder"


def lead(first: str = "4 in", second: str = "2 in", limit: str = "short_lead: 6 in") -> str:
    """BAT - W1 - SW - W2 - F - W3 - L: the way to the far end of W2 is both lengths, and F ends it."""
    return f"""electrical:
  {limit}
  sources: [{{id: BAT, kind: battery}}]
  switches: [{{id: SW, kind: contactor}}]
  protection: [{{id: F, kind: breaker, rating: 5 A}}]
  loads: [{{id: L, current: 1 A, nature: led}}]
  wires:
    - {{id: W1, from: BAT, to: SW, length: {first}, serves: short-lead}}
    - {{id: W2, from: SW, to: F, length: {second}, serves: short-lead}}
    - {{id: W3, from: F, to: L, length: 40 in}}
    - {{id: W4, from: L.return, to: BAT.return, length: 40 in}}
"""


@pytest.mark.parametrize(("second", "verdict"), [("1 in", PASS), ("2 in", PASS), ("2.1 in", FAIL)])
def test_a_short_lead_is_measured_from_the_battery(second: str, verdict: Verdict) -> None:
    found = the_finding(LENGTH, lead(second=second), "W2")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.measured.value == pytest.approx(4 + float(second.split(maxsplit=1)[0]))
    assert found.limit == (6, "in", "at-most")
    assert [spot.position.line for spot in found.where] == [10, 3]
    assert found.working is not None
    assert found.working()[2] == "short_lead, as declared: 6 in"
    assert {finding.subject for finding in findings(LENGTH, lead())} == {"W1", "W2"}


def test_the_shorter_of_two_ways_counts() -> None:
    by_another = lead(first="30 in").replace("  wires:", "  wires:\n    - {id: W0, from: BAT, to: SW, length: 1 in}")
    found = the_finding(LENGTH, by_another, "W2")
    assert found.measured == (3, "in")


@pytest.mark.parametrize(
    "records", [lead(limit="nominal_voltage: 14 V"), lead(first="4 in").replace("length: 4 in, ", "")]
)
def test_without_a_declared_limit_or_a_length_there_is_no_data(records: str) -> None:
    assert the_finding(LENGTH, records, "W2").verdict is NO_DATA


def test_what_no_exemption_covers_is_left_to_wire_protection() -> None:
    records = lead(first="90 in").replace(", serves: short-lead", "")
    assert {found.verdict for found in findings(LENGTH, records)} == {NOT}
    aircraft = "aircraft: {name: Test Article, authority: US, stage: operating, limits: {altitude: 10000 ft}}\n"
    assert the_finding("electrical/wire-protection", aircraft + records, "W2").verdict is FAIL


def test_a_starter_feeder_has_no_limit_of_length() -> None:
    records = lead(first="90 in").replace("serves: short-lead", "serves: starter-feeder")
    assert {found.verdict for found in findings(LENGTH, records)} == {NOT}
    assert "92 in from the battery" in the_finding(LENGTH, records, "W2").message


def test_a_generator_delivers_no_more_than_its_rating() -> None:
    records = lead(first="90 in").replace("kind: battery", "kind: alternator, rating: 40 A")
    assert [found.verdict for found in findings(LENGTH, records)] == [NOT]


START = """electrical:
  sources: [{id: BAT, kind: battery}]
  switches: [{id: K, kind: contactor}]
  grounds: [{id: G, kind: engine}]
  junctions: [{id: J, kind: stud}]
  protection: [{id: F, kind: breaker, rating: 5 A}]
  loads:
    - {id: M, current: 100 A, nature: motor, starter: true, grounded_at: G}
    - {id: L, current: 1 A, nature: led, grounded_at: G}
  wires:
    - {id: W1, from: BAT, to: J, serves: starter-feeder}
    - {id: W2, from: J, to: K, serves: starter-feeder}
    - {id: W3, from: K, to: M, serves: starter-feeder}
    - {id: W4, from: G, to: BAT.return, serves: starter-feeder}
    - {id: W5, from: J, to: L}
    - {id: W6, from: J, to: F}
"""


def test_what_leads_from_battery_to_starter_and_back_is_a_starter_feeder() -> None:
    assert [(found.subject, found.verdict) for found in findings(STARTER, START)] == [
        ("W1", PASS),
        ("W2", PASS),
        ("W3", PASS),
        ("W4", PASS),
    ]


@pytest.mark.parametrize("branch", ["from: J, to: L", "from: J, to: F"])
def test_a_branch_of_it_is_none(branch: str) -> None:
    found = the_finding(
        STARTER, START.replace(branch, f"{branch}, serves: starter-feeder"), "W5" if "L" in branch else "W6"
    )
    assert found.verdict is FAIL
    assert found.where[0].position.line == (16 if "L" in branch else 17)
    assert found.working is not None
    assert found.working()[0] == "starters: M"


def test_a_wire_behind_a_protective_device_is_none() -> None:
    records = START.replace("from: K, to: M", "from: F, to: M").replace("from: J, to: F}", "from: K, to: F}")
    assert [found.verdict for found in findings(STARTER, records)] == [FAIL, FAIL, FAIL, PASS]  # W4 returns the starter


def test_without_a_starter_there_is_no_data() -> None:
    assert [found.verdict for found in findings(STARTER, START.replace(", starter: true", ""))] == [NO_DATA]
    (none,) = findings(STARTER, START.replace(", serves: starter-feeder", ""))
    assert none.verdict is NOT


def test_a_branch_of_several_wires_that_ends_nowhere_is_none() -> None:
    records = START.replace("junctions: [", "junctions: [{id: J2, kind: stud}, {id: J3, kind: stud}, ").rstrip("\n") + (
        "\n    - {id: W7, from: K, to: J2, serves: starter-feeder}"
        "\n    - {id: W8, from: J2, to: J3, serves: starter-feeder}\n"
    )
    verdicts = {found.subject: found.verdict for found in findings(STARTER, records)}
    assert verdicts == {"W1": PASS, "W2": PASS, "W3": PASS, "W4": PASS, "W7": FAIL, "W8": FAIL}


def test_a_lead_is_measured_from_the_battery_itself() -> None:
    assert the_finding(LENGTH, lead(), "W1").measured == (4, "in")
