"""Do the position lights show in all directions that are theirs, whatever is in the way?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.light_arcs import Sector, uncovered, width
from jurystrut.calculations.solid_angles import Beam, Shadow, dark_solid_angle
from jurystrut.rulebook import Finding, Stage, Verdict, at_least, at_most, no_data, not_applicable, rule, warns
from jurystrut_rules.lighting.night import night_is_intended
from jurystrut_rules.lighting.sectors import beam_in_words, sector_of, seen_level

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Light, Lighting

__all__ = ["position_light_covers_arc", "position_light_is_not_shadowed"]

_ARCS = {"position-left": (250.0, 360.0), "position-right": (0.0, 110.0), "position-tail": (110.0, 250.0)}  # 23-1391
"""Degrees clockwise from the nose: 110 to the left, 110 to the right, 140 behind (the table of 23.1391; 23.1387 agrees)."""


@rule(
    "lighting/position-arcs",
    title="Position light arcs",
    asks="Do the position lights together cover 110 degrees to the left, 110 to the right and 140 behind?",
    references=("23-1391", "23-1387", "91-205-c-2"),
    due=Stage.SYSTEMS,
    remedy="Move the light, add another, or take away what hides it.",
)
def position_light_covers_arc(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """From the sectors that each light covers in plan view, what hides that light is taken away; what all lights of one
    function still show together is held against the angles of the table of old 23.1391, which was read; 23.1387, from memory,
    agrees. Both are yardsticks. A gap fails where night flight is intended, and is a warning by day. Angles above and below,
    and how bright the lights are, are for other rules.
    """
    for function, arc in _ARCS.items():
        lights = [light for light in lighting.lights if light.function == function]
        if not lights:
            yield not_applicable(function, "no such light is recorded", lighting.at("lights"))
        elif any(not light.covers for light in lights):
            dark = next(light for light in lights if not light.covers)
            yield no_data(dark.id, "which sector it lights is not recorded", dark.at(), remedy="Record 'covers'.")
        else:
            yield _arc(function, arc, lights, night_is_intended(aircraft))


def _arc(function: str, arc: tuple[float, float], lights: list[Light], night: bool) -> Finding:  # noqa: FBT001
    seen = [sector for light in lights for sector in seen_level(light)]
    gaps = uncovered(arc, seen)
    asked = width([arc])
    shown = " and ".join(f"{start:g} to {end:g}" for start, end in gaps)
    message = f"{asked - width(gaps):g} of the {asked:g} degrees of a {function} light are lit"
    steps = (("asked", [arc]), ("lit", seen), ("dark", gaps))
    first = next((light for light in lights if light.hidden_level()), lights[0])
    field = "blocked" if first.blocked else "shadows" if first.shadows else "covers"
    return at_least(
        first.id,
        asked - width(gaps),
        asked,
        "deg",
        f"{message}; dark from {shown} deg" if gaps else message,
        first.at(field),
        remedy=f"Light {shown} degrees, clockwise from the nose.",
        working=lambda: [f"{name}: {_degrees(sectors)}" for name, sectors in steps],
        otherwise=Verdict.FAIL if night else Verdict.WARN,
    )


def _degrees(sectors: Iterable[Sector]) -> str:
    return ", ".join(f"{start:g} to {end:g} deg" for start, end in sectors) or "nothing"


_CONE_DEG = 30.0  # 23-1387
"""From the vertical: within it the rear light may be hidden in part, 23.1387(e), from memory; 25.1387(e) was read."""
_TAIL_HIDDEN_SR = 0.04  # 23-1387


@rule(
    "lighting/position-shadows",
    title="Position lights above and below",
    asks="Is no position light hidden above or below the horizontal, but for 0.04 steradian straight above the rear one?",
    references=("23-1387",),
    due=Stage.SYSTEMS,
    remedy="Move the light, or add another that shows where it is hidden.",
    at_worst=Verdict.WARN,
)
def position_light_is_not_shadowed(lighting: Lighting) -> Iterator[Finding]:
    """Of the shadows that do not reach the horizontal, what no other light of the same function fills is summed up as a solid
    angle. Old 23.1387, a yardstick from memory, lets nothing be hidden of the left and right lights, and up to 0.04 steradian
    of the rear one within 30 degrees of the vertical. Shadows on the horizontal are for `lighting/position-arcs`.
    """
    for function, arc in _ARCS.items():
        lights = [light for light in lighting.lights if light.function == function and light.covers]
        shadowed = next((light for light in lights if _beside_level(light)), None)
        if shadowed is None:
            yield not_applicable(function, "no shadow above or below it is recorded", lighting.at("lights"))
            continue
        beams = [Beam(tuple(map(sector_of, light.covers)), _beside_level(light)) for light in lights]
        steep = 90.0 - _CONE_DEG  # arithmetic
        flat = dark_solid_angle(arc, -steep, steep, beams)
        cone = dark_solid_angle(arc, -90.0, -steep, beams) + dark_solid_angle(arc, steep, 90.0, beams)  # arithmetic
        steps = [beam_in_words(light.id, beam) for light, beam in zip(lights, beams, strict=True)]
        steps += [f"hidden within {_CONE_DEG:g} deg of the vertical: {cone:.4f} sr", f"elsewhere: {flat:.4f} sr"]
        yield _shadow(shadowed, function, flat, cone)._replace(working=steps.copy)


def _beside_level(light: Light) -> tuple[Shadow, ...]:
    """What hides a light above or below the horizontal alone."""
    shadows = (Shadow(sector_of(s.bearing), *sector_of(s.elevation)) for s in light.shadows)
    return tuple(shadow for shadow in shadows if not shadow.low <= 0.0 <= shadow.high)


def _shadow(light: Light, function: str, flat: float, cone: float) -> Finding:
    where = light.at("shadows")
    if function != "position-tail":
        return at_most(light.id, flat + cone, 0.0, "sr", f"{flat + cone:.3f} sr of its angle are hidden", where)
    if flat > 0:
        message = f"{flat:.3f} sr are hidden more than {_CONE_DEG:g} degrees from the vertical"
        return warns(light.id, message, where)
    return at_most(light.id, cone, _TAIL_HIDDEN_SR, "sr", f"{cone:.3f} sr about the vertical are hidden", where)
