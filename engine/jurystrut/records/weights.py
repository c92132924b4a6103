"""The section `weights`: components, weighings, stations and loadings."""

from typing import Annotated, Literal

from pydantic import Field

from jurystrut.quantities import Angle, Area, Arm, Length, Mass, MassPerArea, Ratio, Volume
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Day, FilePath, Flag, Id, Names, Text

__all__ = [
    "Allowance",
    "Component",
    "Extra",
    "Goal",
    "Loading",
    "Report",
    "Scale",
    "Station",
    "Tyre",
    "Weighing",
    "Weights",
]

_EquipmentName = Annotated[Id, Names("electrical", "lighting", "panel", "fuel", "hardware")]
_StationName = Annotated[Id, Names("weights.stations")]
_ComponentName = Annotated[Id, Names("weights.components")]
_TankName = Annotated[Id, Names("fuel.tanks")]


class Component(Named):
    """A part that is or will be in the aircraft."""

    what: Text | None = None
    """For example main battery."""
    weight: Mass | None = None
    """For example 11.8 lb."""
    arm: Arm | None = None
    """Its centre of gravity from the datum, for example -21.5 in."""
    basis: Literal["weighed", "catalogue", "calculated", "estimated"] | None = None
    """How the weight is known, for example weighed."""
    fitted: Flag = True
    """Whether it is in the aircraft now, for example true."""
    since: Day | None = None
    """The day it went in or was changed, for example 2026-04-12."""
    removed: Day | None = None
    """The day it was taken out again, for example 2026-11-02."""
    equipment: tuple[_EquipmentName, ...] = ()
    """The records of other sections whose weight this is; its own id counts too, for example [SW-LAND, SW-TAXI]."""
    ballast: Flag = False
    """Whether it is permanent ballast, for example true."""
    attachment_checked: Text | None = None
    """Who checked that what holds the ballast bears it, and how, for example pulled with 9 g, technical counsellor."""
    placarded: Flag | None = None
    """Whether a placard says that the ballast stays, for example true."""


class Scale(Record):
    """One wheel on one scale."""

    wheel: Literal["nose", "tail", "left-main", "right-main", "left-float", "right-float", "other"]
    """For example nose."""
    reading: Mass
    """What the scale showed, for example 168.5 lb."""
    tare: Mass | None = None
    """Chocks, blocks and stands on the scale; say 0 lb where there were none, for example 2.5 lb."""
    arm: Arm | None = None
    """The axle from the datum, measured while levelled, for example -38.2 in."""
    zero: Mass | None = None
    """What the scale showed with nothing on it, where that was not zero, for example 0.5 lb."""
    repeated: tuple[Mass, ...] = ()
    """What it showed when the aircraft was rolled on again; the mean of all readings counts, for example [168.0 lb, 169.0 lb]."""


class Extra(Record):
    """Something aboard that is not part of the aircraft, or something missing that is."""

    what: Text
    """For example toolbox on the rear shelf."""
    weight: Mass
    """For example 6.2 lb."""
    arm: Arm
    """For example 52 in."""
    component: _ComponentName | None = None
    """The component that was missing; fitted later, it is not counted again, for example CANOPY."""


class Weighing(Named):
    """One weighing of the whole aircraft."""

    day: Day
    """For example 2026-08-22."""
    scales: tuple[Scale, ...] = ()
    """One record a wheel, for example [{wheel: nose, reading: 168.5 lb, tare: 2.5 lb, arm: -38.2 in}, ...]."""
    levelled: Flag | None = None
    """Whether it stood in level flight attitude, for example true."""
    zeroed: Flag | None = None
    """Whether the scales were set to zero and steady before, for example true."""
    inside: Flag | None = None
    """Whether it stood in a closed building, for example true."""
    calibrated: Day | None = None
    """The day the scales were last calibrated, for example 2026-02-10."""
    fuel: Literal["drained-to-unusable", "full", "measured"] | None = None
    """What fuel was aboard, for example drained-to-unusable."""
    oil: Literal["full", "drained"] | None = None
    """What oil was aboard, for example full."""
    painted: Flag | None = None
    """Whether it was finished and painted, for example false."""
    aboard: tuple[Extra, ...] | None = None
    """What was aboard and is not part of it, [] where nothing was, for example [{what: toolbox, weight: 6.2 lb, arm: 52 in}]."""
    missing: tuple[Extra, ...] | None = None
    """What belongs to it and was not aboard, [] where nothing was, for example [{what: canopy, weight: 21 lb, arm: 30 in}]."""
    empty_weight: Mass | None = None
    """The empty weight that the builder worked out from it, for example 802.4 lb."""
    empty_arm: Arm | None = None
    """The empty centre of gravity that the builder worked out from it, for example 11.32 in."""
    scale_uncertainty: Mass | None = None
    """By how much a scale may be wrong, as one standard deviation, for example 0.5 lb."""
    arm_uncertainty: Length | None = None
    """By how much a measured arm may be wrong, as one standard deviation, for example 1/8 in."""
    level_uncertainty: Angle | None = None
    """By how much it may have stood out of level, as one standard deviation, for example 0.25 deg."""
    notes: Text | None = None
    """Anything else, for example weighed without the wheel fairings."""


