"""What does a fast aircraft's fabric need more: notched tapes, anti-tear strips, wider tapes over repairs?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.covering.seams import no_seams
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.quantities import Length
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.covering import Covering
    from jurystrut.records.fabric import Repair, Seam
    from jurystrut_rules.covering.attachments import Laced

__all__ = ["repair_is_taped", "tape_cannot_peel_far", "tear_is_stopped"]

_NOTCHED_ABOVE = 200.0  # ac43-2-7-a: mph
_NOTCH_DEPTH, _NOTCH_SPACING = 1.0, 6.0  # ac43-2-7-a: inches
_FULL_TAPE = 3.0  # ac43-2-7-a: inches; in a narrower tape the notch is a third of the width
_STRIPS_ABOVE = 250.0  # ac43-2-9: mph
_REPAIR_FAST = 150.0  # ac43-2-43: mph
_REPAIR_WIDE, _REPAIR_MIDDLE, _REPAIR_BASE = 6.0, 4.0, 3.0  # ac43-2-43: inches, the widths
_LARGE, _SMALL = 16.0, 8.0  # ac43-2-43: inches, the openings


def _never_exceed(aircraft: Aircraft) -> float | None:
    """Miles an hour."""
    speed = aircraft.limits.never_exceed_speed if aircraft.limits else None
    return round(speed.to("mph"), 6) if speed else None


def _needed_speed(aircraft: Aircraft) -> float:
    mph = _never_exceed(aircraft)
    if mph is None:
        raise MissingRecord("the never-exceed speed is not recorded", aircraft.at("limits"))
    return mph


def _slow_enough(aircraft: Aircraft, mph: float, above: float, what: str) -> Finding:
    return not_applicable("aircraft", f"VNE is {mph:.0f} mph; {what} are asked for above {above:g} mph", aircraft.at())


@rule(
    "covering/tape-notches",
    title="Notches in trailing-edge tape",
    asks="Above 200 mph, is the tape along the trailing edge of every control surface notched?",
    references=("ac43-2-7-a",),
    due=Stage.COVERING,
    remedy="Notch the tape anew as deep and as close as asked, or lay another over it.",
)
def tape_cannot_peel_far(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """AC 43.13-1B paragraph 2-7a(5): where VNE is above 200 mph, notches 1 in deep at most 6 in apart, in tape narrower than 3 in
    a third of its width deep. A tape that comes loose then tears off at a notch, and does not flutter with the surface. A
    trailing edge of which nothing says whether a control surface ends there is no data.
    """
    mph = _needed_speed(aircraft)
    yield from no_seams(aircraft, covering)
    if mph <= _NOTCHED_ABOVE:
        yield _slow_enough(aircraft, mph, _NOTCHED_ABOVE, "notches")
        return
    for seam in covering.seams:
        if seam.place is None:
            yield lacking(seam, "place")
        elif seam.place != "trailing-edge" or seam.control_surface is False:
            yield not_applicable(seam.id, "no trailing edge of a control surface", seam.at("place"))
        else:
            yield from _notched(seam)


def _notched(seam: Seam) -> Iterator[Finding]:
    missing = [
        field
        for field in ("control_surface", "tape_width", "notch_depth", "notch_spacing")
        if getattr(seam, field) is None
    ]
    if seam.tape_width is None or seam.notch_depth is None or seam.notch_spacing is None or missing:
        yield lacking(seam, missing[0], ", and VNE is above 200 mph")
        return
    width, deep, apart = seam.tape_width.to("in"), seam.notch_depth.to("in"), seam.notch_spacing.to("in")
    least = _NOTCH_DEPTH if width >= _FULL_TAPE else width / 3  # ac43-2-7-a
    words = f"notches {deep:g} in deep in tape of {width:g} in; {least:.3g} in are asked for"
    steps = [
        f"tape of {width:g} in: " + ("1 in" if width >= _FULL_TAPE else f"a third, {least:.3f} in") + " deep (read)"
    ]
    yield at_least(seam.id, deep, least, "in", words, seam.at("notch_depth"), working=lambda: steps)
    words = f"notches {apart:g} in apart"
    yield at_most(seam.id, apart, _NOTCH_SPACING, "in", words, seam.at("notch_spacing"))


@rule(
    "covering/anti-tear",
    title="Anti-tear strips",
    asks="Above 250 mph, do anti-tear strips lie under the reinforcing tape?",
    references=("ac43-2-9",),
    due=Stage.COVERING,
    remedy="Ask the covering system's maker before the laces are cut: the strips go under the reinforcing tape.",
    at_worst=Verdict.WARN,
)
def tear_is_stopped(aircraft: Aircraft, laced_surfaces: list[Laced]) -> Iterator[Finding]:
    """AC 43.13-1B paragraph 2-9, from memory, so that this rule warns at most: where VNE is above 250 mph, strips of fabric lie
    under the reinforcing tape, on upper sides everywhere and on lower sides within the slipstream.
    """
    mph = _needed_speed(aircraft)
    if mph <= _STRIPS_ABOVE:
        yield _slow_enough(aircraft, mph, _STRIPS_ABOVE, "anti-tear strips")
        return
    for laced in laced_surfaces:
        there, spot = laced.lacing.anti_tear, laced.lacing.at("anti_tear")
        if there is None:
            yield laced.lacks("anti_tear")
        elif there:
            yield passes(laced.surface.id, f"anti-tear strips lie under its tape; VNE is {mph:.0f} mph", spot)
        else:
            yield warns(laced.surface.id, f"no anti-tear strips; VNE is {mph:.0f} mph", spot)


@rule(
    "covering/repair-tape",
    title="Tape round repairs",
    asks="Is the tape round every repair of the fabric as wide as its size, its place and the speed ask?",
    references=("ac43-2-43", "declared-manual"),
    due=Stage.COVERING,
    remedy="Lay a wider tape round it.",
)
def repair_is_taped(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """What the covering manual asks for decides. Without it, AC 43.13-1B paragraph 2-43: 6 in where the opening is 16 in or more,
    the repair on top of the wing, or VNE above 150 mph; else 4 in where the opening is over 8 in, and 3 in below. The text says
    over and under 16 in: exactly that takes the wider tape.
    """
    yield from none_recorded(covering.repairs, "repair of the fabric", covering)
    mph = _never_exceed(aircraft)
    for repair in covering.repairs:
        if repair.tape_width is None:
            yield lacking(repair, "tape_width")
        elif repair.least_tape is None:
            yield _by_the_circular(repair, repair.tape_width, mph, aircraft)
        elif repair.manual is None:
            yield lacking(repair, "manual", ", which gives its least tape")
        else:
            least, where = repair.least_tape.to("in"), (repair.at("tape_width"), repair.at("least_tape"))
            words = f"{repair.tape_width} of tape; {repair.manual} asks for {repair.least_tape}"
            yield at_least(repair.id, repair.tape_width.to("in"), least, "in", words, *where)


def _by_the_circular(repair: Repair, tape: Length, mph: float | None, aircraft: Aircraft) -> Finding:
    if repair.opening is None:
        return lacking(repair, "opening")
    opening = repair.opening.to("in")
    wide = [
        *(["an opening of 16 in or more"] if opening >= _LARGE else []),
        *(["on top of the wing"] if repair.top_of_wing else []),
        *([f"VNE {mph:.0f} mph, above 150"] if mph is not None and mph > _REPAIR_FAST else []),
    ]
    if not wide and repair.top_of_wing is None:
        return lacking(repair, "top_of_wing")
    if not wide and mph is None:
        raise MissingRecord("the never-exceed speed is not recorded", aircraft.at("limits"))
    least = _REPAIR_WIDE if wide else _REPAIR_MIDDLE if opening > _SMALL else _REPAIR_BASE
    why = ", ".join(wide) or f"an opening of {opening:g} in"
    words = f"{tape} of tape; {least:g} in are asked for: {why}"
    return at_least(repair.id, tape.to("in"), least, "in", words, repair.at("tape_width"), working=lambda: [words])
