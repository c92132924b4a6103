"""All targets by name, the words that readers look for, and what a target starts from."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from tests.fuzz.reading_targets import READING
from tests.fuzz.writing_targets import WRITING

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["CORPUS", "TARGETS", "corpus_of", "folder_of"]

TARGETS: dict[str, Callable[[bytes], None]] = {**READING, **WRITING}
CORPUS = Path(__file__).parent / "corpus"


def folder_of(target: str) -> str:
    """The folder of the corpus that a target starts from; writers share one, and so do readers of figures with units."""
    if target in WRITING:
        return "words"
    return "quantities" if target in {"gauges", "ranges", "tolerances"} else target


def corpus_of(target: str) -> list[bytes]:
    """What a target starts from, and what it once found."""
    return [path.read_bytes() for path in sorted((CORPUS / folder_of(target)).iterdir())]
