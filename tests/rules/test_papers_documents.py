"""Documents, inspections and the builder's log. What must be there follows 14 CFR 21.193 and AC 20-27G as the sources say."""

from __future__ import annotations

import datetime

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "own arithmetic": "papers/builders-log-days papers/document-valid papers/major-portion",
    "nothing computed": (
        "papers/application papers/builders-log papers/identification papers/inspection-past "
        "papers/logbooks papers/operating-limitations papers/purpose papers/registration "
        "papers/second-eyes papers/stage-inspected papers/weight-report"
    ),
}

ASKED = "it asks for a record alone: one that is missing is no data"
RECORDED = "it judges what is recorded, and where there is nothing there is nothing to judge"
UNFINISHED = "the example is not finished, and lacks it still: it cannot be lost"
NO_SUCH_CASE = {
    "papers/application": {"just over": ASKED, "late change": UNFINISHED},
    "papers/builders-log": {"just over": ASKED},
    "papers/builders-log-days": {"no data": RECORDED},
    "papers/document-valid": {"no data": RECORDED},
    "papers/identification": {"just over": ASKED, "late change": UNFINISHED},
    "papers/inspection-past": {"no data": RECORDED},
    "papers/logbooks": {"just over": ASKED},
    "papers/major-portion": {"late change": UNFINISHED},
    "papers/operating-limitations": {"just over": ASKED},
    "papers/purpose": {"just over": ASKED, "late change": UNFINISHED},
    "papers/registration": {"just over": ASKED},
}

DAY = datetime.date(2026, 6, 1)
AIRCRAFT = "aircraft: {{name: T, authority: US, stage: {stage}, engine: {{power: 100 hp}}, propeller: {{blades: 2}}}}\n"

PAPERS = [
    ("registration", "registration", "registration", "registration reserved"),
    ("registration", "registration", "certificate of registration", "draft certificate of registration"),
    ("application", "application", "airworthiness application", "template of an airworthiness application"),
    ("application", "eligibility", "eligibility statement", "eligibility statement draft"),
    ("purpose", "purpose", "programme letter", "draft programme letter"),
    ("purpose", "purpose", "statement of purpose", "statement of purpose, draft"),
    ("identification", "three-view", "three-view drawing", "three-view drawing, draft"),
    ("identification", "three-view", "three-view photographs", "template of three-view photographs"),
    ("logbooks", "airframe-logbook", "airframe logbook", "planned airframe logbook"),
    ("logbooks", "engine-logbook", "engine logbook", "planned engine logbook"),
    ("logbooks", "propeller-logbook", "propeller logbook", "planned propeller logbook"),
    ("weight-report", "weight-report", "weight and balance report", "weight and balance report draft"),
    ("operating-limitations", "operating-limitations", "operating limitations", "operating limitations draft"),
]


def records(kind: str | None, stage: str = "first-flight") -> str:
    documents = f"documents: [{{id: D1, kind: '{kind}', day: 2026-05-01}}]\n" if kind else ""
    return AIRCRAFT.format(stage=stage) + documents


@pytest.mark.parametrize(("rule", "subject", "kind"), [paper[:3] for paper in PAPERS])
def test_a_paper_on_record_passes(rule: str, subject: str, kind: str) -> None:
    assert the_finding(f"papers/{rule}", records(kind), subject).verdict is Verdict.PASS


@pytest.mark.parametrize(("rule", "subject", "draft"), [(*paper[:2], paper[3]) for paper in PAPERS])
def test_a_draft_is_no_paper(rule: str, subject: str, draft: str) -> None:
    finding = the_finding(f"papers/{rule}", records(draft), subject)
    assert finding.verdict is Verdict.NO_DATA
    assert finding.where[0].position.line == 2


@pytest.mark.parametrize(("rule", "subject"), [paper[:2] for paper in PAPERS])
def test_a_missing_paper_is_no_data(rule: str, subject: str) -> None:
    assert the_finding(f"papers/{rule}", records(None), subject).verdict is Verdict.NO_DATA


@pytest.mark.parametrize("rule", sorted({paper[0] for paper in PAPERS}))
def test_papers_are_not_asked_of_a_design(rule: str) -> None:
    assert [f.verdict for f in findings(f"papers/{rule}", records(None, "design"))] == [Verdict.NOT_DUE]


LIMITED = """
aircraft:
  name: T
  authority: US
  stage: operating
  operating_limitations: [{{id: OL, text: as issued, on: [night-vfr], says: allows{}}}]
documents: [{{id: D-LIM, kind: operating limitations}}]
"""


