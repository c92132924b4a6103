"""Tables in a builder's spreadsheet, as comma separated values: which kind each is, which column holds what, in which unit.

A spreadsheet may hold several tables below each other, each with a row of names. No unit is guessed: it stands in the column's
name, `Weight (lb)`, in a row of units below the names, or in the cell itself.
"""

from __future__ import annotations

import csv
import io
import json
import re
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.errors import UsageError
from jurystrut.quantities import QuantityError
from jurystrut.records.fields import ID_PATTERN

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from jurystrut.quantities import Gauge, Quantity

__all__ = [
    "Imported",
    "Kind",
    "Row",
    "Sheet",
    "Table",
    "cell_of",
    "comment",
    "is_quantity",
    "left_over",
    "made_id",
    "measure",
    "plain",
    "sheet_of",
    "too_long",
]

_UNIT = re.compile(r"(?P<name>.*?)\s*(?:[(\[]\s*(?P<unit>[^)\]]*?)\s*[)\]]|,\s*(?P<after>\w+))?")
_BARE = re.compile(r"[-+]?\d+(\.\d+)?|[-+]?\.\d+")
_DECIMAL_COMMA = re.compile(r"(?<![\d.,])(\d+),(\d{1,2}|\d{4,})(?![\d.,])")
_LONGEST_NAME = 200
"""Characters in the name of a column; a longer cell names none."""
_LONGEST_CELL = 2000


class Imported(NamedTuple):
    """The records as text, one line for everything that could not be read, and the names that records wait for."""

    text: str
    unread: tuple[str, ...]
    waits_for: tuple[str, ...] = ()


class Kind(NamedTuple):
    """A table of one kind of record: how builders name its columns, which hold quantities, and which must be there."""

    name: str
    columns: Mapping[str, tuple[str, ...]]
    quantities: Mapping[str, type[Quantity | Gauge]]
    needs: tuple[tuple[str, ...], ...]
    """One column of each group."""


class Table(NamedTuple):
    """Its kind, the column of each field, units by field, and the names of all columns."""

    kind: Kind
    columns: Mapping[str, int]
    units: Mapping[str, str]
    names: Sequence[str]
    decimal_comma: bool


class Row(NamedTuple):
    """One row that holds something, counted from 1, and the table that it stands in; None above the first one."""

    number: int
    cells: Sequence[str]
    table: Table | None


class Sheet(NamedTuple):
    """The kinds of table that were found, and all rows but those of names and of units."""

    kinds: frozenset[str]
    rows: tuple[Row, ...]


def sheet_of(text: str, file: str, kinds: Sequence[Kind], chosen: Mapping[str, str]) -> Sheet:
    """The tables of these kinds in a spreadsheet; of several kinds that fit, the first.

    `chosen` names columns for fields where they are called otherwise than the kinds have it. Raises UsageError where there is
    no table, or a chosen field or column is not there.
    """
    comma = _separator(text)
    tables: list[Table] = []
    rows: list[Row] = []
    fresh = False
    for number, cells in enumerate(_rows_of(text, comma, file), start=1):
        if not any(cell.strip() for cell in cells):
            continue
        table = _named(cells, kinds, chosen, decimal_comma=comma != ",")
        if table:
            tables.append(table)
        elif fresh and _is_units(cells, tables[-1]):
            tables[-1] = _with_units(tables[-1], cells)
        else:
            rows.append(Row(number, cells, tables[-1] if tables else None))
        fresh = table is not None
    found = {field for table in tables for field in table.columns}
    for field in chosen:
        if field not in {name for kind in kinds for name in kind.columns}:
            fields = ", ".join(dict.fromkeys(name for kind in kinds for name in kind.columns))
            raise UsageError(f"{file}: --columns names no field '{field}'; fields are {fields}")
    if not tables:
        raise UsageError(_no_table(file, kinds, chosen, rows))
    for field in chosen:
        if field not in found:
            raise UsageError(f"{file} has no column '{chosen[field]}' for '{field}'")
    return Sheet(frozenset(table.kind.name for table in tables), tuple(rows))


def _separator(text: str) -> str:
    """What stands between the cells: a tab or a semicolon where most lines have one, else a comma."""
    lines = [line for line in text.splitlines() if line.strip()]
    return next((mark for mark in "\t;" if 2 * sum(mark in line for line in lines) > len(lines)), ",")


def _rows_of(text: str, delimiter: str, file: str) -> list[list[str]]:
    try:
        # Lines may end as on any system, the oldest included, within a cell too.
        return list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=None), delimiter=delimiter))
    except csv.Error as error:
        raise UsageError(f"{file} is no table: {error}") from None


def _named(
    cells: Sequence[str], kinds: Sequence[Kind], chosen: Mapping[str, str], *, decimal_comma: bool
) -> Table | None:
    """The table whose columns this row names; None where it names none."""
    matches = [_UNIT.fullmatch(" ".join(cell.split())) if len(cell) <= _LONGEST_NAME else None for cell in cells]
    names = [match["name"].strip().lower() if match else "" for match in matches]
    for kind in kinds:
        found = _columns(kind, names, cells, chosen)
        if not _lacking(kind, found):
            units = {
                f: _unit(m, kind.quantities[f]) for f in kind.quantities if f in found and (m := matches[found[f]])
            }
            return Table(kind, found, units, cells, decimal_comma)
    return None


