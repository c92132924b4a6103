"""Are the placards and marks there that these records call for, and do they agree with them?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.quantities import QuantityError, Speed
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Spot,
    Stage,
    Verdict,
    at_least,
    at_most,
    between,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft, Limits
    from jurystrut.records.fuel import Fuel
    from jurystrut.records.markings import InstrumentMark, Markings, Placard
    from jurystrut.records.weights import Weights

__all__ = [
    "airspeed_is_marked",
    "baggage_is_placarded",
    "day_vfr_placard_agrees",
    "experimental_word_is_there",
    "filler_names_fuel",
    "passengers_are_warned",
    "plate_identifies_aircraft",
    "registration_marks_are_high_enough",
]


def _placards(markings: Markings, purpose: str) -> list[Placard]:
    return [placard for placard in markings.placards if placard.purpose == purpose]


@rule(
    "markings/day-vfr-only",
    title="Day-VFR placard agrees with the intended flights",
    asks="Does a day-VFR aircraft carry its placard, and does no such placard contradict the flights intended?",
    references=("8130-2-night", "91-319-d-2", "91-9"),
    due=Stage.SYSTEMS,
    remedy="Make the placard and the intended flights say the same.",
)
def day_vfr_placard_agrees(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """An experimental aircraft flies VFR by day only unless it is authorized and equipped for more (91.319(d)(2)).

    Where only day VFR is intended, a placard says so to everybody who flies it; the words come from the aircraft's own
    operating limitations. Where night or IFR is intended, such a placard contradicts the records: one of the two is wrong.
    """
    if not aircraft.operations:
        raise MissingRecord("which flights are intended is not recorded", aircraft.at())
    more = [operation for operation in aircraft.operations if operation != "day-vfr"]
    placards = _placards(markings, "day-vfr-only")
    for placard in placards:
        if more:
            message = f"the placard reads {placard.text}, and the records intend {' and '.join(more)}"
            yield fails(placard.id, message, placard.at("text"), aircraft.at("operations"))
        else:
            yield passes(placard.id, f"the placard reads {placard.text}, and only day VFR is intended", placard.at("text"))
    if not placards and more:
        yield not_applicable("aircraft", f"{' and '.join(more)} is intended, and no placard forbids it", aircraft.at("operations"))
    elif not placards:
        remedy = "Add one, in the words of the aircraft's own operating limitations."
        yield fails("aircraft", "only day VFR is intended, and no placard says so", markings.at("placards"), aircraft.at("operations"), remedy=remedy)


@rule(
    "markings/passenger-warning",
    title="Passenger warning placard",
    asks="Is a placard on record that warns everybody aboard that the aircraft is experimental?",
    references=("8130-2-passenger-warning", "91-319-d-1"),
    due=Stage.SYSTEMS,
    remedy="Add one in full view of all occupants, in the words of the aircraft's own operating limitations.",
)
def passengers_are_warned(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """The operating limitations ask for a warning in full view of all occupants. Its words have changed with the editions of
    the order, and older ones stay valid: take them from the aircraft's own limitations.
    """
    if aircraft.seats == 1:
        yield not_applicable("aircraft", "a single-seat aircraft carries no passenger", aircraft.at("seats"))
        return
    placards = _placards(markings, "passenger-warning")
    for placard in placards:
        if placard.place is None:
            yield no_data(placard.id, "where it stands is not recorded", placard.at(), remedy="Record 'place'.")
        else:
            yield passes(placard.id, f"it stands {placard.place}", placard.at("place"))
    if not placards:
        yield fails("aircraft", "no placard warns the passengers", markings.at("placards"))


_WORD_LEAST_IN, _WORD_MOST_IN = 2.0, 6.0  # 14 CFR 45.23(b)


@rule(
    "markings/experimental-word",
    title="The word EXPERIMENTAL",
    asks="Does the word EXPERIMENTAL stand near each entrance, 2 to 6 inches high?",
    references=("45-23-b",),
    due=Stage.INSPECTION,
    remedy="Paint it, and record its height.",
)
def experimental_word_is_there(markings: Markings) -> Iterator[Finding]:
    """45.23(b) asks for the word near each entrance to the cabin, in letters of 2 to 6 inches."""
    marks = markings.registration_marks
    if marks is None or marks.experimental_height is None:
        raise MissingRecord("the height of the word EXPERIMENTAL is not recorded", marks.at() if marks else markings.at())
    height = marks.experimental_height.to("in")
    message = f"the word EXPERIMENTAL is {marks.experimental_height} high"
    yield between("registration-marks", height, _WORD_LEAST_IN, _WORD_MOST_IN, "in", message, marks.at("experimental_height"))


_SMALL_IN, _LARGE_IN, _SMALL_UP_TO_KT = 3.0, 12.0, 180.0  # 14 CFR 45.29(b)(1)


@rule(
    "markings/registration-height",
    title="Height of the registration marks",
    asks="Are the registration marks high enough for the aircraft's speed, and do they read as registered?",
    references=("45-29-b", "45-25", "45-23-a"),
    due=Stage.INSPECTION,
    remedy="Paint them in the height asked for.",
)
def registration_marks_are_high_enough(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """12 inches, or 3 inches on an amateur-built aircraft whose maximum cruising speed is within 180 knots calibrated."""
    marks = markings.registration_marks
    if marks is None or marks.height is None:
        raise MissingRecord("the height of the registration marks is not recorded", marks.at() if marks else markings.at())
    speed = aircraft.limits.maximum_cruise if aircraft.limits else None
    if speed is None:
        raise MissingRecord("aircraft.limits.maximum_cruise is not recorded; the height depends on it", aircraft.at("limits"), marks.at())
    wanted = _SMALL_IN if speed.to("kt") <= _SMALL_UP_TO_KT * (1 + 1e-9) else _LARGE_IN
    yield at_least(
        "registration-marks",
        marks.height.to("in"),
        wanted,
        "in",
        f"the marks are {marks.height} high; {wanted:g} in is asked for at a maximum cruise of {speed}",
        marks.at("height"),
        aircraft.limits.at("maximum_cruise") if aircraft.limits else aircraft.at(),
        remedy=f"Paint them {wanted:g} in high.",
    )
    if marks.text is not None and aircraft.registration is not None and marks.text != aircraft.registration:
        message = f"the marks read {marks.text}, and the registration is {aircraft.registration}"
        yield fails("registration-marks", message, marks.at("text"), aircraft.at("registration"), remedy="Correct one of the two.")


@rule(
    "markings/data-plate",
    title="Identification plate",
    asks="Is there a fireproof plate outside, with builder, model and serial number?",
    references=("45-11-a", "45-13-a"),
    due=Stage.INSPECTION,
    remedy="Fit a fireproof plate on the outside of the fuselage, readable from the ground.",
)
def plate_identifies_aircraft(markings: Markings) -> Iterator[Finding]:
    """45.11 wants the plate on the outside of the fuselage, near the tail or behind the rearmost door, readable from the
    ground; some handbooks still say inside, and amateur-built aircraft are not among the exceptions. 45.13 wants the
    builder's name, the model and the serial number on it.
    """
    plate = markings.data_plate
    if plate is None:
        raise MissingRecord("no data plate is recorded", markings.at())
    for field, yes, no in (
        ("outside", "it can be read from outside, from the ground", "it cannot be read from outside"),
        ("fireproof", "it is fireproof", "it is not fireproof"),
    ):
        value = getattr(plate, field)
        if value is None:
            yield no_data("data-plate", f"not recorded: whether {yes}", plate.at(), remedy=f"Record '{field}'.")
        else:
            yield (passes if value else fails)("data-plate", yes if value else no, plate.at(field))
    missing = [field for field in ("builder", "model", "serial") if getattr(plate, field) is None]
    if missing:
        yield no_data("data-plate", f"not recorded as being on it: {', '.join(missing)}", plate.at())
    else:
        yield passes("data-plate", "builder, model and serial number are on it", plate.at("serial"))


@rule(
    "markings/fuel-filler",
    title="Fuel filler placard",
    asks="Does a placard at every filler name the fuel and its grade?",
    references=("23-1557", "91-9"),
    due=Stage.SYSTEMS,
    remedy="Add a placard with the fuel's name and grade, and name the tank in 'beside'.",
    at_worst=Verdict.WARN,
)
def filler_names_fuel(markings: Markings, fuel: Fuel) -> Iterator[Finding]:
    """Old 23.1557(c)(1), a yardstick, wants the fuel's name and its least grade at each filler. The grade recorded for the
    fuel is looked for in the placard's words; the wrong fuel stops engines.
    """
    if fuel.grade is None:
        raise MissingRecord("the fuel's grade is not recorded", fuel.at())
    beside = {placard.beside: placard for placard in _placards(markings, "fuel-filler")}
    for tank in fuel.tanks:
        placard = beside.get(tank.id)
        if placard is None:
            yield warns(tank.id, "no fuel placard stands beside this tank's filler", tank.at(), markings.at("placards"))
        elif not _says(placard.text, fuel.grade):
            message = f"its placard reads {placard.text}, and the fuel is {fuel.grade}"
            yield warns(tank.id, message, placard.at("text"), fuel.at("grade"), remedy="Make both name the same fuel and grade.")
        else:
            yield passes(tank.id, f"its placard reads {placard.text}", placard.at("text"))


def _says(text: str, wanted: str) -> bool:
    """Whether all numbers of the wanted words stand in the text, and the first of its words."""
    have = set(re.findall(r"[a-z]+|[0-9.]+", text.lower()))
    asked = re.findall(r"[a-z]+|[0-9.]+", wanted.lower())
    return all(word in have for word in asked if word[0].isdigit() or word == asked[0])


@rule(
    "markings/baggage-placard",
    title="Baggage placard",
    asks="Does a placard at every baggage space give the weight that it may hold?",
    references=("23-1557", "91-9"),
    due=Stage.SYSTEMS,
    remedy="Add a placard with the limit, and name the station in 'beside'.",
    at_worst=Verdict.WARN,
)
def baggage_is_placarded(markings: Markings, weights: Weights) -> Iterator[Finding]:
    """Old 23.1557(a), a yardstick, wants the limit of content and weight at each baggage space. The number on the placard must
    be the station's maximum in the same unit.
    """
    stations = [station for station in weights.stations if station.kind == "baggage"]
    beside = {placard.beside: placard for placard in _placards(markings, "baggage")}
    if not stations:
        yield not_applicable("aircraft", "no baggage space is recorded", weights.at())
    for station in stations:
        placard = beside.get(station.id)
        if station.maximum is None:
            yield no_data(station.id, "the most that it may hold is not recorded", station.at())
        elif placard is None:
            yield warns(station.id, "no placard stands beside this baggage space", station.at(), markings.at("placards"))
        else:
            yield _same_limit(station.id, station.maximum.to("lb"), station.maximum.to("kg"), placard, station.at("maximum"))


def _same_limit(name: str, limit_lb: float, limit_kg: float, placard: Placard, where: Spot) -> Finding:
    found = re.search(r"([0-9]+(?:\.[0-9]+)?) ?(LB|KG)", placard.text.upper())
    if not found:
        return warns(name, f"its placard reads {placard.text}: no weight", placard.at("text"), where)
    limit, unit = (limit_lb, "lb") if found[2] == "LB" else (limit_kg, "kg")
    message = f"its placard reads {placard.text}; the space may hold {limit:g} {unit}"
    return at_most(name, float(found[1]), limit, unit, message, placard.at("text"), where, otherwise=Verdict.WARN)


class _Wanted(NamedTuple):
    """A mark that the airspeed indicator should carry: where it runs, by the names of the limits."""

    kind: str
    colour: str
    low: str | None
    high: str


_MARKS = (
    _Wanted("arc", "white", "stall_speed_flaps", "flaps_speed"),
    _Wanted("arc", "green", "stall_speed", "cruise_speed"),
    _Wanted("arc", "yellow", "cruise_speed", "never_exceed_speed"),
    _Wanted("line", "red", None, "never_exceed_speed"),
)
_READABLE_KT = 0.5
"""How far a mark may be from its limit: half a knot, less than can be read; our own choice."""


@rule(
    "markings/airspeed-marks",
    title="Airspeed marks agree with the limits",
    asks="Do the arcs and lines on the airspeed indicator stand where the aircraft's limits put them?",
    references=("23-1545", "8130-2-marked-instruments"),
    due=Stage.SYSTEMS,
    remedy="Make the mark and the limit the same.",
)
def airspeed_is_marked(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """Old 23.1545, a yardstick: white from VS0 to VFE, green from VS1 to VNO, yellow from VNO to VNE, a red line at VNE. The
    operating limitations want instruments marked. Calibrated and indicated speed are not told apart here.
    """
    limits = aircraft.limits
    marks = _airspeed_marks(markings)
    if limits is None:
        raise MissingRecord("the aircraft's limits are not recorded", aircraft.at())
    if not marks:
        raise MissingRecord("no mark with a speed is recorded", markings.at("instrument_marks"))
    for wanted in _MARKS:
        yield from _marked(wanted, limits, marks, markings)


def _airspeed_marks(markings: Markings) -> dict[tuple[str, str], InstrumentMark]:
    return {(m.kind, m.colour): m for m in markings.instrument_marks if _speed(m.high) is not None}


def _speed(text: str | None) -> Speed | None:
    try:
        return Speed.parse(text) if text else None
    except QuantityError:
        return None


def _marked(wanted: _Wanted, limits: Limits, marks: dict[tuple[str, str], InstrumentMark], markings: Markings) -> Iterator[Finding]:
    name = f"{wanted.colour}-{wanted.kind}"
    mark = marks.get((wanted.kind, wanted.colour))
    for end, limit_name in (("low", wanted.low), ("high", wanted.high)):
        limit = getattr(limits, limit_name) if limit_name else None
        if limit_name is None:
            continue
        if limit is None:
            yield no_data(name, f"aircraft.limits.{limit_name} is not recorded", limits.at(), remedy="Record it.")
        elif mark is None:
            yield fails(name, f"the airspeed indicator has no {wanted.colour} {wanted.kind}", markings.at("instrument_marks"), limits.at(limit_name))
            return
        else:
            speed = _speed(getattr(mark, end))
            if speed is None:
                yield no_data(mark.id, f"where its {end} end stands is not recorded as a speed", mark.at())
                continue
            off = abs(speed.to("kt") - limit.to("kt"))
            message = f"its {end} end stands at {speed}; {limit_name.replace('_', ' ')} is {limit}"
            yield at_most(mark.id, off, _READABLE_KT, "kt", message, mark.at(end), limits.at(limit_name))
