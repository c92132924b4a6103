"""Is sheet metal bent over a radius that does not crack it?"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import Finding, Stage, Verdict, at_least, no_data, rule
from jurystrut_rules.hardware.tables import inches, same_size, table
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.hardware import Bend, Hardware

__all__ = ["LeastRadius", "bend_is_wide_enough", "least_radius"]

_RIGHT_ANGLE = 90.0  # bend-radii: deg; the tables are for this bend


class LeastRadius(NamedTuple):
    """The tables for one sheet, inches: from memory, from its lower to its upper end, and a shop's; None where there is none."""

    remembered: tuple[float, float] | None
    shop: float | None

    @property
    def stricter(self) -> float:
        """The widest of all figures, which errs to safety."""
        return max(self.remembered[1] if self.remembered else 0.0, self.shop or 0.0)


@cache
def least_radius(alloy: str, thickness: float) -> LeastRadius | None:
    """What the tables ask of a sheet by its alloy and thickness in inches; None for a sheet that they do not hold.

    0.064 in counts as 0.063 in: the two tables name the same sheet differently.
    """
    for row in table("bend_radii").rows:
        listed = inches(row["thickness"])
        if row["alloy"] == alloy and same_size(listed, thickness):
            low, high, shop = row["from"], row["to"], row["shop"]
            remembered = (float(low) * listed, float(high) * listed) if low and high else None
            return LeastRadius(remembered, inches(shop) if shop else None)
    return None


@rule(
    "hardware/bend-radius",
    title="Bend radius of sheet",
    asks="Is every bend at least as wide inside as its drawing asks, or as tables of bend radii suggest?",
    references=("declared-drawing", "bend-radii"),
    due=Stage.STRUCTURE,
    remedy="Look at the bend under a magnifier for cracks; make it anew over a wider radius, as the designer agrees.",
)
def bend_is_wide_enough(hardware: Hardware) -> Iterator[Finding]:
    """What the drawing declares decides, and fails a bend that is tighter. Without it, the widest of two tables is taken, for
    bends up to 90 degrees; they disagree, and one is from memory, so they warn at most. A sheet that neither holds is no data.
    """
    yield from none_recorded(hardware.bends, "bend in sheet", hardware)
    for bend in hardware.bends:
        yield _bent(bend)


def _bent(bend: Bend) -> Finding:
    if bend.radius is None:
        return lacking(bend, "radius")
    have = bend.radius.to("in")
    if bend.least_radius is not None:
        if bend.drawing is None:
            return lacking(bend, "drawing", ", which gives its least radius")
        least, words = bend.least_radius.to("in"), f"{have:.3f} in inside; {bend.drawing} asks for {bend.least_radius}"
        return at_least(bend.id, have, least, "in", words, bend.at("radius"), bend.at("least_radius"))
    if bend.alloy is None or bend.thickness is None:
        return lacking(bend, "alloy" if bend.alloy is None else "thickness")
    return _by_table(bend, have, bend.alloy, bend.thickness.to("in"))


def _by_table(bend: Bend, have: float, alloy: str, thickness: float) -> Finding:
    known = least_radius(alloy, thickness)
    remedy = "Record 'least_radius' and the 'drawing' that gives it."
    if known is None:
        words = f"the tables have no {alloy} sheet of {thickness:.3f} in"
        return no_data(bend.id, words, bend.at("thickness"), remedy=remedy)
    if bend.angle is None or abs(bend.angle.to("deg")) > _RIGHT_ANGLE:
        how = f"is bent by {bend.angle}" if bend.angle else "has no angle recorded"
        words = f"the tables are for bends up to 90 deg, and this one {how}"
        return no_data(bend.id, words, bend.at("angle"), remedy=remedy)
    words = f"{have:.3f} in inside {alloy} of {thickness:.3f} in; the stricter of two tables asks for {known.stricter:.3f} in"
    return at_least(
        bend.id,
        have,
        known.stricter,
        "in",
        words,
        bend.at("radius"),
        working=lambda: [
            f"from memory of AC 43.13-1B table 4-6: {_span(known.remembered)}",
            f"by a design shop's table: {f'{known.shop:.3f} in' if known.shop is not None else 'no figure'}",
        ],
        otherwise=Verdict.WARN,
    )


def _span(ends: tuple[float, float] | None) -> str:
    return f"{ends[0]:.3f} to {ends[1]:.3f} in" if ends else "no figure"
