"""The machine around it: full disks, closed pipes, forbidden files, hostile git, and no network at all."""

from __future__ import annotations

import ctypes
import json
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from jurystrut.revision import git as asked_git

EXAMPLE = Path(__file__).parents[2] / "project_example"
AIRCRAFT = "aircraft: {name: Test, authority: US, stage: design}\n"

CHECK = (sys.executable, "-m", "jurystrut", "check")


def check(folder: Path, *options: str, **how: Any) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*CHECK, str(folder), *options], capture_output=True, text=True, check=False, **how)


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def without_root_rights() -> None:
    """From the next program on, even the superuser is held to the permissions of files."""
    drop_from_bounds, override, read_search = 24, 1, 2  # PR_CAPBSET_DROP and two capabilities, from Linux's headers
    process: Any = ctypes.CDLL(None)
    process.prctl(drop_from_bounds, override)
    process.prctl(drop_from_bounds, read_search)


@pytest.fixture
def records(tmp_path: Path) -> Path:
    (tmp_path / "a.yaml").write_text(AIRCRAFT)
    return tmp_path


@pytest.mark.parametrize("format_", ["text", "json"])
def test_a_full_disk_is_one_line_and_no_pass(records: Path, format_: str) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [*CHECK, str(records), "--format", format_], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert done.returncode == 2
    assert done.stderr == "jurystrut: cannot go on: [Errno 28] No space left on device\n"


def test_output_that_is_closed_from_the_start_leaves_the_exit_status(records: Path) -> None:
    done = subprocess.run(
        ["sh", "-c", 'exec "$@" >&-', "sh", *CHECK, str(records)], stderr=subprocess.PIPE, check=False
    )
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.parametrize("format_", ["text", "json"])
def test_a_reader_that_has_gone_is_no_pass(records: Path, format_: str) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [*CHECK, str(records), "--format", format_], stdout=writing, stderr=subprocess.PIPE, check=False
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (2, b"")


def test_a_file_and_a_folder_that_may_not_be_read_are_told(records: Path) -> None:
    (records / "b.yaml").write_text("electrical: {}\n")
    (records / "sub").mkdir()
    (records / "sub" / "c.yaml").write_text("fuel: {}\n")
    (records / "b.yaml").chmod(0)
    (records / "sub").chmod(0)
    done = check(records, "--format", "json", preexec_fn=without_root_rights)
    (records / "sub").chmod(0o700)
    assert (done.returncode, done.stderr) == (2, "")
    told = {error["file"]: error["message"] for error in json.loads(done.stdout)["errors"]}
    assert told == {"b.yaml": "cannot be read: Permission denied", "sub": "cannot be read: Permission denied"}


def test_a_folder_that_may_not_be_written_is_read_all_the_same(records: Path) -> None:
    (records / "a.yaml").chmod(0o400)
    records.chmod(0o500)
    done = check(records, cwd=records, preexec_fn=without_root_rights)
    records.chmod(0o700)
    assert (done.returncode, done.stderr) == (0, "")
    assert names(records) == ["a.yaml"]


def test_no_home_and_an_empty_environment_will_do(records: Path) -> None:
    environment = {name: os.environ[name] for name in ("PYTHONPATH",) if name in os.environ}
    assert check(records, "--format", "json", env=environment).returncode == 0


