"""Late changes to the example, and git repositories that hold them."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path
from typing import Any

import pytest
import yaml

from jurystrut.reading.files import record_files

TESTS = Path(__file__).parents[1]
EXAMPLE = TESTS.parent / "project_example"


def one_edit(text: str, edit: dict[str, str]) -> str:
    """As in tests/test_late_changes.py: replace a piece that stands once, take a line out, or add lines below one."""
    piece = edit.get("replace") or edit["line"]
    assert text.count(piece) == 1
    if "replace" in edit:
        return text.replace(piece, edit["with"])
    lines = text.splitlines(keepends=True)
    index = next(i for i, line in enumerate(lines) if piece in line)
    lines[index : index + 1] = [] if "add" not in edit else [lines[index], edit["add"].rstrip("\n") + "\n"]
    return "".join(lines)


class Build:
    """The example's files, and what late changes make of them."""

    def __init__(self) -> None:
        self.files = {file.path: file.text for file in record_files(EXAMPLE)}
        folder = TESTS / "late_changes"
        self.cases: dict[str, Any] = {p.stem: yaml.safe_load(p.read_text("utf-8")) for p in folder.glob("*.yaml")}

    def after(self, *names: str) -> dict[str, str]:
        """The files after these late changes."""
        files = dict(self.files)
        for name in names:
            for edit in self.cases[name]["edits"]:
                files[edit["file"]] = one_edit(files[edit["file"]], edit)
        return files

    def expected(self, *names: str) -> set[tuple[str, str, str]]:
        """Rule, subject and verdict of all that these late changes bring about."""
        return {(e["rule"], e["subject"], e["verdict"]) for name in names for e in self.cases[name]["expect"]}


@pytest.fixture(scope="session")
def build() -> Build:
    return Build()


class Workshop:
    """A git repository in which the records lie in a folder beside other things."""

    def __init__(self, root: Path, inside: str = "aircraft/") -> None:
        self.root = root
        self.records = root / inside if inside else root
        self.git("init", "--quiet", "--initial-branch=main")

    def git(self, *arguments: str, day: str = "2026-01-01") -> str:
        stamp = f"{day}T12:00:00+00:00"
        environment = {
            **{name: value for name, value in os.environ.items() if not name.startswith("GIT_")},
            "GIT_CONFIG_GLOBAL": os.devnull,
            "GIT_CONFIG_NOSYSTEM": "1",
            "GIT_AUTHOR_DATE": stamp,
            "GIT_COMMITTER_DATE": stamp,
        }
        who = ("-c", "user.name=A Builder", "-c", "user.email=builder@example.invalid", "-c", "commit.gpgsign=false")
        command = ["git", *who, *arguments]
        done = subprocess.run(command, cwd=self.root, env=environment, capture_output=True, text=True, check=True)
        return done.stdout.strip()

    def write(self, files: dict[str, str]) -> None:
        """Make the records exactly these."""
        for path in self.records.rglob("*.yaml"):
            if path.relative_to(self.records).as_posix() not in files:
                path.unlink()
        for name, text in files.items():
            path = self.records / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8", newline="")

    def commit(self, title: str, files: dict[str, str] | None = None, day: str = "2026-01-01") -> str:
        """Commit the records as they then are; gives the hash."""
        if files is not None:
            self.write(files)
        self.git("add", "--all")
        self.git("commit", "--quiet", "--allow-empty", "--message", title, day=day)
        return self.git("rev-parse", "HEAD")


@pytest.fixture(scope="session")
def new_workshop() -> type[Workshop]:
    return Workshop


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    return Workshop(tmp_path)
