"""How wiring is installed, as the builder measured it: what a bundle of the section `electrical` records, and its bonds."""

from __future__ import annotations

from typing import Literal

from jurystrut.quantities import Length, Resistance
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Flag, Text

__all__ = ["Bond", "Installed"]


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


class Bond(Named):
    """A bonding connection and its measured resistance."""

    kind: Literal["jumper", "frame"]
    """A jumper between two parts, or a frame of equipment on structure, for example jumper."""
    what: Text | None = None
    """For example rudder to fin."""
    resistance: Resistance | None = None
    """As measured across it, for example 1.2 mohm."""
