"""Are the lights counted on as 91.209 has them lit?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, no_data, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.electrical import Electrical, Load
    from jurystrut.records.lighting import Light, Lighting

__all__ = ["counted_as_lit", "lights_are_counted_as_lit"]

_PHASES = ("taxi", "takeoff", "climb", "cruise", "landing")


@rule(
    "operations/lights-lit",
    title="Lights counted on when they must be lit",
    asks="Does the electrical load count each light as on whenever 91.209 has it lit?",
    references=("91-209-b", "91-209-a"),
    due=Stage.SYSTEMS,
    remedy="Put the light's full share into 'duty' of its load.",
    at_worst=Verdict.WARN,
)
def lights_are_counted_as_lit(aircraft: Aircraft, lighting: Lighting, electrical: Electrical) -> Iterator[Finding]:
    """91.209 does not look at the certificate: position lights are lit from sunset to sunrise, and an anti-collision light that
    is fitted is lit by day too, unless the pilot judges it safer off. A light whose load is recorded as off in a phase of
    flight will draw current that the load analysis does not know.
    """
    loads = {load.id: load for load in electrical.loads}
    night = "night-vfr" in aircraft.operations
    lights = [
        light
        for light in lighting.lights
        if light.function.startswith("position-") or light.function == "anti-collision"
    ]
    if not lights:
        yield not_applicable("aircraft", "neither position nor anti-collision light is recorded", lighting.at("lights"))
    for light in lights:
        if light.function != "anti-collision" and not night:
            yield not_applicable(light.id, "91.209(a) has it lit from sunset; night VFR is not intended", light.at())
        else:
            source = "91.209(b)" if light.function == "anti-collision" else "91.209(a)"
            yield counted_as_lit(light, loads, source)


def counted_as_lit(light: Light, loads: Mapping[str, Load], source: str) -> Finding:
    """Whether a light's load counts it as fully on in every phase in which the aircraft moves."""
    load = loads.get(light.load or "")
    if load is None:
        return no_data(light.id, "which load feeds it is not recorded", light.at(), remedy="Record 'load'.")
    off = [phase for phase in _PHASES if phase not in load.duty or load.duty[phase].si < 1 - 1e-9]
    if off:
        message = f"{source} has it lit in flight; its load {load.id} counts it as less than on in {', '.join(off)}"
        return warns(light.id, message, load.at("duty"), light.at())
    return passes(light.id, f"{source} has it lit in flight, and its load {load.id} counts it as on", load.at("duty"))
