"""Have the lights the colours that tell others, and the pilot, what they mean?"""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from jurystrut.calculations.chromaticity import AviationColour, limits_of, outside
from jurystrut.rulebook import Finding, Stage, Verdict, fails, no_data, not_applicable, passes, rule, warns
from jurystrut_rules.lighting.night import night_is_intended

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Light, Lighting

__all__ = ["light_is_of_aviation_colour", "position_light_has_colour", "warning_light_has_its_colour"]

_COLOURS = {"position-left": "red", "position-right": "green", "position-tail": "white"}


@rule(
    "lighting/position-colours",
    title="Position light colours",
    asks="Is the left position light red, the right one green and the tail one white?",
    references=("23-1391", "23-1385", "91-205-c-2"),
    due=Stage.SYSTEMS,
    remedy="Swap the lights, or correct the record.",
)
def position_light_has_colour(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """Red on the left, green on the right, white behind: others read your course from it.

    The table of old 23.1391, which was read, names the colours with their sides, and is a yardstick here. A wrong colour fails
    where night flight is intended, and is a warning by day. What counts as red, green or white, `lighting/chromaticity` asks.
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
            said = fails if night_is_intended(aircraft) else warns
            message = f"{light.colour}; a {light.function} light is {wanted}"
            yield said(light.id, message, light.at("colour"), remedy=f"Fit a {wanted} one.")


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


_AVIATION = frozenset({"red", "green", "white"})


@rule(
    "lighting/chromaticity",
    title="Aviation red, green and white",
    asks="Does each recorded chromaticity of a position or anti-collision light lie within its aviation colour?",
    references=("23-1397", "23-1397-c"),
    due=Stage.SYSTEMS,
    remedy="Fit another lamp or cover; an amber-red or a blue-white is not the aviation colour.",
)
def light_is_of_aviation_colour(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """Old 23.1397, a yardstick, bounds each colour in the diagram of the CIE of 1931; a lamp's name tells nothing of that. Red
    and green, which were read, fail where night flight is intended and warn by day. White, from memory but read in part 29,
    always warns; its lower bound is the smaller of x - 0.040 and 0.010 below a black body of that x.
    """
    lights = [light for light in lighting.lights if light.function in {*_COLOURS, "anti-collision"}]
    if not lights:
        yield not_applicable("aircraft", "no position or anti-collision light is recorded", lighting.at("lights"))
    for light in lights:
        if light.chromaticity is None:
            yield not_applicable(light.id, "its chromaticity is not recorded; nothing asks to measure it", light.at())
        elif light.colour not in _AVIATION:
            yield no_data(light.id, "which colour it is to be is not recorded", light.at(), remedy="Record 'colour'.")
        else:
            yield _of_colour(light, cast("AviationColour", light.colour), night=night_is_intended(aircraft))


def _of_colour(light: Light, colour: AviationColour, *, night: bool) -> Finding:
    assert light.chromaticity
    x, y = light.chromaticity
    where = (light.at("chromaticity"), light.at("colour"))
    broken = outside(colour, x, y)

    def working() -> list[str]:
        return [f"{limit}: {'beyond' if e > 0 else 'inside'} by {abs(e):.4f}" for limit, e in limits_of(colour, x, y)]

    if not broken:
        return passes(light.id, f"x {x:g}, y {y:g} is aviation {colour}", *where, working=working)
    limit, excess = max(broken, key=lambda one: one[1])
    message = f"x {x:g}, y {y:g} is no aviation {colour}: {limit}, and it is {excess:.3f} beyond"
    return (fails if night and colour != "white" else warns)(light.id, message, *where, working=working)
