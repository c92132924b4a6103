"""What builders write and what it is worth: every trap with its exact right value."""

from __future__ import annotations

import copy
import pickle

import pytest

from jurystrut import quantities
from jurystrut.quantities import (
    Angle,
    AngularSpeed,
    Area,
    Arm,
    Charge,
    Current,
    Force,
    ForcePerLength,
    Length,
    Mass,
    MassPerVolume,
    Moment,
    Quantity,
    QuantityError,
    Rate,
    Ratio,
    Resistance,
    Speed,
    Temperature,
    Time,
    Torque,
    Voltage,
    Volume,
)

# Right values by hand: 1/8 in and the like in decimals, feet times twelve, pounds times sixteen.
WRITTEN: list[tuple[type[Quantity], str, float, str]] = [
    (Length, "0.063 in", 0.063, "in"),
    (Length, ".063 in", 0.063, "in"),
    (Length, "3-1/8 in", 3.125, "in"),
    (Length, "3 1/8 in", 3.125, "in"),
    (Length, "7/16 in", 0.4375, "in"),
    (Length, "9/8 in", 1.125, "in"),
    (Length, "1/3 in", 1 / 3, "in"),
    (Length, "3-1/8in", 3.125, "in"),
    (Length, "+2 in", 2, "in"),
    (Length, "  42   in ", 42, "in"),
    (Length, "2 inches", 2, "in"),
    (Length, "5 ft 2 in", 62, "in"),
    (Length, "5 ft 2-1/2 in", 62.5, "in"),
    (Length, "5 ft 2 1/2 in", 62.5, "in"),
    (Length, "5ft 2in", 62, "in"),
    (Length, "0 ft 3 in", 3, "in"),
    (Length, "1 yd 2 ft 3 in", 63, "in"),
    (Length, "1e-3 m", 1, "mm"),
    (Length, "007 in", 7, "in"),
    (Length, "0e99 in", 0, "in"),
    (Arm, "-21.5 in", -21.5, "in"),
    (Arm, "-3-1/8 in", -3.125, "in"),
    (Arm, "-3 1/8 in", -3.125, "in"),
    (Arm, "-5 ft 2 in", -62, "in"),
    (Mass, "2 lb 3 oz", 35, "oz"),
    (Mass, "104.2 lb", 104.2, "lb"),
    (Time, "1 h 30 min", 90, "min"),
    (Time, "1 h 30 min 15 s", 5415, "s"),
    (Time, "2 weeks", 14, "d"),
    (Angle, "21 deg 30 arcmin", 21.5, "deg"),
    (Angle, "-2 deg", -2, "deg"),
    (Angle, "3°", 3, "deg"),
    (Temperature, "72 degF", 72, "degF"),
    (Temperature, "72 °F", 72, "degF"),
    (Temperature, "-5 degC", 23, "degF"),
    (Ratio, "62 %", 62, "%"),
    (Ratio, "62%", 62, "percent"),
    (Torque, "5 in-lb", 5, "in*lb"),
    (Torque, "5 ft-lb", 60, "in-lb"),
    (Moment, "12391 lb*in", 12391, "lb-in"),
    (Force, "40 lb", 40, "lbf"),
    (ForcePerLength, "56 lb/in", 56, "lbf/in"),
    (Charge, "18 Ah", 18000, "mA*h"),
    (Current, "6.5A", 6500, "mA"),
    (Voltage, "1.2e-3 V", 1.2, "mV"),
    (Resistance, "9 Ω", 9000, "mohm"),
    (Resistance, "9 \u2126", 9000, "mohm"),  # the ohm sign
    (Rate, "60 /min", 1, "Hz"),
    (Rate, "60 1/min", 1, "Hz"),
    (Rate, "60 per min", 1, "Hz"),
    (AngularSpeed, "60 rpm", 360, "deg/s"),
    (Speed, "60 kt", 1852 / 60, "m/s"),
    (Area, "2 sq ft", 288, "in2"),
    (Volume, "12 US gal", 12 * 231, "in3"),
    (Volume, "12 US_gal", 12 * 231, "in3"),
    (Volume, "12 USG", 12 * 231, "in3"),
    (Volume, "2 imp gal", 9.09218, "L"),
    (Volume, "2 imp_gal", 9.09218, "L"),
    (MassPerVolume, "6 lb/US gal", 6, "lb/USG"),
]


@pytest.mark.parametrize(
    ("kind", "text", "value", "unit"),
    WRITTEN,
    ids=lambda part: part if isinstance(part, str) else "",
)
def test_written_and_meant(kind: type[Quantity], text: str, value: float, unit: str) -> None:
    assert kind.parse(text).to(unit) == pytest.approx(value, rel=1e-13)
    assert str(kind.parse(text)) == " ".join(text.split())


@pytest.mark.parametrize(
    ("kind", "text", "unit"),
    [
        (Length, "2 inches", "in"),
        (Volume, "5 USG", "US gal"),
        (Length, "5 ft 2 in", "ft"),
        (Temperature, "72 °F", "degF"),
    ],
)
def test_the_unit_is_in_its_usual_spelling(kind: type[Quantity], text: str, unit: str) -> None:
    assert kind.parse(text).unit == unit


