"""A builder's wire list or panel list, as comma separated values -> records of `electrical.wires` or `panel.items`, as text.

A row becomes a record only where the record's own model takes it; every other row stays in the text as a comment.
"""

from __future__ import annotations

import json
import textwrap
from typing import TYPE_CHECKING, NamedTuple

from pydantic import ValidationError

from jurystrut.quantities import Gauge, Length
from jurystrut.reading.columns import (
    Imported,
    Kind,
    cell_of,
    comment,
    left_over,
    made_id,
    measure,
    plain,
    sheet_of,
    too_long,
)
from jurystrut.reading.messages import field_names, message_of
from jurystrut.reading.references import naming_fields
from jurystrut.reading.sections import record_lists
from jurystrut.records import section_model

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from jurystrut.reading.columns import Row, Table
    from jurystrut.records.base import Record

__all__ = ["LISTED", "listed_records"]


class _List(NamedTuple):
    """The section and list that rows go into, what their columns are, and where what they name is recorded."""

    section: str
    field: str
    kind: Kind
    named_in: str


LISTED: dict[str, _List] = {
    "wires": _List(
        "electrical",
        "wires",
        Kind(
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
            {"size": Gauge, "length": Length},
            (("id",), ("from",), ("to",)),
        ),
        "sources, buses, protection, switches, loads, junctions, grounds or bundles",
    ),
    "panel": _List(
        "panel",
        "items",
        Kind(
            "panel items",
            {
                "id": ("id", "item", "no", "number"),
                "what": ("what", "description", "name"),
                "kind": ("kind", "type"),
                "hole": ("hole", "cut-out", "cutout"),
                "legend": ("legend",),
                "depth": ("depth", "behind panel"),
            },
            {"depth": Length},
            (("id", "what"), ("kind",)),
        ),
        "holes or legends",
    ),
}
"""What can be listed, by the word of the command."""


class _Made(NamedTuple):
    """What became of a row: the record's line, or why it is none; and the names that it waits for."""

    line: str
    problem: str = ""
    waits_for: tuple[str, ...] = ()


def listed_records(word: str, text: str, file: str, chosen: Mapping[str, str], *, alone: bool = False) -> Imported:
    """The records of a list; `chosen` names columns that are called otherwise.

    With `alone`, nothing else is recorded yet: a field that names another record stays behind its own record as a comment, and
    where records cannot be without it, they all wait as comments. Raises UsageError where no row names the columns that a
    record must have.
    """
    list_ = LISTED[word]
    model = record_lists(section_model(list_.section))[list_.field]
    used: dict[str, int] = {}
    above: list[str] = []
    lines: list[str] = []
    unread: list[str] = []
    waits_for: dict[str, None] = {}
    for row in sheet_of(text, file, [list_.kind], chosen).rows:
        if row.table is None:
            above.append(f"# row {row.number}: {comment(row.cells)}")
            continue
        made = _made(row, row.table, model, used, alone=alone)
        if made.problem:
            unread.append(f"{file}, row {row.number}: {made.problem}")
        waits_for |= dict.fromkeys(made.waits_for)
        lines.append(f"    {made.line}")
    empty = "" if any(line.startswith("    - ") for line in lines) else " []"
    body = [f"{list_.section}:", f"  {list_.field}:{empty}", *lines]
    if waits_for:
        body = [*_waiting(list_, waits_for), *(f"# {line}" for line in body)]
    return Imported("\n".join([f"# From {plain(file)}.", *above, *body]) + "\n", tuple(unread), tuple(waits_for))


def _made(row: Row, table: Table, model: type[Record], used: dict[str, int], *, alone: bool) -> _Made:
    fields, problem = _fields(row.cells, table)
    if "id" not in fields and "what" in fields:
        fields = {"id": made_id(fields["what"], used), **fields}
    elif fields.get("id") in used:
        problem = f"the id '{fields['id']}' stands twice; give one another"
    problem = problem or _no_record(model, fields)
    if problem:
        return _Made(f"# row {row.number} not read: {comment(row.cells)}", problem)
    used.setdefault(fields["id"], 1)
    names = [field for field in naming_fields(model) if field in fields] if alone else []
    needed = {info.alias or name for name, info in model.model_fields.items() if info.is_required()}
    waits = not needed.isdisjoint(names)
    kept = [] if waits else names
    inside = ", ".join(f"{f}: {json.dumps(v, ensure_ascii=False)}" for f, v in fields.items() if f not in kept)
    waits_for = tuple(fields[field].partition(".")[0] for field in names) if waits else ()
    return _Made(f"- {{{inside}}}{left_over(row.cells, table, kept)}", waits_for=waits_for)


def _fields(cells: Sequence[str], table: Table) -> tuple[dict[str, str], str]:
    """The cells by field, and what is wrong with the first of them that cannot be read."""
    fields: dict[str, str] = {}
    if refused := too_long(cells):
        return fields, refused
    for field in table.columns:
        cell = plain(cell_of(cells, table, field))
        if cell and field in table.kind.quantities:
            fields[field], problem = measure(cells, table, field)
            if problem:
                return fields, problem
        elif cell:
            fields[field] = cell.lower().replace(" ", "-") if field == "kind" else cell
    return fields, ""


def _no_record(model: type[Record], fields: dict[str, str]) -> str:
    """Why a row is no record; empty where it is one."""
    try:
        model.model_validate(dict(fields))
    except ValidationError as error:
        return "; ".join(message_of(detail, field_names(model)) for detail in error.errors(include_url=False))
    return ""


def _waiting(list_: _List, names: Iterable[str]) -> list[str]:
    """What to do about records that stand as comments until what they name is recorded."""
    words = (
        f"These {list_.kind.name} wait for what they name. Record each of these names under {list_.named_in}; then take "
        f"the # away from `{list_.section}:` and all that stands below it: {', '.join(names)}"
    )
    return textwrap.wrap(words, 110, initial_indent="# ", subsequent_indent="# ")
