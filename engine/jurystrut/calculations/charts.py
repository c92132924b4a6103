"""What a chart gives between two of its points. Any units."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["between_points"]


def between_points(points: Iterable[tuple[float, float]], at: float) -> float:
    """A chart's value at a place, straight between its neighbours; ValueError beyond its first and last point."""
    ordered = sorted(points)
    if ordered and at == ordered[0][0]:
        return ordered[0][1]
    for (x1, y1), (x2, y2) in pairwise(ordered):
        if x1 < at <= x2:
            return y1 + (y2 - y1) * (at - x1) / (x2 - x1)
    raise ValueError("the chart does not reach there")
