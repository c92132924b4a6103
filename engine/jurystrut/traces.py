"""From a rule to its tests: which tests judge it, what each of them shows, and what their expected figures come from.

Nothing of this is declared that can be observed. The tests of rules are run, and what `jurystrut.testing` gave them of each
rule is noted. What cannot be observed stands in each module of tests, as data:

    ORACLES = {"ac43-table-11-9": "electrical/wire-load", "own arithmetic": "electrical/bus-rating electrical/part-rating"}
    NO_SUCH_CASE = {"electrical/dead-end": {"no data": "a wire that leads nowhere is itself the answer"}}

An oracle is an entry of the sources whose figures the tests were written from; a library that the calculation behind the rule
is compared with; `own arithmetic`, worked by hand from records made up for the test; or `nothing computed`. A module speaks for
the rules that it names there, and for no other.
"""

from __future__ import annotations

import ast
import sys
from collections import defaultdict
from contextlib import contextmanager
from functools import cache
from importlib.util import find_spec
from math import isclose
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut import testing
from jurystrut.errors import UsageError
from jurystrut.rulebook import Verdict
from jurystrut.tree import Listing, Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.judge import Judgement
    from jurystrut.rulebook import Finding, Rule, Rulebook

__all__ = ["BY_HAND", "KINDS", "LATE", "NOTHING", "Observed", "Traces", "gaps", "observe", "shown"]

KINDS = ("passes", "just over", "exactly at", "no data")
"""What the tests of a rule show. A rule that compares no figures has a second sound case for the third."""

LATE = "late change"
BY_HAND, NOTHING = "own arithmetic", "nothing computed"

_NO_ORACLES = sys.stdlib_module_names | {"hypothesis", "jurystrut", "jurystrut_rules", "pytest", "tests", "yaml"}
_SAME = 1e-5
_UNSOUND = frozenset({Verdict.FAIL, Verdict.WARN})
_SOUND = frozenset({Verdict.PASS, Verdict.NOT_APPLICABLE})


class Observed(NamedTuple):
    """What one case of one test, `file::name[parameters]`, was told of a rule."""

    test: str
    findings: tuple[Finding, ...]
    judged: int = 0
    """Stands for the records, the stage and the day, to tell one case from another."""

    @property
    def module(self) -> str:
        """The file of the test."""
        return self.test.partition("::")[0]

    def has(self, *verdicts: Verdict) -> bool:
        """Whether the rule said so of any subject."""
        return any(finding.verdict in verdicts for finding in self.findings)


class Traces(NamedTuple):
    """All that leads from rules to their tests: what was observed, and what the modules of tests say themselves."""

    observed: dict[str, list[Observed]]
    oracles: dict[str, dict[str, str]]
    no_such_case: dict[str, dict[str, dict[str, str]]]
    late: dict[str, list[str]]
    libraries: dict[str, set[str]]
    """By library, the modules of the calculations that some test compares with it."""

    def modules_of(self, rule: str) -> list[str]:
        """The files of tests that speak for a rule."""
        return [
            path for path, oracles in self.oracles.items() if any(rule in named.split() for named in oracles.values())
        ]

    def oracles_of(self, rule: str) -> list[str]:
        """What the expected figures of its tests come from."""
        found = (name for oracles in self.oracles.values() for name, rules in oracles.items() if rule in rules.split())
        return list(dict.fromkeys(found))

    def excuses(self, rule: str) -> dict[str, str]:
        """The kinds of cases that it cannot have, and why."""
        return {kind: why for cases in self.no_such_case.values() for kind, why in cases.get(rule, {}).items()}

    def cases_of(self, rule: str) -> list[Observed]:
        """What its own modules of tests were told of it."""
        modules = self.modules_of(rule)
        return [case for case in self.observed.get(rule, ()) if case.module in modules]