def test_limitations_are_entered_with_the_document_that_each_stands_in() -> None:
    """A limitation that nobody can look up is no record, and a paper whose words were not entered decides nothing."""
    sound = the_finding("papers/operating-limitations", LIMITED.format(", document: D-LIM"), "OL")
    assert (sound.verdict, sound.where[0].position.line) == (Verdict.PASS, 6)
    assert the_finding("papers/operating-limitations", LIMITED.format(""), "OL").verdict is Verdict.NO_DATA
    unentered = the_finding("papers/operating-limitations", records("operating limitations"), "entered")
    assert (unentered.verdict, unentered.where[0].position.line) == (Verdict.NO_DATA, 2)
    assert the_finding("papers/operating-limitations", records(None), "entered").verdict is Verdict.NO_DATA


WEIGHED = "weights: {weighings: [{id: W1, day: 2026-05-01}, {id: W2, day: 2026-05-20}]}\n"


@pytest.mark.parametrize(
    ("day", "verdict"),
    [
        (", day: 2026-05-21", Verdict.PASS),
        (", day: 2026-05-20", Verdict.PASS),
        (", day: 2026-05-19", Verdict.FAIL),
        ("", Verdict.NO_DATA),
    ],
)
def test_the_weight_report_is_not_older_than_the_last_weighing(day: str, verdict: Verdict) -> None:
    text = f"{WEIGHED}documents:\n  - {{id: D, kind: weight and balance report{day}}}\n"
    finding = the_finding("papers/weight-report", text, "D")
    assert (finding.verdict, finding.where[0].position.line) == (verdict, 4)


def test_a_weight_report_with_nothing_to_contradict_is_only_there() -> None:
    for weighings in ("", "weights: {weighings: []}\n"):
        text = f"{weighings}documents: [{{id: D, kind: weight and balance report}}]\n"
        assert [f.subject for f in findings("papers/weight-report", text)] == ["weight-report"]


@pytest.mark.parametrize(
    ("fields", "verdict", "margin"),
    [
        ("expires: 2026-06-11", Verdict.PASS, 10),
        ("expires: 2026-06-01", Verdict.PASS, 0),  # the last day counts
        ("expires: 2026-05-31", Verdict.WARN, -1),
        ("day: 2026-06-01", Verdict.PASS, None),
        ("day: 2026-06-02", Verdict.WARN, None),
    ],
)
def test_validity(fields: str, verdict: Verdict, margin: int | None) -> None:
    text = f"documents: [{{id: D1, kind: registration, {fields}}}]"
    finding = the_finding("papers/document-valid", text, "D1", on=DAY)
    assert finding.verdict is verdict
    assert (finding.measured.value if finding.measured else None) == margin


@pytest.mark.parametrize(("expires", "verdict"), [("2026-05-31", Verdict.NOT_APPLICABLE), ("2026-06-01", Verdict.PASS)])
def test_a_calibration_is_asked_for_on_the_day_of_measuring_only(expires: str, verdict: Verdict) -> None:
    text = f"documents: [{{id: D1, kind: calibration certificate, day: 2025-06-01, expires: {expires}}}]"
    assert the_finding("papers/document-valid", text, "D1", on=datetime.date(2026, 6, 1)).verdict is verdict


def test_a_document_without_any_day_is_not_asked() -> None:
    (finding,) = findings("papers/document-valid", "documents: [{id: D1, kind: manual}]")
    assert finding.verdict is Verdict.NOT_APPLICABLE


INSPECTION = "inspections: [{{id: I1, what: frame, who: {who}, day: {day}, stage: {stage}, result: none}}]\n"


def inspected(
    who: str = "counsellor", day: str = "2026-05-01", stage: str = "structure", at: str = "inspection"
) -> str:
    return AIRCRAFT.format(stage=at) + INSPECTION.format(who=who, day=day, stage=stage)


@pytest.mark.parametrize(
    ("at", "expected"),
    [
        ("covering", {"structure": Verdict.PASS}),
        ("systems", {"structure": Verdict.PASS, "covering": Verdict.WARN}),
        ("inspection", {"structure": Verdict.PASS, "covering": Verdict.WARN, "systems": Verdict.WARN}),
    ],
)
def test_every_stage_that_is_over_was_looked_at(at: str, expected: dict[str, Verdict]) -> None:
    assert {f.subject: f.verdict for f in findings("papers/stage-inspected", inspected(at=at))} == expected


def test_without_any_inspection_there_is_no_data() -> None:
    plain = AIRCRAFT.format(stage="covering")
    assert [f.verdict for f in findings("papers/stage-inspected", plain)] == [Verdict.NO_DATA]
    late = AIRCRAFT.format(stage="inspection")
    assert [f.verdict for f in findings("papers/second-eyes", late)] == [Verdict.NO_DATA]
    assert [f.verdict for f in findings("papers/inspection-past", late)] == [Verdict.NOT_APPLICABLE]


