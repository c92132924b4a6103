"""Changes after which the records say the same as before, so no verdict may change: each one that does is a false alarm."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from tests.faults.seeds import lines_of
from tests.faults.values import line_starts

from jurystrut.records import LISTS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.faults.values import Entry, Files, Value

__all__ = ["Unchanged", "unchanged"]

_EXACTLY = {
    "in": ("mm", 25.4), "ft": ("in", 12.0), "mm": ("in", 1 / 25.4), "A": ("mA", 1000.0), "V": ("mV", 1000.0), "h": ("min", 60.0),
    "mohm": ("ohm", 0.001), "US gal": ("L", 3.785411784), "W": ("kW", 0.001), "kt": ("mph", 1852 / 1609.344),
    "ft2": ("in2", 144.0), "A*h": ("mA*h", 1000.0), "in-lb": ("ft-lb", 1 / 12), "min": ("s", 60.0),
}  # fmt: skip
"""International inch and foot of 1959, nautical mile of 1852 m, and the American gallon of 231 cubic inches."""
_MOVED_TO = "moved-there.yaml"
_SPEAKS_OF = "placards.beside"
"""A placard may speak of any record, so no list of records stands behind this field."""
_MASSES = frozenset({"weights"})
"""Here `lb` is a mass and not a force."""


class Unchanged(NamedTuple):
    """A change of the text that says the same: the new texts by file."""

    kind: str
    what: str
    files: Files


def unchanged(found: list[Entry], present: list[Value], files: Files) -> Iterator[Unchanged]:
    """Every such change, one at a time."""
    for value in present:
        unit, factor = _EXACTLY.get(value.unit, ("", 0.0))
        if value.unit == "lb" and value.entry.section in _MASSES:
            unit, factor = "kg", 0.45359237
        if unit:
            same = f"{value.number * factor:.12g} {unit}"
            text = _put(files[value.entry.file], {value.start: (value.text, same)})
            what = f"{value.target} of {value.entry.record}: {value.text} as {same}"
            yield Unchanged("same in another unit", what, {value.entry.file: text})
    for entry in found:
        if len(entry.places) == (1 if entry.section in LISTS else 2) and lines_of(entry, files):
            yield _moved(entry, files)
    yield from _renamed_everywhere(found, present, files)


def _moved(entry: Entry, files: Files) -> Unchanged:
    """The record in a file of its own."""
    lines = files[entry.file].splitlines(keepends=True)
    span = slice(*(lines_of(entry, files) or (0, 0)))
    header = f"{entry.section}:\n" if entry.section in LISTS else f"{entry.section}:\n {entry.list}:\n"
    there = header + "".join(lines[span])
    del lines[span]
    what = f"{entry.list} {entry.record} moved to a file of its own"
    return Unchanged("moved to another file", what, {entry.file: "".join(lines), _MOVED_TO: there})


def _renamed_everywhere(found: list[Entry], present: list[Value], files: Files) -> Iterator[Unchanged]:
    """An id changed in every record that has it, and wherever it is named."""
    places: dict[str, list[tuple[str, int]]] = {}
    for entry in found:
        if entry.id:
            place = entry.node.where.of("id")
            start = line_starts(files[entry.file])[place.line - 1] + place.column - 1
            places.setdefault(entry.id, []).append((entry.file, start))
    for value in present:
        name = value.text.partition(".")[0]
        if name in places and (value.kind == "name" or value.target == _SPEAKS_OF):
            places[name].append((value.entry.file, value.start))
    for entry in found:  # loads by station, fuel by tank: ids stand before the colon
        for name in entry.node.keys() & places.keys():
            place = entry.node.where.of_key(name)
            places[name].append((entry.file, line_starts(files[entry.file])[place.line - 1] + place.column - 1))
    for name, where in places.items():
        changed = {}
        for file in {file for file, _ in where}:
            changed[file] = _put(files[file], {start: (name, f"{name}-other") for f, start in where if f == file})
        yield Unchanged("renamed everywhere", f"{name} renamed everywhere", changed)


def _put(text: str, changes: dict[int, tuple[str, str]]) -> str:
    """The text with pieces changed, each at its place."""
    for start, (before, after) in sorted(changes.items(), reverse=True):
        assert text.startswith(before, start)
        text = text[:start] + after + text[start + len(before) :]
    return text