def shown(rule: str, traces: Traces) -> dict[str, str]:
    """By kind, the test that shows it; of those that go over a limit the one that goes least over."""
    cases = traces.cases_of(rule)
    passing = [case for case in cases if case.has(Verdict.PASS)]
    over = sorted((case for case in cases if case.has(*_UNSOUND)), key=_least_over)
    if _compares(passing):
        third = [case for case in cases if any(map(_exactly, case.findings))]
    else:
        third = [case for case in cases if case.has(*_SOUND) and case.judged != passing[0].judged] if passing else []
    lacking = [case for case in cases if case.has(Verdict.NO_DATA)]
    found = zip(KINDS, (passing, over, third, lacking), strict=True)
    return {kind: tests[0].test.partition("[")[0] for kind, tests in found if tests}


def _compares(cases: list[Observed]) -> bool:
    return any(finding.limit for case in cases for finding in case.findings)


def _least_over(case: Observed) -> float:
    margins = [
        finding.margin for finding in case.findings if finding.verdict in _UNSOUND and finding.margin is not None
    ]
    return min((-margin for margin in margins if margin < 0), default=float("inf"))


def _exactly(finding: Finding) -> bool:
    if not finding.measured or not finding.limit:
        return False
    return isclose(finding.measured.value, finding.limit.value, rel_tol=_SAME, abs_tol=_SAME)


def gaps(book: Rulebook, traces: Traces, used: set[str]) -> Iterator[str]:
    """Every place where the way from a source to a rule, its tests and their oracle breaks off, in either direction.

    `used` are the entries that tables and figures name.
    """
    for rule in book.rules:
        yield from (f"{rule.id}: {gap}" for gap in _gaps_of(rule, book, traces))
    known = {rule.id for rule in book.rules}
    told = {
        (path, rule) for path, named in traces.oracles.items() for rules in named.values() for rule in rules.split()
    }
    told |= {(path, rule) for path, cases in traces.no_such_case.items() for rule in cases}
    told |= {(f"late change {name}", rule) for rule, names in traces.late.items() for name in names}
    yield from (f"{where}: there is no rule {rule}" for where, rule in sorted(told) if rule not in known)
    cited = {name for rule in book.rules for name in (*rule.references, *traces.oracles_of(rule.id))} | used
    for name in sorted(book.references.keys() - cited):
        yield f"{name}: no rule, table, figure or test rests on it"


def _gaps_of(rule: Rule, book: Rulebook, traces: Traces) -> Iterator[str]:
    cases, excuses = shown(rule.id, traces), traces.excuses(rule.id)
    has = cases.keys() | ({LATE} if rule.id in traces.late else set())
    for kind in (*KINDS, LATE):
        if kind not in has and kind not in excuses:
            yield f"no test shows: {kind}"
        elif kind in has and kind in excuses:
            yield f"it is said to have no such case as: {kind}, and has one"
    yield from (f"there is no kind of case: {kind}" for kind in excuses.keys() - {*KINDS, LATE})
    judging = {case.module for case in traces.cases_of(rule.id)}
    yield from (
        f"{path} names it, and no test there judges it" for path in traces.modules_of(rule.id) if path not in judging
    )
    oracles = traces.oracles_of(rule.id)
    if not oracles:
        yield "its tests name no oracle"
    if NOTHING in oracles and (len(oracles) > 1 or _compares(traces.cases_of(rule.id))):
        yield f"its tests compare figures, and say: {NOTHING}"
    yield from (gap for name in oracles for gap in [_gap_of_oracle(name, rule, book, traces)] if gap)


def _gap_of_oracle(name: str, rule: Rule, book: Rulebook, traces: Traces) -> str | None:
    """A source is one of a document that the rule rests on, or one that no rule rests on: an independent second one."""
    entry = book.references.get(name)
    if entry is None:
        if name in {BY_HAND, NOTHING} or _reached(rule) & traces.libraries.get(name, set()):
            return None
        return f"the oracle {name} is no source, and no library that a calculation behind it is tested against"
    documents = {reference.document for reference in book.cited(rule)}
    if entry.document in documents or not any(name in other.references for other in book.rules):
        return None
    return f"its oracle {name} is of a document that it does not rest on"


