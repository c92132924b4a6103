"""Do measured intensities of the position lights reach the figures of old part 23?

All of it is a yardstick for an amateur-built aircraft. What falls short in the horizontal plane fails where night flight is
intended and is a warning by day; what rests on memory is a warning always.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, cast

from jurystrut.calculations.light_overlap import PositionLight, from_ahead, overlap
from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    at_most,
    not_applicable,
    read_table,
    rule,
)
from jurystrut_rules.lighting.night import night_is_intended
from jurystrut_rules.lighting.sectors import degrees_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Light, Lighting, Measurement

__all__ = [
    "NOT_MEASURED",
    "above",
    "bands",
    "greatest",
    "position_light_is_bright_enough",
    "position_light_keeps_to_its_angle",
    "where_measured",
]

_TABLES = Path(__file__).parents[1] / "tables/lighting"
_SIDES = {"position-left": "left", "position-right": "right", "position-tail": "rear"}


def _position_lights(lighting: Lighting) -> Iterator[tuple[Light, PositionLight]]:
    for light in lighting.lights:
        if light.function in _SIDES:
            yield light, cast("PositionLight", _SIDES[light.function])


class _Band(NamedTuple):
    """A row of a table: between two angles, a figure."""

    start: float
    end: float
    figure: float


@cache
def bands(table: str, figure: str, light: str = "") -> tuple[_Band, ...]:
    """The rows of a table of intensities by angle, with one of its figures."""
    rows = read_table(_TABLES / f"{table}.yaml").rows
    wanted = (row for row in rows if not light or row["light"] == light)
    return tuple(_Band(float(row["from"] or 0), float(row["to"] or 0), float(row[figure] or 0)) for row in wanted)


def greatest(bands: tuple[_Band, ...], angle: float) -> float:
    """The greatest figure of the bands that an angle lies in: on the edge of two, the stricter one."""
    return max(band.figure for band in bands if band.start <= angle <= band.end)


def where_measured(measurement: Measurement) -> str:
    """The direction of a measurement, in words."""
    elevation = f", {measurement.elevation} above the horizontal" if measurement.elevation else ""
    return f"at {measurement.bearing}{elevation}"


NOT_MEASURED = "no intensity was measured"
"""How a message begins where there is nothing to hold against a table."""


@rule(
    "lighting/position-intensity",
    title="Position lights bright enough",
    asks="Does each measured intensity of a position light, inside its own angle, reach the least one?",
    references=("23-1391", "23-1393", "23-1389"),
    due=Stage.SYSTEMS,
    remedy="Fit a brighter light, or a lens that spreads it to that side.",
)
def position_light_is_bright_enough(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """Old 23.1391 asks in the horizontal plane for 40 candles to 10 degrees from ahead, 30 to 20, 5 to 110, and 20 behind; old
    23.1393, from memory but read in its siblings, for a share of that above and below. A candle is taken as a candela.

    On the edge between two rows the greater figure is asked for. The figures are for a new light in its cover, steady, at
    its normal voltage: measure it so. The light's weakest measurement against what is asked there is shown.
    """
    for light, side in _position_lights(lighting):
        own = [m for m in light.measured if overlap(side, degrees_of(m.bearing)).past == 0.0]
        if not own:
            yield not_applicable(light.id, f"{NOT_MEASURED} inside its own angle", light.at("measured"))
        else:
            yield _weakest(light, side, own, night=night_is_intended(aircraft))
    if not any(True for _ in _position_lights(lighting)):
        yield not_applicable("aircraft", "no position light is recorded", lighting.at("lights"))


def _asked(side: PositionLight, measurement: Measurement) -> float:
    row = "rear" if side == "rear" else "forward"
    level = greatest(bands("horizontal", "candles", row), from_ahead(degrees_of(measurement.bearing)))
    return level * greatest(bands("vertical", "share"), min(above(measurement), 90.0))  # arithmetic


def _weakest(light: Light, side: PositionLight, own: list[Measurement], *, night: bool) -> Finding:
    weakest = min(own, key=lambda m: m.intensity.to("cd") / _asked(side, m))
    asked = _asked(side, weakest)
    level = not weakest.elevation or degrees_of(weakest.elevation) == 0.0
    return at_least(
        light.id,
        weakest.intensity.to("cd"),
        asked,
        "cd",
        f"{weakest.intensity} {where_measured(weakest)}; {asked:g} cd is asked for there",
        weakest.at("intensity"),
        working=lambda: [f"{where_measured(m)}: {m.intensity}, asked {_asked(side, m):g} cd" for m in own],
        otherwise=Verdict.FAIL if night and level else Verdict.WARN,
    )


_AREA_A, _AREA_B = 10.0, 20.0  # 23-1395: degrees past the boundary


@rule(
    "lighting/position-overlap",
    title="Position lights keep to their angles",
    asks="Does each measured intensity in a neighbour's angle stay within what may overlap?",
    references=("23-1395", "23-1389"),
    due=Stage.SYSTEMS,
    remedy="Mask the light towards that side.",
)
def position_light_keeps_to_its_angle(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """Old 23.1395: from 10 to 20 degrees past the boundary, red in the right angle or green in the left has at most 10 candles,
    all other overlaps 5; beyond 20 degrees at most 1. Up to 10 degrees past, nothing is asked. Exactly at 20 degrees, which
    the words leave open, the stricter figure is taken.

    That a light of more than 100 candles ahead may overlap more, 23.1389(b)(3), is from memory and is not granted here.
    """
    for light, side in _position_lights(lighting):
        spilled = [m for m in light.measured if overlap(side, degrees_of(m.bearing)).past > _AREA_A]
        if not spilled:
            yield not_applicable(light.id, f"{NOT_MEASURED} more than 10 degrees past its angle", light.at("measured"))
        else:
            yield _worst_spill(light, side, spilled, night=night_is_intended(aircraft))
    if not any(True for _ in _position_lights(lighting)):
        yield not_applicable("aircraft", "no position light is recorded", lighting.at("lights"))


@cache
def _overlaps() -> dict[tuple[str | None, str | None], tuple[float, float]]:
    rows = read_table(_TABLES / "overlap.yaml").rows
    return {(row["light"], row["in"]): (float(row["area_a"] or 0), float(row["area_b"] or 0)) for row in rows}


def _most(side: PositionLight, measurement: Measurement) -> float:
    past, within = overlap(side, degrees_of(measurement.bearing))
    area_a, area_b = _overlaps()["rear" if side == "rear" else "forward", within]
    return area_a if past < _AREA_B else area_b


def _worst_spill(light: Light, side: PositionLight, spilled: list[Measurement], *, night: bool) -> Finding:
    worst = max(spilled, key=lambda m: m.intensity.to("cd") / _most(side, m))
    most = _most(side, worst)
    past = overlap(side, degrees_of(worst.bearing)).past
    return at_most(
        light.id,
        worst.intensity.to("cd"),
        most,
        "cd",
        f"{worst.intensity} {where_measured(worst)}, {past:g} degrees past its angle; at most {most:g} cd there",
        worst.at("intensity"),
        working=lambda: [f"{where_measured(m)}: {m.intensity}, at most {_most(side, m):g} cd" for m in spilled],
        otherwise=Verdict.FAIL if night else Verdict.WARN,
    )


def above(measurement: Measurement) -> float:
    """How far from the horizontal it was measured, up or down, in degrees."""
    return abs(degrees_of(measurement.elevation)) if measurement.elevation else 0.0
