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
from jurystrut.calculations.circuit.spread import Shape, Spread, shape_of, spread

if TYPE_CHECKING:
    from collections.abc import Mapping, Set

    from jurystrut.calculations.circuit.network import Edge, Network
    from jurystrut.calculations.circuit.peeling import Branch

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
    towards: dict[str, Branch]
    meshed: frozenset[int]
    available: dict[str, float]
    """The greatest current that can reach a point of the supply side, in amperes."""
    shapes: tuple[Shape, Shape]
    """How the supply side and the return side hang together."""

    @property
    def core(self) -> list[int]:
        """The edges that lie between sources or in a mesh, in no load's branch."""
        return [index for shape in self.shapes for index in shape.core]

    def with_currents(self, currents: Mapping[str, float]) -> Analysis:
        """The same network with other load currents, in amperes by the sink's id; a sink left out draws nothing."""
        return _analysed(self.network.with_currents(currents), *self.shapes)

    def path(self, point: str, *, to_bus: bool = False) -> list[Edge]:
        """The edges from a point towards the sources as far as the way is single, or to the first bus."""
        found = []
        while point in self.towards and not (to_bus and point in self.network.buses):
            branch = self.towards[point]
            found.append(self.network.edges[branch.edge])
            point = branch.towards
        return found

    def upstream_devices(self, point: str) -> list[Edge]:
        """The protective devices, nearest first, from a point towards the sources as far as the way is single."""
        return [edge for edge in self.path(point) if edge.kind == "protection"]

    def first_device(self, point: str) -> Edge | None:
        """The nearest of them; without following the way again for every point that asks."""
        branch = self.towards.get(point)
        index = self.first_devices.get(branch.edge) if branch else None
        return None if index is None else self.network.edges[index]

    @cached_property
    def first_devices(self) -> dict[int, int]:
        """For each edge of a branch, the nearest protective device towards the sources, itself included; none, no entry."""
        edges, found = self.network.edges, dict[int, int]()
        at: dict[str, int] = {}
        for point, (towards, index) in reversed(self.towards.items()):  # innermost first
            device = index if edges[index].kind == "protection" else at.get(towards)
            if device is not None:
                at[point] = found[index] = device
        return found


def analyse(network: Network) -> Analysis:
    """Analyse a whole network in time proportional to its size, its meshed core apart.

    Currents: in a tree the sum of the loads behind the wire, where sources stand on both sides the larger of what either
    side can ask of the other; in the core no more than all loads, nor than the let-through rating. Both err upwards. A
    return wire's let-through rating is the largest of the loads whose current may return through it.
    """
    starts, roots = {supply.point for supply in network.supplies}, {supply.back for supply in network.supplies}
    supply_points = network.reached(starts)
    return_points = network.reached(roots | {sink.back for sink in network.sinks}) - supply_points
    kept = starts | roots  # both on either side: batteries in a row, or a short, join the two
    return _analysed(network, shape_of(network, supply_points, kept), shape_of(network, return_points, kept))


def _analysed(network: Network, supply_shape: Shape, return_shape: Shape) -> Analysis:
    supply = spread(network, supply_shape, _supplied(network, back=False), _asked(network, back=False))
    back = spread(network, return_shape, _supplied(network, back=True), _asked(network, back=True), backwards=True)
    sources_own = source_returns(network, back, {supply.back for supply in network.supplies})
    back.let_through |= {
        i: a for i, a in let_through_returns(network, back, supply.available).items() if i not in sources_own
    }
    return Analysis(
        network,
        _by_edge(network, supply.let_through | back.let_through),
        _by_edge(network, supply.current | back.current),
        _sides(network, supply, back, sources_own),
        supply_shape.branches | return_shape.branches,
        frozenset(index for core in (*supply.cores, *back.cores) for index in core),
        supply.available,
        (supply_shape, return_shape),
    )


def _supplied(network: Network, *, back: bool) -> dict[str, float]:
    """What sources can deliver, by the point that they are joined to."""
    found: dict[str, float] = {}
    for supply in network.supplies:
        point = supply.back if back else supply.point
        found[point] = found.get(point, 0.0) + supply.capacity
    return found


def _asked(network: Network, *, back: bool) -> dict[str, float]:
    """What loads draw, by the point that they are joined to."""
    found: dict[str, float] = {}
    for sink in network.sinks:
        point = sink.back if back else sink.point
        found[point] = found.get(point, 0.0) + sink.current
    return found


def _by_edge(network: Network, known: Mapping[int, float]) -> list[float]:
    return [known.get(index, 0.0) for index in range(len(network.edges))]


def _sides(network: Network, supply: Spread, back: Spread, sources_own: Set[int]) -> list[Side]:
    found: list[Side] = ["isolated"] * len(network.edges)
    for index in supply.let_through:
        found[index] = "supply"
    for index in back.let_through:
        found[index] = "source-return" if index in sources_own else "return"
    return found
