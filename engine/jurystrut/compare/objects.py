"""Record files as commits hold them, read from git's own objects: nothing is checked out, no filter or hook runs."""

from __future__ import annotations

import datetime
import re
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.errors import Problem, UsageError
from jurystrut.positions import Position
from jurystrut.reading.files import MOST_FILES, RecordFile, decoded, is_record_name
from jurystrut.revision import commit, folder_in_repository, git

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from pathlib import Path

__all__ = ["Commit", "Repository", "commit_of", "entries"]

_HASH_BYTES = {40: 20, 64: 32}
_MOST_BYTES = 16 * 1024 * 1024  # of one object; the records of an aircraft are some hundred thousand
_MOST_OF_A_REVISION = 512 * 1024 * 1024  # bytes of all record files of one commit, as in a folder
_MOST_FOLDERS = 20_000  # a few small trees that name each other many times stand for millions of folders
_SECONDS = 300
_DEEPEST = 50
_TREE, _FILE, _LINK = b"40000", (b"100644", b"100755"), b"120000"


class Commit(NamedTuple):
    """One commit: its hash, the day its author made it, and the first line of its message."""

    hash: str
    tree: str
    day: datetime.date
    title: str


class _Entry(NamedTuple):
    mode: bytes
    name: str
    hash: str


class Repository:
    """The git repository around a folder of records; every object is read once.

    Raises UsageError where the folder stands in no repository, or git is not there.
    """

    def __init__(self, folder: Path) -> None:
        prefix = folder_in_repository(folder) if folder.is_dir() else None
        if prefix is None:
            raise UsageError(
                f"{folder} stands in no git repository that can be read here; begin one there with `git init`"
            )
        self.folder = folder
        self.prefix = prefix
        self._trees: dict[str, tuple[_Entry, ...]] = {}
        self._files: dict[tuple[str, str], RecordFile] = {}
        self._bytes: dict[str, int] = {}

    @property
    def shallow(self) -> bool:
        """Whether this is a clone that does not hold the whole history."""
        return git(self.folder, "rev-parse", "--is-shallow-repository") == b"true\n"

    def named(self, name: str) -> Commit | None:
        """The commit that a revision names, or None."""
        found = commit(self.folder, name)
        return self.commits([found])[0] if found else None

    def line_up_to(self, name: str, most: int | None = None) -> list[Commit]:
        """The commit named and its first parents, the oldest first; at most so many of the latest."""
        found = commit(self.folder, name)
        if found is None:
            raise UsageError(self.unknown(name))
        limit = [] if most is None else [f"--max-count={most}"]
        answer = git(self.folder, "rev-list", "--first-parent", *limit, found, "--", seconds=_SECONDS)
        if answer is None:
            raise UsageError("git could not list the commits; some of them may be missing here")
        return self.commits(answer.decode("ascii").split()[::-1])

    def unknown(self, name: str) -> str:
        """What to say where a revision is not there."""
        hint = "; this is a shallow clone, fetch the whole history first" if self.shallow else ""
        return f"there is no revision '{name[:80]}' here{hint}"

    def commits(self, hashes: Sequence[str]) -> list[Commit]:
        """These commits, in this order."""
        return [commit_of(hash_, data) for hash_, data in zip(hashes, self._read(hashes, "commit"), strict=True)]

    def files(self, commits: Sequence[Commit]) -> list[tuple[RecordFile, ...]]:
        """The record files of each commit, in the order of their paths; none where it does not hold the folder yet."""
        roots = [commit.tree for commit in commits]
        for part in filter(None, self.prefix.split("/")):
            self._learn(root for root in roots if root)
            roots = [self._inside(root, part) for root in roots]
        self._learn_all(set(filter(None, roots)))
        listings: dict[str, list[tuple[str, _Entry]]] = {
            root: list(self._walk(root)) for root in set(filter(None, roots))
        }
        self._learn_sizes(entry for listing in listings.values() for _, entry in listing)
        for listing in listings.values():
            self._hold_to_bounds(listing)
        self._learn_files(pair for listing in listings.values() for pair in listing)
        ready = {
            root: tuple(self._files[path, entry.hash] for path, entry in sorted(listing))
            for root, listing in listings.items()
        }
        return [ready.get(root, ()) for root in roots]

    def _inside(self, tree: str, name: str) -> str:
        known = self._trees.get(tree, ())
        return next((entry.hash for entry in known if entry.name == name and entry.mode == _TREE), "")

    def _learn_all(self, trees: set[str]) -> None:
        """Read these trees and all trees below them, a level at a time."""
        for _ in range(_DEEPEST):
            self._learn(trees)
            trees = {entry.hash for tree in trees for entry in self._trees[tree] if _is_folder(entry)}
            if not trees:
                return

    def _learn(self, trees: Iterable[str]) -> None:
        wanted = sorted(set(trees) - self._trees.keys())
        for hash_, data in zip(wanted, self._read(wanted, "tree"), strict=True):
            self._trees[hash_] = tuple(entries(data, _HASH_BYTES[len(hash_)]))

    def _walk(self, root: str) -> Iterator[tuple[str, _Entry]]:
        pending = [("", root, 0)]
        count = folders = 0
        while pending:
            before, tree, depth = pending.pop()
            folders += 1
            if folders > _MOST_FOLDERS:
                raise UsageError(f"a revision holds more than {_MOST_FOLDERS} folders")
            for entry in self._trees.get(tree, ()):
                if _is_folder(entry) and depth < _DEEPEST:
                    pending.append((f"{before}{entry.name}/", entry.hash, depth + 1))
                elif is_record_name(entry.name) and (entry.mode in _FILE or entry.mode == _LINK):
                    count += 1
                    if count > MOST_FILES:
                        raise UsageError(f"a revision holds more than {MOST_FILES} record files")
                    yield before + entry.name, entry

    def _learn_sizes(self, known: Iterable[_Entry]) -> None:
        hashes = sorted({entry.hash for entry in known if entry.mode != _LINK} - self._bytes.keys())
        self._bytes |= self._sizes(hashes)

    def _hold_to_bounds(self, listing: Iterable[tuple[str, _Entry]]) -> None:
        """Raises UsageError where the files of one commit are too much together: it may name one blob very often."""
        sizes = (self._bytes.get(entry.hash, 0) for _, entry in listing)
        if sum(size for size in sizes if size <= _MOST_BYTES) > _MOST_OF_A_REVISION:
            raise UsageError(f"a revision holds more than {_MOST_OF_A_REVISION // (1024 * 1024)} MiB of records")

    def _learn_files(self, pairs: Iterable[tuple[str, _Entry]]) -> None:
        wanted = {(path, entry.hash): entry for path, entry in pairs if (path, entry.hash) not in self._files}
        hashes = sorted({hash_ for (_, hash_), entry in wanted.items() if entry.mode != _LINK})
        small = [hash_ for hash_ in hashes if self._bytes[hash_] <= _MOST_BYTES]
        data = dict(zip(small, self._read(small, "blob"), strict=True))
        for (path, hash_), entry in wanted.items():
            if entry.mode == _LINK:
                file = RecordFile(path, "", Problem(Position(path, 1, 1), "a link; in a revision it is not followed"))
            elif hash_ in data:
                file = decoded(path, data[hash_])
            else:
                message = f"it is larger than {_MOST_BYTES // (1024 * 1024)} MiB; spread the records over several files"
                file = RecordFile(path, "", Problem(Position(path, 1, 1), message))
            self._files[path, hash_] = file

    def _sizes(self, hashes: Sequence[str]) -> dict[str, int]:
        answer = self._ask("--batch-check", hashes)
        lines = answer.decode("ascii", "replace").splitlines()
        if len(lines) != len(hashes) or any(line.endswith("missing") for line in lines):
            raise UsageError("an object is missing from this repository; fetch the whole history first")
        return {line.split(" ")[0]: int(line.split(" ")[2]) for line in lines}

    def _read(self, hashes: Sequence[str], kind: str) -> list[bytes]:
        """The content of these objects, all of one kind."""
        answer = self._ask("--batch", hashes)
        found: list[bytes] = []
        start = 0
        for hash_ in hashes:
            end = answer.find(b"\n", start)
            words = answer[start:end].split(b" ")
            if end < 0 or len(words) != 3 or words[:2] != [hash_.encode(), kind.encode()]:
                raise UsageError(
                    f"the {kind} {hash_[:12]} is missing from this repository; fetch the whole history first"
                )
            size = int(words[2])
            found.append(answer[end + 1 : end + 1 + size])
            start = end + 1 + size + 1
        return found

    def _ask(self, how: str, hashes: Sequence[str]) -> bytes:
        if not hashes:
            return b""
        given = "".join(f"{hash_}\n" for hash_ in hashes).encode("ascii")
        answer = git(self.folder, "cat-file", how, given=given, seconds=_SECONDS)
        if answer is None:
            raise UsageError("git could not read the objects of this repository")
        return answer


