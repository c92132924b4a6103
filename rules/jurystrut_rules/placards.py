"""Do placards and legends say what the controls, the fillers and the limits call for, without contradicting them?

Old part 23 is a yardstick here, and much of it known from memory; so most of these rules warn. That controls and instruments are
marked is also what the condition inspection of most operating limitations asks for.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_most,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft, Limits
    from jurystrut.records.fuel import Fuel, Tank
    from jurystrut.records.markings import Markings, Placard
    from jurystrut_rules.operations.equipment import Equipment

__all__ = [
    "aerobatics_placard_agrees",
    "compass_has_card",
    "coolant_filler_is_marked",
    "emergency_control_says_how",
    "locator_is_marked_outside",
    "oil_filler_is_marked",
    "placard_has_place",
    "selector_names_tanks",
    "speeds_agree_with_limits",
    "words_are_as_issued",
]


def _of(markings: Markings, purpose: str) -> list[Placard]:
    return [placard for placard in markings.placards if placard.purpose == purpose]


@rule(
    "markings/placard-place",
    title="Placard has its place",
    asks="Is it recorded where every placard stands?",
    references=("23-1541-b", "91-9"),
    due=Stage.SYSTEMS,
    remedy="Record 'place'.",
    at_worst=Verdict.WARN,
)
def placard_has_place(markings: Markings) -> Iterator[Finding]:
    """Old 23.1541(b), a yardstick, wants placards conspicuous and not easily hidden; where one stands is the least that must be
    known to see that.
    """
    if not markings.placards:
        raise MissingRecord("no placard is recorded", markings.at("placards"))
    for placard in markings.placards:
        if placard.place:
            yield passes(placard.id, f"it stands {placard.place}", placard.at("place"))
        else:
            yield no_data(placard.id, "where it stands is not recorded", placard.at(), remedy="Record 'place'.")


_SIDE = re.compile(r"\b(left|right|centre|center|front|rear|main|auxiliary|header|nose|top)\b")
_GALLONS = r"\W*(?:TANK\W*)?([0-9]+(?:\.[0-9]+)?)\s*(US GAL|GAL|L|LITRES)?\b"


@rule(
    "markings/fuel-selector",
    title="Fuel selector marked",
    asks="Does the selector's placard name every tank, and no more usable fuel than it has?",
    references=("23-1555-c", "23-1555-d"),
    due=Stage.SYSTEMS,
    remedy="Mark each position with its tank and its usable fuel.",
    at_worst=Verdict.WARN,
)
def selector_names_tanks(markings: Markings, fuel: Fuel) -> Iterator[Finding]:
    """Old 23.1555(c) and (d), from memory but read in siblings, want each position of the selector marked, and the usable fuel
    by it. A tank is known by a word for its side; the only tank needs none. A number behind it is held against the tank's
    usable fuel, in US gallons unless the placard says litres.
    """
    placards = _of(markings, "fuel-selector")
    if len(fuel.tanks) < 2 and not placards:
        yield not_applicable("aircraft", "one tank at most is recorded, and no selector's placard", fuel.at("tanks"))
    elif not placards:
        message = f"{len(fuel.tanks)} tanks are recorded, and no placard marks the selector"
        yield warns("aircraft", message, markings.at("placards"), fuel.at("tanks"))
    else:
        for tank in fuel.tanks:
            yield _position(tank, placards[0], alone=len(fuel.tanks) == 1)


def _position(tank: Tank, placard: Placard, *, alone: bool) -> Finding:
    where = (placard.at("text"), tank.at())
    text = placard.text.upper()
    if alone:
        return _usable_on(tank, placard, re.search(_GALLONS, text), "on it")
    side = _SIDE.search(f"{tank.what or ''} {tank.id.replace('-', ' ')}".lower())
    if side is None:
        return no_data(tank.id, "no word for its side is recorded by which a placard could name it", tank.at("what"))
    word = side[1].upper()
    if not re.search(rf"\b{word}\b", text):
        return warns(tank.id, f"the selector's placard reads {placard.text}: it does not say {word}", *where)
    return _usable_on(tank, placard, re.search(rf"\b{word}\b{_GALLONS}", text), f"behind {word}")


def _usable_on(tank: Tank, placard: Placard, number: re.Match[str] | None, place: str) -> Finding:
    where = (placard.at("text"), tank.at())
    if number is None:
        return warns(tank.id, f"the selector's placard reads {placard.text}: no usable fuel {place}", *where)
    if tank.usable is None:
        return no_data(tank.id, "its usable fuel is not recorded", tank.at(), remedy="Record 'usable'.")
    unit = "L" if (number[2] or "").startswith("L") else "US gal"
    message = f"the selector's placard reads {placard.text}; usable of {tank.id} is {tank.usable}"
    remedy = f"Make it read {tank.usable}, or less."
    return at_most(tank.id, float(number[1]), tank.usable.to(unit), unit, message, *where, remedy=remedy)


@rule(
    "markings/oil-filler",
    title="Oil filler placard",
    asks="Does a placard at the oil filler say oil, and the grade or where to find it?",
    references=("23-1557-c",),
    due=Stage.SYSTEMS,
    remedy="Add a placard that says OIL and the grade, or names the manual.",
    at_worst=Verdict.WARN,
)
def oil_filler_is_marked(markings: Markings) -> Iterator[Finding]:
    """Old 23.1557(c)(2), as quoted: the word oil, and the grades permitted or a reference to the manual."""
    placards = _of(markings, "oil-filler")
    if not placards:
        yield warns("aircraft", "no placard stands at the oil filler", markings.at("placards"))
    for placard in placards:
        words = placard.text.upper()
        said = passes if "OIL" in words and re.search(r"[0-9]|MANUAL", words) else warns
        yield said(placard.id, f"it reads {placard.text}", placard.at("text"))


@rule(
    "markings/coolant-filler",
    title="Coolant filler placard",
    asks="Does a placard at the coolant filler say coolant?",
    references=("23-1557-c-3",),
    due=Stage.SYSTEMS,
    remedy="Add a placard that says COOLANT.",
    at_worst=Verdict.WARN,
)
def coolant_filler_is_marked(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """Old 23.1557(c)(3), from memory: the word coolant."""
    cooling = aircraft.engine.cooling if aircraft.engine else None
    placards = _of(markings, "coolant-filler")
    if cooling == "air":
        yield not_applicable("aircraft", "the engine is cooled by air", aircraft.at("engine"))
    elif cooling is None and not placards:
        yield no_data("aircraft", "how the engine is cooled is not recorded", aircraft.at(), remedy="Record 'cooling'.")
    elif not placards:
        yield warns("aircraft", "the engine has coolant, and no placard stands at its filler", markings.at("placards"))
    for placard in placards:
        said = passes if "COOLANT" in placard.text.upper() else warns
        yield said(placard.id, f"it reads {placard.text}", placard.at("text"))


_HOW = re.compile(r"\b(PULL|PUSH|TURN|LIFT|OPEN|SLIDE|PRESS|ROTATE|TWIST|KICK|BREAK|RAISE|UNLATCH|ON|UP|DOWN|ARM)\b")


@rule(
    "markings/emergency-control",
    title="Emergency control says how",
    asks="Does a placard say how each emergency control or exit works?",
    references=("23-1555-e",),
    due=Stage.SYSTEMS,
    remedy="Add the movement to its words, as TURN AND PUSH.",
    at_worst=Verdict.WARN,
)
def emergency_control_says_how(markings: Markings) -> Iterator[Finding]:
    """Old 23.1555(e), read in a sibling: an emergency control is red and marked with how it works. A word for the movement is
    looked for; the colour has no record. An aircraft without any such placard leaves its rescuers to guess.
    """
    placards = _of(markings, "emergency")
    if not placards:
        message = "no placard shows how to get out, or works an emergency control"
        yield warns("aircraft", message, markings.at("placards"))
    for placard in placards:
        said = passes if _HOW.search(placard.text.upper()) else warns
        yield said(placard.id, f"it reads {placard.text}", placard.at("text"))


_SPEED = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?(KT|KTS|KNOTS|MPH)\b")
_LIMITS = (
    "stall_speed_flaps stall_speed flaps_speed manoeuvring_speed cruise_speed never_exceed_speed maximum_cruise".split()
)


@rule(
    "markings/speeds",
    title="Speeds on placards agree with the limits",
    asks="Is the manoeuvring speed placarded, and is every speed on a placard one of the aircraft's limits?",
    references=("23-1563", "91-9", "own-consistency", "own-reading-precision"),
    due=Stage.SYSTEMS,
    remedy="Make placard and limit the same.",
)
def speeds_agree_with_limits(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """Old 23.1563(a), a yardstick, wants the manoeuvring speed by the airspeed indicator. A speed on any placard that is none
    of the recorded limits contradicts them: one of the two changed, and the other was forgotten.
    """
    limits = aircraft.limits
    if limits is None:
        raise MissingRecord("the aircraft's limits are not recorded", aircraft.at())
    known = [value.to("kt") for name in _LIMITS if (value := getattr(limits, name)) is not None]
    placarded: list[float] = []
    for placard in markings.placards:
        speeds = [_knots(number, unit) for number, unit in _SPEED.findall(placard.text.upper())]
        placarded += speeds
        strange = [speed for speed in speeds if not any(abs(speed - limit) < _ROUNDED_KT for limit in known)]
        if strange:
            message = f"it reads {placard.text}; {strange[0]:g} kt is none of the aircraft's limits"
            yield fails(placard.id, message, placard.at("text"), limits.at())
        elif speeds:
            yield passes(placard.id, f"it reads {placard.text}", placard.at("text"))
    yield _manoeuvring(limits, placarded, markings)


_ROUNDED_KT = 0.6  # own-reading-precision
"""How far a speed on a placard may be from the limit in knots: it is written rounded, and a mile an hour is 0.87 knots."""


def _knots(number: str, unit: str) -> float:
    return float(number) * (0.868976 if unit == "MPH" else 1.0)  # arithmetic: 1609.344 m over 1852 m


def _manoeuvring(limits: Limits, placarded: list[float], markings: Markings) -> Finding:
    speed = limits.manoeuvring_speed
    if speed is None:
        return no_data("manoeuvring-speed", "aircraft.limits.manoeuvring_speed is not recorded", limits.at())
    if any(abs(one - speed.to("kt")) < _ROUNDED_KT for one in placarded):
        return passes("manoeuvring-speed", f"a placard gives {speed}", limits.at("manoeuvring_speed"))
    message = f"no placard gives the manoeuvring speed, {speed}"
    return warns("manoeuvring-speed", message, markings.at("placards"), limits.at("manoeuvring_speed"))


_STEP_DEG = 45  # 23-1547: 45 was read in 25.1547, 27.1547 and 29.1547; 30 in part 23 is unconfirmed
_POINTS = {"N": 0, "E": 90, "S": 180, "W": 270}  # arithmetic


@rule(
    "markings/compass-card",
    title="Compass card",
    asks="Is there a compass card with corrections in steps of at most 45 degrees?",
    references=("23-1547",),
    due=Stage.INSPECTION,
    remedy="Swing the compass, and fill in the card.",
    at_worst=Verdict.WARN,
)
def compass_has_card(markings: Markings, equipment: Equipment) -> Iterator[Finding]:
    """Old 23.1547, a yardstick from memory: a card on or near the compass. The headings before the word STEER are read; parts
    25, 27 and 29 want them at most 45 degrees apart, part 23 probably 30.
    """
    if not equipment.of("magnetic-direction"):
        yield not_applicable("aircraft", "no magnetic compass is recorded", markings.at())
        return
    cards = _of(markings, "compass-card")
    if not cards:
        yield warns("aircraft", "a compass is recorded, and no card", markings.at("placards"))
    for card in cards:
        headings = _headings(card.text)
        if len(headings) < 2:
            yield warns(card.id, f"it reads {card.text}: no corrections", card.at("text"))
            continue
        step = max((b - a) % 360 for a, b in zip(headings, [*headings[1:], headings[0]], strict=True))
        message = f"its headings are up to {step} degrees apart"
        yield at_most(card.id, step, _STEP_DEG, "deg", message, card.at("text"))


def _headings(text: str) -> list[int]:
    before = text.upper().partition("STEER")[0]
    words = re.findall(r"\b[NESW]\b|\b[0-9]{1,3}\b", before)
    return sorted({_POINTS[word] if word in _POINTS else int(word) % 360 for word in words})


@rule(
    "markings/aerobatics",
    title="Aerobatics placard agrees",
    asks="Do placard and operating limitations say the same of aerobatics?",
    references=("23-1567", "8130-2-aerobatics"),
    due=Stage.SYSTEMS,
    remedy="Make the placard say what the operating limitations say.",
    at_worst=Verdict.WARN,
)
def aerobatics_placard_agrees(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """Operating limitations bar aerobatics, or allow the manoeuvres that were tested and entered. Old 23.1567, from memory,
    wants a placard for either. Where nothing is recorded, aerobatics are taken as barred.
    """
    allowing = [one for one in aircraft.operating_limitations if "aerobatics" in one.on and one.says == "allows"]
    placards = _of(markings, "aerobatics")
    if not placards:
        said = "allow" if allowing else "do not allow"
        message = f"no placard speaks of aerobatics; the operating limitations on record {said} them"
        yield warns("aircraft", message, markings.at("placards"))
    for placard in placards:
        forbids = bool(re.search(r"\b(NO|NOT|PROHIBITED|FORBIDDEN)\b", placard.text.upper()))
        if forbids == bool(allowing):
            record = allowing[0].at("says") if allowing else aircraft.at("operating_limitations")
            rest = f"{allowing[0].id} allows them" if allowing else "no operating limitation on record allows them"
            yield warns(placard.id, f"it reads {placard.text}, and {rest}", placard.at("text"), record)
        else:
            yield passes(placard.id, f"it reads {placard.text}", placard.at("text"))


@rule(
    "markings/locator-mark",
    title="Locator transmitter marked outside",
    asks="Does a placard show where the emergency locator transmitter is?",
    references=("practice-locator-mark",),
    due=Stage.INSPECTION,
    remedy="Add one outside, near the transmitter.",
    at_worst=Verdict.WARN,
)
def locator_is_marked_outside(markings: Markings, equipment: Equipment) -> Iterator[Finding]:
    """Common practice, no source: rescuers who know where the transmitter is can switch it off, or find it."""
    if not equipment.of("elt"):
        yield not_applicable("aircraft", "no emergency locator transmitter is recorded", markings.at())
    elif placards := _of(markings, "elt"):
        yield passes(placards[0].id, f"it reads {placards[0].text}", placards[0].at("text"))
    else:
        yield warns("aircraft", "no placard shows where the transmitter is", markings.at("placards"))


@rule(
    "markings/wording",
    title="Placard in the words issued",
    asks="Does a placard whose words the operating limitations give carry exactly these?",
    references=("8130-2-passenger-warning", "91-9"),
    due=Stage.INSPECTION,
    remedy="Print it anew, in the words issued: jurystrut placards.",
)
def words_are_as_issued(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """The words of the passenger warning and of others come from the aircraft's own operating limitations, and have changed over
    the years. A limitation that `asks` for a placard's purpose gives its words in `text`; small letters, capitals and spaces
    are not told apart.
    """
    asking = [(purpose, one) for one in aircraft.operating_limitations if one.says == "asks" for purpose in one.on]
    issued = [(one, placard) for purpose, one in asking for placard in _of(markings, purpose)]
    if not issued:
        where = aircraft.at("operating_limitations")
        yield not_applicable("aircraft", "no operating limitation on record gives the words of a placard", where)
    for one, placard in issued:
        same = placard.text.upper().split() == one.text.upper().split()
        message = f"it reads {placard.text}; {one.id} gives: {one.text}"
        yield (passes if same else fails)(placard.id, message, placard.at("text"), one.at("text"))
