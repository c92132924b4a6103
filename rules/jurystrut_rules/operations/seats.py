"""Is every occupant held by a belt?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, fails, no_data, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.records.aircraft import Aircraft, Seat

__all__ = ["every_seat_has_belt", "harness_at_front", "latches", "seat_findings"]

_HARNESS = frozenset({"three-point", "four-point", "five-point"})


def latches(aircraft: Aircraft) -> Finding:
    """91.205(b)(13): a belt with a metal-to-metal latch at every seat."""
    if not aircraft.seating:
        return no_data("b-13", "91.205(b)(13): the seats and belts are not recorded", aircraft.at("seating"))
    without = [seat for seat in aircraft.seating if seat.belt == "none" or seat.metal_latch is False]
    unknown = [
        seat for seat in aircraft.seating if seat.belt is None or (seat.belt != "none" and seat.metal_latch is None)
    ]
    listed = "91.205(b)(13) lists an approved belt with a metal-to-metal latch for every occupant"
    if without:
        where = without[0].at("metal_latch" if without[0].belt != "none" else "belt")
        message = f"{listed}; not so at {_names(without)}"
        return warns("b-13", message, where, remedy="Fit belts with a metal-to-metal latch.")
    if unknown:
        message = f"{listed}; not recorded of {_names(unknown)}"
        return no_data("b-13", message, unknown[0].at(), remedy="Record 'belt' and 'metal_latch'.")
    return passes("b-13", f"{listed}: {_names(aircraft.seating)}", aircraft.seating[0].at())


def harness_at_front(aircraft: Aircraft) -> Iterator[Finding]:
    """91.205(b)(14) at the front seats, and from memory (b)(16) at all of them."""
    front = tuple(seat for seat in aircraft.seating if seat.front is not False)  # in doubt it is a front seat
    for item, seats, listed in (
        ("b-14", front, "91.205(b)(14) lists a shoulder harness at each front seat"),
        ("b-16", aircraft.seating, "91.205(b)(16), from memory, lists a shoulder harness at every seat"),
    ):
        if not seats:
            yield no_data(item, f"{listed}; the seats are not recorded", aircraft.at("seating"))
            continue
        without = [seat for seat in seats if seat.belt is not None and seat.belt not in _HARNESS]
        unknown = [seat for seat in seats if seat.belt is None]
        if without:
            message = f"{listed}; {_names(without)} has none"
            yield warns(item, message, without[0].at("belt"), remedy="Fit a harness that holds the shoulders.")
        elif unknown:
            yield no_data(
                item, f"{listed}; not recorded of {_names(unknown)}", unknown[0].at(), remedy="Record 'belt'."
            )
        else:
            yield passes(item, f"{listed}: {_names(seats)}", seats[0].at("belt"))


def _names(seats: Iterable[Seat]) -> str:
    return ", ".join(seat.id for seat in seats)


@rule(
    "operations/belts",
    title="Belt at every seat",
    asks="Has every seat a belt?",
    references=("91-107-a-3", "91-205-b"),
    due=Stage.SYSTEMS,
    remedy="Fit a belt, or take the seat out.",
    no_deviation="91.107 lets nobody be carried without a belt",
)
def every_seat_has_belt(aircraft: Aircraft) -> Iterator[Finding]:
    """91.107(a)(3) binds by its own words: each person sits in a seat with a belt, and with its harness fastened where one is
    fitted. As many seats must be recorded as `seats` says. What holds the shoulders, and the latch, are 91.205(b)(13) and
    (14), judged with the day list.
    """
    yield from seat_findings(aircraft)


def seat_findings(aircraft: Aircraft) -> Iterator[Finding]:
    """Whether the seats recorded are as many as the aircraft has, and what holds each."""
    if aircraft.seats is None or not aircraft.seating:
        field = "how many seats it has" if aircraft.seats is None else "its seats and belts, under 'seating',"
        raise MissingRecord(f"{field} is not recorded", aircraft.at("seats"))
    where = (aircraft.at("seating"), aircraft.at("seats"))
    message = f"{len(aircraft.seating)} seats are recorded one by one; the aircraft has {aircraft.seats}"
    if len(aircraft.seating) == aircraft.seats:
        yield passes("aircraft", message, *where)
    elif len(aircraft.seating) < aircraft.seats:
        yield no_data("aircraft", message, *where, remedy="Record the others.")
    else:
        yield fails("aircraft", message, *where, remedy="Correct one of the two.")
    for seat in aircraft.seating:
        if seat.belt is None:
            yield no_data(seat.id, "what holds its occupant is not recorded", seat.at(), remedy="Record 'belt'.")
        elif seat.belt == "none":
            yield fails(seat.id, "it has no belt; 91.107(a)(3) asks for one at every seat in use", seat.at("belt"))
        else:
            said = f", said to meet {seat.standard}" if seat.standard else "; whether it is approved has no record"
            yield passes(seat.id, f"a {seat.belt} holds its occupant{said}", seat.at("belt"))
