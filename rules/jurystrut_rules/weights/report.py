"""Is the last weighing that of the finished aircraft, and is its report complete?"""

from __future__ import annotations

from typing import TYPE_CHECKING

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
from jurystrut_rules.weights.ledger import inches, latest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.weights import Report, Weights
    from jurystrut_rules.weights.balance import Loaded

__all__ = ["report_is_complete", "report_shows_the_extremes", "weighed_when_painted"]


@rule(
    "weights/painted-weighing",
    title="Weighed finished and painted",
    asks="Was the aircraft finished and painted when it was last weighed?",
    references=("ac43-10-2-b", "ac43-10-15", "ac20-27g-weight"),
    due=Stage.INSPECTION,
    remedy="Weigh it again, finished.",
    at_worst=Verdict.WARN,
)
def weighed_when_painted(weights: Weights) -> Iterator[Finding]:
    """No document that was read says this in so many words. It follows from empty weight including everything installed, and from
    weighing with every item of the equipment list in; hence a warning at worst.
    """
    weighing = latest(weights)
    if weighing is None:
        raise MissingRecord("no weighing is recorded", weights.at("weighings"))
    if weighing.painted is None:
        yield no_data(weighing.id, "whether it was painted is not recorded", weighing.at(), remedy="Record 'painted'.")
    elif not weighing.painted:
        words = f"it was not painted yet on {weighing.day}"
        yield warns(weighing.id, words, weighing.at("painted"), remedy="Weigh it again, finished.")
    else:
        yield passes(weighing.id, f"it was finished and painted on {weighing.day}", weighing.at("painted"))


_CONTENTS = {
    "most_forward": "the most forward loading",
    "most_aft": "the most aft loading",
    "first_flight": "the loading for the first flight",
    "evidence": "the report itself",
}
_SAID = {
    "equipment_list": "the equipment list with weights and arms",
    "equipment_sorted": "which equipment is required, which optional and which special",
    "oil": "whether oil was full or drained",
}


@rule(
    "weights/report-complete",
    title="Weight and balance report complete",
    asks="Does the report rest on the latest weighing and hold everything that is asked of it?",
    references=("ac20-27g-weight", "ac43-10-18", "ac43-10-15-g"),
    due=Stage.INSPECTION,
    remedy="Complete the report.",
)
def report_is_complete(weights: Weights) -> Iterator[Finding]:
    """The report names its weighing, shows the most forward, the most aft and the first-flight loading, lists the equipment that
    was in with required, optional and special equipment apart, and says what oil was aboard. A report on an earlier weighing
    than the latest describes another aircraft.
    """
    report, weighing = weights.report, latest(weights)
    if report is None:
        raise MissingRecord("no weight and balance report is recorded", weights.at())
    for field, what in _CONTENTS.items():
        if getattr(report, field) is None:
            yield no_data("report", f"not recorded: {what}", report.at(), remedy=f"Record '{field}'.")
        else:
            yield passes("report", f"it holds {what}", report.at(field))
    yield from (_said(report, field, what) for field, what in _SAID.items())
    if report.weighing is None or weighing is None:
        yield no_data("report", "the weighing that it rests on is not recorded", report.at())
    elif report.day is not None and report.day < weighing.day:
        words = f"it is dated {report.day}, before its weighing {weighing.id} of {weighing.day}"
        yield fails("report", words, report.at("day"), weighing.at("day"), remedy="Correct the day, or write it anew.")
    elif report.weighing != weighing.id:
        words = f"it rests on {report.weighing}; the latest weighing is {weighing.id} of {weighing.day}"
        yield fails("report", words, report.at("weighing"), weighing.at("day"), remedy="Write the report anew.")
    else:
        yield passes("report", f"it rests on the latest weighing, {weighing.id}", report.at("weighing"))


_ROUNDING_IN = 0.05  # own-reading-precision
"""Two loadings that balance as near to each other as this are taken to be the same."""


@rule(
    "weights/report-extremes",
    title="Report shows the extremes",
    asks="Do no declared loadings balance further forward or aft than those that the report shows as the extremes?",
    references=("ac20-27g-weight", "own-reading-precision"),
    due=Stage.INSPECTION,
    remedy="Show the loading that goes furthest, and name it in the report.",
    at_worst=Verdict.WARN,
)
def report_shows_the_extremes(weights: Weights, loadings: list[Loaded]) -> Iterator[Finding]:
    """Each declared loading is taken where it balances furthest: at take-off, at landing, or with no usable fuel. What people may
    load besides, the rules on extremes look at. A twentieth of an inch is taken for rounding.
    """
    report = weights.report
    if report is None:
        raise MissingRecord("no weight and balance report is recorded", weights.at())
    lacking = next((loaded.lacks for loaded in loadings if loaded.body is None), None)
    if lacking is not None:
        raise MissingRecord(lacking, weights.at("loadings"))
    arms = [(loaded.loading.id, inches(loaded.body.arm)) for loaded in loadings if loaded.body]
    for field, way, sign in (("most_forward", "forward", -1), ("most_aft", "aft", 1)):
        named = getattr(report, field)
        if named is None:
            yield not_applicable("report", f"it names no most {way} loading", report.at())
            continue
        reach: dict[str, float] = {}
        for name, arm in arms:
            reach[name] = max(sign * arm, reach.get(name, sign * arm))
        furthest = max(reach, key=lambda name: reach[name])
        words = f"{named} at {sign * reach[named]:.2f} in; {furthest} goes furthest {way}, to {sign * reach[furthest]:.2f} in"
        say = passes if reach[furthest] - reach[named] <= _ROUNDING_IN else warns
        yield say("report", words, report.at(field), weights.at("loadings"))


def _said(report: Report, field: str, what: str) -> Finding:
    value = getattr(report, field)
    if value is None:
        return no_data("report", f"not recorded: {what}", report.at(), remedy=f"Record '{field}'.")
    if value:
        return passes("report", f"it says {what}", report.at(field))
    return fails("report", f"it does not say {what}", report.at(field), remedy="Add it to the report.")
