"""Load placards and low-voltage lamps of AC 43.13-1B 11-35 (read), meters and overvoltage of old 23.1351(c) and (d) (read)."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-11-35-a": "electrical/load-placard",
    "ac43-11-35-b": "electrical/low-voltage-warning",
    "nothing computed": "electrical/meters electrical/overvoltage",
}

PASS, WARN, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def system(
    *,
    lamp: str = "20 A",
    also: str = "",
    placards: str = "[]",
    alternator: str = "",
    electrical: str = "nominal_voltage: 14 V",
    warning: str = "",
    on: str = "MAIN",
) -> str:
    """ALT and BAT on MAIN; LAMP draws as told, WARN 1 A, on the bus named."""
    return f"""markings: {{placards: {placards}}}
electrical:
  {electrical}
  sources:
    - {{id: ALT, kind: alternator, rating: 30 A, voltage: 14.2 V{alternator}}}
    - {{id: BAT, kind: battery, voltage: 12.6 V}}
  buses: [{{id: MAIN}}, {{id: AUX}}]
  diodes: [{{id: D}}]
  loads:
    - {{id: LAMP, current: {lamp}, nature: led, duty: {{cruise: 100 %{also}}}, grounded_at: BAT.return}}
    - {{id: WARN, current: 1 A, nature: lamp, duty: {{cruise: 100 %, emergency: 100 %}}, grounded_at: BAT.return{warning}}}
  wires:
    - {{id: W1, from: ALT, to: AUX}}
    - {{id: W2, from: AUX, to: D}}
    - {{id: W3, from: D, to: MAIN}}
    - {{id: W4, from: BAT, to: MAIN}}
    - {{id: W5, from: MAIN, to: LAMP}}
    - {{id: W6, from: {on}, to: WARN}}
    - {{id: W7, from: ALT.return, to: BAT.return}}
