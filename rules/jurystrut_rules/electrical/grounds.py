"""Do returns meet where they should, and are bonds good?"""

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

    from jurystrut.records.electrical import Electrical, Ground, Junction
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["bonds_are_low", "few_wires_share_a_stud", "returns_make_no_loops", "sound_shares_no_ground"]

_RETURNS = frozenset({"return", "source-return"})
_NOISY = frozenset({"motor", "ignition", "relay"})
_BOND_OHMS = {"jumper": 0.003, "frame": 0.0025}  # AC 43.13-1B 11-189 and 11-188f
_MOST_ON_A_STUD = 4  # AC 21-99 section 2 chapter 13 for grounds; AC 43.13-1B 11-174 for lugs, from memory


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
        elif ground != usual[0][0]:
            message = f"it returns to {ground}, other audio devices to {usual[0][0]}"
            yield warns(load.id, message, load.at(), remedy=f"Return it to {usual[0][0]}.")
        elif ground in noisy:
            loud = ", ".join(noisy[ground])
            remedy = f"Return {loud} to another ground."
            yield warns(load.id, f"{loud} returns to {ground} as well", load.at(), remedy=remedy)
        else:
            yield passes(load.id, f"it returns to {ground}, and nothing noisy does", load.at())


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
    if not looped:
        yield passes("aircraft", "no return lies in a loop", electrical.at("wires"))
    else:
        named = ", ".join(wire.id for wire in looped[:6])
        yield warns(
            "aircraft",
            f"{len(looped)} returns lie in a loop: {named}",
            *(wire.at() for wire in looped[:6]),
            remedy="Take one of them out, or see that both are meant.",
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
    junctions is one; so is an engine or airframe ground that does not say how many it has; a block must say.
    """
    ends = Counter(end for wire in electrical.wires for end in (wire.from_, wire.to))
    ends.update(load.grounded_at for load in electrical.loads if load.grounded_at)
    studs = [junction for junction in electrical.junctions if junction.kind == "stud"]
    if not studs and not electrical.grounds:
        yield not_applicable("aircraft", "no stud and no ground is recorded", electrical.at())
    for stud in studs:
        yield _stud(stud, ends[stud.id], 1)
    for ground in electrical.grounds:
        count = ground.studs or (1 if ground.kind in {"engine", "airframe"} else None)
        if count is None:
            yield no_data(
                ground.id, "how many studs this ground has is not recorded", ground.at(), remedy="Record 'studs'."
            )
        else:
            yield _stud(ground, ends[ground.id], count)


def _stud(stud: Junction | Ground, terminals: int, studs: int) -> Finding:
    most = studs * _MOST_ON_A_STUD
    return at_most(
        stud.id,
        terminals,
        most,
        "terminals",
        f"{terminals} terminals on {studs} {'stud' if studs == 1 else 'studs'}; no more than {most} belong there",
        stud.at(),
        remedy=f"Move {terminals - most} of them to another stud.",
    )


@rule(
    "electrical/bonding",
    title="Bonding resistance",
    asks="Is the measured resistance of every bond within the published figure?",
    references=("ac43-11-188-189",),
    due=Stage.SYSTEMS,
    remedy="Clean the faces to bare metal, fasten the bond anew and measure again.",
)
def bonds_are_low(electrical: Electrical) -> Iterator[Finding]:
    """A jumper has at most 0.003 ohm, a frame of equipment at most 0.0025 ohm to structure; both were read."""
    if not electrical.bonds:
        yield no_data(
            "aircraft", "no bond is recorded", electrical.at(), remedy="Record 'bonds' with what was measured."
        )
    for bond in electrical.bonds:
        if bond.resistance is None:
            yield no_data(
                bond.id, "its resistance is not recorded", bond.at(), remedy="Measure it and record 'resistance'."
            )
            continue
        allowed = _BOND_OHMS[bond.kind]
        milli, most = bond.resistance.si * 1000, allowed * 1000
        yield at_most(
            bond.id,
            milli,
            most,
            "mohm",
            f"{milli:.4g} mohm across this {bond.kind}; {most:g} mohm is allowed",
            bond.at("resistance"),
            remedy="Clean the faces to bare metal, fasten it anew and measure again.",
        )
