"""What is fed to every writer: a judgement, a comparison, a history or a drawing in which all words are the given bytes.

The written text is read back by a parser that knows nothing of the writer; nothing in it may be more than words.
"""

from __future__ import annotations

import dataclasses
import datetime
import functools
import io
import json
import re
from typing import TYPE_CHECKING, Any, TypeAlias
from xml.etree import ElementTree as Xml

from jurystrut.calculations.work_window import Window
from jurystrut.compare import Break, Causes, Change, Commit, Comparison, Explained, History, Hunk, Series
from jurystrut.compare.history import Point
from jurystrut.drawings import svg as shapes
from jurystrut.drawings.placard_sheet import Words, fits, placard_sheets
from jurystrut.errors import Problem
from jurystrut.fleet import Outcome
from jurystrut.fleet.table import write as write_table
from jurystrut.fleet.table import write_json as write_table_json
from jurystrut.gates import Passage, Stopped
from jurystrut.judge import Judgement, RuleResult, judge
from jurystrut.panel_drawing.dxf import write_dxf
from jurystrut.panel_drawing.views import Note, write_views
from jurystrut.positions import Position, Spot, Where, pack_mark
from jurystrut.reports import writer
from jurystrut.reports.comparison import COMPARISON_FORMATS
from jurystrut.reports.explain import write_explanation
from jurystrut.reports.gate import baseline_of, gate_as_text
from jurystrut.reports.history import history_as_json, history_as_text
from jurystrut.reports.page import write as write_page
from jurystrut.reports.trend import trend
from jurystrut.reports.work_window import write_windows
from jurystrut.rulebook import Amount, Finding, Limit, Verdict, worst
from jurystrut.testing import DAY, installed, project_of
from jurystrut.tree import parse

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["WRITING"]

_OBEYED = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff]")
_COMMAND = re.compile(r"::(error|warning) ((?:\w+=[^:,]*)(?:,\w+=[^:,]*)*)::(.*)")
_MOMENT = datetime.datetime(2026, 5, 2, 9)  # noqa: DTZ001 - a forecast is in local time


class Texts:
    """The given text in pieces, one for every place that holds words; the pieces are used over and over."""

    def __init__(self, data: bytes) -> None:
        self.pieces = data.decode("utf-8", "surrogateescape").split("\t")
        self.at = 0

    def next(self) -> str:
        """The next piece."""
        self.at += 1
        return self.pieces[(self.at - 1) % len(self.pieces)]


@functools.cache
def _plain() -> Judgement:
    """The judgement of an aircraft with next to no records, by the first few rules."""
    whole = judge(project_of("panel: {outline: [[0 in, 0 in], [9 in, 0 in], [9 in, 6 in]]}"), installed(), on=DAY)
    return dataclasses.replace(whole, results=whole.results[:3])


def _finding(words: Texts, verdict: Verdict = Verdict.FAIL) -> Finding:
    where = (Spot(Where(words.next(), pack_mark(4, 7))),)
    limit = Limit(10.0, "A", "at-most")
    texts = words.next(), words.next()
    return Finding(verdict, *texts, where, Amount(12.0, "A"), limit, -0.2, remedy=words.next(), deviation=words.next())


def hostile(words: Texts) -> Judgement:
    """A judgement in which all that records bring into a report is given."""
    base = _plain()
    findings = tuple(_finding(words, verdict) for verdict in Verdict)
    rule = base.results[0].rule
    results = (RuleResult(rule, worst(f.verdict for f in findings), findings), *base.results[1:])
    problem = Problem(Position(words.next(), 3, 4), words.next())
    aircraft = base.project.aircraft
    assert aircraft
    aircraft = aircraft.model_copy(update={"name": words.next(), "registration": words.next()})
    project = dataclasses.replace(base.project, sections={**base.project.sections, "aircraft": aircraft})
    folder = f"{words.next()}/"
    return dataclasses.replace(base, project=project, results=results, problems=(problem,), folder=folder)


def _causes(words: Texts) -> Causes:
    hunk = Hunk(words.next(), 3, 3, (words.next(),), (words.next(), words.next()))
    return Causes(((hunk, Hunk(words.next(), 9, 9, None, (words.next(),))), (Hunk(words.next(), 1, 1, (), ()),)))


