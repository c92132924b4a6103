"""What do the loads draw in each phase of flight, over five seconds, over five minutes and continuously?"""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_most,
    fact,
    no_data,
    not_applicable,
    passes,
    rule,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from jurystrut.records.electrical import Bus, Electrical, Load, Source
    from jurystrut_rules.electrical.circuit import Circuit, Coils

__all__ = ["Interval", "LoadTable", "bus_carries_loads", "intervals", "load_table", "loads_over_intervals"]

_GENERATORS = frozenset({"alternator", "generator"})
_TWO_OF_FIVE = 2 / 5  # mil-e-7016f: an intermittent load runs for no more than two minutes, so for two of any five


class Interval(NamedTuple):
    """One cell of the analysis: amperes by load, and their sum."""

    name: str
    shares: dict[str, float]

    @property
    def total(self) -> float:
        """All of it together."""
        return sum(self.shares.values())


class LoadTable(NamedTuple):
    """The whole analysis: by phase of flight the three intervals, and what they are held against, in amperes."""

    phases: dict[str, tuple[Interval, Interval, Interval]]
    rated: float
    let_through: float

    def limit(self, interval: Interval) -> float:
        """What the sources can give over an interval."""
        return self.let_through if interval.name == "5-s" else self.rated

    def lines(self) -> list[str]:
        """The table in words, a phase a line."""
        return [
            f"{phase}: {brief.total:.1f} A over 5 s, {minutes.total:.1f} A over 5 min, {steady.total:.1f} A continuously"
            for phase, (brief, minutes, steady) in self.phases.items()
        ]


def intervals(
    loads: Sequence[Load], phase: str, always: Mapping[str, float] | None = None
) -> tuple[Interval, Interval, Interval]:
    """The loads of one phase, averaged over 5 s, over 5 min and continuously; `always` is added to each, amperes by id.

    Over five seconds everything that may be on counts in full. Over five minutes an intermittent load counts two fifths, all
    others in full, as a load that is on for part of a phase may be on for five minutes of it. Continuously each load counts by
    the share of the phase in which it is on, intermittent ones not at all.
    """
    on = [load for load in loads if load.duty.get(phase) and load.duty[phase].si > 0]
    briefly = [load for load in loads if load.intermittent and (phase in load.duty or not load.duty)]
    steady = [load for load in on if not load.intermittent]
    more = dict(always or {})
    amperes = {load.id: load.current.si for load in (*steady, *briefly)} | more
    return (
        Interval("5-s", amperes),
        Interval("5-min", amperes | {load.id: load.current.si * _TWO_OF_FIVE for load in briefly}),
        Interval("continuous", {load.id: load.current.si * load.duty[phase].si for load in steady} | more),
    )


@fact
def load_table(electrical: Electrical, circuit: Circuit, coils: Coils) -> LoadTable:
    """The analysis of every phase but `emergency`; a battery charges while taxiing, and coils draw throughout."""
    generators = [source for source in electrical.sources if source.kind in _GENERATORS]
    if not electrical.sources:
        raise MissingRecord("no source is recorded", electrical.at("sources"))
    for source in generators:
        if source.rating is None:
            raise MissingRecord(f"the rating of {source.id} is not recorded", source.at())
    starters = {wire.to for wire in electrical.wires if wire.serves == "starter-feeder"}
    loads = [load for load in electrical.loads if load.id not in starters]
    phases = dict.fromkeys(phase for load in loads for phase in load.duty if phase != "emergency")
    if not phases:
        raise MissingRecord("in which phases of flight the loads are on is not recorded", electrical.at("loads"))
    charging = {source.id: source.charging.si for source in electrical.sources if source.charging}
    return LoadTable(
        {phase: intervals(loads, phase, coils.held | (charging if phase == "taxi" else {})) for phase in phases},
        sum(source.rating.si for source in generators if source.rating) if generators else inf,
        max((circuit.analysis.available(bus.id) for bus in electrical.buses), default=inf),
    )


