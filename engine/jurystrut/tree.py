"""YAML text to plain trees that know where each value stands.

Read straight from libyaml's events: every scalar stays text (no surprise booleans, dates or base-60 numbers), repeated
keys, tags, anchors and aliases are problems, and size and depth are bounded, since records come from strangers.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, TypeAlias

from jurystrut.errors import Problem
from jurystrut.positions import LINE_BREAK, Position, Where, pack_mark

if TYPE_CHECKING:
    from collections.abc import Iterator
    from typing import Any

__all__ = ["LIMITS", "Limits", "Listing", "Mapping", "Tree", "parse", "position_of"]


class Limits:
    """Bounds on one file: bytes, values, nesting, the length of one scalar or key, and mistakes told, in that order."""

    __slots__ = ("depth", "file_bytes", "key_characters", "problems", "scalar_characters", "values")

    def __init__(
        self,
        file_bytes: int = 64 * 1024 * 1024,
        values: int = 20_000_000,
        depth: int = 50,
        scalar_characters: int = 64 * 1024,
        key_characters: int = 256,
        problems: int = 200,
    ) -> None:
        self.file_bytes = file_bytes
        self.values = values
        self.depth = depth
        self.scalar_characters = scalar_characters
        self.key_characters = key_characters
        self.problems = problems


LIMITS = Limits()


class Mapping(dict[str, "Tree"]):
    """A mapping as written, and where it and its fields stand."""

    __slots__ = ("where",)

    def __init__(self) -> None:
        super().__init__()
        self.where: Where

    def forget_unnamed(self) -> None:
        """Drop the values whose keys could not stand."""
        for key in [key for key in self if key.startswith(_UNNAMED)]:
            del self[key]


class Listing(list["Tree"]):
    """A list as written; `marks` holds one mark an item, with the file before it where that is another than the list's."""

    __slots__ = ("file", "mark", "marks")

    def __init__(self, file: str, mark: int) -> None:
        super().__init__()
        self.file = file
        self.mark = mark
        self.marks: list[int | tuple[str, int]] = []

    def join(self, more: Listing) -> None:
        """Put the items of another file's list behind the own."""
        self.extend(more)
        self.marks.extend(mark if isinstance(mark, tuple) else (more.file, mark) for mark in more.marks)

    def position(self, index: int) -> Position:
        """The place of one item."""
        mark = self.marks[index]
        return Where(*(mark if isinstance(mark, tuple) else (self.file, mark))).position


Tree: TypeAlias = "Mapping | Listing | str | None"

# Control characters, bidirectional overrides, zero-width and tag characters, what is no character, and halves of pairs: a record
# must read as it is.
_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u061c\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ufffe\uffff"
    "\ud800-\udfff\U000e0000-\U000e007f]"
)
_UNNAMED = "\x00"  # begins the stand-in for a key that cannot stand; no key read from a file can hold it
_NO_KEY = object()
_NULLS = frozenset({"", "~", "null", "Null", "NULL"})
_LONGEST_NULL = 4


def parse(text: str, file: str, limits: Limits = LIMITS) -> tuple[Tree, list[Problem]]:
    """Read one YAML document; give its tree (None where nothing could be read) and every problem met.

    A syntax error ends the file at its place. Everything else (a repeated key, a tag, an alias) is noted, left out of
    the tree, and reading goes on.
    """
    text = text.removeprefix("\ufeff")
    unseen = _UNSEEN.search(text)
    if unseen:
        line = text.count("\n", 0, unseen.start())
        column = unseen.start() - text.rfind("\n", 0, unseen.start()) - 1
        message = f"an invisible character, U+{ord(unseen.group()):04X}, stands in the text; remove it"
        return None, [Problem(Position(file, line + 1, column + 1), message)]
    builder = _Builder(file, limits)
    tree = builder.run(text)
    return tree, builder.problems


def position_of(tree: Tree, path: tuple[str | int, ...]) -> Position | None:
    """Follow keys and indexes from a tree's root as far as they lead; the place of the last value found."""
    found: Position | None = None
    for step in path:
        if isinstance(tree, Mapping) and isinstance(step, str) and step in tree:
            found = tree.where.of(step)
            tree = tree[step]
        elif isinstance(tree, Listing) and isinstance(step, int) and step < len(tree):
            found = tree.position(step)
            tree = tree[step]
        else:
            break
    return found


