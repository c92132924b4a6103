"""Numbers and units as builders write them, checked and typed by dimension.

>>> Length.parse("3-1/8 in").to("mm")
79.375
>>> Temperature.parse("50 degF").to("degC")
10.0
"""

from __future__ import annotations

from jurystrut.quantities.errors import QuantityError
from jurystrut.quantities.gauge import Gauge
from jurystrut.quantities.kinds import (
    Angle,
    AngularSpeed,
    Area,
    Arm,
    Charge,
    Current,
    Energy,
    Force,
    ForcePerLength,
    Frequency,
    Illuminance,
    Length,
    LinearDensity,
    LuminousIntensity,
    MagneticFluxDensity,
    Mass,
    MassFlow,
    MassPerArea,
    MassPerVolume,
    Moment,
    Power,
    Pressure,
    Rate,
    Ratio,
    Resistance,
    ResistancePerLength,
    SpecificConsumption,
    Speed,
    Temperature,
    TemperatureDifference,
    Time,
    Torque,
    Voltage,
    Volume,
    VolumeFlow,
    WingLoading,
)
from jurystrut.quantities.quantity import GALLON, Quantity
from jurystrut.quantities.spreads import Range, Tolerance

__all__ = [
    "GALLON",
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
    "Gauge",
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
    "Quantity",
    "QuantityError",
    "Range",
    "Rate",
    "Ratio",
    "Resistance",
    "ResistancePerLength",
    "SpecificConsumption",
    "Speed",
    "Temperature",
    "TemperatureDifference",
    "Time",
    "Tolerance",
    "Torque",
    "Voltage",
    "Volume",
    "VolumeFlow",
    "WingLoading",
]
