"""The few shapes that the drawings are made of, as SVG text; every attribute and every word is escaped on the way in."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["Svg", "circle", "drawing", "escaped", "group", "line", "path", "polygon", "rectangle", "sector", "text"]

_Point = tuple[float, float]

# What XML cannot hold, and what would make words read otherwise than they are written.
_UNFIT = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff\ud800-\udfff]"
)
_ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;"})


class Svg(str):
    """Text that is SVG already; anything else is escaped."""

    __slots__ = ()


def escaped(words: str) -> str:
    """Words that are nothing but words in XML, in an element and in an attribute alike."""
    return _UNFIT.sub("\ufffd", words).translate(_ESCAPES)


def _number(value: float) -> str:
    """Two decimals at most: a hundredth of a unit is less than a printer's dot."""
    if not math.isfinite(value):
        raise ValueError("a drawing has no place for a number that is not finite")
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _element(name: str, attributes: dict[str, str | float | None], inside: str = "") -> Svg:
    written = "".join(
        f' {key}="{_number(value) if isinstance(value, (int, float)) else escaped(value)}"'
        for key, value in attributes.items()
        if value is not None and value != ""
    )
    return Svg(f"<{name}{written}>{inside}</{name}>" if inside else f"<{name}{written}/>")


def drawing(name: str, width: float, height: float, title: str, description: str, parts: Iterable[Svg]) -> Svg:
    """A whole drawing with its title and description for those who do not see it; `name` is once in a page."""
    words = _element("title", {"id": f"{name}-title"}, escaped(title)) + _element(
        "desc", {"id": f"{name}-desc"}, escaped(description)
    )
    attributes: dict[str, str | float | None] = {
        "viewBox": f"0 0 {_number(width)} {_number(height)}",
        "role": "img",
        "aria-labelledby": f"{name}-title {name}-desc",
        "class": "drawing",
        "style": f"max-width:{_number(width * 1.25)}px",
    }
    return _element("svg", attributes, words + "".join(parts))


def group(parts: Iterable[Svg], *, look: str = "") -> Svg:
    """Some parts together under one class."""
    return _element("g", {"class": look}, "".join(parts))


def line(start: _Point, end: _Point, look: str = "line") -> Svg:
    """A straight line."""
    return _element("line", {"x1": start[0], "y1": start[1], "x2": end[0], "y2": end[1], "class": look})


def polygon(corners: Sequence[_Point], look: str = "shape") -> Svg:
    """A closed outline."""
    return _element("polygon", {"points": " ".join(f"{_number(x)},{_number(y)}" for x, y in corners), "class": look})


def path(points: Sequence[_Point], look: str = "line") -> Svg:
    """Straight lines from point to point."""
    return _element("polyline", {"points": " ".join(f"{_number(x)},{_number(y)}" for x, y in points), "class": look})


def circle(centre: _Point, radius: float, look: str = "shape") -> Svg:
    """A circle."""
    return _element("circle", {"cx": centre[0], "cy": centre[1], "r": radius, "class": look})


def rectangle(corner: _Point, width: float, height: float, look: str = "shape", *, round_by: float = 0) -> Svg:
    """An upright rectangle from its upper left corner."""
    sides: dict[str, str | float | None] = {"x": corner[0], "y": corner[1], "width": width, "height": height}
    return _element("rect", {**sides, "rx": round_by or None, "class": look})


def sector(centre: _Point, radius: float, start: float, end: float, look: str = "line") -> Svg:
    """An arc of a ring from one bearing clockwise to another, in degrees from straight up."""
    if end - start >= 360:
        return circle(centre, radius, look)
    (x1, y1), (x2, y2) = (_on_ring(centre, radius, bearing) for bearing in (start, end))
    large = 1 if end - start > 180 else 0
    r = _number(radius)
    return _element(
        "path", {"d": f"M{_number(x1)} {_number(y1)}A{r} {r} 0 {large} 1 {_number(x2)} {_number(y2)}", "class": look}
    )


def _on_ring(centre: _Point, radius: float, bearing: float) -> _Point:
    angle = math.radians(bearing)
    return centre[0] + radius * math.sin(angle), centre[1] - radius * math.cos(angle)


def text(where: _Point, words: str, *, size: float = 11, anchor: str = "start", look: str = "words") -> Svg:
    """Words on one line; `anchor` is start, middle or end."""
    attributes: dict[str, str | float | None] = {"x": where[0], "y": where[1], "font-size": size, "class": look}
    return _element("text", {**attributes, "text-anchor": None if anchor == "start" else anchor}, escaped(words) or " ")
