"""Are the placards and outside marks there that these records call for, and do they agree with them?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
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

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.fuel import Fuel
    from jurystrut.records.markings import Markings, Placard

__all__ = [
    "day_vfr_placard_agrees",
    "experimental_word_is_there",
    "filler_names_fuel",
    "passengers_are_warned",
    "plate_identifies_aircraft",
]


def _placards(markings: Markings, purpose: str) -> list[Placard]:
    return [placard for placard in markings.placards if placard.purpose == purpose]


@rule(
    "markings/day-vfr-only",
    title="Day-VFR placard agrees with the intended flights",
    asks="Does a day-VFR aircraft carry its placard, and does no such placard contradict the flights intended?",
    references=("91-319-d-2", "8130-2-night", "practice-day-vfr-placard", "23-1559"),
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


_EXPERIMENTAL = "EXPERIMENTAL"
_WORD_LEAST_IN, _WORD_MOST_IN = 2.0, 6.0  # 45-23-b


@rule(
    "markings/experimental-word",
    title="The word EXPERIMENTAL",
    asks="Does the word EXPERIMENTAL stand near each entrance, 2 to 6 inches high?",
    references=("45-23-b", "45-22"),
    due=Stage.INSPECTION,
    remedy="Paint it, and record its height.",
)
def experimental_word_is_there(markings: Markings) -> Iterator[Finding]:
    """45.23(b) asks for the word near each entrance to the cabin, in letters of 2 to 6 inches; the height is judged, of
    the marks and of every placard of that purpose, as both may be recorded and must not contradict each other, and its letters.
    A replica with X in its marks, after 45.22(b), may do without it: record a deviation.
    """
    marks = markings.registration_marks
    for placard in markings.placards:
        if placard.purpose == "experimental" and _EXPERIMENTAL not in placard.text.upper().split():
            message = f"it reads {placard.text}; the word is {_EXPERIMENTAL}"
            yield fails(placard.id, message, placard.at("text"), remedy=f"Paint the word {_EXPERIMENTAL}.")
    words = [
        (placard.id, placard.letter_height, placard.at("letter_height"))
        for placard in markings.placards
        if placard.purpose == "experimental"
    ]
    if marks:
        words.append(("registration-marks", marks.experimental_height, marks.at("experimental_height")))
    recorded = [(subject, height, where) for subject, height, where in words if height]
    if not recorded:
        raise MissingRecord(
            "the height of the word EXPERIMENTAL is not recorded", marks.at() if marks else markings.at()
        )
    remedy = f"Paint it {_WORD_LEAST_IN:g} to {_WORD_MOST_IN:g} in high."
    for subject, height, where in recorded:
        message = f"the word EXPERIMENTAL is {height} high"
        yield between(subject, height.to("in"), _WORD_LEAST_IN, _WORD_MOST_IN, "in", message, where, remedy=remedy)


@rule(
    "markings/data-plate",
    title="Identification plate",
    asks="Is there a fireproof plate outside, with builder, model and serial number?",
    references=("45-11-a", "45-13-a", "21-182"),
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
