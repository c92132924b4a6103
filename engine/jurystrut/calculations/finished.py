"""What the finished aircraft will weigh: growth and uncertainty by how each weight is known.

A weight known as `basic` with an allowance g is taken as anything from basic to basic (1 + 2g), each as likely: predicted basic
(1 + g), standard uncertainty g basic / sqrt(3), as for any rectangular distribution (JCGM 100:2008, 4.3.7). Independent items
add in quadrature. That is optimistic, as builders leave out paint, sealant and wire all alike: so the bounds where all err
together stand beside it. Any one unit of weight and of arm, used throughout.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Finished", "Item", "chance_above", "finished"]


class Item(NamedTuple):
    """One part: its weight as known now, its arm, and the share by which it is expected to grow.

    `grows` is the weight that the share applies to, where that is not the whole; `spread` and `arm_spread` are standard
    uncertainties of weight and arm that are known otherwise, as those of a weighing.
    """

    basic: float
    arm: float
    share: float = 0.0
    name: str = ""
    grows: float | None = None
    spread: float = 0.0
    arm_spread: float = 0.0

    @property
    def growth(self) -> float:
        """The expected growth."""
        return self.share * (self.basic if self.grows is None else self.grows)

    @property
    def uncertainty(self) -> float:
        """The standard uncertainty of its weight."""
        return math.hypot(self.growth / math.sqrt(3), self.spread)  # jcgm-100


class Finished(NamedTuple):
    """The finished aircraft: weight and arm expected, their standard uncertainties, and the bounds where all err together."""

    basic: float
    predicted: float
    arm: float
    uncertainty: float
    arm_uncertainty: float
    least: float
    most: float
    largest: tuple[tuple[str, float], ...]

    @property
    def band(self) -> tuple[float, float]:
        """Two standard uncertainties to either side, if the items are independent."""
        return self.predicted - 2 * self.uncertainty, self.predicted + 2 * self.uncertainty


def finished(items: Iterable[Item]) -> Finished:
    """Adds the items up; `largest` are the ten that carry most of the variance, with their share of it.

    ValueError where they weigh nothing together.
    """
    parts = list(items)
    weight = math.fsum(part.basic + part.growth for part in parts)
    if weight <= 0:
        raise ValueError("what weighs nothing altogether has no centre of gravity")
    arm = math.fsum((part.basic + part.growth) * part.arm for part in parts) / weight
    basic = math.fsum(part.basic for part in parts)
    variance = math.fsum(part.uncertainty**2 for part in parts)
    shares = sorted(((part.name, part.uncertainty**2 / variance) for part in parts if variance), key=lambda p: -p[1])
    return Finished(
        basic,
        weight,
        arm,
        math.sqrt(variance),
        math.hypot(*(part.uncertainty * (part.arm - arm) for part in parts), *(p.basic * p.arm_spread for p in parts))
        / weight,
        basic - 2 * math.fsum(part.spread for part in parts),
        basic + math.fsum(2 * part.growth + 2 * part.spread for part in parts),
        tuple(share for share in shares[:10] if share[1] > 0),
    )


def chance_above(limit: float, expected: float, uncertainty: float) -> float:
    """The likelihood that a normally distributed weight is above a limit."""
    if uncertainty <= 0:
        return float(expected > limit)
    return 0.5 * math.erfc((limit - expected) / (uncertainty * math.sqrt(2)))  # arithmetic
