"""The section `hardware`: bolted joints, rivets, bends, clamps, safety wire, turnbuckles, restraints, and parts in stock."""

from typing import Annotated, Literal

from jurystrut.quantities import Angle, Force, Length, Mass, Range, Temperature, Torque
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Day, Flag, Id, Names, Number, Text

__all__ = [
    "Bend",
    "Clamp",
    "Hardware",
    "Joint",
    "Restraint",
    "RivetRow",
    "SafetyWire",
    "StockPart",
    "Turnbuckle",
    "Wrench",
]

_WrenchName = Annotated[Id, Names("hardware.wrenches")]
_StationName = Annotated[Id, Names("weights.stations")]


class Joint(Named):
    """One bolted joint."""

    what: Text | None = None
    """For example main spar to fuselage, upper left."""
    place: Literal["structure", "controls", "landing-gear", "tailwheel", "engine-mount", "other"] | None = None
    """What it belongs to, for example landing-gear."""
    stack: tuple[Length, ...] = ()
    """Thickness of each part clamped, head to nut, for example [0.25 in, 0.75 in, 0.25 in]."""
    gap: Length | None = None
    """Gap between the parts before the nut is tightened, for example 0 in."""
    bolt: Text | None = None
    """Bolt by its open military part number, for example AN6-20."""
    grip: Length | None = None
    """Grip from its drawing, for a bolt that the tables do not hold, for example 2.94 in."""
    length: Length | None = None
    """Length from its drawing, for a bolt that the tables do not hold, for example 3.59 in."""
    washers: Count | None = None
    """Washers under head and nut together, for example 2."""
    head_washers: tuple[Text, ...] = ()
    """Washers under the head by part number, for example [AN960-616]."""
    nut_washers: tuple[Text, ...] = ()
    """Washers under the nut by part number, for example [AN960-616, AN960-616L]."""
    nut: Text | None = None
    """Nut by its part number, for example AN310-6."""
    cotter: Text | None = None
    """Cotter pin by its part number, for example MS24665-302."""
    loaded: Literal["shear", "tension"] | None = None
    """What the bolt mainly carries, for example shear."""
    structure: Literal["primary", "secondary"] = "primary"
    """Whether the aircraft depends on it, for example primary."""
    torque: Torque | None = None
    """Torque as set, the nut's own drag included, for example 180 in-lb."""
    torque_range: Range[Torque] | None = None
    """Torque that a manual gives for this joint, drag included; it goes before the table, for example 90..110 in-lb."""
    manual: Text | None = None
    """Manual and page that give it, for example propeller manual, page 9."""
    nut_drag: Torque | None = None
    """Torque that turned the nut on its thread alone, for example 12 in-lb."""
    threads_showing: Number | None = None
    """Threads beyond the nut, for example 1.5."""
    torqued_by: Text | None = None
    """Who set it, for example A. Builder."""
    torqued: Day | None = None
    """When, for example 2026-03-07."""
    wrench: _WrenchName | None = None
    """With which wrench, for example TW-1."""
    adapter: Length | None = None
    """From the wrench's own square to the nut, where an adapter stood between them, for example 1.5 in."""
    adapter_points_back: Flag = False
    """Whether the adapter pointed back towards the grip, so that it shortened the wrench, for example false."""
    wrench_length: Length | None = None
    """With an adapter: from the grip to the wrench's own square, for example 10 in."""
    wrench_reading: Torque | None = None
    """With an adapter: what the wrench showed, for example 75 in-lb."""
    edge_distance: Length | None = None
    """Bolt centre to the nearest edge, for example 0.75 in."""
    spacing: Length | None = None
    """Bolt centre to the next bolt's centre, where there is one, for example 1.5 in."""
    least_edge_distance: Length | None = None
    """What the drawing asks for, for example 0.5625 in."""
    least_spacing: Length | None = None
    """What the drawing asks for, for example 1 in."""
    drawing: Text | None = None
    """The drawing that says so, for example drawing 12."""
    rotates: Flag = False
    """Whether the bolt or nut can turn in use, for example false."""
    opened_often: Flag = False
    """Whether it is taken apart before or after a flight, for example false."""
    hot: Flag = False
    """Whether it is hotter than 250 degF in use, for example false."""
    temperature: Temperature | None = None
    """How hot it becomes, for example 310 degF."""


class Wrench(Named):
    """A torque wrench."""

    calibrated: tuple[Day, ...] = ()
    """The days on which it was calibrated, for example [2025-02-10, 2026-02-12]."""


class RivetRow(Named):
    """One row of rivets."""

    what: Text | None = None
    """For example stringer to bulkhead 3."""
    kind: Literal["solid", "blind"] | None = None
    """For example solid."""
    part: Text | None = None
    """Its part number, for example MS20470AD4-5."""
    called_out: Flag | None = None
    """For a blind rivet: whether the designer calls it out by this part number, for example true."""
    head: Literal["protruding", "countersunk", "dimpled"] | None = None
    """Protruding, in a machine countersink, or in a dimple, for example protruding."""
    diameter: Length | None = None
    """For example 1/8 in."""
    length: Length | None = None
    """Before driving, for example 5/16 in."""
    sheets: tuple[Length, ...] = ()
    """Thickness of each sheet, manufactured head first, for example [0.032 in, 0.040 in]."""
    edge_distance: Length | None = None
    """Rivet centre to the nearest edge, for example 0.28 in."""
    least_edge_distance: Length | None = None
    """What the drawing asks for, for example 0.25 in."""
    drawing: Text | None = None
    """Which drawing says so, for example drawing 18."""
    pitch: Length | None = None
    """Rivet centre to the next in the row, for example 0.75 in."""
    row_distance: Length | None = None
    """To the next row, where there is one, for example 0.5 in."""
    shop_head_width: Length | None = None
    """Width of the head that was formed, the narrowest of the row, for example 0.19 in."""
    shop_head_height: Length | None = None
    """Its height, the lowest of the row, for example 0.065 in."""