def _changes(words: Texts) -> list[Change]:
    rule = _plain().results[0].rule
    after = _finding(words)
    before = after._replace(verdict=Verdict.PASS, margin=0.1)
    moved = Change(rule, before, before._replace(margin=0.05))
    return [Change(rule, before, after), Change(rule, None, after), Change(rule, after, None), moved]


def _comparison(words: Texts) -> Comparison:
    explained = tuple(Explained(change, _causes(words)) for change in _changes(words))
    return Comparison(_plain(), hostile(words), (words.next(), words.next()), explained)


def _history(words: Texts) -> History:
    commits = tuple(Commit(letter * 40, "b" * 40, DAY, words.next()) for letter in "ac")
    breaks = tuple(Break(1, change, _causes(words)) for change in _changes(words)[:2])
    points = (Point(0, Verdict.PASS, 0.1), Point(1, Verdict.FAIL, float("-inf")))
    series = tuple(Series(_plain().results[0].rule.id, words.next(), points) for _ in range(2))
    return History(commits, (Verdict.PASS, Verdict.FAIL), (), breaks, series, shallow=False)


def log(text: str) -> None:
    """A text for a terminal or a log: plain lines, and none that a build service obeys."""
    text.encode("utf-8")
    assert not _OBEYED.search(text)
    assert "##[" not in text
    assert not any(line.lstrip().startswith("::") for line in text.splitlines())


def workflow_commands(text: str) -> None:
    """Commands that we meant, each on its line, and a last line of words."""
    *commands, last = text.splitlines()
    assert all(_COMMAND.fullmatch(line) for line in commands), text
    assert last.startswith("jurystrut: ")
    assert not _OBEYED.search(text)
    assert "##[" not in text


def sarif(text: str) -> None:
    """JSON, whose paths are relative and plain."""
    for result in json.loads(text)["runs"][0]["results"]:
        assert not re.search(r"\[[^\]]*\]\(", result["message"]["text"])
        for place in result["locations"]:
            assert re.fullmatch(r"[A-Za-z0-9/._~%-]+", place["physicalLocation"]["artifactLocation"]["uri"])


def junit(text: str) -> None:
    """XML with as many failures as there were, and no name twice in a suite."""
    root = Xml.fromstring(text)  # noqa: S314 - our own text, read back
    assert len(root.findall(".//failure")) >= 1
    assert {element.tag for element in root.iter()} <= set(
        "testsuites testsuite properties property testcase failure error skipped system-out".split()
    )
    names = [case.get("name") for case in root.iter("testcase")]
    assert len(names) == len(set(names))


def gitlab(text: str) -> None:
    """A list of entries of one shape."""
    for entry in json.loads(text):
        assert set(entry) == {"description", "check_name", "fingerprint", "severity", "location"}


def markdown(text: str) -> None:
    """Rows of one width, and nothing that Markdown or HTML would take for more than words."""
    text.encode("utf-8")
    assert not re.search(r"<(?!br>)", text)
    rows = [line for line in text.splitlines() if line.startswith("|")]
    assert len({line.count("|") for line in rows}) <= 1
    assert not re.search(r"[\[`*_]|https?://(?=\S*\|)", "".join(rows[2:]).replace("<br>", ""))


def baseline(text: str) -> None:
    """YAML without a mistake."""
    assert parse(text, "x.yaml")[1] == []


def drawing(text: str) -> None:
    """SVG that holds shapes and words alone."""
    root = Xml.fromstring(text)  # noqa: S314 - our own text, read back
    for element in root.iter():
        assert element.tag.rpartition("}")[2] in _SHAPES
        assert not any(name.startswith("on") or "href" in name for name in element.attrib)


_SHAPES = frozenset("svg g title desc rect text tspan line path circle polyline polygon defs pattern style".split())


