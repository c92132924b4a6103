"""Air and its moisture. Temperatures in degrees Celsius, humidity as a fraction."""

from __future__ import annotations

import math
from datetime import UTC
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import datetime

__all__ = ["COLDEST", "HOTTEST", "dew_point", "dew_point_margin", "hours_between", "relative_humidity"]

# Magnus formula over water, constants of the 1996 refit, valid from -40 to 50 degC; all published sets agree within 0.03 degC.
_B, _C = 17.625, 243.04  # magnus-1996
COLDEST, HOTTEST = -40.0, 50.0  # magnus-1996


def dew_point(celsius: float, humidity: float) -> float:
    """The temperature at which this air would be saturated over water, in degC.

    g = ln(RH) + b T / (c + T), Td = c g / (b - g). ValueError where air or dew point lies outside -40..50 degC, and for a
    humidity not above 0 or over 1. Below freezing it is not the frost point, which lies higher.
    """
    _check_range("formula", celsius)
    if not 0 < humidity <= 1:
        raise ValueError(f"a relative humidity lies above 0 % and up to 100 %, not at {humidity * 100:.0f} %")
    g = math.log(humidity) + _magnus(celsius)
    dew = celsius if humidity == 1 else min(celsius, _C * g / (_B - g))
    _check_range("result", dew)
    return dew


def relative_humidity(celsius: float, dew: float) -> float:
    """The relative humidity of air with a known dew point, as a fraction: the inverse of `dew_point`.

    ValueError where either lies outside -40..50 degC, or the dew point above the air's temperature.
    """
    _check_range("formula", celsius)
    _check_range("formula", dew)
    if dew > celsius:
        raise ValueError(f"a dew point of {dew:.1f} degC cannot lie above the air's {celsius:.1f} degC")
    return math.exp(_magnus(dew) - _magnus(celsius))


def dew_point_margin(surface: float, celsius: float, humidity: float) -> float:
    """How far a surface is above the dew point of the air about it, in degC; negative where dew would form on it.

    ValueError as for `dew_point`.
    """
    return surface - dew_point(celsius, humidity)


def hours_between(start: datetime, end: datetime) -> float:
    """Hours from one instant to another, negative where the second is the earlier; a change of clocks in between is counted.

    ValueError where only one of them has a time zone.
    """
    if (start.utcoffset() is None) != (end.utcoffset() is None):
        raise ValueError("one of two times has a time zone and the other has none; they cannot be compared")
    if start.utcoffset() is not None:
        # Two times of one zone are subtracted by their clock faces, unless both are brought to universal time first.
        start, end = start.astimezone(UTC), end.astimezone(UTC)
    return (end - start).total_seconds() / 3600


def _magnus(celsius: float) -> float:
    """The logarithm of saturation pressure, but for a constant."""
    return _B * celsius / (_C + celsius)


def _check_range(what: str, celsius: float) -> None:
    if not COLDEST <= celsius <= HOTTEST:
        raise ValueError(
            f"the dew-point {what} holds from {COLDEST:.0f} to {HOTTEST:.0f} degC, not at {celsius:.1f} degC"
        )
