"""How long do the essential loads run when no generator does?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.endurance import endurance
from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, at_least, no_data, not_applicable, rule

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from jurystrut.records.electrical import Electrical, Load, Source
    from jurystrut_rules.electrical.circuit import Coils

__all__ = ["battery_lasts"]

_GUIDANCE_MINUTES = 30.0  # 23-1353-h: up to 25,000 ft
_NAMEPLATE = 0.80  # cap-562
_CHARGED = 0.90  # cap-562 (memory): state of charge
_RECOGNISING_HOURS = 5 / 60  # load-shedding-5-min: load shed within five minutes
# The unfavourable end of the ranges that common practice gives; the favourable one is the builder's to show.
_PEUKERT = {"lithium-iron-phosphate": 1.10}  # peukert (none)
_PEUKERT_OTHERWISE = 1.3  # peukert (none)
_EMERGENCY = "emergency"


@rule(
    "electrical/endurance",
    title="Endurance without a generator",
    asks="Does the battery carry the essential loads for 30 minutes, or for as long as the builder wants?",
    references=("cap-562", "23-1353-h", "peukert", "load-shedding-5-min"),
    due=Stage.SYSTEMS,
    remedy="Shed more load, or fit a larger battery.",
)
def battery_lasts(electrical: Electrical, coils: Coils, stacked: frozenset[str]) -> Iterator[Finding]:
    """From the battery's nameplate capacity 0.80 is counted on (read), at 90 % charge (memory): 72 %. The loads of cruise run on
    for five minutes (common practice), then those of the phase `emergency`, or all essential loads where no load has that
    phase; coils of relays and contactors come on top, but for the starter's. Peukert's law shrinks the capacity at more than
    the rated current, with the exponent recorded, else 1.3 for lead-acid and 1.10 for lithium iron phosphate, the unfavourable
    ends of what common practice gives.

    30 minutes are guidance from memory and only warn; falling short of the builder's own `endurance` fails.
    """
    batteries = [source for source in electrical.sources if source.kind == "battery"]
    if not batteries:
        yield not_applicable("aircraft", "no battery is recorded", electrical.at("sources"))
        return
    final = _final(electrical.loads)
    if not final:
        raise MissingRecord("no load is recorded as essential, or as on in the phase emergency", electrical.at("loads"))
    final |= coils.held
    cruise = _amperes(electrical.loads, "cruise") + sum(coils.held.values())
    for battery in batteries:
        missing = next((f for f in ("capacity", "capacity_hours", "chemistry") if getattr(battery, f) is None), None)
        nothing = next((f for f in ("capacity", "capacity_hours") if (q := getattr(battery, f)) and not q.si), None)
        if missing:
            yield no_data(battery.id, f"its {missing} is not recorded", battery.at(), remedy=f"Record its '{missing}'.")
        elif nothing:
            yield no_data(battery.id, f"its {nothing} is recorded as nothing", battery.at(nothing))
        elif battery.peukert is not None and battery.peukert < 1:
            message = f"Peukert's exponent is recorded as {battery.peukert:g}; no battery has less than 1"
            yield no_data(battery.id, message, battery.at("peukert"))
        else:
            yield _lasts(electrical, battery, max(1, len(batteries) - len(stacked)), cruise, final)


def _final(loads: Sequence[Load]) -> dict[str, float]:
    """What is left on, in amperes by load."""
    if any(_EMERGENCY in load.duty for load in loads):
        return {d.id: d.current.si * d.duty[_EMERGENCY].si for d in loads if _EMERGENCY in d.duty}
    return {load.id: load.current.si for load in loads if load.essential and not load.intermittent}


def _amperes(loads: Sequence[Load], phase: str) -> float:
    return sum(load.current.si * load.duty[phase].si for load in loads if phase in load.duty)


def _lasts(electrical: Electrical, battery: Source, rows: int, cruise: float, final: dict[str, float]) -> Finding:
    """Batteries side by side are taken to share the current evenly; those in a row all carry that of their row."""
    assert battery.capacity
    assert battery.capacity_hours
    hours, nameplate = battery.capacity_hours.to("h"), battery.capacity.to("A*h")
    usable = nameplate * _NAMEPLATE * _CHARGED
    exponent = battery.peukert or _PEUKERT.get(battery.chemistry or "", _PEUKERT_OTHERWISE)
    first, then = cruise / rows, sum(final.values()) / rows
    minutes = 60 * endurance(usable, hours, exponent, [(first, _RECOGNISING_HOURS)], then)
    target = electrical.endurance.to("min") if electrical.endurance else _GUIDANCE_MINUTES
    known = "as recorded" if battery.peukert else "common practice"
    whose = "wanted by the builder" if electrical.endurance else "are the guidance of old 23.1353(h)"
    return at_least(
        battery.id,
        min(minutes, _A_DAY),
        target,
        "min",
        f"{then:.1f} A for {minutes:.0f} min, the first five at {first:.1f} A; {target:g} min {whose}",
        battery.at("capacity"),
        electrical.at("endurance"),
        remedy="Shed more load in the phase emergency, or fit a larger battery.",
        working=lambda: [
            f"{nameplate:g} A*h x {_NAMEPLATE:g} (CAP 562, read) x {_CHARGED:g} charged (memory) = {usable:.2f} A*h",
            f"Peukert's exponent: {exponent:g} ({known}), rated over {hours:g} h",
            f"five minutes at the current of cruise: {first:.2f} A",
            *(f"{load}: {amperes:.2f} A" for load, amperes in final.items()),
            f"{minutes:.1f} minutes in all",
        ],
        otherwise=Verdict.FAIL if electrical.endurance else Verdict.WARN,
    )


_A_DAY = 1440.0  # numerics: minutes; more is not shown