def _reached(rule: Rule) -> set[str]:
    """The modules of the calculations that the rule's module uses, itself or by others."""
    found: set[str] = set()
    waiting = [rule.check.__module__]
    while waiting:
        module = waiting.pop()
        spec = find_spec(module) if module not in found else None
        if spec and spec.origin:
            found.add(module)
            waiting += [name for name in _imported(Path(spec.origin)) if _is_near(name, rule)]
    return {module for module in found if module.startswith("jurystrut.calculations")}


def _is_near(name: str, rule: Rule) -> bool:
    return name.startswith(("jurystrut.calculations", rule.check.__module__.partition(".")[0] + "."))


@cache
def _imported(path: Path) -> set[str]:
    """The modules that a file imports; those of its types too, for a rule knows by its type the fact that it is given."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
    return {name for name in found if _exists(name)}


def _exists(name: str) -> bool:
    try:
        return find_spec(name) is not None
    except ModuleNotFoundError:
        return False


# -- looking at the tests ----------------------------------------------------------------------------------------------


class _Watcher:
    """A plugin of pytest that notes which rules each test is told of."""

    def __init__(self) -> None:
        self.test = ""
        self.seen: dict[str, list[Observed]] = defaultdict(list)
        self.modules: dict[str, Any] = {}

    def pytest_collection_finish(self, session: Any) -> None:
        self.modules = {item.nodeid.partition("::")[0]: item.module for item in session.items}

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        self.test = nodeid

    def note(self, rule: str, judgement: Judgement) -> None:
        (findings,) = [result.findings for result in judgement.results if result.rule.id == rule]
        judged = hash(f"{judgement.stage} {judgement.day} {judgement.project.sections}")
        self.seen[rule].append(Observed(self.test, findings, judged))


def observe(tests: Path) -> Traces:
    """Run the tests of rules in a folder of tests, and note what they show; raises UsageError where one fails."""
    import pytest

    if not (tests / "rules").is_dir():
        raise UsageError(
            f"no tests of rules are in {tests / 'rules'}; the catalogue is written in a checkout of the sources"
        )
    watcher = _Watcher()
    with _watching(watcher):
        status = pytest.main(["-n0", "-q", "-p", "no:cacheprovider", str(tests / "rules")], plugins=[watcher])
    if status:
        raise UsageError("the tests of rules do not pass, so nobody knows what they show")
    return Traces(
        watcher.seen,
        {path: getattr(module, "ORACLES", {}) for path, module in watcher.modules.items()},
        {path: getattr(module, "NO_SUCH_CASE", {}) for path, module in watcher.modules.items()},
        _late_changes(tests / "late_changes"),
        _libraries(tests),
    )


@contextmanager
def _watching(watcher: _Watcher) -> Iterator[None]:
    testing.watchers.append(watcher.note)
    try:
        yield
    finally:
        testing.watchers.remove(watcher.note)


def _late_changes(folder: Path) -> dict[str, list[str]]:
    """By rule, the late changes that it must catch."""
    found: dict[str, list[str]] = defaultdict(list)
    for path in sorted(folder.glob("*.yaml")):
        tree, _ = parse(path.read_text(encoding="utf-8"), path.name)
        expected = tree.get("expect") if isinstance(tree, Mapping) else None
        rules = (
            [one.get("rule") for one in expected if isinstance(one, Mapping)] if isinstance(expected, Listing) else []
        )
        for rule in dict.fromkeys(map(str, rules)):
            found[rule].append(path.stem)
    return dict(found)


def _libraries(tests: Path) -> dict[str, set[str]]:
    """By library that some test imports, the calculations that the same test imports."""
    found: dict[str, set[str]] = defaultdict(set)
    for path in sorted([*(tests / "rules").rglob("*.py"), *(tests / "calculations").rglob("*.py")]):
        imported = _imported(path)
        for library in {name.partition(".")[0] for name in imported} - _NO_ORACLES:
            found[library] |= {name for name in imported if name.startswith("jurystrut.calculations")}
    return dict(found)
