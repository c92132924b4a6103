"""The section `panel`: the sheet with its holes and legends, and the items that are mounted on it.

Holes and legends belong to the sheet, and stay when an item goes; so they are records of their own, and the item names them.
"""

from __future__ import annotations

from typing import Annotated, Literal

from jurystrut.quantities import Arm, Length
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Flag, Id, Names, Text

__all__ = ["Bezel", "Hole", "Item", "KeepOut", "Legend", "Panel", "Point", "Provides"]

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

_HoleName = Annotated[Id, Names("panel.holes")]
_LegendName = Annotated[Id, Names("panel.legends")]
_EquipmentName = Annotated[Id, Names("electrical", "lighting", "weights.components", "fuel")]


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


class Legend(Named):
    """Words on the sheet that name an item."""

    text: Text
    """For example LANDING LIGHT."""
    centre: Point | None = None
    """The middle of the words, for example [4 in, 1.2 in]."""
    letter_height: Length | None = None
    """For example 0.14 in."""


class Bezel(Record):
    """The part of an item that lies on the front of the sheet, centred on its hole."""

    diameter: Length | None = None
    """For example 3-1/4 in."""
    width: Length | None = None
    """For example 6.5 in."""
    height: Length | None = None
    """For example 2.25 in."""


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


class Panel(Record):
    """The section `panel`."""

    outline: tuple[Point, ...] = ()
    """The sheet's corners in order, for example [[0 in, 0 in], [40 in, 0 in], [40 in, 10 in], [0 in, 10 in]]."""
    thickness: Length | None = None
    """For example 0.063 in."""
    material: Text | None = None
    """For example 2024-T3."""
    edge_distance: Length | None = None
    """The least metal that the builder wants between a hole and the edge of the sheet, for example 0.25 in."""
    web: Length | None = None
    """The least metal that the builder wants between two holes, for example 0.125 in."""
    opens: Flag = False
    """Whether the panel tilts or comes out for maintenance, for example true."""
    holes: tuple[Hole, ...] = ()
    """Holes in the sheet."""
    legends: tuple[Legend, ...] = ()
    """Legends on the sheet."""
    items: tuple[Item, ...] = ()
    """What is mounted on it."""
    keep_outs: tuple[KeepOut, ...] = ()
    """What is in the way behind it."""
