"""The operating point of a network: the voltage of every point and the current in every edge, by nodal analysis."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.circuit.steady import Core, NoSteadyState, Source, core_state

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence, Set

    from jurystrut.calculations.circuit.network import Network
    from jurystrut.calculations.circuit.peeling import Branch

__all__ = ["Demand", "Grid", "NoSteadyState", "OperatingPoint", "Source"]


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


@dataclass(frozen=True, slots=True)
class OperatingPoint:
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
    branches: Mapping[str, Branch]
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
        fed, returned = self.network.fed(), self.network.returned()
        live = [d for d in demands if d.amount and d.point in fed and d.back in returned]
        volts = max((source.volts for source in sources), default=0.0)
        drawn = [demand.amperes(volts) if volts else 0.0 for demand in live]
        last = math.inf
        for _ in range(_MOST_ROUNDS):
            found = self._once(sources, live, drawn, opened)
            again = [_asked(d, found.across.get(d.id), now) for d, now in zip(live, drawn, strict=True)]
            change = max((abs(a - b) for a, b in zip(drawn, again, strict=True)), default=0.0)
            if change <= _SETTLED * max(drawn, default=0.0):
                return found
            drawn = again if change < last / 2 else [(a + b) / 2 for a, b in zip(drawn, again, strict=True)]
            last = change
        raise NoSteadyState("the loads ask for more than the sources can give")

    def _once(
        self, sources: Sequence[Source], live: Sequence[Demand], drawn: Sequence[float], opened: Set[int]
    ) -> OperatingPoint:
        amperes, arriving = [0.0] * len(self.network.edges), self._gathered(live, drawn)
        self._inwards(arriving, amperes)
        state = core_state(Core(self.network, self.core - opened, self.ohms, self.drops), sources, arriving)
        for index, current in state.amperes.items():
            amperes[index] = current
        volts = dict(state.volts)
        self._outwards(volts, amperes, opened)
        across = {d.id: volts[d.point] - volts[d.back] for d in live if d.point in volts and d.back in volts}
        return OperatingPoint(volts, amperes, across, state.delivered)

    def _gathered(self, live: Sequence[Demand], drawn: Sequence[float]) -> dict[str, float]:
        found: dict[str, float] = {}
        for demand, current in zip(live, drawn, strict=True):
            found[demand.point] = found.get(demand.point, 0.0) - current
            found[demand.back] = found.get(demand.back, 0.0) + current
        return found

    def _inwards(self, arriving: dict[str, float], amperes: list[float]) -> None:
        edges = self.network.edges
        for point, (towards, index) in self.branches.items():
            current = arriving.get(point, 0.0)
            if current:
                arriving[towards] = arriving.get(towards, 0.0) + current
                amperes[index] = current if edges[index].start == point else -current

    def _outwards(self, volts: dict[str, float], amperes: list[float], opened: Set[int]) -> None:
        edges, ohms, drops = self.network.edges, self.ohms, self.drops
        for point, (towards, index) in reversed(tuple(self.branches.items())):
            if towards not in volts or index in opened:
                amperes[index] = 0.0
                continue
            current = amperes[index]
            lost = current * ohms.get(index, 0.0) + (drops.get(index, 0.0) if current else 0.0)
            volts[point] = volts[towards] + lost if edges[index].start == point else volts[towards] - lost


_MOST_ROUNDS = 200
_SETTLED = 1e-13  # of the largest load's current


def _asked(demand: Demand, volts: float | None, now: float) -> float:
    """What a load draws next; nothing where it has no voltage, half of it where so much would leave it none."""
    if volts is None:
        return 0.0
    return demand.amperes(volts) if volts > 0 else now / 2
