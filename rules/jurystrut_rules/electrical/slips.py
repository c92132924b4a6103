"""Is the wiring recorded without slips: a dead short, a wire that joins nothing, a device at the wrong load, a phase misspelt?"""

from __future__ import annotations

from collections import Counter
from difflib import get_close_matches
from functools import partial
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    Sound,
    Stage,
    Verdict,
    fact,
    fails,
    later_if,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Set

    from jurystrut.calculations.circuit import Network, Supply
    from jurystrut.records.electrical import Electrical, Load, Protection, Source, Switch, Wire
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = [
    "devices_serve_what_they_name",
    "phases_are_spelled_alike",
    "shorts",
    "sources_are_not_shorted",
    "wires_join_two_ends",
]


@fact
def shorts(network: Network) -> dict[str, list[int]]:
    """The shorted sources by id, each with the edges of the shortest way back to it that passes no load."""
    fed, places = network.live(closed=True, backwards=False), network.places
    ways = {supply.id: _way_back(network, supply) for supply in network.supplies if fed[places[supply.back]]}
    return {id_: way for id_, way in ways.items() if way}


@rule(
    "electrical/dead-short",
    title="No dead short",
    asks="Does every way from a source's positive side to its negative side lead through a load?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Correct the wire that joins a feed to a return.",
    no_deviation="a source that is shorted burns what shorts it",
)
def sources_are_not_shorted(
    electrical: Electrical, network: Network, shorts: dict[str, list[int]]
) -> Iterator[Finding]:
    """With every switch closed, and diodes passing forwards only, a way is looked for from each source's positive side back to
    its negative side that leads over wires, switches and protective devices alone. One wire at a `.return` instead of a
    supply, or at a ground instead of a bus, is enough.
    """
    if not electrical.sources:
        yield no_data("aircraft", "no source is recorded", electrical.at(), remedy="Record 'sources'.")
    grounds = {ground.id for ground in electrical.grounds}
    wires = electrical.wires if shorts else ()
    joining = {wire.id: wire for wire in wires if _returns(wire.from_, grounds) != _returns(wire.to, grounds)}
    for source in electrical.sources:
        if source.id in shorts:
            yield _shorted(source, shorts[source.id], network, joining)
        else:
            message = "no way leads from its positive side to its negative side but through loads"
            yield passes(source.id, message, source.at(), working=lambda: ["ways back without a load: none"])


def _way_back(network: Network, supply: Supply) -> list[int]:
    """The edges of the shortest way from a source's positive side to its negative side; none where there is no way."""
    came: dict[str, tuple[str, int]] = {}
    pending = [supply.point]
    for here in pending:
        for other, index in network.near(here):
            if other not in came and other != supply.point and network.edges[index].passes(here) > 0:
                came[other] = here, index
                pending.append(other)
    way: list[int] = []
    point = supply.back
    while point in came:
        point, index = came[point]
        way.append(index)
    return way[::-1]


def _shorted(source: Source, way: list[int], network: Network, joining: dict[str, Wire]) -> Finding:
    ids = list(dict.fromkeys(network.edges[index].id.partition(".")[0] for index in way))
    guilty = [joining[id_] for id_ in ids if id_ in joining]
    suspect = f"; {' or '.join(wire.id for wire in guilty)} joins a feed to a return" if guilty else ""
    return fails(
        source.id,
        f"it is shorted: {', '.join(ids)} lead back to it, with no load between{suspect}",
        *(wire.at("to") for wire in guilty),
        source.at(),
        remedy=f"Correct {guilty[0].id}." if guilty else "Correct the wire that joins a feed to a return.",
        working=lambda: [f"{network.edges[i].id}: {network.edges[i].start} - {network.edges[i].end}" for i in way],
    )


def _returns(terminal: str, grounds: Set[str]) -> bool:
    """Whether a terminal is by its name one of the return side: a `.return`, or a ground."""
    return terminal.endswith("return") or terminal in grounds


