"""One side of a network, supply or return: how its sources and loads spread over its trees and its meshed core."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import compress
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit.core import core_flows, sums_without_each
from jurystrut.calculations.circuit.peeling import Branch, Branches, parts, peel

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence, Set

    from jurystrut.calculations.circuit.network import Network

__all__ = ["Shape", "Spread", "shape_of", "spread"]


class Shape(NamedTuple):
    """How the points of one side hang together, whatever its loads draw.

    `outer` are the places in branches, which lead from loads; `late` are those branches that the whole network's peeling left,
    because sources of the other side stand there. `between` join sources and cores; all have the outermost first. `hubs` are
    what is left of each part, one point or a meshed core; `core` are the edges in no branch.
    """

    outer: list[int]
    late: dict[str, Branch]
    between: dict[str, Branch]
    hubs: list[set[str]]
    core: list[int]


@dataclass(slots=True)
class Spread:
    """In amperes, by edge what loads ask of it and the greatest flow from the sources to either of its ends without it.

    `available` is the greatest flow to each place; `cores` are the edges of each hub. Zero where another side is.
    """

    shape: Shape
    current: list[float]
    let_through: list[float]
    available: list[float]
    cores: list[list[int]] = field(default_factory=list)


def shape_of(network: Network, roots: Set[int], sources: Set[str]) -> Shape:
    """The shape of a side whose part of the core is `roots`, with sources at some points. Linear."""
    points, places = network.branches.points, network.places
    outer = network.branches.outer
    outer = list(compress(outer, map(roots.__contains__, map(network.roots.__getitem__, outer))))
    joined = [index for index in network.core if network.ends[index][0] in roots]
    late = _dead_ends(network, joined, sources)
    outer += [places[point] for point in late]
    joined = sorted(set(joined) - {branch.edge for branch in late.values()})
    between = _dead_ends(network, joined, frozenset())
    near: dict[str, list[tuple[str, int]]] = {}
    for index in joined:
        edge = network.edges[index]
        near.setdefault(edge.start, []).append((edge.end, index))
        near.setdefault(edge.end, []).append((edge.start, index))
    hubs = parts(near, {points[root] for root in roots} - late.keys() - between.keys())
    return Shape(outer, late, between, hubs, joined)


def _dead_ends(network: Network, joined: Sequence[int], kept: Set[str]) -> dict[str, Branch]:
    """What can be peeled off these edges alone."""
    places: dict[str, int] = {}
    ends = []
    for index in joined:
        edge = network.edges[index]
        ends.append((places.setdefault(edge.start, len(places)), places.setdefault(edge.end, len(places))))
    found = peel(places, ends, [place for point, place in places.items() if point in kept])
    return {point: Branch(towards, joined[edge]) for point, (towards, edge) in found.items()}


def spread(
    network: Network,
    branches: Branches,
    shape: Shape,
    sources: Mapping[str, float],
    loads: Iterable[tuple[int, float]],
    *,
    backwards: bool = False,
) -> Spread:
    """Spread sources, amperes by point, and loads, places with amperes, over a side. Linear but for cores.

    `backwards` turns the diodes round.
    """
    behind = [0.0] * len(network.places)
    for place, amperes in loads:
        behind[place] += amperes
    filling = _Filling(network, branches, shape, sources, behind, backwards=backwards)
    filling.fill()
    return filling.found


class _Filling:
    """Fills a Spread: inwards along the trees, through the cores, outwards again."""

    def __init__(
        self,
        network: Network,
        branches: Branches,
        shape: Shape,
        sources: Mapping[str, float],
        behind: list[float],
        *,
        backwards: bool,
    ) -> None:
        self.network, self.branches, self.shape, self.backwards = network, branches, shape, backwards
        edges, places = len(network.edges), len(behind)
        self.found = Spread(shape, [0.0] * edges, [0.0] * edges, [0.0] * places)
        self.behind, self.places = behind, network.places
        self.own = sources
        inner = [*shape.between, *(point for hub in shape.hubs for point in hub)]
        self.arriving = {point: sources.get(point, 0.0) for point in inner}
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
        self._hand_on()

    def _passes(self, index: int, leaving: str) -> float:
        return self.network.edges[index].passes(leaving, backwards=self.backwards)

    def _gather(self) -> None:
        """Add up the loads behind each point, and what sources send inwards."""
        current, behind = self.found.current, self.behind
        inner, edges = self.branches.inner, self.branches.edges
        for place in self.shape.outer:
            current[edges[place]] = amperes = behind[place]
            behind[inner[place]] += amperes
        for point, (towards, index) in self.shape.between.items():
            flow = min(self.arriving[point], self._passes(index, point))
            self.arriving[towards] += flow
            behind[self.places[towards]] += behind[self.places[point]]
            self.joining.setdefault(towards, []).append((point, index, flow))

    def _through(self, hub: set[str]) -> None:
        """Flows through a meshed core, or the single point in which a tree's sources meet."""
        everything = sum(self.behind[self.places[point]] for point in hub)
        into, let_through = core_flows(self.network, hub, self.arriving, backwards=self.backwards)
        for index, rating in let_through.items():
            self.found.let_through[index] = rating
            self.found.current[index] = min(everything, rating)
        self.found.cores.append(sorted(let_through))
        for point in hub:
            self._settle(point, into[point], everything)

    def _settle(self, point: str, from_inside: float, everything: float) -> None:
        self.from_inside[point] = from_inside
        self.found.available[self.places[point]] = self.arriving[point] + from_inside
        self.altogether[point] = everything

    def _give_out(self, point: str) -> None:
        """What each edge that joins this point from outside can get from here, without what it brings itself."""
        everything = self.altogether[point]
        joining = self.joining.get(point, ())
        base = self.own.get(point, 0.0) + self.from_inside[point]
        for (outer, index, _), others in zip(joining, sums_without_each([flow for _, _, flow in joining]), strict=True):
            from_here, from_outer, behind = base + others, self.arriving[outer], self.behind[self.places[outer]]
            self.found.let_through[index] = max(from_here, from_outer)
            self.found.current[index] = max(min(behind, from_here), min(everything - behind, from_outer))
            self._settle(outer, min(from_here, self._passes(index, point)), everything)

    def _hand_on(self) -> None:
        """What reaches branches, from the core outwards."""
        points, inner, edges = self.branches.points, self.branches.inner, self.branches.edges
        capacities, diodes = self.network.capacities, self.network.diodes
        available, let_through = self.found.available, self.found.let_through
        for place in reversed(self.shape.outer):
            index, towards = edges[place], inner[place]
            let_through[index] = reaching = available[towards]
            most = self._passes(index, points[towards]) if index in diodes else capacities[index]
            available[place] = min(reaching, most)
