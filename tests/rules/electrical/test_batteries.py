"""Batteries charged in flight (AC 43.13-1B 11-35a, read), voltages that suit the system (our own band), batteries in a row."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, judged, the_finding

ORACLES = {
    "own arithmetic": "electrical/battery-charged electrical/source-voltage",
    "nothing computed": "electrical/battery-heat electrical/battery-vent",
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def system(alternator: str = "14.2 V", battery: str = "12.6 V", way: str = "{id: W2, from: BAT, to: MAIN}") -> str:
    return f"""electrical:
  nominal_voltage: 14 V
  sources:
    - {{id: ALT, kind: alternator, rating: 40 A, voltage: {alternator}}}
    - {{id: BAT, kind: battery, voltage: {battery}}}
  buses: [{{id: MAIN}}]
  diodes: [{{id: D}}]
  wires:
    - {{id: W1, from: ALT, to: MAIN}}
    - {way}
    - {{id: W3, from: ALT.return, to: BAT.return}}
"""


# The regulated voltage must be above the battery's at rest; the same is the limit.
@pytest.mark.parametrize(("alternator", "verdict"), [("14.2 V", PASS), ("12.6 V", PASS), ("12.5 V", FAIL)])
def test_the_regulated_voltage_charges(alternator: str, verdict: Verdict) -> None:
    found = the_finding("electrical/battery-charged", system(alternator), "BAT")
    assert found.verdict is verdict
    assert found.limit == (12.6, "V", "at-least")
    assert found.where[0].position.line == 6


@pytest.mark.parametrize(
    ("way", "verdict"),
    [
        ("{id: W2, from: MAIN, to: D}\n    - {id: W4, from: D, to: BAT}", PASS),
        ("{id: W2, from: BAT, to: D}\n    - {id: W4, from: D, to: MAIN}", FAIL),
        ("{id: W2, from: BAT, to: D}", FAIL),
    ],
)
def test_a_diode_charges_one_way_only(way: str, verdict: Verdict) -> None:
    assert the_finding("electrical/battery-charged", system(way=way), "BAT").verdict is verdict


def test_a_battery_without_a_return_is_not_charged() -> None:
    text = system().replace("to: BAT.return", "to: MAIN")
    assert the_finding("electrical/battery-charged", text, "BAT").verdict is FAIL


def test_without_voltages_charging_is_no_data() -> None:
    text = system().replace(", voltage: 12.6 V", "")
    assert the_finding("electrical/battery-charged", text, "BAT").verdict is NO_DATA
    (found,) = findings("electrical/battery-charged", "electrical: {sources: [{id: BAT, kind: battery}]}")
    assert found.verdict is APART


def row(alternator: str = "28.4 V", lower: str = "12.6 V") -> str:
    """Two batteries of 12 V in a row in a system of 28 V."""
    return f"""electrical:
  nominal_voltage: 28 V
  sources:
    - {{id: ALT, kind: alternator, rating: 40 A, voltage: {alternator}}}
    - {{id: B1, kind: battery, voltage: 12.6 V, resistance: 10 mohm, capacity: 10 A*h, capacity_hours: 20 h, chemistry: agm}}
    - {{id: B2, kind: battery, voltage: {lower}, resistance: 10 mohm, capacity: 10 A*h, capacity_hours: 20 h, chemistry: agm}}
  buses: [{{id: MAIN}}]
  grounds: [{{id: G, kind: single-point, studs: 4}}]
  loads:
    - {{id: L, current: 2 A, nature: led, essential: true, minimum_voltage: 24 V, duty: {{cruise: 100 %, emergency: 100 %}}}}
    - {{id: START, current: 90 A, nature: motor, starter: true, intermittent: true, grounded_at: G}}
  wires:
    - {{id: W1, from: ALT, to: MAIN, size: 8 AWG, length: 1 ft}}
    - {{id: W2, from: B1, to: MAIN, size: 8 AWG, length: 1 ft}}
    - {{id: W3, from: B2, to: B1.return, size: 4 AWG, length: 1 ft, serves: starter-feeder}}
    - {{id: W4, from: B2.return, to: G, size: 8 AWG, length: 1 ft}}
    - {{id: W5, from: ALT.return, to: G, size: 8 AWG, length: 1 ft}}
    - {{id: W6, from: MAIN, to: L, size: 8 AWG, length: 1 ft}}
    - {{id: W7, from: L.return, to: G, size: 8 AWG, length: 1 ft}}
    - {{id: W8, from: B1, to: START, size: 4 AWG, length: 1 ft, serves: starter-feeder}}
