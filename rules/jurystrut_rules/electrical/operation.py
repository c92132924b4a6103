"""What voltage arrives, in every phase of flight, with everything whole and with one thing failed?"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit import Demand, Grid, NoSteadyState, OperatingPoint, Source
from jurystrut.calculations.conductors import resistance_at
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    fact,
    fails,
    no_data,
    not_applicable,
    plain_fact,
    rule,
    warns,
)
from jurystrut_rules.electrical.tables import ohm_per_1000_ft

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from jurystrut.records.electrical import Bundle, Electrical, Load, Protection, Switch, Wire
    from jurystrut.rulebook.findings import Working
    from jurystrut_rules.electrical.circuit import Circuit, Coils, WireKinds
    from jurystrut_rules.electrical.conductors import Aluminium

__all__ = [
    "Case",
    "Operation",
    "enough_voltage",
    "feeders_lose_little",
    "grid",
    "operating_cases",
    "operations",
    "wire_ohms",
]

_GENERATORS = frozenset({"alternator", "generator"})


@plain_fact
def wire_ohms(electrical: Electrical, wire_kinds: WireKinds) -> dict[str, float]:
    """The resistance of each wire whose size and length are recorded, in the hottest air around it."""
    bundles = {bundle.id: bundle for bundle in electrical.bundles}
    per_metre = [_ohms_per_metre(wire, bundles.get(wire.bundle or "")) for wire in wire_kinds.first]
    found = {}
    for wire, kind in zip(electrical.wires, wire_kinds.of, strict=True):
        ohms, length = per_metre[kind], wire.length
        if ohms is not None and length is not None:
            found[wire.id] = ohms * length.si
    return found


def _ohms_per_metre(wire: Wire, bundle: Bundle | None) -> float | None:
    per_1000_ft = ohm_per_1000_ft(wire.size.name, wire.material) if wire.size else None
    if per_1000_ft is None:
        return None
    warm = max(20.0, bundle.ambient.to("degC")) if bundle and bundle.ambient else 20.0  # ac43-table-11-9
    return resistance_at(per_1000_ft, warm, wire.material) / (1000 * _METRES_PER_FOOT)


_METRES_PER_FOOT = 0.3048  # arithmetic


@plain_fact
def grid(electrical: Electrical, circuit: Circuit, wire_ohms: dict[str, float]) -> Grid:
    """The network with its resistances: wires, and the devices whose resistance is recorded."""
    by_id = dict(wire_ohms)
    devices: tuple[Protection | Switch, ...] = (*electrical.protection, *electrical.switches)
    for device in devices:
        if device.resistance:
            by_id[device.id] = device.resistance.si
    ohms = {index: by_id[edge.id] for index, edge in enumerate(circuit.network.edges) if edge.id in by_id}
    drops = {circuit.edge_of[diode.id][0]: diode.drop.si for diode in electrical.diodes if diode.drop}
    return Grid(circuit.network, ohms, drops, circuit.analysis.towards, frozenset(circuit.analysis.core))


class Case(NamedTuple):
    """A state that the system is looked at in: its name, the sources that work, what is on, and what is open."""

    name: str
    sources: tuple[Source, ...]
    demands: tuple[Demand, ...]
    opened: frozenset[int] = frozenset()


class Operation(NamedTuple):
    """One case worked out: its name, and the operating point, or None where the sources cannot carry its loads."""

    name: str
    point: OperatingPoint | None


@fact
def operations(
    electrical: Electrical, grid: Grid, operating_cases: tuple[Case, ...], shorts: dict[str, list[int]]
) -> tuple[Operation, ...]:
    """The operating point of every case; phases in which the same is on share theirs. Behind a dead short there is none."""
    if shorts:
        message = f"{' and '.join(shorts)}: shorted, so no voltage can be told; electrical/dead-short says by what"
        raise MissingRecord(message, electrical.at("wires"))
    known: dict[Case, OperatingPoint | None] = {}
    for case in operating_cases:
        state = case._replace(name="")
        if state not in known:
            known[state] = _point(grid, case)
    return tuple(Operation(case.name, known[case._replace(name="")]) for case in operating_cases)


def _point(grid: Grid, case: Case) -> OperatingPoint | None:
    try:
        return grid.operate(case.sources, case.demands, case.opened)
    except NoSteadyState:
        return None


@plain_fact
def operating_cases(electrical: Electrical, grid: Grid, coils: Coils) -> tuple[Case, ...]:
    """Every phase of flight: whole, without each generator, with each device between the sources open; and cranking."""
    return tuple(_cases(electrical, grid, _sources(electrical), coils))


def _sources(electrical: Electrical) -> dict[str, Source]:
    if not electrical.sources:
        raise MissingRecord("no source is recorded", electrical.at("sources"))
    found = {}
    for source in electrical.sources:
        if source.kind == "ground-power":
            continue
        missing = next(
            (
                field
                for field in ("voltage", "resistance" if source.kind == "battery" else "rating")
                if getattr(source, field) is None
            ),
            None,
        )
        if missing:
            raise MissingRecord(f"the {missing} of {source.id} is not recorded", source.at())
        volts, ohms = source.voltage.si if source.voltage else 0.0, source.resistance.si if source.resistance else 0.0
        most = source.rating.si if source.rating and source.kind != "battery" else float("inf")
        found[source.id] = Source(source.id, source.id, f"{source.id}.return", volts, ohms, most)
    return found


def _cases(electrical: Electrical, grid: Grid, sources: dict[str, Source], coils: Coils) -> Iterator[Case]:
    every, edges = tuple(sources.values()), grid.network.edges
    generators = [source.id for source in electrical.sources if source.kind in _GENERATORS]
    devices = [i for i in sorted(grid.core) if edges[i].kind == "protection"]
    phases = dict.fromkeys(phase for load in electrical.loads for phase in load.duty)
    held = _drawing(coils.held, electrical)
    for phase in phases:
        demands = (*_on(electrical, phase), *held)
        if phase != "emergency":
            yield Case(phase, every, demands)
            for index in devices:
                yield Case(f"{phase}, {edges[index].id} open", every, demands, frozenset({index}))
        for lost in generators:
            left = tuple(source for source in every if source.id != lost)
            yield Case(f"{phase}, {lost} lost", left, demands)
    cranking = _cranked(electrical)
    if cranking:
        batteries = tuple(sources[source.id] for source in electrical.sources if source.kind == "battery")
        starter = (_demand(load, _nominal(electrical)) for load in cranking)
        demands = (*_on(electrical, "start"), *starter, *held, *_drawing(coils.cranking, electrical))
        yield Case("cranking", batteries, demands)


def _cranked(electrical: Electrical) -> list[Load]:
    """The loads that a starter feeder leads to."""
    ends = {wire.to for wire in electrical.wires if wire.serves == "starter-feeder"}
    return [load for load in electrical.loads if load.id in ends]


def _on(electrical: Electrical, phase: str) -> list[Demand]:
    nominal = _nominal(electrical)
    return [_demand(load, nominal) for load in electrical.loads if phase in load.duty and load.duty[phase].si > 0]


def _drawing(coils: Mapping[str, float], electrical: Electrical) -> list[Demand]:
    """Coils are resistances: what is recorded is what they draw at the system's nominal voltage."""
    drawing = {id_: amperes for id_, amperes in coils.items() if amperes}
    return [
        Demand(id_, f"{id_}.coil", f"{id_}.coil-return", _nominal(electrical) / amperes, "resistance")
        for id_, amperes in drawing.items()
    ]


