"""How a quantity looks, for editors: its JSON Schema, with every unit that its kind has, so that a slip is underlined at once.

What these expressions refuse, reading refuses too; they take a little more, such as a number that is too large.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from jurystrut.quantities.grammar import NUMBER, SIGNED, WHOLE
from jurystrut.quantities.units import units_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

__all__ = ["compound_shape", "quantity_schema", "range_shape", "single_shape", "text_schema", "tolerance_shape"]


def quantity_schema(
    wanted: str, examples: Sequence[str], dimension: str, shape: Callable[[str], str]
) -> dict[str, Any]:
    """The schema of a quantity of this dimension; `shape` makes the expression, given that of a unit."""
    units = list(units_of(dimension))
    either = "|".join(unit.replace("*", "[*]") for unit in units)
    return text_schema(f"{wanted}; units: {', '.join(units)}", examples, shape(f"(?:{either})"))


def text_schema(wanted: str, examples: Sequence[str], expression: str) -> dict[str, Any]:
    """The schema of a text that an expression takes; `errorMessage` is what editors say instead of the expression."""
    return {
        "type": "string",
        "description": wanted,
        "examples": [*examples],
        "pattern": _blanks_at_will(expression),
        "errorMessage": f"wanted {wanted}",
    }


def single_shape(unit: str) -> str:
    """One number with its unit."""
    return rf"{SIGNED} ?{unit}"


def compound_shape(unit: str) -> str:
    """The same, or two or three such as `5 ft 2 in`."""
    return rf"[+-]?(?:{WHOLE} ?{unit} ){{0,2}}{NUMBER} ?{unit}"


def range_shape(unit: str) -> str:
    """From `50..95 degF`."""
    return rf"{SIGNED} ?\.\. ?{SIGNED} ?{unit}"


def tolerance_shape(unit: str) -> str:
    """As in `21 ± 1 deg` and `21 +1/-2 deg`."""
    return rf"{SIGNED} ?(?:(?:±|\+/-) ?{NUMBER}|\+{NUMBER} ?/ ?-{NUMBER}) ?{unit}"


def _blanks_at_will(expression: str) -> str:
    """As reading has it: any number of blanks counts as one, and around the whole as none."""
    single = expression.replace("[- ]", "(?:-| )")
    return "^ *" + re.sub(r" \??", lambda blank: " *" if blank.group() == " ?" else " +", single) + " *$"
