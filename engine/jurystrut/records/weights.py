"""The section `weights`: components, weighings, stations and loadings."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from jurystrut.quantities import Arm, Length, Mass, Volume
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Day, Flag, Id, Names, Text

__all__ = ["Component", "Extra", "Loading", "Scale", "Station", "Weighing", "Weights"]

_EquipmentName = Annotated[Id, Names("electrical", "lighting", "panel", "fuel", "hardware")]
_StationName = Annotated[Id, Names("weights.stations")]
_TankName = Annotated[Id, Names("fuel.tanks")]


class Component(Named):
    """A part that is or will be in the aircraft."""

    what: Text | None = None
    """For example main battery."""
    weight: Mass | None = None
    """For example 11.8 lb."""
    arm: Arm | None = None
    """Its centre of gravity from the datum, for example -21.5 in."""
    basis: Literal["weighed", "catalogue", "estimated"] | None = None
    """How the weight is known, for example weighed."""
    fitted: Flag = True
    """Whether it is in the aircraft now, for example true."""
    since: Day | None = None
    """The day it went in or was changed, for example 2026-04-12."""
    equipment: tuple[_EquipmentName, ...] = ()
    """The records of other sections whose weight this is; its own id counts too, for example [SW-LAND, SW-TAXI]."""


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


class Extra(Record):
    """Something aboard that is not part of the aircraft, or something missing that is."""

    what: Text
    """For example toolbox on the rear shelf."""
    weight: Mass
    """For example 6.2 lb."""
    arm: Arm
    """For example 52 in."""


class Weighing(Named):
    """One weighing of the whole aircraft."""

    day: Day
    """For example 2026-08-22."""
    scales: tuple[Scale, ...] = ()
    """One record a wheel."""
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
    """What was aboard and is not part of the aircraft; say [] where nothing was."""
    missing: tuple[Extra, ...] | None = None
    """What belongs to the aircraft and was not aboard; say [] where nothing was."""
    empty_weight: Mass | None = None
    """The empty weight that the builder worked out from it, for example 802.4 lb."""
    empty_arm: Arm | None = None
    """The empty centre of gravity that the builder worked out from it, for example 11.32 in."""
    notes: Text | None = None
    """Anything else, for example weighed without the wheel fairings."""


class Station(Named):
    """A place for occupants, baggage or other load; fuel stands in the section `fuel`."""

    what: Text | None = None
    """For example left seat."""
    kind: Literal["seat", "baggage", "other"]
    """For example seat."""
    arm: Arm
    """For example 22.4 in."""
    minimum: Mass | None = None
    """The least that will be carried there, for example 120 lb."""
    maximum: Mass | None = None
    """The most that may be carried there, for example 50 lb."""


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
