"""A process that judges one repository after the other, and that can be ended at any moment: for repositories that take for ever.

Ending a process is the one way to stop a judgement wherever it is, inside a library's own code too, on every system, and from
within a Dask worker, which may have no children of multiprocessing. Tasks and outcomes go through pipes, a line of JSON each.
"""

from __future__ import annotations

import datetime
import json
import os
import subprocess
import sys
import threading
from contextlib import suppress
from queue import SimpleQueue
from typing import Any

from jurystrut.errors import JurystrutError
from jurystrut.fleet.one import Outcome, Task, judge_one, load_rules, lost

__all__ = ["Apart", "judge_within", "serve"]

# -P: the folder it is started in may be a stranger's, and no module is imported from there.
_COMMAND = (sys.executable, "-P", "-m", "jurystrut.fleet.apart")


class Apart:
    """The process, started with its first repository, and anew after one that it did not survive."""

    def __init__(self) -> None:
        self._process: Any = None

    def judge(self, task: Task, time_limit: float | None) -> Outcome | None:
        """Judge one; past the limit, in seconds, its outcome says so. None where the process died of something else."""
        process = self._started()
        late = threading.Event()
        timer = threading.Timer(time_limit or 0, _end_late, (process, late))
        timer.daemon = True
        if time_limit is not None:
            timer.start()
        with suppress(OSError):  # of a process that is gone, as the missing answer tells
            process.stdin.write(_as_line((*task[:2], task.on and task.on.isoformat(), task.whole)))
            process.stdin.flush()
        answer = _line_of(process.stdout)
        if time_limit is not None:
            timer.cancel()
            timer.join()
        if answer is None or late.is_set():
            self.end()
        if answer is not None:
            return Outcome(*answer)
        return _too_late(task, time_limit) if late.is_set() else None

    def _started(self) -> Any:
        if self._process is None:
            self._process = subprocess.Popen(_COMMAND, stdin=subprocess.PIPE, stdout=subprocess.PIPE)  # noqa: S603 - Python itself
            _line_of(self._process.stdout)  # the rules are loaded: the time of the first repository begins
        return self._process

    def end(self) -> None:
        """End the process, whatever it is doing."""
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait()
            process.stdout.close()
            with suppress(OSError):  # what was not yet written can no longer be
                process.stdin.close()


def _end_late(process: Any, late: threading.Event) -> None:
    late.set()
    process.kill()


def _too_late(task: Task, time_limit: float | None) -> Outcome:
    advice = "judge it alone to see where it stays, or give it more with --time-limit"
    return Outcome(task.path, 2, broke=f"took longer than {time_limit:g} seconds and was given up; {advice}")


def _as_line(message: Any) -> bytes:
    return json.dumps(message).encode() + b"\n"


def _line_of(pipe: Any) -> Any:
    """The next message; None where the other end has gone, in the middle of one perhaps."""
    line = pipe.readline()
    return json.loads(line) if line.endswith(b"\n") else None


_mine = threading.local()  # the process of each thread of a Dask worker; it ends with the worker, whose pipe it reads


def judge_within(task: Task, time_limit: float) -> Outcome:
    """Judge one repository on a Dask worker, in a process that lives on for the next one."""
    if not hasattr(_mine, "apart"):
        _mine.apart = Apart()
    apart: Apart = _mine.apart
    return apart.judge(task, time_limit) or apart.judge(task, time_limit) or lost(task)


def serve() -> None:
    """The process itself: tasks come in on standard input, outcomes go out on what was standard output."""
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())  # a pack that prints must not print into an answer
    tasks: SimpleQueue[Task] = SimpleQueue()
    with suppress(JurystrutError):  # which the first outcome tells
        load_rules()
    answers.write(_as_line("ready"))
    answers.flush()
    threading.Thread(target=_take, args=(tasks,), daemon=True).start()
    try:
        while True:
            answers.write(_as_line(judge_one(tasks.get())))
            answers.flush()
    except (KeyboardInterrupt, OSError):  # asked to stop, as whoever sent the tasks was, or that one is gone
        os._exit(130)


def _take(tasks: SimpleQueue[Task]) -> None:
    """Read tasks as they come; whoever sent them gone, end, even in the middle of one."""
    while (task := _line_of(sys.stdin.buffer)) is not None:
        path, at, on, whole = task
        tasks.put(Task(path, at, on and datetime.date.fromisoformat(on), whole))
    os._exit(0)


if __name__ == "__main__":
    serve()
