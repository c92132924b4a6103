"""The commands as a user types them: output, standard error and exit status."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from jurystrut.cli import main

EXAMPLE = Path(__file__).parents[2] / "project_example"


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "jurystrut", *arguments]
    return subprocess.run(
        command, capture_output=True, encoding="utf-8", env={**os.environ, **environment}, check=False
    )


def test_the_example_is_judged_sound_in_every_domain() -> None:
    done = run("check", str(EXAMPLE), "--format", "json", "--on", "2026-11-25")
    data = json.loads(done.stdout)
    assert (done.returncode, done.stderr, data["verdict"], data["errors"]) == (0, "", "warn", [])
    domains = {rule["id"].partition("/")[0] for rule in data["rules"] if rule["verdict"] in {"pass", "warn"}}
    assert domains >= {"electrical", "panel", "weights", "lighting", "covering", "markings", "operations", "papers"}
    assert domains >= {"hardware", "rigging", "controls", "fuel", "propeller", "seats"}
    assert data["summary"]["no-data"] == 0


def test_the_example_is_as_large_as_a_whole_aircraft() -> None:
    from jurystrut.reading import read

    sections = read(EXAMPLE).sections
    electrical, weights, panel = sections["electrical"], sections["weights"], sections["panel"]
    assert len(electrical.wires) >= 110
    assert len(electrical.protection) >= 35
    assert len(electrical.loads) >= 30
    assert len(sections["lighting"].lights) >= 10
    assert len(panel.items) >= 55
    assert len(weights.components) >= 145
    assert len(weights.weighings) == 2
    assert len(weights.loadings) == 6
    assert len(sections["covering"].applications) >= 49


def test_the_same_bytes_whatever_the_hash_seed_and_the_place() -> None:
    one = run("check", str(EXAMPLE), "--format", "json", "--on", "2026-11-25", PYTHONHASHSEED="1", TZ="UTC")
    other = run(
        "check", os.path.relpath(EXAMPLE), "--format", "json", "--on", "2026-11-25", PYTHONHASHSEED="2", TZ="Asia/Tokyo"
    )
    assert one.stdout == other.stdout


def test_a_failing_rule_is_exit_1_and_unreadable_records_are_exit_2(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("aircraft: {name: T, authority: US, stage: operating}\n")
    assert run("check", str(tmp_path)).returncode == 1  # from stage inspection on, missing data fails
    (tmp_path / "b.yaml").write_text("aircraft: [\n")
    done = run("check", str(tmp_path))
    assert done.returncode == 2
    assert "b.yaml:2:1: not YAML here" in done.stdout
    assert "jurystrut advises" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("check", "/no/such/folder"), "is not a folder"),
        (("check", "--on", "2026-02-30"), "is no day"),
        (("check", "--at", "nowhere"), "invalid choice"),
        (("explain", "electrical/wire-protction", "--in", str(EXAMPLE)), "did you mean 'electrical/wire-protection'?"),
        (("explain", "wire-load", "--in", str(EXAMPLE)), "did you mean 'electrical/wire-load'?"),
        (("serve-editor", "no-such-folder"), "no-such-folder is not a folder; name the folder"),
        (
            ("compare", "main", "--in", "/"),
            "/ stands in no git repository; begin one with `git init`, or name two folders",
        ),
        (
            ("explain", "electrical/wire-protection", "W444", "--in", str(EXAMPLE)),
            "says nothing of 'W444'; did you mean 'W44'?",
        ),
        (
            ("explain", "weights/estimated-share", "W19", "--in", str(EXAMPLE)),
            "says nothing of 'W19'; it says of ",
        ),
        ((), "required: COMMAND"),
    ],
)
def test_a_wrong_command_is_exit_2_and_says_why_on_standard_error(arguments: tuple[str, ...], said: str) -> None:
    done = run(*arguments)
    assert done.returncode == 2
    assert done.stdout == ""
    assert said in done.stderr


def test_explain_shows_the_rule_its_source_and_its_arithmetic() -> None:
    lines = (EXAMPLE / "electrical" / "engine.yaml").read_text(encoding="utf-8").splitlines()
    at = 1 + next(index for index, line in enumerate(lines) if "id: W44," in line)
    done = run("explain", "electrical/wire-protection", "W44", "--in", str(EXAMPLE), "--on", "2026-11-25")
    assert done.returncode == 0
    for part in (
        "paragraph 11-48",
        "status: second-hand",
        "1. temperature rise: 150 - 70 = 80 degC",
        "B-FAN 10 A",
        f"electrical/engine.yaml:{at}:",
    ):
        assert part in done.stdout
    assert max(len(line) for line in done.stdout.splitlines()) <= 80


def test_judging_ahead_makes_later_rules_due() -> None:
    now = json.loads(run("check", str(EXAMPLE), "--format", "json", "--on", "2026-11-25").stdout)
    later = json.loads(run("check", str(EXAMPLE), "--format", "json", "--on", "2026-11-25", "--at", "operating").stdout)
    assert now["summary"]["not-due"] > later["summary"]["not-due"]
    assert later["summary"]["not-due"] == 0


def test_a_closed_pipe_ends_quietly() -> None:
    command = [sys.executable, "-m", "jurystrut", "check", str(EXAMPLE), "--format", "json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout
        assert process.stderr
        process.stdout.read(100)
        process.stdout.close()
        assert process.stderr.read() == b""


def test_no_colour_in_a_pipe_and_on_request() -> None:
    assert "\x1b" not in run("check", str(EXAMPLE)).stdout
    assert "\x1b" in run("check", str(EXAMPLE), "--color", "always").stdout


@pytest.mark.parametrize("locale", ["C", "C.UTF-8"])
def test_any_locale_will_do(locale: str) -> None:
    assert run("check", str(EXAMPLE), LC_ALL=locale, PYTHONIOENCODING="ascii").returncode == 0


@pytest.mark.parametrize(
    "name", ["text", "json", "sarif", "junit", "junit-gitlab", "annotations", "markdown", "gitlab"]
)
def test_the_exit_status_is_the_same_in_every_format_and_standard_output_is_the_report_alone(
    name: str, tmp_path: Path
) -> None:
    sound = run("check", str(EXAMPLE), "--on", "2026-11-25", "--format", name)
    assert (sound.returncode, sound.stderr) == (0, "")
    (tmp_path / "a.yaml").write_text("aircraft: {name: T, authority: US, stage: operating}\n")
    failing = run("check", str(tmp_path), "--format", name)
    assert (failing.returncode, failing.stderr) == (1, "")
    (tmp_path / "b.yaml").write_text("aircraft: [\n")
    broken = run("check", str(tmp_path), "--format", name)
    assert (broken.returncode, broken.stderr) == (2, "")
    assert "b.yaml" in broken.stdout


def test_output_goes_into_a_file_whole_and_keeps_its_rights(tmp_path: Path) -> None:
    report = tmp_path / "report.sarif"
    report.write_text("old")
    report.chmod(0o640)
    done = run("check", str(EXAMPLE), "--format", "sarif", "--output", str(report))
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert json.loads(report.read_text("utf-8"))["version"] == "2.1.0"
    assert report.stat().st_mode & 0o777 == 0o640
    assert list(tmp_path.iterdir()) == [report]


def test_output_that_cannot_be_written_is_exit_2_and_leaves_what_was_there(tmp_path: Path) -> None:
    done = run("check", str(EXAMPLE), "--output", str(tmp_path / "no" / "report"))
    assert (done.returncode, done.stdout) == (2, "")
    assert "cannot be written: No such file or directory" in done.stderr
    assert run("check", str(EXAMPLE), "--output", str(tmp_path)).returncode == 2
    assert list(tmp_path.iterdir()) == []


def test_a_write_that_breaks_off_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError

    report = tmp_path / "report"
    report.write_text("old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(UsageError, match="No space left"):
        deliver("new", str(report))
    assert [path.read_text() for path in tmp_path.iterdir()] == ["old"]


def test_output_may_be_a_device_or_standard_output() -> None:
    assert run("check", str(EXAMPLE), "--output", os.devnull).stdout == ""
    assert "Verdict" in run("check", str(EXAMPLE), "--output", "-").stdout


@pytest.mark.parametrize(
    "arguments", [("compare", "./old", "./new"), ("compare", "./old", "./new", "--format", "json")]
)
def test_a_closed_pipe_ends_a_comparison_quietly(arguments: tuple[str, ...], tmp_path: Path) -> None:
    for name in ("old", "new"):
        shutil.copytree(EXAMPLE, tmp_path / name)
    weights = tmp_path / "new/weights/airframe.yaml"
    weights.write_text(weights.read_text("utf-8").replace("weight: 6.5 lb", "weight: 7.5 lb"), encoding="utf-8")
    command = [sys.executable, "-m", "jurystrut", *arguments]
    with subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout
        assert process.stderr
        process.stdout.read(10)
        process.stdout.close()
        assert process.stderr.read() == b""


def test_a_bug_of_our_own_is_exit_2_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> str:
        raise ZeroDivisionError("oh\n::error::dear")

    monkeypatch.setattr("jurystrut.reports.sarif.write", broken)
    assert main(["check", str(EXAMPLE), "--format", "sarif"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert re.fullmatch(
        r"jurystrut: a bug in jurystrut, tests\.cli\.test_commands:\d+: "
        r"ZeroDivisionError: oh \\u003a\\u003aerror::dear; please report it\n",
        said.err,
    )
