"""The steady state between sources: which of them deliver, which diodes pass, and the voltages that follow."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit.elimination import solve
from jurystrut.calculations.circuit.rigid import Rigid

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence, Set

    from jurystrut.calculations.circuit.network import Network

__all__ = ["Core", "CoreState", "NoSteadyState", "Source", "core_state"]


class NoSteadyState(ValueError):
    """There is no steady state: the loads ask for more than the sources can give."""


@dataclass(frozen=True, slots=True)
class Source:
    """A source that holds `volts` behind `ohms`, delivers no more than `most` amperes, and takes none back."""

    id: str
    point: str
    back: str
    volts: float
    ohms: float = 0.0
    most: float = math.inf


class Core(NamedTuple):
    """The part of a network to be solved: some of its edges, and their resistance and forward voltage by index."""

    network: Network
    edges: Set[int]
    ohms: Mapping[int, float]
    drops: Mapping[int, float]


class CoreState(NamedTuple):
    """Volts by point, amperes by edge from start to end, and amperes delivered by source."""

    volts: dict[str, float]
    amperes: dict[int, float]
    delivered: dict[str, float]


class _Choice(NamedTuple):
    """Which sources hold their voltage, which deliver their most, and which diodes block."""

    holding: frozenset[int]
    limited: frozenset[int]
    blocking: frozenset[int]


def core_state(core: Core, sources: Sequence[Source], arriving: Mapping[str, float]) -> CoreState:
    """Solve for the one choice of sources and diodes that contradicts nothing, changing one thing at a time.

    A source that would take current holds nothing, one that would deliver more than its most delivers that, a diode blocks
    what would flow backwards. Raises NoSteadyState where no choice holds.
    """
    best = max(range(len(sources)), key=lambda place: sources[place].volts, default=0)
    choice = _Choice(frozenset({best} if sources else ()), frozenset(), _idle_diodes(core, sources))
    tried = set()
    while choice not in tried:
        tried.add(choice)
        state = _Linear(core, sources, arriving, choice).state()
        better = next(_complaints(core, sources, choice, state), None)
        if better is None:
            return state
        choice = better
    raise NoSteadyState("the loads ask for more than the sources can give")


def _idle_diodes(core: Core, sources: Sequence[Source]) -> frozenset[int]:
    """Diodes on the supply side that no source in use reaches from behind: they would only lend their far side a voltage."""
    edges = core.network.edges
    diodes = {index for index in core.edges if edges[index].one_way}
    if not diodes:
        return frozenset()
    onwards: dict[str, list[str]] = {}
    for index in core.edges:
        edge = edges[index]
        onwards.setdefault(edge.start, []).append(edge.end)
        if not edge.one_way:
            onwards.setdefault(edge.end, []).append(edge.start)
    reached = _reached({source.point for source in sources}, onwards)
    ever = _reached({supply.point for supply in core.network.supplies}, onwards)
    return frozenset(index for index in diodes if edges[index].start in ever - reached)


def _reached(starts: Set[str], onwards: Mapping[str, list[str]]) -> set[str]:
    found: set[str] = set()
    pending = list(starts)
    while pending:
        point = pending.pop()
        if point not in found:
            found.add(point)
            pending += onwards.get(point, ())
    return found


def _complaints(core: Core, sources: Sequence[Source], choice: _Choice, state: CoreState) -> Iterator[_Choice]:
    """The choices that mend what contradicts itself in a state, the most pressing first."""
    for index in core.edges - choice.blocking:
        if core.network.edges[index].one_way and state.amperes.get(index, 0.0) < -_NOTHING:
            yield choice._replace(blocking=choice.blocking | {index})
    for place in choice.holding:
        source, without = sources[place], choice.holding - {place}
        if state.delivered[source.id] > source.most * (1 + _NOTHING):
            yield choice._replace(holding=without, limited=choice.limited | {place})
        elif state.delivered[source.id] < -_NOTHING:
            yield choice._replace(holding=without)
    yield from _resumptions(core, sources, choice, state.volts)


def _resumptions(
    core: Core, sources: Sequence[Source], choice: _Choice, volts: Mapping[str, float]
) -> Iterator[_Choice]:
    """Sources that hold their voltage again, and diodes that pass again."""
    for place, source in enumerate(sources):
        alive = source.point in volts and source.back in volts
        across = volts[source.point] - volts[source.back] if alive else -math.inf
        if place in choice.limited and across > source.volts + _NOTHING:
            yield choice._replace(holding=choice.holding | {place}, limited=choice.limited - {place})
        elif place not in choice.holding | choice.limited and across < source.volts - _NOTHING:
            yield choice._replace(holding=choice.holding | {place})
    for index in choice.blocking:
        edge = core.network.edges[index]
        ahead = volts.get(edge.start, 0.0) - volts.get(edge.end, 0.0)
        if ahead > core.drops.get(index, 0.0) + _NOTHING:
            yield choice._replace(blocking=choice.blocking - {index})


_NOTHING = 1e-9


class _Linear:
    """One choice made: the rest is linear."""

    def __init__(self, core: Core, sources: Sequence[Source], arriving: Mapping[str, float], choice: _Choice) -> None:
        self.core, self.sources, self.choice = core, sources, choice
        self.arriving = dict(arriving)
        for place in choice.limited:
            self._deliver(sources[place], sources[place].most)
        self.rigid = Rigid()
        self.resistive = [i for i in core.edges if core.ohms.get(i) and i not in choice.blocking]
        self.yielding = [place for place in choice.holding if sources[place].ohms]
        self._join()

    def _deliver(self, source: Source, amperes: float) -> None:
        self.arriving[source.point] = self.arriving.get(source.point, 0.0) + amperes
        self.arriving[source.back] = self.arriving.get(source.back, 0.0) - amperes

    def _join(self) -> None:
        """Plain conductors first, then sources from the highest voltage down, then diodes: who contradicts, gives way."""
        edges, drops = self.core.network.edges, self.core.drops
        joints = [i for i in self.core.edges if not self.core.ohms.get(i) and i not in self.choice.blocking]
        for index in joints:
            if not edges[index].one_way:
                self.rigid.join(edges[index].start, edges[index].end, 0.0, ("edge", index))
        stiff = [place for place in self.choice.holding if not self.sources[place].ohms]
        for place in sorted(stiff, key=lambda place: -self.sources[place].volts):
            source = self.sources[place]
            self.rigid.join(source.back, source.point, source.volts, ("source", place))
        for index in joints:
            if edges[index].one_way:
                self.rigid.join(edges[index].start, edges[index].end, -drops.get(index, 0.0), ("edge", index))

    def state(self) -> CoreState:
        """Solve it."""
        branches = list(self._branches())
        links = [(self.rigid.root(one), self.rigid.root(other), g) for one, other, g, _ in branches]
        reference = self._references(links)
        injected: dict[str, float] = {}
        for point, amperes in (*self.arriving.items(), *self._emfs(branches)):
            root = self.rigid.root(point)
            injected[root] = injected.get(root, 0.0) + amperes
        held = [(a, b, g) for a, b, g in links if a in reference and a != b]
        roots = solve(held, injected, set(reference.values()))
        for root, ground in reference.items():
            if root == ground:
                roots.setdefault(root, 0.0)
        return self._told(branches, self._volts(roots, reference))

    def _branches(self) -> Iterator[tuple[str, str, float, float]]:
        """All that has resistance: from, to, siemens, and the volts that it adds on the way."""
        edges, ohms, drops = self.core.network.edges, self.core.ohms, self.core.drops
        for index in self.resistive:
            yield edges[index].start, edges[index].end, 1 / ohms[index], -drops.get(index, 0.0)
        for place in self.yielding:
            source = self.sources[place]
            yield source.back, source.point, 1 / source.ohms, source.volts

    def _emfs(self, branches: Iterable[tuple[str, str, float, float]]) -> Iterator[tuple[str, float]]:
        """The currents that stand for fixed voltages within resistive branches, and for height within rigid groups."""
        for one, other, siemens, volts in branches:
            current = siemens * (volts + self.rigid.place(one)[1] - self.rigid.place(other)[1])
            yield other, current
            yield one, -current

    def _references(self, links: Iterable[tuple[str, str, float]]) -> dict[str, str]:
        """Every root that is joined to a source that holds its voltage, with the root that its part is measured from."""
        near: dict[str, list[str]] = {}
        for one, other, _ in links:
            near.setdefault(one, []).append(other)
            near.setdefault(other, []).append(one)
        found: dict[str, str] = {}
        for place in sorted(self.choice.holding):
            ground = self.rigid.root(self.sources[place].back)
            pending = [ground]
            while pending:
                root = pending.pop()
                if root not in found:
                    found[root] = ground
                    pending += near.get(root, ())
        return found

    def _volts(self, roots: Mapping[str, float], reference: Mapping[str, str]) -> dict[str, float]:
        """By point; zero is the negative side of the first holding source of the part."""
        edges = self.core.network.edges
        points = {point for index in self.core.edges for point in (edges[index].start, edges[index].end)}
        points.update(point for source in self.sources for point in (source.point, source.back))
        points.update(self.arriving)
        found = {}
        for point in points:
            root, height = self.rigid.place(point)
            if root in reference:
                found[point] = roots[root] + height
        zero = {}
        for place in sorted(self.choice.holding, reverse=True):
            back = self.sources[place].back
            zero[reference[self.rigid.root(back)]] = found[back]
        return {point: volts - zero[reference[self.rigid.root(point)]] for point, volts in found.items()}

    def _told(self, branches: Iterable[tuple[str, str, float, float]], volts: dict[str, float]) -> CoreState:
        arriving = {point: amperes for point, amperes in self.arriving.items() if point in volts}
        flows = []
        for one, other, siemens, added in branches:
            alive = one in volts and other in volts
            flow = siemens * (volts[one] - volts[other] + added) if alive else 0.0
            arriving[other] = arriving.get(other, 0.0) + flow
            arriving[one] = arriving.get(one, 0.0) - flow
            flows.append(flow)
        stiff = self.rigid.currents(arriving)
        amperes = dict(zip(self.resistive, flows, strict=False))
        amperes |= {place: flow for (kind, place), flow in stiff.items() if kind == "edge"}
        delivered = {self.sources[place].id: self.sources[place].most for place in self.choice.limited}
        yielding = zip(self.yielding, flows[len(self.resistive) :], strict=True)
        given = (*yielding, *((place, flow) for (kind, place), flow in stiff.items() if kind == "source"))
        delivered |= {self.sources[place].id: flow for place, flow in given}
        return CoreState(volts, amperes, {source.id: delivered.get(source.id, 0.0) for source in self.sources})
