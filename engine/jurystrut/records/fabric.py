"""What stands beside the log of covering: instruments, panels, seams, shrinking, and strips for testing."""

from typing import Annotated, Literal

from jurystrut.quantities import Force, ForcePerLength, Length, Temperature, Time
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Day, Flag, Id, Names, Number, Text

__all__ = ["Calibration", "Instrument", "Lacing", "Panel", "Repair", "Seam", "Shrinking", "TestStrip"]

_SurfaceName = Annotated[Id, Names("covering.surfaces")]
_InstrumentName = Annotated[Id, Names("covering.instruments")]
_BatchName = Annotated[Id, Names("covering.batches")]


class Calibration(Record):
    """One day on which an instrument was compared with a better one."""

    day: Day
    """For example 2026-02-12."""
    points: tuple[Temperature, ...] = ()
    """At which temperatures, for example [250 degF, 350 degF]."""


class Instrument(Named):
    """An iron, or what measures air and its moisture."""

    what: Text | None = None
    """For example iron of 1000 W, or thermometer with hygrometer."""
    kind: Literal["iron", "weather"]
    """An iron, or what air and surface were measured with, for example weather."""
    calibrations: tuple[Calibration, ...] = ()
    """For example [{day: 2026-02-12, points: [50 degF, 80 degF]}]."""
    interval: Time | None = None
    """How long a calibration is good for, as its maker or the builder says, for example 365 day."""


class Panel(Named):
    """One panel of a surface in which water can gather by itself, such as a bay between two ribs with solid webs."""

    surface: _SurfaceName
    """For example TAIL."""
    what: Text | None = None
    """For example elevator, left half."""
    drained: Flag | None = None
    """Whether a drain stands at its lowest point as the aircraft is parked, for example true."""


class Lacing(Record):
    """How the fabric of a surface is attached, and taped over."""

    day: Day | None = None
    """When it was laced, for example 2026-05-10."""
    spacing_outside: Length | None = None
    """Greatest distance between attachments outside the slipstream, where it differs, for example 3.4 in."""
    limit_outside: Length | None = None
    """The chart's or the manual's reading there, for example 3.5 in."""
    first: Length | None = None
    """From the leading-edge fairing to the first lace, for example 1.2 in."""
    cord: Literal["polyester", "cotton", "linen"] | None = None
    """For example polyester."""
    cord_strength: Force | None = None
    """Its breaking strength, for example 45 lb."""
    reinforcing_width: Length | None = None
    """Width of the tape under the laces, for example 1/2 in."""
    rib_cap: Length | None = None
    """Width of the rib's cap below it, for example 1/2 in."""
    tape_beside: Length | None = None
    """Surface tape bonded to either side of the attachments, the lesser, for example 0.9 in."""
    tape_beyond: Length | None = None
    """Surface tape beyond the ends of the reinforcing tape, for example 1 in."""
    anti_tear: Flag | None = None
    """Whether anti-tear strips lie under that tape: above everywhere, below within the slipstream, for example false."""


class Seam(Named):
    """A seam or lap of the fabric."""

    surface: _SurfaceName | None = None
    """For example LW-UPPER."""
    kind: Literal["machine-sewn", "hand-sewn", "doped", "cemented"] | None = None
    """Cemented is what a covering system with its own manual asks for, for example cemented."""
    place: Literal["leading-edge", "trailing-edge", "perimeter", "fuselage", "other"] | None = None
    """For example leading-edge."""
    overlap: Length | None = None
    """Of a doped or cemented lap, for example 2.2 in."""
    least_overlap: Length | None = None
    """What its manual asks for, for example 2 in."""
    tape_width: Length | None = None
    """Of the tape centred on it, for example 4 in."""
    least_tape: Length | None = None
    """What its manual asks for, for example 3 in."""
    manual: Text | None = None
    """Which page says so, for example covering manual, 3rd edition, page 21."""
    stitches_per_inch: Number | None = None
    """Of a seam sewn by hand, for example 5."""
    lock_every: Count | None = None
    """Stitches from one lock to the next, for example 8."""
    fold: Length | None = None
    """Fabric folded under, for example 0.5 in."""
    control_surface: Flag | None = None
    """At a trailing edge: whether it is that of a control surface, for example false."""
    notch_depth: Length | None = None
    """Of the notches in its tape, for example 1 in."""
    notch_spacing: Length | None = None
    """From notch to notch, for example 6 in."""


class Repair(Named):
    """A place where fabric was cut out and new fabric put in."""

    what: Text | None = None
    """For example where a screwdriver fell."""
    surface: _SurfaceName | None = None
    """For example LW-LOWER."""
    opening: Length | None = None
    """The longest way across the opening, for example 3 in."""
    top_of_wing: Flag | None = None
    """Whether it is on top of the wing, for example false."""
    tape_width: Length | None = None
    """Of the tape round it, for example 6 in."""
    least_tape: Length | None = None
    """What the covering manual asks for, for example 4 in."""
    manual: Text | None = None
    """Which page says so, for example covering manual, 3rd edition, page 52."""


class Shrinking(Named):
    """The fabric of one surface tautened with an iron."""

    surface: _SurfaceName
    """For example LW-UPPER."""
    iron: _InstrumentName | None = None
    """For example IRON."""
    day: Day | None = None
    """For example 2026-05-09."""
    stages: tuple[Temperature, ...] = ()
    """Temperatures of the iron in the order in which they were used, for example [250 degF, 300 degF, 350 degF]."""


class TestStrip(Named):
    """A strip cemented together from one batch and pulled apart again."""

    batch: _BatchName
    """For example C-0417."""
    made: Day | None = None
    """For example 2026-05-09."""
    tested: Day | None = None
    """For example 2026-05-12."""
    peel: ForcePerLength | None = None
    """What it held, for example 3 lb/in."""
