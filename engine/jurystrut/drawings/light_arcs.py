"""The lights in plan view, nose up: one ring a function, what is asked of it, what is lit, and what stays dark."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jurystrut.calculations.light_arcs import uncovered, width
from jurystrut.drawings.svg import Svg, drawing, group, line, polygon, sector, text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

__all__ = ["Ring", "light_arcs"]

_WIDTH, _HEIGHT = 700.0, 410.0
_CENTRE = (216.0, 205.0)
_FIRST, _STEP = 78.0, 22.0


@dataclass(frozen=True, slots=True)
class Ring:
    """One function's lights: the sector asked for where there is one, and the sectors lit, in degrees."""

    name: str
    colour: str
    asked: tuple[float, float] | None
    lit: tuple[tuple[float, float], ...]


def light_arcs(name: str, rings: Sequence[Ring]) -> Svg:
    """Thin stroke: asked; broad stroke: lit; broken stroke: asked and dark. Each ring is named at the right."""
    parts = [group(_aircraft()), *(part for i, ring in enumerate(rings) for part in _ring(ring, i)), *_bearings()]
    parts += _key(len(rings))
    return drawing(name, _WIDTH, _HEIGHT, "Lights in plan view", "; ".join(_words(ring) for ring in rings), parts)


def _dark(ring: Ring) -> tuple[tuple[float, float], ...]:
    return uncovered(ring.asked, ring.lit) if ring.asked else ()


def _words(ring: Ring) -> str:
    lit = " and ".join(f"{low:g} to {high:g}" for low, high in ring.lit) or "no sector recorded"
    dark = _dark(ring)
    if ring.asked is None:
        return f"{ring.name}: {lit} deg"
    asked = ring.asked[1] - ring.asked[0]
    return f"{ring.name}: {lit} deg; {asked - width(dark):g} of {asked:g} deg lit"


def _ring(ring: Ring, index: int) -> Iterator[Svg]:
    radius = _FIRST + _STEP * index
    for low, high in ring.lit:
        yield sector(_CENTRE, radius, low, high, f"lit {ring.colour}")
    if ring.asked:
        yield sector(_CENTRE, radius + 6.5, *ring.asked, "asked")
    for low, high in _dark(ring):
        yield sector(_CENTRE, radius, low, high, "dark-gap")
    y = 56 + 46 * index
    yield text((438, y), f"{index + 1}  {ring.name}, {ring.colour or 'colour not recorded'}", look="words strong")
    for row, words in enumerate(_words(ring).partition(": ")[2].split("; ")):
        yield text((454, y + 15 + 13 * row), words)
    x, top = _CENTRE[0], _CENTRE[1]
    start = ring.lit[0] if ring.lit else (ring.asked or (0.0, 0.0))
    yield _tag(x, top, radius, (start[0] + start[1]) / 2, str(index + 1))


def _tag(x: float, y: float, radius: float, bearing: float, words: str) -> Svg:
    import math

    angle = math.radians(bearing)
    return text((x + radius * math.sin(angle), y - radius * math.cos(angle) + 4), words, anchor="middle", look="on-lit")


def _aircraft() -> Iterator[Svg]:
    """An outline that shows where the nose is, and nothing else."""
    x, y = _CENTRE
    yield polygon(
        [(x, y - 46), (x + 6, y - 30), (x + 5, y + 34), (x, y + 44), (x - 5, y + 34), (x - 6, y - 30)], "faint"
    )
    yield polygon([(x - 58, y - 14), (x + 58, y - 14), (x + 58, y), (x - 58, y)], "faint")
    yield polygon([(x - 20, y + 32), (x + 20, y + 32), (x + 20, y + 40), (x - 20, y + 40)], "faint")


def _bearings() -> Iterator[Svg]:
    x, y = _CENTRE
    for bearing, dx, dy, anchor in (
        (0, 0, -182, "middle"),
        (90, 184, 4, "start"),
        (180, 0, 192, "middle"),
        (270, -184, 4, "end"),
    ):
        yield text((x + dx, y + dy), f"{bearing}°", anchor=anchor)


def _key(rows: int) -> list[Svg]:
    y = 56 + 46 * rows + 12
    return [
        line((438, y), (466, y), "asked"),
        text((474, y + 4), "asked"),
        line((530, y), (558, y), "lit"),
        text((566, y + 4), "lit"),
        line((606, y), (634, y), "dark-gap"),
        text((642, y + 4), "dark"),
    ]
