"""Late changes to the example: each must be caught by the right rule, at the right line, and raise nothing else.

A case is a file in `tests/late_changes/`: what was changed, the edits, and the findings that must come of it. `at` is a piece
of the line at which the finding's first place must stand, in the edited file. `stage` judges as if the build were there.
"""

from __future__ import annotations

import datetime
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import pytest
import yaml

from jurystrut.judge import Judgement, judge
from jurystrut.reading import read_files
from jurystrut.reading.evidence import look_at
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.rulebook import Stage, Verdict
from jurystrut.testing import installed

if TYPE_CHECKING:
    from collections.abc import Callable

    from jurystrut.positions import Position

EXAMPLE = Path(__file__).parents[1] / "project_example"
CASES = sorted(Path(__file__).with_name("late_changes").glob("*.yaml"))
DAY = datetime.date(2026, 11, 25)
NOTED = {Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA}


class Noted(NamedTuple):
    """A finding worth noting: what must be caught, or must not be there."""

    rule: str
    subject: str
    verdict: str


def case_of(path: Path) -> dict[str, Any]:
    case: dict[str, Any] = yaml.safe_load(path.read_text(encoding="utf-8"))
    return case


def edited(files: dict[str, str], case: dict[str, Any]) -> dict[str, str]:
    """The files after a case's edits, those of the cases that it builds on first."""
    for name in case.get("after", ()):
        files = edited(files, case_of(Path(__file__).with_name("late_changes") / f"{name}.yaml"))
    files = dict(files)
    for edit in case["edits"]:
        files[edit["file"]] = one_edit(files[edit["file"]], edit)
    return files


def one_edit(text: str, edit: dict[str, str]) -> str:
    """Replace a piece of text that stands once; or remove the one line that holds it, or add lines below that one."""
    piece = edit.get("replace") or edit["line"]
    assert text.count(piece) == 1, f"'{piece}' stands {text.count(piece)} times in {edit['file']}"
    if "replace" in edit:
        return text.replace(piece, edit["with"])
    lines = text.splitlines(keepends=True)
    index = next(i for i, line in enumerate(lines) if piece in line)
    lines[index : index + 1] = [] if "add" not in edit else [lines[index], edit["add"].rstrip("\n") + "\n"]
    return "".join(lines)


def judged(files: dict[str, str], stage: str | None = None, *, look_at_files: bool = False) -> Judgement:
    """Judge texts; with the files that stand as evidence only where a case is about these, since edits make none."""
    project = read_files([RecordFile(name, text) for name, text in files.items()])
    assert not project.problems, "\n".join(f"{p.position}: {p.message}" for p in project.problems)
    if look_at_files:
        project = replace(project, evidence=look_at(EXAMPLE, project.sections))
    return judge(project, installed(), at=Stage(stage) if stage else None, on=DAY)


def noted(judgement: Judgement) -> set[Noted]:
    return {
        Noted(result.rule.id, finding.subject, finding.verdict.value)
        for result in judgement.results
        for finding in result.findings
        if finding.verdict in NOTED
    }


@pytest.fixture(scope="module")
def example() -> dict[str, str]:
    return {file.path: file.text for file in record_files(EXAMPLE)}


@pytest.fixture(scope="module")
def before(example: dict[str, str]) -> Callable[[str | None], set[Noted]]:
    """What is noted of the example as it is, at its own stage or a later one."""
    return cache(lambda stage: noted(judged(example, stage)))


def test_there_are_enough_cases() -> None:
    assert len(CASES) >= 100


NO_EDIT_MAKES_A_FILE = {"papers/evidence-not-empty"}
"""Rules on files as they stand in the folder: tests/rules/test_papers_evidence.py spoils real ones."""


def test_every_rule_is_the_target_of_a_case(before: Callable[[str | None], set[Noted]]) -> None:
    """But for what the example, which is not finished, still lacks at the inspection and after: it cannot be lost."""
    lacking = {noted.rule for stage in ("inspection", "operating") for noted in before(stage)}
    targets = {want["rule"] for path in CASES for want in case_of(path)["expect"]}
    assert targets - lacking == {rule.id for rule in installed().rules} - lacking - NO_EDIT_MAKES_A_FILE


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_is_caught_by_the_right_rule_at_the_right_line_and_nothing_else_is(
    path: Path, example: dict[str, str], before: Callable[[str | None], set[Noted]]
) -> None:
    case = case_of(path)
    files = edited(example, case)
    judgement = judged(files, case.get("stage"), look_at_files=case.get("look_at_files", False))
    expected = {Noted(want["rule"], want["subject"], want["verdict"]) for want in case["expect"]}
    assert noted(judgement) - before(case.get("stage")) == expected
    for want in case["expect"]:
        lines = [files[place.file].splitlines()[place.line - 1] for place in places(judgement, want)]
        assert any(want["at"] in line for line in lines), f"{want['rule']} points at {lines}"


def places(judgement: Judgement, want: dict[str, str]) -> list[Position]:
    """Where the findings of one rule on one subject stand, in the file wanted."""
    return [
        finding.where[0].position
        for result in judgement.results
        for finding in result.findings
        if (result.rule.id, finding.subject, finding.verdict.value) == (want["rule"], want["subject"], want["verdict"])
        if finding.where and finding.where[0].position.file == want["file"]
    ]
