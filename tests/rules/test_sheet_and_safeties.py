"""Rules for rivets, clamps, safety wire, turnbuckles and restraints, around their limits and without their data."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, record_line, the_finding

ORACLES = {
    "ac43-4-57-c": "hardware/rivet-edge",
    "amt-countersunk-edge": "hardware/rivet-edge",
    "navy-14018": "hardware/rivet-diameter hardware/rivet-length hardware/rivet-pitch",
    "amt-row-distance": "hardware/rivet-rows",
    "army-countersink": "hardware/countersink",
    "clamp-sizes": "hardware/clamp-size",
    "ac43-7-123": "hardware/emergency-wire hardware/safety-wire",
    "ac43-7-124": "hardware/pigtail",
    "ac43-7-124-twists": "hardware/wire-twist",
    "ac43-7-179": "hardware/turnbuckle-threads",
    "ac43-7-180": "hardware/turnbuckle-turns",
    "ac43-table-7-8": "hardware/turnbuckle-wire",
    "23-787": "seats/baggage-load",
    "23-561": "seats/item-load seats/occupant-load",
    "23-785-a": "seats/occupant-load",
    "nothing computed": "hardware/blind-rivet hardware/clamp-kind seats/every-seat seats/harness",
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
Changes = dict[str, str | None]

RECORDS: dict[str, dict[str, str]] = {
    "rivets": {
        "id": "X",
        "kind": "solid",
        "part": "MS20470AD4-4",
        "head": "protruding",
        "diameter": "1/8 in",
        "length": "1/4 in",
        "sheets": "[0.04 in, 0.04 in]",
        "edge_distance": "0.3 in",
        "pitch": "0.6 in",
        "row_distance": "0.4 in",
    },
    "clamps": {
        "id": "X",
        "size": "6",
        "around": "3/8 in",
        "holds": "metal-line",
        "vibrates": "true",
        "cushioned": "true",
        "bonded": "true",
    },
    "safety_wires": {
        "id": "X",
        "material": "stainless",
        "diameter": "0.032 in",
        "hole": "0.06 in",
        "twists_per_inch": "7",
        "pigtail": "0.5 in",
        "pigtail_turns": "5",
    },
    "turnbuckles": {
        "id": "X",
        "cable": "1/8 in",
        "threads_showing": "1",
        "wrap": "double",
        "wire": "0.04 in",
        "material": "brass",
        "turns": "5",
    },
    "restraints": {"id": "X", "holds": "item", "mass": "25 lb", "strength": "500 lb", "evidence": "drawing 14"},
}
HARNESS: Changes = {
    "holds": "occupant",
    "mass": None,
    "strength": "2600 lb",
    "shoulder_harness": "true",
    "metal_latch": "true",
    "single_release": "true",
}
NET: Changes = {"holds": "baggage", "mass": "60 lb", "strength": "600 lb", "with_people": "false"}
EMERGENCY: Changes = {"emergency": "true", "material": "copper", "diameter": "0.02 in"}

LIST_OF = {
    "rivet": "rivets",
    "countersink": "rivets",
    "blind": "rivets",
    "clamp": "clamps",
    "safety": "safety_wires",
    "emergency": "safety_wires",
    "wire": "safety_wires",
    "pigtail": "safety_wires",
    "turnbuckle": "turnbuckles",
}

DRAWN: Changes = {"least_edge_distance": "0.2 in", "drawing": "drawing 18"}

NUMBERS: list[tuple[str, Changes, Verdict, float, float]] = [
    # 2 D of 1/8 in is 0.25 in, 2.5 D is 0.3125 in
    ("hardware/rivet-edge", {}, PASS, 0.3, 0.25),
    ("hardware/rivet-edge", {"edge_distance": "0.25 in"}, PASS, 0.25, 0.25),
    ("hardware/rivet-edge", {"edge_distance": "0.24 in"}, WARN, 0.24, 0.25),
    ("hardware/rivet-edge", {"head": "countersunk"}, WARN, 0.3, 0.3125),
    ("hardware/rivet-edge", {"head": "dimpled", "edge_distance": "5/16 in"}, PASS, 0.3125, 0.3125),
    # a drawing's own figure goes first, whether it is more or less than the customary one
    ("hardware/rivet-edge", DRAWN | {"edge_distance": "0.22 in"}, PASS, 0.22, 0.2),
    ("hardware/rivet-edge", DRAWN | {"edge_distance": "0.2 in"}, PASS, 0.2, 0.2),
    ("hardware/rivet-edge", DRAWN | {"edge_distance": "0.19 in"}, FAIL, 0.19, 0.2),
    ("hardware/rivet-pitch", {}, PASS, 0.6, 0.375),
    ("hardware/rivet-pitch", {"pitch": "3/8 in"}, PASS, 0.375, 0.375),
    ("hardware/rivet-pitch", {"pitch": "0.37 in"}, FAIL, 0.37, 0.375),
    ("hardware/rivet-rows", {}, PASS, 0.4, 0.3125),
    ("hardware/rivet-rows", {"row_distance": "5/16 in"}, PASS, 0.3125, 0.3125),
    ("hardware/rivet-rows", {"row_distance": "0.3 in"}, WARN, 0.3, 0.3125),
    ("hardware/rivet-diameter", {"sheets": "[0.05 in, 0.04 in]"}, PASS, 0.125, 0.15),
    ("hardware/rivet-diameter", {"sheets": "[0.125 in]"}, PASS, 0.125, 0.125),
    ("hardware/rivet-diameter", {"sheets": "[0.126 in]"}, FAIL, 0.125, 0.126),
    ("hardware/rivet-diameter", {"diameter": "0.12 in"}, PASS, 0.12, 0.12),
    ("hardware/rivet-diameter", {"diameter": "0.121 in"}, FAIL, 0.121, 0.12),
    # 0.080 + 1.5 x 0.125 = 0.2675 in; half a sixteenth to either side
    ("hardware/rivet-length", {}, PASS, 0.25, 0.23625),
    ("hardware/rivet-length", {"length": "0.23625 in"}, PASS, 0.23625, 0.23625),
    ("hardware/rivet-length", {"length": "3/16 in"}, WARN, 0.1875, 0.23625),
    ("hardware/rivet-length", {"length": "5/16 in"}, WARN, 0.3125, 0.29875),
    # Army table: 0.050 in for 1/8 in
    ("hardware/countersink", {"head": "countersunk", "sheets": "[0.063 in, 0.02 in]"}, PASS, 0.063, 0.05),
    ("hardware/countersink", {"head": "countersunk", "sheets": "[0.05 in, 0.02 in]"}, PASS, 0.05, 0.05),
    ("hardware/countersink", {"head": "countersunk"}, FAIL, 0.04, 0.05),
    # sixteenths of 3/8, 3/4 and 1 in: 6, 12 and 16
    ("hardware/clamp-size", {}, PASS, 6, 6.5),
    ("hardware/clamp-size", {"size": "12", "around": "3/4 in"}, PASS, 12, 12.5),
    ("hardware/clamp-size", {"size": "16", "around": "1 in"}, PASS, 16, 16.5),
    ("hardware/clamp-size", {"around": "0.34375 in"}, PASS, 6, 6),
    ("hardware/clamp-size", {"size": "5"}, WARN, 5, 5.5),
    ("hardware/clamp-size", {"size": "7"}, WARN, 7, 6.5),
    ("hardware/safety-wire", {}, PASS, 0.032, 0.032),
    ("hardware/safety-wire", {"diameter": "0.041 in"}, PASS, 0.041, 0.032),
    ("hardware/safety-wire", {"diameter": "0.025 in"}, FAIL, 0.025, 0.032),
    ("hardware/safety-wire", {"diameter": "0.02 in", "hole": "0.045 in", "spacing": "1.9 in"}, PASS, 0.02, 0.02),
    ("hardware/safety-wire", {"diameter": "0.02 in", "hole": "0.045 in", "spacing": "2 in"}, WARN, 0.02, 0.032),
    ("hardware/safety-wire", {"diameter": "0.02 in", "hole": "0.046 in", "spacing": "1 in"}, FAIL, 0.02, 0.032),
    ("hardware/wire-twist", {}, PASS, 7, 8),
    ("hardware/wire-twist", {"twists_per_inch": "6"}, PASS, 6, 6),
    ("hardware/wire-twist", {"twists_per_inch": "5.5"}, WARN, 5.5, 6),
    ("hardware/wire-twist", {"twists_per_inch": "9"}, WARN, 9, 8),
    ("hardware/pigtail", {}, PASS, 5, 6),
    ("hardware/pigtail", {"pigtail_turns": "4"}, PASS, 4, 4),
    ("hardware/pigtail", {"pigtail_turns": "3"}, WARN, 3, 4),
    ("hardware/pigtail", {"pigtail_turns": "7"}, WARN, 7, 6),
    ("hardware/turnbuckle-threads", {}, PASS, 1, 3),
    ("hardware/turnbuckle-threads", {"threads_showing": "3"}, PASS, 3, 3),
    ("hardware/turnbuckle-threads", {"threads_showing": "3.5"}, FAIL, 3.5, 3),
    ("hardware/turnbuckle-wire", {}, PASS, 0.04, 0.04),
    ("hardware/turnbuckle-wire", {"wire": "0.057 in"}, PASS, 0.057, 0.04),
    ("hardware/turnbuckle-wire", {"wire": "0.032 in"}, FAIL, 0.032, 0.04),
    ("hardware/turnbuckle-wire", {"cable": "3/16 in"}, FAIL, 0.04, 0.0512),
    ("hardware/turnbuckle-turns", {}, PASS, 5, 4),
    ("hardware/turnbuckle-turns", {"turns": "4"}, PASS, 4, 4),
    ("hardware/turnbuckle-turns", {"turns": "3"}, FAIL, 3, 4),
    # 215 lb x 9 g x 1.33 = 2573.55 lb
    ("seats/occupant-load", HARNESS, PASS, 2600, 2573.55),
    ("seats/occupant-load", {**HARNESS, "strength": "2573.55 lb"}, PASS, 2573.55, 2573.55),
    ("seats/occupant-load", {**HARNESS, "strength": "2570 lb"}, WARN, 2570, 2573.55),
    # 60 lb behind structure at 9 g: 540 lb; among people at 18 g: 1080 lb
    ("seats/baggage-load", NET, PASS, 600, 540),
    ("seats/baggage-load", {**NET, "strength": "540 lb"}, PASS, 540, 540),
    ("seats/baggage-load", {**NET, "strength": "539 lb"}, FAIL, 539, 540),
    ("seats/baggage-load", {**NET, "with_people": "true"}, WARN, 600, 1080),
    # 25 lb at 18 g: 450 lb
    ("seats/item-load", {}, PASS, 500, 450),
    ("seats/item-load", {"strength": "450 lb"}, PASS, 450, 450),
    ("seats/item-load", {"strength": "449 lb"}, WARN, 449, 450),
]

WORDS: list[tuple[str, Changes, Verdict, str]] = [
    ("hardware/rivet-edge", {"edge_distance": None}, NO_DATA, "'edge_distance' is not recorded"),
    ("hardware/rivet-edge", {"head": None}, NO_DATA, "'head' is not recorded"),
    ("hardware/rivet-edge", DRAWN | {"drawing": None}, NO_DATA, "'drawing' is not recorded, which gives its least"),
    ("hardware/rivet-pitch", {"pitch": None}, NO_DATA, "'pitch' is not recorded"),
    ("hardware/rivet-rows", {"row_distance": None}, APART, "no neighbouring row"),
    ("hardware/rivet-rows", {"diameter": None}, NO_DATA, "'diameter' is not recorded"),
    ("hardware/rivet-diameter", {"sheets": None}, NO_DATA, "'sheets' is not recorded"),
    ("hardware/rivet-length", {"length": None}, NO_DATA, "'length' is not recorded"),
    ("hardware/rivet-length", {"kind": "blind"}, APART, "comes from its maker"),
    ("hardware/rivet-length", {"kind": None}, NO_DATA, "'kind' is not recorded"),
    ("hardware/countersink", {}, APART, "a protruding rivet"),
    ("hardware/countersink", {"head": "countersunk", "diameter": "5/16 in"}, NO_DATA, "no rivet of 0.3125 in"),
    ("hardware/countersink", {"head": None}, NO_DATA, "'head' is not recorded"),
    ("hardware/blind-rivet", {"kind": "blind", "called_out": "true"}, PASS, "is called out"),
    ("hardware/blind-rivet", {"kind": "blind", "called_out": "false"}, FAIL, "is not called out"),
    ("hardware/blind-rivet", {"kind": "blind"}, NO_DATA, "'called_out' is not recorded"),
    ("hardware/blind-rivet", {}, APART, "a solid rivet"),
    ("hardware/clamp-size", {"size": None}, NO_DATA, "'size' is not recorded"),
    ("hardware/clamp-kind", {}, PASS, "as such a line wants"),
    ("hardware/clamp-kind", {"cushioned": "false"}, FAIL, "without a cushion"),
    ("hardware/clamp-kind", {"bonded": "false"}, FAIL, "does not bond it"),
    ("hardware/clamp-kind", {"bonded": "false", "holds": "hose"}, PASS, "holds hose"),
    ("hardware/clamp-kind", {"bonded": None}, NO_DATA, "and the line is metal"),
    ("hardware/clamp-kind", {"cushioned": None}, NO_DATA, "and the line shakes"),
    ("hardware/clamp-kind", {"cushioned": None, "vibrates": "false"}, PASS, "as such a line wants"),
    ("hardware/clamp-kind", {"bonded": None, "holds": "hose"}, PASS, "holds hose"),
    ("hardware/clamp-kind", {"vibrates": None}, NO_DATA, "'vibrates' is not recorded"),
    ("hardware/safety-wire", {"hole": None}, NO_DATA, "'hole' is not recorded"),
    ("hardware/safety-wire", {"hole": "0.04 in"}, NO_DATA, "and the hole is small"),
    ("hardware/safety-wire", EMERGENCY, APART, "an emergency device"),
    ("hardware/emergency-wire", EMERGENCY, PASS, "copper wire of 0.020 in"),
    ("hardware/emergency-wire", {**EMERGENCY, "material": "stainless"}, FAIL, "stainless wire"),
    ("hardware/emergency-wire", {**EMERGENCY, "diameter": "0.032 in"}, FAIL, "0.032 in"),
    ("hardware/emergency-wire", {**EMERGENCY, "material": None}, NO_DATA, "'material' is not recorded"),
    ("hardware/emergency-wire", {}, APART, "no emergency device"),
    ("hardware/wire-twist", {"twists_per_inch": None}, NO_DATA, "'twists_per_inch' is not recorded"),
    ("hardware/wire-twist", {"diameter": "0.041 in"}, APART, "for wire of 0.032 in alone"),
    ("hardware/pigtail", {"pigtail_turns": None}, NO_DATA, "'pigtail_turns' is not recorded"),
    ("hardware/turnbuckle-threads", {"threads_showing": None}, NO_DATA, "'threads_showing' is not recorded"),
    ("hardware/turnbuckle-wire", {"cable": "3/16 in", "wrap": "single"}, FAIL, "no row for single brass wire"),
    ("hardware/turnbuckle-wire", {"material": None}, NO_DATA, "'material' is not recorded"),
    ("hardware/turnbuckle-wire", {"cable": "3/64 in"}, NO_DATA, "starts at 1/16 in"),
    ("hardware/turnbuckle-turns", {"turns": None}, NO_DATA, "'turns' is not recorded"),
    ("seats/harness", HARNESS, PASS, "shoulder harness, metal latch, one release"),
    ("seats/harness", {**HARNESS, "shoulder_harness": "false"}, FAIL, "no shoulder harness"),
    ("seats/harness", {**HARNESS, "metal_latch": None}, NO_DATA, "'metal_latch' is not recorded"),
    ("seats/occupant-load", {**HARNESS, "strength": None}, NO_DATA, "pulls 2574 lb"),
    ("seats/baggage-load", {**NET, "with_people": None}, NO_DATA, "'with_people' is not recorded"),
    ("seats/baggage-load", {**NET, "mass": None}, NO_DATA, "nor a station with a maximum"),
    ("seats/item-load", {"evidence": None}, NO_DATA, "'evidence' is not recorded; 25 lb at 18 g pulls 450 lb"),
    ("seats/item-load", {"mass": None}, NO_DATA, "'mass' is not recorded"),
]


def records_for(rule: str, changes: Changes) -> str:
    name = "restraints" if rule.startswith("seats/") else LIST_OF[rule.partition("/")[2].partition("-")[0]]
    return f"hardware:\n  {name}:\n    - {record_line(RECORDS[name], **changes)}\n"


@pytest.mark.parametrize(("rule", "changes", "verdict", "measured", "limit"), NUMBERS)
def test_against_its_limit(rule: str, changes: Changes, verdict: Verdict, measured: float, limit: float) -> None:
    finding = the_finding(rule, records_for(rule, changes), "X")
    assert finding.verdict is verdict, finding.message
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(measured, abs=1e-6)
    assert finding.limit.value == pytest.approx(limit, abs=1e-6)
    assert finding.where[0].position.line == 4


@pytest.mark.parametrize(("rule", "changes", "verdict", "words"), WORDS)
def test_what_is_said_where_no_figures_decide(rule: str, changes: Changes, verdict: Verdict, words: str) -> None:
    finding = the_finding(rule, records_for(rule, changes), "X")
    assert finding.verdict is verdict, finding.message
    assert words in finding.message
    assert finding.where[0].position.line == 4


@pytest.mark.parametrize("rule", sorted({rule for rule, *_ in NUMBERS} | {rule for rule, *_ in WORDS}))
def test_an_aircraft_that_has_none_is_not_asked(rule: str) -> None:
    (finding,) = findings(rule, "hardware: {}\n")
    assert finding.verdict is APART


EMPTY = {f"seats/{kind}-load": {"id": "EMPTY", "holds": kind} for kind in ("occupant", "item", "baggage")}


@pytest.mark.parametrize("rule", sorted({rule for rule, *_ in NUMBERS}))
def test_a_record_that_says_nothing_hides_no_other(rule: str) -> None:
    changes = next(changes for one, changes, *_ in NUMBERS if one == rule)
    records = records_for(rule, changes)
    empty = record_line(EMPTY.get(rule, {"id": "EMPTY"}))
    with_empty = records.replace("    - {id: X", f"    - {empty}\n    - {{id: X")
    alone, beside = the_finding(rule, records, "X"), the_finding(rule, with_empty, "X")
    assert (beside.verdict, beside.message) == (alone.verdict, alone.message)
    assert "EMPTY" in {found.subject for found in findings(rule, with_empty)}


SEATS = """\
weights:
  stations:
    - {id: SEAT, kind: seat, arm: 20 in, maximum: 240 lb}
    - {id: BAGS, kind: baggage, arm: 40 in, maximum: 40 lb}
