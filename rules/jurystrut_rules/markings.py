"""Are the placards and outside marks there that these records call for, and do they agree with them?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
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

    from jurystrut.quantities import Mass
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.fuel import Fuel
    from jurystrut.records.markings import Markings, Placard, RegistrationMarks
    from jurystrut.records.weights import Station, Weights

__all__ = [
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
    references=("91-319-d-2", "8130-2-night", "practice-day-vfr-placard"),
    due=Stage.SYSTEMS,
    remedy="Make the placard and the intended flights say the same.",
)
def day_vfr_placard_agrees(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """An experimental aircraft flies VFR by day only unless it is authorized and equipped for more (91.319(d)(2)).

    Where only day VFR is intended, a placard that says so to everybody who flies it is common practice, and its absence no
    more than a warning; the words come from the aircraft's own operating limitations. Where night or IFR is intended, such
    a placard contradicts the records: one of the two is wrong.
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
            yield passes(
                placard.id, f"the placard reads {placard.text}, and only day VFR is intended", placard.at("text")
            )
    if not placards and more:
        yield not_applicable(
            "aircraft", f"{' and '.join(more)} is intended, and no placard forbids it", aircraft.at("operations")
        )
    elif not placards:
        remedy = "Add one, in the words of the aircraft's own operating limitations."
        where = (markings.at("placards"), aircraft.at("operations"))
        yield warns("aircraft", "only day VFR is intended, and no placard says so", *where, remedy=remedy)


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
    the order, and older ones stay valid: take them from the aircraft's own limitations. Telling each passenger is a duty of
    its own (91.319(d)(1)).
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
        message = (
            "no placard warns the passengers that the aircraft is experimental; the operating limitations ask for one"
        )
        yield fails("aircraft", message, markings.at("placards"))


_WORD_LEAST_IN, _WORD_MOST_IN = 2.0, 6.0  # 14 CFR 45.23(b)


@rule(
    "markings/experimental-word",
    title="The word EXPERIMENTAL",
    asks="Does the word EXPERIMENTAL stand near each entrance, 2 to 6 inches high?",
    references=("45-23-b", "45-22"),
    due=Stage.INSPECTION,
    remedy="Paint it, and record its height.",
)
def experimental_word_is_there(markings: Markings) -> Iterator[Finding]:
    """45.23(b) asks for the word near each entrance to the cabin, in letters of 2 to 6 inches; the height is what is judged.
    A replica with X in its marks, after 45.22(b), may do without it: record a deviation.
    """
    marks = markings.registration_marks
    if marks is None or marks.experimental_height is None:
        raise MissingRecord(
            "the height of the word EXPERIMENTAL is not recorded", marks.at() if marks else markings.at()
        )
    height = marks.experimental_height.to("in")
    message = f"the word EXPERIMENTAL is {marks.experimental_height} high"
    where = marks.at("experimental_height")
    remedy = f"Paint it {_WORD_LEAST_IN:g} to {_WORD_MOST_IN:g} in high."
    yield between("registration-marks", height, _WORD_LEAST_IN, _WORD_MOST_IN, "in", message, where, remedy=remedy)


_SMALL_IN, _LARGE_IN, _SMALL_UP_TO_KT = 3.0, 12.0, 180.0  # 14 CFR 45.29(b)(1)


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
        ("outside", "it can be read from the ground outside", "it cannot be read from the ground outside"),
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
    if not fuel.tanks:
        raise MissingRecord("no fuel tank is recorded", fuel.at())
    beside = {placard.beside: placard for placard in _placards(markings, "fuel-filler")}
    for tank in fuel.tanks:
        placard = beside.get(tank.id)
        if placard is None:
            yield warns(tank.id, "no fuel placard stands beside this tank's filler", tank.at(), markings.at("placards"))
        elif not _says(placard.text, fuel.grade):
            message = f"its placard reads {placard.text}, and the fuel is {fuel.grade}"
            where = (placard.at("text"), fuel.at("grade"))
            yield warns(tank.id, message, *where, remedy="Make both name the same fuel and grade.")
        else:
            yield passes(tank.id, f"its placard reads {placard.text}", placard.at("text"))


_WORD = re.compile(r"[^\W\d_]+|[0-9]+(?:\.[0-9]+)?")


def _says(text: str, wanted: str) -> bool:
    """Whether all numbers of the wanted words stand in the text, and the first of its words."""
    have = set(_WORD.findall(text.lower()))
    asked = _WORD.findall(wanted.lower())
    return bool(asked) and have.issuperset(word for word in asked if word[0].isdigit() or word == asked[0])


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
    """Old 23.1557(a), a yardstick, wants the limit of content and weight at each baggage space. The number on the placard may
    not be more than the station's maximum.
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
            message = "no placard stands beside this baggage space"
            yield warns(station.id, message, station.at(), markings.at("placards"))
        else:
            yield _no_more(station, station.maximum, placard)


def _no_more(station: Station, maximum: Mass, placard: Placard) -> Finding:
    where = (placard.at("text"), station.at("maximum"))
    found = re.search(r"([0-9]+(?:\.[0-9]+)?) ?(lb|kg)", placard.text.lower())
    if not found:
        message = f"its placard reads {placard.text}: no weight in lb or kg"
        return warns(station.id, message, *where, remedy=f"Add {maximum} to its words.")
    unit = found[2]
    message = f"its placard reads {placard.text}; the space may hold {maximum}"
    remedy = f"Make it read {maximum}, or less."
    return at_most(station.id, float(found[1]), maximum.to(unit), unit, message, *where, remedy=remedy)
