"""The section `covering`: products with their declared limits, surfaces, batches, and the log of applications."""

from typing import Annotated, Literal

from jurystrut.quantities import (
    ForcePerLength,
    Length,
    Mass,
    Range,
    Ratio,
    Speed,
    Temperature,
    TemperatureDifference,
    Time,
)
from jurystrut.records.base import Named, Record
from jurystrut.records.fabric import Instrument, Lacing, Panel, Repair, Seam, Shrinking, TestStrip
from jurystrut.records.fields import Count, Day, Flag, Id, Instant, Names, Number, Text

__all__ = ["Application", "Batch", "Cloth", "Covering", "Product", "Surface"]

_ProductName = Annotated[Id, Names("covering.products")]
_SurfaceName = Annotated[Id, Names("covering.surfaces")]
_ClothName = Annotated[Id, Names("covering.cloths")]
_InspectionName = Annotated[Id, Names("inspections")]
_BatchName = Annotated[Id, Names("covering.batches")]
_InstrumentName = Annotated[Id, Names("covering.instruments")]
_ComponentName = Annotated[Id, Names("weights.components")]


class Product(Named):
    """A cement, coat or primer, with the limits that its own manual declares."""

    what: Text
    """For example water-borne fabric cement."""
    manual: Text | None = None
    """Which manual, edition and page give these limits, for example covering manual, 3rd edition, page 41."""
    temperature: Range[Temperature] | None = None
    """Air temperature while it is applied, for example 50..95 degF."""
    humidity: Range[Ratio] | None = None
    """Relative humidity while it is applied, for example 20..80 %."""
    dew_point_margin: TemperatureDifference | None = None
    """How far the surface must be above the dew point, for example 3 degC."""
    overnight_minimum: Temperature | None = None
    """The least temperature of the night that follows, for example 45 degF."""
    recoat: Range[Time] | None = None
    """How long after the coat before, at least and at most, for example 2..48 h."""
    shelf_life: Time | None = None
    """How long after it was made it may be used, for example 365 day."""
    pot_life: Time | None = None
    """How long after mixing it may be used, for example 4 h."""
    cure: Time | None = None
    """How long after application the weather must stay within its limits, for example 24 h."""
    cure_minimum: Temperature | None = None
    """The least temperature until it has cured, for example 50 degF."""
    cure_humidity: Ratio | None = None
    """The highest humidity until it has cured, for example 85 %."""
    mix: tuple[Number, ...] = ()
    """Parts of what is mixed, by the measure that its manual uses, for example [4, 1]."""
    mix_tolerance: Ratio | None = None
    """How far each part may be off, by its manual, for example 5 %."""
    least_peel: ForcePerLength | None = None
    """What a test strip must hold when it is pulled apart, for example 2 lb/in."""
    greatest_wind: Speed | None = None
    """The most wind in which the manual, or the builder, lets it be applied, for example 8 kt."""


class Surface(Named):
    """A surface to be covered or coated."""

    what: Text
    """For example left wing, lower side."""
    cloth: _ClothName | None = None
    """The fabric on it, for example POLYESTER."""
    drained: Flag | None = None
    """Whether every panel of it has a drain at its lowest point as parked; leave it out for upper sides, for example true."""
    lies_below: Flag = False
    """Whether water can gather in its panels, so that they need drains, for example true."""
    closes: Flag = False
    """Whether its fabric closes a structure that nobody can look into afterwards, for example true."""
    closed_after: _InspectionName | None = None
    """The inspection of the inside before the fabric closed it, for example I-WING-L."""
    lacing_spacing: Length | None = None
    """Greatest distance between two laces or other attachments, for example 2.5 in."""
    lacing_limit: Length | None = None
    """The greatest that the chart or manual allows, as read by the builder, for example 2.5 in."""
    lacing_limit_speed: Speed | None = None
    """The never-exceed speed at which the chart was read, for example 138 kt."""
    lacing_limit_from: Text | None = None
    """Where that limit was read, for example AC 43.13-1B figure 2-12, inside the slipstream."""
    lacing: Lacing | None = None
    """How it was laced and taped, for example {cord: polyester, first: 1.2 in}."""
    weight_added: Mass | None = None
    """What fabric, cement, tapes and coats have added to it, by weighing before and after, for example 3.1 lb."""
    counted_in: tuple[_ComponentName, ...] = ()
    """The components of the section weights that this is part of, for example [LW-FABRIC]."""


