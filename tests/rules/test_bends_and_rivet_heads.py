"""Bends, rivet numbers and formed heads.

Sources: a design shop's table of bend radii (read) and AC 43.13-1B table 4-6 (from memory, its 3 to 5 thicknesses of 2024-T3 at
0.064 in also in a second text); military part numbers of rivets (from memory); a Navy text on formed heads (second hand).
"""

from __future__ import annotations

from pathlib import Path

import pytest

import jurystrut_rules
from jurystrut.rulebook import Verdict, read_table
from jurystrut.testing import findings, record_line, the_finding
from jurystrut_rules.hardware.bends import least_radius
from jurystrut_rules.hardware.rivet_heads import rivet_of

ORACLES = {
    "bend-radii": "hardware/bend-radius",
    "rivet-part-numbers": "hardware/rivet-number",
    "navy-shop-head": "hardware/shop-head",
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
Changes = dict[str, str | None]
TABLES = Path(jurystrut_rules.__file__).parent / "tables/hardware"

# alloy: thickness, thicknesses by table 4-6 as remembered, inches by the shop
PUBLISHED = """
2024-T3  0.016 1.5-3   -
2024-T3  0.032 2-4     0.125
2024-T3  0.040 -       0.188
2024-T3  0.063 3-5     0.250
6061-T6  0.032 0.5-1.5 0.094
6061-T6  0.040 -       0.125
6061-T6  0.063 1-2     0.188
5052-H32 0.032 0-0     -
5052-H32 0.063 0.5-1   -
4130N    0.032 -       0.094
4130N    0.040 -       0.125
4130N    0.050 -       0.156
4130N    0.063 -       0.188
"""
ROWS = [line.split() for line in PUBLISHED.strip().splitlines()]


@pytest.mark.parametrize(("alloy", "thickness", "remembered", "shop"), ROWS)
def test_the_tables_of_bend_radii(alloy: str, thickness: str, remembered: str, shop: str) -> None:
    known = least_radius(alloy, float(thickness))
    assert known is not None
    if remembered == "-":
        assert known.remembered is None
    else:
        low, high = (float(end) * float(thickness) for end in remembered.split("-"))
        assert known.remembered == pytest.approx((low, high))
    assert known.shop == (None if shop == "-" else float(shop))


def test_the_tables_hold_no_more_and_guess_nothing() -> None:
    assert len(read_table(TABLES / "bend_radii.yaml").rows) == len(ROWS)
    assert [least_radius(*sheet) for sheet in (("2024-T3", 0.05), ("7075-T6", 0.032), ("4130N", 0.016))] == [None] * 3
    assert least_radius("2024-T3", 0.064) == least_radius("2024-T3", 0.063)


BEND = {"id": "X", "alloy": "2024-T3", "thickness": "0.032 in", "radius": "0.14 in", "angle": "90 deg"}
DRAWN: Changes = {"least_radius": "0.15 in", "drawing": "drawing 21"}


def bent(**changes: str | None) -> str:
    return f"hardware:\n  bends:\n    - {record_line(BEND, **changes)}\n"


@pytest.mark.parametrize(
    ("changes", "verdict", "limit"),
    [
        # the stricter of 4 x 0.032 = 0.128 in and the shop's 0.125 in
        ({}, PASS, 0.128),
        ({"radius": "0.128 in"}, PASS, 0.128),
        ({"radius": "0.127 in"}, WARN, 0.128),
        ({"alloy": "6061-T6", "thickness": "0.063 in"}, WARN, 0.188),
        ({"alloy": "5052-H32", "radius": "0 in"}, PASS, 0),
        ({**DRAWN, "radius": "0.15 in"}, PASS, 0.15),
        (DRAWN, FAIL, 0.15),
        # a drawing that allows less than the tables decides too
        ({**DRAWN, "least_radius": "0.06 in", "radius": "0.06 in", "angle": "120 deg", "alloy": "other"}, PASS, 0.06),
    ],
)
def test_bends(changes: Changes, verdict: Verdict, limit: float) -> None:
    finding = the_finding("hardware/bend-radius", bent(**changes), "X")
    assert finding.verdict is verdict, finding.message
    assert finding.limit
    assert finding.limit.value == pytest.approx(limit)
    assert finding.where[0].position.line == 4


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"radius": None}, "'radius' is not recorded"),
        ({"alloy": None}, "'alloy' is not recorded"),
        ({"thickness": None}, "'thickness' is not recorded"),
        ({"alloy": "other"}, "the tables have no other sheet of 0.032 in"),
        ({"thickness": "0.05 in"}, "the tables have no 2024-T3 sheet of 0.050 in"),
        ({"angle": "91 deg"}, "this one is bent by 91 deg"),
        ({"angle": None}, "has no angle recorded"),
        ({"least_radius": "0.1 in"}, "'drawing' is not recorded"),
    ],
)
def test_bends_that_no_table_knows(changes: Changes, words: str) -> None:
    finding = the_finding("hardware/bend-radius", bent(**changes), "X")
    assert finding.verdict is NO_DATA
    assert words in finding.message


