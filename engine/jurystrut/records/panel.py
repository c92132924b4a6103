"""The section `panel`: the sheet with its holes and legends, and the items that are mounted on it.

Holes and legends belong to the sheet, and stay when an item goes; so they are records of their own, and the item names them.
"""

from typing import Annotated, Literal

from jurystrut.quantities import Angle, Arm, Current, Length, MagneticFluxDensity
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Flag, Id, Names, Text

__all__ = [
    "Bezel",
    "Body",
    "Compass",
    "Disturber",
    "Hole",
    "Item",
    "KeepOut",
    "Legend",
    "Motion",
    "Opening",
    "Panel",
    "Place",
    "Point",
    "Provides",
    "Run",
    "Seat",
    "SubPanel",
]

Provides = Literal[
    "airspeed",
    "altitude",
    "sensitive-altitude",
    "magnetic-direction",
    "rpm",
    "oil-pressure",
    "oil-temperature",
    "coolant-temperature",
    "manifold-pressure",
    "fuel-quantity",
    "gear-position",
    "rate-of-turn",
    "slip",
    "attitude",
    "direction",
    "vertical-speed",
    "outside-air-temperature",
    "clock",
    "radio",
    "navigation",
    "transponder",
    "altitude-reporting",
    "ads-b-out",
    "elt",
]
"""What an item shows or does, where its name does not say it; `direction` is gyroscopic or stabilised."""

Point = tuple[Arm, Arm]
"""A place on the panel seen from the seat: to the right of its lower left corner, then up."""

Place = tuple[Arm, Arm, Arm]
"""A place in the cabin: to the right of the sheet's lower left corner, up, then aft of the sheet; negative is behind it."""

_SheetName = Annotated[Id, Names("panel.sub_panels")]
_WireName = Annotated[Id, Names("electrical.wires")]
_HoleName = Annotated[Id, Names("panel.holes")]
_LegendName = Annotated[Id, Names("panel.legends")]
_EquipmentName = Annotated[Id, Names("electrical", "lighting", "weights.components", "fuel", "markings.placards")]


class Hole(Named):
    """A hole in the sheet: round with a diameter, or square-cornered with width and height."""

    centre: Point
    """Its centre, for example [12-1/2 in, 4 in]."""
    diameter: Length | None = None
    """For example 3-1/8 in."""
    width: Length | None = None
    """For example 6.25 in."""
    height: Length | None = None
    """For example 2 in."""
    corners: tuple[Point, ...] = ()
    """Any other outline, its corners in order, for example [[1 in, 1 in], [3 in, 1 in], [2 in, 2 in]]."""
    across_flat: Length | None = None
    """A round hole with one flat side: from the flat to the round side opposite, for example 0.43 in."""
    flat: Literal["left", "right", "top", "bottom"] = "top"
    """The side on which the flat is, for example top."""
    screws: tuple[Point, ...] = ()
    """Screw holes around it, from its centre, for example [[-1.24 in, 1.24 in], [1.24 in, 1.24 in]]."""
    screw_diameter: Length | None = None
    """For example 0.16 in."""
    sheet: _SheetName | None = None
    """The sub-panel that it is cut in, where that is not the panel itself, for example SUB-RADIO."""


class SubPanel(Named):
    """A sheet of its own that lies over an opening of the panel; it is measured from the panel's corner too."""

    what: Text | None = None
    """For example radio plate."""
    outline: tuple[Point, ...] = ()
    """Its corners in order, for example [[26 in, 4 in], [34 in, 4 in], [34 in, 9 in], [26 in, 9 in]]."""
    thickness: Length | None = None
    """For example 0.09 in."""
    opening: _HoleName | None = None
    """The hole of the panel that it covers, for example H-RADIOS."""


class Legend(Named):
    """Words on the sheet that name an item."""

    text: Text
    """For example LANDING LIGHT."""
    centre: Point | None = None
    """The middle of the words, for example [4 in, 1.2 in]."""
    letter_height: Length | None = None
    """For example 0.14 in."""
    width: Length | None = None
    """From end to end of the words, as set by the engraver; estimated where it is left out, for example 1.1 in."""


class Bezel(Record):
    """The part of an item that lies on the front of the sheet, centred on its hole."""

    diameter: Length | None = None
    """For example 3-1/4 in."""
    width: Length | None = None
    """For example 6.5 in."""
    height: Length | None = None
    """For example 2.25 in."""