def _nominal(electrical: Electrical) -> float:
    if electrical.nominal_voltage is None:
        raise MissingRecord("the system's nominal voltage is not recorded", electrical.at())
    return electrical.nominal_voltage.si


def _demand(load: Load, nominal: float) -> Demand:
    """A load as recorded: its current is what it draws at the system's nominal voltage."""
    amount = {
        "current": load.current.si,
        "power": load.current.si * nominal,
        "resistance": nominal / load.current.si if load.current.si else 0.0,
    }[load.takes]
    return Demand(load.id, load.id, f"{load.id}.return", amount, load.takes)


@rule(
    "electrical/minimum-voltage",
    title="Enough voltage at the load",
    asks="Does every load get the voltage that it needs, in every phase of flight, whole and with one failure?",
    references=("23-1351-a", "ac43-table-11-9"),
    due=Stage.SYSTEMS,
    remedy="Fit a thicker or shorter wire, a stronger battery, or take loads off.",
)
def enough_voltage(
    electrical: Electrical,
    circuit: Circuit,
    operations: tuple[Operation, ...],
    grid: Grid,
    wire_ohms: dict[str, float],
    aluminium: Aluminium,
) -> Iterator[Finding]:
    """The whole network is solved for every phase of flight: all sources working; each generator lost; each protective device
    between the sources open; and the starter cranking on the battery. Every load of the phase is on at its full current, and
    every coil of a relay or contactor draws, the starter's while cranking.

    Wires have the resistance of Table 11-9, warmed by the air around them, out and back; devices have what is recorded, else
    none. Generators hold their voltage up to their rating, batteries theirs behind their resistance, as charged as recorded.
    The resistance of aluminium is from memory: with such a wire on the way this warns at most. The least voltage in all cases
    counts. A load that a failure cuts off is another rule's: electrical/single-failure.
    """
    judged = [load for load in electrical.loads if load.minimum_voltage or load.essential]
    if not judged:
        yield not_applicable("aircraft", "no load says what voltage it needs, and none is essential", electrical.at())
        return
    unknown = {edge.id for edge in circuit.network.edges if edge.kind == "wire" and edge.id not in wire_ohms}
    in_core = next((grid.network.edges[i].id for i in sorted(grid.core) if grid.network.edges[i].id in unknown), None)
    if in_core:
        raise MissingRecord(f"the resistance of {in_core} cannot be told: its size or length", electrical.at("wires"))
    collapse = next((case.name for case in operations if case.point is None), None)
    if collapse:
        say = warns if aluminium.wires else fails
        yield say("aircraft", f"{collapse}: the sources cannot carry the loads at any voltage", electrical.at())
    for load in judged:
        way = [*circuit.analysis.path(load.id), *circuit.analysis.path(f"{load.id}.return")]
        missing = next((edge.id for edge in way if edge.id in unknown), None)
        if load.minimum_voltage is None:
            yield no_data(
                load.id, "what voltage this load needs is not recorded", load.at(), remedy="Record 'minimum_voltage'."
            )
        elif missing:
            yield no_data(load.id, f"the resistance of {missing}, on its way, cannot be told", load.at())
        else:
            from_memory = aluminium.on_the_way(circuit, load.id, f"{load.id}.return")
            otherwise = Verdict.WARN if from_memory else Verdict.FAIL
            yield _least(load, load.minimum_voltage.si, operations, circuit, wire_ohms, otherwise)