def _events(text: str) -> Iterator[Any]:
    """The parser's events; libyaml's where PyYAML was built with it, else PyYAML's own, slower and the same."""
    import yaml

    loader: Any = (getattr(yaml, "CSafeLoader", None) or yaml.SafeLoader)(text)
    # libyaml's parser gives None after the last event, PyYAML's own no event to check for: both end here, and this asks
    # for one event at a time without the two calls an event of yaml.parse.
    return iter(loader.get_event, None)


def _line(text: str, number: int) -> str:
    """A line by its number from 0, broken where YAML breaks lines; empty beyond the last."""
    lines = LINE_BREAK.split(text)
    return lines[number] if number < len(lines) else ""


def _what_to_do(error: Any, text: str) -> str:
    """What most probably happened where libyaml gave up, told by its words and by the line."""
    said, context = error.problem or "", error.context or ""
    number = error.problem_mark.line if error.problem_mark else 0
    opened = error.context_mark.line if error.context_mark else 0
    line = _line(text, number)
    sign = line[error.problem_mark.column :][:1] if error.problem_mark else ""
    advice = {
        "cannot start any token": _of_a_sign(line, sign),
        "mapping values": _of_a_colon(_line(text, number - 1).strip() if number else "", number),
        "node content": "a value is missing here, a comma is one too many, or a sign is to stand in quotes",
        "document start": "begin every section at the left margin",
        "'-' indicator": "begin a record with a dash and a blank, all dashes of a list and all fields exactly below each other",
    }
    found = next((words for cause, words in advice.items() if cause in said), "")
    if not found and "quoted scalar" in context:
        return f"close the quote that line {opened + 1} opens"
    if not found and "flow" in context:
        if sign == ":" and number == opened:
            return "put a comma between the fields, and words that hold a colon in quotes"
        return f"close the bracket that line {opened + 1} opens, and put a comma between its parts"
    return found or "check indentation, quotes and colons"


def _of_a_sign(line: str, sign: str) -> str:
    if line.lstrip(" ").startswith("\t"):
        return "a tab stands in the indentation; write blanks"
    return f"put words that begin with {sign} in quotes" if sign and sign in "%@`|>&*!" else ""


def _of_a_colon(before: str, number: int) -> str:
    """A colon where none can be: its words need quotes, or the line before has none where one belongs."""
    if before and ":" not in before and not before.startswith(("#", "- ")):
        return f"put a colon and a blank behind the name in line {number}"
    return "put words that hold a colon in quotes, and begin the fields of a record exactly below each other"


class _Stop(Exception):
    """Reading this file ends here; the problem is already noted."""


