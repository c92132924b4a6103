"""The section `markings`: placards, registration marks, the data plate, marks on instruments."""

from typing import Annotated, Literal

from jurystrut.quantities import Length
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import AnyRecord, FilePath, Flag, Id, Names, Text

__all__ = ["DataPlate", "InstrumentMark", "Markings", "Placard", "RegistrationMarks"]

_PanelItemName = Annotated[Id, Names("panel.items")]


class Placard(Named):
    """A placard or a legend that is not on the panel."""

    purpose: Literal[
        "passenger-warning",
        "day-vfr-only",
        "experimental",
        "fuel-filler",
        "oil-filler",
        "coolant-filler",
        "baggage",
        "seat",
        "fuel-selector",
        "control",
        "emergency",
        "speeds",
        "aerobatics",
        "ballast",
        "fuse",
        "electrical-load",
        "compass-card",
        "elt",
        "other",
    ]
    """What it is for, for example passenger-warning."""
    text: Text
    """Its words, for example BAGGAGE 40 LB MAXIMUM."""
    place: Text | None = None
    """Where it stands, for example on the panel, in view of both seats."""
    beside: AnyRecord | None = None
    """The record that it speaks of, for example BAGGAGE."""
    letter_height: Length | None = None
    """For example 0.25 in."""


class RegistrationMarks(Record):
    """The registration marks on the outside."""

    text: Text | None = None
    """For example X-EXAMPLE."""
    height: Length | None = None
    """For example 3 in."""
    width: Length | None = None
    """Of each character but 1, M and W, for example 2 in."""
    stroke: Length | None = None
    """How thick the strokes are, for example 0.5 in."""
    spacing: Length | None = None
    """The least space between two characters, for example 0.5 in."""
    colour: Text | None = None
    """For example black."""
    background: Text | None = None
    """The colour that they stand on, for example white."""
    place: Literal["fuselage-sides", "vertical-tail", "wing", "other"] | None = None
    """For example fuselage-sides."""
    both_sides: Flag | None = None
    """For example true."""
    experimental_height: Length | None = None
    """Height of the word EXPERIMENTAL near the entrance, for example 2 in."""


class DataPlate(Record):
    """The identification plate."""

    material: Text | None = None
    """For example stainless steel."""
    fireproof: Flag | None = None
    """For example true."""
    fixed: Text | None = None
    """How it is held, for example riveted."""
    place: Text | None = None
    """For example left fuselage side, ahead of the tailplane."""
    outside: Flag | None = None
    """Whether it can be read from outside, standing on the ground, for example true."""
    builder: Text | None = None
    """The builder's name on it, for example A. Builder."""
    model: Text | None = None
    """For example Marsh Warbler."""
    serial: Text | None = None
    """For example 001."""


class InstrumentMark(Named):
    """One coloured arc or line on an instrument; the limits are written in the instrument's own unit."""

    instrument: _PanelItemName
    """The instrument, for example ASI."""
    kind: Literal["arc", "line", "triangle"]
    """For example arc."""
    colour: Literal["red", "yellow", "green", "white", "blue"]
    """For example green."""
    low: Text | None = None
    """Where an arc begins, with its unit, for example 44 kt."""
    high: Text | None = None
    """Where an arc ends, or where a line stands, with its unit, for example 108 kt."""


class Markings(Record):
    """The section `markings`."""

    placards: tuple[Placard, ...] = ()
    """Placards."""
    registration_marks: RegistrationMarks | None = None
    """Registration marks."""
    data_plate: DataPlate | None = None
    """The data plate."""
    instrument_marks: tuple[InstrumentMark, ...] = ()
    """Arcs and lines on instruments."""
    data_plate_photo: FilePath | None = None
    """A photo of the plate in place, for example evidence/data-plate.jpg."""
