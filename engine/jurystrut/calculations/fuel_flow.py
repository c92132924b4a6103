"""Fuel that must flow, and fuel that was caught; and what a chart gives between two of its points. SI."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["between_points", "caught_flow", "needed_flow"]


def needed_flow(power: float, specific_consumption: float, density: float) -> float:
    """The volume that an engine takes in m3/s, from its power in W, its consumption in kg/J and the fuel's kg/m3."""
    return power * specific_consumption / density


def caught_flow(volume: float, seconds: float) -> float:
    """The flow in m3/s of a volume caught in a time; ValueError where the time is not above zero."""
    if seconds <= 0:
        raise ValueError("no time was taken")
    return volume / seconds


def between_points(points: Iterable[tuple[float, float]], at: float) -> float:
    """A chart's value at a place, straight between its neighbours; ValueError beyond its first and last point."""
    ordered = sorted(points)
    if ordered and at == ordered[0][0]:
        return ordered[0][1]
    for (x1, y1), (x2, y2) in pairwise(ordered):
        if x1 < at <= x2:
            return y1 + (y2 - y1) * (at - x1) / (x2 - x1)
    raise ValueError("the chart does not reach there")
