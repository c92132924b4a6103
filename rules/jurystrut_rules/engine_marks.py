"""Do the marks on the engine's instruments stand where its limits put them, and the registration marks where 45.25 wants them?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft, EngineLimit
    from jurystrut.records.markings import InstrumentMark, Markings

__all__ = ["engine_limit_is_marked", "marks_are_on_both_sides", "red_line_is_a_limit"]

_AIRSPEED = re.compile(r"(kt|kts|knots?|mph|km/h)$", re.IGNORECASE)


def _written(text: str) -> str:
    """A value as it compares: without spaces, in small letters, its number in one spelling."""
    squeezed = re.sub(r"\s+", "", text).lower()
    number = re.match(r"[0-9]+(?:\.[0-9]+)?", squeezed)
    return f"{float(number[0]):g}{squeezed[number.end() :]}" if number else squeezed


def _red_lines(markings: Markings) -> dict[str, InstrumentMark]:
    """The red lines on instruments other than the airspeed indicator, by the value where they stand."""
    lines = (mark for mark in markings.instrument_marks if mark.kind == "line" and mark.colour == "red" and mark.high)
    return {_written(str(mark.high)): mark for mark in lines if not _AIRSPEED.search(str(mark.high))}


def _limits(aircraft: Aircraft) -> tuple[EngineLimit, ...]:
    return aircraft.engine.limits if aircraft.engine else ()


@rule(
    "markings/engine-limits",
    title="Engine limit marked",
    asks="Does a red line stand at every limit of the engine?",
    references=("23-1549", "8130-2-marked-instruments"),
    due=Stage.INSPECTION,
    remedy="Mark it, or correct the limit.",
    at_worst=Verdict.WARN,
)
def engine_limit_is_marked(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """Old 23.1549, from memory but read in its siblings: a red line at each maximum and minimum safe limit. The limits are
    entered under `engine.limits`, in the instrument's own unit; mark and limit are compared as written.
    """
    limits = _limits(aircraft)
    if not limits:
        raise MissingRecord("the engine's limits are not recorded", (aircraft.engine or aircraft).at("limits"))
    lines = _red_lines(markings)
    for limit in limits:
        for field in ("least", "most"):
            value = getattr(limit, field)
            if value is None:
                continue
            mark = lines.get(_written(value))
            if mark:
                yield passes(limit.id, f"{limit.what} {value}: marked by {mark.id}", mark.at("high"), limit.at(field))
            else:
                message = f"no red line stands at {value}, the {field} {limit.what}"
                yield warns(limit.id, message, limit.at(field), markings.at("instrument_marks"))


@rule(
    "markings/red-line",
    title="Red line is a limit",
    asks="Is every red line on an engine instrument one of the engine's limits?",
    references=("own-consistency", "23-1549"),
    due=Stage.INSPECTION,
    remedy="Move the line, or correct the limit.",
    at_worst=Verdict.WARN,
)
def red_line_is_a_limit(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """A red line that is none of the recorded limits was left over, or the limit was changed without it."""
    known = {_written(value) for limit in _limits(aircraft) for value in (limit.least, limit.most) if value}
    lines = _red_lines(markings)
    if not lines:
        yield not_applicable("aircraft", "no red line on an engine instrument is recorded", markings.at())
    elif not known:
        raise MissingRecord("the engine's limits are not recorded", (aircraft.engine or aircraft).at("limits"))
    for value, mark in lines.items():
        said = passes if value in known else warns
        yield said(mark.id, f"it stands at {mark.high}", mark.at("high"))


@rule(
    "markings/registration-place",
    title="Place of the registration marks",
    asks="Do the registration marks stand on both sides of the fuselage or of the vertical tail?",
    references=("45-25", "45-21"),
    due=Stage.INSPECTION,
    remedy="Paint them on both sides of the fuselage or of the vertical tail.",
)
def marks_are_on_both_sides(markings: Markings) -> Iterator[Finding]:
    """45.25 binds by its own words: on the vertical tail, or on the fuselage sides between the wing's trailing edge and the
    stabiliser's leading edge, on both sides. That they are painted in contrast to the background, 45.21(c), has no record.
    """
    marks = markings.registration_marks
    if marks is None or marks.place is None:
        raise MissingRecord("where the registration marks stand is not recorded", (marks or markings).at("place"))
    place = marks.place.replace("-", " ")
    right = marks.place in {"fuselage-sides", "vertical-tail"}
    said = passes if right else fails
    yield said(
        "registration-marks", f"they stand on the {place}; 45.25(a) wants fuselage sides or tail", marks.at("place")
    )
    if marks.both_sides is None:
        message = "whether they stand on both sides is not recorded"
        yield no_data("both-sides", message, marks.at(), remedy="Record 'both_sides'.")
    else:
        sides = "both sides" if marks.both_sides else "one side only"
        said = passes if marks.both_sides else fails
        yield said("both-sides", f"they stand on {sides}; 45.25(b) wants both", marks.at("both_sides"))
