"""Factors against NIST SP 811 (2008), appendix B, and pint's own full registry; the generated table against pint.

No copy of SP 811 is held: its values stand here from memory, to the digits it prints (seven significant, or exact).
"""

from __future__ import annotations

import math
from typing import Any

import pint
import pytest

from jurystrut.quantities import Temperature, TemperatureDifference
from jurystrut.quantities.generate import TABLE, table_text
from jurystrut.quantities.registry import registry
from jurystrut.quantities.spellings import AMERICAN, SPELLINGS
from jurystrut.quantities.units import table, units_of

# NIST SP 811, appendix B.8, in bold there: exact. From memory.
EXACT = [
    ("length", "in", 0.0254),
    ("length", "ft", 0.3048),
    ("length", "yd", 0.9144),
    ("length", "mi", 1609.344),
    ("length", "nmi", 1852.0),
    ("mass", "lb", 0.45359237),
    ("force", "lbf", 4.4482216152605),
    ("force", "lb", 4.4482216152605),
    ("force", "kgf", 9.80665),
    ("volume", "US gal", 3.785411784e-3),
    ("volume", "imp gal", 4.54609e-3),
    ("area", "in2", 6.4516e-4),
    ("area", "ft2", 0.09290304),
    ("speed", "kt", 1852 / 3600),
    ("speed", "mph", 0.44704),
    ("speed", "ft/min", 5.08e-3),
    ("speed", "km/h", 1 / 3.6),
    ("pressure", "mbar", 100.0),
    ("pressure", "inHg", 3386.389),  # conventional
    ("charge", "A*h", 3600.0),
    ("energy", "W*h", 3600.0),
    ("time", "day", 86400.0),
    ("magnetic flux density", "gauss", 1e-4),
    ("ratio", "%", 0.01),
]

# NIST SP 811, appendix B.8, rounded there to seven digits. From memory.
PRINTED = [
    ("mass", "oz", "2.834952e-02"),
    ("pressure", "psi", "6.894757e+03"),
    ("power", "hp", "7.456999e+02"),
    ("torque", "ft-lb", "1.355818e+00"),
    ("torque", "in-lb", "1.129848e-01"),
    ("volume", "US qt", "9.463529e-04"),
    ("volume", "US pt", "4.731765e-04"),
    ("volume", "ft3", "2.831685e-02"),
    ("volume", "in3", "1.638706e-05"),
    ("area", "yd2", "8.361274e-01"),
    ("area", "cmil", "5.067075e-10"),
    ("angle", "deg", "1.745329e-02"),
    ("angle", "arcmin", "2.908882e-04"),
    ("angular speed", "rpm", "1.047198e-01"),
    ("force per length", "lb/in", "1.751268e+02"),
    ("linear density", "lb/ft", "1.488164e+00"),
    ("mass per area", "lb/ft2", "4.882428e+00"),
    ("mass per area", "oz/yd2", "3.390575e-02"),
    ("mass per volume", "lb/ft3", "1.601846e+01"),
    ("mass per volume", "lb/US gal", "1.198264e+02"),
    ("mass per volume", "lb/imp gal", "9.977637e+01"),
    ("mass flow", "lb/h", "1.259979e-04"),
    ("volume flow", "US gal/h", "1.051503e-06"),
    ("specific consumption", "lb/hp/h", "1.689659e-07"),
]

# A few units that are a plain power of ten or a plain count away from SI: by definition of the prefix.
BY_PREFIX = [
    ("current", "mA", 1e-3),
    ("current", "uA", 1e-6),
    ("current", "kA", 1e3),
    ("voltage", "mV", 1e-3),
    ("resistance", "mohm", 1e-3),
    ("resistance", "uohm", 1e-6),
    ("resistance", "kohm", 1e3),
    ("resistance per length", "ohm/km", 1e-3),
    ("resistance per length", "ohm/kft", 1 / 304.8),
    ("resistance per length", "mohm/ft", 1 / 304.8),
    ("charge", "mAh", 3.6),
    ("power", "mW", 1e-3),
    ("luminous intensity", "mcd", 1e-3),
    ("magnetic flux density", "uT", 1e-6),
    ("rate", "/min", 1 / 60),
    ("moment", "kg*mm", 1e-3),
    ("moment", "lb*in", 0.45359237 * 0.0254),
    ("linear density", "lb/kft", 0.45359237 / 304.8),
]


