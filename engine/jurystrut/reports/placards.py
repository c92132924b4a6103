"""The placards that the records call for, on sheets to print; in the words of the operating limitations where these give them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.drawings.placard_sheet import Words, fits, placard_sheets
from jurystrut.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.markings import Markings, Placard
    from jurystrut.records.project import Project

__all__ = ["write_sheets"]

_USUAL_CAPITALS_MM = 0.14 * 25.4
"""Where a placard records no letter height: 0.14 in, our own choice."""


def write_sheets(project: Project) -> tuple[list[str], list[str]]:
    """One SVG document a sheet, and what is too large for any and was left out.

    Raises UsageError where the records hold no placard.
    """
    markings: Markings | None = project.sections.get("markings")
    if project.aircraft is None or markings is None or not markings.placards:
        raise UsageError("the records hold no placard to print; record some under markings.placards")
    words = list(_words(project.aircraft, markings))
    sheets = placard_sheets(f"Placards of {project.aircraft.name}", filter(fits, words))
    return sheets, [one.note for one in words if not fits(one)]


def _words(aircraft: Aircraft, markings: Markings) -> Iterator[Words]:
    issued = {purpose: one for one in aircraft.operating_limitations if one.says == "asks" for purpose in one.on}
    for placard in markings.placards:
        limitation = issued.get(placard.purpose)
        text = limitation.text if limitation else placard.text
        source = f"; words of {limitation.id}" if limitation else ""
        height = placard.letter_height.to("mm") if placard.letter_height else _USUAL_CAPITALS_MM
        yield Words(text, height, f"{placard.id}{_place(placard)}{source}", red=placard.purpose == "emergency")


def _place(placard: Placard) -> str:
    return f": {placard.place}" if placard.place else ""
