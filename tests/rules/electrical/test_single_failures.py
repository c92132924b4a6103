"""Rules on single failures: old 23.1351(b) (memory) and 23.1357(b) (read in a translated copy)."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "networkx": "electrical/single-failure electrical/source-failure",
    "own arithmetic": "electrical/aircraft-switch electrical/essential-own-device",
}

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA
APART = Verdict.NOT_APPLICABLE


def ignitions(second: str = "BATB", survive: int = 1) -> str:
    """Two ignitions, A on a battery of its own, B on the one named."""
    return f"""electrical:
  sources: [{{id: BATA, kind: battery}}, {{id: BATB, kind: battery}}]
  functions:
    - {{name: ignition, loads: [IGN-A, IGN-B], survive: {survive}}}
  protection:
    - {{id: FA, kind: breaker, rating: 5 A, fed_from: BATA}}
    - {{id: FB, kind: breaker, rating: 5 A, fed_from: {second}}}
  loads:
    - {{id: IGN-A, current: 2 A, nature: ignition, essential: true}}
    - {{id: IGN-B, current: 2 A, nature: ignition, essential: true}}
  wires:
    - {{id: W1, from: FA, to: IGN-A}}
    - {{id: W2, from: FB, to: IGN-B}}
    - {{id: W3, from: IGN-A.return, to: BATA.return}}
    - {{id: W4, from: IGN-B.return, to: {second}.return}}
"""


def test_two_of_everything_leave_one() -> None:
    found = the_finding("electrical/single-failure", ignitions(), "ignition")
    assert found.verdict is PASS
    assert found.measured == (1, "left")
    assert found.limit == (1, "left", "at-least")
    assert found.where[0].position.line == 5


def test_one_battery_for_both_takes_both() -> None:
    found = the_finding("electrical/single-failure", ignitions("BATA"), "ignition")
    assert found.verdict is FAIL
    assert found.measured == (0, "left")
    assert found.working is not None
    steps = found.working()
    assert "BATA is lost: IGN-A, IGN-B" in steps
    assert "FA opens: IGN-A" in steps
    assert steps[-1].count("IGN-") == 1  # worst first


def test_one_more_than_is_left_fails() -> None:
    assert the_finding("electrical/single-failure", ignitions(survive=2), "ignition").verdict is FAIL


def test_a_load_that_never_worked_is_not_left() -> None:
    text = ignitions().replace("    - {id: W2, from: FB, to: IGN-B}\n", "")
    found = the_finding("electrical/single-failure", text, "ignition")
    assert found.verdict is FAIL
    assert found.measured == (0, "left")


def test_no_declared_function_is_no_data() -> None:
    (found,) = findings("electrical/single-failure", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("ignition", "feed", "flights", "verdict"),
    [
        ("magneto", "gravity", "day-vfr, night-vfr", APART),
        ("magneto", "mechanical-and-electric-pump", "day-vfr", APART),
        ("magneto", "electric-pump", "day-vfr", NO_DATA),
        ("electronic-and-magneto", "gravity", "day-vfr", NO_DATA),
        ("magneto", "gravity", "day-vfr, ifr", NO_DATA),
        ("magneto", "gravity", "", NO_DATA),
    ],
)
def test_only_an_engine_that_needs_no_current_may_declare_nothing(
    ignition: str, feed: str, flights: str, verdict: Verdict
) -> None:
    engine = f"engine: {{ignition: {ignition}, fuel_feed: {feed}}}, operations: [{flights}]"
    aircraft = f"aircraft: {{name: A, authority: US, stage: operating, {engine}}}\n"
    (found,) = findings("electrical/single-failure", aircraft + "electrical: {nominal_voltage: 28 V}")
    assert found.verdict is verdict


def test_an_essential_load_on_one_source_stops_with_it() -> None:
    found = the_finding("electrical/source-failure", ignitions(), "IGN-A")
    assert found.verdict is WARN  # old 23.1351(b) is from memory
    assert "BATA" in found.message
    assert found.where[0].position.line == 10
    assert found.working is not None
    assert list(found.working())[:2] == [
        "without BATA, all switches closed: it stops",
        "without BATB, all switches closed: it goes on",
    ]


def test_an_essential_load_on_a_shared_bus_goes_on() -> None:
    text = """electrical:
  sources: [{id: ALT, kind: alternator}, {id: BAT, kind: battery}]
  buses: [{id: MAIN}]
  grounds: [{id: G, kind: single-point}]
  loads: [{id: L, current: 1 A, nature: led, essential: true}]
  wires:
    - {id: W1, from: ALT, to: MAIN}
    - {id: W2, from: BAT, to: MAIN}
    - {id: W3, from: MAIN, to: L}
    - {id: W4, from: L.return, to: G}
    - {id: W5, from: G, to: ALT.return}
    - {id: W6, from: G, to: BAT.return}