def _least(
    load: Load,
    needed: float,
    operations: Sequence[Operation],
    circuit: Circuit,
    wire_ohms: Mapping[str, float],
    otherwise: Verdict,
) -> Finding:
    seen = sorted(
        (case.point.across[load.id], case.name) for case in operations if case.point and load.id in case.point.across
    )
    if not seen:
        return not_applicable(load.id, "it is on in no phase of flight in which a source reaches it", load.at("duty"))
    least, name = seen[0]
    worst = next(case.point for case in operations if case.name == name)
    return at_least(
        load.id,
        least,
        needed,
        "V",
        f"{least:.2f} V at the least, {name}; it needs {needed:g} V",
        load.at("minimum_voltage"),
        remedy="Fit a thicker wire on its way, a stronger battery, or take loads off.",
        working=lambda: [
            *(f"{case}: {volts:.3f} V" for volts, case in seen[:8]),
            *_on_the_way(load, worst, circuit, wire_ohms),
        ],
        otherwise=otherwise,
    )


def _on_the_way(
    load: Load, worst: OperatingPoint | None, circuit: Circuit, wire_ohms: Mapping[str, float]
) -> Iterator[str]:
    for point in (load.id, f"{load.id}.return"):
        for edge in circuit.analysis.path(point):
            if worst and edge.id in wire_ohms:
                amperes = abs(worst.amperes[circuit.edge_of[edge.id][0]])
                ohms = wire_ohms[edge.id]
                yield f"then {edge.id}: {ohms * 1000:.2f} mohm x {amperes:.4g} A = {ohms * amperes:.3f} V"


