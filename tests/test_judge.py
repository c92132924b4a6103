"""The judge: stages, facts, deviations, what is missing, and rules that fail themselves."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from jurystrut.errors import MissingRecord, PackError
from jurystrut.judge import Remembered, Rulebook, installed_packs, judge, load
from jurystrut.reading import read
from jurystrut.rulebook import (
    Pack,
    Reference,
    Stage,
    Verdict,
    fact,
    fails,
    later_if,
    no_data,
    passes,
    rule,
    told,
    warns,
)
from jurystrut.rulebook.verdicts import counted, worst
from jurystrut.testing import installed, project_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from jurystrut.records.electrical import Electrical
    from jurystrut.rulebook import Fact, Finding, Rule, Sound

DAY = datetime.date(2026, 6, 1)
SOURCE = Reference("s", "document", "section", "edition", "guidance", "yardstick", "read", "says")


def book(*rules: Rule, facts: tuple[Fact, ...] = ()) -> Rulebook:
    return Rulebook(rules, {f.name: f for f in facts}, {"s": SOURCE}, ())


def declare(check: object, **more: object) -> Rule:
    details: dict[str, object] = {"title": "T", "asks": "A?", "references": ("s",), "due": Stage.SYSTEMS, "remedy": "R"}
    name = str(more.pop("name", "rule"))
    declared: Rule = rule(f"test/{name}", **(details | more))(check)  # type: ignore[arg-type]
    return declared


def fail_every_bus(electrical: Electrical) -> Iterator[Finding]:
    """Says that every bus fails."""
    for bus in electrical.buses:
        yield fails(bus.id, "it fails", bus.at())


RECORDS = """
aircraft: {{name: T, authority: US, stage: {stage}}}
electrical: {{buses: [{{id: MAIN}}, {{id: ENG}}]}}
{more}
"""


def verdicts(records: str, *rules: Rule, on: datetime.date = DAY, at: Stage | None = None) -> list[Verdict]:
    judgement = judge(project_of(records), book(*rules), on=on, at=at)
    return [finding.verdict for result in judgement.results for finding in result.findings]


def test_a_rule_is_not_due_before_its_stage() -> None:
    records = RECORDS.format(stage="covering", more="")
    assert verdicts(records, declare(fail_every_bus)) == [Verdict.NOT_DUE]
    assert verdicts(records, declare(fail_every_bus), at=Stage.SYSTEMS) == [Verdict.FAIL] * 2


@pytest.mark.parametrize(
    ("more", "found"),
    [
        ("deviations: [{rule: test/rule, subject: MAIN, reason: r, agreed_by: x, day: 2026-05-01}]", ["warn", "fail"]),
        ("deviations: [{rule: test/rule, reason: r, agreed_by: x, day: 2026-05-01}]", ["warn", "warn"]),
        ("deviations: [{rule: test/other, reason: r, agreed_by: x, day: 2026-05-01}]", ["fail", "fail"]),
        (
            "deviations: [{rule: test/rule, reason: r, agreed_by: x, day: 2026-05-01, until: 2026-06-01}]",
            ["warn", "warn"],
        ),
        (
            "deviations: [{rule: test/rule, reason: r, agreed_by: x, day: 2026-05-01, until: 2026-05-31}]",
            ["fail", "fail"],
        ),
        (
            "deviations: [{rule: test/rule, reason: r, agreed_by: x, day: 2026-05-01, until: engine-run}]",
            ["warn", "warn"],
        ),
        ("deviations: [{rule: test/rule, reason: r, agreed_by: x, day: 2026-05-01, until: systems}]", ["fail", "fail"]),
    ],
)
def test_a_deviation_turns_fail_into_warn_while_it_lasts(more: str, found: list[str]) -> None:
    records = RECORDS.format(stage="systems", more=more)
    assert [verdict.value for verdict in verdicts(records, declare(fail_every_bus))] == found


def test_a_rule_may_allow_no_deviation() -> None:
    more = "deviations: [{rule: test/rule, reason: r, agreed_by: x, day: 2026-05-01}]"
    strict = declare(fail_every_bus, no_deviation="because")
    assert verdicts(RECORDS.format(stage="systems", more=more), strict) == [Verdict.FAIL] * 2


def test_a_rule_of_common_practice_warns_at_most() -> None:
    mild = declare(fail_every_bus, at_worst=Verdict.WARN)
    assert verdicts(RECORDS.format(stage="systems", more=""), mild) == [Verdict.WARN] * 2


def test_a_missing_section_is_no_data_unless_the_aircraft_has_none() -> None:
    assert verdicts("aircraft: {name: T, authority: US, stage: systems}", declare(fail_every_bus)) == [Verdict.NO_DATA]
    without = "aircraft: {name: T, authority: US, stage: systems, without: [electrical]}"
    assert verdicts(without, declare(fail_every_bus)) == [Verdict.NOT_APPLICABLE]


def test_a_fact_is_computed_once_and_its_lack_is_told() -> None:
    calls = []

    def counted_buses(electrical: Electrical) -> int:
        calls.append(1)
        return len(electrical.buses)

    def broken_fact() -> None:
        raise MissingRecord("nothing there")

    def check(counted_buses: int) -> Iterator[Finding]:
        """Explains."""
        yield passes("x", f"{counted_buses}")

    def check_broken(broken_fact: None) -> Iterator[Finding]:
        """Explains."""
        yield passes("x", "never")

    rules = (declare(check), declare(check, name="same"), declare(check_broken, name="without"))
    facts = (fact(counted_buses), fact(broken_fact))
    judgement = judge(project_of(RECORDS.format(stage="systems", more="")), book(*rules, facts=facts), on=DAY)
    assert [r.findings[0].message for r in judgement.results] == ["2", "2", "nothing there"]
    assert judgement.results[2].verdict is Verdict.NO_DATA
    assert len(calls) == 1


def test_a_bug_in_one_rule_hides_no_other_and_is_exit_2() -> None:
    def buggy(electrical: Electrical) -> Iterator[Finding]:
        """Has a bug."""
        yield passes("x", str(1 / 0))

    judgement = judge(
        project_of(RECORDS.format(stage="systems", more="")),
        book(declare(buggy), declare(fail_every_bus, name="sound")),
        on=DAY,
    )
    assert [result.verdict for result in judgement.results] == [Verdict.NO_DATA, Verdict.FAIL]
    assert judgement.exit_status == 2
    assert "ZeroDivisionError" in judgement.problems[0].message


def test_what_is_plainly_sound_is_told_when_somebody_reads_it() -> None:
    asked = []

    def tell(name: str) -> Finding:
        asked.append(name)
        return passes(name, "it is sound")

    def check(electrical: Electrical) -> Iterator[Finding | Sound]:
        """Puts off the first bus alone."""
        for bus in electrical.buses:
            yield later_if(bus.id == "MAIN", tell, bus.id)

    (result,) = judge(project_of(RECORDS.format(stage="systems", more="")), book(declare(check)), on=DAY).results
    assert (result.verdict, asked) == (Verdict.PASS, ["ENG"])
    assert [finding.subject for finding in result.findings] == ["MAIN", "ENG"]
    assert [finding.subject for finding in told(result.found)] == ["MAIN", "ENG"]


def tell_that_it_fails(name: str) -> Finding:
    return fails(name, "it burns")


def tell_nothing(name: str) -> Finding:
    raise KeyError(name)


@pytest.mark.parametrize(
    ("tell", "said"),
    [
        (tell_that_it_fails, "it was sure of this and is not: it burns; please report it"),
        (tell_nothing, "a bug in this rule: KeyError: 'MAIN'; please report it"),
    ],
)
def test_what_was_put_off_as_sound_and_is_not_never_reads_as_a_pass(tell: Callable[[str], Finding], said: str) -> None:
    def check(electrical: Electrical) -> Iterator[Finding | Sound]:
        """Is sure, and wrong."""
        yield later_if(True, tell, electrical.buses[0].id)  # noqa: FBT003 - the case

    (result,) = judge(project_of(RECORDS.format(stage="systems", more="")), book(declare(check)), on=DAY).results
    (finding,) = result.findings
    assert finding.verdict is Verdict.NO_DATA
    assert said in finding.message


def test_no_data_is_a_warning_before_inspection_and_a_failure_from_then_on() -> None:
    assert counted(Verdict.NO_DATA, Stage.ENGINE_RUN) is Verdict.WARN
    assert counted(Verdict.NO_DATA, Stage.INSPECTION) is Verdict.FAIL
    assert counted(Verdict.PASS, Stage.INSPECTION) is Verdict.PASS


def test_the_worst_finding_counts() -> None:
    def mixed(electrical: Electrical) -> Iterator[Finding]:
        """Mixed."""
        yield passes("a", "")
        yield warns("b", "")
        yield no_data("c", "")

    judgement = judge(project_of(RECORDS.format(stage="systems", more="")), book(declare(mixed)), on=DAY)
    assert judgement.results[0].verdict is Verdict.NO_DATA
    assert worst(()) is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"id": "Bad/Id"}, "written domain/what-it-asks"),
        ({"asks": "no question"}, "is one question"),
        ({"references": ()}, "cites nothing"),
        ({"check": lambda electrical: ()}, "needs a docstring"),
    ],
)
def test_a_declaration_that_does_not_hold_together_is_refused(change: dict[str, object], said: str) -> None:
    details = {"id": "test/rule", "title": "T", "asks": "A?", "references": ("s",), "due": Stage.SYSTEMS, "remedy": "R"}
    check = change.pop("check", fail_every_bus)
    with pytest.raises(PackError, match=said):
        rule(**(details | change))(check)  # type: ignore[arg-type]


def test_a_pack_that_cites_what_is_not_there_is_refused(tmp_path: Path) -> None:
    (tmp_path / "sources").mkdir()
    pack = Pack("other", "US", ("jurystrut_rules.lighting.approval",), tmp_path / "sources")
    with pytest.raises(PackError, match="is not in the pack's sources"):
        load([pack])


def test_our_own_pack_is_found_like_any_other() -> None:
    assert "us" in {pack.name for pack in installed_packs()}


def test_what_is_remembered_from_one_stage_is_what_the_next_would_compute() -> None:
    project = read(Path(__file__).parents[1] / "project_example")
    memory = Remembered()
    day = datetime.date(2026, 11, 25)
    for stage in Stage:
        remembered = judge(project, installed(), at=stage, on=day, memory=memory).results
        anew = judge(project, installed(), at=stage, on=day).results
        assert [(r.rule.id, [f[:3] for f in r.findings]) for r in remembered] == [
            (r.rule.id, [f[:3] for f in r.findings]) for r in anew
        ]