class _Builder:
    """Builds one tree from events, without recursion."""

    def __init__(self, file: str, limits: Limits) -> None:
        self.file = file
        self.limits = limits
        self.problems: list[Problem] = []

    def run(self, text: str) -> Tree:
        import yaml

        try:
            return self._document(_events(text), wary=any(sign in text for sign in "!&\\"))
        except _Stop:
            return None
        except yaml.MarkedYAMLError as error:
            mark = error.problem_mark or error.context_mark
            self._note(mark, f"not YAML here: {error.problem or error.context}; {_what_to_do(error, text)}")
        except yaml.YAMLError as error:
            self._note(None, f"not YAML: {' '.join(str(error).split())}")
        return None

    def _note(self, mark: Any, message: str) -> None:
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        self.problems.append(Problem(Position(self.file, line, column), message))
        if len(self.problems) == self.limits.problems:
            self._stop(mark, f"{self.limits.problems} mistakes down to here; mend them, the rest is not read yet")

    def _stop(self, mark: Any, message: str) -> None:
        self._note(mark, message)
        raise _Stop

    def _document(self, events: Iterator[Any], *, wary: bool) -> Tree:  # noqa: C901, PLR0912, PLR0915 - one loop, hot: 1 us a value
        """The tree; `wary` says that the text holds signs which a tag, an anchor or an escaped character cannot do without."""
        from yaml import events as kinds

        scalar, mapping, listing = kinds.ScalarEvent, kinds.MappingStartEvent, kinds.SequenceStartEvent
        mapping_end, listing_end = kinds.MappingEndEvent, kinds.SequenceEndEvent
        limits, file = self.limits, self.file
        longest, most = limits.scalar_characters, limits.values
        root: Tree = None
        stack: list[tuple[Any, Any, Any, Any]] = []
        holder: Any = None  # the mapping or list being filled; None at the top
        key: Any = _NO_KEY  # the key that waits for its value; None where a key comes next, _NO_KEY where none belongs
        marks: list[int] = []
        names: dict[str, str] = {}  # a repository of a hundred thousand records has a hundred names for their fields
        count = documents = 0
        for event in events:
            kind = event.__class__
            value: Any
            if kind is scalar:
                start = event.start_mark
                value = event.value
                size = len(value)
                if size > longest:
                    self._stop(start, f"a value of {size} characters; at most {longest} are read")
                if wary:
                    value = self._plain(event)
                if key is None:
                    key = names.setdefault(value, value)
                    if key in holder or not key or size > limits.key_characters:
                        key = self._bad_key(start, key, holder, marks)
                    marks.append(start.line << 20 | start.column)
                    continue
                if size <= _LONGEST_NULL and value in _NULLS and event.implicit[0]:
                    value = None
            elif kind is mapping or kind is listing:
                start = event.start_mark
                if wary:
                    self._refuse(event)
                if key is None:
                    self._stop(start, "a mapping or a list stands where a field's name belongs")
                if len(stack) >= limits.depth:
                    self._stop(start, f"nested more than {limits.depth} levels deep")
                stack.append((holder, key, marks, start))
                if kind is mapping:
                    holder, key = Mapping(), None
                else:
                    holder, key = Listing(file, pack_mark(start.line, start.column)), _NO_KEY
                marks = []
                continue
            elif kind is mapping_end or kind is listing_end:
                value, own = holder, marks
                holder, key, marks, start = stack.pop()
                if kind is mapping_end:
                    value.where = Where(file, start.line << 20 | start.column, value, own)
                    if self.problems:
                        value.forget_unnamed()
            elif kind is kinds.AliasEvent:
                self._stop(event.start_mark, f"an alias, *{event.anchor}; write the value out, records use no aliases")
            elif kind is kinds.DocumentStartEvent:
                documents += 1
                if documents > 1:
                    self._stop(event.start_mark, "a second document begins here; keep one document a file")
                continue
            else:
                continue
            count += 1
            if count > most:
                self._stop(start, f"more than {most} values in one file; spread the records over several files")
            if key is not _NO_KEY:
                holder[key] = value
                marks.append(start.line << 20 | start.column)
                key = None
            elif holder is None:
                root = value
            else:
                holder.append(value)
                holder.marks.append(start.line << 20 | start.column)
        return root

    def _plain(self, event: Any) -> str:
        """A scalar's value without what must not be in it."""
        self._refuse(event)
        value: str = event.value
        if not value.isprintable() and _UNSEEN.search(value):
            self._note(event.start_mark, "an escaped invisible or control character in this value; write plain text")
            value = _UNSEEN.sub("?", value)
        return value

    def _refuse(self, event: Any) -> None:
        if event.tag is not None:
            self._stop(event.start_mark, f"a tag, {event.tag[:60]}; records use no tags, write the plain value")
        if event.anchor is not None:
            self._stop(event.start_mark, f"an anchor, &{event.anchor}; write the value out, records use no anchors")

    def _bad_key(self, mark: Any, key: str, holder: Mapping, marks: list[int]) -> str:
        """Note a key that cannot stand, and give a stand-in under which its value is read and then forgotten."""
        if not key:
            self._note(mark, "a field without a name")
        elif len(key) > self.limits.key_characters:
            self._note(mark, f"a field's name of {len(key)} characters")
        else:
            first = Where(self.file, marks[2 * list(holder).index(key)]).position
            self._note(mark, f"'{key}' is given twice in this record, first in line {first.line}; keep one of them")
        return f"{_UNNAMED}{len(marks)}"
