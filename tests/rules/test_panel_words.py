"""Words, glare and emergency controls on the panel. Rectangles are worked out beside each case.

A width that is not recorded is eight tenths of the height a letter, less the space after the last: ISO 3098 type B, from memory.
Old 23.1311 and 23.1322 (read), 23.777 (read) and 23.1555(e) (memory) are yardsticks.
"""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "shapely": "panel/words-have-room panel/words-on-sheet",
    "own arithmetic": "panel/legend-by-item",
    "nothing computed": "panel/emergency-guarded panel/emergency-red panel/readable-in-sun panel/sheet-matt",
}

PASS, WARN, FAIL, NO_DATA, NA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def panel(*fields: str, **lists: list[str]) -> str:
    text = "panel:\n  outline: [[0 in, 0 in], [20 in, 0 in], [20 in, 10 in], [0 in, 10 in]]\n"
    for name, records in lists.items():
        text += f"  {name}:" + ("".join(f"\n    - {{{record}}}" for record in records) or " []") + "\n"
    return text + "".join(f"  {field}\n" for field in fields)


def legend(name: str, x: float, y: float = 5.0, more: str = ", width: 1 in") -> str:
    return f"id: {name}, text: FUEL, centre: [{x} in, {y} in], letter_height: 0.2 in{more}"


def words(*legends: str, holes: list[str] | None = None, items: list[str] | None = None) -> Finding:
    text = panel(legends=list(legends), holes=holes or [], items=items or [])
    return the_finding("panel/words-have-room", text, "A")


def test_words_beside_each_other_pass() -> None:
    assert words(legend("A", 5), legend("B", 6.1)).verdict is PASS


def test_words_that_touch_pass_and_that_overlap_fail() -> None:
    """Two of 1 in, their middles 1 in apart, touch; 0.99 in apart they overlap by 0.01 in."""
    assert words(legend("A", 5), legend("B", 6)).verdict is PASS
    over = words(legend("A", 5), legend("B", 5.99))
    assert over.verdict is FAIL
    assert over.measured
    assert over.measured.value == pytest.approx(-0.01)
    assert [spot.position.line for spot in over.where] == [5, 6]
    assert over.message == "its words run 0.010 in into the words B"


TWO = [
    "id: H-A, centre: [4 in, 4 in], diameter: 1 in",
    "id: H-B, centre: [8 in, 4 in], diameter: 1 in",
]
ITEMS = ["id: A, kind: switch, hole: H-A, legend: L", "id: B, kind: switch, hole: H-B"]


@pytest.mark.parametrize(
    ("right", "up", "verdict"),
    [
        (4.0, 5.0, PASS),
        # in the middle between two holes 4 in apart: as near to either
        (6.0, 4.0, PASS),
        (6.01, 4.0, WARN),
        # from the hole's upper edge at 4.5 in, within 2.5 in
        (4.0, 6.99, PASS),
        (4.0, 7.01, WARN),
    ],
)
def test_a_legend_stands_by_its_item(right: float, up: float, verdict: Verdict) -> None:
    text = panel(legends=[legend("L", right, up)], holes=TWO, items=ITEMS)
    found = the_finding("panel/legend-by-item", text, "L")
    assert (found.verdict, found.where[0].position.line) == (verdict, 5)


def test_words_between_a_switch_and_a_large_instrument_belong_to_the_switch() -> None:
    """0.4 in above the hole's edge and 0.3 in below the instrument's: its front is nearer, its middle is not."""
    holes = [*TWO, "id: H-T, centre: [4 in, 6.7 in], diameter: 3 in"]
    text = panel(legends=[legend("L", 4, 4.9)], holes=holes, items=[*ITEMS, "id: T, kind: instrument, hole: H-T"])
    assert the_finding("panel/legend-by-item", text, "L").verdict is PASS


def test_a_legend_without_an_item_or_a_place() -> None:
    unnamed = panel(legends=[legend("L", 4)], holes=TWO, items=ITEMS[1:])
    assert the_finding("panel/legend-by-item", unnamed, "aircraft").verdict is NA
    unplaced = panel(legends=["id: L, text: FUEL"], holes=TWO, items=ITEMS)
    assert the_finding("panel/legend-by-item", unplaced, "L").verdict is NO_DATA
    unworded = panel(legends=[], holes=TWO, items=ITEMS[1:])
    assert [f.verdict for f in findings("panel/legend-by-item", unworded)] == [NO_DATA]


def test_an_estimated_width_only_warns() -> None:
    """FUEL at 0.2 in: (0.8 x 4 - 0.2) x 0.2 = 0.6 in."""
    assert words(legend("A", 5, more=""), legend("B", 5.6, more="")).verdict is PASS
    assert words(legend("A", 5, more=""), legend("B", 5.59, more="")).verdict is WARN
    assert words(legend("A", 5), legend("B", 5.5, more="")).verdict is WARN


def test_words_above_each_other() -> None:
    assert words(legend("A", 5), legend("B", 5, 5.2)).verdict is PASS
    assert words(legend("A", 5), legend("B", 5, 5.19)).verdict is FAIL


def test_words_over_a_hole_and_under_a_bezel() -> None:
    """A hole of 1 in, 0.6 in above the middle of letters of 0.2 in, touches them; its bezel of 1.2 in hides 0.1 in of them."""
    hole = "id: H, centre: [5 in, 5.6 in], diameter: 1 in"
    assert words(legend("A", 5), holes=[hole]).verdict is PASS
    assert words(legend("A", 5), holes=[hole.replace("5.6 in", "5.59 in")]).verdict is FAIL
    hidden = words(legend("A", 5), holes=[hole], items=["id: I, kind: switch, hole: H, bezel: {diameter: 1.2 in}"])
    assert hidden.verdict is FAIL
    assert hidden.message == "its words run 0.100 in into the front of I"


