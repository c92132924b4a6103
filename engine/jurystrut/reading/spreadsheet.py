"""A builder's spreadsheet of weights, as comma separated values -> records of the section `weights`, as text.

It may hold several tables below each other, each with a row of names: components (item, weight), stations (place, arm, maximum)
and weighings (wheel, reading). Nothing is lost: a row that cannot be read stands in the result as a comment, and so does what no
field was found for.
"""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

from jurystrut.reading.columns import Imported, cell_of, comment, made_id, plain, sheet_of
from jurystrut.reading.spreadsheet_rows import KINDS, row_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from jurystrut.reading.columns import Row, Sheet, Table

__all__ = ["records_of"]


def records_of(text: str, file: str, chosen: Mapping[str, str] | None = None, day: str = "") -> Imported:
    """Read a spreadsheet; `chosen` names columns for fields where they are called otherwise than in `KINDS`.

    `day` is that of a weighing without a column for it. Raises UsageError where there is no row of names, or a chosen field
    or column is not there.
    """
    weights = _Weights(file, day)
    sheet = sheet_of(text, file, KINDS, chosen or {})
    for row in sheet.rows:
        weights.take(row)
    return Imported("\n".join(weights.lines(sheet)) + "\n", tuple(weights.unread))


class _Weights:
    """What has been made of a spreadsheet so far."""

    def __init__(self, file: str, day: str) -> None:
        self.file, self.day = file, day
        self.before: list[str] = []
        self.records: dict[str, list[str]] = {"components": [], "stations": []}
        self.weighings: dict[str, list[str]] = {}
        self.unread: list[str] = []
        self.used: dict[str, int] = {}

    def take(self, row: Row) -> None:
        """One row: a record, or words above the first table."""
        if row.table is None:
            self.before.append(f"# row {row.number}: {comment(row.cells)}")
        else:
            self._record(row.number, row.cells, row.table)

    def _record(self, number: int, row: Sequence[str], table: Table) -> None:
        line, problems = row_of(row, table, self.used)
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

    def lines(self, sheet: Sheet) -> Iterator[str]:
        """The whole result."""
        yield f"# From {plain(self.file)}."
        yield from self.before
        yield "weights:"
        for name, records in self.records.items():
            if name in sheet.kinds:
                yield f"  {name}:" if any(line.startswith("- ") for line in records) else f"  {name}: []"
                yield from (f"    {line}" for line in records)
        if "scales" in sheet.kinds:
            yield from self._weighings()

    def _weighings(self) -> Iterator[str]:
        good = [day for day, scales in self.weighings.items() if any(line.startswith("- ") for line in scales)]
        yield "  weighings:" if good else "  weighings: []"
        for number, (day, scales) in enumerate(self.weighings.items(), 1):
            if day in good:
                yield f"    - id: {made_id(f'WEIGHING-{number}', self.used)}"
                yield f"      day: {day}"
                yield "      scales:"
            yield from (f"        {line}" for line in scales)


def _is_day(text: str) -> bool:
    try:
        datetime.date.fromisoformat(text)
    except ValueError:
        return False
    return len(text) == len("2026-10-24")
