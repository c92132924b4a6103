"""How much of the sky around a light stays dark, in steradians."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.light_arcs import Sector, uncovered, width

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["Beam", "Shadow", "dark_solid_angle"]


class Shadow(NamedTuple):
    """What something hides from a light: a sector in plan view, between two elevations; degrees."""

    sector: Sector
    low: float = -90.0  # arithmetic
    high: float = 90.0  # arithmetic


class Beam(NamedTuple):
    """The sectors that a light shines into, at every elevation, and what is hidden of them."""

    lit: tuple[Sector, ...]
    shadows: tuple[Shadow, ...] = ()


def dark_solid_angle(asked: Sector, low: float, high: float, beams: Sequence[Beam]) -> float:
    """The steradians of a sector between two elevations (degrees) that none of the beams reaches.

    Exact: between two elevations at which a shadow begins or ends, the dark sectors are the same at every elevation, and a
    sector of a radians between elevations e and f takes a (sin f - sin e) of the sphere.
    """
    edges = {edge for beam in beams for shadow in beam.shadows for edge in (shadow.low, shadow.high)}
    levels = [low, *sorted(edge for edge in edges if low < edge < high), high]
    return math.fsum(
        math.radians(_dark(asked, (start + end) / 2, beams)) * (_sine(end) - _sine(start))
        for start, end in pairwise(levels)
    )


def _sine(degrees: float) -> float:
    return math.sin(math.radians(degrees))


def _dark(asked: Sector, elevation: float, beams: Sequence[Beam]) -> float:
    """How many degrees of a sector are dark at one elevation."""
    lit: list[Sector] = []
    for beam in beams:
        hidden = [shadow.sector for shadow in beam.shadows if shadow.low < elevation < shadow.high]
        lit += [part for sector in beam.lit for part in uncovered(sector, hidden)] if hidden else beam.lit
    return width(uncovered(asked, lit))
