"""Does the record of the wiring agree with itself, and with the other sections?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, at_least, fails, no_data, not_applicable, passes, rule, warns
from jurystrut_rules.electrical.tables import pounds_per_1000_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Electrical
    from jurystrut.records.weights import Component, Weights
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["devices_are_used", "harness_weighs_its_wires", "markings_differ", "wires_lead_somewhere"]


@rule(
    "electrical/unused-device",
    title="Every device is used",
    asks="Is every protective device, switch, diode and junction joined to something on both sides?",
    references=("no-loose-ends",),
    due=Stage.SYSTEMS,
    remedy="Record its wires, or take it out of the record.",
    at_worst=Verdict.WARN,
)
def devices_are_used(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """A device with a side that nothing is joined to does nothing. A spare position is best left out until it is used."""
    devices = (*electrical.protection, *electrical.switches, *electrical.diodes)
    if not devices:
        yield not_applicable("aircraft", "no device is recorded", electrical.at())
    network = circuit.network
    for device in devices:
        own = circuit.edge_of[device.id]
        points = [point for i in own for point in (network.edges[i].start, network.edges[i].end)]
        loose = [point for point in dict.fromkeys(points) if len(network.neighbours[point]) == points.count(point)]
        if loose:
            message = f"nothing is joined to {' and '.join(loose)}"
            yield warns(device.id, message, device.at(), remedy="Record its wires, or take it out of the record.")
        else:
            yield passes(device.id, "joined on every side", device.at())


@rule(
    "electrical/dead-end",
    title="No wire leads nowhere",
    asks="Does every junction have at least two wires?",
    references=("no-loose-ends",),
    due=Stage.SYSTEMS,
    remedy="Record the wire that goes on, or take the loose one out.",
    at_worst=Verdict.WARN,
)
def wires_lead_somewhere(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """A wire that ends at a splice, stud, block or connector from which nothing goes on is a live end or a slip."""
    junctions = {junction.id for junction in electrical.junctions}
    if not junctions:
        yield not_applicable("aircraft", "no junction is recorded", electrical.at())
        return
    ends: dict[str, list[str]] = {}
    for edge in circuit.network.edges:
        for point in (edge.start, edge.end):
            ends.setdefault(point, []).append(edge.id)
    points_of: dict[str, list[str]] = {}
    for point in ends:
        owner = point.partition(".")[0]
        if owner in junctions:
            points_of.setdefault(owner, []).append(point)
    for junction in electrical.junctions:
        alone = [ends[point][0] for point in points_of.get(junction.id, ()) if len(ends[point]) == 1]
        if alone or junction.id not in points_of:
            message = f"{', '.join(alone)} ends here and goes no further" if alone else "no wire is joined to it"
            yield warns(junction.id, message, junction.at(), remedy="Record the wire that goes on, or take it out.")
        else:
            yield passes(junction.id, "what arrives goes on", junction.at())


@rule(
    "electrical/marking",
    title="No two wires with one marking",
    asks="Is the marking of every wire its own?",
    references=("ac43-11-208",),
    due=Stage.SYSTEMS,
    remedy="Mark one of the wires anew.",
)
def markings_differ(electrical: Electrical) -> Iterator[Finding]:
    """A wire's marking is what is recorded as such, else its id. Capitals and small letters count as the same."""
    wires: dict[str, list[str]] = {}
    for wire in electrical.wires:
        wires.setdefault((wire.marking or wire.id).casefold(), []).append(wire.id)
    if not electrical.wires:
        yield no_data("aircraft", "no wire is recorded", electrical.at(), remedy="Record 'wires'.")
        return
    by_id = {wire.id: wire for wire in electrical.wires}
    shared = {marking: ids for marking, ids in wires.items() if len(ids) > 1}
    for ids in shared.values():
        first = by_id[ids[-1]]
        yield fails(
            first.id,
            f"it is marked {first.marking or first.id}, as {', '.join(ids[:-1])} is",
            first.at("marking"),
            *(by_id[other].at("marking") for other in ids[:-1]),
            remedy="Mark it anew.",
        )
    if not shared:
        yield passes("aircraft", f"{len(wires)} wires, as many markings", electrical.at("wires"))


@rule(
    "electrical/harness-weight",
    title="Weight of the wires",
    asks="Do the components that stand for the wires weigh at least what the wires do?",
    references=("wire-weight",),
    due=Stage.SYSTEMS,
    remedy="Weigh the wiring, or correct its components.",
    at_worst=Verdict.WARN,
)
def harness_weighs_its_wires(electrical: Electrical, weights: Weights) -> Iterator[Finding]:
    """Every wire's length times its weight by size, against the components named as `harness`, together. The figures are
    estimates, and cover ETFE-insulated copper of sizes 24 to 10; thicker wires count as bare copper. Connectors, blocks, clamps
    and coaxial cables come on top, so a heavier harness contradicts nothing; one that weighs less than three quarters of its
    wires' estimate is a warning.
    """
    components = [component for component in weights.components if component.id in electrical.harness]
    if not components:
        remedy = "Record 'harness'."
        yield no_data(
            "aircraft", "which components stand for the wires is not recorded", electrical.at(), remedy=remedy
        )
        return
    unweighed = [component for component in components if component.weight is None]
    unknown = [wire for wire in electrical.wires if wire.length is None or wire.size is None]
    if unweighed:
        yield no_data("aircraft", f"what {unweighed[0].id} weighs is not recorded", unweighed[0].at())
    elif unknown:
        yield no_data("aircraft", f"the size or length of {unknown[0].id} is not recorded", unknown[0].at())
    else:
        yield _weighed(electrical, components)


def _weighed(electrical: Electrical, components: list[Component]) -> Finding:
    by_size: dict[str, float] = {}
    for wire in electrical.wires:
        if wire.size and wire.length:
            by_size[wire.size.name] = by_size.get(wire.size.name, 0.0) + wire.length.to("ft")
    pounds = {size: feet * pounds_per_1000_ft(size) / 1000 for size, feet in by_size.items()}
    total = sum(pounds.values())
    recorded = sum(component.weight.to("lb") for component in components if component.weight)
    least = total * _SHARE
    return at_least(
        "aircraft",
        recorded,
        least,
        "lb",
        f"the harness is recorded at {recorded:.2f} lb; its wires alone come to about {total:.2f} lb",
        *(component.at("weight") for component in components),
        electrical.at("harness"),
        remedy=f"Weigh it; {least:.1f} lb or more are to be expected.",
        working=lambda: [
            *(f"{size} AWG: {by_size[size]:.1f} ft = {lb:.3f} lb" for size, lb in pounds.items()),
            f"together {total:.2f} lb, of which {_SHARE:.0%}",
        ],
    )


_SHARE = 0.75  # the estimate is 8 to 15 % above what is recalled of specification sheets, and thinner insulation exists
