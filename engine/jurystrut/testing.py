"""For authors of rule packs: judge a few lines of records by one rule."""

from __future__ import annotations

import datetime
import textwrap
from functools import lru_cache
from typing import TYPE_CHECKING

from jurystrut.judge import Judgement, Rulebook, installed_packs, judge, load
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from jurystrut.records.aircraft import Stage
    from jurystrut.records.project import Project
    from jurystrut.rulebook import Finding

__all__ = [
    "AIRCRAFT",
    "DAY",
    "findings",
    "installed",
    "judged",
    "project_of",
    "record_line",
    "said_by",
    "the_finding",
    "watchers",
]

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"
"""The aircraft of records that bring none of their own: every rule is due."""

DAY = datetime.date(2026, 6, 1)
"""The day on which tests judge."""

watchers: list[Callable[[str, Judgement], None]] = []
"""Told of every rule that a test asks about, and of the judgement: so the catalogue knows the tests of each rule."""


@lru_cache(maxsize=1)
def installed() -> Rulebook:
    """The rules of all installed packs."""
    return load(installed_packs())


def project_of(records: str) -> Project:
    """Read records written as one YAML text, indented as it likes; raises AssertionError where they cannot all be read."""
    text = textwrap.dedent(records)
    if "aircraft:" not in text:
        text = AIRCRAFT + text
    project = read_files([RecordFile("records.yaml", text)])
    assert not project.problems, "\n".join(f"{p.position}: {p.message}" for p in project.problems)
    return project


def record_line(fields: Mapping[str, str], **changes: str | None) -> str:
    """One record as a line of YAML, some of its fields changed, or left out where None."""
    merged = {**fields, **changes}
    return "{" + ", ".join(f"{field}: {value}" for field, value in merged.items() if value is not None) + "}"


def judged(records: str, *, at: Stage | None = None, on: datetime.date = DAY) -> Judgement:
    """Judge records by all rules; a bug in a rule raises AssertionError."""
    judgement = judge(project_of(records), installed(), at=at, on=on)
    assert not judgement.problems, judgement.problems
    return judgement


def findings(rule: str, records: str, *, at: Stage | None = None, on: datetime.date = DAY) -> tuple[Finding, ...]:
    """What one rule says of records."""
    project = project_of(records)
    book = installed()
    one = Rulebook(tuple(r for r in book.rules if r.id == rule), book.facts, book.references, book.packs)
    assert one.rules, f"there is no rule {rule}"
    judgement = judge(project, one, at=at, on=on)
    assert not judgement.problems, judgement.problems
    return said_by(rule, judgement)


def said_by(rule: str, judgement: Judgement) -> tuple[Finding, ...]:
    """What one rule says in a judgement by all of them."""
    for watcher in watchers:
        watcher(rule, judgement)
    (result,) = [result for result in judgement.results if result.rule.id == rule]
    put_off = [finding for finding, kept in zip(result.findings, result.found, strict=True) if finding is not kept]
    assert all(finding.verdict is Verdict.PASS for finding in put_off), put_off
    return result.findings


def the_finding(rule: str, records: str, subject: str, *, at: Stage | None = None, on: datetime.date = DAY) -> Finding:
    """What one rule says of one subject; raises AssertionError where it says nothing, or more than one thing."""
    found = [finding for finding in findings(rule, records, at=at, on=on) if finding.subject == subject]
    assert len(found) == 1, f"{rule} has {len(found)} findings on {subject}"
    return found[0]
