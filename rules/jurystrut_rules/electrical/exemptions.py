"""Is what goes without protection exempt from it, and no longer than the exemption allows?"""

from __future__ import annotations

from heapq import heappop, heappush
from math import inf
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, at_most, fact, fails, no_data, not_applicable, passes, rule

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Set

    from jurystrut.calculations.circuit import Network
    from jurystrut.records.electrical import Electrical, Wire
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["starter_feeders_feed_a_starter", "unprotected_leads_are_short", "unprotected_runs"]


@fact
def unprotected_runs(electrical: Electrical, circuit: Circuit) -> dict[str, float | None]:
    """How far from a battery's terminal the far end of each unprotected wire lies, in inches along the wires.

    By the wire's id; None where the length of a wire on the way is not recorded. Wires behind a protective device are left
    out, and so are those that only a generator feeds, which delivers no more than its rating.
    """
    network, analysis = circuit.network, circuit.analysis
    wires = {wire.id: wire for wire in electrical.wires}
    runs = _from_batteries(circuit, wires)
    found: dict[str, float | None] = {}
    for index, (let_through, side) in enumerate(zip(analysis.let_through, analysis.side, strict=True)):
        if let_through == inf and side == "supply" and network.edges[index].id in wires:
            one, other = network.ends[index]
            run = _inches(wires[network.edges[index].id]) + min(runs[one], runs[other])
            found[network.edges[index].id] = run if run < inf else None
    return found


def _inches(wire: Wire | None) -> float:
    """A wire's length, without end where it is not recorded; other edges have none."""
    if wire is None:
        return 0.0
    return wire.length.to("in") if wire.length else inf


def _from_batteries(circuit: Circuit, wires: Mapping[str, Wire]) -> list[float]:
    """By place the shortest way in inches from a source without limit, past no protective device."""
    network, branches = circuit.network, circuit.network.branches
    found = [inf] * len(network.places)
    pending = [(0.0, supply.point) for supply in network.supplies if supply.capacity == inf]
    while pending:  # through the core, where several ways lead
        run, here = heappop(pending)
        if run < found[network.places[here]]:
            found[network.places[here]] = run
            for other, index in network.core_neighbours.get(here, ()):
                edge = network.edges[index]
                if edge.kind != "protection":
                    heappush(pending, (run + _inches(wires.get(edge.id)), other))
    for place in reversed(branches.outer):  # and out along the branches
        run = found[branches.inner[place]]
        if run < inf:
            edge = network.edges[branches.edges[place]]
            found[place] = inf if edge.kind == "protection" else run + _inches(wires.get(edge.id))
    return found


@rule(
    "electrical/unprotected-length",
    title="Unprotected leads are short",
    asks="Is every lead without protection exempt from it, and no longer than the exemption allows?",
    references=("declared-short-lead", "23-1357-a", "ac43-11-47"),
    due=Stage.SYSTEMS,
    remedy="Fit a protective device nearer the source.",
)
def unprotected_leads_are_short(electrical: Electrical, unprotected_runs: dict[str, float | None]) -> Iterator[Finding]:
    """The way along the wires is measured from the battery to the far end of each wire that nothing protects. Two exemptions
    are known: 23.1357(a) leaves the mains of starters without protection, however long; and circuits whose omission is
    harmless, which here are leads recorded as `short-lead`. No published text that was read says how short: the limit is what
    the builder's own manual declares as `short_lead`.
    """
    if not unprotected_runs:
        yield not_applicable("aircraft", "no wire is without protection from a battery", electrical.at("wires"))
    for wire in electrical.wires:
        if wire.id not in unprotected_runs:
            continue
        run = unprotected_runs[wire.id]
        how_long = "at an unknown distance" if run is None else f"up to {run:g} in"
        if wire.serves == "starter-feeder":
            message = f"a starter feeder, {how_long} from the battery; 23.1357(a) sets no length"
            yield not_applicable(wire.id, message, wire.at("serves"))
        elif wire.serves is None:
            message = "no exemption is recorded for it; electrical/wire-protection judges it"
            yield not_applicable(wire.id, message, wire.at())
        elif electrical.short_lead is None:
            message = f"{how_long} from the battery; how long an unprotected lead may be is not recorded"
            yield no_data(wire.id, message, wire.at("serves"), remedy="Record 'short_lead' from your manual.")
        elif run is None:
            yield no_data(wire.id, "the length of a wire on the way to its end is not recorded", wire.at())
        else:
            yield _short(wire, run, electrical.short_lead.to("in"), electrical)


