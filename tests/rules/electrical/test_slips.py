"""Slips in the wiring's records: a dead short, a wire that joins nothing, a device at the wrong load. No published figures."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, judged, the_finding

ORACLES = {
    "own arithmetic": "electrical/dead-short electrical/duty",
    "nothing computed": "electrical/named-load electrical/wire-ends",
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def system(w1: str = "{id: W1, from: SW, to: L1, length: 5 ft}", more: str = "") -> str:
    """BAT - MAIN - F - SW - L1 and F2 - L2; both return to G."""
    return f"""electrical:
  nominal_voltage: 14 V
  sources: [{{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm}}]
  buses: [{{id: MAIN}}]
  grounds: [{{id: G, kind: single-point}}]
  protection:
    - {{id: F, kind: breaker, rating: 5 A, what: Radio, fed_from: MAIN}}
    - {{id: F2, kind: breaker, rating: 5 A, what: lamps, fed_from: MAIN}}
  switches: [{{id: SW, kind: toggle, what: radio}}]
  diodes: [{{id: D}}]
  loads:
    - {{id: L1, what: radio, current: 1 A, nature: electronic, minimum_voltage: 10 V, duty: {{cruise: 100 %}}, grounded_at: G}}
    - {{id: L2, what: lamp, current: 1 A, nature: led, grounded_at: G}}
  wires:
    - {{id: W0, from: BAT, to: MAIN, size: 8 AWG, length: 1 ft}}
    - {{id: WF, from: F, to: SW, size: 20 AWG, length: 1 ft}}
    - {w1}
    - {{id: W2, from: F2, to: L2, length: 3 ft}}
    - {{id: WG, from: BAT.return, to: G, size: 8 AWG, length: 1 ft}}
    {more}
"""


def test_a_sound_source_is_not_shorted() -> None:
    assert the_finding("electrical/dead-short", system(), "BAT").verdict is PASS


@pytest.mark.parametrize(
    ("wire", "guilty", "way"),
    [
        ("{id: W1, from: SW, to: L1.return}", "W1", "W0, F, WF, SW, W1, L1, WG"),
        ("{id: W1, from: SW, to: G}", "W1", "W0, F, WF, SW, W1, WG"),
        ("{id: W1, from: SW, to: BAT.return}", "W1", "W0, F, WF, SW, W1"),
    ],
)
def test_one_wire_at_a_return_shorts_the_source(wire: str, guilty: str, way: str) -> None:
    found = the_finding("electrical/dead-short", system(wire), "BAT")
    assert found.verdict is FAIL
    assert found.message == (
        f"it is shorted: {way} lead back to it, with no load between; {guilty} joins a feed to a return"
    )
    assert found.where[0].position.line == 18
    assert judged(system(wire)).results  # no other rule stumbles over it


@pytest.mark.parametrize(("way", "verdict"), [("from: MAIN, to: D", FAIL), ("from: MAIN, to: D.out", PASS)])
def test_a_diode_shorts_one_way_only(way: str, verdict: Verdict) -> None:
    other = "from: D, to: G" if verdict is FAIL else "from: D.in, to: G"
    more = f"- {{id: W8, {way}}}\n    - {{id: W9, {other}}}"
    assert the_finding("electrical/dead-short", system(more=more), "BAT").verdict is verdict


def test_batteries_in_a_row_are_not_shorted() -> None:
    text = """electrical:
  sources: [{id: B1, kind: battery}, {id: B2, kind: battery}]
  loads: [{id: L, current: 1 A, nature: led, grounded_at: B2.return}]
  wires: [{id: W1, from: B1, to: L}, {id: W2, from: B2, to: B1.return}]
