"""Does every wire carry its load, and does enough voltage arrive?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, at_most, no_data, not_applicable, rule
from jurystrut_rules.electrical.tables import allowable_drop

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.circuit import Edge
    from jurystrut.calculations.conductors import Ampacity
    from jurystrut.records.electrical import Electrical, Load, Wire
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["drop_is_allowed", "wire_carries_load"]


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
    electrical: Electrical, circuit: Circuit, wire_ampacity: dict[str, Ampacity | str]
) -> Iterator[Finding]:
    """The current of a wire is the sum of all loads behind it, all taken as on at once; returns carry what comes back.

    Where current can come from both sides, the larger of what either side can ask of the other counts. In a meshed part it
    is no more than the let-through rating. Starter feeders carry their current for seconds and are left out. All of this
    errs to the safe side.
    """
    analysis = circuit.analysis
    for wire in electrical.wires:
        carries = wire_ampacity[wire.id]
        current = analysis.current[circuit.edge_of[wire.id][0]]
        if wire.serves == "starter-feeder":
            yield not_applicable(wire.id, "a starter feeder carries its current for seconds only", wire.at("serves"))
        elif isinstance(carries, str):
            yield no_data(wire.id, f"what this wire carries cannot be told: {carries}", wire.at())
        else:
            meshed = circuit.edge_of[wire.id][0] in analysis.meshed
            yield _loaded(wire, current, carries, "may be asked for" if meshed else "feeds loads of")


def _loaded(wire: Wire, current: float, carries: Ampacity, how: str) -> Finding:
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
def drop_is_allowed(electrical: Electrical, circuit: Circuit, wire_ohms: dict[str, float]) -> Iterator[Finding]:
    """The drop is added up wire by wire from the last bus to the load, and from the load to its ground: ohms times amperes.

    Each wire carries all the loads it feeds at once; its resistance is Table 11-9's, at the temperature of the air around
    it where that is above 20 degC. Allowed at 14 V are 0.5 V for continuous and 1 V for intermittent loads, at 28 V twice
    that. The continuous figures are borne out by the worked rows of tables 11-7 and 11-8; the intermittent ones are from
    memory and only warn, and so is the resistance of aluminium, Table 11-10. One worked row of Table 11-7 exceeds its own
    limit by 0.8 %: here that is outside. Where more than one way leads to a load, no published method shares the current
    among them: measure the drop.
    """
    if electrical.nominal_voltage is None:
        raise MissingRecord("the system's nominal voltage is not recorded", electrical.at())
    allowed = allowable_drop(electrical.nominal_voltage.si)
    if allowed is None:
        raise MissingRecord(f"Table 11-6 has no row for {electrical.nominal_voltage}", electrical.at("nominal_voltage"))
    wires = {wire.id: wire for wire in electrical.wires}
    ends = _ends(circuit)
    for load in electrical.loads:
        out, back = _way(load.id, circuit, ends), _way(f"{load.id}.return", circuit, ends)
        if out is None or back is None:
            missing = "from the last bus to this load" if out is None else "from this load to a ground"
            yield no_data(load.id, f"the way {missing} is not recorded, or there is more than one", load.at())
        else:
            yield _drop(load, [*out, *back], wires, wire_ohms, circuit, allowed)


def _ends(circuit: Circuit) -> set[str]:
    """Where a load's own way ends: at buses, grounds and sources, on what joins two sources, where protection is fed from."""
    network, analysis = circuit.network, circuit.analysis
    shared = analysis.meshed.union(branch.edge for branch in analysis.towards.values())
    ends = {*network.buses, *(point for supply in network.supplies for point in (supply.point, supply.back))}
    for index, edge in enumerate(network.edges):
        if index not in shared and analysis.side[index] != "isolated":
            ends |= {edge.start, edge.end}
        elif edge.id.endswith(".fed_from"):
            ends.add(edge.start)
    return ends


def _way(point: str, circuit: Circuit, ends: set[str]) -> list[Edge] | None:
    """The wires from a load's terminal to the nearest of its ends; None where no single way leads to one."""
    edges = circuit.analysis.path(point, to_bus=True)
    for edge in edges:
        point = edge.end if point == edge.start else edge.start
    return [edge for edge in edges if edge.kind == "wire"] if point in ends else None


def _drop(
    load: Load,
    edges: list[Edge],
    wires: dict[str, Wire],
    wire_ohms: dict[str, float],
    circuit: Circuit,
    allowed: tuple[float, float],
) -> Finding:
    if not edges:
        return no_data(load.id, "no wire of its own leads to this load", load.at())
    limit = allowed[load.intermittent]
    lost = 0.0
    steps = []
    from_memory = load.intermittent or any(wires[edge.id].material == "aluminium" for edge in edges)
    worst, most = wires[edges[0].id], -1.0
    for edge in edges:
        wire = wires[edge.id]
        ohms = wire_ohms.get(wire.id)
        if ohms is None:
            missing = f"the length or size of wire {wire.id} is not recorded, or no table has it in {wire.material}"
            return no_data(load.id, missing, wire.at(), load.at())
        current = circuit.analysis.current[circuit.edge_of[wire.id][0]]
        lost += ohms * current
        steps.append(
            f"{wire.id}, {wire.size}, {wire.length}: {ohms * 1000:.2f} mohm x {current:.4g} A = {ohms * current:.3f} V"
        )
        if ohms * current > most:
            worst, most = wire, ohms * current
    kind = "intermittent" if load.intermittent else "continuous"
    return at_most(
        load.id,
        lost,
        limit,
        "V",
        f"{lost:.2f} V is lost between the bus and this load's ground; {limit:g} V is allowed for {kind} loads",
        worst.at("length"),
        load.at("current"),
        remedy=f"Wire {worst.id} loses most of it, {most:.2f} V; make it thicker or shorter.",
        working=lambda: [*steps, f"together {lost:.3f} V"],
        otherwise=Verdict.WARN if from_memory else Verdict.FAIL,
    )
