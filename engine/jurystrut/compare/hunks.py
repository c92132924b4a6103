"""The lines by which two states of the records differ, in pieces small enough to be tried one at a time."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

__all__ = ["Hunk", "applied", "hunks_between", "split"]

_MOST_LINES = 4000  # of a changed part that is compared line by line; a larger one is one piece
_MOST_ALIKE = 40_000  # pairs of like lines in it; comparing takes the longer the more there are
_LINE = re.compile("[^\n]*\n|[^\n]+")
_HEAD = re.compile(r"(- )?\{?[^,:]*(:[^,]*,)?")
_RECORD = re.compile(r"(\s*)- ")


@dataclass(frozen=True, slots=True)
class Hunk:
    """One piece of a change: lines of a file before, and what stands there after.

    `start` and `new_start` count lines from 0, before and after. `old` is None for a new file, `new` for one that is gone.
    """

    file: str
    start: int
    new_start: int
    old: tuple[str, ...] | None = field(compare=False)
    new: tuple[str, ...] | None = field(compare=False)

    @property
    def line(self) -> int:
        """The line after the change, counted from 1; where lines were only taken out, the one that followed them."""
        return self.new_start + 1


def hunks_between(before: Mapping[str, str], after: Mapping[str, str]) -> list[Hunk]:
    """All pieces by which the texts of some files differ, in the order of files and lines."""
    found: list[Hunk] = []
    for file in sorted(before.keys() | after.keys()):
        old, new = before.get(file), after.get(file)
        if old == new:
            continue
        if old is None or new is None:
            found.append(Hunk(file, 0, 0, _lines(old), _lines(new)))
        else:
            found.extend(_in_file(file, split(old), split(new)))
    return found


def split(text: str) -> list[str]:
    """The lines of a text with their ends; only a line feed ends one, as in the positions of records."""
    return _LINE.findall(text)


def _lines(text: str | None) -> tuple[str, ...] | None:
    return None if text is None else tuple(split(text))


def _in_file(file: str, old: list[str], new: list[str]) -> Iterator[Hunk]:
    first = _common(old, new)
    last = _common(old[first:][::-1], new[first:][::-1])
    left, right = old[first : len(old) - last], new[first : len(new) - last]
    if len(left) + len(right) > _MOST_LINES or _alike(left, right) > _MOST_ALIKE:
        yield Hunk(file, first, first, tuple(left), tuple(right))
        return
    from difflib import SequenceMatcher

    for kind, a, b, c, d in SequenceMatcher(None, left, right, autojunk=False).get_opcodes():
        if kind != "equal":
            yield from _pieces(file, first + a, first + c, left[a:b], right[c:d])


def _alike(one: list[str], other: list[str]) -> int:
    """How many pairs of a line of one and a like line of the other there are."""
    counts = Counter(other)
    return sum(counts[line] for line in one)


def _common(one: list[str], other: list[str]) -> int:
    """How many lines two texts begin with in common."""
    count = 0
    for left, right in zip(one, other, strict=False):
        if left != right:
            break
        count += 1
    return count


def _pieces(file: str, start: int, new_start: int, old: list[str], new: list[str]) -> Iterator[Hunk]:
    """Line by line where as many stand after as before; record by record where records only came or only went."""
    if len(old) == len(new):
        for index, (left, right) in enumerate(zip(old, new, strict=True)):
            if left != right:
                yield Hunk(file, start + index, new_start + index, (left,), (right,))
    elif old and new:
        yield from _by_heads(file, start, new_start, old, new)
    elif new:
        for a, b in _records(new):
            yield Hunk(file, start, new_start + a, (), tuple(new[a:b]))
    else:
        for a, b in _records(old):
            yield Hunk(file, start + a, new_start, tuple(old[a:b]), ())


def _by_heads(file: str, start: int, new_start: int, old: list[str], new: list[str]) -> Iterator[Hunk]:
    """Lines that begin alike, with the same id or field, are the same line changed; the others came or went."""
    from difflib import SequenceMatcher

    old_heads, new_heads = list(map(_head, old)), list(map(_head, new))
    if _alike(old_heads, new_heads) > _MOST_ALIKE:
        yield Hunk(file, start, new_start, tuple(old), tuple(new))
        return
    for kind, a, b, c, d in SequenceMatcher(None, old_heads, new_heads, autojunk=False).get_opcodes():
        if kind == "equal" or not (a < b and c < d):
            yield from _pieces(file, start + a, new_start + c, old[a:b], new[c:d])
        else:
            yield Hunk(file, start + a, new_start + c, tuple(old[a:b]), tuple(new[c:d]))


def _head(line: str) -> str:
    found = _HEAD.match(line.strip())
    return found[0] if found else ""


def _records(lines: list[str]) -> list[tuple[int, int]]:
    """Where each record of a list begins and ends, by the outermost `- ` among the lines; all of them where there is none."""
    marks = [(index, len(found[1])) for index, line in enumerate(lines) if (found := _RECORD.match(line))]
    outermost = min((indent for _, indent in marks), default=0)
    starts = [index for index, indent in marks if indent == outermost]
    if not starts or any(line.strip() and len(line) - len(line.lstrip()) < outermost for line in lines):
        return [(0, len(lines))]
    starts[0] = 0
    return list(zip(starts, [*starts[1:], len(lines)], strict=True))


def applied(before: Mapping[str, str], hunks: Iterable[Hunk]) -> dict[str, str]:
    """The texts with some of the pieces put in."""
    texts = dict(before)
    by_file: dict[str, list[Hunk]] = {}
    for hunk in hunks:
        by_file.setdefault(hunk.file, []).append(hunk)
    for file, pieces in by_file.items():
        if pieces[0].new is None:
            texts.pop(file, None)
        else:
            texts[file] = _with(split(before.get(file, "")), pieces)
    return texts


def _with(lines: list[str], pieces: list[Hunk]) -> str:
    done: list[str] = []
    at = 0
    for hunk in sorted(pieces, key=lambda hunk: (hunk.start, hunk.new_start)):
        done += lines[at : hunk.start]
        done += hunk.new or ()
        at = hunk.start + len(hunk.old or ())
    return "".join(done + lines[at:])