_FEEDER_SHARE = 0.02  # ac43-11-66-feeders


@rule(
    "electrical/feeder-drop",
    title="Voltage drop of the main feeders",
    asks="Does the feeder from each generator to its bus lose at most 2 % of the regulated voltage at rated output?",
    references=("ac43-11-66-feeders", "ac43-table-11-9"),
    due=Stage.SYSTEMS,
    remedy="Fit a thicker or shorter feeder.",
    at_worst=Verdict.WARN,
)
def feeders_lose_little(electrical: Electrical, circuit: Circuit, wire_ohms: dict[str, float]) -> Iterator[Finding]:
    """The rated output of a generator times the resistance of the wires on the way to the nearest bus, against 2 % of its
    regulated voltage. The figure is from memory, so this rule warns at most. A battery's feeder is not judged: its
    five-minute discharge current is not recorded.
    """
    generators = [source for source in electrical.sources if source.kind in _GENERATORS]
    if not generators:
        yield not_applicable("aircraft", "no generator or alternator is recorded", electrical.at("sources"))
    buses = {bus.id for bus in electrical.buses}
    for source in generators:
        way = _way_to_bus(source.id, circuit, buses)
        if source.rating is None or source.voltage is None:
            yield no_data(source.id, "its rating or its voltage is not recorded", source.at())
        elif way is None:
            yield no_data(source.id, "no way from it to a bus is recorded", source.at())
        elif any(circuit.network.edges[i].id not in wire_ohms for i in way):
            yield no_data(source.id, "the size or length of a wire of its feeder is not recorded", source.at())
        else:
            ids = [circuit.network.edges[i].id for i in way]
            lost, allowed = source.rating.si * sum(wire_ohms[i] for i in ids), _FEEDER_SHARE * source.voltage.si
            yield at_most(
                source.id,
                lost,
                allowed,
                "V",
                f"its feeder loses {lost:.3f} V at {source.rating}; 2 % of {source.voltage} is {allowed:.3f} V",
                source.at("rating"),
                remedy=f"Make {' and '.join(ids)} thicker or shorter.",
                working=_feeder_steps(ids, source.rating.si, wire_ohms),
            )


def _feeder_steps(ids: Sequence[str], amperes: float, wire_ohms: Mapping[str, float]) -> Working:
    return lambda: [
        f"{i}: {wire_ohms[i] * 1000:.2f} mohm x {amperes:g} A = {wire_ohms[i] * amperes:.3f} V" for i in ids
    ]


def _way_to_bus(start: str, circuit: Circuit, buses: set[str]) -> list[int] | None:
    """The wires on the shortest way from a point to a bus."""
    edges, near = circuit.network.edges, circuit.network.near
    came: dict[str, tuple[str, int]] = {start: (start, -1)}
    pending = [start]
    for point in pending:
        if point in buses:
            way = []
            while point != start:
                point, index = came[point]  # noqa: PLW2901 - walks back
                way.append(index)
            return [i for i in reversed(way) if edges[i].kind == "wire"]
        for other, index in near(point):
            if other not in came:
                came[other] = (point, index)
                pending.append(other)
    return None
