"""The pint registries, built on first use from our own definitions; the only place that imports pint."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any

__all__ = ["exact_registry", "registry"]

_DEFINITIONS = Path(__file__).with_name("unit_definitions.txt")


@lru_cache(maxsize=1)
def registry() -> Any:
    """A pint.UnitRegistry that knows the units of `unit_definitions.txt` and no others."""
    import pint

    return pint.UnitRegistry(str(_DEFINITIONS), autoconvert_offset_to_baseunit=True)


@lru_cache(maxsize=1)
def exact_registry() -> Any:
    """The same, computing in fractions: each factor asked of it is exact."""
    import pint

    return pint.UnitRegistry(str(_DEFINITIONS), autoconvert_offset_to_baseunit=True, non_int_type=Fraction)
