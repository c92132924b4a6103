"""A build's life in thirty commits: `compare` and `history` must name commit, rule, subject and line, every time."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from typing import TYPE_CHECKING, Any, NamedTuple
from xml.etree import ElementTree as Xml

import pytest

from jurystrut.cli import main

if TYPE_CHECKING:
    from pathlib import Path

DAY = "2026-11-25"


class Step(NamedTuple):
    """One commit: the late changes that then hold, and what else is done to the files."""

    title: str
    holds: tuple[str, ...] = ()
    also: str = ""


STEPS = (
    Step("The aircraft as it stands"),
    Step("Photographs, outside the records", also="photograph"),
    Step("Breakers become fuses", ("breakers-become-fuses",)),
    Step("Spare fuses after all: breakers again"),
    Step("A remark in the engine's wiring", also="remark"),
    Step("A smaller pump switch", ("smaller-switch",)),
    Step("The old pump switch again"),
    Step("A thinner wire to the engine bus", ("wire-one-gauge-thinner",)),
    Step("Another remark above it", ("wire-one-gauge-thinner",), "remark"),
    Step("The thicker wire again"),
    Step("A second landing light", ("light-not-wired",)),
    Step("It goes back to the shop"),
    Step("A filament lamp", ("filament-lamp",)),
    Step("A heavier bracket while the lamp is in", ("filament-lamp", "heavier-brackets-unrecorded")),
    Step("The LED lamp again", ("heavier-brackets-unrecorded",)),
    Step("The old brackets again"),
    Step("A ballast plate", ("tail-heavier",)),
    Step("No ballast plate"),
    Step("A late weighing", ("later-weighing-better",)),
    Step("The late weighing was a mistake"),
    Step("The pitot wire goes round the wing", ("longer-run",)),
    Step("Straight again"),
    Step("Avgas from now on", ("fuel-grade-changes",)),
    Step("Mogas again"),
    Step("The loadings get a file of another name", also="rename"),
    Step("A slip of the keyboard", also="slip"),
    Step("Mended"),
    Step("Two things in one evening", ("humid-day", "longer-run")),
    Step("One of them mended", ("humid-day",)),
    Step("All mended"),
)


def files_at(build: Any, number: int) -> dict[str, str]:
    """The record files at one commit of the story."""
    files: dict[str, str] = build.after(*STEPS[number].holds)
    done = [step.also for step in STEPS[: number + 1]]
    files["electrical/engine.yaml"] = "# a remark\n" * done.count("remark") + files["electrical/engine.yaml"]
    if "rename" in done:
        files["weights/declared.yaml"] = files.pop("weights/loadings.yaml")
    if STEPS[number].also == "slip":
        files["aircraft.yaml"] += "\tslip: [\n"
    return files


def broken_at(build: Any, number: int) -> set[tuple[str, str, str]]:
    """What a commit newly breaks, as its late changes say."""
    before = STEPS[number - 1].holds if number else ()
    found: set[tuple[str, str, str]] = build.expected(*(name for name in STEPS[number].holds if name not in before))
    return found


@pytest.fixture(scope="module")
def story(tmp_path_factory: pytest.TempPathFactory, build: Any, new_workshop: Any) -> Any:
    """The repository, and the hashes of its commits."""
    workshop = new_workshop(tmp_path_factory.mktemp("story"))
    hashes = []
    for number, step in enumerate(STEPS):
        if step.also == "photograph":
            (workshop.root / "photograph.txt").write_text("a photograph\n")
        hashes.append(
            workshop.commit(step.title, files_at(build, number), day=f"2026-{1 + number // 28:02}-{1 + number % 28:02}")
        )
    return workshop, hashes


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "jurystrut", *arguments, "--on", DAY]
    environment = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    return subprocess.run(command, cwd=folder, capture_output=True, encoding="utf-8", env=environment, check=False)


def line_of(build: Any, number: int, file: str, line: int) -> str:
    lines = files_at(build, number)[file].split("\n")
    return lines[line - 1]


def assert_the_right_lines(build: Any, number: int, causes: list[list[dict[str, Any]]]) -> None:
    """Every line named is one that this commit's late changes wrote."""
    new = [name for name in STEPS[number].holds if name not in STEPS[number - 1].holds]
    edits = [edit for name in new for edit in build.cases[name]["edits"]]
    assert causes
    for hunk in (hunk for hunks in causes for hunk in hunks):
        written = [e.get("with") or e["add"] for e in edits if e["file"] == hunk["file"]]
        assert written, hunk
        line = line_of(build, number, hunk["file"], hunk["line"]).strip()
        assert any(piece.split("\n")[0].strip() in line or line in piece for piece in written), line


