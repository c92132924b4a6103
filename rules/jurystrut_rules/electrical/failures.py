"""What quits when one thing fails?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.circuit import Failure, SingleFailures
from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    at_most,
    fact,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.electrical import Electrical, Function, Load, Protection, Switch
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = [
    "essential_loads_have_own_device",
    "functions_survive",
    "hazardous_switches_are_for_aircraft",
    "single_failures",
    "sources_fail_singly",
]

_WORDS = {
    "open": "{} opens",
    "bus": "{} is lost",
    "source": "{} is lost",
    "short": "a short to ground at {}, up to the nearest devices",
}


_FEEDS_WITHOUT_CURRENT = frozenset({"gravity", "mechanical-pump", "mechanical-and-electric-pump"})


@fact
def single_failures(electrical: Electrical, circuit: Circuit) -> dict[str, list[Failure]]:
    """For each load of a function, and each essential load, the single failures that stop it."""
    wanted = {load.id for load in electrical.loads if load.essential}
    wanted |= {load for function in electrical.functions for load in function.loads}
    if not wanted:
        return {}
    failures = SingleFailures(circuit.network)
    return {sink.id: failures.stopping(sink) for sink in circuit.network.sinks if sink.id in wanted}


@rule(
    "electrical/single-failure",
    title="No single failure takes a function",
    asks="After any one failure, is enough left of every declared function?",
    references=("builder-declared-functions", "23-1351-b"),
    due=Stage.SYSTEMS,
    remedy="Feed and return the loads of the function by ways that share nothing.",
)
def functions_survive(
    electrical: Electrical, aircraft: Aircraft, single_failures: dict[str, list[Failure]]
) -> Iterator[Finding]:
    """Every wire, device, bus, ground and source is taken out, one at a time, and every point of the supply side is shorted to
    ground, which takes all that is joined to it without a protective device between. Counted is what is left of each function.

    The builder declares what must survive. Switches are taken as closed: a standby that somebody must switch on counts as
    working. A load that is itself broken is not counted here. Where nothing is declared, that may be forgotten: it is taken as
    meant only where the engine runs without current and every flight intended is by sight.
    """
    if not electrical.functions and _needs_no_current(aircraft):
        message = "the engine runs without current, the flights intended are VFR, and nothing else is declared"
        yield not_applicable("aircraft", message, electrical.at())
    elif not electrical.functions:
        yield no_data(
            "aircraft",
            "no function that must survive a single failure is declared",
            electrical.at(),
            remedy="Record 'functions', for example ignition, fuel pressure or attitude.",
        )
    for function in electrical.functions:
        if function.loads:
            yield _survival(function, single_failures)
        else:
            yield no_data(function.name, "no load that does it is named", function.at(), remedy="Record its 'loads'.")


def _needs_no_current(aircraft: Aircraft) -> bool:
    engine, flights = aircraft.engine, set(aircraft.operations)
    if engine is None or not flights or not flights <= {"day-vfr", "night-vfr"}:
        return False
    return engine.ignition in {"magneto", "compression"} and engine.fuel_feed in _FEEDS_WITHOUT_CURRENT


def _survival(function: Function, single_failures: Mapping[str, list[Failure]]) -> Finding:
    table: dict[Failure, list[str]] = {}
    loads = tuple(dict.fromkeys(function.loads))
    working = [load for load in loads if single_failures.get(load)]
    for load in working:
        for failure in single_failures[load]:
            table.setdefault(failure, []).append(load)
    worst_first = sorted(table.items(), key=lambda row: -len(row[1]))
    lost = worst_first[0][1] if worst_first else []
    left = len(working) - len(lost)
    what = _told(worst_first[0][0]) if worst_first else "nothing fails"
    return at_least(
        function.name,
        left,
        function.survive,
        "left",
        f"{what}: {', '.join(lost) or 'nothing'} {_quits(lost)}, {left} of {len(loads)} left; {function.survive} must be",
        function.at("survive"),
        remedy=f"Give {' and '.join(loads)} ways that do not share anything: {what}.",
        working=lambda: [f"{_told(f)}: {', '.join(quits)}" for f, quits in worst_first],
    )


def _quits(lost: list[str]) -> str:
    return "quit" if len(lost) > 1 else "quits"


def _told(failure: Failure) -> str:
    """A failure in words; a device's seat on its bus is named for the device."""
    name, _, side = failure.name.partition(".")
    return _WORDS[failure.kind].format(f"{name}, where it is joined on," if side in _SEATS else failure.name)


