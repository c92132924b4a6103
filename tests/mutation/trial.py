"""Tries mutants: each in a process of its own, forked from one that has loaded all that is the same for many of them.

Where only the inside of functions has changed, they get their changed code in the fork of a process that has collected all
tests. Where something has changed that ran at import, the fork comes from a process that has not imported what is mutated,
and imports it changed, with everything that rests on it and with the tests.
"""

from __future__ import annotations

import gc
import inspect
import os
import resource
import signal
import sys
from functools import partial
from importlib.abc import MetaPathFinder
from importlib.machinery import SourceFileLoader
from importlib.util import spec_from_file_location
from pathlib import Path
from types import CodeType, FunctionType
from typing import TYPE_CHECKING, NamedTuple

import pytest
from tests.mutation.recorded import PYTEST, caches

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from importlib.machinery import ModuleSpec

__all__ = ["Outcome", "Trial", "changed_functions", "fresh_outcomes", "swapped_outcomes"]

_MEMORY = 2 << 30
_SLOWER = 10
"""A test that takes so many times its time, and a second, has run into a loop without end."""


_SOUND = "sound"
_BROKE = "the runner broke off:"


class Trial(NamedTuple):
    """A changed source of a module, and the tests to hold against it, with their seconds."""

    id: str
    file: str
    text: str
    tests: Sequence[tuple[str, float]]


class Outcome(NamedTuple):
    """`killed` by a test, `timed out`, or `survived`."""

    id: str
    verdict: str
    by: str = ""


def changed_functions(original: CodeType, changed: CodeType) -> dict[CodeType, CodeType] | None:
    """The outermost functions that differ, with their changed code; None where something else differs."""
    if original == changed:
        return {}
    if original.co_flags & inspect.CO_OPTIMIZED:
        return {original: changed}
    if _outside_of_functions(original) != _outside_of_functions(changed):
        return None
    found: dict[CodeType, CodeType] = {}
    for before, after in zip(_nested(original), _nested(changed), strict=True):
        inner = changed_functions(before, after)
        if inner is None:
            return None
        found |= inner
    return found


def _nested(code: CodeType) -> list[CodeType]:
    return [constant for constant in code.co_consts if isinstance(constant, CodeType)]


def _outside_of_functions(code: CodeType) -> object:
    constants = [None if isinstance(constant, CodeType) else repr(constant) for constant in code.co_consts]
    return code.co_code, code.co_names, code.co_varnames, constants


