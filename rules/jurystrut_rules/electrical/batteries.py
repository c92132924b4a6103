"""Do a battery's gas, fluid and heat stay harmless?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, no_data, not_applicable, rule
from jurystrut_rules.electrical.installed import said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Electrical, Source

__all__ = ["batteries_are_vented", "overheating_is_sensed"]

_GASSING = frozenset({"flooded", "nickel-cadmium"})


@rule(
    "electrical/battery-vent",
    title="Batteries that gas are vented",
    asks="Are gas and fluid of every battery with loose electrolyte led overboard?",
    references=("23-1353-d-e",),
    due=Stage.SYSTEMS,
    remedy="Fit a box with a vent and a drain overboard.",
)
def batteries_are_vented(electrical: Electrical) -> Iterator[Finding]:
    """Flooded lead-acid and nickel-cadmium batteries give off hydrogen when charged, and spill when they are tipped. Old
    23.1353(d) and (e), a yardstick, let neither gas build up nor fluid corrode. Batteries of other chemistries are taken as
    sealed.
    """
    batteries = [source for source in electrical.sources if source.kind == "battery"]
    if not batteries:
        yield not_applicable("aircraft", "no battery is recorded", electrical.at("sources"))
    for battery in batteries:
        if battery.chemistry is None:
            yield no_data(battery.id, "its chemistry is not recorded", battery.at(), remedy="Record its 'chemistry'.")
        elif battery.chemistry not in _GASSING:
            yield not_applicable(
                battery.id, f"a battery of the kind {battery.chemistry} is sealed", battery.at("chemistry")
            )
        elif battery.vented is None:
            message = f"whether this {battery.chemistry} battery is vented overboard is not recorded"
            yield no_data(battery.id, message, battery.at(), remedy="Record 'vented'.")
        else:
            yield _vented(battery, good=battery.vented)


def _vented(battery: Source, *, good: bool) -> Finding:
    return said(
        battery.id,
        f"its gas and fluid are {'' if good else 'not '}led overboard",
        battery.at("vented"),
        good=good,
        source="old 23.1353(d) and (e), read",
        recorded=f"chemistry {battery.chemistry}, vented {str(good).lower()}",
        wanted="no build-up of gas, and no corrosive fluid on structure",
        remedy="Lead them overboard.",
    )


@rule(
    "electrical/battery-heat",
    title="A nickel-cadmium battery's heat is watched",
    asks="Is overheating of every nickel-cadmium battery that starts the engine sensed, with a means to disconnect it?",
    references=("23-1353-f-g",),
    due=Stage.SYSTEMS,
    remedy="Fit a temperature sensor and a way to take the battery off its charge.",
)
def overheating_is_sensed(electrical: Electrical) -> Iterator[Finding]:
    """A nickel-cadmium battery charged too hard heats itself further. Old 23.1353(f) and (g), a yardstick, speak of those that
    start the engine; each is taken to do so where a starter is recorded.
    """
    batteries = [source for source in electrical.sources if source.chemistry == "nickel-cadmium"]
    if not batteries or not any(load.starter for load in electrical.loads):
        message = "no nickel-cadmium battery starts the engine"
        yield not_applicable("aircraft", message, electrical.at("sources"))
        return
    for battery in batteries:
        if battery.heat_watched is None:
            message = "whether its overheating is sensed is not recorded"
            yield no_data(battery.id, message, battery.at(), remedy="Record 'heat_watched'.")
        else:
            yield _watched(battery, good=battery.heat_watched)


def _watched(battery: Source, *, good: bool) -> Finding:
    return said(
        battery.id,
        f"its overheating is {'' if good else 'not '}sensed, with a means to disconnect it",
        battery.at("heat_watched"),
        good=good,
        source="old 23.1353(f) and (g), read",
        recorded=f"heat_watched {str(good).lower()}",
        wanted="charge control, or sensing of over-temperature or failure with a disconnect",
        remedy="Fit a sensor, and a way to take it off its charge.",
    )
