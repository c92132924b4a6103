"""Holes and bezels against the builder's own distances.

Distances come from plane geometry, worked out beside each case. No published figure for metal between holes is known.
"""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "shapely": "panel/bezels-do-not-overlap panel/hole-inside-outline panel/holes-keep-apart",
}

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"


def panel(**lists: list[str]) -> str:
    """Line 1 the aircraft, line 2 the section; each list opens a line, each record has its own."""
    text = AIRCRAFT + "panel:\n"
    for name, records in lists.items():
        text += f" {name}:" + ("".join(f"\n  - {{{record}}}" for record in records) or " []") + "\n"
    return text


def with_fields(text: str, *fields: str) -> str:
    """Fields of the section itself, put behind its records."""
    return text + "".join(f" {field}\n" for field in fields)


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"panel/{rule}", text)
    return finding


def verdicts(rule: str, text: str) -> dict[str, Verdict]:
    return {finding.subject: finding.verdict for finding in findings(f"panel/{rule}", text)}


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


# panel/holes-keep-apart: two round holes 1 in across, so the metal between them is their centres' distance less 1 in


def two_holes(apart: str, *fields: str) -> str:
    holes = ["id: A, centre: [2 in, 3 in], diameter: 1 in", f"id: B, centre: [{apart}, 3 in], diameter: 1 in"]
    return with_fields(panel(holes=holes), *fields)


def between(apart: str, *fields: str) -> Finding:
    return the_finding("panel/holes-keep-apart", two_holes(apart, *fields), "A")


def test_holes_apart_pass() -> None:
    finding = between("3.2 in", "web: 0.125 in")  # 3.2 - 2 - 1 = 0.2
    assert (finding.verdict, finding.message) == (Verdict.PASS, "0.200 in of metal to B")


@pytest.mark.parametrize(
    ("apart", "web"), [("3-1/8 in", "0.125 in"), ("3-1/8 in", "1/8 in"), ("79.375 mm", "3.175 mm")]
)
def test_holes_exactly_as_far_apart_as_wanted_pass(apart: str, web: str) -> None:
    finding = between(apart, f"web: {web}")  # 3.125 in x 25.4 = 79.375 mm; 0.125 in = 3.175 mm
    assert finding.verdict is Verdict.PASS
    assert finding.margin == pytest.approx(0, abs=1e-9)


def test_holes_just_too_close_fail_on_both() -> None:
    finding = between("3.1 in", "web: 0.125 in")
    assert finding.verdict is Verdict.FAIL
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(0.1)  # 3.1 - 2 - 1
    assert finding.limit.value == pytest.approx(0.125)
    assert finding.margin == pytest.approx(-0.2)  # (0.1 - 0.125) / 0.125
    assert lines(finding) == [4, 5]
    assert finding.remedy == "Move it 0.025 in or more away from B."
    assert verdicts("holes-keep-apart", two_holes("3.1 in", "web: 0.125 in")) == dict.fromkeys("AB", Verdict.FAIL)


def test_holes_that_touch_pass_where_no_web_is_recorded() -> None:
    finding = between("3 in")
    assert (finding.verdict, finding.message) == (Verdict.PASS, "0.000 in of metal to B")


def test_holes_that_run_into_each_other_fail_though_no_web_is_recorded() -> None:
    finding = between("2.99 in")
    assert (finding.verdict, finding.message) == (Verdict.FAIL, "it runs 0.010 in into B")


def test_holes_far_apart_pass() -> None:
    assert between("5 in").message == "no other hole within 1 in"


def test_a_web_wider_than_the_usual_look_around_is_looked_for() -> None:
    assert between("5 in", "web: 2.5 in").verdict is Verdict.FAIL  # 5 - 2 - 1 = 2 in


def test_the_nearest_of_several_holes_is_shown() -> None:
    holes = [f"id: {name}, centre: [{x} in, 3 in], diameter: 1 in" for name, x in (("A", 2), ("B", 3.6), ("C", 0.8))]
    finding = the_finding("panel/holes-keep-apart", panel(holes=holes), "A")
    assert finding.message == "0.200 in of metal to C"  # 2 - 0.8 - 1; B is 3.6 - 2 - 1 = 0.6 away


