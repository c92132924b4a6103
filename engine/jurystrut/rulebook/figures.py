"""Every figure that decides something, and where it comes from: numbers in code by the comment beside them, numbers in tables.

A number in the code of a pack, or of the calculations, is traced by the comment that ends its line, or else the first line of
its statement:

    _SUPPORT = 24.0  # ac43-11-96-a: inches between supports
    _LEAST, _MOST = 2.0, 6.0  # 45-23-b
    _CHARGED = 0.90  # cap-562 (memory): a figure that is known otherwise than the rest of its entry

The comment begins with an entry of the sources; or with `arithmetic`, for what is defined or follows from geometry, or
`numerics`, for rounding, steps of a search, and how much is shown. As many words as numbers, with commas between, go one with
each. Nothing is asked of what decides nothing by itself: 0 and 1 and the whole number 2 inside functions, a place in a list,
what stands in a text, a rounding error, and a change of unit by multiplying or dividing.
"""

from __future__ import annotations

import ast
import io
import re
import tokenize
from collections import Counter
from importlib import import_module
from operator import attrgetter
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import jurystrut.calculations
from jurystrut.rulebook.rules import declared_in
from jurystrut.rulebook.tables import read_table

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.rulebook.book import Rulebook
    from jurystrut.rulebook.references import Reference
    from jurystrut.rulebook.rules import Pack

__all__ = ["EXACT", "Figure", "figures_in_code", "figures_in_table", "figures_of", "status_of"]

EXACT = frozenset({"arithmetic", "numerics"})
"""What stands instead of a source beside a number that nobody needs to look up."""

_ONE = r"[a-z0-9]+(?:-[a-z0-9]+)*(?: \((?:read|second-hand|memory|none)\))?"
_TRACE = re.compile(rf"#\s*({_ONE}(?:, {_ONE})*)(?=:|$)")
_CELL = re.compile(r"[-+]?[\d.]+(?:/\d+)?(?:-\d+(?:/\d+)?)?|[0-9a-f]{6}")
_UNITS = frozenset({10, 12, 60, 100, 360, 1000, 3600, 1e6})
_SCALING = (ast.Mult, ast.Div, ast.FloorDiv, ast.Mod, ast.Pow)
_MILLIONTH = 1e-6


class Figure(NamedTuple):
    """A number, where it stands, and the source it is traced to: an entry, a word of `EXACT`, or None where nothing says.

    `known` is given only where the figure is known otherwise than the rest of its entry.
    """

    value: str
    name: str
    place: str
    source: str | None
    known: str = ""


def status_of(figure: Figure, references: Mapping[str, Reference]) -> str | None:
    """How a figure is known, as `Reference.known` says it; `exact`; or None where it is traced to no entry."""
    if figure.source in EXACT:
        return "exact"
    entry = references.get(figure.source or "")
    if entry is None:
        return None
    return "common-practice" if figure.known == "none" else figure.known or entry.known


def figures_of(book: Rulebook) -> Iterator[tuple[str, Figure]]:
    """Every figure behind the rules of a book, each with its domain: of the calculations, of the packs' code and tables.

    A pack's code and its folder `tables` lie beside its sources.
    """
    for folder in map(Path, jurystrut.calculations.__path__):
        for path in sorted(folder.rglob("*.py")):
            yield from (("calculations", figure) for figure in figures_in_code(path, folder.parent))
    for pack in book.packs:
        folder = pack.sources.parent
        domains = _domains(pack)
        for path in sorted(folder.rglob("*.py")):
            domain = domains.get(path) or path.relative_to(folder).parts[0].removesuffix(".py")
            yield from ((domain, figure) for figure in figures_in_code(path, folder))
        for path in sorted((folder / "tables").rglob("*.yaml")):
            yield from ((path.parent.name, figure) for figure in figures_in_table(path, folder))


def _domains(pack: Pack) -> dict[Path, str]:
    """The domain that most rules of each module belong to."""
    found = {}
    for module in map(import_module, pack.modules):
        usual = Counter(rule.domain for rule in declared_in(module)[0]).most_common(1)
        if usual and module.__file__:
            found[Path(module.__file__)] = usual[0][0]
    return found


def figures_in_table(path: Path, root: Path) -> list[Figure]:
    """Every cell of a table that holds a number or a colour; a row may name its own `source` and `status`."""
    table = read_table(path)
    return [
        Figure(
            cell, column, path.relative_to(root).as_posix(), row.get("source") or table.source, row.get("status") or ""
        )
        for row in table.rows
        for column, cell in row.items()
        if cell and _CELL.fullmatch(cell)
    ]


def figures_in_code(path: Path, root: Path) -> list[Figure]:
    """Every number of a module that decides something, in the order of its lines."""
    text = path.read_text(encoding="utf-8")
    tokens = tokenize.generate_tokens(io.StringIO(text).readline)
    comments = {token.start[0]: token.string for token in tokens if token.type == tokenize.COMMENT}
    found = []
    for statement in ast.walk(ast.parse(text)):
        if isinstance(statement, ast.stmt):
            by_line: dict[int, list[ast.expr]] = {}
            numbers = _numbers(statement, in_function=statement.col_offset > 0)
            for number in sorted(numbers, key=attrgetter("lineno", "col_offset")):
                by_line.setdefault(number.lineno, []).append(number)
            for line, together in by_line.items():
                traces = _traces(comments.get(line)) or _traces(comments.get(statement.lineno)) or [(None, "")]
                traces = traces if len(traces) == len(together) else traces[:1] * len(together)
                place = f"{path.relative_to(root).as_posix()}:{line}"
                for number, (source, known) in zip(together, traces, strict=True):
                    found.append((line, Figure(ast.unparse(number), _name_of(statement), place, source, known)))
    return [figure for _, figure in sorted(found, key=lambda pair: pair[0])]


def _traces(comment: str | None) -> list[tuple[str | None, str]]:
    """The sources that a comment begins with, each with how the figure is known where the comment says so."""
    found = _TRACE.match(comment or "")
    parts = [part.partition(" ") for part in found[1].split(", ")] if found else []
    return [(source, known.strip("()")) for source, _, known in parts]


def _name_of(statement: ast.stmt) -> str:
    targets = statement.targets if isinstance(statement, ast.Assign) else [getattr(statement, "target", None)]
    return ", ".join(ast.unparse(target).strip("()") for target in targets if target)


def _numbers(node: ast.AST, *, in_function: bool) -> Iterator[ast.expr]:
    """The numbers of one statement, without those of the statements inside it and of texts."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.stmt | ast.JoinedStr | ast.match_case | ast.excepthandler):
            continue
        if isinstance(child, ast.Constant):
            if _decides(child, node, in_function=in_function):
                yield node if isinstance(node, ast.UnaryOp) else child
        elif not (isinstance(node, ast.Subscript) and child is node.slice):
            yield from _numbers(child, in_function=in_function)


def _decides(number: ast.Constant, around: ast.AST, *, in_function: bool) -> bool:
    value = number.value
    if isinstance(value, bool) or not isinstance(value, int | float) or 0 < value <= _MILLIONTH:
        return False
    if in_function and (value in {0, 1} or (value == 2 and isinstance(value, int))):
        return False
    if isinstance(around, ast.Subscript) and around.slice is number:
        return False
    if isinstance(around, ast.Call) and ast.unparse(around.func) == "round" and number in around.args[1:]:
        return False
    return not (value in _UNITS and isinstance(around, ast.BinOp) and isinstance(around.op, _SCALING))
