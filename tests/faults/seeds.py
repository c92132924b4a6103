"""The goal's faults sown into sound records: a unit, an id, two values or a whole record changed in the text, one at a time.

Values pushed just over a limit are looked for in over.py, what builders do besides stands in slips.py.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tests.faults.values import line_starts

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.faults.values import Entry, Files, Value

__all__ = ["Fault", "faults", "lines_of", "renamed", "with_text"]

_OTHER_UNIT = {
    "in": "cm", "ft": "m", "mm": "in", "lb": "kg", "kg": "lb", "oz": "kg", "A": "mA", "mA": "A", "V": "mV", "mV": "V",
    "mohm": "ohm", "ohm": "mohm", "W": "kW", "hp": "kW", "US gal": "L", "gal": "L", "L": "US gal", "deg": "rad", "kt": "mph",
    "mph": "m/s", "degF": "degC", "degC": "K", "h": "min", "min": "h", "s": "min", "ft2": "m2", "lb/ft2": "kg/m2",
    "in-lb": "ft-lb", "A*h": "mA*h", "US gal/h": "L/h", "lb/in": "N/m", "psi": "kPa", "day": "h",
}  # fmt: skip


class Fault(NamedTuple):
    """One change to one file, and the entries it touches."""

    kind: str
    target: str
    """What was changed, for all of its like: `list.field`, or `list` where it was the record itself."""
    record: str
    """The id of the record changed, or of the nearest around it; the file's name where none has one."""
    what: str
    file: str
    text: str
    touched: tuple[Entry, ...]
    at: tuple[int, int] = (0, 0)
    """Line and column of the value changed, from 1; (0, 0) where no single value was."""


def faults(found: list[Entry], present: list[Value], files: Files) -> Iterator[Fault]:
    """Every fault but values pushed over a limit, which take many trials each."""
    for value in present:
        if value.kind == "quantity":
            number = value.text.removesuffix(value.unit).rstrip()
            yield with_text(value, files, f"{number} {'V' if value.unit == 'cd' else 'cd'}", "other dimension")
            unit = _OTHER_UNIT.get(value.unit)
            if unit and value.number:  # nothing is nothing in every unit
                yield with_text(value, files, f"{number} {unit}", "other unit")
    for entry in found:
        if entry.id:
            yield from filter(None, (_removed(entry, files), renamed(entry, files)))
    yield from _swapped(present, files)


def with_text(value: Value, files: Files, text: str, kind: str) -> Fault:
    """The fault of writing something else in a field."""
    before = files[value.entry.file]
    after = before[: value.start] + text + before[value.start + len(value.text) :]
    what = f"{value.entry.list} {value.entry.record}.{value.name}: {value.text} -> {text}"
    return Fault(kind, value.target, value.entry.record, what, value.entry.file, after, (value.entry,), value.at)


def lines_of(entry: Entry, files: Files) -> tuple[int, int] | None:
    """A record's lines, from the first to behind the last; None where it shares a line with others."""
    lines = files[entry.file].splitlines(keepends=True)
    first = entry.node.where.position.line - 1
    dash = lines[first].find("- ")
    if dash < 0 or lines[first][:dash].strip():
        return None
    last = first + 1
    while last < len(lines) and (not lines[last].strip() or len(lines[last]) - len(lines[last].lstrip()) > dash):
        last += 1
    return first, last


def _removed(entry: Entry, files: Files) -> Fault | None:
    """The record taken out, with its line or lines."""
    span = lines_of(entry, files)
    if span is None:
        return None
    lines = files[entry.file].splitlines(keepends=True)
    del lines[slice(*span)]
    what = f"{entry.list} {entry.id} removed"
    return Fault("record removed", entry.list, entry.record, what, entry.file, "".join(lines), (entry,))


def renamed(entry: Entry, files: Files) -> Fault | None:
    """The record under another id, with nothing else changed; None where its id is quoted."""
    place, text, name = entry.node.where.of("id"), files[entry.file], entry.id or ""
    start = line_starts(text)[place.line - 1] + place.column - 1
    if not text.startswith(name, start):
        return None
    after = f"{text[:start]}{name}-other{text[start + len(name) :]}"
    what = f"{entry.list} {name} renamed"
    return Fault("id renamed", entry.list, name, what, entry.file, after, (entry,), (place.line, place.column))


def _swapped(found: list[Value], files: Files) -> Iterator[Fault]:
    """Neighbours in one list, in one file, with the values of one field changed for each other; not words for people."""
    last: dict[tuple[str, str], Value] = {}
    for value in found:
        key = value.entry.file, value.target
        other = last.get(key)
        if other and other.text != value.text and other.entry.places != value.entry.places and value.name != "what":
            text = files[value.entry.file]
            middle = text[other.start + len(other.text) : value.start]
            after = text[: other.start] + value.text + middle + other.text + text[value.start + len(value.text) :]
            what = f"{value.entry.list} {other.entry.record} {value.entry.record}: {value.name} swapped"
            both = (other.entry, value.entry)
            yield Fault("swapped", value.target, value.entry.record, what, value.entry.file, after, both)
        last[key] = value
