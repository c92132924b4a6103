"""What stands in the records' text: every mapping, and in it every value that a fault can change, with its place.

All of it is found in the records themselves, so a new record or field gets its faults without anybody's help.
"""

from __future__ import annotations

import datetime
import re
from contextlib import suppress
from functools import cache
from itertools import accumulate
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, get_args, get_origin

from jurystrut.quantities import QuantityError, kinds
from jurystrut.reading.sections import record_in
from jurystrut.records import SECTIONS, section_model
from jurystrut.records.fields import Names
from jurystrut.tree import Listing, Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.positions import Position
    from jurystrut.tree import Tree

__all__ = ["Entry", "Files", "Place", "Value", "allowed_words", "entries", "line_starts", "values"]

Files = dict[str, str]
Place = tuple[str, int]
"""A file and a mark in it, by which a record is recognised in a finding."""

_DAY = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}(?P<time>[ T][0-9]{2}:[0-9]{2})?")
_FLAGS = {"true": "false", "yes": "no", "false": "true", "no": "yes"}
_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?")
_GAUGE = re.compile("([0-9]+) AWG")
_QUANTITY = re.compile(r"(?:([0-9]+)-)?([+-]?[0-9]+(?:\.[0-9]+)?)(?:/([0-9]+))? ?((?!AWG)[A-Za-z%].*|/min)")
_KINDS = [getattr(kinds, name) for name in kinds.__all__]
_MIDNIGHT = datetime.datetime(2000, 1, 1)  # noqa: DTZ001 - records know local time alone


class Entry(NamedTuple):
    """A mapping as written: its section, list or field, file, itself, and the places of it and of all around it."""

    section: str
    list: str
    file: str
    node: Mapping
    places: tuple[Place, ...]
    record: str
    """Its id, or that of the nearest record around it; its file where none has one."""

    @property
    def id(self) -> str | None:
        """Its id, where it has one."""
        name = self.node.get("id")
        return name if isinstance(name, str) else None


class Value(NamedTuple):
    """A value in an entry: where its text begins, in characters and as line and column, and what it says."""

    entry: Entry
    name: str
    kind: Literal["quantity", "count", "gauge", "day", "instant", "flag", "name", "word", "text"]
    start: int
    at: tuple[int, int]
    text: str
    number: float = 0.0
    """Quantities in their unit, days counted, instants in hours; 0 for flags and words."""
    unit: str = ""

    @property
    def target(self) -> str:
        """The list and the field's name."""
        return f"{self.entry.list}.{self.name}"

    @property
    def leaps(self) -> bool:
        """Whether its neighbouring values lie a step apart."""
        return self.kind in {"count", "gauge", "day"}

    def written(self, number: float) -> str:
        """Another number in the same way of writing."""
        if self.kind in {"count", "gauge"}:
            return f"{max(0, round(number))}{self.unit}"
        if self.kind in {"day", "instant"}:
            moved = _MIDNIGHT + datetime.timedelta(hours=number)
            return f"{moved:%Y-%m-%d}" if self.kind == "day" else f"{moved:%Y-%m-%d %H:%M}"
        return f"{number:.6f} {self.unit}"


def entries(files: Files) -> Iterator[Entry]:
    """Every mapping that is a section, or stands in one at any depth."""
    for file, text in files.items():
        tree, problems = parse(text, file)
        assert not problems
        if isinstance(tree, Mapping):
            for section, body in tree.items():
                yield from _within(Entry(section, section, file, Mapping(), (), file), section, body)


def _within(around: Entry, name: str, body: Tree) -> Iterator[Entry]:
    if isinstance(body, Mapping):
        places = ((around.file, body.where.mark), *around.places)
        own = body.get("id")
        entry = Entry(around.section, name, around.file, body, places, own if isinstance(own, str) else around.record)
        yield entry
        for key, value in body.items():
            yield from _within(entry, key, value)
    elif isinstance(body, Listing):
        for item in body:
            yield from _within(around, name, item)


