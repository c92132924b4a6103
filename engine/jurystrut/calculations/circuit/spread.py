"""One side of a network, supply or return: how its sources and loads spread over its trees and its meshed core."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit.core import core_flows, sums_without_each
from jurystrut.calculations.circuit.peeling import Branch, parts, peel

if TYPE_CHECKING:
    from collections.abc import Mapping, Set

    from jurystrut.calculations.circuit.network import Network

__all__ = ["Shape", "Spread", "shape_of", "spread"]


class Shape(NamedTuple):
    """How the points of one side hang together, whatever its loads draw.

    `branches` lead from loads, `between` join sources and cores, both outermost first; `hubs` are what is left of each
    part, one point or a meshed core.
    """

    points: Set[str]
    branches: dict[str, Branch]
    between: dict[str, Branch]
    hubs: list[set[str]]
    core: list[int]
    """The edges in no branch."""


@dataclass(slots=True)
class Spread:
    """By point and by edge of one side, in amperes.

    `cores` are the edges of each hub. `current` is what loads ask of an edge, `let_through` the greatest flow from the
    sources to either of its ends without it, `available` the greatest flow to a point.
    """

    shape: Shape
    cores: list[list[int]] = field(default_factory=list)
    current: dict[int, float] = field(default_factory=dict)
    let_through: dict[int, float] = field(default_factory=dict)
    available: dict[str, float] = field(default_factory=dict)


def shape_of(network: Network, points: Set[str], sources: Set[str]) -> Shape:
    """The shape of a side that holds these points, with sources at some of them. Linear."""
    branches = {point: branch for point, branch in network.branches.items() if point in points}
    near = {point: steps for point, steps in network.core_neighbours.items() if point in points}
    branches |= peel(near, sources)  # where only the other side's sources kept the whole network's peeling from it
    near = {point: [s for s in steps if s[0] not in branches] for point, steps in near.items() if point not in branches}
    between = peel(near, frozenset())
    hubs = parts(near, points - branches.keys() - between.keys())
    return Shape(points, branches, between, hubs, sorted({index for steps in near.values() for _, index in steps}))


def spread(
    network: Network,
    shape: Shape,
    sources: Mapping[str, float],
    loads: Mapping[str, float],
    *,
    backwards: bool = False,
) -> Spread:
    """Spread sources and loads, amperes by point, over a side; `backwards` turns the diodes round. Linear but for cores."""
    found = Spread(shape)
    inner = shape.points - shape.branches.keys()
    behind = {
        point: loads.get(point, 0.0) for point in (*shape.branches, *inner)
    }  # in the order in which they are visited
    _Filling(network, found, sources, behind, backwards=backwards).fill()
    return found


class _Filling:
    """Fills a Spread: inwards along the trees, through the cores, outwards again."""

    def __init__(
        self,
        network: Network,
        found: Spread,
        sources: Mapping[str, float],
        behind: dict[str, float],
        *,
        backwards: bool,
    ) -> None:
        self.network, self.found, self.shape, self.backwards = network, found, found.shape, backwards
        self.behind = behind
        self.own = sources
        self.arriving = {point: sources.get(point, 0.0) for point in behind.keys() - found.shape.branches.keys()}
        self.from_inside: dict[str, float] = {}
        self.altogether: dict[str, float] = {}
        self.joining: dict[str, list[tuple[str, int, float]]] = {}

    def fill(self) -> None:
        self._gather()
        for hub in self.shape.hubs:
            self._through(hub)
        inner = [point for hub in self.shape.hubs for point in hub]
        for point in (*inner, *reversed(self.shape.between)):
            self._give_out(point)
        available, let_through = self.found.available, self.found.let_through
        for point, (towards, index) in reversed(self.shape.branches.items()):
            let_through[index] = reaching = available[towards]
            available[point] = min(reaching, self._passes(index, towards))

    def _passes(self, index: int, leaving: str) -> float:
        return self.network.edges[index].passes(leaving, backwards=self.backwards)

    def _gather(self) -> None:
        """Add up the loads behind each point, and what sources send inwards."""
        current, behind = self.found.current, self.behind
        for point, (towards, index) in self.shape.branches.items():
            current[index] = amperes = behind[point]
            behind[towards] += amperes
        for point, (towards, index) in self.shape.between.items():
            flow = min(self.arriving[point], self._passes(index, point))
            self.arriving[towards] += flow
            behind[towards] += behind[point]
            self.joining.setdefault(towards, []).append((point, index, flow))

    def _through(self, hub: set[str]) -> None:
        """Flows through a meshed core, or the single point in which a tree's sources meet."""
        everything = sum(self.behind[point] for point in hub)
        into, let_through = core_flows(self.network, hub, self.arriving, backwards=self.backwards)
        self.found.let_through |= let_through
        self.found.current |= {index: min(everything, rating) for index, rating in let_through.items()}
        self.found.cores.append(sorted(let_through))
        for point in hub:
            self._settle(point, into[point], everything)

    def _settle(self, point: str, from_inside: float, everything: float) -> None:
        self.from_inside[point] = from_inside
        self.found.available[point] = self.arriving[point] + from_inside
        self.altogether[point] = everything

    def _give_out(self, point: str) -> None:
        """What each edge that joins this point from outside can get from here, without what it brings itself."""
        everything = self.altogether[point]
        joining = self.joining.get(point, ())
        base = self.own.get(point, 0.0) + self.from_inside[point]
        for (outer, index, _), others in zip(joining, sums_without_each([flow for _, _, flow in joining]), strict=True):
            from_here, from_outer, behind = base + others, self.arriving[outer], self.behind[outer]
            self.found.let_through[index] = max(from_here, from_outer)
            self.found.current[index] = max(min(behind, from_here), min(everything - behind, from_outer))
            self._settle(outer, min(from_here, self._passes(index, point)), everything)