class Bend(Named):
    """A bend in sheet metal."""

    what: Text | None = None
    """For example flange of rib 7."""
    alloy: Literal["2024-T3", "6061-T6", "5052-H32", "4130N", "other"] | None = None
    """For example 2024-T3."""
    thickness: Length | None = None
    """For example 0.032 in."""
    radius: Length | None = None
    """Inside the bend, for example 0.125 in."""
    angle: Angle | None = None
    """By how much it is bent from flat, for example 90 deg."""
    least_radius: Length | None = None
    """What the drawing or the metal's maker asks for, for example 0.094 in."""
    drawing: Text | None = None
    """Which drawing or page says so, for example drawing 21."""


class Clamp(Named):
    """A loop clamp round a line, hose or bundle."""

    what: Text | None = None
    """For example fuel line at the firewall."""
    size: Count | None = None
    """The dash number of its size, for example 6."""
    around: Length | None = None
    """Outside diameter of what it holds, for example 3/8 in."""
    holds: Literal["metal-line", "hose", "wires"] | None = None
    """For example metal-line."""
    vibrates: Flag | None = None
    """Whether the line shakes in use, for example true."""
    cushioned: Flag | None = None
    """Whether it has a cushion, for example true."""
    bonded: Flag | None = None
    """Whether it bonds the line, bare metal on bare metal, for example false."""


class SafetyWire(Named):
    """One run of safety wire."""

    what: Text | None = None
    """For example oil filter."""
    emergency: Flag = False
    """Whether it must shear when an emergency device is pulled, for example false."""
    material: Literal["steel", "stainless", "monel", "aluminium", "copper", "brass"] | None = None
    """For example stainless."""
    diameter: Length | None = None
    """For example 0.032 in."""
    hole: Length | None = None
    """Diameter of the hole that it goes through, for example 0.060 in."""
    spacing: Length | None = None
    """Distance between the parts that it joins, for example 1.5 in."""
    twists_per_inch: Number | None = None
    """For example 7."""
    pigtail: Length | None = None
    """Length of its twisted end, for example 0.5 in."""
    pigtail_turns: Count | None = None
    """Turns in that end, for example 5."""


class Turnbuckle(Named):
    """A turnbuckle and its safety."""

    what: Text | None = None
    """For example rudder cable, left."""
    cable: Length | None = None
    """Diameter of its cable, for example 1/8 in."""
    threads_showing: Number | None = None
    """Threads outside the barrel at the worse end, for example 1."""
    wrap: Literal["single", "double"] | None = None
    """How it is wired, for example double."""
    wire: Length | None = None
    """Diameter of that wire, for example 0.040 in."""
    material: Literal["copper", "brass", "stainless", "monel"] | None = None
    """Of that wire, for example stainless."""
    turns: Count | None = None
    """Turns of each wire's end round the shank, for example 4."""


class Restraint(Named):
    """What holds an occupant, baggage or a heavy item in a hard landing."""

    what: Text | None = None
    """For example left harness."""
    holds: Literal["occupant", "baggage", "item"]
    """For example occupant."""
    station: _StationName | None = None
    """The seat or baggage station, for example LEFT-SEAT."""
    mass: Mass | None = None
    """Mass of the item, or the most baggage, where no station gives it, for example 25 lb."""
    strength: Force | None = None
    """What it holds forward, all its anchors together, for example 2700 lb."""
    evidence: Text | None = None
    """How that strength is known, for example drawing 14, or pulled with a winch on 2026-05-02."""
    shoulder_harness: Flag | None = None
    """For an occupant: whether there is a shoulder harness besides the belt, for example true."""
    metal_latch: Flag | None = None
    """Whether it closes metal to metal, for example true."""
    single_release: Flag | None = None
    """Whether one movement opens all of it, for example true."""
    with_people: Flag | None = None
    """For baggage: whether it lies in the same space as people, not behind structure, for example true."""


class StockPart(Named):
    """Standard parts that are at hand and not yet in a joint; the id is no part number, as that may hold other signs."""

    part: Text
    """Part number, for example AN365-428A."""
    count: Count
    """For example 12."""


class Hardware(Record):
    """The section `hardware`."""

    joints: tuple[Joint, ...] = ()
    """Joints."""
    wrenches: tuple[Wrench, ...] = ()
    """Torque wrenches."""
    rivets: tuple[RivetRow, ...] = ()
    """Rows of rivets."""
    bends: tuple[Bend, ...] = ()
    """Bends in sheet metal."""
    clamps: tuple[Clamp, ...] = ()
    """Loop clamps."""
    safety_wires: tuple[SafetyWire, ...] = ()
    """Runs of safety wire."""
    turnbuckles: tuple[Turnbuckle, ...] = ()
    """Turnbuckles."""
    restraints: tuple[Restraint, ...] = ()
    """Harnesses, nets and straps."""
    least_threads_showing: Number | None = None
    """Threads that the builder wants to see beyond every nut, where that is more than one, for example 2."""
    stock: tuple[StockPart, ...] = ()
    """Standard parts at hand."""
