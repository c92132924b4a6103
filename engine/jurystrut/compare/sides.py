"""The two states of the records that are compared, and all that is said of their difference."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.compare.causes import Causes, Trials
from jurystrut.compare.changes import Change, changes
from jurystrut.compare.objects import Repository
from jurystrut.errors import UsageError
from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.revision import folder_in_repository
from jurystrut.rulebook import Verdict, counted

if TYPE_CHECKING:
    import datetime

    from jurystrut.judge import Judgement, Rulebook
    from jurystrut.rulebook import Finding, Stage

__all__ = ["Comparison", "Explained", "Side", "compare", "side_of"]

_NOTHING = Causes(())


class Side(NamedTuple):
    """One state of the records: how it was named, the commit if it is one, and its files."""

    name: str
    revision: str | None
    files: tuple[RecordFile, ...]


class Explained(NamedTuple):
    """A change and the lines that brought it about."""

    change: Change
    causes: Causes


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two judgements by the same rules on the same day, and every change from the one to the other."""

    before: Judgement
    after: Judgement
    names: tuple[str, str]
    changes: tuple[Explained, ...]

    @property
    def exit_status(self) -> int:
        """0 nothing fails that did not fail before, 1 something does, 2 the later records could not all be read."""
        if self.after.problems:
            return 2
        return int(any(self._newly_fails(explained.change) for explained in self.changes))

    def _newly_fails(self, change: Change) -> bool:
        """Missing data counts as a failure from stage inspection on, here as everywhere."""
        return _fails(change.after, self.after.stage) and not _fails(change.before, self.before.stage)


def _fails(finding: Finding | None, stage: Stage) -> bool:
    return finding is not None and counted(finding.verdict, stage) is Verdict.FAIL


def side_of(name: str, folder: Path) -> Side:
    """The records of a revision, as far as they lie in `folder`, or those of a folder.

    What git knows as a revision is one; write `./name` for a folder of the same name. Raises UsageError where the name
    is neither.
    """
    there = bool(name) and os.path.isdir(name)  # noqa: PTH112 - Path.is_dir raises where a name is too long or holds NUL
    inside = folder_in_repository(folder) is not None if folder.is_dir() else False
    if inside and not name.startswith((".", "/")):
        repository = Repository(folder)
        commit = repository.named(name)
        if commit:
            return Side(name, commit.hash, repository.files([commit])[0])
        if not there:
            raise UsageError(repository.unknown(name))
    if not there:
        outside = (
            ""
            if inside
            else f", and {folder} stands in no git repository; begin one with `git init`, or name two folders"
        )
        raise UsageError(f"'{name[:80]}' is neither a revision nor a folder{outside}")
    return Side(name, None, tuple(record_files(Path(name))))


def compare(before: Side, after: Side, book: Rulebook, *, at: Stage | None, on: datetime.date) -> Comparison:
    """Judge both sides on one day, so that only the records can differ, and find out which lines changed what."""
    old = replace(judge(read_files(before.files), book, at=at, on=on), revision=before.revision)
    new = replace(judge(read_files(after.files), book, at=at, on=on), revision=after.revision)
    found = changes(old, new)
    asked = [change for change in found if change.noted]
    trials = Trials(
        _texts(before),
        _texts(after),
        book,
        at=at,
        on=on,
        rules={change.rule.id for change in asked},
        tolerated={problem.message for problem in (*old.problems, *new.problems)},
    )
    explained = (Explained(change, trials.causes(change) if change.noted else _NOTHING) for change in found)
    return Comparison(old, new, (before.name, after.name), tuple(explained))


def _texts(side: Side) -> dict[str, str]:
    return {file.path: file.text for file in side.files if not file.problem}
