"""The aircraft's own operating limitations come first: do they allow the flights that the builder intends?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, fails, no_data, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft, OperatingLimitation

__all__ = ["BY_ITS_OWN_WORDS", "flights_are_allowed", "limitation_is_understood", "limitations_on", "named"]

_FLIGHTS = frozenset({"day-vfr", "night-vfr", "ifr", "aerobatics"})
_ITEMS = frozenset(  # numerics: how the lists name their items
    [f"b-{n}" for n in range(1, 18)] + [f"c-{n}" for n in range(1, 7)] + [f"d-{n}" for n in range(1, 10)]
)


_WORDS = frozenset({"passenger-warning", "day-vfr-only", "experimental", "speeds", "aerobatics", "other"})
"""Purposes of placards whose words a limitation may give."""


BY_ITS_OWN_WORDS = frozenset({"c-3"})
"""Items that bind without the operating limitations, so that these cannot waive them: 91.205(a) says so of (c)(3)."""


def limitations_on(aircraft: Aircraft, subject: str) -> list[OperatingLimitation]:
    """The operating limitations that decide about a kind of flight or a numbered item."""
    return [limitation for limitation in aircraft.operating_limitations if subject in limitation.on]


def named(limitation: OperatingLimitation) -> str:
    """How a message names it."""
    number = f", number {limitation.number}" if limitation.number else ""
    return f"the aircraft's own operating limitation {limitation.id}{number}"


@rule(
    "operations/allowed",
    title="Flights that the operating limitations allow",
    asks="Do the aircraft's own operating limitations allow every kind of flight that the builder intends?",
    references=("91-319-d-2", "8130-2-night", "91-9", "91-319-i"),
    due=Stage.FIRST_FLIGHT,
    remedy="Record the operating limitations as issued, or intend other flights.",
    no_deviation="only the authority changes operating limitations",
)
def flights_are_allowed(aircraft: Aircraft) -> Iterator[Finding]:
    """An experimental aircraft flies VFR by day only unless specifically authorized (91.319(d)(2)); the authorization stands
    in its operating limitations, which are issued with the certificate. Enter each that bears on an intended flight under
    `aircraft.operating_limitations`, with `on` and `says`.

    One that bars a flight fails it, whatever another says. Day VFR needs none; night and IFR do.
    """
    if not aircraft.operations:
        raise MissingRecord("which flights are intended is not recorded", aircraft.at())
    for flight in aircraft.operations:
        yield _allowed(flight, aircraft)


def _allowed(flight: str, aircraft: Aircraft) -> Finding:
    deciding = limitations_on(aircraft, flight)
    barring = next((limitation for limitation in deciding if limitation.says == "bars"), None)
    allowing = next((limitation for limitation in deciding if limitation.says == "allows"), None)
    here = aircraft.at("operations")
    if barring:
        message = f"{flight} is intended, and {named(barring)} bars it: {barring.text}"
        return fails(flight, message, here, barring.at("says"), remedy="Intend other flights, or ask the authority.")
    if allowing:
        return passes(flight, f"{named(allowing)} allows {flight}: {allowing.text}", here, allowing.at("says"))
    if flight == "day-vfr":
        return passes(flight, "91.319(d)(2) leaves VFR by day open, and no limitation on record bars it", here)
    message = (
        f"{flight} is intended; 91.319(d)(2) asks for a specific authorization, and no operating limitation records it"
    )
    return no_data(flight, message, here, remedy="Record the limitation that allows it, in its own words.")


@rule(
    "operations/limitation-understood",
    title="Operating limitation understood",
    asks="Does every recorded operating limitation decide something that these rules know?",
    references=("91-9", "own-consistency"),
    due=Stage.DESIGN,
    remedy="Name a kind of flight, a numbered item of 91.205 as b-3, or the purpose of a placard.",
)
def limitation_is_understood(aircraft: Aircraft) -> Iterator[Finding]:
    """`on` names day-vfr, night-vfr, ifr or aerobatics, which a limitation `allows` or `bars`; or an item of 91.205, from b-1
    to d-9, which it `asks` for or `waives`; or the purpose of a placard, as passenger-warning, whose words it `asks` for in its
    `text`. Item c-3 binds by its own words, and no limitation waives it.

    Anything else decides nothing here, and that must not go unnoticed.
    """
    if not aircraft.operating_limitations:
        where = aircraft.at("operating_limitations")
        yield passes("aircraft", "no operating limitation is recorded that could be misunderstood", where)
    for limitation in aircraft.operating_limitations:
        asked = _ITEMS | _WORDS if limitation.says == "asks" else _ITEMS
        known = _FLIGHTS if limitation.says in {"allows", "bars"} else asked
        if limitation.says == "waives":
            known -= BY_ITS_OWN_WORDS
        strange = [subject for subject in limitation.on if subject not in known]
        if strange or not limitation.on:
            message = f"it {limitation.says} {', '.join(strange) or 'nothing'}, which decides nothing here"
            yield warns(limitation.id, message, limitation.at("on"))
        else:
            yield passes(limitation.id, f"it {limitation.says} {', '.join(limitation.on)}", limitation.at("on"))
