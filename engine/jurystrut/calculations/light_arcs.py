"""Sectors of light in plan view, in degrees clockwise from the nose."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Sector", "uncovered", "width"]

Sector = tuple[float, float]
"""From one bearing clockwise to another; 0 <= from < 360, from < to <= from + 360."""


def uncovered(required: Sector, lit: Iterable[Sector], blocked: Iterable[Sector] = ()) -> tuple[Sector, ...]:
    """The parts of a required sector that no lit sector covers, or that a blocked one hides, in order."""
    shining = _clipped(required, lit)
    dark = _gaps(required, shining) + _clipped(required, blocked)
    return tuple(_joined(dark))


def width(sectors: Iterable[Sector]) -> float:
    """How many degrees some separate sectors have together."""
    return sum(end - start for start, end in sectors)


def _clipped(required: Sector, sectors: Iterable[Sector]) -> list[Sector]:
    """The sectors' parts inside the required one, turned to its own count of degrees."""
    start, end = required
    found = []
    for first, last in sectors:
        for turn in (-360.0, 0.0, 360.0):
            low, high = max(start, first + turn), min(end, last + turn)
            if high > low:
                found.append((low, high))
    return _joined(found)


def _joined(sectors: Iterable[Sector]) -> list[Sector]:
    joined: list[Sector] = []
    for start, end in sorted(sectors):
        if joined and start <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return joined


def _gaps(required: Sector, shining: list[Sector]) -> list[Sector]:
    here, end = required
    gaps = []
    for low, high in shining:
        if low > here:
            gaps.append((here, low))
        here = max(here, high)
    return [*gaps, (here, end)] if here < end else gaps
