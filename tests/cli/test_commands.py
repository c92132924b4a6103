"""The commands as a user types them: output, standard error and exit status."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

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
    assert domains == {"electrical", "panel", "weights", "lighting", "covering", "markings"}
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
        (
            ("explain", "electrical/wire-protection", "W444", "--in", str(EXAMPLE)),
            "says nothing of 'W444'; did you mean 'W44'?",
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
    later = json.loads(
        run("check", str(EXAMPLE), "--format", "json", "--on", "2026-11-25", "--at", "inspection").stdout
    )
    assert now["summary"]["not-due"] == 3
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
