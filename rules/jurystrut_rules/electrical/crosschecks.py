"""Does the record of the wiring agree with itself, and with the other sections?"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    Sound,
    Stage,
    Verdict,
    at_least,
    between,
    fails,
    later_if,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.electrical.tables import pounds_per_1000_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.circuit import Network
    from jurystrut.records.electrical import Diode, Electrical, Protection, Source, Switch, Wire
    from jurystrut.records.weights import Component, Weights
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = [
    "devices_are_used",
    "harness_weighs_its_wires",
    "markings_differ",
    "spare_positions_are_free",
    "wires_lead_somewhere",
]


@rule(
    "electrical/unused-device",
    title="Every device is used",
    asks="Is every source, protective device, switch and diode joined to something on both sides?",
    references=("no-loose-ends",),
    due=Stage.SYSTEMS,
    remedy="Record its wires, or take it out of the record.",
    at_worst=Verdict.WARN,
)
def devices_are_used(electrical: Electrical, circuit: Circuit) -> Iterator[Finding | Sound]:
    """A device with a side that nothing is joined to does nothing. One recorded as `spare` may: it is kept for later use."""
    devices = (*electrical.protection, *electrical.switches, *electrical.diodes)
    if not devices:
        yield not_applicable("aircraft", "no device is recorded", electrical.at())
    network = circuit.network
    ends, joined = network.ends, network.joined
    for source in electrical.sources:
        yield _source_joined(source, network)
    spare = {device.id for device in electrical.protection if device.spare}
    for device in devices:
        if device.id in spare:
            yield not_applicable(device.id, "it is recorded as a spare position", device.at())
            continue
        own = circuit.edge_of[device.id]
        one, other = ends[own[0]]
        used = len(own) == 1 and joined[one] > 1 and joined[other] > 1
        yield later_if(used, _used, device, own, network)


def _used(device: Protection | Switch | Diode, own: list[int], network: Network) -> Finding:
    loose = [point for point, ids in _beyond(own, network).items() if not ids]
    working = partial(_joined, own, network)
    if not loose:
        return passes(device.id, "joined on every side", device.at(), working=working)
    message = f"nothing is joined to {' and '.join(loose)}"
    remedy = "Record its wires, or take it out of the record."
    return warns(device.id, message, device.at(), remedy=remedy, working=working)


def _beyond(own: list[int], network: Network) -> dict[str, list[str]]:
    """What is joined to each side of a device, by ids."""
    points = dict.fromkeys(point for i in own for point in (network.edges[i].start, network.edges[i].end))
    return {p: [network.edges[i].id for _, i in network.near(p) if i not in own] for p in points}


def _source_joined(source: Source, network: Network) -> Finding:
    joined = {point: list(network.near(point)) for point in (source.id, f"{source.id}.return")}
    loose = [point for point, steps in joined.items() if not steps]

    def working() -> list[str]:
        return [
            f"joined to {point}: {', '.join(network.edges[i].id for _, i in steps) or 'nothing'}"
            for point, steps in joined.items()
        ]

    if loose:
        message = f"nothing is joined to {' and '.join(loose)}"
        return warns(source.id, message, source.at(), remedy="Record its wires.", working=working)
    return passes(source.id, "joined on both sides", source.at(), working=working)


def _joined(own: list[int], network: Network) -> list[str]:
    return [f"joined to {point}: {', '.join(ids) or 'nothing'}" for point, ids in _beyond(own, network).items()]


@rule(
    "electrical/spare-position",
    title="Spare positions are free",
    asks="Does nothing hang on a device that is recorded as a spare position?",
    references=("no-loose-ends",),
    due=Stage.SYSTEMS,
    remedy="Record it as used, or move the wire.",
)
def spare_positions_are_free(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """A spare position is one that a later circuit may have; a wire on its far side contradicts that. What is fitted there must
    still be no larger than its wire when one comes: electrical/wire-protection then judges it like any other.
    """
    spares = [device for device in electrical.protection if device.spare]
    if not spares:
        yield not_applicable("aircraft", "no spare position is recorded", electrical.at("protection"))
    network = circuit.network
    for device in spares:
        own = circuit.edge_of[device.id]
        beyond = [network.edges[i].id for _, i in network.near(f"{device.id}.out") if i not in own]
        working = partial(_joined, own, network)
        if beyond:
            message = f"recorded as a spare position, and {', '.join(beyond)} hangs on it"
            remedy = "Record it as used, or move the wire."
            yield fails(device.id, message, device.at("spare"), remedy=remedy, working=working)
        else:
            yield passes(device.id, "nothing hangs on this spare position", device.at("spare"), working=working)


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
        joined = {point: ends[point] for point in points_of.get(junction.id, ())}

        def working(joined: dict[str, list[str]] = joined) -> list[str]:
            return [f"{point}: {', '.join(ids)}" for point, ids in joined.items()] or ["no wire names it"]

        if alone or not joined:
            message = f"{', '.join(alone)} ends here and goes no further" if alone else "no wire is joined to it"
            remedy = "Record the wire that goes on, or take it out."
            yield warns(junction.id, message, junction.at(), remedy=remedy, working=working)
        else:
            yield passes(junction.id, "what arrives goes on", junction.at(), working=working)


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
    wires = electrical.wires
    if not wires:
        yield no_data("aircraft", "no wire is recorded", electrical.at(), remedy="Record 'wires'.")
        return
    markings = [(wire.marking or wire.id).casefold() for wire in wires]
    count, different = len(wires), len(set(markings))
    if count == different:
        yield passes(
            "aircraft",
            f"{count} wires, as many markings",
            electrical.at("wires"),
            working=lambda: [f"wires: {count}", f"different markings, capitals and small letters alike: {different}"],
        )
        return
    marked: dict[str, list[Wire]] = {}
    for wire, marking in zip(wires, markings, strict=True):
        marked.setdefault(marking, []).append(wire)
    for shared in marked.values():
        if len(shared) > 1:
            yield _shared_marking(shared)


def _shared_marking(wires: list[Wire]) -> Finding:
    *others, last = wires
    return fails(
        last.id,
        f"it is marked {last.marking or last.id}, as {', '.join(other.id for other in others)} is",
        last.at("marking"),
        *(other.at("marking") for other in others),
        remedy="Mark it anew.",
        working=partial(_marked, wires),
    )


def _marked(wires: list[Wire]) -> list[str]:
    return [f"{wire.id}: marked {wire.marking or wire.id}" for wire in wires]


@rule(
    "electrical/harness-weight",
    title="Weight of the wires",
    asks="Do the components that stand for the wires weigh what the wires do, and what else is in them?",
    references=("wire-weight", "own-harness-weight"),
    due=Stage.SYSTEMS,
    remedy="Weigh the wiring, or correct its components.",
    at_worst=Verdict.WARN,
)
def harness_weighs_its_wires(electrical: Electrical, weights: Weights) -> Iterator[Finding]:
    """Every wire's length times its weight by size, against the components named as `harness`, together. The figures are
    estimates, and cover ETFE-insulated copper of sizes 24 to 10; thicker wires count as bare copper, aluminium is not known. One
    that weighs less than three quarters of its wires' estimate is a warning. Connectors, blocks, clamps and coaxial cables
    come on top: where `harness_fittings` says what they weigh, a harness of more than that and five quarters of the estimate
    is a warning too; where it does not, a heavier harness contradicts nothing. Both shares are our own choice. Where no
    component stands for the wires, their estimate is told: weight that the balance does not know of.
    """
    components = [component for component in weights.components if component.id in electrical.harness]
    unweighed = [component for component in components if component.weight is None]
    unknown = [wire for wire in electrical.wires if wire.length is None or wire.size is None]
    aluminium = [wire for wire in electrical.wires if wire.material == "aluminium"]
    if not components:
        yield _uncounted(electrical, partial_sum=bool(unknown or aluminium))
    elif unweighed:
        yield no_data("aircraft", f"what {unweighed[0].id} weighs is not recorded", unweighed[0].at())
    elif unknown:
        yield no_data("aircraft", f"the size or length of {unknown[0].id} is not recorded", unknown[0].at())
    elif aluminium:
        message = f"{aluminium[0].id} is of aluminium, whose weight no table held here tells"
        yield no_data("aircraft", message, aluminium[0].at("material"))
    else:
        yield _weighed(electrical, components)


def _uncounted(electrical: Electrical, *, partial_sum: bool) -> Finding:
    """No component stands for the wires: what they weigh is told, so that it can be entered."""
    total = sum(pounds for _, pounds in _by_size(electrical).values())
    message = "which components stand for the wires is not recorded"
    if not total:
        return no_data("aircraft", message, electrical.at(), remedy="Record 'harness'.")
    about = "those of known size and length, of copper, come to" if partial_sum else "they come to about"
    remedy = f"Add a component of {total:.1f} lb or more to the weights, or find the one that they are in; name it in 'harness'."
    return no_data("aircraft", f"{message}; {about} {total:.2f} lb", electrical.at("wires"), remedy=remedy)


def _by_size(electrical: Electrical) -> dict[str, tuple[float, float]]:
    """Feet and pounds of the copper wires whose size and length are recorded, by size."""
    feet: dict[str, float] = {}
    for wire in electrical.wires:
        if wire.size and wire.length and wire.material == "copper":
            feet[wire.size.name] = feet.get(wire.size.name, 0.0) + wire.length.to("ft")
    return {size: (long, long * pounds_per_1000_ft(size) / 1000) for size, long in feet.items()}


def _weighed(electrical: Electrical, components: list[Component]) -> Finding:
    by_size = _by_size(electrical)
    total = sum(pounds for _, pounds in by_size.values())
    recorded = sum(component.weight.to("lb") for component in components if component.weight)
    fittings = electrical.harness_fittings.to("lb") if electrical.harness_fittings else None
    least, most = total * _LEAST_SHARE + (fittings or 0.0), total * _MOST_SHARE + (fittings or 0.0)
    message = f"the harness is recorded at {recorded:.2f} lb; its wires alone come to about {total:.2f} lb"
    where = (*(component.at("weight") for component in components), electrical.at("harness"))

    def working() -> list[str]:
        return [
            *(f"{size} AWG: {feet:.1f} ft = {pounds:.3f} lb" for size, (feet, pounds) in by_size.items()),
            f"wires together {total:.2f} lb; what else is in the harness: "
            + ("not recorded" if fittings is None else f"{fittings:.2f} lb"),
            f"at least {_LEAST_SHARE:.0%} of the wires and the rest: {least:.2f} lb",
            *([f"at most {_MOST_SHARE:.0%} of the wires and the rest: {most:.2f} lb"] if fittings is not None else []),
        ]

    if fittings is None:
        remedy = f"Weigh it; {least:.1f} lb or more are to be expected."
        return at_least("aircraft", recorded, least, "lb", message, *where, remedy=remedy, working=working)
    message = f"{message}, and what else is in it to {fittings:.2f} lb"
    remedy = f"Weigh it; {least:.1f} to {most:.1f} lb are to be expected."
    return between("aircraft", recorded, least, most, "lb", message, *where, remedy=remedy, working=working)


_LEAST_SHARE = 0.75  # own-harness-weight: the estimate is 8 to 15 % above what is recalled of specification sheets
_MOST_SHARE = 1.25  # own-harness-weight: as far on the other side