def test_a_defect_is_one_line_with_its_place_and_no_pass(records: Path) -> None:
    program = (
        "import jurystrut.judge, jurystrut.cli, sys\n"
        "jurystrut.judge.load = lambda packs: 1 // 0\n"
        "sys.exit(jurystrut.cli.main(['check', sys.argv[1]]))\n"
    )
    done = subprocess.run([sys.executable, "-c", program, str(records)], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("jurystrut: a bug in jurystrut, __main__:2: ZeroDivisionError")
    assert done.stderr.count("\n") == 1


def git(folder: Path, *arguments: str) -> None:
    subprocess.run(
        ["git", "-c", "user.name=x", "-c", "user.email=x@x", *arguments], cwd=folder, check=True, capture_output=True
    )


def revision(folder: Path, **how: Any) -> Any:
    done = check(folder, "--format", "json", **how)
    assert (done.returncode, done.stderr) == (0, "")
    return json.loads(done.stdout)["project"]["revision"]


def test_a_repository_whose_configuration_runs_programs_runs_none(records: Path) -> None:
    git(records, "init", "-q")
    git(records, "add", "a.yaml")
    git(records, "commit", "-q", "-m", "x")
    trap = records / "trap"
    trap.write_text(f"#!/bin/sh\ntouch '{records}/sprung'\n")
    trap.chmod(0o700)
    for name in ("core.fsmonitor", "core.pager", "core.editor", "core.sshCommand", "diff.external", "core.askPass"):
        git(records, "config", name, str(trap))
    git(records, "config", "alias.rev-parse", f"!{trap}")
    hooks = records / ".git" / "hooks"
    for hook in ("post-index-change", "post-checkout", "reference-transaction"):
        (hooks / hook).write_text(trap.read_text())
        (hooks / hook).chmod(0o700)
    assert len(revision(records)) == 40
    assert not (records / "sprung").exists()


@pytest.mark.parametrize(
    "head", ["ref: --output=sprung\n", "ref: ../../a.yaml\n", "--output=sprung\n", "\0", "ref: refs/heads/\n"]
)
def test_a_broken_head_is_no_revision(records: Path, head: str) -> None:
    git(records, "init", "-q")
    (records / ".git" / "HEAD").write_text(head)
    assert revision(records) is None
    assert names(records) == [".git", "a.yaml"]


def test_no_git_is_no_revision(records: Path) -> None:
    assert revision(records, env={**os.environ, "PATH": ""}) is None


def test_a_git_that_never_answers_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "git").write_text("#!/bin/sh\nexec sleep 60\n")
    (tmp_path / "git").chmod(0o700)
    monkeypatch.setenv("PATH", str(tmp_path), prepend=os.pathsep)
    begun = time.monotonic()
    assert asked_git(tmp_path, "rev-parse", "HEAD", seconds=0.5) is None
    assert time.monotonic() - begun < 10


WATCHED = """
import sys
seen = []
def watch(event, arguments):
    if event.split(".")[0] in {"socket", "urllib", "http", "ftplib", "smtplib", "ctypes", "webbrowser"}:
        seen.append(event)
    elif event in {"os.system", "os.exec", "os.fork", "os.spawn", "os.posix_spawn", "os.remove", "os.rename", "os.mkdir"}:
        seen.append(event)
    elif event == "subprocess.Popen" and arguments[1][0] != "git":
        seen.append(f"{event} {arguments[1]}")
    elif event == "open" and not isinstance(arguments[0], int) and any(letter in (arguments[1] or "r") for letter in "wax+"):
        seen.append(f"writes {arguments[0]}")
import jurystrut.cli
sys.addaudithook(watch)
status = jurystrut.cli.main(sys.argv[1:])
sys.stdout.flush()
print(status, *seen, sep="\\n", file=sys.stderr)
"""

CODE = "__import__('os').system('touch sprung')"
HOSTILE = f"""\
aircraft: {{name: "{CODE}", authority: US, stage: systems, registration: "{CODE}"}}
electrical: {{nominal_voltage: "{CODE}", buses: [{{id: MAIN, what: "{CODE}"}}, {{id: "{CODE}"}}]}}
documents: [{{id: D, kind: "{CODE}", evidence: "http://example.org/{CODE}"}}, !!python/object/apply:os.system ['touch sprung']]
"""


@pytest.mark.parametrize("format_", ["text", "json"])
@pytest.mark.parametrize("hostile", [False, True])
def test_no_network_no_program_but_git_and_nothing_written(records: Path, format_: str, hostile: bool) -> None:
    """Python itself reports every socket, program and file that anything in the process opens, libraries included."""
    if hostile:
        (records / "a.yaml").write_text(HOSTILE)
    folder = records if hostile else EXAMPLE
    done = subprocess.run(
        [sys.executable, "-B", "-c", WATCHED, "check", str(folder), "--format", format_],
        cwd=records,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stderr.splitlines() == [("2" if hostile else "0")]
    assert names(records) == ["a.yaml"]


def test_the_watch_sees_what_it_is_set_for() -> None:
    for program, seen in (
        ("import socket; socket.socket()", "socket.__new__"),
        ("open('/dev/null', 'w')", "writes /dev/null"),
        ("import os; os.system('true')", "os.system"),
        ("import subprocess; subprocess.run(['true'])", "subprocess.Popen ['true']"),
    ):
        planted = WATCHED.replace("status = jurystrut.cli.main(sys.argv[1:])", f"status = 0\n{program}")
        done = subprocess.run([sys.executable, "-c", planted], capture_output=True, text=True, check=True)
        assert seen in done.stderr.splitlines()
