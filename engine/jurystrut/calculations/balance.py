"""Weight and balance: weights, signed arms, moments, and what a weighing says. Any one unit of each, used throughout."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Body", "Net", "ballast_needed", "level_error", "percent_of_chord", "total", "uncertainty", "weighed"]


@dataclass(frozen=True, slots=True)
class Body:
    """A weight at an arm; a negative weight is something taken off."""

    weight: float
    arm: float

    @property
    def moment(self) -> float:
        """Weight times arm."""
        return self.weight * self.arm

    def __add__(self, other: Body) -> Body:
        """Both together, at their common centre of gravity."""
        return total((self, other))


@dataclass(frozen=True, slots=True)
class Net:
    """One wheel's net reading (scale less tare), and the arm of its axle."""

    reading: float
    tare: float
    arm: float

    @property
    def body(self) -> Body:
        """The weight that rests on this wheel, at its axle."""
        return Body(self.reading - self.tare, self.arm)


def total(bodies: Iterable[Body]) -> Body:
    """All together at their centre of gravity: sum(w x) / sum(w), signed arms (AC 43.13-1B figure 10-13).

    Bodies that weigh nothing together have no centre of gravity: ValueError.
    """
    parts = list(bodies)
    weight = math.fsum(part.weight for part in parts)
    if weight == 0:
        raise ValueError("nothing that weighs nothing has a centre of gravity")
    return Body(weight, math.fsum(part.moment for part in parts) / weight)


def weighed(wheels: Iterable[Net], aboard: Iterable[Body], missing: Iterable[Body]) -> Body:
    """The aircraft's empty weight and arm: wheels on scales, less what was aboard and not part, plus what was missing.

    AC 43.13-1B paragraphs 10-15 and 10-16.
    """
    taken_off = [Body(-extra.weight, extra.arm) for extra in aboard]
    return total([*(wheel.body for wheel in wheels), *taken_off, *missing])


def ballast_needed(loaded: Body, limit: float, ballast_arm: float) -> float:
    """The ballast at `ballast_arm` that brings the centre of gravity to a limit: W |limit - cg| / |ballast arm - limit|.

    FAA-H-8083-30, chapter 4; the arm is measured from the limit, not from the present centre of gravity. ValueError where
    the ballast would stand at the limit or on the wrong side of it.
    """
    lever = ballast_arm - limit
    need = limit - loaded.arm
    if lever == 0 or need * lever < 0:
        raise ValueError("ballast there cannot bring the centre of gravity to the limit")
    return loaded.weight * need / lever


def percent_of_chord(arm: float, leading_edge: float, chord: float) -> float:
    """Centre of gravity in percent of the mean aerodynamic chord."""
    return 100 * (arm - leading_edge) / chord


def level_error(height: float, tilt: float) -> float:
    """How far the apparent centre of gravity moves when the aircraft is out of level by `tilt` radians: h tan(tilt)."""
    return height * math.tan(tilt)


def uncertainty(wheels: Iterable[Body], scale: float, arm: float) -> tuple[float, float]:
    """Standard uncertainty of weight and centre of gravity, from those of each scale and of each arm, all independent.

    dCG/dF = (x - CG) / W and dCG/dx = F / W.
    """
    parts = list(wheels)
    whole = total(parts)
    of_weight = scale * math.sqrt(len(parts))
    terms = [(p.arm - whole.arm) / whole.weight * scale for p in parts] + [p.weight / whole.weight * arm for p in parts]
    return of_weight, math.hypot(*terms)
