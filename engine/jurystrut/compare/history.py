"""Every commit judged in turn: margins over the commits, and the commit in which a limit broke.

All commits are judged by today's rules and on one day, so that nothing but the records moves a margin. What did not change from
one commit to the next is neither read nor judged again.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.compare.causes import Causes, Trials
from jurystrut.compare.changes import Change, Key, changes, findings_by_key
from jurystrut.judge import Remembered, judge
from jurystrut.reading import Memory, read_files
from jurystrut.rulebook import Verdict, worst

if TYPE_CHECKING:
    import datetime
    from collections.abc import Sequence

    from jurystrut.compare.objects import Commit, Repository
    from jurystrut.judge import Judgement, Rulebook
    from jurystrut.reading.files import RecordFile
    from jurystrut.rulebook import Finding, Stage

    _Files = tuple[RecordFile, ...]

__all__ = ["Break", "History", "Point", "Series", "history"]


class Point(NamedTuple):
    """What a rule said of a subject at one commit, by its number in the history; None where it said nothing."""

    commit: int
    verdict: Verdict | None
    margin: float | None


class Series(NamedTuple):
    """One rule and subject over the commits: a point wherever something changed, the worst of its findings."""

    rule: str
    subject: str
    points: tuple[Point, ...]


class Break(NamedTuple):
    """A commit that made something worse, and by which lines; or that mended it, where no lines are looked for."""

    commit: int
    change: Change
    causes: Causes


@dataclass(frozen=True, slots=True)
class History:
    """The commits, the oldest first; the verdict at each; what changed in which; and the series of each rule and subject."""

    commits: tuple[Commit, ...]
    verdicts: tuple[Verdict | None, ...]
    unreadable: tuple[int, ...]
    breaks: tuple[Break, ...]
    series: tuple[Series, ...]
    shallow: bool

    @property
    def exit_status(self) -> int:
        """Of the last commit: 0 nothing fails, 1 a rule fails, 2 its records cannot all be read."""
        if not self.verdicts or self.verdicts[-1] is None or len(self.verdicts) - 1 in self.unreadable:
            return 2
        return int(self.verdicts[-1] is Verdict.FAIL)

    def only(self, rule: str | None, subject: str | None) -> History:
        """What it says of one rule, one subject, or both."""
        return replace(
            self,
            breaks=tuple(
                b for b in self.breaks if rule in {None, b.change.rule.id} and subject in {None, b.change.key[1]}
            ),
            series=tuple(s for s in self.series if rule in {None, s.rule} and subject in {None, s.subject}),
        )


def history(
    repository: Repository,
    commits: Sequence[Commit],
    book: Rulebook,
    *,
    at: Stage | None,
    on: datetime.date,
) -> History:
    """Judge each commit and note what changed in it."""
    walk = _Walk(book, at, on)
    for files in repository.files(commits):
        walk.step(files)
    return History(
        tuple(commits),
        tuple(walk.verdicts),
        tuple(walk.unreadable),
        tuple(walk.breaks),
        tuple(Series(*key, tuple(points)) for key, points in sorted(walk.points.items())),
        repository.shallow,
    )


class _Walk:
    """What is known after some commits."""

    def __init__(self, book: Rulebook, at: Stage | None, on: datetime.date) -> None:
        self.book = book
        self.at = at
        self.on = on
        self.reading = Memory()
        self.judging = Remembered()
        self.verdicts: list[Verdict | None] = []
        self.unreadable: list[int] = []
        self.breaks: list[Break] = []
        self.points: dict[Key, list[Point]] = {}
        self.files: _Files = ()  # of the commit before
        self.known: tuple[_Files, Judgement] | None = None  # the last commit that could be read

    def step(self, files: _Files) -> None:
        """One more commit; one whose records cannot all be read is passed over, the next is compared with the last good one."""
        number = len(self.verdicts)
        if files == self.files:  # it changed nothing in the records
            self.verdicts.append(self.verdicts[-1] if self.verdicts else None)
            if number - 1 in self.unreadable[-1:]:
                self.unreadable.append(number)
            return
        self.files = files
        judgement = judge(read_files(files, self.reading), self.book, at=self.at, on=self.on, memory=self.judging)
        self.verdicts.append(judgement.verdict if files else None)
        if judgement.problems:
            if files:
                self.unreadable.append(number)
            return
        if self.known is None:
            self._enter(number, findings_by_key(judgement.results))
        else:
            self._compared(number, self.known, (files, judgement))
        self.known = files, judgement

    def _compared(self, number: int, before: tuple[_Files, Judgement], after: tuple[_Files, Judgement]) -> None:
        found = changes(before[1], after[1])
        broken = [change for change in found if change.kind != "margin" and change.noted]
        worse = [change for change in broken if change.worse]
        if worse:
            causing = {change.rule.id for change in worse}
            texts = _texts(before[0]), _texts(after[0])
            trials = Trials(*texts, self.book, at=self.at, on=self.on, rules=causing, whole=after[1])
        self.breaks += (Break(number, c, trials.causes(c) if c.worse else Causes(())) for c in broken)
        rules = {change.rule.id for change in found}
        now = findings_by_key(result for result in after[1].results if result.rule.id in rules)
        self._enter(number, {change.key: now.get(change.key, []) for change in found})

    def _enter(self, number: int, findings: dict[Key, list[Finding]]) -> None:
        for key, group in findings.items():
            margins = [finding.margin for finding in group if finding.margin is not None]
            verdict = worst(finding.verdict for finding in group) if group else None
            self.points.setdefault(key, []).append(Point(number, verdict, min(margins, default=None)))


def _texts(files: _Files) -> dict[str, str]:
    return {file.path: file.text for file in files}