"""
    assert the_finding("electrical/source-failure", text, "L").verdict is PASS
    # The nearest unsound case: the battery's return is missing, so nothing comes back once the alternator is lost.
    broken = text.replace("    - {id: W6, from: G, to: BAT.return}\n", "")
    assert the_finding("electrical/source-failure", broken, "L").verdict is WARN


def test_an_essential_load_without_a_circuit_is_no_data() -> None:
    text = "electrical:\n  loads: [{id: L, current: 1 A, nature: led, essential: true}]\n"
    assert the_finding("electrical/source-failure", text, "L").verdict is NO_DATA
    assert the_finding("electrical/essential-own-device", text, "L").verdict is NO_DATA


def test_without_essential_loads_neither_is_asked() -> None:
    text = "electrical:\n  loads: [{id: L, current: 1 A, nature: led}]\n"
    for rule in ("source-failure", "essential-own-device"):
        (found,) = findings(f"electrical/{rule}", text)
        assert found.verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(("extra", "verdict", "others"), [("", PASS, 0), ("- {id: W9, from: FA, to: LAMP}", FAIL, 1)])
def test_one_device_for_one_essential_circuit(extra: str, verdict: Verdict, others: int) -> None:
    text = ignitions().replace("  wires:\n", f"    - {{id: LAMP, current: 1 A, nature: led}}\n  wires:\n    {extra}\n")
    found = the_finding("electrical/essential-own-device", text, "IGN-A")
    assert found.verdict is verdict
    assert found.measured == (others, "other loads")
    assert found.working is not None
    assert list(found.working())[1] == f"whose first device is the same: {'LAMP' if others else 'no other load'}"
    assert found.where[0].position.line == 7


def test_a_device_before_the_bus_may_serve_many() -> None:
    text = """electrical:
  sources: [{id: BAT, kind: battery}]
  buses: [{id: MAIN}]
  protection:
    - {id: F0, kind: breaker, rating: 30 A, fed_from: BAT}
    - {id: F1, kind: breaker, rating: 5 A, fed_from: MAIN}
    - {id: F2, kind: breaker, rating: 5 A, fed_from: MAIN}
  loads:
    - {id: L1, current: 1 A, nature: led, essential: true}
    - {id: L2, current: 1 A, nature: led}
  wires:
    - {id: W0, from: F0, to: MAIN}
    - {id: W1, from: F1, to: L1}
    - {id: W2, from: F2, to: L2}
"""
    assert the_finding("electrical/essential-own-device", text, "L1").verdict is PASS


def switched(approved: str, essential: str = "essential: true", more: str = "") -> str:
    """BAT - F - SW - L; with `more` another way past SW."""
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}]
  protection: [{{id: F, kind: breaker, rating: 5 A, fed_from: BAT}}]
  switches:
    - {{id: SW, kind: toggle{approved}}}
  loads: [{{id: L, current: 2 A, nature: motor, {essential}, grounded_at: BAT.return}}]
  wires:
    - {{id: W1, from: F, to: SW}}
    - {{id: W2, from: SW, to: L}}
    {more}
"""


# AC 43.13-1B 11-53 (read): where the failure of a switch would be hazardous, one made for aircraft service.
@pytest.mark.parametrize(
    ("approved", "verdict"),
    [
        (", approved_to: MIL-DTL-3950", PASS),
        (", approved_to: none", FAIL),
        (", approved_to: None", FAIL),
        ("", NO_DATA),
    ],
)
def test_a_switch_that_stops_an_essential_load_is_made_for_aircraft(approved: str, verdict: Verdict) -> None:
    found = the_finding("electrical/aircraft-switch", switched(approved), "SW")
    assert found.verdict is verdict
    assert found.where[0].position.line == 6
    assert "opening, it stops L" in found.message


