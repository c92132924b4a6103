"""A checked physical quantity: SI inside, the builder's unit and words outside."""

from __future__ import annotations

import re
from functools import total_ordering
from typing import TYPE_CHECKING, Any, ClassVar, Self

from jurystrut.quantities import grammar
from jurystrut.quantities.errors import QuantityError, shown
from jurystrut.quantities.spellings import AMERICAN
from jurystrut.quantities.units import scale, units_of, wrong_unit

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import core_schema

__all__ = ["GALLON", "Quantity"]

GALLON = "gallon"
"""Key of the validation context: `{"gallon": "US"}` where a plain `gal`, `qt` or `pt` is an American one."""

_MOST_CACHED = 100_000


@total_ordering
class Quantity:
    """A number with a unit of one dimension; each dimension is a class of its own, so that no length passes for a mass.

    `si` is the value in the dimension's SI unit (kelvin for a temperature), `unit` the unit as written, `text` the whole
    as written. Immutable; compares within its own class only.
    """

    __slots__ = ("si", "text", "unit")

    dimension: ClassVar[str]
    signed: ClassVar[bool] = False
    example: ClassVar[str]
    _cache: ClassVar[dict[str, Any]]
    _american: ClassVar[bool] = False

    si: float
    unit: str
    text: str

    def __init_subclass__(cls) -> None:
        cls._cache = {}

    def __new__(cls, si: float, unit: str, text: str) -> Self:
        new = super().__new__(cls)
        object.__setattr__(new, "si", si)
        object.__setattr__(new, "unit", unit)
        object.__setattr__(new, "text", text)
        return new

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a quantity as builders write it.

        Raises QuantityError for anything that is not one of this dimension; its message says what would be.
        """
        cache: dict[str, Self] = cls._cache
        try:
            return cache[text]
        except (KeyError, TypeError):
            pass
        found = cls._read(text, american=False)
        if len(cache) >= _MOST_CACHED:
            cache.clear()
        cache[text] = found
        return found

    @classmethod
    def of(cls, value: float, unit: str) -> Self:
        """A quantity from a number and one of the dimension's units; QuantityError for any other unit."""
        factor, offset = scale(cls.dimension, unit)
        return cls(value * factor + offset, unit, f"{value:.10g} {unit}")

    def to(self, unit: str) -> float:
        """The value in another unit of the same dimension; QuantityError for any other unit."""
        factor, offset = scale(self.dimension, unit)
        return (self.si - offset) / factor

    @property
    def pint(self) -> Any:
        """The same as a pint.Quantity in SI; for those who compute with pint. Imports it on first use."""
        from jurystrut.quantities.registry import registry
        from jurystrut.quantities.spellings import SPELLINGS

        return registry().Quantity(self.si, SPELLINGS[self.dimension][0])

    @classmethod
    def wanted(cls) -> str:
        """What a field of this kind wants, with an example; for messages."""
        article = "an" if cls.dimension[0] in "aeiou" else "a"
        return f"{article} {cls.dimension}, for example {cls.example}"

    @classmethod
    def _read(cls, text: object, *, american: bool) -> Self:
        words = grammar.checked(text, cls.wanted())
        units = units_of(cls.dimension)
        term = grammar.single(words)
        if term and term.unit in units:
            factor, offset = units[term.unit]
            if term.unit in AMERICAN and not american:
                raise QuantityError(f"found {shown(text)}; {wrong_unit('', term.unit)}")
            si = term.value * factor + offset
        else:
            parts = grammar.compound(words)
            if not parts or any(part.unit not in units for part in parts[1]):
                raise QuantityError(f"found {shown(text)}; {cls._why_not(words, term)}")
            si = cls._sum(text, *parts)
            term = parts[1][0]
        if si < 0 and not cls.signed:
            raise QuantityError(f"found {shown(text)}; a {cls.dimension} cannot be negative here")
        return cls(si, term.unit, words)

    @classmethod
    def _sum(cls, text: object, sign: str, parts: tuple[grammar.Term, ...]) -> float:
        """A compound's value; its units must shrink, and each part be less than one of the unit before it."""
        units = units_of(cls.dimension)
        total = 0.0
        before = float("inf")
        for part in parts:
            factor, offset = units[part.unit]
            if offset or (total and part.value * factor >= before * (1 - 1e-12)) or factor >= before:
                raise QuantityError(f"found {shown(text)}; in a compound each part is smaller than one of the unit before it")
            total += part.value * factor
            before = factor
        return -total if sign == "-" else total

    @classmethod
    def _why_not(cls, words: str, term: grammar.Term | None) -> str:
        if "," in words:
            return f"a comma; write {words.replace(',', '')!r} for thousands, or a point for decimals"
        if "'" in words or '"' in words:
            return f"feet and inches are written 5 ft 3 in; wanted {cls.wanted()}"
        if re.match("[0-9]+ [0-9]{3}", words):
            return "a space inside the number; write the digits together"
        if term:
            return wrong_unit(cls.dimension, term.unit)
        if words.lstrip("+-").replace(".", "", 1).replace("/", "", 1).replace(" ", "").isdigit():
            return f"a number without a unit; wanted {cls.wanted()}"
        return f"wanted {cls.wanted()}"

    @classmethod
    def _validate(cls, value: object) -> Self:
        return value if isinstance(value, cls) else cls.parse(value)  # type: ignore[arg-type]

    @classmethod
    def _validate_in(cls, value: object, info: Any) -> Self:
        """For dimensions with a gallon: whether it may stand alone depends on the whole record."""
        if isinstance(value, cls):
            return value
        american = bool(info.context) and info.context.get(GALLON) == "US"
        return cls._read(value, american=american)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        from pydantic_core import core_schema

        if AMERICAN & units_of(cls.dimension).keys():
            return core_schema.with_info_plain_validator_function(cls._validate_in)
        return core_schema.no_info_plain_validator_function(cls._validate)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"type": "string", "description": cls.wanted(), "examples": [cls.example]}

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} is immutable")

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self.text!r})"

    def __eq__(self, other: object) -> bool:
        return self.si == other.si if isinstance(other, Quantity) and type(other) is type(self) else NotImplemented

    def __lt__(self, other: Self) -> bool:
        return self.si < other.si if type(other) is type(self) else NotImplemented

    def __hash__(self) -> int:
        return hash((type(self), self.si))
