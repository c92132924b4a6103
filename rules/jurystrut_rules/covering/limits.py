"""Was every coat applied inside the limits that its product's own manual declares?

The limits are the builder's, copied from the covering manual with its page; a limit that is not declared is missing data,
never guessed. Where only common practice has a figure, falling short of it is a warning.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from jurystrut.calculations.atmosphere import dew_point
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    between,
    fact,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.quantities import Ratio, Temperature
    from jurystrut.records.covering import Application, Batch, Covering, Product

__all__ = [
    "above_dew_point",
    "batch_in_date",
    "cured_in_limits",
    "humidity_in_limits",
    "limits_have_a_page",
    "night_warm_enough",
    "products",
    "recoat_in_window",
    "temperature_in_limits",
]

_DECLARED = "Declare it from the product's manual, with its page."


@fact
def products(covering: Covering) -> dict[str, Product]:
    """Products by id; a log without entries is missing data."""
    if not covering.applications:
        raise MissingRecord("no application is recorded", covering.at())
    return {product.id: product for product in covering.products}


_LIMITS = (
    "temperature",
    "humidity",
    "dew_point_margin",
    "overnight_minimum",
    "recoat",
    "shelf_life",
    "pot_life",
    "cure",
    "cure_minimum",
    "cure_humidity",
    "mix",
    "least_peel",
)


@rule(
    "covering/declared-page",
    title="Limits have their page",
    asks="Does every product that declares limits name the manual and page that give them?",
    references=("declared-manual",),
    due=Stage.COVERING,
    remedy="Record 'manual': document, edition and page.",
)
def limits_have_a_page(products: Mapping[str, Product]) -> Iterator[Finding]:
    """A limit is taken at its word, and so its word must have a place where another can read it."""
    for product in products.values():
        declared = next((field for field in _LIMITS if getattr(product, field)), None)
        if declared is None:
            yield not_applicable(product.id, "it declares no limit", product.at())
        elif product.manual is None:
            yield no_data(product.id, "which manual gives its limits is not recorded", product.at(declared))
        else:
            yield passes(product.id, f"limits by {product.manual}", product.at("manual"))


@rule(
    "covering/temperature",
    title="Temperature at application",
    asks="Was the air within the product's declared temperatures at every application?",
    references=("declared-manual", "ac43-2-21", "practice-covering-cold"),
    due=Stage.COVERING,
    remedy="Look at the coat, test its bond, and record what was found; redo it where the manual says so.",
)
def temperature_in_limits(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """The temperature logged is held against the range that the product's manual gives, as the builder declared it."""
    for entry in covering.applications:
        product = products[entry.product]
        if entry.temperature is None:
            yield no_data(entry.id, "the temperature was not logged", entry.at())
        elif product.temperature is None:
            message = f"the temperature limits of {product.id} are not declared"
            yield no_data(entry.id, message, product.at(), entry.at(), remedy=_DECLARED)
        else:
            limits = product.temperature
            yield between(
                entry.id,
                round(entry.temperature.to("degF"), 6),
                round(limits.low.to("degF"), 6),
                round(limits.high.to("degF"), 6),
                "degF",
                f"{entry.temperature} while {product.id} was applied; its manual allows {limits}",
                entry.at("temperature"),
                product.at("temperature"),
            )