@pytest.mark.parametrize(
    ("essential", "more"), [("essential: false", ""), ("essential: true", "- {id: W3, from: F, to: L}")]
)
def test_a_switch_whose_opening_does_no_harm_may_be_any(essential: str, more: str) -> None:
    (found,) = findings("electrical/aircraft-switch", switched(", approved_to: none", essential, more))
    assert found.verdict is APART


def test_without_wiring_switches_for_aircraft_are_no_data() -> None:
    (found,) = findings("electrical/aircraft-switch", "weights: {}")
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("more", "verdict", "others"),
    [
        ("- {id: W3, from: SW, to: L}", PASS, 0),  # two wires side by side
        ("- {id: W3, from: F2, to: L}", PASS, 0),  # a second way with a device of its own
        ("- {id: W3, from: F2, to: L}\n    - {id: W4, from: F2, to: M}", FAIL, 1),
    ],
)
def test_an_essential_load_to_which_several_ways_lead(more: str, verdict: Verdict, others: int) -> None:
    text = switched("", more=more).replace(
        "fed_from: BAT}]", "fed_from: BAT}, {id: F2, kind: breaker, rating: 5 A, fed_from: BAT}]"
    )
    text = text.replace("  loads: [", "  loads: [{id: M, current: 1 A, nature: led, grounded_at: BAT.return}, ")
    found = the_finding("electrical/essential-own-device", text, "L")
    assert found.verdict is verdict
    assert found.measured == (others, "other loads")


def test_an_essential_load_straight_on_a_bus_has_no_device_to_judge() -> None:
    text = switched("", more="- {id: W3, from: BAT, to: L}")
    found = the_finding("electrical/essential-own-device", text, "L")
    assert found.verdict is NO_DATA
    assert found.message == "no protective device is found between BAT and this load"


def test_a_function_that_names_no_load_is_no_data() -> None:
    text = ignitions().replace("loads: [IGN-A, IGN-B]", "loads: []")
    assert the_finding("electrical/single-failure", text, "ignition").verdict is NO_DATA


def test_a_load_named_twice_counts_once() -> None:
    text = ignitions().replace("loads: [IGN-A, IGN-B]", "loads: [IGN-B, IGN-B]")
    found = the_finding("electrical/single-failure", text, "ignition")
    assert found.verdict is FAIL
    assert "0 of 1 left" in found.message


def test_the_failure_that_takes_most_is_told_first_and_in_words() -> None:
    found = the_finding("electrical/single-failure", ignitions("BATA"), "ignition")
    assert found.message == "BATA is lost: IGN-A, IGN-B quit, 0 of 2 left; 1 must be"
    assert found.remedy == "Give IGN-A and IGN-B ways that do not share anything: BATA is lost."


def test_the_working_tells_how_many_other_failures_stop_an_essential_load() -> None:
    found = the_finding("electrical/source-failure", ignitions(), "IGN-A")
    assert found.working is not None
    steps = list(found.working())
    assert steps[:2] == ["without BATA, all switches closed: it stops", "without BATB, all switches closed: it goes on"]
    # The other rule lists them one by one, and the lost battery among them.
    one_by_one = the_finding("electrical/single-failure", ignitions(), "ignition").working
    assert one_by_one is not None
    others = [step for step in one_by_one() if step.endswith("IGN-A") and step != "BATA is lost: IGN-A"]
    assert {"FA opens: IGN-A", "W1 opens: IGN-A", "W3 opens: IGN-A"} < set(others)
    assert steps[-1].endswith(f"another rule's: {len(others)}")


def test_an_essential_load_without_a_device_hides_no_other() -> None:
    text = ignitions().replace(
        "    - {id: IGN-A,", "    - {id: LOOSE, current: 1 A, nature: led, essential: true}\n    - {id: IGN-A,"
    )
    for rule in ("essential-own-device", "source-failure"):
        verdicts = {found.subject: found.verdict for found in findings(f"electrical/{rule}", text)}
        assert verdicts["LOOSE"] is NO_DATA
        assert set(verdicts) == {"LOOSE", "IGN-A", "IGN-B"}


def test_a_function_that_one_failure_alone_stops_is_told_by_it() -> None:
    """One ignition with one wire: nothing else takes more, and what each takes is told."""
    text = ignitions().replace("loads: [IGN-A, IGN-B]", "loads: [IGN-A]")
    found = the_finding("electrical/single-failure", text, "ignition")
    assert found.measured == (0, "left")
    assert "IGN-A quits, 0 of 1 left" in found.message
