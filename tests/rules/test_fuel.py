"""Rules for fuel flow, tanks, lines, firewall and propeller, around their limits and without their data."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, record_line, the_finding

ORACLES = {
    "23-969": "fuel/expansion",
    "23-1191-h": "fuel/firewall-sheet",
    "23-955": "fuel/flow",
    "ac90-89-attitude": "fuel/flow-attitude",
    "navy-14105": "fuel/hose-slack fuel/line-support",
    "amt-tube-support": "fuel/line-support",
    "ac43-11-96-w": "fuel/line-to-wiring",
    "23-977": "fuel/outlet-strainer",
    "23-971": "fuel/sump",
    "23-967-c": "fuel/tank-at-firewall",
    "23-925": "propeller/ground-clearance propeller/structure-clearance propeller/water-clearance",
    "own arithmetic": (
        "fuel/capacity-mark fuel/gauge-zero fuel/hose-age fuel/line-to-exhaust fuel/unusable "
        "propeller/diameter-fits propeller/flat-tyre"
    ),
    "nothing computed": (
        "fuel/drain fuel/firewall-openings fuel/flow-day fuel/flow-every-feed fuel/line-below-wiring "
        "fuel/pump-redundancy fuel/shutoff fuel/strainer fuel/vent"
    ),
}

ASKED = "it asks for a record alone: one that is missing is no data"
NO_SUCH_CASE = {
    "fuel/firewall-openings": {"just over": ASKED},
    "fuel/flow-every-feed": {"just over": ASKED},
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
Changes = dict[str, str | None]

AIRCRAFT = (
    "aircraft: {name: Test Article, authority: US, stage: operating, "
    "engine: {power: 100 hp, fuel_feed: electric-pump}}\n"
)
NEED = "fuel:\n  specific_consumption: 0.55 lb/hp/h\n  density: 6 lb/US gal\n  climb_angle: 10 deg\n"

RECORDS: dict[str, dict[str, str]] = {
    "flow_tests": {"id": "X", "flow": "14 US gal/h", "feed": "gravity", "pitch": "16 deg"},
    "tanks": {
        "id": "X",
        "capacity": "12 US gal",
        "usable": "11.5 US gal",
        "expansion_space": "0.3 US gal",
        "left_over": "0.4 US gal",
        "marked_usable": "11.5 US gal",
        "gauge_zero": "0.6 US gal",
        "sump": "0.07 US gal",
        "outlet_mesh": "12",
        "outlet_strainer_area": "0.6 in2",
        "outlet_line_area": "0.08 in2",
        "to_firewall": "0.75 in",
    },
    "strainers": {"id": "X", "drainable": "true", "own_support": "true"},
    "valves": {"id": "X", "engine_side": "false", "reachable": "true", "off_guarded": "true"},
    "lines": {
        "id": "X",
        "kind": "hose",
        "diameter": "3/8 in",
        "length": "21.2 in",
        "straight": "20 in",
        "longest_span": "14 in",
        "to_wiring": "6 in",
        "below_wiring": "true",
        "to_exhaust": "4 in",
        "made": "2024-06-01",
        "life": "5",
    },
}
TUBE: Changes = {"kind": "aluminium-tube", "longest_span": "16 in"}
CAUGHT: Changes = {"flow": None, "caught": "0.125 US gal", "time": "38 s"}

LIST_OF = {
    "flow": "flow_tests",
    "flow-attitude": "flow_tests",
    "flow-day": "flow_tests",
    "unusable": "tanks",
    "capacity-mark": "tanks",
    "gauge-zero": "tanks",
    "expansion": "tanks",
    "sump": "tanks",
    "outlet-strainer": "tanks",
    "tank-at-firewall": "tanks",
    "strainer": "strainers",
    "shutoff": "valves",
    "line-to-wiring": "lines",
    "line-below-wiring": "lines",
    "line-to-exhaust": "lines",
    "hose-age": "lines",
    "hose-slack": "lines",
    "line-support": "lines",
}

NUMBERS: list[tuple[str, Changes, Verdict, float, float]] = [
    # AC 90-89A: 100 hp at 0.55 lb/hp/h is 55 lb/h; 82.5 lb/h or 13.75 gal/h by gravity, 68.75 lb/h or 11.458 gal/h by pump
    ("flow", {}, PASS, 14, 13.75),
    ("flow", {"flow": "13.75 US gal/h"}, PASS, 13.75, 13.75),
    ("flow", {"flow": "13.7 US gal/h"}, FAIL, 13.7, 13.75),
    ("flow", {"flow": "11.46 US gal/h", "feed": "pump"}, PASS, 11.46, 68.75 / 6),
    ("flow", {"flow": "11.45 US gal/h", "feed": "pump"}, FAIL, 11.45, 68.75 / 6),
    # two cups in 38 s: 2 x 225 / 38 = 11.84 gal/h
    ("flow", {**CAUGHT, "feed": "pump"}, PASS, 450 / 38, 68.75 / 6),
    ("flow", CAUGHT, FAIL, 450 / 38, 13.75),
    ("flow", {**CAUGHT, "time": "1 s"}, PASS, 450, 13.75),
    ("flow-attitude", {}, PASS, 16, 15),
    ("flow-attitude", {"pitch": "15 deg"}, PASS, 15, 15),
    ("flow-attitude", {"pitch": "14 deg"}, WARN, 14, 15),
    ("unusable", {}, PASS, 0.5, 0.4),
    ("unusable", {"left_over": "0.5 US gal"}, PASS, 0.5, 0.5),
    ("unusable", {"left_over": "0.55 US gal"}, FAIL, 0.5, 0.55),
    ("capacity-mark", {"marked_usable": "11 US gal"}, PASS, 11, 11.5),
    ("capacity-mark", {}, PASS, 11.5, 11.5),
    ("capacity-mark", {"marked_usable": "12 US gal"}, WARN, 12, 11.5),
    # 12 - 11.5 gal cannot be used
    ("gauge-zero", {}, PASS, 0.6, 0.5),
    ("gauge-zero", {"gauge_zero": "0.5 US gal"}, PASS, 0.5, 0.5),
    ("gauge-zero", {"gauge_zero": "0.4 US gal"}, FAIL, 0.4, 0.5),
    # 2 % of 12 gal
    ("expansion", {}, PASS, 0.3, 0.24),
    ("expansion", {"expansion_space": "0.24 US gal"}, PASS, 0.24, 0.24),
    ("expansion", {"expansion_space": "0.2 US gal"}, FAIL, 0.2, 0.24),
    # 0.25 % of 12 gal is less than 1/16 gal; of 40 gal it is more
    ("sump", {}, PASS, 0.07, 0.0625),
    ("sump", {"sump": "1/16 US gal"}, PASS, 0.0625, 0.0625),
    ("sump", {"sump": "0.06 US gal"}, WARN, 0.06, 0.0625),
    ("sump", {"capacity": "40 US gal"}, WARN, 0.07, 0.1),
    ("outlet-strainer", {}, PASS, 0.6, 0.4),
    ("outlet-strainer", {"outlet_strainer_area": "0.4 in2"}, PASS, 0.4, 0.4),
    ("outlet-strainer", {"outlet_strainer_area": "0.39 in2"}, WARN, 0.39, 0.4),
    ("outlet-strainer", {"outlet_mesh": "8"}, PASS, 0.6, 0.4),
    ("outlet-strainer", {"outlet_mesh": "16"}, PASS, 0.6, 0.4),
    ("outlet-strainer", {"outlet_mesh": "7"}, WARN, 7, 8),
    ("outlet-strainer", {"outlet_mesh": "17"}, WARN, 17, 16),
    ("tank-at-firewall", {}, PASS, 0.75, 0.5),
    ("tank-at-firewall", {"to_firewall": "0.5 in"}, PASS, 0.5, 0.5),
    ("tank-at-firewall", {"to_firewall": "0.4 in"}, WARN, 0.4, 0.5),
    ("line-to-wiring", {}, PASS, 6, 6),
    ("line-to-wiring", {"to_wiring": "5.9 in"}, FAIL, 5.9, 6),
    ("line-to-wiring", {"to_wiring": "2 in", "wiring_clamped": "true"}, PASS, 2, 2),
    ("line-to-wiring", {"to_wiring": "1.9 in", "wiring_clamped": "true"}, FAIL, 1.9, 2),
    ("line-to-exhaust", {}, PASS, 4, 3),
    ("line-to-exhaust", {"to_exhaust": "3 in"}, PASS, 3, 3),
    ("line-to-exhaust", {"to_exhaust": "2.9 in"}, WARN, 2.9, 3),
    ("line-to-exhaust", {"to_exhaust": "1 in", "shielded": "true"}, PASS, 1, 1),
    ("line-to-exhaust", {"to_exhaust": "0.5 in", "shielded": "true"}, WARN, 0.5, 1),
    # what touches fails, and so does what is nearer than a manual asks for
    ("line-to-exhaust", {"to_exhaust": "0 in", "shielded": "true"}, FAIL, 0, 1),
    ("line-to-exhaust", {"least_to_exhaust": "4 in", "manual": "page 3-14"}, PASS, 4, 4),
    ("line-to-exhaust", {"least_to_exhaust": "4.1 in", "manual": "page 3-14"}, FAIL, 4, 4.1),
    ("line-to-exhaust", {"to_exhaust": "2 in", "least_to_exhaust": "2 in", "manual": "page 3-14"}, PASS, 2, 2),
    ("hose-slack", {}, PASS, 6, 5),
    ("hose-slack", {"length": "21 in"}, PASS, 5, 5),
    ("hose-slack", {"length": "20.9 in"}, FAIL, 4.5, 5),
    ("hose-slack", {"length": "21.6 in"}, PASS, 8, 5),
    ("hose-slack", {"length": "21.8 in"}, WARN, 9, 8),
    ("line-support", {}, PASS, 14, 24),
    ("line-support", {"longest_span": "24 in"}, PASS, 24, 24),
    ("line-support", {"longest_span": "24.5 in"}, FAIL, 24.5, 24),
    # table 7-5, from memory: 3/8 in aluminium 16-1/2 in, steel 20 in
    ("line-support", TUBE, PASS, 16, 16.5),
    ("line-support", {**TUBE, "longest_span": "16.5 in"}, PASS, 16.5, 16.5),
    ("line-support", {**TUBE, "longest_span": "17 in"}, WARN, 17, 16.5),
    ("line-support", {**TUBE, "longest_span": "17 in", "kind": "steel-tube"}, PASS, 17, 20),
]

WORDS: list[tuple[str, Changes, Verdict, str]] = [
    ("flow", {"flow": None}, NO_DATA, "'flow' is not recorded"),
    ("flow", {**CAUGHT, "time": "0 s"}, NO_DATA, "'flow' is not recorded"),
    ("flow", {"feed": None}, NO_DATA, "'feed' is not recorded"),
    ("flow-attitude", {"pitch": None}, NO_DATA, "'pitch' is not recorded"),
    ("flow-day", {"day": "2026-05-31"}, PASS, "measured on 2026-05-31"),
    ("flow-day", {"day": "2026-06-01"}, PASS, "measured on 2026-06-01"),  # the day of judging itself
    ("flow-day", {"day": "2026-06-02"}, FAIL, "a day yet to come"),
    ("flow-day", {}, NO_DATA, "'day' is not recorded"),
    ("unusable", {"left_over": None}, NO_DATA, "'left_over' is not recorded"),
    ("capacity-mark", {"marked_usable": None}, NO_DATA, "'marked_usable' is not recorded"),
    ("gauge-zero", {"gauge_zero": None}, NO_DATA, "'gauge_zero' is not recorded"),
    ("expansion", {"expansion_space": None}, NO_DATA, "'expansion_space' is not recorded"),
    ("sump", {"sump": None}, NO_DATA, "'sump' is not recorded"),
    ("outlet-strainer", {"outlet_line_area": "0 in2"}, NO_DATA, "carries no fuel"),
    ("outlet-strainer", {"outlet_mesh": None}, NO_DATA, "'outlet_mesh' is not recorded"),
    ("tank-at-firewall", {"to_firewall": None}, APART, "not recorded as standing near"),
    ("strainer", {}, PASS, "drainable, held to structure"),
    ("strainer", {"place": "at the firewall"}, PASS, "drainable, held to structure"),
    ("strainer", {"drainable": "false"}, WARN, "cannot be drained"),
    ("strainer", {"own_support": "false"}, WARN, "hung on its lines"),
    ("strainer", {"own_support": None}, NO_DATA, "'own_support' is not recorded"),
    ("shutoff", {}, PASS, "within reach, behind the firewall"),
    ("shutoff", {"place": "between the seats"}, PASS, "within reach, behind the firewall"),
    ("shutoff", {"engine_side": "true"}, WARN, "on the engine's side"),
    ("shutoff", {"reachable": "false"}, WARN, "does not reach it"),
    ("shutoff", {"off_guarded": "false"}, WARN, "no act of its own"),
    ("shutoff", {"off_guarded": None}, NO_DATA, "'off_guarded' is not recorded"),
    ("line-to-wiring", {"to_wiring": None}, NO_DATA, "'to_wiring' is not recorded"),
    ("line-below-wiring", {}, PASS, "below the wiring"),
    ("line-below-wiring", {"below_wiring": "false"}, WARN, "not below the wiring"),
    ("line-below-wiring", {"below_wiring": None}, NO_DATA, "'below_wiring' is not recorded"),
    ("line-below-wiring", {"below_wiring": None, "to_wiring": "7 in"}, APART, "7 in from all wiring"),
    ("line-to-exhaust", {"least_to_exhaust": "4 in"}, NO_DATA, "'manual' is not recorded, which gives"),
    ("line-to-exhaust", {"least_to_exhaust": "4 in", "manual": "page 3-14"}, PASS, "page 3-14 asks for 4 in"),
    ("line-to-exhaust", {"to_exhaust": None}, APART, "not recorded as coming near"),
    # judged on 2026-06-01
    ("hose-age", {}, PASS, "2 years old; 5 years by declaration"),
    ("hose-age", {"made": "2021-06-01"}, PASS, "5 years old"),
    ("hose-age", {"made": "2022-06-02"}, PASS, "3 years old"),  # four years tomorrow
    ("hose-age", {"made": "2022-12-01"}, PASS, "3 years old"),
    ("hose-age", {"made": "2021-05-31"}, FAIL, "5 years old; 5 years by declaration"),
    ("hose-age", {"made": "2021-05-31", "life": None}, WARN, "5 years by custom"),
    ("hose-age", {"made": "2020-02-29", "life": "7"}, PASS, "6 years old"),
    ("hose-age", {"life": "999999999"}, PASS, "2 years old"),
    ("hose-age", {"made": "2026-06-02"}, FAIL, "a day yet to come"),
    ("hose-age", {"made": "2026-06-01"}, PASS, "0 years old"),
    ("hose-age", {"made": "2026-05-31", "life": "0"}, FAIL, "0 years by declaration"),
    ("hose-age", {"made": None}, NO_DATA, "'made' is not recorded"),
    ("hose-age", TUBE, APART, "aluminium-tube"),
    ("hose-slack", {"straight": None}, NO_DATA, "'straight' is not recorded"),
    ("hose-slack", TUBE, APART, "aluminium-tube"),
    ("line-support", {**TUBE, "diameter": "0.4 in"}, NO_DATA, "the table has no tube of 0.4 in"),
    ("line-support", {"kind": None}, NO_DATA, "'kind' is not recorded"),
]


def records_for(rule: str, changes: Changes) -> str:
    name = LIST_OF[rule]
    return f"{AIRCRAFT}{NEED}  {name}:\n    - {record_line(RECORDS[name], **changes)}\n"


@pytest.mark.parametrize(("rule", "changes", "verdict", "measured", "limit"), NUMBERS)
def test_against_its_limit(rule: str, changes: Changes, verdict: Verdict, measured: float, limit: float) -> None:
    finding = the_finding(f"fuel/{rule}", records_for(rule, changes), "X")
    assert finding.verdict is verdict, finding.message
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(measured, abs=1e-6)
    assert finding.limit.value == pytest.approx(limit, abs=1e-6)
    assert finding.where[0].position.line == 7


@pytest.mark.parametrize(("rule", "changes", "verdict", "words"), WORDS)
def test_what_is_said_where_no_figures_decide(rule: str, changes: Changes, verdict: Verdict, words: str) -> None:
    finding = the_finding(f"fuel/{rule}", records_for(rule, changes), "X")
    assert finding.verdict is verdict, finding.message
    assert words in finding.message
    assert finding.where[0].position.line == 7


@pytest.mark.parametrize("rule", [*LIST_OF, "vent", "drain", "flow-every-feed", "firewall-sheet", "firewall-openings"])
def test_a_fuel_system_that_is_not_recorded_is_no_data(rule: str) -> None:
    (finding,) = findings(f"fuel/{rule}", AIRCRAFT + NEED)
    assert finding.verdict is NO_DATA


@pytest.mark.parametrize("rule", ["fuel/line-to-wiring", "fuel/line-below-wiring"])
def test_without_wiring_there_is_none_to_keep_off(rule: str) -> None:
    line = "{id: L, what: tank to cock}"
    text = "aircraft: {name: A, authority: US, stage: operating%s}\nfuel: {lines: [%s]}\n"
    assert the_finding(rule, text % (", without: [electrical]", line), "L").verdict is APART
    assert the_finding(rule, text % ("", line), "L").verdict is NO_DATA
    near = "{id: L, to_wiring: 1 in, below_wiring: false}"
    assert the_finding(rule, text % (", without: [electrical]", near), "L").verdict in {FAIL, WARN}


def test_an_engine_whose_need_is_unknown_has_no_flow_to_reach() -> None:
    records = records_for("flow", {}).replace("  specific_consumption: 0.55 lb/hp/h\n", "")
    (finding,) = findings("fuel/flow", records)
    assert finding.verdict is NO_DATA
    declared = records.replace("  density", "  takeoff_flow: 8 US gal/h\n  density")
    assert the_finding("fuel/flow", declared, "X").measured == (14, "US gal/h")
    (found,) = findings("fuel/flow", declared)
    assert found.limit is not None
    assert found.limit.value == pytest.approx(12)


def test_a_climb_that_is_unknown_has_no_attitude_to_reach() -> None:
    for line in ("", "  climb_angle: 0 deg\n", "  climb_angle: -3 deg\n"):
        text = records_for("flow", {}).replace("  climb_angle: 10 deg\n", line)
        (finding,) = findings("fuel/flow-attitude", text)
        assert finding.verdict is NO_DATA


def test_the_flattest_climb_counts_and_a_flow_is_shown_where_it_was_recorded() -> None:
    # 5 degrees above a climb at 0.5 degrees are 5.5.
    found = the_finding(
        "fuel/flow-attitude", records_for("flow", {}).replace("climb_angle: 10", "climb_angle: 0.5"), "X"
    )
    assert found.limit == (5.5, "deg", "at-least")
    assert the_finding("fuel/flow", records_for("flow", {}), "X").where[0].field == "flow"
    assert the_finding("fuel/flow", records_for("flow", CAUGHT), "X").where[0].field == "caught"


@pytest.mark.parametrize("rule", LIST_OF)
def test_a_record_that_says_nothing_hides_no_other(rule: str) -> None:
    records = records_for(rule, {})
    with_empty = records.replace("    - {id: X", "    - {id: EMPTY}\n    - {id: X")
    alone, beside = the_finding(f"fuel/{rule}", records, "X"), the_finding(f"fuel/{rule}", with_empty, "X")
    assert (beside.verdict, beside.message) == (alone.verdict, alone.message)
    assert {found.subject for found in findings(f"fuel/{rule}", with_empty)} == {"EMPTY", "X"}


def test_a_vent_clear_of_the_aeroplane_serves_for_space() -> None:
    records = (
        records_for("expansion", {"expansion_space": "0 US gal"})
        + "  vents: [{id: V, tank: X, discharges_clear: true}]\n"
    )
    assert the_finding("fuel/expansion", records, "X").verdict is APART


@pytest.mark.parametrize(
    ("vent", "verdict"),
    [
        ("{id: V, tank: X, low_spot: false}", PASS),
        ("{id: V, tank: X, low_spot: true}", WARN),
        ("{id: V, low_spot: false}", WARN),
        ("{id: V, tank: X}", NO_DATA),
    ],
)
def test_every_tank_is_vented(vent: str, verdict: Verdict) -> None:
    assert the_finding("fuel/vent", records_for("sump", {}) + f"  vents: [{vent}]\n", "X").verdict is verdict


@pytest.mark.parametrize(
    ("drain", "verdict"),
    [
        ("{id: D, tank: X, lowest_point: true, locks_closed: true}", PASS),
        ("{id: D, tank: X, lowest_point: true, locks_closed: false}", WARN),
        ("{id: D, tank: X, lowest_point: false, locks_closed: true}", WARN),
        ("{id: D, lowest_point: true, locks_closed: true}", WARN),
        ("{id: D, tank: X, lowest_point: true}", NO_DATA),
    ],
)
def test_every_tank_is_drained(drain: str, verdict: Verdict) -> None:
    assert the_finding("fuel/drain", records_for("sump", {}) + f"  drains: [{drain}]\n", "X").verdict is verdict


@pytest.mark.parametrize("order", [1, -1])
def test_of_two_vents_the_bad_one_is_told_in_either_order(order: int) -> None:
    vents = ", ".join(["{id: V1, tank: X, low_spot: true}", "{id: V2, tank: X, low_spot: false}"][::order])
    found = findings("fuel/vent", records_for("sump", {}) + f"  vents: [{vents}]\n")
    assert {finding.verdict for finding in found} == {PASS, WARN}


@pytest.mark.parametrize(
    ("second", "verdict"),
    [
        ("lowest_point: false, locks_closed: true", PASS),  # one at the lowest point is enough
        ("locks_closed: true", PASS),
        ("lowest_point: false, locks_closed: false", WARN),  # and all must lock
        ("lowest_point: false", NO_DATA),
    ],
)
@pytest.mark.parametrize("order", [1, -1])
def test_of_two_drains_one_is_lowest_and_both_lock(second: str, verdict: Verdict, order: int) -> None:
    drains = ", ".join(
        ["{id: D1, tank: X, lowest_point: true, locks_closed: true}", f"{{id: D2, tank: X, {second}}}"][::order]
    )
    assert the_finding("fuel/drain", records_for("sump", {}) + f"  drains: [{drains}]\n", "X").verdict is verdict


FEEDS = (
    AIRCRAFT
    + NEED
    + "  tanks: [{id: T}]\n  pumps: [{id: P1, load: L1}, {id: P2, load: L2}]\n"
    + "  flow_tests: [{id: F1, pump: P1, tank: T}, {id: F2, pump: {second}}]\n"
)


def test_every_pump_and_tank_has_a_flow_test() -> None:
    wired = WIRED.format(loads="[L1, L2]", survive=1)
    sound = FEEDS.replace("{second}", "P2") + wired
    one = FEEDS.replace("{second}", "P1") + wired
    assert {finding.verdict for finding in findings("fuel/flow-every-feed", sound)} == {PASS}
    assert the_finding("fuel/flow-every-feed", one, "P2").verdict is NO_DATA


WIRED = """\
electrical:
  loads: [{{id: L1, current: 3 A, nature: motor}}, {{id: L2, current: 3 A, nature: motor}}]
  functions: [{{name: fuel, loads: {loads}, survive: {survive}}}]