class Station(Named):
    """A place for occupants, baggage or other load; fuel stands in the section `fuel`."""

    what: Text | None = None
    """For example left seat."""
    kind: Literal["seat", "baggage", "ballast", "other"]
    """For example seat."""
    arm: Arm
    """For example 22.4 in."""
    minimum: Mass | None = None
    """The least that will be carried there, for example 120 lb."""
    maximum: Mass | None = None
    """The most that may be carried there, for example 50 lb."""
    may_be_empty: Flag = False
    """Whether it may also be left empty although a minimum is given, for example true."""
    floor_area: Area | None = None
    """The floor that the load rests on, for example 4 ft2."""
    floor_bears: MassPerArea | None = None
    """What that floor bears, for example 50 lb/ft2."""
    occupants: Count = 1
    """How many a seat is for; a bench is one station, for example 2."""
    bears: Mass | None = None
    """What the seat's own structure was built to carry, all its occupants together, for example 250 lb."""


class Loading(Named):
    """One way in which the aircraft will be loaded."""

    what: Text | None = None
    """For example two aboard, weekend bags, full fuel."""
    stations: dict[_StationName, Mass] = Field(default_factory=dict)
    """Load at each station; one left out is empty, for example {LEFT-SEAT: 180 lb}."""
    fuel: dict[_TankName, Volume] = Field(default_factory=dict)
    """Usable fuel at take-off in each tank; one left out is empty, for example {LEFT-TANK: 11 US gal}."""
    landing_fuel: dict[_TankName, Volume] | None = None
    """Usable fuel left at landing; none where left out, for example {LEFT-TANK: 2 US gal}."""


class Allowance(Record):
    """By how much weights grow until the aircraft is finished, by how they are known; the builder's own figures."""

    weighed: Ratio | None = None
    """For example 0 %."""
    catalogue: Ratio | None = None
    """For example 5 %."""
    calculated: Ratio | None = None
    """Calculated from a drawing, for example 10 %."""
    estimated: Ratio | None = None
    """For example 20 %."""


class Goal(Record):
    """What the finished aircraft is meant to carry."""

    occupants: Count | None = None
    """For example 2."""
    occupant: Mass | None = None
    """Each of them, for example 170 lb."""
    baggage: Mass | None = None
    """For example 20 lb."""
    fuel: Volume | None = None
    """Usable fuel, for example 20 US gal."""


class Tyre(Named):
    """What a wheel's tyre may carry standing."""

    wheel: Literal["nose", "tail", "left-main", "right-main"]
    """For example nose."""
    arm: Arm
    """The axle from the datum, for example -31.8 in."""
    rating: Mass | None = None
    """Its static load rating, for example 600 lb."""


class Report(Record):
    """The weight and balance report that goes with the aircraft."""

    weighing: Annotated[Id, Names("weights.weighings")] | None = None
    """The weighing that it rests on, for example WB-2."""
    day: Day | None = None
    """For example 2026-10-18."""
    most_forward: Annotated[Id, Names("weights.loadings")] | None = None
    """The most forward loading shown in it, for example SOLO-LIGHT."""
    most_aft: Annotated[Id, Names("weights.loadings")] | None = None
    """The most aft loading shown in it, for example BAGGAGE."""
    first_flight: Annotated[Id, Names("weights.loadings")] | None = None
    """The loading for the first flight shown in it, for example SOLO."""
    equipment_list: Flag | None = None
    """Whether it lists the equipment that was in, with weights and arms, for example true."""
    equipment_sorted: Flag | None = None
    """Whether that list tells required, optional and special equipment apart, for example true."""
    oil: Flag | None = None
    """Whether it says if oil was full or drained, for example true."""
    evidence: FilePath | None = None
    """The report itself, for example evidence/weight-and-balance.pdf."""


class Weights(Record):
    """The section `weights`."""

    components: tuple[Component, ...] = ()
    """Parts, with weight and arm."""
    weighings: tuple[Weighing, ...] = ()
    """Weighings; the latest counts."""
    stations: tuple[Station, ...] = ()
    """Places for load."""
    loadings: tuple[Loading, ...] = ()
    """Ways of loading."""
    level_height: Length | None = None
    """Height of the centre of gravity above the axles, for what an error of levelling does, for example 24 in."""
    tyres: tuple[Tyre, ...] = ()
    """What the tyres carry."""
    allowance: Allowance | None = None
    """Growth until finished, by how a weight is known."""
    goal: Goal | None = None
    """What it is meant to carry."""
    report: Report | None = None
    """The weight and balance report."""
