"""The panel against itself, the wiring and the weights: agreement of the records, our own."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "nothing computed": (
        "panel/dimmer-doubled panel/item-fitted panel/item-kind panel/legend-distinct panel/legend-rating "
        "panel/one-place-each panel/placard-beside"
    ),
}

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"


def panel(**lists: list[str]) -> str:
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


# panel/one-place-each

HOLES = ["id: H, centre: [1 in, 1 in], diameter: 1 in", "id: H2, centre: [3 in, 1 in], diameter: 1 in"]


def test_items_in_holes_of_their_own_pass() -> None:
    text = panel(holes=HOLES, items=["id: A, kind: lamp, hole: H", "id: B, kind: lamp, hole: H2"])
    assert verdicts("one-place-each", text) == {"A": Verdict.PASS, "B": Verdict.PASS}


def test_two_items_in_one_hole_fail() -> None:
    text = panel(holes=HOLES, items=["id: A, kind: lamp, hole: H", "id: B, kind: lamp, hole: H"])
    assert verdicts("one-place-each", text) == {"A": Verdict.FAIL, "B": Verdict.FAIL}
    finding = the_finding("panel/one-place-each", text, "A")
    assert (finding.message, lines(finding)) == ("B sits in H too", [7, 8])


SWITCHES = "electrical: {switches: [{id: SW, kind: toggle}]}\n"


def test_a_device_on_the_panel_twice_fails() -> None:
    items = ["id: A, kind: switch, hole: H, equipment: SW", "id: B, kind: switch, hole: H2, equipment: SW"]
    text = panel(holes=HOLES, items=items) + SWITCHES
    finding = the_finding("panel/one-place-each", text, "B")
    assert (finding.verdict, finding.message) == (Verdict.FAIL, "A is SW too")


def test_one_place_nearest_sound_case_is_two_items_without_holes() -> None:
    assert set(verdicts("one-place-each", panel(items=["id: A, kind: lamp", "id: B, kind: lamp"])).values()) == {
        Verdict.PASS
    }


def test_one_place_no_data() -> None:
    assert one("one-place-each", panel(holes=HOLES)).verdict is Verdict.NO_DATA


# panel/item-kind

DEVICES = """\
electrical:
  switches: [{id: SW, kind: toggle}, {id: DIM, kind: dimmer}]
  protection:
    - {id: CB, kind: breaker, rating: 5 A}
    - {id: F, kind: blade-fuse, rating: 5 A}
    - {id: ANL, kind: current-limiter, rating: 50 A}
