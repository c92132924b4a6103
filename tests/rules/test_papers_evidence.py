"""Evidence: there, not empty, unchanged. Digests are those of FIPS 180-4's own examples, as published with the standard."""

from __future__ import annotations

import datetime
import os
from typing import TYPE_CHECKING

import pytest

from jurystrut.judge import judge
from jurystrut.reading import read, read_files
from jurystrut.reading.files import RecordFile
from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import installed, said_by

if TYPE_CHECKING:
    from pathlib import Path

ORACLES = {
    "fips-180-4": "papers/evidence-unchanged",
    "own arithmetic": "papers/evidence-not-empty",
    "nothing computed": "papers/evidence-dated papers/evidence-hashed papers/evidence-present papers/evidence-shows",
}

ASKED = "it asks for a record alone: one that is missing is no data"
UNFINISHED = "the example is not finished, and lacks it still: it cannot be lost"
NO_SUCH_CASE = {
    "papers/evidence-hashed": {"late change": UNFINISHED},
    "papers/evidence-not-empty": {"late change": "an edit of records makes no file empty"},
    "papers/evidence-shows": {"just over": ASKED},
}

DAY = datetime.date(2026, 6, 1)

# SHA-256 of the three bytes "abc": FIPS 180-4 examples, one-block message.
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"

# The two-block message of the same examples.
BLOCKS = b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"
OF_BLOCKS = "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"

RECORDS = """aircraft: {{name: T, authority: US, stage: operating}}
documents: [{{id: D1, kind: log}}]
evidence:
  - {{id: E1, file: evidence/note.txt{more}}}
"""


def said(folder: Path, rule: str, content: bytes | None = b"abc", more: str = "") -> tuple[Finding, ...]:
    (folder / "evidence").mkdir()
    if content is not None:
        (folder / "evidence/note.txt").write_bytes(content)
    (folder / "records.yaml").write_text(RECORDS.format(more=more))
    return found(folder, rule)


def found(folder: Path, rule: str) -> tuple[Finding, ...]:
    project = read(folder)
    assert not project.problems
    judgement = judge(project, installed(), on=DAY)
    assert not judgement.problems
    return said_by(f"papers/evidence-{rule}", judgement)


@pytest.mark.parametrize(
    ("rule", "more"),
    [
        ("present", ""),
        ("present", ", day: 2026-05-31"),
        ("not-empty", ""),
        ("unchanged", f", sha256: {ABC}"),
        ("hashed", f", sha256: {ABC}"),
        ("dated", ", day: 2026-05-31"),
        ("dated", ", day: 2026-06-01"),  # the day of the check itself
        ("shows", ", shows: [D1]"),
        ("shows", ", shows: [D1], day: 2026-05-31"),
    ],
)
def test_passes(tmp_path: Path, rule: str, more: str) -> None:
    (finding,) = said(tmp_path, rule, more=more)
    assert (finding.subject, finding.verdict) == ("E1", Verdict.PASS)


@pytest.mark.parametrize(
    ("rule", "content", "more", "verdict"),
    [
        ("present", None, "", Verdict.FAIL),
        ("not-empty", b"", "", Verdict.FAIL),
        ("unchanged", b"abd", f", sha256: {ABC}", Verdict.FAIL),
        ("hashed", b"abc", "", Verdict.WARN),
        ("dated", b"abc", ", day: 2026-06-02", Verdict.WARN),
        ("shows", b"abc", "", Verdict.NO_DATA),
    ],
)
def test_the_nearest_unsound_case_is_told_at_its_line(
    tmp_path: Path, rule: str, content: bytes | None, more: str, verdict: Verdict
) -> None:
    (finding,) = said(tmp_path, rule, content, more)
    assert (finding.subject, finding.verdict, finding.where[0].position.line) == ("E1", verdict, 4)
    assert finding.remedy


@pytest.mark.parametrize("rule", ["unchanged", "hashed"])
def test_a_longer_file_passes(tmp_path: Path, rule: str) -> None:
    (finding,) = said(tmp_path, rule, BLOCKS, f", sha256: {OF_BLOCKS}")
    assert finding.verdict is Verdict.PASS


def test_one_byte_is_exactly_enough(tmp_path: Path) -> None:
    (finding,) = said(tmp_path, "not-empty", b"x")
    assert finding.measured
    assert finding.limit
    assert (finding.measured.value, finding.limit.value, finding.margin) == (1, 1, 0)


@pytest.mark.parametrize("content", [None, b""])
def test_a_missing_or_empty_file_cannot_be_compared(tmp_path: Path, content: bytes | None) -> None:
    (finding,) = said(tmp_path, "unchanged", content, f", sha256: {ABC}")
    assert finding.verdict is Verdict.NO_DATA


def test_evidence_without_a_day_is_no_data(tmp_path: Path) -> None:
    assert said(tmp_path, "dated")[0].verdict is Verdict.NO_DATA


@pytest.mark.parametrize("rule", ["present", "not-empty", "unchanged", "hashed"])
def test_where_nobody_looked_there_is_no_data(rule: str) -> None:
    project = read_files([RecordFile("records.yaml", RECORDS.format(more=""))])
    judgement = judge(project, installed(), on=DAY)
    assert [finding.verdict for finding in said_by(f"papers/evidence-{rule}", judgement)] == [Verdict.NO_DATA]


def test_a_link_that_leads_out_counts_as_missing(tmp_path: Path) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_text("abc")
    folder = tmp_path / "build"
    (folder / "evidence").mkdir(parents=True)
    (folder / "evidence/note.txt").symlink_to(outside)
    (folder / "records.yaml").write_text(RECORDS.format(more=f", sha256: {ABC}"))
    (finding,) = found(folder, "present")
    assert finding.verdict is Verdict.FAIL
    assert "leads out of the repository" in finding.message


def test_a_folder_or_a_pipe_is_no_evidence(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "records.yaml").write_text(
        "aircraft: {name: T, authority: US, stage: design}\n"
        "documents: [{id: D1, kind: log, evidence: pipe}, {id: D2, kind: log, evidence: .}]\n"
    )
    assert [finding.verdict for finding in found(tmp_path, "present")] == [Verdict.FAIL, Verdict.FAIL]


def test_files_are_found_in_nested_records(tmp_path: Path) -> None:
    (tmp_path / "records.yaml").write_text(
        "aircraft: {name: T, authority: US, stage: design}\n"
        "lighting: {lights: [{id: L1, function: landing, approval: {standard: S, evidence: gone.jpg}}]}\n"
        "markings: {data_plate_photo: gone-too.jpg}\n"
    )
    assert {f.subject: f.verdict for f in found(tmp_path, "present")} == {"L1": Verdict.FAIL, "markings": Verdict.FAIL}
