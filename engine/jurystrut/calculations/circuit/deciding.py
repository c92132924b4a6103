"""Why a wire's let-through rating is what it is: the devices and sources that limit it, as data for an explanation."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit.flow import Way, before_bottleneck, greatest_flow

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.circuit.analysis import Analysis
    from jurystrut.calculations.circuit.network import Network

__all__ = ["Deciding", "Limit", "deciding"]


class Limit(NamedTuple):
    """A protective device or a source, by its id, and the amperes that it passes or delivers."""

    id: str
    amperes: float


class Deciding(NamedTuple):
    """What decides a let-through rating: the point at which the current arrives, and the limits whose amperes add up to it.

    There are no limits where the rating is infinite: nothing opens. `load` is the load whose short sends the current down a
    return wire, None on the supply side.
    """

    amperes: float
    point: str
    limits: tuple[Limit, ...]
    load: str | None = None


def deciding(analysis: Analysis, index: int) -> Deciding:
    """What decides the let-through rating of one edge; computes flows in the whole network, so ask it edge by edge.

    By the theorem of greatest flow and smallest cut (Ford and Fulkerson, 1956) the limits' ratings add up to the flow.
    """
    network, edge = analysis.network, analysis.network.edges[index]
    if analysis.side[index] != "return":
        backwards = analysis.side[index] == "source-return"
        ends = (_at(network, point, index, backwards=backwards) for point in (edge.start, edge.end))
        return max(ends, key=lambda found: found.amperes)
    behind = _behind(analysis, index)
    sinks = [sink for sink in network.sinks if sink.back in behind]
    worst = max(sinks, key=lambda sink: analysis.available(sink.point), default=None)
    return _at(network, worst.point, None)._replace(load=worst.id) if worst else Deciding(0.0, edge.start, ())


def _at(network: Network, point: str, without: int | None, *, backwards: bool = False) -> Deciding:
    """The greatest flow to a point, and the smallest cut that limits it."""
    ways, supplied = list(_ways(network, without, backwards=backwards)), _supplied(network, backwards=backwards)
    flow = greatest_flow(ways, supplied, point)
    if flow == math.inf:
        return Deciding(flow, point, ())
    before = before_bottleneck(ways, supplied, point)
    sources = (Limit(s.id, s.capacity) for s in network.supplies if (s.back if backwards else s.point) not in before)
    devices = (
        Limit(edge.id, edge.capacity)
        for place, edge in enumerate(network.edges)
        for leaving, arriving in ((edge.start, edge.end), (edge.end, edge.start))
        if place != without
        and leaving in before
        and arriving not in before
        and edge.passes(leaving, backwards=backwards)
    )
    return Deciding(flow, point, (*sources, *devices))


def _ways(network: Network, without: int | None, *, backwards: bool) -> Iterator[Way]:
    for place, edge in enumerate(network.edges):
        if place != without:
            yield Way(edge.start, edge.end, edge.passes(edge.start, backwards=backwards))
            yield Way(edge.end, edge.start, edge.passes(edge.end, backwards=backwards))


def _supplied(network: Network, *, backwards: bool) -> dict[str, float]:
    found: dict[str, float] = {}
    for supply in network.supplies:
        point = supply.back if backwards else supply.point
        found[point] = found.get(point, 0.0) + supply.capacity
    return found


def _behind(analysis: Analysis, index: int) -> set[str]:
    """The points whose current may come this way: beyond the edge in a tree, everything joined in a mesh."""
    network, edge = analysis.network, analysis.network.edges[index]
    towards = analysis.towards
    outer = next((p for p in (edge.start, edge.end) if p in towards and towards[p].edge == index), None)
    if outer is None:
        return network.reached({edge.start})
    beyond, pending = {outer}, [outer]
    while pending:
        for other, step in network.near(pending.pop()):
            if step != index and other not in beyond:
                beyond.add(other)
                pending.append(other)
    return beyond
