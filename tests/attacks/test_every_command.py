"""What may go wrong around any command: its output closed or full, killed half-way, forbidden folders, and no network."""

from __future__ import annotations

import argparse
import ctypes
import os
import random
import resource
import subprocess
import sys
import time
from typing import TYPE_CHECKING, Any

import pytest
from tests.attacks.commands import COMMANDS, WRITING, environment, jurystrut, workplace

from jurystrut.cli import _parser

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return workplace(tmp_path_factory.mktemp("place"))


@pytest.fixture
def out(place: Path) -> Path:
    """The folder that is written to, empty."""
    for path in (place / "out").iterdir():
        path.unlink()
    return place / "out"


def test_no_command_is_forgotten() -> None:
    (commands,) = [action for action in _parser()._actions if isinstance(action, argparse._SubParsersAction)]
    used = {arguments[0] for arguments in (*COMMANDS.values(), *(arguments for arguments, _ in WRITING.values()))}
    assert used == set(commands.choices) - {"serve-editor"}  # it talks with an editor, and needs a library more


@pytest.mark.parametrize("name", COMMANDS)
def test_it_works(place: Path, name: str) -> None:
    """Else the attacks below would show nothing."""
    done = jurystrut(place, *COMMANDS[name])
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout


@pytest.mark.parametrize("name", COMMANDS)
def test_a_reader_that_has_gone_is_no_pass(place: Path, name: str) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = jurystrut(place, *COMMANDS[name], stdout=writing, stderr=subprocess.PIPE, capture_output=False)
    os.close(writing)
    assert (done.returncode, done.stderr) == (2, b"")


@pytest.mark.parametrize("name", COMMANDS)
def test_a_full_disk_is_one_line_and_no_pass(place: Path, name: str) -> None:
    with open("/dev/full", "wb") as full:  # noqa: PTH123 - a device
        done = jurystrut(place, *COMMANDS[name], stdout=full, stderr=subprocess.PIPE, capture_output=False)
    assert (done.returncode, done.stderr) == (2, b"jurystrut: cannot go on: [Errno 28] No space left on device\n")


def held_to(limit: int) -> Any:
    """No file may grow beyond so many bytes: the disk is full at that point."""
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))


@pytest.mark.parametrize("limit", [0, 10])
@pytest.mark.parametrize("name", WRITING)
def test_a_disk_that_fills_up_leaves_the_old_file(place: Path, out: Path, name: str, limit: int) -> None:
    arguments, path = WRITING[name]
    (place / path).write_text("old")
    done = jurystrut(place, *arguments, preexec_fn=held_to(limit))
    assert done.returncode == 2
    assert done.stderr.startswith(b"jurystrut: ")
    assert done.stderr.count(b"\n") == 1
    assert b"a bug in jurystrut" not in done.stderr
    assert (place / path).read_text() == "old"
    assert len(list(out.iterdir())) == 1


def without_root_rights() -> None:
    """From the next program on, even the superuser is held to the permissions of files."""
    process: Any = ctypes.CDLL(None)
    for capability in (
        1,
        2,
    ):  # CAP_DAC_OVERRIDE and CAP_DAC_READ_SEARCH, dropped by PR_CAPBSET_DROP; from Linux's headers
        process.prctl(24, capability)


@pytest.mark.parametrize("name", WRITING)
def test_a_folder_that_may_not_be_written_is_told(place: Path, out: Path, name: str) -> None:
    out.chmod(0o500)
    try:
        done = jurystrut(place, *WRITING[name][0], preexec_fn=without_root_rights)
    finally:
        out.chmod(0o700)
    assert done.returncode == 2
    assert done.stderr.startswith(b"jurystrut: ")
    assert done.stderr.endswith(b"Permission denied\n")
    assert not list(out.iterdir())


def test_a_link_under_a_name_of_ours_is_not_followed(place: Path, out: Path, tmp_path: Path) -> None:
    (tmp_path / "theirs").write_text("old")
    (out / "placards-1.svg").symlink_to(tmp_path / "theirs")
    done = jurystrut(place, *WRITING["placards"][0])
    assert done.returncode == 2
    assert b"is a link; it is not followed" in done.stderr
    assert (tmp_path / "theirs").read_text() == "old"


