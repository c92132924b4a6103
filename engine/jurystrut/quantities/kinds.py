"""One class a dimension: the vocabulary in which records say what they measure."""

from __future__ import annotations

from jurystrut.quantities.quantity import Quantity

__all__ = [
    "Angle",
    "AngularSpeed",
    "Area",
    "Arm",
    "Charge",
    "Current",
    "Energy",
    "Force",
    "ForcePerLength",
    "Frequency",
    "Illuminance",
    "Length",
    "LinearDensity",
    "LuminousIntensity",
    "MagneticFluxDensity",
    "Mass",
    "MassFlow",
    "MassPerArea",
    "MassPerVolume",
    "Moment",
    "Power",
    "Pressure",
    "Rate",
    "Ratio",
    "Resistance",
    "ResistancePerLength",
    "SpecificConsumption",
    "Speed",
    "Temperature",
    "TemperatureDifference",
    "Time",
    "Torque",
    "Voltage",
    "Volume",
    "VolumeFlow",
    "WingLoading",
]


class Length(Quantity):
    """A distance that cannot be negative, in metres."""

    __slots__ = ()
    dimension = "length"
    example = "3-1/8 in"


class Arm(Quantity):
    """A signed distance from a datum or an edge, in metres."""

    __slots__ = ()
    dimension = "length"
    signed = True
    example = "-21.5 in"


class Area(Quantity):
    """An area, in square metres."""

    __slots__ = ()
    dimension = "area"
    example = "132 ft2"


class Volume(Quantity):
    """A volume, in cubic metres."""

    __slots__ = ()
    dimension = "volume"
    example = "12 US gal"


class Mass(Quantity):
    """A mass, which the trade calls weight, in kilograms."""

    __slots__ = ()
    dimension = "mass"
    example = "104.2 lb"


class Force(Quantity):
    """A force, in newtons; `lb` is a pound of force here."""

    __slots__ = ()
    dimension = "force"
    example = "40 lbf"


class Moment(Quantity):
    """Weight times arm, in kilogram metres."""

    __slots__ = ()
    dimension = "moment"
    signed = True
    example = "12391 lb*in"


class Torque(Quantity):
    """A torque, in newton metres."""

    __slots__ = ()
    dimension = "torque"
    example = "50 in-lb"


class Angle(Quantity):
    """An angle, in radians."""

    __slots__ = ()
    dimension = "angle"
    signed = True
    example = "21 deg"


class Time(Quantity):
    """A duration, in seconds."""

    __slots__ = ()
    dimension = "time"
    example = "48 h"


class Frequency(Quantity):
    """A frequency, in hertz."""

    __slots__ = ()
    dimension = "frequency"
    example = "400 Hz"


class Rate(Quantity):
    """How often something happens, such as a flash, a second."""

    __slots__ = ()
    dimension = "rate"
    example = "60 /min"


class AngularSpeed(Quantity):
    """A speed of rotation, in radians a second."""

    __slots__ = ()
    dimension = "angular speed"
    example = "2700 rpm"


class Speed(Quantity):
    """A speed, in metres a second."""

    __slots__ = ()
    dimension = "speed"
    example = "108 kt"


class Temperature(Quantity):
    """A temperature, in kelvin: 50 degF is 283.15 K; never below absolute zero."""

    __slots__ = ()
    dimension = "temperature"
    example = "68 degF"


class TemperatureDifference(Quantity):
    """A step between two temperatures, in kelvin; 9 degF is 5 K."""

    __slots__ = ()
    dimension = "temperature difference"
    signed = True
    example = "3 degC"


class Pressure(Quantity):
    """A pressure, in pascals."""

    __slots__ = ()
    dimension = "pressure"
    example = "29.92 inHg"


class Current(Quantity):
    """An electric current, in amperes."""

    __slots__ = ()
    dimension = "current"
    example = "6.5 A"


class Voltage(Quantity):
    """A voltage, in volts."""

    __slots__ = ()
    dimension = "voltage"
    example = "14.2 V"


class Resistance(Quantity):
    """A resistance, in ohms."""

    __slots__ = ()
    dimension = "resistance"
    example = "9 mohm"


class ResistancePerLength(Quantity):
    """Resistance of a length of wire, in ohms a metre."""

    __slots__ = ()
    dimension = "resistance per length"
    example = "6.23 ohm/kft"


class Power(Quantity):
    """A power, in watts."""

    __slots__ = ()
    dimension = "power"
    example = "100 hp"


class Charge(Quantity):
    """An electric charge, in coulombs."""

    __slots__ = ()
    dimension = "charge"
    example = "18 A*h"


class Energy(Quantity):
    """An energy, in joules."""

    __slots__ = ()
    dimension = "energy"
    example = "200 W*h"


class Ratio(Quantity):
    """A share, as a fraction: 62 % is 0.62."""

    __slots__ = ()
    dimension = "ratio"
    example = "62 %"


class LuminousIntensity(Quantity):
    """A luminous intensity, in candelas."""

    __slots__ = ()
    dimension = "luminous intensity"
    example = "40 cd"


class Illuminance(Quantity):
    """An illuminance, in lux."""

    __slots__ = ()
    dimension = "illuminance"
    example = "30 lx"


class MassPerVolume(Quantity):
    """A density, in kilograms a cubic metre."""

    __slots__ = ()
    dimension = "mass per volume"
    example = "6 lb/US gal"


class VolumeFlow(Quantity):
    """A volume flow, in cubic metres a second."""

    __slots__ = ()
    dimension = "volume flow"
    example = "14.2 US gal/h"


class MassFlow(Quantity):
    """A mass flow, in kilograms a second."""

    __slots__ = ()
    dimension = "mass flow"
    example = "82.5 lb/h"


class SpecificConsumption(Quantity):
    """Specific fuel consumption, in kilograms a joule."""

    __slots__ = ()
    dimension = "specific consumption"
    example = "0.55 lb/hp/h"


class ForcePerLength(Quantity):
    """Strength of a fabric or tape by its width, in newtons a metre."""

    __slots__ = ()
    dimension = "force per length"
    example = "56 lb/in"


class MassPerArea(Quantity):
    """Weight of a cloth, sheet or coating by its area, in kilograms a square metre."""

    __slots__ = ()
    dimension = "mass per area"
    example = "2.7 oz/yd2"


class WingLoading(Quantity):
    """Weight carried by an area of wing, in kilograms a square metre."""

    __slots__ = ()
    dimension = "mass per area"
    example = "9 lb/ft2"


class LinearDensity(Quantity):
    """Weight of a wire or cable by its length, in kilograms a metre."""

    __slots__ = ()
    dimension = "linear density"
    example = "7.2 lb/kft"


class MagneticFluxDensity(Quantity):
    """A magnetic field, in teslas."""

    __slots__ = ()
    dimension = "magnetic flux density"
    example = "5 uT"