"""


@pytest.mark.parametrize(("alternator", "verdict"), [("28.4 V", PASS), ("25.2 V", PASS), ("25.1 V", FAIL)])
def test_batteries_in_a_row_are_charged_together(alternator: str, verdict: Verdict) -> None:
    for battery in ("B1", "B2"):
        assert the_finding("electrical/battery-charged", row(alternator), battery).verdict is verdict


def test_batteries_in_a_row_suit_the_system_together() -> None:
    for battery in ("B1", "B2"):
        found = the_finding("electrical/source-voltage", row(), battery)
        assert found.verdict is PASS
        assert found.measured == (25.2, "V")


def test_batteries_in_a_row_carry_the_whole_current_each() -> None:
    # 10 A*h x 0.80 x 0.90 = 7.2 A*h over 20 h, exponent 1.3 (common practice), 2 A from the first minute on:
    # t = 20 h x (7.2 / (20 x 2)) ^ 1.3 = 2.152 h. Side by side they would share it.
    found = the_finding("electrical/endurance", row(), "B1")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(60 * 20 * (7.2 / 40) ** 1.3, rel=1e-6)


def test_batteries_in_a_row_add_their_voltages_at_the_load() -> None:
    # Without the alternator 25.2 V less 2 A through both batteries and 5 ft of 8 AWG (Table 11-9: 0.70 ohm per 1000 ft).
    found = the_finding("electrical/minimum-voltage", row(), "L")
    assert found.measured is not None
    ohms = 0.020 + (4 * 0.70 + 0.28) / 1000
    assert found.measured.value == pytest.approx(25.2 - 2 * ohms, abs=1e-9)


def test_the_lead_between_batteries_in_a_row_is_the_starters_own_and_needs_no_stud() -> None:
    assert the_finding("electrical/starter-feeder", row(), "W3").verdict is PASS
    assert the_finding("electrical/source-stud", row(), "B1").verdict is APART


# Four fifths to five quarters of the nominal voltage: 11.2 V to 17.5 V of 14 V.
@pytest.mark.parametrize(
    ("battery", "verdict"), [("12.6 V", PASS), ("11.2 V", PASS), ("11.1 V", WARN), ("17.5 V", PASS), ("17.6 V", WARN)]
)
def test_the_voltage_of_a_source_suits_the_system(battery: str, verdict: Verdict) -> None:
    found = the_finding("electrical/source-voltage", system(battery=battery), "BAT")
    assert found.verdict is verdict
    assert found.where[0].position.line == 6


def test_without_voltages_the_system_is_no_data() -> None:
    text = system().replace(", voltage: 12.6 V", "")
    assert the_finding("electrical/source-voltage", text, "BAT").verdict is NO_DATA
    no_system, no_source = "electrical: {sources: [{id: BAT, kind: battery}]}", "electrical: {nominal_voltage: 14 V}"
    for other in (no_system, no_source, no_source.replace("14 V", "0 V")):
        (found,) = findings("electrical/source-voltage", other)
        assert found.verdict is NO_DATA


def test_a_battery_alone_lacks_no_generators_data() -> None:
    text = """electrical:
  nominal_voltage: 12 V
  sources: [{id: BAT, kind: battery, voltage: 12.6 V, resistance: 20 mohm}]
  loads: [{id: COM, current: 1 A, nature: electronic, duty: {cruise: 100 %}, grounded_at: BAT.return}]
  wires: [{id: W1, from: BAT, to: COM, size: 20 AWG, length: 3 ft}]
