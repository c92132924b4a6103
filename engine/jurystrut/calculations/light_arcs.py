"""Sectors of light in plan view, in degrees clockwise from the nose: the right wing is at 90, the tail at 180."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Sector", "uncovered", "width"]

Sector = tuple[float, float]
"""From one bearing clockwise to another: (350, 10) and (-10, 10) are the 20 degrees about the nose, (0, 360) is all round."""

_TURN = 360.0  # arithmetic
_SLIVER = 1e-9
"""Degrees; a narrower gap comes from rounding."""


def uncovered(required: Sector, lit: Iterable[Sector], blocked: Iterable[Sector] = ()) -> tuple[Sector, ...]:
    """The parts of a required sector that no lit sector covers, or that a blocked one hides, in order.

    They are counted on from the start of the required sector, so they may end above 360. Parts narrower than a billionth of
    a degree are left out.
    """
    start = required[0]
    end = start + _extent(required)
    dark = _gaps((start, end), _clipped((start, end), lit)) + _clipped((start, end), blocked)
    return tuple((low, high) for low, high in _joined(dark) if high - low > _SLIVER)


def width(sectors: Iterable[Sector]) -> float:
    """How many degrees some separate sectors have together."""
    return sum(_extent(sector) for sector in sectors)


def _extent(sector: Sector) -> float:
    """How many degrees a sector spans: at most a full turn, and past the nose where its end is the smaller number."""
    turned = sector[1] - sector[0]
    if turned < -_SLIVER:
        return turned % _TURN
    return min(max(turned, 0.0), _TURN)  # an empty sector stays empty, though rounding swapped its ends


def _clipped(required: Sector, sectors: Iterable[Sector]) -> list[Sector]:
    """The sectors' parts inside the required one, turned to its own count of degrees."""
    start, end = required
    found = []
    for sector in sectors:
        first = start + (sector[0] - start) % _TURN
        for low in (first - _TURN, first):
            part = max(start, low), min(end, low + _extent(sector))
            if part[0] < part[1]:
                found.append(part)
    return _joined(found)


def _joined(sectors: Iterable[Sector]) -> list[Sector]:
    joined: list[Sector] = []
    for start, end in sorted(sectors):
        if joined and start <= joined[-1][1] + _SLIVER:
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
        here = high
    return [*gaps, (here, end)] if here < end else gaps