# One thing in two units; each relation is exact by definition of the inch, pound, gallon, knot and degrees.
SAME: list[tuple[type[Quantity], str, str]] = [
    (Length, "1 ft", "12 in"),
    (Length, "3 in", "76.2 mm"),
    (Length, "5 ft 3 in", "63 in"),
    (Length, "3-1/8 in", "79.375 mm"),
    (Length, "1/3 ft", "4 in"),
    (Mass, "1 lb", "0.45359237 kg"),
    (Mass, "2 lb 3 oz", "35 oz"),
    (Temperature, "50 degF", "10 degC"),
    (Temperature, "-40 degF", "-40 degC"),
    (Temperature, "98.6 degF", "310.15 K"),
    (Volume, "1 US gal", "231 in3"),
    (Volume, "1 US gal", "3.785411784 L"),
    (Volume, "1 imp gal", "4.54609 L"),
    (Time, "1 h 30 min", "5400 s"),
    (Angle, "21 deg 30 arcmin", "21.5 deg"),
    (Resistance, "9 mohm", "0.009 ohm"),
    (Speed, "60 kt", "111.12 km/h"),
    (Torque, "5 ft-lb", "60 in-lb"),
]


@pytest.mark.parametrize(("kind", "one", "other"), SAME)
def test_a_change_of_unit_changes_nothing(kind: type[Quantity], one: str, other: str) -> None:
    """To the last bit: a value at its limit must stay there when the builder writes it in another unit."""
    assert kind.parse(one).si == kind.parse(other).si


@pytest.mark.parametrize("value", [25.4, 0.1, 1e-7, 12.0, 123456.789])
def test_of_is_what_parse_would_read(value: float) -> None:
    assert Length.of(value, "in").si == Length.parse(f"{value!r} in").si


def test_zero_has_no_sign() -> None:
    assert str(Length.parse("-0 in").si) == "0.0"


def test_of_and_back() -> None:
    arm = Arm.of(-21.5, "in")
    assert (arm, str(arm), arm.unit) == (Arm.parse("-21.5 in"), "-21.5 in", "in")


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf"), 1.1e12, 0.9e-12, -1.0])
def test_of_refuses_what_parse_refuses(value: float) -> None:
    with pytest.raises(QuantityError):
        Length.of(value, "in")


@pytest.mark.parametrize("value", [1e12, 1e-12, 0.0])
def test_bounds_are_inside(value: float) -> None:
    assert Length.of(value, "m").si == value
    assert Length.parse(f"{value!r} m").si == value


def test_code_must_name_the_gallon_too() -> None:
    with pytest.raises(QuantityError, match="US gal or imp gal"):
        Volume.of(5, "gal")
    with pytest.raises(QuantityError, match="US gal or imp gal"):
        Volume.parse("5 L").to("gal")


def test_only_one_class_compares_with_itself() -> None:
    assert Length.parse("1 ft") == Length.parse("12 in")
    assert hash(Length.parse("1 ft")) == hash(Length.parse("12 in"))
    assert Length.parse("1 in") < Length.parse("1 ft")
    assert not Length.parse("12 in") < Length.parse("1 ft")
    assert Length.parse("2 ft") > Length.parse("1 ft")
    assert Length.parse("1 ft") != Arm.parse("1 ft")
    with pytest.raises(TypeError):
        _ = Length.parse("1 ft") < Mass.parse("1 lb")  # type: ignore[operator]  # what is tested


def test_frozen_and_without_a_dictionary() -> None:
    length = Length.parse("1 ft")
    with pytest.raises(AttributeError):
        length.si = 2.0
    with pytest.raises(AttributeError):
        del length.si
    with pytest.raises(AttributeError):
        setattr(length, "new", 1)  # noqa: B010  # mypy knows that there is no such attribute
    assert not hasattr(length, "__dict__")


def test_copies_and_pickles() -> None:
    length = Length.parse("3-1/8 in")
    twins = (copy.copy(length), copy.deepcopy(length), pickle.loads(pickle.dumps(length)))  # our own bytes
    for twin in twins:
        assert (type(twin), twin.si, twin.unit, twin.text) == (Length, length.si, "in", "3-1/8 in")


def test_every_kind_reads_its_own_example_and_refuses_another_kinds() -> None:
    kinds = [kind for kind in vars(quantities).values() if isinstance(kind, type) and issubclass(kind, Quantity)]
    kinds.remove(Quantity)
    assert len(kinds) == 36
    for kind in kinds:
        assert kind.parse(kind.example).si != 0
        assert not hasattr(kind.parse(kind.example), "__dict__")
    with pytest.raises(QuantityError):
        Mass.parse(Length.example)


def test_names_are_all_listed() -> None:
    public = {name for name, value in vars(quantities).items() if isinstance(value, type)}
    assert public | {"GALLON"} == set(quantities.__all__)
