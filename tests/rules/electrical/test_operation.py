"""Rules on the voltage that arrives. Resistances are Table 11-9's (read): 1.26 ohm per 1000 ft of 10 AWG, 9.88 of 20 AWG."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-table-11-9": "electrical/feeder-drop electrical/minimum-voltage",
    "ac43-11-66-feeders": "electrical/feeder-drop",
    "numpy": "electrical/minimum-voltage",
}

PASS, FAIL, NO_DATA = Verdict.PASS, Verdict.FAIL, Verdict.NO_DATA


def system(
    *,
    needs: str = "minimum_voltage: 11 V",
    sources: str = "{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm}",
    wire: str = "size: 20 AWG, length: 10 ft",
    more: str = "",
    starter: str = "",
) -> str:
    """BAT - W0 - MAIN - F - W1 - L - W2 - BAT: W1 and W2 are 98.8 mohm each; L draws 5 A."""
    return f"""electrical:
  nominal_voltage: 14 V
  sources: [{sources}]
  buses: [{{id: MAIN}}]
  protection: [{{id: F, kind: breaker, rating: 10 A, fed_from: MAIN}}]
  loads:
    - {{id: L, current: 5 A, nature: led, duty: {{cruise: 100 %, start: 100 %}}, {needs}}}
    {starter}
  wires:
    - {{id: W0, from: BAT, to: MAIN, size: 10 AWG, length: 0 in}}
    - {{id: W1, from: F, to: L, {wire}}}
    - {{id: W2, from: L.return, to: BAT.return, size: 20 AWG, length: 10 ft}}
    {more}
"""


# 12.6 V - 5 A x (10 + 98.8 + 98.8) mohm = 11.562 V.
@pytest.mark.parametrize(
    ("needs", "verdict"),
    [("11 V", PASS), ("11.562 V", PASS), ("11.563 V", FAIL)],
)
def test_the_battery_alone(needs: str, verdict: Verdict) -> None:
    found = the_finding("electrical/minimum-voltage", system(needs=f"minimum_voltage: {needs}"), "L")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.measured.value == pytest.approx(11.562, abs=1e-9)
    assert found.where[0].position.line == 8
    assert found.working is not None
    steps = found.working()
    assert steps[0] == "cruise: 11.562 V"
    assert "then W1: 98.80 mohm x 5 A = 0.494 V" in steps


# Table 11-10, from memory: 8 AWG of aluminium has 1.093 ohm per 1000 ft: 12.6 V - 5 A x (10 + 10.93 + 98.8) mohm = 12.00135 V.
@pytest.mark.parametrize(("needs", "verdict"), [("12.001 V", PASS), ("12.002 V", Verdict.WARN)])
def test_what_rests_on_aluminium_warns(needs: str, verdict: Verdict) -> None:
    text = system(needs=f"minimum_voltage: {needs}", wire="size: 8 AWG, length: 10 ft, material: aluminium")
    assert the_finding("electrical/minimum-voltage", text, "L").verdict is verdict


@pytest.mark.parametrize(
    ("needs", "sources", "wire"),
    [
        (
            "essential: true",
            "{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm}",
            "size: 20 AWG, length: 1 ft",
        ),
        ("minimum_voltage: 9 V", "{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm}", "size: 20 AWG"),
        ("minimum_voltage: 9 V", "{id: BAT, kind: battery, voltage: 12.6 V}", "size: 20 AWG, length: 1 ft"),
        ("minimum_voltage: 9 V", "{id: BAT, kind: battery, resistance: 9 mohm}", "size: 20 AWG, length: 1 ft"),
    ],
)
def test_what_is_not_recorded_is_no_data(needs: str, sources: str, wire: str) -> None:
    found = findings("electrical/minimum-voltage", system(needs=needs, sources=sources, wire=wire))
    assert {finding.verdict for finding in found} == {NO_DATA}


def test_the_generator_lost_counts() -> None:
    alternator = "{id: ALT, kind: alternator, rating: 40 A, voltage: 14.2 V}"
    battery = "{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm}"
    more = """- {id: W3, from: ALT, to: MAIN, size: 10 AWG, length: 0 in}
    - {id: W4, from: ALT.return, to: BAT.return, size: 10 AWG, length: 0 in}"""
    text = system(sources=f"{alternator}, {battery}", more=more)
    found = the_finding("electrical/minimum-voltage", text, "L")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(11.562, abs=1e-9)
    assert "ALT lost" in found.message
    assert found.working is not None
    # Whole: 14.2 V - 5 A x 197.6 mohm = 13.212 V.
    assert "cruise: 13.212 V" in found.working()


def test_the_starter_pulls_the_battery_down() -> None:
    # 105 A in all: 12.6 - 105 x 0.010 - 5 x 0.1976 = 10.562 V.
    starter = "- {id: START, current: 100 A, nature: motor, intermittent: true}"
    more = """- {id: W5, from: BAT, to: START, size: 4 AWG, length: 0 in, serves: starter-feeder}
    - {id: W6, from: START.return, to: BAT.return, size: 4 AWG, length: 0 in}"""
    found = the_finding("electrical/minimum-voltage", system(starter=starter, more=more), "L")
    assert found.verdict is FAIL
    assert found.measured is not None
    assert found.measured.value == pytest.approx(10.562, abs=1e-9)
    assert found.message == "10.56 V at the least, cranking; it needs 11 V"


def test_coils_draw_in_every_phase_and_the_starters_while_cranking() -> None:
    # A coil of 1.4 A at 14 V is 10 ohm: with L's 5 A the battery gives V = 12.6 - 0.010 x (5 + V / 10), V = 12.55 / 1.001;
    # L gets 5 A x 197.6 mohm less. Cranking, 100 A and the starter's coil of 2.8 A, 5 ohm, come on top.
    more = """- {id: W5, from: BAT, to: K.coil, size: 10 AWG, length: 0 in}
    - {id: W6, from: K.coil-return, to: BAT.return, size: 10 AWG, length: 0 in}"""
    starter = """- {id: START, current: 100 A, nature: motor, intermittent: true, grounded_at: BAT.return}
  switches: [{id: K, kind: contactor, coil: 1.4 A}, {id: KS, kind: contactor, coil: 2.8 A}]"""
    turning = """
    - {id: W7, from: BAT, to: KS.in, size: 4 AWG, length: 0 in, serves: starter-feeder}
    - {id: W8, from: KS, to: START, size: 4 AWG, length: 0 in, serves: starter-feeder}
    - {id: W9, from: BAT, to: KS.coil, size: 10 AWG, length: 0 in}
    - {id: W10, from: KS.coil-return, to: BAT.return, size: 10 AWG, length: 0 in}"""
    text = system(starter=starter, more=more + turning, needs="minimum_voltage: 11 V")
    found = the_finding("electrical/minimum-voltage", text, "L")
    assert found.measured is not None
    assert found.measured.value == pytest.approx((12.6 - 1.05) / (1 + 0.010 * (1 / 10 + 1 / 5)) - 0.988, abs=1e-9)
    assert found.working is not None
    assert f"cruise: {12.55 / 1.001 - 0.988:.3f} V" in found.working()


def test_constant_power_draws_more_at_less_voltage() -> None:
    # 70 W at 14 V nominal behind 207.6 mohm: V = (12.6 + sqrt(12.6^2 - 4 x 70 x 0.2076)) / 2 = 11.321 V.
    found = the_finding("electrical/minimum-voltage", system(needs="minimum_voltage: 11 V, takes: power"), "L")
    assert found.measured is not None
    assert found.measured.value == pytest.approx((12.6 + (12.6**2 - 4 * 70 * 0.2076) ** 0.5) / 2, abs=1e-9)


def test_a_collapse_fails() -> None:
    text = system(
        sources="{id: BAT, kind: battery, voltage: 12.6 V, resistance: 2 ohm}",
        needs="minimum_voltage: 6 V, takes: power",
    )
    # 12.6 V behind 2.1976 ohm give no more than 12.6^2 / (4 x 2.1976) = 18 W, and 70 W are asked for.
    assert the_finding("electrical/minimum-voltage", text, "aircraft").verdict is FAIL


def feeder(length: str, size: str = "size: 10 AWG") -> str:
    return f"""electrical:
  sources:
    - {{id: ALT, kind: alternator, rating: 40 A, voltage: 14 V}}
  buses: [{{id: MAIN}}]
  protection: [{{id: CL, kind: current-limiter, rating: 50 A}}]
  wires:
    - {{id: W1, from: ALT, to: CL, {size}, length: {length}}}
    - {{id: W2, from: CL, to: MAIN, size: 10 AWG, length: 0 in}}
