"""Deviations: known, allowed, agreed, current, and about something. Own choices, so the sources are the words of the rules."""

from __future__ import annotations

import datetime

import pytest

from jurystrut.rulebook import Finding, Stage, Verdict
from jurystrut.testing import judged, said_by

ORACLES = {
    "nothing computed": (
        "papers/deviation-allowed papers/deviation-current papers/deviation-dated papers/deviation-ends "
        "papers/deviation-matches papers/deviation-rule"
    ),
}

RECORDED = "it judges what is recorded, and where there is nothing there is nothing to judge"
NO_SUCH_CASE = {
    "papers/deviation-allowed": {"no data": RECORDED},
    "papers/deviation-current": {"no data": RECORDED},
    "papers/deviation-dated": {"no data": RECORDED},
    "papers/deviation-ends": {"no data": RECORDED},
    "papers/deviation-matches": {"no data": RECORDED},
    "papers/deviation-rule": {"no data": RECORDED},
}

DAY = datetime.date(2026, 6, 1)
RULES = "rule current allowed ends dated matches".split()

# One load that nothing switches off: electrical/load-switch warns about LAMP; GONE is no record.
ELECTRICAL = """
electrical:
  sources: [{id: BAT, kind: battery, capacity: 18 A*h}]
  protection: [{id: F1, kind: blade-fuse, rating: 10 A}]
  loads: [{id: LAMP, current: 1 A, nature: lamp}]
  wires:
    - {id: W1, from: BAT, to: F1}
    - {id: W2, from: F1, to: LAMP}
    - {id: W3, from: LAMP.return, to: BAT.return}
"""
GOOD = {
    "rule": "electrical/load-switch",
    "subject": "LAMP",
    "reason": "a warning lamp",
    "agreed_by": "counsellor",
    "day": "2026-05-01",
    "until": "2026-06-01",
}


def said(asked: str, changes: dict[str, str | None] | None = None, at: Stage = Stage.SYSTEMS) -> Finding:
    """What a rule says of the one deviation, written out with some fields changed or left out."""
    fields = {key: value for key, value in {**GOOD, **(changes or {})}.items() if value is not None}
    line = "deviations: [{" + ", ".join(f"{key}: {value}" for key, value in fields.items()) + "}]\n"
    judgement = judged(f"aircraft: {{name: T, authority: US, stage: systems}}\n{line}{ELECTRICAL}", at=at, on=DAY)
    (finding,) = said_by(f"papers/deviation-{asked}", judgement)
    return finding


@pytest.mark.parametrize("rule", RULES)
def test_passes(rule: str) -> None:
    assert said(rule).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("rule", "changes", "verdict", "words"),
    [
        ("rule", {"rule": "electrical/load-swich"}, Verdict.FAIL, "there is no rule"),
        ("current", {"until": "2026-05-31"}, Verdict.FAIL, "ended: until 2026-05-31"),
        ("current", {"until": "systems"}, Verdict.FAIL, "ended: until systems"),
        ("allowed", {"rule": "weights/gross-weight"}, Verdict.FAIL, "gross weight is an operating limitation"),
        ("ends", {"until": None}, Verdict.WARN, "has no end"),
        ("dated", {"day": "2026-06-02", "until": "2026-07-01"}, Verdict.FAIL, "after the day of this check"),
        ("dated", {"until": "2026-04-30"}, Verdict.FAIL, "ended before"),
        ("matches", {"subject": "GONE"}, Verdict.WARN, "nothing to excuse about GONE"),
        ("matches", {"rule": "electrical/wire-load"}, Verdict.WARN, "nothing to excuse"),
    ],
)
def test_the_nearest_unsound_case_is_told_at_its_line(
    rule: str, changes: dict[str, str | None], verdict: Verdict, words: str
) -> None:
    finding = said(rule, changes)
    assert finding.verdict is verdict
    assert words in finding.message
    assert finding.where[0].position.line == 2
    assert finding.remedy


@pytest.mark.parametrize(
    ("rule", "changes"),
    [
        ("current", {"until": "2026-06-01"}),  # the last day counts
        ("current", {"until": "engine-run"}),  # the stage after the present one
        ("dated", {"day": "2026-06-01"}),  # agreed on the day of the check
        ("dated", {"day": "2026-06-01", "until": "2026-06-01"}),
        ("matches", {"subject": None}),  # every subject of the rule
        ("ends", {"until": "operating"}),
        ("rule", {"rule": "weights/gross-weight"}),  # known, though it allows none
        ("allowed", {"rule": "electrical/voltage-drop"}),
    ],
)
def test_the_nearest_sound_case_passes(rule: str, changes: dict[str, str | None]) -> None:
    assert said(rule, changes).verdict is Verdict.PASS


@pytest.mark.parametrize("rule", RULES)
def test_without_a_deviation_there_is_nothing_to_ask(rule: str) -> None:
    found = said_by(f"papers/deviation-{rule}", judged(ELECTRICAL, on=DAY))
    assert [finding.verdict for finding in found] == [Verdict.NOT_APPLICABLE]


def test_a_deviation_from_a_rule_that_is_not_due_yet_is_left_alone() -> None:
    finding = said("matches", {"until": "2026-12-31"}, at=Stage.DESIGN)
    assert (finding.verdict, finding.message) == (Verdict.PASS, "electrical/load-switch is not due yet")


def test_rules_that_look_at_the_others_stand_in_their_place() -> None:
    ids = [result.rule.id for result in judged(ELECTRICAL).results]
    assert ids == sorted(ids)
    assert "papers/deviation-matches" in ids