hardware:
  restraints:
"""


def test_every_seat_has_its_harness() -> None:
    held = SEATS + "    - " + record_line(RECORDS["restraints"], **HARNESS, station="SEAT") + "\n"
    elsewhere = SEATS + "    - " + record_line(RECORDS["restraints"], **HARNESS, station="BAGS") + "\n"
    assert the_finding("seats/every-seat", held, "SEAT").verdict is PASS
    assert the_finding("seats/every-seat", held.replace("maximum: 40 lb", "maximum: 30 lb"), "SEAT").verdict is PASS
    assert the_finding("seats/every-seat", elsewhere, "SEAT").verdict is FAIL
    assert the_finding("seats/every-seat", held.replace("kind: seat", "kind: other"), "aircraft").verdict is NO_DATA
    assert the_finding("seats/every-seat", "hardware: {}\n", "aircraft").verdict is NO_DATA
    assert [found.subject for found in findings("seats/every-seat", held)] == ["SEAT"]


def test_loads_upward_and_sideways_are_shown_beside_the_one_that_is_judged() -> None:
    # old 23.561 from memory: an occupant 3 g up and 1.5 g sideways, an item in the cabin 3 g and 4.5 g
    for rule, changes, words in (
        ("seats/occupant-load", HARNESS, "3 g upward pulls 858 lb, 1.5 g sideways 429 lb"),  # 215 x 1.33 x 3 and x 1.5
        ("seats/item-load", {}, "3 g upward pulls 75 lb, 4.5 g sideways 112 lb"),  # 25 lb
    ):
        working = the_finding(rule, records_for(rule, changes), "X").working
        assert working is not None
        assert words in list(working())[-1]


def test_a_seat_for_heavier_people_asks_for_more() -> None:
    # 240 lb x 9 g x 1.33 = 2872.8 lb
    records = SEATS + "    - " + record_line(RECORDS["restraints"], **HARNESS, station="SEAT") + "\n"
    finding = the_finding("seats/occupant-load", records, "X")
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(2872.8)
    assert finding.verdict is WARN


def test_a_net_holds_what_its_station_may_carry() -> None:
    # 40 lb x 9 g
    records = SEATS + "    - " + record_line(RECORDS["restraints"], **NET, station="BAGS") + "\n"
    finding = the_finding("seats/baggage-load", records, "X")
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(360)


def test_baggage_that_nothing_holds_is_told() -> None:
    held = SEATS + "    - " + record_line(RECORDS["restraints"], **NET) + "\n"
    finding = the_finding("seats/baggage-load", held, "BAGS")
    assert finding.verdict is NO_DATA
    assert finding.where[0].position.line == 5
    bare = SEATS.partition("  restraints")[0].replace("hardware:\n", "hardware: {}\n")
    assert the_finding("seats/baggage-load", bare, "BAGS").verdict is NO_DATA


def test_a_finding_without_a_remedy_of_its_own_is_given_its_rules() -> None:
    rule = "hardware/turnbuckle-threads"
    assert the_finding(rule, records_for(rule, {"threads_showing": "5"}), "X").remedy.startswith("Screw it further in")
    assert the_finding(rule, records_for(rule, {}), "X").remedy == ""