def _short(wire: Wire, run: float, most: float, electrical: Electrical) -> Finding:
    return at_most(
        wire.id,
        run,
        most,
        "in",
        f"its far end is {run:g} in from the battery along the wires; {most:g} in is declared",
        wire.at("length"),
        electrical.at("short_lead"),
        remedy=f"Fit a protective device within {most:g} in of the battery.",
        working=lambda: [
            f"the wire itself: {wire.length}",
            f"from the battery to its far end: {run:g} in",
            f"short_lead, as declared: {most:g} in",
            f"margin: {most - run:g} in",
        ],
    )


@rule(
    "electrical/starter-feeder",
    title="Starter feeders feed a starter",
    asks="Does every wire recorded as a starter feeder lie between a battery and a starter?",
    references=("23-1357-a",),
    due=Stage.SYSTEMS,
    remedy="Protect the wire, or record it for what it is.",
)
def starter_feeders_feed_a_starter(
    electrical: Electrical, circuit: Circuit, stacked: frozenset[str]
) -> Iterator[Finding]:
    """23.1357(a) exempts the mains of starters and nothing that branches off them. From the loads recorded as `starter` the
    network is followed past no protective device; what leads on to a battery, or to its negative side, is the starter's own.
    """
    feeders = [wire for wire in electrical.wires if wire.serves == "starter-feeder"]
    if not feeders:
        yield not_applicable("aircraft", "no wire is recorded as a starter feeder", electrical.at("wires"))
        return
    starters = {load.id for load in electrical.loads if load.starter}
    if not starters:
        message = "no load is recorded as the starter"
        yield no_data("aircraft", message, feeders[0].at("serves"), remedy="Record 'starter: true' at it.")
        return
    own = _between(circuit.network, starters, {side for id_ in stacked for side in (id_, f"{id_}.return")})
    for wire in feeders:
        yield _feeder(wire, starters, own=wire.id in own)


def _feeder(wire: Wire, starters: Set[str], *, own: bool) -> Finding:
    def working() -> list[str]:
        return [
            f"starters: {', '.join(sorted(starters))}",
            f"unprotected way between one of them and a battery leads over {wire.id}: {'yes' if own else 'no'}",
            "exempt: the mains of starters (old 23.1357(a), read in a translation)",
        ]

    if own:
        return passes(wire.id, "it lies between a battery and a starter", wire.at("serves"), working=working)
    message = "it is recorded as a starter feeder, and does not lie between a battery and a starter"
    return fails(wire.id, message, wire.at("serves"), remedy="Protect it, or record what it is.", working=working)


def _between(network: Network, starters: Set[str], stacks: Set[str]) -> set[str]:
    """The edges between the starters and the batteries past no protective device, without what branches off them.

    `stacks` are the two sides of batteries that stand on another one: the current goes on through them.
    """
    kept = {supply.point for supply in network.supplies} | {supply.back for supply in network.supplies}
    kept |= starters | {f"{starter}.return" for starter in starters}
    joined: dict[str, set[int]] = {}
    for index, edge in enumerate(network.edges):
        if edge.kind != "protection":
            joined.setdefault(edge.start, set()).add(index)
            joined.setdefault(edge.end, set()).add(index)
    loose = [point for point, edges in joined.items() if len(edges) == 1 and point not in kept]
    while loose:  # cut off what ends nowhere, one edge at a time
        point = loose.pop()
        if len(joined[point]) != 1:
            continue
        index = joined[point].pop()
        edge = network.edges[index]
        other = edge.end if edge.start == point else edge.start
        joined[other].discard(index)
        if len(joined[other]) == 1 and other not in kept:
            loose.append(other)
    return _reached(network, joined, starters | {f"{starter}.return" for starter in starters} | stacks)


def _reached(network: Network, joined: dict[str, set[int]], starts: Set[str]) -> set[str]:
    seen, pending, found = set(starts), list(starts), set()
    while pending:
        for index in joined.get(pending.pop(), ()):
            edge = network.edges[index]
            found.add(edge.id)
            for point in (edge.start, edge.end):
                if point not in seen:
                    seen.add(point)
                    pending.append(point)
    return found
