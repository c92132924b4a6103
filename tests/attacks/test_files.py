"""Folders from strangers: bytes that are no text, names that are one elsewhere, links, and very many of everything."""

from __future__ import annotations

import dataclasses
import io
import os
import random
import unicodedata
from typing import TYPE_CHECKING
from xml.etree import ElementTree as Xml

import pytest
from PIL import Image

from jurystrut.judge import judge
from jurystrut.reading import read, read_files
from jurystrut.reading.evidence import made_small
from jurystrut.reading.files import MOST_FILES, RecordFile, record_files
from jurystrut.reports import FORMATS, writer
from jurystrut.reports.junit import MOST_BYTES as JUNIT_BYTES
from jurystrut.reports.markdown import MOST_BYTES as MARKDOWN_BYTES
from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import DAY, installed
from jurystrut.tree import LIMITS

if TYPE_CHECKING:
    from pathlib import Path

    from tests.attacks.conftest import Bounded

    from jurystrut.judge import Judgement

AIRCRAFT = "aircraft: {name: Test, authority: US, stage: design}\n"

NO_TEXT = {
    "UTF-16 with a mark": AIRCRAFT.encode("utf-16"),
    "UTF-16 without": AIRCRAFT.encode("utf-16-le"),
    "UTF-32 with a mark": AIRCRAFT.encode("utf-32"),
    "Latin-1": AIRCRAFT.replace("Test", "Café").encode("latin-1"),
    "half a letter": AIRCRAFT.encode() + b"# \xc3",
    "a slash too long": AIRCRAFT.encode() + b"# \xc0\xaf",
    "half of a pair": AIRCRAFT.encode() + b"# \xed\xa0\x80",
    "DEL": AIRCRAFT.encode() + b"\x7f",
    "a control of eight bits": AIRCRAFT.encode() + "\x9b".encode(),
    "tags that nobody sees": AIRCRAFT.encode() + "# \U000e0041".encode(),
    "a mark for Arabic": AIRCRAFT.encode() + "# \u061c".encode(),
    "what is no character": AIRCRAFT.encode() + b'x: "\\uFFFE"',
    "noise": random.Random(1).randbytes(1_000_000),
    "100 MB of NUL": b"\0" * 100_000_000,
    "64 MB of NUL": b"\0" * LIMITS.file_bytes,
    "a line of 60 MB": b"#" * (60 * 1024 * 1024) + b"\xff",
}


@pytest.mark.parametrize("name", NO_TEXT)
def test_bytes_that_are_no_records_are_told(name: str, tmp_path: Path, bounded: Bounded) -> None:
    (tmp_path / "a.yaml").write_bytes(NO_TEXT[name])
    with bounded(seconds=3, megabytes=400):  # the largest are read once as bytes and once as text
        problems = read(tmp_path).problems
    assert problems
    assert all(problem.position.file in {"a.yaml", "."} and len(problem.message) < 300 for problem in problems)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Wing.yaml", "wing.yaml"),
        ("a/B.yaml", "A/b.yaml"),
        ("caf\u00e9.yaml", "cafe\u0301.yaml"),
        ("CAF\u00c9.yaml", "cafe\u0301.yaml"),
        ("stra\u00dfe.yaml", "STRASSE.yaml"),
        ("\u212bngstrom.yaml", "\u00e5ngstrom.yaml"),  # the sign for the unit, and the letter
    ],
)
def test_names_that_are_one_elsewhere_are_told(one: str, other: str) -> None:
    files = [RecordFile("first.yaml", AIRCRAFT), RecordFile(one, "fuel: {}\n"), RecordFile(other, "fuel: {}\n")]
    (problem,) = read_files(files).problems
    assert problem.position.file == other
    assert f"this name and '{one}' are one" in problem.message


def test_names_that_differ_everywhere_are_let_be() -> None:
    names = ["a.yaml", "a.yml", "b/a.yaml", "\u00e9.yaml", "e.yaml", "\u0131.yaml", "i.yaml"]
    assert not read_files([RecordFile(name, AIRCRAFT if name == "a.yaml" else "# x\n") for name in names]).problems


def test_evidence_under_a_name_that_only_looks_the_same_is_told(tmp_path: Path) -> None:
    composed, apart = (unicodedata.normalize(form, "caf\u00e9.txt") for form in ("NFC", "NFD"))
    (tmp_path / apart).write_text("x")
    if (tmp_path / composed).exists():  # a system that takes both for one has no such attack
        return
    (tmp_path / "a.yaml").write_text(AIRCRAFT + f"evidence: [{{id: E, kind: photo, file: {composed}}}]\n", "utf-8")
    (tmp_path / "b.yaml").write_text("documents: [{id: D, kind: x, evidence: caf\u00e9.txt}]\n", "utf-8")
    evidence = read(tmp_path).evidence or {}
    assert "one with its accented letters written otherwise is there" in evidence[composed].trouble


def test_a_folder_that_is_a_link_to_itself_and_one_beside_with_the_same_beginning(tmp_path: Path) -> None:
    root, beside = tmp_path / "repo", tmp_path / "repo-evil"
    root.mkdir()
    beside.mkdir()
    (root / "a.yaml").write_text(AIRCRAFT)
    (beside / "b.yaml").write_text("fuel: {}\n")
    (root / "again").symlink_to(root)
    (root / "b.yaml").symlink_to(beside / "b.yaml")
    (root / "zero.yaml").symlink_to("/dev/zero")
    (root / "inside.yaml").symlink_to(root / "a.yaml")
    told = {file.path: file.problem.message if file.problem else "" for file in record_files(root)}
    assert told["a.yaml"] == told["inside.yaml"] == ""
    assert "leads out of the repository" in told["b.yaml"]
    assert "leads out of the repository" in told["zero.yaml"]
    assert len(told) == 4


