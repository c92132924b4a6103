"""The panel against old part 23's labels (a yardstick) and the other sections of the records."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "nothing computed": (
        "panel/control-has-legend panel/control-has-place panel/hole-used panel/item-known panel/legend-used"
    ),
}

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"


def panel(**lists: list[str]) -> str:
    """Line 1 the aircraft, line 2 the section; each list opens a line, each record has its own."""
    text = AIRCRAFT + "panel:\n"
    for name, records in lists.items():
        text += f" {name}:" + ("".join(f"\n  - {{{record}}}" for record in records) or " []") + "\n"
    return text


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"panel/{rule}", text)
    return finding


def verdicts(rule: str, text: str) -> dict[str, Verdict]:
    return {finding.subject: finding.verdict for finding in findings(f"panel/{rule}", text)}


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


# panel/control-has-place: old 23.1367 (read): a switch is accessible; 23.1357(d) (read, translated): so is a breaker

SWITCH = "electrical: {switches: [{id: SW, kind: %s%s}]}\n"
ON_PANEL = panel(items=["id: P, kind: switch, equipment: SW"])
BARE = panel(items=["id: CLOCK, kind: instrument"])


def test_control_with_a_place_on_the_panel_passes() -> None:
    finding = the_finding("panel/control-has-place", ON_PANEL + SWITCH % ("toggle", ""), "SW")
    assert (finding.verdict, finding.message) == (Verdict.PASS, "on the panel as P")


def test_control_that_is_the_item_itself_passes() -> None:
    text = panel(items=["id: SW, kind: switch"]) + SWITCH % ("toggle", "")
    assert one("control-has-place", text).message == "on the panel as SW"


@pytest.mark.parametrize("kind", ["toggle", "rocker", "push-button", "rotary", "key", "lever", "dimmer"])
def test_control_without_a_place_fails(kind: str) -> None:
    finding = one("control-has-place", BARE + SWITCH % (kind, ""))
    assert finding.verdict is Verdict.FAIL
    assert finding.message == f"this {kind} is in the wiring and has no place on the panel"
    assert lines(finding) == [5, 4]  # the switch, and the panel's items


def test_control_nearest_sound_case_stands_elsewhere_by_its_place() -> None:
    finding = one("control-has-place", BARE + SWITCH % ("toggle", ", place: 'control stick, left seat'"))
    assert finding.verdict is Verdict.PASS
    assert finding.message == "not on the panel: control stick, left seat"
    assert lines(finding) == [5]


@pytest.mark.parametrize("kind", ["relay", "contactor"])
def test_what_no_hand_moves_needs_no_place(kind: str) -> None:
    assert one("control-has-place", BARE + SWITCH % (kind, "")).verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("device", "asked"),
    [
        ("kind: breaker", True),
        ("kind: blade-fuse, reachable_in_flight: true", True),
        ("kind: glass-fuse, reachable_in_flight: true", True),
        ("kind: blade-fuse, reachable_in_flight: false", False),
        ("kind: current-limiter", False),
    ],
)
def test_breakers_and_fuses_within_reach_are_controls(device: str, asked: bool) -> None:
    text = BARE + f"electrical: {{protection: [{{id: F, rating: 5 A, {device}}}]}}\n"
    assert one("control-has-place", text).verdict is (Verdict.FAIL if asked else Verdict.NOT_APPLICABLE)


@pytest.mark.parametrize("text", [BARE, AIRCRAFT + SWITCH % ("toggle", "")])
def test_control_no_data_without_panel_or_wiring(text: str) -> None:
    assert one("control-has-place", text).verdict is Verdict.NO_DATA


def test_control_does_not_apply_to_an_aircraft_without_wiring() -> None:
    text = BARE.replace("operating}", "operating, without: [electrical]}")
    assert one("control-has-place", text).verdict is Verdict.NOT_APPLICABLE


# panel/control-has-legend: old 23.1367 (read): labelled for its operation and its circuit; 23.1555(a), memory


def labelled(item: str) -> str:
    return panel(legends=["id: L, text: LANDING LT"], items=[item]) + SWITCH % ("toggle", "")


def test_legend_passes() -> None:
    finding = one("control-has-legend", labelled("id: P, kind: switch, equipment: SW, legend: L"))
    assert (finding.verdict, finding.message) == (Verdict.PASS, "its legend reads LANDING LT")


def test_legend_fails_where_there_is_none() -> None:
    finding = one("control-has-legend", labelled("id: P, kind: switch, equipment: SW"))
    assert finding.verdict is Verdict.FAIL
    assert lines(finding) == [6]


def test_legend_nearest_sound_case_is_a_switch_that_is_not_on_the_panel() -> None:
    assert one("control-has-legend", labelled("id: P, kind: instrument")).verdict is Verdict.NOT_APPLICABLE


def test_legend_no_data() -> None:
    assert one("control-has-legend", panel(items=["id: P, kind: switch"])).verdict is Verdict.NO_DATA


# panel/item-known, panel/hole-used, panel/legend-used: agreement of the records, our own

HOMES = """\
electrical: {loads: [{id: RADIO, current: 1 A, nature: electronic}]}
lighting: {lights: [{id: LAMP, function: warning}]}
weights: {components: [{id: ASI, weight: 0.8 lb, arm: 20 in}]}
fuel: {tanks: [{id: LEFT}]}
"""


@pytest.mark.parametrize(
    ("name", "home"), [("RADIO", "electrical"), ("LAMP", "lighting"), ("ASI", "weights.components"), ("LEFT", "fuel")]
)
def test_item_known_passes(name: str, home: str) -> None:
    by_equipment = one("item-known", panel(items=[f"id: P, kind: other, equipment: {name}"]) + HOMES)
    assert (by_equipment.verdict, by_equipment.message) == (Verdict.PASS, f"known in {home} as {name}")
    by_its_id = one("item-known", panel(items=[f"id: {name}, kind: other"]) + HOMES)
    assert by_its_id.message == by_equipment.message


def test_item_that_is_known_nowhere_fails() -> None:
    finding = one("item-known", panel(items=["id: CLOCK, kind: instrument"]) + HOMES)
    assert (finding.verdict, finding.message) == (Verdict.FAIL, "no other section knows this item")
    assert lines(finding) == [4]


def test_item_known_nearest_sound_case_is_another_spelling_named_as_equipment() -> None:
    assert one("item-known", panel(items=["id: COM, kind: radio"]) + HOMES).verdict is Verdict.FAIL
    assert one("item-known", panel(items=["id: COM, kind: radio, equipment: RADIO"]) + HOMES).verdict is Verdict.PASS


HOLE = "id: H, centre: [2 in, 3 in], diameter: 1 in"
LEFT_OVER = "id: H2, centre: [5 in, 3 in], diameter: 1 in"


def test_hole_used_passes() -> None:
    assert one("hole-used", panel(holes=[HOLE], items=["id: P, kind: lamp, hole: H"])).verdict is Verdict.PASS


def test_hole_left_over_warns() -> None:
    text = panel(holes=[HOLE, LEFT_OVER], items=["id: P, kind: lamp, hole: H"])
    assert verdicts("hole-used", text) == {"H": Verdict.PASS, "H2": Verdict.WARN}
    finding = the_finding("panel/hole-used", text, "H2")
    assert finding.message == "no item sits in this hole"
    assert lines(finding) == [5]


def test_hole_used_nearest_sound_case_is_the_same_hole_with_its_item() -> None:
    text = panel(holes=[HOLE, LEFT_OVER], items=["id: P, kind: lamp, hole: H", "id: Q, kind: lamp, hole: H2"])
    assert set(verdicts("hole-used", text).values()) == {Verdict.PASS}


def test_every_hole_of_a_panel_without_items_is_left_over() -> None:
    assert one("hole-used", panel(holes=[HOLE])).verdict is Verdict.WARN


LEGENDS = ["id: L, text: LANDING LT", "id: L2, text: TAXI LT"]


def test_legend_used_passes() -> None:
    items = ["id: P, kind: switch, legend: L", "id: Q, kind: switch, legend: L2"]
    assert verdicts("legend-used", panel(legends=LEGENDS, items=items)) == dict.fromkeys(("L", "L2"), Verdict.PASS)


def test_legend_left_over_warns() -> None:
    text = panel(legends=LEGENDS, items=["id: P, kind: switch, legend: L"])
    finding = the_finding("panel/legend-used", text, "L2")
    assert (finding.verdict, finding.message) == (Verdict.WARN, "no item has this legend")
    assert lines(finding) == [5]


def test_legend_used_nearest_sound_case_is_one_legend_for_two_items() -> None:
    items = ["id: P, kind: switch, legend: L", "id: Q, kind: lamp, legend: L"]
    assert one("legend-used", panel(legends=LEGENDS[:1], items=items)).verdict is Verdict.PASS


def test_legend_used_no_data() -> None:
    assert one("legend-used", panel(items=["id: P, kind: switch"])).verdict is Verdict.NO_DATA


def test_what_stays_when_an_item_leaves_the_panel() -> None:
    # Its hole, its legend and its wiring each tell of it, in three rules.
    full = panel(holes=[HOLE], legends=LEGENDS[:1], items=["id: P, kind: switch, hole: H, legend: L, equipment: SW"])
    left = panel(holes=[HOLE], legends=LEGENDS[:1], items=[])
    rules = ("hole-used", "legend-used", "control-has-place")
    switch = SWITCH % ("toggle", "")
    assert [one(rule, full + switch).verdict for rule in rules] == [Verdict.PASS] * 3
    assert [one(rule, left + switch).verdict for rule in rules] == [Verdict.WARN, Verdict.WARN, Verdict.FAIL]


@pytest.mark.parametrize("rule", ["hole-used", "item-known"])
def test_records_without_the_section_are_no_data(rule: str) -> None:
    (found,) = findings(f"panel/{rule}", "")
    assert found.verdict is Verdict.NO_DATA
