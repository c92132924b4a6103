"""The closed list of units: what each spelling is worth in SI, by dimension, and what to say of a spelling not in it."""

from __future__ import annotations

import difflib
import json
from functools import lru_cache
from pathlib import Path

from jurystrut.quantities.errors import QuantityError, shown

__all__ = ["Scale", "scale", "units_of", "wrong_unit"]

Scale = tuple[float, float]
"""Factor and offset: SI = value * factor + offset."""

_HINTS = {
    "nm": "nanometres or nautical miles? write nmi for nautical miles",
    "NM": "write nmi for nautical miles",
    "month": "months differ in length; write days or weeks",
    "months": "months differ in length; write days or weeks",
    "year": "years differ in length; write days or weeks",
    "years": "years differ in length; write days or weeks",
    "gal": "write 'US gal' or 'imp gal'; a plain 'gal' is American only where the aircraft's authority is US",
    "qt": "write 'US qt'; a plain 'qt' is American only where the aircraft's authority is US",
    "pt": "write 'US pt'; a plain 'pt' is American only where the aircraft's authority is US",
    "gal/h": "write 'US gal/h' or 'imp gal/h'; a plain 'gal' is American only where the aircraft's authority is US",
    "lb/gal": "write 'lb/US gal' or 'lb/imp gal'; a plain 'gal' is American only where the aircraft's authority is US",
}


@lru_cache(maxsize=1)
def _table() -> dict[str, dict[str, Scale]]:
    data = json.loads(Path(__file__).with_name("unit_table.json").read_text(encoding="utf-8"))
    return {dimension: {s: (float(f), float(o)) for s, (f, o) in units.items()} for dimension, units in data.items()}


def units_of(dimension: str) -> dict[str, Scale]:
    """Every spelling of a dimension's units, with factor and offset."""
    return _table()[dimension]


def scale(dimension: str, unit: str) -> Scale:
    """Factor and offset of one unit; QuantityError where the dimension has no such unit."""
    try:
        return _table()[dimension][unit]
    except KeyError:
        raise QuantityError(wrong_unit(dimension, unit)) from None


def wrong_unit(dimension: str, unit: str) -> str:
    """Why a unit cannot stand here, and the nearest one that can."""
    if unit in _HINTS:
        return f"the unit {shown(unit)}: {_HINTS[unit]}"
    for other, units in _table().items():
        if other != dimension and unit in units:
            return f"{shown(unit)} is a unit of {other}; wanted a {dimension}"
    folded = {spelling.lower(): spelling for spelling in _table()[dimension]}
    near = difflib.get_close_matches(unit.lower()[:20], folded, n=1, cutoff=0.4)
    known = ", ".join(list(_table()[dimension])[:8])
    return f"unknown unit {shown(unit)}; " + (f"did you mean {folded[near[0]]}?" if near else f"known here: {known}")
