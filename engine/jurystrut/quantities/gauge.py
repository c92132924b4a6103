"""American wire gauge."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from jurystrut.quantities.errors import QuantityError, shown

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import core_schema

__all__ = ["Gauge"]

_GAUGE = re.compile(r"([0-9]{1,2}|0{2,4}|([1-4])/0) ?AWG")
_THINNEST = 40


@dataclass(frozen=True, slots=True)
class Gauge:
    """A wire size; `number` counts 0, -1, -2, -3 for 0, 2/0, 3/0 and 4/0, so that a thicker wire has a smaller number."""

    number: int

    @classmethod
    def parse(cls, text: str) -> Gauge:
        """Read `18 AWG`, `2/0 AWG` or `00 AWG`; raises QuantityError for anything else."""
        return _parsed(text) if isinstance(text, str) else _parsed(shown(text))

    @property
    def name(self) -> str:
        """As AC 43.13-1B table 11-9 prints it: 18, 0, 00, 000, 0000."""
        return str(self.number) if self.number > 0 else "0" * (1 - self.number)

    @property
    def diameter(self) -> float:
        """Diameter of the solid conductor in metres: 0.005 in x 92^((36 - n) / 39), ASTM B258 (from memory)."""
        return 0.005 * 0.0254 * math.pow(92, (36 - self.number) / 39)

    def __str__(self) -> str:
        return f"{self.number} AWG" if self.number >= 0 else f"{1 - self.number}/0 AWG"

    def __lt__(self, other: Gauge) -> bool:
        """Thinner than."""
        return self.number > other.number

    def __le__(self, other: Gauge) -> bool:
        return self.number >= other.number

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        from pydantic_core import core_schema

        def validate(value: Any) -> Gauge:
            return value if isinstance(value, cls) else cls.parse(value)

        return core_schema.no_info_plain_validator_function(validate)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"type": "string", "description": "American wire gauge, for example 18 AWG", "pattern": f"^{_GAUGE.pattern}$"}


@lru_cache(maxsize=256)
def _parsed(text: str) -> Gauge:
    match = _GAUGE.fullmatch(text) if len(text) <= 64 else None
    if not match:
        raise QuantityError(f"found {shown(text)}; wanted a wire size, for example 18 AWG or 2/0 AWG")
    if match[2]:
        return Gauge(1 - int(match[2]))
    number = 1 - len(match[1]) if match[1].startswith("0") else int(match[1])
    if number > _THINNEST:
        raise QuantityError(f"found {shown(text)}; wanted a wire size from {_THINNEST} AWG to 4/0 AWG")
    return Gauge(number)
