"""Components: each known, each installed item among them, and their sum against the scales."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-10-2-c": "weights/components-agree",
    "nothing computed": "weights/component-known weights/installed-item-weighed",
}

ASKED = "it asks for a record alone: one that is missing is no data"
NO_SUCH_CASE = {
    "weights/component-known": {"just over": ASKED},
}

KNOWN, INSTALLED, AGREE = "weights/component-known", "weights/installed-item-weighed", "weights/components-agree"


def components(*parts: str) -> str:
    return "weights:\n  components:\n" + "".join(f"    - {{{part}}}\n" for part in parts)


@pytest.mark.parametrize(
    "basis", ["weighed", "catalogue", pytest.param("estimated", id="estimated, the nearest sound")]
)
def test_a_known_component_passes(basis: str) -> None:
    finding = the_finding(KNOWN, components(f"id: BAT, weight: 11.8 lb, arm: -21.5 in, basis: {basis}"), "BAT")
    assert finding.verdict is Verdict.PASS
    assert finding.message == f"11.8 lb at -21.5 in, {basis}"
    assert finding.where[0].position.line == 4  # after the line of the aircraft


@pytest.mark.parametrize(
    ("part", "words"),
    [
        ("id: BAT, arm: -21.5 in, basis: weighed", "not recorded: weight"),
        ("id: BAT, weight: 11.8 lb, basis: weighed", "not recorded: arm"),
        ("id: BAT, weight: 11.8 lb, arm: 0 in", "not recorded: basis"),  # an arm of zero is an arm
        ("id: BAT", "not recorded: weight, arm, basis"),
    ],
)
def test_a_component_without_data(part: str, words: str) -> None:
    finding = the_finding(KNOWN, components("id: OTHER, weight: 1 lb, arm: 1 in, basis: weighed", part), "BAT")
    assert (finding.verdict, finding.message) == (Verdict.NO_DATA, words)
    assert finding.where[0].position.line == 5


@pytest.mark.parametrize("records", ["weights: {components: []}", "fuel: {tanks: []}"])
def test_no_components_are_no_data(records: str) -> None:
    assert [f.verdict for f in findings(KNOWN, records)] == [Verdict.NO_DATA]


INSTALLED_RECORDS = """
electrical:
  sources:
    - {{id: BAT, kind: battery}}
  loads:
    - {{id: LAMP, current: 2 A, nature: lamp}}
lighting:
  lights:
    - {{id: TAXI, function: taxi, load: LAMP}}
panel:
  items:
    - {{id: METER, kind: instrument, equipment: BAT}}
weights:
  components:
    - {{id: MAIN{equipment}}}
    {others}
"""


def installed(equipment: str, *others: str) -> dict[str, Verdict]:
    listed = "\n    ".join(f"- {{id: {name}}}" for name in others)
    records = INSTALLED_RECORDS.format(equipment=f", equipment: [{equipment}]" if equipment else "", others=listed)
    return {f.subject: f.verdict for f in findings(INSTALLED, records)}


def test_installed_items_pass_by_their_id_or_named_by_a_component() -> None:
    everything = dict.fromkeys(("BAT", "LAMP", "TAXI", "METER"), Verdict.PASS)
    assert installed("BAT, LAMP, TAXI, METER") == everything
    # The nearest sound case: a light is weighed with its load, a panel item with its equipment.
    assert installed("", "BAT", "LAMP") == everything


@pytest.mark.parametrize(
    ("equipment", "failing"),
    [
        ("", {"BAT", "LAMP", "TAXI", "METER"}),
        ("BAT", {"LAMP", "TAXI"}),
        ("LAMP", {"BAT", "METER"}),
        ("METER, TAXI", {"BAT", "LAMP"}),
    ],
)
def test_an_installed_item_in_no_weight_fails(equipment: str, failing: set[str]) -> None:
    assert {name for name, verdict in installed(equipment).items() if verdict is Verdict.FAIL} == failing


def test_an_unweighed_item_is_shown_where_it_is_installed() -> None:
    records = INSTALLED_RECORDS.format(equipment=", equipment: [BAT]", others="")
    finding = the_finding(INSTALLED, records, "LAMP")
    assert finding.where[0].position.line == 7  # after the line of the aircraft
    assert finding.remedy == "Add a component for LAMP, or name it in one's `equipment`."


def test_without_weights_installed_items_are_no_data() -> None:
    records = "electrical: {loads: [{id: LAMP, current: 2 A, nature: lamp}]}"
    assert [f.verdict for f in findings(INSTALLED, records)] == [Verdict.NO_DATA]


@pytest.mark.parametrize("section", ["", "electrical: {wires: []}\n", "panel: {items: []}\n"])
def test_nothing_installed_is_nothing_to_ask_about(section: str) -> None:
    assert [f.verdict for f in findings(INSTALLED, section + "weights: {components: []}")] == [Verdict.NOT_APPLICABLE]


WEIGHED = """
weights:
  weighings:
    - id: W1
      day: 2026-03-01
      scales: [{{wheel: other, reading: 90 lb, tare: 0 lb, arm: 10 in}}]
      aboard: []
      missing: [{{what: seats, weight: 10 lb, arm: 20 in}}]
  components:
    {components}
