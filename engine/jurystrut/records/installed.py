"""How wiring is installed, as the builder measured it: what a bundle of the section `electrical` records, and its bonds."""

from typing import Literal

from jurystrut.quantities import Area, Length, Resistance, Time
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Flag, Text

__all__ = ["Bond", "Coax", "Installed", "IsolatedPart"]


class Installed(Record):
    """A bundle as it lies in the aircraft: the worst place of each kind."""

    support_spacing: Length | None = None
    """The longest way between two clamps, for example 20 in."""
    tie_spacing: Length | None = None
    """The longest way between two ties, for example 6 in."""
    sag: Length | None = None
    """How far it can be pushed down midway between two clamps, for example 3/8 in."""
    diameter: Length | None = None
    """Its outside diameter, or that of its thickest wire where the wires bend one by one, for example 0.3 in."""
    bend_radius: Length | None = None
    """Its tightest bend, on the inside, for example 4 in."""
    fluid_distance: Length | None = None
    """The least distance from fuel and oxygen lines and tank walls, for example 6 in."""
    held_off_fluids: Flag | None = None
    """Whether clamps and ties keep it off them even with one wire broken and one clamp missing, for example true."""
    control_distance: Length | None = None
    """The least distance from movable controls when pushed by hand, for example 3/4 in."""
    hole_clearance: Length | None = None
    """The least clearance from the edge of a hole that it goes through, for example 0.5 in."""
    grommets: Flag | None = None
    """Whether every hole that it goes through has a grommet, for example true."""
    drip_loop: Flag | None = None
    """Whether it has a drip loop where it runs down into a connector or box, for example true."""
    spare_terminations: Count | None = None
    """How often its wires could be cut off and terminated anew, for example 2."""
    held_by: Literal["clamps", "tape", "straps", "cord"] | None = None
    """What carries it; ties that only hold its wires together do not count, for example clamps."""
    kept_off_by: Literal["stand-offs", "nothing-near", "tape", "tubing"] | None = None
    """What keeps it off structure that it would touch, for example stand-offs."""
    continuous_lacing: Flag | None = None
    """Whether it is laced from end to end in one piece, for example false."""
    inside_box: Flag = False
    """Whether it lies inside a panel or a junction box all the way, for example true."""
    chafes: Flag | None = None
    """Whether it can rub on the airframe or on a component, for example false."""
    in_tubing: Flag | None = None
    """Whether a part of it runs in tubing, for example false."""
    drain_holes: Flag | None = None
    """Whether that tubing has a drain hole at its lowest part, for example true."""
    at_hinges: Literal["twists", "bends", "no-hinge"] | None = None
    """What it does where it crosses a hinge, for example twists."""
    near_controls: Flag | None = None
    """Whether it runs beside flight controls, for example true."""
    steel_clamps: Flag | None = None
    """Whether the clamps beside flight controls are of steel, for example true."""
    failed_clamp_clear: Flag | None = None
    """Whether it stays off the controls when any one clamp fails, for example true."""


class Bond(Named):
    """A bonding connection and its measured resistance."""

    kind: Literal["jumper", "frame"]
    """A jumper between two parts, or a frame of equipment on structure, for example jumper."""
    what: Text | None = None
    """For example rudder to fin."""
    resistance: Resistance | None = None
    """As measured across it, for example 1.2 mohm."""
    bare_metal: Flag | None = None
    """Whether paint and anodising were taken off both faces, for example true."""
    treated_within: Time | None = None
    """How long after that the faces were treated and closed, for example 4 h."""
    onto: Literal["aluminium", "steel", "magnesium", "other"] | None = None
    """The metal that it is fastened to, for example steel."""
    fastened_by: Literal["machine-screw", "bolt", "rivet", "clamp", "self-tapping-screw"] | None = None
    """What fastens it, for example bolt."""


class IsolatedPart(Named):
    """A conducting part that may be charged in flight."""

    what: Text | None = None
    """For example fuel filler cap."""
    area: Area | None = None
    """Its surface, for example 4 in2."""
    length: Length | None = None
    """Its longest side, for example 5 in."""
    bonded: Flag | None = None
    """Whether a bond leads its charge away, for example true."""


class Coax(Named):
    """A coaxial cable."""

    what: Text | None = None
    """For example radio to its antenna."""
    diameter: Length | None = None
    """Its outside diameter, for example 0.195 in."""
    bend_radius: Length | None = None
    """Its tightest bend, on the inside, for example 2 in."""
    tight_clamps: Flag | None = None
    """Whether any clamp or tie squeezes it out of round, for example false."""
    centre: Literal["stranded", "solid"] | None = None
    """Its inner conductor, for example stranded."""
