"""Is the pilot told what the sources may carry, can he see what they give, and is he warned when they give no more?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    between,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.circuit import Network
    from jurystrut.records.electrical import Electrical, Load, Source
    from jurystrut.records.markings import Markings, Placard
    from jurystrut_rules.electrical.circuit import Coils
    from jurystrut_rules.electrical.supply import AlternatorOutput

__all__ = ["low_voltage_warns", "meters_show_enough", "overload_is_placarded", "overvoltage_is_cut_off"]

_EMERGENCY = "emergency"


@rule(
    "electrical/load-placard",
    title="Load placards",
    asks="Does a placard say which loads may be on, for every source that cannot carry all of them?",
    references=("ac43-11-35-b",),
    due=Stage.SYSTEMS,
    remedy="Add a placard of the purpose 'electrical-load', and name the source in 'beside'.",
    at_worst=Verdict.WARN,
)
def overload_is_placarded(
    electrical: Electrical, markings: Markings, alternator_output: AlternatorOutput, coils: Coils
) -> Iterator[Finding]:
    """AC 43.13-1B recommends placards on the combinations of loads that each source may carry. The generators, taken together,
    need one where all continuous loads at once, with the coils of relays, exceed what may be planned on. A battery needs one
    where loads of cruise must be switched off after the generator is lost: those that the phase `emergency` leaves out. A
    placard that names no source `beside` it speaks of all. Its words are not judged; and as it is recommended, its absence warns.
    """
    placards = [placard for placard in markings.placards if placard.purpose == "electrical-load"]
    generators = alternator_output.generators
    if not generators:
        yield not_applicable("aircraft", "no generator is recorded, so none can be lost", electrical.at("sources"))
        return
    steady = {load.id: load.current.si for load in electrical.loads if not load.intermittent} | coils.held
    total, most = sum(steady.values()), alternator_output.plannable
    everything = f"all continuous loads at once draw {total:.1f} A; {most:g} A may be planned on"
    shed = [load.id for load in electrical.loads if load.duty.get("cruise") and not _on(load, _EMERGENCY)]
    fewer = f"without a generator {len(shed)} of the loads of cruise must be off, {shed[0]} among them" if shed else ""
    for source in electrical.sources:
        if source in generators:
            yield _placarded(source, everything, placards, markings, wanted=total > most * (1 + 1e-9))
        elif source.kind == "battery":
            yield _placarded(
                source, fewer if shed else "it carries all loads of cruise", placards, markings, wanted=bool(shed)
            )


def _on(load: Load, phase: str) -> bool:
    return phase in load.duty and load.duty[phase].si > 0


def _placarded(source: Source, why: str, placards: list[Placard], markings: Markings, *, wanted: bool) -> Finding:
    found = [placard for placard in placards if placard.beside in {None, source.id}]

    def working() -> list[str]:
        return [
            why,
            f"placards on the loads of {source.id}: {', '.join(placard.id for placard in found) or 'none'}",
            f"wanted: {'one (AC 43.13-1B 11-35b, read)' if wanted else 'none, as any combination may be on'}",
        ]

    if found:
        return passes(source.id, f"{why}; a placard reads {found[0].text}", found[0].at("text"), working=working)
    if not wanted:
        return passes(source.id, f"{why}: no placard is needed", source.at(), working=working)
    return warns(source.id, f"{why}; no placard says so", source.at(), markings.at("placards"), working=working)


_WARNING_VOLTS = {
    14.0: 13.0,  # ac43-11-35-b
    28.0: 26.0,  # ac43-11-35-b
    12.0: 13.0,  # ac43-11-35-b (none): the same system, named by its battery
    24.0: 26.0,  # ac43-11-35-b (none): as above
}
"""By the system's nominal voltage."""


