"""Branches as flat lists, swept from their ends to the core and back: currents add up inwards, voltages are lost outwards."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping, Set

    from jurystrut.calculations.circuit.network import Network
    from jurystrut.calculations.circuit.peeling import Branch

__all__ = ["Sweep"]


class _Step(NamedTuple):
    """From a point of a branch to the next place inwards: the edge, whether it starts at the point, ohms and forward volts."""

    towards: int
    edge: int
    starts: bool
    ohms: float
    volts: float


class Sweep:
    """The places of all points in flat lists: those of the core first, then those of branches, nearest the core first.

    A branch's current is counted inwards, at the place of its outer point.
    """

    def __init__(
        self, network: Network, branches: Mapping[str, Branch], ohms: Mapping[int, float], drops: Mapping[int, float]
    ) -> None:
        core = [point for point in network.neighbours if point not in branches]
        self.core = {point: place for place, point in enumerate(core)}
        self.points = [*core, *reversed(tuple(branches))]
        self.places = {point: place for place, point in enumerate(self.points)}
        self._steps: list[_Step] = []
        for point, (towards, index) in reversed(tuple(branches.items())):
            starts, drop = network.edges[index].start == point, drops.get(index, 0.0)
            step = _Step(self.places[towards], index, starts, ohms.get(index, 0.0), drop if starts else -drop)
            self._steps.append(step)
        self._inwards = [(place, step.towards) for place, step in enumerate(self._steps, len(core))][::-1]

    def inwards(self, arriving: list[float]) -> None:
        """Add what arrives at each place to the next one inwards."""
        for place, towards in self._inwards:
            arriving[towards] += arriving[place]

    def outwards(self, volts: list[float], amperes: list[float], opened: Set[int]) -> None:
        """Add the voltages of the branches' places to those of the core: not a number behind an edge that is open."""
        for step, current in zip(self._opened(opened), amperes[len(self.core) :], strict=True):
            towards, _, _, ohms, forward = step
            volts.append(volts[towards] + current * ohms + (forward if current else 0.0))

    def _opened(self, opened: Set[int]) -> list[_Step]:
        if opened.isdisjoint(step.edge for step in self._steps):
            return self._steps
        return [step._replace(ohms=math.nan) if step.edge in opened else step for step in self._steps]

    def by_edge(self, volts: list[float], amperes: list[float]) -> dict[int, float]:
        """The current of every branch's edge from its start to its end; none where there is no voltage."""
        first = len(self.core)
        return {
            step.edge: current if step.starts else -current
            for step, current, there in zip(self._steps, amperes[first:], volts[first:], strict=True)
            if current and not math.isnan(there)
        }
