"""The recorded wires and devices as one network, and what each wire carries as installed: facts that all rules here share."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit import Analysis, Edge, Network, Sink, Supply, analyse
from jurystrut.calculations.conductors import Ampacity, aluminium_as_copper, ampacity
from jurystrut.calculations.errors import OutsideTable
from jurystrut.rulebook import MissingRecord, fact, plain_fact
from jurystrut_rules.electrical.tables import conductor_tables, insulation_celsius

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.electrical import Bundle, Electrical, Load, Wire

__all__ = [
    "Circuit",
    "Coils",
    "WireKinds",
    "analysis",
    "circuit",
    "coils",
    "network",
    "stacked",
    "wire_ampacity",
    "wire_kinds",
]

_CLOSED = (("in", "out"),)


class Circuit(NamedTuple):
    """The network, its analysis with every load on, and where each record stands in it.

    `edge_of` finds an edge by the id of its wire or device; a switch with several contacts has several edges. The edge of a
    wire has the wire's own number in the records.
    """

    network: Network
    analysis: Analysis
    edge_of: Mapping[str, list[int]]
    loads: Mapping[str, Load]

    def branch_currents(self, asked: Mapping[str, float]) -> list[float]:
        """By edge, what branches carry with other load currents, in amperes by the load's id; a load left out draws nothing.

        A sum, without analysing anew; zero where an edge lies in no branch.
        """
        branches, network = self.analysis.towards, self.network
        behind = [0.0] * len(network.places)
        for sink, (point, returning) in zip(network.sinks, network.sink_ends, strict=True):
            amperes = asked.get(sink.id, 0.0)
            behind[point] += amperes
            behind[returning] += amperes
        found = [0.0] * len(network.edges)
        for place in branches.outer:
            found[branches.edges[place]] = amperes = behind[place]
            behind[branches.inner[place]] += amperes
        return found

    def currents(self, asked: Mapping[str, float], edges: Iterable[int]) -> list[float]:
        """The same, and right for `edges` wherever they lie: analysed anew where one of them is in no branch."""
        if set(self.analysis.core).isdisjoint(edges):
            return self.branch_currents(asked)
        return self.analysis.with_currents(asked).current


@plain_fact
def network(electrical: Electrical) -> Network:
    """Join the records to a network: a bus is one point, a fuse or switch joins two, a load ends one."""
    edges = tuple(_edges(electrical))
    supplies = tuple(
        Supply(
            source.id,
            source.id,
            f"{source.id}.return",
            source.rating.si if source.rating and source.kind != "battery" else _UNLIMITED,
        )
        for source in electrical.sources
    )
    stops = frozenset(bus.id for bus in electrical.buses) | frozenset(ground.id for ground in electrical.grounds)
    return Network(edges, supplies, tuple(_sinks(electrical)), stops)


@fact
def analysis(network: Network) -> Analysis:
    """What every wire carries with every load on, and what its protection lets through."""
    return analyse(network)


@fact
def circuit(electrical: Electrical, network: Network, analysis: Analysis) -> Circuit:
    """The network, analysed, with the way back from it to the records."""
    wires = len(electrical.wires)
    edge_of = {edge.id: [index] for index, edge in enumerate(network.edges[:wires])}
    for index, edge in enumerate(network.edges[wires:], wires):
        edge_of.setdefault(edge.id, []).append(index)
    return Circuit(network, analysis, edge_of, {load.id: load for load in electrical.loads})


_UNLIMITED = float("inf")


@plain_fact
def stacked(electrical: Electrical, network: Network) -> frozenset[str]:
    """The batteries whose negative side sits on the positive side of another: two in a row."""
    fed, places = network.live(closed=True, backwards=False), network.places
    batteries = {source.id for source in electrical.sources if source.kind == "battery"}
    return frozenset(
        supply.id
        for supply in network.supplies
        if supply.id in batteries and fed[places[supply.back]] and supply.back not in network.reached({supply.point})
    )


def _edges(electrical: Electrical) -> Iterator[Edge]:
    # Devices with a side nearer the source and one away from it; a wire leaves the second and arrives at the first.
    two_sided = frozenset(d.id for d in (*electrical.protection, *electrical.switches, *electrical.diodes))
    for wire in electrical.wires:  # first of all, so that a wire's number is its edge's
        start, end = wire.from_, wire.to
        start, end = f"{start}.out" if start in two_sided else start, f"{end}.in" if end in two_sided else end
        yield Edge(wire.id, start, end, "wire")
    for device in electrical.protection:
        yield Edge(device.id, f"{device.id}.in", f"{device.id}.out", "protection", device.rating.si)
        if device.fed_from:
            source = f"{device.fed_from}.out" if device.fed_from in two_sided else device.fed_from
            yield Edge(f"{device.id}.fed_from", source, f"{device.id}.in", "link")
    for switch in electrical.switches:
        for one, other in tuple(contact.joins for contact in switch.contacts) or _CLOSED:
            yield Edge(switch.id, f"{switch.id}.{one}", f"{switch.id}.{other}", "switch")
    for diode in electrical.diodes:
        yield Edge(diode.id, f"{diode.id}.in", f"{diode.id}.out", "diode", one_way=True)
    for load in electrical.loads:
        if load.grounded_at:
            yield Edge(f"{load.id}.grounded_at", f"{load.id}.return", load.grounded_at, "link")


def _sinks(electrical: Electrical) -> Iterator[Sink]:
    for load in electrical.loads:
        yield Sink(load.id, load.id, f"{load.id}.return", load.current.si)
    for switch in electrical.switches:
        if switch.coil:
            yield Sink(switch.id, f"{switch.id}.coil", f"{switch.id}.coil-return", switch.coil.si)


class Coils(NamedTuple):
    """What the coils of relays and contactors draw while closed, in amperes by switch; the starter's own apart."""

    held: dict[str, float]
    cranking: dict[str, float]


