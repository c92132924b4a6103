"""Regions of a network: what is joined without a protective device between, and so goes to ground together in a short."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.circuit.dominators import immediate_dominators

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence, Set

    from jurystrut.calculations.circuit.network import Edge, Network
    from jurystrut.calculations.circuit.peeling import Branch

__all__ = ["Regions", "parts"]

_SOURCES = -1  # numerics


class Regions:
    """Every point's region, the regions' names, and the shorts that cut each region off from all sources."""

    def __init__(self, network: Network, core: Iterable[int]) -> None:
        self._network = network
        self.of: dict[str, int] = {}
        for count, part in enumerate(parts(network)):
            self.of.update(dict.fromkeys(part, count))
        self._names: dict[int, str] = {}
        for edge in network.edges:
            if _joins(edge):
                self._names.setdefault(self.of[edge.start], edge.id)
        self._names |= {self.of[bus]: bus for bus in network.buses if bus in self.of}
        self._core = [network.edges[index] for index in core if not _joins(network.edges[index])]
        self._onwards = self._graph(self._core)
        self._last = immediate_dominators(_SOURCES, self._onwards)
        self._drawn = self._drawn_in()

    def name(self, region: int, point: str) -> str:
        """A bus of the region, else its first conductor, else the point itself."""
        return self._names.get(region, point)

    def _graph(self, edges: Iterable[Edge]) -> dict[int, list[int]]:
        found: dict[int, list[int]] = {_SOURCES: [self.of[supply.point] for supply in self._network.supplies]}
        for edge in edges:
            found.setdefault(self.of[edge.start], []).append(self.of[edge.end])
            if not edge.one_way:
                found.setdefault(self.of[edge.end], []).append(self.of[edge.start])
        return found

    def _drawn_in(self) -> list[tuple[str, Set[int]]]:
        """Shorts that draw in other regions through diodes: the name, and all regions that are then without a source."""
        behind: dict[int, set[int]] = {}
        at: dict[int, str] = {}
        for edge in self._network.edges:
            if edge.one_way and edge.kind != "protection" and self.of[edge.start] != self.of[edge.end]:
                behind.setdefault(self.of[edge.end], set()).add(self.of[edge.start])
                at[self.of[edge.end]] = edge.end
        whole = self._reached(set())
        found: list[tuple[str, Set[int]]] = []
        for region, point in at.items():
            shorted, pending = set[int](), [region]
            while pending:
                here = pending.pop()
                if here not in shorted:
                    shorted.add(here)
                    pending += behind.get(here, ())
            found.append((self.name(region, point), shorted | (whole - self._reached(shorted))))
        return found

    def _reached(self, shorted: Set[int]) -> set[int]:
        seen, pending = set[int](), [_SOURCES]
        while pending:
            region = pending.pop()
            if region not in seen and region not in shorted:
                seen.add(region)
                pending += self._onwards.get(region, ())
        return seen

    def shorts_of(self, point: str, branches: Mapping[str, Branch]) -> Sequence[str]:
        """The names of the shorts that take a supply point's voltage away."""
        way: dict[int, str] = {self.of[point]: point}
        while point in branches:
            point = branches[point].towards
            way.setdefault(self.of[point], point)
        region = self.of[point]
        while region != _SOURCES:
            way.setdefault(region, point)
            region = self._last.get(region, _SOURCES)
        names = [self.name(region, point) for region, point in way.items()]
        return [*names, *(name for name, dead in self._drawn if not dead.isdisjoint(way) and name not in names)]


def parts(network: Network) -> Iterator[set[str]]:
    """The points of each region, one region after the other."""
    edges = network.edges
    seen: set[str] = set()
    for start in network.places:
        if start in seen:
            continue
        seen.add(start)
        part, pending = {start}, [start]
        while pending:
            for other, index in network.near(pending.pop()):
                if other not in seen and _joins(edges[index]):
                    seen.add(other)
                    part.add(other)
                    pending.append(other)
        yield part


def _joins(edge: Edge) -> bool:
    """Whether a short on one side of the edge is one on the other side too."""
    return edge.kind != "protection" and not edge.one_way
