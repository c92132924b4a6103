"""Did somebody look before it was closed, and is that on record?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, no_data, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.papers import Inspection

__all__ = ["inspection_is_past", "inspection_is_second_pair_of_eyes", "stage_was_inspected"]

_LOOKED_AT = (Stage.STRUCTURE, Stage.COVERING, Stage.SYSTEMS)
"""The stages after which what was built is hidden."""


@rule(
    "papers/stage-inspected",
    title="Inspections before closing",
    asks="Was each stage that hides work looked at by somebody, and is that on record?",
    references=("ac20-27-logs",),
    due=Stage.COVERING,
    remedy="Have it looked at while it is open, and record that under 'inspections' with its stage.",
    at_worst=Verdict.WARN,
)
def stage_was_inspected(aircraft: Aircraft, stage: Stage, inspections: tuple[Inspection, ...]) -> Iterator[Finding]:
    """For structure, covering and systems, once the build is past the stage, an inspection of that stage is looked for."""
    for closed in _LOOKED_AT:
        if not closed < stage:
            continue
        found = [inspection for inspection in inspections if inspection.stage is closed]
        if found:
            yield passes(
                closed.value,
                f"{len(found)} inspections at stage {closed.value}, the last on {max(i.day for i in found)}",
                found[-1].at(),
            )
        elif inspections:
            message = f"no inspection at stage {closed.value} is on record, though there are others"
            yield warns(closed.value, message, aircraft.at("stage"), inspections[-1].at("stage"))
        else:
            yield no_data(closed.value, f"no inspection at stage {closed.value} is on record", aircraft.at("stage"))


@rule(
    "papers/inspection-past",
    title="Inspections are past",
    asks="Is every recorded inspection dated on or before the day of the check?",
    references=("own-consistency",),
    due=Stage.DESIGN,
    remedy="Correct 'day'; record an inspection once it was done.",
    at_worst=Verdict.WARN,
)
def inspection_is_past(day: datetime.date, inspections: tuple[Inspection, ...]) -> Iterator[Finding]:
    """An inspection of tomorrow has not been done. The day of the check itself counts as past."""
    if not inspections:
        yield not_applicable("aircraft", "no inspection is recorded")
    for inspection in inspections:
        if inspection.day > day:
            message = f"dated {inspection.day}, after the day of this check, {day}"
            yield warns(
                inspection.id, message, inspection.at("day"), remedy="Correct 'day'; record it once it was done."
            )
        else:
            yield passes(inspection.id, f"done on {inspection.day}", inspection.at("day"))


@rule(
    "papers/second-eyes",
    title="A second pair of eyes",
    asks="Did somebody besides the builder look at the build before the inspection?",
    references=("ac20-27-logs", "own-consistency"),
    due=Stage.INSPECTION,
    remedy="Ask somebody who knows, and record what was looked at.",
    at_worst=Verdict.WARN,
)
def inspection_is_second_pair_of_eyes(aircraft: Aircraft, inspections: tuple[Inspection, ...]) -> Iterator[Finding]:
    """Builders overlook what they made themselves. One inspection by somebody whom the record does not call `builder` is
    asked for; nothing obliges, so it is a warning at most.
    """
    others = [
        inspection for inspection in inspections if inspection.who.strip().lower() not in {"builder", "owner", "self"}
    ]
    if others:
        last = max(others, key=lambda inspection: inspection.day)
        message = f"{len(others)} by others than the builder, the last on {last.day} by {last.who}"
        yield passes("inspections", message, last.at("who"))
    elif inspections:
        yield warns("inspections", "every recorded inspection is the builder's own", inspections[-1].at("who"))
    else:
        yield no_data("inspections", "no inspection is recorded", aircraft.at())
