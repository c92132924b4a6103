"""Do the marks on the engine's instruments stand where its limits put them, and the registration marks where 45.25 wants them?"""

from __future__ import annotations

import re
from collections import defaultdict
from contextlib import suppress
from typing import TYPE_CHECKING

from jurystrut.quantities import AngularSpeed, Pressure, QuantityError, Speed, Temperature, Voltage
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
    from jurystrut.rulebook import Spot
    from jurystrut_rules.operations.equipment import Equipment

__all__ = [
    "arc_stays_inside_red",
    "engine_limit_is_marked",
    "mark_is_on_its_instrument",
    "marks_are_on_both_sides",
    "red_line_is_a_limit",
]

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


_ENGINE = ("rpm", "oil-pressure", "oil-temperature", "coolant-temperature", "manifold-pressure")
_UNITS = {
    **dict.fromkeys(("kt", "mph", "km/h"), ("airspeed",)),
    "rpm": ("rpm",),
    **dict.fromkeys(("psi", "bar", "inhg"), _ENGINE),
    **dict.fromkeys(("degf", "degc"), (*_ENGINE, "outside-air-temperature")),
}
"""What an instrument shows that is marked in a unit; one that shows anything of the engine may show any pressure of it."""


def _measured(mark: InstrumentMark) -> tuple[float | None, float | None, str]:
    """Where a mark begins and ends, and its unit in small letters."""
    found = [
        re.fullmatch(r"(-?[0-9]+(?:\.[0-9]+)?)(.*)", _written(text)) if text else None for text in (mark.low, mark.high)
    ]
    low, high = (float(match[1]) if match else None for match in found)
    return low, high, next((match[2] for match in found if match), "")


@rule(
    "markings/mark-on-instrument",
    title="Mark on its instrument",
    asks="Is every mark on an instrument that shows what is marked?",
    references=("own-consistency", "own-equipment-names"),
    due=Stage.INSPECTION,
    remedy="Name the instrument that is marked, or record what it 'provides'.",
    at_worst=Verdict.WARN,
)
def mark_is_on_its_instrument(markings: Markings, equipment: Equipment) -> Iterator[Finding]:
    """The unit of a mark tells what is shown: speed, revolutions, pressure or temperature. Marks in other units, and those on an
    instrument of which nothing is known, are not asked.
    """
    shows: dict[str, set[str]] = defaultdict(set)
    for function, fitted in equipment.by_function.items():
        for one in fitted:
            shows[one.record.id].add(function)
    if not markings.instrument_marks:
        yield not_applicable("aircraft", "no mark is recorded", markings.at("instrument_marks"))
    for mark in markings.instrument_marks:
        wanted, known = _UNITS.get(_measured(mark)[2], ()), sorted(shows[mark.instrument])
        if not wanted or not known:
            yield not_applicable(mark.id, "neither its unit nor its instrument tells what it marks", mark.at("high"))
        else:
            words = f"marked {mark.high}; {mark.instrument} shows {', '.join(known)}"
            yield (passes if set(wanted) & set(known) else warns)(mark.id, words, mark.at("instrument"))


@rule(
    "markings/arc-inside-red",
    title="Arc inside the red lines",
    asks="Does every arc begin below its end, and does no red line of its instrument stand within it?",
    references=("own-consistency", "23-1549"),
    due=Stage.INSPECTION,
    remedy="Correct the arc, or the line.",
    at_worst=Verdict.WARN,
)
def arc_stays_inside_red(markings: Markings) -> Iterator[Finding]:
    """A green or yellow arc says where the engine may run; a red line in the same unit ends that. Where there are two lines or
    more, beyond the highest it may not run either; one alone may be a maximum or a minimum.
    """
    arcs = [mark for mark in markings.instrument_marks if mark.kind == "arc"]
    if not arcs:
        yield not_applicable("aircraft", "no arc is recorded", markings.at("instrument_marks"))
    lines: dict[tuple[str, str], dict[str, tuple[float, Spot]]] = defaultdict(dict)
    for mark in markings.instrument_marks:
        if mark.kind == "line" and mark.colour == "red" and mark.high:
            dimension, high = _amount(mark.high)
            lines[mark.instrument, dimension][mark.id] = high, mark.at("high")
    for arc in arcs:
        if arc.low is None or arc.high is None:
            yield no_data(
                arc.id, "where it begins or ends is not recorded", arc.at(), remedy="Record 'low' and 'high'."
            )
            continue
        (begins, low), (dimension, high) = _amount(arc.low), _amount(arc.high)
        red = lines[arc.instrument, dimension]
        wrong = begins != dimension or low >= high or _beyond(low, high, [line for line, _ in red.values()])
        words = f"it goes from {arc.low} to {arc.high}, beside the red lines {', '.join(red) or '(none)'}"
        where = (arc.at("high"), arc.at("low"), *(spot for _, spot in red.values()))
        yield (warns if wrong else passes)(arc.id, words, *where)


_SHOWN = (Speed, AngularSpeed, Pressure, Temperature, Voltage)
_ROUNDING = 1e-9


def _amount(text: str) -> tuple[str, float]:
    """What a mark stands at: its dimension with the amount in SI, or its unit as written with the number."""
    for kind in _SHOWN:
        with suppress(QuantityError):
            return kind.dimension, kind.parse(text).si
    written = _written(text)
    match = re.match(r"-?[0-9]+(?:\.[0-9]+)?", written)
    return (written[match.end() :], float(match[0])) if match else (written, 0.0)


def _beyond(low: float, high: float, red: list[float]) -> bool:
    """Whether a red line stands within, or all below; a line at either end does not, however its unit rounds."""
    inside = abs(high) * _ROUNDING
    return any(low + inside < line < high - inside for line in red) or (len(red) > 1 and high > max(red) + inside)


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