@pytest.mark.parametrize("rule", ["words-have-room", "words-on-sheet"])
def test_words_without_a_place(rule: str) -> None:
    for line in ("id: A, text: FUEL, letter_height: 0.2 in", "id: A, text: FUEL, centre: [5 in, 5 in]"):
        assert the_finding(f"panel/{rule}", panel(legends=[line]), "A").verdict is NO_DATA
    assert [f.verdict for f in findings(f"panel/{rule}", panel(legends=[]))] == [NO_DATA]


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        (legend("A", 19.5), PASS),
        (legend("A", 19.51), FAIL),
        (legend("A", 19.71, more=""), WARN),  # 0.3 in to either side
        (legend("A", 5, 0.1), PASS),
        (legend("A", 5, 0.09), FAIL),
    ],
)
def test_words_at_the_edge(line: str, wanted: Verdict) -> None:
    finding = the_finding("panel/words-on-sheet", panel(legends=[line]), "A")
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 5)


def test_words_on_a_sheet_without_outline() -> None:
    text = "panel: {legends: [{id: A, text: FUEL}]}\n"
    assert [f.verdict for f in findings("panel/words-on-sheet", text)] == [NO_DATA]


@pytest.mark.parametrize(
    ("more", "wanted"),
    [
        ("emergency: true, colour: red", PASS),
        ("emergency: true, colour: dark red", PASS),
        ("emergency: true, colour: black", WARN),
        ("emergency: true", NO_DATA),
        ("colour: black", PASS),
        ("colour: Red", WARN),
        ("knob: round", NA),
    ],
)
def test_emergency_controls_are_red(more: str, wanted: Verdict) -> None:
    (finding,) = findings("panel/emergency-red", panel(items=[f"id: I, kind: control, {more}"]))
    assert finding.verdict is wanted
    assert finding.where[0].position.line == 5


@pytest.mark.parametrize(
    ("item", "switch", "wanted"),
    [
        ("id: I, kind: control, emergency: true, distinct: must be pulled first", "", PASS),
        ("id: I, kind: control, emergency: true", "", WARN),
        ("id: I, kind: switch, emergency: true, equipment: SW", "guarded: true", PASS),
        ("id: I, kind: switch, emergency: true, equipment: SW", "guarded: false", WARN),
        ("id: I, kind: switch, equipment: SW", "guarded: false", NA),
    ],
)
def test_emergency_controls_are_guarded(item: str, switch: str, wanted: Verdict) -> None:
    electrical = f"electrical: {{switches: [{{id: SW, kind: toggle, {switch}}}]}}\n" if switch else ""
    (finding,) = findings("panel/emergency-guarded", panel(items=[item]) + electrical)
    assert finding.verdict is wanted


@pytest.mark.parametrize("kind", ["display", "lamp"])
@pytest.mark.parametrize(
    ("more", "wanted"), [(", read_in_sun: true", PASS), (", read_in_sun: false", WARN), ("", NO_DATA)]
)
def test_readable_in_the_sun(kind: str, more: str, wanted: Verdict) -> None:
    finding = the_finding("panel/readable-in-sun", panel(items=[f"id: I, kind: {kind}{more}"]), "I")
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 5)


def test_nothing_to_read_in_the_sun() -> None:
    assert [f.verdict for f in findings("panel/readable-in-sun", panel(items=["id: I, kind: switch"]))] == [NA]


@pytest.mark.parametrize(("finish", "wanted"), [("matt", PASS), ("satin", PASS), ("gloss", WARN)])
def test_the_sheet_is_matt(finish: str, wanted: Verdict) -> None:
    finding = the_finding("panel/sheet-matt", panel(f"finish: {finish}"), "panel")
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 4)
    assert [f.verdict for f in findings("panel/sheet-matt", panel())] == [NO_DATA]


@pytest.mark.parametrize(
    "rule", ["words-have-room", "words-on-sheet", "emergency-red", "emergency-guarded", "readable-in-sun", "sheet-matt"]
)
def test_without_a_panel(rule: str) -> None:
    assert [f.verdict for f in findings(f"panel/{rule}", "lighting: {lights: []}\n")] == [NO_DATA]


def test_what_is_missing_of_words_is_named() -> None:
    for line, field in (
        ("id: A, text: FUEL, letter_height: 0.2 in", "centre"),
        ("id: A, text: FUEL, centre: [5 in, 5 in]", "letter_height"),
        ("id: A, text: FUEL, centre: [5 in, 5 in], letter_height: 0 in", "letter_height"),
    ):
        found = the_finding("panel/words-on-sheet", panel(legends=[line]), "A")
        assert found.message == f"its {field} is not recorded"


def test_how_far_words_stand_inside_or_over_the_edge_is_told() -> None:
    # Words of 1 in about 19.4 in end at 19.9 of 20 in; about 19.6 in at 20.1.
    inside = the_finding("panel/words-on-sheet", panel(legends=[legend("A", 19.4)]), "A")
    assert inside.message == "its words stand 0.100 in inside the edge"
    over = the_finding("panel/words-on-sheet", panel(legends=[legend("A", 19.6)]), "A")
    assert over.message == "its words stand 0.100 in over the edge"


def test_the_working_of_words_that_overlap_gives_their_size() -> None:
    for more, size in ((", width: 1 in", "1.000 by 0.200 in"), ("", "0.600 by 0.200 in")):
        working = words(legend("A", 5, more=more), legend("B", 5.1, more=more)).working
        assert working is not None
        assert f"its words take {size}" in next(iter(working()))
