"""The section `aircraft`: what it is, what it is meant for, and its limits."""

from enum import Enum
from typing import Annotated, Literal

from jurystrut.quantities import Area, Arm, Length, Mass, Power, Speed
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Country, Flag, Id, Names, Number, Text

__all__ = [
    "Aircraft",
    "Airspace",
    "Engine",
    "EngineLimit",
    "EnvelopeCorner",
    "Limits",
    "OperatingLimitation",
    "Operation",
    "Propeller",
    "Seat",
    "Stage",
]

Operation = Literal["day-vfr", "night-vfr", "ifr"]
"""A kind of flight that the builder intends."""

Airspace = Literal[
    "class-a",
    "class-b",
    "class-c",
    "class-d",
    "class-e",
    "class-g",
    "mode-c-veil",
    "above-class-b",
    "above-class-c",
    "other",
]
"""Airspace that the builder intends to enter; `mode-c-veil` is within 30 nautical miles of a listed airport."""

_DocumentName = Annotated[Id, Names("documents")]


class Stage(Enum):
    """How far the build is; later stages are greater."""

    DESIGN = "design"
    STRUCTURE = "structure"
    COVERING = "covering"
    SYSTEMS = "systems"
    ENGINE_RUN = "engine-run"
    INSPECTION = "inspection"
    FIRST_FLIGHT = "first-flight"
    FLIGHT_TEST = "flight-test"
    OPERATING = "operating"

    @property
    def rank(self) -> int:
        """0 for `design`, counted upwards."""
        return _RANKS[self]

    def __ge__(self, other: "Stage") -> bool:
        return self.rank >= other.rank

    def __lt__(self, other: "Stage") -> bool:
        return self.rank < other.rank


_RANKS = {stage: rank for rank, stage in enumerate(Stage)}


class EnvelopeCorner(Record):
    """One corner of the weight and balance envelope."""

    weight: Mass
    """Loaded weight at the corner, for example 760 lb."""
    arm: Arm
    """Centre of gravity at the corner, from the datum, positive aft, for example 10.5 in."""


class Limits(Record):
    """The aircraft's own limits, as its designer or its flight tests give them."""

    gross_weight: Mass | None = None
    """Greatest weight at take-off, for example 1320 lb."""
    landing_weight: Mass | None = None
    """Greatest weight at landing where it is less than gross, for example 1320 lb."""
    zero_fuel_weight: Mass | None = None
    """Greatest weight without usable fuel, for example 1200 lb."""
    cg_envelope: tuple[EnvelopeCorner, ...] = ()
    """Corners of the envelope in order around it, for example [{weight: 760 lb, arm: 10.5 in}, ...]."""
    cg_envelope_joined_in: Literal["arm", "moment"] | None = None
    """Whether the corners are joined by straight lines in weight against arm or against moment, for example arm."""
    mean_chord: Length | None = None
    """Mean aerodynamic chord, for example 51 in."""
    mean_chord_leading_edge: Arm | None = None
    """Arm of the leading edge of the mean aerodynamic chord, for example 0 in."""
    altitude: Length | None = None
    """Highest altitude intended, for example 12000 ft."""
    stall_speed_flaps: Speed | None = None
    """VS0, stall with flaps down, calibrated, for example 39 kt."""
    stall_speed: Speed | None = None
    """VS1, stall with flaps up, calibrated, for example 44 kt."""
    flaps_speed: Speed | None = None
    """VFE, greatest speed with flaps down, for example 78 kt."""
    manoeuvring_speed: Speed | None = None
    """VA, for example 92 kt."""
    cruise_speed: Speed | None = None
    """VNO, greatest structural cruising speed, for example 108 kt."""
    never_exceed_speed: Speed | None = None
    """VNE, for example 138 kt."""
    maximum_cruise: Speed | None = None
    """Greatest cruising speed in calibrated airspeed; it decides the height of the registration marks, for example 112 kt."""


class EngineLimit(Named):
    """One limit of the engine, in the unit of the instrument that shows it."""

    what: Text
    """For example oil pressure."""
    least: Text | None = None
    """Not below this, for example 12 psi."""
    most: Text | None = None
    """Not above this, for example 102 psi."""


class Engine(Record):
    """The engine, as far as other records depend on it."""

    power: Power | None = None
    """Greatest continuous power, for example 100 hp."""
    cooling: Literal["air", "liquid", "mixed"] | None = None
    """How it is cooled, for example liquid."""
    ignition: Literal["magneto", "electronic", "electronic-and-magneto", "compression"] | None = None
    """What fires it; electronic ignition stops with the electrical system, for example electronic."""
    fuel_feed: Literal["gravity", "mechanical-pump", "electric-pump", "mechanical-and-electric-pump"] | None = None
    """What brings the fuel to it, for example electric-pump."""
    pressure_oil: Flag | None = None
    """Whether a pump presses its oil; a two-stroke engine that burns its oil says no, for example true."""
    altitude_engine: Flag | None = None
    """Whether it is blown so that it keeps its rated power above sea level, for example false."""
    limits: tuple[EngineLimit, ...] = ()
    """Its limits, for example [{id: LIMIT-RPM, what: engine speed, most: 5800 rpm}, ...]."""


