"""Ranges and tolerances: two or three quantities of one dimension, written as one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Generic, Self, TypeVar, get_args

from jurystrut.quantities import grammar
from jurystrut.quantities.errors import QuantityError, shown
from jurystrut.quantities.quantity import Quantity
from jurystrut.quantities.units import scale

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import core_schema

__all__ = ["Range", "Tolerance"]

Q = TypeVar("Q", bound=Quantity)


class _Spread(Generic[Q]):
    """What ranges and tolerances share: they are read from text, as the kind of quantity between the brackets."""

    __slots__ = ()

    @classmethod
    def parse(cls, text: str, kind: type[Q]) -> Self:
        """Read from text as quantities of one kind; raises QuantityError."""
        raise NotImplementedError

    @classmethod
    def __get_pydantic_core_schema__(cls, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        from pydantic_core import core_schema

        (kind,) = get_args(source)

        def validate(value: Any) -> Self:
            return value if isinstance(value, cls) else cls.parse(value, kind)

        return core_schema.no_info_plain_validator_function(validate, metadata={"kind": kind})

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"type": "string", "description": (cls.__doc__ or "").partition("\n")[0]}


class Range(_Spread[Q]):
    """From a low to a high quantity, both included, for example 50..95 degF."""

    __slots__ = ("high", "low", "text")

    def __init__(self, low: Q, high: Q, text: str) -> None:
        self.low = low
        self.high = high
        self.text = text

    @classmethod
    def parse(cls, text: str, kind: type[Q]) -> Range[Q]:  # type: ignore[override]
        """Read `50..95 degF`; QuantityError where it is no range of this kind, or runs downwards."""
        wanted = f"a range of {kind.dimension}, such as 2..5 {kind.example.split(' ', 1)[1]}"
        parts = grammar.range_parts(grammar.checked(text, wanted))
        if not parts:
            raise QuantityError(f"found {shown(text)}; wanted {wanted}")
        low, high = (kind.parse(f"{part.value!r} {part.unit}") for part in parts)
        if low.si > high.si:
            raise QuantityError(f"found {shown(text)}; a range runs from low to high")
        return cls(low, high, text)

    def __contains__(self, value: Q) -> bool:
        return self.low.si <= value.si <= self.high.si

    def __str__(self) -> str:
        return self.text


class Tolerance(_Spread[Q]):
    """A nominal quantity and how far it may be off, for example 21 ± 1 deg.

    `plus` and `minus` are in SI: for a temperature they are differences.
    """

    __slots__ = ("minus", "nominal", "plus", "text")

    def __init__(self, nominal: Q, plus: float, minus: float, text: str) -> None:
        self.nominal = nominal
        self.plus = plus
        self.minus = minus
        self.text = text

    @classmethod
    def parse(cls, text: str, kind: type[Q]) -> Tolerance[Q]:  # type: ignore[override]
        """Read `21 ± 1 deg`, `21 +/- 1 deg` or `21 +1/-2 deg`; QuantityError where it is none of this kind."""
        wanted = f"a {kind.dimension} with its tolerance, such as 21 ± 1 {kind.example.split(' ', 1)[1]}"
        parts = grammar.tolerance_parts(grammar.checked(text, wanted))
        if not parts:
            raise QuantityError(f"found {shown(text)}; wanted {wanted}")
        nominal = kind.parse(f"{parts.nominal!r} {parts.unit}")
        factor = scale(kind.dimension, parts.unit)[0]
        return cls(nominal, parts.plus * factor, parts.minus * factor, text)

    @property
    def low(self) -> float:
        """The least value allowed, in SI."""
        return self.nominal.si - self.minus

    @property
    def high(self) -> float:
        """The greatest value allowed, in SI."""
        return self.nominal.si + self.plus

    def __str__(self) -> str:
        return self.text
