"""The steady state between sources: which of them deliver, which diodes pass, and the voltages that follow."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING

from jurystrut.calculations.circuit.linear import Choice, Core, CoreState, Linear, Source

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence, Set

__all__ = ["Choice", "Core", "CoreState", "NoSteadyState", "Source", "Steady"]


class NoSteadyState(ValueError):
    """There is no steady state: the loads ask for more than the sources can give."""


class Steady:
    """A core and its sources, to be solved for as many loads as wanted: what hangs on a choice alone is worked out once."""

    def __init__(self, core: Core, sources: Sequence[Source]) -> None:
        self._core, self._sources = core, sources
        best = max(range(len(sources)), key=lambda place: sources[place].volts, default=0)
        self._first = Choice(frozenset({best} if sources else ()), frozenset(), _idle_diodes(core, sources))
        self._diodes = sorted(index for index in core.edges if core.network.edges[index].one_way)
        self._linear: dict[Choice, Linear] = {}

    def state(self, arriving: Sequence[float], near: Choice | None = None) -> tuple[CoreState, Choice]:
        """Solve for the one choice of sources and diodes that contradicts nothing, changing one thing at a time, and tell it.

        `arriving` are amperes by place; `near` is the choice for much the same amperes, to begin with. A source that would take
        current holds nothing, one that would deliver more than its most delivers that, a diode blocks what would flow
        backwards. Where the changes go round in a circle, all choices are tried. Raises NoSteadyState where none holds.
        """
        choice, tried = near or self._first, set[Choice]()
        while choice not in tried:
            tried.add(choice)
            state = self._with(choice).state(arriving)
            better = next(self._complaints(choice, state), None)
            if better is None:
                return state, choice
            choice = better
        for choice in itertools.islice(self._choices(), _MOST_CHOICES):
            state = self._with(choice).state(arriving)
            if not any(self._complaints(choice, state)) and not any(map(math.isinf, state.volts)):
                return state, choice
        raise NoSteadyState("the loads ask for more than the sources can give")

    def _with(self, choice: Choice) -> Linear:
        if choice not in self._linear:
            self._linear[choice] = Linear(self._core, self._sources, choice)
        return self._linear[choice]

    def _choices(self) -> Iterator[Choice]:
        """Everything that sources and diodes can do together."""
        each = [("idle", "holding", "limited")[: 2 if math.isinf(source.most) else 3] for source in self._sources]
        for blocks in itertools.product((False, True), repeat=len(self._diodes)):
            blocking = frozenset(itertools.compress(self._diodes, blocks))
            for roles in itertools.product(*each):
                holding = frozenset(place for place, role in enumerate(roles) if role == "holding")
                limited = frozenset(place for place, role in enumerate(roles) if role == "limited")
                yield Choice(holding, limited, blocking)

    def _complaints(self, choice: Choice, state: CoreState) -> Iterator[Choice]:
        """The choices that mend what contradicts itself in a state, the most pressing first."""
        for index in self._diodes:
            if index not in choice.blocking and state.amperes.get(("edge", index), 0.0) < -_NOTHING:
                yield choice._replace(blocking=choice.blocking | {index})
        for place in choice.holding:
            delivered, without = state.amperes.get(("source", place), 0.0), choice.holding - {place}
            if delivered > self._sources[place].most * (1 + _NOTHING):
                yield choice._replace(holding=without, limited=choice.limited | {place})
            elif delivered < -_NOTHING:
                yield choice._replace(holding=without)
        yield from self._resumptions(choice, state.volts)

    def _resumptions(self, choice: Choice, volts: Sequence[float]) -> Iterator[Choice]:
        """Sources that hold their voltage again, and diodes that pass again."""
        places = self._core.places
        for place, source in enumerate(self._sources):
            if place in choice.holding:
                continue
            across = volts[places[source.point]] - volts[places[source.back]]
            if place in choice.limited:
                if across > source.volts - source.ohms * source.most + _NOTHING:
                    yield choice._replace(holding=choice.holding | {place}, limited=choice.limited - {place})
            elif math.isnan(across) or across < source.volts - _NOTHING:
                yield choice._replace(holding=choice.holding | {place})
        for index in choice.blocking:
            edge = self._core.network.edges[index]
            ahead = _or_none(volts[places[edge.start]]) - _or_none(volts[places[edge.end]])
            if ahead > self._core.drops.get(index, 0.0) + _NOTHING:
                yield choice._replace(blocking=choice.blocking - {index})


_NOTHING = 1e-9
_MOST_CHOICES = 1000  # numerics: three sources with limits and five diodes have fewer


def _or_none(volts: float) -> float:
    """No voltage where no source reaches."""
    return 0.0 if math.isnan(volts) else volts


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
    ever = core.network.fed()  # with nothing open and every source
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
