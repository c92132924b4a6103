"""Is the aircraft equipped for the airspace and the altitude that the builder intends?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut_rules.operations.equipment import Equipment

__all__ = ["locator_is_fitted", "oxygen_reaches_altitude", "position_is_sent", "transponder_is_fitted"]

_ALWAYS = ("class-a", "class-b", "class-c", "mode-c-veil", "above-class-b", "above-class-c")
"""Where a transponder, 91.215(b)(1), (2) and (4), and ADS-B Out, 91.225(d)(1) to (3), are needed."""
_FROM_FT = 10_000.0  # 91-215-b: and 91.225(d)(4)
_WITHIN_CONTIGUOUS_STATES = "but for the lowest 2,500 ft above the surface"


def _needed(aircraft: Aircraft, *, class_e_only: bool) -> list[str] | None:
    """Why equipment is needed in the airspace and at the altitude intended; None where altitude must be known first."""
    reasons: list[str] = [airspace for airspace in aircraft.airspace if airspace in _ALWAYS]
    high = not class_e_only or "class-e" in aircraft.airspace
    altitude = aircraft.limits.altitude if aircraft.limits else None
    if high and altitude is None:
        return reasons or None
    if high and altitude is not None and altitude.to("ft") >= _FROM_FT * (1 - 1e-9):
        reasons.append(f"{altitude}, which is 10,000 ft or more, {_WITHIN_CONTIGUOUS_STATES}")
    return reasons


def _in_airspace(
    subject: str, source: str, words: str, functions: tuple[str, ...], aircraft: Aircraft, equipment: Equipment
) -> Finding:
    if not aircraft.airspace:
        raise MissingRecord("which airspace is intended is not recorded", aircraft.at("airspace"))
    where = (aircraft.at("airspace"), (aircraft.limits or aircraft).at("altitude"))
    reasons = _needed(aircraft, class_e_only=subject == "ads-b-out")
    if reasons is None:
        message = f"whether {source} asks for {words} hangs on the highest altitude intended, not recorded"
        return no_data(subject, message, *where, remedy="Record aircraft.limits.altitude.")
    if not reasons:
        return not_applicable(
            subject, f"{source} asks for none in {', '.join(aircraft.airspace)} below 10,000 ft", *where
        )
    lacking = [function for function in functions if not equipment.of(function)]
    needs = f"{source} asks for {words}: {'; '.join(reasons)}"
    if not lacking:
        return passes(subject, f"{needs}. {equipment.of(functions[-1])[0].how}", equipment.of(functions[-1])[0].where)
    remedy = f"Fit it, record which item 'provides' {' and '.join(lacking)}, or stay out of that airspace."
    if not equipment.complete:
        return no_data(subject, f"{needs}; the panel is not recorded", *where, remedy=remedy)
    return fails(subject, f"{needs}; nothing on record provides {' and '.join(lacking)}", *where, remedy=remedy)


@rule(
    "operations/transponder",
    title="Transponder for the airspace",
    asks="Where the intended airspace needs a transponder with altitude reporting, is one on record?",
    references=("91-215-b", "91-217", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit one, or stay out of that airspace.",
)
def transponder_is_fitted(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """91.215(b) binds by its own words: class A, B and C, above B and C, within 30 nautical miles of listed airports, and from
    10,000 ft on, but for the lowest 2,500 ft above the surface. An aircraft never certificated with an engine-driven
    electrical system is excused in parts: record a deviation. The equipment meets the standard's performance; the words ask
    for no mark on it. Whether the altitude sent agrees with the altimeter, 91.217, a test shows.
    """
    words = "a transponder with altitude reporting"
    yield _in_airspace("transponder", "91.215(b)", words, ("altitude-reporting", "transponder"), aircraft, equipment)


@rule(
    "operations/ads-b-out",
    title="ADS-B Out for the airspace",
    asks="Where the intended airspace needs ADS-B Out, is it on record?",
    references=("91-225-d", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit it, or stay out of that airspace.",
)
def position_is_sent(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """91.225(d) binds by its own words. A receiver of traffic is no ADS-B Out: only an item that `provides` ads-b-out counts.
    Whether its performance meets 91.227 is not looked at; those numbers were not read.
    """
    yield _in_airspace("ads-b-out", "91.225(d)", "ADS-B Out", ("ads-b-out",), aircraft, equipment)


@rule(
    "operations/elt",
    title="Emergency locator transmitter",
    asks="Is an emergency locator transmitter on record, where 91.207 asks for one?",
    references=("91-207-a", "91-207-f", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit one as far aft as practicable, and record it.",
)
def locator_is_fitted(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """91.207(a) binds amateur-built aircraft with two or more seats. That experimental aircraft need none is a common belief;
    the purposes excused in (f), from memory, leave amateur-built out. Whether flights of phase I count as testing, (f)(4),
    is arguable: ask the inspector.
    """
    if aircraft.seats is None:
        raise MissingRecord("how many seats it has is not recorded", aircraft.at("seats"))
    if aircraft.seats == 1:
        message = "91.207(f)(9), from memory, excuses an aircraft equipped to carry one person only"
        yield not_applicable("elt", message, aircraft.at("seats"))
        return
    fitted = equipment.of("elt")
    message = "91.207(a) asks an aircraft of two or more seats for an emergency locator transmitter"
    if fitted:
        yield passes("elt", f"{message}: {fitted[0].how}", fitted[0].where)
    elif equipment.complete:
        yield fails("elt", f"{message}, and no record is one", aircraft.at("seats"))
    else:
        yield no_data("elt", f"{message}; the panel is not recorded", aircraft.at("seats"), remedy="Record it.")


_CREW_AFTER_HALF_HOUR_FT, _CREW_FT, _EVERYBODY_FT = 12_500.0, 14_000.0, 15_000.0  # 91-211-a


@rule(
    "operations/oxygen",
    title="Oxygen for the altitude",
    asks="Does the oxygen fitted supply as many occupants as the highest altitude intended asks for?",
    references=("91-211-a",),
    due=Stage.SYSTEMS,
    remedy="Fit oxygen for them, or intend lower flights.",
    no_deviation="91.211 binds by its own words",
)
def oxygen_reaches_altitude(aircraft: Aircraft) -> Iterator[Finding]:
    """Up to 12,500 ft none is asked for; above, the pilot uses oxygen beyond 30 minutes, above 14,000 ft all the time, and
    above 15,000 ft every occupant is provided with it. The rule speaks of cabin pressure altitude, which without a pressure
    cabin is the altitude flown. The crew is taken as one pilot. To 14,000 ft less is a warning, for half an hour is free.
    """
    altitude = aircraft.limits.altitude if aircraft.limits else None
    if altitude is None:
        raise MissingRecord(
            "the highest altitude intended is not recorded", (aircraft.limits or aircraft).at("altitude")
        )
    assert aircraft.limits is not None
    feet = altitude.to("ft")
    if feet <= _CREW_AFTER_HALF_HOUR_FT * (1 + 1e-9):
        message = f"{altitude} at most is intended; 91.211(a) asks for oxygen above 12,500 ft"
        yield passes("oxygen", message, aircraft.limits.at("altitude"))
        return
    everybody = feet > _EVERYBODY_FT * (1 + 1e-9)
    if aircraft.oxygen_for is None or (everybody and aircraft.seats is None):
        message = f"{altitude} is intended; how many occupants oxygen is fitted for is not recorded"
        yield no_data("oxygen", message, aircraft.limits.at("altitude"), remedy="Record 'oxygen_for' and 'seats'.")
        return
    wanted = (aircraft.seats or 1) if everybody else 1
    message = f"{altitude} is intended and oxygen is fitted for {aircraft.oxygen_for}; 91.211(a) asks for {wanted}"
    free = feet <= _CREW_FT * (1 + 1e-9)
    yield at_least(
        "oxygen",
        aircraft.oxygen_for,
        wanted,
        "occupants",
        f"{message} beyond 30 minutes" if free else message,
        aircraft.limits.at("altitude"),
        aircraft.at("oxygen_for"),
        remedy="Fit oxygen for them, or intend 12,500 ft at most.",
        otherwise=Verdict.WARN if free else Verdict.FAIL,
    )
