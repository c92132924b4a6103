"""Many build repositories at once: each judged as if alone, on several processors or on a Dask cluster.

>>> from jurystrut.fleet import Task, judge_on_cluster
>>> outcomes = judge_on_cluster(client, [Task("hangar/a"), Task("hangar/b")])  # doctest: +SKIP
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.errors import JurystrutError
from jurystrut.records.aircraft import Stage

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterable, Sequence

    from jurystrut.judge import Rulebook

__all__ = ["Outcome", "Task", "judge_in_processes", "judge_in_turn", "judge_on_cluster", "judge_one"]


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
    judgement = judge(read(folder), _rulebook(), at=Stage(task.at) if task.at else None, on=task.on)
    data = None
    if task.whole:
        from dataclasses import replace

        data = as_data(replace(judgement, revision=head_commit(folder)))
    verdicts = {result.rule.id: result.verdict.value for result in judgement.results}
    return Outcome(task.path, judgement.exit_status, judgement.verdict.value, verdicts, len(judgement.problems), data)


_loaded: list[Rulebook] = []  # one a process, loaded with its first repository


def _rulebook() -> Rulebook:
    from jurystrut.judge import installed_packs, load

    if not _loaded:
        _loaded.append(load(installed_packs()))
    return _loaded[0]


def judge_in_turn(tasks: Iterable[Task]) -> list[Outcome]:
    """One after another, in this process."""
    return [judge_one(task) for task in tasks]


def judge_in_processes(tasks: Sequence[Task], jobs: int) -> list[Outcome]:
    """On so many processes; the outcomes in the order of the tasks.

    Where a process dies (no memory left, say), the tasks it leaves are tried again, each in a process of its own.
    """
    if jobs <= 1 or len(tasks) <= 1:
        return judge_in_turn(tasks)
    outcomes = _in_one_pool(tasks, min(jobs, len(tasks)))
    return [
        outcome or _in_one_pool([task], 1)[0] or Outcome(task.path, 2, broke="the process that judged it died")
        for task, outcome in zip(tasks, outcomes, strict=True)
    ]


def _in_one_pool(tasks: Sequence[Task], jobs: int) -> list[Outcome | None]:
    """The outcomes; None for each task that was lost with the process it was in."""
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool
    from multiprocessing import get_context

    outcomes: list[Outcome | None] = []
    with ProcessPoolExecutor(jobs, mp_context=get_context("spawn")) as pool:
        for waiting in [pool.submit(judge_one, task) for task in tasks]:
            try:
                outcomes.append(waiting.result())
            except BrokenProcessPool:
                outcomes.append(None)
    return outcomes


def judge_on_cluster(client: Any, tasks: Sequence[Task]) -> list[Outcome]:
    """On the workers of a `dask.distributed.Client`, which must see the folders under the same paths; in the tasks' order.

    Dask tries a task again where its worker dies, on another one; after some deaths it gives the task up, and its outcome
    says so.
    """
    waiting = client.map(judge_one, tasks, pure=False)
    return [
        future.result() if future.exception() is None else Outcome(task.path, 2, broke=f"lost: {future.exception()}")
        for task, future in zip(tasks, waiting, strict=True)
    ]
