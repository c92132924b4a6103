"""The parts for other people's continuous checks, run as a runner runs them: their own lines, with a runner's variables."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

from jurystrut.gates import read_gates
from jurystrut.testing import DAY, installed

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "project_example"
ACTION = ROOT / ".github/actions/check"
GUIDE = (ROOT / ".github/CI.md").read_text("utf-8")
FAILING = "aircraft: {name: 'T ##[error]x', authority: US, stage: operating}\n"


def snippet(name: str) -> str:
    """The one block of the guide with this name."""
    (found,) = re.findall(rf"^```\w+ {name}\n(.*?)^```", GUIDE, re.MULTILINE | re.DOTALL)
    return str(found)


@pytest.fixture
def runner(tmp_path: Path) -> dict[str, str]:
    """The environment of a runner's step, with the command in place of an installed one."""
    command = tmp_path / "temp/jurystrut/bin/jurystrut"
    command.parent.mkdir(parents=True)
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m jurystrut "$@"\n')
    command.chmod(0o755)
    for name in ("summary", "output"):
        (tmp_path / name).touch()
    return {
        **{name: value for name, value in os.environ.items() if not name.startswith(("GIT", "RUNNER"))},
        "PATH": f"{command.parent}:{os.environ['PATH']}",
        "RUNNER_TEMP": str(tmp_path / "temp"),
        "GITHUB_ACTIONS": "true",
        "GITHUB_ACTION_PATH": str(ACTION),
        "GITHUB_STEP_SUMMARY": str(tmp_path / "summary"),
        "GITHUB_OUTPUT": str(tmp_path / "output"),
    }


def action() -> Any:
    return yaml.safe_load((ACTION / "action.yml").read_text("utf-8"))


def run_action(runner: dict[str, str], folder: Path, **inputs: str) -> subprocess.CompletedProcess[str]:
    """The judging step of the action, its inputs filled in as a runner does."""
    step = action()["runs"]["steps"][-1]
    values = {name: str(given["default"]) for name, given in action()["inputs"].items()} | inputs
    env = {
        name: re.sub(r"\$\{\{ inputs\.([\w-]+) \}\}", lambda found: values[found[1]], text)
        for name, text in step["env"].items()
    }
    command = ["bash", "--noprofile", "--norc", "-eo", "pipefail", "-c", step["run"]]
    return subprocess.run(
        command, cwd=folder, env={**runner, **env}, capture_output=True, encoding="utf-8", check=False
    )


def outputs(runner: dict[str, str]) -> dict[str, str]:
    lines = Path(runner["GITHUB_OUTPUT"]).read_text("utf-8").splitlines()
    return dict(line.split("=", 1) for line in lines)


def test_the_action_judges_the_example(runner: dict[str, str]) -> None:
    done = run_action(runner, ROOT, path="project_example")
    assert done.returncode == 0, done.stderr
    assert "::warning file=project_example/electrical/engine.yaml,line=" in done.stdout
    assert outputs(runner)["status"] == "0"
    sarif = json.loads(Path(outputs(runner)["sarif"]).read_text("utf-8"))
    assert sarif["runs"][0]["automationDetails"]["id"] == "jurystrut/project_example/"
    assert "| WARN | electrical/load-switch |" in Path(runner["GITHUB_STEP_SUMMARY"]).read_text("utf-8")


@pytest.mark.parametrize(("records", "status"), [(FAILING, 1), ("aircraft: [\n", 2)])
def test_the_action_stops_with_the_status_of_the_gates(
    records: str, status: int, runner: dict[str, str], tmp_path: Path
) -> None:
    (tmp_path / "aircraft.yaml").write_text(records)
    done = run_action(runner, tmp_path)
    assert done.returncode == status
    assert outputs(runner)["status"] == str(status)
    # Text for people stands between the two marks that switch commands off.
    stop = re.search(r"^::stop-commands::([0-9a-f]{64})$", done.stdout, re.MULTILINE)
    assert stop
    assert done.stdout.endswith(f"::{stop[1]}::\n")
    assert "##[" not in done.stdout[: stop.start()]


@pytest.mark.parametrize(
    "path", ["$(touch stolen)", "; touch stolen", "--output=stolen", "a\n::error::x", "`touch stolen`"]
)
def test_an_odd_path_is_a_path_and_nothing_else(path: str, runner: dict[str, str], tmp_path: Path) -> None:
    done = run_action(runner, tmp_path, path=path)
    assert done.returncode == 2
    assert not (tmp_path / "stolen").exists()
    assert not re.search("^::error::x", done.stdout + done.stderr, re.MULTILINE)


