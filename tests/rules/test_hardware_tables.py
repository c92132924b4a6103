"""Every cell of the tables for hardware and fuel lines, against a second writing of the published table.

Sources: AC 43.13-1B (9/8/98, change 1) tables 7-1, 7-2, 7-3 and 7-8; the military drawing of AN3 to AN20 as three copies print
it; old 14 CFR 23.1191(h); US Army TM 9-2320-363-34-2 table 4; FAA-H-8083-30 table 7-5 (from memory).
"""

from __future__ import annotations

from pathlib import Path

import pytest

import jurystrut_rules
from jurystrut.calculations.fasteners import FINE_THREADS, decoded, grip_and_length
from jurystrut.rulebook import read_table
from jurystrut_rules.fuel.lines import firewall_thickness, tube_support
from jurystrut_rules.hardware.tables import (
    bolt_dimensions,
    bolt_steps,
    cable_strength,
    countersink_sheet,
    inches,
    least_drag,
    nut_of,
    torque_row,
    turnbuckle_wire,
    washer_thickness,
)

TABLES = Path(jurystrut_rules.__file__).parent / "tables"

TORQUE = """
8-36     12-15     7-9       20    12
10-32    20-25     12-15     40    25
1/4-28   50-70     30-40     100   60
5/16-24  100-140   60-85     225   140
3/8-24   160-190   95-110    390   240
7/16-20  450-500   270-300   840   500
1/2-20   480-690   290-410   1100  660
9/16-18  800-1000  480-600   1600  960
5/8-18   1100-1300 600-780   2400  1400
3/4-16   2300-2500 1300-1500 5000  3000
7/8-14   2500-3000 1500-1800 7000  4200
1-14     3700-5500 2200-3300 10000 6000
1-1/8-12 5000-7000 3000-4200 15000 9000
1-1/4-12 9000-11000 5400-6600 25000 15000
8-32     12-15     7-9       20    12
10-24    20-25     12-15     35    21
1/4-20   40-50     25-30     75    45
5/16-18  80-90     48-55     160   100
3/8-16   160-185   95-100    275   170
7/16-14  235-255   140-155   475   280
1/2-13   400-480   240-290   880   520
9/16-12  500-700   300-420   1100  650
5/8-11   700-900   420-540   1500  900
3/4-10   1150-1600 700-950   2500  1500
7/8-9    2200-3000 1300-1800 4600  2700
"""
"""Table 7-1: size, tension nuts, shear nuts, most in tension, most in shear."""

DRAG = {
    "7/16-20 1/2-20 9/16-18 5/8-18 3/4-16 7/8-14 1-14 1-1/8-12 1-1/4-12": (8, 10, 13, 18, 27, 40, 55, 73, 94),
    "7/16-14 1/2-13 9/16-12 5/8-11 3/4-10 7/8-9 1-8 1-1/8-8 1-1/4-8": (8, 10, 14, 20, 27, 40, 51, 68, 88),
}
"""Table 7-2, fine and coarse."""

CABLE = """
0.0625  7x7  480  480
0.09375 7x7  920  920
0.09375 7x19 1000 920
0.125   7x19 2000 1760
0.15625 7x19 2800 2400
0.1875  7x19 4200 3700
0.21875 7x19 5600 5000
0.25    7x19 7000 6400
"""
"""Table 7-3: diameter, construction, carbon steel, stainless steel."""

BOLTS = {
    3: ("3 4 5 6 7 10 11 12 13 14", ".063 .125 .250 .375 .500 .625 .750 .875 1.000 1.125"),
    4: ("3 4 5 6 7 10 11 12 13 14", ".063 .063 .188 .313 .438 .563 .688 .813 .938 1.063"),
    5: ("4 5 6 7 10 11 12 13 14", ".063 .188 .313 .438 .563 .688 .813 .938 1.063"),
    6: ("5 6 7 10 11 12 13 14", ".063 .188 .313 .438 .563 .688 .813 .938"),
}
LENGTHS = {
    3: ".469 .531 .656 .781 .906 1.031 1.156 1.281 1.406 1.531",
    4: ".469 .531 .656 .781 .906 1.031 1.156 1.281 1.406 1.531",
    5: ".594 .719 .844 .969 1.094 1.219 1.344 1.469 1.594",
    6: ".703 .828 .953 1.078 1.203 1.328 1.453",
}

