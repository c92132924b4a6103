"""An electrical system as a network: points, what joins them, where current comes from and where it is used.

Most of an aircraft's wiring is branches: trees that end at loads. They are taken off once, and what is asked of the whole
network is asked of its small core first, then carried outwards along the branches in one sweep.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import compress
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.circuit.peeling import peel

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Set

    from jurystrut.calculations.circuit.peeling import Branches

__all__ = ["Edge", "Network", "Sink", "Supply"]


class Edge(NamedTuple):
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


class Supply(NamedTuple):
    """A source: where its positive side is joined, where its negative side, and the current it can deliver."""

    id: str
    point: str
    back: str
    capacity: float = math.inf


class Sink(NamedTuple):
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
    def _numbered(self) -> tuple[dict[str, int], list[tuple[int, int]]]:
        """The points by number, and the places that each edge joins."""
        found: dict[str, int] = {}
        number = found.setdefault
        ends = [(number(start, len(found)), number(end, len(found))) for _, start, end, _, _, _ in self.edges]
        for point in self._users():
            number(point, len(found))
        return found, ends

    @property
    def places(self) -> dict[str, int]:
        """A number for every point."""
        return self._numbered[0]

    @property
    def ends(self) -> list[tuple[int, int]]:
        """The places that each edge joins."""
        return self._numbered[1]

    def _users(self) -> Iterator[str]:
        for supply in self.supplies:
            yield from (supply.point, supply.back)
        for sink in self.sinks:
            yield from (sink.point, sink.back)

    @cached_property
    def sink_ends(self) -> list[tuple[int, int]]:
        """The places where each load takes its current and returns it."""
        places = self.places
        return [(places[sink.point], places[sink.back]) for sink in self.sinks]

    @cached_property
    def branches(self) -> Branches:
        """From every point of a tree one step nearer the sources, outermost points first."""
        kept = {self.places[point] for supply in self.supplies for point in (supply.point, supply.back)}
        return peel(self.places, self.ends, kept)

    @cached_property
    def core(self) -> list[int]:
        """The edges that are in no branch: what lies between sources, and every cycle."""
        taken = map(self.branches.edges.__getitem__, self.branches.outer)
        return sorted(set(range(len(self.edges))).difference(taken))

    @cached_property
    def roots(self) -> list[int]:
        """By place, where the branch that it hangs on meets the core; its own place in the core."""
        found = list(range(len(self.places)))
        inner = self.branches.inner
        for place in reversed(self.branches.outer):
            found[place] = found[inner[place]]
        return found

    @cached_property
    def core_neighbours(self) -> dict[str, list[tuple[str, int]]]:
        """Point -> (other point, index of the edge) for every edge of the core that touches it."""
        found: defaultdict[str, list[tuple[str, int]]] = defaultdict(list)
        for index in self.core:
            edge = self.edges[index]
            found[edge.start].append((edge.end, index))
            found[edge.end].append((edge.start, index))
        return dict(found)

    def near(self, point: str) -> Iterator[tuple[str, int]]:
        """The point at the other end, and the index, of every edge that touches a point; nothing of an unknown point."""
        points, ends, (first, onwards) = self.branches.points, self.ends, self._touching
        slot = first[self.places[point]] if point in self.places else -1
        while slot >= 0:
            yield points[ends[slot // 2][1 - slot % 2]], slot // 2
            slot = onwards[slot]

    @cached_property
    def joined(self) -> list[int]:
        """By place, how many ends of edges are joined to it."""
        found = [0] * len(self.places)
        for one, other in self.ends:
            found[one] += 1
            found[other] += 1
        return found

    @cached_property
    def _touching(self) -> tuple[list[int], list[int]]:
        """The edges at each place as a chain: its first slot, and after each slot the next, -1 at the end.

        Slot 2 * index is an edge's start, 2 * index + 1 its end.
        """
        first, onwards = [-1] * len(self.places), [-1] * (2 * len(self.edges))
        slot = len(onwards)
        for one, other in reversed(self.ends):
            slot -= 1
            onwards[slot], first[other] = first[other], slot
            slot -= 1
            onwards[slot], first[one] = first[one], slot
        return first, onwards

    def with_currents(self, currents: Mapping[str, float]) -> Network:
        """The same network with other load currents, in amperes by the sink's id; a sink left out draws nothing."""
        other = replace(self, sinks=tuple(sink._replace(current=currents.get(sink.id, 0.0)) for sink in self.sinks))
        # The same points are joined; finding out again how would take as long.
        other.__dict__.update({name: self.__dict__[name] for name in _HOW_JOINED & self.__dict__.keys()})
        return other

    def roots_reached(self, starts: Iterable[str]) -> set[int]:
        """The places of the core that are joined to any of `starts`, diodes taken as joining both ways."""
        points, places = self.branches.points, self.places
        seen = {self.roots[places[point]] for point in starts}
        pending = list(seen)
        while pending:
            for other, _ in self.core_neighbours.get(points[pending.pop()], ()):
                if places[other] not in seen:
                    seen.add(places[other])
                    pending.append(places[other])
        return seen

    def reached(self, starts: Iterable[str]) -> set[str]:
        """The points that are joined to any of `starts`, diodes taken as joining both ways."""
        cores = self.roots_reached(starts)
        return {point for point, root in zip(self.branches.points, self.roots, strict=True) if root in cores}

    def fed(self, *, closed: bool = True, by: Set[str] | None = None) -> set[str]:
        """The points that current from a source can reach, diodes letting it pass forwards only; switches open if not closed.

        `by` asks for some of the sources, by id.
        """
        return set(compress(self.branches.points, self.live(closed=closed, backwards=False, by=by)))

    def returned(self, *, closed: bool = True, by: Set[str] | None = None) -> set[str]:
        """The points from which current can go back to a source, or to those of `by`, diodes letting it pass forwards only."""
        return set(compress(self.branches.points, self.live(closed=closed, backwards=True, by=by)))

    def live(self, *, closed: bool, backwards: bool, by: Set[str] | None = None) -> list[bool]:
        """By place, whether current can come there from the sources, or `backwards` go from there to them; asked by many."""
        key = (closed, backwards, None if by is None else frozenset(by))
        if key not in self._live:
            self._live[key] = self._along(closed=closed, backwards=backwards, by=by)
        return self._live[key]

    @cached_property
    def _live(self) -> dict[tuple[bool, bool, Set[str] | None], list[bool]]:
        return {}

    def _along(self, *, closed: bool, backwards: bool, by: Set[str] | None) -> list[bool]:
        chosen = (supply for supply in self.supplies if by is None or supply.id in by)
        seen = {supply.back if backwards else supply.point for supply in chosen}
        pending = list(seen)  # sources stand in the core
        while pending:
            here = pending.pop()
            for other, index in self.core_neighbours.get(here, ()):
                if other not in seen and self._lets_pass(index, here, closed=closed, backwards=backwards):
                    seen.add(other)
                    pending.append(other)
        points, inner, edges = self.branches.points, self.branches.inner, self.branches.edges
        hindering = self.diodes if closed else self.diodes | self._switches
        found = [False] * len(points)
        for point in seen:
            found[self.places[point]] = True
        for place in reversed(self.branches.outer):
            towards, index = inner[place], edges[place]
            found[place] = found[towards] and (
                index not in hindering or self._lets_pass(index, points[towards], closed=closed, backwards=backwards)
            )
        return found

    @cached_property
    def diodes(self) -> frozenset[int]:
        """The edges that do not pass current both ways."""
        return frozenset(i for i, edge in enumerate(self.edges) if edge.one_way or edge.capacity <= 0)

    @cached_property
    def capacities(self) -> list[float]:
        """What each edge lets through for ever, in amperes."""
        return [edge.capacity for edge in self.edges]

    @cached_property
    def _switches(self) -> frozenset[int]:
        return frozenset(index for index, edge in enumerate(self.edges) if edge.kind == "switch")

    def _lets_pass(self, index: int, leaving: str, *, closed: bool, backwards: bool) -> bool:
        edge = self.edges[index]
        return (closed or edge.kind != "switch") and edge.passes(leaving, backwards=backwards) > 0


_HOW_JOINED = {
    *("_numbered", "sink_ends", "_touching", "branches", "core", "roots", "core_neighbours", "joined"),
    *("diodes", "capacities", "_switches", "_live"),
}
