"""What machines are told of a judgement: everything that is not as it should be, in one shape for every format."""

from __future__ import annotations

import hashlib
from collections import Counter
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.positions import Position
from jurystrut.reports.text import margin_words
from jurystrut.rulebook import Finding, Verdict, counted

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.errors import Problem
    from jurystrut.judge import Judgement
    from jurystrut.rulebook import Rule

__all__ = ["UNREADABLE", "Level", "Noted", "level_of", "noted", "place_of", "sentence"]

Level = Literal["error", "warning"]

UNREADABLE = "records/readable"
"""Stands where a rule's id does, for records that cannot be read."""


class Noted(NamedTuple):
    """One finding that is not as it should be, or one place in the records that cannot be read (`rule` is None then).

    The paths of its places begin at the root of the git repository. `fingerprint` stays the same when lines move.
    """

    level: Level
    rule: Rule | None
    finding: Finding
    places: tuple[Position, ...]
    fingerprint: str

    @property
    def rule_id(self) -> str:
        """The rule, or what stands for one."""
        return self.rule.id if self.rule else UNREADABLE

    @property
    def title(self) -> str:
        """The rule's title, or what stands for one."""
        return self.rule.title if self.rule else "Records that can be read"


def place_of(judgement: Judgement, one: Noted) -> Position:
    """Where a finding is shown that must be shown somewhere: at its place, else at the first record file."""
    if one.places:
        return one.places[0]
    files = judgement.project.files
    return Position(judgement.folder + (files[0] if files else "aircraft.yaml"), 1, 1)


def level_of(judgement: Judgement, finding: Finding) -> Level | None:
    """How loudly a finding is told; None for what is as it should be, not due or not applicable."""
    verdict = counted(finding.verdict, judgement.stage)
    return "error" if verdict is Verdict.FAIL else "warning" if verdict is Verdict.WARN else None


def noted(judgement: Judgement) -> list[Noted]:
    """All that is not as it should be: errors first, then by rule, in the order in which the rules found it."""
    met: Counter[str] = Counter()
    found = [_unreadable(problem, judgement.folder, met) for problem in judgement.problems]
    for result in judgement.results:
        for finding in result.findings:
            level = level_of(judgement, finding)
            if level:
                mark = _fingerprint(met, result.rule.id, finding.subject, *(s.field for s in finding.where[:1]))
                places = tuple(_from_the_root(spot.position, judgement.folder) for spot in finding.where)
                found.append(Noted(level, result.rule, finding, places, mark))
    return sorted(found, key=lambda one: one.level)


def _unreadable(problem: Problem, folder: str, met: Counter[str]) -> Noted:
    place = _from_the_root(problem.position, folder)
    finding = Finding(Verdict.FAIL, "records", problem.message)
    return Noted("error", None, finding, (place,), _fingerprint(met, UNREADABLE, place.file, problem.message))


def _from_the_root(position: Position, folder: str) -> Position:
    return position._replace(file=folder + position.file)


def _fingerprint(met: Counter[str], *parts: str) -> str:
    """Made of what a finding is about, never of where it stands; the second of a kind ends in `:2`."""
    mark = hashlib.sha256("\0".join(parts).encode("utf-8", "surrogatepass")).hexdigest()[:16]
    met[mark] += 1
    return f"{mark}:{met[mark]}"


def sentence(finding: Finding) -> Iterator[str]:
    """A finding in a few sentences, the first of which can stand alone."""
    yield f"{finding.subject}: {finding.message}"
    numbers = margin_words(finding)
    if numbers:
        yield numbers
    if finding.deviation:
        yield f"deviation on record: {finding.deviation}"
    if finding.remedy:
        yield finding.remedy
