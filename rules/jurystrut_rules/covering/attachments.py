"""Is the fabric held to its ribs: cord, first lace, tapes under and over it, and nothing laced before it was taut?"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.records.fabric import Lacing
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Table,
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
)
from jurystrut_rules.covering.no_fabric import no_fabric

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.quantities import Length
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.covering import Cloth, Covering, Surface
    from jurystrut.rulebook import Spot

__all__ = [
    "Laced",
    "cord_is_strong",
    "cord_suits_cloth",
    "cord_table",
    "first_lace_is_near",
    "laced_surfaces",
    "reinforcing_covers_cap",
    "tape_covers_laces",
    "taut_before_laced",
]

_BESIDE, _BEYOND = 0.375, 0.5  # ac43-2-13: inches
_FIRST = 0.5  # ac43-2-11: of the spacing on the rest of the rib


class Laced(NamedTuple):
    """A surface of which anything is recorded of its attachments."""

    surface: Surface
    lacing: Lacing
    cloth: Cloth | None

    def lacks(self, field: str) -> Finding:
        """No data, in the words of the record that lacks it."""
        remedy = f"Record '{field}' in its 'lacing'."
        return no_data(self.surface.id, f"'{field}' of its lacing is not recorded", self.lacing.at(), remedy=remedy)


@fact
def laced_surfaces(aircraft: Aircraft, covering: Covering) -> list[Laced]:
    """Every surface attached to ribs; one with a spacing and no record of its lacing has an empty one, in its own place.
    None where the aircraft has no fabric.
    """
    cloths = {cloth.id: cloth for cloth in covering.cloths}
    found = [
        Laced(
            surface,
            surface.lacing or Lacing().model_copy(update={"where": surface.where}),
            cloths.get(surface.cloth or ""),
        )
        for surface in covering.surfaces
        if surface.lacing or surface.lacing_spacing
    ]
    if not found and not no_fabric(aircraft, covering):
        raise MissingRecord(
            "no surface has its 'lacing' or the spacing of its attachments recorded", covering.at("surfaces")
        )
    return found


def _unlaced(laced_surfaces: list[Laced]) -> Iterator[Finding]:
    if not laced_surfaces:
        yield not_applicable("aircraft", "no fabric is recorded on an aircraft covered otherwise")


@cache
def _cords() -> Table:
    return read_table(Path(__file__).parents[1] / "tables" / "covering" / "table_2_2.yaml")


def cord_table(item: str) -> float:
    """The least strength of a cord or thread in pounds, by its name in table 2-2."""
    return next(float(str(row["least"])) for row in _cords().rows if row["item"] == item)


@rule(
    "covering/cord-fibre",
    title="Cord suits the fabric",
    asks="Is no polyester or glass fabric laced with cotton or linen cord?",
    references=("ac43-2-5",),
    due=Stage.COVERING,
    remedy="Lace it again with polyester cord.",
)
def cord_suits_cloth(laced_surfaces: list[Laced]) -> Iterator[Finding]:
    """Cotton and linen rot and stretch long before the fabric that they hold does."""
    yield from _unlaced(laced_surfaces)
    for laced in laced_surfaces:
        surface, cloth, cord = laced.surface, laced.cloth, laced.lacing.cord
        if cord is None:
            yield laced.lacks("cord")
        elif cloth is None or cloth.fibre is None:
            yield no_data(surface.id, "the fibre of its fabric is not recorded", (cloth or surface).at())
        else:
            bad = cord in {"cotton", "linen"} and cloth.fibre in {"polyester", "glass"}
            words = f"{cord} cord in {cloth.fibre} fabric"
            yield (fails if bad else passes)(surface.id, words, laced.lacing.at("cord"), cloth.at("fibre"))


@rule(
    "covering/cord-strength",
    title="Cord is strong enough",
    asks="Does lacing cord hold the 40 lb that the weakest cord of table 2-2 holds?",
    references=("ac43-table-2-2",),
    due=Stage.COVERING,
    remedy="Lace it again with a cord whose strength is known.",
)
def cord_is_strong(laced_surfaces: list[Laced]) -> Iterator[Finding]:
    """The table gives 40 lb for prewaxed cotton cord, the least of all lacing cords; it is the yardstick for any fibre."""
    yield from _unlaced(laced_surfaces)
    least = cord_table("cotton cord, prewaxed")
    for laced in laced_surfaces:
        strength = laced.lacing.cord_strength
        if strength is None:
            yield laced.lacks("cord_strength")
        else:
            words = f"the cord holds {strength}"
            yield at_least(laced.surface.id, strength.to("lb"), least, "lb", words, laced.lacing.at("cord_strength"))


@rule(
    "covering/first-lace",
    title="First lace",
    asks="Is the first lace no farther from the leading edge than half the spacing?",
    references=("ac43-2-11", "ac43-figure-2-12"),
    due=Stage.COVERING,
    remedy="Add a lace in front of it.",
    at_worst=Verdict.WARN,
)
def first_lace_is_near(laced_surfaces: list[Laced]) -> Iterator[Finding]:
    """Half of the spacing recorded for the surface. Known at second hand, so this warns at most."""
    yield from _unlaced(laced_surfaces)
    for laced in laced_surfaces:
        surface, first = laced.surface, laced.lacing.first
        if first is None:
            yield laced.lacks("first")
        elif surface.lacing_spacing is None:
            yield no_data(surface.id, "its spacing of attachments is not recorded", surface.at())
        else:
            most = _FIRST * surface.lacing_spacing.to("in")
            words = (
                f"the first lace is {first} from the leading edge; half of {surface.lacing_spacing} is {most:.3g} in"
            )
            yield at_most(
                surface.id, first.to("in"), most, "in", words, laced.lacing.at("first"), surface.at("lacing_spacing")
            )


@rule(
    "covering/reinforcing-tape",
    title="Reinforcing tape",
    asks="Is the tape under the laces as wide as the rib's cap?",
    references=("practice-reinforcing-tape",),
    due=Stage.COVERING,
    remedy="Lace it again over a wider tape.",
    at_worst=Verdict.WARN,
)
def reinforcing_covers_cap(laced_surfaces: list[Laced]) -> Iterator[Finding]:
    """A cap wider than its tape cuts the fabric beside it. Common practice, no source."""
    yield from _unlaced(laced_surfaces)
    for laced in laced_surfaces:
        width, cap = laced.lacing.reinforcing_width, laced.lacing.rib_cap
        if width is None or cap is None:
            yield laced.lacks("reinforcing_width" if width is None else "rib_cap")
        else:
            words = f"tape of {width} on a cap of {cap}"
            where = laced.lacing.at("reinforcing_width"), laced.lacing.at("rib_cap")
            yield at_least(laced.surface.id, width.to("in"), cap.to("in"), "in", words, *where)


@rule(
    "covering/surface-tape",
    title="Surface tape over attachments",
    asks="Is every row of attachments taped over by 3/8 in to either side and 1/2 in beyond its ends?",
    references=("ac43-2-13",),
    due=Stage.COVERING,
    remedy="Lay a wider or longer tape over it.",
)
def tape_covers_laces(laced_surfaces: list[Laced]) -> Iterator[Finding]:
    """AC 43.13-1B paragraph 2-13b: bonded at least 3/8 in beside the attachments, and 1/2 in past the reinforcing tape. Tape of
    2 in is usual on ribs.
    """
    yield from _unlaced(laced_surfaces)
    for laced in laced_surfaces:
        beside, beyond = laced.lacing.tape_beside, laced.lacing.tape_beyond
        if beside is None or beyond is None:
            yield laced.lacks("tape_beside" if beside is None else "tape_beyond")
        else:
            yield _taped(laced, beside, beyond)


def _taped(laced: Laced, beside: Length, beyond: Length) -> Finding:
    words = f"{beside} of tape beside the attachments, {beyond} beyond their ends"
    if beside.to("in") >= _BESIDE:
        where = laced.lacing.at("tape_beyond")
        return at_least(laced.surface.id, beyond.to("in"), _BEYOND, "in", words, where)
    return at_least(laced.surface.id, beside.to("in"), _BESIDE, "in", words, laced.lacing.at("tape_beside"))


@rule(
    "covering/taut-first",
    title="Taut before it was attached",
    asks="Was every fabric tautened before it was attached to its ribs?",
    references=("ac43-2-11-c",),
    due=Stage.COVERING,
    remedy="Look for wrinkles and tight laces; attach it anew where it pulls.",
)
def taut_before_laced(covering: Covering, laced_surfaces: list[Laced]) -> Iterator[Finding]:
    """The last tautening of a surface is held against the day on which it was laced. Fabric that shrinks over its laces tears
    itself.
    """
    yield from _unlaced(laced_surfaces)
    last: dict[str, tuple[datetime.date, Spot]] = {}
    for shrinking in covering.shrinkings:
        if shrinking.day and (shrinking.surface not in last or shrinking.day > last[shrinking.surface][0]):
            last[shrinking.surface] = shrinking.day, shrinking.at("day")
    for laced in laced_surfaces:
        yield _taut(laced, last)


def _taut(laced: Laced, last: dict[str, tuple[datetime.date, Spot]]) -> Finding:
    surface, day = laced.surface, laced.lacing.day
    if laced.cloth is not None and laced.cloth.fibre not in {None, "polyester"}:
        words = f"{laced.cloth.fibre} is not tautened with an iron; the order of its steps is judged instead"
        return not_applicable(surface.id, words, laced.cloth.at("fibre"))
    if day is None:
        return laced.lacks("day")
    if surface.id not in last:
        remedy = "Record it under 'shrinkings', with its day."
        return no_data(surface.id, "no day is recorded on which it was tautened", surface.at(), remedy=remedy)
    taut, where = last[surface.id]
    words = f"tautened on {taut}, laced on {day}"
    return (passes if taut <= day else fails)(surface.id, words, laced.lacing.at("day"), where)
