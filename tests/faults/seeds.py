"""Faults sown into sound records: a value, a unit, an id or a whole record changed in the text, one at a time.

What is changed is found in the records themselves, so a new record or field gets its faults without anybody's help.
"""

from __future__ import annotations

import re
from contextlib import suppress
from functools import cache
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.quantities import QuantityError, kinds
from jurystrut.tree import Listing, Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.positions import Position
    from jurystrut.tree import Tree

__all__ = ["Entry", "Fault", "Field", "entries", "faults", "fields", "with_text"]

Files = dict[str, str]
Place = tuple[str, int]
"""A file and a mark in it, by which a record is recognised in a finding."""

_QUANTITY = re.compile(r"([+-]?[0-9]+(?:\.[0-9]+)?)( ?)((?!AWG)[A-Za-z%].*|/min)")
_KINDS = [getattr(kinds, name) for name in kinds.__all__]
_OTHER_UNIT = {
    "in": "cm", "ft": "m", "mm": "in", "lb": "kg", "kg": "lb", "oz": "kg", "A": "mA", "mA": "A", "V": "mV", "mV": "V",
    "mohm": "ohm", "ohm": "mohm", "W": "kW", "hp": "kW", "US gal": "L", "gal": "L", "L": "US gal", "deg": "rad", "kt": "mph",
    "mph": "m/s", "degF": "degC", "degC": "K", "h": "min", "min": "h", "s": "min", "ft2": "m2", "lb/ft2": "kg/m2",
    "in-lb": "ft-lb", "A*h": "mA*h", "US gal/h": "L/h", "lb/in": "N/m", "psi": "kPa", "day": "h",
}  # fmt: skip


class Entry(NamedTuple):
    """A mapping as written: its section, list or field, file, itself, and the places of it and of all around it."""

    section: str
    list: str
    file: str
    node: Mapping
    places: tuple[Place, ...]

    @property
    def id(self) -> str | None:
        """Its id, where it has one."""
        name = self.node.get("id")
        return name if isinstance(name, str) else None


class Field(NamedTuple):
    """A quantity in an entry: where its text begins, in characters and as line and column, and what it says."""

    entry: Entry
    name: str
    start: int
    at: tuple[int, int]
    number: str
    unit: str
    text: str

    @property
    def target(self) -> str:
        """The list and the field's name."""
        return f"{self.entry.list}.{self.name}"


class Fault(NamedTuple):
    """One change to one file, and the entries it touches."""

    kind: str
    target: str
    """What was changed, for all of its like: `list.field`, or `list` where it was the record itself."""
    what: str
    file: str
    text: str
    touched: tuple[Entry, ...]
    at: tuple[int, int] = (0, 0)
    """Line and column of the value changed, from 1; (0, 0) where no single value was."""


def entries(files: Files) -> Iterator[Entry]:
    """Every mapping that is a section, or stands in one at any depth."""
    for file, text in files.items():
        tree, problems = parse(text, file)
        assert not problems
        if isinstance(tree, Mapping):
            for section, body in tree.items():
                yield from _within(section, section, file, body, ())


def _within(section: str, name: str, file: str, body: Tree, around: tuple[Place, ...]) -> Iterator[Entry]:
    if isinstance(body, Mapping):
        places = ((file, body.where.mark), *around)
        yield Entry(section, name, file, body, places)
        for key, value in body.items():
            yield from _within(section, key, file, value, places)
    elif isinstance(body, Listing):
        for item in body:
            yield from _within(section, name, file, item, around)


def fields(found: list[Entry], files: Files) -> Iterator[Field]:
    """Every plain quantity that is a field, or stands in a list that is one."""
    starts = {file: _line_starts(text) for file, text in files.items()}
    for entry in found:
        for name, text, position in _texts(entry):
            match = _QUANTITY.fullmatch(text)
            start = starts[entry.file][position.line - 1] + position.column - 1
            if match and _is_quantity(text) and files[entry.file].startswith(text, start):
                yield Field(entry, name, start, (position.line, position.column), match[1], match[3], text)


def _texts(entry: Entry) -> Iterator[tuple[str, str, Position]]:
    for name, value in entry.node.items():
        if isinstance(value, str):
            yield name, value, entry.node.where.of(name)
        elif isinstance(value, Listing):
            yield from ((name, item, value.position(i)) for i, item in enumerate(value) if isinstance(item, str))


@cache
def _is_quantity(text: str) -> bool:
    for kind in _KINDS:
        with suppress(QuantityError):
            kind.parse(text)
            return True
    return False


def _line_starts(text: str) -> list[int]:
    return list(accumulate(map(len, text.splitlines(keepends=True)), initial=0))


def faults(found: list[Entry], quantities: list[Field], files: Files) -> Iterator[Fault]:
    """Every fault but values pushed over a limit, which take many trials each."""
    for field in quantities:
        yield with_text(field, files, f"{field.number} {'V' if field.unit == 'cd' else 'cd'}", "other dimension")
        if unit := _OTHER_UNIT.get(field.unit):
            yield with_text(field, files, f"{field.number} {unit}", "other unit")
    for entry in found:
        if entry.id:
            yield from filter(None, (_removed(entry, files), _renamed(entry, files)))
    yield from _swapped(quantities, files)


def with_text(field: Field, files: Files, text: str, kind: str) -> Fault:
    """The fault of writing something else in a field."""
    before = files[field.entry.file]
    after = before[: field.start] + text + before[field.start + len(field.text) :]
    what = f"{field.entry.list} {field.entry.id or ''}.{field.name}: {field.text} -> {text}"
    return Fault(kind, field.target, what, field.entry.file, after, (field.entry,), field.at)


def _removed(entry: Entry, files: Files) -> Fault | None:
    """The record taken out, with its line or lines; None where it shares a line with others."""
    lines = files[entry.file].splitlines(keepends=True)
    first = entry.node.where.position.line - 1
    dash = lines[first].find("- ")
    if dash < 0 or lines[first][:dash].strip():
        return None
    last = first + 1
    while last < len(lines) and (not lines[last].strip() or len(lines[last]) - len(lines[last].lstrip()) > dash):
        last += 1
    what = f"{entry.list} {entry.id} removed"
    return Fault("record removed", entry.list, what, entry.file, "".join(lines[:first] + lines[last:]), (entry,))


def _renamed(entry: Entry, files: Files) -> Fault | None:
    """The record under another id, with nothing else changed; None where its id is quoted."""
    place, text, name = entry.node.where.of("id"), files[entry.file], entry.id or ""
    start = _line_starts(text)[place.line - 1] + place.column - 1
    if not text.startswith(name, start):
        return None
    after = f"{text[:start]}{name}-other{text[start + len(name) :]}"
    what = f"{entry.list} {name} renamed"
    return Fault("id renamed", entry.list, what, entry.file, after, (entry,), (place.line, place.column))


def _swapped(found: list[Field], files: Files) -> Iterator[Fault]:
    """Neighbours in one list, in one file, with the values of one field changed for each other."""
    last: dict[tuple[str, str], Field] = {}
    for field in found:
        key = field.entry.file, field.target
        other = last.get(key)
        if other and other.text != field.text and other.entry.places != field.entry.places:
            text = files[field.entry.file]
            middle = text[other.start + len(other.text) : field.start]
            after = text[: other.start] + field.text + middle + other.text + text[field.start + len(field.text) :]
            what = f"{field.entry.list} {other.entry.id or ''} {field.entry.id or ''}: {field.name} swapped"
            yield Fault("swapped", field.target, what, field.entry.file, after, (other.entry, field.entry))
        last[key] = field