"""


def placard(beside: str = "") -> str:
    return f"[{{id: P, purpose: electrical-load, text: NOT ALL AT ONCE{beside}}}]"


# 80 % of 30 A are 24 A (11-35a): with WARN's 1 A the lamp may have 23 A before a combination of loads is too much.
@pytest.mark.parametrize(
    ("lamp", "placards", "verdict"),
    [
        ("20 A", "[]", PASS),
        ("23 A", "[]", PASS),
        ("23.1 A", "[]", WARN),
        ("23.1 A", placard(), PASS),
        ("23.1 A", placard(", beside: ALT"), PASS),
        ("23.1 A", placard(", beside: BAT"), WARN),
    ],
)
def test_a_generator_that_cannot_carry_all_has_a_placard(lamp: str, placards: str, verdict: Verdict) -> None:
    found = the_finding("electrical/load-placard", system(lamp=lamp, placards=placards), "ALT")
    assert found.verdict is verdict
    if verdict is WARN:
        assert found.message == "all continuous loads at once draw 24.1 A; 24 A may be planned on; no placard says so"
        assert found.where[0].position.line == 6


@pytest.mark.parametrize(
    ("also", "placards", "verdict"),
    [
        (", emergency: 100 %", "[]", PASS),
        (", emergency: 0 %", "[]", WARN),
        ("", "[]", WARN),
        ("", placard(", beside: BAT"), PASS),
    ],
)
def test_a_battery_that_is_left_with_fewer_loads_has_a_placard(also: str, placards: str, verdict: Verdict) -> None:
    found = the_finding("electrical/load-placard", system(also=also, placards=placards), "BAT")
    assert found.verdict is verdict


def test_a_generator_that_is_monitored_may_give_all_it_is_rated() -> None:
    text = system(lamp="29 A", alternator=", monitored: true")
    assert the_finding("electrical/load-placard", text, "ALT").verdict is PASS
    assert the_finding("electrical/load-placard", text.replace("29 A", "29.1 A"), "ALT").verdict is WARN


def test_ground_power_is_not_carried_along_and_needs_no_load_placard() -> None:
    text = system().replace("voltage: 12.6 V}\n", "voltage: 12.6 V}\n    - {id: GP, kind: ground-power}\n")
    assert [found.subject for found in findings("electrical/load-placard", text)] == ["ALT", "BAT"]


@pytest.mark.parametrize(
    "text", ["markings: {}\nelectrical: {nominal_voltage: 14 V}", system().replace("rating: 30 A, ", "")]
)
def test_without_sources_or_rating_load_placards_are_no_data(text: str) -> None:
    assert {found.verdict for found in findings("electrical/load-placard", text)} == {NO_DATA}


# AC 43.13-1B 11-35b: below 13 V of a 14 V system, 26 V of a 28 V system.
@pytest.mark.parametrize(
    ("volts", "verdict"),
    [("12.9 V", WARN), ("13 V", PASS), ("13.5 V", PASS), ("14.2 V", PASS), ("14.3 V", WARN)],
)
def test_the_voltage_at_which_it_warns(volts: str, verdict: Verdict) -> None:
    found = the_finding("electrical/low-voltage-warning", system(warning=f", warns_below: {volts}"), "WARN")
    assert found.verdict is verdict
    assert found.where[0].position.line == 12


@pytest.mark.parametrize(("volts", "verdict"), [("25.9 V", WARN), ("26 V", PASS)])
def test_the_voltage_at_which_it_warns_in_a_system_of_28_v(volts: str, verdict: Verdict) -> None:
    for name in ("28 V", "24 V"):
        text = system(warning=f", warns_below: {volts}", electrical=f"nominal_voltage: {name}")
        text = text.replace("14.2 V", "28.4 V")
        assert the_finding("electrical/low-voltage-warning", text, "WARN").verdict is verdict


def test_a_warning_that_goes_dark_with_the_generator() -> None:
    # The diode keeps the battery off AUX.
    found = the_finding("electrical/low-voltage-warning", system(warning=", warns_below: 13 V", on="AUX"), "WARN")
    assert found.verdict is WARN
    assert found.message == "no battery feeds it: it goes dark with the generator"


def test_nothing_that_warns_is_a_warning() -> None:
    (found,) = findings("electrical/low-voltage-warning", system())
    assert found.verdict is WARN
    assert "below 13 V" in found.message


def test_low_voltage_without_what_it_needs() -> None:
    rule, lamp = "electrical/low-voltage-warning", ", warns_below: 13 V"
    (found,) = findings(rule, system(electrical="buses: []", warning=lamp).replace("  buses: []\n", "", 1))
    assert found.verdict is NO_DATA
    assert the_finding(rule, system(warning=lamp).replace(", voltage: 14.2 V", ""), "WARN").verdict is NO_DATA
    (found,) = findings(rule, system(electrical="nominal_voltage: 48 V", warning=lamp))
    assert found.verdict is APART
    (found,) = findings(rule, "electrical: {sources: [{id: BAT, kind: battery}]}")
    assert found.verdict is APART


@pytest.mark.parametrize(
    ("meters", "verdict"),
    [
        ("ammeter: generator-lead", PASS),
        ("ammeter: battery-lead, voltmeter: true", PASS),
        ("ammeter: battery-lead, voltmeter: false", WARN),
        ("ammeter: none, voltmeter: true", WARN),
        ("ammeter: battery-lead", NO_DATA),
        ("voltmeter: true", NO_DATA),
    ],
)
def test_meters(meters: str, verdict: Verdict) -> None:
    text = f"electrical: {{sources: [{{id: ALT, kind: alternator}}], {meters}}}"
    (found,) = findings("electrical/meters", text)
    assert found.verdict is verdict


def test_one_ammeter_in_the_battery_lead_does_not_tell_two_generators_apart() -> None:
    sources = "[{id: ALT, kind: alternator}, {id: GEN, kind: generator}]"
    text = f"electrical: {{sources: {sources}, ammeter: battery-lead, voltmeter: true}}"
    (found,) = findings("electrical/meters", text)
    assert found.verdict is WARN


@pytest.mark.parametrize(("placards", "verdict"), [("[]", WARN), (placard(), None)])
def test_monitored_without_a_meter_needs_a_placard(placards: str, verdict: Verdict | None) -> None:
    text = system(electrical="ammeter: none", alternator=", monitored: true", placards=placards)
    found = [finding.verdict for finding in findings("electrical/meters", text) if finding.subject == "ALT"]
    assert found == ([verdict] if verdict else [])


@pytest.mark.parametrize(
    ("recorded", "verdict"),
    [(", overvoltage: cut-off", PASS), (", overvoltage: nothing", WARN), ("", NO_DATA)],
)
def test_overvoltage(recorded: str, verdict: Verdict) -> None:
    found = the_finding("electrical/overvoltage", system(alternator=recorded), "ALT")
    assert found.verdict is verdict
    assert found.where[0].position.line == 6


@pytest.mark.parametrize("rule", ["load-placard", "meters", "overvoltage"])
def test_without_a_generator_there_is_nothing_to_watch(rule: str) -> None:
    text = "markings: {}\nelectrical: {sources: [{id: BAT, kind: battery}]}"
    (found,) = findings(f"electrical/{rule}", text)
    assert found.verdict is APART
