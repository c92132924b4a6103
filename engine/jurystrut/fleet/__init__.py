"""Many build repositories at once: each judged as if alone, on several processors or on a Dask cluster.

>>> from jurystrut.fleet import Task, judge_on_cluster
>>> outcomes = judge_on_cluster(client, [Task("hangar/a"), Task("hangar/b")])  # doctest: +SKIP
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

from jurystrut.fleet.one import Outcome, Task, judge_one, lost

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from jurystrut.fleet.apart import Apart

__all__ = ["Outcome", "Task", "judge_in_processes", "judge_in_turn", "judge_on_cluster", "judge_one"]


def judge_in_turn(tasks: Iterable[Task]) -> list[Outcome]:
    """One after another, in this process."""
    return [judge_one(task) for task in tasks]


def judge_in_processes(tasks: Sequence[Task], jobs: int, time_limit: float | None = None) -> list[Outcome]:
    """On so many processes; the outcomes in the order of the tasks.

    A repository that takes longer than the limit, in seconds, is given up. Where a process dies (no memory left, say), its task
    is tried again at the end, alone.
    """
    if time_limit is None and (jobs <= 1 or len(tasks) <= 1):
        return judge_in_turn(tasks)
    from concurrent.futures import ThreadPoolExecutor
    from queue import SimpleQueue

    from jurystrut.fleet.apart import Apart

    crew = [Apart() for _ in range(max(1, min(jobs, len(tasks))))]
    free: SimpleQueue[Apart] = SimpleQueue()

    def judge(task: Task) -> Outcome | None:
        apart = free.get()
        try:
            return apart.judge(task, time_limit)
        finally:
            free.put(apart)

    try:
        for apart in crew:
            free.put(apart)
        with ThreadPoolExecutor(len(crew)) as pool:  # a thread a process, which does nothing but wait for it
            outcomes = list(pool.map(judge, tasks))
        return [outcome or judge(task) or lost(task) for task, outcome in zip(tasks, outcomes, strict=True)]
    finally:
        for apart in crew:
            apart.end()


def judge_on_cluster(client: Any, tasks: Sequence[Task], time_limit: float | None = None) -> list[Outcome]:
    """On the workers of a `dask.distributed.Client`, which must see the folders under the same paths; in the tasks' order.

    A repository that takes longer than the limit, in seconds, is given up. Dask tries a task again where its worker dies, on
    another one; after some deaths it gives the task up, and its outcome says so.
    """
    from jurystrut.fleet.apart import judge_within

    judge = judge_one if time_limit is None else partial(judge_within, time_limit=time_limit)
    waiting = client.map(judge, tasks, pure=False)
    return [
        future.result() if future.exception() is None else Outcome(task.path, 2, broke=f"lost: {future.exception()}")
        for task, future in zip(tasks, waiting, strict=True)
    ]
