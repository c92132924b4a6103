"""A second, small aircraft: VFR by night with approved lights. What it may be used for is answered with yes, in every rule."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, judged

TEXT = (Path(__file__).parent / "examples/night_vfr.yaml").read_text("utf-8")
USE = ("operations/", "lighting/")
GOOD = {Verdict.PASS, Verdict.NOT_APPLICABLE}


def test_it_may_be_flown_by_night() -> None:
    results = [result for result in judged(TEXT).results if result.rule.id.startswith(USE)]
    assert len(results) >= 25
    assert {result.rule.id: result.verdict for result in results if result.verdict not in GOOD} == {}
    night = {f.subject: f.verdict for f in findings("operations/night-vfr", TEXT)}
    assert night == dict.fromkeys(("c-1", "c-2", "c-3", "c-5", "c-6"), Verdict.PASS) | {"c-4": Verdict.NOT_APPLICABLE}


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        (
            "      approval: {standard: TSO-C30c, kind: marking, evidence: evidence/tail.jpg}\n",
            "",
            "operations/night-vfr",
        ),
        ("says: allows", "says: bars", "operations/allowed"),
        ("intensity: 61 cd", "intensity: 39 cd", "lighting/position-intensity"),
        ("bearing: 15 deg, intensity: 4 cd", "bearing: 25 deg, intensity: 4 cd", "lighting/position-overlap"),
        ("spares: 1", "spares: 0", "operations/night-vfr"),
        ("what: compass", "what: spare hole", "operations/night-vfr"),
    ],
)
def test_one_change_and_it_may_not(old: str, new: str, rule: str) -> None:
    assert TEXT.count(old) == 1
    failing = {result.rule.id for result in judged(TEXT.replace(old, new)).results if result.verdict is Verdict.FAIL}
    assert rule in failing


def test_the_condition_inspection_runs_out() -> None:
    for day, wanted in ((datetime.date(2027, 5, 31), Verdict.PASS), (datetime.date(2027, 6, 1), Verdict.FAIL)):
        (finding,) = findings("operations/condition-inspection", TEXT, on=day)
        assert finding.verdict is wanted
