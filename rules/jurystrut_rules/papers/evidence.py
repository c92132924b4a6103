"""Is the evidence that records point to there, and is it still what it was?"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.records.evidence import EvidenceFile, files_named
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Spot,
    Stage,
    Verdict,
    at_least,
    fact,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.papers import Evidence
    from jurystrut.records.project import Project

__all__ = [
    "Found",
    "evidence_files",
    "evidence_holds_something",
    "evidence_is_dated",
    "evidence_is_hashed",
    "evidence_is_there",
    "evidence_is_unchanged",
    "evidence_shows_something",
]


class Found(NamedTuple):
    """A file that a record names, who names it where, and what was found."""

    subject: str
    spot: Spot
    file: EvidenceFile


@fact
def evidence_files(project: Project) -> list[Found]:
    """Every file that a record names, with what was found of it."""
    if project.evidence is None:
        raise MissingRecord(
            "the records were read without their folder, so the files that they name were not looked at"
        )
    named = files_named(project.sections)
    return [
        Found(n.subject, n.spot, project.evidence.get(n.path, EvidenceFile(n.path, trouble="it was not looked at")))
        for n in named
    ]


@rule(
    "papers/evidence-present",
    title="Evidence is there",
    asks="Is every file that a record points to in the repository?",
    references=("own-evidence", "ac20-27-logs"),
    due=Stage.DESIGN,
    remedy="Add the file to the repository, or correct its path.",
)
def evidence_is_there(evidence_files: list[Found]) -> Iterator[Finding]:
    """Every field that names a file, in any section, is followed: the file must be an ordinary one inside the repository.

    What it shows is not looked at. A link that leads out of the repository is not followed and counts as missing: whoever
    gets a copy of the repository would not have the file.
    """
    if not evidence_files:
        yield not_applicable("aircraft", "no record points to a file")
    for found in evidence_files:
        if found.file.trouble:
            yield fails(
                found.subject,
                f"{found.file.path}: {found.file.trouble}",
                found.spot,
                remedy="Add the file, or correct its path.",
            )
        else:
            yield passes(found.subject, f"{found.file.path} is there, {found.file.size} bytes", found.spot)


@rule(
    "papers/evidence-not-empty",
    title="Evidence holds something",
    asks="Does every file that a record points to hold something?",
    references=("own-evidence",),
    due=Stage.DESIGN,
    remedy="Put the real file in its place.",
)
def evidence_holds_something(evidence_files: list[Found]) -> Iterator[Finding]:
    """A file of no bytes is what a broken copy leaves behind. One byte passes: what a file shows is for people to see."""
    there = [found for found in evidence_files if not found.file.trouble]
    if not there:
        yield not_applicable("aircraft", "no record points to a file that is there")
    for found in there:
        message = f"{found.file.path} holds {found.file.size} bytes"
        yield at_least(
            found.subject, found.file.size, 1, "bytes", message, found.spot, remedy="Put the real file in its place."
        )


@rule(
    "papers/evidence-unchanged",
    title="Evidence is unchanged",
    asks="Is every file whose SHA-256 is recorded still the file that was recorded?",
    references=("own-evidence",),
    due=Stage.DESIGN,
    remedy="Bring the old file back, or record the new one's SHA-256 and say why it changed.",
)
def evidence_is_unchanged(evidence_files: list[Found], evidence: tuple[Evidence, ...] = ()) -> Iterator[Finding]:
    """The SHA-256 of the file (FIPS 180-4) is computed and compared with the one on record.

    Any change shows, also one that does no harm, such as a picture saved anew. A file that is missing is left to the rule
    that asks for it; one too large to be read in a check is `no-data`.
    """
    files = {found.file.path: found.file for found in evidence_files}
    hashed = [record for record in evidence if record.sha256]
    if not hashed:
        yield not_applicable("aircraft", "no SHA-256 of a file is recorded")
    for record in hashed:
        yield _compared(record, files[record.file])


def _compared(record: Evidence, file: EvidenceFile) -> Finding:
    if file.trouble or not file.size:
        return no_data(record.id, f"{file.path} is missing or empty, so it cannot be compared", record.at("file"))
    if file.sha256 is None:
        return no_data(
            record.id,
            f"{file.path} is too large to be compared in a check",
            record.at("file"),
            remedy="Keep a smaller copy.",
        )
    if file.sha256 == record.sha256:
        return passes(record.id, f"{file.path} is the file that was recorded", record.at("sha256"))
    message = f"{file.path} has changed: its SHA-256 begins {file.sha256[:12]}, recorded is {str(record.sha256)[:12]}"
    return fails(
        record.id,
        message,
        record.at("sha256"),
        record.at("file"),
        remedy="Bring the old file back, or record the new SHA-256.",
    )


@rule(
    "papers/evidence-hashed",
    title="Evidence has its SHA-256 on record",
    asks="Is the SHA-256 of every file that a record points to on record, so that a change would be noticed?",
    references=("own-evidence",),
    due=Stage.INSPECTION,
    remedy="Record it under 'evidence' with the file's SHA-256.",
    at_worst=Verdict.WARN,
)
def evidence_is_hashed(evidence_files: list[Found], evidence: tuple[Evidence, ...] = ()) -> Iterator[Finding]:
    """Photos get edited and scans replaced; years later nobody knows. Each file is looked for among the records of
    `evidence` that carry a SHA-256. This one is only ever a warning.
    """
    hashed = {record.file for record in evidence if record.sha256}
    if not evidence_files:
        yield not_applicable("aircraft", "no record points to a file")
    for found in {found.file.path: found for found in evidence_files}.values():
        if found.file.path in hashed:
            yield passes(found.subject, f"{found.file.path} has its SHA-256 on record", found.spot)
        else:
            yield warns(
                found.subject,
                f"no SHA-256 of {found.file.path} is on record",
                found.spot,
                remedy="Record what `sha256sum` prints.",
            )


@rule(
    "papers/evidence-dated",
    title="Evidence is dated",
    asks="Has every piece of evidence a day, and one that is past?",
    references=("own-evidence", "ac20-27-logs"),
    due=Stage.SYSTEMS,
    remedy="Record 'day'.",
    at_worst=Verdict.WARN,
)
def evidence_is_dated(day: datetime.date, evidence: tuple[Evidence, ...] = ()) -> Iterator[Finding]:
    """A log with dates is asked for; a photo without its day shows less. One dated after the day of the check is wrong."""
    if not evidence:
        yield not_applicable("aircraft", "no evidence is recorded")
    for record in evidence:
        if record.day is None:
            yield no_data(record.id, "its day is not recorded", record.at(), remedy="Record 'day'.")
        elif record.day > day:
            yield warns(
                record.id,
                f"dated {record.day}, after the day of this check, {day}",
                record.at("day"),
                remedy="Correct 'day'.",
            )
        else:
            yield passes(record.id, f"dated {record.day}", record.at("day"))


@rule(
    "papers/evidence-shows",
    title="Evidence says what it shows",
    asks="Does every piece of evidence name the records that it is evidence of?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Record 'shows'.",
    at_worst=Verdict.WARN,
)
def evidence_shows_something(evidence: tuple[Evidence, ...] = ()) -> Iterator[Finding]:
    """A photo that names no record is found by nobody who asks about that record. Each must name at least one."""
    if not evidence:
        yield not_applicable("aircraft", "no evidence is recorded")
    for record in evidence:
        if record.shows:
            yield passes(record.id, f"shows {', '.join(record.shows)}", record.at("shows"))
        else:
            yield no_data(
                record.id, "which records it is evidence of is not recorded", record.at(), remedy="Record 'shows'."
            )
