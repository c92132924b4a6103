"""Does every wire carry its load, and does enough voltage arrive?"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit import drops_to
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Sound,
    Stage,
    Verdict,
    at_most,
    fact,
    later_if,
    no_data,
    not_applicable,
    rule,
)
from jurystrut_rules.electrical.tables import allowable_drop

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Set

    from jurystrut.calculations.circuit import Drop
    from jurystrut.calculations.conductors import Ampacity
    from jurystrut.records.electrical import Electrical, Load, Wire
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["Aluminium", "aluminium", "drop_is_allowed", "wire_carries_load"]


class Aluminium(NamedTuple):
    """The wires of aluminium, whose resistance, Table 11-10, is from memory: what rests on it warns at most."""

    wires: frozenset[str]
    between_sources: bool

    def on_the_way(self, circuit: Circuit, *points: str) -> bool:
        """Whether one lies between the sources, or on the single way from one of these points towards them."""
        return self.between_sources or any(
            edge.id in self.wires for point in points if self.wires for edge in circuit.analysis.path(point)
        )


@fact
def aluminium(electrical: Electrical, circuit: Circuit) -> Aluminium:
    """Found once for all rules that reckon with resistances."""
    wires = frozenset(wire.id for wire in electrical.wires if wire.material == "aluminium")
    edges = circuit.network.edges
    return Aluminium(wires, bool(wires) and any(edges[index].id in wires for index in circuit.analysis.core))


@rule(
    "electrical/wire-load",
    title="Wire carries its load",
    asks="Can every wire carry the current of all the loads that it feeds, as installed?",
    references=(
        "ac43-figure-11-4a",
        "ac43-figure-11-5",
        "ac43-figure-11-6",
        "ac43-table-11-9",
        "ac43-aluminium",
    ),
    due=Stage.SYSTEMS,
    remedy="Fit a thicker wire, or move a load to another.",
    no_deviation="an overloaded wire burns",
)
def wire_carries_load(
    electrical: Electrical, circuit: Circuit, wire_ampacity: list[Ampacity | str]
) -> Iterator[Finding | Sound]:
    """The current of a wire is the sum of all loads behind it, all taken as on at once; returns carry what comes back.

    Where current can come from both sides, the larger of what either side can ask of the other counts. In a meshed part it
    is no more than the let-through rating. Starter feeders carry their current for seconds and are left out. All of this
    errs to the safe side.
    """
    analysis = circuit.analysis
    # The edges of wires stand first.
    for wire, carries, current in zip(electrical.wires, wire_ampacity, analysis.current, strict=False):
        if wire.serves == "starter-feeder":
            yield not_applicable(wire.id, "a starter feeder carries its current for seconds only", wire.at("serves"))
        elif isinstance(carries, str):
            yield no_data(wire.id, f"what this wire carries cannot be told: {carries}", wire.at())
        else:
            yield later_if(current <= carries.amperes, _loaded, wire, current, carries, circuit)


def _loaded(wire: Wire, current: float, carries: Ampacity, circuit: Circuit) -> Finding:
    meshed = circuit.edge_of[wire.id][0] in circuit.analysis.meshed
    how = "may be asked for" if meshed else "feeds loads of"
    return at_most(
        wire.id,
        current,
        carries.amperes,
        "A",
        f"this {wire.size} wire {how} {current:.4g} A; it carries {carries.amperes:.1f} A as installed",
        wire.at("size"),
        remedy="Fit a thicker wire, or feed part of the loads by another.",
        working=lambda: [*carries.steps, f"all the loads behind the wire, on at once: {current:.4g} A"],
    )


@rule(
    "electrical/voltage-drop",
    title="Allowable voltage drop",
    asks="Is the voltage lost between the bus and each load's ground within the published allowance?",
    references=(
        "ac43-table-11-7",
        "ac43-table-11-6",
        "ac43-table-11-9",
        "ac43-table-11-10",
        "ac43-11-66",
        "iacs-copper",
    ),
    due=Stage.SYSTEMS,
    remedy="Fit a thicker or shorter wire on the way to this load, or on its return.",
)
def drop_is_allowed(
    electrical: Electrical, circuit: Circuit, wire_ohms: dict[str, float], aluminium: Aluminium
) -> Iterator[Finding | Sound]:
    """The drop is added up wire by wire from the last bus to the load, and from the load to its ground: ohms times amperes.

    Each wire carries all the loads it feeds at once; its resistance is Table 11-9's, at the temperature of the air around
    it where that is above 20 degC. Allowed at 14 V are 0.5 V for continuous and 1 V for intermittent loads, at 28 V twice
    that. The continuous figures are borne out by the worked rows of tables 11-7 and 11-8; the intermittent ones are from
    memory and only warn, and so is the resistance of aluminium, Table 11-10. One worked row of Table 11-7 exceeds its own
    limit by 0.8 %: here that is outside. Where more than one way leads to a load, the worst of them alone is counted: within
    the allowance that passes, beyond it the drop must be measured, as no published method shares the current among them.
    """
    if electrical.nominal_voltage is None:
        raise MissingRecord("the system's nominal voltage is not recorded", electrical.at())
    allowed = allowable_drop(electrical.nominal_voltage.si)
    if allowed is None:
        raise MissingRecord(f"Table 11-6 has no row for {electrical.nominal_voltage}", electrical.at("nominal_voltage"))
    wires = {wire.id: wire for wire in electrical.wires}
    ends = _ends(electrical, circuit)
    drops = drops_to(ends, circuit.analysis, wire_ohms)
    for load in electrical.loads:
        drop = drops.get(load.id)
        if drop is None:
            yield _untold(load, ends, circuit, wires, wire_ohms)
        elif drop.edge < 0 and not drop.bound:
            yield no_data(load.id, "no wire of its own leads to this load", load.at())
        else:
            limit = allowed[load.intermittent]
            yield later_if(drop.volts <= limit, _drop, load, drop, wires, wire_ohms, circuit, limit, aluminium.wires)


def _ends(electrical: Electrical, circuit: Circuit) -> set[str]:
    """Where a load's own way ends: at buses, grounds and sources, on what joins two sources, where protection is fed from."""
    network, analysis = circuit.network, circuit.analysis
    ends = {*network.buses, *(point for supply in network.supplies for point in (supply.point, supply.back))}
    for index in analysis.core:
        if index not in analysis.meshed:
            ends |= {network.edges[index].start, network.edges[index].end}
    for device in electrical.protection:
        if device.fed_from:
            ends.add(network.edges[circuit.edge_of[f"{device.id}.fed_from"][0]].start)
    return ends


