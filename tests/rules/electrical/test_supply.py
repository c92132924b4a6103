"""Rules on sources and on every load's way: AC 43.13-1B paragraph 11-35a (80 %, read), old 23.1361(b) (5 A, from memory)."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "23-1361": "electrical/load-switch",
    "ac43-11-35-a": "electrical/source-capacity",
    "nothing computed": "electrical/load-circuit",
}

CAPACITY = "electrical/source-capacity"
CIRCUIT = "electrical/load-circuit"
SWITCH = "electrical/load-switch"


def measured(found: Finding) -> float:
    assert found.measured is not None
    return found.measured.value


def limit(found: Finding) -> float:
    assert found.limit is not None
    return found.limit.value


def sources(*loads: str, alternator: str = "rating: 40 A", more: str = "") -> str:
    return "\n".join(
        (
            "electrical:",
            "  sources:",
            f"    - {{id: ALT, kind: alternator, {alternator}}}",
            "    - {id: BAT, kind: battery}",
            more,
            "  loads:",
            *(f"    - {{id: L{number}, nature: led, {load}}}" for number, load in enumerate(loads, 1)),
        )
    )


def test_capacity_passes_below_80_percent() -> None:
    # 24 A always on and 8 A half of the time make 28 A; 80 % of 40 A is 32 A.
    found = the_finding(
        CAPACITY, sources("current: 24 A, duty: {cruise: 100 %}", "current: 8 A, duty: {cruise: 50 %}"), "cruise"
    )
    assert found.verdict is Verdict.PASS
    assert measured(found) == pytest.approx(28)
    assert limit(found) == pytest.approx(32)
    assert found.margin == pytest.approx(4 / 32)
    assert (
        found.message
        == "the continuous loads draw 28.0 A; the alternators deliver 40 A, of which 32 A may be planned on"
    )


def test_capacity_exactly_at_80_percent_passes() -> None:
    found = the_finding(CAPACITY, sources("current: 32 A, duty: {cruise: 100 %}"), "cruise")
    assert found.verdict is Verdict.PASS
    assert found.margin == pytest.approx(0, abs=1e-9)


def test_capacity_just_over_80_percent_fails_where_the_rating_stands() -> None:
    found = the_finding(CAPACITY, sources("current: 32.1 A, duty: {cruise: 100 %}"), "cruise")
    assert found.verdict is Verdict.FAIL
    assert found.margin == pytest.approx(-0.1 / 32)
    assert found.remedy == "Take 0.1 A off this phase, fit a larger alternator, or monitor its load."
    # One line of the aircraft, the alternator on the fourth, the largest load on the eighth.
    assert [spot.position.line for spot in found.where] == [4, 8]


@pytest.mark.parametrize(
    ("current", "verdict"), [("39.9 A", Verdict.PASS), ("40 A", Verdict.PASS), ("40.1 A", Verdict.FAIL)]
)
def test_capacity_of_a_monitored_alternator_is_its_whole_output(current: str, verdict: Verdict) -> None:
    text = sources(f"current: {current}, duty: {{cruise: 100 %}}", alternator="rating: 40 A, monitored: true")
    assert the_finding(CAPACITY, text, "cruise").verdict is verdict


def test_capacity_of_two_alternators_adds() -> None:
    more = "    - {id: ALT2, kind: generator, rating: 10 A, monitored: true}"
    found = the_finding(CAPACITY, sources("current: 42 A, duty: {cruise: 100 %}", more=more), "cruise")
    # 0.8 x 40 + 10.
    assert limit(found) == pytest.approx(42)
    assert found.verdict is Verdict.PASS


def test_capacity_judges_each_phase_but_the_emergency() -> None:
    loads = (
        "current: 20 A, duty: {taxi: 100 %, emergency: 100 %}",
        "current: 15 A, duty: {taxi: 100 %, cruise: 100 %}",
    )
    found = {finding.subject: finding for finding in findings(CAPACITY, sources(*loads))}
    assert {phase: finding.verdict for phase, finding in found.items()} == {
        "taxi": Verdict.FAIL,
        "cruise": Verdict.PASS,
    }
    working = found["taxi"].working
    assert working is not None
    assert list(working()) == ["L1: 20.00 A", "L2: 15.00 A", "together 35.00 A"]


def test_capacity_counts_the_coils_that_are_held_closed() -> None:
    relay = "  switches: [{id: K, kind: contactor, coil: 1 A}]"
    load = "current: 31 A, duty: {cruise: 100 %}"
    assert measured(the_finding(CAPACITY, sources(load, more=relay), "cruise")) == pytest.approx(32)
    over = the_finding(CAPACITY, sources(load, more=relay.replace("1 A", "1.1 A")), "cruise")
    assert over.verdict is Verdict.FAIL
    assert over.working is not None
    assert list(over.working()) == ["L1: 31.00 A", "K: 1.10 A", "together 32.10 A"]


def test_capacity_leaves_intermittent_loads_to_the_battery() -> None:
    loads = ("current: 110 A, intermittent: true, duty: {taxi: 100 %}", "current: 30 A, duty: {taxi: 100 %}")
    assert measured(the_finding(CAPACITY, sources(*loads), "taxi")) == pytest.approx(30)


def test_capacity_without_a_duty_has_no_data() -> None:
    found = the_finding(CAPACITY, sources("current: 3 A", "current: 1 A, duty: {taxi: 100 %}"), "L1")
    assert found.verdict is Verdict.NO_DATA
    assert found.where[0].position.line == 8


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (sources("current: 3 A, duty: {taxi: 100 %}", alternator="monitored: true"), "rating of ALT"),
        ("electrical: {loads: [{id: L, current: 3 A, nature: led}]}", "no source"),
        ("electrical: {sources: [{id: ALT, kind: alternator, rating: 40 A}]}", "no load"),
    ],
)
def test_capacity_without_data_is_not_judged(text: str, said: str) -> None:
    (found,) = findings(CAPACITY, text)
    assert found.verdict is Verdict.NO_DATA
    assert said in found.message


@pytest.mark.parametrize("load", ["current: 3 A, intermittent: true", "current: 3 A, duty: {emergency: 100 %}"])
def test_capacity_with_nothing_on_continuously_does_not_apply(load: str) -> None:
    (found,) = findings(CAPACITY, sources(load))
    assert found.verdict is Verdict.NOT_APPLICABLE


# -- load-circuit ------------------------------------------------------------------------------------------------------

WHOLE = """
electrical:
  sources: [{id: BAT, kind: battery}]
  buses: [{id: MAIN}]
  grounds: [{id: G, kind: single-point}]
  protection: [{id: F1, kind: breaker, rating: 5 A, fed_from: MAIN}]
  switches: [{id: SW, kind: toggle}]
  loads:
    - {id: L, current: 2 A, nature: led}
  wires:
    - {id: FEED, from: BAT, to: MAIN}
    - {id: W1, from: F1, to: SW}
    - {id: W2, from: SW, to: L}
    - {id: R1, from: L.return, to: G}
    - {id: R2, from: G, to: BAT.return}