TUBES = {
    0.125: (9.5, 11.5),
    0.1875: (12, 14),
    0.25: (13.5, 16),
    0.3125: (15, 18),
    0.375: (16.5, 20),
    0.5: (19, 23),
    0.625: (22, 25.5),
    0.75: (24, 27.5),
    1: (26.5, 30),
}


def rows(text: str) -> list[list[str]]:
    return [line.split() for line in text.strip().splitlines()]


def count(name: str) -> int:
    return len(read_table(TABLES / f"{name}.yaml").rows)


@pytest.mark.parametrize(("size", "tension", "shear", "most_tension", "most_shear"), rows(TORQUE))
def test_table_7_1(size: str, tension: str, shear: str, most_tension: str, most_shear: str) -> None:
    row = torque_row(size)
    assert row is not None
    assert row.tension == tuple(float(end) for end in tension.split("-"))
    assert row.shear == tuple(float(end) for end in shear.split("-"))
    assert (row.most_tension, row.most_shear) == (float(most_tension), float(most_shear))


def test_table_7_1_holds_no_more_and_nothing_torques_beyond_what_is_allowed() -> None:
    assert count("hardware/table_7_1") == len(rows(TORQUE)) == 25
    assert torque_row("6-40") is None
    for cells in read_table(TABLES / "hardware/table_7_1.yaml").rows:
        assert float(str(cells["tension_max"])) < float(str(cells["most_tension"]))
        assert float(str(cells["shear_max"])) < float(str(cells["most_shear"]))


def test_table_7_2() -> None:
    published = {size: drag for sizes, drags in DRAG.items() for size, drag in zip(sizes.split(), drags, strict=True)}
    assert count("hardware/table_7_2") == len(published) == 18
    assert {size: least_drag(size) for size in published} == published
    assert least_drag("3/8-24") is None


@pytest.mark.parametrize(("diameter", "construction", "carbon", "stainless"), rows(CABLE))
def test_table_7_3(diameter: str, construction: str, carbon: str, stainless: str) -> None:
    assert cable_strength(float(diameter), construction, "carbon") == float(carbon)
    assert cable_strength(float(diameter), construction, "stainless") == float(stainless)


def test_table_7_3_holds_no_more() -> None:
    assert count("hardware/table_7_3") == len(rows(CABLE))
    assert cable_strength(0.125, "7x7", "carbon") is None
    assert cable_strength(0.3125, "7x19", "carbon") is None


@pytest.mark.parametrize(
    ("cable", "wrap", "materials", "wire"),
    [
        (1 / 16, "single", "copper brass", 0.040),
        (3 / 32, "single", "copper brass", 0.040),
        (1 / 8, "single", "stainless monel", 0.040),
        (1 / 8, "double", "copper brass", 0.040),
        (1 / 8, "single", "copper brass", 0.057),
        (5 / 32, "double", "stainless monel", 0.040),
        (5 / 32, "single", "stainless monel", 0.057),
        (5 / 32, "double", "copper brass", 0.0512),
        (1 / 4, "double", "copper brass", 0.0512),
        (1 / 16, "double", "copper brass stainless monel", None),
        (5 / 32, "single", "copper brass", None),
        (7 / 64, "single", "copper", None),
    ],
)
def test_table_7_8(cable: float, wrap: str, materials: str, wire: float | None) -> None:
    assert {turnbuckle_wire(cable, wrap, material) for material in materials.split()} == {wire}
    assert count("hardware/table_7_8") == 16


def published_bolts() -> list[tuple[int, int, float, float | None]]:
    found = []
    for series, (dashes, grips) in BOLTS.items():
        lengths: list[str | None] = [*LENGTHS[series].split(), None]
        for dash, grip, length in zip(dashes.split(), grips.split(), lengths, strict=False):
            found.append((series, int(dash), float(grip), float(length) if length else None))
    return found


