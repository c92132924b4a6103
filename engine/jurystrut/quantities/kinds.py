"""One class a dimension: the vocabulary in which records say what they measure."""

from __future__ import annotations

from jurystrut.quantities.quantity import Quantity

__all__ = [
    "Angle",
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
    "LuminousIntensity",
    "MagneticFluxDensity",
    "Mass",
    "MassFlow",
    "MassPerArea",
    "MassPerEnergy",
    "MassPerLength",
    "MassPerVolume",
    "Moment",
    "Power",
    "Pressure",
    "Rate",
    "Ratio",
    "Resistance",
    "ResistancePerLength",
    "Speed",
    "Temperature",
    "TemperatureDifference",
    "Time",
    "Torque",
    "Voltage",
    "Volume",
    "VolumeFlow",
]


class Length(Quantity):
    """A distance that cannot be negative, in metres."""

    dimension = "length"
    example = "3-1/8 in"


class Arm(Quantity):
    """A signed distance from a datum or an edge, in metres."""

    dimension = "length"
    signed = True
    example = "-21.5 in"


class Area(Quantity):
    """An area, in square metres."""

    dimension = "area"
    example = "132 ft2"


class Volume(Quantity):
    """A volume, in cubic metres."""

    dimension = "volume"
    example = "12 US gal"


class Mass(Quantity):
    """A mass, which the trade calls weight, in kilograms."""

    dimension = "mass"
    example = "104.2 lb"


class Force(Quantity):
    """A force, in newtons; `lb` is a pound of force here."""

    dimension = "force"
    example = "40 lbf"


class Moment(Quantity):
    """Weight times arm, in kilogram metres."""

    dimension = "moment"
    signed = True
    example = "12391 lb*in"


class Torque(Quantity):
    """A torque, in newton metres."""

    dimension = "torque"
    example = "50 in-lb"


class Angle(Quantity):
    """An angle, in radians."""

    dimension = "angle"
    signed = True
    example = "21 deg"


class Time(Quantity):
    """A duration, in seconds."""

    dimension = "time"
    example = "48 h"


class Frequency(Quantity):
    """A frequency, in hertz."""

    dimension = "frequency"
    example = "400 Hz"


class Rate(Quantity):
    """How often something happens or turns, a second."""

    dimension = "rate"
    example = "60 /min"


class Speed(Quantity):
    """A speed, in metres a second."""

    dimension = "speed"
    example = "108 kt"


class Temperature(Quantity):
    """A temperature, in kelvin; 50 degF is 283.15 K."""

    dimension = "temperature"
    signed = True
    example = "68 degF"


class TemperatureDifference(Quantity):
    """A step between two temperatures, in kelvin; 9 degF is 5 K."""

    dimension = "temperature difference"
    signed = True
    example = "3 degC"


class Pressure(Quantity):
    """A pressure, in pascals."""

    dimension = "pressure"
    example = "29.92 inHg"


class Current(Quantity):
    """An electric current, in amperes."""

    dimension = "current"
    example = "6.5 A"


class Voltage(Quantity):
    """A voltage, in volts."""

    dimension = "voltage"
    example = "14.2 V"


class Resistance(Quantity):
    """A resistance, in ohms."""

    dimension = "resistance"
    example = "9 mohm"


class ResistancePerLength(Quantity):
    """Resistance of a length of wire, in ohms a metre."""

    dimension = "resistance per length"
    example = "6.23 ohm/kft"


class Power(Quantity):
    """A power, in watts."""

    dimension = "power"
    example = "100 hp"


class Charge(Quantity):
    """An electric charge, in coulombs."""

    dimension = "charge"
    example = "18 A*h"


class Energy(Quantity):
    """An energy, in joules."""

    dimension = "energy"
    example = "200 W*h"


class Ratio(Quantity):
    """A share, as a fraction: 62 % is 0.62."""

    dimension = "ratio"
    example = "62 %"


class LuminousIntensity(Quantity):
    """A luminous intensity, in candelas."""

    dimension = "luminous intensity"
    example = "40 cd"


class Illuminance(Quantity):
    """An illuminance, in lux."""

    dimension = "illuminance"
    example = "30 lx"


class MassPerVolume(Quantity):
    """A density, in kilograms a cubic metre."""

    dimension = "mass per volume"
    example = "6 lb/US gal"


class VolumeFlow(Quantity):
    """A volume flow, in cubic metres a second."""

    dimension = "volume flow"
    example = "14.2 US gal/h"


class MassFlow(Quantity):
    """A mass flow, in kilograms a second."""

    dimension = "mass flow"
    example = "82.5 lb/h"


class MassPerEnergy(Quantity):
    """Specific fuel consumption, in kilograms a joule."""

    dimension = "mass per energy"
    example = "0.55 lb/hp/h"


class ForcePerLength(Quantity):
    """Strength of a fabric or tape by its width, in newtons a metre."""

    dimension = "force per length"
    example = "56 lb/in"


class MassPerArea(Quantity):
    """Wing loading or weight of a cloth, in kilograms a square metre."""

    dimension = "mass per area"
    example = "9 lb/ft2"


class MassPerLength(Quantity):
    """Weight of a wire or cable by its length, in kilograms a metre."""

    dimension = "mass per length"
    example = "7.2 lb/kft"


class MagneticFluxDensity(Quantity):
    """A magnetic field, in teslas."""

    dimension = "magnetic flux density"
    example = "5 uT"
