"""Weight and balance: weights, signed arms, moments, and what a weighing says. Any one unit of each, used throughout.

Arms are positive aft of the datum. The four formulas for nosewheel and tailwheel aircraft with the datum ahead or aft are all
sum(w x) / sum(w) with signed arms, so only that one is here. An arm of zero is a value like any other.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = [
    "Body",
    "Loadable",
    "Net",
    "Uncertainty",
    "ballast_needed",
    "extreme",
    "level_error",
    "loaded",
    "percent_of_chord",
    "rounded_up",
    "shifted",
    "total",
    "uncertainty",
    "weighed",
    "weighing_parts",
]

_NOTHING = 1e-12
"""Share of all weights taken together below which their sum is rounding, not weight."""


@dataclass(frozen=True, slots=True)
class Body:
    """A weight at an arm; a negative weight is something taken off."""

    weight: float
    arm: float
    name: str = ""

    @property
    def moment(self) -> float:
        """Weight times arm."""
        return self.weight * self.arm

    def __add__(self, other: Body) -> Body:
        """Both together, at their common centre of gravity."""
        return total((self, other))


class Net(NamedTuple):
    """One wheel on its scale: the reading, the tare (chocks, stands), the axle's arm, and what the empty scale showed."""

    reading: float
    tare: float
    arm: float
    zero: float = 0.0
    name: str = ""

    @property
    def body(self) -> Body:
        """The weight that rests on this wheel, at its axle."""
        return Body(self.reading - self.tare - self.zero, self.arm, self.name)


class Loadable(NamedTuple):
    """A seat, tank or baggage space: the least and the most that it holds in flight, and its arm."""

    least: float
    most: float
    arm: float
    name: str = ""


class Uncertainty(NamedTuple):
    """Standard uncertainties of a weighing: of the weight, and of the centre of gravity by what causes it."""

    weight: float
    arm_from_scales: float
    arm_from_measuring: float

    @property
    def arm(self) -> float:
        """Of the centre of gravity, both causes together."""
        return math.hypot(self.arm_from_scales, self.arm_from_measuring)


def total(bodies: Iterable[Body]) -> Body:
    """All together at their centre of gravity: sum(w x) / sum(w), signed arms (AC 43.13-1B figure 10-13).

    Bodies that weigh nothing together have no centre of gravity: ValueError.
    """
    parts = list(bodies)
    weight = math.fsum(part.weight for part in parts)
    if abs(weight) <= _NOTHING * math.fsum(abs(part.weight) for part in parts):
        raise ValueError("what weighs nothing altogether has no centre of gravity")
    return Body(weight, math.fsum(part.moment for part in parts) / weight)


def weighing_parts(wheels: Iterable[Net], aboard: Iterable[Body], missing: Iterable[Body]) -> tuple[Body, ...]:
    """The lines of a weighing sheet, each signed: wheels, then what was aboard and not part (negative), then what was missing."""
    taken_off = (Body(-extra.weight, extra.arm, extra.name) for extra in aboard)
    return (*(wheel.body for wheel in wheels), *taken_off, *missing)


def weighed(wheels: Iterable[Net], aboard: Iterable[Body], missing: Iterable[Body]) -> Body:
    """The aircraft's empty weight and arm: wheels on scales, less what was aboard and not part, plus what was missing.

    AC 43.13-1B paragraphs 10-15 and 10-16. ValueError where the sheet adds up to no weight.
    """
    return total(weighing_parts(wheels, aboard, missing))


def loaded(empty: Body, stations: Iterable[Body], fuel: Iterable[Body]) -> tuple[Body, Body]:
    """The aircraft at take-off, and the same with no fuel left. What cannot be used is part of the empty weight."""
    without_fuel = total([empty, *stations])
    return total([without_fuel, *fuel]), without_fuel


def extreme(fixed: Iterable[Body], loadables: Iterable[Loadable], limit: float, *, aft: bool) -> Body:
    """The loading most likely to pass a limit that is one arm at every weight (AC 43.13-1B figures 10-10 and 10-11).

    What stands beyond the limit holds the most, all else the least: that makes the moment about the limit as large as it can
    get. For the forward limit beyond is ahead of it, with `aft` behind. Gross weight is the caller's to look at.
    """
    beyond = [(place, place.arm > limit if aft else place.arm < limit) for place in loadables]
    return total([*fixed, *(Body(place.most if out else place.least, place.arm, place.name) for place, out in beyond)])


def shifted(whole: Body, weight: float, start: float, end: float) -> Body:
    """The whole after a weight in it moves from one arm to another: dCG = moved (to - from) / W (FAA-H-8083-25)."""
    return Body(whole.weight, whole.arm + weight * (end - start) / whole.weight, whole.name)


def ballast_needed(loaded: Body, limit: float, ballast_arm: float) -> float:
    """The ballast at `ballast_arm` that brings the centre of gravity to a limit: W |limit - cg| / |ballast arm - limit|.

    FAA-H-8083-30, chapter 4; the arm is measured from the limit, not from the present centre of gravity. Exact, so round it
    up. ValueError where the ballast would stand at the limit or on the wrong side of it.
    """
    lever = ballast_arm - limit
    need = limit - loaded.arm
    if lever == 0 or need * lever < 0:
        raise ValueError("ballast there cannot bring the centre of gravity to the limit")
    return loaded.weight * need / lever


def rounded_up(amount: float, step: float) -> float:
    """An amount to add or take off in whole steps, never less than asked for: ballast to carry, fuel to drain.

    A millionth of a step over a whole one is rounding error and starts no new step.
    """
    return math.ceil(amount / step - 1e-6) * step


def percent_of_chord(arm: float, leading_edge: float, chord: float) -> float:
    """Centre of gravity in percent of the mean aerodynamic chord, 0 at its leading edge; ValueError for a chord not above 0."""
    if chord <= 0:
        raise ValueError("a mean aerodynamic chord is longer than nothing")
    return 100 * (arm - leading_edge) / chord


def level_error(height: float, tilt: float) -> float:
    """How far the apparent centre of gravity moves when the aircraft is out of level by `tilt` radians: h tan(tilt).

    `height` is that of the centre of gravity above the axles; it moves towards the low end. Derived, not published.
    """
    return height * math.tan(tilt)


def uncertainty(wheels: Iterable[Body], scale: float, arm: float) -> Uncertainty:
    """Standard uncertainty of a weighing, from that of each scale and of each arm measured.

    dCG/dF = (x - CG) / W and dCG/dx = F / W. Scales err independently. Wheels at one arm share its measurement, and so its
    error: for two wheels on one axle line that is the larger and safer result. Derived, not published.
    """
    parts = list(wheels)
    whole = total(parts)
    at_arm: dict[float, float] = defaultdict(float)
    for part in parts:
        at_arm[part.arm] += part.weight
    return Uncertainty(
        scale * math.sqrt(len(parts)),
        math.hypot(*((part.arm - whole.arm) / whole.weight * scale for part in parts)),
        math.hypot(*(weight / whole.weight * arm for weight in at_arm.values())),
    )
