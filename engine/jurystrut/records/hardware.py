"""The section `hardware`: bolted joints."""

from __future__ import annotations

from jurystrut.quantities import Length, Torque
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Day, Flag, Text

__all__ = ["Hardware", "Joint"]


class Joint(Named):
    """One bolted joint."""

    what: Text | None = None
    """For example main spar to fuselage, upper left."""
    stack: tuple[Length, ...] = ()
    """Thickness of each part clamped, head to nut, for example [0.25 in, 0.75 in, 0.25 in]."""
    bolt: Text | None = None
    """Bolt by its open military part number, for example AN6-20."""
    washers: Count | None = None
    """Washers under head and nut together, for example 2."""
    nut: Text | None = None
    """Nut by its part number, for example AN310-6."""
    torque: Torque | None = None
    """Torque as set, the nut's own drag included, for example 180 in-lb."""
    nut_drag: Torque | None = None
    """Torque that turned the nut on its thread alone, for example 12 in-lb."""
    torqued_by: Text | None = None
    """Who set it, for example A. Builder."""
    torqued: Day | None = None
    """When, for example 2026-03-07."""
    edge_distance: Length | None = None
    """Bolt centre to the nearest edge, for example 0.75 in."""
    rotates: Flag = False
    """Whether the bolt or nut can turn in use, for example false."""
    hot: Flag = False
    """Whether it is hotter than 250 degF in use, for example false."""


class Hardware(Record):
    """The section `hardware`."""

    joints: tuple[Joint, ...] = ()
    """Joints."""
