"""Ranges and tolerances: two or three quantities of one dimension, written as one."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any, Generic, Self, TypeVar, cast, get_args

from jurystrut.quantities import grammar
from jurystrut.quantities.errors import QuantityError, an, shown
from jurystrut.quantities.frozen import Frozen
from jurystrut.quantities.kinds import Temperature, TemperatureDifference
from jurystrut.quantities.quantity import Quantity, american_gallons, may_hold_gallons
from jurystrut.quantities.shapes import quantity_schema, range_shape, tolerance_shape
from jurystrut.quantities.units import Scale, named

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import core_schema

__all__ = ["Range", "Tolerance"]

_Q = TypeVar("_Q", bound=Quantity)


class _Spread(Frozen, Generic[_Q]):
    """What ranges and tolerances share: they are read from text, as the kind of quantity between the brackets."""

    __slots__ = ()

    text: str

    @classmethod
    def parse(cls, text: str, kind: type[_Q], *, american: bool = False) -> Self:
        """Read from text as quantities of one kind; raises QuantityError."""
        try:
            found: Self = _read(cast("Any", cls), text, cast("Any", kind), american=american)
        except TypeError:  # not hashable, so no text
            raise QuantityError(f"found {shown(text)}; wanted {cls.wanted(kind)}") from None
        return found

    @classmethod
    def wanted(cls, kind: type[_Q]) -> str:
        """What a field of this kind wants, with an example; for messages."""
        raise NotImplementedError

    @staticmethod
    def shape(unit: str) -> str:
        """An expression for how it is written, given that of its unit."""
        raise NotImplementedError

    @classmethod
    def from_words(cls, words: str, kind: type[_Q], *, american: bool) -> Self | None:
        """From text with single spaces; None where it is not written as one."""
        raise NotImplementedError

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        from pydantic_core import core_schema

        (kind,) = get_args(source)

        def validate(value: Any) -> Any:
            return value if isinstance(value, cls) else cls.parse(value, kind)

        def validate_in(value: Any, info: core_schema.ValidationInfo) -> Any:
            return value if isinstance(value, cls) else cls.parse(value, kind, american=american_gallons(info))

        metadata = {"kind": kind}
        if may_hold_gallons(kind):
            return core_schema.with_info_plain_validator_function(validate_in, metadata=metadata)
        return core_schema.no_info_plain_validator_function(validate, metadata=metadata)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        kind = schema["metadata"]["kind"]
        wanted = cls.wanted(kind)
        return quantity_schema(wanted, [wanted.partition(" for example ")[2]], kind.dimension, cls.shape)

    def _fill(self, **parts: object) -> None:
        for name, part in parts.items():
            object.__setattr__(self, name, part)

    def __eq__(self, other: object) -> bool:
        """Equal where the quantities are, however they are written."""
        return type(other) is type(self) and self._parts()[:-1] == other._parts()[:-1]

    def __hash__(self) -> int:
        return hash((type(self), *self._parts()[:-1]))

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        return f"{type(self).__name__}({self.text!r})"


class Range(_Spread[_Q]):
    """From a low to a high quantity, both included, for example 50..95 degF."""

    __slots__ = ("high", "low", "text")
    shape = staticmethod(range_shape)

    low: _Q
    high: _Q

    def __init__(self, low: _Q, high: _Q, text: str) -> None:
        self._fill(low=low, high=high, text=text)

    def _parts(self) -> tuple[Any, ...]:
        return self.low, self.high, self.text

    @classmethod
    def wanted(cls, kind: type[_Q]) -> str:
        """What a field of this kind wants, with an example; for messages."""
        return f"a range of {kind.dimension}, its unit written once, for example 50..95 {_unit(kind)}"

    @classmethod
    def from_words(cls, words: str, kind: type[_Q], *, american: bool) -> Self | None:
        """From `50..95 degF`; QuantityError where it runs downwards or has another kind's unit."""
        terms = grammar.range_parts(words)
        if not terms:
            return None
        scale = named(kind.dimension, terms[0].unit, kind.example, american=american, written=words)
        low, high = (kind.scaled(term.over, term.under, scale, f"{term.number} {term.unit}") for term in terms)
        if low.si > high.si:
            raise QuantityError(
                f"found {shown(words)}; a range runs from low to high, for example 50..95 {_unit(kind)}"
            )
        return cls(low, high, words)

    def __contains__(self, value: _Q) -> bool:
        return self.low.si <= value.si <= self.high.si


class Tolerance(_Spread[_Q]):
    """A nominal quantity and how far it may be exceeded and fall short, for example 21 ± 1 deg.

    `plus` and `minus` are of the nominal's kind, but TemperatureDifferences where that is a Temperature. `low` and
    `high` are the least and greatest value allowed, both included; `low` is below zero where a nominal near zero has a
    wide tolerance.
    """

    __slots__ = ("high", "low", "minus", "nominal", "plus", "text")
    shape = staticmethod(tolerance_shape)

    nominal: _Q
    plus: Quantity
    minus: Quantity
    low: _Q
    high: _Q

    def __init__(self, nominal: _Q, plus: Quantity, minus: Quantity, low: _Q, high: _Q, text: str) -> None:
        self._fill(nominal=nominal, plus=plus, minus=minus, low=low, high=high, text=text)

    def _parts(self) -> tuple[Any, ...]:
        return self.nominal, self.plus, self.minus, self.low, self.high, self.text

    @classmethod
    def wanted(cls, kind: type[_Q]) -> str:
        """What a field of this kind wants, with an example; for messages."""
        return f"{an(kind.dimension)} with its tolerance, its unit written once, for example 21 ± 1 {_unit(kind)}"

    @classmethod
    def from_words(cls, words: str, kind: type[_Q], *, american: bool) -> Self | None:
        """From `21 ± 1 deg`, `21 +/- 1 deg` or `21 +1/-2 deg`; QuantityError where the unit is another kind's."""
        parts = grammar.tolerance_parts(words)
        if not parts:
            return None
        unit = parts.nominal.unit
        scale = named(kind.dimension, unit, kind.example, american=american, written=words)
        nominal, plus, minus = parts
        step: type[Quantity] = TemperatureDifference if issubclass(kind, Temperature) else kind
        return cls(
            kind.scaled(nominal.over, nominal.under, scale, f"{nominal.number} {unit}"),
            step.scaled(plus.over, plus.under, scale.step(), f"{plus.number} {unit}"),
            step.scaled(minus.over, minus.under, scale.step(), f"{minus.number} {unit}"),
            _sum(kind, nominal, -1, minus, scale),
            _sum(kind, nominal, 1, plus, scale),
            words,
        )

    def __contains__(self, value: _Q) -> bool:
        return self.low.si <= value.si <= self.high.si


@lru_cache(maxsize=4096)
def _read(cls: Any, text: object, kind: Any, *, american: bool) -> Any:
    words = grammar.checked(text, cls.wanted(kind))
    found = cls.from_words(words, kind, american=american)
    if found is None:
        raise QuantityError(f"found {shown(text)}; wanted {cls.wanted(kind)}")
    return found


def _sum(kind: type[_Q], nominal: grammar.Term, sign: int, step: grammar.Term, scale: Scale) -> _Q:
    """Nominal and step in one exact sum, so that 20 deg is within 21 ± 1 deg."""
    over = nominal.over * step.under + sign * step.over * nominal.under
    under = nominal.under * step.under
    return kind(scale.to_si(over, under), scale.unit, f"{over / under:.10g} {scale.unit}")


def _unit(kind: type[Quantity]) -> str:
    return kind.example.partition(" ")[2]
