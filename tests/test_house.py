"""The house around the code: one way to run each thing, and nothing in the repository that does not belong there."""

from __future__ import annotations

import re
import subprocess
import tomllib
from pathlib import Path
from typing import Any

import pytest
import yaml

import jurystrut

ROOT = Path(__file__).parent.parent
CI_SCRIPT = (ROOT / ".ci/run").read_text("utf-8")

TOP_LEVEL = {
    *("README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml"),
    *("engine", "rules", "project_example", "tests", ".github", ".ci"),
    *(".gitignore", ".editorconfig", ".pre-commit-hooks.yaml"),
}

README_COMMANDS = ("jurystrut check project_example", "python -m pytest")

FOREIGN = {
    "a package registry": re.compile(
        r"registry\.npm[j]s|npm[j]s\.(?:com|org)|p[y]pi\.(?:org|io|python)|python[h]osted|deb\.deb[i]an"
    ),
    "a path of one machine": re.compile(r"(?<![\w.\]})-])/(?:w[o]rk|t[m]p|h[o]me|r[o]ot|U[s]ers)/\w"),
}
"""What no file may hold; each pattern is written so that it does not match itself."""


def repository_files() -> list[Path]:
    """Every file that git tracks or would track."""
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    listing = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    files = [ROOT / name for name in listing.split("\0") if name]
    assert files
    return [path for path in files if path.is_file()]


def lines_of_script(text: str) -> set[str]:
    return {line.strip() for line in text.splitlines()}


def workflow() -> Any:
    (path,) = (ROOT / ".github/workflows").iterdir()
    return yaml.safe_load(path.read_text("utf-8"))


def workflow_commands() -> list[str]:
    """Every command line of every step of every job."""
    steps = [step for job in workflow()["jobs"].values() for step in job["steps"]]
    return [line for step in steps for line in step.get("run", "").splitlines()]


def project_table() -> Any:
    return tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def fenced_lines(markdown: str) -> set[str]:
    """The lines of a Markdown text's code blocks, without the prompt."""
    blocks = re.findall(r"^```\w*\n(.*?)^```", markdown, re.MULTILINE | re.DOTALL)
    return {line.strip().removeprefix("$ ") for block in blocks for line in block.splitlines()}


def test_the_workflow_runs_what_the_script_runs() -> None:
    commands = workflow_commands()
    assert "bash .ci/run" in commands
    assert set(commands) - {"bash .ci/run"} <= lines_of_script(CI_SCRIPT)
    assert set(README_COMMANDS) <= set(commands)


def test_the_workflow_covers_every_python_that_the_package_names() -> None:
    named = [c.rpartition(" ")[2] for c in project_table()["classifiers"] if "Python :: 3." in c]
    assert workflow()["jobs"]["test"]["strategy"]["matrix"]["python"] == named
    assert project_table()["requires-python"] == f">={named[0]}"


def test_the_workflow_has_no_rights_but_to_read_and_pins_what_it_uses() -> None:
    jobs = workflow()["jobs"].values()
    assert workflow()["permissions"] == {}
    assert all(job["permissions"] == {"contents": "read"} for job in jobs)
    used = [step["uses"] for job in jobs for step in job["steps"] if "uses" in step]
    assert used
    # Our own action is taken from the commit that is being checked.
    own = "./.github/actions/check"
    assert all(action == own or re.fullmatch(r"[\w/.-]+@[0-9a-f]{40}", action) for action in used)


@pytest.mark.parametrize("command", README_COMMANDS)
def test_the_readme_shows_the_commands_that_the_script_runs(command: str) -> None:
    assert command in fenced_lines((ROOT / "README.md").read_text("utf-8"))
    assert command in lines_of_script(CI_SCRIPT)


def test_the_contributors_guide_shows_commands_that_the_script_runs() -> None:
    table = re.findall(r"^\|[^|]*\| `([^`]+)` \|$", (ROOT / "DEVELOPERS.md").read_text("utf-8"), re.MULTILINE)
    checks = {
        command
        for command in table
        if command.split()[0] in {"ruff", "mypy", "zizmor", "python", "coverage", "jurystrut"}
    }
    assert checks
    assert checks <= lines_of_script(CI_SCRIPT)


def test_the_top_level_holds_what_belongs_there() -> None:
    found = {path.relative_to(ROOT).parts[0] for path in repository_files()}
    assert found == TOP_LEVEL


def test_the_version_stands_in_one_place() -> None:
    assert project_table()["dynamic"] == ["version"]
    text = (ROOT / "engine/jurystrut/__init__.py").read_text("utf-8")
    assert f'__version__ = "{jurystrut.__version__}"' in text


@pytest.mark.parametrize("what", FOREIGN)
def test_no_file_names(what: str) -> None:
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()}"
        for path in repository_files()
        for number, line in enumerate(path.read_text("utf-8", errors="replace").splitlines(), start=1)
        if FOREIGN[what].search(line)
    ]
    assert not found


@pytest.mark.parametrize(
    ("what", "text"),
    [
        ("a package registry", "see https://py" + "pi.org/project/x"),
        ("a package registry", "https://registry.npm" + "js.org/x"),
        ("a path of one machine", "cd /ho" + "me/someone"),
        ("a path of one machine", "(/t" + "mp/x)"),
    ],
)
def test_a_planted_foreign_name_is_caught(what: str, text: str) -> None:
    assert FOREIGN[what].search(text)


def test_every_text_file_is_utf_8_and_ends_with_one_newline() -> None:
    wrong = []
    for path in repository_files():
        if path.suffix == ".bytes":  # what a reader is fed by the fuzzers, byte by byte
            continue
        text = path.read_bytes().decode("utf-8")
        if text and (not text.endswith("\n") or text.endswith("\n\n") or "\r" in text):
            wrong.append(path.relative_to(ROOT).as_posix())
    assert not wrong
