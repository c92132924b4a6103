"""Does each bolt suit the parts that it holds: grip, threads in the hole, threads beyond the nut, gaps and washers?"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.fasteners import AnBolt, Stack, decoded, grip_and_length, threads_per_inch
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
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
)
from jurystrut_rules.hardware.tables import Nut, bolt_dimensions, bolt_steps, nut_of, washer_thickness
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.hardware import Hardware, Joint

__all__ = [
    "Bolted",
    "bolt_is_long_enough",
    "bolt_is_not_too_small",
    "bolted_joints",
    "few_threads_in_hole",
    "few_washers",
    "grip_within_stack",
    "nut_fits_bolt",
    "parts_touch",
    "threads_show",
]

_MOST_SHOWING = 3  # builders-three-threads
_MOST_WASHERS = 3  # practice-washers


class Bolted(NamedTuple):
    """A joint with what its part numbers say; each `no_` says why something is not known, and is empty where it is."""

    joint: Joint
    bolt: AnBolt | None
    no_bolt: str
    grip: float | None
    length: float | None
    no_grip: str
    stack: Stack | None
    no_stack: str
    nut: Nut | None
    no_nut: str


@fact
def bolted_joints(hardware: Hardware) -> list[Bolted]:
    """Every joint, its part numbers read."""
    if not hardware.joints:
        raise MissingRecord("no joint is recorded", hardware.at())
    return [_bolted(joint) for joint in hardware.joints]


def _bolted(joint: Joint) -> Bolted:
    bolt, no_bolt = _bolt(joint)
    grip, length, no_grip = _dimensions(joint, bolt, no_bolt)
    stack, no_stack = _stack(joint)
    nut = nut_of(joint.nut) if joint.nut else None
    no_nut = "" if nut else f"the nut {joint.nut} is not in the tables" if joint.nut else "'nut' is not recorded"
    return Bolted(joint, bolt, no_bolt, grip, length, no_grip, stack, no_stack, nut, no_nut)


def _bolt(joint: Joint) -> tuple[AnBolt | None, str]:
    """What its part number says, or why it says nothing."""
    if joint.bolt is None:
        return None, "'bolt' is not recorded"
    try:
        return decoded(joint.bolt), ""
    except ValueError as error:
        return None, str(error)


def _dimensions(joint: Joint, bolt: AnBolt | None, no_bolt: str) -> tuple[float | None, float | None, str]:
    """Grip and length in inches, and why there is no grip. What is recorded from a drawing goes before the tables."""
    grip = joint.grip.to("in") if joint.grip else None
    length = joint.length.to("in") if joint.length else None
    why = no_bolt
    if bolt is not None:
        try:
            listed = grip_and_length(bolt, bolt_dimensions(), bolt_steps())
            return listed[0] if grip is None else grip, listed[1] if length is None else length, ""
        except ValueError as error:
            why = str(error)
    return grip, length, why if grip is None else ""


def _stack(joint: Joint) -> tuple[Stack | None, str]:
    if not joint.stack:
        return None, "the thicknesses of its parts are not recorded"
    named = len(joint.head_washers) + len(joint.nut_washers)
    if joint.washers is not None and joint.washers != named:
        return None, f"{joint.washers} washers are recorded, and {named} named by part number"
    if joint.washers is None and not named:
        return None, "its washers are not recorded"
    head, under = (_thickness(parts) for parts in (joint.head_washers, joint.nut_washers))
    if head is None or under is None:
        unknown = next(p for p in (*joint.head_washers, *joint.nut_washers) if washer_thickness(p) is None)
        return None, f"the washer {unknown} is not in the tables"
    return Stack(head, sum(part.to("in") for part in joint.stack), under), ""


def _thickness(washers: tuple[str, ...]) -> float | None:
    known = [washer_thickness(part) for part in washers]
    return None if None in known else sum(thickness for thickness in known if thickness is not None)


def _unknown(bolted: Bolted, *why: str) -> Finding:
    reason = next(filter(None, why))
    remedy = "Record it by its open part number, or from its drawing."
    if bolted.bolt is not None and reason == bolted.no_grip:
        remedy = "Record 'grip' and 'length' from its drawing."
    return no_data(bolted.joint.id, reason, bolted.joint.at(), remedy=remedy)


@rule(
    "hardware/grip",
    title="Grip against the parts",
    asks="Does the smooth shank end before the last washer, so that the nut clamps the parts and not the shank?",
    references=("navy-14014", "an3-an20", "an960-thickness"),
    due=Stage.STRUCTURE,
    remedy="Add a washer under the nut, or fit a shorter bolt.",
)
def grip_within_stack(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A bolt's grip, from its part number, is held against the thickness of all parts and washers between head and nut.
    Where the grip is longer, the nut runs onto the shank and clamps nothing, whatever the wrench shows.
    """
    for bolted in bolted_joints:
        joint, stack, grip = bolted.joint, bolted.stack, bolted.grip
        if grip is None or stack is None:
            yield _unknown(bolted, bolted.no_grip, bolted.no_stack)
        else:
            yield _grip(joint, stack, grip)


