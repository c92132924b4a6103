"""Late changes that builders really make, beside those of seeds.py: a slip of the pen, and the hasty use of the editor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.faults.seeds import Fault, lines_of, renamed, with_text
from tests.faults.values import allowed_words, line_starts

from jurystrut.tree import Listing, Mapping

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.faults.values import Entry, Files, Value

__all__ = ["slips"]

_TURNED = {"true": "false", "false": "true", "yes": "no", "no": "yes"}
_YEAR = len("2026")


def slips(found: list[Entry], present: list[Value], files: Files) -> Iterator[Fault]:
    """Every slip, one at a time."""
    siblings = _siblings(found)
    before: dict[tuple[str, str], str] = {}
    for value in present:
        for kind, text in _rewritten(value, siblings):
            yield with_text(value, files, text, kind)
        if value.kind == "text" and value.name != "what":
            yield with_text(value, files, value.text[:-1], "letter lost")
            neighbour = before.get((value.entry.file, value.target), value.text)
            if neighbour != value.text:
                yield with_text(value, files, neighbour, "neighbour's words")
            before[value.entry.file, value.target] = value.text
    yield from _without_section(found, files)
    for entry in found:
        yield from _shortened(entry, files)
        if entry.id:
            yield from filter(None, [_copied(entry, files)])


def _rewritten(value: Value, siblings: dict[str, str]) -> Iterator[tuple[str, str]]:
    """What may stand in place of a value, and how that came."""
    if value.kind in {"quantity", "count"}:
        yield from _miscounted(value)
    elif value.kind == "gauge":
        yield "gauge thinner", value.written(value.number + 2)
    elif value.kind in {"day", "instant"}:
        for step in (-1, 1):
            yield "other year", f"{int(value.text[:_YEAR]) + step}{value.text[_YEAR:]}"
    elif value.kind == "flag":
        yield "flag turned", _TURNED[value.text.lower()]
    elif value.kind == "word":
        words = allowed_words(value)
        if len(words) > 1:
            yield "other word", words[(words.index(value.text) + 1) % len(words)]
    elif value.kind == "name" and value.text in siblings:
        yield "sibling named", siblings[value.text]


def _miscounted(value: Value) -> Iterator[tuple[str, str]]:
    if value.kind == "count":
        for number in (value.number + 1, value.number - 1):
            if number >= 0:
                yield "count off by one", value.written(number)
    elif value.number:
        yield "ten times", f"{value.number * 10:.6g} {value.unit}"
        whole, point, rest = value.text.partition(".")
        if point and whole.strip("0+-"):
            yield "point forgotten", whole + rest


def _siblings(found: list[Entry]) -> dict[str, str]:
    """For each id the next one of its list, for the last the first."""
    lists: dict[tuple[str, str], list[str]] = {}
    for entry in found:
        if entry.id:
            lists.setdefault((entry.section, entry.list), []).append(entry.id)
    pairs: dict[str, str] = {}
    for ids in lists.values():
        pairs |= {one: other for one, other in zip(ids, [*ids[1:], ids[0]], strict=True) if one != other}
    return pairs


def _without_section(found: list[Entry], files: Files) -> Iterator[Fault]:
    """A file without one of its sections."""
    parts: dict[tuple[str, str], list[Entry]] = {}
    for entry in found:
        parts.setdefault((entry.file, entry.section), []).append(entry)
    for (file, section), inside in parts.items():
        first = next(n for n, line in enumerate(files[file].splitlines()) if line.startswith(f"{section}:"))
        after = _without_lines(files[file], first)
        yield Fault("section left out", section, file, f"{file} without {section}", file, after, tuple(inside))


def _shortened(entry: Entry, files: Files) -> Iterator[Fault]:
    """The entry with one of its fields left out, or one of its lists of records; ids stay."""
    text = files[entry.file]
    starts = line_starts(text)
    for name, value in entry.node.items():
        key = entry.node.where.of_key(name)
        start = starts[key.line - 1] + key.column - 1
        if name == "id" or not text.startswith(name, start):
            continue
        inline = text[starts[key.line - 1] : start].strip()
        after = _without_inline(text, start) if inline else _without_lines(text, key.line - 1)
        if after is not None:
            holds_records = isinstance(value, Listing) and any(isinstance(one, Mapping) for one in value)
            kind = "list left out" if holds_records else "field left out"
            what = f"{entry.list} {entry.record} without {name}"
            yield Fault(kind, f"{entry.list}.{name}", entry.record, what, entry.file, after, (entry,))


def _without_lines(text: str, first: int) -> str:
    """The text without the field that begins on this line, and what is indented under it."""
    lines = text.splitlines(keepends=True)
    indent = len(lines[first]) - len(lines[first].lstrip())
    last = first + 1
    while last < len(lines) and (not lines[last].strip() or len(lines[last]) - len(lines[last].lstrip()) > indent):
        last += 1
    return "".join(lines[:first] + lines[last:])


def _without_inline(text: str, start: int) -> str | None:
    """The text without the field that begins here in a mapping in braces; None where it stands after a dash, or alone."""
    depth, quote, end = 0, "", start
    while end < len(text):
        letter = text[end]
        if quote:
            quote = "" if letter == quote else quote
        elif letter == '"' or (letter == "'" and text[end - 1] in " ["):
            quote = letter
        elif letter in "[{":
            depth += 1
        elif depth == 0 and letter in ",}\n":
            break
        elif letter in "]}":
            depth -= 1
        end += 1
    if text[end] == ",":
        return text[:start] + text[end + 1 :].lstrip(" ")
    before = text[:start].rstrip(" ")
    return before[:-1] + text[end:] if text[end] == "}" and before.endswith(",") else None


def _copied(entry: Entry, files: Files) -> Fault | None:
    """The record a second time under a new id."""
    other, span = renamed(entry, files), lines_of(entry, files)
    if other is None or span is None:
        return None
    first, last = span
    copy = other.text.splitlines(keepends=True)[first:last]
    lines = files[entry.file].splitlines(keepends=True)
    after = "".join([*lines[:last], *copy, *lines[last:]])
    what = f"{entry.list} {entry.id} copied as {entry.id}-other"
    return Fault("record copied", entry.list, entry.record, what, entry.file, after, (entry,))
