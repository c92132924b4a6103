"""The closed list of units: what each spelling is worth in SI, by dimension."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from jurystrut.quantities.advice import unit_advice
from jurystrut.quantities.errors import QuantityError, shown
from jurystrut.quantities.spellings import AMERICAN

__all__ = ["Scale", "named", "table", "units_of"]


class Scale(NamedTuple):
    """SI = (value * times + plus) / over, in whole numbers; `unit` is the spelling of reports, never an ambiguous one.

    Whole numbers make a conversion exact but for one last rounding: 10 degC is no less than 50 degF, 1 ft is 12 in.
    """

    times: int
    plus: int
    over: int
    unit: str

    def to_si(self, over: int, under: int) -> float:
        """The ratio over/under of this unit in SI: the nearest float."""
        return (over * self.times + under * self.plus) / (under * self.over)

    def from_si(self, si: float) -> float:
        """How many of this unit."""
        return (si * self.over - self.plus) / self.times

    def step(self) -> Scale:
        """The same for differences, which have no zero to count from."""
        return self._replace(plus=0)


_Table = dict[str, dict[str, Scale]]


@lru_cache(maxsize=1)
def table() -> _Table:
    """Dimension -> spelling -> scale, read from the file that `generate` writes."""
    import json

    data = json.loads(Path(__file__).with_name("unit_table.json").read_text(encoding="utf-8"))
    return {name: {spelling: Scale(*scale) for spelling, scale in units.items()} for name, units in data.items()}


def units_of(dimension: str) -> dict[str, Scale]:
    """Every spelling of a dimension's units."""
    return table()[dimension]


def named(dimension: str, unit: str, example: str, *, american: bool = False, written: str = "") -> Scale:
    """One unit's scale; `written` is the text it stood in, for messages.

    QuantityError where the dimension has no such unit, or where it is a bare gallon, quart or pint and `american` is
    false.
    """
    found = table()[dimension].get(unit)
    if found is None or (unit in AMERICAN and not american):
        raise QuantityError(f"found {shown(written or unit)}; {unit_advice(unit, dimension, example, table())}")
    return found