"""


@pytest.mark.parametrize(
    ("item", "verdict"),
    [
        ("id: SW, kind: switch", Verdict.PASS),
        ("id: SW, kind: breaker", Verdict.WARN),
        ("id: ON-PANEL, kind: breaker, equipment: SW", Verdict.WARN),
        ("id: DIM, kind: control", Verdict.PASS),
        ("id: SW, kind: control", Verdict.WARN),
        ("id: CB, kind: breaker", Verdict.PASS),
        ("id: CB, kind: fuse-holder", Verdict.WARN),
        ("id: F, kind: fuse-holder", Verdict.PASS),
        ("id: ANL, kind: other", Verdict.NOT_APPLICABLE),
        ("id: LAMP, kind: lamp", Verdict.NOT_APPLICABLE),
    ],
)
def test_panel_and_wiring_call_it_the_same(item: str, verdict: Verdict) -> None:
    assert one("item-kind", panel(items=[item]) + DEVICES).verdict is verdict


def test_item_kind_no_data_and_place() -> None:
    assert one("item-kind", panel(items=["id: SW, kind: switch"])).verdict is Verdict.NO_DATA
    found = one("item-kind", panel(items=["id: SW, kind: breaker"]) + DEVICES)
    assert (found.message, lines(found)) == ("a breaker on the panel; SW is a toggle in the wiring", [4, 6])


# panel/legend-rating


def breaker(text: str, rating: str = "7.5 A") -> Finding:
    records = panel(legends=[f"id: L, text: {text}"], items=["id: B, kind: breaker, legend: L"])
    return one("legend-rating", records + f"electrical: {{protection: [{{id: B, kind: breaker, rating: {rating}}}]}}\n")


@pytest.mark.parametrize("text", ["PUMP A 7.5", "PUMP A 7.5 A", "PUMP A 7.5A", "7.5"])
def test_a_legend_that_tells_the_rating_passes(text: str) -> None:
    finding = breaker(text)
    assert (finding.verdict, finding.message) == (Verdict.PASS, f"its legend reads {text}; it is rated 7.5 A")


@pytest.mark.parametrize("rating", ["10 A", "7.4 A"])
def test_a_legend_that_tells_another_rating_fails(rating: str) -> None:
    finding = breaker("PUMP A 7.5", rating)
    assert finding.verdict is Verdict.FAIL
    assert lines(finding) == [4, 7]


@pytest.mark.parametrize("text", ["PUMP A", "PUMP2", "NO 2 PUMP"])
def test_legend_rating_nearest_sound_case_has_no_number_at_the_end(text: str) -> None:
    assert breaker(text).verdict is Verdict.NOT_APPLICABLE


def test_legend_rating_no_data_without_wiring() -> None:
    assert one("legend-rating", panel(legends=["id: L, text: A 5"])).verdict is Verdict.NO_DATA


# panel/legend-distinct: old 23.777(a) (read): controls are identified against mix-up


def legends(one_text: str, other_text: str, kind: str = "switch") -> str:
    texts = [f"id: L, text: {one_text}", f"id: L2, text: {other_text}"]
    return panel(legends=texts, items=["id: A, kind: switch, legend: L", f"id: B, kind: {kind}, legend: L2"])


def test_legends_that_differ_pass() -> None:
    assert set(verdicts("legend-distinct", legends("PUMP A", "PUMP B")).values()) == {Verdict.PASS}


@pytest.mark.parametrize("other", ["PUMP A", "Pump  A"])
def test_legends_that_read_the_same_fail(other: str) -> None:
    text = legends("PUMP A", other)
    assert set(verdicts("legend-distinct", text).values()) == {Verdict.FAIL}
    assert lines(the_finding("panel/legend-distinct", text, "L")) == [4, 5]


def test_legends_nearest_sound_case_is_a_breaker_and_its_switch() -> None:
    assert set(verdicts("legend-distinct", legends("PUMP A", "PUMP A", "breaker")).values()) == {Verdict.PASS}


def test_legend_distinct_no_data() -> None:
    assert one("legend-distinct", panel(items=[])).verdict is Verdict.NO_DATA


# panel/item-fitted


def fitted(component: str) -> Finding:
    weights = f"weights: {{components: [{{{component}, weight: 1 lb, arm: 2 in}}]}}\n"
    return one("item-fitted", panel(items=["id: RADIO, kind: radio"]) + weights)


def test_a_fitted_component_passes() -> None:
    assert fitted("id: RADIO").message == "RADIO is fitted"


def test_a_component_that_is_not_fitted_warns() -> None:
    finding = fitted("id: RADIO, fitted: false")
    assert finding.verdict is Verdict.WARN
    assert lines(finding) == [4, 5]


def test_item_fitted_nearest_sound_case_is_a_part_of_another_component() -> None:
    assert fitted("id: RADIOS, equipment: [RADIO]").verdict is Verdict.PASS
    assert fitted("id: RADIOS, equipment: [RADIO], fitted: false").verdict is Verdict.WARN
    assert fitted("id: OTHER, fitted: false").verdict is Verdict.NOT_APPLICABLE


def test_item_fitted_no_data() -> None:
    assert one("item-fitted", panel(items=["id: RADIO, kind: radio"])).verdict is Verdict.NO_DATA


# panel/dimmer-doubled: battery - switch - dimmer - lamp


def lamp(dimmer: str, *, other: str = "") -> Finding:
    text = f"""\
    electrical:
      sources: [{{id: BAT, kind: battery}}]
      switches: [{{id: SW, kind: toggle}}, {{id: DIM, kind: dimmer{dimmer}}}]
      junctions: [{{id: J, kind: splice}}]
      loads: [{{id: LAMP, current: 1 A, nature: led}}, {{id: LAMP2, current: 1 A, nature: led}}]
      wires:
        - {{id: W1, from: BAT, to: SW}}
        - {{id: W2, from: SW, to: J}}
        - {{id: W3, from: J, to: DIM}}
        - {{id: W4, from: DIM, to: LAMP}}
        - {{id: W5, from: LAMP.return, to: BAT.return}}
        {other}
    """
    return one("dimmer-doubled", text)


def test_a_switch_before_a_dimmer_that_switches_off_warns() -> None:
    finding = lamp(", turns_off: true")
    assert finding.verdict is Verdict.WARN
    assert finding.message == "it switches LAMP off by itself, and SW does so again"


def test_a_dimmer_that_only_dims_may_have_a_switch() -> None:
    assert lamp(", turns_off: false").verdict is Verdict.PASS


def test_dimmer_nearest_sound_case_is_a_switch_for_more_than_the_dimmer_feeds() -> None:
    assert lamp(", turns_off: true", other="- {id: W6, from: J, to: LAMP2}").verdict is Verdict.PASS


def test_dimmer_no_data() -> None:
    assert lamp("").verdict is Verdict.NO_DATA
    assert one("dimmer-doubled", AIRCRAFT).verdict is Verdict.NO_DATA


def test_dimmer_does_not_apply_without_one() -> None:
    assert one("dimmer-doubled", SWITCHES).verdict is Verdict.NOT_APPLICABLE


def test_a_placard_on_the_panel_is_known_among_the_placards() -> None:
    text = panel(items=["id: P-DAY, kind: placard"])
    assert one("item-known", text).verdict is Verdict.FAIL
    placard = "markings: {placards: [{id: P-DAY, purpose: day-vfr-only, text: DAY VFR ONLY}]}\n"
    assert one("item-known", text + placard).verdict is Verdict.PASS


# panel/placard-beside


def placard(beside: str, *, more: str = "") -> Finding:
    text = f"markings: {{placards: [{{id: P, purpose: fuel-filler, text: FUEL{beside}}}]}}\n{more}"
    return one("placard-beside", text)


TANK = "fuel: {tanks: [{id: LEFT}]}\n"


def test_a_placard_beside_what_is_there_passes() -> None:
    assert placard(", beside: LEFT", more=TANK).message == "it speaks of LEFT"


def test_a_placard_beside_what_has_gone_warns() -> None:
    finding = placard(", beside: RIGHT", more=TANK)
    assert (finding.verdict, finding.message) == (Verdict.WARN, "there is no record RIGHT, of which it speaks")
    assert lines(finding) == [2]


def test_placard_nearest_sound_case_stands_beside_nothing() -> None:
    assert placard("").verdict is Verdict.NOT_APPLICABLE


def test_placard_no_data_without_markings() -> None:
    assert one("placard-beside", TANK).verdict is Verdict.NO_DATA
