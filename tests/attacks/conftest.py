"""Bounds that every hostile text must keep: processor time and growth of memory."""

from __future__ import annotations

import time
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

_STATUS = Path("/proc/self/status")
_PEAK_RESET = Path("/proc/self/clear_refs")


class Bounded(Protocol):
    def __call__(self, seconds: float = 10.0, megabytes: float = 200.0) -> AbstractContextManager[None]: ...


def peak() -> float:
    """The most memory that was ever in use since the last reset, in MB; 0 where the system does not tell."""
    if not _STATUS.exists():
        return 0.0
    return next(int(line.split()[1]) / 1024 for line in _STATUS.read_text().splitlines() if line.startswith("VmHWM"))


def reset_peak() -> None:
    if _PEAK_RESET.exists():
        _PEAK_RESET.write_text("5")


@contextmanager
def _bounded(seconds: float = 10.0, megabytes: float = 200.0) -> Iterator[None]:
    reset_peak()
    before, start = peak(), time.process_time()
    yield
    used, grown = time.process_time() - start, peak() - before
    assert used < seconds, f"{used:.2f} s of processor time"
    assert grown < megabytes, f"grew by {grown:.0f} MB"


@pytest.fixture
def bounded() -> Bounded:
    """`with bounded():` holds what runs in it to ten seconds of processor time and 200 MB."""
    return _bounded
