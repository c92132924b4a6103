"""The weight and balance envelope: a closed polygon of corners, joined straight in weight against arm or against moment.

The two differ where a limit slopes: straight in moment is curved in arm. A point on the border is inside (AC 43.13-1B figure
10-13 accepts a loading exactly at maximum weight), and so is one beyond it by rounding: a billionth of its arm or weight.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.layout import fault_of

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["Envelope", "Limits", "Margin"]

_TOLERANCE = 1e-9

Limits = tuple[float, float]
"""A forward and an aft limit."""


class Margin(NamedTuple):
    """How a weight at an arm stands to an envelope; every distance is positive inside. Weight and arm may fail one alone.

    `to_limit` is the distance in arm to the nearer limit at that weight, and `nearest` says which; both are None where the
    weight is outside, as there is no limit then.
    """

    inside: bool
    to_heaviest: float
    to_lightest: float
    to_limit: float | None
    nearest: Literal["forward", "aft"] | None


@dataclass(frozen=True, slots=True)
class Envelope:
    """Corners (weight, arm) in order around the polygon, and the space in which they are joined; the last joins the first.

    It need not be convex. ValueError for fewer than three corners, two alike in a row, a weight not above zero, and for a
    border that crosses or touches itself or encloses nothing.
    """

    corners: tuple[tuple[float, float], ...]
    joined_in: Literal["arm", "moment"] = "arm"

    def __post_init__(self) -> None:
        if any(weight <= 0 for weight, _ in self.corners):
            raise ValueError("an envelope's corners weigh more than nothing")
        fault = fault_of(self._joined_corners())
        if fault:
            raise ValueError(f"the envelope {fault}")

    @property
    def lightest(self) -> float:
        """The least weight inside."""
        return min(weight for weight, _ in self.corners)

    @property
    def heaviest(self) -> float:
        """The greatest weight inside."""
        return max(weight for weight, _ in self.corners)

    def limits_at(self, weight: float) -> tuple[Limits, ...]:
        """The intervals of arm inside the envelope at a weight, forward to aft; none above or below it."""
        level = min(max(weight, self.lightest), self.heaviest)
        if abs(level - weight) > _slack(weight):
            return ()
        just_above = self._crossings(level, lambda low, high: low <= level < high)
        just_below = self._crossings(level, lambda low, high: low < level <= high)
        return _merged(just_above + just_below)

    def limits_around(self, weight: float, arm: float) -> Limits | None:
        """Forward and aft limit at a weight, of the interval that holds the arm or is nearest to it; None where none is."""
        intervals = self.limits_at(weight)
        return min(intervals, key=lambda limits: max(limits[0] - arm, arm - limits[1], 0.0), default=None)

    def margin(self, weight: float, arm: float) -> Margin:
        """Whether a weight at an arm is inside, by how much, and which limit is the nearest."""
        spare, above_least = self.heaviest - weight, weight - self.lightest
        limits = self.limits_around(weight, arm)
        if limits is None:
            return Margin(inside=False, to_heaviest=spare, to_lightest=above_least, to_limit=None, nearest=None)
        behind_forward, ahead_of_aft = arm - limits[0], limits[1] - arm
        to_limit = min(behind_forward, ahead_of_aft)
        nearest: Literal["forward", "aft"] = "forward" if behind_forward <= ahead_of_aft else "aft"
        return Margin(to_limit >= -_slack(arm), spare, above_least, to_limit, nearest)

    def holds(self, weight: float, arm: float) -> bool:
        """Whether a weight at an arm is inside or on the border."""
        return self.margin(weight, arm).inside

    def _joined_corners(self) -> tuple[tuple[float, float], ...]:
        """The corners in the space in which the border between them is straight."""
        if self.joined_in == "arm":
            return self.corners
        return tuple((weight, weight * arm) for weight, arm in self.corners)

    def _crossings(self, level: float, meets: Callable[[float, float], bool]) -> list[Limits]:
        """The intervals between the sides that meet a weight, on one side of it."""
        corners = self._joined_corners()
        places = []
        for (w1, x1), (w2, x2) in zip(corners, (*corners[1:], corners[0]), strict=True):
            if meets(min(w1, w2), max(w1, w2)):
                places.append(x1 if level == w1 else x2 if level == w2 else x1 + (x2 - x1) * (level - w1) / (w2 - w1))
        arms = sorted(place if self.joined_in == "arm" else place / level for place in places)
        return list(zip(arms[::2], arms[1::2], strict=True))


def _slack(value: float) -> float:
    return _TOLERANCE * max(abs(value), 1.0)


def _merged(intervals: list[Limits]) -> tuple[Limits, ...]:
    """Intervals that meet become one: at a step in the border, what is inside just above or just below is inside."""
    merged: list[Limits] = []
    for forward, aft in sorted(intervals):
        if merged and forward <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], aft))
        else:
            merged.append((forward, aft))
    return tuple(merged)
