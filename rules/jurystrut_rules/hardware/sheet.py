"""Are rivets of the right size and in the right place, and do clamps suit what they hold?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.fasteners import rivet_length
from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    between,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.hardware.tables import countersink_sheet
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.quantities import Length
    from jurystrut.records.hardware import Clamp, Hardware, RivetRow

__all__ = [
    "blind_rivet_called_out",
    "clamp_fits",
    "clamp_is_the_right_kind",
    "rivet_diameter_suits_sheet",
    "rivet_has_edge",
    "rivet_is_long_enough",
    "rivet_rows_keep_apart",
    "rivets_keep_apart",
    "sheet_takes_countersink",
]


@rule(
    "hardware/rivet-edge",
    title="Edge distance of rivets",
    asks="Is every rivet as far from the edge as its drawing asks, or two diameters, two and a half where it is countersunk?",
    references=("ac43-4-57-c", "amt-countersunk-edge", "declared-drawing"),
    due=Stage.STRUCTURE,
    remedy="Ask the designer; move the row where the holes are not drilled yet.",
)
def rivet_has_edge(hardware: Hardware) -> Iterator[Finding]:
    """From a rivet's centre to the nearest edge of any sheet. What the drawing declares decides. Without it, two diameters,
    or two and a half, serve as a warning: both figures are known at second hand.
    """
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.edge_distance is None:
            yield lacking(row, "edge_distance")
        elif row.least_edge_distance is None:
            yield _customary_edge(row, row.edge_distance)
        elif row.drawing is None:
            yield lacking(row, "drawing", ", which gives its least edge distance")
        else:
            message = f"{row.edge_distance} to the edge; {row.drawing} asks for {row.least_edge_distance}"
            where = row.at("edge_distance"), row.at("least_edge_distance")
            yield at_least(row.id, row.edge_distance.to("in"), row.least_edge_distance.to("in"), "in", message, *where)


def _customary_edge(row: RivetRow, distance: Length) -> Finding:
    if row.diameter is None or row.head is None:
        return lacking(row, "diameter" if row.diameter is None else "head")
    factor = 2.5 if row.head != "protruding" else 2.0  # amt-countersunk-edge, ac43-4-57-c
    have, least = distance.to("in"), factor * row.diameter.to("in")
    message = f"{have:.3f} in to the edge; {factor:g} diameters of a {row.head} rivet are {least:.3f} in"
    return at_least(row.id, have, least, "in", message, row.at("edge_distance"), otherwise=Verdict.WARN)


@rule(
    "hardware/rivet-pitch",
    title="Rivets keep apart",
    asks="Are the rivets of a row at least three diameters apart?",
    references=("navy-14018",),
    due=Stage.STRUCTURE,
    remedy="Leave rivets out, or take smaller ones, as the designer agrees.",
)
def rivets_keep_apart(hardware: Hardware) -> Iterator[Finding]:
    """Centre to centre in the row. Four to eight diameters are usual."""
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.diameter is None or row.pitch is None:
            yield lacking(row, "diameter" if row.diameter is None else "pitch")
            continue
        have, least = row.pitch.to("in"), 3 * row.diameter.to("in")  # navy-14018
        message = f"{have:.3f} in from rivet to rivet; three diameters are {least:.3f} in"
        yield at_least(row.id, have, least, "in", message, row.at("pitch"))


@rule(
    "hardware/rivet-rows",
    title="Rows of rivets keep apart",
    asks="Are neighbouring rows at least two and a half diameters apart?",
    references=("amt-row-distance",),
    due=Stage.STRUCTURE,
    remedy="Ask the designer; move the row where the holes are not drilled yet.",
    at_worst=Verdict.WARN,
)
def rivet_rows_keep_apart(hardware: Hardware) -> Iterator[Finding]:
    """A row without 'row_distance' is taken as one row alone. The figure is known at second hand."""
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.row_distance is None:
            yield not_applicable(row.id, "no neighbouring row is recorded", row.at())
        elif row.diameter is None:
            yield lacking(row, "diameter")
        else:
            have, least = row.row_distance.to("in"), 2.5 * row.diameter.to("in")  # amt-row-distance
            message = f"{have:.3f} in to the next row; 2.5 diameters are {least:.3f} in"
            yield at_least(row.id, have, least, "in", message, row.at("row_distance"))


@rule(
    "hardware/rivet-diameter",
    title="Rivet suits its sheet",
    asks="Is the rivet one to three times as thick as the thickest sheet?",
    references=("navy-14018",),
    due=Stage.STRUCTURE,
    remedy="Take a rivet of another diameter, as the designer agrees.",
)
def rivet_diameter_suits_sheet(hardware: Hardware) -> Iterator[Finding]:
    """The Navy text bounds the diameter so; another handbook takes three times the thicker sheet as its aim. A designer's
    drawing that says otherwise is a deviation with a good reason.
    """
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.diameter is None or not row.sheets:
            yield lacking(row, "diameter" if row.diameter is None else "sheets")
            continue
        have, sheet = row.diameter.to("in"), max(sheet.to("in") for sheet in row.sheets)
        message = f"{have:.3f} in rivet in sheet of {sheet:.3f} in: {have / sheet:.1f} times as thick"
        yield between(row.id, have, sheet, 3 * sheet, "in", message, row.at("diameter"), row.at("sheets"))  # navy-14018


_HALF_STEP = 1 / 32  # practice-rivet-length
"""Rivets come in lengths of sixteenths of an inch; the nearest is at most half a step off."""


@rule(
    "hardware/rivet-length",
    title="Length of a solid rivet",
    asks="Is every solid rivet as long as its sheets and one and a half diameters?",
    references=("navy-14018", "practice-rivet-length"),
    due=Stage.STRUCTURE,
    remedy="Take the length nearest to sheets plus 1.5 diameters.",
    at_worst=Verdict.WARN,
)
def rivet_is_long_enough(hardware: Hardware) -> Iterator[Finding]:
    """Half a step of the lengths on sale is let be to either side, which is common practice. Blind rivets go by their maker."""
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.kind is None:
            yield lacking(row, "kind")
        elif row.kind != "solid":
            yield not_applicable(row.id, "a blind rivet's grip range comes from its maker", row.at("kind"))
        elif row.diameter is None or row.length is None or not row.sheets:
            yield lacking(row, "diameter" if row.diameter is None else "length" if row.length is None else "sheets")
        else:
            have = row.length.to("in")
            aim = rivet_length(sum(sheet.to("in") for sheet in row.sheets), row.diameter.to("in"))
            message = f"{have:.4f} in long; sheets and 1.5 diameters are {aim:.4f} in"
            yield between(
                row.id, have, aim - _HALF_STEP, aim + _HALF_STEP, "in", message, row.at("length"), row.at("sheets")
            )


@rule(
    "hardware/countersink",
    title="Sheet under a countersunk head",
    asks="Is the outer sheet thick enough for a machine countersink?",
    references=("army-countersink",),
    due=Stage.STRUCTURE,
    remedy="Dimple the sheet, or take a rivet with a protruding head.",
)
def sheet_takes_countersink(hardware: Hardware) -> Iterator[Finding]:
    """A countersink through the whole sheet leaves a knife edge at the hole. The first sheet of the row is the outer one."""
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.head is None:
            yield lacking(row, "head")
        elif row.head != "countersunk":
            yield not_applicable(row.id, f"a {row.head} rivet", row.at("head"))
        elif row.diameter is None or not row.sheets:
            yield lacking(row, "diameter" if row.diameter is None else "sheets")
        else:
            yield _countersunk(row, row.diameter.to("in"), row.sheets[0].to("in"))


def _countersunk(row: RivetRow, diameter: float, sheet: float) -> Finding:
    least = countersink_sheet(diameter)
    if least is None:
        return no_data(
            row.id, f"the table has no rivet of {diameter:.4f} in", row.at("diameter"), remedy="Ask the designer."
        )
    message = f"the outer sheet is {sheet:.3f} in; a {diameter:.4f} in rivet needs {least:.3f} in"
    return at_least(row.id, sheet, least, "in", message, row.at("sheets"))


@rule(
    "hardware/blind-rivet",
    title="Blind rivets are the designer's",
    asks="Is every blind rivet one that the designer calls out by its part number?",
    references=("ac43-4-57-f",),
    due=Stage.STRUCTURE,
    remedy="Drill it out and fit the rivet of the drawing.",
)
def blind_rivet_called_out(hardware: Hardware) -> Iterator[Finding]:
    """A pull rivet from a hardware shop looks the same and carries a fraction of the load."""
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.kind is None:
            yield lacking(row, "kind")
        elif row.kind == "solid":
            yield not_applicable(row.id, "a solid rivet", row.at("kind"))
        elif row.called_out is None or row.part is None:
            yield lacking(row, "part" if row.part is None else "called_out")
        else:
            say = passes if row.called_out else fails
            yield say(
                row.id,
                f"{row.part} {'is' if row.called_out else 'is not'} called out by the designer",
                row.at("called_out"),
            )


@rule(
    "hardware/clamp-size",
    title="Clamp fits its line",
    asks="Has every clamp the size of what it holds?",
    references=("clamp-sizes", "amt-7-22"),
    due=Stage.SYSTEMS,
    remedy="Fit the clamp whose number is the outside diameter in sixteenths of an inch.",
    at_worst=Verdict.WARN,
)
def clamp_fits(hardware: Hardware) -> Iterator[Finding]:
    """A small clamp chokes a hose, a large one lets the line chafe. The numbers, in sixteenths of an inch, are from memory."""
    yield from none_recorded(hardware.clamps, "clamp", hardware)
    for clamp in hardware.clamps:
        if clamp.size is None or clamp.around is None:
            yield lacking(clamp, "size" if clamp.size is None else "around")
            continue
        wanted = 16 * clamp.around.to("in")  # clamp-sizes
        message = f"a clamp of size {clamp.size} round {clamp.around}, which is size {wanted:.4g}"
        # Half a size to either side would be another clamp.
        low, high = wanted - 0.5, wanted + 0.5  # clamp-sizes
        yield between(clamp.id, clamp.size, low, high, "sixteenths", message, clamp.at("size"), clamp.at("around"))


@rule(
    "hardware/clamp-kind",
    title="Clamp of the right kind",
    asks="Is a shaking line cushioned, and a metal line bonded?",
    references=("amt-7-22",),
    due=Stage.SYSTEMS,
    remedy="Fit a cushioned clamp to a line that shakes, and a bonding clamp on bare metal to a metal line.",
)
def clamp_is_the_right_kind(hardware: Hardware) -> Iterator[Finding]:
    """A bare clamp saws through a line that shakes. A metal fuel or oil line that is not bonded can spark."""
    yield from none_recorded(hardware.clamps, "clamp", hardware)
    for clamp in hardware.clamps:
        yield _kind(clamp)


def _kind(clamp: Clamp) -> Finding:
    if clamp.holds is None or clamp.vibrates is None:
        return lacking(clamp, "holds" if clamp.holds is None else "vibrates")
    if clamp.vibrates and clamp.cushioned is None:
        return lacking(clamp, "cushioned", ", and the line shakes")
    if clamp.holds == "metal-line" and clamp.bonded is None:
        return lacking(clamp, "bonded", ", and the line is metal")
    if clamp.vibrates and not clamp.cushioned:
        return fails(clamp.id, "it holds a line that shakes, without a cushion", clamp.at("cushioned"))
    if clamp.holds == "metal-line" and not clamp.bonded:
        return fails(clamp.id, "it holds a metal line and does not bond it", clamp.at("bonded"))
    return passes(clamp.id, f"it holds {clamp.holds}, as such a line wants to be held", clamp.at())
