"""A builder's spreadsheet of weights, as comma separated values -> records of the section `weights`, as text.

Nothing is lost: a row that cannot be read stands in the result as a comment, and so does what no field was found for. No unit is
guessed: it stands in the column's name, `Weight (lb)`, in a row of units below the names, or in the cell itself.
"""

from __future__ import annotations

import csv
import io
import json
import re
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.errors import UsageError
from jurystrut.quantities import Arm, Mass, QuantityError
from jurystrut.records.fields import ID_PATTERN

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

__all__ = ["COLUMNS", "Imported", "components_of"]

COLUMNS: dict[str, tuple[str, ...]] = {
    "id": ("id", "no", "number", "part no", "part number", "code"),
    "what": ("what", "item", "name", "description", "component", "part", "equipment"),
    "weight": ("weight", "wt", "mass"),
    "arm": ("arm", "station", "sta", "fs", "cg", "x"),
    "basis": ("basis", "how known", "source", "status", "weighed or estimated"),
}
"""The field of a component, and how builders name its column; small letters, without the unit."""

_BASES = {
    "weighed": ("weighed", "actual", "measured", "scale", "w", "a"),
    "catalogue": ("catalogue", "catalog", "data sheet", "datasheet", "spec", "published"),
    "calculated": ("calculated", "calc", "drawing", "cad", "c"),
    "estimated": ("estimated", "estimate", "est", "guess", "e"),
}
_TOTALS = re.compile(r"(sub)?-?\s*totals?\b|sum\b|empty weight\b", re.IGNORECASE)
_UNIT = re.compile(r"^(?P<name>.*?)\s*(?:[(\[]\s*(?P<unit>[^)\]]*?)\s*[)\]]|,\s*(?P<after>\w+))?$")
_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?|[-+]?\.\d+")
_DECIMAL_COMMA = re.compile(r"(?<![\d.,])(\d+),(\d{1,2}|\d{4,})(?![\d.,])")
_FIELDS = ("weight", "arm")
_LONGEST_NAME, _LONGEST_CELL = 200, 2000


class Imported(NamedTuple):
    """The records as text, and one line for everything that could not be read."""

    text: str
    unread: tuple[str, ...]


class _Table(NamedTuple):
    """Column of each field, units by field, and the names of all columns."""

    columns: Mapping[str, int]
    units: Mapping[str, str]
    names: Sequence[str]


def components_of(text: str, file: str, chosen: Mapping[str, str] | None = None) -> Imported:
    """Read a spreadsheet; `chosen` names columns for fields where they are called otherwise than in `COLUMNS`.

    Raises UsageError where there is no row of names with a weight in it, or a chosen field or column is not there.
    """
    comma = _separator(text)
    try:
        rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff")), delimiter=comma))
    except csv.Error as error:
        raise UsageError(f"{file} is no table: {error}") from None
    first, table = _table(rows, chosen or {}, file)
    lines: list[str] = []
    unread: list[str] = []
    used: dict[str, int] = {}
    for number, row in enumerate(rows[first:], start=first + 1):
        if not any(cell.strip() for cell in row):
            continue
        if not lines and not unread and _is_units(row, table):
            table = _with_units(table, row)
            continue
        line, problems = _component(row, table, used, decimal_comma=comma != ",")
        unread += [f"{file}, row {number}: {problem}" for problem in problems]
        lines.append(line or f"    # row {number} not read: {_comment(row)}")
    before = [f"# row {number}: {_comment(row)}" for number, row in enumerate(rows[: first - 1], 1) if any(row)]
    head = [
        f"# From {_plain(file)}.",
        *before,
        "weights:",
        "  components:" if any("{id" in x for x in lines) else "  components: []",
    ]
    return Imported("\n".join([*head, *lines]) + "\n", tuple(unread))


def _separator(text: str) -> str:
    """What stands between the cells: a tab or a semicolon where most lines have one, else a comma."""
    lines = [line for line in text.splitlines() if line.strip()]
    return next((mark for mark in "\t;" if 2 * sum(mark in line for line in lines) > len(lines)), ",")


def _table(rows: Sequence[Sequence[str]], chosen: Mapping[str, str], file: str) -> tuple[int, _Table]:
    """The number of rows down to the row of names, and what its columns are."""
    for count, row in enumerate(rows, start=1):
        named = [_UNIT.match(cell.strip()) if len(cell) <= _LONGEST_NAME else None for cell in row]
        names = [match["name"].strip().lower() if match else "" for match in named]
        columns = {field: _column(field, names, row, chosen) for field in COLUMNS}
        found = {field: column for field, column in columns.items() if column is not None}
        if "weight" in found and ("what" in found or "id" in found):
            lost = [field for field in chosen if field not in found]
            if lost:
                raise UsageError(
                    f"{file} has no column '{chosen[lost[0]]}' for '{lost[0]}'; fields are {', '.join(COLUMNS)}"
                )
            units = {f: (m["unit"] or m["after"] or "") for f in _FIELDS if f in found and (m := named[found[f]])}
            return count, _Table(found, units, row)
    raise UsageError(
        f"{file} has no row that names a column for the weight and one for the item; name them with --columns"
    )


