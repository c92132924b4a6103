"""What electrical rules say where a system is simple, odd, or hardly recorded: never a pass that nobody earned."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

BATTERY = "{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm}"
ALTERNATOR = "{id: ALT, kind: alternator, voltage: 14 V, rating: 40 A}"


def bare(*, sources: str = BATTERY, load: str = "", wires: str = "", volts: str = "14 V", more: str = "") -> str:
    """A battery, a bus and a load on it, without anything that opens."""
    return f"""aircraft: {{name: Test Article, authority: US, stage: operating, limits: {{altitude: 10000 ft}}}}
electrical:
  {f"nominal_voltage: {volts}" if volts else "diodes: []"}
  sources: [{sources}]
  buses: [{{id: MAIN}}]
  loads: [{{id: L, current: 5 A, nature: led, duty: {{cruise: 100 %}}{load}}}]
  wires:
    - {{id: W0, from: BAT, to: MAIN, size: 10 AWG, length: 1 ft}}
    - {{id: W1, from: MAIN, to: L, size: 20 AWG, length: 1 ft}}
    - {{id: W2, from: L.return, to: BAT.return, size: 20 AWG, length: 1 ft}}
    {wires}
  {more}
"""


@pytest.mark.parametrize("rule", ["device-voltage", "interrupting-rating", "protector-by-size"])
def test_without_protective_devices_nothing_is_asked_of_them(rule: str) -> None:
    (found,) = findings(f"electrical/{rule}", bare())
    assert (found.verdict, found.subject) == (APART, "aircraft")
    # That there is none is what the wires' own rule minds.
    assert the_finding("electrical/wire-protection", bare(), "W1").verdict is FAIL


def test_a_wire_without_protection_shows_why_as_its_working() -> None:
    found = the_finding("electrical/wire-protection", bare(), "W1")
    assert found.working is not None
    assert found.working()[1].startswith("exemption recorded: none")


def test_an_essential_load_that_two_devices_feed_hangs_on_none_of_them() -> None:
    two_ways = """protection:
    - {id: F1, kind: breaker, rating: 10 A, fed_from: MAIN, reachable_in_flight: true}
    - {id: F2, kind: breaker, rating: 10 A, fed_from: MAIN, reachable_in_flight: true}
"""
    wires = """- {id: W3, from: F1, to: L, size: 20 AWG, length: 1 ft}
    - {id: W4, from: F2, to: L, size: 20 AWG, length: 1 ft}"""
    text = bare(load=", essential: true", wires=wires, more=two_ways)
    text = text.replace("    - {id: W1, from: MAIN, to: L, size: 20 AWG, length: 1 ft}\n", "")
    assert the_finding("electrical/essential-reset", text, "L").verdict is NO_DATA
    one_way = text.replace("    - {id: W4, from: F2, to: L, size: 20 AWG, length: 1 ft}\n", "")
    assert the_finding("electrical/essential-reset", one_way, "L").verdict is PASS


def test_a_load_between_two_sources_has_no_wire_of_its_own_to_lose_volts() -> None:
    # The load stands where battery and alternator meet, on both sides: each of its wires is theirs too.
    text = f"""electrical:
  nominal_voltage: 14 V
  sources: [{BATTERY}, {ALTERNATOR}]
  loads: [{{id: L, current: 5 A, nature: led}}]
  wires:
    - {{id: W0, from: BAT, to: L, size: 10 AWG, length: 1 ft}}
    - {{id: W1, from: ALT, to: L, size: 10 AWG, length: 1 ft}}
    - {{id: W2, from: BAT.return, to: L.return, size: 10 AWG, length: 1 ft}}
    - {{id: W3, from: ALT.return, to: L.return, size: 10 AWG, length: 1 ft}}
"""
    found = the_finding("electrical/voltage-drop", text, "L")
    assert (found.verdict, found.message) == (NO_DATA, "no wire of its own leads to this load")


def test_two_wires_of_one_marking_show_both_as_the_working() -> None:
    text = bare().replace("id: W2,", "id: W2, marking: w1,")
    found = the_finding("electrical/marking", text, "W2")
    assert found.verdict is FAIL
    assert found.working is not None
    assert found.working() == ["W1: marked W1", "W2: marked w1"]


def test_without_a_battery_there_is_no_endurance_to_ask_for() -> None:
    (found,) = findings("electrical/endurance", bare(sources=ALTERNATOR).replace("BAT", "ALT"))
    assert (found.verdict, found.message) == (APART, "no battery is recorded")


@pytest.mark.parametrize(("limit", "verdict"), [("20 in", PASS), ("19 in", FAIL)])
def test_of_two_ways_from_the_battery_the_shorter_is_measured(limit: str, verdict: Verdict) -> None:
    # BAT to STUD: 60 in at once, or 6 + 6 in over the post, whichever is met first; then 8 in on: 20 in.
    text = f"""electrical:
  short_lead: {limit}
  sources: [{BATTERY}]
  junctions: [{{id: POST, kind: stud}}, {{id: STUD, kind: stud}}]
  loads: [{{id: L, current: 5 A, nature: led}}]
  wires:
    - {{id: LONG, from: BAT, to: STUD, size: 10 AWG, length: 60 in, serves: short-lead}}
    - {{id: A, from: BAT, to: POST, size: 10 AWG, length: 6 in, serves: short-lead}}
    - {{id: B, from: POST, to: STUD, size: 10 AWG, length: 6 in, serves: short-lead}}
    - {{id: ON, from: STUD, to: L, size: 10 AWG, length: 8 in, serves: short-lead}}
    - {{id: R, from: L.return, to: BAT.return, size: 10 AWG, length: 8 in}}
