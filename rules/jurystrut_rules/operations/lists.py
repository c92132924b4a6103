"""Does the aircraft carry what 91.205 lists for VFR by day, VFR by night, and flight by instruments?

91.205 is written for standard-category aircraft. An amateur-built one comes in through its own operating limitations, by night
and by instruments; by day its list is a yardstick. The limitations are asked first: one that asks for an item or waives it
decides.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    fact,
    fails,
    no_data,
    not_applicable,
    passes,
    read_table,
    rule,
    told,
    warns,
)
from jurystrut_rules.electrical.protection import fuses_have_spares
from jurystrut_rules.lighting.approval import night_light_is_approved
from jurystrut_rules.operations.equipment import TABLES
from jurystrut_rules.operations.limitations import BY_ITS_OWN_WORDS, limitations_on, named
from jurystrut_rules.operations.seats import harness_at_front, latches

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.electrical import Electrical
    from jurystrut.records.fuel import Fuel
    from jurystrut.records.lighting import Lighting
    from jurystrut_rules.operations.equipment import Equipment

__all__ = ["day_list", "day_vfr_is_equipped", "ifr_is_equipped", "night_list", "night_vfr_is_equipped"]


class _Item(NamedTuple):
    """One numbered item that asks for one thing."""

    item: str
    provides: str
    asks: str


@cache
def _items(table: str) -> tuple[_Item, ...]:
    rows = read_table(TABLES / f"{table}.yaml").rows
    return tuple(_Item(str(row["item"]), str(row["provides"]), str(row["asks"])) for row in rows)


def _by_limitation(item: str, aircraft: Aircraft, finding: Finding) -> Finding:
    """The finding on an item after the aircraft's own limitations had their say: what they ask for fails where it lacks."""
    for limitation in limitations_on(aircraft, item):
        where = (*finding.where, limitation.at("says"))
        if limitation.says == "waives" and item not in BY_ITS_OWN_WORDS:
            return not_applicable(item, f"{named(limitation)} waives it: {limitation.text}", *where)
        if limitation.says == "asks" and finding.verdict in {Verdict.WARN, Verdict.NOT_APPLICABLE}:
            message = f"{named(limitation)} asks for it: {limitation.text}; on record: {finding.message}"
            return fails(item, message, *where, remedy=finding.remedy or "Fit it, and record it.")
    return finding


def _fitted(item: _Item, equipment: Equipment, aircraft: Aircraft) -> Finding:
    found = equipment.of(item.provides)
    number = f"91.205({item.item[0]})({item.item[2:]})"
    if found:
        return passes(item.item, f"{number}, {item.asks}: {found[0].how}", *(fitted.where for fitted in found))
    message = f"{number} lists {item.asks}, and no record is one"
    remedy = "Fit one, or record which item 'provides' it."
    if not equipment.complete:
        return no_data(item.item, f"{message}; the panel is not recorded", aircraft.at("operations"), remedy=remedy)
    return warns(item.item, message, aircraft.at("operations"), remedy=remedy)


_NOT_FOR_THIS = {
    "b-11": "91.205(b)(11) asks for anti-collision lights on aircraft certificated to part 23, which an amateur-built one is not",
    "b-12": "91.205(b)(12) asks for flotation gear on flights for hire over water, and none is for hire",
    "b-17": "91.205(b)(17) speaks of rotorcraft; these records are an aeroplane's",
}


@fact
def day_list(aircraft: Aircraft, equipment: Equipment, fuel: Fuel | None = None) -> tuple[Finding, ...]:
    """The findings on 91.205(b), item by item; a missing item is a warning, unless the aircraft's own limitations ask for it."""
    if not aircraft.operations:
        raise MissingRecord("which flights are intended is not recorded", aircraft.at())
    findings = [_instrument(item, aircraft, equipment, fuel) for item in _items("list_b")]
    for item, why in _NOT_FOR_THIS.items():
        hire = item == "b-12" and aircraft.for_hire
        message = "91.205(b)(12) asks for flotation gear over water for hire; whether it is carried has no record"
        findings.append(
            no_data(item, message, aircraft.at("for_hire")) if hire else not_applicable(item, why, aircraft.at())
        )
    findings += [latches(aircraft), *harness_at_front(aircraft), _elt_listed(aircraft, equipment)]
    return tuple(_by_limitation(finding.subject, aircraft, finding) for finding in findings)


