"""Rules for bolted joints: each on a sound joint, just over its limit, exactly at it, and without its data."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, record_line, the_finding

ORACLES = {
    "an3-an20": "hardware/bolt-length hardware/grip hardware/nut-fits",
    "an960-thickness": "hardware/grip",
    "ac43-7-41": "hardware/bolt-size",
    "ac43-table-7-2": "hardware/nut-drag",
    "nut-part-numbers": "hardware/nut-fits",
    "ac43-7-64": "hardware/nut-heat",
    "navy-14014": "hardware/threads-in-hole hardware/threads-showing",
    "builders-three-threads": "hardware/threads-in-hole hardware/threads-showing",
    "ac43-table-7-1": "hardware/torque hardware/torque-limit",
    "ac43-figure-7-2": "hardware/torque-adapter",
    "ac43-7-40-a": "hardware/wrench-calibration",
    "own arithmetic": "hardware/bolt-spacing hardware/edge-distance hardware/gap hardware/washers-under-nut",
    "nothing computed": (
        "hardware/cotter hardware/nut-on-turning-part hardware/nut-opened-often hardware/shear-nut "
        "hardware/torque-record hardware/washer-fits"
    ),
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

Changes = dict[str, str | None]

JOINT = {
    "id": "J",
    "stack": "[0.25 in, 0.625 in, 0.25 in]",
    "gap": "0 in",
    "bolt": "AN4-15A",
    "head_washers": "[AN960-416]",
    "nut_washers": "[AN960-416]",
    "nut": "AN365-428A",
    "loaded": "shear",
    "torque": "60 in-lb",
    "nut_drag": "7 in-lb",
    "threads_showing": "2",
    "torqued_by": "builder",
    "torqued": "2026-05-01",
    "wrench": "TW",
    "edge_distance": "0.6 in",
    "spacing": "1 in",
}
RECORDS = "hardware:\n  wrenches: [{id: TW, calibrated: [2025-03-01, 2025-12-01]}]\n  joints:\n    - "

CASTLE: dict[str, str | None] = {"bolt": "AN4-15", "nut": "AN310-4", "cotter": "MS24665-132"}
# Grip of AN6-20 by an independent list: 1-7/16 in. Washers of 0.063 in under head and nut.
AN6: dict[str, str | None] = {
    "bolt": "AN6-20A",
    "head_washers": "[AN960-616]",
    "nut_washers": "[AN960-616]",
    "nut": "AN365-624A",
}
# AN3-7 by the drawing: grip 0.500 in, thread 10-32, so that 1/32 in of the hole without shank is one thread.
AN3: dict[str, str | None] = {"bolt": "AN3-7A", "head_washers": None, "nut_washers": "[AN960-10]", "nut": "AN365-1032"}


def finding_of(rule: str, changes: Changes) -> Finding:
    return the_finding(rule, RECORDS + record_line(JOINT, **changes) + "\n", "J")


DRAWN: Changes = {"least_edge_distance": "0.375 in", "least_spacing": "1.25 in", "drawing": "drawing 12"}
# AN8 has no published dimensions here: grip and length stand on its drawing. Its thread is 1/2-20.
AN8: Changes = {
    "bolt": "AN8-15A",
    "grip": "1.2 in",
    "length": "1.3 in",
    "head_washers": "[AN960-816]",
    "nut_washers": "[AN960-816]",
}

BACK: Changes = {"adapter_points_back": "true"}
ADAPTER: Changes = {"adapter": "2 in", "wrench_length": "10 in", "wrench_reading": "50 in-lb"}

NUMBERS: list[tuple[str, Changes, Verdict, float, float]] = [
    # grip 1.1875 in (AN4-15A, independent list); 0.063 + 1.125 + 0.063 in
    ("grip", {}, PASS, 1.1875, 1.251),
    ("grip", {**AN6, "stack": "[1.3115 in]"}, PASS, 1.4375, 1.4375),
    ("grip", {**AN6, "stack": "[1.311 in]"}, FAIL, 1.4375, 1.437),
    # AN5H-27A: grip 2-7/16 in by an independent list
    (
        "grip",
        {"bolt": "AN5H-27A", "stack": "[2.4 in]", "head_washers": None, "nut_washers": "[AN960-516]"},
        PASS,
        2.4375,
        2.463,
    ),
    # a grip recorded from a drawing goes before the tables
    ("grip", {"grip": "1.26 in"}, FAIL, 1.26, 1.251),
    ("threads-in-hole", {}, PASS, 0.014, 1),
    ("threads-in-hole", {**AN3, "stack": "[0.53125 in]"}, PASS, 1, 1),
    ("threads-in-hole", {**AN3, "stack": "[0.5625 in]"}, WARN, 2, 1),
    ("threads-in-hole", {**AN3, "stack": "[0.57 in]"}, FAIL, 2.24, 2),
    # AN4-15A: 13/8 + 0.031 = 1.656 in; 1.251 in and one thread of 1/28 in
    ("bolt-length", {}, PASS, 1.656, 1.251 + 1 / 28),
    # AN3-7: 0.906 in; 1/32 in of it is one thread
    ("bolt-length", {**AN3, "nut_washers": None, "washers": "0", "stack": "[0.87475 in]"}, PASS, 0.906, 0.906),
    ("bolt-length", {**AN3, "nut_washers": None, "washers": "0", "stack": "[0.875 in]"}, FAIL, 0.906, 0.90625),
    ("bolt-length", AN8, FAIL, 1.3, 1.251 + 1 / 20),
    ("bolt-length", {**AN8, "length": "1.301 in"}, PASS, 1.301, 1.251 + 1 / 20),
    ("threads-in-hole", AN8, PASS, 0, 1),
    ("threads-showing", {}, PASS, 2, 1),
    ("threads-showing", {"threads_showing": "1"}, PASS, 1, 1),
    ("threads-showing", {"threads_showing": "0.9"}, FAIL, 0.9, 1),
    ("threads-showing", {"threads_showing": "3"}, PASS, 3, 1),
    ("threads-showing", {"threads_showing": "3.5"}, WARN, 3.5, 3),
    ("gap", {}, PASS, 0, 0),
    ("gap", {"gap": "0.01 in"}, WARN, 0.01, 0),
    ("washers-under-nut", {}, PASS, 1, 3),
    ("washers-under-nut", {"nut_washers": "[AN960-416, AN960-416, AN960-416L]"}, PASS, 3, 3),
    ("washers-under-nut", {"nut_washers": "[AN960-416, AN960-416, AN960-416, AN960-416L]"}, WARN, 4, 3),
    ("bolt-size", {}, PASS, 0.25, 0.19),
    ("bolt-size", {"bolt": "AN3-7A"}, PASS, 0.19, 0.19),
    ("bolt-size", {"bolt": "AN4DD-15A"}, PASS, 0.25, 0.25),
    ("bolt-size", {"bolt": "AN3DD-7A"}, FAIL, 0.19, 0.25),
    # Table 7-1, 1/4-28 in tension 50 to 70 in-lb; with 7 in-lb of drag 57 to 77
    ("torque", {}, PASS, 60, 57),
    ("torque", {"torque": "57 in-lb"}, PASS, 57, 57),
    ("torque", {"torque": "77 in-lb"}, PASS, 77, 77),
    ("torque", {"torque": "56.5 in-lb"}, FAIL, 56.5, 57),
    ("torque", {"torque": "78 in-lb"}, FAIL, 78, 77),
    # in shear 30 to 40 in-lb
    ("torque", {"nut": "AN320-4", "nut_drag": "0 in-lb", "torque": "40 in-lb"}, PASS, 40, 40),
    ("torque", {"nut": "AN320-4", "nut_drag": "0 in-lb", "torque": "41 in-lb"}, FAIL, 41, 40),
    # AN363 is a tension nut from memory alone
    ("torque", {"nut": "AN363-428", "torque": "78 in-lb"}, WARN, 78, 77),
    ("torque", {"torque_range": "80..90 in-lb", "manual": "page 9", "torque": "79 in-lb"}, FAIL, 79, 80),
    ("torque", {"torque_range": "80..90 in-lb", "manual": "page 9", "torque": "80 in-lb"}, PASS, 80, 80),
    # Table 7-1, 1/4-28: 100 in-lb at most in tension, 60 in shear
    ("torque-limit", {}, PASS, 60, 100),
    ("torque-limit", {"torque": "100 in-lb"}, PASS, 100, 100),
    ("torque-limit", {"torque": "101 in-lb", "torque_range": "90..120 in-lb", "manual": "page 9"}, FAIL, 101, 100),
    ("torque-limit", {"torque": "61 in-lb", "nut": "AN364-428A"}, FAIL, 61, 60),
    ("torque-limit", {"torque": "101 in-lb", "nut": "AN363-428"}, WARN, 101, 100),
    # 2025-12-01 to 2026-05-01: 30 + 31 + 31 + 28 + 31 days
    ("wrench-calibration", {}, PASS, 151, 366),
    # 60 in-lb x 10 / (10 + 2) = 50 in-lb, 4 % to either side
    ("torque-adapter", ADAPTER, PASS, 50, 52),
    ("torque-adapter", ADAPTER | {"wrench_reading": "52 in-lb"}, PASS, 52, 52),
    ("torque-adapter", ADAPTER | {"wrench_reading": "52.1 in-lb"}, WARN, 52.1, 52),
    ("torque-adapter", ADAPTER | {"wrench_reading": "47.9 in-lb"}, WARN, 47.9, 48),
    ("torque-adapter", ADAPTER | BACK | {"wrench_reading": "75 in-lb"}, PASS, 75, 78),
    ("wrench-calibration", {"torqued": "2025-11-30"}, PASS, 274, 366),
    ("nut-drag", {"bolt": "AN7-15A", "nut": "AN365-720A", "nut_drag": "9 in-lb"}, PASS, 9, 8),
    ("nut-drag", {"bolt": "AN7-15A", "nut": "AN365-720A", "nut_drag": "8 in-lb"}, PASS, 8, 8),
    ("nut-drag", {"bolt": "AN7-15A", "nut": "AN365-720A", "nut_drag": "7.5 in-lb"}, FAIL, 7.5, 8),
    ("nut-heat", {"temperature": "200 degF"}, PASS, 200, 250),
    ("nut-heat", {"temperature": "250 degF"}, PASS, 250, 250),
    ("nut-heat", {"temperature": "251 degF"}, FAIL, 251, 250),
    ("nut-heat", {"temperature": "251 degF", "nut": "AN363-428"}, PASS, 251, 450),
    ("nut-heat", {"temperature": "460 degF", "nut": "AN363-428"}, FAIL, 460, 450),
    ("edge-distance", {}, PASS, 0.6, 0.5),
    ("edge-distance", {"edge_distance": "0.5 in"}, PASS, 0.5, 0.5),
    ("edge-distance", {"edge_distance": "0.49 in"}, WARN, 0.49, 0.5),
    # what a drawing declares goes first, and fails
    ("edge-distance", {**DRAWN, "edge_distance": "0.375 in"}, PASS, 0.375, 0.375),
    ("edge-distance", {**DRAWN, "edge_distance": "0.37 in"}, FAIL, 0.37, 0.375),
    ("bolt-spacing", {**DRAWN, "spacing": "1.25 in"}, PASS, 1.25, 1.25),
    ("bolt-spacing", DRAWN, FAIL, 1, 1.25),
    ("bolt-spacing", {}, PASS, 1, 0.75),
    ("bolt-spacing", {"spacing": "0.75 in"}, PASS, 0.75, 0.75),
    ("bolt-spacing", {"spacing": "0.74 in"}, WARN, 0.74, 0.75),
]

WORDS: list[tuple[str, Changes, Verdict, str]] = [
    ("grip", {"bolt": None}, NO_DATA, "'bolt' is not recorded"),
    ("grip", {"bolt": "AN4-18A"}, NO_DATA, "there is no dash number 18"),
    ("grip", {"bolt": "AN4-30A"}, NO_DATA, "the tables end at dash 27"),
    ("grip", {"bolt": "AN8-15A"}, NO_DATA, "AN8 bolts are not in the tables"),
    ("bolt-length", {**AN8, "length": None}, NO_DATA, "record 'length' from its drawing"),
    ("bolt-length", {**AN8, "bolt": "AN8-19A"}, NO_DATA, "there is no dash number 19"),
    ("threads-in-hole", {**AN8, "bolt": "NAS6604-20"}, NO_DATA, "its thread is not known: 'NAS6604-20' is not"),
    ("bolt-size", {**AN8, "bolt": "AN2-5"}, NO_DATA, "there is no series AN2"),
    ("edge-distance", {"bolt": "AN2-5"}, NO_DATA, "its diameter is not known: 'AN2-5': there is no series AN2"),
    ("edge-distance", {**DRAWN, "drawing": None}, NO_DATA, "which gives its least edge distance"),
    ("bolt-spacing", {**DRAWN, "drawing": None}, NO_DATA, "which gives its least spacing"),
    # a nut whose kind is known from memory is warned of at most
    ("nut-on-turning-part", {"rotates": "true", "nut": "AN363-428"}, WARN, "an all-metal nut"),
    ("nut-opened-often", {"opened_often": "true", "nut": "AN363-428"}, WARN, "all-metal nut"),
    ("cotter", {"rotates": "true", "nut": "AN363-428"}, WARN, "takes no cotter"),
    ("shear-nut", {"loaded": "tension", "nut": "MS17826-4"}, WARN, "is a shear nut"),
    ("grip", {"bolt": "NAS6604-15"}, NO_DATA, "not the part number of an AN bolt"),
    ("grip", {"stack": None}, NO_DATA, "the thicknesses of its parts are not recorded"),
    ("grip", {"nut_washers": "[AN970-4]"}, NO_DATA, "the washer AN970-4 is not in the tables"),
    ("grip", {"washers": "3"}, NO_DATA, "3 washers are recorded, and 2 named"),
    ("grip", {"head_washers": None, "nut_washers": None}, NO_DATA, "its washers are not recorded"),
    ("threads-in-hole", {"bolt": None, "grip": "1.2 in"}, NO_DATA, "its thread is not known"),
    ("bolt-length", {"bolt": None}, NO_DATA, "'bolt' is not recorded"),
    ("threads-showing", {"threads_showing": None}, NO_DATA, "'threads_showing' is not recorded"),
    ("threads-showing", CASTLE, APART, "a castle nut"),
    ("gap", {"gap": None}, NO_DATA, "'gap' is not recorded"),
    ("washers-under-nut", {"stack": None}, NO_DATA, "not recorded"),
    ("bolt-size", {"bolt": None}, NO_DATA, "'bolt' is not recorded"),
    ("bolt-size", {"structure": "secondary", "bolt": None}, APART, "no primary structure"),
    ("torque", {"torque": None}, NO_DATA, "'torque' is not recorded"),
    ("torque", {"nut_drag": None}, NO_DATA, "'nut_drag' is not recorded"),
    ("torque", {"nut": "AN999-4"}, NO_DATA, "the nut AN999-4 is not in the tables"),
    ("torque", {"bolt": "AN21-15A"}, NO_DATA, "its bolt is not in table 7-1"),
    ("torque", {"bolt": "AN4DD-15A"}, NO_DATA, "AN4DD-15A is aluminium"),
    ("torque", {"bolt": "AN4C-15A"}, NO_DATA, "AN4C-15A is stainless"),
    ("torque-limit", {"bolt": "AN4C-15A"}, NO_DATA, "AN4C-15A is stainless"),
    ("torque-limit", {"bolt": "AN4C-15A", "torque_range": "80..90 in-lb", "manual": "page 9"}, APART, "page 9 decides"),
    ("torque", {"torque_range": "80..90 in-lb"}, NO_DATA, "'manual' is not recorded"),
    ("torque-limit", {"torque": None}, NO_DATA, "'torque' is not recorded"),
    ("torque-limit", {"nut": None}, NO_DATA, "'nut' is not recorded"),
    ("torque-limit", {"bolt": None}, NO_DATA, "its bolt is not in table 7-1"),
    ("torque-record", {}, PASS, "set by builder on 2026-05-01"),
    ("torque-record", {"torqued": "2026-06-01"}, PASS, "on 2026-06-01"),
    ("torque-record", {"torqued": "2026-06-02"}, FAIL, "on 2026-06-02"),
    ("torque-record", {"torqued_by": None}, NO_DATA, "'torqued_by' is not recorded"),
    ("torque-record", {"torqued": None}, NO_DATA, "'torqued' is not recorded"),
    ("wrench-calibration", {"wrench": None}, NO_DATA, "'wrench' is not recorded"),
    ("torque-adapter", {}, APART, "no adapter is recorded"),
    ("torque-adapter", ADAPTER | {"wrench_reading": None}, NO_DATA, "'wrench_reading' is not recorded, and an adapter"),
    ("torque-adapter", ADAPTER | BACK | {"adapter": "10 in"}, NO_DATA, "no lever is left"),
    ("nut-drag", {}, PASS, "table 7-2 gives no least drag for its size"),
    ("nut-drag", {"nut_drag": "0 in-lb"}, WARN, "turns on by hand"),
    ("nut-drag", {"nut_drag": None}, NO_DATA, "'nut_drag' is not recorded"),
    ("nut-drag", CASTLE, APART, "does not lock by its drag"),
    ("nut-on-turning-part", {}, PASS, "nothing turns"),
    ("nut-on-turning-part", {"rotates": "true"}, FAIL, "a fibre nut"),
    ("nut-on-turning-part", {"rotates": "true", "nut": "MS17825-4"}, PASS, "a castle-locking nut"),
    ("nut-on-turning-part", {"nut": None}, NO_DATA, "'nut' is not recorded"),
    ("cotter", CASTLE, PASS, "cotter MS24665-132"),
    ("cotter", {**CASTLE, "bolt": "AN4-15A"}, FAIL, "the shank of AN4-15A is not drilled"),
    ("cotter", {"rotates": "true"}, FAIL, "takes no cotter"),
    ("cotter", {**CASTLE, "cotter": None}, NO_DATA, "'cotter' is not recorded"),
    ("cotter", {"place": "landing-gear"}, WARN, "it belongs to the landing-gear"),
    ("cotter", {"place": "structure"}, APART, "nothing turns here"),
    ("cotter", {**CASTLE, "place": "landing-gear"}, PASS, "AN4-15 is drilled"),
    ("cotter", {}, APART, "takes no cotter, and nothing turns"),
    ("nut-heat", {"hot": "true"}, FAIL, "a fibre nut"),
    ("nut-heat", {"hot": "true", "nut": "AN363-428"}, PASS, "all-metal nut"),
    ("nut-heat", {"nut": None}, NO_DATA, "'nut' is not recorded"),
    ("nut-opened-often", {}, PASS, "not opened for a flight"),
    ("nut-opened-often", {"opened_often": "true"}, FAIL, "a fibre nut"),
    ("nut-opened-often", {"opened_often": "true", **CASTLE}, PASS, "a castle nut"),
    ("nut-opened-often", {"nut": None}, NO_DATA, "'nut' is not recorded"),
    ("shear-nut", {"nut": "AN320-4"}, PASS, "the bolt carries shear"),
    ("shear-nut", {"nut": "AN320-4", "loaded": "tension"}, FAIL, "the bolt carries tension"),
    ("shear-nut", {"loaded": "tension"}, PASS, "a full nut"),
    ("shear-nut", {"nut": "AN364-428A", "loaded": None}, NO_DATA, "'loaded' is not recorded"),
    ("nut-fits", {}, PASS, "AN4-15A has the thread 1/4-28, AN365-428A 1/4-28"),
    ("nut-fits", {"nut": "AN365-524A"}, WARN, "AN365-524A 5/16-24"),
    ("nut-fits", {"nut": "AN310-3", "bolt": "AN3-7"}, PASS, "AN310-3 10-32"),
    ("nut-fits", {"nut": "AN365-440A"}, NO_DATA, "the size of AN365-440A is not in the tables"),
    ("washer-fits", {}, PASS, "AN960-416, AN960-416 on AN4-15A"),
    ("washer-fits", {"head_washers": "[AN960-416L, AN960-516]"}, WARN, "AN960-516 on AN4-15A"),
    ("washer-fits", {"nut_washers": "[AN960-10]"}, WARN, "AN960-10 on AN4-15A"),
    ("washer-fits", AN3, PASS, "AN960-10 on AN3-7A"),
    ("washer-fits", {"head_washers": "[NAS1149F0463P]", "nut_washers": None}, APART, "no washer of a known size"),
    ("washer-fits", {"bolt": None}, NO_DATA, "'bolt' is not recorded"),
    ("edge-distance", {"edge_distance": None}, NO_DATA, "'edge_distance' is not recorded"),
    ("bolt-spacing", {"spacing": None}, APART, "no neighbouring bolt"),
    ("bolt-spacing", {"bolt": None}, NO_DATA, "'bolt' is not recorded"),
]


@pytest.mark.parametrize(("rule", "changes", "verdict", "measured", "limit"), NUMBERS)
def test_against_its_limit(rule: str, changes: Changes, verdict: Verdict, measured: float, limit: float) -> None:
    finding = finding_of(f"hardware/{rule}", changes)
    assert finding.verdict is verdict, finding.message
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(measured, abs=1e-6)
    assert finding.limit.value == pytest.approx(limit, abs=1e-6)
    assert finding.where[0].position.line == 5


@pytest.mark.parametrize(("rule", "changes", "verdict", "words"), WORDS)
def test_what_is_said_where_no_figures_decide(rule: str, changes: Changes, verdict: Verdict, words: str) -> None:
    finding = finding_of(f"hardware/{rule}", changes)
    assert finding.verdict is verdict, finding.message
    assert words in finding.message
    assert finding.where[0].position.line == 5


@pytest.mark.parametrize("rule", sorted({rule for rule, *_ in NUMBERS}))
def test_a_joint_that_says_nothing_hides_no_other(rule: str) -> None:
    changes = next(changes for one, changes, *_ in NUMBERS if one == rule)
    records = f"{RECORDS}{{id: EMPTY}}\n    - {record_line(JOINT, **changes)}\n"
    alone, beside = finding_of(f"hardware/{rule}", changes), the_finding(f"hardware/{rule}", records, "J")
    assert (beside.verdict, beside.message) == (alone.verdict, alone.message)
    assert "EMPTY" in {found.subject for found in findings(f"hardware/{rule}", records)}


@pytest.mark.parametrize(
    ("calibrated", "verdict"), [("2025-04-30", PASS), ("2025-04-29", WARN), ("2026-05-02", NO_DATA)]
)
def test_a_wrench_is_calibrated_within_the_year_before(calibrated: str, verdict: Verdict) -> None:
    records = RECORDS.replace("2025-03-01, 2025-12-01", calibrated) + record_line(JOINT) + "\n"
    assert the_finding("hardware/wrench-calibration", records, "J").verdict is verdict


@pytest.mark.parametrize("rule", sorted({rule for rule, *_ in NUMBERS} | {rule for rule, *_ in WORDS}))
def test_no_joint_at_all_is_no_data(rule: str) -> None:
    (finding,) = findings(f"hardware/{rule}", "hardware: {}\n")
    assert finding.verdict is NO_DATA


def test_explain_shows_each_step_of_the_torque() -> None:
    working = finding_of("hardware/torque", {}).working
    assert working is not None
    assert list(working()) == [
        "table 7-1, tension nut: 50 to 70 in-lb",
        "with the nut's drag of 7 in-lb: 57 to 77 in-lb",
    ]


@pytest.mark.parametrize(
    ("wanted", "shown", "verdict"),
    [("2", "2", PASS), ("2", "1.9", FAIL), ("0.5", "0.9", FAIL), ("0.5", "1", PASS), ("5", "3.5", WARN)],
)
def test_a_builder_may_want_more_threads_than_one_and_never_less(wanted: str, shown: str, verdict: Verdict) -> None:
    records = f"{RECORDS}{record_line(JOINT, threads_showing=shown)}\n  least_threads_showing: {wanted}\n"
    assert the_finding("hardware/threads-showing", records, "J").verdict is verdict
