"""Three whole aircraft, invented and sound, unlike the example: no false alarm, no crash, and no-data only where it is honest."""

from __future__ import annotations

import datetime
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from jurystrut.judge import judge
from jurystrut.reading import read
from jurystrut.rulebook import Stage, Verdict
from jurystrut.testing import installed

if TYPE_CHECKING:
    from jurystrut.judge import Judgement

HERE = Path(__file__).parent
DAY = datetime.date(2026, 11, 25)
SOUND = {Verdict.PASS, Verdict.NOT_APPLICABLE, Verdict.NOT_DUE}

Noted = dict[tuple[str, str], str]

PAPER_LOG: Noted = {("papers/major-portion", "builders-log"): "no-data"}
"""The builder's log is on paper, so who made what is not on record."""

PAPERS_TO_COME: Noted = PAPER_LOG | {
    ("papers/application", "application"): "no-data",
    ("papers/application", "eligibility"): "no-data",
    ("papers/identification", "three-view"): "no-data",
    ("papers/purpose", "purpose"): "no-data",
}
"""What is written for the application is not there at stage `systems`."""

NOTED: dict[tuple[str, Stage | None], Noted] = {
    ("bog_pipit", None): PAPER_LOG,
    ("bog_pipit", Stage.INSPECTION): PAPER_LOG,
    ("night_heron", None): PAPER_LOG,
    ("night_heron", Stage.INSPECTION): PAPER_LOG,
    ("reed_otter", None): {},
    ("reed_otter", Stage.INSPECTION): PAPERS_TO_COME,
}
"""What is noted of each, at its own stage and at inspection."""


@cache
def judged(name: str, stage: Stage | None) -> Judgement:
    project = read(HERE / name)
    assert not project.problems, project.problems
    judgement = judge(project, installed(), at=stage, on=DAY)
    assert not judgement.problems, judgement.problems
    return judgement


@pytest.mark.parametrize(("name", "stage"), NOTED)
def test_nothing_is_noted_but_what_should_be(name: str, stage: Stage | None) -> None:
    found = {
        (result.rule.id, finding.subject): finding.verdict.value
        for result in judged(name, stage).results
        for finding in result.findings
        if finding.verdict not in SOUND
    }
    assert found == NOTED[(name, stage)]


@pytest.mark.parametrize(("name", "passing"), [("bog_pipit", 150), ("night_heron", 250), ("reed_otter", 225)])
def test_much_is_judged(name: str, passing: int) -> None:
    """An aircraft that records little is noted for little; these record enough for that many rules to pass."""
    at_inspection = judged(name, Stage.INSPECTION).results
    assert sum(result.verdict is Verdict.PASS for result in at_inspection) >= passing


def test_every_aircraft_here_is_judged_twice() -> None:
    folders = {path.name for path in HERE.iterdir() if (path / "aircraft.yaml").exists()}
    assert {(name, stage) for name in folders for stage in (None, Stage.INSPECTION)} == set(NOTED)


@pytest.mark.parametrize(("name", "stage"), NOTED)
def test_what_is_put_off_as_sound_is_sound(name: str, stage: Stage | None) -> None:
    for result in judged(name, stage).results:
        put_off = [told for told, kept in zip(result.findings, result.found, strict=True) if told is not kept]
        assert {finding.verdict for finding in put_off} <= {Verdict.PASS}, result.rule.id
