"""When a protective device opens: published bands of time by overload, used at their edges and never in between.

Percent of rating; seconds. A row gives the times at one overload: it opens not before `least` and not after `most`.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["OpeningTimes", "TimeRow", "adiabatic_factor"]


class TimeRow(NamedTuple):
    """The band of opening times at one overload; None where the standard gives no time."""

    percent: float
    least: float | None
    most: float | None


class OpeningTimes(NamedTuple):
    """A device's band, rows in rising overload."""

    rows: tuple[TimeRow, ...]

    def earliest(self, percent: float) -> float:
        """The time before which it does not open at an overload: that of the next row above; 0 beyond the last one."""
        return next((row.least for row in self.rows if row.percent >= percent and row.least is not None), 0.0)

    def latest(self, percent: float) -> float:
        """The time by which it has opened at an overload: that of the next row below; for ever below the first one."""
        times = [row.most for row in self.rows if row.percent <= percent and row.most is not None]
        return times[-1] if times else math.inf

    def heat(self, rating: float, longest: float) -> tuple[float, TimeRow]:
        """The most ampere-squared seconds that pass in any row that ends within `longest` seconds, and that row."""
        found = [
            ((rating * row.percent / 100) ** 2 * row.most, row)
            for row in self.rows
            if row.most is not None and row.most <= longest
        ]
        return max(found)

    def opens_before(
        self, rating: float, other: OpeningTimes, others_rating: float
    ) -> Iterator[tuple[float, float, float]]:
        """At each row of this device: the current, when it has opened at the latest, and the other at the earliest."""
        for row in self.rows:
            if row.most is not None and row.most < _SLOW:
                amperes = rating * row.percent / 100
                yield amperes, row.most, other.earliest(100 * amperes / others_rating)


_SLOW = 60.0  # coordination
"""Rows that may take a minute and more are overloads, not faults: which device opens first matters little then."""


def adiabatic_factor(start: float, end: float) -> float:
    """K of a copper conductor heated from `start` to `end`, degC, with no heat lost: I^2 t = k^2 S^2, S in mm^2.

    IEC 60949: k = 226 sqrt(ln((end + 234.5) / (start + 234.5))); good for no more than 5 s.
    """
    return 226.0 * math.sqrt(math.log((end + 234.5) / (start + 234.5)))  # iec-60949
