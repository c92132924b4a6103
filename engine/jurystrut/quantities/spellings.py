"""How builders write each unit, by dimension, and what it is in the words of `unit_definitions.txt`."""

from __future__ import annotations

__all__ = ["AMERICAN", "SPELLINGS"]

_LENGTH = {
    "m": "meter",
    "mm": "0.001 * meter",
    "cm": "0.01 * meter",
    "km": "1000 * meter",
    "in": "inch",
    "inch": "inch",
    "inches": "inch",
    "ft": "foot",
    "yd": "yard",
    "mi": "mile",
    "nmi": "nautical_mile",
}
_MASS = {"kg": "kilogram", "g": "gram", "lb": "pound", "lbs": "pound", "oz": "ounce"}
_FORCE = {
    "N": "newton",
    "daN": "10 * newton",
    "kN": "1000 * newton",
    "lbf": "pound_force",
    "lb": "pound_force",
    "kgf": "kilogram_force",
}
_GALLON = {
    "US gal": "us_gallon",
    "US_gal": "us_gallon",
    "USG": "us_gallon",
    "gal": "us_gallon",
    "imp gal": "imperial_gallon",
    "imp_gal": "imperial_gallon",
}
_VOLUME = {
    "L": "liter",
    "l": "liter",
    "mL": "0.001 * liter",
    "cc": "0.001 * liter",
    "m3": "meter ** 3",
    "in3": "inch ** 3",
    "ft3": "foot ** 3",
    **_GALLON,
    "US qt": "us_quart",
    "US_qt": "us_quart",
    "qt": "us_quart",
    "US pt": "us_pint",
    "US_pt": "us_pint",
    "pt": "us_pint",
}
_TIME = {
    "s": "second",
    "ms": "0.001 * second",
    "min": "minute",
    "h": "hour",
    "hour": "hour",
    "hours": "hour",
    "d": "day",
    "day": "day",
    "days": "day",
    "week": "week",
    "weeks": "week",
}
_TURNING = {"N*m": "newton * meter", "N-m": "newton * meter", "Nm": "newton * meter"} | {
    spelling: unit
    for joint in "-*"
    for spelling, unit in (
        (f"in{joint}lb", "inch * pound_force"),
        (f"ft{joint}lb", "foot * pound_force"),
        (f"in{joint}lbf", "inch * pound_force"),
        (f"ft{joint}lbf", "foot * pound_force"),
    )
}