def test_evidence_that_leads_anywhere_but_to_a_file_here_is_told(tmp_path: Path, bounded: Bounded) -> None:
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "zero").symlink_to("/dev/zero")
    (tmp_path / "out").symlink_to("/etc/passwd")
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / ".git").mkdir()
    (tmp_path / ".git" / "config").write_text("x")
    (tmp_path / "below").write_text("x")
    names = ["loop", "zero", "out", "folder", "pipe", ".git/config", "below/x", "x/" * 2000 + "x", "y" * 5000, "gone"]
    records = "".join(f"- {{id: E{i}, kind: photo, file: {name}}}\n" for i, name in enumerate(names))
    (tmp_path / "a.yaml").write_text(AIRCRAFT + "evidence:\n" + records)
    with bounded(seconds=1):
        project = read(tmp_path)
    evidence = project.evidence or {}
    refused = {name for name in names if any(name in problem.message for problem in project.problems)}
    assert all(evidence[name].trouble for name in names if name in evidence)
    assert set(evidence) | refused >= set(names[:7]) | {"gone"}


@pytest.mark.parametrize(("size", "format_"), [(9000, "PNG"), (9000, "WEBP"), (20_000, "PNG"), (9000, "GIF")])
def test_a_small_file_that_stands_for_a_huge_picture_has_no_thumbnail(
    size: int, format_: str, bounded: Bounded
) -> None:
    file = io.BytesIO()
    Image.new("1" if format_ != "WEBP" else "RGB", (size, size)).save(file, format_)
    with bounded(seconds=1, megabytes=100):
        assert made_small(file.getvalue()) is None


def test_ten_thousand_files_and_a_folder_of_a_hundred_thousand_other_entries(tmp_path: Path, bounded: Bounded) -> None:
    (tmp_path / "a.yaml").write_text(AIRCRAFT)
    for number in range(10_000):
        (tmp_path / f"{number}.yaml").touch()
    (tmp_path / "photos").mkdir()
    for number in range(20_000):  # a fifth of the attack: making them takes longer than passing over them
        (tmp_path / "photos" / f"{number}.jpg").touch()
    with bounded(seconds=5):
        project = read(tmp_path)
    assert not project.problems
    assert len(project.files) == 10_001


def test_more_files_than_are_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("jurystrut.reading.files.MOST_FILES", 5)
    assert MOST_FILES == 20_000
    for number in range(6):
        (tmp_path / f"{number}.yaml").touch()
    files = list(record_files(tmp_path))
    assert len(files) == 6
    assert files[5].problem
    assert not files[4].problem


@pytest.fixture(scope="module")
def findings() -> Judgement:
    """A hundred thousand findings, three in ten of them failures, of one rule."""
    judgement = judge(read_files([RecordFile("x.yaml", AIRCRAFT)]), installed(), on=DAY)
    verdicts = (*[Verdict.FAIL] * 3, *[Verdict.WARN] * 2, *[Verdict.PASS] * 5)
    made = tuple(
        Finding(verdicts[i % 10], f"W{i}", f"wire {i} of very many is not as it should be", (), remedy="Mend it.")
        for i in range(100_000)
    )
    first = dataclasses.replace(judgement.results[0], verdict=Verdict.FAIL, found=made)
    return dataclasses.replace(judgement, results=(first, *judgement.results[1:]))


LONGEST = {
    "text": 100_000,
    "annotations": 50_000,
    "markdown": MARKDOWN_BYTES,
    "sarif": 40_000_000,
    "gitlab": 30_000_000,
}
"""Bytes at most; SARIF holds 25,000 results, GitLab's list all that is not right."""


@pytest.mark.parametrize("name", sorted(set(FORMATS) - {"json"}))
def test_very_many_findings_make_no_report_without_end(name: str, findings: Judgement, bounded: Bounded) -> None:
    """JSON holds all of them, by its purpose."""
    with bounded(seconds=20, megabytes=600):
        text = writer(name)(findings)
    assert len(text.encode("utf-8")) <= LONGEST.get(name, JUNIT_BYTES)


@pytest.mark.parametrize("name", ["junit", "junit-gitlab"])
def test_a_report_for_gitlab_is_cut_where_it_passes_and_says_so(
    name: str, findings: Judgement, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = Xml.fromstring(writer(name)(findings))  # noqa: S314 - our own text, read back
    assert not [case for case in whole.iter("testcase") if case.get("classname") == "jurystrut/left-out"]
    for most, failures in ((14_000_000, 30_000), (3_000_000, 3_000)):
        monkeypatch.setattr("jurystrut.reports.junit.MOST_BYTES", most)
        text = writer(name)(findings)
        assert 0.9 * most < len(text.encode("utf-8")) <= most
        root = Xml.fromstring(text)  # noqa: S314 - our own text, read back
        assert len(root.findall(".//failure")) >= failures
        (told,) = [case for case in root.iter("testcase") if case.get("classname") == "jurystrut/left-out"]
        assert (told[0].tag == "failure") == (failures < 30_000)
        assert "found no room" in (told[0].text or "")
        for suite in root:
            assert int(suite.get("tests", "")) == len(suite.findall("testcase"))
