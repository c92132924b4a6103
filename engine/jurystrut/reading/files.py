"""Which files belong to a build repository, and their text; nothing outside its folder is ever opened."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.errors import Problem, UsageError
from jurystrut.positions import Position
from jurystrut.tree import LIMITS

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

__all__ = [
    "MOST_FILES",
    "RecordFile",
    "bytes_of",
    "clashing",
    "decoded",
    "is_record_name",
    "record_file",
    "record_files",
]

MOST_FILES = 20_000
"""A repository with more record files is read up to there."""
_MOST_CHARACTERS = 512 * 1024 * 1024  # of all files together; a million records take a fifth of it


class RecordFile(NamedTuple):
    """One file: its path from the repository's root with / between the parts, and its text or what is wrong with it."""

    path: str
    text: str
    problem: Problem | None = None


def record_files(root: Path) -> Iterator[RecordFile]:
    """The YAML files under `root` in the order of their paths; names that begin with a dot are passed over.

    Raises UsageError where `root` is no folder.
    """
    if not root.is_dir():
        raise UsageError(f"{root} is not a folder; name the folder that holds the aircraft's records")
    real_root = root.resolve()
    characters = 0
    for count, path in enumerate(sorted(_walk(root, ""))):
        if count == MOST_FILES:
            yield RecordFile(path, "", _problem(path, f"more than {MOST_FILES} record files; the rest is not read"))
            return
        file = _read(root, real_root, path)
        characters += len(file.text)
        if characters > _MOST_CHARACTERS:
            yield RecordFile(path, "", _problem(path, "more than 512 MiB of records; from here on they are not read"))
            return
        yield file


def _walk(folder: Path, prefix: str) -> Iterator[str]:
    """The paths of the record files, and those of folders that cannot be listed: reading these fails, and says why."""
    pending = [(folder, prefix)]
    while pending:
        here, before = pending.pop()
        try:
            entries = list(os.scandir(here))
        except OSError:
            yield before.rstrip("/") or "."
            continue
        for entry in entries:
            if entry.name.startswith("."):
                continue
            if entry.is_dir(follow_symlinks=False):
                pending.append((Path(entry.path), f"{before}{entry.name}/"))
            elif is_record_name(entry.name):
                yield before + entry.name


def is_record_name(name: str) -> bool:
    """Whether a file of this name, without its folders, is read as records."""
    return name.endswith((".yaml", ".yml")) and not name.startswith(".")


# A device's name may have any ending; a blank or a dot at the end of a name is dropped.
_NOT_ON_WINDOWS = re.compile(
    r'(?:.*/)?(?:(?:con|prn|aux|nul|com[1-9]|lpt[1-9])(?:\.[^/]*)?|[^/]*[<>:"|?*\\\x00-\x1f][^/]*|[^/]*[. ])(?:/.*)?',
    re.IGNORECASE,
)


def clashing(paths: Iterable[str]) -> Iterator[Problem]:
    """A problem for each name that another system cannot have, or takes for an earlier one: there, a file would be lost.

    Some systems do not tell capitals from small letters, others write an accented letter as one sign or as two, and one keeps
    some names for devices.
    """
    first: dict[str, str] = {}
    for path in paths:
        if _NOT_ON_WINDOWS.fullmatch(path) and path != ".":
            yield _problem(path, "Windows can have no file of this name; rename it")
        known = first.setdefault(_alike(path), path)
        if known != path:
            message = f"on some systems this name and '{known}' are one, and one of the two files is lost; rename it"
            yield _problem(path, message)


def _alike(path: str) -> str:
    if path.isascii():
        return path.lower()
    from unicodedata import normalize

    return normalize("NFC", normalize("NFC", path).casefold())


def record_file(root: Path, path: str) -> RecordFile:
    """One file under `root`, read as carefully as all others."""
    return _read(root, root.resolve(), path)


def _read(root: Path, real_root: Path, path: str) -> RecordFile:
    try:
        real = (root / path).resolve(strict=True)
        if not real.is_relative_to(real_root):
            return RecordFile(path, "", _problem(path, "this link leads out of the repository; it is not followed"))
        data = bytes_of(real, LIMITS.file_bytes)
    except (OSError, RuntimeError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        return RecordFile(path, "", _problem(path, f"cannot be read: {reason}"))
    return decoded(path, data)


def decoded(path: str, data: bytes) -> RecordFile:
    """The record file that these bytes are; what is no UTF-8 becomes its problem."""
    try:
        return RecordFile(path, data.decode("utf-8"))
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        column = len(data[data.rfind(b"\n", 0, error.start) + 1 : error.start].decode("utf-8", "replace")) + 1
        message = f"byte 0x{data[error.start]:02X} is not UTF-8 text; save the file as UTF-8"
        return RecordFile(path, "", Problem(Position(path, line, column), message))


def bytes_of(path: Path, most: int) -> bytes:
    """The bytes of an ordinary file; a device or a pipe, which may never end, or more than so many bytes raise ValueError."""
    descriptor = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    with os.fdopen(descriptor, "rb") as file:
        if not stat.S_ISREG(os.fstat(descriptor).st_mode):
            raise ValueError("it is no ordinary file")
        data = file.read(most + 1)
    if len(data) > most:
        raise ValueError(f"it is larger than {most / (1024 * 1024):.3g} MiB; nothing so large is read")
    return data


def _problem(path: str, message: str) -> Problem:
    return Problem(Position(path, 1, 1), message)