"""
    generators = {
        "source-capacity",
        "load-analysis",
        "battery-charged",
        "feeder-drop",
        "load-placard",
        "low-voltage-warning",
    }
    by_rule = {result.rule.id: result for result in judged("markings: {}\n" + text).results}
    for rule in generators:
        assert [found.verdict for found in by_rule[f"electrical/{rule}"].findings] == [APART], rule
    assert the_finding("electrical/voltage-drop", text, "COM").verdict is PASS  # 12 V names Table 11-6's system of 14 V


def test_a_source_that_nothing_is_joined_to_is_told() -> None:
    found = the_finding("electrical/unused-device", system(way="{id: W2, from: MAIN, to: D}"), "BAT")
    assert found.verdict is WARN
    assert found.message == "nothing is joined to BAT"
    assert the_finding("electrical/unused-device", system(), "BAT").verdict is PASS


@pytest.mark.parametrize(
    ("recorded", "slip", "said"),
    [
        ("capacity: 10 A*h", "capacity: 0 A*h", "its capacity is recorded as nothing"),
        ("capacity_hours: 20 h", "capacity_hours: 0 h", "its capacity_hours is recorded as nothing"),
        ("chemistry: agm", "chemistry: agm, peukert: 0.99", "no battery has less than 1"),
    ],
)
def test_a_battery_recorded_as_none_could_be_is_no_data(recorded: str, slip: str, said: str) -> None:
    found = the_finding("electrical/endurance", row().replace(recorded, slip, 1), "B1")
    assert found.verdict is NO_DATA
    assert said in found.message


def test_an_exponent_of_one_is_a_battery() -> None:
    # 7.2 A*h at 2 A: 3.6 h.
    found = the_finding("electrical/endurance", row().replace("chemistry: agm", "chemistry: agm, peukert: 1", 1), "B1")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(216)


def test_a_battery_without_any_resistance_has_no_fault_current() -> None:
    text = row().replace("resistance: 10 mohm", "resistance: 0 mohm", 1)
    text += "  protection: [{id: F, kind: blade-fuse, rating: 5 A, fed_from: MAIN}]\n"
    (found,) = findings("electrical/interrupting-rating", text)
    assert found.verdict is NO_DATA
    assert found.message == "the resistance of B1 is recorded as nothing"


def gassing(recorded: str, starter: str = "{id: S, current: 90 A, nature: motor, starter: true}") -> str:
    return f"""electrical:
  sources:
    - {{id: BAT, kind: battery{recorded}}}
  loads: [{starter}]
"""


# Old 23.1353(d) and (e), read: gas and fluid of what is not sealed.
@pytest.mark.parametrize(
    ("recorded", "verdict"),
    [
        (", chemistry: flooded, vented: true", PASS),
        (", chemistry: flooded, vented: false", FAIL),
        (", chemistry: nickel-cadmium, vented: false", FAIL),
        (", chemistry: flooded", NO_DATA),
        ("", NO_DATA),
        (", chemistry: agm", APART),
        (", chemistry: lithium-iron-phosphate, vented: false", APART),
    ],
)
def test_batteries_that_gas_are_vented(recorded: str, verdict: Verdict) -> None:
    found = the_finding("electrical/battery-vent", gassing(recorded), "BAT")
    assert found.verdict is verdict
    assert found.where[0].position.line == 4


# Old 23.1353(f) and (g), read: of nickel-cadmium batteries that start the engine.
@pytest.mark.parametrize(
    ("recorded", "verdict"),
    [(", heat_watched: true", PASS), (", heat_watched: false", FAIL), ("", NO_DATA)],
)
def test_a_nickel_cadmium_battery_is_watched(recorded: str, verdict: Verdict) -> None:
    found = the_finding("electrical/battery-heat", gassing(f", chemistry: nickel-cadmium{recorded}"), "BAT")
    assert found.verdict is verdict


def test_other_batteries_are_not_asked_for_their_heat() -> None:
    for text in (gassing(", chemistry: agm"), gassing(", chemistry: nickel-cadmium", "")):
        (found,) = findings("electrical/battery-heat", text)
        assert found.verdict is APART


def test_without_sources_gas_is_not_judged() -> None:
    (found,) = findings("electrical/battery-vent", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is APART