def _html(text: str) -> None:
    from html.parser import HTMLParser

    class Page(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            assert tag not in {"script", "iframe", "object", "embed", "base", "form", "img"}, tag
            for name, value in attrs:
                assert not name.startswith("on"), name
                if name in {"href", "src", "action"}:
                    assert (value or "").startswith("#"), value

    text = text.encode("utf-8", "backslashreplace").decode()  # as it is delivered
    Page().feed(text)
    assert not re.search("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]", text)


def _placards(words: Texts) -> str:
    placed = [one for one in (Words(words.next(), 3.5, words.next()) for _ in range(2)) if fits(one)]
    return placard_sheets(words.next(), placed)[0]


def _shapes(words: Texts) -> str:
    return shapes.drawing(
        "d", 10, 10, words.next(), words.next(), [shapes.text((1, 1), words.next(), look=words.next())]
    )


def _views(words: Texts) -> str:
    from jurystrut.records.panel import Panel

    panel = _plain().project.sections["panel"]
    assert isinstance(panel, Panel)
    return write_views(panel, [Note(words.next(), words.next())])


def _cutter(words: Texts) -> str:
    """A drawing for the cutter whose one legend is given."""
    from jurystrut.records.panel import Panel

    records = (
        "panel: {outline: [[0 in, 0 in], [9 in, 0 in], [9 in, 6 in]], "
        "legends: [{id: L, text: X, centre: [1 in, 1 in], letter_height: 0.1 in}]}"
    )
    panel = project_of(records).sections["panel"]
    assert isinstance(panel, Panel)
    legend = panel.legends[0].model_copy(update={"text": words.next()})
    return write_dxf([], panel.model_copy(update={"legends": (legend,)}))


def _dxf(text: str) -> None:
    """Tags in pairs, with one legend, and nothing that the legend could have smuggled in."""
    from ezdxf.filemanagement import read

    kinds = [entity.dxftype() for entity in read(io.StringIO(text)).modelspace()]
    assert sorted(kinds) == ["TEXT"], kinds


def _outcomes(words: Texts) -> list[Outcome]:
    return [
        Outcome(words.next(), 1, "fail", {"a/b": "fail"}),
        Outcome(words.next(), 2, broke=words.next()),
        Outcome(words.next(), 1, "fail", {"a/b": "fail"}),
    ]


def _windows(words: Texts) -> str:
    return write_windows(words.next(), [words.next()], [Window(_MOMENT, _MOMENT, (words.next(),))])


_Made: TypeAlias = "tuple[Callable[[Texts], str], Callable[[str], Any]]"
_MADE: dict[str, _Made] = {
    "write text": (lambda words: writer("text")(hostile(words)), log),
    "write json": (lambda words: writer("json")(hostile(words)), json.loads),
    "write sarif": (lambda words: writer("sarif")(hostile(words)), sarif),
    "write junit": (lambda words: writer("junit")(hostile(words)), junit),
    "write junit-gitlab": (lambda words: writer("junit-gitlab")(hostile(words)), junit),
    "write annotations": (lambda words: writer("annotations")(hostile(words)), workflow_commands),
    "write markdown": (lambda words: writer("markdown")(hostile(words)), markdown),
    "write gitlab": (lambda words: writer("gitlab")(hostile(words)), gitlab),
    "write explanation": (lambda words: _explained(hostile(words)), log),
    "write comparison": (lambda words: COMPARISON_FORMATS["text"](_comparison(words)), log),
    "write comparison markdown": (lambda words: COMPARISON_FORMATS["markdown"](_comparison(words)), markdown),
    "write comparison json": (lambda words: COMPARISON_FORMATS["json"](_comparison(words)), json.loads),
    "write history": (lambda words: history_as_text(_history(words)), log),
    "write history json": (lambda words: history_as_json(_history(words)), json.loads),
    "write history svg": (lambda words: trend(_history(words)), drawing),
    "write gate": (lambda words: gate_as_text(_passage(words)), log),
    "write gate baseline": (lambda words: baseline_of(_passage(words)), baseline),
    "write page": (lambda words: write_page(hostile(words)), _html),
    "write placards": (_placards, drawing),
    "write shapes": (_shapes, drawing),
    "write views": (_views, drawing),
    "write dxf": (_cutter, _dxf),
    "write fleet": (lambda words: write_table(_outcomes(words)), log),
    "write fleet json": (lambda words: write_table_json(_outcomes(words)), json.loads),
    "write work-window": (_windows, log),
}


def _explained(judgement: Judgement) -> str:
    return write_explanation(judgement, judgement.results[0], None)


def _passage(words: Texts) -> Passage:
    stopped = Stopped(_plain().results[0].rule, _finding(words), words.next())
    return Passage(_plain(), (stopped,), 1, (words.next(),))


def _target(make: Callable[[Texts], str], check: Callable[[str], Any]) -> Callable[[bytes], None]:
    return lambda data: check(make(Texts(data))) and None


WRITING: dict[str, Callable[[bytes], None]] = {name: _target(*made) for name, made in _MADE.items()}
