"""Are the inspections and tests that run out still good on the day of the judgement?"""

from __future__ import annotations

import calendar
import datetime
from functools import cache
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, fails, no_data, not_applicable, passes, read_table, rule
from jurystrut_rules.operations.equipment import TABLES, head_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.papers import Document, Inspection
    from jurystrut.rulebook import Spot
    from jurystrut_rules.operations.equipment import Equipment

__all__ = [
    "altimeter_was_tested",
    "condition_was_inspected",
    "last_of_month",
    "locator_battery_is_good",
    "locator_was_inspected",
    "transponder_was_tested",
]


def last_of_month(day: datetime.date, months: int) -> datetime.date:
    """The last day of the month that lies so many calendar months after a day's month."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)  # arithmetic
    return datetime.date(year, month + 1, calendar.monthrange(year, month + 1)[1])


@cache
def _names() -> dict[str, str]:
    return {str(row["name"]): str(row["check"]) for row in read_table(TABLES / "inspections.yaml").rows}


def _done(check: str, inspections: Iterable[Inspection], day: datetime.date) -> Inspection | None:
    """The latest inspection of a kind that was done by the day."""
    done = [one for one in inspections if _names().get(head_of(one.what)) == check and one.day <= day]
    return max(done, key=lambda one: one.day, default=None)


def _within(
    check: str,
    months: int,
    source: str,
    inspections: tuple[Inspection, ...],
    day: datetime.date,
    where: tuple[Spot, ...],
) -> Finding:
    words = next(name for name, known in _names().items() if known == check)
    last = _done(check, inspections, day)
    if last is None:
        message = f"no {words} done by {day} is on record; by {source} one is due within {months} calendar months"
        return no_data(check, message, *where, remedy=f"Record the inspection, its 'what' beginning with: {words}.")
    until = last_of_month(last.day, months)
    message = f"{words} of {last.day}: good to {until} by {source}; judged on {day}"
    if day <= until:
        return passes(check, message, last.at("day"))
    return fails(check, message, last.at("day"), remedy="Have it done again before flying, and record it.")


@rule(
    "operations/condition-inspection",
    title="Condition inspection in date",
    asks="Was the condition inspection done within twelve calendar months?",
    references=("8130-2-condition",),
    due=Stage.OPERATING,
    remedy="Have it done before flying, and record it.",
    no_deviation="the operating limitations let nobody fly without it",
)
def condition_was_inspected(inspections: tuple[Inspection, ...], day: datetime.date) -> Iterator[Finding]:
    """The operating limitations ask for a condition inspection within 12 calendar months before a flight: done on any day of
    one month, it is good to the end of the same month a year later. It takes the place of the annual inspection of standard
    aircraft. Judged on the day of the judgement (`--on`).
    """
    yield _within("condition", 12, "the operating limitations", inspections, day, ())  # 8130-2-condition


@rule(
    "operations/transponder-test",
    title="Transponder test in date",
    asks="Was the transponder tested within 24 calendar months?",
    references=("91-413",),
    due=Stage.FIRST_FLIGHT,
    remedy="Have it tested, or leave it off.",
    no_deviation="91.413 lets nobody use an untested one",
)
def transponder_was_tested(
    aircraft: Aircraft, inspections: tuple[Inspection, ...], equipment: Equipment, day: datetime.date
) -> Iterator[Finding]:
    """91.413(a) binds by its own words, under VFR too: a transponder is used only when tested within 24 calendar months."""
    fitted = equipment.of("transponder")
    if not fitted:
        yield not_applicable("transponder", "no transponder is recorded", aircraft.at())
    else:
        yield _within("transponder", 24, "91.413(a)", inspections, day, (fitted[0].where,))  # 91-413


@rule(
    "operations/altimeter-test",
    title="Altimeter and static test in date",
    asks="Where IFR is intended, were static system, altimeter and altitude reporting tested within 24 calendar months?",
    references=("91-411",),
    due=Stage.FIRST_FLIGHT,
    remedy="Have them tested, or intend VFR only.",
    no_deviation="91.411 lets nobody fly IFR in controlled airspace without it",
)
def altimeter_was_tested(
    aircraft: Aircraft, inspections: tuple[Inspection, ...], day: datetime.date
) -> Iterator[Finding]:
    """91.411(a) binds by its own words, for IFR in controlled airspace. Opening the static system asks for a new test too,
    which the records do not show.
    """
    here = aircraft.at("operations")
    if aircraft.operations and "ifr" not in aircraft.operations:
        yield not_applicable("altimeter", "IFR is not intended", here)
    else:
        yield _within("altimeter", 24, "91.411(a)", inspections, day, (here,))  # 91-411


def _excused(aircraft: Aircraft) -> Finding | None:
    if aircraft.seats != 1:
        return None
    return not_applicable(
        "elt", "a single-seat aircraft needs no emergency locator transmitter (memory)", aircraft.at("seats")
    )


@rule(
    "operations/elt-inspection",
    title="Locator transmitter inspected",
    asks="Was the emergency locator transmitter inspected within twelve calendar months?",
    references=("91-207-c", "91-207-f"),
    due=Stage.FIRST_FLIGHT,
    remedy="Inspect installation, battery, controls and crash sensor, and signal, and record it.",
)
def locator_was_inspected(
    aircraft: Aircraft, inspections: tuple[Inspection, ...], day: datetime.date
) -> Iterator[Finding]:
    """91.207(d), known at second hand: within 12 calendar months for installation, battery corrosion, controls and crash
    sensor, and signal.
    """
    months = 12  # 91-207-c (second-hand)
    yield _excused(aircraft) or _within("elt", months, "91.207(d)", inspections, day, (aircraft.at("seats"),))


@rule(
    "operations/elt-battery",
    title="Locator transmitter's battery in date",
    asks="Is the battery of the emergency locator transmitter within its date?",
    references=("91-207-c", "91-207-f"),
    due=Stage.FIRST_FLIGHT,
    remedy="Replace the battery, mark the new date on the transmitter, and record it.",
)
def locator_battery_is_good(
    aircraft: Aircraft, documents: tuple[Document, ...], day: datetime.date
) -> Iterator[Finding]:
    """91.207(c): replaced when half its useful life has gone, by the maker's date, or after an hour of use in total. The date
    is recorded as the `expires` of a document of kind `ELT battery`; hours of use are not looked at.
    """
    excused = _excused(aircraft)
    batteries = [one for one in documents if _names().get(head_of(one.kind)) == "elt-battery"]
    if excused:
        yield excused
    elif not batteries:
        remedy = "Record a document of kind 'ELT battery' with its 'expires'."
        yield no_data("elt-battery", "the battery's date is not recorded", aircraft.at("seats"), remedy=remedy)
    for battery in () if excused else batteries:
        if battery.expires is None:
            yield no_data(
                battery.id, "when the battery expires is not recorded", battery.at(), remedy="Record 'expires'."
            )
            continue
        said = passes if day <= battery.expires else fails
        yield said(battery.id, f"the battery is good to {battery.expires}; judged on {day}", battery.at("expires"))