def values(found: list[Entry], files: Files) -> Iterator[Value]:
    """Every value but ids that is a field, or stands in a list that is one at any depth; none that is quoted or folded."""
    starts = {file: line_starts(text) for file, text in files.items()}
    for entry in found:
        for name, text, position in _texts(entry):
            start = starts[entry.file][position.line - 1] + position.column - 1
            if name != "id" and files[entry.file].startswith(text, start):
                yield _value(entry, name, start, (position.line, position.column), text)


def _texts(entry: Entry) -> Iterator[tuple[str, str, Position]]:
    for name, value in entry.node.items():
        if isinstance(value, str):
            yield name, value, entry.node.where.of(name)
        elif isinstance(value, Listing):
            yield from ((name, *item) for item in _items(value))


def _items(listing: Listing) -> Iterator[tuple[str, Position]]:
    for index, item in enumerate(listing):
        if isinstance(item, str):
            yield item, listing.position(index)
        elif isinstance(item, Listing):
            yield from _items(item)


def _value(entry: Entry, name: str, start: int, at: tuple[int, int], text: str) -> Value:
    asked = _asked(entry.section).get((entry.list, name), ())
    if asked is Names:
        return Value(entry, name, "name", start, at, text)
    if text in asked:
        return Value(entry, name, "word", start, at, text)
    if text.lower() in _FLAGS:
        return Value(entry, name, "flag", start, at, text)
    if match := _DAY.fullmatch(text):
        since = datetime.datetime.fromisoformat(text) - _MIDNIGHT
        return Value(entry, name, "instant" if match["time"] else "day", start, at, text, since.total_seconds() / 3600)
    if match := _GAUGE.fullmatch(text):
        return Value(entry, name, "gauge", start, at, text, float(match[1]), " AWG")
    if _NUMBER.fullmatch(text):
        return Value(entry, name, "count", start, at, text, float(text))
    match = _QUANTITY.fullmatch(text)
    if match and _is_quantity(text):
        number = float(match[1] or 0) + float(match[2]) / float(match[3] or 1)
        return Value(entry, name, "quantity", start, at, text, number, match[4])
    return Value(entry, name, "text", start, at, text)


@cache
def _is_quantity(text: str) -> bool:
    for kind in _KINDS:
        with suppress(QuantityError):
            kind.parse(text)
            return True
    return False


def allowed_words(value: Value) -> tuple[str, ...]:
    """The words that may stand where this one does."""
    words: tuple[str, ...] = _asked(value.entry.section)[value.entry.list, value.name]
    return words


@cache
def _asked(section: str) -> dict[tuple[str, str], Any]:
    """What a section's fields, by list and name, ask for: `Names` of other records, or one of these words."""
    found: dict[tuple[str, str], Any] = {}
    waiting = [(section, section_model(section))] if section in SECTIONS else []
    while waiting:
        holder, model = waiting.pop()
        for field, info in model.model_fields.items():
            name = info.alias or field
            inner = record_in(info.annotation)
            if inner:
                waiting.append((name, inner))
            elif _marked(info.annotation) or any(isinstance(one, Names) for one in info.metadata):
                found[holder, name] = Names
            elif words := tuple(_words(info.annotation)):
                found[holder, name] = words
    return found


def _marked(annotation: Any) -> bool:
    inside = (*getattr(annotation, "__metadata__", ()), *get_args(annotation))
    return any(isinstance(part, Names) or _marked(part) for part in inside)


def _words(annotation: Any) -> Iterator[str]:
    if get_origin(annotation) is Literal:
        yield from get_args(annotation)
    else:
        for part in get_args(annotation):
            yield from _words(part)


def line_starts(text: str) -> list[int]:
    """Where each line begins."""
    return list(accumulate(map(len, text.splitlines(keepends=True)), initial=0))
