"""Is the rivet in the hole the one that the record speaks of, and was its head formed as it should be?"""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import Finding, Stage, Verdict, at_least, fails, no_data, not_applicable, passes, rule
from jurystrut_rules.hardware.tables import same_size, table
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.hardware import Hardware, RivetRow

__all__ = ["NumberedRivet", "number_agrees", "rivet_of", "shop_head_is_formed"]

_WIDE, _HIGH = 1.5, 0.5  # navy-shop-head: diameters
_NUMBER = re.compile(r"(MS20\d{3}|AN4\d{2})(?:[A-Z]{1,2})(\d{1,2})-(\d{1,2})(?:-\d)?A?")


class NumberedRivet(NamedTuple):
    """What the part number of a solid rivet says: its head, its diameter and its length in inches."""

    head: str
    diameter: float
    length: float


@cache
def rivet_of(part: str) -> NumberedRivet | None:
    """A solid rivet by its part number, for example MS20470AD4-5: 4/32 in, 5/16 in; None for one that the table does not know."""
    found = _NUMBER.fullmatch(part.strip().upper())
    head = next((str(row["head"]) for row in table("rivet_heads").rows if found and row["number"] == found[1]), None)
    return NumberedRivet(head, int(found[2]) / 32, int(found[3]) / 16) if found and head else None  # rivet-part-numbers


@rule(
    "hardware/rivet-number",
    title="Rivet and its part number",
    asks="Do head, diameter and length of every solid rivet agree with its part number?",
    references=("rivet-part-numbers",),
    due=Stage.STRUCTURE,
    remedy="Look which of the two is wrong, the number or the measure, and correct it; drill out rivets with the wrong head.",
    at_worst=Verdict.WARN,
)
def number_agrees(hardware: Hardware) -> Iterator[Finding]:
    """The number names the head, thirty-seconds of diameter and sixteenths of length. How rivets are numbered is from memory, so
    this warns at most. A number that is not in the table is no data, never a guess. A dimpled sheet takes a countersunk head.
    """
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.kind is None:
            yield lacking(row, "kind")
        elif row.kind != "solid":
            yield not_applicable(row.id, "a blind rivet's number is its maker's", row.at("kind"))
        elif row.part is None:
            yield lacking(row, "part")
        else:
            yield _agreeing(row, row.part)


def _agreeing(row: RivetRow, part: str) -> Finding:
    rivet = rivet_of(part)
    if rivet is None:
        return no_data(row.id, f"the rivet {part} is not in the table", row.at("part"))
    recorded = {
        "head": "countersunk" if row.head == "dimpled" else row.head,
        "diameter": row.diameter.to("in") if row.diameter else None,
        "length": row.length.to("in") if row.length else None,
    }
    for field, value in recorded.items():
        if value is None:
            return lacking(row, field)
    wrong = [field for field, value in recorded.items() if not _alike(value, getattr(rivet, field))]
    says = f"{part} has a {rivet.head} head, {rivet.diameter:g} in by {rivet.length:g} in"
    if wrong:
        words = f"{says}; recorded otherwise: {', '.join(wrong)}"
        return fails(row.id, words, row.at("part"), *(row.at(field) for field in wrong))
    return passes(row.id, says, row.at("part"))


def _alike(recorded: str | float | None, numbered: str | float) -> bool:
    if isinstance(recorded, float) and isinstance(numbered, float):
        return same_size(recorded, numbered)
    return recorded == numbered


@rule(
    "hardware/shop-head",
    title="Head formed by driving",
    asks="Is the head formed on every solid rivet 1.5 diameters wide and half a diameter high?",
    references=("navy-shop-head",),
    due=Stage.STRUCTURE,
    remedy="Drive it again where it is too high; drill it out where it is flat, cracked or aslant.",
    at_worst=Verdict.WARN,
)
def shop_head_is_formed(hardware: Hardware) -> Iterator[Finding]:
    """The narrowest and the lowest head of the row. A head that is too narrow was not driven enough, one that is too low has been
    driven to death. The figures are known at second hand.
    """
    yield from none_recorded(hardware.rivets, "row of rivets", hardware)
    for row in hardware.rivets:
        if row.kind is None:
            yield lacking(row, "kind")
        elif row.kind != "solid":
            yield not_applicable(row.id, "a blind rivet forms its own head", row.at("kind"))
        else:
            yield _formed(row)


def _formed(row: RivetRow) -> Finding:
    if row.diameter is None or row.shop_head_width is None or row.shop_head_height is None:
        fields = ("diameter", "shop_head_width", "shop_head_height")
        return lacking(row, next(field for field in fields if getattr(row, field) is None))
    diameter, width, height = (size.to("in") for size in (row.diameter, row.shop_head_width, row.shop_head_height))
    wide, high = _WIDE * diameter, _HIGH * diameter
    words = f"{width:.3f} in wide, {height:.3f} in high; a {diameter:.3f} in rivet asks for {wide:.4f} by {high:.4f} in"
    if width < wide:
        return at_least(row.id, width, wide, "in", words, row.at("shop_head_width"))
    return at_least(row.id, height, high, "in", words, row.at("shop_head_height"))
