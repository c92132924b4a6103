"""Branches as flat lists, swept from their ends to the core and back: currents add up inwards, voltages are lost outwards."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Set

    from jurystrut.calculations.circuit.network import Network
    from jurystrut.calculations.circuit.peeling import Branches

__all__ = ["Sweep"]


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
        inner, edges, ends = branches.inner, branches.edges, network.ends
        self._inwards = [(place, inner[place]) for place in branches.outer]
        self._edges = [(place, edges[place], ends[edges[place]][0] == place) for place in branches.outer]
        self._outwards: list[tuple[int, int, float, float]] = []
        """From the core outwards: the place, the next one inwards, and the ohms and forward volts between them."""
        for place, index, starts in reversed(self._edges):
            drop = drops.get(index, 0.0)
            self._outwards.append((place, inner[place], ohms.get(index, 0.0), drop if starts else -drop))

    def inwards(self, arriving: list[float]) -> None:
        """Add what arrives at each place to the next one inwards."""
        for place, towards in self._inwards:
            arriving[towards] += arriving[place]

    def outwards(self, volts: list[float], amperes: list[float], opened: Set[int]) -> None:
        """Fill in the voltages of the branches' places from those of the core: not a number behind an edge that is open."""
        for place, towards, ohms, forward in self._opened(opened):
            volts[place] = volts[towards] + amperes[place] * ohms
            if forward and amperes[place]:
                volts[place] += forward

    def _opened(self, opened: Set[int]) -> list[tuple[int, int, float, float]]:
        cut = {place for place, index, _ in self._edges if index in opened} if opened else ()
        if not cut:
            return self._outwards
        return [(step[0], step[1], math.nan, step[3]) if step[0] in cut else step for step in self._outwards]

    def by_edge(self, volts: list[float], amperes: list[float]) -> dict[int, float]:
        """The current of every branch's edge from its start to its end; none where there is no voltage."""
        return {
            index: amperes[place] if starts else -amperes[place]
            for place, index, starts in self._edges
            if amperes[place] and not math.isnan(volts[place])
        }
