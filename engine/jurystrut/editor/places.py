"""Places in a text as records count them and as an editor does.

Records count lines where YAML breaks them, and columns in characters. The protocol breaks lines at fewer characters, and counts
columns in the units of the encoding that client and server agreed on.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.positions import LINE_BREAK, Position

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["Point", "place_of", "point_of", "word_at"]

_PROTOCOL_BREAK = re.compile("\r\n|[\n\r]")


class Point(NamedTuple):
    """A place as the protocol has it; line and column are counted from 0."""

    line: int
    character: int


def point_of(text: str, place: Position, units: Callable[[str], int]) -> Point:
    """Where an editor has this place; `units` says how many of the encoding's units a piece of text takes."""
    text = text.removeprefix("\ufeff")  # an editor shows no byte order mark, and reading counts none
    begins = _begins(text, LINE_BREAK)
    offset = begins[min(place.line, len(begins)) - 1] + place.column - 1
    begins = _begins(text, _PROTOCOL_BREAK)
    line = bisect_right(begins, offset) - 1
    return Point(line, units(text[begins[line] : offset]))


def place_of(text: str, file: str, point: Point, units: Callable[[str], int]) -> Position:
    """The place that an editor means; the end of its line where the line is shorter."""
    text = text.removeprefix("\ufeff")
    begins = _begins(text, _PROTOCOL_BREAK)
    offset = begins[min(point.line, len(begins) - 1)]
    left = point.character
    while left > 0 and offset < len(text) and text[offset] not in "\r\n":
        left -= units(text[offset])
        offset += 1
    begins = _begins(text, LINE_BREAK)
    line = bisect_right(begins, offset)
    return Position(file, line, offset - begins[line - 1] + 1)


def word_at(text: str, place: Position, word: re.Pattern[str]) -> tuple[str, Position] | None:
    """The word at a place, or that ends there, with its beginning; None where there is none."""
    lines = LINE_BREAK.split(text.removeprefix("\ufeff"))
    line = lines[place.line - 1] if place.line <= len(lines) else ""
    found = next((m for m in word.finditer(line) if m.start() < place.column <= m.end() + 1), None)
    return (found.group(), place._replace(column=found.start() + 1)) if found else None


@lru_cache(maxsize=64)
def _begins(text: str, breaks: re.Pattern[str]) -> list[int]:
    return [0, *(match.end() for match in breaks.finditer(text))]
