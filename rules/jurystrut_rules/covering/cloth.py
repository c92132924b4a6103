"""Is the fabric strong enough, held closely enough, drained, and was the structure looked at before it was closed?"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

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
    read_table,
    rule,
    warns,
)
from jurystrut_rules.covering.no_fabric import no_fabric

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.quantities import Length
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.covering import Application, Covering, Surface
    from jurystrut.records.fabric import Lacing, Panel
    from jurystrut.records.papers import Inspection
    from jurystrut.records.project import Project

__all__ = [
    "FabricNeeded",
    "attachments_are_close",
    "cloth_is_strong_enough",
    "cloth_keeps_its_strength",
    "fabric_needed",
    "inside_was_inspected",
    "panels_drain",
]


class FabricNeeded(NamedTuple):
    """The grade of Table 2-1 that the aircraft needs, in pounds an inch, and how it was found."""

    grade: str
    new: float
    steps: tuple[str, ...]


@cache
def _rows() -> tuple[dict[str, str | None], ...]:
    """The rows for aeroplanes, the weakest grade first."""
    table = read_table(Path(__file__).parent.parent / "tables" / "covering" / "table_2_1.yaml")
    return tuple(row for row in table.rows if row["gliders"] == "no")


@fact
def fabric_needed(aircraft: Aircraft) -> FabricNeeded:
    """The weakest grade of Table 2-1 whose limits of wing loading and never-exceed speed this aircraft is below."""
    limits = aircraft.limits
    if limits is None or limits.gross_weight is None or limits.never_exceed_speed is None or aircraft.wing_area is None:
        raise MissingRecord("gross weight, never-exceed speed or wing area is not recorded", aircraft.at())
    if min(limits.gross_weight.si, limits.never_exceed_speed.si, aircraft.wing_area.si) <= 0:
        raise MissingRecord("gross weight, never-exceed speed or wing area is recorded as nothing", aircraft.at())
    loading = limits.gross_weight.to("lb") / aircraft.wing_area.to("ft2")
    speed = limits.never_exceed_speed.to("mph")
    row = next(row for row in _rows() if _below(loading, row["below_psf"]) and _below(speed, row["below_mph"]))
    words = f"{limits.gross_weight} / {aircraft.wing_area} = {loading:.2f} lb/ft2; VNE {speed:.0f} mph"
    needed = float(str(row["new"]))
    return FabricNeeded(str(row["grade"]), needed, (words, f"Table 2-1: grade {row['grade']}, {needed:g} lb/in new"))


def _below(value: float, limit: str | None) -> bool:
    """Below a printed limit, and not merely by the last bits of a division; the strongest grade has none."""
    return limit is None or value < float(limit) * (1 - 1e-9)


@rule(
    "covering/fabric-grade",
    title="Fabric strong enough for the aircraft",
    asks="Is every fabric, when new, as strong as wing loading and never-exceed speed ask for?",
    references=("ac43-table-2-1",),
    due=Stage.COVERING,
    remedy="Cover with a stronger fabric.",
)
def cloth_is_strong_enough(aircraft: Aircraft, covering: Covering, fabric_needed: FabricNeeded) -> Iterator[Finding]:
    """Table 2-1 asks for 80 lb/in where the wing loading is 9 psf or the never-exceed speed 160 mph or more, else for 65 lb/in.

    The table is for cotton; its strengths are taken as the yardstick for any fabric. On a boundary the stronger grade counts.
    """
    apart = no_fabric(aircraft, covering)
    if apart:
        yield apart
        return
    if not covering.cloths:
        raise MissingRecord("no fabric is recorded", covering.at())
    for cloth in covering.cloths:
        if cloth.strength_new is None:
            yield no_data(
                cloth.id, "its strength when new is not recorded", cloth.at(), remedy="Record 'strength_new'."
            )
        else:
            yield at_least(
                cloth.id,
                cloth.strength_new.to("lb/in"),
                fabric_needed.new,
                "lb/in",
                f"{cloth.strength_new} when new; this aircraft needs grade {fabric_needed.grade}, {fabric_needed.new:g} lb/in",
                cloth.at("strength_new"),
                working=lambda: fabric_needed.steps,
            )


_SHARE_LEFT = 0.70  # ac43-2-33


@rule(
    "covering/fabric-strength",
    title="Fabric still strong enough",
    asks="Has the fabric, as last tested, 70 % of the new strength that the aircraft asks for?",
    references=("ac43-2-33", "ac43-table-2-1"),
    due=Stage.OPERATING,
    remedy="Cover anew.",
)
def cloth_keeps_its_strength(aircraft: Aircraft, covering: Covering, fabric_needed: FabricNeeded) -> Iterator[Finding]:
    """What counts is 70 % of the new strength of the fabric that the aircraft requires, not of the stronger one fitted.

    The table prints 46 lb/in for 70 % of 65, which is 45.5: here 45.5 counts, unrounded.
    """
    apart = no_fabric(aircraft, covering)
    if apart:
        yield apart
        return
    if not covering.cloths:
        raise MissingRecord("no fabric is recorded", covering.at())
    limit = _SHARE_LEFT * fabric_needed.new
    for cloth in covering.cloths:
        if cloth.strength_tested is None:
            yield no_data(
                cloth.id,
                "no test of its strength is recorded",
                cloth.at(),
                remedy="Test it, or a strip that aged with it.",
            )
        else:
            message = f"{cloth.strength_tested} at the last test; {limit:g} lb/in is the least"
            yield at_least(
                cloth.id,
                cloth.strength_tested.to("lb/in"),
                limit,
                "lb/in",
                message,
                cloth.at("strength_tested"),
                working=lambda: (*fabric_needed.steps, f"70 % of it: {limit:g} lb/in"),
            )


@rule(
    "covering/drains",
    title="Drain at the lowest point",
    asks="Has every panel in which water can gather a drain at its lowest point?",
    references=("ac43-2-14-b",),
    due=Stage.COVERING,
    remedy="Set drain grommets at the lowest point of every panel, as the aircraft stands parked.",
)
def panels_drain(covering: Covering) -> Iterator[Finding]:
    """AC 43.13-1B wants a drain on the underside, at the lowest point of every fabric panel in the parked attitude. Where the
    panels of a surface are recorded one by one, each is judged; otherwise what its record says of all of them.
    """
    panels: dict[str, list[Panel]] = {}
    for panel in covering.panels:
        panels.setdefault(panel.surface, []).append(panel)
    lower = [surface for surface in covering.surfaces if surface.lies_below or surface.id in panels]
    if not lower:
        yield not_applicable(
            "aircraft", "no surface is recorded as one in which water can gather", covering.at("surfaces")
        )
    for surface in lower:
        known = panels.get(surface.id, [])
        for panel in known:
            yield _drained(panel, "it has its drain", "it has no drain at its lowest point")
        if not known or surface.drained is False:
            yield _drained(surface, "every panel has its drain", "not every panel has a drain at its lowest point")


def _drained(piece: Panel | Surface, good: str, bad: str) -> Finding:
    if piece.drained is None:
        return no_data(piece.id, "whether it drains is not recorded", piece.at(), remedy="Record 'drained'.")
    return (passes if piece.drained else fails)(piece.id, good if piece.drained else bad, piece.at("drained"))


@rule(
    "covering/attachment-spacing",
    title="Spacing of laces and other attachments",
    asks="Is the fabric attached as closely as the chart, read at this aircraft's never-exceed speed, asks for?",
    references=("ac43-figure-2-12", "declared-manual"),
    due=Stage.COVERING,
    remedy="Add attachments, or read the chart again at the aircraft's own speed.",
)
def attachments_are_close(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """The chart is a graph of which no copy gives numbers: the builder reads it and records the reading and its speed.

    The spacing must not exceed that reading, and the reading must have been taken at no less than the never-exceed speed.
    Where a second spacing outside the slipstream is recorded in 'lacing', it has its own reading, which is no less.
    """
    apart = no_fabric(aircraft, covering)
    if apart:
        yield apart
        return
    laced = [surface for surface in covering.surfaces if surface.lacing_spacing is not None]
    if not laced:
        raise MissingRecord("no surface has its spacing of attachments recorded", covering.at("surfaces"))
    for surface in laced:
        yield from _spaced(surface, aircraft)
        if surface.lacing and surface.lacing.spacing_outside:
            yield from _spaced_outside(surface, surface.lacing, surface.lacing.spacing_outside)


def _spaced_outside(surface: Surface, lacing: Lacing, spacing: Length) -> Iterator[Finding]:
    """Outside the slipstream the chart's other curve counts, which lies above the one inside."""
    limit, inside = lacing.limit_outside, surface.lacing_limit
    if limit is None:
        words = "the chart's reading outside the slipstream is not recorded"
        yield no_data(surface.id, words, lacing.at(), remedy="Record 'limit_outside' in its 'lacing'.")
        return
    words = f"attached every {spacing} outside the slipstream, where {limit} are allowed"
    where = lacing.at("spacing_outside"), lacing.at("limit_outside")
    yield at_most(surface.id, spacing.to("in"), limit.to("in"), "in", words, *where)
    if inside is not None and inside.to("in") > limit.to("in"):
        words = f"{inside} inside the slipstream and {limit} outside: the two readings look exchanged"
        yield fails(surface.id, words, lacing.at("limit_outside"), surface.at("lacing_limit"))


