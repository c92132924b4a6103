"""What each wire must stand: the current it carries, and the current that its protection lets through.

Let-through rating of a wire: the larger of the greatest flows from all sources to either of its ends in the network
without it, a protective device passing its rating, an alternator delivering its rated output, conductors and batteries
unlimited. Most of a light aircraft is a tree, in which the answer is a minimum of ratings upstream and a sum over sources;
only a meshed core needs flows. On the return side, a short inside a load sends what its supply lets through down its return.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from jurystrut.calculations.circuit.flow import greatest_flow
from jurystrut.calculations.circuit.peeling import Branch, peel

if TYPE_CHECKING:
    from jurystrut.calculations.circuit.network import Edge, Network

__all__ = ["Analysis", "Side", "analyse"]

# A core of more edges than any light aircraft has is taken as unprotected rather than computed for minutes.
_LARGEST_CORE = 300

Side = Literal["supply", "return", "source-return", "isolated"]


@dataclass(frozen=True)
class Analysis:
    """By the edge's place in the network: `let_through` and `current` in amperes, the `side` it is on.

    `towards` leads from every point of a load's branch, supply or return, one step nearer the sources; `meshed` are the
    edges whose current is a bound, not a sum.
    """

    network: Network
    let_through: list[float]
    current: list[float]
    side: list[Side]
    towards: dict[str, Branch]
    meshed: frozenset[int]
    available: dict[str, float]
    """The greatest current that can reach a point of the supply side, in amperes."""

    def path(self, point: str, *, to_bus: bool = False) -> list[Edge]:
        """The edges from a point towards the sources as far as the way is single, or to the first bus."""
        found = []
        while point in self.towards and not (to_bus and point in self.network.buses):
            branch = self.towards[point]
            found.append(self.network.edges[branch.edge])
            point = branch.towards
        return found


def analyse(network: Network) -> Analysis:
    """Analyse a whole network in time proportional to its size, its meshed core apart.

    Currents: in a tree the sum of the loads behind the wire, where sources stand on both sides the larger of what either
    side can ask of the other; in the core no more than all loads, nor than the let-through rating. Both err upwards.
    """
    return _Work(network).result()


class _Work:
    """The tables that one analysis fills."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self.edges = network.edges
        count = len(network.edges)
        self.let_through = [0.0] * count
        self.current = [0.0] * count
        self.side: list[Side] = ["isolated"] * count
        self.meshed: set[int] = set()
        self.towards: dict[str, Branch] = {}
        self.available: dict[str, float] = {}

    def result(self) -> Analysis:
        network = self.network
        supply_points = network.reached({supply.point for supply in network.supplies})
        self._supply(supply_points)
        roots = {supply.back for supply in network.supplies}
        return_points = network.reached(roots | {sink.back for sink in network.sinks}) - supply_points
        self._return(return_points, frozenset(roots))
        return Analysis(
            network, self.let_through, self.current, self.side, self.towards, frozenset(self.meshed), self.available
        )

    # -- supply side -----------------------------------------------------------------------------------------------

    def _supply(self, points: set[str]) -> None:
        sources: dict[str, list[float]] = {}
        for supply in self.network.supplies:
            sources.setdefault(supply.point, []).append(supply.capacity)
        loads = dict.fromkeys(points, 0.0)
        for sink in self.network.sinks:
            if sink.point in points:
                loads[sink.point] += sink.current
        branches = peel(self.network, points, frozenset(sources), {})
        between = peel(self.network, points, frozenset(), branches)
        for point in points:
            for _, index in self.network.neighbours[point]:
                self.side[index] = "supply"
        for point, branch in branches.items():  # outermost first
            loads[branch.towards] += loads[point]
            self.current[branch.edge] = loads[point]
        for part in self._parts(points - branches.keys()):
            joining = {point: branch for point, branch in between.items() if point in part}
            self.available |= self._sources_and_core(part, joining, sources, loads)
        for point, branch in reversed(branches.items()):  # innermost first
            reaching = self.available[branch.towards]
            self.let_through[branch.edge] = reaching
            self.available[point] = min(reaching, self._capacity(branch.edge, branch.towards))
        self.towards |= branches

    def _sources_and_core(
        self, points: set[str], between: dict[str, Branch], sources: dict[str, list[float]], loads: dict[str, float]
    ) -> dict[str, float]:
        """The part in which current can come from both sides: the tree that joins the sources, and the core.

        Gives the greatest current that can reach each of its points.
        """
        inflows: dict[str, dict[int, float]] = {point: {} for point in points}
        own = {point: math.fsum(sources.get(point, ())) for point in points}
        behind = {point: loads[point] for point in points}
        for point, branch in between.items():  # outermost first
            arriving = own[point] + sum(inflows[point].values())
            inflows[branch.towards][branch.edge] = min(arriving, self._capacity(branch.edge, point))
            behind[branch.towards] += behind[point]
        core = points - between.keys()
        all_loads = sum(behind[point] for point in core)
        self._core(core, {point: own[point] + sum(inflows[point].values()) for point in core}, inflows, all_loads)
        for point, branch in reversed(between.items()):  # innermost first
            there, edge = branch.towards, branch.edge
            from_there = own[there] + sum(flow for i, flow in inflows[there].items() if i != edge)
            from_here = own[point] + sum(inflows[point].values())
            self.let_through[edge] = max(from_there, from_here)
            self.current[edge] = max(min(behind[point], from_there), min(all_loads - behind[point], from_here))
            inflows[point][edge] = min(from_there, self._capacity(edge, there))
        return {point: own[point] + sum(inflows[point].values()) for point in points}

    def _core(
        self, core: set[str], supplied: dict[str, float], inflows: dict[str, dict[int, float]], all_loads: float
    ) -> None:
        """Flows in the meshed core: into each of its points from the others, and to both ends of each edge without it."""
        indexes = sorted({i for point in core for other, i in self.network.neighbours[point] if other in core})
        self.meshed.update(indexes)
        present = {point: amount for point, amount in supplied.items() if amount}
        too_large = len(indexes) > _LARGEST_CORE
        for index in indexes:
            edge = self.edges[index]
            others = [self.edges[i] for i in indexes if i != index]
            flows = [math.inf] if too_large else [greatest_flow(others, present, end) for end in (edge.start, edge.end)]
            self.let_through[index] = max(flows)
            self.current[index] = min(all_loads, self.let_through[index])
        edges = [self.edges[index] for index in indexes]
        for point in core if edges else ():
            others_supply = {p: amount for p, amount in present.items() if p != point}
            inflows[point][-1] = math.inf if too_large else greatest_flow(edges, others_supply, point)

    def _parts(self, points: set[str]) -> list[set[str]]:
        """The points sorted into those that are joined among themselves."""
        left = set(points)
        parts = []
        while left:
            part = {left.pop()}
            pending = list(part)
            while pending:
                for other, _ in self.network.neighbours[pending.pop()]:
                    if other in left:
                        left.discard(other)
                        part.add(other)
                        pending.append(other)
            parts.append(part)
        return parts

    def _capacity(self, index: int, leaving: str) -> float:
        edge = self.edges[index]
        return 0.0 if edge.one_way and edge.start != leaving else edge.capacity

    # -- return side -----------------------------------------------------------------------------------------------

    def _return(self, points: set[str], roots: frozenset[str]) -> None:
        carried = dict.fromkeys(points, 0.0)
        shorted = dict.fromkeys(points, 0.0)
        for sink in self.network.sinks:
            if sink.back in points:
                carried[sink.back] += sink.current
                shorted[sink.back] = max(shorted[sink.back], self.available.get(sink.point, 0.0))
        branches = peel(self.network, points, roots, {})
        for point, branch in branches.items():  # outermost first
            self.side[branch.edge] = "return"
            self.current[branch.edge] = carried[point]
            self.let_through[branch.edge] = shorted[point]
            carried[branch.towards] += carried[point]
            shorted[branch.towards] = max(shorted[branch.towards], shorted[point])
        self.towards |= branches
        between = peel(self.network, points, frozenset(), branches)
        delivered: dict[str, list[float]] = {}
        for supply in self.network.supplies:
            delivered.setdefault(supply.back, []).append(supply.capacity)
        for part in self._parts(points - branches.keys()):
            worst = max(shorted[point] for point in part)
            joining = {point: branch for point, branch in between.items() if point in part}
            self._sources_and_core(part, joining, delivered, carried)
            for index in {i for p in part for other, i in self.network.neighbours[p] if other in part}:
                self.side[index] = "source-return"
                self.let_through[index] = worst
