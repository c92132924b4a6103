"""Air and its moisture. Temperatures in degrees Celsius, humidity as a fraction."""

from __future__ import annotations

import math

__all__ = ["COLDEST", "HOTTEST", "dew_point"]

# Magnus formula, constants of the 1996 refit, valid from -40 to 50 degC; all published sets agree within 0.03 degC here.
_B, _C = 17.625, 243.04
COLDEST, HOTTEST = -40.0, 50.0


def dew_point(celsius: float, humidity: float) -> float:
    """The temperature at which this air would be saturated, in degC.

    g = ln(RH) + b T / (c + T), Td = c g / (b - g). ValueError outside -40..50 degC, and for a humidity not above 0 or over 1.
    """
    if not COLDEST <= celsius <= HOTTEST:
        raise ValueError(
            f"the dew-point formula holds from {COLDEST:.0f} to {HOTTEST:.0f} degC, not at {celsius:.1f} degC"
        )
    if not 0 < humidity <= 1:
        raise ValueError(f"a relative humidity lies above 0 % and up to 100 %, not at {humidity * 100:.0f} %")
    g = math.log(humidity) + _B * celsius / (_C + celsius)
    return _C * g / (_B - g)
