"""Repositories from strangers: trees that stand for millions, damaged objects, and remotes that are programs."""

from __future__ import annotations

import subprocess
from typing import TYPE_CHECKING

import pytest
from tests.attacks.commands import environment

from jurystrut import revision
from jurystrut.compare import Repository, hunks, side_of
from jurystrut.compare.objects import commit_of, entries
from jurystrut.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.attacks.conftest import Bounded

AIRCRAFT = "aircraft: {name: T, authority: US, stage: design}\n"


class Forge:
    """A repository whose objects are made one by one, as no ordinary use of git would."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.run("init", "-q", "--initial-branch=main")
        (root / "here").mkdir()

    def run(self, *arguments: str, given: bytes = b"") -> str:
        command = ["git", "-c", "user.name=x", "-c", "user.email=x@example.invalid", *arguments]
        done = subprocess.run(command, cwd=self.root, input=given, capture_output=True, check=True, env=environment())
        return done.stdout.decode().strip()

    def blob(self, data: bytes) -> str:
        return self.run("hash-object", "-w", "--stdin", given=data)

    def tree(self, *made: tuple[str, str, str]) -> str:
        data = b"".join(f"{mode} {name}\0".encode() + bytes.fromhex(hash_) for mode, name, hash_ in made)
        return self.run("hash-object", "-w", "--literally", "-t", "tree", "--stdin", given=data)

    def commit(self, tree: str) -> None:
        self.run("update-ref", "refs/heads/main", self.run("commit-tree", tree, "-m", "x"))


@pytest.fixture
def forge(tmp_path: Path) -> Forge:
    return Forge(tmp_path)


def bomb(forge: Forge, leaf: tuple[str, str, str], levels: int = 10, times: int = 10) -> str:
    tree = forge.tree(leaf)
    for _ in range(levels):
        tree = forge.tree(*[("40000", f"d{i}", tree) for i in range(times)])
    return tree


@pytest.mark.parametrize("name", ["a.yaml", "a.txt"])
def test_trees_that_stand_for_millions_are_refused(forge: Forge, name: str, bounded: Bounded) -> None:
    forge.commit(bomb(forge, ("100644", name, forge.blob(AIRCRAFT.encode()))))
    with bounded(), pytest.raises(UsageError, match="a revision holds more than"):
        side_of("HEAD", forge.root)


def test_one_large_file_under_very_many_names_is_refused(forge: Forge, bounded: Bounded) -> None:
    large = forge.blob(b"#" * 15_000_000)
    forge.commit(forge.tree(*[("100644", f"{i:05}.yaml", large) for i in range(1000)]))
    with bounded(), pytest.raises(UsageError, match="more than 512 MiB of records"):
        side_of("HEAD", forge.root)


def test_a_file_too_large_in_a_revision_is_told_and_not_read(forge: Forge, bounded: Bounded) -> None:
    forge.commit(forge.tree(("100644", "a.yaml", forge.blob(b"#" * (16 * 1024 * 1024 + 1)))))
    with bounded():
        (file,) = side_of("HEAD", forge.root).files
    assert file.problem
    assert "larger than 16 MiB" in file.problem.message


def test_folders_without_end_are_read_to_a_depth(forge: Forge, bounded: Bounded) -> None:
    tree = forge.tree(("100644", "a.yaml", forge.blob(AIRCRAFT.encode())))
    for _ in range(80):
        tree = forge.tree(("100644", "b.txt", forge.blob(b"")), ("40000", "d", tree))
    forge.commit(tree)
    with bounded():
        assert side_of("HEAD", forge.root).files == ()


@pytest.mark.parametrize(
    "data", [b"100644 a.yaml", b"100644 a.yaml\0", b"100644 a.yaml\0" + b"x" * 19, b"\0" * 40, b"x" * 100]
)
def test_a_damaged_tree_is_told(data: bytes) -> None:
    with pytest.raises(UsageError, match="damaged"):
        list(entries(data, 20))


@pytest.mark.parametrize("data", [b"", b"\n\n", b"tree \xff\n\nx", b"tree " + b"g" * 40 + b"\n", b"parent x\n"])
def test_a_damaged_commit_is_told(data: bytes) -> None:
    with pytest.raises(UsageError, match="damaged"):
        commit_of("0" * 40, data)


@pytest.mark.parametrize("stamp", [b"99999999999 +9999", b"0 -9999", b"9" * 40 + b" +0000", b"x"])
def test_a_day_beyond_the_calendar_is_a_day_all_the_same(stamp: bytes) -> None:
    found = commit_of("0" * 40, b"tree " + b"a" * 40 + b"\nauthor A <a@b> " + stamp + b"\n\n\xff\x1b[31m\nmore")
    assert found.day.year >= 1969
    assert "\n" not in found.title


def test_a_link_in_a_revision_is_no_way_out(forge: Forge) -> None:
    forge.commit(forge.tree(("120000", "a.yaml", forge.blob(b"/etc/passwd")), ("120000", "sub", forge.blob(b"/etc"))))
    (file,) = side_of("HEAD", forge.root).files
    assert file.problem
    assert "a link; in a revision it is not followed" in file.problem.message


def test_names_in_a_tree_lead_nowhere(forge: Forge) -> None:
    """They are names in a report, and never opened."""
    blob = forge.blob(AIRCRAFT.encode())
    forge.commit(forge.tree(("100644", "../../x.yaml", blob), ("100644", "/etc/x.yaml", blob)))
    assert [file.path for file in side_of("HEAD", forge.root).files] == ["/etc/x.yaml"]
    assert sorted(path.name for path in forge.root.iterdir()) == [".git", "here"]


def remote(forge: Forge, *settings: tuple[str, str]) -> None:
    """A repository that lacks an object, and says that its remote will send it: any use of git then asks the remote."""
    blob = forge.blob(AIRCRAFT.encode())
    forge.commit(forge.tree(("100644", "a.yaml", blob)))
    (forge.root / ".git" / "objects" / blob[:2] / blob[2:]).unlink()
    promised = (("core.repositoryformatversion", "1"), ("extensions.partialClone", "origin"))
    for key, value in (*promised, ("remote.origin.promisor", "true"), *settings):
        forge.run("config", key, value)


REMOTES: dict[str, Callable[[str], tuple[tuple[str, str], ...]]] = {
    "a program": lambda trap: (("remote.origin.url", f"ext::touch {trap}"), ("protocol.ext.allow", "always")),
    "a folder with a program": lambda trap: (
        ("remote.origin.url", "."),
        ("remote.origin.uploadpack", f"touch {trap};"),
        ("protocol.file.allow", "always"),
    ),
    "a host behind a program": lambda trap: (
        ("remote.origin.url", "ssh://x.invalid/y"),
        ("core.sshCommand", f"touch {trap};"),
        ("protocol.ssh.allow", "always"),
    ),
}


@pytest.mark.parametrize(
    "without", [(), ("GIT_NO_LAZY_FETCH",)], ids=["git of today", "git that knows no such variable"]
)
@pytest.mark.parametrize("name", REMOTES)
def test_an_object_that_a_remote_should_send_is_missing_and_nothing_is_run(
    forge: Forge, name: str, without: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    remote(forge, *REMOTES[name](str(forge.root / "sprung")))
    real = revision.environment()
    monkeypatch.setattr(revision, "environment", lambda: {k: v for k, v in real.items() if k not in without})
    with pytest.raises(UsageError, match="missing from this repository"):
        side_of("HEAD", forge.root)
    assert not (forge.root / "sprung").exists()


def test_the_trap_would_spring(forge: Forge) -> None:
    """Plain git runs the program: else the test above would show nothing."""
    remote(forge, *REMOTES["a program"](str(forge.root / "sprung")))
    blob = forge.run("rev-parse", "HEAD:a.yaml")
    subprocess.run(["git", "cat-file", "-e", blob], cwd=forge.root, capture_output=True, check=False, env=environment())
    assert (forge.root / "sprung").exists()


def test_a_repository_that_points_elsewhere(tmp_path: Path) -> None:
    (tmp_path / ".git").write_text("gitdir: /nowhere\n")
    with pytest.raises(UsageError, match="no git repository"):
        Repository(tmp_path)


LIKE: dict[str, Callable[[int, int], str]] = {
    "two kinds": lambda i, side: f"- {{id: {'AB'[i * i % (7 + 4 * side) % 2]}}}\n",
    "forty kinds": lambda i, side: f"- {{id: A{(i * i + side) % 41}}}\n",
    "one beginning": lambda i, side: f"x: {2 * i + side}\n",
    "forty beginnings": lambda i, side: f"x{(i * i + side) % 41}: {2 * i + side}\n",
}


@pytest.mark.parametrize("name", LIKE)
def test_a_change_of_very_many_like_lines_takes_no_time(name: str, bounded: Bounded) -> None:
    """Comparing lines takes the longer the more of them are alike: 11 s where nothing bounds it."""
    one, other = ("".join(LIKE[name](i, side) for i in range(1990 + side)) for side in (0, 1))
    with bounded(seconds=1):
        pieces = hunks.hunks_between({"a": one}, {"a": other})
    assert hunks.applied({"a": one}, pieces) == {"a": other}
