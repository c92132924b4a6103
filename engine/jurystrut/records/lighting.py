"""The section `lighting`: every light, outside and inside."""

from typing import Annotated, Literal

from jurystrut.quantities import Angle, LuminousIntensity, Range, Rate
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import FilePath, Flag, Id, Names, Number, Text

__all__ = ["Approval", "Light", "Lighting", "Measurement", "Shadow"]

_LightName = Annotated[Id, Names("lighting.lights")]
_LoadName = Annotated[Id, Names("electrical.loads")]


class Approval(Record):
    """What the light's maker, or anybody else, says it meets, and where that is written."""

    standard: Text | None = None
    """The standard it is said to meet, for example TSO-C30c."""
    kind: Literal["marking", "makers-statement", "release-form", "test-report", "letter", "other"] | None = None
    """What kind of evidence it is, for example marking."""
    marking: Text | None = None
    """What is marked on the light itself, for example TSO-C30c TYPE I."""
    evidence: FilePath | None = None
    """A photo of the marking or a copy of the approval, for example evidence/nav-left-marking.jpg."""


class Measurement(Record):
    """One measured intensity."""

    bearing: Angle
    """In plan view, clockwise from the nose, for example 350 deg."""
    elevation: Angle | None = None
    """Above the horizontal, below it negative; level where left out, for example 5 deg."""
    intensity: LuminousIntensity
    """For example 44 cd."""


class Shadow(Record):
    """What hides a light from a part of the sky."""

    bearing: Range[Angle]
    """The sector in plan view, clockwise from the nose, for example 170..190 deg."""
    elevation: Range[Angle]
    """From how far above the horizontal to how far, below it negative, for example 10..90 deg."""
    by: Text | None = None
    """What is in the way, for example top of the fin."""


class Light(Named):
    """One light."""

    what: Text | None = None
    """For example left wing tip, forward."""
    function: Literal[
        "position-left",
        "position-right",
        "position-tail",
        "anti-collision",
        "landing",
        "taxi",
        "instrument",
        "cabin",
        "warning",
    ]
    """For example position-left."""
    colour: Literal["red", "green", "white", "amber", "blue"] | None = None
    """For example red."""
    technology: Literal["filament", "led", "strobe", "halogen"] | None = None
    """For example led."""
    approval: Approval | None = None
    """What it is said to meet, left out where it carries no approval, for example {standard: TSO-C30c, kind: marking}."""
    covers: tuple[Range[Angle], ...] = ()
    """Sectors lit in plan view, clockwise from the nose, for example [250..360 deg]."""
    blocked: tuple[Range[Angle], ...] = ()
    """Sectors hidden at every height by wing, fin or gear, for example [178..182 deg]."""
    shadows: tuple[Shadow, ...] = ()
    """What is hidden at some heights only, for example [{bearing: 170..190 deg, elevation: 10..90 deg, by: top of the fin}]."""
    flash_rate: Rate | None = None
    """Flashes a minute, for example 60 /min."""
    in_step_with: _LightName | None = None
    """The light with which it flashes at the same moments, wired to one flasher, for example STROBE-L."""
    intensity: LuminousIntensity | None = None
    """Measured along its axis, for example 42 cd."""
    chromaticity: tuple[Number, Number] | None = None
    """x and y of its light behind its cover, as measured or as its maker says, for example [0.695, 0.304]."""
    measured: tuple[Measurement, ...] = ()
    """Intensities measured in several directions, for example [{bearing: 350 deg, intensity: 44 cd}]."""
    covers_above: Angle | None = None
    """How far above the horizontal it shines all along its sectors, for example 75 deg."""
    covers_below: Angle | None = None
    """How far below, counted positive, for example 75 deg."""
    shielded: Flag | None = None
    """Whether its rays and reflections are kept from the pilot's eyes, for example true."""
    load: _LoadName | None = None
    """The electrical load that feeds it, for example NAV-L."""
    forward_facing: Flag = False
    """Whether it shines ahead, for example true."""

    def hidden_level(self) -> tuple[Range[Angle], ...]:
        """The sectors that are hidden from an eye level with it."""
        return (*self.blocked, *(s.bearing for s in self.shadows if s.elevation.low.si <= 0 <= s.elevation.high.si))


class Lighting(Record):
    """The section `lighting`."""

    lights: tuple[Light, ...] = ()
    """Lights."""