def _untold(
    load: Load, ends: Set[str], circuit: Circuit, wires: Mapping[str, Wire], wire_ohms: Mapping[str, float]
) -> Finding:
    """Why a load's drop cannot be told: a wire on its way, or the way itself."""
    missing = []
    for point, way in (
        (load.id, "from the last bus to this load"),
        (f"{load.id}.return", "from this load to a ground"),
    ):
        end = point
        for edge in circuit.analysis.path(point, to_bus=True):
            end = edge.end if end == edge.start else edge.start
            if edge.kind == "wire" and edge.id not in wire_ohms:
                wire = wires[edge.id]
                return no_data(
                    load.id,
                    f"the size or length of wire {wire.id} is not recorded, or no table has it in {wire.material}",
                    wire.at(),
                    load.at(),
                )
        if end not in ends:
            missing.append(way)
    message = f"the way {' and '.join(missing)} is not recorded, or not the size and length of all its wires"
    return no_data(load.id, message, load.at())


def _drop(
    load: Load,
    drop: Drop,
    wires: Mapping[str, Wire],
    wire_ohms: Mapping[str, float],
    circuit: Circuit,
    limit: float,
    aluminium: Set[str],
) -> Finding:
    from_memory = bool(aluminium) and any(wire.id in aluminium for wire in _on_the_way(load, wires, circuit))
    worst = wires[circuit.network.edges[drop.edge].id] if drop.edge >= 0 else None
    kind = "intermittent" if load.intermittent else "continuous"
    how, otherwise = "is", Verdict.WARN if load.intermittent or from_memory else Verdict.FAIL
    remedy = f"Wire {worst.id} loses most of it, {drop.most:.2f} V; make it thicker or shorter." if worst else ""
    if drop.bound:
        how, otherwise, remedy = (
            "at the most is",
            Verdict.NO_DATA,
            "Measure it with the load on: several ways lead there.",
        )
    return at_most(
        load.id,
        drop.volts,
        limit,
        "V",
        f"{drop.volts:.2f} V {how} lost between the bus and this load's ground; {limit:g} V is allowed for {kind} loads",
        *((worst.at("length"),) if worst else ()),
        load.at("current"),
        remedy=remedy,
        working=lambda: list(_steps(load, drop, wires, wire_ohms, circuit)),
        otherwise=otherwise,
    )


def _on_the_way(load: Load, wires: Mapping[str, Wire], circuit: Circuit) -> Iterator[Wire]:
    """The wires from the last bus to a load and on to its ground, as far as the way is single."""
    for point in (load.id, f"{load.id}.return"):
        yield from (wires[edge.id] for edge in circuit.analysis.path(point, to_bus=True) if edge.kind == "wire")


def _steps(
    load: Load, drop: Drop, wires: Mapping[str, Wire], wire_ohms: Mapping[str, float], circuit: Circuit
) -> Iterator[str]:
    for wire in _on_the_way(load, wires, circuit):
        current, ohms = circuit.analysis.current[circuit.edge_of[wire.id][0]], wire_ohms[wire.id]
        lost = f"{ohms * 1000:.2f} mohm x {current:.4g} A = {ohms * current:.3f} V"
        yield f"{wire.id}, {wire.size}, {wire.length}: {lost}"
    if drop.bound:
        yield "and from there to a bus the worst of several ways, as if it were the only one"
    yield f"together {drop.volts:.3f} V"
