"""Do the sources carry the loads, and does every load have a source and a return?"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit import Edge
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Sound,
    Stage,
    Verdict,
    at_least,
    at_most,
    between,
    fact,
    fails,
    later_if,
    no_data,
    not_applicable,
    passes,
    rule,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.calculations.circuit import Network, Sink
    from jurystrut.positions import Spot
    from jurystrut.records.electrical import Electrical, Source, Switch
    from jurystrut_rules.electrical.circuit import Circuit, Coils

__all__ = [
    "AlternatorOutput",
    "alternator_output",
    "batteries_are_charged",
    "load_has_circuit",
    "sources_carry_loads",
    "sources_suit_the_system",
]

_UNMONITORED = 0.80  # ac43-11-35-a
_GENERATORS = frozenset({"alternator", "generator"})


class AlternatorOutput(NamedTuple):
    """What all alternators and generators together deliver, and how much of it may be planned on, in amperes."""

    generators: tuple[Source, ...]
    rated: float
    plannable: float

    def plannable_in(self, phase: str) -> float | None:
        """The amperes that may be planned on in a phase of flight; None in `emergency`, and where there is no alternator."""
        return self.plannable if self.generators and phase != "emergency" else None


@fact
def alternator_output(electrical: Electrical) -> AlternatorOutput:
    """The whole output of what is monitored, 80 % of what is not: AC 43.13-1B paragraph 11-35a."""
    generators = tuple(source for source in electrical.sources if source.kind in _GENERATORS)
    if not electrical.sources:
        raise MissingRecord("no source is recorded", electrical.at("sources"))
    for source in generators:
        if source.rating is None:
            raise MissingRecord(f"the rating of {source.id} is not recorded", source.at())
    outputs = [(source.rating.si, source.monitored) for source in generators if source.rating]
    return AlternatorOutput(
        generators,
        sum(amperes for amperes, _ in outputs),
        sum(amperes * (1.0 if monitored else _UNMONITORED) for amperes, monitored in outputs),
    )


@rule(
    "electrical/source-capacity",
    title="Sources carry the load",
    asks="Do the loads of each phase of flight stay within what the alternators deliver?",
    references=("ac43-11-35-a", "23-1351-a"),
    due=Stage.SYSTEMS,
    remedy="Take loads off, fit a larger alternator, or monitor its load and record that.",
)
def sources_carry_loads(electrical: Electrical, alternator_output: AlternatorOutput, coils: Coils) -> Iterator[Finding]:
    """The continuous loads of each phase are added, each by the share of the time it is on, and held against the alternators.

    Without an ammeter, a load meter or placards, AC 43.13-1B takes 80 % of the rated output as the limit, and calls that a
    rule of thumb, not a load analysis; with one the whole output counts. Intermittent loads are left to the battery. Coils of
    relays and contactors draw throughout. The phase `emergency` is one without an alternator and is not judged here.
    """
    if not electrical.loads:
        raise MissingRecord("no load is recorded", electrical.at("loads"))
    for load in electrical.loads:
        if not load.duty and not load.intermittent:
            yield no_data(
                load.id,
                "in which phases of flight this load is on is not recorded",
                load.at(),
                remedy="Record its 'duty'.",
            )
    loads = [load for load in electrical.loads if load.duty and not load.intermittent]
    phases = dict.fromkeys(
        phase for load in loads for phase in load.duty if alternator_output.plannable_in(phase) is not None
    )
    if not phases:
        yield not_applicable(
            "aircraft", "no load is recorded as on continuously while an alternator turns", electrical.at("loads")
        )
    held = [_Drawn(s.id, coils.held[s.id], s.at("coil")) for s in electrical.switches if s.id in coils.held]
    for phase in phases:
        on = [_Drawn(d.id, d.current.si * d.duty[phase].si, d.at("current")) for d in loads if phase in d.duty]
        yield _phase(phase, [*on, *held], alternator_output)


class _Drawn(NamedTuple):
    id: str
    amperes: float
    spot: Spot


def _phase(phase: str, drawn: list[_Drawn], output: AlternatorOutput) -> Finding:
    on = sorted(drawn, key=lambda one: -one.amperes)
    total = sum(one.amperes for one in on)
    rated, limit = output.rated, output.plannable
    return at_most(
        phase,
        total,
        limit,
        "A",
        f"the continuous loads draw {total:.1f} A; the alternators deliver {rated:g} A, of which {limit:g} A may be planned on",
        output.generators[0].at("rating"),
        on[0].spot,
        remedy=f"Take {total - limit:.3g} A off this phase, fit a larger alternator, or monitor its load.",
        working=lambda: [*(f"{one.id}: {one.amperes:.2f} A" for one in on), f"together {total:.2f} A"],
    )


@rule(
    "electrical/load-circuit",
    title="Source and return for every load",
    asks="Has every load a way from a source and a way back?",
    references=("23-1351-a",),
    due=Stage.SYSTEMS,
    remedy="Record the missing wire or ground; if it is not there, fit it.",
    no_deviation="without a feed or a return a load does not work, whatever the reason",
)
def load_has_circuit(electrical: Electrical, circuit: Circuit) -> Iterator[Finding | Sound]:
    """Each load is looked for in the network that the wires and devices make: it must be reached from a source, and its return
    must lead to a source's return. Whether something switches it off is asked by electrical/load-switch.
    """
    network = circuit.network
    fed, returned = (network.live(closed=True, backwards=backwards) for backwards in (False, True))
    if not network.sinks:
        yield not_applicable("aircraft", "no load is recorded", electrical.at())
    coils = {switch.id: switch for switch in electrical.switches if switch.coil}
    for sink, (point, back) in zip(network.sinks, network.sink_ends, strict=True):
        sides = (fed[point], returned[back])
        yield later_if(sides == (True, True), _has_circuit, sink, coils, sides, circuit)


def _has_circuit(sink: Sink, coils: Mapping[str, Switch], sides: tuple[bool, bool], circuit: Circuit) -> Finding:
    spot = (circuit.loads.get(sink.id) or coils[sink.id]).at()
    fed, returned = sides
    if not fed:
        return fails(sink.id, "no source feeds this load", spot, remedy="Record or fit the wire that feeds it.")
    if not returned:
        return fails(sink.id, "this load has no way back to a source", spot, remedy="Record or fit its return wire.")
    return passes(sink.id, "a source feeds it, and it has a return", spot, working=partial(_ways, circuit, sink))


def _ways(circuit: Circuit, sink: Sink) -> list[str]:
    return [
        f"from {sink.point} towards the sources: {_way(circuit, sink.point)}",
        f"from {sink.back} back to a source: {_way(circuit, sink.back)}",
    ]


def _way(circuit: Circuit, point: str) -> str:
    return ", ".join(edge.id for edge in circuit.analysis.path(point)) or "joined at once, or by more than one way"


@rule(
    "electrical/battery-charged",
    title="Batteries are charged in flight",
    asks="Does a generator charge every battery in flight?",
    references=("ac43-11-35-battery",),
    due=Stage.SYSTEMS,
    remedy="Join the battery to a bus that a generator feeds, with no diode against the current.",
)
def batteries_are_charged(electrical: Electrical, network: Network, stacked: frozenset[str]) -> Iterator[Finding]:
    """AC 43.13-1B wants a storage battery charged continuously in flight. With every switch closed, and diodes passing forwards
    only, current of a generator must reach the battery and get back; and the regulated voltage must be above the battery's at
    rest, that of batteries in a row together. What a diode on the way loses, and how full the battery gets, are not counted.
    """
    generators = [source for source in electrical.sources if source.kind in _GENERATORS]
    batteries = [source for source in electrical.sources if source.kind == "battery"]
    if not generators or not batteries:
        message = f"no {'battery' if generators else 'generator'} is recorded"
        yield not_applicable("aircraft", message, electrical.at("sources"))
        return
    names = {source.id for source in generators}
    if stacked:  # through a battery the charging current goes on to the next one of its row
        through = (Edge(b.id, b.id, f"{b.id}.return", "link", one_way=True) for b in batteries)
        network = replace(network, edges=(*network.edges, *through))
    fed, returned = (network.live(closed=True, backwards=backwards, by=names) for backwards in (False, True))
    regulated = max((source.voltage.si for source in generators if source.voltage), default=None)
    for battery in batteries:
        at_rest = _at_rest(battery, batteries, stacked)
        if not (fed[network.places[battery.id]] and returned[network.places[f"{battery.id}.return"]]):
            yield fails(
                battery.id,
                "no current of a generator reaches this battery and gets back",
                battery.at(),
                working=lambda: ["fed by the generators alone, every switch closed: no"],
            )
        elif regulated is None or at_rest is None:
            yield no_data(battery.id, "its voltage, or that of the generators, is not recorded", battery.at())
        else:
            yield _charged(battery, at_rest, regulated, generators[0])


def _at_rest(battery: Source, batteries: list[Source], stacked: frozenset[str]) -> float | None:
    """The volts of a battery at rest, or of the whole row that it stands in; rows are taken as alike."""
    together = [battery] if not stacked else batteries
    rows = 1 if not stacked else len(batteries) - sum(one.id in stacked for one in batteries)
    if not rows or any(one.voltage is None for one in together):
        return None
    return sum(one.voltage.si for one in together if one.voltage) / rows


def _charged(battery: Source, at_rest: float, regulated: float, generator: Source) -> Finding:
    return at_least(
        battery.id,
        regulated,
        at_rest,
        "V",
        f"a generator of {regulated:g} V reaches it; at rest it has {at_rest:g} V",
        battery.at("voltage"),
        generator.at("voltage"),
        remedy=f"Set the regulator above {at_rest:g} V, as the battery's maker says.",
        working=lambda: [
            "fed by the generators alone, every switch closed: yes, and it gets back",
            f"regulated: {regulated:g} V; at rest: {at_rest:g} V",
        ],
    )


_LOWEST, _HIGHEST = 0.80, 1.25  # own-source-voltage
"""Of the nominal voltage: 19 cells of nickel-cadmium have 22.8 V in a system of 28 V, a regulator has 14.8 V in
one of 12 V."""


@rule(
    "electrical/source-voltage",
    title="Sources suit the system",
    asks="Does the voltage of every source suit the system's nominal voltage?",
    references=("own-source-voltage", "own-consistency"),
    due=Stage.SYSTEMS,
    remedy="Correct 'nominal_voltage', or the voltage of the source.",
    at_worst=Verdict.WARN,
)
def sources_suit_the_system(electrical: Electrical, stacked: frozenset[str]) -> Iterator[Finding]:
    """Allowances, derating and what loads draw follow the nominal voltage. A source of less than four fifths of it, or more than
    five quarters, belongs to another system, or one of the two is mistyped; batteries in a row count together. The band is
    our own.
    """
    if electrical.nominal_voltage is None or not electrical.nominal_voltage.si:
        raise MissingRecord("the system's nominal voltage is not recorded", electrical.at("nominal_voltage"))
    if not electrical.sources:
        raise MissingRecord("no source is recorded", electrical.at("sources"))
    nominal = electrical.nominal_voltage.si
    batteries = [source for source in electrical.sources if source.kind == "battery"]
    for source in electrical.sources:
        battery = source.kind == "battery"
        volts = _at_rest(source, batteries, stacked) if battery else source.voltage.si if source.voltage else None
        if volts is None:
            yield no_data(source.id, "its voltage is not recorded", source.at(), remedy="Record its 'voltage'.")
            continue
        yield between(
            source.id,
            volts,
            _LOWEST * nominal,
            _HIGHEST * nominal,
            "V",
            f"{volts:g} V in a system of {electrical.nominal_voltage}",
            source.at("voltage"),
            electrical.at("nominal_voltage"),
            remedy="Correct one of the two.",
            working=partial(_suiting, volts, nominal),
        )


def _suiting(volts: float, nominal: float) -> list[str]:
    return [
        f"{volts:g} V / {nominal:g} V = {volts / nominal:.3f}",
        f"wanted: {_LOWEST:g} to {_HIGHEST:g} (our own choice), {_LOWEST * nominal:g} V to {_HIGHEST * nominal:g} V",
    ]