class Body(Record):
    """The part of an item behind the sheet, seen from the seat; as deep as the item's `depth`."""

    diameter: Length | None = None
    """For example 3.1 in."""
    width: Length | None = None
    """For example 6.3 in."""
    height: Length | None = None
    """For example 1.7 in."""
    offset: Point | None = None
    """Its middle from the middle of the hole, for example [0 in, -0.5 in]."""


class Motion(Record):
    """One way in which a control is moved, and what that does."""

    way: Literal["forward", "aft", "up", "down", "left", "right", "clockwise", "anticlockwise"]
    """For example forward."""
    does: Literal[
        "more-power",
        "less-power",
        "more-rpm",
        "less-rpm",
        "rich",
        "lean",
        "cold",
        "hot",
        "open",
        "closed",
        "retract",
        "extend",
        "nose-up",
        "nose-down",
        "left-wing-down",
        "right-wing-down",
        "nose-left",
        "nose-right",
        "on",
        "off",
        "left-tank",
        "right-tank",
        "other",
    ]
    """For example more-power."""


class Item(Named):
    """Something mounted on the panel."""

    what: Text | None = None
    """For example airspeed indicator."""
    kind: Literal[
        "instrument",
        "display",
        "radio",
        "switch",
        "breaker",
        "fuse-holder",
        "lamp",
        "control",
        "outlet",
        "placard",
        "other",
    ]
    """For example switch."""
    hole: _HoleName | None = None
    """The hole it sits in, for example H-ASI."""
    legend: _LegendName | None = None
    """The legend that names it, for example L-LAND."""
    bezel: Bezel | None = None
    """What lies on the front of the sheet, for example {diameter: 3-1/4 in}."""
    depth: Length | None = None
    """How far it reaches behind the sheet, connectors included, for example 5.5 in."""
    provides: tuple[Provides, ...] = ()
    """What it shows or does, for a display or an item whose name does not tell, for example [rpm, oil-pressure]."""
    body: Body | None = None
    """What is behind the sheet; where it is left out, the hole's own outline is taken, for example {diameter: 3.1 in}."""
    mounted: Literal["front", "rear"] = "front"
    """The side from which it goes into its hole; a body mounted from the rear may be wider than the hole, for example rear."""
    connector: Length | None = None
    """Room wanted behind its depth for connectors and bends, where `depth` does not hold it, for example 1.5 in."""
    function: (
        Literal[
            "throttle",
            "propeller",
            "mixture",
            "carburettor-heat",
            "flaps",
            "gear",
            "trim",
            "fuel-valve",
            "fuel-selector",
            "speed-brake",
            "other",
        ]
        | None
    ) = None
    """What a control works, for example throttle."""
    motions: tuple[Motion, ...] = ()
    """How a control moves, for example [{way: forward, does: more-power}]."""
    emergency: Flag = False
    """Whether it is worked in an emergency, as a fuel shut-off or a master switch, for example true."""
    colour: Text | None = None
    """The colour of its knob or lever, for example red."""
    read_in_sun: Flag | None = None
    """Whether it was read with the sun shining on it, at the brightness that it will have in old age, for example true."""
    knob: Text | None = None
    """The shape of its knob, for example round and smooth."""
    stands_out: Length | None = None
    """How far its knob stands out of the sheet at mid travel, for example 2.5 in."""
    confusion_hurts: Flag = False
    """Whether moving it by mistake would hurt, for example true."""
    distinct: Text | None = None
    """What tells it by feel from its neighbours, for example a lever that must be pulled to move."""
    equipment: _EquipmentName | None = None
    """The record that it is in another section; its own id where that is the same, for example SW-LAND."""


class KeepOut(Named):
    """A zone behind the sheet that no body may enter."""

    what: Text
    """For example fuselage cross tube."""
    corners: tuple[Point, ...]
    """Its outline seen from the seat, for example [[0 in, 9 in], [40 in, 9 in], [40 in, 10 in], [0 in, 10 in]]."""
    behind: Length
    """How far behind the sheet it begins, for example 3 in."""
    until: Length | None = None
    """How far behind the sheet it ends; left out where it goes on, for example 4.5 in."""


class Opening(Record):
    """How the panel opens for maintenance."""

    way: Literal["tilts", "comes-out", "fixed"]
    """For example tilts."""
    hinge: Literal["bottom", "top", "left", "right"] | None = None
    """The side that stays, where it tilts; the other side comes towards the seats, for example bottom."""
    hinge_at: Arm | None = None
    """Where the hinge line is, up (or to the right, for one that stands) from the lower left corner, for example 0 in."""
    angle: Angle | None = None
    """How far it tilts, for example 60 deg."""
    travel: Length | None = None
    """How far it comes out, where it does not tilt, for example 10 in."""