"""


@pytest.mark.parametrize(
    ("loads", "survive", "verdict"),
    [("[L1, L2]", 1, PASS), ("[L1]", 1, FAIL), ("[L2]", 1, FAIL), ("[L1, L2]", 0, FAIL)],
)
def test_an_electric_fuel_system_has_a_pump_to_spare(loads: str, survive: int, verdict: Verdict) -> None:
    records = FEEDS.replace("{second}", "P2") + WIRED.format(loads=loads, survive=survive)
    assert the_finding("fuel/pump-redundancy", records, "P1").verdict is verdict


def test_pumps_that_name_no_load_are_no_data_and_other_feeds_are_not_asked() -> None:
    bare = AIRCRAFT + NEED + "  pumps: [{id: P1}]\n"
    assert the_finding("fuel/pump-redundancy", bare, "aircraft").verdict is NO_DATA
    assert the_finding("fuel/pump-redundancy", bare.replace("electric-pump", "gravity"), "aircraft").verdict is APART
    assert (
        the_finding("fuel/pump-redundancy", bare.replace(", fuel_feed: electric-pump", ""), "aircraft").verdict
        is NO_DATA
    )


@pytest.mark.parametrize(
    ("wall", "verdict", "limit"),
    [
        ("{material: stainless, thickness: 0.018 in}", PASS, 0.015),
        ("{material: stainless, thickness: 0.015 in}", PASS, 0.015),
        ("{material: stainless, thickness: 0.014 in}", FAIL, 0.015),
        ("{material: titanium, thickness: 0.016 in}", PASS, 0.016),
        ("{material: titanium, thickness: 0.015 in}", FAIL, 0.016),
        ("{material: mild-steel, thickness: 0.018 in}", PASS, 0.018),
        ("{material: mild-steel, thickness: 0.016 in}", FAIL, 0.018),
        ("{material: aluminium, thickness: 0.063 in}", FAIL, None),
        ("{material: stainless, thickness: 0.014 in, flame_test: evidence/flame.pdf}", PASS, None),
        ("{material: stainless, thickness: 0.015 in, flame_test: evidence/flame.pdf}", PASS, 0.015),  # asked for none
        ("{material: other, thickness: 0.1 in, flame_test: evidence/flame.pdf}", PASS, None),
    ],
)  # old 23.1191(h)
def test_a_firewall_holds_fire(wall: str, verdict: Verdict, limit: float | None) -> None:
    finding = the_finding("fuel/firewall-sheet", f"{AIRCRAFT}{NEED}  firewall: {wall}\n", "firewall")
    assert finding.verdict is verdict, finding.message
    assert (finding.limit.value if finding.limit else None) == limit
    assert finding.where[0].position.line == 6


@pytest.mark.parametrize(
    ("wall", "lacking"), [("material: stainless", "thickness"), ("thickness: 0.02 in", "material")]
)
def test_a_firewall_of_unknown_thickness_or_metal_is_no_data(wall: str, lacking: str) -> None:
    (finding,) = findings("fuel/firewall-sheet", f"{AIRCRAFT}{NEED}  firewall: {{{wall}}}\n")
    assert finding.verdict is NO_DATA
    assert finding.message == f"the firewall's {lacking} is not recorded"


@pytest.mark.parametrize(("sealed", "verdict"), [("steel fitting", PASS), ("fire sealant", PASS), (None, NO_DATA)])
def test_a_firewall_is_closed(sealed: str | None, verdict: Verdict) -> None:
    opening = record_line({"id": "X"}, sealed_with=sealed)
    records = f"{AIRCRAFT}{NEED}  firewall:\n    openings:\n      - {opening}\n"
    assert the_finding("fuel/firewall-openings", records, "X").verdict is verdict


PROPELLER = {
    "diameter": "66 in",
    "axis_height": "42.4 in",
    "ground_clearance": "9.5 in",
    "flat_tyre_clearance": "3 in",
    "tip_clearance": "1.5 in",
    "axial_clearance": "0.75 in",
}


@pytest.mark.parametrize(
    ("rule", "gear", "changes", "verdicts"),
    [
        ("ground-clearance", "tailwheel", {"ground_clearance": "9.0 in"}, [PASS]),
        ("ground-clearance", "tailwheel", {"ground_clearance": "8.9 in"}, [FAIL]),
        ("ground-clearance", "nosewheel", {"ground_clearance": "7.0 in"}, [PASS]),
        ("ground-clearance", "nosewheel", {"ground_clearance": "6.9 in"}, [FAIL]),
        ("ground-clearance", "nosewheel", {"ground_clearance": None}, [NO_DATA]),
        ("ground-clearance", "floats", {}, [APART]),
        ("ground-clearance", None, {}, [NO_DATA]),
        # 42.4 in less half of 66 in are 9.4 in; with the tape's quarter 9.65 in
        ("diameter-fits", "nosewheel", {"ground_clearance": "9.5 in"}, [PASS]),
        ("diameter-fits", "nosewheel", {"ground_clearance": "9.65 in"}, [PASS]),
        ("diameter-fits", "nosewheel", {"ground_clearance": "9.66 in"}, [WARN]),
        ("diameter-fits", "nosewheel", {"diameter": "66.7 in", "ground_clearance": "9.5 in"}, [WARN]),
        ("diameter-fits", "nosewheel", {"ground_clearance": "7 in"}, [PASS]),
        ("diameter-fits", "nosewheel", {"axis_height": None}, [NO_DATA]),
        ("diameter-fits", "nosewheel", {"diameter": None}, [NO_DATA]),
        ("diameter-fits", "skis", {}, [APART]),
        ("flat-tyre", "nosewheel", {}, [PASS]),
        ("flat-tyre", "nosewheel", {"flat_tyre_clearance": "0.1 in"}, [PASS]),
        ("flat-tyre", "nosewheel", {"flat_tyre_clearance": "0 in"}, [FAIL]),
        ("flat-tyre", "nosewheel", {"flat_tyre_clearance": None}, [NO_DATA]),
        ("flat-tyre", "skis", {}, [APART]),
        ("water-clearance", "floats", {"water_clearance": "19 in"}, [PASS]),
        ("water-clearance", "floats", {"water_clearance": "18 in"}, [PASS]),
        ("water-clearance", "floats", {"water_clearance": "17.9 in"}, [FAIL]),
        ("water-clearance", "floats", {}, [NO_DATA]),
        ("water-clearance", "nosewheel", {}, [APART]),
        ("structure-clearance", "nosewheel", {}, [PASS, PASS]),
        ("structure-clearance", "nosewheel", {"tip_clearance": "1 in", "axial_clearance": "0.5 in"}, [PASS, PASS]),
        ("structure-clearance", "nosewheel", {"tip_clearance": "0.9 in"}, [FAIL, PASS]),
        ("structure-clearance", "nosewheel", {"axial_clearance": "0.49 in"}, [PASS, FAIL]),
        ("structure-clearance", "nosewheel", {"axial_clearance": None}, [NO_DATA]),
    ],
)  # old 23.925
def test_the_propeller_keeps_clear(rule: str, gear: str | None, changes: Changes, verdicts: list[Verdict]) -> None:
    propeller = record_line(PROPELLER, **changes)
    aircraft = record_line(
        {"name": "Test Article", "authority": "US", "stage": "operating"}, gear=gear, propeller=propeller
    )
    found = findings(f"propeller/{rule}", f"aircraft: {aircraft}\n")
    assert [finding.verdict for finding in found] == verdicts
    (no_propeller,) = findings(f"propeller/{rule}", "aircraft: {name: Test Article, authority: US, stage: operating}\n")
    assert no_propeller.verdict is NO_DATA