@rule(
    "electrical/wire-ends",
    title="A wire has two ends and a length",
    asks="Does every wire lead from one terminal to another, over some length?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Correct the end, or the length.",
    at_worst=Verdict.WARN,
)
def wires_join_two_ends(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """A wire whose two ends are one terminal does nothing, and one recorded with no length weighs nothing, loses nothing and
    passes every rule on voltage: both are slips.
    """
    if not electrical.wires:
        yield no_data("aircraft", "no wire is recorded", electrical.at(), remedy="Record 'wires'.")
        return
    slips = 0
    for wire, (start, end) in zip(
        electrical.wires, circuit.network.ends, strict=False
    ):  # the edges of wires stand first
        if start == end:
            message, spot = f"both its ends are at {wire.to}", wire.at("to")
        elif wire.length is not None and wire.length.si == 0:
            message, spot = "its length is recorded as nothing", wire.at("length")
        else:
            continue
        slips += 1
        steps = [f"from {wire.from_} to {wire.to}, length {wire.length or 'not recorded'}"]
        yield warns(wire.id, message, spot, remedy="Correct it.", working=partial(list, steps))
    if not slips:
        count = len(electrical.wires)
        message = f"{count} wires, each between two terminals"
        yield passes("aircraft", message, electrical.at("wires"), working=lambda: [f"wires looked at: {count}"])


@rule(
    "electrical/named-load",
    title="Devices serve the load that they name",
    asks="Does the load hang on every device that is recorded for it by its words?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Correct the wires, or the words.",
    at_worst=Verdict.WARN,
)
def devices_serve_what_they_name(electrical: Electrical, circuit: Circuit) -> Iterator[Finding | Sound]:
    """Where `what` of a switch or protective device says the same as `what` of one load, that load must hang on it, by its
    supply or its return: two wires swapped behind the panel show so. Capitals do not count. A load to which several ways lead
    from the sources is not looked at.
    """
    loads: dict[str, list[Load]] = {}
    for load in electrical.loads:
        if load.what:
            loads.setdefault(load.what.casefold(), []).append(load)
    devices: tuple[Protection | Switch, ...] = (*electrical.protection, *electrical.switches)
    named = [(device, loads.get((device.what or "").casefold(), [])) for device in devices]
    judged = False
    for device, meant in named:
        if len(meant) == 1:
            judged = True
            nearest = circuit.analysis.first_device(meant[0].id)
            yield later_if(nearest is not None and nearest.id == device.id, _serves, device, meant[0], circuit)
    if not judged:
        yield not_applicable("aircraft", "no device has the words of one load", electrical.at())


def _serves(device: Protection | Switch, load: Load, circuit: Circuit) -> Finding:
    ways = [edge.id for point in (load.id, f"{load.id}.return") for edge in circuit.analysis.path(point)]

    def working() -> list[str]:
        return [f"both say: {device.what}", f"on the way of {load.id}: {', '.join(ways) or 'nothing'}"]

    if device.id in ways:
        return passes(
            device.id, f"{load.id}, for which it is recorded, hangs on it", device.at("what"), working=working
        )
    if load.id not in circuit.analysis.towards or set(circuit.edge_of[device.id]) & set(circuit.analysis.core):
        return not_applicable(device.id, f"several ways lead to {load.id}", device.at("what"))
    message = f"it is recorded for {device.what}, and {load.id}, {load.what}, does not hang on it"
    remedy = f"Correct the wires of {load.id}, or what this device is for."
    return warns(device.id, message, device.at("what"), load.at("what"), remedy=remedy, working=working)


@rule(
    "electrical/duty",
    title="Duties are of known phases",
    asks="Is every phase of flight spelled as the others spell it, and no share above the whole?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Correct the phase, or the share.",
    at_worst=Verdict.WARN,
)
def phases_are_spelled_alike(electrical: Electrical) -> Iterator[Finding]:
    """Phases of flight are the builder's own words, and every word makes a phase: one misspelt takes its load out of the phase
    meant. A word that is nearly that of a usual phase, or of one that more loads name, is told, and so is a share of more
    than 100 %.
    """
    named = Counter(phase for load in electrical.loads for phase in load.duty)
    if not named:
        yield no_data("aircraft", "no load says in which phases it is on", electrical.at("loads"))
        return
    slips = {phase: meant for phase in named if (meant := _meant(phase, named))}
    found = 0
    for load in electrical.loads:
        for phase, share in load.duty.items():
            if phase in slips:
                message, remedy = f"it is on in '{phase}', which is nearly '{slips[phase]}'", "Correct the word."
            elif share.si > 1 + 1e-9:
                message, remedy = f"it is on for {share} of {phase}, more than all of it", "Correct the share."
            else:
                continue
            found += 1
            steps = [
                f"recorded: {phase} {share}; loads that name this phase: {named[phase]} of {len(electrical.loads)}"
            ]
            yield warns(load.id, message, load.at("duty"), remedy=remedy, working=partial(list, steps))
    if not found:
        message = f"{len(named)} phases: {', '.join(named)}"
        yield passes(
            "aircraft", message, electrical.at("loads"), working=lambda: [f"{p}: {n} loads" for p, n in named.items()]
        )


_USUAL = ("start", "taxi", "takeoff", "climb", "cruise", "descent", "approach", "landing", "emergency")
_ALIKE = 0.8  # own-consistency: of the letters, as difflib counts those that two words share


def _meant(phase: str, named: Counter[str]) -> str | None:
    """What a phase probably stands for, where that is not itself."""
    if phase in _USUAL:
        return None
    others = [*_USUAL, *(other for other, count in named.items() if count > named[phase])]
    return next(iter(get_close_matches(phase.casefold(), others, n=1, cutoff=_ALIKE)), None)
