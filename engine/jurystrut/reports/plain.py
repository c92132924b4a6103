"""Text for a terminal: wrapped to its width, coloured where that is wanted, and safe whatever a record holds."""

from __future__ import annotations

import re
import textwrap

from jurystrut.rulebook import Verdict

__all__ = ["WIDTH", "WORDS", "Paint", "heading", "one_line", "safe", "wrapped"]

WIDTH = 80

WORDS: dict[Verdict, str] = {
    Verdict.FAIL: "FAIL",
    Verdict.NO_DATA: "NO DATA",
    Verdict.WARN: "WARN",
    Verdict.PASS: "pass",
    Verdict.NOT_DUE: "not due",
    Verdict.NOT_APPLICABLE: "not applicable",
}
"""A verdict as people read it; the word carries the meaning, colour only repeats it."""

_COLOURS = {Verdict.FAIL: "31;1", Verdict.NO_DATA: "35", Verdict.WARN: "33", Verdict.PASS: "32"}

# What a terminal or the log of a build service would obey rather than show (`::error::` at the start of a line, `##[group]`
# anywhere), and what would make text read otherwise than it is.
_UNSAFE = re.compile(
    "[\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\ufffe\uffff\ud800-\udfff"
    "\U000e0000-\U000e007f]" + r"|(?<!\S)::|##\["
)


def safe(text: str) -> str:
    """The text on one line, with everything that a terminal or a build service would obey written out as escapes."""
    return _UNSAFE.sub(lambda match: "".join(f"\\u{ord(character):04x}" for character in match.group()), text)


def one_line(text: str) -> str:
    """The same with single spaces: for a place that has one line."""
    return safe(" ".join(text.split()))


def wrapped(text: str, indent: str, first: str | None = None) -> str:
    """Words wrapped to the width, each line behind `indent`, the first behind `first` where given."""
    begin = indent if first is None else first
    return textwrap.fill(
        one_line(text),
        WIDTH,
        initial_indent=begin,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def heading(rule_id: str, title: str, paint: Paint) -> str:
    """A rule's id and title, on one line where they fit on it."""
    between = "  " if len(rule_id) + len(title) + 2 <= WIDTH else "\n    "
    return f"{paint.strong(rule_id)}{between}{safe(title)}"


class Paint:
    """Puts colour on words, or leaves them as they are."""

    def __init__(self, coloured: bool) -> None:  # noqa: FBT001 - the one thing it is about
        self.coloured = coloured

    def verdict(self, verdict: Verdict, width: int = 0) -> str:
        """The verdict's word, padded to a width, in its colour."""
        word = WORDS[verdict].ljust(width)
        code = _COLOURS.get(verdict)
        return f"\x1b[{code}m{word}\x1b[0m" if self.coloured and code else word

    def strong(self, text: str) -> str:
        """A heading."""
        return f"\x1b[1m{text}\x1b[0m" if self.coloured else text
