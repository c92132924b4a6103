"""Where a value stands in the build repository: file, line and column, kept for every value that was read."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["LINE_BREAK", "Position", "Spot", "Where", "pack_mark"]

LINE_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
"""Where YAML breaks lines, and so where lines of records are counted."""

# A mark is line and column in one integer: a repository of a hundred thousand records holds a million of them.
_COLUMN_BITS = 20
_COLUMN_MASK = (1 << _COLUMN_BITS) - 1


def pack_mark(line: int, column: int) -> int:
    """Pack a line and a column, both counted from 0, into one integer."""
    return line << _COLUMN_BITS | min(column, _COLUMN_MASK)


class Position(NamedTuple):
    """A place in a file of the build repository; line and column are counted from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Where:
    """Where one record stands, and each of its fields.

    `keys` are the record's fields in the order written; `marks` holds two marks a field, its key's and its value's.
    """

    __slots__ = ("also", "file", "keys", "mark", "marks")

    def __init__(self, file: str, mark: int, keys: Iterable[str] = (), marks: Sequence[int] = ()) -> None:
        self.file = file
        self.mark = mark
        self.keys = tuple(keys)
        self.marks = marks
        self.also: Where | None = None  # where the record goes on in another file; only sections do

    @property
    def position(self) -> Position:
        """The place where the record begins."""
        return self._at(self.mark)

    def of(self, field: str) -> Position:
        """The place of a field's value, or of the record itself where the field was not written."""
        return self._of(field, 1)

    def of_key(self, field: str) -> Position:
        """The place of a field's name, or of the record itself where the field was not written."""
        return self._of(field, 0)

    def _of(self, field: str, which: int) -> Position:
        part: Where | None = self
        while part is not None:
            if field in part.keys:
                return part._at(part.marks[2 * part.keys.index(field) + which])  # noqa: SLF001 - its own class
            part = part.also
        return self.position

    def _at(self, mark: int) -> Position:
        return Position(self.file, (mark >> _COLUMN_BITS) + 1, (mark & _COLUMN_MASK) + 1)


class Spot(NamedTuple):
    """A record or one field of it, resolved to a `Position` only when somebody prints it."""

    where: Where
    field: str = ""

    @property
    def position(self) -> Position:
        """File, line and column."""
        return self.where.of(self.field) if self.field else self.where.position
