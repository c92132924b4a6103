"""Quantities as fields of pydantic models, the cache, and what importing the package costs."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest
from pydantic import BaseModel, ConfigDict, ValidationError

from jurystrut.quantities import (
    GALLON,
    Angle,
    Gauge,
    Length,
    Mass,
    MassPerVolume,
    QuantityError,
    Range,
    Temperature,
    Tolerance,
    Volume,
    VolumeFlow,
    quantity,
)


class Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    length: Length | None = None
    weight: Mass | None = None
    warmth: Range[Temperature] | None = None
    droop: Tolerance[Angle] | None = None
    size: Gauge | None = None


class Tank(BaseModel):
    holds: Volume | None = None
    usual: Range[Volume] | None = None
    density: MassPerVolume | None = None
    flow: VolumeFlow | None = None


def only_message(model: type[BaseModel], fields: dict[str, Any], context: dict[str, str] | None = None) -> str:
    with pytest.raises(ValidationError) as caught:
        model.model_validate(fields, context=context)
    (error,) = [error for error in caught.value.errors() if error["type"] == "value_error"]
    return str(error["ctx"]["error"])


def test_fields_are_read() -> None:
    part = Part.model_validate(
        {
            "length": "3-1/8 in",
            "weight": "2 lb 3 oz",
            "warmth": "50..95 degF",
            "droop": "21 ± 1 deg",
            "size": "18 AWG",
        }
    )
    assert part.length == Length.parse("3-1/8 in")
    assert part.warmth == Range.parse("50..95 degF", Temperature)
    assert part.droop == Tolerance.parse("21 ± 1 deg", Angle)
    assert part.size == Gauge(18)
    assert Part.model_validate(dict(part)) == part
    assert part.model_copy(deep=True) == part


def test_a_mass_is_no_length() -> None:
    message = only_message(Part, {"length": "5 lb"})
    assert message == "found '5 lb'; 5 lb is a mass; a length is wanted, for example 3-1/8 in"


@pytest.mark.parametrize("value", [5, 5.0, True, ["5 in"], {"value": 5}, Mass.parse("5 lb")])
@pytest.mark.parametrize("field", ["length", "warmth", "droop", "size"])
def test_other_things_give_one_clear_line(field: str, value: object) -> None:
    message = only_message(Part, {field: value})
    assert message.startswith("found a")
    assert "wanted" in message
    assert "\n" not in message


PLAIN = {
    "holds": "20 gal",
    "usual": "1..2 gal",
    "density": "6 lb/gal",
    "flow": "5 gal/h",
}


@pytest.mark.parametrize("field", PLAIN)
def test_a_plain_gallon_needs_a_country(field: str) -> None:
    american = Tank.model_validate({field: PLAIN[field]}, context={GALLON: "US"})
    assert american == Tank.model_validate({field: PLAIN[field].replace("gal", "US gal")})
    # Reading it once as American must not let it pass afterwards.
    for context in (None, {}, {GALLON: "imp"}, {"other": "US"}):
        assert "US gal" in only_message(Tank, {field: PLAIN[field]}, context)


def test_an_american_gallon_is_reported_as_one() -> None:
    tank = Tank.model_validate({"holds": "20 gal"}, context={GALLON: "US"})
    assert tank.holds is not None
    assert (tank.holds.unit, str(tank.holds)) == ("US gal", "20 gal")


def test_json_schema() -> None:
    properties = Part.model_json_schema()["properties"]
    kinds = {name: field["anyOf"][0] for name, field in properties.items()}
    assert all(kind["type"] == "string" for kind in kinds.values())
    units = "m, mm, cm, km, in, inch, inches, ft, yd, mi, nmi"
    assert kinds["length"]["description"] == f"a length, for example 3-1/8 in; units: {units}"
    assert kinds["warmth"]["examples"] == ["50..95 degF"]
    assert kinds["droop"]["examples"] == ["21 ± 1 deg"]
    assert kinds["size"]["examples"] == ["18 AWG", "2/0 AWG"]


def test_a_text_is_read_once() -> None:
    assert Length.parse("17.03125 in") is Length.parse("17.03125 in")
    assert Volume.parse_american("17 gal") is Volume.parse_american("17 gal")
    assert Range.parse("17..18 in", Length) is Range.parse("17..18 in", Length)


def test_the_cache_is_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(quantity, "_MOST_CACHED", 10)
    monkeypatch.setattr(Length, "_cached", {})
    for number in range(25):
        assert Length.parse(f"{number} in").to("in") == pytest.approx(number)
    assert 0 < len(Length._cached) <= 10


def test_refusals_are_not_cached_and_stay_refusals() -> None:
    for _ in range(2):
        with pytest.raises(QuantityError):
            Length.parse("5 lb")


def test_importing_and_reading_stay_light() -> None:
    code = (
        "import sys; from jurystrut.quantities import Length, Range, Temperature, Gauge;"
        "Length.parse('5 ft 2-1/2 in'); Range.parse('50..95 degF', Temperature); Gauge.parse('18 AWG');"
        "print(sorted({'pydantic', 'pydantic_core', 'pint', 'networkx', 'yaml', 'difflib'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
