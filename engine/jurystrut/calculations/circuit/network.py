"""An electrical system as a network: points, what joins them, where current comes from and where it is used.

Most of an aircraft's wiring is branches: trees that end at loads. They are taken off once, and what is asked of the whole
network is asked of its small core first, then carried outwards along the branches in one sweep.
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.circuit.peeling import peel

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Set

    from jurystrut.calculations.circuit.peeling import Branch

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
    def branches(self) -> dict[str, Branch]:
        """From every point of a tree one step nearer the sources, outermost points first."""
        kept = {point for supply in self.supplies for point in (supply.point, supply.back)}
        return peel(self.neighbours, kept)

    @cached_property
    def core(self) -> list[int]:
        """The edges that are in no branch: what lies between sources, and every cycle."""
        taken = {branch.edge for branch in self.branches.values()}
        return [index for index in range(len(self.edges)) if index not in taken]

    @cached_property
    def core_neighbours(self) -> dict[str, list[tuple[str, int]]]:
        """Point -> (other point, index of the edge) for every edge of the core that touches it."""
        return self._joined(self.core)

    @cached_property
    def neighbours(self) -> dict[str, list[tuple[str, int]]]:
        """Point -> (other point, index of the edge) for every edge that touches it."""
        found = self._joined(range(len(self.edges)))
        for point in self._ends():
            found.setdefault(point, [])
        return found

    def _joined(self, some: Iterable[int]) -> dict[str, list[tuple[str, int]]]:
        found: defaultdict[str, list[tuple[str, int]]] = defaultdict(list)
        for index in some:
            edge = self.edges[index]
            start, end = edge.start, edge.end
            found[start].append((end, index))
            found[end].append((start, index))
        return dict(found)

    def _ends(self) -> Iterator[str]:
        for supply in self.supplies:
            yield from (supply.point, supply.back)
        for sink in self.sinks:
            yield from (sink.point, sink.back)

    def with_currents(self, currents: Mapping[str, float]) -> Network:
        """The same network with other load currents, in amperes by the sink's id; a sink left out draws nothing."""
        other = replace(self, sinks=tuple(sink._replace(current=currents.get(sink.id, 0.0)) for sink in self.sinks))
        # The same points are joined; finding out again how would take as long.
        other.__dict__.update({name: self.__dict__[name] for name in _HOW_JOINED & self.__dict__.keys()})
        return other

    def reached(self, starts: Iterable[str]) -> set[str]:
        """The points that are joined to any of `starts`, diodes taken as joining both ways."""
        seen = set(starts)
        for point, branch in self.branches.items():
            if point in seen:
                seen.add(branch.towards)
        pending = list(seen)
        while pending:
            for other, _ in self.core_neighbours.get(pending.pop(), ()):
                if other not in seen:
                    seen.add(other)
                    pending.append(other)
        for point, branch in reversed(self.branches.items()):
            if branch.towards in seen:
                seen.add(point)
        return seen

    def fed(self, *, closed: bool = True, by: Set[str] | None = None) -> set[str]:
        """The points that current from a source can reach, diodes letting it pass forwards only; switches open if not closed.

        `by` asks for some of the sources, by id.
        """
        return self._whole[0] if closed and by is None else self._along(closed=closed, backwards=False, by=by)

    def returned(self, *, closed: bool = True, by: Set[str] | None = None) -> set[str]:
        """The points from which current can go back to a source, or to those of `by`, diodes letting it pass forwards only."""
        return self._whole[1] if closed and by is None else self._along(closed=closed, backwards=True, by=by)

    @cached_property
    def _whole(self) -> tuple[set[str], set[str]]:
        """What is fed and what returns with every switch closed, asked for by many."""
        return self._along(closed=True, backwards=False), self._along(closed=True, backwards=True)

    def _along(self, *, closed: bool, backwards: bool, by: Set[str] | None = None) -> set[str]:
        """The points that current can come to from the sources, or go from back to them."""
        chosen = (supply for supply in self.supplies if by is None or supply.id in by)
        seen = {supply.back if backwards else supply.point for supply in chosen}
        pending = list(seen)  # sources stand in the core
        while pending:
            here = pending.pop()
            for other, index in self.core_neighbours.get(here, ()):
                if other not in seen and self._lets_pass(index, here, closed=closed, backwards=backwards):
                    seen.add(other)
                    pending.append(other)
        for point, (towards, index) in reversed(self.branches.items()):
            if towards in seen and self._lets_pass(index, towards, closed=closed, backwards=backwards):
                seen.add(point)
        return seen

    def _lets_pass(self, index: int, leaving: str, *, closed: bool, backwards: bool) -> bool:
        edge = self.edges[index]
        return (closed or edge.kind != "switch") and edge.passes(leaving, backwards=backwards) > 0


_HOW_JOINED = {"branches", "core", "core_neighbours", "neighbours", "_whole"}
