"""The meshed core: what reaches each of its points, and both ends of each of its edges when that edge is taken out.

Edges in a row, with no source and no fork between them, form a chain. Taking out any edge of a chain leaves two dead ends,
so one pair of flows serves the whole chain, and the graph that flows are computed in has only the forks for points.
"""

from __future__ import annotations

import math
from itertools import accumulate
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit.flow import Way, greatest_flow

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Set

    from jurystrut.calculations.circuit.network import Network

__all__ = ["CoreFlows", "core_flows", "sums_without_each"]

# A light aircraft's core has a handful of chains. Beyond this many an upper bound is given rather than computed for minutes.
_MOST_CHAINS = 100  # numerics


class CoreFlows(NamedTuple):
    """`into` each point: the greatest flow from the other points' supplies; `let_through`: each edge's rating."""

    into: dict[str, float]
    let_through: dict[int, float]


class _Chain(NamedTuple):
    """Edges in a row between two forks: `onwards[k]` gets from the first point to point k, `back[k]` from the last one."""

    points: list[str]
    edges: list[int]
    onwards: list[float]
    back: list[float]

    def ways(self) -> tuple[Way, Way]:
        """What the whole chain passes, either way."""
        first, last = self.points[0], self.points[-1]
        return Way(first, last, self.onwards[-1]), Way(last, first, self.back[0])


def core_flows(network: Network, core: Set[str], supplied: Mapping[str, float], *, backwards: bool) -> CoreFlows:
    """Flows inside a core; `supplied` is what arrives at each point from outside, `backwards` turns the diodes round.

    A core of more than a hundred chains gets upper bounds: no more than all supplies, nor than the ways into a point pass.
    """
    near = network.core_neighbours
    inside = {point: [step for step in near.get(point, ()) if step[0] in core] for point in core}
    found = CoreFlows(dict.fromkeys(core, 0.0), {index: 0.0 for steps in inside.values() for _, index in steps})
    supplies = {point: supplied[point] for point in core if supplied[point]}
    if not supplies or not found.let_through:
        return found
    forks = {point for point, steps in inside.items() if len(steps) > 2 or point in supplies}
    chains = list(_chains(network, inside, forks, backwards=backwards))
    flows = _Flows(chains, supplies)
    for fork in forks:
        found.into[fork] = flows.into(fork)
    for place, chain in enumerate(chains):
        _fill_chain(chain, place, flows, found)
    return found


def _chains(
    network: Network, inside: Mapping[str, list[tuple[str, int]]], forks: Set[str], *, backwards: bool
) -> Iterator[_Chain]:
    used: set[int] = set()
    for fork in forks:
        for step in inside[fork]:
            if step[1] not in used:
                points, edges = _follow(fork, step, inside, forks)
                used.update(edges)
                steps = [(network.edges[index], points[k], points[k + 1]) for k, index in enumerate(edges)]
                onwards = [edge.passes(here, backwards=backwards) for edge, here, _ in steps]
                back = [edge.passes(there, backwards=backwards) for edge, _, there in steps]
                yield _Chain(points, edges, _smallest_so_far(onwards), _smallest_so_far(back[::-1])[::-1])


def _smallest_so_far(capacities: list[float]) -> list[float]:
    return list(accumulate(capacities, min, initial=math.inf))


def _follow(
    fork: str, step: tuple[str, int], inside: Mapping[str, list[tuple[str, int]]], forks: Set[str]
) -> tuple[list[str], list[int]]:
    """The points and edges from a fork to the next one."""
    point, index = step
    points, edges = [fork, point], [index]
    while point not in forks:
        one, other = inside[point]
        point, index = other if one[1] == index else one
        points.append(point)
        edges.append(index)
    return points, edges


def _fill_chain(chain: _Chain, place: int, flows: _Flows, found: CoreFlows) -> None:
    first, last = chain.points[0], chain.points[-1]
    at_first = flows.own(first) + flows.into(first, without=place)
    at_last = flows.own(last) + flows.into(last, without=place)
    for k, index in enumerate(chain.edges):
        found.let_through[index] = max(min(chain.onwards[k], at_first), min(chain.back[k + 1], at_last))
    known: dict[tuple[float, float], float] = {}
    for k, point in enumerate(chain.points[1:-1], 1):
        reach = (chain.onwards[k], chain.back[k])
        if reach not in known:
            halves = (Way(first, point, reach[0]), Way(last, point, reach[1]))
            known[reach] = flows.into(point, without=place, halves=halves)
        found.into[point] = known[reach]


class _Flows:
    """Flows between the forks of one core, chain by chain."""

    def __init__(self, chains: list[_Chain], supplies: Mapping[str, float]) -> None:
        self._ways = [chain.ways() for chain in chains]
        self._supplies = supplies
        self._altogether = sum(supplies.values())
        self._others = dict(zip(supplies, sums_without_each(list(supplies.values())), strict=True))
        self._arriving: dict[str, float] = {}
        for way in (way for pair in self._ways for way in pair):
            self._arriving[way.end] = self._arriving.get(way.end, 0.0) + way.capacity

    def own(self, point: str) -> float:
        """What is supplied at the point itself."""
        return self._supplies.get(point, 0.0)

    def into(self, point: str, *, without: int | None = None, halves: tuple[Way, ...] = ()) -> float:
        """The greatest flow into a point from all other supplies, one chain left out or replaced by its halves."""
        if len(self._ways) > _MOST_CHAINS:
            ways_in = sum(way.capacity for way in halves) if halves else self._arriving.get(point, 0.0)
            return min(ways_in, self._others.get(point, self._altogether))
        others = {other: amount for other, amount in self._supplies.items() if other != point}
        ways = [way for place, pair in enumerate(self._ways) if place != without for way in pair]
        return greatest_flow([*ways, *halves], others, point)


def sums_without_each(values: list[float]) -> list[float]:
    """For each value the sum of all others; by sums from both ends, as infinity cannot be taken off again."""
    before = list(accumulate(values, initial=0.0))
    after = list(accumulate(values[::-1], initial=0.0))[::-1]
    return [before[k] + after[k + 1] for k in range(len(values))]
