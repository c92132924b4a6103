"""In which words a text is refused: what was found, what is wanted, what to write."""

from __future__ import annotations

import pytest

from jurystrut.quantities import (
    Arm,
    Charge,
    Current,
    Force,
    Length,
    MagneticFluxDensity,
    Mass,
    MassPerVolume,
    Moment,
    Pressure,
    Quantity,
    QuantityError,
    Rate,
    Ratio,
    Time,
    Torque,
    Voltage,
    Volume,
    VolumeFlow,
)

WORDS: list[tuple[type[Quantity], str, str]] = [
    (
        Length,
        "5 lb",
        "found '5 lb'; 5 lb is a mass; a length is wanted, for example 3-1/8 in",
    ),
    (
        Mass,
        "5 in",
        "found '5 in'; 5 in is a length; a mass is wanted, for example 104.2 lb",
    ),
    (
        Charge,
        "18 A",
        "found '18 A'; 18 A is a current; a charge is wanted, for example 18 A*h",
    ),
    (Length, "5 ft 3 kg", "3 kg is a mass; a length is wanted"),
    (Length, "5 IN", "unknown unit 'IN', did you mean in?"),
    (Pressure, "30 PSI", "unknown unit 'PSI', did you mean psi?"),
    (Length, "5", "the unit is missing; a length is wanted, for example 3-1/8 in"),
    (Ratio, "0.62", "the unit is missing; a ratio is wanted, for example 62 %"),
    (Mass, "1,5 lb", "write 1.5 lb for a decimal"),
    (Mass, "1,500 lb", "write 1500 lb for thousands or 1.500 lb for a decimal"),
    (Mass, "1 000 lb", "a space inside the number"),
    (Mass, "1_000 lb", "an underscore inside the number"),
    (Length, "5'3\"", "write 5 ft 3 in"),
    (Length, "5 nm", "write nmi for nautical miles"),
    (Length, "3½ in", "write 3-1/2"),
    (Length, "5 µm", "write u"),
    (Arm, "−5 in", "write a plain hyphen for minus"),
    (Length, "5 in\n", "a control or invisible character"),
    (Length, "nan in", "no finite number"),
    (Length, "5 in long", "'long' after the unit is not read"),
    (Length, "5.5 ft 3 in", "parts before the last are whole numbers"),
    (Length, "5 ft 14 in", "each part must be less than one of the unit before it"),
    (Length, "5..6 in", "a single value is read here"),
    (Length, "x" * 70, "found 70 characters"),
    (Time, "3 months", "write days or weeks"),
    (Time, "2 years", "write days or weeks"),
    (Torque, "50 lb-in", "a torque is written in-lb or ft-lb"),
    (Moment, "50 in-lb", "a moment of weight is written lb*in"),
    (MagneticFluxDensity, "5 G", "write gauss"),
    (Voltage, "5 A 500 mA", "5 A is a current"),
    (Current, "5 A 500 mA", "are read for lengths, masses, durations and angles only"),
    (Rate, "60 rpm", "60 rpm is an angular speed"),
    (
        Volume,
        "20 gal",
        "found '20 gal'; 'gal' is American only where the aircraft's authority is US; write US gal or imp gal",
    ),
    (Volume, "20 qt", "write US qt"),
    (Volume, "20 gallons", "write US gal or imp gal"),
    (VolumeFlow, "5 gal/h", "write US gal/h or imp gal/h"),
    (VolumeFlow, "5 gph", "write US gal/h or imp gal/h"),
    (MassPerVolume, "6 lb/gal", "write lb/US gal or lb/imp gal"),
    (Force, "5 furlong", "a force is wanted, for example 40 lbf"),
]


@pytest.mark.parametrize(("kind", "text", "words"), WORDS, ids=[ascii(text) for _, text, _ in WORDS])
def test_words_of_refusals(kind: type[Quantity], text: str, words: str) -> None:
    with pytest.raises(QuantityError) as caught:
        kind.parse(text)
    assert words in str(caught.value)


def test_a_long_text_is_shown_short() -> None:
    with pytest.raises(QuantityError) as caught:
        Length.parse("5 " + "q" * 62)
    found = str(caught.value).split(";")[0].removeprefix("found ")
    assert len(found) == 64
    assert found.endswith("...'")
