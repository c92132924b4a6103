"""Which tests run which line, and how long each takes: one run of the tests, with coverage noting who comes by."""

from __future__ import annotations

import gc
import time
from collections import defaultdict
from functools import _lru_cache_wrapper
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import coverage
import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["PYTEST", "Record", "caches", "record"]

PYTEST = [
    "-o",
    "addopts=",
    "--import-mode=importlib",
    "-p",
    "no:terminal",
    "-p",
    "no:cacheprovider",
    "-p",
    "no:xdist",
    "-s",
]
"""How the tests are run here: in one process, without a word."""

MUTATED = ("jurystrut.calculations", "jurystrut_rules")


class Record(NamedTuple):
    """The seconds of every test, and for every file and line the tests that ran it; "" where something was imported."""

    seconds: dict[str, float]
    lines: dict[str, dict[int, set[str]]]


def caches() -> list[_lru_cache_wrapper[object]]:
    """What remembers results of what is mutated, in it and in the tests."""
    found = [thing for thing in gc.get_objects() if isinstance(thing, _lru_cache_wrapper)]
    return [one for one in found if str(one.__module__).startswith((*MUTATED, "tests"))]


class _Recorder:
    def __init__(self, watch: coverage.Coverage) -> None:
        self.watch = watch
        self.seconds: dict[str, float] = {}
        self.failed: list[str] = []
        self.caches: list[_lru_cache_wrapper[object]] = []

    def pytest_collection_finish(self) -> None:
        from jurystrut.testing import installed

        installed()  # rules are imported now, and not within the first test
        self.caches = caches()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        for cache in self.caches:  # every test runs all that it rests on
            cache.cache_clear()
        self.watch.switch_context(item.nodeid)
        begin = time.process_time()
        result = yield
        self.seconds[item.nodeid] = time.process_time() - begin
        self.watch.switch_context("")
        return result

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if not report.passed:
            self.failed.append(report.nodeid)


def record(root: Path, tests: list[str], sources: list[str]) -> Record:
    """Run the tests once; raises AssertionError where one of them does not pass as things are."""
    watch = coverage.Coverage(data_file=None, config_file=False, include=[str(root / path) for path in sources])
    recorder = _Recorder(watch)
    watch.start()
    status = pytest.main([*PYTEST, *tests], plugins=[recorder])
    watch.stop()
    assert status == 0, recorder.failed or f"pytest ended with {status}"
    data = watch.get_data()
    lines: dict[str, dict[int, set[str]]] = defaultdict(dict)
    for file in data.measured_files():
        for line, contexts in data.contexts_by_lineno(file).items():
            lines[str(Path(file).relative_to(root))][line] = set(contexts)
    return Record(recorder.seconds, dict(lines))
