"""Is what was measured, made or fitted dated on a day that is past?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Spot, Stage, Verdict, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.base import Named
    from jurystrut.records.covering import Covering
    from jurystrut.records.rigging import Rigging
    from jurystrut.records.weights import Weights

__all__ = ["what_was_done_is_past"]


@rule(
    "papers/days-past",
    title="Days of what was done are past",
    asks="Is everything measured, made or fitted dated on or before the day of the check?",
    references=("own-consistency",),
    due=Stage.DESIGN,
    remedy="Correct the day; record a measure once it was taken.",
    at_worst=Verdict.WARN,
)
def what_was_done_is_past(
    day: datetime.date,
    rigging: Rigging | None = None,
    covering: Covering | None = None,
    weights: Weights | None = None,
) -> Iterator[Finding]:
    """Measures of the rigging, test strips, the weight report, and the days since which components are fitted: a day yet to
    come is a slip of the pen, and the true one may be too long ago. Steps that have limits of time have rules of their own.
    """
    found = list(_dated(rigging, covering, weights))
    if not found:
        yield not_applicable("aircraft", "nothing of these is recorded with its day")
    for subject, done, where in found:
        say = passes if done <= day else warns
        yield say(subject, f"dated {done}" if done <= day else f"dated {done}, a day yet to come", where)


def _dated(
    rigging: Rigging | None, covering: Covering | None, weights: Weights | None
) -> Iterator[tuple[str, datetime.date, Spot]]:
    measures: list[Named] = []
    if rigging:
        measures += [*rigging.angles, *rigging.lengths, *rigging.toes, *rigging.triangles]
    yield from _of(measures, "day")
    yield from _of(covering.strips if covering else (), "made")
    yield from _of(weights.components if weights else (), "since")
    if weights and weights.report and weights.report.day:
        yield "report", weights.report.day, weights.report.at("day")


def _of(records: tuple[Named, ...] | list[Named], field: str) -> Iterator[tuple[str, datetime.date, Spot]]:
    for record in records:
        done = getattr(record, field)
        if done is not None:
            yield record.id, done, record.at(field)
