"""Do the lights support the flights that the builder intends?

91.205(c) reaches an amateur-built aircraft through its own operating limitations; its item (3), the anti-collision lights,
by its own words. It says "approved"; no text read says what evidence of approval an amateur builder must show. So these rules
ask that an approval and its evidence are on record, and leave the rest to the authority.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.lighting.night import night_is_intended

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Light, Lighting

__all__ = ["light_is_fed", "night_light_is_approved"]

_THROUGH_LIMITATIONS = "the operating limitations, through 91.205(c)(2), ask"
_NIGHT_ITEMS = {
    "position-left": _THROUGH_LIMITATIONS,
    "position-right": _THROUGH_LIMITATIONS,
    "position-tail": _THROUGH_LIMITATIONS,
    "anti-collision": "91.205(c)(3), by its own words, asks",
}


@rule(
    "lighting/night-approval",
    title="Night lights declared and approved",
    asks="Where night flight is intended, is each required light there, with an approval and its evidence on record?",
    references=("91-205-c-2", "91-205-c-3", "8130-2-night", "1-1-approved", "91-319-d-2", "tso-c30c", "tso-c96b"),
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
    if not night_is_intended(aircraft):
        return not_applicable(function, "night VFR is not intended, and none is recorded", aircraft.at("operations"))
    message = f"night VFR is intended; {asker} for an approved {function} light, and none is recorded"
    remedy = "Fit and record one, or intend day flight only."
    return fails(function, message, aircraft.at("operations"), lighting.at("lights"), remedy=remedy)


def _approved(light: Light, asker: str, aircraft: Aircraft) -> Finding:
    approval = light.approval
    if not night_is_intended(aircraft):
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
    kind = f" ({approval.kind.replace('-', ' ')})" if approval.kind else ""
    message = f"{said}, evidence {approval.evidence}{kind}; whether that suffices, the authority decides"
    return passes(light.id, message, *where)


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
