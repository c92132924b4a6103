"""Writers: a judgement in, text out. A writer prints nothing, opens no file and knows no physics."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable

    from jurystrut.judge import Judgement

__all__ = ["FORMATS", "writer"]

FORMATS: dict[str, str] = {
    "text": "text",
    "json": "json_",
    "sarif": "sarif",
    "junit": "junit",
    "junit-gitlab": "junit:write_gitlab",
    "annotations": "annotations",
    "markdown": "markdown",
    "gitlab": "gitlab",
}
"""Every format by its name on the command line, and the module that writes it, imported on demand."""


def writer(name: str) -> Callable[[Judgement], str]:
    """The function that writes a judgement in this format."""
    module, _, function = FORMATS[name].partition(":")
    written: Any = import_module(f"jurystrut.reports.{module}")
    return getattr(written, function or "write")  # type: ignore[no-any-return]
