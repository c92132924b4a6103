"""Are seams and laps as wide, as closely stitched and as well taped as they should be?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    no_data,
    not_applicable,
    rule,
)
from jurystrut_rules.covering.no_fabric import no_fabric
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.covering import Covering
    from jurystrut.records.fabric import Seam

__all__ = ["doped_seam_is_slow_enough", "hand_stitches_hold", "no_seams", "seam_is_taped", "seam_overlaps"]

# Inches by (kind, place), with the worst that falling short of it may be: AC 43.13-1B paragraphs 2-7a(4), 2-7a(5) and
# 2-7b(5), read; the leading edge of a doped seam, 2-7b, is from memory.
_TAPE = {
    ("sewn", "leading-edge"): (4.0, Verdict.FAIL),  # ac43-2-7-a
    ("sewn", "trailing-edge"): (3.0, Verdict.FAIL),  # ac43-2-7-a
    ("doped", "leading-edge"): (4.0, Verdict.WARN),  # ac43-2-7-b (memory)
    ("doped", "trailing-edge"): (3.0, Verdict.FAIL),  # ac43-2-7-b
    ("doped", "perimeter"): (3.0, Verdict.FAIL),  # ac43-2-7-b
    ("doped", "fuselage"): (3.0, Verdict.FAIL),  # ac43-2-7-b
}
_OVERLAP = {
    ("doped", "leading-edge"): (4.0, Verdict.WARN),  # ac43-2-7-b (memory)
    ("doped", "trailing-edge"): (1.0, Verdict.FAIL),  # ac43-2-7-b
    ("doped", "perimeter"): (1.0, Verdict.FAIL),  # ac43-2-7-b
    ("doped", "fuselage"): (1.0, Verdict.FAIL),  # ac43-2-7-b
}
_DOPED_SPEED = 150.0  # ac43-2-7-b: mph
_STITCHES, _LOCK, _FOLD = 4, 10, 0.375  # ac43-2-7-a: to the inch, stitches, inches


def no_seams(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """Why there is no seam to judge: no fabric at all; otherwise its record is missing."""
    apart = no_fabric(aircraft, covering)
    if apart:
        yield apart
    elif not covering.seams:
        raise MissingRecord("no seam is recorded", covering.at("seams"))


def _listed(
    table: dict[tuple[str, str], tuple[float, Verdict]], seam: Seam, field: str
) -> tuple[float, Verdict, str] | Finding:
    """The limit in inches, how bad it is to fall short of it, and who says so; or why there is none."""
    declared = getattr(seam, field)
    if declared is not None:
        if seam.manual is None:
            return lacking(seam, "manual", ", which gives its limit")
        return declared.to("in"), Verdict.FAIL, seam.manual
    if seam.kind is None or seam.place is None:
        return lacking(seam, "kind" if seam.kind is None else "place")
    if seam.kind == "cemented":
        return lacking(seam, field, "; it stands in the covering manual")
    found = table.get((seam.kind.removeprefix("machine-").removeprefix("hand-"), seam.place))
    if found is None:
        return not_applicable(
            seam.id, f"AC 43.13-1B gives no figure for a {seam.kind} seam at {seam.place}", seam.at("kind")
        )
    by = "AC 43.13-1B paragraph 2-7"
    return (*found, by if found[1] is Verdict.FAIL else f"{by}, from memory")


def _wide(
    seam: Seam, field: str, limit_field: str, table: dict[tuple[str, str], tuple[float, Verdict]], what: str
) -> Finding:
    limit = _listed(table, seam, limit_field)
    if isinstance(limit, Finding):
        return limit
    have = getattr(seam, field)
    if have is None:
        return lacking(seam, field)
    least, verdict, by = limit
    message = f"{have} of {what}; {least:g} in are asked for ({by})"
    where = seam.at(field), *([seam.at(limit_field)] if getattr(seam, limit_field) else [])
    return at_least(seam.id, have.to("in"), least, "in", message, *where, otherwise=verdict)


@rule(
    "covering/seam-overlap",
    title="Overlap of laps",
    asks="Does the fabric overlap as far as the covering manual asks, or 1 in where it is doped?",
    references=("ac43-2-7-b", "declared-manual"),
    due=Stage.COVERING,
    remedy="Cover it anew, or lay another strip of fabric over it as the manual says.",
)
def seam_overlaps(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """What the seam's manual asks for decides. Without it, a doped lap at perimeter or fuselage is held against 1 in (read), at
    a leading edge against 4 in (from memory, so that it warns). A cemented lap without a declared figure is no data.
    """
    yield from no_seams(aircraft, covering)
    for seam in covering.seams:
        if seam.kind in {"machine-sewn", "hand-sewn"} and seam.least_overlap is None:
            yield not_applicable(seam.id, "a sewn seam, which is no lap", seam.at("kind"))
        else:
            yield _wide(seam, "overlap", "least_overlap", _OVERLAP, "overlap")


@rule(
    "covering/seam-tape",
    title="Tape over seams",
    asks="Is the tape over every seam as wide as its place asks?",
    references=("ac43-2-7-a", "ac43-2-7-b", "declared-manual"),
    due=Stage.COVERING,
    remedy="Lay a wider tape over it.",
)
def seam_is_taped(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """What the seam's manual asks for decides. Without it, a sewn seam needs 4 in of tape at a leading edge, 3 in at a trailing
    edge, a doped one 3 in, and 4 in at a leading edge (that from memory). A cemented one without a declared figure is no data.
    """
    yield from no_seams(aircraft, covering)
    for seam in covering.seams:
        yield _wide(seam, "tape_width", "least_tape", _TAPE, "tape")


@rule(
    "covering/hand-stitch",
    title="Seams sewn by hand",
    asks="Has every seam sewn by hand four stitches to the inch, a lock every ten, and 3/8 in folded under?",
    references=("ac43-2-7-a",),
    due=Stage.COVERING,
    remedy="Sew it again.",
)
def hand_stitches_hold(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """AC 43.13-1B paragraph 2-7a(2). A thread that breaks opens the seam up to the next lock."""
    yield from no_seams(aircraft, covering)
    for seam in covering.seams:
        if seam.kind is None:
            yield lacking(seam, "kind")
        elif seam.kind != "hand-sewn":
            yield not_applicable(seam.id, f"a {seam.kind} seam", seam.at("kind"))
        else:
            yield from _stitched(seam)


def _stitched(seam: Seam) -> Iterator[Finding]:
    if seam.stitches_per_inch is None:
        yield lacking(seam, "stitches_per_inch")
    else:
        pitch = seam.stitches_per_inch
        words = f"{pitch:g} stitches to the inch"
        yield at_least(seam.id, pitch, _STITCHES, "per in", words, seam.at("stitches_per_inch"))
    if seam.lock_every is None:
        yield lacking(seam, "lock_every")
    else:
        words = f"locked every {seam.lock_every} stitches"
        yield at_most(seam.id, seam.lock_every, _LOCK, "stitches", words, seam.at("lock_every"))
    if seam.fold is None:
        yield lacking(seam, "fold")
    else:
        yield at_least(seam.id, seam.fold.to("in"), _FOLD, "in", f"{seam.fold} folded under", seam.at("fold"))


@rule(
    "covering/doped-seam-speed",
    title="Doped seams and speed",
    asks="Are doped seams used only where the never-exceed speed is 150 mph or less?",
    references=("ac43-2-7-b",),
    due=Stage.COVERING,
    remedy="Sew the seam, or follow a covering system whose manual covers this speed.",
)
def doped_seam_is_slow_enough(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """AC 43.13-1B paragraph 2-7b(5). Laps cemented by a covering system with a manual of its own are not asked."""
    limits = aircraft.limits
    yield from no_seams(aircraft, covering)
    for seam in covering.seams:
        if seam.kind is None:
            yield lacking(seam, "kind")
        elif seam.kind != "doped":
            yield not_applicable(seam.id, f"a {seam.kind} seam", seam.at("kind"))
        elif limits is None or limits.never_exceed_speed is None:
            yield no_data(seam.id, "the never-exceed speed is not recorded", aircraft.at(), seam.at("kind"))
        else:
            mph = round(limits.never_exceed_speed.to("mph"), 6)
            words = f"a doped seam at a never-exceed speed of {mph:.0f} mph"
            where = seam.at("kind"), limits.at("never_exceed_speed")
            yield at_most(seam.id, mph, _DOPED_SPEED, "mph", words, *where)