"""


# 2 % of 14 V are 0.28 V (from memory); 40 A x 1.26 mohm a foot reach it at 5.5556 ft.
@pytest.mark.parametrize(("length", "verdict"), [("5 ft", PASS), ("5.5555555555 ft", PASS), ("5.6 ft", Verdict.WARN)])
def test_feeder_drop(length: str, verdict: Verdict) -> None:
    found = the_finding("electrical/feeder-drop", feeder(length), "ALT")
    assert found.verdict is verdict
    assert found.limit is not None
    assert found.limit.value == pytest.approx(0.28)
    assert found.where[0].position.line == 4


def test_feeder_without_size_or_rating_is_no_data() -> None:
    assert the_finding("electrical/feeder-drop", feeder("5 ft", "spec: M22759/16"), "ALT").verdict is NO_DATA
    text = feeder("5 ft").replace("rating: 40 A, ", "")
    assert the_finding("electrical/feeder-drop", text, "ALT").verdict is NO_DATA


def test_a_resistance_draws_less_at_less_voltage() -> None:
    # 14 V / 5 A are 2.8 ohm; behind 207.6 mohm of 12.6 V: V = 12.6 x 2.8 / 3.0076.
    found = the_finding("electrical/minimum-voltage", system(needs="minimum_voltage: 11 V, takes: resistance"), "L")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(12.6 * 2.8 / 3.0076, abs=1e-9)


def test_a_battery_gives_what_is_asked_of_it_whatever_rating_it_is_recorded_with() -> None:
    rated = "{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm, rating: 2 A}"
    found = the_finding("electrical/minimum-voltage", system(sources=rated), "L")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(11.562, abs=1e-9)


def test_the_working_of_a_feeder_multiplies_its_milliohms() -> None:
    # 1.26 ohm per 1000 ft over 10 ft are 12.6 mohm; 40 A lose 0.504 V.
    found = the_finding("electrical/feeder-drop", feeder("10 ft"), "ALT")
    assert found.working is not None
    assert "W1: 12.60 mohm x 40 A = 0.504 V" in list(found.working())
