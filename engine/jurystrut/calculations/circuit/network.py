"""An electrical system as a network: points, what joins them, where current comes from and where it is used."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

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
    """The whole system. Points are names; a point that no edge touches may still carry a source or a load."""

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
        for point in (p for s in (*self.supplies, *self.sinks) for p in (s.point, s.back)):
            found.setdefault(point, [])
        return found

    def reached(self, starts: set[str], *, closed: bool = True) -> set[str]:
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
        seen = {supply.point for supply in self.supplies}
        pending = list(seen)
        edges, neighbours = self.edges, self.neighbours
        while pending:
            here = pending.pop()
            for other, index in neighbours[here]:
                edge = edges[index]
                blocked = (edge.one_way and edge.start != here) or (not closed and edge.kind == "switch")
                if other not in seen and not blocked:
                    seen.add(other)
                    pending.append(other)
        return seen