"""


def without(wire: str, text: str = WHOLE) -> str:
    return "\n".join(line for line in text.splitlines() if f"id: {wire}," not in line)


def test_circuit_passes_with_source_return_and_switch() -> None:
    found = the_finding(CIRCUIT, WHOLE, "L")
    assert found.verdict is Verdict.PASS
    assert found.where[0].position.line == 10


def test_circuit_passes_on_a_ground_of_its_own() -> None:
    text = without("R1").replace("nature: led", "nature: led, grounded_at: G")
    assert the_finding(CIRCUIT, text, "L").verdict is Verdict.PASS


def test_circuit_passes_with_a_switch_in_the_return() -> None:
    text = (
        WHOLE.replace("to: SW}", "to: L}")
        .replace("from: SW, to: L}", "from: L.return, to: SW}")
        .replace("from: L.return, to: G", "from: SW, to: G")
    )
    assert the_finding(CIRCUIT, text, "L").verdict is Verdict.PASS


@pytest.mark.parametrize("wire", ["FEED", "W1", "W2"])
def test_circuit_without_a_source_fails(wire: str) -> None:
    found = the_finding(CIRCUIT, without(wire), "L")
    assert found.verdict is Verdict.FAIL
    assert found.message == "no source feeds this load"
    assert found.where[0].position.line == 10


@pytest.mark.parametrize("wire", ["R1", "R2"])
def test_circuit_without_a_return_fails(wire: str) -> None:
    found = the_finding(CIRCUIT, without(wire), "L")
    assert found.verdict is Verdict.FAIL
    assert found.message == "this load has no way back to a source"


def test_circuit_through_a_diode_the_wrong_way_round_fails() -> None:
    text = WHOLE.replace("switches:", "diodes: [{id: D}]\n  switches:")
    forwards = text.replace("from: BAT, to: MAIN}", "from: BAT, to: D}\n    - {id: W3, from: D, to: MAIN}")
    backwards = text.replace("from: BAT, to: MAIN}", "from: BAT, to: D.out}\n    - {id: W3, from: D.in, to: MAIN}")
    assert the_finding(CIRCUIT, forwards, "L").verdict is Verdict.PASS
    assert the_finding(CIRCUIT, backwards, "L").verdict is Verdict.FAIL


def unswitched(rating: str = "5 A", load: str = "") -> str:
    """The load right behind its breaker."""
    text = without("W1").replace("from: SW, to: L", "from: F1, to: L")
    return text.replace("rating: 5 A", f"rating: {rating}").replace("nature: led", f"nature: led{load}")


def test_switch_with_nothing_but_a_breaker_warns() -> None:
    # AC 43.13-1B paragraph 11-51: a breaker is not recommended as a switch.
    found = the_finding(SWITCH, unswitched(), "L")
    assert found.verdict is Verdict.WARN
    assert found.message == "nothing but a breaker or fuse cuts this load off"


LIVE = ", always_live: keeps the time"


@pytest.mark.parametrize(
    ("rating", "verdict"),
    [
        ("2 A", Verdict.PASS),
        ("5 A", Verdict.PASS),  # exactly at
        ("5.1 A", Verdict.WARN),  # just over; the figure is from memory
    ],
)
def test_switch_meant_to_stay_live_opens_at_5_amperes(rating: str, verdict: Verdict) -> None:
    found = the_finding(SWITCH, unswitched(rating, LIVE), "L")
    assert found.verdict is verdict
    assert found.measured == (float(rating.removesuffix(" A")), "A")
    assert found.limit == (5, "A", "at-most")
    assert found.message == f"meant to stay live (keeps the time); what feeds it opens at {rating}"
    assert found.working is not None
    assert found.working()[1].endswith(rating)


def test_switch_meant_to_stay_live_without_protection_warns() -> None:
    text = without("W1").replace("from: SW, to: L", "from: MAIN, to: L").replace("nature: led", f"nature: led{LIVE}")
    found = the_finding(SWITCH, text, "L")
    assert found.verdict is Verdict.WARN
    assert found.message == "meant to stay live (keeps the time); nothing that feeds it ever opens"


COIL = """
electrical:
  sources: [{{id: BAT, kind: battery}}]
  switches: [{{id: K, kind: contactor, coil: 0.8 A}}, {{id: SW, kind: toggle}}]
  wires:
    - {{id: W1, from: BAT, to: K.coil}}
    - {{id: W2, from: K.coil-return, to: {first}}}
    - {{id: W3, from: SW, to: BAT.return}}
