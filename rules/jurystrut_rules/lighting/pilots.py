"""Do the lights serve the pilot's own eyes: instruments lit, rays kept away, the ground ahead lit?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, no_data, not_applicable, passes, rule, warns
from jurystrut_rules.lighting.night import night_is_intended

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Lighting

__all__ = ["instruments_are_lit", "landing_light_shines_ahead"]


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
    if not night_is_intended(aircraft):
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
