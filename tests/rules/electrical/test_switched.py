"""Rules on dimmers, common practice without a source, and on small currents, AC 43.13-1B 11-53g, read."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-11-53-g": "electrical/low-energy-contacts",
    "own arithmetic": "electrical/dimmer-rating",
    "nothing computed": "electrical/dimmer-load",
}

PASS, WARN, FAIL, NO_DATA, NOT = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def switched(
    switch: str,
    first: str = "current: 1 A, nature: lamp",
    second: str = "current: 1 A, nature: lamp",
    volts: str = "14 V",
) -> str:
    """BAT - SW - L1 and L2, and back."""
    return f"""electrical:
  nominal_voltage: {volts}
  sources: [{{id: BAT, kind: battery}}]
  switches:
    - {{id: SW, {switch}}}
  loads:
    - {{id: L1, {first}}}
    - {{id: L2, {second}}}
  wires:
    - {{id: W1, from: BAT, to: SW}}
    - {{id: W2, from: SW, to: L1}}
    - {{id: W3, from: SW, to: L2}}
    - {{id: W4, from: L1.return, to: BAT.return}}
    - {{id: W5, from: L2.return, to: BAT.return}}
"""


@pytest.mark.parametrize(("rating", "verdict"), [("3 A", PASS), ("2 A", PASS), ("1.9 A", FAIL)])
def test_a_dimmer_carries_all_its_lamps_at_once(rating: str, verdict: Verdict) -> None:
    found = the_finding("electrical/dimmer-rating", switched(f"kind: dimmer, rating: {rating}"), "SW")
    assert found.verdict is verdict
    assert found.measured == (2, "A")
    assert found.where[0].position.line == 6
    assert found.working is not None
    assert list(found.working())[:2] == ["L1: 1 A", "L2: 1 A"]


@pytest.mark.parametrize(
    "records", [switched("kind: dimmer"), switched("kind: dimmer, rating: 2 A").replace("from: SW", "from: BAT")]
)
def test_a_dimmer_without_a_rating_or_a_load_is_no_data(records: str) -> None:
    assert the_finding("electrical/dimmer-rating", records, "SW").verdict is NO_DATA


@pytest.mark.parametrize(
    ("nature", "verdict"),
    [
        ("lamp", PASS),
        ("led, dimmable: true", PASS),
        ("led, dimmable: false", WARN),
        ("led", NO_DATA),
        ("motor", WARN),
        ("relay", WARN),
        ("ignition", WARN),
        ("electronic", WARN),
        ("heater", WARN),
    ],
)
def test_a_dimmer_dims_lamps(nature: str, verdict: Verdict) -> None:
    records = switched("kind: dimmer, rating: 5 A", f"current: 1 A, nature: {nature}")
    found = the_finding("electrical/dimmer-load", records, "L1")
    assert found.verdict is verdict
    assert found.where[0].position.line == 8


@pytest.mark.parametrize("rule", ["dimmer-rating", "dimmer-load"])
def test_without_a_dimmer_nothing_is_asked(rule: str) -> None:
    (found,) = findings(f"electrical/{rule}", switched("kind: toggle, rating: 5 A"))
    assert found.verdict is NOT


# Paragraph 11-53g: no silver under 8 V or under 0.5 A continuous, unless so rated. Both loads go over the one contact.
@pytest.mark.parametrize(
    ("switch", "ampere", "volts", "verdict"),
    [
        ("contact_material: silver", "0.3 A", "14 V", PASS),
        ("contact_material: silver", "0.25 A", "14 V", PASS),  # 0.5 A together
        ("contact_material: silver", "0.24 A", "14 V", FAIL),
        ("contact_material: gold", "0.24 A", "14 V", PASS),
        ("contact_material: silver, low_energy: true", "0.24 A", "14 V", PASS),
        ("rating: 5 A", "0.3 A", "14 V", PASS),
        ("rating: 5 A", "0.24 A", "14 V", NO_DATA),
        ("contact_material: silver", "2 A", "8 V", PASS),
        ("contact_material: silver", "2 A", "7.9 V", FAIL),
        ("contact_material: gold", "2 A", "7.9 V", PASS),
    ],
)
def test_silver_switches_no_small_current(switch: str, ampere: str, volts: str, verdict: Verdict) -> None:
    load = f"current: {ampere}, nature: led"
    found = the_finding("electrical/low-energy-contacts", switched(f"kind: toggle, {switch}", load, load, volts), "SW")
    assert found.verdict is verdict
    assert found.where[0].position.line == 6
    if verdict is not NO_DATA:
        assert found.working is not None
        assert any("11-53g, read" in step for step in found.working())


@pytest.mark.parametrize("switch", ["kind: relay", "kind: dimmer"])
def test_relays_and_dimmers_are_not_asked(switch: str) -> None:
    (found,) = findings("electrical/low-energy-contacts", switched(switch))
    assert found.verdict is NOT


def test_a_switch_without_a_load_is_not_asked() -> None:
    records = switched("kind: toggle").replace("from: SW", "from: BAT")
    assert the_finding("electrical/low-energy-contacts", records, "SW").verdict is NOT


def test_exactly_8_volts_or_half_an_ampere_is_enough_for_silver() -> None:
    load = "current: 0.25 A, nature: led"
    at_both = the_finding(
        "electrical/low-energy-contacts", switched("kind: toggle, contact_material: silver", load, load, "8 V"), "SW"
    )
    assert at_both.verdict is PASS
    assert (at_both.measured, at_both.limit) == ((0.5, "A"), (0.5, "A", "at-least"))
    unknown = the_finding("electrical/low-energy-contacts", switched("kind: toggle", load, load, "8 V"), "SW")
    assert unknown.verdict is PASS  # with enough current over it, what it is made of is not asked


@pytest.mark.parametrize(("nature", "words"), [("led", "may not be dimmed"), ("motor", "its nature is motor")])
def test_why_a_load_may_not_be_dimmed_is_told(nature: str, words: str) -> None:
    load = f"current: 1 A, nature: {nature}" + (", dimmable: false" if nature == "led" else "")
    assert words in the_finding("electrical/dimmer-load", switched("kind: dimmer, rating: 5 A", load), "L1").message


def test_the_working_tells_which_side_a_switch_cuts() -> None:
    supply = the_finding("electrical/load-switch", switched("kind: toggle"), "L1")
    back = switched("kind: toggle").replace("{id: W2, from: SW, to: L1}", "{id: W2, from: BAT, to: L1}")
    back = back.replace("{id: W4, from: L1.return, to: BAT.return}", "{id: W4, from: L1.return, to: SW2}")
    back = back.replace("{id: SW, kind: toggle}", "{id: SW, kind: toggle}\n    - {id: SW2, kind: toggle}")
    back = back.replace("  wires:\n", "  wires:\n    - {id: W6, from: SW2, to: BAT.return}\n")
    returning = the_finding("electrical/load-switch", back, "L1")
    told = []
    for found in (supply, returning):
        assert (found.verdict, found.message) == (PASS, "a switch cuts it off")
        assert found.working is not None
        told.append(list(found.working()))
    cut = "with every switch open, its supply side is"
    assert told == [
        [f"{cut} dead", "and its return leads to a source"],
        [f"{cut} fed", "and its return does not lead to a source"],
    ]
