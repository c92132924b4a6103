"""What is refused, and in which words: attacks, slips of the pen, and texts that another parser misreads in silence."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jurystrut.quantities import (
    Angle,
    Arm,
    Current,
    Gauge,
    Length,
    Mass,
    Moment,
    Quantity,
    QuantityError,
    Range,
    Rate,
    Ratio,
    Temperature,
    Time,
    Tolerance,
    Torque,
    Volume,
)

if TYPE_CHECKING:
    from collections.abc import Callable

# Each hangs, crashes or is misread by a parser that evaluates expressions; the last ones are junk it accepts.
ATTACKS = [
    "9**9**9 m",
    "9**9**7 m",
    "2**(10**9) m",
    "1 m**9**9**9",
    "1" * 5_000 + " m",
    "1" * 1_000_000 + " m",
    "1 " + "m" * 10_000,
    "1 " + "m" * 60,
    "(" * 1_000 + "1 m" + ")" * 1_000,
    "(" * 25 + "1 m" + ")" * 25,
    "m*m*" * 15 + "m",
    "1+1+1+1 m",
    "-" * 60 + "1 m",
    "1 m" + "²" * 50,
    "1e400 m",
    "1e-400 m",
    "1e99 m",
    "1e13 m",
    "1e-13 m",
    "nan m",
    "NaN m",
    "inf m",
    "-inf m",
    "infinity m",
    "1e308*1e308 m",
    "1 m/0",
    "0**-1 m",
    "1/0 m",
    "3-1/0 m",
    "3-8/8 in",
    "3-9/8 in",
    '__import__("os").system("true")',
    "{}",
    "{]|\\1",
    "'°\0",
    "\x1b[31m5 m",
    "lambda",
    "%s",
    "%s m",
    "1 m # 2",
    "1 m\0",
    "1 m\n2 s",
    "1 m\n",
    "\n1 m",
    "1\tm",
    "1\u00a0m",
    "\u202e1 m",
    "1\u200b m",
    "\ufeff1 m",
    "\u0661 m",
    "\uff11 m",
    "1 \uff4d",
    "\u2212" + "5 m",
    "\u2013" + "5 m",
    "- 5 m",
    "--5 m",
    "+-5 m",
    "5' 3\"",
    "5'3\"",
    "5\u2032 3\u2033",
    "1,5 m",
    "1,500 m",
    "1 000 m",
    "1_000 m",
    "1.500.000 m",
    "0x10 m",
    "1..2 m",
    "1 ± 2 m",
    "5",
    "m",
    "5.",
    "5. m",
    "5 m.",
    "",
    " ",
    " " * 64,
    " " * 65,
    "5 a",
    "5 G",
    "5 pt",
    "5 nm",
    "5 NM",
    "5 Mm",
    "5 lb",
    "5 in-lb",
    "5 m long",
    "5 m 3",
    "5 m 3 kg",
    "5 ft 14 in",
    "5 ft 12 in",
    "5 in 3 ft",
    "5 in 0 ft",
    "5 ft 0 ft",
    "5 ft 3 ft",
    "5.5 ft 3 in",
    "5 ft -3 in",
    "5 mi 3 yd 2 ft 1 in",
    "3 - 1/8 in",
    "3 -1/8 in",
    "3+1/8 in",
    "3.5-1/8 in",
    "1/2/3 in",
    "1/8.5 in",
    "½ in",
    "5 ft²",
    "about 5 m",
    "~5 m",
    ">5 m",
    "18 AWG",
]


@pytest.mark.parametrize("text", ATTACKS, ids=lambda text: ascii(text[:20]))
@pytest.mark.parametrize("kind", [Length, Arm])
def test_refused(kind: type[Quantity], text: str) -> None:
    with pytest.raises(QuantityError) as caught:
        kind.parse(text)
    message = str(caught.value)
    assert message.isprintable()
    assert len(message) < 300


@pytest.mark.parametrize("text", ATTACKS, ids=lambda text: ascii(text[:20]))
def test_refused_in_spreads_and_gauges(text: str) -> None:
    for read in (
        lambda: Range.parse(text, Arm),
        lambda: Tolerance.parse(text, Angle),
        lambda: Gauge.parse(text),
    ):
        if text in {"18 AWG", "1..2 m"}:
            continue
        with pytest.raises(QuantityError):
            read()


def test_length_limit_is_64_characters() -> None:
    at_limit = "5" + " " * 62 + "m"
    assert Length.parse(at_limit).si == 5
    with pytest.raises(QuantityError, match="65 characters"):
        Length.parse(at_limit + " ")


NOT_TEXT = [None, 5, 5.0, True, 10**5000, b"5 m", ["5 m"], {"5": "m"}, ("5 m",), object()]


@pytest.mark.parametrize("value", NOT_TEXT, ids=lambda value: type(value).__name__)
def test_only_text_is_read(value: Any) -> None:
    for read in (
        lambda: Length.parse(value),
        lambda: Gauge.parse(value),
        lambda: Range.parse(value, Length),
    ):
        with pytest.raises(QuantityError) as caught:
            read()
        assert len(str(caught.value)) < 200


def test_what_cannot_be_negative() -> None:
    for kind, text in (
        (Length, "-5 in"),
        (Mass, "-2 lb"),
        (Current, "-1 A"),
        (Volume, "-1 L"),
        (Time, "-1 h"),
        (Ratio, "-1 %"),
    ):
        with pytest.raises(QuantityError, match="cannot be negative"):
            kind.parse(text)
    assert Arm.parse("-5 in").si < 0
    assert Moment.parse("-5 lb*in").si < 0


@pytest.mark.parametrize("text", ["-460 degF", "-459.68 degF", "-273.16 degC", "-1 K"])
def test_nothing_is_colder_than_absolute_zero(text: str) -> None:
    with pytest.raises(QuantityError, match="below absolute zero"):
        Temperature.parse(text)


KINDS: list[type[Quantity]] = [Length, Temperature, Volume, Rate, Torque]
LIKELY = st.text("0123456789.,-+/ eE%°±*()_'\"\n\0inftlbgalUSdegFCminsh", max_size=66)


def refusal_or_value(read: Callable[[], Quantity]) -> str | float:
    try:
        return read().si
    except QuantityError as error:
        return str(error)


@settings(max_examples=1500, deadline=None)
@given(st.one_of(st.text(max_size=70), LIKELY), st.sampled_from(KINDS))
def test_any_text_is_a_finite_quantity_or_a_refusal(text: str, kind: type[Quantity]) -> None:
    reads: tuple[Callable[[], Quantity], ...] = (
        lambda: kind.parse(text),
        lambda: Range.parse(text, kind).high,
        lambda: Tolerance.parse(text, kind).nominal,
    )
    for found in map(refusal_or_value, reads):
        if isinstance(found, str):
            assert found.isprintable()
        else:
            assert abs(found) < 1e20
            assert kind.signed or found >= 0


@pytest.mark.parametrize(
    "text",
    [
        "1" * 64,
        "1 " * 32,
        "1/1" * 21,
        "1-1/1 " * 10,
        "m" * 64,
        "1 " + "m " * 31,
        "1 m " * 16,
        "1.1" * 21,
        "1e1" * 21,
        "-" * 64,
        "1 ft " * 12,
        "1.." * 21,
        "1 ± " * 16,
        "1,111" * 12,
        " " * 63 + "1",
        "0" * 64,
        "1 111 " * 10,
        "0." * 32,
    ],
)
def test_no_text_makes_the_patterns_wander(text: str) -> None:
    """A pattern that tries every split of 64 characters would take minutes; these take hundredths of a millisecond."""

    def once() -> float:
        start = time.perf_counter()
        for read in (
            lambda: Length.parse(text),
            lambda: Range.parse(text, Arm),
            lambda: Tolerance.parse(text, Arm),
        ):
            with pytest.raises(QuantityError):
                read()
        return time.perf_counter() - start

    assert min(once() for _ in range(3)) < 0.02
