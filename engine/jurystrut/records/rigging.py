"""The section `rigging`: distances, angles and travels against the limits that the builder's manual gives; cables,
pulleys, locks.
"""

from typing import Annotated, Literal

from jurystrut.quantities import Angle, Force, Length, Ratio, Temperature, Time, Tolerance
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Day, Flag, Id, Names, Text

__all__ = [
    "AngleCheck",
    "Cable",
    "Control",
    "ControlLock",
    "ControlTest",
    "Fairlead",
    "FreePlay",
    "LengthCheck",
    "Pair",
    "Pulley",
    "Rigging",
    "TensionPoint",
    "Toe",
    "Triangle",
    "Washout",
]

_CableName = Annotated[Id, Names("rigging.cables")]
_AngleName = Annotated[Id, Names("rigging.angles")]
_CheckName = Annotated[Id, Names("rigging.lengths", "rigging.angles")]

Control = Literal["aileron", "elevator", "rudder", "flaps", "trim", "stabiliser", "brake", "other"]
"""A control that moves a surface or the brakes."""


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
    control: Control | None = None
    """For a travel: the control, for example aileron."""
    stop: Text | None = None
    """For a travel: what stops it, for example bolt at the torque tube, locked with a nut."""
    limit: Tolerance[Angle] | None = None
    """For example 21 ± 1 deg."""
    measured: Angle | None = None
    """For example 20.6 deg."""
    manual: Text | None = None
    """Which page gives the limit, for example rigging manual, page 14."""
    day: Day | None = None
    """For example 2026-03-21."""


class Pair(Named):
    """A left and a right measurement that should be alike."""

    left: _CheckName
    """For example INCIDENCE-L."""
    right: _CheckName
    """For example INCIDENCE-R."""
    length: Length | None = None
    """How far two distances may differ, for example 0.125 in."""
    angle: Angle | None = None
    """How far two angles may differ, for example 0.2 deg."""
    manual: Text | None = None
    """Which page says so, for example rigging manual, page 8."""


class Triangle(Named):
    """Two diagonals from the ends of a base to one point that should lie square over its middle."""

    what: Text
    """For example wing tips to tail post."""
    left: Length | None = None
    """From the left end of the base to the point, for example 214.44 in."""
    right: Length | None = None
    """From the right end, for example 214.56 in."""
    base: Length | None = None
    """Between the two ends of the base, for example 340 in."""
    difference: Length | None = None
    """How far the diagonals may differ, for example 0.25 in."""
    angle: Angle | None = None
    """How far the line to the point may be off square, for example 0.1 deg."""
    manual: Text | None = None
    """Which page gives these limits, for example rigging manual, page 6."""
    day: Day | None = None
    """For example 2026-07-05."""


class Toe(Named):
    """A main wheel's toe, from a straightedge along it."""

    straightedge: Length | None = None
    """Its length, for example 36 in."""
    front: Length | None = None
    """From its front end to the centre line, for example 33.06 in."""
    rear: Length | None = None
    """From its rear end to the centre line, for example 33.00 in."""
    limit: Tolerance[Angle] | None = None
    """Toe out is positive, for example 0 ± 0.25 deg."""
    manual: Text | None = None
    """Which page gives the limit, for example gear drawing 3."""
    day: Day | None = None
    """For example 2026-07-05."""


class Washout(Named):
    """How much less incidence a wing has at its tip than at its root."""

    root: _AngleName
    """The angle measured at the root, for example INCIDENCE-L."""
    tip: _AngleName
    """The angle measured at the tip, for example INCIDENCE-TIP-L."""
    limit: Tolerance[Angle] | None = None
    """For example 2 ± 0.25 deg."""
    manual: Text | None = None
    """Which page gives the limit, for example rigging manual, page 8."""


class TensionPoint(Record):
    """One point of a designer's chart of cable tension."""

    temperature: Temperature
    """For example 70 degF."""
    tension: Force
    """For example 40 lb."""


