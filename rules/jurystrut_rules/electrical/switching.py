"""Are switches large enough for their loads, none too many, and is there a master?"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from itertools import chain
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Sound,
    Stage,
    Verdict,
    at_most,
    fails,
    later_if,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.electrical.tables import switch_factor

if TYPE_CHECKING:
    from collections.abc import Container, Iterator, Mapping, Set

    from jurystrut.calculations.circuit import Network, Sink
    from jurystrut.records.electrical import Electrical, Load, Source, Switch
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = [
    "coils_can_close",
    "dangerous_switches_are_guarded",
    "master_disconnects",
    "one_switch_in_a_feed",
    "switch_fits_load",
]

_ROW_OF_NATURE = {"lamp": "lamp", "relay": "inductive", "heater": "resistive", "motor": "motor"}
_OTHER_ROW = "resistive"
_BY_HAND = frozenset({"toggle", "rocker", "push-button", "rotary", "key", "lever", "dimmer"})


@rule(
    "electrical/switch-rating",
    title="Switch rating with derating",
    asks="Is every switch rated for its loads, multiplied by the factor for their kind?",
    references=("ac43-table-11-4", "ac43-11-53"),
    due=Stage.SYSTEMS,
    remedy="Fit a switch of a higher rating, or let it work a relay.",
)
def switch_fits_load(electrical: Electrical, circuit: Circuit) -> Iterator[Finding | Sound]:
    """A filament draws many times its steady current when cold, a motor when it starts, a coil throws a spark.

    Table 11-4 multiplies the steady current by a factor for each kind of load; a 14 V system uses its rows for 12 V. The
    table has no row for electronic loads, ignitions and LED lamps: they are taken as resistive. Contacts of relays and
    contactors are held against the continuous current as it is.
    """
    if electrical.nominal_voltage is None:
        raise MissingRecord("the system's nominal voltage is not recorded", electrical.at())
    if not electrical.switches:
        yield not_applicable("aircraft", "no switch is recorded", electrical.at())
        return
    volts = electrical.nominal_voltage.si
    factors = {nature: switch_factor(volts, row) for nature, row in _ROW_OF_NATURE.items()}
    other = switch_factor(volts, _OTHER_ROW)
    needed = {load.id: load.current.si * factors.get(load.nature, other) for load in electrical.loads}
    steady = {load.id: load.current.si for load in electrical.loads if not load.intermittent}
    for switch in electrical.switches:
        if switch.coil:
            needed[switch.id], steady[switch.id] = switch.coil.si * factors["relay"], switch.coil.si
    for by_hand, asked in ((True, needed), (False, steady)):
        chosen = [switch for switch in electrical.switches if (switch.kind in _BY_HAND) is by_hand]
        if not chosen:
            continue
        own = [circuit.edge_of[switch.id] for switch in chosen]
        current = circuit.currents(asked, chain.from_iterable(own))
        for switch, edges in zip(chosen, own, strict=True):
            most = max([current[index] for index in edges])
            enough = switch.rating is not None and most <= switch.rating.si
            yield later_if(enough, _rated, switch, most, asked, circuit)


def _rated(switch: Switch, needed: float, shares: dict[str, float], circuit: Circuit) -> Finding:
    if switch.rating is None:
        return no_data(
            switch.id,
            f"its rating is not recorded; its loads ask for {needed:.4g} A",
            switch.at(),
            remedy="Record its 'rating'.",
        )
    how = "multiplied by their factors" if switch.kind in _BY_HAND else "continuous"
    return at_most(
        switch.id,
        needed,
        switch.rating.si,
        "A",
        f"its loads, {how}, ask for {needed:.4g} A; it is rated {switch.rating}",
        switch.at("rating"),
        remedy=f"Fit one rated {needed:.4g} A or more, or let it work a relay.",
        working=lambda: [
            *_shares(switch.id, shares, circuit),
            f"most that any contact carries (between two sources, the larger demand of either side): {needed:.4g} A",
        ],
    )


def _shares(switch: str, shares: dict[str, float], circuit: Circuit) -> Iterator[str]:
    """What each load asks of the switch, for the loads that have a single way over it."""
    analysis = circuit.analysis
    for sink in circuit.network.sinks:
        asked = shares.get(sink.id, 0.0)
        if asked and any(edge.id == switch for edge in (*analysis.path(sink.point), *analysis.path(sink.back))):
            table = "" if asked == sink.current else f" x {asked / sink.current:g} (Table 11-4) = {asked:.4g} A"
            yield f"{sink.id}: {sink.current:g} A{table}"


@rule(
    "electrical/series-switches",
    title="No second switch in one feed",
    asks="Does each load have no more than one switch of its own in its feed and return?",
    references=("series-switches",),
    due=Stage.SYSTEMS,
    remedy="Leave one of the two switches out.",
    at_worst=Verdict.WARN,
)
def one_switch_in_a_feed(electrical: Electrical, circuit: Circuit) -> Iterator[Finding | Sound]:
    """The switches that only one load hangs on are counted, on its supply and its return, from the load to the first bus. A
    switch that several loads hang on, such as a master or one for a whole bus, is not counted, nor a relay or contactor.
    """
    switches = {switch.id: switch for switch in electrical.switches if switch.kind in _BY_HAND}
    switches_of: dict[str, list[str]] = {}
    for id_, users in _hanging(circuit, switches).items():
        if len(users) == 1:  # a second contact, of whatever load, makes it more than this load's own
            switches_of.setdefault(users[0], []).append(id_)
    if not electrical.loads:
        yield not_applicable("aircraft", "no load is recorded", electrical.at())
    for load in electrical.loads:
        own = switches_of.get(load.id, [])
        yield later_if(len(own) <= 1, _own_switches, load, own, switches, circuit)


def _own_switches(load: Load, own: list[str], switches: Mapping[str, Switch], circuit: Circuit) -> Finding:
    return at_most(
        load.id,
        len(own),
        1,
        "switches",
        f"{' and '.join(own) or 'no switch'} of its own in its feed",
        *[switches[id_].at() for id_ in own[1:]],
        load.at(),
        remedy=f"Leave {' or '.join(own)} out.",
        working=partial(_counted, circuit, load, switches, own),
    )


def _counted(circuit: Circuit, load: Load, switches: Container[str], own: list[str]) -> list[str]:
    ways = (circuit.analysis.path(point, to_bus=True) for point in (load.id, f"{load.id}.return"))
    way = [edge.id for path in ways for edge in path if edge.id in switches]
    return [
        f"switches on its way to the first bus and back: {', '.join(way) or 'none'}",
        f"of these no other load hangs on: {', '.join(own) or 'none'}",
        "the most: 1 (common practice, no source)",
    ]


def _hanging(circuit: Circuit, switches: Container[str]) -> dict[str, list[str]]:
    """By switch, for each contact that loads hang on with no bus between: the load, or _SEVERAL."""
    network, branches, places = circuit.network, circuit.analysis.towards, circuit.network.places
    behind: list[str | None] = [None] * len(places)
    for sink, ends in zip(network.sinks, network.sink_ends, strict=True):
        for place in ends:
            behind[place] = sink.id if behind[place] is None else _SEVERAL
    buses = {places[bus] for bus in network.buses if bus in places}
    found: dict[str, list[str]] = {}
    for place in branches.outer:
        load = behind[place]
        if load is None or place in buses:
            continue
        edge, towards = network.edges[branches.edges[place]], branches.inner[place]
        behind[towards] = load if behind[towards] is None else _SEVERAL
        if edge.kind == "switch" and edge.id in switches:
            found.setdefault(edge.id, []).append(load)
    return found


_SEVERAL = ""  # no load has an empty id


@rule(
    "electrical/master-switch",
    title="The master disconnects every source",
    asks="With the master off, is every bus without a source?",
    references=("23-1361",),
    due=Stage.SYSTEMS,
    remedy="Let the master open a contactor next to the source.",
    at_worst=Verdict.WARN,
)
def master_disconnects(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """Old 23.1361 (from memory) wants a master switch that disconnects each source from the distribution system. The switches
    recorded as `master` are opened, and with them every relay and contactor whose coil then has no current; each bus that a
    source still reaches is told. A generator whose field then has no current counts as disconnected. A bus that the engine
    lives on may stay live by the same paragraph, so this warns at most.
    """
    masters = [switch for switch in electrical.switches if switch.master]
    if not masters:
        yield no_data(
            "aircraft",
            "no switch is recorded as the master",
            electrical.at("switches"),
            remedy="Record 'master: true'.",
        )
        return
    opened = _opened(circuit, {switch.id for switch in masters})
    edges = tuple(edge for edge in circuit.network.edges if edge.id not in opened)
    left = replace(circuit.network, edges=edges)
    for source in electrical.sources:
        yield _disconnected(source, electrical, left, sorted(opened))


def _disconnected(source: Source, electrical: Electrical, left: Network, opened: list[str]) -> Finding:
    fed = left.fed(by={source.id})
    reached = [bus for bus in electrical.buses if bus.id in fed]

    def working() -> list[str]:
        return [
            f"opened: {', '.join(opened)}",
            f"field: {source.field or 'none'}{', still fed' if source.field in left.fed() else ''}",
            f"buses that it still reaches: {', '.join(bus.id for bus in reached) or 'none'}",
        ]

    if source.field and source.field not in left.fed():
        message = f"with {', '.join(opened)} open its field has no current"
        return passes(source.id, message, source.at(), working=working)
    if not reached:
        return passes(source.id, f"with {', '.join(opened)} open it reaches no bus", source.at(), working=working)
    named = ", ".join(bus.id for bus in reached)
    return warns(
        source.id,
        f"with the master off it still reaches {named}",
        source.at(),
        *(bus.at() for bus in reached),
        remedy=f"Let the master open the way from {source.id} to {named}, next to the source.",
        working=working,
    )


def _opened(circuit: Circuit, masters: set[str]) -> set[str]:
    """The master switches, and every relay and contactor that drops out after them."""
    opened = set(masters)
    coils = {sink.id: sink for sink in circuit.network.sinks if sink.id not in circuit.loads}
    while True:
        edges = tuple(edge for edge in circuit.network.edges if edge.id not in opened)
        left = replace(circuit.network, edges=edges)
        fed, returned = left.fed(), left.returned()
        dropped = {id_ for id_, s in coils.items() if s.point not in fed or s.back not in returned} - opened
        if not dropped:
            return opened
        opened |= dropped


@rule(
    "electrical/coil-feed",
    title="Relays and contactors can close",
    asks="Does every coil get current on the battery alone, without the contacts that it is to close?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Feed the coil from the battery's side of its contacts.",
)
def coils_can_close(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """All relays and contactors start open, and all switches that a hand moves closed. Whose coil the batteries then feed,
    closes, and so on until no more do. Where a starter stays dead then, what is left open can never close: no generator turns
    before. One that closes once a generator turns, with the starter working without it, may be meant so.
    """
    coils = {sink.id: sink for sink in circuit.network.sinks if sink.id not in circuit.loads}
    if not coils:
        yield not_applicable("aircraft", "no relay or contactor with a coil is recorded", electrical.at("switches"))
        return
    batteries = {source.id for source in electrical.sources if source.kind == "battery"}
    resting, fed = _closing(circuit.network, coils, batteries)
    running = resting if resting == coils.keys() else _closing(circuit.network, coils)[0]
    starters = [load.id for load in electrical.loads if load.starter]
    dead = [starter for starter in starters if starter not in fed]
    for switch in electrical.switches:
        if switch.id in coils:
            yield _closes(switch, dead, starters, at_rest=switch.id in resting, ever=switch.id in running)


def _closes(switch: Switch, dead: list[str], starters: list[str], *, at_rest: bool, ever: bool) -> Finding:
    def working() -> list[str]:
        return [
            f"on the batteries alone it {'closes' if at_rest else 'stays open'}",
            f"with every source it {'closes' if ever else 'stays open'}",
            f"starters that stay without current on the batteries: {', '.join(dead) or 'none'}",
        ]

    spot = switch.at("coil")
    if at_rest:
        return passes(switch.id, "the battery closes it", spot, working=working)
    if not ever:
        return fails(switch.id, "nothing closes it: its coil hangs behind open contacts", spot, working=working)
    message = "the battery cannot close it: its coil has current only once a generator turns"
    if dead:
        return fails(switch.id, f"{message}, and {dead[0]} needs it", spot, working=working)
    return (passes if starters else warns)(switch.id, message, spot, working=working)


def _closing(network: Network, coils: Mapping[str, Sink], by: Set[str] | None = None) -> tuple[set[str], set[str]]:
    """The relays and contactors that close one after the other, all open to begin with; and what is fed then, `by` whom."""
    closed = set[str]()
    while True:
        edges = tuple(edge for edge in network.edges if edge.id not in coils or edge.id in closed)
        now = replace(network, edges=edges)
        fed, returned = now.fed(by=by), now.returned(by=by)
        more = {id_ for id_, s in coils.items() if s.point in fed and s.back in returned} - closed
        if not more:
            return closed, fed
        closed |= more


@rule(
    "electrical/guarded-switch",
    title="Guards on dangerous switches",
    asks="Has every switch that must not be moved by accident a guard?",
    references=("guarded-switches",),
    due=Stage.SYSTEMS,
    remedy="Fit a guard, or a switch that must be pulled to move.",
    at_worst=Verdict.WARN,
)
def dangerous_switches_are_guarded(electrical: Electrical) -> Iterator[Finding]:
    """The builder says of a switch what comes of it if it is moved by accident in flight; such a switch has a guard."""
    declared = [switch for switch in electrical.switches if switch.by_accident]
    if not declared:
        yield not_applicable("aircraft", "no switch is recorded as dangerous to move", electrical.at("switches"))
    for switch in declared:
        yield _guarded(switch)


def _guarded(switch: Switch) -> Finding:
    def working() -> list[str]:
        return [
            f"recorded: by_accident: {switch.by_accident}",
            f"recorded: guarded: {str(switch.guarded).lower()}",
            "wanted: a guard (common practice, no source)",
        ]

    spot = switch.at("by_accident")
    if switch.guarded:
        return passes(switch.id, f"guarded; moved by accident, {switch.by_accident}", spot, working=working)
    message = f"without a guard; moved by accident, {switch.by_accident}"
    return warns(switch.id, message, spot, remedy="Fit a guard over it.", working=working)
