"""Writes `unit_table.json`: every factor and offset, asked of pint once, so that no check has to import it.

Run `python -m jurystrut.quantities.generate` after a change of the definitions or spellings.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from jurystrut.quantities.registry import registry
from jurystrut.quantities.spellings import SPELLINGS

__all__ = ["TABLE", "table"]

TABLE = Path(__file__).with_name("unit_table.json")


def table() -> str:
    """The file's text: dimension -> spelling -> [factor, offset], with SI = value * factor + offset."""
    units = registry()
    found: dict[str, dict[str, list[float]]] = {}
    for dimension, (inside, spellings) in SPELLINGS.items():
        base = units.parse_units(inside)
        for spelling, meaning in spellings.items():
            found.setdefault(dimension, {})[spelling] = _scale(units, meaning, base)
    return json.dumps(found, ensure_ascii=False, indent=1) + "\n"


def _scale(units: Any, meaning: str, base: Any) -> list[float]:
    if meaning.startswith("degree_"):
        zero = units.Quantity(0.0, meaning).to(base).magnitude
        return [float(units.Quantity(1.0, f"delta_{meaning}").to(base).magnitude), float(zero)]
    return [float(units.parse_expression(meaning).to(base).magnitude), 0.0]


if __name__ == "__main__":
    TABLE.write_text(table(), encoding="utf-8")
