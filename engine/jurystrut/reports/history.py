"""The history of the records, for people and for machines: which commit broke what, and where the margins stand."""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING, Any

import jurystrut
from jurystrut.judge import CAUTION
from jurystrut.reports.comparison import by_cause, cause_lines, verdict_words
from jurystrut.reports.json_ import number
from jurystrut.reports.plain import WORDS, Paint, one_line, wrapped
from jurystrut.reports.text import margin_words, spare_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.compare import Break, Commit, History, Series
    from jurystrut.compare.history import Point

__all__ = ["history_as_json", "history_as_text"]

_MOST_SERIES = 15
_MOST_POINTS = 200


def history_as_text(history: History, *, coloured: bool = False) -> str:
    """The history for a terminal."""
    paint = Paint(coloured)
    blocks = ["\n".join(_head(history))]
    by_commit: dict[int, list[Break]] = {}
    for one in history.breaks:
        by_commit.setdefault(one.commit, []).append(one)
    blocks += ["\n".join(_broken(history, commit, breaks, paint)) for commit, breaks in by_commit.items()]
    one_subject = len(history.series) == 1
    blocks.append("\n".join(_points(history, history.series[0]) if one_subject else _margins(history, paint)))
    blocks.append(wrapped(CAUTION, ""))
    return "\n\n".join(blocks) + "\n"


def _head(history: History) -> Iterator[str]:
    commits = history.commits
    yield f"{len(commits)} commits, {_name(commits[0])} to {_name(commits[-1])}, all judged by today's rules"
    if history.unreadable:
        yield f"{len(history.unreadable)} of them hold records that cannot all be read, and are passed over"


def _name(commit: Commit) -> str:
    return f"{commit.hash[:10]} of {commit.day.isoformat()}"


def _broken(history: History, number_: int, breaks: list[Break], paint: Paint) -> Iterator[str]:
    commit = history.commits[number_]
    yield f"{paint.strong(_name(commit))}  {one_line(commit.title)}"
    for causes, told in by_cause(breaks).items():
        if any(change.worse for change, _ in told):
            yield from cause_lines(causes, "  ")
        for change, count in told:
            words = f"{change.rule.id} {verdict_words(change, count, 'then')}"
            if change.worse:
                words = f"{words}: {'. '.join(filter(None, (change.finding.message, margin_words(change.finding))))}"
            yield wrapped(words, "      ", "    ")


def _points(history: History, series: Series) -> Iterator[str]:
    yield f"{series.rule} {one_line(series.subject)}"
    for point in series.points[-_MOST_POINTS:]:
        commit = history.commits[point.commit]
        verdict = WORDS[point.verdict] if point.verdict else "not there"
        yield f"  {_name(commit)}  {verdict:8}  {_margin(point):>18}  {one_line(commit.title)[:60]}"


def _margin(point: Point) -> str:
    if point.margin is None:
        return "no margin"
    return spare_words(point.margin)


def _margins(history: History, paint: Paint) -> Iterator[str]:
    """Where the least room is left today."""
    yield paint.strong("WHERE THE LEAST ROOM IS LEFT")
    tight = [s for s in history.series if s.points[-1].margin is not None]
    for series in sorted(tight, key=lambda s: (_last(s), s.rule, s.subject))[:_MOST_SERIES]:
        first = next(point for point in series.points if point.margin is not None)
        yield wrapped(
            f"{series.rule} {series.subject}: {_margin(series.points[-1])}, {_margin(first)} at first", "      ", "  "
        )
    if not tight:
        yield "  no rule compares figures here"


def _last(series: Series) -> float:
    margin = series.points[-1].margin
    return math.inf if margin is None else margin


def history_as_json(history: History) -> str:
    """The history as one JSON object, `jurystrut/history/1`; points stand where something changed."""
    data = {
        "schema": "jurystrut/history/1",
        "tool": {"name": "jurystrut", "version": jurystrut.__version__},
        "shallow": history.shallow,
        "commits": [_commit_data(history, number_) for number_ in range(len(history.commits))],
        "breaks": [_break_data(history, one) for one in history.breaks],
        "series": [
            {"rule": s.rule, "subject": s.subject, "points": [_point_data(point) for point in s.points]}
            for s in history.series
        ],
        "caution": CAUTION,
    }
    return json.dumps(data, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _commit_data(history: History, number_: int) -> dict[str, Any]:
    commit, verdict = history.commits[number_], history.verdicts[number_]
    return {
        "hash": commit.hash,
        "day": commit.day.isoformat(),
        "title": commit.title,
        "verdict": verdict.value if verdict else None,
        "readable": number_ not in history.unreadable,
    }


def _break_data(history: History, one: Break) -> dict[str, Any]:
    change = one.change
    return {
        "commit": history.commits[one.commit].hash,
        "rule": change.rule.id,
        "subject": change.finding.subject,
        "worse": change.worse,
        "before": change.before.verdict.value if change.before else None,
        "after": change.after.verdict.value if change.after else None,
        "message": change.finding.message,
        "causes": [[{"file": hunk.file, "line": hunk.line} for hunk in hunks] for hunks in one.causes.sets],
    }


def _point_data(point: Point) -> dict[str, Any]:
    return {
        "commit": point.commit,
        "verdict": point.verdict.value if point.verdict else None,
        "margin": number(point.margin),
    }
