"""Writes `unit_table.json`: every factor and offset, asked of pint once, so that no check has to import it.

Run `python -m jurystrut.quantities.generate` after a change of the definitions or spellings.
"""

from __future__ import annotations

import json
import math
from fractions import Fraction
from pathlib import Path

from jurystrut.quantities.registry import exact_registry
from jurystrut.quantities.spellings import AMERICAN, SPELLINGS

__all__ = ["TABLE", "table_text"]

TABLE = Path(__file__).with_name("unit_table.json")


def table_text() -> str:
    """The file's text: dimension -> spelling -> [times, plus, over, usual spelling]; see Scale for their meaning."""
    dimensions = (f"{_quoted(name)}: {{\n{_lines(name)}\n}}" for name in SPELLINGS)
    return "{\n" + ",\n".join(dimensions) + "\n}\n"


def _lines(dimension: str) -> str:
    inside, spellings = SPELLINGS[dimension]
    canonical: dict[str, str] = {}
    for spelling, meaning in spellings.items():
        if spelling not in AMERICAN:
            canonical.setdefault(meaning, spelling)
    rows = ((spelling, [*_scale(meaning, inside), canonical[meaning]]) for spelling, meaning in spellings.items())
    return ",\n".join(f"  {_quoted(spelling)}: {_quoted(row)}" for spelling, row in rows)


def _scale(meaning: str, inside: str) -> tuple[int, int, int]:
    units = exact_registry()
    base = units.parse_units(inside)
    if meaning.startswith("degree_"):
        step, zero = units.Quantity(Fraction(1), f"delta_{meaning}"), units.Quantity(Fraction(0), meaning)
        return _over_one_denominator(step.to(base).magnitude, zero.to(base).magnitude)
    return _over_one_denominator(Fraction(units.parse_expression(meaning).to(base).magnitude), Fraction(0))


def _over_one_denominator(factor: Fraction, offset: Fraction) -> tuple[int, int, int]:
    over = math.lcm(factor.denominator, offset.denominator)
    return int(factor * over), int(offset * over), over


def _quoted(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


if __name__ == "__main__":
    TABLE.write_text(table_text(), encoding="utf-8")
