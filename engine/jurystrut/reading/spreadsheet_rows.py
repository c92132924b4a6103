"""One row of a builder's spreadsheet -> one record as text: what columns there are, by what words, and what their cells mean."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.quantities import Arm, Mass, QuantityError
from jurystrut.records.fields import ID_PATTERN

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from jurystrut.quantities import Quantity

__all__ = ["KINDS", "Kind", "Table", "cell_of", "comment", "is_quantity", "plain", "row_of"]


class Kind(NamedTuple):
    """A table of one kind of record: how builders name its columns, which hold quantities, and which must be there."""

    name: str
    columns: Mapping[str, tuple[str, ...]]
    quantities: Mapping[str, type[Quantity]]
    needs: tuple[tuple[str, ...], ...]
    """One column of each group."""


_ID = ("id", "no", "number", "part no", "part number", "code")
_WHAT = ("what", "item", "name", "description", "component", "part", "equipment")
_ARM = ("arm", "station", "sta", "fs", "cg", "x")

KINDS = (
    Kind(
        "scales",
        {
            "wheel": ("wheel", "scale", "weighing point", "point", *_WHAT),
            "reading": ("reading", "scale reading", "scale weight", "gross reading"),
            "tare": ("tare", "chocks"),
            "zero": ("zero", "scale zero"),
            "arm": _ARM,
            "day": ("day", "date", "weighed"),
        },
        {"reading": Mass, "tare": Mass, "zero": Mass, "arm": Arm},
        (("wheel",), ("reading",)),
    ),
    Kind(
        "stations",
        {
            "id": _ID,
            "what": ("what", "place", "station", "seat", *_WHAT[1:]),
            "kind": ("kind", "type", "use"),
            "arm": tuple(word for word in _ARM if word != "station"),
            "minimum": ("minimum", "min", "least"),
            "maximum": ("maximum", "max", "most", "limit"),
        },
        {"arm": Arm, "minimum": Mass, "maximum": Mass},
        (("what", "id"), ("maximum",), ("arm",)),
    ),
    Kind(
        "components",
        {
            "id": _ID,
            "what": _WHAT,
            "weight": ("weight", "wt", "mass"),
            "arm": _ARM,
            "basis": ("basis", "how known", "source", "status", "weighed or estimated"),
        },
        {"weight": Mass, "arm": Arm},
        (("what", "id"), ("weight",)),
    ),
)
"""The kinds of tables, by what they hold; columns in small letters, without the unit. The first kind that fits is taken."""

_WORDS: dict[str, dict[str, tuple[str, ...]]] = {
    "basis": {
        "weighed": ("weighed", "actual", "measured", "scale", "w", "a"),
        "catalogue": ("catalogue", "catalog", "data sheet", "datasheet", "spec", "published"),
        "calculated": ("calculated", "calc", "drawing", "cad", "c"),
        "estimated": ("estimated", "estimate", "est", "guess", "e"),
    },
    "kind": {
        "seat": ("seat", "occupant", "pilot", "passenger", "crew", "person"),
        "baggage": ("baggage", "luggage", "cargo", "bags"),
        "other": ("other",),
    },
    "wheel": {
        "nose": ("nose", "nosewheel", "nose wheel", "front"),
        "tail": ("tail", "tailwheel", "tail wheel"),
        "left-main": ("left", "left main", "left-main", "left wheel", "left main wheel", "lh"),
        "right-main": ("right", "right main", "right-main", "right wheel", "right main wheel", "rh"),
        "left-float": ("left float", "left-float"),
        "right-float": ("right float", "right-float"),
        "other": ("other",),
    },
}
"""What a cell of these columns means."""
_LONGEST_CELL = 2000
_MUST_BE_KNOWN = {"kind", "wheel"}
_NOT_A_FIELD = {"day"}
_WITHOUT_IDS = {"scales"}

_TOTALS = re.compile(r"(sub)?-?\s*totals?\b|sum\b|empty weight\b", re.IGNORECASE)
_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?|[-+]?\.\d+")
_DECIMAL_COMMA = re.compile(r"(?<![\d.,])(\d+),(\d{1,2}|\d{4,})(?![\d.,])")


class Table(NamedTuple):
    """Its kind, the column of each field, units by field, and the names of all columns."""

    kind: Kind
    columns: Mapping[str, int]
    units: Mapping[str, str]
    names: Sequence[str]


def cell_of(row: Sequence[str], table: Table, field: str) -> str:
    """The cell of a field; empty where there is none."""
    column = table.columns.get(field)
    return row[column].strip() if column is not None and column < len(row) else ""


def is_quantity(text: str, kind: type[Quantity]) -> bool:
    """Whether the text is a quantity of this kind."""
    try:
        kind.parse(text)
    except QuantityError:
        return False
    return True


def row_of(
    row: Sequence[str], table: Table, used: dict[str, int], *, decimal_comma: bool
) -> tuple[str | None, list[str]]:
    """One record on one line, and what could not be read of it; no record where it is none, or a cell cannot be read."""
    name = "wheel" if table.kind.name == "scales" else "what"
    what = plain(cell_of(row, table, name)) or plain(cell_of(row, table, "id"))
    if any(len(cell) > _LONGEST_CELL for cell in row):
        return None, [f"a cell of more than {_LONGEST_CELL} characters; kept as a comment"]
    if _TOTALS.match(what):
        return None, [f"'{what}' is no part; kept as a comment"]
    fields, problems = _quantities(row, table, decimal_comma=decimal_comma)
    words, kept, unknown = _words(row, table)
    problems += unknown
    if not what or problems:
        return None, problems or ["no name and no id; kept as a comment"]
    named = {} if table.kind.name in _WITHOUT_IDS else {"what": json.dumps(what, ensure_ascii=False)}
    ids = {} if table.kind.name in _WITHOUT_IDS else {"id": _id(cell_of(row, table, "id") or what, used)}
    whole = {**ids, **named, **fields, **words} if name == "what" else {**words, **fields}
    inside = ", ".join(f"{field}: {value}" for field, value in whole.items())
    return f"- {{{inside}}}{_left_over(row, table, kept)}", []


def _quantities(row: Sequence[str], table: Table, *, decimal_comma: bool) -> tuple[dict[str, str], list[str]]:
    fields: dict[str, str] = {}
    problems: list[str] = []
    for field, kind in table.kind.quantities.items():
        cell = cell_of(row, table, field)
        if not cell:
            continue
        text = _DECIMAL_COMMA.sub(r"\1.\2", cell) if decimal_comma else cell
        quantity = f"{text} {table.units.get(field, '')}".strip() if _NUMBER.fullmatch(text) else text
        if is_quantity(quantity, kind):
            fields[field] = quantity
        else:
            problems.append(_why(field, cell, quantity, kind))
    must = {group[0] for group in table.kind.needs if len(group) == 1} & set(table.kind.quantities)
    if table.kind.name != "components":  # a component's weight may come later
        problems += [f"no {field}" for field in sorted(must) if not cell_of(row, table, field)]
    return fields, problems


def _words(row: Sequence[str], table: Table) -> tuple[dict[str, str], set[str], list[str]]:
    """Fields of fixed words; columns whose cell means none and is kept as a comment; and what must be known and is not."""
    fields: dict[str, str] = {}
    kept: set[str] = set()
    problems: list[str] = []
    for field in table.kind.columns.keys() & _WORDS.keys():
        cell = cell_of(row, table, field)
        found = _meaning(field, cell) or (
            _kind_in(cell_of(row, table, "what")) if field == "kind" and not cell else None
        )
        if found:
            fields[field] = found
        elif field in _MUST_BE_KNOWN:
            choices = ", ".join(_WORDS[field])
            problems.append(f"{field} '{plain(cell)}' is none of {choices}")
        else:
            kept.add(field)
    return fields, kept, problems


def _meaning(field: str, cell: str) -> str | None:
    return next((name for name, words in _WORDS[field].items() if cell.lower() in words), None)


def _kind_in(what: str) -> str | None:
    """The kind of a place that its own name says."""
    words = re.findall("[a-z]+", what.lower())
    found = {kind for word in words if (kind := _meaning("kind", word.removesuffix("s")) or _meaning("kind", word))}
    return found.pop() if len(found) == 1 else None


def _why(field: str, cell: str, quantity: str, kind: type[Quantity]) -> str:
    if _NUMBER.fullmatch(quantity):
        return f"{field} {quantity} has no unit, in its cell, its column's name or below that"
    try:
        kind.parse(quantity)
    except QuantityError as error:
        return f"{field} '{plain(cell)}': {error}"
    return f"{field} '{plain(cell)}'"


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


def _left_over(row: Sequence[str], table: Table, kept: set[str]) -> str:
    """Cells of columns that no field takes, as a comment behind the record."""
    taken = {column for field, column in table.columns.items() if field not in kept}
    cells = [
        f"{plain(table.names[i]) if i < len(table.names) and table.names[i] else f'column {i + 1}'}: {plain(cell)}"
        for i, cell in enumerate(row)
        if i not in taken and cell.strip()
    ]
    return f"  # {'; '.join(cells)}" if cells else ""


def comment(row: Iterable[str]) -> str:
    """A row as it was, behind a comment's mark."""
    return ", ".join(json.dumps(plain(cell), ensure_ascii=False) for cell in row)


def plain(text: str) -> str:
    """Text on one line, without characters that a record file may not hold."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