class Cloth(Named):
    """A fabric."""

    what: Text
    """For example polyester, 1.8 oz/sq yd."""
    fibre: Literal["polyester", "glass", "cotton", "linen"] | None = None
    """For example polyester."""
    hottest_iron: Temperature | None = None
    """The hottest iron that its manual allows, for example 350 degF."""
    manual: Text | None = None
    """Which page says so, for example covering manual, 3rd edition, page 24."""
    strength_new: ForcePerLength | None = None
    """Breaking strength when new, warp or fill, whichever is less, for example 90 lb/in."""
    strength_tested: ForcePerLength | None = None
    """Breaking strength of the latest test, for example 78 lb/in."""
    tested: Day | None = None
    """The day of that test, for example 2026-09-01."""


class Batch(Named):
    """One can or lot of a product."""

    product: _ProductName
    """For example CEMENT."""
    made: Day | None = None
    """For example 2026-01-15."""
    expires: Day | None = None
    """The last day of use printed on it, for example 2027-01-15."""
    number: Text | None = None
    """The batch number printed on it, for example 0417."""


class Application(Named):
    """One coat or step on one surface."""

    product: _ProductName
    """For example CEMENT."""
    surface: _SurfaceName
    """For example LW-LOWER."""
    step: (
        Literal[
            "prime", "cement", "shrink", "first-coat", "fill", "tapes", "lacing", "build", "colour", "clear", "repair"
        ]
        | None
    ) = None
    """For example fill."""
    coat: Count | None = None
    """Which coat of this step, for example 2."""
    batch: _BatchName | None = None
    """For example C-0417."""
    started: Instant
    """For example 2026-05-03 09:30."""
    finished: Instant | None = None
    """For example 2026-05-03 11:00."""
    mixed: Instant | None = None
    """When the pot was mixed, for example 2026-05-03 09:10."""
    temperature: Temperature | None = None
    """Air at the surface, for example 64 degF."""
    humidity: Ratio | None = None
    """Relative humidity of that air, for example 55 %."""
    surface_temperature: Temperature | None = None
    """The surface itself; taken as the air's where left out, for example 62 degF."""
    overnight_low: Temperature | None = None
    """The least temperature of the night that followed, for example 51 degF."""
    cure_low: Temperature | None = None
    """The least temperature until it had cured, for example 54 degF."""
    cure_humidity: Ratio | None = None
    """The highest humidity until it had cured, for example 78 %."""
    mix: tuple[Number, ...] = ()
    """The parts that were measured out, for example [400, 100]."""
    measured_with: _InstrumentName | None = None
    """What air and surface were measured with, where there are several, for example BENCH."""


class Covering(Record):
    """The section `covering`."""

    products: tuple[Product, ...] = ()
    """Products."""
    cloths: tuple[Cloth, ...] = ()
    """Fabrics."""
    surfaces: tuple[Surface, ...] = ()
    """Surfaces."""
    batches: tuple[Batch, ...] = ()
    """Batches."""
    applications: tuple[Application, ...] = ()
    """The log."""
    instruments: tuple[Instrument, ...] = ()
    """Irons, thermometers and hygrometers."""
    panels: tuple[Panel, ...] = ()
    """Panels that drain by themselves."""
    seams: tuple[Seam, ...] = ()
    """Seams and laps."""
    repairs: tuple[Repair, ...] = ()
    """Repairs of the fabric."""
    shrinkings: tuple[Shrinking, ...] = ()
    """Fabric tautened with an iron."""
    strips: tuple[TestStrip, ...] = ()
    """Strips for testing."""
