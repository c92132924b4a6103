"""American wire gauge."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache, total_ordering
from typing import TYPE_CHECKING, Any

from jurystrut.quantities import grammar
from jurystrut.quantities.errors import QuantityError, shown
from jurystrut.quantities.shapes import text_schema

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import core_schema

__all__ = ["Gauge"]

# A leading zero before another digit is refused: 08 would be read as 8 by one reader and as 00 by another.
_GAUGE = re.compile(r"(?:(0{1,4})|([1-9][0-9]?)|([1-4])/0) ?AWG")
_THINNEST = 40
_WANTED = f"a wire size from {_THINNEST} AWG to 4/0 AWG, for example 18 AWG or 2/0 AWG"


@total_ordering
@dataclass(frozen=True, slots=True)
class Gauge:
    """A wire size, ordered by thickness: a thicker wire is greater, although its number is smaller.

    `number` counts on below zero: 0 for 1/0 (0), -1 for 2/0 (00), -2 for 3/0 (000), -3 for 4/0 (0000).
    """

    number: int

    @classmethod
    def parse(cls, text: str) -> Gauge:
        """Read `18 AWG`, `2/0 AWG` or `00 AWG`; raises QuantityError for anything else."""
        try:
            return _parsed(text)
        except TypeError:  # not hashable, so no text
            raise QuantityError(f"found {shown(text)}; wanted {_WANTED}") from None

    @property
    def name(self) -> str:
        """As AC 43.13-1B table 11-9 prints it: 18, 0, 00, 000, 0000."""
        return str(self.number) if self.number > 0 else "0" * (1 - self.number)

    @property
    def diameter(self) -> float:
        """Diameter of the solid conductor in metres: 0.005 in x 92^((36 - n) / 39), ASTM B258 (from memory)."""
        return 0.005 * 0.0254 * math.pow(92, (36 - self.number) / 39)

    @property
    def area(self) -> float:
        """Cross-section of the solid conductor in square metres, from its diameter; a stranded wire's differs."""
        return math.pi / 4 * self.diameter**2

    def __str__(self) -> str:
        return f"{self.number} AWG" if self.number >= 0 else f"{1 - self.number}/0 AWG"

    def __lt__(self, other: Gauge) -> bool:
        """Thinner than."""
        return self.number > other.number if isinstance(other, Gauge) else NotImplemented

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        from pydantic_core import core_schema

        def validate(value: Any) -> Gauge:
            return value if isinstance(value, cls) else cls.parse(value)

        return core_schema.no_info_plain_validator_function(validate)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return text_schema(_WANTED, ["18 AWG", "2/0 AWG"], _GAUGE.pattern)


@lru_cache(maxsize=256)
def _parsed(text: object) -> Gauge:
    words = grammar.checked(text, _WANTED)
    match = _GAUGE.fullmatch(words)
    if not match or (match[2] and int(match[2]) > _THINNEST):
        raise QuantityError(f"found {shown(text)}; wanted {_WANTED}")
    zeros, digits, noughts = match.groups()
    return Gauge(int(digits) if digits else 1 - (int(noughts) if noughts else len(zeros)))