@plain_fact
def coils(electrical: Electrical) -> Coils:
    """All coils are taken as drawing in every phase, which errs upwards; but those that only the starter hangs on."""
    loads = {load.id for load in electrical.loads}
    starters = {wire.from_ for wire in electrical.wires if wire.serves == "starter-feeder" and wire.to in loads}
    found = Coils({}, {})
    for switch in electrical.switches:
        if switch.coil:
            (found.cranking if switch.id in starters else found.held)[switch.id] = switch.coil.si
    return found


class WireKinds(NamedTuple):
    """Wires of one kind differ in their ends and their length alone: what hangs on nothing else is found once a kind.

    `of` is the kind of each wire, by its number in the records; `first` and `counts` are by kind its first wire and how many
    there are. A hundred thousand wires are of a few thousand kinds.
    """

    of: list[int]
    first: list[Wire]
    counts: list[int]


@fact
def wire_kinds(electrical: Electrical) -> WireKinds:
    """By size, specification, insulation, metal and bundle."""
    known: dict[tuple[object, ...], int] = {}
    found = WireKinds([], [], [])
    for wire in electrical.wires:
        key = (wire.size and wire.size.number, wire.spec, wire.insulation, wire.material, wire.bundle)
        kind = known.setdefault(key, len(known))
        if kind == len(found.first):
            found.first.append(wire)
            found.counts.append(0)
        found.counts[kind] += 1
        found.of.append(kind)
    return found


@plain_fact
def wire_ampacity(electrical: Electrical, aircraft: Aircraft, wire_kinds: WireKinds) -> list[Ampacity | str]:
    """What each wire carries as installed, or in words why that cannot be told, by its number in the records."""
    limits = aircraft.limits
    if limits is None or limits.altitude is None:
        raise MissingRecord(
            "aircraft.limits.altitude is not recorded; wires carry less the higher they fly", aircraft.at("limits")
        )
    feet = limits.altitude.to("ft")
    bundles = {bundle.id: bundle for bundle in electrical.bundles}
    in_bundle: Counter[str] = Counter()
    for wire, count in zip(wire_kinds.first, wire_kinds.counts, strict=True):
        in_bundle[wire.bundle or ""] += count
    carries = [
        _ampacity(wire, bundles.get(wire.bundle or ""), in_bundle[wire.bundle or ""], feet) for wire in wire_kinds.first
    ]
    return [carries[kind] for kind in wire_kinds.of]


def _ampacity(wire: Wire, bundle: Bundle | None, recorded: int, feet: float) -> Ampacity | str:
    if wire.size is None:
        return "its size is not recorded"
    rating = wire.insulation.to("degC") if wire.insulation else insulation_celsius(wire.spec)
    if rating is None:
        return "neither its specification nor 'insulation' tells what temperature its insulation stands"
    if wire.bundle and (bundle is None or bundle.ambient is None):
        return f"the ambient temperature of bundle {wire.bundle} is not recorded"
    ambient = bundle.ambient.to("degC") if bundle and bundle.ambient else _FREE_AIR_AMBIENT_C
    wires = max(recorded, bundle.wires or 0) if bundle else 1
    loading = bundle.loading.si if bundle and bundle.loading else 1.0
    try:
        if wire.material == "aluminium":
            return _of_aluminium(wire.size.name, int(rating), ambient, wires, loading, feet)
        return ampacity(wire.size.name, int(rating), ambient, wires, loading, feet, conductor_tables())
    except OutsideTable as outside:
        return str(outside)


_HOTTEST_ALUMINIUM_C = 150  # ac43-table-11-10: it has no column for hotter insulation


def _of_aluminium(size: str, rating: int, ambient: float, wires: int, loading: float, feet: float) -> Ampacity:
    copper = aluminium_as_copper(size)
    found = ampacity(copper, min(rating, _HOTTEST_ALUMINIUM_C), ambient, wires, loading, feet, conductor_tables())
    step = f"aluminium of size {size}: rated as copper of size {copper} (AC 43.13-1B, note to Table 11-9)"
    return Ampacity(found.amperes, (step, *found.steps))


# A wire recorded in no bundle is taken in air as hot as Table 11-9 takes it: 70 degC.
_FREE_AIR_AMBIENT_C = 70.0  # ac43-table-11-9
