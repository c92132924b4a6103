"""Are the registration marks as high, as wide, as bold and as plain to see as 14 CFR 45 wants them?"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.contrast import contrast
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    at_least,
    between,
    fails,
    no_data,
    passes,
    read_table,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.quantities import Length
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.markings import Markings, RegistrationMarks

__all__ = [
    "registration_marks_are_high_enough",
    "registration_marks_have_their_proportions",
    "registration_marks_stand_out",
]

_SMALL_IN, _LARGE_IN, _SMALL_UP_TO_KT = 3.0, 12.0, 180.0  # 45-29-b


@rule(
    "markings/registration-height",
    title="Height of the registration marks",
    asks="Are the registration marks high enough for the aircraft's speed, and do they read as registered?",
    references=("45-29-b", "45-22", "45-23-a"),
    due=Stage.INSPECTION,
    remedy="Paint them in the height asked for.",
)
def registration_marks_are_high_enough(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """12 inches, or 3 inches on an amateur-built aircraft whose maximum cruising speed is within 180 knots calibrated. A
    replica of a shape at least 30 years old may have 2 inches by 45.22(b): record a deviation.
    """
    marks = markings.registration_marks
    if marks is None or marks.height is None:
        raise MissingRecord(
            "the height of the registration marks is not recorded", marks.at() if marks else markings.at()
        )
    limits = aircraft.limits
    if limits is None or limits.maximum_cruise is None:
        message = "aircraft.limits.maximum_cruise is not recorded; the height depends on it"
        raise MissingRecord(message, (limits or aircraft).at(), marks.at())
    slow = limits.maximum_cruise.to("kt") <= _SMALL_UP_TO_KT * (1 + 1e-9)
    wanted = _SMALL_IN if slow else _LARGE_IN
    cruise = limits.maximum_cruise
    message = f"the marks are {marks.height} high; {wanted:g} in is asked for at a maximum cruise of {cruise}"
    where = (marks.at("height"), limits.at("maximum_cruise"))
    remedy = f"Paint them {wanted:g} in high."
    yield at_least("registration-marks", marks.height.to("in"), wanted, "in", message, *where, remedy=remedy)
    yield _reads_as_registered(marks, aircraft)


def _reads_as_registered(marks: RegistrationMarks, aircraft: Aircraft) -> Finding:
    where = (marks.at("text"), aircraft.at("registration"))
    if marks.text is None or aircraft.registration is None:
        lacking = "what the marks read" if marks.text is None else "aircraft.registration"
        return no_data("registration", f"{lacking} is not recorded", *where, remedy="Record it.")
    message = f"the marks read {marks.text}, and the registration is {aircraft.registration}"
    if marks.text == aircraft.registration:
        return passes("registration", message, *where)
    return fails("registration", message, *where, remedy="Correct one of the two.")


def _marks(markings: Markings) -> RegistrationMarks:
    if markings.registration_marks is None:
        raise MissingRecord("no registration marks are recorded", markings.at())
    return markings.registration_marks


class _Proportion(NamedTuple):
    """What 45.29 asks of the characters: a share of their height, or of their width."""

    field: str
    words: str
    share: float
    of: str
    exact: bool


_PROPORTIONS = (
    _Proportion("width", "wide", 2 / 3, "height", exact=True),  # 45-29-c
    _Proportion("stroke", "thick", 1 / 6, "height", exact=True),  # 45-29-c
    _Proportion("spacing", "apart", 1 / 4, "width", exact=False),  # 45-29-c
)
_PAINTED_IN = 1 / 16  # own-reading-precision
"""Inches by which painted letters may miss an exact proportion. Common practice, no source: as fine as a tape is read."""


@rule(
    "markings/registration-characters",
    title="Characters of the registration marks",
    asks="Are the characters two thirds as wide as high, their strokes a sixth, and a quarter of their width apart?",
    references=("45-29-c", "practice-painted-letters", "own-reading-precision"),
    due=Stage.INSPECTION,
    remedy="Paint them anew, in the proportions asked for.",
)
def registration_marks_have_their_proportions(markings: Markings) -> Iterator[Finding]:
    """45.29(c) to (e): all characters are two thirds as wide as high, but for 1, M and W, which are not asked here; strokes are
    solid and a sixth of the height; spaces are at least a quarter of the width. Width and stroke are exact in the text; a
    sixteenth of an inch is granted to the brush, which is common practice without a source.
    """
    marks = _marks(markings)
    if marks.height is None:
        raise MissingRecord("the height of the registration marks is not recorded", marks.at())
    for proportion in _PROPORTIONS:
        size: Length | None = getattr(marks, proportion.field)
        whole: Length | None = getattr(marks, proportion.of)
        if size is None or whole is None:
            lacking = proportion.field if size is None else proportion.of
            message = f"their {lacking} is not recorded"
            yield no_data(proportion.field, message, marks.at(), remedy=f"Record '{lacking}'.")
        else:
            yield _in_proportion(proportion, size, whole, marks)


def _in_proportion(proportion: _Proportion, size: Length, whole: Length, marks: RegistrationMarks) -> Finding:
    wanted = proportion.share * whole.to("in")
    message = f"the characters are {size} {proportion.words}, at a {proportion.of} of {whole}"
    where = (marks.at(proportion.field), marks.at(proportion.of))
    measured = size.to("in")

    def working() -> list[str]:
        return [f"{proportion.share:.4g} x {whole} = {wanted:.4g} in"]

    if not proportion.exact:
        return at_least(proportion.field, measured, wanted, "in", message, *where, working=working)
    low, high = wanted - _PAINTED_IN, wanted + _PAINTED_IN
    remedy = f"Make them {wanted:.2f} in."
    return between(proportion.field, measured, low, high, "in", message, *where, remedy=remedy, working=working)


@cache
def _colours() -> dict[str, str]:
    rows = read_table(Path(__file__).parent / "tables/markings/colours.yaml").rows
    return {str(row["name"]): str(row["srgb"]) for row in rows}


_LEAST_CONTRAST = 3.0  # wcag-contrast
"""Of large letters, by the guidelines for web content 2.1, 1.4.3; from memory."""


@rule(
    "markings/registration-contrast",
    title="Registration marks stand out",
    asks="Do the registration marks contrast with what they are painted on?",
    references=("45-21", "wcag-contrast", "css-colours"),
    due=Stage.INSPECTION,
    remedy="Paint them in a colour that is far lighter or darker than what is behind.",
)
def registration_marks_stand_out(markings: Markings) -> Iterator[Finding]:
    """45.21(c), at second hand, wants marks that contrast with the background and are easy to read; it has no figure. The same
    colour fails. Otherwise the ratio of luminances that is asked of large letters on screens, 3 to 1, is a yardstick from
    memory and only warns; a colour by an uncommon name is left to people's eyes.
    """
    marks = _marks(markings)
    if marks.colour is None or marks.background is None:
        lacking = "colour" if marks.colour is None else "background"
        raise MissingRecord(f"the {lacking} of the registration marks is not recorded", marks.at())
    where = (marks.at("colour"), marks.at("background"))
    colour, background = (" ".join(words.casefold().split()) for words in (marks.colour, marks.background))
    known = _colours()
    if colour == background:
        yield fails("registration-marks", f"they are {colour} on {background}", *where)
    elif colour not in known or background not in known:
        strange = colour if colour not in known else background
        message = f"{colour} on {background}; how light {strange} is, is not known here"
        yield warns("registration-marks", message, *where, remedy="Look at them from afar, or record a common colour.")
    else:
        ratio = contrast(known[colour], known[background])
        message = f"{colour} on {background} has a contrast of {ratio:.1f} to 1"
        said = passes if ratio >= _LEAST_CONTRAST else warns
        yield said("registration-marks", message, *where)