@rule(
    "electrical/load-analysis",
    title="Load analysis by interval",
    asks="In each phase of flight, do the loads over 5 s, 5 min and continuously stay within what the sources can give?",
    references=("mil-e-7016f", "astm-f2490", "ac43-11-35-a"),
    due=Stage.SYSTEMS,
    remedy="Take loads off the phase, or fit a larger source.",
    at_worst=Verdict.WARN,
)
def loads_over_intervals(electrical: Electrical, load_table: LoadTable) -> Iterator[Finding]:
    """The method of MIL-E-7016F and ASTM F2490: loads are averaged over five seconds, over five minutes and continuously. The
    last two are held against the rated output of the generators; a battery after a start counts as a load of taxiing. Five
    seconds are held against all that the protective devices let through from sources to a bus: the battery helps. Coils of
    relays and contactors draw throughout; the starter's own circuit is left out. The intervals are from memory, so this rule
    warns at most. The subject `aircraft` shows the whole table.
    """
    generator = next((source for source in electrical.sources if source.kind in _GENERATORS), None)
    if generator is None:
        message = "no generator is recorded; how long the battery lasts is electrical/endurance's"
        yield not_applicable("aircraft", message, electrical.at("sources"))
        return
    most = max(interval.total for row in load_table.phases.values() for interval in row)
    message = f"{len(load_table.phases)} phases of flight over three intervals; the most in any is {most:.1f} A"
    yield passes("aircraft", message, electrical.at("loads"), working=load_table.lines)
    for phase, row in load_table.phases.items():
        for interval in row:
            yield _cell(phase, interval, load_table.limit(interval), generator)


def _cell(phase: str, interval: Interval, limit: float, generator: Source) -> Finding:
    if limit == inf:
        return not_applicable(f"{phase}-{interval.name}", "nothing limits what reaches the buses", generator.at())
    whose = "the devices let through" if interval.name == "5-s" else "the generators are rated"
    return at_most(
        f"{phase}-{interval.name}",
        interval.total,
        limit,
        "A",
        f"{interval.total:.1f} A over {interval.name} of {phase}; {whose} {limit:g} A",
        generator.at("rating"),
        remedy=f"Take {interval.total - limit:.3g} A off this phase.",
        working=lambda: [
            *(f"{load}: {amperes:.2f} A" for load, amperes in sorted(interval.shares.items(), key=lambda s: -s[1])),
            f"together {interval.total:.2f} A",
        ],
    )


@rule(
    "electrical/bus-rating",
    title="Bus rating",
    asks="Is every bus bar rated for all the loads that it feeds?",
    references=("23-1351-a",),
    due=Stage.SYSTEMS,
    remedy="Fit a larger bus bar, or move loads to another bus.",
)
def bus_carries_loads(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """What leaves a bus by its branches is added up, every load on it taken as on at once. What passes it on the way from one
    source to another bus is not counted.
    """
    if not electrical.buses:
        yield not_applicable("aircraft", "no bus is recorded", electrical.at())
    for bus in electrical.buses:
        yield _bus(bus, circuit)


def _bus(bus: Bus, circuit: Circuit) -> Finding:
    network, current, branches = circuit.network, circuit.analysis.current, circuit.analysis.towards
    leaving: dict[str, float] = {}
    for other, index in network.near(bus.id):
        if current[index] and branches.edges[network.places[other]] == index:  # it leads outwards
            leaving[network.edges[index].id] = current[index]
    total = sum(leaving.values())
    if bus.rating is None:
        return no_data(
            bus.id,
            f"its rating is not recorded; its loads ask for {total:.4g} A",
            bus.at(),
            remedy="Record its 'rating'.",
        )
    return at_most(
        bus.id,
        total,
        bus.rating.si,
        "A",
        f"the loads on it ask for {total:.4g} A at once; it is rated {bus.rating}",
        bus.at("rating"),
        remedy="Fit a larger bus bar, or move loads to another bus.",
        working=lambda: [*(f"{edge}: {amperes:.4g} A" for edge, amperes in leaving.items()), f"together {total:.4g} A"],
    )
