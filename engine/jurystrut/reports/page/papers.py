"""Papers, evidence, inspections, deviations and the builder's log as the page shows them."""

from __future__ import annotations

import base64
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.records.evidence import files_named

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from jurystrut.judge import Judgement
    from jurystrut.records.evidence import EvidenceFile
    from jurystrut.records.papers import Evidence, LogEntry

__all__ = ["EvidenceRow", "LogSum", "PapersView", "view"]


class EvidenceRow(NamedTuple):
    """One file, what it shows, who points to it, what was found of it, and a thumbnail as a data address if it is a picture."""

    path: str
    what: str
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
    about = {record.file: record for record in judgement.project.sections.get("evidence", ())}
    for path, record in about.items():
        named[path] += record.shows
    return [
        EvidenceRow(
            path,
            _what(about.get(path)),
            ", ".join(dict.fromkeys(subjects)),
            _found((judgement.project.evidence or {}).get(path), about.get(path)),
            _address(pictures.get(path)),
        )
        for path, subjects in sorted(named.items())
    ]


def _what(record: Evidence | None) -> str:
    return ", ".join(str(part) for part in (record.what or record.kind, record.day) if part) if record else ""


def _found(file: EvidenceFile | None, record: Evidence | None) -> str:
    """What there is of a file, in words: its size, and whether it is the one that was recorded."""
    if file is None:
        return "not looked at"
    if file.trouble:
        return file.trouble
    size = f"{file.size:,} bytes"
    if record is None or record.sha256 is None or file.sha256 is None:
        return size
    return size + (", as recorded" if file.sha256 == record.sha256 else ", changed since it was recorded")


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