def _column(field: str, names: Sequence[str], row: Sequence[str], chosen: Mapping[str, str]) -> int | None:
    if field in chosen:
        return next((i for i, cell in enumerate(row) if cell.strip() == chosen[field].strip()), None)
    return next((names.index(name) for name in COLUMNS[field] if name in names), None)


def _is_units(row: Sequence[str], table: _Table) -> bool:
    """Whether a row holds nothing but units below the names."""
    cells = {field: _cell(row, table, field) for field in _FIELDS}
    return (
        bool(cells["weight"])
        and not _cell(row, table, "id")
        and all(not cell or _is_quantity(f"1 {cell.strip('()[]')}", field) for field, cell in cells.items())
    )


def _with_units(table: _Table, row: Sequence[str]) -> _Table:
    units = {field: _cell(row, table, field).strip("()[]") or table.units.get(field, "") for field in _FIELDS}
    return table._replace(units=units)


def _is_quantity(text: str, field: str) -> bool:
    try:
        (Mass if field == "weight" else Arm).parse(text)
    except QuantityError:
        return False
    return True


def _cell(row: Sequence[str], table: _Table, field: str) -> str:
    column = table.columns.get(field)
    return row[column].strip() if column is not None and column < len(row) else ""


def _component(
    row: Sequence[str], table: _Table, used: dict[str, int], *, decimal_comma: bool
) -> tuple[str | None, list[str]]:
    """One record on one line, and what could not be read of it; no record where it is no part, or its weight is unknown."""
    what = _plain(_cell(row, table, "what")) or _plain(_cell(row, table, "id"))
    if any(len(cell) > _LONGEST_CELL for cell in row):
        return None, [f"a cell of more than {_LONGEST_CELL} characters; kept as a comment"]
    if _TOTALS.match(what):
        return None, [f"'{what}' is no part; kept as a comment"]
    fields: dict[str, str] = {"what": json.dumps(what, ensure_ascii=False)}
    problems: list[str] = []
    for field in _FIELDS:
        cell = _cell(row, table, field)
        if cell:
            quantity = _quantity(cell, table.units.get(field, ""), decimal_comma=decimal_comma)
            if _is_quantity(quantity, field):
                fields[field] = quantity
            else:
                problems.append(_why(field, cell, quantity))
    basis = _cell(row, table, "basis").lower()
    known = next((name for name, words in _BASES.items() if basis in words), None)
    if known:
        fields["basis"] = known
    if not what or problems:
        return None, problems or ["no name and no id; kept as a comment"]
    id_ = _id(_cell(row, table, "id") or what, used)
    kept = _left_over(row, table, with_basis=bool(basis) and not known)
    return f"    - {{id: {id_}, {', '.join(f'{k}: {v}' for k, v in fields.items())}}}{kept}", []


def _quantity(cell: str, unit: str, *, decimal_comma: bool) -> str:
    """The cell as a quantity: with the column's unit where it is a bare number."""
    text = _DECIMAL_COMMA.sub(r"\1.\2", cell) if decimal_comma else cell
    return f"{text} {unit}".strip() if _NUMBER.fullmatch(text) else text


def _why(field: str, cell: str, quantity: str) -> str:
    if _NUMBER.fullmatch(quantity):
        return f"{field} {quantity} has no unit, in its cell, its column's name or below that"
    try:
        (Mass if field == "weight" else Arm).parse(quantity)
    except QuantityError as error:
        return f"{field} '{_plain(cell)}': {error}"
    return f"{field} '{_plain(cell)}'"


def _id(text: str, used: dict[str, int]) -> str:
    """An id made of the words, once in the file; `used` holds the last number behind each."""
    stem = re.sub("[^A-Z0-9_]+", "-", text.upper())[:56].strip("-_") or "PART"
    found = stem
    while found in used:
        used[stem] += 1
        found = f"{stem}-{used[stem]}"
    used[found] = 1
    assert re.fullmatch(ID_PATTERN, found)
    return found


def _left_over(row: Sequence[str], table: _Table, *, with_basis: bool) -> str:
    """Cells of columns that no field takes, as a comment behind the record."""
    taken = {column for field, column in table.columns.items() if field != "basis" or not with_basis}
    taken |= {table.columns["id"]} if "id" in table.columns else set()
    cells = [
        f"{_plain(table.names[i]) if i < len(table.names) and table.names[i] else f'column {i + 1}'}: {_plain(cell)}"
        for i, cell in enumerate(row)
        if i not in taken and cell.strip()
    ]
    return f"  # {'; '.join(cells)}" if cells else ""


def _comment(row: Iterable[str]) -> str:
    return ", ".join(json.dumps(_plain(cell), ensure_ascii=False) for cell in row)


def _plain(text: str) -> str:
    """Text on one line, without characters that a record file may not hold."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
