"""What do other authorities publish for these flights, as far as it was read?

Few items are known, some from editions that were replaced; they stand in a table, each with its source. They show that American
lists do not carry over; the local authority decides. Everything American is a yardstick for such an aircraft.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    fact,
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
    from collections.abc import Callable, Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.electrical import Electrical
    from jurystrut.records.lighting import Light, Lighting
    from jurystrut.records.markings import Markings
    from jurystrut.rulebook import Spot
    from jurystrut_rules.operations.equipment import Equipment

__all__ = [
    "abroad",
    "asked_in_australia",
    "asked_in_britain",
    "asked_in_canada",
    "asked_in_europe",
    "authority_is_known",
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


class _Item(NamedTuple):
    """One published item: who asks for it, for which flight, and where it is looked for."""

    authorities: str
    flight: str
    item: str
    look: str
    for_: str
    asks: str
    by: str
    worst: str

    def lacks(self, message: str, *where: Spot, remedy: str) -> Finding:
        """The finding on an item that is not there."""
        said = fails if self.worst == "fail" else warns
        return said(self.item, message, *where, remedy=remedy)


@cache
def _items() -> tuple[_Item, ...]:
    columns = [field.rstrip("_") for field in _Item._fields]
    rows = read_table(TABLES / "abroad.yaml").rows
    return tuple(_Item(*(str(row[column]) for column in columns)) for row in rows)


class _Aboard(NamedTuple):
    """The records that items are looked for in; None where a section is not recorded."""

    aircraft: Aircraft
    equipment: Equipment | None
    lighting: Lighting | None
    markings: Markings | None
    electrical: Electrical | None


@fact
def abroad(
    aircraft: Aircraft,
    equipment: Equipment | None = None,
    lighting: Lighting | None = None,
    markings: Markings | None = None,
    electrical: Electrical | None = None,
) -> list[Finding]:
    """The findings on all items of the aircraft's own authority, in the table's order."""
    return list(_asked(_Aboard(aircraft, equipment, lighting, markings, electrical)))


def _asked(aboard: _Aboard) -> Iterator[Finding]:
    flights = aboard.aircraft.operations
    for item in _items():
        if aboard.aircraft.authority in item.authorities.split():
            if flights and item.flight != "any" and item.flight not in flights:
                here = aboard.aircraft.at("operations")
                yield not_applicable(item.item, f"{item.flight} is not intended; by {item.by}", here)
            else:
                yield from _LOOK[item.look](item, aboard)


def _equipment(item: _Item, aboard: _Aboard) -> Iterator[Finding]:
    here, found = aboard.aircraft.at("operations"), aboard.equipment.of(item.for_) if aboard.equipment else []
    if found:
        yield passes(item.item, f"{item.asks}, asked for by {item.by}: {found[0].how}", found[0].where)
    elif aboard.equipment and aboard.equipment.complete:
        message = f"{item.by} lists {item.asks}, and no record is one"
        yield item.lacks(message, here, remedy="Fit one, and record it.")
    else:
        message = f"{item.by} lists {item.asks}; the panel is not recorded"
        yield no_data(item.item, message, here, remedy="Record it.")


def _lights(item: _Item, aboard: _Aboard, function: str) -> list[Light] | Finding:
    """The lights of a function, or that no lights are recorded."""
    if aboard.lighting is None and "lighting" not in aboard.aircraft.without:
        return no_data(item.item, f"{item.by} lists {item.asks}; the lights are not recorded", aboard.aircraft.at())
    return [light for light in (aboard.lighting.lights if aboard.lighting else ()) if light.function == function]


def _light(item: _Item, aboard: _Aboard) -> Iterator[Finding]:
    lights = _lights(item, aboard, item.for_)
    if isinstance(lights, Finding):
        yield lights
    elif lights:
        yield passes(item.item, f"{item.asks}, asked for by {item.by}: {lights[0].id}", lights[0].at())
    else:
        message = f"{item.by} lists {item.asks}, and no {item.for_} light is recorded"
        where = (aboard.lighting or aboard.aircraft).at("lights" if aboard.lighting else "without")
        yield item.lacks(message, aboard.aircraft.at("operations"), where, remedy="Fit one, or intend other flights.")


def _light_with_passengers(item: _Item, aboard: _Aboard) -> Iterator[Finding]:
    """An aircraft of more than one seat is taken to carry passengers."""
    if aboard.aircraft.seats == 1:
        yield not_applicable(item.item, "a single-seat aircraft carries no passenger", aboard.aircraft.at("seats"))
    else:
        yield from _light(item, aboard)


def _each_flasher(item: _Item, aboard: _Aboard, judge: Callable[[Light], Finding]) -> Iterator[Finding]:
    lights = _lights(item, aboard, "anti-collision")
    if isinstance(lights, Finding):
        yield lights
    elif lights:
        yield from map(judge, lights)
    else:
        yield not_applicable(item.item, "no anti-collision light is recorded", aboard.aircraft.at())


def _degrees_up_and_down(item: _Item, aboard: _Aboard) -> Iterator[Finding]:
    def shows(light: Light) -> Finding:
        angles = [angle for angle in (light.covers_above, light.covers_below) if angle is not None]
        if len(angles) < 2:
            message = "how far above and below it shines is not recorded"
            return no_data(light.id, message, light.at(), remedy="Record 'covers_above' and 'covers_below'.")
        least = min(angle.to("deg") for angle in angles)
        message = f"it shows {least:g} degrees above and below at least; {item.by} asks for {item.asks}"
        otherwise = Verdict(item.worst)
        where = light.at("covers_above")
        remedy = "Fit one that shows farther up and down."
        return at_least(light.id, least, float(item.for_), "deg", message, where, otherwise=otherwise, remedy=remedy)

    return _each_flasher(item, aboard, shows)


def _counted_as_lit(item: _Item, aboard: _Aboard) -> Iterator[Finding]:
    loads = {load.id: load for load in aboard.electrical.loads} if aboard.electrical else {}
    return _each_flasher(item, aboard, lambda light: counted_as_lit(light, loads, item.by))


def _placard(item: _Item, aboard: _Aboard) -> Iterator[Finding]:
    markings = aboard.markings
    if markings is None:
        message = f"{item.by} asks for {item.asks}; the markings are not recorded"
        yield no_data(item.item, message, aboard.aircraft.at(), remedy="Record them.")
        return
    placard = next((one for one in markings.placards if one.purpose == item.for_), None)
    if placard:
        yield passes(item.item, f"{placard.id} reads {placard.text}", placard.at("text"))
    else:
        remedy = "Add one, in the words of the permit."
        message = f"{item.by} asks for {item.asks}, and none is recorded"
        yield item.lacks(message, markings.at("placards"), remedy=remedy)


def _permission(item: _Item, aboard: _Aboard) -> Iterator[Finding]:
    allowing = next((one for one in limitations_on(aboard.aircraft, item.for_) if one.says == "allows"), None)
    if allowing:
        yield passes(item.item, f"{named(allowing)} allows it", allowing.at("says"))
    else:
        remedy = "Ask the authority, or intend VFR by day only; record its permission as an operating limitation."
        message = f"{item.by} asks for {item.asks}, and none is recorded"
        yield item.lacks(message, aboard.aircraft.at("operations"), remedy=remedy)


_LOOK: dict[str, Callable[[_Item, _Aboard], Iterator[Finding]]] = {
    "equipment": _equipment,
    "light": _light,
    "light-with-passengers": _light_with_passengers,
    "degrees-up-and-down": _degrees_up_and_down,
    "counted-as-lit": _counted_as_lit,
    "placard": _placard,
    "permission": _permission,
}


@rule(
    "abroad/canada",
    title="Canada: what its rules list",
    asks="Is what the Canadian Aviation Regulations list for the intended flights on record?",
    references=("ca-605-16", "ca-605-14", "ca-605-18", "ca-625-light", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Fit it, and record it, or intend other flights.",
    only_for=("CA",),
)
def asked_in_canada(abroad: list[Finding]) -> Iterator[Finding]:
    """605.16(1), night VFR, was read as in force on 22 March 2006, and standard 625 on anti-collision lights as of 1996: what is
    listed there and is not aboard fails. 605.14, from memory, and the list for instrument flight, read without its number,
    warn. The night list is longer than the American one, and its words are not limited to a category of certificate; its spare
    fuses are for `electrical/spare-fuses`. Of the list for instrument flight pitot heat, alternate static source and the
    warning of gyroscope power are not looked at.
    """
    yield from abroad


@rule(
    "abroad/britain",
    title="United Kingdom: what its rules list",
    asks="Is what the United Kingdom asks of an aircraft on a national permit to fly on record?",
    references=("gb-ano-23", "gb-night-policy", "eu-nco-120", "eu-sera-3215", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Ask the authority.",
    at_worst=Verdict.WARN,
    only_for=("GB",),
)
def asked_in_britain(abroad: list[Finding]) -> Iterator[Finding]:
    """Article 23 of the order of 2009, since replaced: an aircraft on a national permit carries a warning placard, and flies by
    day and VFR only unless the authority permits otherwise, case by case. The European rules were kept.
    """
    yield from abroad


@rule(
    "abroad/europe",
    title="Europe: what its rules list",
    asks="Is what Part-NCO and SERA list for the intended flights on record?",
    references=("eu-nco-120", "eu-sera-3215", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Ask the authority of the state of registry.",
    at_worst=Verdict.WARN,
    only_for=("EU",),
)
def asked_in_europe(abroad: list[Finding]) -> Iterator[Finding]:
    """NCO.IDE.A.120 is a yardstick: amateur-built aircraft are national ones, outside these rules (memory). Its warning of lost
    gyroscope power is not looked at. SERA.3215(d), as quoted, has fitted anti-collision lights lit in flight by day as well.
    """
    yield from abroad


@rule(
    "abroad/australia",
    title="Australia: visual flight",
    asks="Is what the superseded order listed for visual flight on record?",
    references=("au-cao-20-18", "own-equipment-names"),
    due=Stage.SYSTEMS,
    remedy="Look it up in the manual of standards of part 91, chapter 26.",
    at_worst=Verdict.WARN,
    only_for=("AU",),
)
def asked_in_australia(abroad: list[Finding]) -> Iterator[Finding]:
    """Civil Aviation Order 20.18, superseded and known at second hand; what replaced it was not read."""
    yield from abroad
