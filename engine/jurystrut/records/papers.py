"""Lists of papers: `documents`, `inspections`, `deviations`, `evidence` and `builders_log`."""

import datetime
from typing import Annotated, Literal

from jurystrut.quantities import Time
from jurystrut.records.aircraft import Stage
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import AnyRecord, Day, Digest, FilePath, Id, Names, Text

__all__ = ["Deviation", "Document", "Evidence", "Inspection", "LogEntry"]

_RecordName = Annotated[
    Id,
    Names(
        "electrical",
        "panel",
        "weights",
        "lighting",
        "covering",
        "hardware",
        "rigging",
        "fuel",
        "markings",
        "documents",
        "inspections",
    ),
]


class Document(Named):
    """A certificate, form, report or manual."""

    kind: Text
    """For example registration."""
    number: Text | None = None
    """For example 00123."""
    day: Day | None = None
    """When it was issued, for example 2026-02-01."""
    expires: Day | None = None
    """The last day on which it counts, for example 2029-02-01."""
    evidence: FilePath | None = None
    """A scan of it, for example evidence/registration.pdf."""
    text: Text | None = None
    """The words that other records depend on, for example an operating limitation as issued."""


class Inspection(Named):
    """Somebody looked at something."""

    what: Text
    """For example left wing before covering."""
    who: Text
    """For example technical counsellor."""
    day: Day
    """For example 2025-11-08."""
    stage: Stage | None = None
    """The stage at which it was done, for example covering."""
    result: Text
    """For example no remarks."""
    evidence: FilePath | None = None
    """For example evidence/inspection-left-wing.jpg."""


class Deviation(Record):
    """A finding that the builder has decided to live with."""

    rule: Text
    """The rule, for example electrical/voltage-drop."""
    subject: AnyRecord | None = None
    """The record that the finding is about; every subject of the rule where left out, for example W12."""
    reason: Text
    """For example measured 0.48 V in the finished aircraft."""
    agreed_by: Text
    """For example technical counsellor."""
    day: Day
    """When it was agreed, for example 2026-10-02."""
    until: Day | Stage | None = None
    """The last day, or the stage at which it ends, for example first-flight."""

    def is_current(self, stage: Stage, day: datetime.date) -> bool:
        """Whether it still counts at a stage of the build, on a day."""
        if self.until is None:
            return True
        return stage < self.until if isinstance(self.until, Stage) else day <= self.until


class Evidence(Named):
    """A photo, scan, receipt or measurement kept in the repository, and what it shows."""

    file: FilePath
    """For example evidence/left-wing-open.jpg."""
    kind: Literal["photo", "scan", "receipt", "measurement", "drawing", "other"] | None = None
    """For example photo."""
    what: Text | None = None
    """What it shows, in words, for example left wing before its upper side was covered."""
    day: Day | None = None
    """When it was made, for example 2026-05-22."""
    shows: tuple[_RecordName, ...] = ()
    """The records that it is evidence of, for example [I-LW, LEFT-WING]."""
    sha256: Digest | None = None
    """The file's SHA-256 when it was recorded, as `sha256sum` prints it; a later change is then noticed."""


class LogEntry(Record):
    """One line of the builder's log."""

    day: Day
    """For example 2025-03-14."""
    hours: Time
    """For example 3.5 h."""
    task: Text
    """For example ribs 4 to 9 glued to the front spar."""
    who: Text
    """For example builder."""
    by: Literal["amateur", "paid", "kit-maker"] = "amateur"
    """Whose work it was: of who builds for education or recreation, of who is paid, of the kit's maker, for example amateur."""
    nature: Literal["fabrication", "assembly", "other"] | None = None
    """Whether parts were made, put together, or neither, for example fabrication."""