def _spaced(surface: Surface, aircraft: Aircraft) -> Iterator[Finding]:
    limits = aircraft.limits
    if surface.lacing_limit is None or surface.lacing_limit_speed is None or surface.lacing_limit_from is None:
        yield no_data(surface.id, "the chart's reading, its speed or where it was read is not recorded", surface.at())
        return
    if limits is None or limits.never_exceed_speed is None:
        yield no_data(surface.id, "the never-exceed speed is not recorded", surface.at(), aircraft.at())
        return
    assert surface.lacing_spacing is not None
    message = f"attached every {surface.lacing_spacing}; {surface.lacing_limit_from} allows {surface.lacing_limit}"
    spacing, limit = surface.lacing_spacing.to("in"), surface.lacing_limit.to("in")
    yield at_most(surface.id, spacing, limit, "in", message, surface.at("lacing_spacing"), surface.at("lacing_limit"))
    read_at, speed = surface.lacing_limit_speed, limits.never_exceed_speed
    message = f"the chart was read at {read_at}; the never-exceed speed is {speed}"
    yield at_least(
        surface.id,
        read_at.to("kt"),
        speed.to("kt"),
        "kt",
        message,
        surface.at("lacing_limit_speed"),
        limits.at("never_exceed_speed"),
        remedy="Read the chart again at the aircraft's own speed.",
    )


