"""Bezels, sub-panels, screws and odd holes; distances are plane geometry, worked out beside each case."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "shapely": "panel/bezel-covers-hole panel/screws-in-metal",
}

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"
SHEET = "outline: [[0 in, 0 in], [10 in, 0 in], [10 in, 6 in], [0 in, 6 in]]"


def panel(*fields: str, **lists: list[str]) -> str:
    text = AIRCRAFT + "panel:\n"
    for name, records in lists.items():
        text += f" {name}:" + ("".join(f"\n  - {{{record}}}" for record in records) or " []") + "\n"
    return text + "".join(f" {field}\n" for field in (SHEET, *fields))


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"panel/{rule}", text)
    return finding


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


def amounts(finding: Finding) -> tuple[float, float]:
    assert finding.measured is not None
    assert finding.limit is not None
    return finding.measured.value, finding.limit.value


# panel/bezel-covers-hole: a hole 3 in across under a bezel


def bezel(size: str, *fields: str) -> Finding:
    items = [f"id: A, kind: instrument, hole: H, bezel: {{{size}}}"]
    return one("bezel-covers-hole", panel(*fields, holes=["id: H, centre: [3 in, 3 in], diameter: 3 in"], items=items))


def test_a_bezel_that_covers_its_hole_passes() -> None:
    finding = bezel("diameter: 3.3 in", "bezel_overlap: 0.1 in")
    assert (finding.verdict, finding.message) == (Verdict.PASS, "it lies 0.150 in over the edge of H")


@pytest.mark.parametrize("size", ["diameter: 3.2 in", "width: 3.2 in, height: 4 in"])
def test_a_bezel_with_exactly_the_overlap_wanted_passes(size: str) -> None:
    assert bezel(size, "bezel_overlap: 0.1 in").verdict is Verdict.PASS


@pytest.mark.parametrize("size", ["diameter: 3.1 in", "width: 3.1 in, height: 4 in"])
def test_a_bezel_with_too_little_overlap_fails(size: str) -> None:
    finding = bezel(size, "bezel_overlap: 0.1 in")
    assert finding.verdict is Verdict.FAIL
    assert amounts(finding) == pytest.approx((0.05, 0.1))
    assert lines(finding) == [6]


def test_a_hole_that_shows_beside_its_bezel_fails_though_nothing_is_wanted() -> None:
    finding = bezel("diameter: 2.9 in")
    assert (finding.verdict, finding.message) == (Verdict.FAIL, "H shows beside it")


def test_bezel_no_data_without_the_size_of_its_hole() -> None:
    text = panel(holes=["id: H, centre: [3 in, 3 in]"], items=["id: A, kind: lamp, hole: H, bezel: {diameter: 1 in}"])
    assert one("bezel-covers-hole", text).verdict is Verdict.NO_DATA
    assert one("bezel-covers-hole", panel(items=["id: A, kind: lamp"])).verdict is Verdict.NOT_APPLICABLE


def test_bezel_no_data_without_its_own_size() -> None:
    assert bezel("width: 4 in").verdict is Verdict.NO_DATA


def test_bezels_and_screws_are_asked_without_an_outline_only_where_they_need_it() -> None:
    hole = "id: H, centre: [3 in, 3 in], diameter: 3 in"
    item = "id: A, kind: instrument, hole: H, bezel: {diameter: 3.2 in}"
    text = panel(holes=[hole], items=[item]).replace(f" {SHEET}\n", "")
    assert one("bezel-covers-hole", text).verdict is Verdict.PASS
    assert one("screws-in-metal", text).verdict is Verdict.NOT_APPLICABLE
    screwed = text.replace(hole, f"{hole}, screws: [[1.8 in, 0 in]], screw_diameter: 0.1 in")
    assert one("screws-in-metal", screwed).verdict is Verdict.NO_DATA


def test_a_placard_needs_no_hole() -> None:
    zone = "id: K, what: tube, corners: [[0 in, 0 in], [9 in, 0 in], [9 in, 9 in]], behind: 4 in"
    text = panel(items=["id: P, kind: placard"], holes=[], keep_outs=[zone])
    for rule in ("bezels-do-not-overlap", "bodies-apart", "bodies-clear-structure"):
        assert one(rule, text).verdict is Verdict.NOT_APPLICABLE


# sub-panels: a plate 4 in by 3 in over an opening

PLATE = "id: S, opening: H, outline: [[1 in, 1 in], [5 in, 1 in], [5 in, 4 in], [1 in, 4 in]]"


def plate(hole: str) -> str:
    return panel(
        "bezel_overlap: 0.25 in", holes=[f"id: H, centre: [3 in, 2.5 in], {hole}"], sub_panels=[PLATE], items=[]
    )


def test_a_sub_panel_covers_its_opening_like_a_bezel() -> None:
    assert one("bezel-covers-hole", plate("width: 3.5 in, height: 2.5 in")).verdict is Verdict.PASS
    finding = one("bezel-covers-hole", plate("width: 3.6 in, height: 2.5 in"))
    assert (finding.subject, finding.verdict) == ("S", Verdict.FAIL)
    assert amounts(finding) == pytest.approx((0.2, 0.25))


def test_an_opening_under_a_sub_panel_is_used() -> None:
    assert one("hole-used", plate("width: 3 in, height: 2 in")).verdict is Verdict.PASS


def test_holes_of_a_sub_panel_are_held_against_its_own_edge_and_each_other() -> None:
    holes = [
        "id: H, centre: [3 in, 2.5 in], width: 3 in, height: 2 in",
        "id: A, centre: [4.4 in, 2 in], diameter: 1 in, sheet: S",
        "id: B, centre: [3.3 in, 2 in], diameter: 1 in, sheet: S",
    ]
    text = panel(holes=holes, sub_panels=[PLATE], items=[])
    edges = {f.subject: f.message for f in findings("panel/hole-inside-outline", text)}
    assert edges["A"] == "0.100 in of metal to the edge"  # 5 - 4.4 - 0.5
    apart = {f.subject: f.message for f in findings("panel/holes-keep-apart", text)}
    assert apart["A"] == "0.100 in of metal to B"
    assert apart["H"] == "no other hole within 1 in"


# panel/screws-in-metal: a hole 2 in across, screws of 0.2 in


def screws(place: str, *fields: str, more: str = ", screw_diameter: 0.2 in") -> Finding:
    hole = f"id: H, centre: [3 in, 3 in], diameter: 2 in, screws: [{place}]{more}"
    return the_finding("panel/screws-in-metal", panel(*fields, holes=[hole]), "H")


def test_a_screw_in_metal_passes() -> None:
    finding = screws("[1.3 in, 0 in]", "web: 0.125 in")
    assert (finding.verdict, finding.message) == (Verdict.PASS, "screw 1: 0.200 in of metal to H")  # 1.3 - 1 - 0.1


def test_a_screw_exactly_at_the_web_passes() -> None:
    assert screws("[1.225 in, 0 in]", "web: 0.125 in").verdict is Verdict.PASS


def test_a_screw_just_too_close_fails() -> None:
    finding = screws("[1.3 in, 0 in], [0 in, 1.2 in]", "web: 0.125 in")
    assert finding.verdict is Verdict.FAIL
    assert finding.message == "screw 2: 0.100 in of metal to H"
    assert amounts(finding) == pytest.approx((0.1, 0.125))
    assert lines(finding) == [4]


def test_a_screw_beyond_the_edge_or_in_the_next_hole_fails() -> None:
    assert screws("[0 in, 3 in]").message == "screw 1: -0.100 in of metal to the edge"
    holes = [
        "id: H, centre: [3 in, 3 in], diameter: 2 in, screws: [[1.5 in, 0 in]], screw_diameter: 0.2 in",
        "id: N, centre: [5 in, 3 in], diameter: 1.2 in",
    ]
    finding = the_finding("panel/screws-in-metal", panel(holes=holes), "H")
    assert finding.verdict is Verdict.FAIL
    assert finding.message.endswith("to N")


def test_screws_no_data() -> None:
    assert screws("[1.3 in, 0 in]", more="").verdict is Verdict.NO_DATA
    text = panel(holes=["id: H, centre: [3 in, 3 in], diameter: 2 in"])
    assert one("screws-in-metal", text).verdict is Verdict.NOT_APPLICABLE


# odd holes


def test_a_flat_sided_hole_leaves_more_metal_on_its_flat_side() -> None:
    holes = [
        "id: D, centre: [3 in, 3 in], diameter: 0.5 in, across_flat: 0.43 in, flat: right",
        "id: N, centre: [3.8 in, 3 in], width: 1 in, height: 1 in",
    ]
    found = the_finding("panel/holes-keep-apart", panel(holes=holes), "D")
    assert found.message == "0.120 in of metal to N"  # 3.3 - 3 - (0.43 - 0.25)


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        ("corners: [[1 in, 1 in], [2 in, 2 in], [2 in, 1 in], [1 in, 2 in]]", "crosses or touches itself"),
        ("corners: [[1 in, 1 in], [2 in, 2 in]]", "fewer than three corners"),
        ("corners: [[1 in, 1 in], [2 in, 2 in], [3 in, 3 in]]", "encloses nothing"),
        ("diameter: 0 in", "nothing"),
        ("width: 1 in, height: 0 in", "nothing"),
        ("diameter: 0.5 in, across_flat: 0.6 in", "flat side"),
    ],
)
def test_a_hole_that_cannot_be_drawn_is_no_data(shape: str, words: str) -> None:
    finding = one("holes-keep-apart", panel(holes=[f"id: H, centre: [3 in, 3 in], {shape}"]))
    assert finding.verdict is Verdict.NO_DATA
    assert words in finding.message


def test_an_outline_that_crosses_itself_is_no_data() -> None:
    text = panel(holes=["id: H, centre: [3 in, 3 in], diameter: 1 in"]).replace(
        "[10 in, 6 in], [0 in, 6 in]", "[0 in, 6 in], [10 in, 6 in]"
    )
    assert one("hole-inside-outline", text).verdict is Verdict.NO_DATA