"""
"""90 lb on the scales and 10 lb missing: 100 lb."""


def weighed(*parts: str) -> str:
    listed = [f"- {{id: C{number}, {part}}}" for number, part in enumerate(parts)]
    return WEIGHED.format(components="\n    ".join(listed) or "[]")


# 1 lb is negligible below 5,000 lb: AC 43.13-1B paragraph 10-2c. The 20 % of an estimate and 5 % of a catalogue weight
# are this project's own choice.
@pytest.mark.parametrize(
    ("weighed_part", "other", "difference", "allowed", "verdict"),
    [
        pytest.param("100.5 lb", "", 0.5, 1, Verdict.PASS, id="weighed, passes"),
        pytest.param("101 lb", "", 1, 1, Verdict.PASS, id="weighed, exactly at the limit"),
        pytest.param("99 lb", "", 1, 1, Verdict.PASS, id="weighed, exactly at the limit below"),
        pytest.param("101.01 lb", "", 1.01, 1, Verdict.WARN, id="weighed, just over only warns"),
        pytest.param("98.99 lb", "", 1.01, 1, Verdict.WARN, id="weighed, just under only warns"),
        pytest.param("82 lb", "weight: 20 lb, basis: catalogue", 2, 2, Verdict.PASS, id="catalogue, exactly at it"),
        pytest.param("82.1 lb", "weight: 20 lb, basis: catalogue", 2.1, 2, Verdict.WARN, id="catalogue, just over"),
        pytest.param("85 lb", "weight: 20 lb, basis: estimated", 5, 5, Verdict.PASS, id="estimated, exactly at it"),
        pytest.param("85.1 lb", "weight: 20 lb, basis: estimated", 5.1, 5, Verdict.WARN, id="estimated, just over"),
        pytest.param("85 lb", "weight: 20 lb", 5, 5, Verdict.PASS, id="not said is an estimate"),
    ],
)
def test_components_against_the_scales(
    weighed_part: str, other: str, difference: float, allowed: float, verdict: Verdict
) -> None:
    parts = [f"weight: {weighed_part}, basis: weighed", *([other] if other else [])]
    finding = the_finding(AGREE, weighed(*parts), "W1")
    assert finding.verdict is verdict
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(difference)
    assert finding.limit.value == pytest.approx(allowed)
    assert finding.margin == pytest.approx((allowed - difference) / allowed, abs=1e-9)
    assert [spot.position.line for spot in finding.where] == [5, 11]


@pytest.mark.parametrize(("since", "verdict"), [("2026-03-01", Verdict.WARN), ("2026-03-02", Verdict.PASS)])
def test_what_came_after_the_weighing_is_left_out(since: str, verdict: Verdict) -> None:
    records = weighed("weight: 100 lb, basis: weighed", f"weight: 8 lb, basis: weighed, since: {since}")
    assert the_finding(AGREE, records, "W1").verdict is verdict


def test_what_is_still_to_be_fitted_counts_with_what_was_missing() -> None:
    records = weighed("weight: 90 lb, basis: weighed", "weight: 10 lb, basis: weighed, fitted: false")
    assert the_finding(AGREE, records, "W1").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("records", "words"),
    [
        (weighed(), "no component that was there at the weighing is recorded"),
        (weighed("weight: 100 lb, basis: weighed", "arm: 1 in"), "no weight is recorded for C1"),
        (components("id: ALL, weight: 100 lb"), "there is no weighing with all its readings"),
        (weighed("weight: 100 lb").replace("tare: 0 lb, ", ""), "there is no weighing with all its readings"),
    ],
)
def test_components_against_the_scales_without_data(records: str, words: str) -> None:
    assert [(f.verdict, f.message) for f in findings(AGREE, records)] == [(Verdict.NO_DATA, words)]


def test_the_working_lists_the_heaviest_first() -> None:
    working = the_finding(AGREE, weighed("weight: 10 lb", "weight: 88 lb, basis: weighed"), "W1").working
    assert working is not None
    assert list(working()) == [
        "the ten heaviest: C1 88 lb, C0 10 lb",
        "together 98.0 lb; scales 100.0 lb; allowed difference 3.0 lb",
    ]


@pytest.mark.parametrize(("named", "verdict"), [("LEFT-TANK", Verdict.PASS), ("RIGHT-TANK", Verdict.FAIL)])
def test_a_tank_is_part_of_some_weight(named: str, verdict: Verdict) -> None:
    part = f"id: TANK-L, weight: 9 lb, arm: 20 in, basis: weighed, equipment: [{named}]"
    fuel = "fuel:\n  tanks:\n    - {id: LEFT-TANK}\n    - {id: RIGHT-TANK}\n"
    assert the_finding(INSTALLED, components(part) + fuel, "LEFT-TANK").verdict is verdict


@pytest.mark.parametrize(("removed", "verdict"), [("2026-03-01", Verdict.PASS), ("2026-03-02", Verdict.WARN)])
def test_what_was_out_on_the_day_of_the_weighing_was_not_on_the_scales(removed: str, verdict: Verdict) -> None:
    records = weighed("weight: 100 lb, basis: weighed", f"weight: 8 lb, basis: weighed, removed: {removed}")
    assert the_finding(AGREE, records, "W1").verdict is verdict


@pytest.mark.parametrize(
    "electrical", ["loads: [{id: LAMP, current: 2 A, nature: lamp}]", "sources: [{id: LAMP, kind: battery}]"]
)
def test_loads_alone_or_sources_alone_are_something_installed(electrical: str) -> None:
    records = f"electrical: {{{electrical}}}\nweights: {{components: [{{id: LAMP, weight: 1 lb}}]}}"
    assert [(f.subject, f.verdict) for f in findings(INSTALLED, records)] == [("LAMP", Verdict.PASS)]


def test_ten_of_many_components_are_listed() -> None:
    working = the_finding(AGREE, weighed(*(f"weight: {number} lb" for number in range(1, 13))), "W1").working
    assert working is not None
    assert next(iter(working())) == "the ten heaviest: " + ", ".join(f"C{n - 1} {n} lb" for n in range(12, 2, -1))
