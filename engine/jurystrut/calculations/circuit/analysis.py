"""What each wire must stand: the current it carries, and the current that its protection lets through.

Let-through rating of a wire: the larger of the greatest flows from all sources to either of its ends in the network
without it, a protective device passing its rating, an alternator delivering its rated output, conductors and batteries
unlimited. Most of a light aircraft is a tree, in which the answer is a minimum of ratings upstream and a sum over sources;
only a meshed core needs flows. On the return side, a short inside a load sends what its supply lets through down its return.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from jurystrut.calculations.circuit.returns import let_through_returns, source_returns
from jurystrut.calculations.circuit.spread import Shape, shape_of, spread

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.calculations.circuit.network import Edge, Network
    from jurystrut.calculations.circuit.peeling import Branches

__all__ = ["Analysis", "Side", "analyse"]

Side = Literal["supply", "return", "source-return", "isolated"]


@dataclass(frozen=True)
class Analysis:
    """By the edge's place in the network: `let_through` and `current` in amperes, the `side` it is on.

    `towards` leads from every point of a load's branch, supply or return, one step nearer the sources; `meshed` are the
    edges whose current is a bound, not a sum. A `source-return` is a lead between a source's negative side and the first
    point where returns join, or between two sources; its let-through rating is what the sources themselves can deliver.
    """

    network: Network
    let_through: list[float]
    current: list[float]
    side: list[Side]
    towards: Branches
    meshed: frozenset[int]
    reaching: list[float]
    """The greatest current that can reach a place of the supply side, in amperes; none elsewhere."""
    shapes: tuple[Shape, Shape]
    """How the supply side and the return side hang together."""

    @property
    def core(self) -> list[int]:
        """The edges that lie between sources or in a mesh, in no load's branch."""
        return [index for shape in self.shapes for index in shape.core]

    def available(self, point: str) -> float:
        """The greatest current that can reach a point of the supply side, in amperes; none elsewhere."""
        place = self.network.places.get(point)
        return 0.0 if place is None else self.reaching[place]

    def with_currents(self, currents: Mapping[str, float]) -> Analysis:
        """The same network with other load currents, in amperes by the sink's id; a sink left out draws nothing."""
        return _analysed(self.network.with_currents(currents), self.towards, *self.shapes)

    def path(self, point: str, *, to_bus: bool = False) -> list[Edge]:
        """The edges from a point towards the sources as far as the way is single, or to the first bus."""
        edges, buses, branches = self.network.edges, self.network.buses, self.towards
        found: list[Edge] = []
        place = branches.places.get(point)
        while place is not None and branches.inner[place] >= 0:
            if to_bus and branches.points[place] in buses:
                break
            found.append(edges[branches.edges[place]])
            place = branches.inner[place]
        return found

    def upstream_devices(self, point: str) -> list[Edge]:
        """The protective devices, nearest first, from a point towards the sources as far as the way is single."""
        return [edge for edge in self.path(point) if edge.kind == "protection"]

    def first_device(self, point: str) -> Edge | None:
        """The nearest of them; without following the way again for every point that asks."""
        place = self.network.places.get(point)
        index = -1 if place is None else self._first[place]
        return None if index < 0 else self.network.edges[index]

    @cached_property
    def first_devices(self) -> list[int | None]:
        """For each edge of a branch, the nearest protective device towards the sources, itself included; else None."""
        found: list[int | None] = [None] * len(self.network.edges)
        for place in self.towards.outer:
            if self._first[place] >= 0:
                found[self.towards.edges[place]] = self._first[place]
        return found

    @cached_property
    def devices_beyond(self) -> list[int | None]:
        """The same for the next device towards the sources, an edge itself not included."""
        found: list[int | None] = [None] * len(self.network.edges)
        for place in self.towards.outer:
            device = self._first[self.towards.inner[place]]
            if device >= 0:
                found[self.towards.edges[place]] = device
        return found

    @cached_property
    def _first(self) -> list[int]:
        """By place, the first device towards the sources; -1 for none."""
        edges, network_edges = self.towards.edges, self.network.edges
        found = [-1] * len(self.network.places)
        for place in reversed(self.towards.outer):
            index = edges[place]
            found[place] = index if network_edges[index].kind == "protection" else found[self.towards.inner[place]]
        return found


def analyse(network: Network) -> Analysis:
    """Analyse a whole network in time proportional to its size, its meshed core apart.

    Currents: in a tree the sum of the loads behind the wire, where sources stand on both sides the larger of what either
    side can ask of the other; in the core no more than all loads, nor than the let-through rating. Both err upwards. A
    return wire's let-through rating is the largest of the loads whose current may return through it.
    """
    starts, ends = {supply.point for supply in network.supplies}, {supply.back for supply in network.supplies}
    supply_roots = network.roots_reached(starts)
    return_roots = network.roots_reached(ends | {sink.back for sink in network.sinks}) - supply_roots
    kept = starts | ends  # both on either side: batteries in a row, or a short, join the two
    supply, back = shape_of(network, supply_roots, kept), shape_of(network, return_roots, kept)
    branches = network.branches.only([*supply.outer, *back.outer], supply.late | back.late)
    return _analysed(network, branches, supply, back)


def _analysed(network: Network, branches: Branches, supply_shape: Shape, return_shape: Shape) -> Analysis:
    supply = spread(network, branches, supply_shape, _supplied(network, back=False), _asked(network, back=False))
    back = spread(
        network, branches, return_shape, _supplied(network, back=True), _asked(network, back=True), backwards=True
    )
    sources_own = source_returns(network, back, {supply.back for supply in network.supplies})
    shorted = let_through_returns(network, branches, back, supply.available)
    # The two sides have no edge in common: what the return side says is entered where it speaks.
    let_through, current = supply.let_through, supply.current
    side: list[Side] = ["isolated"] * len(network.edges)
    for index in _edges_of(branches, supply_shape):
        side[index] = "supply"
    for index in _edges_of(branches, return_shape):
        own = index in sources_own
        side[index] = "source-return" if own else "return"
        let_through[index] = back.let_through[index] if own else shorted[index]
        current[index] = back.current[index]
    meshed = frozenset(index for core in (*supply.cores, *back.cores) for index in core)
    return Analysis(
        network, let_through, current, side, branches, meshed, supply.available, (supply_shape, return_shape)
    )


def _edges_of(branches: Branches, shape: Shape) -> Iterator[int]:
    yield from map(branches.edges.__getitem__, shape.outer)
    yield from shape.core


def _supplied(network: Network, *, back: bool) -> dict[str, float]:
    """What sources can deliver, by the point that they are joined to."""
    found: dict[str, float] = {}
    for supply in network.supplies:
        point = supply.back if back else supply.point
        found[point] = found.get(point, 0.0) + supply.capacity
    return found


def _asked(network: Network, *, back: bool) -> Iterator[tuple[int, float]]:
    """What loads draw, and the place that they are joined to."""
    for sink, ends in zip(network.sinks, network.sink_ends, strict=True):
        yield ends[back], sink.current