class Seat(Named):
    """Somebody who flies, belted in."""

    flies: Flag = True
    """Whether this seat must reach the controls and see the instruments, for example true."""
    eye: Place | None = None
    """The eyes, for example [10 in, 16 in, 28 in]."""
    shoulder: Place | None = None
    """The shoulder of the arm that reaches the panel, for example [16 in, 8 in, 30 in]."""
    reach: Length | None = None
    """From the shoulder to the finger tips that hold a control, belted in, for example 29 in."""


class Compass(Record):
    """The magnetic compass."""

    centre: Place
    """Its middle, for example [20 in, 14 in, 2 in]."""
    steel_distance: Length | None = None
    """The least distance to steel that its builder or maker wants, for example 6 in."""
    magnet_distance: Length | None = None
    """The least distance to magnets, for example 18 in."""
    current_distance: Length | None = None
    """The least distance to wires of heavy current, for example 12 in."""
    earth_field: MagneticFluxDensity | None = None
    """The level part of the Earth's field where it flies, the least of them, for example 18 uT."""
    deviation: Angle | None = None
    """The greatest turn of the needle that is allowed by electrical loads, for example 5 deg."""


class Disturber(Named):
    """Something near the compass that turns it."""

    what: Text | None = None
    """For example steel cross tube."""
    kind: Literal["steel", "magnet"]
    """For example steel."""
    place: Place
    """Its part nearest to the compass, for example [20 in, 9.5 in, -3 in]."""
    keep_away: Length | None = None
    """The distance that its own maker wants, where one is told, for example 12 in."""


class Run(Named):
    """The way of one wire near the compass; of a supply and its return each has its own."""

    wire: _WireName
    """For example W4."""
    current: Current | None = None
    """What was measured in it with all steady loads on; computed from the loads where it is left out, for example 24 A."""
    path: tuple[Place, ...]
    """Its corners from the wire's `from` to its `to`, for example [[2 in, 3 in, -4 in], [36 in, 3 in, -4 in]]."""


class Panel(Record):
    """The section `panel`."""

    outline: tuple[Point, ...] = ()
    """The sheet's corners in order, for example [[0 in, 0 in], [40 in, 0 in], [40 in, 10 in], [0 in, 10 in]]."""
    thickness: Length | None = None
    """For example 0.063 in."""
    material: Text | None = None
    """For example 2024-T3."""
    finish: Literal["matt", "satin", "gloss"] | None = None
    """How its front shines, for example matt."""
    edge_distance: Length | None = None
    """The least metal that the builder wants between a hole and the edge of the sheet, for example 0.25 in."""
    web: Length | None = None
    """The least metal that the builder wants between two holes, for example 0.125 in."""
    opens: Flag = False
    """Whether the panel tilts or comes out for maintenance, for example true."""
    opening: Opening | None = None
    """How it opens, for example {way: tilts, hinge: bottom, hinge_at: 0 in, angle: 60 deg}."""
    bezel_overlap: Length | None = None
    """How far the builder wants a bezel to lie over the sheet all round its hole, for example 0.06 in."""
    clearance: Length | None = None
    """The least room that the builder wants between bodies, and from them to structure, for example 0.25 in."""
    hand_clearance: Length | None = None
    """The least distance that the builder wants between the middles of two controls, for example 0.75 in."""
    letter_height: Length | None = None
    """The least height of letters that the builder wants, for example 0.14 in."""
    view_angle: Angle | None = None
    """How far beside straight ahead the flight instruments may stand, seen from the eyes, for example 25 deg."""
    holes: tuple[Hole, ...] = ()
    """Holes in the sheet."""
    legends: tuple[Legend, ...] = ()
    """Legends on the sheet."""
    items: tuple[Item, ...] = ()
    """What is mounted on it."""
    keep_outs: tuple[KeepOut, ...] = ()
    """What is in the way behind it."""
    sub_panels: tuple[SubPanel, ...] = ()
    """Sheets that lie over openings of it."""
    seats: tuple[Seat, ...] = ()
    """Who reaches for it and reads it."""
    compass: Compass | None = None
    """The magnetic compass, for example {centre: [20 in, 14 in, 2 in], deviation: 5 deg}."""
    disturbers: tuple[Disturber, ...] = ()
    """Steel and magnets near the compass."""
    runs: tuple[Run, ...] = ()
    """The ways of wires near the compass."""