@rule(
    "covering/closed-after-inspection",
    title="Structure inspected before it was closed",
    asks="Did somebody look at the structure before the fabric closed it?",
    references=("practice-close-after-inspection",),
    due=Stage.COVERING,
    remedy="Record the inspection; if there was none, open inspection holes and have it looked at now.",
    at_worst=Verdict.WARN,
)
def inside_was_inspected(covering: Covering, project: Project) -> Iterator[Finding]:
    """Of a wing, the side covered last closes it: the first step there that is more than primer or a repair must not
    come before the inspection that it names.
    """
    first: dict[str, Application] = {}
    for entry in sorted(covering.applications, key=lambda entry: entry.started):
        if entry.step not in {None, "prime", "repair"}:
            first.setdefault(entry.surface, entry)
    closing = [surface for surface in covering.surfaces if surface.closes]
    if not closing:
        raise MissingRecord("no surface is recorded as one that closes a structure", covering.at("surfaces"))
    inspections: Mapping[str, Inspection] = {i.id: i for i in project.sections.get("inspections", ())}
    for surface in closing:
        if surface.id not in first:
            yield not_applicable(surface.id, "not covered yet", surface.at())
        elif surface.closed_after is None:
            yield no_data(
                surface.id, "no inspection before covering is named", surface.at(), remedy="Record 'closed_after'."
            )
        else:
            seen, closed = inspections[surface.closed_after], first[surface.id]
            message = f"looked at on {seen.day} by {seen.who}, closed on {closed.started.date()}"
            said = passes if seen.day <= closed.started.date() else warns
            yield said(surface.id, message, surface.at("closed_after"), closed.at("started"))