def test_both_tables_stand_in_the_working() -> None:
    finding = the_finding("hardware/bend-radius", bent(), "X")
    assert finding.working
    assert list(finding.working()) == [
        "from memory of AC 43.13-1B table 4-6: 0.064 to 0.128 in",
        "by a design shop's table: 0.125 in",
    ]


@pytest.mark.parametrize(
    ("part", "rivet"),
    [
        ("MS20470AD4-5", ("protruding", 4 / 32, 5 / 16)),
        ("ms20426ad3-4", ("countersunk", 3 / 32, 4 / 16)),
        ("AN470DD6-10", ("protruding", 6 / 32, 10 / 16)),
        ("AN426A5-6", ("countersunk", 5 / 32, 6 / 16)),
        ("AN430AD4-4", ("protruding", 4 / 32, 4 / 16)),
        ("MS20600AD4W2", None),
        ("MS20615-4M5", None),
        ("MS20470AD4", None),
        ("rivet", None),
    ],
)
def test_rivets_by_their_number(part: str, rivet: tuple[str, float, float] | None) -> None:
    assert rivet_of(part) == rivet


def test_the_table_of_rivet_heads() -> None:
    published = {
        "AN426": "countersunk",
        "MS20426": "countersunk",
        "AN430": "protruding",
        "AN470": "protruding",
        "MS20470": "protruding",
    }
    rows = read_table(TABLES / "rivet_heads.yaml").rows
    assert {row["number"]: row["head"] for row in rows} == published
    assert len(rows) == len(published)


RIVET = {
    "id": "X",
    "kind": "solid",
    "part": "MS20470AD4-5",
    "head": "protruding",
    "diameter": "1/8 in",
    "length": "5/16 in",
    "shop_head_width": "0.2 in",
    "shop_head_height": "0.07 in",
}


def riveted(**changes: str | None) -> str:
    return f"hardware:\n  rivets:\n    - {record_line(RIVET, **changes)}\n"


@pytest.mark.parametrize(
    ("changes", "verdict", "words"),
    [
        ({}, PASS, "0.125 in by 0.3125 in"),
        ({"diameter": "0.125 in", "length": "0.313 in"}, PASS, "0.125 in"),
        ({"head": "countersunk"}, WARN, "recorded otherwise: head"),
        ({"diameter": "5/32 in", "length": "1/4 in"}, WARN, "recorded otherwise: diameter, length"),
        ({"part": "MS20426AD4-5", "head": "countersunk"}, PASS, "countersunk head"),
        ({"part": "MS20426AD4-5", "head": "dimpled"}, PASS, "countersunk head"),
        ({"part": "MS20999AD4-5"}, NO_DATA, "is not in the table"),
        ({"part": None}, NO_DATA, "'part' is not recorded"),
        ({"length": None}, NO_DATA, "'length' is not recorded"),
        ({"kind": "blind"}, APART, "its maker's"),
        ({"kind": None}, NO_DATA, "'kind' is not recorded"),
    ],
)
def test_rivet_and_number(changes: Changes, verdict: Verdict, words: str) -> None:
    finding = the_finding("hardware/rivet-number", riveted(**changes), "X")
    assert finding.verdict is verdict, finding.message
    assert words in finding.message


@pytest.mark.parametrize(
    ("changes", "verdict", "limit"),
    [
        # 1.5 x 0.125 = 0.1875 in wide, half of it 0.0625 in high
        ({}, PASS, 0.0625),
        ({"shop_head_width": "3/16 in", "shop_head_height": "1/16 in"}, PASS, 0.0625),
        ({"shop_head_width": "0.187 in"}, WARN, 0.1875),
        ({"shop_head_height": "0.062 in"}, WARN, 0.0625),
    ],
)
def test_formed_heads(changes: Changes, verdict: Verdict, limit: float) -> None:
    finding = the_finding("hardware/shop-head", riveted(**changes), "X")
    assert finding.verdict is verdict
    assert finding.limit
    assert finding.limit.value == limit
    assert finding.where[0].position.line == 4


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ({"shop_head_width": None}, NO_DATA),
        ({"diameter": None}, NO_DATA),
        ({"kind": None}, NO_DATA),
        ({"kind": "blind"}, APART),
    ],
)
def test_heads_that_were_not_measured(changes: Changes, verdict: Verdict) -> None:
    assert the_finding("hardware/shop-head", riveted(**changes), "X").verdict is verdict


@pytest.mark.parametrize("rule", ["hardware/bend-radius", "hardware/rivet-number", "hardware/shop-head"])
def test_an_aircraft_that_has_none_is_not_asked(rule: str) -> None:
    (finding,) = findings(rule, "hardware: {}\n")
    assert finding.verdict is APART
