"""Papers, evidence, inspections, deviations and the builder's log as the page shows them."""

from __future__ import annotations

import base64
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.records.evidence import files_named

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from jurystrut.judge import Judgement
    from jurystrut.records.papers import LogEntry

__all__ = ["EvidenceRow", "LogSum", "PapersView", "view"]


class EvidenceRow(NamedTuple):
    """One file, who points to it, what was found of it, and a thumbnail as a data address where it is a small picture."""

    path: str
    named_by: str
    found: str
    picture: str


class LogSum(NamedTuple):
    """Hours of the builder's log by year and by whose work it was."""

    year: int
    amateur: str
    others: str
    lines: int


class PapersView(NamedTuple):
    """What the page shows of papers."""

    documents: Sequence[Any]
    evidence: list[EvidenceRow]
    inspections: Sequence[Any]
    deviations: Sequence[Any]
    log: list[LogSum]


def view(judgement: Judgement, pictures: Mapping[str, tuple[str, bytes]]) -> PapersView:
    """What there is; lists stay empty where nothing is recorded."""
    sections = judgement.project.sections
    return PapersView(
        sections.get("documents", ()),
        _evidence(judgement, pictures),
        sorted(sections.get("inspections", ()), key=lambda inspection: inspection.day),
        sections.get("deviations", ()),
        _log(sections.get("builders_log", ())),
    )


def _evidence(judgement: Judgement, pictures: Mapping[str, tuple[str, bytes]]) -> list[EvidenceRow]:
    named: dict[str, list[str]] = {}
    for naming in files_named(judgement.project.sections):
        named.setdefault(naming.path, []).append(naming.subject)
    files = judgement.project.evidence or {}
    rows = []
    for path, subjects in sorted(named.items()):
        file = files.get(path)
        found = "not looked at" if file is None else file.trouble or f"{file.size:,} bytes"
        rows.append(EvidenceRow(path, ", ".join(dict.fromkeys(subjects)), found, _address(pictures.get(path))))
    return rows


def _address(picture: tuple[str, bytes] | None) -> str:
    return f"data:{picture[0]};base64,{base64.b64encode(picture[1]).decode('ascii')}" if picture else ""


def _log(entries: Sequence[LogEntry]) -> list[LogSum]:
    years: dict[int, list[LogEntry]] = {}
    for entry in entries:
        years.setdefault(entry.day.year, []).append(entry)
    return [
        LogSum(year, _hours(of, amateur=True), _hours(of, amateur=False), len(of)) for year, of in sorted(years.items())
    ]


def _hours(entries: Sequence[LogEntry], *, amateur: bool) -> str:
    return f"{sum(e.hours.si for e in entries if (e.by == 'amateur') is amateur) / 3600:.1f}"
