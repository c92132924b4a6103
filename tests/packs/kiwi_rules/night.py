"""What New Zealand asks of an aircraft by night."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, fails, not_applicable, passes, rule

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.lighting import Lighting


@rule(
    "kiwi/instruments-lit",
    title="New Zealand: instruments lit",
    asks="Where night VFR is intended, is there an instrument light?",
    references=("nz-91-511",),
    due=Stage.SYSTEMS,
    remedy="Fit one, or intend day flight only.",
    only_for=("NZ",),
)
def instruments_are_lit(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """91.511 of New Zealand asks for lit instruments by night."""
    light = next((light for light in lighting.lights if light.function == "instrument"), None)
    if "night-vfr" not in aircraft.operations:
        yield not_applicable("aircraft", "night VFR is not intended", aircraft.at("operations"))
    elif light:
        yield passes(light.id, "it lights the instruments", light.at())
    else:
        yield fails("aircraft", "no instrument light is recorded", aircraft.at("operations"))
