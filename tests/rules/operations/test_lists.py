"""91.205(b), (c) and (d) of 14 CFR, edition 1 January 2014, item by item; the numbers of the items are the regulation's own."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Stage, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "91-205-b": "operations/day-vfr",
    "91-205-c-1": "operations/night-vfr",
    "91-205-c-2": "operations/night-vfr",
    "91-205-c-3": "operations/night-vfr",
    "91-205-c-4": "operations/night-vfr",
    "91-205-c-5": "operations/night-vfr",
    "91-205-c-6": "operations/night-vfr",
    "91-205-d": "operations/ifr",
    "nothing computed": "operations/allowed operations/limitation-understood",
}

RECORDED = "it judges what is recorded, and where there is nothing there is nothing to judge"
NO_SUCH_CASE = {
    "operations/limitation-understood": {"no data": RECORDED},
}

ENGINE = "cooling: mixed, pressure_oil: true, altitude_engine: true"
AIRCRAFT = """
aircraft:
  name: T
  authority: US
  stage: systems
  operations: [{operations}]
  seats: 2
  gear_retracts: {retracts}
  engine: {{{engine}}}
  seating:
    - {{id: S1, front: true, belt: {belt}, metal_latch: {latch}}}
    - {{id: S2, front: true, belt: four-point, metal_latch: true}}
{more}
panel:
  items:
{items}
"""
BY_ITEM = {
    "b-1": "airspeed indicator",
    "b-2": "altimeter",
    "b-3": "magnetic compass",
    "b-4": "tachometer",
    "b-5": "oil pressure gauge",
    "b-6": "coolant temperature gauge",
    "b-7": "oil temperature gauge",
    "b-8": "manifold pressure gauge",
    "b-9": "fuel gauges",
    "b-10": "gear position indicator",
    "b-15": "emergency locator transmitter",
    "d-3": "turn coordinator",
    "d-4": "slip ball",
    "d-5": "sensitive altimeter",
    "d-6": "clock",
    "d-8": "artificial horizon",
    "d-9": "directional gyro",
}
NAMES = (*BY_ITEM.values(), "radio")
NAVIGATOR = "    - {id: NAVIGATOR, kind: display, what: map, provides: [navigation]}\n"


def records(
    *names: str,
    operations: str = "day-vfr",
    engine: str = ENGINE,
    retracts: str = "true",
    belt: str = "four-point",
    latch: str = "true",
    more: str = "",
    items: str = "",
) -> str:
    lines = "".join(f"    - {{id: I{n}, kind: instrument, what: {name}}}\n" for n, name in enumerate(names))
    return AIRCRAFT.format(
        operations=operations, engine=engine, retracts=retracts, belt=belt, latch=latch, more=more, items=lines + items
    )


def day(item: str, text: str) -> Finding:
    return the_finding("operations/day-vfr", text, item)


def ifr(item: str, text: str) -> Finding:
    return the_finding("operations/ifr", text, item)


def test_every_numbered_item_is_one_finding() -> None:
    subjects = [finding.subject for finding in findings("operations/day-vfr", records(*NAMES))]
    assert sorted(subjects, key=lambda s: int(s[2:])) == [f"b-{n}" for n in range(1, 18)]
    night = findings("operations/night-vfr", records(*NAMES, operations="night-vfr"))
    assert [finding.subject for finding in night] == [f"c-{n}" for n in range(1, 7)]
    by_instruments = {finding.subject for finding in findings("operations/ifr", records(*NAMES, operations="ifr"))}
    assert by_instruments == {f"d-{n}" for n in range(1, 10)}


def test_a_full_panel_passes() -> None:
    found = {finding.subject: finding.verdict for finding in findings("operations/day-vfr", records(*NAMES))}
    not_an_aeroplanes_or_not_for_it = {"b-11", "b-12", "b-17"}
    assert {
        item for item, verdict in found.items() if verdict is Verdict.PASS
    } == found.keys() - not_an_aeroplanes_or_not_for_it


@pytest.mark.parametrize("item", [item for item in BY_ITEM if item.startswith("b-")])
def test_each_day_item_is_missed_alone(item: str) -> None:
    """Without its instrument an item warns, at the line of the intended flights; the rest stays as it was."""
    names = [name for name in NAMES if name != BY_ITEM[item] and not (item == "b-2" and name == "sensitive altimeter")]
    finding = day(item, records(*names))
    assert finding.verdict is Verdict.WARN
    assert finding.where[0].position.line == 6
    others = [f.subject for f in findings("operations/day-vfr", records(*names)) if f.verdict is Verdict.WARN]
    assert others == [item]


@pytest.mark.parametrize("item", [item for item in BY_ITEM if item.startswith("d-")])
def test_each_instrument_flight_item_is_missed_alone(item: str) -> None:
    names = [name for name in NAMES if name != BY_ITEM[item]]
    assert ifr(item, records(*NAMES, operations="ifr")).verdict is Verdict.PASS
    if item == "d-4":  # a turn coordinator shows slip too
        names.remove("turn coordinator")
    assert ifr(item, records(*names, operations="ifr")).verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("item", "engine", "wanted"),
    [  # 91.205(b)(5) pressure oil system, (6) liquid-cooled, (7) air-cooled, (8) altitude engine
        ("b-5", "cooling: air, pressure_oil: false", Verdict.NOT_APPLICABLE),
        ("b-5", "cooling: air", Verdict.WARN),
        ("b-6", "cooling: air", Verdict.NOT_APPLICABLE),
        ("b-6", "cooling: mixed", Verdict.WARN),
        ("b-6", "power: 100 hp", Verdict.NO_DATA),
        ("b-7", "cooling: liquid", Verdict.NOT_APPLICABLE),
        ("b-7", "cooling: air", Verdict.WARN),
        ("b-8", "altitude_engine: false", Verdict.NOT_APPLICABLE),
        ("b-8", "cooling: air", Verdict.NO_DATA),
    ],
)
def test_what_the_engine_decides(item: str, engine: str, wanted: Verdict) -> None:
    assert day(item, records("altimeter", engine=engine)).verdict is wanted


def test_fixed_gear_needs_no_indicator() -> None:
    assert day("b-10", records("altimeter", retracts="false")).verdict is Verdict.NOT_APPLICABLE


def test_without_a_panel_nothing_is_known_to_be_missing() -> None:
    text = "aircraft: {name: T, authority: US, stage: systems, operations: [day-vfr]}\nelectrical: {loads: []}\n"
    assert day("b-1", text).verdict is Verdict.NO_DATA
    assert [f.verdict for f in findings("operations/day-vfr", "panel: {}\n")] == [
        Verdict.NO_DATA
    ]  # no flights recorded


@pytest.mark.parametrize(
    ("name", "counts"),
    [
        ("airspeed indicator", True),
        ("left airspeed indicator", True),
        ("'airspeed indicator, 3-1/8 inch'", True),
        ("cover of the airspeed indicator", False),
        ("airspeed indicator tubing", False),
        ("stand for an airspeed indicator", False),
    ],
)
def test_only_the_thing_itself_counts(name: str, counts: bool) -> None:
    assert (day("b-1", records(name)).verdict is Verdict.PASS) == counts


def test_a_component_counts_only_when_fitted() -> None:
    part = "weights: {{components: [{{id: C, what: compass, fitted: {}}}]}}\n"
    for fitted, wanted in (("true", Verdict.PASS), ("false", Verdict.WARN)):
        assert day("b-3", records("altimeter") + part.format(fitted)).verdict is wanted


def test_a_single_gauge_does_not_show_two_tanks() -> None:
    tanks = "fuel: {tanks: [{id: L}, {id: R}]}\n"
    assert day("b-9", records("fuel gauge") + tanks).verdict is Verdict.WARN
    assert day("b-9", records("fuel gauge", "fuel gauge") + tanks).verdict is Verdict.PASS
    assert day("b-9", records("fuel gauges") + tanks).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("item", "belt", "latch", "wanted"),
    [
        ("b-13", "four-point", "true", Verdict.PASS),
        ("b-13", "four-point", "false", Verdict.WARN),
        ("b-13", "none", "true", Verdict.WARN),
        ("b-14", "three-point", "true", Verdict.PASS),
        ("b-14", "lap-belt", "true", Verdict.WARN),
        ("b-16", "lap-belt", "true", Verdict.WARN),
    ],
)
def test_belts(item: str, belt: str, latch: str, wanted: Verdict) -> None:
    finding = day(item, records("altimeter", belt=belt, latch=latch))
    assert finding.verdict is wanted
    assert finding.where[0].position.line == 11


def test_belts_not_recorded() -> None:
    text = "aircraft: {name: T, authority: US, stage: systems, operations: [day-vfr], seats: 1}\npanel: {items: []}\n"
    assert {day(item, text).verdict for item in ("b-13", "b-14", "b-16")} == {Verdict.NO_DATA}


LIMITATION = "  operating_limitations: [{{id: OL, number: '4', text: as issued, on: [{item}], says: {says}}}]"


def test_the_aircrafts_own_limitations_come_first() -> None:
    asked = records("altimeter", more=LIMITATION.format(item="b-3", says="asks"))
    finding = day("b-3", asked)
    assert finding.verdict is Verdict.FAIL
    assert [spot.position.line for spot in finding.where] == [6, 13]
    waived = records("altimeter", more=LIMITATION.format(item="b-3", says="waives"))
    assert day("b-3", waived).verdict is Verdict.NOT_APPLICABLE
    assert "OL, number 4" in day("b-3", waived).message
    fitted = records("altimeter", "compass", more=LIMITATION.format(item="b-3", says="asks"))
    assert day("b-3", fitted).verdict is Verdict.PASS
    by_instruments = records(*NAMES[:-3], operations="ifr", more=LIMITATION.format(item="d-9", says="waives"))
    assert ifr("d-9", by_instruments).verdict is Verdict.NOT_APPLICABLE


def test_radio_and_navigation() -> None:
    both = records(*NAMES, operations="ifr", items=NAVIGATOR)
    assert ifr("d-2", both).verdict is Verdict.PASS
    assert ifr("d-2", records(*NAMES, operations="ifr")).verdict is Verdict.FAIL


ALTERNATOR = "electrical: {sources: [{id: ALT, kind: alternator, rating: 40 A}]}\n"
BATTERY = "electrical: {sources: [{id: BAT, kind: battery}]}\n"


@pytest.mark.parametrize(
    ("rule", "item", "electrical", "wanted"),
    [  # (c)(5) asks for a source of energy, (d)(7) for a generator or alternator
        ("night-vfr", "c-5", ALTERNATOR, Verdict.PASS),
        ("night-vfr", "c-5", BATTERY, Verdict.PASS),
        ("night-vfr", "c-5", "electrical: {loads: []}\n", Verdict.FAIL),
        ("night-vfr", "c-5", "", Verdict.NO_DATA),
        ("ifr", "d-7", ALTERNATOR, Verdict.PASS),
        ("ifr", "d-7", BATTERY, Verdict.FAIL),
        ("ifr", "d-7", "", Verdict.NO_DATA),
    ],
)
def test_energy(rule: str, item: str, electrical: str, wanted: Verdict) -> None:
    text = records(*NAMES, operations=rule) + electrical
    assert the_finding(f"operations/{rule}", text, item).verdict is wanted


APPROVED = "approval: {standard: TSO-C30c, evidence: evidence/x.jpg}"
LIGHTS = f"""
lighting:
  lights:
    - {{id: L, function: position-left, {APPROVED}}}
    - {{id: R, function: position-right, {APPROVED}}}
    - {{id: T, function: position-tail, {APPROVED}}}
    - {{id: F, function: anti-collision, {APPROVED}}}