_SEATS = frozenset({"fed_from", "grounded_at"})


@rule(
    "electrical/source-failure",
    title="Losing a source leaves the essential loads",
    asks="Does every essential load work on whatever source is left?",
    references=("23-1351-b",),
    due=Stage.SYSTEMS,
    remedy="Give the load a second way to another source.",
    at_worst=Verdict.WARN,
)
def sources_fail_singly(electrical: Electrical, single_failures: dict[str, list[Failure]]) -> Iterator[Finding]:
    """Old 23.1351(b) wants sources to work singly and together, and no failure of one to disable the rest. Each source is taken
    out in turn, with all switches closed, and every essential load must still have a way from another and back to it. The
    paragraph is from memory, so this rule warns at most; a function that the builder declares, and that stops with a source,
    fails by electrical/single-failure.
    """
    essential = [load for load in electrical.loads if load.essential]
    if not essential:
        yield not_applicable("aircraft", "no load is recorded as essential", electrical.at())
    sources = [source.id for source in electrical.sources]
    for load in essential:
        stops = single_failures.get(load.id, [])
        if stops:
            yield _without_a_source(load, stops, sources)
        else:
            yield no_data(load.id, "no working circuit is recorded for this load", load.at())


def _without_a_source(load: Load, stops: list[Failure], sources: list[str]) -> Finding:
    needed = [failure.name for failure in stops if failure.kind == "source"]

    def working() -> list[str]:
        others = sum(failure.kind != "source" for failure in stops)
        return [
            *(
                f"without {source}, all switches closed: it {'stops' if source in needed else 'goes on'}"
                for source in sources
            ),
            "wanted: no failure of one source disables the rest (old 23.1351(b), from memory)",
            f"single failures of wires, devices and grounds that stop it, another rule's: {others}",
        ]

    if not needed:
        return passes(load.id, "it goes on when any one source is lost", load.at(), working=working)
    message = f"it stops when {' or '.join(needed)} is lost"
    return warns(load.id, message, load.at(), remedy="Give it a way from another source.", working=working)


