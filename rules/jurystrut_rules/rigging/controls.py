"""Do the controls move freely, the right way, to their stops, and never with a lock in them?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, fails, no_data, not_applicable, passes, rule
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.rigging import ControlTest, Rigging

__all__ = ["control_is_free", "every_control_is_tried", "lock_cannot_be_forgotten", "travel_has_stop"]


@rule(
    "controls/stop",
    title="Travel ends at a stop",
    asks="Is it recorded what stops every control travel?",
    references=("23-675",),
    due=Stage.SYSTEMS,
    remedy="Record the stop; fit one where the surface itself is what stops.",
)
def travel_has_stop(rigging: Rigging) -> Iterator[Finding]:
    """Old 23.675, a yardstick: every surface has stops, which neither wear nor adjustment moves."""
    travels = [check for check in rigging.angles if check.control]
    yield from none_recorded(travels, "control travel", rigging)
    for check in travels:
        if check.stop is None:
            yield lacking(check, "stop")
        else:
            yield passes(check.id, f"stopped by {check.stop}", check.at("stop"))


@rule(
    "controls/free",
    title="Control moves freely",
    asks="Was every control moved through its whole travel, against a load, freely and the right way?",
    references=("23-683", "23-655"),
    due=Stage.SYSTEMS,
    remedy="Find what it touches, mend it, and try the whole travel again.",
    no_deviation="a control that jams or moves the wrong way is not flown",
)
def control_is_free(rigging: Rigging, day: datetime.date) -> Iterator[Finding]:
    """Old 23.683 wants the loaded system free of jamming and undue friction, 23.655 no surface to foul another. A control that
    moves the wrong way has killed people in aircraft fresh from the workshop.
    """
    if not rigging.tests:
        raise MissingRecord("no trial of a control is recorded", rigging.at())
    for test in rigging.tests:
        yield _free(test, day)


_WRONG = {
    "free": "it did not move freely",
    "right_way": "it moved the wrong way",
    "loaded": "it was not tried against a load",
}


def _free(test: ControlTest, today: datetime.date) -> Finding:
    for field, complaint in _WRONG.items():
        if getattr(test, field) is False:
            return fails(test.id, f"{test.control}: {complaint}", test.at(field))
    for field in (*_WRONG, "day", "by"):
        if getattr(test, field) is None:
            return lacking(test, field)
    if test.day and test.day > today:
        return fails(test.id, f"{test.control}: tried on {test.day}, a day yet to come", test.at("day"))
    return passes(test.id, f"{test.control}: free, loaded, the right way, on {test.day} by {test.by}", test.at())


@rule(
    "controls/tried-after-rigging",
    title="Tried after the last rigging",
    asks="Was every control tried after its travel was last set?",
    references=("23-683", "own-consistency"),
    due=Stage.SYSTEMS,
    remedy="Try the control through its whole travel, and record the day.",
)
def every_control_is_tried(rigging: Rigging, day: datetime.date) -> Iterator[Finding]:
    """The last trial of each control is held against the last day on which one of its travels was measured. A trial on a day yet
    to come is none.
    """
    travels = [check for check in rigging.angles if check.control]
    yield from none_recorded(travels, "control travel", rigging)
    tried: dict[str, datetime.date] = {}
    for test in rigging.tests:
        if test.day and test.day <= day:
            tried[test.control] = max(test.day, tried.get(test.control, test.day))
    for check in travels:
        assert check.control is not None
        last = tried.get(check.control)
        if check.day is None:
            yield lacking(check, "day")
        elif last is None:
            yield no_data(check.id, f"no day is recorded on which the {check.control} was tried", check.at("control"))
        else:
            say = passes if last >= check.day else fails
            message = f"the {check.control} was last tried on {last}, and this travel set on {check.day}"
            yield say(check.id, message, check.at("day"))


@rule(
    "controls/lock",
    title="Control lock",
    asks="Can no control lock be overlooked before take-off, or engage in flight?",
    references=("23-679",),
    due=Stage.SYSTEMS,
    remedy="Make the lock come off by itself, or block the pilot's seat, throttle or view with it.",
)
def lock_cannot_be_forgotten(rigging: Rigging) -> Iterator[Finding]:
    """Old 23.679, a yardstick."""
    if not rigging.locks:
        yield not_applicable("aircraft", "no control lock is recorded", rigging.at())
    for lock in rigging.locks:
        if lock.can_engage_in_flight:
            yield fails(lock.id, "it can engage in flight", lock.at("can_engage_in_flight"))
        elif lock.cannot_fly_with_it is False:
            yield fails(lock.id, "it can be overlooked before take-off", lock.at("cannot_fly_with_it"))
        elif lock.cannot_fly_with_it is None or lock.can_engage_in_flight is None:
            yield lacking(lock, "cannot_fly_with_it" if lock.cannot_fly_with_it is None else "can_engage_in_flight")
        else:
            yield passes(lock.id, "it cannot be overlooked, and cannot engage in flight", lock.at())
