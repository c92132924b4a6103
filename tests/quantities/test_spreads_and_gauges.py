"""Ranges, tolerances and wire sizes."""

from __future__ import annotations

import itertools
import math

import pytest

from jurystrut.quantities import (
    Angle,
    Gauge,
    Length,
    QuantityError,
    Range,
    Ratio,
    Temperature,
    TemperatureDifference,
    Tolerance,
    Volume,
)


def test_a_range_of_temperatures() -> None:
    found = Range.parse("50..95 degF", Temperature)
    assert found.low == Temperature.parse("50 degF")
    assert found.high.to("degC") == pytest.approx(35)
    assert str(found) == "50..95 degF"
    assert found == Range.parse("10..35 degC", Temperature)
    assert (str(found.low), str(found.high)) == ("50 degF", "95 degF")
    assert Temperature.parse("10 degC") in found
    assert Temperature.parse("95.1 degF") not in found


@pytest.mark.parametrize(
    "text",
    [
        "95..50 %",
        "0...95 %",
        "50-95 %",
        "50..95",
        "50 %..95 %",
        "50..95 in",
        "50 to 95 %",
        "50..",
        "..95 %",
    ],
)
def test_no_range(text: str) -> None:
    with pytest.raises(QuantityError, match=r"for example"):
        Range.parse(text, Ratio)


def test_equal_ends_are_a_range() -> None:
    assert Range.parse("50..50 %", Ratio).low.si == 0.5


def test_a_range_of_shares_is_not_negative() -> None:
    with pytest.raises(QuantityError, match="cannot be negative"):
        Range.parse("-5..95 %", Ratio)


def test_a_range_below_absolute_zero() -> None:
    with pytest.raises(QuantityError, match="absolute zero"):
        Range.parse("-500..95 degF", Temperature)


def test_an_even_tolerance() -> None:
    for text in ("21 ± 1 deg", "21 +/- 1 deg", "21±1 deg", "21 +1/-1 deg"):
        found = Tolerance.parse(text, Angle)
        assert (found.nominal, found.plus, found.minus) == (
            Angle.parse("21 deg"),
            Angle.parse("1 deg"),
            Angle.parse("1 deg"),
        )
        assert found.low == Angle.parse("20 deg")
        assert found.high == Angle.parse("22 deg")
        assert (str(found), str(found.low)) == (text, "20 deg")


def test_an_uneven_tolerance() -> None:
    found = Tolerance.parse("-2 +1/-0.5 deg", Angle)
    assert found.low == Angle.parse("-2.5 deg")
    assert found.high == Angle.parse("-1 deg")
    assert Angle.parse("-2.4 deg") in found
    assert Angle.parse("-2.6 deg") not in found


def test_the_tolerance_of_a_temperature_is_a_difference() -> None:
    found = Tolerance.parse("70 ± 9 degF", Temperature)
    assert found.plus == TemperatureDifference.parse("9 degF")
    assert found.plus.to("K") == pytest.approx(5)
    assert found.low == Temperature.parse("61 degF")
    assert found.high == Temperature.parse("79 degF")
    assert isinstance(found.low, Temperature)


def test_a_length_near_zero_may_have_a_wide_tolerance() -> None:
    """Two diagonals may differ either way: 0 ± 1/8 in is how a builder writes it."""
    assert Tolerance.parse("0 ± 1/8 in", Length).low.to("in") == pytest.approx(-0.125)


@pytest.mark.parametrize(
    "text",
    [
        "21° ± 1°",
        "21 deg",
        "21 ± -1 deg",
        "21 ± 5 %",
        "21 -1/+2 deg",
        "21 ± 1",
        "21 ± 1 in",
        "± 1 deg",
    ],
)
def test_no_tolerance(text: str) -> None:
    with pytest.raises(QuantityError):
        Tolerance.parse(text, Angle)


def test_gallons_of_no_country() -> None:
    with pytest.raises(QuantityError, match="US gal or imp gal"):
        Range.parse("1..2 gal", Volume)
    assert Range.parse("1..2 gal", Volume, american=True).high == Volume.parse("2 US gal")
    with pytest.raises(QuantityError):
        Range.parse("1..2 gal", Volume)


# Diameters in inches by ASTM B258, to the digits its table prints; from memory.
DIAMETERS = [
    ("0000 AWG", -3, 0.4600),
    ("000 AWG", -2, 0.4096),
    ("00 AWG", -1, 0.3648),
    ("0 AWG", 0, 0.3249),
    ("2 AWG", 2, 0.2576),
    ("8 AWG", 8, 0.1285),
    ("10 AWG", 10, 0.1019),
    ("12 AWG", 12, 0.0808),
    ("14 AWG", 14, 0.0641),
    ("18 AWG", 18, 0.0403),
    ("20 AWG", 20, 0.0320),
    ("22 AWG", 22, 0.0253),
    ("36 AWG", 36, 0.0050),
    ("40 AWG", 40, 0.0031),
]


@pytest.mark.parametrize(("text", "number", "inches"), DIAMETERS)
def test_wire_sizes(text: str, number: int, inches: float) -> None:
    gauge = Gauge.parse(text)
    assert gauge.number == number
    assert gauge.name == text.removesuffix(" AWG")
    assert round(gauge.diameter / 0.0254, 4) == inches
    # Circular mils are the square of the diameter in thousandths of an inch; one is pi/4 of a square mil.
    assert gauge.area == pytest.approx(math.pi / 4 * (gauge.diameter) ** 2)


def test_ten_gauge_has_10380_circular_mils() -> None:
    """ASTM B258's figure for 10 AWG, from memory: 10 380 cmil; 1 cmil = 5.067075e-10 m2 (NIST SP 811, from memory)."""
    assert Gauge.parse("10 AWG").area / 5.067075e-10 == pytest.approx(10_380, rel=5e-4)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("0 AWG", "1/0 AWG"),
        ("00 AWG", "2/0 AWG"),
        ("000 AWG", "3/0 AWG"),
        ("0000 AWG", "4/0AWG"),
    ],
)
def test_two_ways_to_write_a_size(one: str, other: str) -> None:
    assert Gauge.parse(one) == Gauge.parse(other)
    assert hash(Gauge.parse(one)) == hash(Gauge.parse(other))
    assert Gauge.parse(str(Gauge.parse(one))) == Gauge.parse(one)


def test_thicker_is_greater() -> None:
    sizes = [Gauge.parse(text) for text in ("24 AWG", "18 AWG", "1 AWG", "0 AWG", "2/0 AWG", "4/0 AWG")]
    for thin, thick in itertools.pairwise(sizes):
        assert thin < thick
        assert thick >= thin
        assert thick.diameter > thin.diameter
    assert max(sizes).name == "0000"


@pytest.mark.parametrize(
    "text",
    [
        "18",
        "AWG",
        "AWG 18",
        "18 awg",
        "#18",
        "08 AWG",
        "018 AWG",
        "00000 AWG",
        "5/0 AWG",
        "0/0 AWG",
        "41 AWG",
        "100 AWG",
        "-1 AWG",
        "1.5 AWG",
        "18 AWG x",
        "18 mm",
    ],
)
def test_no_wire_size(text: str) -> None:
    """`08 AWG` above all: read as two noughts it would be a cable seven sizes too thick."""
    with pytest.raises(QuantityError, match="wanted a wire size"):
        Gauge.parse(text)
