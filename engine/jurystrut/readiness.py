"""Builds the readiness report: reads, judges now and at every later stage, writes the page; once, or at every change."""

from __future__ import annotations

import os
import time
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.delivery import deliver
from jurystrut.errors import JurystrutError, UsageError
from jurystrut.judge import Remembered, installed_packs, judge, load
from jurystrut.reading import read
from jurystrut.reading.evidence import pictures
from jurystrut.records.aircraft import Stage
from jurystrut.reports.page import write
from jurystrut.revision import head_commit

if TYPE_CHECKING:
    import datetime
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from jurystrut.judge import Rulebook

__all__ = ["Wish", "build", "watch"]


class Wish(NamedTuple):
    """What is to be built: the folder of the records, and the stage and day to judge at where they are not the present."""

    path: Path
    at: Stage | None = None
    on: datetime.date | None = None


def build(wish: Wish, tell: Callable[[str], None], book: Rulebook | None = None) -> tuple[str, int]:
    """The page and the exit status of its judgement; `tell` hears of each step. UsageError where there is no such folder."""
    tell("reading the records")
    project = read(wish.path)
    book = book or load(installed_packs())
    memory = Remembered()
    tell(f"judging by {len(book.rules)} rules")
    judgement = replace(judge(project, book, at=wish.at, on=wish.on, memory=memory), revision=head_commit(wish.path))
    outlook = []
    for stage in Stage:
        if not stage < judgement.stage and stage is not judgement.stage:
            tell(f"judging as if at stage {stage.value}")
            outlook.append(judge(project, book, at=stage, on=judgement.day, memory=memory))
    tell("drawing and writing the page")
    return write(judgement, outlook, pictures(wish.path, project.evidence or {})), judgement.exit_status


def watch(wish: Wish, output: Path, tell: Callable[[str], None]) -> int:
    """Build the page now, and anew whenever something in the folder is saved, until interrupted; gives the last exit status.

    Records that cannot be read are part of the page. Raises UsageError where the library that watches is not installed.
    """
    book, status = load(installed_packs()), 0
    for _ in _changes(wish.path, output):
        begun = time.perf_counter()
        try:
            page, status = build(wish, lambda _: None, book)
            deliver(page, os.fspath(output))
        except JurystrutError as error:
            tell(f"not written: {error}")
            status = 2
        else:
            tell(f"{output} written in {time.perf_counter() - begun:.2f} s; waiting for a change, Ctrl-C ends it")
    return status


def _changes(folder: Path, output: Path) -> Iterator[None]:
    """Once at the start, and once a change of a file that is not the page itself."""
    try:
        from watchfiles import watch as watched
    except ImportError:
        raise UsageError('--watch needs one library more: python -m pip install "jurystrut[watch]"') from None
    own = os.fspath(output.resolve())

    def counts(_: object, path: str) -> bool:
        name = os.path.basename(path)  # noqa: PTH119 - called for every change of a folder, as text
        return not name.startswith(".") and f"{os.sep}.git{os.sep}" not in path and os.path.realpath(path) != own

    yield
    for _ in watched(folder, watch_filter=counts, raise_interrupt=False):
        yield
