"""What was done is dated on a day that is past: agreement of the records with the calendar, our own."""

from __future__ import annotations

import datetime

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings

ORACLES = {
    "nothing computed": "papers/days-past",
}

NO_SUCH_CASE = {
    "papers/days-past": {"no data": "it looks at the days that are on record; what bears none is no day to come"},
}

TODAY = datetime.date(2026, 11, 25)
CEMENT = "products: [{{id: P, what: cement}}], batches: [{{id: B, product: P}}]"
RECORDS = {
    "rigging: {{angles: [{{id: A, what: dihedral, day: {day}}}]}}\n": "A",
    "rigging: {{lengths: [{{id: L, what: diagonal, day: {day}}}]}}\n": "L",
    f"covering: {{{{{CEMENT}, strips: [{{{{id: S, batch: B, made: {{day}}}}}}]}}}}\n": "S",
    "weights: {{components: [{{id: C, since: {day}}}]}}\n": "C",
    "weights: {{report: {{day: {day}}}}}\n": "report",
}


@pytest.mark.parametrize(("records", "subject"), RECORDS.items())
@pytest.mark.parametrize(
    ("day", "verdict"),
    [("2026-11-24", Verdict.PASS), ("2026-11-25", Verdict.PASS), ("2026-11-26", Verdict.WARN)],
)
def test_it_was_done_by_today(records: str, subject: str, day: str, verdict: Verdict) -> None:
    (finding,) = findings("papers/days-past", records.format(day=day), on=TODAY)
    assert (finding.subject, finding.verdict) == (subject, verdict)
    assert finding.message == f"dated {day}" + (", a day yet to come" if verdict is Verdict.WARN else "")


def test_nothing_dated_is_not_asked() -> None:
    (finding,) = findings("papers/days-past", "rigging: {angles: [{id: A, what: dihedral}]}\n", on=TODAY)
    assert finding.verdict is Verdict.NOT_APPLICABLE