def _grip(joint: Joint, stack: Stack, grip: float) -> Finding:
    return at_most(
        joint.id,
        grip,
        stack.thickness,
        "in",
        f"the grip is {grip:.3f} in, and parts with washers are {stack.thickness:.3f} in",
        joint.at("bolt"),
        joint.at("stack"),
        remedy=f"Pack it with {stack.spare_grip(grip):.3f} in of washers, or fit a bolt with a shorter grip.",
        working=lambda: [
            f"grip of {joint.bolt or 'the bolt, by its drawing'}: {grip:.4f} in",
            (
                f"washers under the head {stack.under_head:.3f} + parts {stack.parts:.4f} "
                f"+ washers under the nut {stack.under_nut:.3f} = {stack.thickness:.4f} in"
            ),
        ],
    )


@rule(
    "hardware/threads-in-hole",
    title="Threads in the hole",
    asks="Is the hole filled by smooth shank and not by threads?",
    references=("navy-14014", "builders-three-threads", "an3-an20"),
    due=Stage.STRUCTURE,
    remedy="Fit a bolt with a longer grip.",
)
def few_threads_in_hole(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """Threads bear badly and file the hole. What the parts are thicker than the grip reaches is counted in threads. More than
    one is warned of (builders' custom, at second hand), more than two fails (Navy text, read).
    """
    for bolted in bolted_joints:
        joint, stack, grip = bolted.joint, bolted.stack, bolted.grip
        if grip is None or stack is None:
            yield _unknown(bolted, bolted.no_grip, bolted.no_stack)
        elif bolted.bolt is None:
            yield _unknown(bolted, f"its thread is not known: {bolted.no_bolt}")
        else:
            inside = stack.threads_in_hole(grip, bolted.bolt.thread)
            limit, verdict = (2.0, Verdict.FAIL) if inside > 2 else (1.0, Verdict.WARN)  # navy-14014
            message = f"{inside:.1f} threads lie in the hole"
            yield at_most(
                joint.id, inside, limit, "threads", message, joint.at("bolt"), joint.at("stack"), otherwise=verdict
            )


@rule(
    "hardware/bolt-length",
    title="Bolt reaches through its nut",
    asks="Is the bolt long enough for the parts, the washers and a nut?",
    references=("ac43-7-37", "an3-an20"),
    due=Stage.STRUCTURE,
    remedy="Fit a longer bolt.",
)
def bolt_is_long_enough(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """One thread must show beyond the nut. How high each nut is, the tables do not say; so this asks the least that can be
    known before the part is bought: that the bolt is longer than parts, washers and one thread. The threads that really
    show are asked for by hardware/threads-showing.
    """
    for bolted in bolted_joints:
        joint, stack = bolted.joint, bolted.stack
        if stack is None or bolted.length is None or bolted.bolt is None:
            why = bolted.no_grip or "the bolt's length is not in the tables; record 'length' from its drawing"
            yield _unknown(bolted, bolted.no_stack, bolted.no_bolt, why)
            continue
        least = stack.thickness + 1 / threads_per_inch(bolted.bolt.thread)
        message = f"the bolt is {bolted.length:.3f} in long; parts, washers and one thread take {least:.3f} in"
        yield at_least(joint.id, bolted.length, least, "in", message, joint.at("bolt"), joint.at("stack"))


@rule(
    "hardware/threads-showing",
    title="Threads beyond the nut",
    asks="Does at least one thread show beyond a plain or self-locking nut, and no more than three?",
    references=("ac43-7-37", "navy-14014", "builders-three-threads"),
    due=Stage.SYSTEMS,
    remedy="Fit a longer or shorter bolt, or change a washer.",
)
def threads_show(bolted_joints: list[Bolted], hardware: Hardware) -> Iterator[Finding]:
    """AC 43.13-1B asks for one thread at least; a Navy text asks for two, and the builder may record the higher figure in
    'least_threads_showing', never a lower one. More than three is warned of: the nut may stand on the end of its thread. A
    castle nut is judged by its cotter instead.
    """
    least = max(1.0, hardware.least_threads_showing or 0.0)
    for bolted in bolted_joints:
        joint, nut = bolted.joint, bolted.nut
        if nut is None:
            yield _unknown(bolted, bolted.no_nut)
        elif nut.castle:
            yield not_applicable(joint.id, f"{nut.part} is a castle nut", joint.at("nut"))
        elif joint.threads_showing is None:
            yield lacking(joint, "threads_showing")
        else:
            shown = joint.threads_showing
            message = f"{shown:g} threads show beyond the nut"
            if shown > _MOST_SHOWING:
                yield at_most(
                    joint.id,
                    shown,
                    _MOST_SHOWING,
                    "threads",
                    message,
                    joint.at("threads_showing"),
                    otherwise=Verdict.WARN,
                )
            else:
                yield at_least(joint.id, shown, least, "threads", message, joint.at("threads_showing"))


@rule(
    "hardware/gap",
    title="Parts touch",
    asks="Do the parts of each joint touch before its nut is tightened?",
    references=("practice-gap",),
    due=Stage.STRUCTURE,
    remedy="Fill the gap with a shim or a washer that stays; do not pull it together.",
    at_worst=Verdict.WARN,
)
def parts_touch(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A gap that the bolt pulls together bends the parts for the rest of their life. Common practice, no source."""
    for bolted in bolted_joints:
        joint = bolted.joint
        if joint.gap is None:
            yield lacking(joint, "gap")
        else:
            gap = joint.gap.to("in")
            yield at_most(joint.id, gap, 0, "in", f"the parts are {gap:.3f} in apart", joint.at("gap"))


@rule(
    "hardware/washers-under-nut",
    title="Washers under the nut",
    asks="Are there no more than three washers under the nut?",
    references=("practice-washers",),
    due=Stage.STRUCTURE,
    remedy="Fit a bolt with a shorter grip.",
    at_worst=Verdict.WARN,
)
def few_washers(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A tall pile of washers says that the bolt is too long. Some teach two at most, some three; three is asked for here."""
    for bolted in bolted_joints:
        joint = bolted.joint
        if bolted.stack is None:
            yield _unknown(bolted, bolted.no_stack)
        else:
            count = len(joint.nut_washers)
            message = f"{count} washers under the nut"
            yield at_most(joint.id, count, _MOST_WASHERS, "washers", message, joint.at("nut_washers" if count else ""))


@rule(
    "hardware/bolt-size",
    title="Smallest bolt",
    asks="Is no bolt in primary structure smaller than No. 10-32 in steel, or 1/4 in in aluminium?",
    references=("ac43-7-41", "an3-an20"),
    due=Stage.STRUCTURE,
    remedy="Fit a steel bolt of the size that the drawing asks for.",
)
def bolt_is_not_too_small(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """The material stands in the part number: DD is aluminium alloy, C stainless, nothing plain steel. A joint counts as
    primary structure unless it is recorded otherwise.
    """
    for bolted in bolted_joints:
        joint, bolt = bolted.joint, bolted.bolt
        if joint.structure != "primary":
            yield not_applicable(joint.id, "no primary structure", joint.at("structure"))
        elif bolt is None:
            yield _unknown(bolted, bolted.no_bolt)
        else:
            least = 0.25 if bolt.material == "aluminium" else 0.19  # ac43-7-41
            message = f"{bolt.material}, {bolt.diameter:.3f} in"
            yield at_least(joint.id, bolt.diameter, least, "in", message, joint.at("bolt"))


@rule(
    "hardware/nut-fits",
    title="Nut fits its bolt",
    asks="Has the nut the thread of the bolt?",
    references=("nut-part-numbers", "an3-an20"),
    due=Stage.STRUCTURE,
    remedy="Correct the part number that is wrong.",
    at_worst=Verdict.WARN,
)
def nut_fits_bolt(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """Both part numbers are read for their thread. How nuts are numbered is known from memory, so this warns at most."""
    for bolted in bolted_joints:
        joint, bolt, nut = bolted.joint, bolted.bolt, bolted.nut
        if bolt is None or nut is None:
            yield _unknown(bolted, bolted.no_bolt, bolted.no_nut)
        elif nut.thread is None:
            yield _unknown(bolted, f"the size of {nut.part} is not in the tables")
        else:
            say = passes if nut.thread == bolt.thread else fails
            yield say(
                joint.id,
                f"{bolt.part} has the thread {bolt.thread}, {nut.part} {nut.thread}",
                joint.at("nut"),
                joint.at("bolt"),
            )
