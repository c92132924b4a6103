"""The section `fuel`: tanks, vents, drains, lines, pumps, the flow test, and the firewall they go through."""

from typing import Annotated, Literal

from jurystrut.quantities import (
    Angle,
    Area,
    Arm,
    Length,
    MassPerVolume,
    SpecificConsumption,
    Time,
    Volume,
    VolumeFlow,
)
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Day, FilePath, Flag, Id, Names, Number, Text

__all__ = ["Drain", "Firewall", "FlowTest", "Fuel", "Line", "Opening", "Pump", "Strainer", "Tank", "Valve", "Vent"]

_TankName = Annotated[Id, Names("fuel.tanks")]
_PumpName = Annotated[Id, Names("fuel.pumps")]
_LoadName = Annotated[Id, Names("electrical.loads")]


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
    left_over: Volume | None = None
    """What was left when the engine end ran dry in the worst attitude, for example 0.35 US gal."""
    marked_usable: Volume | None = None
    """Usable fuel as marked at its gauge or selector, for example 11.5 US gal."""
    gauge_zero: Volume | None = None
    """What is in it when its gauge reads zero in level flight attitude, for example 0.6 US gal."""
    sump: Volume | None = None
    """What its sump holds in ground attitude, for example 0.07 US gal."""
    outlet_mesh: Number | None = None
    """Meshes to the inch of the strainer at its outlet, for example 12."""
    outlet_strainer_area: Area | None = None
    """Open area of that strainer, for example 0.6 in2."""
    outlet_line_area: Area | None = None
    """Open area of the line that leaves it, for example 0.08 in2."""
    to_firewall: Length | None = None
    """Air between it and the firewall, for a tank that stands near it, for example 0.75 in."""


class Vent(Named):
    """A tank vent."""

    tank: _TankName | None = None
    """For example LEFT-TANK."""
    diameter: Length | None = None
    """Inside, for example 0.25 in."""
    discharges_clear: Flag | None = None
    """Whether overflow leaves clear of the aeroplane, for example true."""
    low_spot: Flag | None = None
    """Whether water can stand in it where no drain is, for example false."""


class Drain(Named):
    """A drain for water and sediment."""

    tank: _TankName | None = None
    """The tank that it drains, for example LEFT-TANK."""
    place: Text | None = None
    """For example lowest point of the left tank."""
    lowest_point: Flag | None = None
    """Whether it stands at the lowest point in the parked attitude, for example true."""
    locks_closed: Flag | None = None
    """Whether it locks closed, for example true."""


class FlowTest(Named):
    """A measured flow at the engine's end of the fuel line."""

    day: Day | None = None
    """For example 2026-09-12."""
    flow: VolumeFlow | None = None
    """For example 14.2 US gal/h."""
    caught: Volume | None = None
    """What was caught, where the flow is to be worked out, for example 0.125 US gal."""
    time: Time | None = None
    """In what time, for example 38 s."""
    feed: Literal["gravity", "pump"] | None = None
    """What drove it, for example pump."""
    pump: _PumpName | None = None
    """Which pump ran, for example FP-A."""
    tank: _TankName | None = None
    """Which tank fed it, with the least fuel in it, for example LEFT-TANK."""
    pitch: Angle | None = None
    """Attitude at the test, nose up positive, for example 15 deg."""


class Pump(Named):
    """A fuel pump."""

    what: Text | None = None
    """For example electric pump A."""
    load: _LoadName | None = None
    """The electrical load that it is; none for a mechanical pump, for example PUMP-A."""


class Strainer(Named):
    """The filter between tanks and pump."""

    place: Text | None = None
    """For example firewall, left."""
    drainable: Flag | None = None
    """Whether it can be drained, for example true."""
    own_support: Flag | None = None
    """Whether it is held by more than its lines, for example true."""


class Valve(Named):
    """A shutoff or selector."""

    place: Text | None = None
    """For example console."""
    engine_side: Flag | None = None
    """Whether it is on the engine's side of the firewall, for example false."""
    reachable: Flag | None = None
    """Whether the pilot reaches it strapped in, for example true."""
    off_guarded: Flag | None = None
    """Whether OFF needs an act of its own, for example true."""


class Line(Named):
    """A fuel line."""

    what: Text | None = None
    """For example selector to pump A."""
    kind: Literal["hose", "aluminium-tube", "steel-tube"] | None = None
    """For example hose."""
    diameter: Length | None = None
    """Outside diameter of a tube, for example 3/8 in."""
    length: Length | None = None
    """Of a hose, between its fittings, for example 21 in."""
    straight: Length | None = None
    """Between the places of these fittings, for example 20 in."""
    longest_span: Length | None = None
    """Longest stretch between two supports, for example 14 in."""
    to_wiring: Length | None = None
    """Least distance to power wiring, for example 6 in."""
    below_wiring: Flag | None = None
    """Whether it runs below the wiring that it passes, for example true."""
    wiring_clamped: Flag = False
    """Whether line and wiring are each clamped so close that they cannot touch, for example true."""
    to_exhaust: Length | None = None
    """Least distance to the exhaust, where it comes near, for example 4 in."""
    least_to_exhaust: Length | None = None
    """What the designer or the engine's manual asks for, for example 2 in."""
    manual: Text | None = None
    """Which page says so, for example engine manual, page 3-14."""
    shielded: Flag = False
    """Whether a shield stands between it and the exhaust, for example true."""
    made: Day | None = None
    """When the hose was made or assembled, for example 2025-11-01."""
    life: Count | None = None
    """Years that its maker or the builder gives it, for example 5."""


class Opening(Named):
    """A hole through the firewall."""

    what: Text | None = None
    """For example throttle cable."""
    sealed_with: Text | None = None
    """For example stainless eyeball and fireproof sealant."""


class Firewall(Record):
    """The firewall."""

    material: Literal["stainless", "mild-steel", "terne-plate", "monel", "titanium", "aluminium", "other"] | None = None
    """For example stainless."""
    thickness: Length | None = None
    """For example 0.018 in."""
    flame_test: FilePath | None = None
    """Evidence that this material and build stood 2000 degF for 15 minutes, for example evidence/flame-test.pdf."""
    openings: tuple[Opening, ...] = ()
    """Holes through it."""


class Fuel(Record):
    """The section `fuel`."""

    grade: Text | None = None
    """For example motor gasoline, 91 AKI, no ethanol."""
    density: MassPerVolume | None = None
    """For example 6.0 lb/US gal."""
    takeoff_flow: VolumeFlow | None = None
    """What the engine takes at take-off power, from its manual, for example 7.4 US gal/h."""
    specific_consumption: SpecificConsumption | None = None
    """Where only that is known, from its manual, for example 0.45 lb/hp/h."""
    climb_angle: Angle | None = None
    """Highest nose-up attitude expected in a climb, for example 10 deg."""
    tanks: tuple[Tank, ...] = ()
    """Tanks."""
    vents: tuple[Vent, ...] = ()
    """Vents."""
    drains: tuple[Drain, ...] = ()
    """Drains."""
    flow_tests: tuple[FlowTest, ...] = ()
    """Flow tests."""
    pumps: tuple[Pump, ...] = ()
    """Pumps."""
    strainers: tuple[Strainer, ...] = ()
    """Filters."""
    valves: tuple[Valve, ...] = ()
    """Shutoff valves and selectors."""
    lines: tuple[Line, ...] = ()
    """Lines."""
    firewall: Firewall | None = None
    """The firewall."""
