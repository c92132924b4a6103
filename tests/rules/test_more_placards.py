"""Placards, legends and marks against old part 23, a yardstick; the section stands beside each case."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "23-1547": "markings/compass-card",
    "own arithmetic": "markings/fuel-selector markings/speeds",
    "nothing computed": (
        "markings/aerobatics markings/control-way markings/coolant-filler markings/emergency-control "
        "markings/engine-limits markings/locator-mark markings/oil-filler markings/placard-place "
        "markings/red-line markings/registration-place markings/wording"
    ),
}

ASKED = "it asks for a record alone: one that is missing is no data"
NO_SUCH_CASE = {
    "markings/placard-place": {"just over": ASKED},
}

PASS, WARN, FAIL, NO_DATA, NA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"markings/{rule}", text)
    return finding


def placard(purpose: str, text: str, more: str = "") -> str:
    return f'markings:\n  placards:\n    - {{id: P, purpose: {purpose}, text: "{text}"{more}}}\n'


NONE = "markings: {placards: []}\n"
WARMED = "aircraft: {{name: T, authority: US, stage: operating, engine: {{cooling: {}}}}}\n"


@pytest.mark.parametrize(
    ("rule", "purpose", "text", "wanted"),
    [
        ("oil-filler", "oil-filler", "OIL 10W-40", PASS),  # 23.1557(c)(2): the word, and the grade or the manual
        ("oil-filler", "oil-filler", "OIL, SEE MANUAL", PASS),
        ("oil-filler", "oil-filler", "OIL", WARN),
        ("oil-filler", "oil-filler", "10W-40", WARN),
        ("coolant-filler", "coolant-filler", "COOLANT, DO NOT OPEN HOT", PASS),  # 23.1557(c)(3): the word
        ("coolant-filler", "coolant-filler", "WATER", WARN),
        ("emergency-control", "emergency", "CANOPY: TURN AND PUSH", PASS),  # 23.1555(e): the method
        ("emergency-control", "emergency", "FUEL SHUTOFF: PULL", PASS),
        ("emergency-control", "emergency", "CANOPY", WARN),
    ],
)
def test_words_of_placards(rule: str, purpose: str, text: str, wanted: Verdict) -> None:
    finding = one(rule, placard(purpose, text))
    assert (finding.verdict, finding.subject, finding.where[0].position.line) == (wanted, "P", 4)


def test_missing_placards() -> None:
    assert one("oil-filler", NONE).verdict is WARN
    assert one("emergency-control", NONE).verdict is WARN
    assert one("coolant-filler", WARMED.format("liquid") + NONE).verdict is WARN
    assert one("coolant-filler", WARMED.format("air") + NONE).verdict is NA
    assert one("coolant-filler", NONE).verdict is NO_DATA
    for rule in ("oil-filler", "emergency-control", "coolant-filler", "placard-place", "speeds", "aerobatics"):
        assert one(rule, "panel: {}\n").verdict is NO_DATA


def test_place_of_a_placard() -> None:
    assert one("placard-place", placard("other", "NO STEP", ", place: flap")).verdict is PASS
    assert one("placard-place", placard("fuel-filler", "AVGAS 100LL", ", place: cowling")).verdict is PASS
    assert one("placard-place", placard("other", "NO STEP")).verdict is NO_DATA
    assert one("placard-place", NONE).verdict is NO_DATA


TANKS = "fuel:\n  tanks:\n    - {id: LEFT-TANK, usable: 10.2 US gal}\n    - {id: T2, what: right wing root, usable: 38.6 L}\n"


@pytest.mark.parametrize(
    ("text", "left", "right"),
    [  # 23.1555(c), (d): each position, usable fuel by it; 10.2 US gal is 38.61 L
        ("LEFT 10.2 US GAL - RIGHT 38.6 L - OFF", PASS, PASS),
        ("LEFT 10.3 US GAL - RIGHT 38.7 L - OFF", WARN, WARN),
        ("LEFT 10 - RIGHT 10 - OFF", PASS, PASS),
        ("LEFT - RIGHT - OFF", WARN, WARN),
        ("LEFT 10 - OFF", PASS, WARN),
    ],
)
def test_fuel_selector(text: str, left: Verdict, right: Verdict) -> None:
    found = findings("markings/fuel-selector", placard("fuel-selector", text) + TANKS)
    assert [finding.verdict for finding in found] == [left, right]


@pytest.mark.parametrize(
    ("text", "verdict"),
    [
        ("FUEL 9 US GAL: ON - OFF", PASS),
        ("ON 9.1 US GAL - OFF", WARN),
        ("ON 34 L - OFF", PASS),
        ("FUEL ON - OFF", WARN),
    ],
)
def test_the_only_tank_needs_no_name_but_its_fuel(text: str, verdict: Verdict) -> None:
    tank = "fuel: {tanks: [{id: MAIN-TANK, usable: 9 US gal}]}\n"
    assert one("fuel-selector", placard("fuel-selector", text) + tank).verdict is verdict


def test_fuel_selector_missing_or_unknown() -> None:
    assert one("fuel-selector", NONE + TANKS).verdict is WARN
    assert one("fuel-selector", NONE + "fuel: {tanks: [{id: T}]}\n").verdict is NA
    unknown = placard("fuel-selector", "LEFT 10") + "fuel: {tanks: [{id: LEFT-TANK}]}\n"
    assert one("fuel-selector", unknown).verdict is NO_DATA
    unnamed = placard("fuel-selector", "LEFT 10") + "fuel: {tanks: [{id: T1}]}\n"
    assert one("fuel-selector", unnamed).verdict is NO_DATA


CONTROL = """
panel:
  legends: [{{id: L, text: "{legend}"}}]
  items:
    - {{id: C, kind: control{named}}}
{markings}
"""


@pytest.mark.parametrize(
    ("legend", "named", "beside", "wanted"),
    [  # Order 8130.2: controls are marked; 23.1555(a): function and method
        ("THROTTLE OPEN IN", ", legend: L", "", PASS),
        ("THROTTLE", ", legend: L", "", WARN),
        ("THROTTLE OPEN IN", "", "", FAIL),
        ("X", "", "CHOKE PULL", PASS),
    ],
)
def test_controls(legend: str, named: str, beside: str, wanted: Verdict) -> None:
    marks = placard("control", beside, ", beside: C") if beside else NONE
    finding = one("control-way", CONTROL.format(legend=legend, named=named, markings=marks))
    assert finding.verdict is wanted
    assert finding.where[0].position.line == 6
    assert one("control-way", "panel: {items: []}\n" + NONE).verdict is NA
    assert one("control-way", NONE).verdict is NO_DATA


LIMITS = (
    "aircraft: {name: T, authority: US, stage: operating, limits: {manoeuvring_speed: 92 kt, flaps_speed: 90 mph}}\n"
)


@pytest.mark.parametrize(
    ("text", "placards", "manoeuvring"),
    [  # 90 mph is 78.2 kt: 1609.344 m over 1852 m
        ("MANOEUVRING 92 KT", PASS, PASS),
        ("MANOEUVRING 93 KT", FAIL, WARN),
        ("FLAPS 90 MPH", PASS, WARN),
        ("FLAPS 78 KT", PASS, WARN),
        ("FLAPS 92 MPH", FAIL, WARN),
    ],
)
def test_speeds(text: str, placards: Verdict, manoeuvring: Verdict) -> None:
    records = LIMITS + placard("speeds", text)
    assert the_finding("markings/speeds", records, "P").verdict is placards
    assert the_finding("markings/speeds", records, "manoeuvring-speed").verdict is manoeuvring


def test_speeds_without_limits() -> None:
    assert one("speeds", placard("speeds", "92 KT")).verdict is NO_DATA
    empty = "aircraft: {name: T, authority: US, stage: operating, limits: {flaps_speed: 78 kt}}\n" + NONE
    assert one("speeds", empty).verdict is NO_DATA


COMPASS = "panel: {items: [{id: C, kind: instrument, what: compass}]}\n"


@pytest.mark.parametrize(
    ("text", "step", "wanted"),
    [  # 25.1547, 27.1547, 29.1547: steps of at most 45 degrees
        ("FOR N 30 60 E 120 150 S 210 240 W 300 330 STEER 1 31", 30, PASS),
        ("FOR N 45 90 135 180 225 270 315 STEER 0 44", 45, PASS),
        ("FOR N E S W STEER 1 91 180 270", 90, WARN),
        ("FOR 0 46 90 135 180 225 270 315 STEER 0", 46, WARN),
    ],
)
def test_compass_card(text: str, step: int, wanted: Verdict) -> None:
    finding = one("compass-card", COMPASS + placard("compass-card", text))
    assert finding.measured
    assert (finding.measured.value, finding.verdict) == (step, wanted)


def test_compass_card_missing() -> None:
    assert one("compass-card", COMPASS + NONE).verdict is WARN
    assert one("compass-card", COMPASS + placard("compass-card", "TO BE SWUNG")).verdict is WARN
    assert one("compass-card", "panel: {items: []}\n" + NONE).verdict is NA
    assert one("compass-card", COMPASS).verdict is NO_DATA


AEROBATICS = "aircraft: {{name: T, authority: US, stage: operating, operating_limitations: [{}]}}\n"
ALLOWED = "{id: OL, text: as tested, on: [aerobatics], says: allows}"


@pytest.mark.parametrize(
    ("limitation", "text", "wanted"),
    [
        ("", "NO AEROBATICS", PASS),
        ("", "AEROBATICS: LOOP 110 KT", WARN),
        (ALLOWED, "NO AEROBATICS", WARN),
        (ALLOWED, "AEROBATICS: LOOP 110 KT", PASS),
    ],
)
def test_aerobatics(limitation: str, text: str, wanted: Verdict) -> None:
    records = AEROBATICS.format(limitation)
    assert one("aerobatics", records + placard("aerobatics", text)).verdict is wanted
    assert one("aerobatics", records + NONE).verdict is WARN


def test_mark_of_the_locator() -> None:
    fitted, bare = "panel: {items: [{id: E, kind: other, what: ELT}]}\n", "panel: {items: []}\n"
    assert one("locator-mark", fitted + placard("elt", "EMERGENCY TRANSMITTER HERE")).verdict is PASS
    assert one("locator-mark", fitted + NONE).verdict is WARN
    assert one("locator-mark", bare + NONE).verdict is NA
    assert one("locator-mark", fitted).verdict is NO_DATA


ENGINE = """
aircraft:
  name: T
  authority: US
  stage: operating
  engine: {{limits: [{{id: O, what: oil pressure, least: 12 psi, most: {}}}]}}