"""


def test_switch_of_a_coil_is_judged_like_a_loads() -> None:
    assert the_finding(SWITCH, COIL.format(first="SW"), "K").verdict is Verdict.PASS
    always = the_finding(SWITCH, COIL.format(first="BAT.return"), "K")
    assert always.verdict is Verdict.WARN
    assert always.message == "nothing but a breaker or fuse cuts this coil off; what it closes stays closed"
    assert always.where[0].position.line == 5
    loose = COIL.format(first="SW").replace("from: BAT, to: K.coil}", "from: BAT, to: K}")
    assert the_finding(SWITCH, loose, "K").verdict is Verdict.NOT_APPLICABLE
    assert the_finding(CIRCUIT, loose, "K").verdict is Verdict.FAIL


def test_switch_in_feed_or_return_cuts_a_load_off() -> None:
    assert the_finding(SWITCH, WHOLE, "L").verdict is Verdict.PASS
    assert the_finding(CIRCUIT, unswitched(), "L").verdict is Verdict.PASS


@pytest.mark.parametrize("rule", [CIRCUIT, SWITCH])
def test_circuit_of_no_load_does_not_apply(rule: str) -> None:
    (found,) = findings(rule, "electrical: {sources: [{id: BAT, kind: battery}]}")
    assert found.verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize("rule", [CIRCUIT, SWITCH])
def test_circuit_without_records_has_no_data(rule: str) -> None:
    (found,) = findings(rule, "weights: {}")
    assert found.verdict is Verdict.NO_DATA
    assert "no section 'electrical'" in found.message


@pytest.mark.parametrize("rule", [CIRCUIT, SWITCH])
def test_circuit_of_an_aircraft_without_electrics_does_not_apply(rule: str) -> None:
    (found,) = findings(rule, "aircraft: {name: Test Article, authority: US, stage: operating, without: [electrical]}")
    assert found.verdict is Verdict.NOT_APPLICABLE
