"""One repository, judged as if alone, and what becomes of it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.errors import JurystrutError
from jurystrut.records.aircraft import Stage

if TYPE_CHECKING:
    import datetime

    from jurystrut.judge import Rulebook

__all__ = ["Outcome", "Task", "judge_one", "load_rules", "lost"]


class Task(NamedTuple):
    """One repository to judge: its folder, the stage (its own where None) and the day (today where None).

    With `whole`, the outcome carries the whole judgement and not only the verdicts.
    """

    path: str
    at: str | None = None
    on: datetime.date | None = None
    whole: bool = False


class Outcome(NamedTuple):
    """What became of one repository.

    `status` is the exit status that `jurystrut check` has for it alone, `rules` each rule's verdict, `problems` the number
    of mistakes in its records, `judgement` the data of `--format json`, and `broke` why it could not be judged at all.
    """

    path: str
    status: int
    verdict: str = "no-data"
    rules: dict[str, str] = {}  # noqa: RUF012 - never changed; a tuple of pairs would only be turned into it
    problems: int = 0
    judgement: dict[str, Any] | None = None
    broke: str | None = None


def judge_one(task: Task) -> Outcome:
    """Judge one repository; whatever goes wrong with it is in the outcome and stops no other."""
    try:
        return _judged(task)
    except JurystrutError as error:
        return Outcome(task.path, 2, broke=str(error))
    except Exception as error:  # noqa: BLE001 - one repository that trips over a bug must not stop a thousand others
        return Outcome(task.path, 2, broke=f"a bug in jurystrut: {type(error).__name__}: {error}; please report it")


def _judged(task: Task) -> Outcome:
    from jurystrut.judge import judge
    from jurystrut.reading import read
    from jurystrut.reports.json_ import as_data
    from jurystrut.revision import head_commit

    folder = Path(task.path)
    judgement = judge(read(folder), load_rules(), at=Stage(task.at) if task.at else None, on=task.on)
    data = None
    if task.whole:
        from dataclasses import replace

        data = as_data(replace(judgement, revision=head_commit(folder)))
    verdicts = {result.rule.id: result.verdict.value for result in judgement.results}
    return Outcome(task.path, judgement.exit_status, judgement.verdict.value, verdicts, len(judgement.problems), data)


def lost(task: Task) -> Outcome:
    """The outcome of one that ended the process it was judged in."""
    return Outcome(task.path, 2, broke="the process that judged it died")


_loaded: list[Rulebook] = []  # one a process, loaded with its first repository


def load_rules() -> Rulebook:
    """The rules of all packs that are installed."""
    from jurystrut.judge import installed_packs, load

    if not _loaded:
        _loaded.append(load(installed_packs()))
    return _loaded[0]
