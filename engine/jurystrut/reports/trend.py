"""Margins over the commits as one picture: SVG that needs no script, names every line in words, and reads without colour."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jurystrut.reports.plain import safe
from jurystrut.reports.text import spare_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.compare import History, Series

__all__ = ["trend"]

_MOST_LINES = 8
_LEFT, _TOP, _WIDE, _HIGH = 70, 50, 620, 300
_DASHES = ("", "8 4", "2 3", "8 3 2 3", "12 4", "4 4", "1 4", "12 3 3 3")
# Dark enough for 4.5:1 on white; the dashes tell the lines apart without them.
_COLOURS = ("#0b5394", "#a61c00", "#38761d", "#741b47", "#7f4f00", "#134f5c", "#4c1130", "#333333")
_MANNER = 'role="img" aria-labelledby="t d" font-family="sans-serif" font-size="12" fill="#222"'
_FURTHEST = 1.0  # margins beyond a whole limit are drawn at the edge


def trend(history: History) -> str:
    """The margins of the series with the least room left, at most eight; the thick line is the limit itself."""
    chosen = sorted(filter(_has_margin, history.series), key=lambda s: (_least(s), s.rule, s.subject))[:_MOST_LINES]
    height = _TOP + _HIGH + 60 + 18 * len(chosen)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 720 {height}" {_MANNER}>',
        '<title id="t">Margins over the commits</title>',
        f'<desc id="d">{_escaped("; ".join(map(_told, chosen)) or "no rule compares figures")}</desc>',
        f'<rect width="720" height="{height}" fill="#fff"/>',
        f'<text x="{_LEFT}" y="26" font-size="16">Margins over {len(history.commits)} commits</text>',
    ]
    scale = _Scale(history, chosen)
    parts += _grid(history, scale)
    for number, series in enumerate(chosen):
        parts += _line(scale, number, series)
    return "\n".join([*parts, "</svg>"]) + "\n"


def _has_margin(series: Series) -> bool:
    return any(point.margin is not None for point in series.points)


def _least(series: Series) -> float:
    return min(point.margin for point in series.points if point.margin is not None)


def _told(series: Series) -> str:
    last = next((p.margin for p in reversed(series.points) if p.margin is not None), 0.0)
    return f"{series.rule} {series.subject}: {spare_words(last)} now, {spare_words(_least(series))} at least"


def _escaped(text: str) -> str:
    plain = safe(text).replace("\ufffe", "").replace("\uffff", "")
    return plain.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


class _Scale:
    """From a commit's number and a margin to a point of the picture."""

    def __init__(self, history: History, chosen: list[Series]) -> None:
        self.commits = max(len(history.commits) - 1, 1)
        margins = [_held(p.margin) for series in chosen for p in series.points if p.margin is not None]
        self.low = min([0.0, *margins]) - 0.05
        self.high = max([0.1, *margins]) + 0.05

    def x(self, commit: float) -> float:
        return round(_LEFT + _WIDE * commit / self.commits, 1)

    def y(self, margin: float) -> float:
        return round(_TOP + _HIGH * (self.high - _held(margin)) / (self.high - self.low), 1)


def _held(margin: float) -> float:
    return max(-_FURTHEST, min(_FURTHEST, margin))


def _grid(history: History, scale: _Scale) -> Iterator[str]:
    step = 0.1 if scale.high - scale.low < 1 else 0.25
    for number in range(math.ceil(scale.low / step), math.floor(scale.high / step) + 1):
        y = scale.y(number * step)
        bold = 'stroke="#222" stroke-width="2"' if number == 0 else 'stroke="#ccc"'
        yield f'<line x1="{_LEFT}" y1="{y}" x2="{_LEFT + _WIDE}" y2="{y}" {bold}/>'
        label = "limit" if number == 0 else f"{number * step * 100:.0f} %"
        yield f'<text x="{_LEFT - 6}" y="{y + 4}" text-anchor="end">{label}</text>'
    bottom = _TOP + _HIGH + 18
    first, last = history.commits[0], history.commits[-1]
    yield f'<text x="{_LEFT}" y="{bottom}">{first.day.isoformat()} {first.hash[:8]}</text>'
    yield f'<text x="{_LEFT + _WIDE}" y="{bottom}" text-anchor="end">{last.day.isoformat()} {last.hash[:8]}</text>'


def _line(scale: _Scale, number: int, series: Series) -> Iterator[str]:
    """A margin holds until the commit that moves it: steps; where there is none, the line is broken."""
    commands: list[str] = []
    height: float | None = None
    for point in series.points:
        x = scale.x(point.commit)
        if height is not None:
            commands.append(f"H{x}")
        if point.margin is None:
            height = None
        else:
            y = scale.y(point.margin)
            commands.append(f"M{x} {y}" if height is None else f"V{y}")
            height = y
    if height is not None:
        commands.append(f"H{scale.x(scale.commits)}")
    style = f'fill="none" stroke="{_COLOURS[number]}" stroke-width="2" stroke-dasharray="{_DASHES[number] or "none"}"'
    name = _escaped(_told(series))
    yield f'<path d="{" ".join(commands)}" {style}><title>{name}</title></path>'
    for point in series.points:
        if point.margin is not None and point.margin < -1e-9:  # not for the last bits of a value at its limit
            yield f'<circle cx="{scale.x(point.commit)}" cy="{scale.y(point.margin)}" r="4" fill="{_COLOURS[number]}"/>'
    y = _TOP + _HIGH + 44 + 18 * number
    yield f'<line x1="{_LEFT}" y1="{y - 4}" x2="{_LEFT + 40}" y2="{y - 4}" {style}/>'
    yield f'<text x="{_LEFT + 48}" y="{y}">{name}</text>'