@rule(
    "electrical/essential-own-device",
    title="One protective device for one essential circuit",
    asks="Does the device that protects an essential load serve no other load?",
    references=("23-1357-b",),
    due=Stage.SYSTEMS,
    remedy="Give the essential load a protective device of its own.",
)
def essential_loads_have_own_device(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """The first protective device that an essential load's current comes from is looked up, and the loads behind it counted;
    where several ways lead to the load, those between all devices around it.

    Devices nearer the source, such as one that feeds a whole bus, are not meant: the paragraph speaks of the circuit's own.
    """
    essential = [load for load in electrical.loads if load.essential]
    if not essential:
        yield not_applicable("aircraft", "no load is recorded as essential", electrical.at())
        return
    nearest = {}
    for sink in circuit.network.sinks:
        first = circuit.analysis.first_device(sink.point)
        nearest[sink.id] = first.id if first else None
    behind: dict[str, list[str]] = {}
    for sink_id, nearest_device in nearest.items():
        if nearest_device:
            behind.setdefault(nearest_device, []).append(sink_id)
    devices_of = {device.id: device for device in electrical.protection}
    for load in essential:
        device = nearest[load.id]
        if device is None:
            yield _by_several_ways(load, circuit)
            continue
        yield _alone(load, devices_of[device], [other for other in behind[device] if other != load.id])


def _by_several_ways(load: Load, circuit: Circuit) -> Finding:
    """A load to which no single way leads: what else draws between the devices around it shares them."""
    network = circuit.network
    open_ended = network.buses | {point for supply in network.supplies for point in (supply.point, supply.back)}
    pending, around = [load.id], dict[str, None]()
    seen = set(pending)
    for here in pending:
        if here in open_ended:
            return no_data(load.id, f"no protective device is found between {here} and this load", load.at())
        for other, index in network.near(here):
            if network.edges[index].kind == "protection":
                around[network.edges[index].id] = None
            elif other not in seen:
                seen.add(other)
                pending.append(other)
    if not around:
        return no_data(load.id, "no protective device is found on any way to this load", load.at())
    others = [sink.id for sink in network.sinks if sink.point in seen and sink.id != load.id]
    devices, named = " and ".join(around), ", ".join(others) or "no other load"
    return at_most(
        load.id,
        len(others),
        0,
        "other loads",
        f"several ways lead to it; behind {devices} are it and {named}",
        load.at(),
        remedy=f"Feed {named} by a device of its own.",
        working=lambda: [f"the devices around it: {devices}", f"what else draws between them: {named}"],
    )


def _alone(load: Load, device: Protection, others: list[str]) -> Finding:
    named = ", ".join(others) or "no other load"
    return at_most(
        load.id,
        len(others),
        0,
        "other loads",
        f"{device.id} protects it and {named}",
        device.at(),
        load.at(),
        remedy=f"Feed {named} by a device of its own.",
        working=lambda: [
            f"the first device that its current comes from: {device.id}, {device.kind} {device.rating}",
            f"whose first device is the same: {named}",
            "the most: 0 other loads (old 23.1357(b), read in a translation)",
        ],
    )


@rule(
    "electrical/aircraft-switch",
    title="Aircraft switches where opening is hazardous",
    asks="Is every switch whose opening stops an essential load made for use in aircraft?",
    references=("ac43-11-53",),
    due=Stage.SYSTEMS,
    remedy="Fit a switch made to an aircraft standard, or give the load a second way.",
)
def hazardous_switches_are_for_aircraft(
    electrical: Electrical, single_failures: dict[str, list[Failure]]
) -> Iterator[Finding]:
    """AC 43.13-1B wants a switch made for aircraft service where its failure would be hazardous. That is taken of every switch,
    relay and contactor whose opening alone stops a load recorded as essential, also where another load of the same function
    goes on: it errs to the safe side. What a relay's contacts stop when its coil loses its own switch is not followed. That
    the switch can carry its loads is asked by electrical/switch-rating.
    """
    stopped: dict[str, list[str]] = {}
    for load in electrical.loads:
        if load.essential:
            for failure in single_failures.get(load.id, ()):
                if failure.kind == "open":
                    stopped.setdefault(failure.name, []).append(load.id)
    hazardous = [switch for switch in electrical.switches if switch.id in stopped]
    if not hazardous:
        yield not_applicable("aircraft", "no switch alone stops an essential load", electrical.at("switches"))
    for switch in hazardous:
        yield _for_aircraft(switch, stopped[switch.id])


def _for_aircraft(switch: Switch, stops: list[str]) -> Finding:
    what = f"opening, it stops {' and '.join(stops)}"

    def working() -> list[str]:
        return [
            f"essential loads that it alone stops: {', '.join(stops)}",
            f"recorded: approved_to {switch.approved_to}",
            "wanted: a switch made for aircraft service (AC 43.13-1B 11-53, read)",
        ]

    if switch.approved_to is None:
        message = f"{what}; what it is approved to is not recorded"
        return no_data(switch.id, message, switch.at(), remedy="Record 'approved_to', none where it is made to none.")
    if switch.approved_to.casefold() == "none":
        message = f"{what}, and it is made to no standard for aircraft"
        return fails(switch.id, message, switch.at("approved_to"), remedy="Fit one made for aircraft.", working=working)
    return passes(switch.id, f"{what}; it is made to {switch.approved_to}", switch.at("approved_to"), working=working)
