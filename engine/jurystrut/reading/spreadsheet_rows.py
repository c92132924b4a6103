"""One row of a builder's weights -> one record as text: what columns there are, by what words, and what their cells mean."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

from jurystrut.quantities import Arm, Mass
from jurystrut.reading.columns import Kind, cell_of, left_over, made_id, measure, plain, too_long

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jurystrut.reading.columns import Table

__all__ = ["KINDS", "row_of"]

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
_MUST_BE_KNOWN = {"kind", "wheel"}
_WITHOUT_IDS = {"scales"}

_TOTALS = re.compile(r"(sub)?-?\s*totals?\b|sum\b|empty weight\b", re.IGNORECASE)


def row_of(row: Sequence[str], table: Table, used: dict[str, int]) -> tuple[str | None, list[str]]:
    """One record on one line, and what could not be read of it; no record where it is none, or a cell cannot be read."""
    name = "wheel" if table.kind.name == "scales" else "what"
    what = plain(cell_of(row, table, name)) or plain(cell_of(row, table, "id"))
    if refused := too_long(row):
        return None, [refused]
    if _TOTALS.match(what):
        return None, [f"'{what}' is no part; kept as a comment"]
    fields, problems = _quantities(row, table)
    words, kept, unknown = _words(row, table)
    problems += unknown
    if not what or problems:
        return None, problems or ["no name and no id; kept as a comment"]
    named = {} if table.kind.name in _WITHOUT_IDS else {"what": json.dumps(what, ensure_ascii=False)}
    ids = {} if table.kind.name in _WITHOUT_IDS else {"id": made_id(cell_of(row, table, "id") or what, used)}
    whole = {**ids, **named, **fields, **words} if name == "what" else {**words, **fields}
    inside = ", ".join(f"{field}: {value}" for field, value in whole.items())
    return f"- {{{inside}}}{left_over(row, table, kept)}", []


def _quantities(row: Sequence[str], table: Table) -> tuple[dict[str, str], list[str]]:
    fields: dict[str, str] = {}
    problems: list[str] = []
    for field in table.kind.quantities:
        if not cell_of(row, table, field):
            continue
        quantity, problem = measure(row, table, field)
        if problem:
            problems.append(problem)
        else:
            fields[field] = quantity
    must = {group[0] for group in table.kind.needs if len(group) == 1} & set(table.kind.quantities)
    if table.kind.name != "components":  # a component's weight may come later
        problems += [f"no {field}" for field in sorted(must) if not cell_of(row, table, field)]
    return fields, problems


def _words(row: Sequence[str], table: Table) -> tuple[dict[str, str], set[str], list[str]]:
    """Fields of fixed words; columns whose cell means none and is kept as a comment; and what must be known and is not."""
    fields: dict[str, str] = {}
    kept: set[str] = set()
    problems: list[str] = []
    for field in (field for field in table.kind.columns if field in _WORDS):
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