SPELLINGS: dict[str, tuple[str, dict[str, str]]] = {
    "length": ("meter", _LENGTH),
    "area": (
        "meter ** 2",
        {
            "m2": "meter ** 2",
            "mm2": "1e-6 * meter ** 2",
            "cm2": "1e-4 * meter ** 2",
            "in2": "inch ** 2",
            "sq in": "inch ** 2",
            "ft2": "foot ** 2",
            "sq ft": "foot ** 2",
            "yd2": "yard ** 2",
            "sq yd": "yard ** 2",
            "cmil": "circular_mil",
        },
    ),
    "volume": ("meter ** 3", _VOLUME),
    "mass": ("kilogram", _MASS),
    "force": ("newton", _FORCE),
    "moment": (
        "kilogram * meter",
        {
            "kg*m": "kilogram * meter",
            "kg*mm": "0.001 * kilogram * meter",
            "lb*in": "pound * inch",
            "lb-in": "pound * inch",
            "lb*ft": "pound * foot",
            "lb-ft": "pound * foot",
        },
    ),
    "torque": ("newton * meter", _TURNING),
    "angle": ("radian", {"deg": "degree", "°": "degree", "rad": "radian", "arcmin": "arcminute"}),
    "time": ("second", _TIME),
    "frequency": ("hertz", {"Hz": "hertz", "kHz": "1000 * hertz", "MHz": "1e6 * hertz"}),
    "rate": (
        "1 / second",
        {
            "/min": "1 / minute",
            "1/min": "1 / minute",
            "per min": "1 / minute",
            "/s": "1 / second",
            "1/s": "1 / second",
            "Hz": "hertz",
        },
    ),
    "angular speed": (
        "radian / second",
        {"rpm": "revolution / minute", "rad/s": "radian / second", "deg/s": "degree / second"},
    ),
    "speed": (
        "meter / second",
        {
            "m/s": "meter / second",
            "km/h": "1000 * meter / hour",
            "kt": "nautical_mile / hour",
            "kts": "nautical_mile / hour",
            "kn": "nautical_mile / hour",
            "mph": "mile / hour",
            "ft/s": "foot / second",
            "ft/min": "foot / minute",
        },
    ),
    "temperature": (
        "kelvin",
        {
            "K": "kelvin",
            "degC": "degree_celsius",
            "°C": "degree_celsius",
            "degF": "degree_fahrenheit",
            "°F": "degree_fahrenheit",
        },
    ),
    "temperature difference": (
        "kelvin",
        {"K": "kelvin", "degC": "kelvin", "°C": "kelvin", "degF": "5 / 9 * kelvin", "°F": "5 / 9 * kelvin"},
    ),
    "pressure": (
        "pascal",
        {
            "Pa": "pascal",
            "hPa": "100 * pascal",
            "kPa": "1000 * pascal",
            "mbar": "0.001 * bar",
            "bar": "bar",
            "psi": "psi",
            "inHg": "inch_of_mercury",
        },
    ),
    "current": ("ampere", {"A": "ampere", "mA": "0.001 * ampere", "uA": "1e-6 * ampere", "kA": "1000 * ampere"}),
    "voltage": ("volt", {"V": "volt", "mV": "0.001 * volt", "kV": "1000 * volt"}),
    "resistance": (
        "ohm",
        {
            "ohm": "ohm",
            "ohms": "ohm",
            "Ω": "ohm",
            "\u2126": "ohm",
            "mohm": "0.001 * ohm",
            "uohm": "1e-6 * ohm",
            "kohm": "1000 * ohm",
        },
    ),
    "resistance per length": (
        "ohm / meter",
        {
            "ohm/ft": "ohm / foot",
            "mohm/ft": "0.001 * ohm / foot",
            "ohm/kft": "0.001 * ohm / foot",
            "ohm/m": "ohm / meter",
            "mohm/m": "0.001 * ohm / meter",
            "ohm/km": "0.001 * ohm / meter",
        },
    ),
    "power": ("watt", {"W": "watt", "mW": "0.001 * watt", "kW": "1000 * watt", "hp": "horsepower"}),
    "charge": (
        "coulomb",
        {
            "A*h": "ampere * hour",
            "Ah": "ampere * hour",
            "A-h": "ampere * hour",
            "mA*h": "0.001 * ampere * hour",
            "mAh": "0.001 * ampere * hour",
        },
    ),
    "energy": ("joule", {"J": "joule", "kJ": "1000 * joule", "W*h": "watt * hour", "Wh": "watt * hour"}),
    "ratio": ("", {"%": "percent", "percent": "percent"}),
    "luminous intensity": ("candela", {"cd": "candela", "mcd": "0.001 * candela"}),
    "illuminance": ("lux", {"lx": "lux"}),
    "mass per volume": (
        "kilogram / meter ** 3",
        {
            "kg/L": "kilogram / liter",
            "kg/m3": "kilogram / meter ** 3",
            "g/mL": "gram / (0.001 * liter)",
            **{f"lb/{gallon}": f"pound / {meaning}" for gallon, meaning in _GALLON.items()},
            "lb/ft3": "pound / foot ** 3",
        },
    ),
    "volume flow": (
        "meter ** 3 / second",
        {
            **{f"{gallon}/h": f"{meaning} / hour" for gallon, meaning in _GALLON.items()},
            "gph": "us_gallon / hour",
            "L/h": "liter / hour",
            "L/min": "liter / minute",
        },
    ),
    "mass flow": ("kilogram / second", {"lb/h": "pound / hour", "kg/h": "kilogram / hour", "g/s": "gram / second"}),
    "specific consumption": (
        "kilogram / joule",
        {"lb/hp/h": "pound / horsepower / hour", "g/kW/h": "gram / (1000 * watt) / hour"},
    ),
    "force per length": (
        "newton / meter",
        {"lb/in": "pound_force / inch", "lbf/in": "pound_force / inch", "N/m": "newton / meter"},
    ),
    "mass per area": (
        "kilogram / meter ** 2",
        {
            "kg/m2": "kilogram / meter ** 2",
            "g/m2": "gram / meter ** 2",
            "lb/ft2": "pound / foot ** 2",
            "lb/sq ft": "pound / foot ** 2",
            "psf": "pound / foot ** 2",
            "oz/yd2": "ounce / yard ** 2",
            "oz/sq yd": "ounce / yard ** 2",
        },
    ),
    "linear density": (
        "kilogram / meter",
        {
            "kg/m": "kilogram / meter",
            "g/m": "gram / meter",
            "lb/ft": "pound / foot",
            "lb/kft": "0.001 * pound / foot",
        },
    ),
    "magnetic flux density": (
        "tesla",
        {"uT": "1e-6 * tesla", "mT": "0.001 * tesla", "T": "tesla", "gauss": "gauss", "mgauss": "0.001 * gauss"},
    ),
}
"""Dimension -> its unit inside (SI) and every spelling with its meaning. `lb` is a mass or a force as the field asks.

Of several spellings with one meaning the first is the one that reports use."""

AMERICAN = frozenset({"gal", "qt", "pt", "lb/gal", "gal/h", "gph"})
"""Spellings that mean American measures in the United States and are refused elsewhere."""
