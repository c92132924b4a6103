"""Do returns meet where they should?"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_most,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Electrical, Ground, Junction, Load, Source
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = [
    "avionics_return_to_one_ground",
    "few_wires_share_a_stud",
    "returns_make_no_loops",
    "sound_shares_no_ground",
    "sources_have_own_studs",
]

_RETURNS = frozenset({"return", "source-return"})
_NOISY = frozenset({"motor", "ignition", "relay"})
_MOST_ON_A_STUD = 4  # ac-21-99-ground-stud: for grounds; ac43-11-174 has the same for lugs, from memory


@rule(
    "electrical/signal-ground",
    title="Sound returns to one ground of its own",
    asks="Do all audio devices return to one ground, and motors, ignitions and coils to another?",
    references=("ac43-11-186-f",),
    due=Stage.SYSTEMS,
    remedy="Return audio devices to one block, and what switches or turns to another.",
    at_worst=Verdict.WARN,
)
def sound_shares_no_ground(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """The first ground on the way back is looked up for each load. Loads recorded as `audio` are to share one, and no motor,
    ignition or coil is to return to it: its current would be heard. The AC wants signal grounds apart from power returns and
    calls a single point often best, so this rule warns at most.
    """
    audio = [load for load in electrical.loads if load.audio]
    if not audio:
        yield not_applicable("aircraft", "no load is recorded as audio", electrical.at("loads"))
        return
    grounds = {ground.id for ground in electrical.grounds}
    first = {sink.id: _first(sink.back, circuit, grounds) for sink in circuit.network.sinks}
    usual = Counter(first[load.id] for load in audio if first[load.id]).most_common(1)
    noisy: dict[str, list[str]] = {}
    for other in electrical.loads:
        ground = first[other.id]
        if other.nature in _NOISY and ground:
            noisy.setdefault(ground, []).append(other.id)
    for load in audio:
        ground = first[load.id]
        if ground is None:
            yield no_data(load.id, "no ground is recorded on its way back", load.at())
        else:
            yield _heard(load, ground, usual[0], noisy.get(ground, []))


def _heard(load: Load, ground: str, usual: tuple[str | None, int], noisy: list[str]) -> Finding:
    def working() -> list[str]:
        return [
            f"the first ground on its way back: {ground}",
            f"most audio devices return to {usual[0]}: {usual[1]}",
            f"motors, ignitions and coils at {ground}: {', '.join(noisy) or 'none'}",
        ]

    if ground != usual[0]:
        message = f"it returns to {ground}, other audio devices to {usual[0]}"
        return warns(load.id, message, load.at(), remedy=f"Return it to {usual[0]}.", working=working)
    if noisy:
        loud = ", ".join(noisy)
        message = f"{loud} returns to {ground} as well"
        return warns(load.id, message, load.at(), remedy=f"Return {loud} to another ground.", working=working)
    return passes(load.id, f"it returns to {ground}, and nothing noisy does", load.at(), working=working)


def _first(point: str, circuit: Circuit, grounds: set[str]) -> str | None:
    towards = circuit.analysis.towards
    while point not in grounds:
        if point not in towards:
            return None
        point = towards[point].towards
    return point


@rule(
    "electrical/ground-loop",
    title="No loops of returns",
    asks="Has every return one way back, so that no loop of returns picks up noise?",
    references=("ac43-11-186-f",),
    due=Stage.SYSTEMS,
    remedy="Take one wire of the loop out.",
    at_worst=Verdict.WARN,
)
def returns_make_no_loops(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """Wires on the return side that lie in a loop are told; currents share the ways of a loop as their resistance will have it,
    and changing magnetic fields drive more round it. Two returns side by side may be meant, so this rule warns at most.
    """
    analysis, edges = circuit.analysis, circuit.network.edges
    if not _RETURNS & set(analysis.side):
        yield no_data("aircraft", "no return to a source is recorded", electrical.at("wires"))
        return
    in_loops = {edges[index].id for index in analysis.meshed if analysis.side[index] in _RETURNS}
    looped = [wire for wire in electrical.wires if wire.id in in_loops] if in_loops else []

    def working() -> list[str]:
        returns = sum(side in _RETURNS for side in analysis.side)
        return [f"wires and devices on the return side: {returns}", f"of these in a loop: {len(in_loops)}"]

    if not looped:
        yield passes("aircraft", "no return lies in a loop", electrical.at("wires"), working=working)
    else:
        named = ", ".join(wire.id for wire in looped[:6])
        yield warns(
            "aircraft",
            f"{len(looped)} returns lie in a loop: {named}",
            *(wire.at() for wire in looped[:6]),
            remedy="Take one of them out, or see that both are meant.",
            working=working,
        )


@rule(
    "electrical/stud",
    title="Terminals on one stud",
    asks="Are no more than four terminals on any ground or stud?",
    references=("ac-21-99-ground-stud", "ac43-11-174"),
    due=Stage.SYSTEMS,
    remedy="Move wires to another stud, or fit a block.",
)
def few_wires_share_a_stud(electrical: Electrical) -> Iterator[Finding]:
    """The ends of wires that name a stud or a ground are counted, and held against four for each of its studs. A stud among the
    junctions is one; so is an engine or airframe ground that does not say how many it has; a block must say. Four on a ground
    was read; that it holds for any stud is from memory, and warns.
    """
    studs = [junction for junction in electrical.junctions if junction.kind == "stud"]
    asked = {place.id for place in (*studs, *electrical.grounds)}
    ends = Counter(wire.to for wire in electrical.wires if wire.to in asked)
    ends.update(wire.from_ for wire in electrical.wires if wire.from_ in asked)
    ends.update(load.grounded_at for load in electrical.loads if load.grounded_at)
    if not studs and not electrical.grounds:
        yield not_applicable("aircraft", "no stud and no ground is recorded", electrical.at())
    for stud in studs:
        yield _stud(stud, ends[stud.id], 1, "AC 43.13-1B 11-174, from memory", Verdict.WARN)
    for ground in electrical.grounds:
        count = ground.studs or (1 if ground.kind in {"engine", "airframe"} else None)
        if count is None:
            yield no_data(
                ground.id, "how many studs this ground has is not recorded", ground.at(), remedy="Record 'studs'."
            )
        else:
            yield _stud(ground, ends[ground.id], count, "AC 21-99, read", Verdict.FAIL)


def _stud(stud: Junction | Ground, terminals: int, studs: int, source: str, otherwise: Verdict) -> Finding:
    most = studs * _MOST_ON_A_STUD
    return at_most(
        stud.id,
        terminals,
        most,
        "terminals",
        f"{terminals} terminals on {studs} {'stud' if studs == 1 else 'studs'}; no more than {most} belong there",
        stud.at(),
        remedy=f"Move {terminals - most} of them to another stud.",
        working=lambda: [
            f"ends of wires, and frames that sit on it: {terminals}",
            f"{studs} x {_MOST_ON_A_STUD} on a stud = {most} ({source})",
            f"margin: {most - terminals}",
        ],
        otherwise=otherwise,
    )


@rule(
    "electrical/source-stud",
    title="A stud for each source",
    asks="Has the return of every source a stud of its own?",
    references=("ac-21-99-ground-stud",),
    due=Stage.SYSTEMS,
    remedy="Return the sources to different studs.",
)
def sources_have_own_studs(electrical: Electrical, stacked: frozenset[str]) -> Iterator[Finding]:
    """The grounds that the sources' returns lead to are counted: on each there must be as many studs as sources. One stud that
    comes loose then takes one source, not two.
    """
    sources = [source for source in electrical.sources if source.kind != "ground-power"]
    if len(sources) < _TWO:
        yield not_applicable("aircraft", "no two sources are recorded", electrical.at("sources"))
        return
    returns = {f"{source.id}.return" for source in sources}
    ends = {wire.from_: wire.to for wire in electrical.wires if wire.from_ in returns} | {
        wire.to: wire.from_ for wire in electrical.wires if wire.to in returns
    }
    grounds = {ground.id: ground for ground in electrical.grounds}
    at: dict[str, list[Source]] = {}
    for source in sources:
        ground = grounds.get(ends.get(f"{source.id}.return", "").partition(".")[0])
        if source.id in stacked:
            yield not_applicable(source.id, "its negative side sits on another battery", source.at())
        elif ground is None:
            message = "no wire is recorded from its return to a ground"
            yield no_data(source.id, message, source.at(), remedy="Record that wire.")
        else:
            at.setdefault(ground.id, []).append(source)
    for name, returned in at.items():
        yield _own_studs(grounds[name], returned)


_TWO = 2  # arithmetic: one source alone shares nothing


def _own_studs(ground: Ground, returned: list[Source]) -> Finding:
    studs = ground.studs or 1
    named = " and ".join(source.id for source in returned)
    return at_most(
        ground.id,
        len(returned),
        studs,
        "sources",
        f"{named} {'returns' if len(returned) == 1 else 'return'} here, to {studs} {'stud' if studs == 1 else 'studs'}",
        ground.at("studs"),
        *(source.at() for source in returned),
        remedy="Return them to different studs.",
        working=lambda: [
            f"sources that return here: {named}",
            f"studs recorded, else 1: {studs}",
            "wanted: separate grounds for each power source (AC 21-99, read)",
        ],
    )


@rule(
    "electrical/avionics-ground",
    title="Avionics return to one ground",
    asks="Do all loads of an avionics bus return to one ground that is not the engine or the airframe?",
    references=("ac43-11-186-f",),
    due=Stage.SYSTEMS,
    remedy="Return avionics to one block of their own.",
    at_worst=Verdict.WARN,
)
def avionics_return_to_one_ground(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """Asked are the loads whose nearest bus is recorded as `avionics`. The first ground on the way back of each is looked up:
    most of them name the single point, the others are told, and so is a single point on engine or airframe, where other
    currents flow. The AC calls a single point often best, so this rule warns at most.
    """
    avionics = {bus.id for bus in electrical.buses if bus.avionics}
    if not avionics:
        yield not_applicable("aircraft", "no bus is recorded as avionics", electrical.at("buses"))
        return
    grounds = {ground.id: ground for ground in electrical.grounds}
    loads = [load for load in electrical.loads if _bus_of(load.id, circuit) in avionics]
    first = {load.id: _first(f"{load.id}.return", circuit, set(grounds)) for load in loads}
    usual = Counter(ground for ground in first.values() if ground).most_common(1)
    if not loads:
        yield not_applicable("aircraft", "no load hangs on an avionics bus", electrical.at("buses"))
    for load in loads:
        ground = first[load.id]
        if ground is None:
            yield no_data(load.id, "no ground is recorded on its way back", load.at())
        else:
            yield _single_point(load, grounds[ground], usual[0])


def _bus_of(point: str, circuit: Circuit) -> str | None:
    towards, buses = circuit.analysis.towards, circuit.network.buses
    while point not in buses:
        if point not in towards:
            return None
        point = towards[point].towards
    return point


def _single_point(load: Load, ground: Ground, usual: tuple[str, int]) -> Finding:
    def working() -> list[str]:
        return [
            f"the first ground on its way back: {ground.id}, {ground.kind}",
            f"loads of avionics buses at {usual[0]}: {usual[1]}",
            "wanted: one point, apart from power returns (AC 43.13-1B 11-186f, read)",
        ]

    if ground.id != usual[0]:
        message = f"it returns to {ground.id}, other avionics to {usual[0]}"
        return warns(load.id, message, load.at(), remedy=f"Return it to {usual[0]}.", working=working)
    if ground.kind in {"engine", "airframe"}:
        message = f"it returns to {ground.id}, which is the {ground.kind}"
        remedy = "Return avionics to a block of their own."
        return warns(load.id, message, load.at(), ground.at("kind"), remedy=remedy, working=working)
    return passes(load.id, f"it returns to {ground.id}, as other avionics do", load.at(), working=working)
