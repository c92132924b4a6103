"""What comes of a fault: what the reader says, and which findings changed, against the sound records."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.judge import Remembered, judge
from jurystrut.reading import Memory, read_files
from jurystrut.reading.files import RecordFile
from jurystrut.rulebook import Stage, Verdict
from jurystrut.testing import installed

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jurystrut.errors import Problem
    from jurystrut.rulebook import Finding

__all__ = ["Answer", "Key", "Outcome", "Trials"]

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

    def points_at(self, places: Iterable[tuple[str, int]]) -> bool:
        """Whether one of its places is one of these records, before or after."""
        wanted = set(places)
        spots = [spot for finding in (self.before, self.after) if finding for spot in finding.where]
        return any((spot.where.file, spot.where.mark) in wanted for spot in spots)


class Outcome(NamedTuple):
    """All that answers a fault: problems in reading, and findings that changed."""

    problems: tuple[Problem, ...]
    answers: tuple[Answer, ...]

    def now(self, key: Key) -> Finding | None:
        """One finding as it is now, where it is another than it was and still there."""
        return next((answer.after for answer in self.answers if answer.key == key), None)


class Trials:
    """Judges changed texts one after another; what a fault does not touch is neither read nor judged anew."""

    def __init__(self, files: dict[str, str], stage: Stage) -> None:
        self.files = files
        self.stage = stage
        self._reading = Memory()
        self._judging = Remembered()
        problems, self.sound = self._judged(files)
        assert not problems

    def of(self, file: str, text: str) -> Outcome:
        """What comes of one file's new text."""
        problems, now = self._judged({**self.files, file: text})
        answers = (
            Answer(key, self.sound.get(key), now.get(key))
            for key in sorted(self.sound.keys() | now.keys())
            if _said(self.sound.get(key)) != _said(now.get(key))
        )
        return Outcome(problems, tuple(answers))

    def _judged(self, files: dict[str, str]) -> tuple[tuple[Problem, ...], dict[Key, Finding]]:
        project = read_files([RecordFile(name, text) for name, text in files.items()], self._reading)
        if project.problems:
            return project.problems, {}
        judgement = judge(project, installed(), at=self.stage, on=DAY, memory=self._judging)
        found: dict[Key, Finding] = {}
        for result in judgement.results:
            counts: dict[str, int] = {}
            for finding in result.findings:
                number = counts[finding.subject] = counts.get(finding.subject, -1) + 1
                found[Key(result.rule.id, finding.subject, number)] = finding
        return judgement.problems, found


def _said(finding: Finding | None) -> tuple[object, ...] | None:
    return finding and (finding.verdict, finding.message, finding.measured, finding.limit, finding.margin)