def test_it_has_thirty_commits() -> None:
    assert len(STEPS) == 30


def test_history_names_commit_rule_subject_and_line(story: Any, build: Any) -> None:
    workshop, hashes = story
    done = run(workshop.records, "history", "--format", "json")
    data = json.loads(done.stdout)
    assert (done.returncode, done.stderr) == (0, "")
    assert [commit["hash"] for commit in data["commits"]] == hashes
    assert [commit["title"] for commit in data["commits"]] == [step.title for step in STEPS]
    assert [c["title"] for c in data["commits"] if not c["readable"]] == ["A slip of the keyboard"]
    for number, commit in enumerate(hashes):
        worse = [one for one in data["breaks"] if one["commit"] == commit and one["worse"]]
        assert {(one["rule"], one["subject"], one["after"]) for one in worse} == broken_at(build, number), STEPS[number]
        for one in worse:
            assert_the_right_lines(build, number, one["causes"])
    # what is mended is mended in the commit that takes the change back
    for number, commit in enumerate(hashes):
        mended = {(b["rule"], b["subject"]) for b in data["breaks"] if b["commit"] == commit and not b["worse"]}
        gone = [name for name in STEPS[number - 1].holds if number and name not in STEPS[number].holds]
        assert {(rule, subject) for rule, subject, _ in build.expected(*gone)} <= mended


@pytest.mark.parametrize("number", range(1, len(STEPS)), ids=lambda number: STEPS[number].title)
def test_compare_names_rule_subject_and_line(
    number: int, story: Any, build: Any, capsys: pytest.CaptureFixture[str]
) -> None:
    workshop, hashes = story
    place = ("--in", str(workshop.records), "--on", DAY)
    status = main(["compare", hashes[number - 1], hashes[number], "--format", "json", *place])
    said = capsys.readouterr()
    assert said.err == ""
    data = json.loads(said.out)
    if STEPS[number].also == "slip":
        assert status == 2
        assert data["after"]["errors"][0]["file"] == "aircraft.yaml"
        return
    verdicts = [c for c in data["changes"] if c["worse"] and c["kind"] != "margin" and c["after"]]
    if STEPS[number - 1].also != "slip":
        assert {(c["rule"], c["subject"], c["after"]["verdict"]) for c in verdicts} == broken_at(build, number)
        assert status == int(any(verdict == "fail" for _, _, verdict in broken_at(build, number)))
        for change in verdicts:
            assert_the_right_lines(build, number, change["causes"])


def test_history_of_one_subject_and_its_picture(story: Any) -> None:
    workshop, hashes = story
    only = ("--rule", "electrical/wire-protection", "--subject", "W19")
    text = run(workshop.records, "history", *only).stdout
    assert f"{hashes[7][:10]} of 2026-01-08  A thinner wire to the engine bus" in text
    assert "electrical/wire-protection W19: pass before, FAIL then" in text
    assert (
        max(
            len(line) for line in text.splitlines() if "caused" not in line and not line.lstrip().startswith(("+", "-"))
        )
        <= 100
    )
    picture = run(workshop.records, "history", *only, "--format", "svg").stdout
    root = Xml.fromstring(picture)  # noqa: S314 - our own text, read back
    assert root.attrib["role"] == "img"
    assert "electrical/wire-protection W19" in (root.findtext("{*}desc") or "")
    assert len(root.findall("{*}circle")) == 1  # one point outside the limit


def test_the_same_bytes_each_time_and_from_any_folder(story: Any) -> None:
    workshop, hashes = story
    here = run(workshop.records, "compare", hashes[6], hashes[7], "--format", "markdown").stdout
    there = run(workshop.root, "compare", hashes[6], hashes[7], "--format", "markdown", "--in", "aircraft").stdout
    assert here == there
    assert "W19" in here
