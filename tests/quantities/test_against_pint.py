"""Every unit and every form of number against pint, given well-formed input piece by piece."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jurystrut import quantities
from jurystrut.quantities import (
    Angle,
    Arm,
    Length,
    Mass,
    Quantity,
    Range,
    Temperature,
    Time,
    Tolerance,
)
from jurystrut.quantities.registry import exact_registry
from jurystrut.quantities.spellings import AMERICAN, SPELLINGS

KINDS = sorted(
    (
        kind
        for kind in vars(quantities).values()
        if isinstance(kind, type) and issubclass(kind, Quantity) and kind is not Quantity
    ),
    key=lambda kind: kind.__name__,
)
UNITS = [(kind, spelling) for kind in KINDS for spelling in SPELLINGS[kind.dimension][1]]


def _decimal(digits: int, places: int) -> tuple[str, Fraction]:
    whole, part = divmod(digits, 10**places)
    return (f"{whole}.{part:0{places}d}" if places else str(whole)), Fraction(digits, 10**places)


def _mixed(whole: int, over: int, under: int, joint: str) -> tuple[str, Fraction]:
    proper = over % under
    text = f"{proper}/{under}" if not whole else f"{whole}{joint}{proper}/{under}"
    return text, whole + Fraction(proper, under)


DECIMALS = st.builds(_decimal, st.integers(0, 10**9), st.integers(0, 6))
BARE_POINT = st.integers(1, 9999).map(lambda n: (f".{n:04d}", Fraction(n, 10_000)))
SCIENTIFIC = st.builds(
    lambda n, e: (f"{n}e{e}", Fraction(n) * Fraction(10) ** e),
    st.integers(1, 999),
    st.integers(-6, 6),
)
FRACTIONS = st.builds(
    _mixed,
    st.integers(0, 999),
    st.integers(1, 64),
    st.sampled_from((2, 3, 4, 8, 16, 32, 64)),
    st.sampled_from("- "),
)
NUMBERS = st.one_of(DECIMALS, BARE_POINT, SCIENTIFIC, FRACTIONS)
SIGNS = st.sampled_from(("", "+", "-"))


def by_pint(kind: type[Quantity], value: Fraction, spelling: str) -> float:
    """The value in SI, computed by pint in fractions and rounded once: the nearest float there is."""
    inside, spellings = SPELLINGS[kind.dimension]
    units: Any = exact_registry()
    meaning = spellings[spelling]
    absolute = meaning.startswith("degree_")
    quantity = units.Quantity(value, meaning) if absolute else value * units.parse_expression(meaning)
    return float(quantity.to(units.parse_units(inside)).magnitude)


@settings(max_examples=1500, deadline=None)
@given(st.sampled_from(UNITS), NUMBERS, SIGNS, st.sampled_from((" ", "")))
def test_value_and_round_trip(
    unit: tuple[type[Quantity], str], number: tuple[str, Fraction], sign: str, gap: str
) -> None:
    kind, spelling = unit
    cold = kind is Temperature and spelling != "K" and number[1] <= 200
    sign = sign if kind.signed or cold else sign.replace("-", "")
    value = -number[1] if sign == "-" else number[1]
    # A unit that begins with a digit or a slash needs its gap to be read apart from the number.
    gap = " " if spelling[0] in "1/" else gap
    text = f"{sign}{number[0]}{gap}{spelling}"
    found = kind.parse_american(text)
    assert found.si == by_pint(kind, value, spelling)
    if spelling not in AMERICAN:
        assert kind.parse(text).si == found.si
        assert found.to(spelling) == pytest.approx(float(value), rel=1e-12, abs=1e-9 if kind is Temperature else 1e-15)
        assert found.pint.to_base_units().magnitude == pytest.approx(found.si, rel=1e-13)


@pytest.mark.parametrize(("kind", "spelling"), UNITS, ids=[f"{kind.__name__}-{unit}" for kind, unit in UNITS])
def test_every_unit_of_every_kind(kind: type[Quantity], spelling: str) -> None:
    assert kind.parse_american(f"7.25 {spelling}").si == by_pint(kind, Fraction("7.25"), spelling)


COMPOUNDS: list[tuple[type[Quantity], str, str, int]] = [
    (Length, "ft", "in", 12),
    (Arm, "ft", "in", 12),
    (Mass, "lb", "oz", 16),
    (Time, "h", "min", 60),
    (Angle, "deg", "arcmin", 60),
    (Length, "m", "cm", 100),
]


@settings(max_examples=500, deadline=None)
@given(
    st.sampled_from(COMPOUNDS),
    st.integers(0, 9999),
    st.integers(0, 10**6),
    FRACTIONS | DECIMALS,
    SIGNS,
)
def test_compounds(
    pair: tuple[type[Quantity], str, str, int],
    large: int,
    seed: int,
    small: tuple[str, Fraction],
    sign: str,
) -> None:
    kind, first, second, ratio = pair
    text, part = small if small[1] < ratio else (str(seed % ratio), Fraction(seed % ratio))
    sign = sign if kind.signed else sign.replace("-", "")
    value = (large * ratio + part) * (-1 if sign == "-" else 1)
    found = kind.parse(f"{sign}{large} {first} {text} {second}")
    assert found.si == by_pint(kind, value, second)


@settings(max_examples=500, deadline=None)
@given(NUMBERS, NUMBERS, SIGNS, st.sampled_from((" .. ", "..")))
def test_ranges(one: tuple[str, Fraction], other: tuple[str, Fraction], sign: str, dots: str) -> None:
    low, high = sorted((one, other), key=lambda number: number[1])
    # `1...5` is refused on purpose, so a bare point needs a gap before it.
    dots = " .. " if high[0].startswith(".") else dots
    value = -low[1] if sign == "-" else low[1]
    found = Range.parse(f"{sign}{low[0]}{dots}{high[0]} in", Arm)
    assert found.low.si == pytest.approx(float(value) * 0.0254, rel=1e-13)
    assert found.high.si == pytest.approx(float(high[1]) * 0.0254, rel=1e-13)
    assert found.low in found
    assert found.high in found


@settings(max_examples=500, deadline=None)
@given(NUMBERS, NUMBERS, NUMBERS, SIGNS)
def test_tolerances(
    mid: tuple[str, Fraction],
    plus: tuple[str, Fraction],
    minus: tuple[str, Fraction],
    sign: str,
) -> None:
    value = -mid[1] if sign == "-" else mid[1]
    found = Tolerance.parse(f"{sign}{mid[0]} +{plus[0]}/-{minus[0]} deg", Angle)
    assert found.low.to("deg") == pytest.approx(float(value - minus[1]), rel=1e-9, abs=1e-6)
    assert found.high.to("deg") == pytest.approx(float(value + plus[1]), rel=1e-9, abs=1e-6)
    for sign_of_both in ("±", "+/-"):
        even = Tolerance.parse(f"{sign}{mid[0]} {sign_of_both} {plus[0]} deg", Angle)
        assert even.plus == even.minus == found.plus
