"""The one pint registry, built on first use from our own definitions; the only place that imports pint."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

__all__ = ["registry"]


@lru_cache(maxsize=1)
def registry() -> Any:
    """A pint.UnitRegistry that knows the units of `unit_definitions.txt` and no others."""
    import pint

    return pint.UnitRegistry(str(Path(__file__).with_name("unit_definitions.txt")), autoconvert_offset_to_baseunit=True)
