"""The operating point of a network: the voltage of every point and the current in every edge, by nodal analysis."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.circuit.steady import Core, NoSteadyState, Source, Steady
from jurystrut.calculations.circuit.sweeping import Sweep

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence, Set

    from jurystrut.calculations.circuit.network import Network
    from jurystrut.calculations.circuit.peeling import Branches
    from jurystrut.calculations.circuit.steady import Choice, CoreState

__all__ = ["Demand", "Grid", "NoSteadyState", "OperatingPoint", "Source", "settling_at"]


class Demand(NamedTuple):
    """A load: where it takes current and where that returns; `amount` in amperes, watts or ohms as `kind` says."""

    id: str
    point: str
    back: str
    amount: float
    kind: Literal["current", "power", "resistance"] = "current"

    def amperes(self, volts: float) -> float:
        """What it draws at a voltage."""
        if self.kind == "current":
            return self.amount
        return self.amount / volts if self.kind == "power" else volts / self.amount


class OperatingPoint(NamedTuple):
    """Volts by point, against the first source's negative side; amperes by edge, counted from its start to its end.

    A point that no source reaches has no voltage. The current of an edge without resistance in a loop of such edges is not
    determined: it is not a number. `across` gives each working load's voltage by id, `delivered` each source's amperes.
    """

    volts: Mapping[str, float]
    amperes: Sequence[float]
    across: Mapping[str, float]
    delivered: Mapping[str, float]


@dataclass(frozen=True)
class Grid:
    """A network with the resistance of its edges: taken apart once, solved for as many loads and failures as wanted.

    `ohms` and `drops` give edges their resistance and diodes their forward voltage by index; an edge not named has none.
    `branches` lead from loads towards the sources, outermost first, and `core` is what lies between the sources.
    """

    network: Network
    ohms: Mapping[int, float]
    drops: Mapping[int, float]
    branches: Branches
    core: frozenset[int]

    @classmethod
    def of(cls, network: Network, ohms: Mapping[int, float], drops: Mapping[int, float]) -> Grid:
        """Take a network apart that has not been analysed."""
        return cls(network, ohms, drops, network.branches, frozenset(network.core))

    def operate(
        self, sources: Sequence[Source], demands: Iterable[Demand], opened: Set[int] = frozenset()
    ) -> OperatingPoint:
        """The steady state with these sources and loads, the edges of `opened` taken out.

        Branches, in which current has one way, take one pass inwards and one outwards; what lies between sources is
        eliminated. Loads that are no constant currents are repeated until their currents settle.

        Raises NoSteadyState where none exists: the loads ask for more than the sources can give.
        """
        fed, returned = (self.network.live(closed=True, backwards=backwards) for backwards in (False, True))
        places = self._sweep.places
        wanted = ((demand, places[demand.point], places[demand.back]) for demand in demands if demand.amount)
        working_ends = [(demand, point, back) for demand, point, back in wanted if fed[point] and returned[back]]
        live = [demand for demand, _, _ in working_ends]
        ends = [(point, back) for _, point, back in working_ends]
        highest = max((source.volts for source in sources), default=0.0)
        drawn = [demand.amperes(highest) if highest else 0.0 for demand in live]
        steady = self._steady(tuple(sources), frozenset(opened))
        last, choice = math.inf, None
        before: list[float] = []
        for _ in range(_MOST_ROUNDS):
            volts, amperes, state, choice = self._once(steady, ends, drawn, opened, choice)
            across = [volts[point] - volts[back] for point, back in ends]
            again = [_asked(*each) for each in zip(live, across, drawn, strict=True)]
            change = max((abs(a - b) for a, b in zip(drawn, again, strict=True)), default=0.0)
            if change <= _SETTLED * max(drawn, default=0.0):
                working = {demand.id: each for demand, each in zip(live, across, strict=True) if not math.isnan(each)}
                return self._told(volts, amperes, state, sources, working)
            if change >= last / 2:
                before, drawn = [], [(a + b) / 2 for a, b in zip(drawn, again, strict=True)]
            elif not before:
                before, drawn = drawn, again
            else:
                before, drawn = [], [settling_at(*three) for three in zip(before, drawn, again, strict=True)]
            last = change
        raise NoSteadyState("the loads ask for more than the sources can give")

    @cached_property
    def _sweep(self) -> Sweep:
        return Sweep(self.network, self.branches, self.ohms, self.drops)

    @cached_property
    def _known(self) -> dict[tuple[tuple[Source, ...], frozenset[int]], Steady]:
        return {}

    def _steady(self, sources: tuple[Source, ...], opened: frozenset[int]) -> Steady:
        """The core with these sources and edges, kept for other loads."""
        if (sources, opened) not in self._known:
            core = Core(self.network, self._sweep.core, self.core - opened, self.ohms, self.drops)
            self._known[sources, opened] = Steady(core, sources)
        return self._known[sources, opened]

    def _once(
        self,
        steady: Steady,
        ends: Iterable[tuple[int, int]],
        drawn: Iterable[float],
        opened: Set[int],
        near: Choice | None,
    ) -> tuple[list[float], list[float], CoreState, Choice]:
        """Volts and amperes by place, and the core's state and choice, for loads that draw so much."""
        core_places = self._sweep.core_places
        amperes = [0.0] * len(self._sweep.points)
        for (point, back), current in zip(ends, drawn, strict=True):
            amperes[point] -= current
            amperes[back] += current
        self._sweep.inwards(amperes)
        state, choice = steady.state([amperes[place] for place in core_places], near)
        volts = [math.nan] * len(amperes)
        for place, known in zip(core_places, state.volts, strict=True):
            volts[place] = known
        self._sweep.outwards(volts, amperes, opened)
        return volts, amperes, state, choice

    def _told(
        self,
        volts: list[float],
        amperes: list[float],
        state: CoreState,
        sources: Sequence[Source],
        across: Mapping[str, float],
    ) -> OperatingPoint:
        by_edge = [0.0] * len(self.network.edges)
        for index, current in self._sweep.by_edge(volts, amperes).items():
            by_edge[index] = current
        for (kind, place), current in state.amperes.items():
            if kind == "edge":
                by_edge[place] = current
        delivered = {source.id: state.amperes.get(("source", place), 0.0) for place, source in enumerate(sources)}
        known = zip(self._sweep.points, volts, strict=True)
        return OperatingPoint({point: v for point, v in known if not math.isnan(v)}, by_edge, across, delivered)


_MOST_ROUNDS = 200  # numerics
_SETTLED = 1e-13  # of the largest load's current


def settling_at(first: float, second: float, third: float) -> float:
    """What a figure that settles is bound for, by three rounds of it (Aitken's delta-squared, from memory).

    Exactly that where each step is the same share of the one before; the last round itself where the share is not below half.
    """
    step, before = third - second, second - first
    return third + step * step / (before - step) if abs(step) < abs(before) / 2 else third


def _asked(demand: Demand, volts: float, now: float) -> float:
    """What a load draws next; nothing where it has no voltage, half of it where so much would leave it none."""
    if math.isnan(volts):
        return 0.0
    return demand.amperes(volts) if volts > 0 else now / 2
