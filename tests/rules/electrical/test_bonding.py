"""Rules on bonds: AC 43.13-1B 11-187c, 11-188e and f, and 11-189, all read."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import the_finding

ORACLES = {
    "ac43-11-188-189": "electrical/bonding",
    "ac43-11-189-a": "electrical/bond-treatment",
    "ac43-11-187-c": "electrical/static-bond",
    "nothing computed": "electrical/bond-faces electrical/bond-magnesium electrical/bond-screws",
}

PASS, FAIL, NO_DATA, NOT = Verdict.PASS, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

# Paragraphs 11-189 and 11-188f: 0.003 ohm at a jumper, 0.0025 ohm from a frame to structure; 11-189a: within 24 hours.
CASES = [
    ("bonding", "kind: jumper, resistance: 1 mohm", PASS, 1, 3),
    ("bonding", "kind: jumper, resistance: 3 mohm", PASS, 3, 3),
    ("bonding", "kind: jumper, resistance: 3.01 mohm", FAIL, 3.01, 3),
    ("bonding", "kind: frame, resistance: 2.5 mohm", PASS, 2.5, 2.5),
    ("bonding", "kind: frame, resistance: 2.51 mohm", FAIL, 2.51, 2.5),
    ("bond-treatment", "kind: jumper, treated_within: 2 h", PASS, 2, 24),
    ("bond-treatment", "kind: jumper, treated_within: 24 h", PASS, 24, 24),
    ("bond-treatment", "kind: jumper, treated_within: 24.1 h", FAIL, 24.1, 24),
    ("bond-faces", "kind: jumper, bare_metal: true", PASS, None, None),
    ("bond-faces", "kind: frame, bare_metal: true", PASS, None, None),
    ("bond-faces", "kind: jumper, bare_metal: false", FAIL, None, None),
    ("bond-magnesium", "kind: jumper, onto: steel", PASS, None, None),
    ("bond-magnesium", "kind: jumper, onto: other", PASS, None, None),
    ("bond-magnesium", "kind: jumper, onto: magnesium", FAIL, None, None),
    ("bond-screws", "kind: jumper, fastened_by: machine-screw", PASS, None, None),
    ("bond-screws", "kind: frame, fastened_by: machine-screw", PASS, None, None),
    ("bond-screws", "kind: jumper, fastened_by: self-tapping-screw", FAIL, None, None),
]


def bond(fields: str) -> str:
    return f"electrical:\n  bonds:\n    - {{id: J, {fields}}}\n"


@pytest.mark.parametrize(("rule", "fields", "verdict", "measured", "limit"), CASES)
def test_bonds_at_over_and_within(
    rule: str, fields: str, verdict: Verdict, measured: float | None, limit: float | None
) -> None:
    found = the_finding(f"electrical/{rule}", bond(fields), "J")
    assert found.verdict is verdict
    assert found.where[0].position.line == 4
    assert found.working is not None
    assert any("AC 43.13-1B 11-18" in step for step in found.working())
    if measured is not None:
        assert found.measured is not None
        assert found.limit is not None
        assert (found.measured.value, found.limit.value) == pytest.approx((measured, limit))


@pytest.mark.parametrize("rule", sorted({case[0] for case in CASES}))
def test_a_bond_that_says_nothing_is_no_data(rule: str) -> None:
    assert the_finding(f"electrical/{rule}", bond("kind: jumper"), "J").verdict is NO_DATA
    assert the_finding(f"electrical/{rule}", "electrical: {nominal_voltage: 14 V}", "aircraft").verdict is NO_DATA


# Paragraph 11-187c: larger than 3 square inches and longer than 3 in.
@pytest.mark.parametrize(
    ("fields", "verdict"),
    [
        ("area: 4 in2, length: 4 in, bonded: true", PASS),
        ("area: 3.1 in2, length: 3.1 in, bonded: false", FAIL),
        ("area: 3 in2, length: 4 in, bonded: false", NOT),
        ("area: 4 in2, length: 3 in, bonded: false", NOT),
        ("area: 4 in2, length: 4 in", NO_DATA),
        ("length: 4 in, bonded: true", NO_DATA),
        ("area: 4 in2, bonded: true", NO_DATA),
    ],
)
def test_large_isolated_parts_are_bonded(fields: str, verdict: Verdict) -> None:
    found = the_finding("electrical/static-bond", f"electrical:\n  isolated_parts:\n    - {{id: P, {fields}}}\n", "P")
    assert found.verdict is verdict
    assert found.where[0].position.line == 4
    if verdict in {PASS, FAIL}:
        assert found.working is not None
        assert len(found.working()) == 3


def test_without_a_list_of_isolated_parts_there_is_no_data() -> None:
    found = the_finding("electrical/static-bond", "electrical: {nominal_voltage: 14 V}", "aircraft")
    assert found.verdict is NO_DATA
