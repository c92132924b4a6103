"""Which tests to hold against a mutant, and in which order."""

from __future__ import annotations

import ast
import re
from collections import Counter, defaultdict
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tests.mutation.recorded import Record

__all__ = ["Order", "Source", "words_of"]


class Source:
    """One module: its statements, and the tests that stand by each of them."""

    def __init__(self, file: str, text: str, record: Record, words: Mapping[str, set[tuple[str, int]]]) -> None:
        self.record, self.words = record, words
        self.lines = record.lines.get(file, {})
        self.tree = ast.parse(text)

    def tests(self, line: int) -> set[str]:
        """The tests that run a line, or that run a line which names what the line declares at import."""
        found = self.lines.get(line) or self._of_statement(line)
        if found and "" not in found:
            return found
        return (found | self._by_name(line)) - {""}

    def runs_at_import(self, line: int) -> bool:
        """Whether something ran here before any test did."""
        return "" in (self.lines.get(line) or self._of_statement(line))

    def _of_statement(self, line: int) -> set[str]:
        """The tests that run the smallest statement around a line, or the head of it."""
        around = [s for s in ast.walk(self.tree) if isinstance(s, ast.stmt) and s.lineno <= line <= (s.end_lineno or 0)]
        if not around:
            return set()
        first = max(s.lineno for s in around)
        return set[str]().union(*(self.lines.get(one, set()) for one in range(first, line + 1)))

    def _by_name(self, line: int) -> set[str]:
        for statement in self.tree.body:
            if _first_line(statement) <= line <= (statement.end_lineno or 0):
                names = _declared(statement)
                span = range(statement.lineno, (statement.end_lineno or 0) + 1)
                found = set[str]().union(*(self.lines.get(one, set()) for one in span))
                for name in names:
                    for file, one in self.words.get(name, set()):
                        found |= self.record.lines.get(file, {}).get(one, set())
                return found
        return set()


def _first_line(statement: ast.stmt) -> int:
    decorators: list[ast.expr] = getattr(statement, "decorator_list", [])
    return min([statement.lineno, *(decorator.lineno for decorator in decorators)])


def _declared(statement: ast.stmt) -> set[str]:
    match statement:
        case ast.FunctionDef(name=name) | ast.ClassDef(name=name):
            return {name}
        case ast.Assign() | ast.AnnAssign():
            return {
                node.id
                for node in ast.walk(statement)
                if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
            }
    return set()


def words_of(texts: Mapping[str, str]) -> dict[str, set[tuple[str, int]]]:
    """Every word of some sources, and where it stands."""
    found: dict[str, set[tuple[str, int]]] = defaultdict(set)
    for file, text in texts.items():
        for number, line in enumerate(text.splitlines(), start=1):
            for word in set(re.findall(r"[A-Za-z_]\w*", line)):
                found[word].add((file, number))
    return found


class Order:
    """Which tests to try first: the fast ones that run little else, the sooner the more of the neighbours they killed.

    A slow test that kills much must not take all the time there is from the test that asks about this very line.
    """

    def __init__(self, record: Record, seconds: float) -> None:
        self.record, self.seconds = record, seconds
        self.killers: Counter[str] = Counter()
        self.breadth = Counter(test for lines in record.lines.values() for tests in lines.values() for test in tests)

    def __call__(self, tests: set[str]) -> list[tuple[str, float]]:
        """Tests worth so many seconds at least, one more than fills them."""
        chosen, spent = [], 0.0
        for test in sorted(tests, key=self._rank):
            if spent >= self.seconds:
                break
            chosen.append((test, self.record.seconds[test]))
            spent += self.record.seconds[test]
        return chosen

    def _rank(self, test: str) -> tuple[float, str]:
        return self.breadth[test] * self.record.seconds[test] / (1 + self.killers[test]) ** 2, test