@pytest.mark.parametrize(("series", "dash", "grip", "length"), published_bolts())
def test_an_bolts(series: int, dash: int, grip: float, length: float | None) -> None:
    listed = bolt_dimensions()[series, dash]
    assert listed == (grip, length)
    if dash > 3 and (series, dash) != (6, 14):
        # the drawing's own steps give the same, to its thousandth
        step, eighths = bolt_steps()[series], decoded(f"AN{series}-{dash}").eighths
        assert eighths / 8 - step.less == pytest.approx(grip, abs=0.00051)
        assert eighths / 8 + step.more == pytest.approx(length, abs=0.00051)


def test_an_bolts_hold_no_more() -> None:
    assert len(bolt_dimensions()) == len(published_bolts()) == 37


@pytest.mark.parametrize(
    ("part", "grip"), [("AN4-15A", 1.1875), ("AN6-20", 1.4375), ("AN5H-27A", 2.4375)]
)  # listed by other suppliers of copies of the drawing than those that the tables come from
def test_grips_that_others_list(part: str, grip: float) -> None:
    assert grip_and_length(decoded(part), bolt_dimensions(), bolt_steps())[0] == grip


def test_a_length_that_others_list() -> None:
    assert grip_and_length(decoded("AN4-7"), bolt_dimensions(), bolt_steps())[1] == 0.906


@pytest.mark.parametrize(
    ("rivet", "sheet"), [(3 / 32, 0.04), (1 / 8, 0.05), (5 / 32, 0.064), (3 / 16, 0.072), (1 / 4, 0.072)]
)
def test_countersinks(rivet: float, sheet: float) -> None:
    assert countersink_sheet(rivet) == sheet
    assert count("hardware/countersink") == 5


def test_a_rivet_beyond_the_table_has_no_countersink() -> None:
    assert countersink_sheet(5 / 16) is None


@pytest.mark.parametrize(
    ("material", "thickness"),
    [
        ("stainless", 0.015),
        ("mild-steel", 0.018),
        ("terne-plate", 0.018),
        ("monel", 0.018),
        ("titanium", 0.016),
        ("aluminium", None),
    ],
)
def test_firewalls(material: str, thickness: float | None) -> None:
    assert firewall_thickness(material) == thickness
    assert count("fuel/firewall") == 5


@pytest.mark.parametrize(("diameter", "spans"), TUBES.items())
def test_tube_supports(diameter: float, spans: tuple[float, float]) -> None:
    assert (tube_support(diameter, "aluminium"), tube_support(diameter, "steel")) == spans
    assert count("fuel/tube_support") == len(TUBES)


def test_a_tube_beyond_the_table_has_no_span() -> None:
    assert tube_support(1.25, "steel") is None


def test_washers_are_known_by_their_number() -> None:
    assert [washer_thickness(p) for p in ("AN960-416", "AN960-416L", "an960-10", "AN960PD-616")] == [
        0.063,
        0.032,
        0.063,
        0.063,
    ]
    assert [washer_thickness(p) for p in ("AN970-4", "AN960-4", "AN960", "AN960-1016")] == [None] * 4


@pytest.mark.parametrize(
    ("part", "thread", "kind", "duty"),
    [
        ("AN310-6", "3/8-24", "castle", "tension"),
        ("AN320-3", "10-32", "castle", "shear"),
        ("AN365-1032A", "10-32", "fibre", "tension"),
        ("AN364-428", "1/4-28", "fibre", "shear"),
        ("MS20365-524", "5/16-24", "fibre", "tension"),
        ("AN363-720", "7/16-20", "all-metal", "tension"),
    ],
)
def test_nuts_are_known_by_their_number(part: str, thread: str, kind: str, duty: str) -> None:
    nut = nut_of(part)
    assert nut is not None
    assert (nut.thread, nut.kind, nut.duty) == (thread, kind, duty)


def test_what_is_no_nut_of_the_tables_is_not_guessed() -> None:
    assert [nut_of(part) for part in ("AN310", "AN3650-428", "MS21083N4", "nut")] == [None] * 4
    assert nut_of("AN310-11") is not None
    assert getattr(nut_of("AN310-11"), "thread", "") is None


def test_every_thread_of_a_nut_is_a_fine_thread_of_a_bolt() -> None:
    sizes = {str(row["thread"]) for row in read_table(TABLES / "hardware/nut_sizes.yaml").rows}
    assert sizes <= set(FINE_THREADS.values())


def test_cells_may_be_fractions() -> None:
    assert (inches("5/32"), inches("0.04")) == (0.15625, 0.04)