def _fork(run: Callable[[], str]) -> tuple[int, str]:
    """Run something in a child: the signal that ended it, or 0, and what it gave."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        try:
            os.close(reading)
            nothing = os.open(os.devnull, os.O_RDWR)
            os.dup2(nothing, 1)
            os.dup2(nothing, 2)
            resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
            signal.alarm(120)
            said = run()
        except BaseException as broke:  # noqa: BLE001 - told by the parent
            said = f"{_BROKE} {broke!r}"
        finally:
            os.write(writing, said.encode())
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        said = pipe.read().decode()
    _, status = os.waitpid(child, 0)
    return (os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0), said


def _outcome(trial: Trial, run: Callable[[], str]) -> Outcome:
    ended_by, said = _fork(run)
    assert ended_by or (said and not said.startswith(_BROKE)), f"{trial.id} {said}"
    if ended_by in {signal.SIGVTALRM, signal.SIGALRM}:
        return Outcome(trial.id, "timed out")
    return Outcome(trial.id, "survived") if said == _SOUND else Outcome(trial.id, "killed", said)


def _passes_unchanged(
    outcome: Outcome, trial: Trial, sound: set[str], alone: Callable[[tuple[str, float]], str]
) -> None:
    """A test that kills is run once on its own, where nothing has changed, and must pass there."""
    seconds = dict(trial.tests)
    if outcome.by in seconds and outcome.by not in sound:
        _, said = _fork(lambda: alone((outcome.by, seconds[outcome.by])))
        assert said == _SOUND, f"{outcome.by} fails on its own, without a change: {said}"
        sound.add(outcome.by)


class _Fell(Exception):
    """A test failed."""


class _Watch:
    """Ends at the first test that fails."""

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            raise _Fell(report.nodeid)


def _first_failure(items: Sequence[pytest.Item], seconds: dict[str, float]) -> str:
    for item, following in zip(items, [*items[1:], None], strict=True):
        signal.setitimer(signal.ITIMER_VIRTUAL, 1 + _SLOWER * seconds[item.nodeid])
        try:
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        except BaseException as fell:  # noqa: BLE001 - whatever ends a test early, SystemExit too
            return str(fell) if isinstance(fell, _Fell) else f"{item.nodeid} {fell!r}"
    return _SOUND


class _Server:
    """Collects all tests, and then tries mutants instead of running the tests."""

    def __init__(self, root: Path, trials: Iterable[Trial], tell: Callable[[Trial, Outcome | None], None]) -> None:
        self.root, self.trials, self.tell = root, trials, tell
        self.sound: set[str] = set()

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        from jurystrut.testing import installed, project_of

        installed()
        project_of("")
        for cache in caches():
            cache.cache_clear()
        items = {item.nodeid: item for item in session.items}
        functions: dict[CodeType, list[FunctionType]] = {}
        for thing in gc.get_objects():
            if isinstance(thing, FunctionType) and thing.__code__.co_filename.startswith(str(self.root)):
                functions.setdefault(thing.__code__, []).append(thing)
        gc.freeze()
        for trial in self.trials:
            self.tell(trial, self._tried(trial, items, functions))
        return True

    def _tried(
        self, trial: Trial, items: dict[str, pytest.Item], functions: dict[CodeType, list[FunctionType]]
    ) -> Outcome | None:
        """None where the change cannot be put into what is loaded."""
        path = self.root / trial.file
        changes = changed_functions(
            compile(path.read_text("utf-8"), str(path), "exec"), compile(trial.text, str(path), "exec")
        )
        if changes is None or any(code not in functions for code in changes):
            return None
        if any(code.co_freevars != changed.co_freevars for code, changed in changes.items()):
            return None

        def run() -> str:
            for code, changed in changes.items():
                for function in functions[code]:
                    function.__code__ = changed
            return _first_failure([items[name] for name, _ in trial.tests], dict(trial.tests))

        outcome = _outcome(trial, run)
        _passes_unchanged(outcome, trial, self.sound, lambda test: _first_failure([items[test[0]]], dict([test])))
        return outcome


def swapped_outcomes(
    root: Path, tests: list[str], trials: Iterable[Trial], tell: Callable[[Trial, Outcome | None], None]
) -> None:
    """Try mutants by exchanging the code of loaded functions; tells of each, with None where that cannot be done."""
    status = pytest.main([*PYTEST, *tests], plugins=[_Server(root, trials, tell), _Watch()])
    assert status == 0, f"pytest ended with {status}"


class _Changed(SourceFileLoader):
    """Gives a module another source than its file holds."""

    def __init__(self, name: str, path: Path, text: str) -> None:
        super().__init__(name, str(path))
        self.text = text

    def get_code(self, fullname: str) -> CodeType:
        return compile(self.text, self.path, "exec", dont_inherit=True)


class _Finder(MetaPathFinder):
    """Finds one module, and no other."""

    def __init__(self, loader: _Changed) -> None:
        self.loader = loader

    def find_spec(self, fullname: str, path: object = None, target: object = None) -> ModuleSpec | None:
        if fullname != self.loader.name:
            return None
        folders = [str(Path(self.loader.path).parent)] if self.loader.path.endswith("__init__.py") else None
        return spec_from_file_location(
            fullname, self.loader.path, loader=self.loader, submodule_search_locations=folders
        )


class _Chosen:
    """Runs the chosen tests in their order."""

    def __init__(self, tests: Sequence[tuple[str, float]]) -> None:
        self.seconds = dict(tests)
        self.said = "nothing could be collected"

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        by_name = {item.nodeid: item for item in items}
        items[:] = [by_name[name] for name in self.seconds]

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.said = "a test file does not load" if session.testsfailed else _first_failure(session.items, self.seconds)
        return True


def fresh_outcomes(root: Path, trials: Iterable[Trial]) -> Iterator[Outcome]:
    """Try mutants by importing everything anew; nothing of what is mutated may have been imported here."""
    import hypothesis  # noqa: F401 - loaded once, for all
    import networkx  # noqa: F401

    import jurystrut.reading
    import jurystrut.records  # noqa: F401

    sound: set[str] = set()
    for trial in trials:
        unchanged = trial._replace(text=(root / trial.file).read_text("utf-8"))
        outcome = _outcome(trial, partial(_imported_anew, root, trial))
        _passes_unchanged(outcome, trial, sound, partial(_alone_anew, root, unchanged))
        yield outcome


def _alone_anew(root: Path, trial: Trial, test: tuple[str, float]) -> str:
    return _imported_anew(root, trial._replace(tests=[test]))


def _imported_anew(root: Path, trial: Trial) -> str:
    parts = Path(trial.file).with_suffix("").parts[1:]
    name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
    assert name not in sys.modules
    sys.meta_path.insert(0, _Finder(_Changed(name, root / trial.file, trial.text)))
    chosen = _Chosen(trial.tests)
    files = sorted({test.partition("::")[0] for test, _ in trial.tests})
    # Loading may run into a loop without end as well.
    signal.setitimer(signal.ITIMER_VIRTUAL, 20)
    # The libraries that are here already were not rewritten for their own assertions.
    pytest.main([*PYTEST, "-W", "ignore::pytest.PytestAssertRewriteWarning", *files], plugins=[chosen, _Watch()])
    return chosen.said