def test_the_action_judges_at_a_stage(runner: dict[str, str], tmp_path: Path) -> None:
    (tmp_path / "aircraft.yaml").write_text(FAILING)
    assert run_action(runner, tmp_path, at="design").returncode == 0
    assert run_action(runner, tmp_path, at="nowhere").returncode == 2


def test_the_action_pastes_nothing_into_a_script_and_uses_nothing_else() -> None:
    steps = action()["runs"]["steps"]
    assert not any("uses" in step for step in steps)
    assert all("${{" not in step["run"] and step["shell"] == "bash" for step in steps)


@pytest.mark.parametrize("script", ["install", "judge"])
def test_the_scripts_of_the_action_are_sound_bash(script: str) -> None:
    assert subprocess.run(["bash", "-n", str(ACTION / script)], check=False).returncode == 0


def test_our_own_workflow_uses_the_action_on_the_example() -> None:
    jobs = yaml.safe_load((ROOT / ".github/workflows/ci.yml").read_text("utf-8"))["jobs"].values()
    used = [step for job in jobs for step in job["steps"] if step.get("uses") == "./.github/actions/check"]
    assert [step["with"]["path"] for step in used] == ["project_example"]


def test_the_lines_for_gitlab_run_and_leave_their_reports(runner: dict[str, str], tmp_path: Path) -> None:
    job = yaml.safe_load(snippet("gitlab"))["judge"]
    (tmp_path / "aircraft.yaml").write_text(FAILING)
    lines = [line for line in job["script"] if "pip install" not in line]
    done = subprocess.run(
        ["bash", "-e", "-c", "\n".join(lines)], cwd=tmp_path, env=runner, capture_output=True, check=False
    )
    assert done.returncode == 1
    reports = job["artifacts"]["reports"]
    assert any(
        entry["severity"] == "critical" for entry in json.loads((tmp_path / reports["codequality"]).read_text("utf-8"))
    )
    assert (tmp_path / reports["junit"]).read_text("utf-8").startswith("<?xml")


def test_the_hook_file_says_what_pre_commit_needs() -> None:
    (hook,) = yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text("utf-8"))
    assert hook["entry"].split()[0] == "jurystrut"
    assert hook["language"] == "python"
    assert (hook["pass_filenames"], hook["always_run"], hook["require_serial"]) == (False, True, True)
    used = yaml.safe_load(snippet("pre-commit"))["repos"][0]["hooks"][0]
    assert used["id"] == hook["id"]


def git(folder: Path, environment: dict[str, str], *arguments: str) -> subprocess.CompletedProcess[str]:
    who = ("-c", "user.name=A Builder", "-c", "user.email=builder@example.invalid", "-c", "commit.gpgsign=false")
    return subprocess.run(
        ["git", *who, *arguments], cwd=folder, env=environment, capture_output=True, text=True, check=False
    )


def test_the_plain_hook_judges_what_is_staged(runner: dict[str, str], tmp_path: Path) -> None:
    build = tmp_path / "build"
    (build / "aircraft").mkdir(parents=True)
    git(build, runner, "init", "--quiet")
    hook = build / ".git/hooks/pre-commit"
    hook.write_text(snippet("hook").replace("records=.", "records=aircraft"))
    hook.chmod(0o755)
    records = build / "aircraft/aircraft.yaml"
    records.write_text(FAILING)
    git(build, runner, "add", "--all")
    refused = git(build, runner, "commit", "--message", "broken")
    assert refused.returncode == 1
    assert "this commit at stage operating" in refused.stdout + refused.stderr
    records.write_text(FAILING.replace("operating", "design"))
    git(build, runner, "add", "--all")
    records.write_text("aircraft: [\n")  # not staged: it must not be judged
    assert git(build, runner, "commit", "--message", "sound").returncode == 0
    assert git(build, runner, "log", "--format=%s").stdout == "sound\n"


def test_the_guide_shows_gates_that_can_be_read(tmp_path: Path) -> None:
    path = tmp_path / "gates.yaml"
    path.write_text(snippet("gates"), encoding="utf-8")
    gates = read_gates(path, installed(), DAY)
    assert (len(gates.gates), len(gates.margins), len(gates.baseline)) == (2, 1, 1)


def test_the_guide_asks_for_no_more_than_reading() -> None:
    workflow = yaml.safe_load(snippet("github"))
    assert workflow["permissions"] == {}
    assert workflow["jobs"]["judge"]["permissions"] == {"contents": "read"}
    inputs = action()["inputs"]
    assert set(workflow["jobs"]["judge"]["steps"][-1]["with"]) <= set(inputs)
