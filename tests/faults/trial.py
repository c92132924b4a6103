"""What comes of a fault: what the reader says, and which findings changed, against the sound records."""

from __future__ import annotations

import datetime
from bisect import bisect_left, bisect_right
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from tests.faults.values import line_starts

from jurystrut.judge import Remembered, RuleResult, judge
from jurystrut.positions import Where, pack_mark
from jurystrut.reading import Memory, read_files
from jurystrut.reading.files import RecordFile
from jurystrut.reading.references import Links
from jurystrut.rulebook import Stage, Verdict
from jurystrut.testing import installed

if TYPE_CHECKING:
    from collections.abc import Container

    from tests.faults.values import Place

    from jurystrut.errors import Problem
    from jurystrut.rulebook import Finding

__all__ = ["Answer", "Key", "Outcome", "Shift", "Trials"]

DAY = datetime.date(2026, 11, 25)
SOUND = frozenset({Verdict.PASS, Verdict.NOT_APPLICABLE, Verdict.NOT_DUE})


class Key(NamedTuple):
    """A rule, a subject, and which of the rule's findings on it."""

    rule: str
    subject: str
    number: int


class Answer(NamedTuple):
    """A finding that is not as it was: as it was before the fault and as it is now; None where there is none."""

    key: Key
    before: Finding | None
    after: Finding | None

    @property
    def alarm(self) -> bool:
        """Whether something is noted that was not noted before."""
        if self.after is None or self.after.verdict in SOUND:
            return False
        return self.before is None or self.before.verdict is not self.after.verdict

    def points_at(self, wanted: Container[Place], shift: Shift) -> bool:
        """Whether one of its places, before or after, is one of these in the sound records."""
        before = self.before.where if self.before else ()
        after = self.after.where if self.after else ()
        return any((spot.where.file, spot.where.mark) in wanted for spot in before) or any(
            shift.back(spot.where.file, spot.where.mark) in wanted for spot in after
        )


class Shift:
    """Leads from a place in one file's changed text to the place of the same in the text before."""

    def __init__(self, file: str, before: str, after: str) -> None:
        self._file = file
        lengths = range(1, min(len(before), len(after)) + 1)
        self._alike = bisect_left(lengths, x=True, key=lambda n: before[:n] != after[:n])
        self._longer = len(before) - len(after)
        self._before, self._after = line_starts(before), line_starts(after)

    def back(self, file: str, mark: int) -> Place:
        """The place before; what stands behind the change has moved by its length."""
        position = Where(file, mark).position
        if file != self._file:
            return file, mark
        start = self._after[position.line - 1] + position.column - 1
        if start > self._alike:
            start += self._longer
        line = bisect_right(self._before, start) - 1
        return file, pack_mark(line, start - self._before[line])


class Outcome(NamedTuple):
    """All that answers a fault: problems in reading, and findings that changed."""

    problems: tuple[Problem, ...]
    answers: tuple[Answer, ...]

    def now(self, key: Key) -> Finding | None:
        """One finding as it is now, where it is another than it was and still there."""
        return next((answer.after for answer in self.answers if answer.key == key), None)


class Trials:
    """Judges changed texts, each against the sound records: what a fault does not touch is neither read nor judged anew."""

    def __init__(self, files: dict[str, str], stage: Stage) -> None:
        self.files = files
        self.stage = stage
        self._reading, self._judging = Memory(), Remembered()
        problems, self._results = self._judged(files, self._reading, self._judging)
        assert not problems
        self.sound = {key: finding for result in self._results.values() for key, finding in _by_key(result).items()}

    def of(self, file: str, text: str) -> Outcome:
        """What comes of one file's new text."""
        return self.of_files({file: text})

    def of_files(self, changed: dict[str, str]) -> Outcome:
        """What comes of some files' new texts; a file that was not there is put behind the others."""
        problems, now = self._judged({**self.files, **changed}, _apart(self._reading), _apart(self._judging))
        answers: list[Answer] = []
        for rule, result in now.items():
            if result is not self._results[rule]:
                before, after = _by_key(self._results[rule]), _by_key(result)
                changed_keys = (k for k in before | after if _said(before.get(k)) != _said(after.get(k)))
                answers += (Answer(key, before.get(key), after.get(key)) for key in changed_keys)
        return Outcome(problems, tuple(answers))

    def _judged(
        self, files: dict[str, str], reading: Memory, judging: Remembered
    ) -> tuple[tuple[Problem, ...], dict[str, RuleResult]]:
        project = read_files([RecordFile(name, text) for name, text in files.items()], reading)
        if project.problems:
            return project.problems, {}
        judgement = judge(project, installed(), at=self.stage, on=DAY, memory=judging)
        return judgement.problems, {result.rule.id: result for result in judgement.results}


_Kept = TypeVar("_Kept", Memory, Links, Remembered)


def _apart(memory: _Kept) -> _Kept:
    """A memory of the sound records that a fault may write over."""
    apart = type(memory)()
    for name, known in vars(memory).items():
        setattr(apart, name, dict(known) if isinstance(known, dict) else _apart(known))
    return apart


def _by_key(result: RuleResult) -> dict[Key, Finding]:
    found: dict[Key, Finding] = {}
    counts: dict[str, int] = {}
    for finding in result.findings:
        number = counts[finding.subject] = counts.get(finding.subject, -1) + 1
        found[Key(result.rule.id, finding.subject, number)] = finding
    return found


def _said(finding: Finding | None) -> tuple[object, ...] | None:
    return finding and (finding.verdict, finding.message, finding.measured, finding.limit, finding.margin)
