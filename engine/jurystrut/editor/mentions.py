"""Every place where a record is given its id or is named by another: for going there, and for renaming it everywhere."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.editor.places import word_at
from jurystrut.positions import LINE_BREAK, Position
from jurystrut.reading.references import named_by
from jurystrut.records.fields import ID_PATTERN

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.project import Project

__all__ = ["Mention", "id_at", "mentions_of", "why_not"]

_WORD = re.compile(r"[A-Za-z0-9_-]+")


class Mention(NamedTuple):
    """An id at its place; `defines` where the record itself stands there."""

    position: Position
    defines: bool


def mentions_of(project: Project, name: str, texts: Mapping[str, str]) -> list[Mention]:
    """Where an id is given and named; one thing has one id, so the same id in several sections is one thing."""
    found = {Mention(place, defines=True) for place in _given(project, name)}
    found |= {Mention(place, defines=False) for id_, place in named_by(project.sections) if id_ == name}
    exact = (Mention(at, m.defines) for m in found if (at := _exactly(name, m.position, texts)))
    return sorted(set(exact))


def _given(project: Project, name: str) -> Iterator[Position]:
    for key, records in project.index.items():
        if "." not in key and name in records:
            yield records[name].at("id").position


def _exactly(name: str, start: Position, texts: Mapping[str, str]) -> Position | None:
    """The word itself, at or behind the beginning of the field's value, which may be a list."""
    lines = LINE_BREAK.split(texts.get(start.file, "").removeprefix("\ufeff"))
    for number, line in enumerate(lines[start.line - 1 :], start=start.line):
        from_ = start.column - 1 if number == start.line else 0
        place = next((m.start() for m in _WORD.finditer(line, from_) if m.group() == name), None)
        if place is not None:
            return Position(start.file, number, place + 1)
    return None


def id_at(text: str, place: Position) -> tuple[str, Position] | None:
    """The word at a place, which may be an id, and where it begins; None where there is none."""
    return word_at(text, place, _WORD)


def why_not(project: Project, name: str, new: str) -> str:
    """Why a record cannot have this new id; empty where it can."""
    if not re.fullmatch(ID_PATTERN, new):
        wanted = "plain letters, digits, - and _, a letter or digit first, at most 64 of them, for example W12"
        return f"'{new[:64]}' is no id; write {wanted}"
    taken = next(_given(project, new), None) if new != name else None
    if taken:
        return f"'{new}' is taken, by the record at {taken}; one thing has one id, give another"
    return ""