def test_rectangles_and_polygons_are_measured_too() -> None:
    holes = [
        "id: R, centre: [1 in, 1 in], width: 2 in, height: 2 in",
        "id: P, centre: [3 in, 1 in], corners: [[2.5 in, 1 in], [4 in, 0 in], [4 in, 2 in]]",
        "id: C, centre: [1 in, 2.7 in], diameter: 1 in",
    ]
    found = {finding.subject: finding.message for finding in findings("panel/holes-keep-apart", panel(holes=holes))}
    assert found["P"] == "0.500 in of metal to R"  # its point at x = 2.5, R's side at x = 2
    assert found["C"] == "0.200 in of metal to R"  # 2.7 - 0.5 - 2
    assert found["R"] == "0.200 in of metal to C"


def test_hole_no_data_without_its_size() -> None:
    holes = ["id: A, centre: [2 in, 3 in]", "id: B, centre: [2.1 in, 3 in], diameter: 1 in"]
    assert verdicts("holes-keep-apart", panel(holes=holes)) == {"A": Verdict.NO_DATA, "B": Verdict.PASS}
    assert lines(the_finding("panel/holes-keep-apart", panel(holes=holes), "A")) == [4]


@pytest.mark.parametrize("rule", ["holes-keep-apart", "hole-used"])
def test_holes_no_data_without_any(rule: str) -> None:
    assert one(rule, panel(items=["id: P, kind: switch"])).verdict is Verdict.NO_DATA


# panel/hole-inside-outline: a sheet of 10 by 6 in, its two upper corners cut off at 45 degrees

OUTLINE = "outline: [[0 in, 0 in], [10 in, 0 in], [10 in, 5 in], [9 in, 6 in], [1 in, 6 in], [0 in, 5 in]]"


def edge(hole: str, *fields: str) -> Finding:
    return one("hole-inside-outline", with_fields(panel(holes=[f"id: H, {hole}"]), OUTLINE, *fields))


def test_hole_inside_passes() -> None:
    finding = edge("centre: [5 in, 0.8 in], diameter: 1 in", "edge_distance: 0.25 in")
    assert (finding.verdict, finding.message) == (Verdict.PASS, "0.300 in of metal to the edge")  # 0.8 - 0.5


def test_hole_exactly_as_far_from_the_edge_as_wanted_passes() -> None:
    finding = edge("centre: [5 in, 0.75 in], diameter: 1 in", "edge_distance: 0.25 in")
    assert finding.verdict is Verdict.PASS
    assert finding.margin == pytest.approx(0, abs=1e-9)


def test_hole_just_too_near_the_edge_fails() -> None:
    finding = edge("centre: [5 in, 0.7 in], diameter: 1 in", "edge_distance: 0.25 in")
    assert finding.verdict is Verdict.FAIL
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(0.2)  # 0.7 - 0.5
    assert finding.margin == pytest.approx(-0.2)  # (0.2 - 0.25) / 0.25
    assert finding.remedy == "Move it 0.050 in or more inwards."
    assert lines(finding) == [4]


@pytest.mark.parametrize(
    "hole", ["centre: [0.5 in, 2 in], diameter: 1 in", "centre: [1 in, 2 in], width: 2 in, height: 1 in"]
)
def test_hole_that_touches_the_edge_passes_where_no_distance_is_recorded(hole: str) -> None:
    finding = edge(hole)
    assert (finding.verdict, finding.message) == (Verdict.PASS, "0.000 in of metal to the edge")


@pytest.mark.parametrize(
    ("hole", "beyond"),
    [
        ("centre: [0.4 in, 2 in], diameter: 1 in", 0.1),  # 0.5 - 0.4
        ("centre: [0.9 in, 2 in], width: 2 in, height: 1 in", 0.1),  # 1 - 0.9
        ("centre: [11 in, 2 in], diameter: 1 in", 1.5),  # its centre is 1 in outside, its far side 1.5
    ],
)
def test_hole_that_cuts_the_edge_fails(hole: str, beyond: float) -> None:
    finding = edge(hole)
    assert finding.verdict is Verdict.FAIL
    assert finding.message == f"it reaches {beyond:.3f} in beyond the edge"


def test_hole_by_a_slanting_edge() -> None:
    # The cut corner runs along x + y = 15; from (8.5, 4.5) that is (15 - 13) / sqrt(2) = 1.414 in, less a radius of 0.5.
    finding = edge("centre: [8.5 in, 4.5 in], diameter: 1 in")
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(2**0.5 - 0.5)