"""


def night(item: str, text: str) -> Verdict:
    return the_finding("operations/night-vfr", text, item).verdict


def test_night_lights() -> None:
    text = records(*NAMES, operations="night-vfr")
    assert (night("c-2", text + LIGHTS), night("c-3", text + LIGHTS)) == (Verdict.PASS, Verdict.PASS)
    assert (night("c-2", text), night("c-3", text)) == (Verdict.NO_DATA, Verdict.NO_DATA)
    no_tail = "\n".join(line for line in LIGHTS.splitlines() if "id: T" not in line) + "\n"
    assert (night("c-2", text + no_tail), night("c-3", text + no_tail)) == (Verdict.FAIL, Verdict.PASS)
    bare = LIGHTS.replace(f"anti-collision, {APPROVED}", "anti-collision")
    assert (night("c-2", text + bare), night("c-3", text + bare)) == (Verdict.PASS, Verdict.FAIL)


def test_night_pulls_the_day_list_in() -> None:
    assert night("c-1", records(*NAMES, operations="night-vfr")) is Verdict.PASS
    assert night("c-1", records(*NAMES[1:], operations="night-vfr")) is Verdict.FAIL
    unsure = [name for name in NAMES if name != "manifold pressure gauge"]
    assert night("c-1", records(*unsure, operations="night-vfr", engine="cooling: air")) is Verdict.NO_DATA


def test_items_from_memory_warn_at_most() -> None:
    """(15) to (17) were not read."""
    assert night("c-1", records(*NAMES, operations="night-vfr", belt="three-point")) is Verdict.PASS
    without = [name for name in NAMES if name != "emergency locator transmitter"]
    assert night("c-1", records(*without, operations="night-vfr")) is Verdict.WARN
    assert night("c-1", records(*without[1:], operations="night-vfr")) is Verdict.FAIL


def test_no_limitation_waives_what_binds_by_its_own_words() -> None:
    """91.205(a) takes (c)(3) out of the limit to standard-category aircraft."""
    bare = LIGHTS.replace(f"anti-collision, {APPROVED}", "anti-collision").replace(
        f"position-tail, {APPROVED}", "position-tail"
    )
    for item, wanted in (("c-2", Verdict.NOT_APPLICABLE), ("c-3", Verdict.FAIL)):
        text = records(*NAMES, operations="night-vfr", more=LIMITATION.format(item=item, says="waives"))
        assert night(item, text + bare) is wanted


def test_landing_light_is_for_hire_only() -> None:
    text, hire = (
        records(*NAMES, operations="night-vfr"),
        records(*NAMES, operations="night-vfr", more="  for_hire: true"),
    )
    assert night("c-4", text) is Verdict.NOT_APPLICABLE
    assert night("c-4", hire) is Verdict.FAIL
    landing = "lighting: {lights: [{id: X, function: landing}]}\n"
    assert night("c-4", hire + landing) is Verdict.PASS


def test_spare_fuses() -> None:
    """Three of each kind, or a whole set: 91.205(c)(6)."""
    text = records(*NAMES, operations="night-vfr")
    fuse = (
        "electrical: {{protection: [{{id: F1, kind: blade-fuse, rating: 5 A, reachable_in_flight: {}, spares: {}}}]}}\n"
    )
    assert night("c-6", text + fuse.format("true", 1)) is Verdict.PASS
    assert night("c-6", text + fuse.format("true", 0)) is Verdict.FAIL
    assert night("c-6", text + fuse.format("false", 0)) is Verdict.NOT_APPLICABLE
    assert night("c-6", text) is Verdict.NO_DATA


@pytest.mark.parametrize("rule", ["night-vfr", "ifr"])
def test_what_is_not_intended_is_not_asked(rule: str) -> None:
    assert [f.verdict for f in findings(f"operations/{rule}", records(*NAMES))] == [Verdict.NOT_APPLICABLE]


ALLOWED = "operations/allowed"


@pytest.mark.parametrize(
    ("flight", "says", "wanted"),
    [  # 91.319(d)(2): VFR by day only, unless specifically authorized
        ("day-vfr", None, Verdict.PASS),
        ("day-vfr", "bars", Verdict.FAIL),
        ("night-vfr", None, Verdict.NO_DATA),
        ("night-vfr", "allows", Verdict.PASS),
        ("night-vfr", "bars", Verdict.FAIL),
        ("ifr", None, Verdict.NO_DATA),
    ],
)
def test_flights_that_the_limitations_allow(flight: str, says: str | None, wanted: Verdict) -> None:
    more = LIMITATION.format(item=flight, says=says) if says else ""
    finding = the_finding(ALLOWED, records("x", operations=flight, more=more), flight, at=Stage.OPERATING)
    assert finding.verdict is wanted
    assert finding.where[0].position.line == 6


def test_limitations_are_issued_before_first_flight() -> None:
    found = findings(ALLOWED, records("x", operations="night-vfr"), at=Stage.INSPECTION)
    assert [finding.verdict for finding in found] == [Verdict.NOT_DUE]


@pytest.mark.parametrize(
    ("item", "says", "wanted"),
    [
        ("b-3", "asks", Verdict.PASS),
        ("d-9", "waives", Verdict.PASS),
        ("night-vfr", "allows", Verdict.PASS),
        ("d-10", "asks", Verdict.WARN),
        ("b-3", "allows", Verdict.WARN),
        ("c-3", "asks", Verdict.PASS),
        ("c-3", "waives", Verdict.WARN),
        ("passenger-warning", "asks", Verdict.PASS),
        ("passenger-warning", "waives", Verdict.WARN),
    ],
)
def test_limitation_that_decides_nothing(item: str, says: str, wanted: Verdict) -> None:
    text = records("x", more=LIMITATION.format(item=item, says=says))
    assert the_finding("operations/limitation-understood", text, "OL").verdict is wanted


def test_every_message_names_the_item_that_it_answers() -> None:
    """Item d-3 is 91.205(d)(3), and so on, whatever the verdict."""
    bare = records("x", operations="night-vfr, ifr")
    full = records(*NAMES, operations="night-vfr, ifr", items=NAVIGATOR) + LIGHTS + ALTERNATOR
    named = {"91.205", "91.207", "91.209"}
    for rule in ("day-vfr", "night-vfr", "ifr"):
        for text in (bare, full):
            for finding in findings(f"operations/{rule}", text):
                letter, number = finding.subject.split("-")
                if any(section in finding.message for section in named) and "91.205" in finding.message:
                    assert f"91.205({letter})({number})" in finding.message


def test_a_belt_that_is_missing_or_half_recorded_is_shown_where_it_is() -> None:
    half = records("altimeter").replace(", metal_latch: true}", "}", 1)
    found = day("b-13", half)
    assert (found.verdict, found.where[0].position.line) == (Verdict.NO_DATA, 11)
    assert "not recorded of S1" in found.message
    without = records("altimeter").replace("belt: four-point, metal_latch: true}\n\n", "metal_latch: true}\n\n")
    for item in ("b-13", "b-14", "b-16"):
        found = day(item, without)
        assert (found.verdict, found.where[0].position.line) == (Verdict.NO_DATA, 12)
        assert "not recorded of S2" in found.message
    none = records("altimeter", belt="none").replace("belt: none, metal_latch: true", "belt: none")
    assert day("b-13", none).where[0].field == "belt"


def test_a_device_that_provides_it_serves_all_tanks() -> None:
    tanks = "fuel: {tanks: [{id: L}, {id: R}]}\n"
    monitor = "    - {id: MONITOR, kind: display, what: engine monitor, provides: [fuel-quantity]}\n"
    assert day("b-9", records("altimeter", items=monitor) + tanks).verdict is Verdict.PASS


def test_what_is_approved_and_no_position_light_answers_for_none() -> None:
    taxi = LIGHTS.rstrip("\n") + "\n    - {id: TAXI, function: taxi}\n    - {id: LAND, function: landing}\n"
    assert night("c-2", records(*NAMES, operations="night-vfr") + taxi) is Verdict.PASS


def test_a_limitation_leaves_no_word_on_none() -> None:
    text = records("x", more=LIMITATION.format(item="b-3", says="asks"))
    assert [f.subject for f in findings("operations/limitation-understood", text)] == ["OL"]
    assert [f.subject for f in findings("operations/limitation-understood", records("x"))] == ["aircraft"]
