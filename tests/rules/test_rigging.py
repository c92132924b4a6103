"""Rules for distances, angles, diagonals, wheels, controls and cables, around their limits and without their data."""

from __future__ import annotations

import math

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, record_line, the_finding

ORACLES = {
    "23-689": "controls/cable-size controls/fairlead",
    "ac43-table-7-3": "controls/cable-strength",
    "ac43-7-149": "controls/cable-wear",
    "mil-f-18372": "controls/pulley-alignment",
    "army-1917": "rigging/diagonals rigging/sides-alike",
    "own arithmetic": (
        "controls/cable-clearance controls/cable-tension controls/free-play controls/tensiometer "
        "rigging/angles rigging/lengths rigging/square rigging/toe rigging/washout"
    ),
    "nothing computed": "controls/free controls/lock controls/pulley-guard controls/stop controls/tried-after-rigging",
}

ASKED = "it asks for a record alone: one that is missing is no data"
NO_SUCH_CASE = {
    "controls/stop": {"just over": ASKED},
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
Changes = dict[str, str | None]

RECORDS: dict[str, dict[str, str]] = {
    "lengths": {
        "id": "X",
        "what": "tip to post",
        "limit": "152 ± 0.125 in",
        "measured": "152.06 in",
        "manual": "page 6",
    },
    "angles": {
        "id": "X",
        "what": '"aileron, up"',
        "control": "aileron",
        "stop": "bolt",
        "limit": "21 ± 1 deg",
        "measured": "20.6 deg",
        "manual": "page 14",
        "day": "2026-05-01",
    },
    "triangles": {
        "id": "X",
        "what": "wheels to post",
        "left": "152.06 in",
        "right": "152 in",
        "base": "70 in",
        "difference": "0.25 in",
        "angle": "0.2 deg",
        "manual": "page 6",
    },
    "toes": {
        "id": "X",
        "straightedge": "36 in",
        "front": "33.1 in",
        "rear": "33 in",
        "limit": "0 ± 0.25 deg",
        "manual": "drawing 3",
    },
    "cables": {
        "id": "X",
        "use": "primary",
        "diameter": "1/8 in",
        "construction": "7x19",
        "material": "stainless",
        "ultimate_load": "900 lb",
        "tension": "38 lb",
        "temperature": "55 degF",
        "chart": "[{temperature: 40 degF, tension: 36 lb}, {temperature: 70 degF, tension: 40 lb}]",
        "tension_tolerance": "4 lb",
        "manual": "page 20",
        "tensiometer": "borrowed",
        "tensiometer_calibrated": "2026-02-12",
        "day": "2026-05-02",
        "clearance": "0.4 in",
        "worn": "10 %",
    },
    "free_plays": {
        "id": "X",
        "control": "trim",
        "play": "0.05 in",
        "chord": "4 in",
    },
    "locks": {"id": "X", "cannot_fly_with_it": "true", "can_engage_in_flight": "false"},
    "tests": {
        "id": "X",
        "control": "aileron",
        "day": "2026-05-02",
        "by": "two people",
        "loaded": "true",
        "free": "true",
        "right_way": "true",
    },
}

LIST_OF = {
    "rigging/lengths": "lengths",
    "rigging/angles": "angles",
    "rigging/diagonals": "triangles",
    "rigging/square": "triangles",
    "rigging/toe": "toes",
    "controls/stop": "angles",
    "controls/free": "tests",
    "controls/lock": "locks",
    "controls/cable-size": "cables",
    "controls/cable-strength": "cables",
    "controls/cable-tension": "cables",
    "controls/tensiometer": "cables",
    "controls/free-play": "free_plays",
    "controls/cable-wear": "cables",
    "controls/cable-clearance": "cables",
}

# Triangle of 152.06, 152.00 and 70 in: x = (152.06^2 - 152^2) / 140, angle = atan(x / sqrt(152.06^2 - (35 + x)^2))
_X = (152.06**2 - 152**2) / 140
_ANGLE = math.degrees(math.atan(_X / math.sqrt(152.06**2 - (35 + _X) ** 2)))

NUMBERS: list[tuple[str, Changes, Verdict, float, float]] = [
    ("rigging/lengths", {}, PASS, 152.06, 152.125),
    ("rigging/lengths", {"measured": "152.125 in"}, PASS, 152.125, 152.125),
    ("rigging/lengths", {"measured": "152.13 in"}, FAIL, 152.13, 152.125),
    ("rigging/lengths", {"measured": "151.87 in"}, FAIL, 151.87, 151.875),
    ("rigging/angles", {}, PASS, 20.6, 20),
    ("rigging/angles", {"measured": "20 deg"}, PASS, 20, 20),
    ("rigging/angles", {"measured": "22.1 deg"}, FAIL, 22.1, 22),
    ("rigging/diagonals", {}, PASS, 0.06, 0.25),
    ("rigging/diagonals", {"left": "152.25 in"}, PASS, 0.25, 0.25),
    ("rigging/diagonals", {"left": "152.26 in"}, FAIL, 0.26, 0.25),
    # 1/8 in where the manual gives nothing: US Army training text of 1917
    ("rigging/diagonals", {"difference": None, "left": "152.125 in"}, PASS, 0.125, 0.125),
    ("rigging/diagonals", {"difference": None, "left": "152.13 in"}, WARN, 0.13, 0.125),
    ("rigging/square", {}, PASS, _ANGLE, 0.2),
    ("rigging/square", {"left": "152 in", "angle": "0 deg"}, PASS, 0, 0),
    ("rigging/square", {"left": "152.5 in"}, FAIL, 0.421, 0.2),
    # 0.157 in over 36 in is a quarter of a degree, 0.314 in half a degree
    ("rigging/toe", {}, PASS, 0.159, 0.25),
    ("rigging/toe", {"front": "33 in", "limit": "0 ± 0 deg"}, PASS, 0, 0),
    ("rigging/toe", {"front": "33.157 in"}, PASS, 0.25, 0.25),
    ("rigging/toe", {"front": "33.16 in"}, FAIL, 0.255, 0.25),
    ("rigging/toe", {"front": "32.84 in"}, FAIL, -0.255, -0.25),
    ("rigging/toe", {"front": "33.314 in", "limit": None}, PASS, 0.5, 0.5),
    ("rigging/toe", {"front": "33.32 in", "limit": None}, WARN, 0.509, 0.5),
    ("controls/cable-size", {}, PASS, 0.125, 0.125),
    ("controls/cable-size", {"diameter": "5/32 in"}, PASS, 0.15625, 0.125),
    ("controls/cable-size", {"diameter": "3/32 in"}, FAIL, 0.09375, 0.125),
    # Table 7-3: 1/8 in 7x19 stainless 1760 lb
    ("controls/cable-strength", {}, PASS, 1760, 900),
    ("controls/cable-strength", {"ultimate_load": "1760 lb"}, PASS, 1760, 1760),
    ("controls/cable-strength", {"ultimate_load": "1761 lb"}, FAIL, 1760, 1761),
    # the chart gives 38 lb half-way between its points
    ("controls/cable-tension", {"tension": "39 lb"}, PASS, 39, 42),
    ("controls/cable-tension", {"tension": "34 lb"}, PASS, 34, 34),
    ("controls/cable-tension", {"tension": "33.9 lb"}, FAIL, 33.9, 34),
    ("controls/cable-tension", {"tension": "43 lb"}, FAIL, 43, 42),
    # from the 12th of February to the 2nd of May of 2026: 16 + 31 + 30 + 2 days
    ("controls/tensiometer", {}, PASS, 79, 366),
    ("controls/tensiometer", {"tensiometer_calibrated": "2025-05-01"}, PASS, 366, 366),
    ("controls/tensiometer", {"tensiometer_calibrated": "2025-04-30"}, WARN, 367, 366),
    ("controls/tensiometer", {"tensiometer_interval": "79 day"}, PASS, 79, 79),
    ("controls/tensiometer", {"tensiometer_interval": "78 day"}, WARN, 79, 78),
    # 2.5 % of 4 in, from memory; a declared limit decides
    ("controls/free-play", {}, PASS, 0.05, 0.1),
    ("controls/free-play", {"play": "0.1 in"}, PASS, 0.1, 0.1),
    ("controls/free-play", {"play": "0.11 in"}, WARN, 0.11, 0.1),
    ("controls/free-play", {"limit": "0.05 in", "manual": "page 18"}, PASS, 0.05, 0.05),
    ("controls/free-play", {"play": "0.051 in", "limit": "0.05 in", "manual": "page 18"}, FAIL, 0.051, 0.05),
    ("controls/cable-wear", {}, PASS, 10, 40),
    ("controls/cable-wear", {"worn": "40 %"}, PASS, 40, 40),
    ("controls/cable-wear", {"worn": "41 %"}, FAIL, 41, 40),
    ("controls/cable-clearance", {}, PASS, 0.4, 0.25),
    ("controls/cable-clearance", {"clearance": "0.25 in"}, PASS, 0.25, 0.25),
    ("controls/cable-clearance", {"clearance": "0.2 in"}, WARN, 0.2, 0.25),
    ("controls/cable-clearance", {"clearance": "0 in"}, FAIL, 0, 0.25),
    ("controls/cable-clearance", {"clearance": "0.4 in", "least_clearance": "0.5 in"}, FAIL, 0.4, 0.5),
]

WORDS: list[tuple[str, Changes, Verdict, str]] = [
    ("rigging/lengths", {"limit": None}, NO_DATA, "'limit' is not recorded"),
    ("rigging/lengths", {"manual": None}, NO_DATA, "'manual' is not recorded"),
    ("rigging/lengths", {"measured": None}, NO_DATA, "'measured' is not recorded"),
    ("rigging/angles", {"limit": None}, NO_DATA, "'limit' is not recorded"),
    ("rigging/diagonals", {"base": None}, NO_DATA, "'base' is not recorded"),
    ("rigging/diagonals", {"manual": None}, NO_DATA, "'manual' is not recorded"),
    ("rigging/diagonals", {"base": "310 in"}, NO_DATA, "do not close to a triangle"),
    ("rigging/diagonals", {}, PASS, "0.130 in to the right"),
    ("rigging/diagonals", {"left": "151.94 in"}, PASS, "0.130 in to the left"),
    ("rigging/toe", {}, PASS, "0.159 deg toed out"),
    ("rigging/toe", {"front": "32.9 in"}, PASS, "0.159 deg toed in"),
    ("rigging/square", {"angle": None}, APART, "no limit of this angle"),
    ("rigging/square", {"left": None}, NO_DATA, "'left' is not recorded"),
    ("rigging/square", {"manual": None}, NO_DATA, "'manual' is not recorded"),
    ("rigging/toe", {"rear": None}, NO_DATA, "'rear' is not recorded"),
    ("rigging/toe", {"manual": None}, NO_DATA, "'manual' is not recorded"),
    ("rigging/toe", {"front": "80 in"}, NO_DATA, "more than the straightedge is long"),
    ("controls/stop", {}, PASS, "stopped by bolt"),
    ("controls/stop", {"stop": None}, NO_DATA, "'stop' is not recorded"),
    ("controls/free", {}, PASS, "free, loaded, the right way"),
    ("controls/free", {"free": "false"}, FAIL, "did not move freely"),
    ("controls/free", {"right_way": "false"}, FAIL, "moved the wrong way"),
    ("controls/free", {"loaded": "false"}, FAIL, "not tried against a load"),
    ("controls/free", {"day": "2026-06-01"}, PASS, "on 2026-06-01"),
    ("controls/free", {"day": "2026-06-02"}, FAIL, "a day yet to come"),
    ("controls/free", {"right_way": None}, NO_DATA, "'right_way' is not recorded"),
    ("controls/lock", {}, PASS, "cannot be overlooked"),
    ("controls/lock", {"cannot_fly_with_it": "false"}, FAIL, "can be overlooked"),
    ("controls/lock", {"can_engage_in_flight": "true"}, FAIL, "can engage in flight"),
    ("controls/lock", {"can_engage_in_flight": None}, NO_DATA, "'can_engage_in_flight' is not recorded"),
    ("controls/cable-size", {"use": "trim", "diameter": "1/16 in"}, APART, "no primary control"),
    ("controls/cable-size", {"use": None}, NO_DATA, "'use' is not recorded"),
    ("controls/cable-strength", {"ultimate_load": "0 lb"}, NO_DATA, "no load of a design"),
    ("controls/cable-strength", {"ultimate_load": None}, NO_DATA, "'ultimate_load' is not recorded"),
    ("controls/cable-strength", {"construction": "7x7"}, NO_DATA, "table 7-3 has no stainless 7x7 cable of 1/8 in"),
    ("controls/cable-tension", {"chart": None}, NO_DATA, "the chart has nothing for 55 degF"),
    ("controls/cable-tension", {"temperature": "75 degF"}, NO_DATA, "the chart has nothing for 75 degF"),
    ("controls/cable-tension", {"temperature": None}, NO_DATA, "'temperature' is not recorded"),
    ("controls/tensiometer", {"day": None}, NO_DATA, "'day' is not recorded"),
    ("controls/tensiometer", {"tensiometer_calibrated": None}, NO_DATA, "'tensiometer_calibrated' is not recorded"),
    ("controls/tensiometer", {"day": "2026-02-11"}, NO_DATA, "after it measured on 2026-02-11"),
    ("controls/free-play", {"play": None}, NO_DATA, "'play' is not recorded"),
    ("controls/free-play", {"chord": None}, NO_DATA, "'chord' is not recorded"),
    ("controls/free-play", {"limit": "0.1 in"}, NO_DATA, "'manual' is not recorded"),
    ("controls/free-play", {"control": "elevator"}, NO_DATA, "only its drawing gives one"),
    ("controls/cable-wear", {"worn": None}, NO_DATA, "'worn' is not recorded"),
    ("controls/cable-clearance", {"clearance": None}, NO_DATA, "'clearance' is not recorded"),
]


def records_for(rule: str, changes: Changes) -> str:
    name = LIST_OF[rule]
    return f"rigging:\n  {name}:\n    - {record_line(RECORDS[name], **changes)}\n"


@pytest.mark.parametrize(("rule", "changes", "verdict", "measured", "limit"), NUMBERS)
def test_against_its_limit(rule: str, changes: Changes, verdict: Verdict, measured: float, limit: float) -> None:
    finding = the_finding(rule, records_for(rule, changes), "X")
    assert finding.verdict is verdict, finding.message
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(measured, abs=0.0006)
    assert finding.limit.value == pytest.approx(limit, abs=1e-6)
    assert finding.where[0].position.line == 4


@pytest.mark.parametrize(("rule", "changes", "verdict", "words"), WORDS)
def test_what_is_said_where_no_figures_decide(rule: str, changes: Changes, verdict: Verdict, words: str) -> None:
    finding = the_finding(rule, records_for(rule, changes), "X")
    assert finding.verdict is verdict, finding.message
    assert words in finding.message
    assert finding.where[0].position.line == 4


@pytest.mark.parametrize("rule", sorted({rule for rule, *_ in NUMBERS} & {*LIST_OF}))
def test_a_record_that_says_nothing_hides_no_other(rule: str) -> None:
    changes = next(changes for one, changes, *_ in NUMBERS if one == rule)
    records = records_for(rule, changes)
    empty = {"id": "EMPTY"} | ({"what": "nothing"} if "what" in RECORDS[LIST_OF[rule]] else {})
    with_empty = records.replace("    - {id: X", f"    - {record_line(empty)}\n    - {{id: X")
    alone, beside = the_finding(rule, records, "X"), the_finding(rule, with_empty, "X")
    assert (beside.verdict, beside.message) == (alone.verdict, alone.message)


@pytest.mark.parametrize("rule", ["rigging/lengths", "rigging/angles", "controls/free"])
def test_what_every_aircraft_has_is_no_data_where_it_is_not_recorded(rule: str) -> None:
    (finding,) = findings(rule, "rigging: {}\n")
    assert finding.verdict is NO_DATA


@pytest.mark.parametrize("rule", sorted({*LIST_OF} - {"rigging/lengths", "rigging/angles", "controls/free"}))
def test_what_an_aircraft_may_lack_is_not_asked(rule: str) -> None:
    (finding,) = findings(rule, "rigging: {}\n")
    assert finding.verdict is APART


PAIR = """\
rigging:
  lengths:
    - {{id: L1, what: left, measured: {left}}}
    - {{id: L2, what: right, measured: 38 in}}
  angles:
    - {{id: A1, what: left, measured: {angle}}}
    - {{id: A2, what: right}}
    - {{id: A3, what: right, measured: 2.5 deg}}
  pairs:
    - {pair}
"""


@pytest.mark.parametrize(
    ("pair", "left", "angle", "verdict", "measured", "limit"),
    [
        ("{id: P, left: L1, right: L2}", "38.1 in", "2 deg", PASS, 0.1, 0.125),
        ("{id: P, left: L1, right: L2}", "38.125 in", "2 deg", PASS, 0.125, 0.125),
        ("{id: P, left: L1, right: L2}", "37.87 in", "2 deg", WARN, 0.13, 0.125),
        ("{id: P, left: L1, right: L2, length: 0.1 in, manual: page 9}", "38.1 in", "2 deg", PASS, 0.1, 0.1),
        ("{id: P, left: L1, right: L2, length: 0.1 in, manual: page 9}", "38.11 in", "2 deg", FAIL, 0.11, 0.1),
        ("{id: P, left: A1, right: A3}", "38 in", "2.7 deg", PASS, 0.2, 0.2),
        ("{id: P, left: A1, right: A3}", "38 in", "2.2 deg", WARN, 0.3, 0.2),
        ("{id: P, left: A1, right: A3, angle: 0.25 deg, manual: page 8}", "38 in", "2.2 deg", FAIL, 0.3, 0.25),
    ],
)
def test_left_and_right(pair: str, left: str, angle: str, verdict: Verdict, measured: float, limit: float) -> None:
    finding = the_finding("rigging/sides-alike", PAIR.format(pair=pair, left=left, angle=angle), "P")
    assert finding.verdict is verdict, finding.message
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(measured)
    assert finding.limit.value == pytest.approx(limit)
    assert finding.where[0].position.line == (4 if "L1" in pair else 7)


@pytest.mark.parametrize(
    ("pair", "subject"),
    [
        ("{id: P, left: A1, right: A2}", "A2"),
        ("{id: P, left: L1, right: A1}", "P"),
        ("{id: P, left: L1, right: L2, length: 0.1 in}", "P"),
    ],
)
def test_left_and_right_without_data(pair: str, subject: str) -> None:
    records = PAIR.format(pair=pair, left="38 in", angle="2 deg")
    assert the_finding("rigging/sides-alike", records, subject).verdict is NO_DATA


def test_an_aircraft_without_pairs_is_not_asked() -> None:
    for rule in ("rigging/sides-alike", "rigging/washout"):
        (finding,) = findings(rule, "rigging: {}\n")
        assert finding.verdict is APART


WING = """\
rigging:
  angles:
    - {{id: ROOT, what: root, measured: 2.5 deg}}
    - {{id: TIP, what: tip{tip}}}
  washouts:
    - {{id: W, root: ROOT, tip: TIP{limit}}}
"""
LIMIT = ", limit: 2 ± 0.25 deg, manual: page 8"


@pytest.mark.parametrize(
    ("tip", "limit", "verdict", "twist"),
    [
        (", measured: 0.4 deg", LIMIT, PASS, 2.1),
        (", measured: 0.25 deg", LIMIT, PASS, 2.25),
        (", measured: 0.2 deg", LIMIT, FAIL, 2.3),
        (", measured: 0.8 deg", LIMIT, FAIL, 1.7),
        ("", LIMIT, NO_DATA, None),
        (", measured: 0.4 deg", "", NO_DATA, None),
        (", measured: 0.4 deg", ", limit: 2 ± 0.25 deg", NO_DATA, None),
    ],
)
def test_a_wing_is_twisted_as_the_manual_says(tip: str, limit: str, verdict: Verdict, twist: float | None) -> None:
    finding = the_finding("rigging/washout", WING.format(tip=tip, limit=limit), "W")
    assert finding.verdict is verdict, finding.message
    assert (finding.measured.value if finding.measured else None) == (twist and pytest.approx(twist))
    assert finding.where[0].position.line == (7 if verdict is NO_DATA else 5)


@pytest.mark.parametrize(
    ("travel", "tried", "verdict"),
    [
        ({}, {}, PASS),
        ({}, {"day": "2026-05-01"}, PASS),
        ({}, {"day": "2026-04-30"}, FAIL),
        ({}, {"control": "rudder"}, NO_DATA),
        ({"day": None}, {}, NO_DATA),
    ],
)
def test_a_control_is_tried_after_its_travel_was_set(travel: Changes, tried: Changes, verdict: Verdict) -> None:
    angle = record_line(RECORDS["angles"], **travel)
    test = record_line(RECORDS["tests"], **{**tried, "id": "T"})
    records = f"rigging:\n  angles:\n    - {angle}\n  tests:\n    - {test}\n"
    finding = the_finding("controls/tried-after-rigging", records, "X")
    assert finding.verdict is verdict, finding.message
    assert finding.where[0].position.line == 4


PULLEY = {"id": "X", "cable": "C", "cable_size": "1/8 in", "misalignment": "0.8 deg", "guarded": "true"}


def pulley_records(use: str, changes: Changes) -> str:
    cable = "{id: C, diameter: 0.125 in" + (f", use: {use}" if use else "") + "}"
    return f"rigging:\n  cables:\n    - {cable}\n  pulleys:\n    - {record_line(PULLEY, **changes)}\n"


@pytest.mark.parametrize(
    ("use", "changes", "verdict", "limit"),
    [
        ("primary", {}, PASS, 1),
        ("primary", {"misalignment": "1 deg"}, PASS, 1),
        ("primary", {"misalignment": "1.1 deg"}, FAIL, 1),
        ("primary", {"misalignment": "-1.1 deg"}, FAIL, 1),  # to the other side
        ("", {"misalignment": "1.1 deg"}, FAIL, 1),
        ("trim", {"misalignment": "2 deg"}, PASS, 2),
        ("trim", {"misalignment": "2.1 deg"}, FAIL, 2),
        ("primary", {"misalignment": "2.1 deg", "side_travel": "true"}, FAIL, 2),
        ("other", {"misalignment": "3 deg", "side_travel": "true"}, PASS, 3),
        ("primary", {"misalignment": None}, NO_DATA, None),
        ("primary", {"cable": None}, NO_DATA, None),
    ],
)  # MIL-F-18372 3.1.1.17.8
def test_a_pulley_stands_in_line(use: str, changes: Changes, verdict: Verdict, limit: float | None) -> None:
    finding = the_finding("controls/pulley-alignment", pulley_records(use, changes), "X")
    assert finding.verdict is verdict, finding.message
    assert (finding.limit.value if finding.limit else None) == limit
    assert finding.where[0].position.line == 6


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ({}, PASS),
        ({"cable_size": "5/32 in"}, FAIL),
        ({"guarded": "false"}, FAIL),
        ({"guarded": None}, NO_DATA),
        ({"cable_size": None}, NO_DATA),
        ({"cable": None}, NO_DATA),
    ],
)
def test_a_pulley_holds_its_cable(changes: Changes, verdict: Verdict) -> None:
    finding = the_finding("controls/pulley-guard", pulley_records("primary", changes), "X")
    assert finding.verdict is verdict, finding.message
    assert finding.where[0].position.line == 6


@pytest.mark.parametrize(
    ("turn", "verdict"), [("2 deg", PASS), ("3 deg", PASS), ("3.1 deg", FAIL), ("-3.1 deg", FAIL), (None, NO_DATA)]
)
def test_a_fairlead_turns_little(turn: str | None, verdict: Verdict) -> None:
    line = record_line({"id": "X"}, turn=turn)
    finding = the_finding("controls/fairlead", f"rigging:\n  fairleads:\n    - {line}\n", "X")
    assert finding.verdict is verdict, finding.message
    assert (finding.limit.value if finding.limit else 3) == 3


@pytest.mark.parametrize("rule", ["pulley-alignment", "pulley-guard", "fairlead", "tried-after-rigging"])
def test_an_aircraft_without_cables_is_not_asked(rule: str) -> None:
    (finding,) = findings(f"controls/{rule}", "rigging: {}\n")
    assert finding.verdict is APART


def test_surfaces_that_move_have_their_play_measured() -> None:
    (finding,) = findings("controls/free-play", records_for("controls/stop", {}))
    assert finding.verdict is NO_DATA
