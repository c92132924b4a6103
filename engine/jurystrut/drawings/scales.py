"""Round numbers along an axis."""

from __future__ import annotations

import math

__all__ = ["ticks"]


def ticks(low: float, high: float, about: int = 6) -> list[float]:
    """Round values 1, 2 or 5 times a power of ten apart that cover `low` to `high`, about so many; ValueError if high <= low."""
    if not high > low:
        raise ValueError("an axis needs some length")
    rough = (high - low) / about
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * factor for factor in (1, 2, 5, 10) if power * factor >= rough)
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [round(index * step, 10) for index in range(first, last + 1)]
