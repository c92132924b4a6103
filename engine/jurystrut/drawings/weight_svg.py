"""A sheet to draw on in plain figures, with two axes, and its SVG text; black on white, readable without colour."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jurystrut.drawings.svg import escaped

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

__all__ = ["MARKS", "Sheet", "ticks"]

_Point = tuple[float, float]

MARKS = ("circle", "square", "triangle", "diamond", "cross", "plus")
"""Shapes that tell series apart without colour, in the order of their use."""


def ticks(low: float, high: float, wanted: int = 8) -> list[float]:
    """Round numbers from low to high, 1, 2 or 5 times a power of ten apart, about as many as wanted."""
    rough = (high - low) / wanted
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough * 0.999)
    first = math.ceil(low / step - 1e-9)
    return [number * step for number in range(first, math.floor(high / step + 1e-9) + 1)]


class Sheet:
    """A drawing in the figures of its axes: x to the right, y up. `text()` gives the SVG."""

    def __init__(self, size: _Point, x: _Point, y: _Point, title: str, description: str) -> None:
        self.size, self.x, self.y = size, x, y
        self.title, self.description = title, description
        self.left, self.right, self.top, self.bottom = 70.0, 20.0, 40.0, 50.0
        self.parts: list[str] = []

    def at(self, point: _Point) -> _Point:
        """Where a point of the axes lies on the sheet."""
        width, height = self.size
        across = (point[0] - self.x[0]) / (self.x[1] - self.x[0])
        up = (point[1] - self.y[0]) / (self.y[1] - self.y[0])
        return (
            self.left + across * (width - self.left - self.right),
            height - self.bottom - up * (height - self.top - self.bottom),
        )

    def path(self, points: Iterable[_Point], style: str, *, closed: bool = False) -> None:
        """A line through points, or an area."""
        steps = " L ".join(f"{x:.2f} {y:.2f}" for x, y in map(self.at, points))
        self.parts.append(f'<path d="M {steps}{" Z" if closed else ""}" {style}/>')

    def words(self, place: _Point, text: str, *, anchor: str = "start", size: int = 12, turned: bool = False) -> None:
        """Text at a place of the sheet itself."""
        x, y = place
        turn = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if turned else ""
        self.parts.append(
            f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size}" text-anchor="{anchor}"{turn}>{escaped(text)}</text>'
        )

    def mark(self, point: _Point, shape: str, label: str = "", *, on_sheet: bool = False) -> None:
        """A small shape at a point of the axes, with a label beside it."""
        x, y = point if on_sheet else self.at(point)
        self.parts.append(_shape(shape, x, y))
        if label:
            self.words((x + 7, y - 5), label, size=11)

    def axes(self, x_name: str, y_name: str) -> None:
        """Both axes with round numbers and thin lines across."""
        width, height = self.size
        for value in ticks(*self.x):
            self.path([(value, self.y[0]), (value, self.y[1])], 'fill="none" stroke="#bbb" stroke-width="0.5"')
            self.words((self.at((value, 0))[0], height - self.bottom + 16), f"{value:g}", anchor="middle")
        self.words(((self.left + width - self.right) / 2, height - self.bottom + 36), x_name, anchor="middle")
        self.scale_up(y_name)

    def scale_up(self, name: str) -> None:
        """The upright axis alone."""
        for value in ticks(*self.y):
            self.path([(self.x[0], value), (self.x[1], value)], 'fill="none" stroke="#bbb" stroke-width="0.5"')
            self.words((self.left - 6, self.at((0, value))[1] + 4), f"{value:g}", anchor="end")
        self.words((16, (self.top + self.size[1] - self.bottom) / 2), name, anchor="middle", turned=True)

    def text(self) -> str:
        """The whole drawing, a self-contained SVG."""
        return "\n".join(self._lines()) + "\n"

    def _lines(self) -> Iterator[str]:
        width, height = self.size
        yield (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" width="{width:g}" '
            f'height="{height:g}" role="img" font-family="sans-serif">'
        )
        yield f"<title>{escaped(self.title)}</title>"
        yield f"<desc>{escaped(self.description)}</desc>"
        yield (
            '<defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
            '<path d="M 0 0 V 6" stroke="#777" stroke-width="1"/></pattern>'
            '<pattern id="dots" width="6" height="6" patternUnits="userSpaceOnUse">'
            '<circle cx="2" cy="2" r="1" fill="#555"/></pattern>'
            '<pattern id="cross" width="6" height="6" patternUnits="userSpaceOnUse">'
            '<path d="M 0 0 L 6 6 M 6 0 L 0 6" stroke="#777" stroke-width="0.8"/></pattern></defs>'
        )
        yield f'<rect width="{width:g}" height="{height:g}" fill="white"/>'
        yield f'<text x="{self.left:g}" y="22" font-size="15" font-weight="bold">{escaped(self.title)}</text>'
        yield from self.parts
        yield "</svg>"


def _shape(shape: str, x: float, y: float) -> str:
    style = 'fill="white" stroke="black" stroke-width="1.5"'
    outlines = {
        "square": "M -4 -4 H 4 V 4 H -4 Z",
        "triangle": "M 0 -5 L 5 4 H -5 Z",
        "diamond": "M 0 -5 L 5 0 L 0 5 L -5 0 Z",
        "cross": "M -4 -4 L 4 4 M 4 -4 L -4 4",
        "plus": "M -5 0 H 5 M 0 -5 V 5",
    }
    if shape not in outlines:
        return f'<circle cx="{x:.2f}" cy="{y:.2f}" r="4" {style}/>'
    return f'<path transform="translate({x:.2f} {y:.2f})" d="{outlines[shape]}" {style}/>'
