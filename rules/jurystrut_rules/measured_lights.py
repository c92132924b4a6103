"""Do measured intensities and recorded sectors of the lights reach the figures of old part 23?

All of it is a yardstick for an amateur-built aircraft. What falls short in the horizontal plane fails where night flight is
intended and is a warning by day; what rests on memory is a warning always.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, cast

from jurystrut.calculations.light_arcs import uncovered, width
from jurystrut.calculations.light_overlap import PositionLight, from_ahead, overlap
from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    at_most,
    no_data,
    not_applicable,
    passes,
    read_table,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.quantities import Angle
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Light, Lighting, Measurement

__all__ = [
    "anti_collision_covers_all_round",
    "anti_collision_is_bright_enough",
    "instruments_are_lit",
    "landing_light_shines_ahead",
    "position_light_is_bright_enough",
    "position_light_keeps_to_its_angle",
    "warning_light_has_its_colour",
]

_TABLES = Path(__file__).parent / "tables/lighting"
_SIDES = {"position-left": "left", "position-right": "right", "position-tail": "rear"}


def _night(aircraft: Aircraft) -> bool:
    """Whether night flight is intended; where no flights are recorded it may be."""
    return not aircraft.operations or "night-vfr" in aircraft.operations


def _position_lights(lighting: Lighting) -> Iterator[tuple[Light, PositionLight]]:
    for light in lighting.lights:
        if light.function in _SIDES:
            yield light, cast("PositionLight", _SIDES[light.function])


def _degrees(angle: Angle) -> float:
    """An angle in degrees without the last bits that its conversion leaves: 350 must lie on the edge at 350."""
    return round(angle.to("deg"), 9)


class _Band(NamedTuple):
    """A row of a table: between two angles, a figure."""

    start: float
    end: float
    figure: float


@cache
def _bands(table: str, figure: str, light: str = "") -> tuple[_Band, ...]:
    rows = read_table(_TABLES / f"{table}.yaml").rows
    wanted = (row for row in rows if not light or row["light"] == light)
    return tuple(_Band(float(row["from"] or 0), float(row["to"] or 0), float(row[figure] or 0)) for row in wanted)


def _greatest(bands: tuple[_Band, ...], angle: float) -> float:
    """The greatest figure of the bands that an angle lies in: on the edge of two, the stricter one."""
    return max(band.figure for band in bands if band.start <= angle <= band.end)


def _where(measurement: Measurement) -> str:
    elevation = f", {measurement.elevation} above the horizontal" if measurement.elevation else ""
    return f"at {measurement.bearing}{elevation}"


_NOT_MEASURED = "no intensity was measured"


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
        own = [m for m in light.measured if overlap(side, _degrees(m.bearing)).past == 0.0]
        if not own:
            yield not_applicable(light.id, f"{_NOT_MEASURED} inside its own angle", light.at("measured"))
        else:
            yield _weakest(light, side, own, night=_night(aircraft))
    if not any(True for _ in _position_lights(lighting)):
        yield not_applicable("aircraft", "no position light is recorded", lighting.at("lights"))


def _asked(side: PositionLight, measurement: Measurement) -> float:
    row = "rear" if side == "rear" else "forward"
    level = _greatest(_bands("horizontal", "candles", row), from_ahead(_degrees(measurement.bearing)))
    return level * _greatest(_bands("vertical", "share"), min(_above(measurement), 90.0))


def _weakest(light: Light, side: PositionLight, own: list[Measurement], *, night: bool) -> Finding:
    weakest = min(own, key=lambda m: m.intensity.to("cd") / _asked(side, m))
    asked = _asked(side, weakest)
    level = not weakest.elevation or _degrees(weakest.elevation) == 0.0
    return at_least(
        light.id,
        weakest.intensity.to("cd"),
        asked,
        "cd",
        f"{weakest.intensity} {_where(weakest)}; {asked:g} cd is asked for there",
        weakest.at("intensity"),
        working=lambda: [f"{_where(m)}: {m.intensity}, asked {_asked(side, m):g} cd" for m in own],
        otherwise=Verdict.FAIL if night and level else Verdict.WARN,
    )


_AREA_A, _AREA_B = 10.0, 20.0  # degrees past the boundary, 14 CFR 23.1395(a) and (b)


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
        spilled = [m for m in light.measured if overlap(side, _degrees(m.bearing)).past > _AREA_A]
        if not spilled:
            yield not_applicable(light.id, f"{_NOT_MEASURED} more than 10 degrees past its angle", light.at("measured"))
        else:
            yield _worst_spill(light, side, spilled, night=_night(aircraft))
    if not any(True for _ in _position_lights(lighting)):
        yield not_applicable("aircraft", "no position light is recorded", lighting.at("lights"))


@cache
def _overlaps() -> dict[tuple[str | None, str | None], tuple[float, float]]:
    rows = read_table(_TABLES / "overlap.yaml").rows
    return {(row["light"], row["in"]): (float(row["area_a"] or 0), float(row["area_b"] or 0)) for row in rows}


def _most(side: PositionLight, measurement: Measurement) -> float:
    past, within = overlap(side, _degrees(measurement.bearing))
    area_a, area_b = _overlaps()["rear" if side == "rear" else "forward", within]
    return area_a if past < _AREA_B else area_b


def _worst_spill(light: Light, side: PositionLight, spilled: list[Measurement], *, night: bool) -> Finding:
    worst = max(spilled, key=lambda m: m.intensity.to("cd") / _most(side, m))
    most = _most(side, worst)
    past = overlap(side, _degrees(worst.bearing)).past
    return at_most(
        light.id,
        worst.intensity.to("cd"),
        most,
        "cd",
        f"{worst.intensity} {_where(worst)}, {past:g} degrees past its angle; at most {most:g} cd there",
        worst.at("intensity"),
        working=lambda: [f"{_where(m)}: {m.intensity}, at most {_most(side, m):g} cd" for m in spilled],
        otherwise=Verdict.FAIL if night else Verdict.WARN,
    )


_ALL_ROUND = (0.0, 360.0)
_ABOVE_BELOW_DEG = 75.0  # 14 CFR 23.1401(b) before amendment 64, from memory; 25.1401(b) was read


@rule(
    "lighting/anti-collision-coverage",
    title="Anti-collision lights seen from all round",
    asks="Do the anti-collision lights together show all round, and 75 degrees above and below?",
    references=("23-1401", "91-205-c-3"),
    due=Stage.SYSTEMS,
    remedy="Move a light, or add another where the gap is.",
    at_worst=Verdict.WARN,
)
def anti_collision_covers_all_round(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """What all anti-collision lights show together in plan view, less what hides each, is held against the full circle; and
    each light's angle above and below against 75 degrees. Old 23.1401(b) is a yardstick known from memory, so it warns. Up
    to 0.5 steradian may be hidden, which is not worked out here: a narrow gap may be within it.
    """
    lights = [light for light in lighting.lights if light.function == "anti-collision"]
    if not lights:
        yield not_applicable("aircraft", "no anti-collision light is recorded", lighting.at("lights"))
        return
    dark = next((light for light in lights if not light.covers), None)
    if dark:
        yield no_data(dark.id, "which sector it lights is not recorded", dark.at(), remedy="Record 'covers'.")
    else:
        yield _circle(lights)
    if _night(aircraft):
        for light in lights:
            yield from _above_and_below(light)


def _circle(lights: list[Light]) -> Finding:
    seen = [
        part
        for light in lights
        for sector in light.covers
        for part in uncovered(
            (sector.low.to("deg"), sector.high.to("deg")), [(b.low.to("deg"), b.high.to("deg")) for b in light.blocked]
        )
    ]
    gaps = uncovered(_ALL_ROUND, seen)
    first = next((light for light in lights if light.blocked), lights[0])
    shown = " and ".join(f"{start:g} to {end:g}" for start, end in gaps)
    lit = 360.0 - width(gaps)
    return at_least(
        first.id,
        lit,
        360.0,
        "deg",
        f"{lit:g} of 360 degrees are lit" + (f"; dark from {shown} deg" if gaps else ""),
        first.at("blocked" if first.blocked else "covers"),
        remedy=f"Light {shown} degrees, clockwise from the nose.",
    )


def _above_and_below(light: Light) -> Iterator[Finding]:
    for field, words in (("covers_above", "above"), ("covers_below", "below")):
        angle = getattr(light, field)
        if angle is None:
            message = f"how far {words} the horizontal it shines is not recorded; night VFR is intended"
            yield no_data(light.id, message, light.at(), remedy=f"Record '{field}'.")
        else:
            message = f"it shines {angle} {words} the horizontal"
            yield at_least(light.id, angle.to("deg"), _ABOVE_BELOW_DEG, "deg", message, light.at(field))


@rule(
    "lighting/instrument-lights",
    title="Instruments lit at night",
    asks="Where night flight is intended, is there a shielded instrument light?",
    references=("23-1381", "91-205-c-1"),
    due=Stage.SYSTEMS,
    remedy="Fit an instrument light out of the pilot's sight, and record it.",
    at_worst=Verdict.WARN,
)
def instruments_are_lit(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """91.205(c) does not list instrument lights, though it is often believed to. Old 23.1381, a yardstick, wants every
    instrument easy to read and rays and reflections kept from the pilot, and says that a dome light does not count.
    """
    if not _night(aircraft):
        yield not_applicable("aircraft", "night VFR is not intended", aircraft.at("operations"))
        return
    lights = [light for light in lighting.lights if light.function == "instrument"]
    if not lights:
        message = "night flight is intended and no instrument light is recorded; a cabin light does not count"
        yield warns("aircraft", message, aircraft.at("operations"), lighting.at("lights"))
    for light in lights:
        if light.shielded is None:
            message = "whether its rays are kept from the pilot's eyes is not recorded"
            yield no_data(light.id, message, light.at(), remedy="Record 'shielded'.")
        elif light.shielded:
            yield passes(light.id, "its rays are kept from the pilot's eyes", light.at("shielded"))
        else:
            yield warns(light.id, "its rays reach the pilot's eyes", light.at("shielded"), remedy="Shield it.")


@rule(
    "lighting/landing-light",
    title="Landing and taxi lights shine ahead",
    asks="Does every landing and taxi light shine ahead?",
    references=("23-1383", "91-205-c-4"),
    due=Stage.SYSTEMS,
    remedy="Turn it ahead, or record what it really is.",
    at_worst=Verdict.WARN,
)
def landing_light_shines_ahead(lighting: Lighting) -> Iterator[Finding]:
    """By night a landing light is asked for by 91.205(c)(4) only when flown for hire. Old 23.1383, a yardstick, wants enough
    light for the work and no glare for the pilot: a light that is not recorded as `forward_facing` does not light the way.
    """
    lights = [light for light in lighting.lights if light.function in {"landing", "taxi"}]
    if not lights:
        yield not_applicable("aircraft", "no landing or taxi light is recorded", lighting.at("lights"))
    for light in lights:
        if light.forward_facing:
            yield passes(light.id, "it shines ahead", light.at("forward_facing"))
        else:
            yield warns(light.id, "it is not recorded as shining ahead", light.at("forward_facing"))


@rule(
    "lighting/anti-collision-intensity",
    title="Anti-collision light bright enough",
    asks="Does each measured effective intensity of an anti-collision light reach the least one?",
    references=("23-1401-f",),
    due=Stage.SYSTEMS,
    remedy="Fit a brighter light.",
    at_worst=Verdict.WARN,
)
def anti_collision_is_bright_enough(lighting: Lighting) -> Iterator[Finding]:
    """Old 23.1401(f), a yardstick from memory: 400 effective candles to 5 degrees from the horizontal, down to 20 at 75. What
    is recorded as measured is taken as effective: a flash's integral over 0.2 s plus its duration, (e). Beyond 75 degrees
    nothing is asked.
    """
    lights = [light for light in lighting.lights if light.function == "anti-collision"]
    if not lights:
        yield not_applicable("aircraft", "no anti-collision light is recorded", lighting.at("lights"))
    for light in lights:
        known = [m for m in light.measured if _above(m) <= _ABOVE_BELOW_DEG]
        if not known:
            yield not_applicable(light.id, f"{_NOT_MEASURED} within 75 degrees of the horizontal", light.at("measured"))
            continue
        weakest = min(known, key=lambda m: m.intensity.to("cd") / _flash(m))
        message = f"{weakest.intensity} {_where(weakest)}; {_flash(weakest):g} cd is asked for there"
        where = weakest.at("intensity")
        yield at_least(light.id, weakest.intensity.to("cd"), _flash(weakest), "cd", message, where)


def _above(measurement: Measurement) -> float:
    return abs(_degrees(measurement.elevation)) if measurement.elevation else 0.0


def _flash(measurement: Measurement) -> float:
    return _greatest(_bands("flash", "candles"), _above(measurement))


@rule(
    "lighting/warning-colour",
    title="Colours of warning lights",
    asks="Is every warning light on the panel red, amber or green, as what it warns of?",
    references=("23-1322",),
    due=Stage.SYSTEMS,
    remedy="Make it red for a warning, amber for a caution, green for safe.",
    at_worst=Verdict.WARN,
)
def warning_light_has_its_colour(lighting: Lighting) -> Iterator[Finding]:
    """Old 23.1322, a yardstick: red warns of what must be mended at once, amber of what may have to be, green says safe; other
    colours differ clearly from these. White and blue warn of nothing.
    """
    lights = [light for light in lighting.lights if light.function == "warning"]
    if not lights:
        yield not_applicable("aircraft", "no warning light is recorded", lighting.at("lights"))
    for light in lights:
        if light.colour is None:
            yield no_data(light.id, "its colour is not recorded", light.at(), remedy="Record 'colour'.")
        else:
            said = passes if light.colour in {"red", "amber", "green"} else warns
            yield said(light.id, f"a warning light, {light.colour}", light.at("colour"))