@rule(
    "electrical/low-voltage-warning",
    title="Low-voltage warning",
    asks="Does something warn when the bus falls below 13 V, or 26 V in a 28 V system?",
    references=("ac43-11-35-b", "23-1351-c", "23-1165"),
    due=Stage.SYSTEMS,
    remedy="Fit a lamp that lights below 13 V (26 V), or record 'warns_below' of what warns.",
    at_worst=Verdict.WARN,
)
def low_voltage_warns(electrical: Electrical, network: Network) -> Iterator[Finding]:
    """A generator that fails is not heard. What is recorded as warning, `warns_below`, must do so at 13 V (26 V) or more, while
    the battery is still full, and not above the regulated voltage, at which it would always warn; and a battery must feed it,
    or it goes dark with the generator. The AC calls the light optional; old 23.1351(c) wants an immediate warning of a
    generator's failure, and 23.1165 one of continuous discharge where the ignition lives on the battery. This rule warns at
    most.
    """
    generators = [source for source in electrical.sources if source.kind in {"alternator", "generator"}]
    if not generators:
        yield not_applicable(
            "aircraft", "no generator is recorded whose loss could be warned of", electrical.at("sources")
        )
        return
    if electrical.nominal_voltage is None:
        raise MissingRecord("the system's nominal voltage is not recorded", electrical.at())
    least = _WARNING_VOLTS.get(electrical.nominal_voltage.si)
    if least is None:
        message = f"AC 43.13-1B gives no voltage for a system of {electrical.nominal_voltage}"
        yield not_applicable("aircraft", message, electrical.at("nominal_voltage"))
        return
    warning = [load for load in electrical.loads if load.warns_below]
    if not warning:
        message = f"nothing is recorded that warns when a bus falls below {least:g} V"
        yield warns("aircraft", message, electrical.at("loads"), working=lambda: ["loads with 'warns_below': none"])
    batteries = {source.id for source in electrical.sources if source.kind == "battery"}
    on_battery = network.fed(by=batteries) if warning else set()
    regulated = min((source.voltage.si for source in generators if source.voltage), default=None)
    for load in warning:
        yield _warns(load, least, regulated, fed=load.id in on_battery)


def _warns(load: Load, least: float, regulated: float | None, *, fed: bool) -> Finding:
    assert load.warns_below
    spot = load.at("warns_below")
    if regulated is None:
        return no_data(load.id, "the regulated voltage of no generator is recorded", spot)
    if not fed:
        remedy = "Feed it from a bus that the battery reaches."
        message = "no battery feeds it: it goes dark with the generator"
        return warns(load.id, message, load.at(), remedy=remedy, working=lambda: ["fed by the batteries alone: no"])
    most = max(least, regulated)
    return between(
        load.id,
        load.warns_below.si,
        least,
        most,
        "V",
        f"it warns below {load.warns_below}; {least:g} V is the least, and the regulated voltage is {regulated:g} V",
        spot,
        remedy=f"Set it to warn at {least:g} V or more, and below the regulated voltage.",
        working=lambda: [
            f"recorded: warns_below {load.warns_below}",
            f"the least: {least:g} V (AC 43.13-1B 11-35b, read)",
            f"the most: {most:g} V, above which it would always warn",
            "fed by the batteries alone: yes",
        ],
    )