@rule(
    "covering/humidity",
    title="Humidity at application",
    asks="Was the air within the product's declared humidity at every application?",
    references=("declared-manual", "ac43-2-21"),
    due=Stage.COVERING,
    remedy="Look for blush and test the bond; redo the coat where the manual says so.",
)
def humidity_in_limits(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """The relative humidity logged is held against the range that the product's manual gives, as the builder declared it."""
    for entry in covering.applications:
        product = products[entry.product]
        if entry.humidity is None:
            yield no_data(entry.id, "the humidity was not logged", entry.at())
        elif product.humidity is None:
            message = f"the humidity limits of {product.id} are not declared"
            yield no_data(entry.id, message, product.at(), entry.at(), remedy=_DECLARED)
        else:
            limits = product.humidity
            yield between(
                entry.id,
                entry.humidity.to("%"),
                limits.low.to("%"),
                limits.high.to("%"),
                "%",
                f"{entry.humidity} humidity while {product.id} was applied; its manual allows {limits}",
                entry.at("humidity"),
                product.at("humidity"),
            )


# Kelvin: general coating practice, repeated with ISO 8502-4 (second hand); 5 degF is customary too, and less.
_DEW_MARGIN = 3.0  # iso-8502-4


@rule(
    "covering/dew-point",
    title="Surface above the dew point",
    asks="Was the surface far enough above the dew point of the air at every application?",
    references=("iso-8502-4", "magnus-1996", "declared-manual"),
    due=Stage.COVERING,
    remedy="Look for blush and trapped water; redo the coat where the manual says so.",
)
def above_dew_point(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """The dew point follows from the temperature and humidity logged, by the Magnus formula. The surface, or the air where no
    surface temperature was logged, must be above it by the product's declared margin.

    Where none is declared, 3 degC is asked for, the stricter of the two customary margins; being general practice known at
    second hand and written for steel, it only warns.
    """
    for entry in covering.applications:
        if entry.temperature is None or entry.humidity is None:
            unknown = "temperature" if entry.temperature is None else "humidity"
            yield no_data(entry.id, f"the {unknown} was not logged", entry.at())
            continue
        try:
            dew = dew_point(entry.temperature.to("degC"), entry.humidity.si)
        except ValueError as error:
            yield no_data(entry.id, str(error), entry.at())
            continue
        yield _above(entry, dew, products[entry.product])


def _above(entry: Application, dew: float, product: Product) -> Finding:
    surface = entry.surface_temperature or entry.temperature
    assert surface is not None
    above = surface.to("degC") - dew
    declared = product.dew_point_margin
    if declared and declared.to("degC") < 0:
        words = f"the margin declared for {product.id} lies below the dew point"
        return no_data(entry.id, words, product.at("dew_point_margin"), remedy=_DECLARED)
    wanted = declared.to("degC") if declared else _DEW_MARGIN
    return at_least(
        entry.id,
        above,
        wanted,
        "degC",
        f"the surface was {above:.1f} degC above the dew point of {dew:.1f} degC; "
        f"{declared or '3 degC by common practice'} is asked for",
        entry.at("humidity"),
        product.at("dew_point_margin") if declared else product.at(),
        working=lambda: [
            f"air {entry.temperature}, {entry.humidity}: dew point {dew:.2f} degC (Magnus, b 17.625, c 243.04)",
            f"surface {surface}: {surface.to('degC'):.2f} - {dew:.2f} = {above:.2f} degC",
        ],
        otherwise=Verdict.FAIL if declared else Verdict.WARN,
    )


_COLD_NIGHT_F = 45.0  # practice-covering-cold


@rule(
    "covering/overnight",
    title="Night after the application",
    asks="Did the night after every application stay warm enough for the cure?",
    references=("declared-manual", "practice-covering-cold"),
    due=Stage.COVERING,
    remedy="Test the bond before going on; redo the coat where the manual says so.",
)
def night_warm_enough(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """The coldest of the night that followed is held against the product's declared minimum.

    Where none is declared, 45 degF is asked for: common practice with water-borne products, no source, so it only warns.
    """
    for entry in covering.applications:
        declared = products[entry.product].overnight_minimum
        if entry.overnight_low is None:
            yield no_data(entry.id, "the coldest of the night that followed was not logged", entry.at())
            continue
        wanted = declared.to("degF") if declared else _COLD_NIGHT_F
        product = products[entry.product]
        yield at_least(
            entry.id,
            round(entry.overnight_low.to("degF"), 6),
            round(wanted, 6),
            "degF",
            f"the night fell to {entry.overnight_low}; {product.id} wants {declared or '45 degF by common practice'}",
            entry.at("overnight_low"),
            product.at("overnight_minimum") if declared else product.at(),
            otherwise=Verdict.FAIL if declared else Verdict.WARN,
        )


@rule(
    "covering/cure",
    title="Weather through the cure",
    asks="Did the air stay within the product's limits until every coat had cured?",
    references=("declared-manual",),
    due=Stage.COVERING,
    remedy="Test the bond and the hardness before going on; redo the coat where the manual says so.",
)
def cured_in_limits(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """Asked of products whose manual gives a time of cure. The coldest and the dampest until its end, as logged, are held against
    the least temperature and the highest humidity that the product declares while it cures. No limit is made up.
    """
    asked = False
    for entry in covering.applications:
        if products[entry.product].cure is not None:
            asked = True
            yield from _cured(entry, products[entry.product])
    if not asked:
        words = "no product declares a time of cure; covering/overnight judges the night alone"
        yield not_applicable("aircraft", words, covering.at("products"))


def _cured(entry: Application, product: Product) -> Iterator[Finding]:
    if product.cure_minimum is None and product.cure_humidity is None:
        words = f"{product.id} declares a cure of {product.cure} and no limits for it"
        yield no_data(entry.id, words, product.at("cure"), remedy=_DECLARED)
    if product.cure_minimum is not None:
        yield _warm_enough(entry, product, product.cure_minimum)
    if product.cure_humidity is not None:
        yield _dry_enough(entry, product, product.cure_humidity)


def _warm_enough(entry: Application, product: Product, least: Temperature) -> Finding:
    if entry.cure_low is None:
        return lacking(entry, "cure_low", f", and {product.id} cures for {product.cure}")
    have, wanted = round(entry.cure_low.to("degF"), 6), round(least.to("degF"), 6)
    words = f"{entry.cure_low} at the coldest within {product.cure}; {product.id} wants {least}"
    return at_least(entry.id, have, wanted, "degF", words, entry.at("cure_low"), product.at("cure_minimum"))


def _dry_enough(entry: Application, product: Product, most: Ratio) -> Finding:
    if entry.cure_humidity is None:
        return lacking(entry, "cure_humidity", f", and {product.id} cures for {product.cure}")
    words = f"{entry.cure_humidity} humidity at the most within {product.cure}; {product.id} allows {most}"
    where = entry.at("cure_humidity"), product.at("cure_humidity")
    return at_most(entry.id, entry.cure_humidity.to("%"), most.to("%"), "%", words, *where)


@rule(
    "covering/recoat",
    title="Recoat window",
    asks="Did every further coat of a product come within its declared recoat window?",
    references=("declared-manual",),
    due=Stage.COVERING,
    remedy="Follow what the manual says for a late or early coat, and record it.",
)
def recoat_in_window(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """Applications of one product to one surface are put in order of time; from the end of one to the start of the next must
    pass no less and no more than the product's declared window.
    """
    before: dict[tuple[str, str], Application] = {}
    for entry in sorted(covering.applications, key=lambda entry: (entry.started, entry.id)):
        key = (entry.product, entry.surface)
        earlier, before[key] = before.get(key), entry
        product = products[entry.product]
        if earlier is None:
            yield not_applicable(entry.id, f"the first coat of {product.id} on this surface", entry.at())
        elif product.recoat is None:
            message = f"the recoat window of {product.id} is not declared"
            yield no_data(entry.id, message, product.at(), entry.at(), remedy=_DECLARED)
        elif earlier.finished is None:
            message = f"when {earlier.id} was finished is not logged"
            yield no_data(entry.id, message, earlier.at(), entry.at(), remedy="Record 'finished'.")
        else:
            hours = (entry.started - earlier.finished) / timedelta(hours=1)
            low, high = product.recoat.low.to("h"), product.recoat.high.to("h")
            message = f"{hours:.1f} h after {earlier.id}; the window of {product.id} is {product.recoat}"
            yield between(entry.id, hours, low, high, "h", message, entry.at("started"), product.at("recoat"))


@rule(
    "covering/shelf-life",
    title="Batch in date",
    asks="Was every product used within its shelf life?",
    references=("declared-manual",),
    due=Stage.COVERING,
    remedy="Test the bond; redo the coat with a fresh batch where the manual says so.",
)
def batch_in_date(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """The last day of use printed on the batch counts; where none is, the day it was made and the declared shelf life."""
    batches = {batch.id: batch for batch in covering.batches}
    for entry in covering.applications:
        if entry.batch is None:
            yield no_data(entry.id, "which batch was used is not recorded", entry.at(), remedy="Record 'batch'.")
        else:
            yield _in_date(entry, batches[entry.batch], products[entry.product])


def _in_date(entry: Application, batch: Batch, product: Product) -> Finding:
    if batch.product != entry.product:
        message = f"batch {batch.id} is {batch.product}, and {entry.product} was applied"
        return fails(
            entry.id, message, entry.at("batch"), batch.at("product"), remedy="Correct the batch or the product."
        )
    last, where = batch.expires, [batch.at("expires")]
    if last is None and batch.made is not None and product.shelf_life is not None:
        days = min(product.shelf_life.to("d"), (date.max - batch.made).days)  # the calendar of dates ends
        last, where = batch.made + timedelta(days=days), [batch.at("made"), product.at("shelf_life")]
    if last is None:
        message = f"neither a last day of use nor day made and shelf life are recorded for batch {batch.id}"
        return no_data(entry.id, message, batch.at())
    used = entry.started.date()
    message = f"batch {batch.id} may be used until {last}, and was used on {used}"
    over = (used - last).days
    return at_most(
        entry.id, over, 0, "days", message, entry.at("started"), *where, remedy="Use a batch that is in date."
    )
