"""What people and machines read of a change: hostile text through every writer of comparisons, histories, pictures and gates."""

from __future__ import annotations

import dataclasses
import datetime
import functools
import json
import re
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree as Xml

import pytest
from markdown_it import MarkdownIt

from jurystrut.compare import Break, Causes, Change, Commit, Comparison, Explained, History, Hunk, Series
from jurystrut.compare.history import Point
from jurystrut.errors import Problem
from jurystrut.gates import Passage, Stopped
from jurystrut.judge import Judgement, judge
from jurystrut.positions import Position, Spot, Where, pack_mark
from jurystrut.reading import read
from jurystrut.reports.comparison import COMPARISON_FORMATS
from jurystrut.reports.gate import baseline_of, gate_as_text
from jurystrut.reports.history import history_as_json, history_as_text
from jurystrut.reports.trend import trend
from jurystrut.rulebook import Amount, Finding, Limit, Verdict
from jurystrut.testing import installed
from jurystrut.tree import parse

if TYPE_CHECKING:
    from collections.abc import Callable

EXAMPLE = Path(__file__).parents[2] / "project_example"
DAY = datetime.date(2026, 11, 25)
OBEYED = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2060-\u2069\ud800-\udfff]")

NASTY = [
    "plain",
    "\x1b]0;title\x07 \x1b[2J \x9b31m \x00",
    "bidi \u202egnp\u202c",
    "lines\nof\r\nmany\u2028kinds",
    "</svg><script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "&amp; ]]> <!-- -->",
    "a|b || c",
    "[text](javascript:alert) `x` *b* _i_ ~~s~~ <details>",
    "@everyone #1 http://x.example",
    "lone \ud800 surrogate \ufffe",
]


@functools.cache
def example() -> Judgement:
    return judge(read(EXAMPLE), installed(), on=DAY)


def pair(text: str) -> tuple[Finding, Finding]:
    """The same thing said before and after, in hostile words."""
    where = (Spot(Where(text, pack_mark(4, 7))),)
    limit = Limit(10.0, "A", "at-most")
    before = Finding(Verdict.PASS, text, text, where, Amount(9.0, "A"), limit, 0.1)
    return before, before._replace(verdict=Verdict.FAIL, measured=Amount(12.0, "A"), margin=-0.2, remedy=text)


def causes(text: str) -> Causes:
    return Causes(
        ((Hunk(text, 3, 3, (text,), (text, text)), Hunk(text, 9, 9, None, (text,))), (Hunk(text, 1, 1, (), ()),))
    )


def comparison(text: str) -> Comparison:
    rule = example().results[0].rule
    before, after = pair(text)
    moved = Change(rule, before, before._replace(margin=0.05))
    problem = Problem(Position(text, 1, 1), text)
    made = [Change(rule, before, after), Change(rule, None, after), Change(rule, after, None), moved]
    return Comparison(
        example(),
        dataclasses.replace(example(), problems=(problem,)),
        (text, text),
        tuple(Explained(change, causes(text)) for change in made),
    )


def history(text: str) -> History:
    before, after = pair(text)
    rule = example().results[0].rule
    return History(
        (Commit("a" * 40, "b" * 40, DAY, text), Commit("c" * 40, "d" * 40, DAY, text)),
        (Verdict.PASS, Verdict.FAIL),
        (),
        (Break(1, Change(rule, before, after), causes(text)), Break(1, Change(rule, after, before), causes(text))),
        (Series(rule.id, text, (Point(0, Verdict.PASS, 0.1), Point(1, Verdict.FAIL, float("-inf")))),),
        shallow=False,
    )


def passage(text: str) -> Passage:
    return Passage(example(), (Stopped(example().results[0].rule, pair(text)[1], text),), 1, (text,))


def comparing(name: str) -> Callable[[str], str]:
    return lambda text: COMPARISON_FORMATS[name](comparison(text))


WRITERS: dict[str, Callable[[str], str]] = {
    **{f"comparison {name}": comparing(name) for name in COMPARISON_FORMATS},
    "history text": lambda text: history_as_text(history(text)),
    "history json": lambda text: history_as_json(history(text)),
    "history svg": lambda text: trend(history(text)),
    "gate text": lambda text: gate_as_text(passage(text)),
    "gate baseline": lambda text: baseline_of(passage(text)),
}


@pytest.mark.parametrize("text", NASTY, ids=lambda text: ascii(text[:20]))
@pytest.mark.parametrize("name", WRITERS)
def test_nothing_gets_through_that_a_reader_would_obey(name: str, text: str) -> None:
    written = WRITERS[name](text)
    if "json" in name:
        json.loads(written)
    else:
        assert not OBEYED.search(written)
    if "markdown" in name:
        rendered = MarkdownIt("gfm-like", {"linkify": False, "html": True}).render(written)
        assert set(re.findall(r"<(\w+)", rendered)) <= {"h2", "p", "table", "thead", "tbody", "tr", "th", "td", "br"}
        assert all(len(re.findall("<t[hd]", row)) == 5 for row in re.findall(r"<tr>.*?</tr>", rendered, re.DOTALL))
    if "svg" in name:
        root = Xml.fromstring(written)  # noqa: S314 - our own text, read back
        assert {element.tag.partition("}")[2] for element in root.iter()} <= set(
            "svg title desc rect text line path circle".split()
        )
    if "baseline" in name:
        assert parse(written, "x.yaml")[1] == []


@pytest.mark.parametrize("name", ["comparison text", "history text", "gate text"])
def test_no_line_of_a_log_begins_with_a_command(name: str) -> None:
    for words in range(12):  # wherever the lines are wrapped
        written = WRITERS[name]("x " * words + "\n::error::forged\n##[error]y")
        assert not re.search("^ *::", written, re.MULTILINE)
        assert "##[" not in written


def test_colour_carries_no_meaning() -> None:
    coloured = COMPARISON_FORMATS["text"](comparison("plain"))
    from jurystrut.reports.comparison import as_text

    assert re.sub("\x1b\\[[0-9;]*m", "", as_text(comparison("plain"), coloured=True)) == coloured


def test_a_picture_of_nothing_is_still_a_picture() -> None:
    empty = dataclasses.replace(history("plain"), series=())
    assert "no rule compares figures" in trend(empty)
    Xml.fromstring(trend(empty))  # noqa: S314 - our own text, read back
