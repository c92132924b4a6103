"""Do the anti-collision lights flash as they should, and are they seen from all round?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.flash_rates import Flasher, fastest
from jurystrut.calculations.light_arcs import uncovered, width
from jurystrut.calculations.solid_angles import dark_solid_angle
from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    at_most,
    between,
    fails,
    no_data,
    not_applicable,
    rule,
    warns,
)
from jurystrut_rules.lighting.measured import NOT_MEASURED, above, bands, greatest, where_measured
from jurystrut_rules.lighting.night import night_is_intended
from jurystrut_rules.lighting.sectors import beam_in_words, beam_of, seen_level

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Light, Lighting, Measurement

__all__ = [
    "anti_collision_covers_all_round",
    "anti_collision_flashes",
    "anti_collision_is_bright_enough",
    "flashes_add_up",
]

_SLOWEST, _FASTEST = 40.0, 100.0  # 23-1401: flashes a minute; 25.1401(c) was read
_FASTEST_TOGETHER = 180.0  # 23-1401: where the sectors of several overlap


@rule(
    "lighting/anti-collision",
    title="Anti-collision light",
    asks="Is the anti-collision light red or white, and does it flash 40 to 100 times a minute?",
    references=("91-205-c-3", "23-1401", "91-209-b"),
    due=Stage.SYSTEMS,
    remedy="Set or change its flasher, or fit another light.",
)
def anti_collision_flashes(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """91.205(c)(3) wants aviation red or aviation white at night and binds by its own words; the rate is old 23.1401(c)'s, a
    yardstick from memory, which only warns. Each light is judged by itself here; several together, `lighting/flashes-together`.

    A fitted anti-collision light must be lit by day too, unless the pilot judges otherwise (91.209(b)). A wrong colour fails
    where night flight is intended, and is a warning by day.
    """
    lights = _lights(lighting)
    if not lights:
        yield not_applicable("aircraft", "no anti-collision light is recorded", lighting.at())
    for light in lights:
        if light.colour is None:
            yield no_data(light.id, "its colour is not recorded", light.at(), remedy="Record 'colour'.")
        elif light.colour not in {"red", "white"}:
            said = fails if night_is_intended(aircraft) else warns
            message = f"{light.colour}; it is to be red or white"
            yield said(light.id, message, light.at("colour"), remedy="Fit a red or white one.")
        if light.flash_rate is None:
            yield no_data(light.id, "its flash_rate is not recorded", light.at(), remedy="Record 'flash_rate'.")
            continue
        rate = light.flash_rate.to("/min")
        message = f"it flashes {rate:g} times a minute"
        where = light.at("flash_rate")
        yield between(light.id, rate, _SLOWEST, _FASTEST, "/min", message, where, otherwise=Verdict.WARN)


@rule(
    "lighting/flashes-together",
    title="Flashes of several lights together",
    asks="From where several anti-collision lights are seen, do they flash at most 180 times a minute together?",
    references=("23-1401",),
    due=Stage.SYSTEMS,
    remedy="Wire them to one flasher and record 'in_step_with', or slow one down.",
    at_worst=Verdict.WARN,
)
def flashes_add_up(lighting: Lighting) -> Iterator[Finding]:
    """Old 23.1401(c), a yardstick known from memory, lets the flashes of lights whose sectors overlap be up to 180 a minute. The
    rates of all that are seen from one bearing are added up, and the worst bearing is shown. Lights in step count once.
    """
    lights = {light.id: light for light in _lights(lighting)}
    unknown = next((light for light in lights.values() if light.flash_rate is None or not light.covers), None)
    if len(lights) < 2:
        yield not_applicable("aircraft", "fewer than two anti-collision lights are recorded", lighting.at("lights"))
        return
    if unknown:
        message = "its flash_rate or the sector that it lights is not recorded"
        yield no_data(unknown.id, message, unknown.at(), remedy="Record 'flash_rate' and 'covers'.")
        return
    flashers = [_flasher(light) for light in lights.values()]
    together = fastest(flashers)
    seen = ", ".join(together.names)
    message = f"{together.rate:g} flashes a minute are seen from {together.bearing:g} degrees, of {seen}"
    where = [lights[name].at("flash_rate") for name in reversed(together.names)]
    yield at_most(
        together.names[-1], together.rate, _FASTEST_TOGETHER, "/min", message, *where,
        working=lambda: [
            f"{flasher.name}: {flasher.rate:g} a minute"
            + (f", in step with {flasher.step}" if flasher.step != flasher.name else "")
            for flasher in flashers
            if flasher.name in together.names
        ],
    )  # fmt: skip


def _flasher(light: Light) -> Flasher:
    """A light that names no other is the one that others may be in step with."""
    assert light.flash_rate
    return Flasher(light.id, seen_level(light), light.flash_rate.to("/min"), light.in_step_with or light.id)


_ALL_ROUND = (0.0, 360.0)  # arithmetic
_ABOVE_BELOW_DEG = 75.0  # 23-1401: 25.1401(b) was read
_HIDDEN_SR = 0.5  # 23-1401
"""What may be hidden of all directions within 75 degrees of the horizontal, 23.1401(b), from memory; 25.1401(b) allows less."""


@rule(
    "lighting/anti-collision-coverage",
    title="Anti-collision lights seen from all round",
    asks="Do the anti-collision lights together show all round, and 75 degrees above and below, but for 0.5 steradian?",
    references=("23-1401", "91-205-c-3"),
    due=Stage.SYSTEMS,
    remedy="Move a light, or add another where the gap is.",
    at_worst=Verdict.WARN,
)
def anti_collision_covers_all_round(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """All directions within 75 degrees of the horizontal are looked at. What no light reaches, because of its sector or of what
    hides it, is summed up as a solid angle: a dark sector of a radians from elevation e to f takes a (sin f - sin e). Old
    23.1401(b), a yardstick known from memory, lets 0.5 steradian be hidden, which is 14.8 degrees all the way up and down.

    By night each light's own angle above and below is held against 75 degrees too.
    """
    lights = _lights(lighting)
    if not lights:
        yield not_applicable("aircraft", "no anti-collision light is recorded", lighting.at("lights"))
        return
    dark = next((light for light in lights if not light.covers), None)
    if dark:
        yield no_data(dark.id, "which sector it lights is not recorded", dark.at(), remedy="Record 'covers'.")
    else:
        yield _sphere(lights)
    if night_is_intended(aircraft):
        for light in lights:
            yield from _above_and_below(light)


def _lights(lighting: Lighting) -> list[Light]:
    return [light for light in lighting.lights if light.function == "anti-collision"]


def _sphere(lights: list[Light]) -> Finding:
    beams = list(dict.fromkeys(beam_of(light) for light in lights))
    dark = dark_solid_angle(_ALL_ROUND, -_ABOVE_BELOW_DEG, _ABOVE_BELOW_DEG, beams)
    gaps = uncovered(_ALL_ROUND, [sector for light in lights for sector in seen_level(light)])
    shown = " and ".join(f"{start:g} to {end:g}" for start, end in gaps)
    first = next((light for light in lights if light.blocked or light.shadows), lights[0])
    field = "blocked" if first.blocked else "shadows" if first.shadows else "covers"
    level = f"level with them {360.0 - width(gaps):g} of 360 degrees are lit"
    return at_most(
        first.id,
        dark,
        _HIDDEN_SR,
        "sr",
        f"{dark:.2f} sr stay dark; {level}" + (f", dark from {shown} deg" if gaps else ""),
        first.at(field),
        remedy=f"Light {shown} degrees, clockwise from the nose." if gaps else "",
        working=lambda: [
            *(beam_in_words(light.id, beam_of(light)) for light in lights),
            f"dark level with them: {shown or 'nothing'}",
            f"dark from {_ABOVE_BELOW_DEG:g} deg below to {_ABOVE_BELOW_DEG:g} deg above: {dark:.4f} sr",
        ],
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
    lights = _lights(lighting)
    if not lights:
        yield not_applicable("aircraft", "no anti-collision light is recorded", lighting.at("lights"))
    for light in lights:
        known = [m for m in light.measured if above(m) <= _ABOVE_BELOW_DEG]
        if not known:
            yield not_applicable(light.id, f"{NOT_MEASURED} within 75 degrees of the horizontal", light.at("measured"))
            continue
        weakest = min(known, key=lambda m: m.intensity.to("cd") / _flash(m))
        message = f"{weakest.intensity} {where_measured(weakest)}; {_flash(weakest):g} cd is asked for there"
        where = weakest.at("intensity")
        yield at_least(light.id, weakest.intensity.to("cd"), _flash(weakest), "cd", message, where)


def _flash(measurement: Measurement) -> float:
    return greatest(bands("flash", "candles"), above(measurement))
