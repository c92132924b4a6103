"""An electrical system as a network: points, what joins them, where current comes from and where it is used."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Set

__all__ = ["Edge", "Network", "Sink", "Supply"]


@dataclass(frozen=True, slots=True)
class Edge:
    """A conductor or device between two points; `capacity` in amperes is what it lets through for ever.

    Conductors and switches are unlimited, a protective device has its rating. `one_way` lets current pass from `start`
    to `end` only, as a diode does.
    """

    id: str
    start: str
    end: str
    kind: Literal["wire", "protection", "switch", "diode", "link"]
    capacity: float = math.inf
    one_way: bool = False

    def passes(self, leaving: str, *, backwards: bool = False) -> float:
        """The amperes that it lets out of the point `leaving`; `backwards` asks what it lets into that point."""
        blocked = self.one_way and (self.end if backwards else self.start) != leaving
        return 0.0 if blocked else self.capacity


@dataclass(frozen=True, slots=True)
class Supply:
    """A source: where its positive side is joined, where its negative side, and the current it can deliver."""

    id: str
    point: str
    back: str
    capacity: float = math.inf


@dataclass(frozen=True, slots=True)
class Sink:
    """A load: where it takes its current, where that returns, and how much it is, in amperes."""

    id: str
    point: str
    back: str
    current: float


@dataclass(frozen=True)
class Network:
    """The whole system. Points are names; a point that no edge touches may still carry a source or a load.

    `buses` are the points, buses and grounds, at which a way from a load towards the sources may be said to end.
    """

    edges: tuple[Edge, ...]
    supplies: tuple[Supply, ...]
    sinks: tuple[Sink, ...]
    buses: frozenset[str] = field(default=frozenset())

    @cached_property
    def neighbours(self) -> dict[str, list[tuple[str, int]]]:
        """Point -> (other point, index of the edge) for every edge that touches it."""
        found: dict[str, list[tuple[str, int]]] = {}
        for index, edge in enumerate(self.edges):
            found.setdefault(edge.start, []).append((edge.end, index))
            found.setdefault(edge.end, []).append((edge.start, index))
        for point in self._ends():
            found.setdefault(point, [])
        return found

    def _ends(self) -> Iterator[str]:
        for supply in self.supplies:
            yield from (supply.point, supply.back)
        for sink in self.sinks:
            yield from (sink.point, sink.back)

    def with_currents(self, currents: Mapping[str, float]) -> Network:
        """The same network with other load currents, in amperes by the sink's id; a sink left out draws nothing."""
        other = replace(self, sinks=tuple(replace(sink, current=currents.get(sink.id, 0.0)) for sink in self.sinks))
        other.__dict__["neighbours"] = (
            self.neighbours
        )  # the same points are joined; finding them again would take as long
        return other

    def reached(self, starts: Set[str], *, closed: bool = True) -> set[str]:
        """The points that are joined to any of `starts`, diodes taken as joining both ways; without switches if not closed."""
        seen = {start for start in starts if start in self.neighbours}
        pending = list(seen)
        edges, neighbours = self.edges, self.neighbours
        while pending:
            for other, index in neighbours[pending.pop()]:
                if other not in seen and (closed or edges[index].kind != "switch"):
                    seen.add(other)
                    pending.append(other)
        return seen

    def fed(self, *, closed: bool = True) -> set[str]:
        """The points that current from a source can reach, diodes letting it pass forwards only."""
        return self._whole[0] if closed else self._from_sources(closed=False)

    def returned(self, *, closed: bool = True) -> set[str]:
        """The points from which current can go back to a source, diodes letting it pass forwards only."""
        return self._whole[1] if closed else self._to_sources(closed=False)

    @cached_property
    def _whole(self) -> tuple[set[str], set[str]]:
        """What is fed and what returns with every switch closed, asked for by many."""
        return self._from_sources(closed=True), self._to_sources(closed=True)

    def _from_sources(self, *, closed: bool) -> set[str]:
        return self._along({supply.point for supply in self.supplies}, closed=closed, backwards=False)

    def _to_sources(self, *, closed: bool) -> set[str]:
        return self._along({supply.back for supply in self.supplies}, closed=closed, backwards=True)

    def _along(self, starts: set[str], *, closed: bool, backwards: bool) -> set[str]:
        seen = set(starts)
        pending = list(seen)
        edges, neighbours = self.edges, self.neighbours
        while pending:
            here = pending.pop()
            for other, index in neighbours[here]:
                if other in seen:
                    continue
                edge = edges[index]
                if (closed or edge.kind != "switch") and edge.passes(here, backwards=backwards) > 0:
                    seen.add(other)
                    pending.append(other)
        return seen
