"""A finished report to standard output, or whole into a file: never half of it."""

from __future__ import annotations

import os
import stat
import sys
import tempfile
from pathlib import Path
from typing import Any

from jurystrut.errors import UsageError

__all__ = ["deliver"]


def deliver(text: str, output: str | None = None) -> None:
    """Write UTF-8 whatever the locale, to standard output or to the file `output`; raises UsageError where that fails."""
    data = text.encode("utf-8", "backslashreplace")
    if output is not None and output != "-":
        try:
            _into(Path(output).resolve(), data)
        except (OSError, RuntimeError, ValueError) as error:
            reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
            raise UsageError(f"{output} cannot be written: {reason}") from None
        return
    buffer: Any = getattr(sys.stdout, "buffer", None)
    if buffer is None:
        sys.stdout.write(text)
    else:
        sys.stdout.flush()
        buffer.write(data)


def _into(path: Path, data: bytes) -> None:
    """Beside the file first, then in its place in one step: whoever reads sees the old text or the new one."""
    mode = _mode(path)
    if not stat.S_ISREG(mode):  # a device or a pipe cannot be replaced
        path.write_bytes(data)
        return
    descriptor, beside = tempfile.mkstemp(prefix=f".{path.name[:64]}.", dir=path.parent)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(stat.S_IMODE(mode))
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise


def _mode(path: Path) -> int:
    """The mode of the file that is there, or the one a new file gets here."""
    try:
        return path.stat().st_mode
    except FileNotFoundError:
        umask = os.umask(0)
        os.umask(umask)
        return stat.S_IFREG | (0o666 & ~umask)