def _columns(kind: Kind, names: Sequence[str], cells: Sequence[str], chosen: Mapping[str, str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for field, words in kind.columns.items():
        if field in chosen:
            wanted = chosen[field].strip().lower()
            whole = [cell.strip().lower() for cell in cells if len(cell) <= _LONGEST_NAME]
            column = whole.index(wanted) if wanted in whole else names.index(wanted) if wanted in names else None
        else:
            column = next((names.index(name) for name in words if name in names), None)
        if column is not None and column not in found.values():
            found[field] = column
    return found


def _lacking(kind: Kind, found: Collection[str]) -> list[str]:
    return [" or ".join(group) for group in kind.needs if not any(field in found for field in group)]


def _unit(match: re.Match[str], kind: type[Quantity | Gauge]) -> str:
    """The unit in a column's name, behind it or as the whole of it: `Length (in)`, `AWG`."""
    whole = match["name"].strip()
    alone = next((unit for unit in (whole, whole.upper()) if is_quantity(f"1 {unit}", kind)), "")
    return match["unit"] or match["after"] or alone


def _no_table(file: str, kinds: Sequence[Kind], chosen: Mapping[str, str], rows: Sequence[Row]) -> str:
    """Which names were looked for, and what is missing in the row that has most of them."""
    near = ""
    fewest = 99
    for row in rows[:100]:
        cells = row.cells[:100]
        names = [
            m["name"].strip().lower()
            for cell in cells
            if (m := _UNIT.fullmatch(" ".join(cell[:_LONGEST_NAME].split())))
        ]
        for kind in reversed(kinds):
            lacking = _lacking(kind, _columns(kind, names, cells, chosen))
            if len(lacking) < min(fewest, len(kind.needs)):
                fewest = len(lacking)
                near = f"row {row.number} names no column for {', '.join(lacking)}; "
    wanted = " or of ".join(f"{kind.name} ({', '.join(' or '.join(group) for group in kind.needs)})" for kind in kinds)
    return f"{file} has no row that names the columns of {wanted}; {near}say which they are: --columns 'FIELD=ITS COLUMN, ...'"


def _is_units(cells: Sequence[str], table: Table) -> bool:
    """Whether a row holds nothing but units below the names."""
    units = {field: cell_of(cells, table, field).strip("()[]") for field in table.kind.quantities}
    return (
        any(units.values())
        and not cell_of(cells, table, "id")
        and all(not unit or is_quantity(f"1 {unit}", table.kind.quantities[field]) for field, unit in units.items())
    )


def _with_units(table: Table, cells: Sequence[str]) -> Table:
    units = {f: cell_of(cells, table, f).strip("()[]") or table.units.get(f, "") for f in table.kind.quantities}
    return table._replace(units=units)


def cell_of(cells: Sequence[str], table: Table, field: str) -> str:
    """The cell of a field; empty where there is none."""
    column = table.columns.get(field)
    return cells[column].strip() if column is not None and column < len(cells) else ""


def measure(cells: Sequence[str], table: Table, field: str) -> tuple[str, str]:
    """A quantity's cell with its column's unit where it is a bare number, and what is wrong with it; one of both is empty."""
    cell = cell_of(cells, table, field)
    text = _DECIMAL_COMMA.sub(r"\1.\2", cell) if table.decimal_comma else cell
    quantity = f"{text} {table.units.get(field, '')}".strip() if _BARE.fullmatch(text) else text
    if _BARE.fullmatch(quantity):
        return "", f"{field} {quantity} has no unit, in its cell, its column's name or below that"
    try:
        table.kind.quantities[field].parse(quantity)
    except QuantityError as error:
        return "", f"{field} '{plain(cell)}': {error}"
    return quantity, ""


def is_quantity(text: str, kind: type[Quantity | Gauge]) -> bool:
    """Whether the text is a quantity of this kind."""
    try:
        kind.parse(text)
    except QuantityError:
        return False
    return True


def too_long(cells: Iterable[str]) -> str:
    """What is wrong with a row that holds a cell without end; empty where none is."""
    if any(len(cell) > _LONGEST_CELL for cell in cells):
        return f"a cell of more than {_LONGEST_CELL} characters; kept as a comment"
    return ""


def made_id(text: str, used: dict[str, int]) -> str:
    """An id made of the words, once in the file; `used` holds the last number behind each."""
    stem = re.sub("[^A-Z0-9_]+", "-", text.upper())[:56].strip("-_") or "PART"
    found = stem
    while found in used:
        used[stem] += 1
        found = f"{stem}-{used[stem]}"
    used[found] = 1
    assert re.fullmatch(ID_PATTERN, found)
    return found


def left_over(cells: Sequence[str], table: Table, kept: Collection[str]) -> str:
    """Cells of columns that no field takes, and of fields that are `kept` out, as a comment behind the record."""
    taken = {column for field, column in table.columns.items() if field not in kept}
    words = [
        f"{plain(table.names[i]) if i < len(table.names) and plain(table.names[i]) else f'column {i + 1}'}: {plain(cell)}"
        for i, cell in enumerate(cells)
        if i not in taken and plain(cell)
    ]
    return f"  # {'; '.join(words)}" if words else ""


def comment(cells: Iterable[str]) -> str:
    """A row as it was, behind a comment's mark."""
    return ", ".join(json.dumps(plain(cell), ensure_ascii=False) for cell in cells)


def plain(text: str) -> str:
    """Text on one line, without characters that a record file may not hold."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