def _is_folder(entry: _Entry) -> bool:
    return entry.mode == _TREE and not entry.name.startswith(".")


def entries(data: bytes, hash_bytes: int) -> Iterator[_Entry]:
    """A tree object: `mode name NUL hash`, again and again. Raises UsageError where it is damaged."""
    start = 0
    while start < len(data):
        space = data.find(b" ", start)
        end = data.find(b"\0", space)
        if space < 0 or end < 0 or end + 1 + hash_bytes > len(data):
            raise UsageError("a tree in this repository is damaged")
        name = data[space + 1 : end].decode("utf-8", "surrogateescape")
        yield _Entry(data[start:space], name, data[end + 1 : end + 1 + hash_bytes].hex())
        start = end + 1 + hash_bytes


_AUTHOR = re.compile(rb"^author .*> (\d{1,11}) ([+-]\d{4})$", re.MULTILINE)
_TREE_LINE = re.compile(rb"tree ([0-9a-f]{40}|[0-9a-f]{64})(?:\n|$)")


def commit_of(hash_: str, data: bytes) -> Commit:
    """A commit object. Raises UsageError where it is damaged."""
    head, _, message = data.partition(b"\n\n")
    tree = _TREE_LINE.match(head)
    if tree is None:
        raise UsageError(f"the commit {hash_[:12]} is damaged")
    author = _AUTHOR.search(head)
    seconds, zone = (int(author[1]), author[2].decode()) if author else (0, "+0000")
    minutes = int(zone[1:3]) * 60 + int(zone[3:])
    offset = datetime.timedelta(minutes=-minutes if zone[0] == "-" else minutes)
    try:
        day = (datetime.datetime.fromtimestamp(seconds, datetime.UTC) + offset).date()
    except (OverflowError, ValueError, OSError):
        day = datetime.date(1970, 1, 1)
    return Commit(
        hash_, tree[1].decode("ascii"), day, message.strip().split(b"\n", 1)[0].decode("utf-8", "replace")[:200]
    )