def _instrument(item: _Item, aircraft: Aircraft, equipment: Equipment, fuel: Fuel | None) -> Finding:
    fitted = _fitted(item, equipment, aircraft)
    if fitted.verdict is Verdict.PASS:
        return _each_tank(fitted, equipment, fuel) if item.item == "b-9" else fitted
    return _spared(item.item, aircraft) or fitted


_HANGS_ON: dict[str, tuple[str, str, set[object]]] = {
    "b-6": ("cooling", "the engine is cooled by air alone", {"air"}),
    "b-7": ("cooling", "the engine is cooled by liquid alone", {"liquid"}),
    "b-8": ("altitude_engine", "it is no altitude engine", {False}),
    "b-10": ("gear_retracts", "the gear does not retract", {False}),
    "b-5": ("pressure_oil", "the engine has no pressure oil system", {False}),
}
"""Items that are not asked of every aircraft: the field that decides, and its values that let an aircraft off."""


def _spared(item: str, aircraft: Aircraft) -> Finding | None:
    """What the engine or the gear says about an item that is not everybody's; None where the item is asked for."""
    if item not in _HANGS_ON:
        return None
    field, why, spared = _HANGS_ON[item]
    record = aircraft if item == "b-10" else aircraft.engine
    value = getattr(record, field, None)
    number, where = f"91.205(b)({item[2:]})", (record or aircraft).at(field)
    if value in spared:
        return not_applicable(item, f"{number} does not ask: {why}", where)
    if value is not None or item == "b-5":  # an engine is taken to have pressure oil until its record says otherwise
        return None
    return no_data(item, f"whether {number} asks for it hangs on '{field}', not recorded", where, remedy="Record it.")


def _each_tank(finding: Finding, equipment: Equipment, fuel: Fuel | None) -> Finding:
    gauges = equipment.of("fuel-quantity")
    tanks = len(fuel.tanks) if fuel else 1
    if len(gauges) >= tanks or any(gauge.serves_all for gauge in gauges):
        return finding
    message = f"91.205(b)(9) lists a fuel gauge for each tank; {len(gauges)} is recorded for {tanks} tanks"
    return warns("b-9", message, *finding.where, remedy="Fit one for each, or record that it shows all of them.")


def _elt_listed(aircraft: Aircraft, equipment: Equipment) -> Finding:
    if aircraft.seats == 1:
        return not_applicable("b-15", "91.207 excuses a single-seat aircraft (memory)", aircraft.at("seats"))
    return _fitted(
        _Item("b-15", "elt", "an emergency locator transmitter where 91.207 asks for one"), equipment, aircraft
    )


