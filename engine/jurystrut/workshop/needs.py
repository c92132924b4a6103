"""What a product needs of the weather: its manual's limits as the builder declared them, else common practice, said so."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from jurystrut.calculations.work_window import Needs
from jurystrut.errors import UsageError
from jurystrut.quantities import Temperature, TemperatureDifference, Time

if TYPE_CHECKING:
    from jurystrut.records.covering import Application, Product

__all__ = ["needs_of"]

# Common practice, no source: covering work from about 50 degF, with no night below about 45 degF.
_COLDEST_WORK_F, _COLDEST_NIGHT_F = 50.0, 45.0
_HOTTEST_C = 50.0  # the dew-point formula ends there
_DEW_MARGIN_C = 3.0  # general coating practice, repeated with ISO 8502-4, second hand
_CURE_H = 24.0  # our own choice where the manual's cure is not declared: the night that follows lies within it


def needs_of(product: Product, before: Application | None = None) -> tuple[Needs, list[str]]:
    """What a product needs, and in words where each limit comes from; `before` is its last coat on the surface in question.

    UsageError where it is not logged when that coat was finished.
    """
    manual = product.manual or "its manual"
    practice = "common practice, no source"
    air, moist, margin = product.temperature, product.humidity, product.dew_point_margin
    night, cure = product.cure_minimum or product.overnight_minimum, product.cure
    coldest = air.low if air else Temperature.of(_COLDEST_WORK_F, "degF")
    least = night or Temperature.of(_COLDEST_NIGHT_F, "degF")
    above = margin or TemperatureDifference.of(_DEW_MARGIN_C, "degC")
    lasts = cure or Time.of(_CURE_H, "h")
    needs = Needs(
        (coldest.to("degC"), air.high.to("degC") if air else _HOTTEST_C),
        (moist.low.si, moist.high.si) if moist else None,
        above.to("degC"),
        product.greatest_wind.to("kt") if product.greatest_wind else None,
        timedelta(seconds=lasts.si),
        least.to("degC"),
        product.cure_humidity.si if product.cure_humidity else None,
        _recoat(product, before),
    )
    curing = manual if night and cure else f"{manual}; the time is our own choice" if night else practice
    words = [
        f"air {air}: {manual}" if air else f"air not below {coldest}: {practice}",
        f"humidity {moist}: {manual}" if moist else "humidity: no limit is declared",
        f"{above} above the dew point: {manual if margin else 'general practice, known at second hand'}",
        f"for {lasts} not below {least}: {curing}",
    ]
    if product.cure_humidity:
        own = "" if cure else "; the time is our own choice"
        words.append(f"for {lasts} humidity up to {product.cure_humidity}: {manual}{own}")
    if product.greatest_wind:
        words.append(f"wind up to {product.greatest_wind}: {manual}")
    if before:
        after = f"{product.recoat} after it: {manual}" if product.recoat else "no recoat window is declared"
        words.append(f"the coat before is {before.id}, finished {before.finished:%Y-%m-%d %H:%M}; {after}")
    return needs, words


def _recoat(product: Product, before: Application | None) -> tuple[datetime, datetime] | None:
    """When the coat before lets the next be begun, at the earliest and at the latest."""
    if before is None:
        return None
    if before.finished is None:
        raise UsageError(
            f"{before.at().position}: record 'finished' of {before.id}, so that its recoat window is known"
        )
    if product.recoat is None:
        return None
    soonest, latest = (before.finished + timedelta(seconds=end.si) for end in (product.recoat.low, product.recoat.high))
    return soonest, latest
