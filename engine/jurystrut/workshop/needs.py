"""What a product needs of the weather: its manual's limits as the builder declared them, else common practice, said so."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from jurystrut.calculations.work_window import Needs
from jurystrut.quantities import Temperature, TemperatureDifference, Time

if TYPE_CHECKING:
    from jurystrut.records.covering import Product

__all__ = ["needs_of"]

# Common practice, no source: covering work from about 50 degF, with no night below about 45 degF.
_COLDEST_WORK_F, _COLDEST_NIGHT_F = 50.0, 45.0
_HOTTEST_C = 50.0  # the dew-point formula ends there
_DEW_MARGIN_C = 3.0  # general coating practice, repeated with ISO 8502-4, second hand
_CURE_H = 24.0  # our own choice where the manual's cure is not declared: the night that follows lies within it


def needs_of(product: Product) -> tuple[Needs, list[str]]:
    """What a product needs, and in words where each limit comes from."""
    manual = product.manual or "its manual"
    practice = "common practice, no source"
    air, moist, margin = product.temperature, product.humidity, product.dew_point_margin
    night, cure = product.overnight_minimum, product.cure
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
    )
    curing = manual if night and cure else f"{manual}; the time is our own choice" if night else practice
    words = [
        f"air {air}: {manual}" if air else f"air not below {coldest}: {practice}",
        f"humidity {moist}: {manual}" if moist else "humidity: no limit is declared",
        f"{above} above the dew point: {manual if margin else 'general practice, known at second hand'}",
        f"for {lasts} not below {least}: {curing}",
    ]
    return needs, words + ([f"wind up to {product.greatest_wind}: {manual}"] if product.greatest_wind else [])
