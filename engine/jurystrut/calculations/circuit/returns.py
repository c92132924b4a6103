"""The return side: what a load's short sends down each wire, and which leads are the sources' own."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence, Set

    from jurystrut.calculations.circuit.network import Network
    from jurystrut.calculations.circuit.peeling import Branches
    from jurystrut.calculations.circuit.spread import Spread

__all__ = ["let_through_returns", "source_returns"]


def let_through_returns(
    network: Network, branches: Branches, back: Spread, available: Sequence[float]
) -> Sequence[float]:
    """The let-through rating of each return edge: the largest that any load whose current may come this way can draw.

    `available` is the greatest current at each place of the supply side. In a core, and between sources, it is not known
    which load returns by which way: each edge is given the worst load of the whole part.
    """
    places = network.places
    shorted = [0.0] * len(places)
    for taking, returning in network.sink_ends:
        shorted[returning] = max(shorted[returning], available[taking])
    found = [0.0] * len(network.edges)
    inner, edges = branches.inner, branches.edges
    for place in back.shape.outer:
        found[edges[place]] = through = shorted[place]
        shorted[inner[place]] = max(shorted[inner[place]], through)
    part_of = _parts(back)
    worst = [0.0] * len(back.shape.hubs)
    for point, part in part_of.items():
        worst[part] = max(worst[part], shorted[places[point]])
    for part, core in enumerate(back.cores):
        for index in core:
            found[index] = worst[part]
    for point, branch in back.shape.between.items():
        found[branch.edge] = worst[part_of[point]]
    return found


def source_returns(network: Network, back: Spread, roots: Set[str]) -> set[int]:
    """The edges that are the return of sources themselves: between two sources, and from one to where returns join.

    A core that sources enter at two points or more lies between them as a whole.
    """
    part_of = _parts(back)
    behind = {point: int(point in roots) for point in part_of}
    for point, branch in back.shape.between.items():  # outermost first
        behind[branch.towards] += behind[point]
    total = [sum(behind[point] for point in hub) for hub in back.shape.hubs]
    found = {branch.edge for point, branch in back.shape.between.items() if 0 < behind[point] < total[part_of[point]]}
    for hub, core in zip(back.shape.hubs, back.cores, strict=True):
        if sum(1 for point in hub if behind[point]) > 1:
            found.update(core)
    loaded = {sink.back for sink in network.sinks}
    for root in roots & behind.keys():
        found.update(_lead(network, root, loaded))
    return found


def _parts(back: Spread) -> dict[str, int]:
    """The number of the hub that each point between sources, and each point of a core, belongs to."""
    found = {point: part for part, hub in enumerate(back.shape.hubs) for point in hub}
    for point, branch in reversed(back.shape.between.items()):  # innermost first
        found[point] = found[branch.towards]
    return found


def _lead(network: Network, root: str, loaded: Set[str]) -> list[int]:
    """The edges from a source's negative side to the first ground, load's return or fork.

    Where it meets none on the way to a single load, only the first edge counts as the source's: the rest is the load's.
    """
    found: list[int] = []
    point, last, joined, places = root, -1, network.joined, network.places
    while point not in loaded and joined[places[point]] == (2 if found else 1):
        if found and point in network.buses:
            break
        point, last = next(step for step in network.near(point) if step[1] != last)
        found.append(last)
    is_joined = point in network.buses or joined[places[point]] > 1
    return found if is_joined else found[:1]