@pytest.mark.parametrize("name", ["weights.csv", "forecast.csv", "panel.dxf", "trial.yaml", "gates.yaml"])
@pytest.mark.parametrize("trap", ["forbidden", "pipe", "zero", "folder", "loop", "missing", "name", "noise"])
def test_a_file_named_in_a_command_that_cannot_be_read_is_told(
    place: Path, tmp_path: Path, name: str, trap: str
) -> None:
    path = tmp_path / name
    match trap:
        case "forbidden":
            path.write_text("x")
            path.chmod(0)
        case "pipe":
            os.mkfifo(path)
        case "zero":
            path.symlink_to("/dev/zero")
        case "folder":
            path.mkdir()
        case "loop":
            path.symlink_to(path)
        case "name":
            path = tmp_path / ("x" * 5000) / name
        case "noise":
            path.write_bytes(random.Random(1).randbytes(100_000))
    command = {
        "weights.csv": ("new", "weights", "--from-csv", str(path)),
        "forecast.csv": ("work-window", str(path), "--in", "records"),
        "panel.dxf": ("compare-drawing", str(path), "--in", "records"),
        "trial.yaml": ("check", "records", "--with", str(path)),
        "gates.yaml": ("gate", "records", "--gates", str(path)),
    }[name]
    done = jurystrut(place, *command, preexec_fn=without_root_rights, timeout=30)
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.startswith(b"jurystrut: ")
    assert b"a bug in jurystrut" not in done.stderr
    assert done.stderr.count(b"\n") == 1


def test_killed_at_any_moment_the_file_is_old_or_new(place: Path, out: Path) -> None:
    """A process that is killed cannot tidy up; whoever reads the file sees one whole report all the same."""
    path = out / "it"
    command = [sys.executable, "-m", "jurystrut", *WRITING["report"][0]]
    begun = time.monotonic()
    subprocess.run(command, cwd=place, env=environment(), check=True)
    whole, new = time.monotonic() - begun, path.read_bytes()
    old = b"old" * len(new)
    chance = random.Random(7)
    seen = set()
    for _ in range(12):
        path.write_bytes(old)
        process = subprocess.Popen(command, cwd=place, env=environment())
        time.sleep(whole * chance.uniform(0.3, 1.1))
        process.kill()
        process.wait()
        found = path.read_bytes()
        assert found in {old, new}
        seen.add(found == new)
    assert seen


DELIVERING = """
import os, signal, sys
from jurystrut import delivery
at = int(sys.argv[1])
calls = 0
def watch(event, arguments):
    global calls
    if event in {"open", "os.rename", "os.chmod", "tempfile.mkstemp"}:
        calls += 1
        if calls == at:
            os.kill(os.getpid(), signal.SIGKILL)
sys.addaudithook(watch)
delivery.deliver("new" * 100_000, sys.argv[2])
print("done")
"""


def test_killed_at_every_step_of_a_delivery_the_file_is_old_or_new(tmp_path: Path) -> None:
    """Before each call to the system that Python tells of, down to the one after which all is written."""
    path = tmp_path / "it"
    ends = []
    for step in range(1, 20):
        path.write_text("old")
        done = subprocess.run(
            [sys.executable, "-c", DELIVERING, str(step), str(path)], capture_output=True, check=False
        )
        ends.append(path.read_text())
        if done.stdout:
            break
        assert done.returncode == -9
    assert len(ends) > 3
    assert set(ends[:-1]) <= {"old", "new" * 100_000}
    assert ends[0] == "old"
    assert ends[-1] == "new" * 100_000


WATCHED = """
import sys
def barred(*_, **__):
    raise OSError("the network is barred")
import socket
for name in ("socket", "create_connection", "getaddrinfo", "gethostbyname", "socketpair", "create_server"):
    setattr(socket, name, barred)
def watch(event, arguments):
    if event.split(".")[0] in {"socket", "urllib", "http", "ftplib", "smtplib", "webbrowser", "imaplib", "poplib"}:
        sys.stderr.write(f"{event}\\n")
    elif event in {"os.system", "os.exec", "os.spawn", "os.posix_spawn"}:
        sys.stderr.write(f"{event} {arguments}\\n")
    elif event == "subprocess.Popen" and arguments[1][0] != "git" and arguments[1][:4] != JUDGES:
        sys.stderr.write(f"{event} {arguments[1]}\\n")
import jurystrut.cli
JUDGES = [sys.executable, "-P", "-m", "jurystrut.fleet.apart"]  # each does what `check` does, of which this is told too
sys.addaudithook(watch)
status = jurystrut.cli.main(sys.argv[1:])
sys.stdout.flush()
sys.exit(status)
"""


@pytest.mark.parametrize("name", COMMANDS)
def test_no_network_and_no_program_but_git(place: Path, name: str) -> None:
    """With the socket module barred, and Python itself telling of every socket that anything in the process asks for."""
    done = subprocess.run(
        [sys.executable, "-B", "-c", WATCHED, *COMMANDS[name]],
        cwd=place,
        env=environment(),
        capture_output=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout


def test_the_bar_holds() -> None:
    for program, seen in (
        ("import socket; socket.socket()", "barred"),
        ("import _socket; _socket.socket()", "socket.__new__"),
    ):
        planted = WATCHED.replace("status = jurystrut.cli.main(sys.argv[1:])", f"status = 0\n{program}")
        done = subprocess.run([sys.executable, "-c", planted], capture_output=True, text=True, check=False)
        assert seen in done.stderr