class Cable(Named):
    """A control cable."""

    what: Text | None = None
    """For example rudder, left."""
    use: Literal["primary", "trim", "other"] | None = None
    """What it moves, for example primary."""
    diameter: Length | None = None
    """For example 1/8 in."""
    construction: Literal["7x7", "7x19"] | None = None
    """Strands and wires, for example 7x19."""
    material: Literal["carbon", "stainless"] | None = None
    """For example stainless."""
    ultimate_load: Force | None = None
    """The most that the design puts on it, for example 450 lb."""
    tension: Force | None = None
    """As measured, for example 41 lb."""
    temperature: Temperature | None = None
    """Of the air when measured, for example 62 degF."""
    chart: tuple[TensionPoint, ...] = ()
    """The designer's tension by temperature, for example [{temperature: 40 degF, tension: 36 lb}, ...]."""
    tension_tolerance: Force | None = None
    """How far the tension may be off the chart, for example 4 lb."""
    manual: Text | None = None
    """Which page gives the chart, for example rigging manual, page 20."""
    tensiometer: Text | None = None
    """With what it was measured, for example tensiometer 2."""
    tensiometer_calibrated: Day | None = None
    """When that was last calibrated before, for example 2026-02-12."""
    tensiometer_interval: Time | None = None
    """How long a calibration is good for, as its maker says, for example 365 day."""
    day: Day | None = None
    """For example 2026-10-03."""
    clearance: Length | None = None
    """Least distance to anything fixed, over the whole travel, for example 0.4 in."""
    least_clearance: Length | None = None
    """What the designer asks for, for example 0.25 in."""
    worn: Ratio | None = None
    """Wear of the outer wires where it is worst, for example 10 %."""


class Pulley(Named):
    """A pulley of a control cable."""

    cable: _CableName | None = None
    """For example C-RUD-L."""
    cable_size: Length | None = None
    """The cable that it is made for, for example 1/8 in."""
    misalignment: Angle | None = None
    """Between the cable and the pulley's plane, for example 0.8 deg."""
    side_travel: Flag = False
    """Whether the cable moves sideways by design, for example false."""
    guarded: Flag | None = None
    """Whether a guard keeps a slack cable in the groove, for example true."""


class Fairlead(Named):
    """A fairlead of a control cable."""

    cable: _CableName | None = None
    """For example C-RUD-L."""
    turn: Angle | None = None
    """By how much it turns the cable, for example 1.5 deg."""


class FreePlay(Named):
    """How far a surface moves by hand while its control is held fast."""

    what: Text | None = None
    """For example trim tab, at its trailing edge."""
    control: Control | None = None
    """For example trim."""
    play: Length | None = None
    """At the trailing edge, all in all, for example 0.05 in."""
    chord: Length | None = None
    """Of the surface, where that is measured, from its hinge, for example 3 in."""
    limit: Length | None = None
    """The most that the drawing or manual allows, for example 0.06 in."""
    manual: Text | None = None
    """Which page says so, for example rigging manual, page 18."""


class ControlLock(Named):
    """A lock that holds the controls on the ground."""

    what: Text | None = None
    """For example pin through the stick."""
    cannot_fly_with_it: Flag | None = None
    """Whether it comes off by itself, or cannot be overlooked before take-off, for example true."""
    can_engage_in_flight: Flag | None = None
    """For example false."""


class ControlTest(Named):
    """Somebody moved one control through its whole travel and looked at every part of it."""

    control: Control
    """For example elevator."""
    day: Day | None = None
    """For example 2026-10-04."""
    by: Text | None = None
    """For example A. Builder and a second pair of eyes."""
    loaded: Flag | None = None
    """Whether the surface was held against it, for example true."""
    free: Flag | None = None
    """Whether nothing jammed, rubbed or fouled anything, the other surfaces at any place, for example true."""
    right_way: Flag | None = None
    """Whether the surface moved the way it should, for example true."""


class Rigging(Record):
    """The section `rigging`."""

    lengths: tuple[LengthCheck, ...] = ()
    """Distances."""
    angles: tuple[AngleCheck, ...] = ()
    """Angles and travels."""
    pairs: tuple[Pair, ...] = ()
    """Measurements that should be alike on both sides."""
    triangles: tuple[Triangle, ...] = ()
    """Diagonals."""
    washouts: tuple[Washout, ...] = ()
    """Washout of the wings."""
    toes: tuple[Toe, ...] = ()
    """Toe of the main wheels."""
    cables: tuple[Cable, ...] = ()
    """Control cables."""
    pulleys: tuple[Pulley, ...] = ()
    """Pulleys."""
    fairleads: tuple[Fairlead, ...] = ()
    """Fairleads."""
    free_plays: tuple[FreePlay, ...] = ()
    """Free play of the surfaces."""
    locks: tuple[ControlLock, ...] = ()
    """Control locks."""
    tests: tuple[ControlTest, ...] = ()
    """Controls moved through their travel."""
