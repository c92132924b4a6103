"""The section `fuel`: tanks, vents, drains, feed, and the flow test."""

from __future__ import annotations

from typing import Literal

from jurystrut.quantities import Angle, Arm, Length, MassPerVolume, Volume, VolumeFlow
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Day, Flag, Text

__all__ = ["Drain", "FlowTest", "Fuel", "Tank", "Vent"]


class Tank(Named):
    """A fuel tank."""

    what: Text | None = None
    """For example left wing root."""
    capacity: Volume | None = None
    """All that it holds, for example 12 US gal."""
    usable: Volume | None = None
    """What can be used in every attitude, for example 11.5 US gal."""
    arm: Arm | None = None
    """Centre of its fuel from the datum, for example 9 in."""
    expansion_space: Volume | None = None
    """Space left when full, for example 0.3 US gal."""


class Vent(Named):
    """A tank vent."""

    tank: Text | None = None
    """For example LEFT-TANK."""
    diameter: Length | None = None
    """Inside, for example 0.25 in."""


class Drain(Named):
    """A drain for water and sediment."""

    place: Text | None = None
    """For example lowest point of the left tank."""
    lowest_point: Flag | None = None
    """For example true."""


class FlowTest(Named):
    """A measured flow at the engine's end of the fuel line."""

    day: Day | None = None
    """For example 2026-09-12."""
    flow: VolumeFlow | None = None
    """For example 14.2 US gal/h."""
    feed: Literal["gravity", "pump"] | None = None
    """What drove it, for example pump."""
    pitch: Angle | None = None
    """Attitude at the test, nose up positive, for example 15 deg."""


class Fuel(Record):
    """The section `fuel`."""

    grade: Text | None = None
    """For example motor gasoline, 91 AKI, no ethanol."""
    density: MassPerVolume | None = None
    """For example 6.0 lb/US gal."""
    tanks: tuple[Tank, ...] = ()
    """Tanks."""
    vents: tuple[Vent, ...] = ()
    """Vents."""
    drains: tuple[Drain, ...] = ()
    """Drains."""
    flow_tests: tuple[FlowTest, ...] = ()
    """Flow tests."""