@rule(
    "operations/day-vfr",
    title="Equipment for VFR by day",
    asks="Is each item of the day list of 91.205(b) on record, with the record that satisfies it?",
    references=("91-205-b", "91-205-a", "8130-2-day", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit it, or decide to do without and record a deviation.",
)
def day_vfr_is_equipped(day_list: Iterable[Finding]) -> Iterator[Finding]:
    """Each numbered item of 91.205(b) is one finding, named b-1 to b-17, and says which record satisfies it. Equipment is found
    by what a panel item `provides`, or by its name.

    No text was found that imposes this list on an amateur-built aircraft by day: it is a yardstick, and a missing item a
    warning. The aircraft's own operating limitations come first: an item that they ask for fails where it is missing, one
    that they waive is not asked for. Item (14) speaks of aeroplanes made after 1978; (15) to (17) are known from memory.
    """
    yield from day_list


@fact
def night_list(
    aircraft: Aircraft,
    day_list: tuple[Finding, ...],
    lighting: Lighting | None = None,
    electrical: Electrical | None = None,
) -> tuple[Finding, ...]:
    """The findings on 91.205(c), item by item."""
    if "night-vfr" not in aircraft.operations:
        return (not_applicable("aircraft", "night VFR is not intended", aircraft.at("operations")),)
    lights = tuple(told(night_light_is_approved.check(aircraft, lighting))) if lighting else ()
    flashing = {light.id for light in (lighting.lights if lighting else ()) if light.function == "anti-collision"}
    red_white = [finding for finding in lights if finding.subject in flashing | {"anti-collision"}]
    position = [finding for finding in lights if finding not in red_white and _is_position(finding, lighting)]
    return tuple(
        _by_limitation(finding.subject, aircraft, finding)
        for finding in (
            _together("c-1", "everything in the day list", day_list, aircraft),
            _together("c-2", "approved position lights", position, aircraft),
            _together("c-3", "an approved anti-collision light system", red_white, aircraft),
            _landing_light(aircraft, lighting),
            _energy("c-5", aircraft, electrical),
            _spare_fuses(aircraft, electrical),
        )
    )


def _is_position(finding: Finding, lighting: Lighting | None) -> bool:
    names = {light.id for light in (lighting.lights if lighting else ()) if light.function.startswith("position-")}
    return finding.subject in names or finding.subject.startswith("position-")


_FROM_MEMORY = frozenset({"b-15", "b-16", "b-17"})
"""Items known from memory alone: what they miss is a warning, by night too."""


def _together(item: str, asks: str, parts: Iterable[Finding], aircraft: Aircraft) -> Finding:
    """One finding on an item that other findings answer: fails where one of them is not answered well."""
    parts = tuple(parts)
    number = f"91.205({item[0]})({item[2:]}), {asks}"
    here = aircraft.at("operations")
    if not parts:
        return no_data(item, f"{number}: nothing that answers it is recorded", here, remedy="Record it.")
    bad = [part for part in parts if part.verdict in {Verdict.FAIL, Verdict.WARN}]
    unknown = [part for part in parts if part.verdict is Verdict.NO_DATA]
    shown = ", ".join(part.subject for part in bad or unknown or [p for p in parts if p.verdict is Verdict.PASS])
    where = (here, *(spot for part in bad or unknown for spot in part.where[:1]))
    if bad:
        said = warns if all(part.subject in _FROM_MEMORY for part in bad) else fails
        return said(item, f"{number}: lacking {shown}", *where, remedy="See what is said of each.")
    if unknown:
        return no_data(item, f"{number}: not known of {shown}", *where, remedy="See what is said of each.")
    return passes(item, f"{number}: {shown}", here)


def _landing_light(aircraft: Aircraft, lighting: Lighting | None) -> Finding:
    lights = [light for light in (lighting.lights if lighting else ()) if light.function == "landing"]
    if lights:
        return passes("c-4", f"91.205(c)(4), a landing light: {lights[0].id}", lights[0].at())
    if not aircraft.for_hire:
        return not_applicable("c-4", "91.205(c)(4) asks for a landing light for hire only", aircraft.at("for_hire"))
    message = "91.205(c)(4) asks for a landing light when flown for hire, and none is recorded"
    return fails("c-4", message, aircraft.at("for_hire"), remedy="Fit one, or fly nobody for hire.")


def _energy(item: str, aircraft: Aircraft, electrical: Electrical | None) -> Finding:
    number = f"91.205({item[0]})({item[2:]})"
    if electrical is None:
        return no_data(item, f"{number}: no source of electrical energy is recorded", aircraft.at("operations"))
    kinds = {"alternator", "generator"} | ({"battery"} if item == "c-5" else set())
    sources = [source for source in electrical.sources if source.kind in kinds]
    if not sources:
        asked = "source of energy" if item == "c-5" else "generator or alternator"
        message = f"{number} asks for an adequate {asked}, and none is recorded"
        return fails(item, message, electrical.at("sources"), aircraft.at("operations"), remedy="Fit one.")
    what = ", ".join(f"{source.id} ({source.kind})" for source in sources)
    message = f"{number}: {what}; whether it is adequate, electrical/source-capacity judges"
    return passes(item, message, *(source.at() for source in sources))


def _spare_fuses(aircraft: Aircraft, electrical: Electrical | None) -> Finding:
    if electrical is None:
        return no_data("c-6", "91.205(c)(6): no fuse or breaker is recorded", aircraft.at("operations"))
    parts = tuple(told(fuses_have_spares.check(aircraft, electrical)))
    if all(part.verdict is Verdict.NOT_APPLICABLE for part in parts):
        return not_applicable("c-6", "91.205(c)(6): no fuse can be replaced in flight, so no spare is asked for")
    return _together("c-6", "spare fuses within reach", parts, aircraft)


@rule(
    "operations/night-vfr",
    title="Equipment for VFR by night",
    asks="Where night VFR is intended, is each item of 91.205(c) satisfied?",
    references=(
        "8130-2-night",
        "91-205-c-1",
        "91-205-c-2",
        "91-205-c-3",
        "91-205-c-4",
        "91-205-c-5",
        "91-205-c-6",
        "91-205-a",
    ),
    due=Stage.SYSTEMS,
    remedy="Fit what is missing, or intend day flight only.",
)
def night_vfr_is_equipped(night_list: Iterable[Finding]) -> Iterator[Finding]:
    """Each numbered item of 91.205(c) is one finding, named c-1 to c-6. The list comes in through the aircraft's own operating
    limitations, and (c)(3), the anti-collision lights, by its own words on all US-registered civil aircraft. (c)(1) pulls in
    the whole day list: what is a warning by day is missing here.

    Not on the list, though often believed to be: instrument lights, a torch, gyroscopes, and a landing light but for hire.
    """
    yield from night_list


@rule(
    "operations/ifr",
    title="Equipment for flight by instruments",
    asks="Where IFR is intended, is each item of 91.205(d) satisfied?",
    references=("8130-2-night", "91-205-d", "91-205-a", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit what is missing, or intend VFR only.",
)
def ifr_is_equipped(
    aircraft: Aircraft,
    equipment: Equipment,
    day_list: tuple[Finding, ...],
    night_list: tuple[Finding, ...],
    electrical: Electrical | None = None,
) -> Iterator[Finding]:
    """Each numbered item of 91.205(d) is one finding, named d-1 to d-9; the list comes in through the aircraft's own operating
    limitations. Whether radio and navigation suit the route, (d)(2), only the route can say: that both are there is what
    is looked at. Whether a display is gyroscopic or as good, the record says by what it `provides`.
    """
    if "ifr" not in aircraft.operations:
        yield not_applicable("aircraft", "IFR is not intended", aircraft.at("operations"))
        return
    night = night_list if "night-vfr" in aircraft.operations else ()
    findings = [
        _together("d-1", "the day list, and by night the night list", (*day_list, *night), aircraft),
        _radio_and_navigation(aircraft, equipment),
        _energy("d-7", aircraft, electrical),
        *(_asked(_fitted(item, equipment, aircraft)) for item in _items("list_d")),
    ]
    for finding in findings:
        yield _by_limitation(finding.subject, aircraft, finding)


def _asked(finding: Finding) -> Finding:
    """A missing item of a list that binds through the limitations is more than a warning."""
    return finding._replace(verdict=Verdict.FAIL) if finding.verdict is Verdict.WARN else finding


def _radio_and_navigation(aircraft: Aircraft, equipment: Equipment) -> Finding:
    both = (("radio", "a two-way radio"), ("navigation", "navigation equipment suited to the route"))
    findings = [_fitted(_Item("d-2", provides, asks), equipment, aircraft) for provides, asks in both]
    missing = next((finding for finding in findings if finding.verdict is not Verdict.PASS), None)
    if missing:
        return _asked(missing)
    words = " and ".join(equipment.of(provides)[0].how for provides, _ in both)
    return passes("d-2", f"91.205(d)(2): {words}; whether they suit the route, the route says", *findings[0].where)
