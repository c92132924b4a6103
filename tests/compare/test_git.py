"""Hostile revisions, repositories and files: nothing is run, nothing is written, and what cannot be read is said."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from jurystrut.compare import Repository, side_of
from jurystrut.errors import UsageError

EXAMPLE = Path(__file__).parents[2] / "project_example"
AIRCRAFT = "aircraft: {name: T, authority: US, stage: design}\n"


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "jurystrut", *arguments]
    environment = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    return subprocess.run(command, cwd=folder, capture_output=True, encoding="utf-8", env=environment, check=False)


@pytest.fixture
def small(workshop: Any) -> Any:
    workshop.commit("one", {"a.yaml": AIRCRAFT})
    workshop.commit("two", {"a.yaml": AIRCRAFT.replace("design", "structure")})
    return workshop


HOSTILE = [
    "--output=stolen",
    "--upload-pack=touch stolen",
    "--all",
    "-h",
    "--",
    "HEAD --output=stolen",
    "HEAD\n--output=stolen",
    "$(touch stolen)",
    "`touch stolen`",
    "; touch stolen",
    "|touch stolen",
    "HEAD:a.yaml",
    "HEAD^{tree}",
    "HEAD..HEAD",
    "^HEAD",
    "@{upstream}",
    "refs/heads/*",
    "ext::sh -c touch% stolen",
    "no-such-branch",
    "",
    "a" * 5000,
    "\udcff",
]


@pytest.mark.parametrize("name", HOSTILE, ids=lambda name: ascii(name[:20]))
def test_a_hostile_revision_is_no_revision(name: str, small: Any) -> None:
    before = sorted(small.root.rglob("*"))
    with pytest.raises(UsageError, match=r"no revision|neither a revision"):
        side_of(name, small.records)
    assert sorted(small.root.rglob("*")) == before


@pytest.mark.parametrize("command", ["compare", "history"])
def test_a_wrong_revision_is_exit_2_on_standard_error(command: str, small: Any) -> None:
    done = run(small.records, command, "no-such-branch")
    assert (done.returncode, done.stdout) == (2, "")
    assert "there is no revision 'no-such-branch' here" in done.stderr


def test_nothing_that_the_repository_configures_is_run(small: Any) -> None:
    stolen = small.root / "stolen"
    script = small.root / "script"
    script.write_text(f"#!/bin/sh\ntouch {stolen}\ncat\n")
    script.chmod(0o755)
    for key in (
        *("core.fsmonitor", "core.pager", "core.editor", "core.sshCommand", "diff.external", "pager.rev-list"),
        *("diff.x.textconv", "diff.x.command", "filter.x.smudge", "filter.x.clean", "filter.x.process"),
        *("credential.helper", "gpg.program", "core.gitProxy", "uploadpack.packObjectsHook"),
    ):
        small.git("config", key, str(script))
    small.git("config", "core.hooksPath", str(small.root))
    small.git("config", "alias.cat-file", f"!touch {stolen}")
    (small.root / ".gitattributes").write_text("* filter=x diff=x\n")
    stolen.unlink(missing_ok=True)
    assert run(small.records, "compare", "HEAD~1", "HEAD").returncode == 0
    assert run(small.records, "history").returncode == 0
    assert run(small.records, "check", "--format", "sarif").returncode == 0
    assert not stolen.exists()


def test_nothing_is_checked_out_and_no_index_is_touched(small: Any) -> None:
    def state() -> dict[str, tuple[int, bytes]]:
        files = [path for path in small.root.rglob("*") if path.is_file()]
        return {str(path): (path.stat().st_mtime_ns, path.read_bytes()) for path in files}

    (small.records / "a.yaml").write_text(AIRCRAFT.replace("T,", "Changed,"))
    before = state()
    assert run(small.records, "compare", "HEAD~1", "HEAD").returncode == 0
    assert run(small.records, "history").returncode == 0
    assert state() == before


def test_names_with_anything_in_them(small: Any) -> None:
    names = ['quote".yaml', "new\nline.yaml", "é ü.yaml", "-o.yaml", "deep/er/ -- .yml", "tab\t.yaml", ":(glob)x.yaml"]
    files = {"a.yaml": AIRCRAFT} | dict.fromkeys(names, "# nothing\n")
    small.commit("names", files)
    assert sorted(file.path for file in side_of("HEAD", small.records).files) == sorted(files)


def test_hidden_files_other_files_and_links_are_told_apart(small: Any) -> None:
    (small.records / ".hidden").mkdir()
    (small.records / ".hidden/x.yaml").write_text("x: [\n")
    (small.records / ".y.yaml").write_text("x: [\n")
    (small.records / "notes.txt").write_text("x")
    (small.records / "out.yaml").symlink_to("/etc/passwd")
    small.commit("odd things")
    files = side_of("HEAD", small.records).files
    assert [(f.path, f.problem is None) for f in files] == [("a.yaml", True), ("out.yaml", False)]


def test_bytes_that_are_no_text_are_a_problem_at_their_place(small: Any) -> None:
    (small.records / "latin.yaml").write_bytes(b"aircraft:\n  name: caf\xe9\n")
    small.commit("latin")
    (file,) = [file for file in side_of("HEAD", small.records).files if file.problem]
    assert file.problem
    assert file.problem.position == ("latin.yaml", 2, 12)


def test_a_commit_without_the_folder_holds_no_records(workshop: Any) -> None:
    first = workshop.commit("empty", {})
    workshop.commit("records", {"a.yaml": AIRCRAFT})
    assert side_of(first, workshop.records).files == ()
    data = json.loads(run(workshop.records, "history", "--format", "json").stdout)
    assert [commit["verdict"] for commit in data["commits"]] == [None, "warn"]


def test_a_shallow_clone_says_so(small: Any, tmp_path_factory: pytest.TempPathFactory) -> None:
    clone = tmp_path_factory.mktemp("clone") / "it"
    small.git("clone", "--quiet", "--depth=1", f"file://{small.root}", str(clone))
    done = run(clone / "aircraft", "compare", "HEAD~1")
    assert done.returncode == 2
    assert "this is a shallow clone" in done.stderr
    later = run(clone / "aircraft", "history")
    assert "shallow clone; earlier commits are missing" in later.stderr


def test_a_missing_object_is_said_and_not_passed_over(small: Any) -> None:
    blob = small.git("rev-parse", "HEAD:aircraft/a.yaml")
    (small.root / ".git/objects" / blob[:2] / blob[2:]).unlink()
    done = run(small.records, "compare", "HEAD~1", "HEAD")
    assert (done.returncode, done.stdout) == (2, "")
    assert "missing from this repository" in done.stderr


def test_folders_compare_without_git(tmp_path: Path) -> None:
    for name, stage in (("old", "design"), ("new", "structure")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "a.yaml").write_text(AIRCRAFT.replace("design", stage))
    done = run(tmp_path, "compare", "./old", "./new")
    assert (done.returncode, done.stderr) == (0, "")
    assert "the stage was design before" in done.stdout
    assert run(tmp_path, "compare", "./old", "./none").returncode == 2
    assert run(tmp_path, "history", "--in", "old").returncode == 2


def test_a_sub_folder_of_a_hook_finds_its_own_repository(small: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    """While a hook runs, git sets variables for itself, with paths relative to its own folder."""
    monkeypatch.setenv("GIT_DIR", ".git")
    monkeypatch.setenv("GIT_INDEX_FILE", ".git/index")
    assert Repository(small.records).prefix == "aircraft/"


def test_objects_of_repositories_with_longer_hashes_are_read(tmp_path: Path, new_workshop: Any) -> None:
    subprocess.run(["git", "init", "--quiet", "--object-format=sha256", str(tmp_path)], check=True)
    workshop = new_workshop(tmp_path)
    found = workshop.commit("one", {"a.yaml": AIRCRAFT})
    assert len(found) == 64
    assert [file.text for file in side_of("HEAD", workshop.records).files] == [AIRCRAFT]
