"""One typed model a section of the build repository; importing this package loads none of them."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jurystrut.records.base import Record

__all__ = ["LISTS", "SECTIONS", "section_model"]

SECTIONS: dict[str, tuple[str, str]] = {
    "aircraft": ("aircraft", "Aircraft"),
    "electrical": ("electrical", "Electrical"),
    "panel": ("panel", "Panel"),
    "weights": ("weights", "Weights"),
    "lighting": ("lighting", "Lighting"),
    "covering": ("covering", "Covering"),
    "hardware": ("hardware", "Hardware"),
    "rigging": ("rigging", "Rigging"),
    "fuel": ("fuel", "Fuel"),
    "markings": ("markings", "Markings"),
    "documents": ("papers", "Document"),
    "inspections": ("papers", "Inspection"),
    "deviations": ("papers", "Deviation"),
    "evidence": ("papers", "Evidence"),
    "builders_log": ("papers", "LogEntry"),
}
"""Every section by its top-level key: the module that holds it and its model; a plain list for the last five."""

LISTS = frozenset({"documents", "inspections", "deviations", "evidence", "builders_log"})
"""Sections that are a list of records rather than a mapping of lists."""


def section_model(section: str) -> type[Record]:
    """The model of a section, or of one of its records where the section is a list."""
    module, name = SECTIONS[section]
    model: Any = getattr(import_module(f"jurystrut.records.{module}"), name)
    return model  # type: ignore[no-any-return]
