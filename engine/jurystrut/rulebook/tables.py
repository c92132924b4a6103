"""Published tables as data files beside the rules: rows of text, each file with its source."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.errors import PackError
from jurystrut.tree import Listing, Mapping, parse

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["Table", "read_table"]


class Table(NamedTuple):
    """The rows of one table, every cell as text (or None where it is blank), and its entry in the registry of sources."""

    source: str
    rows: tuple[dict[str, str | None], ...]


def read_table(path: Path) -> Table:
    """Read one table; raises PackError where the file is not of the form `source: {entry: ...}`, `rows: [...]`."""
    tree, problems = parse(path.read_text(encoding="utf-8"), path.name)
    if problems:
        raise PackError(f"{problems[0].position}: {problems[0].message}")
    source = tree.get("source") if isinstance(tree, Mapping) else None
    rows = tree.get("rows") if isinstance(tree, Mapping) else None
    if not isinstance(source, Mapping) or not isinstance(rows, Listing):
        raise PackError(f"{path.name}: a table needs 'source' and 'rows'")
    return Table(str(source.get("entry")), tuple(_row(row, path) for row in rows))


def _row(row: object, path: Path) -> dict[str, str | None]:
    if not isinstance(row, Mapping) or not all(cell is None or isinstance(cell, str) for cell in row.values()):
        raise PackError(f"{path.name}: every row is a mapping of plain cells")
    return {column: cell if isinstance(cell, str) else None for column, cell in row.items()}
