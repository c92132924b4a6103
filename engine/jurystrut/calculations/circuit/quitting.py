"""What quits when one thing fails: the loads that lose their supply or return when it opens, and when it is shorted to ground."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit.regions import parts

if TYPE_CHECKING:
    from collections.abc import Iterable, Set

    from jurystrut.calculations.circuit.network import Edge, Network

__all__ = ["Lost", "Quitting", "lost_without", "running"]

_Loads = tuple[str, ...]


class Lost(NamedTuple):
    """The ids of the loads that stop when one thing opens, and when it is shorted to ground; in the network's order."""

    opened: _Loads
    shorted: _Loads


def running(network: Network) -> set[str]:
    """The ids of the loads that a source feeds and that have a return, every switch closed."""
    fed, returned = network.fed(), network.returned()
    return {sink.id for sink in network.sinks if sink.point in fed and sink.back in returned}


def lost_without(
    network: Network, ids: Iterable[str] = (), points: Set[str] = frozenset(), before: Set[str] | None = None
) -> _Loads:
    """The loads that stop without the edges and supplies of these ids, and without what touches these points.

    `before` is what `running` says of the whole network, for a caller that asks about many things.

    A relay or contactor whose coil stops opens too, and what hangs on it stops with it; one that rests closed is taken to
    open all the same, which errs to the side of losing. Takes time proportional to the network for each round of relays:
    meant for one thing at a time, as for a table in a report.
    """
    before = running(network) if before is None else before
    gone = set(ids)
    while True:
        after = running(_without(network, gone, points))
        lost = before - after
        dropped = {edge.id for edge in network.edges if edge.kind == "switch" and edge.id in lost} - gone
        if not dropped:
            return tuple(sink.id for sink in network.sinks if sink.id in lost)
        gone |= dropped


def _without(network: Network, ids: Set[str], points: Set[str]) -> Network:
    edges = tuple(e for e in network.edges if e.id not in ids and e.start not in points and e.end not in points)
    supplies = tuple(s for s in network.supplies if s.id not in ids and s.point not in points)
    return replace(network, edges=edges, supplies=supplies)


class Quitting:
    """Asks one network about many things.

    A short takes all that is joined to it without a protective device between, and what a diode lets flow into it; the
    devices around are taken to open, and no others. A protective device is shorted on the side away from the sources, where
    it does its work; one with sources on both sides on the side that loses more. A short on a return takes nothing.
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        self._before = running(network)
        self._fed = network.fed()
        self._at: dict[str, list[Edge]] = {}
        for edge in network.edges:
            self._at.setdefault(edge.id, []).append(edge)
        self._known: dict[int, _Loads] = {}

    def of(self, id_: str) -> Lost:
        """What the wire, device or source with this id stops."""
        shorts = [self._shorted(point) for point in self._points(id_)]
        opened = lost_without(self.network, {id_}, before=self._before)
        return Lost(opened, max(shorts, key=len, default=()))

    def of_bus(self, point: str) -> Lost:
        """What a bus stops when all comes off it, and when it is shorted."""
        return Lost(lost_without(self.network, (), {point}, self._before), self._shorted(point))

    def _points(self, id_: str) -> set[str]:
        """Where a short at this thing is looked for."""
        edges = self._at.get(id_, [])
        ends = {point for edge in edges for point in (edge.start, edge.end)}
        ends |= {supply.point for supply in self.network.supplies if supply.id == id_}
        if edges and edges[0].kind == "protection":
            behind = ends - _without(self.network, {id_}, frozenset()).fed()
            return behind or ends
        return ends

    def _shorted(self, point: str) -> _Loads:
        if point not in self._fed or point not in self._region:
            return ()
        region = self._region[point]
        if region not in self._known:
            dead = {there for down in self._pulled_down(region) for there in self._parts[down]}
            self._known[region] = lost_without(self.network, (), dead, self._before)
        return self._known[region]

    @cached_property
    def _parts(self) -> list[set[str]]:
        return list(parts(self.network))

    @cached_property
    def _region(self) -> dict[str, int]:
        return {point: number for number, part in enumerate(self._parts) for point in part}

    @cached_property
    def _into(self) -> dict[int, set[int]]:
        """For each region those that a diode lets flow into it."""
        found: dict[int, set[int]] = {}
        for edge in self.network.edges:
            if edge.one_way and edge.kind != "protection":
                found.setdefault(self._region[edge.end], set()).add(self._region[edge.start])
        return found

    def _pulled_down(self, region: int) -> set[int]:
        down, pending = set[int](), [region]
        while pending:
            here = pending.pop()
            if here not in down:
                down.add(here)
                pending += self._into.get(here, ())
        return down
