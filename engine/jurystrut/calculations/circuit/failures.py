"""Single failures: what stops a load when it opens, is lost, or is shorted to ground."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.circuit.dominators import immediate_dominators
from jurystrut.calculations.circuit.regions import Regions

if TYPE_CHECKING:
    from collections.abc import Iterator, Set

    from jurystrut.calculations.circuit.network import Network, Sink

__all__ = ["Failure", "SingleFailures"]

_ROOT: tuple[str, object] = ("root", "")


class Failure(NamedTuple):
    """One thing that fails: a conductor or device that opens, a bus, ground or source that is lost, or a short to ground.

    A short takes all that is joined to the fault without a protective device between: `name` is a bus or conductor of it.
    """

    kind: Literal["open", "bus", "source", "short"]
    name: str


class SingleFailures:
    """The single failures of a network, each found by what every way of a load's current passes.

    In branches that is the way itself, in the core between the sources it is the dominators of a graph (linear in practice);
    nothing is taken out by trial but devices with several contacts in the core, and what diodes draw into a short.
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        self.branches, self.core = network.branches, network.core
        self._fed, self._returned = network.fed(), network.returned()
        self._chains: dict[tuple[bool, str], tuple[Failure, ...]] = {}

    def stopping(self, sink: Sink) -> list[Failure]:
        """Every single failure that stops a load; none for a load that does not work to begin with."""
        if sink.point not in self._fed or sink.back not in self._returned:
            return []
        found = dict.fromkeys(self._opening(sink.point, back=False))
        found |= dict.fromkeys(self._opening(sink.back, back=True))
        found |= dict.fromkeys(Failure("short", name) for name in self._regions.shorts_of(sink.point, self.branches))
        return list(found)

    def table(self) -> dict[Failure, list[str]]:
        """Every failure that stops a load, with the ids of all loads that it stops, the worst first.

        Opens, losses and shorts alike. A relay whose coil stops is among the loads; what hangs on its contacts is in the
        row of that relay opening, not in this one.
        """
        found: dict[Failure, list[str]] = {}
        for sink in self.network.sinks:
            for failure in self.stopping(sink):
                found.setdefault(failure, []).append(sink.id)
        return dict(sorted(found.items(), key=lambda row: -len(row[1])))

    def _opening(self, point: str, *, back: bool) -> Iterator[Failure]:
        edges, buses = self.network.edges, self.network.buses
        while point in self.branches:
            if point in buses:
                yield Failure("bus", point)
            towards, index = self.branches[point]
            yield Failure("open", edges[index].id)
            point = towards
        yield from self._chain(point, back=back)

    def _chain(self, point: str, *, back: bool) -> tuple[Failure, ...]:
        """What alone cuts a point of the core off."""
        key = back, point
        if key not in self._chains:
            last = self._last[back]
            vertex: tuple[str, object] = ("point", point)
            found: list[Failure] = []
            while vertex in last and vertex != _ROOT:
                found += self._named(vertex)
                vertex = last[vertex]
            found += [Failure("open", id_) for id_, dead in self._several[back].items() if point in dead]
            self._chains[key] = tuple(dict.fromkeys(found))
        return self._chains[key]

    def _named(self, vertex: tuple[str, object]) -> Iterator[Failure]:
        kind, what = vertex
        if kind == "edge":
            yield Failure("open", self.network.edges[what].id if isinstance(what, int) else "")
        elif kind == "source":
            yield Failure("source", str(what))
        elif what in self.network.buses:
            yield Failure("bus", str(what))

    @cached_property
    def _regions(self) -> Regions:
        return Regions(self.network, self.core)

    @cached_property
    def _onwards(self) -> tuple[dict[tuple[str, object], list[tuple[str, object]]], ...]:
        return self._graph(back=False), self._graph(back=True)

    @cached_property
    def _last(self) -> tuple[dict[tuple[str, object], tuple[str, object]], ...]:
        return tuple(immediate_dominators(_ROOT, onwards) for onwards in self._onwards)

    def _graph(self, *, back: bool) -> dict[tuple[str, object], list[tuple[str, object]]]:
        """Root, sources, points and edges of the core as vertices, in the direction of the current from the sources, or to."""
        found: dict[tuple[str, object], list[tuple[str, object]]] = {_ROOT: []}
        for supply in self.network.supplies:
            found[_ROOT].append(("source", supply.id))
            found[("source", supply.id)] = [("point", supply.back if back else supply.point)]
        for index in self.core:
            edge = self.network.edges[index]
            for here, there in ((edge.start, edge.end), (edge.end, edge.start)):
                if edge.passes(here, backwards=back):
                    # One vertex for each direction would let a way pass an edge twice; it never helps a way, so one will do.
                    found.setdefault(("point", here), []).append(("edge", index))
                    found.setdefault(("edge", index), []).append(("point", there))
        return found

    @cached_property
    def _several(self) -> tuple[dict[str, set[str]], dict[str, set[str]]]:
        """For devices with several edges in the core, the points cut off when all of them open at once."""
        edges_of: dict[str, set[int]] = {}
        for index in self.core:
            edges_of.setdefault(self.network.edges[index].id, set()).add(index)
        several = {id_: indices for id_, indices in edges_of.items() if len(indices) > 1}
        return self._cut_off(several, back=False), self._cut_off(several, back=True)

    def _cut_off(self, several: dict[str, set[int]], *, back: bool) -> dict[str, set[str]]:
        whole = self._reached(set(), back=back)
        return {id_: whole - self._reached(indices, back=back) for id_, indices in several.items()}

    def _reached(self, without: Set[int], *, back: bool) -> set[str]:
        onwards, seen, pending = self._onwards[back], set[tuple[str, object]](), [_ROOT]
        while pending:
            vertex = pending.pop()
            if vertex not in seen and not (vertex[0] == "edge" and vertex[1] in without):
                seen.add(vertex)
                pending += onwards.get(vertex, ())
        return {str(what) for kind, what in seen if kind == "point"}
