"""What git knows of the records; it is asked with everything off that a hostile repository or revision could use."""

from __future__ import annotations

import os
import re
import subprocess
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["commit", "environment", "folder_in_repository", "git", "head_commit"]

_SECONDS = 20
_HASH = re.compile("[0-9a-f]{40,64}")
# Commands that a repository's own configuration may name, and that plumbing must not run; no verb here reaches a network.
_SAFE = (
    *("-c", "core.fsmonitor=false", "-c", "core.hooksPath=/dev/null", "-c", "protocol.allow=never"),
    *("-c", "core.pager=cat", "-c", "core.attributesFile=/dev/null", "--no-pager", "--literal-pathspecs"),
)
# Set while a hook runs, for git's own use: the folder that is asked about decides, not these.
_LEFT_OUT = frozenset(
    "GIT_DIR GIT_WORK_TREE GIT_INDEX_FILE GIT_PREFIX GIT_COMMON_DIR GIT_OBJECT_DIRECTORY GIT_NAMESPACE "
    "GIT_ALTERNATE_OBJECT_DIRECTORIES GIT_EXTERNAL_DIFF GIT_TRACE".split()
)


def environment() -> dict[str, str]:
    """The environment in which git runs: no questions, no locks, no replaced or fetched objects."""
    return {
        **{name: value for name, value in os.environ.items() if name not in _LEFT_OUT},
        "GIT_CONFIG_NOSYSTEM": "1",
        "GIT_TERMINAL_PROMPT": "0",
        "GIT_OPTIONAL_LOCKS": "0",
        "GIT_NO_REPLACE_OBJECTS": "1",
        "GIT_NO_LAZY_FETCH": "1",
        # Not every git knows the line above, and a repository's own protocol.ext.allow beats protocol.allow=never.
        "GIT_ALLOW_PROTOCOL": "none",
        "LC_ALL": "C",
    }


def git(folder: Path, *arguments: str, given: bytes = b"", seconds: float = _SECONDS) -> bytes | None:
    """What a plumbing verb answers in `folder`; None where git is absent, refuses, or takes too long."""
    try:
        answer = subprocess.run(  # noqa: S603 - a list of arguments, no shell
            ["git", *_SAFE, *arguments],  # noqa: S607 - the git of whoever runs this
            cwd=folder,
            env=environment(),
            input=given,
            capture_output=True,
            timeout=seconds,
            check=False,
        )
    except (OSError, ValueError, subprocess.TimeoutExpired):
        return None
    return answer.stdout if answer.returncode == 0 else None


def head_commit(folder: Path) -> str | None:
    """The hash of the commit checked out in `folder`, or None without git, a repository or a commit."""
    return commit(folder, "HEAD")


def commit(folder: Path, name: str) -> str | None:
    """The hash of the commit that a revision names; None where it names none, whatever the name tries to be."""
    answer = git(folder, "rev-parse", "--verify", "--quiet", "--end-of-options", name + "^{commit}")
    found = answer.decode("ascii", "replace").strip() if answer else ""
    return found if _HASH.fullmatch(found) else None


def folder_in_repository(folder: Path) -> str | None:
    """The path from the repository's root to `folder`, empty or ending in `/`; None without git or a repository."""
    answer = git(folder, "rev-parse", "--show-prefix")
    return None if answer is None else answer.decode("utf-8", "surrogateescape").removesuffix("\n")
