"""A builder's wire list or panel list, as comma separated values -> records of `electrical.wires` or `panel.items`, as text.

A row becomes a record only where the record's own model takes it; every other row stays in the text as a comment. No unit is
guessed: it stands in the cell, or in the column's name, `Length (in)`.
"""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, NamedTuple

from pydantic import ValidationError

from jurystrut.errors import UsageError
from jurystrut.reading.messages import field_names, message_of
from jurystrut.reading.sections import record_lists
from jurystrut.reading.spreadsheet import LONGEST_NAME, Imported, rows_of
from jurystrut.reading.spreadsheet_rows import comment, plain
from jurystrut.records import section_model

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from jurystrut.records.base import Record

__all__ = ["LISTED", "listed_records"]


class _Kind(NamedTuple):
    """The section and list that rows go into, and how builders name the columns."""

    section: str
    field: str
    columns: Mapping[str, tuple[str, ...]]


LISTED: dict[str, _Kind] = {
    "wires": _Kind(
        "electrical",
        "wires",
        {
            "id": ("id", "wire", "wire no", "wire number", "no", "number"),
            "from": ("from", "from device", "source", "start"),
            "to": ("to", "to device", "destination", "end"),
            "size": ("size", "gauge", "awg", "wire size"),
            "length": ("length", "len"),
            "spec": ("spec", "specification", "type", "wire type"),
            "bundle": ("bundle", "harness", "loom"),
            "marking": ("marking", "label"),
        },
    ),
    "panel": _Kind(
        "panel",
        "items",
        {
            "id": ("id", "item", "no", "number"),
            "what": ("what", "description", "name"),
            "kind": ("kind", "type"),
            "hole": ("hole", "cut-out", "cutout"),
            "legend": ("legend",),
            "depth": ("depth", "behind panel"),
        },
    ),
}
"""What can be listed, by the word of the command."""

_UNIT = re.compile(r"(?P<name>.*?)\s*[(\[]\s*(?P<unit>[^)\]]+?)\s*[)\]]")
_BARE = re.compile(r"\d+(\.\d+)?|\.\d+")


def listed_records(word: str, text: str, file: str, chosen: Mapping[str, str]) -> Imported:
    """The records of a list; `chosen` names columns that are called otherwise.

    Raises UsageError where the first row names no column that a record must have.
    """
    kind = LISTED[word]
    model = record_lists(section_model(kind.section))[kind.field]
    rows = rows_of(text, max(",;\t", key=text.partition("\n")[0].count), file)
    columns = _columns(rows[0] if rows else [], kind, chosen, file)
    lines: list[str] = []
    unread: list[str] = []
    seen: set[str] = set()
    for number, row in enumerate(rows[1:], start=2):
        if not any(cell.strip() for cell in row):
            continue
        fields = _fields(row, columns)
        problem = _problem(model, fields, seen)
        if problem:
            unread.append(f"{file}, row {number}: {problem}")
            lines.append(f"    # row {number} not read: {comment(row)}")
        else:
            pairs = ", ".join(f"{field}: {json.dumps(value, ensure_ascii=False)}" for field, value in fields.items())
            lines.append(f"    - {{{pairs}}}{_left_over(row, rows[0], columns)}")
    empty = "" if any("{" in line for line in lines) else " []"
    return Imported("\n".join([f"{kind.section}:", f"  {kind.field}:{empty}", *lines]) + "\n", tuple(unread))


def _columns(names: Sequence[str], kind: _Kind, chosen: Mapping[str, str], file: str) -> dict[str, tuple[int, str]]:
    """Where each field stands, and the unit in its column's name."""
    found: dict[str, tuple[int, str]] = {}
    for place, cell in enumerate(names):
        match = _UNIT.fullmatch(cell.strip()) if len(cell) <= LONGEST_NAME else None
        name, unit = (match["name"], match["unit"]) if match else (cell.strip(), "")
        for field, words in kind.columns.items():
            wanted = [chosen[field].lower()] if field in chosen else words
            if field not in found and {name.lower(), cell.strip().lower()} & set(wanted):
                found[field] = (place, unit or ("AWG" if name.lower() == "awg" else ""))
    lost = [field for field in list(kind.columns)[:3] if field not in found]
    lost += [field for field in chosen if field not in found and field not in lost]
    if lost:
        raise UsageError(f"{file}: the first row names no column for {', '.join(lost)}; name it with --columns")
    return found


def _fields(row: Sequence[str], columns: Mapping[str, tuple[int, str]]) -> dict[str, str]:
    fields = {}
    for field, (place, unit) in columns.items():
        cell = plain(row[place]) if place < len(row) else ""
        if cell:
            fields[field] = f"{cell} {unit}" if unit and _BARE.fullmatch(cell) else cell
    return fields


def _left_over(row: Sequence[str], names: Sequence[str], columns: Mapping[str, tuple[int, str]]) -> str:
    """Cells of columns that no field takes, as a comment behind the record."""
    taken = {place for place, _ in columns.values()}
    kept = [
        f"{plain(names[i]) if i < len(names) and plain(names[i]) else f'column {i + 1}'}: {plain(row[i])}"
        for i in range(len(row))
        if i not in taken and plain(row[i])
    ]
    return f"  # {'; '.join(kept)}" if kept else ""


def _problem(model: type[Record], fields: dict[str, str], seen: set[str]) -> str:
    """Why a row is no record; empty where it is one."""
    try:
        model.model_validate(dict(fields))
    except ValidationError as error:
        return "; ".join(message_of(detail, field_names(model)) for detail in error.errors(include_url=False))
    if fields["id"] in seen:
        return f"the id '{fields['id']}' stands twice; give one another"
    seen.add(fields["id"])
    return ""
