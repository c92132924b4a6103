"""How long a battery carries its loads: Peukert's law over a profile of currents. Ampere-hours, hours and amperes."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["endurance", "peukert_hours"]


def peukert_hours(capacity: float, rated_hours: float, exponent: float, amperes: float) -> float:
    """Hours to empty at a constant current: H (C / (I H))^k, with the capacity C stated at the H-hour rate.

    Published restatements of W. Peukert's law of 1897 often leave H out and then feed a 20-hour capacity: that is wrong. A
    current below the rated one is not credited with more than the stated capacity, which errs to the safe side.
    """
    if amperes <= 0:
        return math.inf
    if amperes * rated_hours <= capacity:
        return capacity / amperes
    return float(rated_hours * (capacity / (amperes * rated_hours)) ** exponent)


def endurance(
    capacity: float, rated_hours: float, exponent: float, before: Iterable[tuple[float, float]], amperes: float
) -> float:
    """Hours until empty when `before`, pairs of amperes and hours, is drawn as well as `amperes` for the rest."""
    used, spent = 0.0, 0.0
    for current, hours in before:
        whole = peukert_hours(capacity, rated_hours, exponent, current)
        if used + hours / whole >= 1:
            return spent + (1 - used) * whole
        used += hours / whole
        spent += hours
    return spent + (1 - used) * peukert_hours(capacity, rated_hours, exponent, amperes)
