"""The section `rigging`: distances, angles and travels against the limits that the builder's manual gives."""

from __future__ import annotations

from jurystrut.quantities import Angle, Length, Tolerance
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Day, Text

__all__ = ["AngleCheck", "LengthCheck", "Rigging"]


class LengthCheck(Named):
    """A distance measured against its limit."""

    what: Text
    """For example wheel to tail post, left."""
    limit: Tolerance[Length] | None = None
    """For example 152 ± 0.125 in."""
    measured: Length | None = None
    """For example 152.06 in."""
    manual: Text | None = None
    """Which page gives the limit, for example rigging manual, page 12."""
    day: Day | None = None
    """For example 2026-03-21."""


class AngleCheck(Named):
    """An angle or a control travel measured against its limit."""

    what: Text
    """For example left aileron, up."""
    limit: Tolerance[Angle] | None = None
    """For example 21 ± 1 deg."""
    measured: Angle | None = None
    """For example 20.6 deg."""
    manual: Text | None = None
    """Which page gives the limit, for example rigging manual, page 14."""
    day: Day | None = None
    """For example 2026-03-21."""


class Rigging(Record):
    """The section `rigging`."""

    lengths: tuple[LengthCheck, ...] = ()
    """Distances."""
    angles: tuple[AngleCheck, ...] = ()
    """Angles and travels."""
