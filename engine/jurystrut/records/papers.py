"""The sections `documents`, `inspections` and `deviations`: what is written down, looked at, and lived with."""

from __future__ import annotations

from jurystrut.records.aircraft import Stage
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Day, FilePath, Id, Text

__all__ = ["Deviation", "Document", "Inspection"]


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
    subject: Id | None = None
    """The record that the finding is about; every subject of the rule where left out, for example W12."""
    reason: Text
    """For example measured 0.48 V in the finished aircraft."""
    agreed_by: Text
    """For example technical counsellor."""
    day: Day
    """When it was agreed, for example 2026-10-02."""
    until: Day | Stage | None = None
    """The last day, or the stage at which it ends, for example first-flight."""