@rule(
    "electrical/meters",
    title="Ammeter and voltmeter",
    asks="Can the crew see what the sources give: an ammeter, and a voltmeter where it measures in the battery lead?",
    references=("23-1351-d", "ac43-11-35-c"),
    due=Stage.SYSTEMS,
    remedy="Fit what is missing, or record it.",
    at_worst=Verdict.WARN,
)
def meters_show_enough(electrical: Electrical, markings: Markings | None = None) -> Iterator[Finding]:
    """Old 23.1351(d) lets the crew see the essential quantities, and lets a single generator's ammeter measure in the battery
    lead. There AC 43.13-1B wants a voltmeter too: no steady discharge and normal volts mean that nothing is overloaded. A
    generator recorded as `monitored` is so by a meter, or by a placard of the purpose `electrical-load`.
    """
    generators = [source for source in electrical.sources if source.kind in {"alternator", "generator"}]
    if not generators:
        yield not_applicable("aircraft", "no generator is recorded", electrical.at("sources"))
    elif electrical.ammeter is None:
        message = "where the ammeter measures is not recorded"
        yield no_data("aircraft", message, electrical.at(), remedy="Record 'ammeter', none where there is none.")
    elif electrical.ammeter == "battery-lead" and electrical.voltmeter is None:
        message = "the ammeter measures in the battery lead; whether there is a voltmeter is not recorded"
        yield no_data("aircraft", message, electrical.at("ammeter"), remedy="Record 'voltmeter'.")
    else:
        yield _shown(electrical, len(generators))
    placards = [one.id for one in markings.placards if one.purpose == "electrical-load"] if markings else []
    if electrical.ammeter == "none" and not placards:
        for source in generators:
            if source.monitored:
                yield _unwatched(source)


def _unwatched(source: Source) -> Finding:
    message = "it is recorded as monitored, and there is neither an ammeter nor a placard for its load"
    remedy = "Fit one of them; until then only 80 % of its rating may be planned on: leave 'monitored' out."
    working = lambda: ["recorded: monitored true, ammeter none", "placards of the purpose 'electrical-load': none"]  # noqa: E731
    return warns(source.id, message, source.at("monitored"), remedy=remedy, working=working)


def _shown(electrical: Electrical, generators: int) -> Finding:
    spot = electrical.at("ammeter")

    def working() -> list[str]:
        voltmeter = {None: "not recorded", True: "yes", False: "no"}[electrical.voltmeter]
        return [f"recorded: ammeter {electrical.ammeter}, voltmeter {voltmeter}", f"generators: {generators}"]

    if electrical.ammeter == "none":
        return warns("aircraft", "no ammeter is fitted", spot, remedy="Fit one.", working=working)
    if electrical.ammeter == "generator-lead":
        return passes("aircraft", "an ammeter shows what the generators give", spot, working=working)
    if generators > 1:
        message = f"one ammeter in the battery lead does not tell what each of {generators} generators gives"
        return warns("aircraft", message, spot, remedy="Fit one for each generator.", working=working)
    if not electrical.voltmeter:
        message = "the ammeter measures in the battery lead, and no voltmeter shows whether the generator keeps up"
        return warns("aircraft", message, spot, remedy="Fit a voltmeter.", working=working)
    return passes("aircraft", "an ammeter in the battery lead, and a voltmeter", spot, working=working)


@rule(
    "electrical/overvoltage",
    title="Overvoltage is cut off",
    asks="Does something cut every generator off whose voltage runs away?",
    references=("23-1351-c",),
    due=Stage.SYSTEMS,
    remedy="Fit an overvoltage relay, or a regulator that has one.",
    at_worst=Verdict.WARN,
)
def overvoltage_is_cut_off(electrical: Electrical) -> Iterator[Finding]:
    """A regulator that fails closed lets the voltage rise until lamps, radios and battery suffer. Old 23.1351(c), a yardstick,
    wants overvoltage control; what the builder recorded of each generator is told.
    """
    generators = [source for source in electrical.sources if source.kind in {"alternator", "generator"}]
    if not generators:
        yield not_applicable("aircraft", "no generator is recorded", electrical.at("sources"))
    for source in generators:
        yield _cut_off(source)


def _cut_off(source: Source) -> Finding:
    def working() -> list[str]:
        return [f"recorded: overvoltage {source.overvoltage}", "wanted: cut-off (old 23.1351(c), read)"]

    spot = source.at("overvoltage")
    if source.overvoltage is None:
        message = "what comes of it when its voltage runs away is not recorded"
        return no_data(source.id, message, source.at(), remedy="Record 'overvoltage'.")
    if source.overvoltage == "cut-off":
        return passes(source.id, "it is cut off when its voltage runs away", spot, working=working)
    return warns(source.id, "nothing cuts it off when its voltage runs away", spot, working=working)
