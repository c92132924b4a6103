"""A builder's spreadsheet of weights, as comma separated values -> records of the section `weights`, as text.

It may hold several tables below each other, each with a row of names: components (item, weight), stations (place, arm, maximum)
and weighings (wheel, reading). Nothing is lost: a row that cannot be read stands in the result as a comment, and so does what no
field was found for. No unit is guessed: it stands in the column's name, `Weight (lb)`, in a row of units below the names, or in
the cell itself.
"""

from __future__ import annotations

import csv
import datetime
import io
import re
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.errors import UsageError
from jurystrut.reading.spreadsheet_rows import KINDS, Kind, Table, cell_of, comment, is_quantity, plain, row_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

__all__ = ["LONGEST_NAME", "Imported", "records_of", "rows_of"]

_UNIT = re.compile(r"^(?P<name>.*?)\s*(?:[(\[]\s*(?P<unit>[^)\]]*?)\s*[)\]]|,\s*(?P<after>\w+))?$")
LONGEST_NAME = 200
"""Characters in the name of a column; a longer cell names none."""


class Imported(NamedTuple):
    """The records as text, and one line for everything that could not be read."""

    text: str
    unread: tuple[str, ...]


def records_of(text: str, file: str, chosen: Mapping[str, str] | None = None, day: str = "") -> Imported:
    """Read a spreadsheet; `chosen` names columns for fields where they are called otherwise than in `KINDS`.

    `day` is that of a weighing without a column for it. Raises UsageError where there is no row of names, or a chosen field
    or column is not there.
    """
    comma = _separator(text)
    sheet = _Sheet(file, day, decimal_comma=comma != ",")
    for number, row in enumerate(rows_of(text, comma, file), start=1):
        if any(cell.strip() for cell in row):
            sheet.take(number, row, _table(row, chosen or {}))
    sheet.check(chosen or {})
    return Imported("\n".join(sheet.lines()) + "\n", tuple(sheet.unread))


def rows_of(text: str, delimiter: str, file: str) -> list[list[str]]:
    """The rows of a table; raises UsageError where it is none."""
    try:
        return list(csv.reader(io.StringIO(text.removeprefix("\ufeff")), delimiter=delimiter))
    except csv.Error as error:
        raise UsageError(f"{file} is no table: {error}") from None


class _Sheet:
    """What has been read of a spreadsheet so far."""

    def __init__(self, file: str, day: str, *, decimal_comma: bool) -> None:
        self.file, self.day, self.decimal_comma = file, day, decimal_comma
        self.tables: list[Table] = []
        self.fresh = False
        self.before: list[str] = []
        self.records: dict[str, list[str]] = {"components": [], "stations": []}
        self.weighings: dict[str, list[str]] = {}
        self.unread: list[str] = []
        self.used: dict[str, int] = {}

    def take(self, number: int, row: Sequence[str], table: Table | None) -> None:
        """One row that holds something: names, units, or a record."""
        if table:
            self.tables.append(table)
        elif not self.tables:
            self.before.append(f"# row {number}: {comment(row)}")
        elif self.fresh and _is_units(row, self.tables[-1]):
            self.tables[-1] = _with_units(self.tables[-1], row)
        else:
            self._record(number, row, self.tables[-1])
        self.fresh = table is not None

    def _record(self, number: int, row: Sequence[str], table: Table) -> None:
        line, problems = row_of(row, table, self.used, decimal_comma=self.decimal_comma)
        if table.kind.name == "scales":
            day = cell_of(row, table, "day") or self.day
            if line and not _is_day(day):
                words = (
                    f"'{plain(day)}' is no day such as 2026-10-24"
                    if day
                    else "the day of the weighing is not there; add --day"
                )
                line, problems = None, [words]
            place = self.weighings.setdefault(day if line else self.day, [])
        else:
            place = self.records[table.kind.name]
        self.unread += [f"{self.file}, row {number}: {problem}" for problem in problems]
        place.append(line or f"# row {number} not read: {comment(row)}")

    def check(self, chosen: Mapping[str, str]) -> None:
        """UsageError where there is no table, or none has a field that was chosen."""
        if not self.tables:
            raise UsageError(
                f"{self.file} has no row that names a column for the weight and one for the item; name them with --columns"
            )
        found = {field for table in self.tables for field in table.columns}
        for field in chosen:
            if field not in found:
                fields = ", ".join(dict.fromkeys(name for kind in KINDS for name in kind.columns))
                raise UsageError(f"{self.file} has no column '{chosen[field]}' for '{field}'; fields are {fields}")

    def lines(self) -> Iterator[str]:
        """The whole result."""
        yield f"# From {plain(self.file)}."
        yield from self.before
        yield "weights:"
        tables = {table.kind.name for table in self.tables}
        for name, records in self.records.items():
            if name in tables:
                yield f"  {name}:" if any(line.startswith("- ") for line in records) else f"  {name}: []"
                yield from (f"    {line}" for line in records)
        if "scales" in tables:
            yield from self._weighings()

    def _weighings(self) -> Iterator[str]:
        good = [day for day, scales in self.weighings.items() if any(line.startswith("- ") for line in scales)]
        yield "  weighings:" if good else "  weighings: []"
        for number, (day, scales) in enumerate(self.weighings.items(), 1):
            if day in good:
                yield f"    - id: WEIGHING-{number}"
                yield f"      day: {day}"
                yield "      scales:"
            yield from (f"        {line}" for line in scales)


def _is_day(text: str) -> bool:
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return len(text) == len("2026-10-24")


def _separator(text: str) -> str:
    """What stands between the cells: a tab or a semicolon where most lines have one, else a comma."""
    lines = [line for line in text.splitlines() if line.strip()]
    return next((mark for mark in "\t;" if 2 * sum(mark in line for line in lines) > len(lines)), ",")


def _table(row: Sequence[str], chosen: Mapping[str, str]) -> Table | None:
    """The table whose columns this row names; None where it names none."""
    matches = [_UNIT.match(cell.strip()) if len(cell) <= LONGEST_NAME else None for cell in row]
    names = [match["name"].strip().lower() if match else "" for match in matches]
    for kind in KINDS:
        found = _columns(kind, names, row, chosen)
        if all(any(field in found for field in group) for group in kind.needs):
            units = {
                f: (m["unit"] or m["after"] or "") for f in kind.quantities if f in found and (m := matches[found[f]])
            }
            return Table(kind, found, units, row)
    return None


def _columns(kind: Kind, names: Sequence[str], row: Sequence[str], chosen: Mapping[str, str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for field, words in kind.columns.items():
        if field in chosen:
            column = next((i for i, cell in enumerate(row) if cell.strip() == chosen[field].strip()), None)
        else:
            column = next((names.index(name) for name in words if name in names), None)
        if column is not None and column not in found.values():
            found[field] = column
    return found


def _is_units(row: Sequence[str], table: Table) -> bool:
    """Whether a row holds nothing but units below the names."""
    cells = {field: cell_of(row, table, field).strip("()[]") for field in table.kind.quantities}
    return (
        any(cells.values())
        and not cell_of(row, table, "id")
        and all(not cell or is_quantity(f"1 {cell}", table.kind.quantities[field]) for field, cell in cells.items())
    )


def _with_units(table: Table, row: Sequence[str]) -> Table:
    units = {f: cell_of(row, table, f).strip("()[]") or table.units.get(f, "") for f in table.kind.quantities}
    return table._replace(units=units)
