"""What do other authorities publish for these flights, as far as it was read?

Few items are known, some from editions that were replaced. They show that American lists do not carry over; the local authority
decides. Everything American is a yardstick for such an aircraft.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    fails,
    no_data,
    not_applicable,
    passes,
    read_table,
    rule,
    warns,
)
from jurystrut_rules.operations.equipment import TABLES
from jurystrut_rules.operations.lamps import counted_as_lit
from jurystrut_rules.operations.limitations import limitations_on, named

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.electrical import Electrical
    from jurystrut.records.lighting import Lighting
    from jurystrut.records.markings import Markings
    from jurystrut_rules.operations.equipment import Equipment

__all__ = [
    "authority_is_known",
    "british_permit_allows_night",
    "british_permit_is_placarded",
    "canadian_day_list",
    "canadian_flasher_shows_far_enough",
    "canadian_instrument_list",
    "canadian_lights_at_night",
    "canadian_night_list",
    "european_day_list",
    "european_flasher_is_lit",
    "european_night_list",
    "old_australian_list",
]

_ASK = {
    "US": "the Federal Aviation Administration",
    "CA": "Transport Canada",
    "GB": "the Civil Aviation Authority, or who runs permits to fly for it",
    "EU": "the authority of the state of registry, for amateur-built aircraft are national ones",
    "AU": "the Civil Aviation Safety Authority",
}


@rule(
    "abroad/authority-known",
    title="Rules of the aircraft's own authority",
    asks="Are published items of the aircraft's own authority known to these rules?",
    references=("own-authority",),
    due=Stage.DESIGN,
    remedy="Ask the authority for its list, and record its answers as the aircraft's operating limitations.",
    at_worst=Verdict.WARN,
)
def authority_is_known(aircraft: Aircraft) -> Iterator[Finding]:
    """These rules rest on American documents. For CA, GB, EU and AU a few published items are known; all else that is American
    warns at most, and says whom to ask. A pack of rules for another country may be installed beside this one.
    """
    where = aircraft.at("authority")
    ask = _ASK.get(aircraft.authority)
    if aircraft.authority == "US":
        yield passes("aircraft", "these rules rest on documents of this authority", where)
    elif ask:
        message = f"of {aircraft.authority} a few published items are known here; all that is American is a yardstick"
        yield warns("aircraft", message, where, remedy=f"Ask {ask}.")
    else:
        message = f"nothing that {aircraft.authority} publishes is known here; all that is American is a yardstick"
        yield warns("aircraft", message, where)


@cache
def _rows(list_: str) -> tuple[dict[str, str | None], ...]:
    return tuple(row for row in read_table(TABLES / "abroad.yaml").rows if row["list"] == list_)


def _listed(list_: str, source: str, flight: str, aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    here = aircraft.at("operations")
    if aircraft.operations and flight not in aircraft.operations:
        yield not_applicable("aircraft", f"{flight} is not intended", here)
        return
    for row in _rows(list_):
        found = equipment.of(str(row["provides"]))
        asked = f"{source} lists {row['asks']}"
        if found:
            yield passes(str(row["item"]), f"{asked}: {found[0].how}", found[0].where)
        elif equipment.complete:
            yield fails(str(row["item"]), f"{asked}, and no record is one", here, remedy="Fit one, and record it.")
        else:
            yield no_data(str(row["item"]), f"{asked}; the panel is not recorded", here, remedy="Record it.")


@rule(
    "abroad/ca-day-vfr",
    title="Canada: VFR by day",
    asks="Is what 605.14 lists for VFR by day on record?",
    references=("ca-605-14", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit it, and record it.",
    at_worst=Verdict.WARN,
    only_for=("CA",),
)
def canadian_day_list(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """Known from memory alone, so a missing item is a warning; engine gauges are left to the American list."""
    yield from _listed("ca-day", "605.14, from memory,", "day-vfr", aircraft, equipment)


@rule(
    "abroad/ca-night-vfr",
    title="Canada: VFR by night",
    asks="Where night VFR is intended, is what 605.16(1) lists on record?",
    references=("ca-605-16", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit it, or intend day flight only.",
    only_for=("CA",),
)
def canadian_night_list(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """605.16(1) was read as in force on 22 March 2006; it is longer than the American list, and its words are not limited to a
    category of certificate. Look up the version in force.
    """
    yield from _listed("ca-night", "605.16(1)", "night-vfr", aircraft, equipment)


@rule(
    "abroad/ca-night-lights",
    title="Canada: lights by night",
    asks="Where night VFR is intended, are the lights of 605.16(1) there?",
    references=("ca-605-16",),
    due=Stage.SYSTEMS,
    remedy="Fit it, or intend day flight only.",
    only_for=("CA",),
)
def canadian_lights_at_night(aircraft: Aircraft, lighting: Lighting) -> Iterator[Finding]:
    """605.16(1)(i), (j) and (k), as in force in 2006: lighting for all instruments, a landing light when carrying passengers,
    position and anti-collision lights. An aircraft of more than one seat is taken to carry passengers.
    """
    here = aircraft.at("operations")
    if "night-vfr" not in aircraft.operations:
        yield not_applicable("aircraft", "night VFR is not intended", here)
        return
    wanted = ["instrument", "position-left", "position-right", "position-tail", "anti-collision"]
    if aircraft.seats != 1:
        wanted.append("landing")
    for function in wanted:
        light = next((light for light in lighting.lights if light.function == function), None)
        if light:
            yield passes(function, f"605.16(1) asks for it by night: {light.id}", light.at())
        else:
            message = "605.16(1) asks for it by night, and none is recorded"
            yield fails(function, message, here, lighting.at("lights"))


@rule(
    "abroad/ca-flasher-angle",
    title="Canada: anti-collision light above and below",
    asks="Does each anti-collision light show 30 degrees above and below?",
    references=("ca-625-light",),
    due=Stage.SYSTEMS,
    remedy="Fit one that shows farther up and down.",
    only_for=("CA",),
)
def canadian_flasher_shows_far_enough(lighting: Lighting) -> Iterator[Finding]:
    """Standard 625, revised in 1996, asks for 30 degrees, where American text since 1977 says 75."""
    lights = [light for light in lighting.lights if light.function == "anti-collision"]
    if not lights:
        yield not_applicable("aircraft", "no anti-collision light is recorded", lighting.at("lights"))
    for light in lights:
        angles = [angle for angle in (light.covers_above, light.covers_below) if angle is not None]
        if len(angles) < 2:
            message = "how far above and below it shines is not recorded"
            yield no_data(light.id, message, light.at(), remedy="Record 'covers_above' and 'covers_below'.")
        else:
            least = min(angle.to("deg") for angle in angles)
            message = f"it shows {least:g} degrees above and below at least"
            yield at_least(light.id, least, 30.0, "deg", message, light.at("covers_above"))


@rule(
    "abroad/ca-ifr",
    title="Canada: flight by instruments",
    asks="Where IFR is intended, is what Canada lists for it on record?",
    references=("ca-605-18", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit it, or intend VFR only.",
    at_worst=Verdict.WARN,
    only_for=("CA",),
)
def canadian_instrument_list(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """The list was read without its number, so it warns. Pitot heat, alternate static source and the warning of gyroscope power
    are asked for too and not looked at.
    """
    yield from _listed("ca-ifr", "the Canadian list", "ifr", aircraft, equipment)


@rule(
    "abroad/gb-permit-placard",
    title="United Kingdom: warning placard",
    asks="Does a warning placard stand in full view of the occupants?",
    references=("gb-ano-23",),
    due=Stage.SYSTEMS,
    remedy="Add one, in the words of the permit.",
    at_worst=Verdict.WARN,
    only_for=("GB",),
)
def british_permit_is_placarded(markings: Markings) -> Iterator[Finding]:
    """Article 23(4) of the order of 2009, since replaced: an aircraft on a national permit to fly carries it."""
    placard = next((placard for placard in markings.placards if placard.purpose == "passenger-warning"), None)
    if placard:
        yield passes(placard.id, f"it reads {placard.text}", placard.at("text"))
    else:
        yield fails("aircraft", "no placard warns the occupants", markings.at("placards"))


@rule(
    "abroad/gb-permit-night",
    title="United Kingdom: night and IFR on a permit",
    asks="Where night or IFR is intended, is the CAA's permission on record?",
    references=("gb-ano-23", "gb-night-policy"),
    due=Stage.SYSTEMS,
    remedy="Ask the CAA, or intend VFR by day only; record its permission as an operating limitation.",
    at_worst=Verdict.WARN,
    only_for=("GB",),
)
def british_permit_allows_night(aircraft: Aircraft) -> Iterator[Finding]:
    """Article 23(5) of the order of 2009, since replaced: by day and VFR only, unless the CAA permits otherwise; it clears
    aircraft case by case.
    """
    more = [flight for flight in aircraft.operations if flight != "day-vfr"]
    if not more:
        yield not_applicable("aircraft", "VFR by day only is intended", aircraft.at("operations"))
    for flight in more:
        allowing = next((one for one in limitations_on(aircraft, flight) if one.says == "allows"), None)
        if allowing:
            yield passes(flight, f"{named(allowing)} allows it", allowing.at("says"))
        else:
            yield fails(flight, "no permission for it is recorded", aircraft.at("operations"))


@rule(
    "abroad/eu-flasher-lit",
    title="Europe: anti-collision light by day",
    asks="Is every anti-collision light counted as lit by day too?",
    references=("eu-sera-3215",),
    due=Stage.SYSTEMS,
    remedy="Put the light's full share into 'duty' of its load.",
    at_worst=Verdict.WARN,
    only_for=("EU", "GB"),
)
def european_flasher_is_lit(lighting: Lighting, electrical: Electrical) -> Iterator[Finding]:
    """SERA.3215(d), as quoted: those that are fitted are shown in flight by day as well. The United Kingdom kept these rules."""
    lights = [light for light in lighting.lights if light.function == "anti-collision"]
    if not lights:
        yield not_applicable("aircraft", "no anti-collision light is recorded", lighting.at("lights"))
    loads = {load.id: load for load in electrical.loads}
    for light in lights:
        yield counted_as_lit(light, loads, "SERA.3215(d)")


@rule(
    "abroad/eu-day-vfr",
    title="Europe: VFR by day",
    asks="Is what Part-NCO lists for VFR by day on record?",
    references=("eu-nco-120", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit it, and record it.",
    at_worst=Verdict.WARN,
    only_for=("EU", "GB"),
)
def european_day_list(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """NCO.IDE.A.120(a), a yardstick: amateur-built aircraft are national ones, outside these rules (memory)."""
    yield from _listed("nco-day", "NCO.IDE.A.120(a)", "day-vfr", aircraft, equipment)


@rule(
    "abroad/eu-night-vfr",
    title="Europe: VFR by night",
    asks="Where night VFR is intended, is what Part-NCO lists on record?",
    references=("eu-nco-120", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit it, or intend day flight only.",
    at_worst=Verdict.WARN,
    only_for=("EU", "GB"),
)
def european_night_list(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """NCO.IDE.A.120(b), a yardstick: amateur-built aircraft are national ones, outside these rules (memory). A warning of lost
    gyroscope power is asked for too and not looked at.
    """
    yield from _listed("nco-night", "NCO.IDE.A.120(b)", "night-vfr", aircraft, equipment)


@rule(
    "abroad/au-visual",
    title="Australia: visual flight",
    asks="Is what the superseded order listed for visual flight on record?",
    references=("au-cao-20-18", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Look it up in the manual of standards of part 91, chapter 26.",
    at_worst=Verdict.WARN,
    only_for=("AU",),
)
def old_australian_list(aircraft: Aircraft, equipment: Equipment) -> Iterator[Finding]:
    """Civil Aviation Order 20.18, superseded and known at second hand; what replaced it was not read."""
    yield from _listed("au-day", "the superseded order 20.18", "day-vfr", aircraft, equipment)
    yield from _listed("au-night", "the superseded order 20.18, by night,", "night-vfr", aircraft, equipment)