"""
    found = the_finding("electrical/unprotected-length", text, "ON")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(20)
    assert found.verdict is verdict


def test_an_avionics_bus_with_nothing_on_it_has_no_ground_to_share() -> None:
    text = bare().replace("{id: MAIN}", "{id: MAIN}, {id: RADIO, avionics: true}")
    (found,) = findings("electrical/avionics-ground", text)
    assert (found.verdict, found.message) == (APART, "no load hangs on an avionics bus")


def test_no_wire_at_all_says_nothing_about_insulation() -> None:
    (found,) = findings("electrical/wire-type", f"electrical: {{sources: [{BATTERY}], flame_tested: [MIL-W-22759]}}\n")
    assert (found.verdict, found.message) == (NO_DATA, "no wire is recorded")


def test_a_battery_without_a_device_to_any_bus_gives_five_seconds_no_limit() -> None:
    both = bare(sources=f"{BATTERY}, {ALTERNATOR}", wires="- {id: W3, from: ALT, to: MAIN, size: 10 AWG, length: 1 ft}")
    found = {finding.subject: finding for finding in findings("electrical/load-analysis", both)}
    assert found["cruise-5-s"].verdict is APART
    assert (found["cruise-5-min"].verdict, found["cruise-5-min"].limit) == (PASS, (40.0, "A", "at-most"))


# -- the voltage that arrives ------------------------------------------------------------------------------------------

NEEDS = ", minimum_voltage: 11 V"


def test_what_a_breaker_loses_counts_once_its_resistance_is_recorded() -> None:
    # Table 11-9 (read): 1 ft of 10 AWG 1.26 mohm, of 20 AWG 9.88 mohm; and the breaker's own 20 mohm, at 5 A.
    breaker = "protection: [{id: F, kind: breaker, rating: 10 A, fed_from: MAIN, resistance: 20 mohm}]"
    text = bare(load=NEEDS, more=breaker).replace("from: MAIN, to: L", "from: F, to: L")
    found = the_finding("electrical/minimum-voltage", text, "L")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(12.6 - 5 * (0.010 + 0.00126 + 2 * 0.00988 + 0.020), abs=1e-9)


def test_without_a_source_or_a_nominal_voltage_no_voltage_is_told() -> None:
    no_source = bare(sources="", load=NEEDS, more="junctions: [{id: BAT, kind: connector}]").replace(
        "BAT.return", "BAT.1"
    )
    for text, missing in (
        (no_source.replace("from: BAT", "from: BAT.2"), "no source is recorded"),
        (bare(volts="", load=NEEDS), "the system's nominal voltage is not recorded"),
    ):
        (found,) = findings("electrical/minimum-voltage", text)
        assert (found.verdict, found.message) == (NO_DATA, missing)


def test_ground_power_is_no_source_in_flight() -> None:
    cart = "{id: CART, kind: ground-power, voltage: 28 V}"
    text = bare(
        sources=f"{BATTERY}, {cart}", load=NEEDS, wires="- {id: WG, from: CART, to: MAIN, size: 4 AWG, length: 1 ft}"
    )
    found = the_finding("electrical/minimum-voltage", text, "L")
    assert found.measured is not None
    assert found.measured.value < 12.6


def test_where_no_load_is_essential_or_says_what_it_needs_no_voltage_is_asked() -> None:
    (found,) = findings("electrical/minimum-voltage", bare())
    assert (found.verdict, found.subject) == (APART, "aircraft")


def test_a_wire_between_sources_without_its_length_leaves_every_voltage_open() -> None:
    wires = "- {id: W3, from: ALT, to: MAIN, size: 10 AWG}"
    (found,) = findings("electrical/minimum-voltage", bare(sources=f"{BATTERY}, {ALTERNATOR}", load=NEEDS, wires=wires))
    assert found.verdict is NO_DATA
    assert "W3" in found.message


def test_an_alternator_that_no_wire_joins_to_a_bus_has_no_feeder() -> None:
    found = the_finding("electrical/feeder-drop", bare(sources=f"{BATTERY}, {ALTERNATOR}"), "ALT")
    assert (found.verdict, found.message) == (NO_DATA, "no way from it to a bus is recorded")