"""
LINES = """
panel: {items: [{id: MON, kind: display}]}
markings:
  instrument_marks:
    - {id: A, instrument: MON, kind: line, colour: red, high: 12.0 psi}
    - {id: B, instrument: MON, kind: line, colour: red, high: 102psi}
"""


def test_engine_limits_are_marked() -> None:
    """23.1549: a red line at each maximum and minimum safe limit."""
    assert [f.verdict for f in findings("markings/engine-limits", ENGINE.format("102 psi") + LINES)] == [PASS, PASS]
    assert [f.verdict for f in findings("markings/engine-limits", ENGINE.format("103 psi") + LINES)] == [PASS, WARN]
    assert [f.verdict for f in findings("markings/red-line", ENGINE.format("102 psi") + LINES)] == [PASS, PASS]
    moved = findings("markings/red-line", ENGINE.format("103 psi") + LINES)
    assert [(f.subject, f.verdict, f.where[0].position.line) for f in moved] == [("A", PASS, 11), ("B", WARN, 12)]
    for rule in ("engine-limits", "red-line"):
        assert one(rule, LINES).verdict is NO_DATA
    assert one("red-line", ENGINE.format("102 psi") + NONE).verdict is NA


MARKS = "markings: {{registration_marks: {{text: X, {}}}}}\n"


@pytest.mark.parametrize(
    ("marks", "place", "sides"),
    [  # 45.25(a) vertical tail or fuselage sides, (b) both sides
        ("place: fuselage-sides, both_sides: true", PASS, PASS),
        ("place: vertical-tail, both_sides: true", PASS, PASS),
        ("place: wing, both_sides: true", FAIL, PASS),
        ("place: vertical-tail, both_sides: false", PASS, FAIL),
        ("place: vertical-tail", PASS, NO_DATA),
    ],
)
def test_place_of_the_marks(marks: str, place: Verdict, sides: Verdict) -> None:
    text = MARKS.format(marks)
    assert the_finding("markings/registration-place", text, "registration-marks").verdict is place
    assert the_finding("markings/registration-place", text, "both-sides").verdict is sides


def test_place_of_the_marks_not_recorded() -> None:
    assert one("registration-place", MARKS.format("height: 3 in")).verdict is NO_DATA
    assert one("registration-place", NONE).verdict is NO_DATA


GIVEN = """
aircraft:
  name: T
  authority: US
  stage: operating
  operating_limitations: [{{id: OL, text: {}, on: [{}], says: asks}}]
"""


@pytest.mark.parametrize(
    ("text", "purpose", "wanted"),
    [
        ("NO SMOKING", "passenger-warning", PASS),
        ("No  smoking", "passenger-warning", PASS),
        ("NO SMOKING HERE", "passenger-warning", FAIL),
        ("NO SMOKING", "aerobatics", NA),
    ],
)
def test_words_as_issued(text: str, purpose: str, wanted: Verdict) -> None:
    """Order 8130.2: the words come from the aircraft's own limitations."""
    assert one("wording", GIVEN.format(text, purpose) + placard("passenger-warning", "NO SMOKING")).verdict is wanted
    assert one("wording", GIVEN.format(text, purpose)).verdict is NO_DATA