@pytest.mark.parametrize(("dimension", "unit", "factor"), EXACT)
def test_exact_factors_are_the_nearest_float(dimension: str, unit: str, factor: float) -> None:
    assert units_of(dimension)[unit].to_si(1, 1) == factor


@pytest.mark.parametrize(("dimension", "unit", "printed"), PRINTED)
def test_factors_agree_to_every_printed_digit(dimension: str, unit: str, printed: str) -> None:
    assert f"{units_of(dimension)[unit].to_si(1, 1):.6e}" == printed


@pytest.mark.parametrize(("dimension", "unit", "factor"), BY_PREFIX)
def test_prefixes(dimension: str, unit: str, factor: float) -> None:
    assert units_of(dimension)[unit].to_si(1, 1) == pytest.approx(factor, rel=1e-15)


@pytest.mark.parametrize(
    ("written", "kelvin"),
    [
        ("32 degF", 273.15),
        ("212 degF", 373.15),
        ("-40 degF", 233.15),
        ("-40 degC", 233.15),
        ("0 K", 0.0),
        ("-459.67 degF", 0.0),
    ],
)
def test_temperatures(written: str, kelvin: float) -> None:
    """NIST SP 811, B.8: T/K = (t/degF + 459.67)/1.8 and T/K = t/degC + 273.15."""
    assert Temperature.parse(written).si == kelvin


def test_a_temperature_difference_has_no_offset() -> None:
    assert TemperatureDifference.parse("9 degF").to("degC") == pytest.approx(5, rel=1e-15)
    assert TemperatureDifference.parse("-5 degC").to("degF") == pytest.approx(-9, rel=1e-15)


def test_the_table_is_what_pint_says() -> None:
    """Regenerating through pint gives the same bytes, so that pint stays the authority for every factor."""
    assert table_text().encode() == TABLE.read_bytes()


@pytest.fixture(scope="module")
def full() -> Any:
    return pint.UnitRegistry()


# Our names that pint's own registry has under the same name and that are not definitions of a base unit.
SHARED = [
    *("inch", "foot", "yard", "mile", "nautical_mile", "pound", "ounce", "gram", "minute", "hour", "day", "week"),
    *("degree", "arcminute", "revolution", "percent", "newton", "standard_gravity", "pound_force", "kilogram_force"),
    *("pascal", "psi", "bar", "joule", "watt", "horsepower", "volt", "ohm", "coulomb", "hertz", "liter"),
    *("imperial_gallon", "circular_mil", "lux", "tesla"),
]
RENAMED = {"us_gallon": "gallon", "us_quart": "quart", "us_pint": "pint"}
PAIRS = [*((name, name) for name in SHARED), *RENAMED.items()]


@pytest.mark.parametrize(("ours", "theirs"), PAIRS)
def test_our_definitions_are_those_of_pints_full_registry(full: Any, ours: str, theirs: str) -> None:
    """The short list must not drift from the list it was shortened from; its gauss is of another system of units."""
    here = registry().Quantity(1.0, ours).to_base_units().magnitude
    there = full.Quantity(1.0, theirs)
    assert here == pytest.approx(there.to_base_units().magnitude, rel=1e-12)


def test_every_definition_is_compared_or_a_base() -> None:
    text = TABLE.with_name("unit_definitions.txt").read_text(encoding="utf-8")
    defined = {line.split(" = ")[0] for line in text.splitlines() if " = " in line and not line.startswith("#")}
    bases = {"meter", "second", "kilogram", "ampere", "kelvin", "candela", "radian"}
    elsewhere = {"inch_of_mercury", "gauss", "degree_celsius", "degree_fahrenheit"}  # against NIST SP 811 above
    assert defined == bases | elsewhere | {ours for ours, _ in PAIRS}


def test_the_usual_spelling_is_never_a_gallon_of_no_country() -> None:
    for dimension, units in table().items():
        for spelling, scale in units.items():
            assert scale.unit not in AMERICAN
            assert units[scale.unit] == scale, (dimension, spelling)


def test_every_factor_is_positive_and_finite() -> None:
    assert table().keys() == SPELLINGS.keys()
    for units in table().values():
        for scale in units.values():
            assert scale.times > 0
            assert scale.over > 0
            assert math.isfinite(scale.to_si(1, 1))