"""
    assert {found.verdict for found in findings("electrical/dead-short", text)} == {PASS}


def test_without_a_source_a_short_is_no_data() -> None:
    (found,) = findings("electrical/dead-short", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("wire", "subject", "verdict"),
    [
        ("{id: W1, from: SW, to: L1, length: 5 ft}", "aircraft", PASS),
        ("{id: W1, from: SW, to: L1, length: 0.1 in}", "aircraft", PASS),
        ("{id: W1, from: SW, to: L1, length: 0 in}", "W1", WARN),
        ("{id: W1, from: L1, to: L1, length: 5 ft}", "W1", WARN),
        ("{id: W1, from: SW, to: L1}", "aircraft", PASS),
    ],
)
def test_a_wire_has_two_ends_and_a_length(wire: str, subject: str, verdict: Verdict) -> None:
    (found,) = findings("electrical/wire-ends", system(wire))
    assert (found.subject, found.verdict) == (subject, verdict)
    if verdict is WARN:
        assert found.where[0].position.line == 18


def test_without_wires_their_ends_are_no_data() -> None:
    (found,) = findings("electrical/wire-ends", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is NO_DATA


def test_the_load_that_a_device_names_hangs_on_it() -> None:
    for device in ("F", "SW"):
        assert the_finding("electrical/named-load", system(), device).verdict is PASS
    assert {found.subject for found in findings("electrical/named-load", system())} == {"F", "SW"}  # F2 names no load


def test_two_wires_swapped_show() -> None:
    text = system("{id: W1, from: F2, to: L1}").replace("from: F2, to: L2", "from: SW, to: L2")
    for device, line in (("F", 8), ("SW", 10)):
        found = the_finding("electrical/named-load", text, device)
        assert found.verdict is WARN
        assert found.where[0].position.line == line
    assert found.message == "it is recorded for radio, and L1, radio, does not hang on it"


def test_a_load_to_which_several_ways_lead_is_not_looked_at() -> None:
    text = system(more="- {id: W8, from: F2, to: L1}").replace("from: SW, to: L1", "from: F2, to: L1")
    found = the_finding("electrical/named-load", text, "SW")
    assert found.verdict is APART


def test_words_that_two_loads_bear_name_none() -> None:
    (found,) = findings("electrical/named-load", system().replace("what: lamp,", "what: radio,"))
    assert found.verdict is APART


def test_without_electrical_records_names_are_no_data() -> None:
    (found,) = findings("electrical/named-load", "weights: {}")
    assert found.verdict is NO_DATA


def duties(*duties: str) -> str:
    loads = "\n".join(f"    - {{id: L{n}, current: 1 A, nature: led, duty: {duty}}}" for n, duty in enumerate(duties))
    return f"electrical:\n  loads:\n{loads}\n"


@pytest.mark.parametrize(
    ("duty", "verdict"),
    [
        ("{cruise: 100 %}", PASS),
        ("{cruise: 100.1 %}", WARN),
        ("{crusie: 100 %}", WARN),
        ("{Cruise: 100 %}", WARN),
        ("{take-off: 100 %}", WARN),
        ("{aerobatics: 100 %}", PASS),
        ("{night-cruise: 100 %}", PASS),
        ("{loter: 100 %}", WARN),
        ("{descent: 10 %}", PASS),
    ],
)
def test_a_misspelt_phase_and_a_share_above_the_whole_show(duty: str, verdict: Verdict) -> None:
    (found,) = findings("electrical/duty", duties("{loiter: 50 %}", "{loiter: 50 %, cruise: 100 %}", duty))
    assert found.verdict is verdict
    if verdict is WARN:
        assert found.subject == "L2"
        assert found.where[0].position.line == 6


def test_without_duties_they_are_no_data() -> None:
    (found,) = findings("electrical/duty", "electrical: {loads: [{id: L, current: 1 A, nature: led}]}")
    assert found.verdict is NO_DATA


def test_what_is_shorted_is_not_solved() -> None:
    shorted = system("{id: W1, from: SW, to: G, size: 20 AWG, length: 5 ft}")
    for rule in ("electrical/minimum-voltage", "electrical/feeder-device"):
        (found,) = findings(rule, shorted)
        assert found.verdict is NO_DATA
        assert found.message == "BAT: shorted, so no voltage can be told; electrical/dead-short says by what"
