"""What is still to be bought: the parts that open joints need, less those at hand."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["Demand", "Purchase", "spare", "to_buy", "waiting"]


@dataclass(frozen=True, slots=True)
class Demand:
    """One open joint and the part numbers that it needs, each as often as it is needed."""

    joint: str
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Purchase:
    """One line of a buying list."""

    part: str
    needed: int
    at_hand: int
    joints: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many to buy."""
        return self.needed - self.at_hand


def to_buy(demands: Iterable[Demand], stock: Mapping[str, int]) -> list[Purchase]:
    """The parts of which fewer are at hand than all open joints need, by part number."""
    needed: Counter[str] = Counter()
    joints: dict[str, list[str]] = {}
    for demand in demands:
        for part, count in Counter(demand.parts).items():
            needed[part] += count
            joints.setdefault(part, []).append(demand.joint)
    short = sorted(part for part, count in needed.items() if count > stock.get(part, 0))
    return [Purchase(part, needed[part], stock.get(part, 0), tuple(joints[part])) for part in short]


def waiting(demands: Iterable[Demand], stock: Mapping[str, int]) -> list[Demand]:
    """The joints that cannot be closed from stock, each with what it lacks; stock is dealt out in the order of the joints."""
    left = Counter(stock)
    found = []
    for demand in demands:
        lacks = tuple((Counter(demand.parts) - left).elements())
        left -= Counter(demand.parts)
        if lacks:
            found.append(Demand(demand.joint, lacks))
    return found


def spare(demands: Iterable[Demand], stock: Mapping[str, int]) -> dict[str, int]:
    """What stays at hand when every open joint has taken its parts, by part number."""
    left = Counter(stock)
    for demand in demands:
        left -= Counter(demand.parts)
    return dict(sorted(left.items()))
