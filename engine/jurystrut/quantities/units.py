"""The closed list of units: what each spelling is worth in SI, by dimension."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from jurystrut.quantities.advice import unit_advice
from jurystrut.quantities.errors import QuantityError
from jurystrut.quantities.spellings import AMERICAN

__all__ = ["Scale", "named", "units_of"]


class Scale(NamedTuple):
    """SI = value * factor + offset; `unit` is the spelling that reports use, and never an ambiguous one."""

    factor: float
    offset: float
    unit: str


Table = dict[str, dict[str, Scale]]


@lru_cache(maxsize=1)
def table() -> Table:
    """Dimension -> spelling -> scale, read from the file that `generate` writes."""
    import json

    data = json.loads(Path(__file__).with_name("unit_table.json").read_text(encoding="utf-8"))
    return {name: {spelling: Scale(*scale) for spelling, scale in units.items()} for name, units in data.items()}


def units_of(dimension: str) -> dict[str, Scale]:
    """Every spelling of a dimension's units."""
    return table()[dimension]


def named(dimension: str, unit: str, example: str, *, american: bool = False) -> Scale:
    """One unit's scale.

    QuantityError where the dimension has no such unit, or where it is a bare gallon, quart or pint and `american` is false.
    """
    found = table()[dimension].get(unit)
    if found is None or (unit in AMERICAN and not american):
        raise QuantityError(unit_advice(unit, dimension, example, table()))
    return found
