"""Do the lights support the flights that the builder intends?

91.205(c) reaches an amateur-built aircraft through its own operating limitations; its item (3), the anti-collision lights,
by its own words. It says "approved"; no text read says what evidence of approval an amateur builder must show. So these rules
ask that an approval and its evidence are on record, and leave the rest to the authority.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.light_arcs import Sector, uncovered, width
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    between,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Light, Lighting

__all__ = [
    "anti_collision_flashes",
    "light_is_fed",
    "night_light_is_approved",
    "position_light_covers_arc",
    "position_light_has_colour",
]

_THROUGH_LIMITATIONS = "the operating limitations, through 91.205(c)(2), ask"
_NIGHT_ITEMS = {
    "position-left": _THROUGH_LIMITATIONS,
    "position-right": _THROUGH_LIMITATIONS,
    "position-tail": _THROUGH_LIMITATIONS,
    "anti-collision": "91.205(c)(3), by its own words, asks",
}


def _night(aircraft: Aircraft) -> bool:
    """Whether night flight is intended; where no flights are recorded it may be."""
    return not aircraft.operations or "night-vfr" in aircraft.operations


@rule(
    "lighting/night-approval",
    title="Night lights declared and approved",
    asks="Where night flight is intended, is each required light there, with an approval and its evidence on record?",
    references=("91-205-c-2", "91-205-c-3", "8130-2-night", "1-1-approved", "91-319-d-2"),
    due=Stage.SYSTEMS,
    remedy="Fit lights that carry an approval and record its evidence, or intend day flight only.",
)
def night_light_is_approved(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """By day a light needs no approval. Where the records intend night VFR, left, right and tail position lights and an
    anti-collision light must each be recorded, with the standard they are said to meet and evidence of it.

    The aircraft's own operating limitations are the first authority; 91.205(c) comes in through them, and (c)(3) by its own
    words. "Approved" is the word used there, and no technical standard order is named. No text read says what evidence
    suffices: the authority decides. Instrument flight by night needs the same lights (91.205(d)(1)): record `night-vfr` too.
    """
    if not aircraft.operations:
        raise MissingRecord("which flights are intended is not recorded", aircraft.at())
    for function, asker in _NIGHT_ITEMS.items():
        lights = [light for light in lighting.lights if light.function == function]
        for light in lights:
            yield _approved(light, asker, aircraft)
        if not lights:
            yield _absent(function, asker, aircraft, lighting)


def _absent(function: str, asker: str, aircraft: Aircraft, lighting: Lighting) -> Finding:
    if not _night(aircraft):
        return not_applicable(function, "night VFR is not intended, and none is recorded", aircraft.at("operations"))
    message = f"night VFR is intended; {asker} for an approved {function} light, and none is recorded"
    remedy = "Fit and record one, or intend day flight only."
    return fails(function, message, aircraft.at("operations"), lighting.at("lights"), remedy=remedy)


def _approved(light: Light, asker: str, aircraft: Aircraft) -> Finding:
    approval = light.approval
    if not _night(aircraft):
        standard = approval.standard if approval else None
        carries = f"is said to meet {standard}" if standard else "needs no approval by day"
        return not_applicable(light.id, f"night VFR is not intended; this light {carries}", light.at())
    where = (light.at("approval"), aircraft.at("operations"))
    if approval is None:
        message = f"night VFR is intended; {asker} for an approved light, and this one carries no approval on record"
        remedy = "Fit a light that carries an approval, or intend day flight only."
        return fails(light.id, message, *where, remedy=remedy)
    if approval.standard is None:
        message = "which standard its approval names is not recorded"
        return no_data(light.id, message, *where, remedy="Record 'standard'.")
    said = f"said to meet {approval.standard}"
    if approval.evidence is None:
        message = f"{said}, and no evidence of that is on record; what suffices, the authority decides"
        return no_data(light.id, message, *where, remedy="Add a photo of its marking.")
    message = f"{said}, evidence {approval.evidence}; whether that suffices, the authority decides"
    return passes(light.id, message, *where)


_COLOURS = {"position-left": "red", "position-right": "green", "position-tail": "white"}


@rule(
    "lighting/position-colours",
    title="Position light colours",
    asks="Is the left position light red, the right one green and the tail one white?",
    references=("23-1385", "23-1391", "91-205-c-2"),
    due=Stage.SYSTEMS,
    remedy="Swap the lights, or correct the record.",
)
def position_light_has_colour(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """Red on the left, green on the right, white behind: others read your course from it.

    Old part 23 gives the colours and is a yardstick here. A wrong colour fails where night flight is intended, and is a
    warning by day.
    """
    lights = [light for light in lighting.lights if light.function in _COLOURS]
    if not lights:
        yield not_applicable("aircraft", "no position light is recorded", lighting.at())
    for light in lights:
        wanted = _COLOURS[light.function]
        if light.colour is None:
            yield no_data(light.id, "its colour is not recorded", light.at(), remedy="Record 'colour'.")
        elif light.colour == wanted:
            yield passes(light.id, f"{light.colour}, as a {light.function} light is", light.at("colour"))
        else:
            said = fails if _night(aircraft) else warns
            message = f"{light.colour}; a {light.function} light is {wanted}"
            yield said(light.id, message, light.at("colour"), remedy=f"Fit a {wanted} one.")


_ARCS = {"position-left": (250.0, 360.0), "position-right": (0.0, 110.0), "position-tail": (110.0, 250.0)}
"""Degrees clockwise from the nose: 110 to the left, 110 to the right, 140 behind (23.1387; the table of 23.1391 agrees)."""


@rule(
    "lighting/position-arcs",
    title="Position light arcs",
    asks="Do the position lights together cover 110 degrees to the left, 110 to the right and 140 behind?",
    references=("23-1387", "23-1391", "91-205-c-2"),
    due=Stage.SYSTEMS,
    remedy="Move the light, add another, or take away what hides it.",
)
def position_light_covers_arc(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """From the sectors that each light covers in plan view, what hides that light is taken away; what all lights of one
    function still show together is held against the arc of old 23.1387, a yardstick. A gap fails where night flight is
    intended, and is a warning by day. Angles above and below, and how bright the lights are, are not looked at.
    """
    for function, arc in _ARCS.items():
        lights = [light for light in lighting.lights if light.function == function]
        if not lights:
            yield not_applicable(function, "no such light is recorded", lighting.at("lights"))
        elif any(not light.covers for light in lights):
            dark = next(light for light in lights if not light.covers)
            yield no_data(dark.id, "which sector it lights is not recorded", dark.at(), remedy="Record 'covers'.")
        else:
            yield _arc(function, arc, lights, _night(aircraft))


def _arc(function: str, arc: tuple[float, float], lights: list[Light], night: bool) -> Finding:  # noqa: FBT001
    seen = [sector for light in lights for sector in _seen(light)]
    gaps = uncovered(arc, seen)
    asked = width([arc])
    shown = " and ".join(f"{start:g} to {end:g}" for start, end in gaps)
    message = f"{asked - width(gaps):g} of the {asked:g} degrees of a {function} light are lit"
    steps = (("asked", [arc]), ("lit", seen), ("dark", gaps))
    first = next((light for light in lights if light.blocked), lights[0])
    return at_least(
        first.id,
        asked - width(gaps),
        asked,
        "deg",
        f"{message}; dark from {shown} deg" if gaps else message,
        first.at("blocked" if first.blocked else "covers"),
        remedy=f"Light {shown} degrees, clockwise from the nose.",
        working=lambda: [f"{name}: {_degrees(sectors)}" for name, sectors in steps],
        otherwise=Verdict.FAIL if night else Verdict.WARN,
    )


def _seen(light: Light) -> Iterator[Sector]:
    """What a light covers, less what hides it."""
    hidden = [(sector.low.to("deg"), sector.high.to("deg")) for sector in light.blocked]
    for sector in light.covers:
        yield from uncovered((sector.low.to("deg"), sector.high.to("deg")), hidden)


def _degrees(sectors: Iterable[Sector]) -> str:
    return ", ".join(f"{start:g} to {end:g} deg" for start, end in sectors) or "nothing"


_SLOWEST, _FASTEST = 40.0, 100.0  # flashes a minute, 14 CFR 23.1401(c) before amendment 64; 25.1401(c) was read


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
    yardstick. Each light is judged by itself: up to 180 flashes, which old part 23 allows where several overlap, are not
    looked at.

    A fitted anti-collision light must be lit by day too, unless the pilot judges otherwise (91.209(b)). A wrong colour or
    rate fails where night flight is intended, and is a warning by day.
    """
    otherwise = Verdict.FAIL if _night(aircraft) else Verdict.WARN
    lights = [light for light in lighting.lights if light.function == "anti-collision"]
    if not lights:
        yield not_applicable("aircraft", "no anti-collision light is recorded", lighting.at())
    for light in lights:
        if light.colour is None:
            yield no_data(light.id, "its colour is not recorded", light.at(), remedy="Record 'colour'.")
        elif light.colour not in {"red", "white"}:
            said = fails if _night(aircraft) else warns
            message = f"{light.colour}; it is to be red or white"
            yield said(light.id, message, light.at("colour"), remedy="Fit a red or white one.")
        if light.flash_rate is None:
            yield no_data(light.id, "its flash_rate is not recorded", light.at(), remedy="Record 'flash_rate'.")
            continue
        rate = light.flash_rate.to("/min")
        message = f"it flashes {rate:g} times a minute"
        where = light.at("flash_rate")
        yield between(light.id, rate, _SLOWEST, _FASTEST, "/min", message, where, otherwise=otherwise)


@rule(
    "lighting/light-fed",
    title="Light has its load",
    asks="Does every light name the electrical load that feeds it?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Record 'load', so that the wiring rules reach this light.",
    at_worst=Verdict.WARN,
)
def light_is_fed(lighting: Lighting) -> Iterator[Finding]:
    """A light and its load are one thing in two sections; only where the light names its load do its wires get judged."""
    if not lighting.lights:
        yield not_applicable("aircraft", "no light is recorded", lighting.at())
    for light in lighting.lights:
        if light.load is None:
            yield no_data(light.id, "which load feeds it is not recorded", light.at(), remedy="Record 'load'.")
        else:
            yield passes(light.id, f"fed as load {light.load}", light.at("load"))