@pytest.mark.parametrize(
    ("day", "verdict"), [("2026-05-31", Verdict.PASS), ("2026-06-01", Verdict.PASS), ("2026-06-02", Verdict.WARN)]
)
def test_an_inspection_is_past(day: str, verdict: Verdict) -> None:
    finding = the_finding("papers/inspection-past", inspected(day=day), "I1", on=DAY)
    assert finding.verdict is verdict
    assert finding.where[0].position.line == 2


@pytest.mark.parametrize(
    ("who", "verdict"), [("a neighbour", Verdict.PASS), ("Build", Verdict.PASS), ("Builder", Verdict.WARN)]
)
def test_a_second_pair_of_eyes(who: str, verdict: Verdict) -> None:
    assert the_finding("papers/second-eyes", inspected(who=who), "inspections").verdict is verdict


def test_the_last_pair_of_eyes_is_the_last_by_its_day() -> None:
    both = inspected(who="counsellor", day="2026-05-20").replace(
        "result: none}", "result: none}, {id: I2, what: wing, who: neighbour, day: 2026-05-10, result: none}"
    )
    found = the_finding("papers/second-eyes", both, "inspections")
    assert found.message == "2 by others than the builder, the last on 2026-05-20 by counsellor"


def log(*lines: str) -> str:
    return (
        AIRCRAFT.format(stage="inspection")
        + "builders_log:\n"
        + "".join(f"  - {{{line}, task: ribs}}\n" for line in lines)
    )


def line(hours: str = "8 h", day: str = "2026-05-01", who: str = "builder", by: str = "amateur") -> str:
    return f"day: {day}, hours: {hours}, who: {who}, by: {by}, nature: fabrication"


def test_the_log_is_added_up() -> None:
    finding = the_finding("papers/builders-log", log(line("8 h"), line("90 min", day="2026-05-02")), "builders-log")
    assert finding.verdict is Verdict.PASS
    assert finding.message == "2 lines on 2 days, 9.5 h"  # 8 h and 90 min


def test_a_log_on_paper_counts_and_no_log_is_no_data() -> None:
    paper = AIRCRAFT.format(stage="inspection") + 'documents: [{id: D1, kind: "builder\'s log"}]\n'
    assert the_finding("papers/builders-log", paper, "builders-log").verdict is Verdict.PASS
    none = AIRCRAFT.format(stage="inspection")
    assert the_finding("papers/builders-log", none, "builders-log").verdict is Verdict.NO_DATA
    assert the_finding("papers/major-portion", none, "builders-log").verdict is Verdict.NO_DATA
    assert the_finding("papers/builders-log-days", none, "builders-log").verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("lines", "verdict"),
    [
        ([line("24 h")], Verdict.PASS),  # exactly a day
        ([line("24.1 h")], Verdict.WARN),
        ([line("13 h"), line("12 h")], Verdict.WARN),
        ([line("13 h"), line("12 h", who="friend")], Verdict.PASS),  # two people
        ([line(day="2026-06-01")], Verdict.PASS),
        ([line(day="2026-06-02")], Verdict.WARN),
    ],
)
def test_days_of_the_log(lines: list[str], verdict: Verdict) -> None:
    (finding,) = findings("papers/builders-log-days", log(*lines), on=DAY)
    assert finding.verdict is verdict


@pytest.mark.parametrize(
    ("paid", "share", "verdict"),
    [("3 h", 100 * 8 / 11, Verdict.PASS), ("7.9 h", 100 * 8 / 15.9, Verdict.PASS), ("8 h", 50.0, Verdict.WARN)],
)
def test_the_log_supports_the_major_portion_and_half_is_none(paid: str, share: float, verdict: Verdict) -> None:
    text = log(line("8 h"), line(paid, who="shop", by="paid"))
    finding = the_finding("papers/major-portion", text, "builders-log")
    assert finding.verdict is verdict
    assert finding.measured
    assert finding.measured.value == pytest.approx(share)
    assert finding.where[0].position.line == 4  # the first line that is not an amateur's
    assert "authority decides" in finding.message


@pytest.mark.parametrize("kind", ["engine log", "propeller log", "builder's certificate"])
def test_another_log_is_no_builders_log(kind: str) -> None:
    text = f'documents: [{{id: D, kind: "{kind}"}}]\n'
    assert the_finding("papers/builders-log", text, "builders-log").verdict is Verdict.NO_DATA


def test_a_log_without_an_hour_has_no_share() -> None:
    finding = the_finding("papers/major-portion", log(line("0 h")), "builders-log")
    assert finding.verdict is Verdict.WARN
    assert finding.measured is not None
    assert finding.measured.value == 0