class Propeller(Record):
    """The propeller."""

    diameter: Length | None = None
    """For example 66 in."""
    blades: Count | None = None
    """For example 3."""
    axis_height: Length | None = None
    """From the ground to the middle of its hub, as it stood when `ground_clearance` was measured, for example 42.5 in."""
    ground_clearance: Length | None = None
    """Blade tip to ground, level, tyres and struts at their least, for example 9 in."""
    flat_tyre_clearance: Length | None = None
    """Blade tip to ground with the worst tyre flat and its strut down, for example 3.5 in."""
    water_clearance: Length | None = None
    """Blade tip to water, for floats, for example 19 in."""
    tip_clearance: Length | None = None
    """Blade tip to the nearest structure beside it, for example 1.5 in."""
    axial_clearance: Length | None = None
    """Blade to the nearest fixed part along the axis, for example 0.75 in."""


class Seat(Named):
    """One seat, and what holds its occupant."""

    front: Flag | None = None
    """Whether it is in the front row, for example true."""
    belt: Literal["none", "lap-belt", "three-point", "four-point", "five-point"] | None = None
    """What holds the occupant; three points and more include the shoulders, for example four-point."""
    metal_latch: Flag | None = None
    """Whether metal latches into metal, for example true."""
    standard: Text | None = None
    """The standard that belt or harness is said to meet, for example TSO-C114."""


class OperatingLimitation(Named):
    """One of the aircraft's own operating limitations, as issued: the first authority on what it may be used for."""

    number: Text | None = None
    """Its number in the document, for example 9."""
    text: Text
    """Its words, for example night flight is authorized when equipped in accordance with 91.205(c)."""
    document: _DocumentName | None = None
    """The document that it stands in, for example D-LIMITATIONS."""
    on: tuple[Text, ...]
    """What it decides: a kind of flight, an item of 91.205 as b-3, or a placard's purpose, for example [night-vfr]."""
    says: Literal["allows", "bars", "asks", "waives"]
    """Whether it allows or bars that flight, asks for or waives that item, or asks for that placard, for example allows."""


class Aircraft(Record):
    """The section `aircraft`."""

    name: Text
    """What the builder calls the design, for example Marsh Warbler."""
    registration: Text | None = None
    """The registration reserved or granted, for example X-EXAMPLE."""
    authority: Country
    """Whose rules apply, by country code, for example US."""
    basis: Literal["amateur-built"] = "amateur-built"
    """The ground on which a certificate is asked for, for example amateur-built."""
    stage: Stage
    """How far the build is, for example systems."""
    operations: tuple[Operation, ...] = ()
    """What flights the builder intends, for example [day-vfr, night-vfr]."""
    airspace: tuple[Airspace, ...] = ()
    """Which airspace the builder intends to enter, for example [class-d, class-e, class-g]."""
    seats: Count | None = None
    """Occupants, pilot included, for example 2."""
    seating: tuple[Seat, ...] = ()
    """Every seat with its belt, for example [{id: SEAT-LEFT, front: true, belt: four-point, metal_latch: true}, ...]."""
    oxygen_for: Count | None = None
    """How many occupants the oxygen fitted supplies, 0 where there is none, for example 0."""
    datum: Text | None = None
    """Where arms are measured from, and which way is positive, for example wing leading edge, positive aft."""
    gear: Literal["nosewheel", "tailwheel", "floats", "skis"] | None = None
    """The landing gear, for example nosewheel."""
    gear_retracts: Flag | None = None
    """For example false."""
    flaps: Flag | None = None
    """Whether it has flaps; one that has none has no white arc and no flap speeds, for example false."""
    covering: Literal["fabric", "metal", "composite", "plywood", "mixed"] | None = None
    """What the wings are covered with, for example fabric."""
    wing_area: Area | None = None
    """For example 132 ft2."""
    rated_load_factor: Number | None = None
    """Limit load factor of the design, for example 3.8."""
    for_hire: Flag = False
    """Whether anybody pays for a flight, for example false."""
    without: tuple[Text, ...] = ()
    """Sections that this aircraft does not have, so that their rules do not apply, for example [electrical]."""
    operating_limitations: tuple[OperatingLimitation, ...] = ()
    """The aircraft's own operating limitations, once they are issued."""
    limits: Limits | None = None
    """The aircraft's limits."""
    engine: Engine | None = None
    """The engine."""
    propeller: Propeller | None = None
    """The propeller."""