def test_hole_of_any_outline_by_the_edge() -> None:
    corners = "corners: [[3 in, 1 in], [5 in, 1 in], [4 in, 0.1 in]]"
    assert edge(f"centre: [4 in, 0.7 in], {corners}", "edge_distance: 0.1 in").verdict is Verdict.PASS
    assert edge(f"centre: [4 in, 0.7 in], {corners}", "edge_distance: 0.11 in").verdict is Verdict.FAIL


def test_hole_inside_no_data() -> None:
    holes = panel(holes=["id: H, centre: [4 in, 1 in]"])
    assert one("hole-inside-outline", with_fields(holes, OUTLINE)).message == "its size is not recorded"
    without = one("hole-inside-outline", panel(holes=["id: H, centre: [4 in, 1 in], diameter: 1 in"]))
    assert (without.verdict, without.message) == (Verdict.NO_DATA, "the panel's outline is not recorded")


# panel/bezels-do-not-overlap: two holes 3 in apart, so bezels 3 in wide just touch


def fronts(one_bezel: str, other_bezel: str) -> str:
    holes = ["id: HA, centre: [2 in, 3 in], diameter: 2 in", "id: HB, centre: [5 in, 3 in], diameter: 2 in"]
    items = [
        f"id: {name}, kind: instrument, hole: H{name}{bezel}" for name, bezel in (("A", one_bezel), ("B", other_bezel))
    ]
    return panel(holes=holes, items=items)


def round_(inches: float) -> str:
    return f", bezel: {{diameter: {inches} in}}"


def square(width: float, height: float) -> str:
    return f", bezel: {{width: {width} in, height: {height} in}}"


def test_bezels_pass() -> None:
    assert verdicts("bezels-do-not-overlap", fronts(round_(2.9), round_(2.9))) == dict.fromkeys("AB", Verdict.PASS)


@pytest.mark.parametrize(
    ("left", "right"),
    [
        (round_(3), round_(3)),
        (square(3, 2), square(3, 2)),
        (square(3.5, 1), round_(2.5)),
        (round_(4), ""),
        (round_(4.1), round_(1.9)),
    ],
)
def test_bezels_that_exactly_touch_pass(left: str, right: str) -> None:
    assert verdicts("bezels-do-not-overlap", fronts(left, right)) == dict.fromkeys("AB", Verdict.PASS)


@pytest.mark.parametrize(
    ("left", "right", "overlap"),
    [
        (round_(3.1), round_(3.1), 0.1),  # 3.1 / 2 + 3.1 / 2 - 3
        (square(3.1, 2), square(3.1, 2), 0.1),  # in one row, of one height
        (square(3.1, 1), square(3.1, 3), 0.1),
        (square(3.1, 2), round_(3.1), 0.1),
        (round_(4.2), "", 0.1),  # without a bezel the hole itself counts: 4.2 / 2 + 2 / 2 - 3
    ],
)
def test_bezels_that_overlap_fail_on_both(left: str, right: str, overlap: float) -> None:
    found = findings("panel/bezels-do-not-overlap", fronts(left, right))
    assert [finding.verdict for finding in found] == [Verdict.FAIL, Verdict.FAIL]
    assert [finding.message for finding in found] == [f"it lies {overlap:.3f} in over {other}" for other in "BA"]
    assert [lines(finding) for finding in found] == [[7, 8], [8, 7]]
    assert found[0].measured is not None
    assert found[0].measured.value == pytest.approx(-overlap)
    assert found[0].limit is not None
    assert found[0].limit.value == 0
    assert found[0].margin is None  # there is no share of nothing
    assert found[0].remedy == f"Move it {overlap:.3f} in or more away from B."


@pytest.mark.parametrize("bezel", [round_(2.5), square(2.5, 2), ""])
def test_two_items_in_one_hole_overlap(bezel: str) -> None:
    text = fronts(bezel, bezel).replace("hole: HB", "hole: HA")
    assert verdicts("bezels-do-not-overlap", text) == dict.fromkeys("AB", Verdict.FAIL)


def test_bezels_no_data() -> None:
    text = panel(holes=["id: H, centre: [2 in, 3 in]"], items=["id: A, kind: lamp", "id: B, kind: lamp, hole: H"])
    assert verdicts("bezels-do-not-overlap", text) == dict.fromkeys("AB", Verdict.NO_DATA)


@pytest.mark.parametrize("rule", ["bezels-do-not-overlap", "item-known"])
def test_items_no_data_without_any(rule: str) -> None:
    assert one(rule, panel(holes=["id: H, centre: [2 in, 3 in], diameter: 1 in"])).verdict is Verdict.NO_DATA
