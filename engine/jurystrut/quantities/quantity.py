"""A checked physical quantity: SI inside, the builder's unit and words outside."""

from __future__ import annotations

from functools import total_ordering
from typing import TYPE_CHECKING, Any, ClassVar, Self

from jurystrut.quantities import grammar
from jurystrut.quantities.advice import text_advice
from jurystrut.quantities.errors import QuantityError, an, shown
from jurystrut.quantities.frozen import Frozen
from jurystrut.quantities.shapes import compound_shape, quantity_schema, single_shape
from jurystrut.quantities.spellings import AMERICAN, SPELLINGS
from jurystrut.quantities.units import Scale, named, table, units_of

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import core_schema

__all__ = ["GALLON", "Quantity", "american_gallons", "may_hold_gallons"]

GALLON = "gallon"
"""Key of the validation context: `{"gallon": "US"}` where a plain `gal`, `qt` or `pt` is an American one."""

_MOST_CACHED = 100_000
_COMPOUNDED = frozenset({"length", "mass", "time", "angle"})


@total_ordering
class Quantity(Frozen):
    """A number with a unit of one dimension; each dimension is a class of its own, so that no length passes for a mass.

    `si` is the value in the dimension's SI unit (kelvin for a temperature), `unit` the unit in its usual spelling (`in`
    for `inches`, `US gal` for a plain `gal`), `text` the whole as written. Immutable; equal and ordered within its own
    class only, by `si`. A class with `signed` takes negative values.
    """

    __slots__ = ("si", "text", "unit")

    dimension: ClassVar[str]
    signed: ClassVar[bool] = False
    example: ClassVar[str]
    _cached: ClassVar[dict[str, Any]]
    _cached_american: ClassVar[dict[str, Any]]
    _scales: ClassVar[dict[str, Scale]]

    si: float
    unit: str
    text: str

    def __init_subclass__(cls) -> None:
        cls._cached, cls._cached_american, cls._scales = {}, {}, {}

    def __new__(cls, si: float, unit: str, text: str) -> Self:
        """From parts that are known to be sound; use `parse` or `of`, which check."""
        new = super().__new__(cls)
        object.__setattr__(new, "si", si)
        object.__setattr__(new, "unit", unit)
        object.__setattr__(new, "text", text)
        return new

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a quantity as builders write it.

        Raises QuantityError for anything that is not one of this dimension, a gallon of no country among it; the
        message says what would be.
        """
        try:
            found: Self = cls._cached[text]
        except (KeyError, TypeError):
            return cls._read(text, american=False)
        return found

    @classmethod
    def parse_american(cls, text: str) -> Self:
        """The same where a plain gallon, quart or pint is an American one."""
        try:
            found: Self = cls._cached_american[text]
        except (KeyError, TypeError):
            return cls._read(text, american=True)
        return found

    @classmethod
    def of(cls, value: float, unit: str) -> Self:
        """A quantity from a number and one of the dimension's units.

        QuantityError for any other unit, and for a number that is not finite, out of bounds, or negative where it may
        not be.
        """
        text = f"{value:.10g} {unit}"
        scale = named(cls.dimension, unit, cls.example)
        return cls.scaled(*grammar.ratio(repr(float(value))), scale, text)

    def to(self, unit: str) -> float:
        """The value in another unit of the same dimension; QuantityError for any other unit."""
        scale = self._scales.get(unit)
        if scale is None:
            scale = self._scales[unit] = named(self.dimension, unit, self.example)
        return scale.from_si(self.si)

    @property
    def pint(self) -> Any:
        """The same as a pint.Quantity in SI; for those who compute with pint. Imports it on first use."""
        from jurystrut.quantities.registry import registry

        return registry().Quantity(self.si, SPELLINGS[self.dimension][0])

    @classmethod
    def wanted(cls) -> str:
        """What a field of this kind wants, with an example; for messages."""
        return f"{an(cls.dimension)}, for example {cls.example}"

    @classmethod
    def scaled(cls, over: int, under: int, scale: Scale, text: str) -> Self:
        """A quantity from a ratio and its unit's scale; QuantityError where it is negative and may not be."""
        si = scale.to_si(over, under)
        if si < 0 and not cls.signed:
            limit = "below absolute zero" if cls.dimension == "temperature" else "negative"
            raise QuantityError(
                f"found {shown(text)}; {an(cls.dimension)} cannot be {limit} here; write it like {cls.example}"
            )
        return cls(si, scale.unit, text)

    @classmethod
    def _read(cls, text: object, *, american: bool) -> Self:
        words = grammar.checked(text, cls.wanted())
        term = grammar.single(words)
        if term and term.unit in units_of(cls.dimension):
            found = cls.scaled(term.over, term.under, cls._scale(term.unit, words, american=american), words)
        else:
            found = cls._read_compound(words, term)
        cache: dict[str, Self] = cls._cached_american if american else cls._cached
        if len(cache) >= _MOST_CACHED:
            cache.clear()
        cache[str(text)] = found
        return found

    @classmethod
    def _scale(cls, unit: str, words: str, *, american: bool) -> Scale:
        return named(cls.dimension, unit, cls.example, american=american, written=words)

    @classmethod
    def _read_compound(cls, words: str, term: grammar.Term | None) -> Self:
        units = units_of(cls.dimension)
        sign, parts = grammar.compound(words) or ("", ())
        if not parts or cls.dimension not in _COMPOUNDED or any(part.unit not in units for part in parts):
            terms = parts or ((term,) if term else ())
            raise QuantityError(text_advice(words, cls.dimension, cls.example, terms, table()))
        over, under = _sum(words, [(part, units[part.unit]) for part in parts])
        return cls.scaled(-over if sign == "-" else over, under, Scale(1, 0, 1, units[parts[0].unit].unit), words)

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        from pydantic_core import core_schema

        def validate(value: Any) -> Any:
            return value if isinstance(value, cls) else cls.parse(value)

        def validate_in(value: Any, info: core_schema.ValidationInfo) -> Any:
            if isinstance(value, cls):
                return value
            return cls.parse_american(value) if american_gallons(info) else cls.parse(value)

        if may_hold_gallons(cls):
            return core_schema.with_info_plain_validator_function(validate_in)
        return core_schema.no_info_plain_validator_function(validate)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        shape = compound_shape if cls.dimension in _COMPOUNDED else single_shape
        return quantity_schema(cls.wanted(), [cls.example], cls.dimension, shape)

    def _parts(self) -> tuple[Any, ...]:
        return self.si, self.unit, self.text

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


def may_hold_gallons(kind: type[Quantity]) -> bool:
    """Whether a plain gallon can turn up among the kind's units, so that reading it depends on the whole record."""
    return not AMERICAN.isdisjoint(units_of(kind.dimension))


def american_gallons(info: core_schema.ValidationInfo) -> bool:
    """Whether the records being validated say that a plain gallon is an American one."""
    context: dict[str, Any] = info.context or {}
    return context.get(GALLON) == "US"


def _sum(words: str, parts: list[tuple[grammar.Term, Scale]]) -> tuple[int, int]:
    """A compound's value in SI as a ratio; units must shrink, and each part be less than one of the unit before it."""
    total = (0, 1)
    before: tuple[int, int] | None = None
    for term, scale in parts:
        part = (term.over * scale.times, term.under * scale.over)
        unit = (scale.times, scale.over)
        if before and not (_less(part, before) and _less(unit, before)):
            raise QuantityError(
                f"found {shown(words)}; each part must be less than one of the unit before it, for example 5 ft 2 in"
            )
        total, before = (total[0] * part[1] + part[0] * total[1], total[1] * part[1]), unit
    return total


def _less(one: tuple[int, int], other: tuple[int, int]) -> bool:
    return one[0] * other[1] < other[0] * one[1]
