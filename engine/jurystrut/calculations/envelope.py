"""The weight and balance envelope: a closed polygon of corners, joined straight in weight against arm or against moment.

The two differ where a limit slopes: straight in arm is a parabola in moment. A point on the boundary is inside
(AC 43.13-1B figure 10-13 accepts a loading exactly at maximum weight).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Envelope"]

_TOLERANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Envelope:
    """Corners (weight, arm) in order around the polygon, and the space in which they are joined.

    ValueError for fewer than three corners, a polygon that crosses itself or encloses nothing.
    """

    corners: tuple[tuple[float, float], ...]
    joined_in: Literal["arm", "moment"] = "arm"

    def __post_init__(self) -> None:
        if len(self.corners) < 3:
            raise ValueError("an envelope needs at least three corners")
        if _crosses_itself(self.corners):
            raise ValueError("the envelope's border crosses itself; give the corners in order around it")
        if max(w for w, _ in self.corners) == min(w for w, _ in self.corners) or abs(_area(self.corners)) == 0:
            raise ValueError("the envelope encloses nothing")

    @property
    def lightest(self) -> float:
        """The least weight inside."""
        return min(weight for weight, _ in self.corners)

    @property
    def heaviest(self) -> float:
        """The greatest weight inside."""
        return max(weight for weight, _ in self.corners)

    def limits_at(self, weight: float) -> tuple[tuple[float, float], ...]:
        """The intervals of arm inside the envelope at a weight, forward to aft; none above or below it."""
        level = min(max(weight, self.lightest), self.heaviest)
        if abs(level - weight) > _TOLERANCE * max(abs(weight), 1.0):
            return ()
        arms = self._crossings(level)
        return tuple(zip(arms[::2], arms[1::2], strict=False)) or self._touching(level)

    def _crossings(self, level: float) -> list[float]:
        """Arms at which the border crosses a weight; at a corner the border is followed from just inside."""
        nudge = 1e-12 * (self.heaviest - self.lightest)
        inside = level - nudge if level >= self.heaviest else level + nudge
        arms = []
        for (w1, a1), (w2, a2) in self._edges():
            if (w1 <= inside) != (w2 <= inside):
                arms.append(self._between(w1, a1, w2, a2, level if min(w1, w2) <= level <= max(w1, w2) else inside))
        return sorted(arms)

    def _touching(self, level: float) -> tuple[tuple[float, float], ...]:
        arms = [arm for weight, arm in self.corners if weight == level]
        return ((min(arms), max(arms)),) if arms else ()

    def _edges(self) -> list[tuple[tuple[float, float], tuple[float, float]]]:
        return list(zip(self.corners, (*self.corners[1:], self.corners[0]), strict=True))

    def _between(self, w1: float, a1: float, w2: float, a2: float, weight: float) -> float:
        share = (weight - w1) / (w2 - w1)
        if self.joined_in == "arm":
            return a1 + (a2 - a1) * share
        return (w1 * a1 + (w2 * a2 - w1 * a1) * share) / weight

    def limits_around(self, weight: float, arm: float) -> tuple[float, float] | None:
        """Forward and aft limit at a weight, of the interval that holds the arm or is nearest to it; None where none is."""
        intervals = self.limits_at(weight)
        return min(intervals, key=lambda limits: max(limits[0] - arm, arm - limits[1], 0.0), default=None)

    def holds(self, weight: float, arm: float) -> bool:
        """Whether a weight at an arm is inside or on the border."""
        limits = self.limits_around(weight, arm)
        if limits is None:
            return False
        slack = _TOLERANCE * max(abs(arm), 1.0)
        return limits[0] - slack <= arm <= limits[1] + slack


def _area(corners: tuple[tuple[float, float], ...]) -> float:
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs) / 2


def _crosses_itself(corners: tuple[tuple[float, float], ...]) -> bool:
    count = len(corners)
    edges = [(corners[i], corners[(i + 1) % count]) for i in range(count)]
    return any(
        _cross(*edges[i], *edges[j]) for i in range(count) for j in range(i + 2, count) if (i, j) != (0, count - 1)
    )


_Point = tuple[float, float]


def _cross(a: _Point, b: _Point, c: _Point, d: _Point) -> bool:
    """Whether two stretches cross, each end strictly on the other side."""
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: _Point, b: _Point, p: _Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
