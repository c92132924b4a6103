"""Branches as flat lists, swept from their ends to the core and back: currents add up inwards, voltages are lost outwards."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping, Set

    from jurystrut.calculations.circuit.network import Network
    from jurystrut.calculations.circuit.peeling import Branches

__all__ = ["Sweep"]


class _Step(NamedTuple):
    """From a place in a branch to the next one inwards: the edge, whether it starts here, its ohms and forward volts."""

    place: int
    towards: int
    edge: int
    starts: bool
    ohms: float
    volts: float


class Sweep:
    """The branches of a network as steps between places; a branch's current is counted inwards, at its outer place.

    `core` numbers the points in no branch; `core_places` are the places of these.
    """

    def __init__(
        self, network: Network, branches: Branches, ohms: Mapping[int, float], drops: Mapping[int, float]
    ) -> None:
        self.points, self.places = branches.points, branches.places
        self.core_places = [place for place, towards in enumerate(branches.inner) if towards < 0]
        self.core = {self.points[place]: number for number, place in enumerate(self.core_places)}
        self._outwards: list[_Step] = []
        for place in reversed(branches.outer):
            towards, index = branches.inner[place], branches.edges[place]
            starts, drop = network.ends[index][0] == place, drops.get(index, 0.0)
            step = (place, towards, index, starts, ohms.get(index, 0.0), drop if starts else -drop)
            self._outwards.append(tuple.__new__(_Step, step))
        self._inwards = [(place, branches.inner[place]) for place in branches.outer]

    def inwards(self, arriving: list[float]) -> None:
        """Add what arrives at each place to the next one inwards."""
        for place, towards in self._inwards:
            arriving[towards] += arriving[place]

    def outwards(self, volts: list[float], amperes: list[float], opened: Set[int]) -> None:
        """Fill in the voltages of the branches' places from those of the core: not a number behind an edge that is open."""
        for place, towards, _, _, ohms, forward in self._opened(opened):
            current = amperes[place]
            volts[place] = volts[towards] + current * ohms + (forward if current else 0.0)

    def _opened(self, opened: Set[int]) -> list[_Step]:
        if opened.isdisjoint(step.edge for step in self._outwards):
            return self._outwards
        return [step._replace(ohms=math.nan) if step.edge in opened else step for step in self._outwards]

    def by_edge(self, volts: list[float], amperes: list[float]) -> dict[int, float]:
        """The current of every branch's edge from its start to its end; none where there is no voltage."""
        return {
            step.edge: amperes[step.place] if step.starts else -amperes[step.place]
            for step in self._outwards
            if amperes[step.place] and not math.isnan(volts[step.place])
        }
