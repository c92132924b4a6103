"""Rule on voltage drop: AC 43.13-1B tables 11-6, 11-7 and 11-8, paragraph 11-66.

Table 11-9 (read): ohms per 1000 ft at 20 degC are 0.28 for size 4, 0.12 for size 0, 1.26 for size 10, 6.23 for size 18.
"""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-table-11-6": "electrical/voltage-drop",
    "ac43-table-11-7": "electrical/voltage-drop",
    "ac43-table-11-9": "electrical/voltage-drop",
    "numpy": "electrical/voltage-drop",
}

RULE = "electrical/voltage-drop"


def measured(found: Finding) -> float:
    assert found.measured is not None
    return found.measured.value


def branch(
    current: str, out: str, back: str, *, load: str = "", volts: str = "nominal_voltage: 14 V", bundle: str = ""
) -> str:
    """BAT - MAIN - W1 - L - W2 - BAT.return."""
    return f"""
electrical:
  {volts or "diodes: []"}
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: MAIN}}]
  loads: [{{id: L, current: {current}, nature: led{load}}}]
  bundles: [{bundle}]
  wires:
    - {{id: W0, from: BAT, to: MAIN, size: 0000 AWG, length: 100 ft}}
    - {{id: W1, from: MAIN, to: L, {out}}}
    - {{id: W2, from: L.return, to: BAT.return, {back}}}
"""


FOUR = "size: 4 AWG, length: 25 ft"
NOUGHT = "size: 0 AWG, length: 25 ft"
# (0.28 + 0.12) ohm per 1000 ft x 25 ft = 0.01 ohm: 50 A lose 0.5 V, which is what Table 11-6 allows at 14 V.


def test_drop_passes_below_the_allowance() -> None:
    found = the_finding(RULE, branch("40 A", FOUR, NOUGHT), "L")
    assert found.verdict is Verdict.PASS
    assert measured(found) == pytest.approx(0.4)
    assert found.limit == (0.5, "V", "at-most")
    assert found.margin == pytest.approx(0.2)
    assert (
        found.message == "0.40 V is lost between the bus and this load's ground; 0.5 V is allowed for continuous loads"
    )


@pytest.mark.parametrize(
    ("volts", "load", "current"),
    [
        ("14 V", "", "50 A"),
        ("14 V", ", intermittent: true", "100 A"),
        ("28 V", "", "100 A"),
        ("28 V", ", intermittent: true", "200 A"),
    ],
)
def test_drop_exactly_at_the_allowance_passes(volts: str, load: str, current: str) -> None:
    text = branch(current, FOUR, NOUGHT, volts=f"nominal_voltage: {volts}", load=load)
    found = the_finding(RULE, text, "L")
    assert found.verdict is Verdict.PASS
    assert found.margin == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("volts", "load", "current", "verdict"),
    [
        ("14 V", "", "50.1 A", Verdict.FAIL),
        ("28 V", "", "100.1 A", Verdict.FAIL),
        # The intermittent column is from memory: it warns.
        ("14 V", ", intermittent: true", "100.1 A", Verdict.WARN),
        ("28 V", ", intermittent: true", "200.1 A", Verdict.WARN),
    ],
)
def test_drop_just_over_the_allowance_fails(volts: str, load: str, current: str, verdict: Verdict) -> None:
    found = the_finding(RULE, branch(current, FOUR, NOUGHT, volts=f"nominal_voltage: {volts}", load=load), "L")
    assert found.verdict is verdict


def test_drop_blames_the_wire_that_loses_most() -> None:
    found = the_finding(RULE, branch("60 A", NOUGHT, FOUR), "L")
    assert found.verdict is Verdict.FAIL
    # Size 4: 0.28 x 25 / 1000 x 60 = 0.42 V. Its line and the load's.
    assert found.remedy == "Wire W2 loses most of it, 0.42 V; make it thicker or shorter."
    assert [spot.position.line for spot in found.where] == [12, 7]


def test_drop_working_adds_up_wire_by_wire() -> None:
    found = the_finding(RULE, branch("60 A", NOUGHT, FOUR), "L")
    assert found.working is not None
    assert list(found.working()) == [
        "W1, 0 AWG, 25 ft: 3.00 mohm x 60 A = 0.180 V",
        "W2, 4 AWG, 25 ft: 7.00 mohm x 60 A = 0.420 V",
        "together 0.600 V",
    ]


@pytest.mark.parametrize(
    ("out", "back", "missing"),
    [
        ("size: 4 AWG", NOUGHT, "W1"),
        ("length: 25 ft", NOUGHT, "W1"),
        (FOUR, "size: 26 AWG, length: 1 ft", "W2"),
        (FOUR, "size: 10 AWG, length: 25 ft, material: aluminium", "W2"),  # Table 11-10 begins at 8
    ],
)
def test_drop_without_data_on_a_wire_is_not_judged(out: str, back: str, missing: str) -> None:
    found = the_finding(RULE, branch("5 A", out, back), "L")
    assert found.verdict is Verdict.NO_DATA
    assert f"wire {missing}" in found.message


@pytest.mark.parametrize(
    ("volts", "said"), [("", "nominal voltage is not recorded"), ("nominal_voltage: 48 V", "no row for 48 V")]
)
def test_drop_without_a_listed_voltage_is_not_judged(volts: str, said: str) -> None:
    (found,) = findings(RULE, branch("5 A", FOUR, NOUGHT, volts=volts))
    assert found.verdict is Verdict.NO_DATA
    assert said in found.message


def test_drop_in_hot_air_grows_with_the_resistance() -> None:
    # Paragraph 11-66: (234.5 + 70) / 254.5 = 1.196 times the 0.28 V of 40 A over 25 ft of size 4; size 0 stays at 20 degC.
    text = branch("40 A", f"{FOUR}, bundle: B1", NOUGHT, bundle="{id: B1, ambient: 70 degC}")
    found = the_finding(RULE, text, "L")
    assert measured(found) == pytest.approx(0.28 * 304.5 / 254.5 + 0.12)
    cold = the_finding(RULE, text.replace("70 degC", "-20 degC"), "L")
    assert measured(cold) == pytest.approx(0.4)


# Tables 11-7 and 11-8, read: run of conductor in feet, size, system, and whether 20 A stay within the continuous allowance.
@pytest.mark.parametrize(
    ("volts", "run", "size", "verdict"),
    [
        ("28 V", "107 ft", "6", Verdict.PASS),
        ("14 V", "90 ft", "4", Verdict.FAIL),  # the print says 0.504 V and lets it stand
        ("115 V", "88 ft", "12", Verdict.PASS),
        ("200 V", "100 ft", "14", Verdict.PASS),
        ("28 V", "39 ft", "10", Verdict.PASS),
        ("14 V", "19.5 ft", "10", Verdict.PASS),
        ("115 V", "156 ft", "10", Verdict.PASS),
        ("200 V", "273 ft", "10", Verdict.PASS),
        # Table 11-8 gives the greatest whole or half foot: half a foot more is too much at 14 V.
        ("14 V", "20 ft", "10", Verdict.FAIL),
        # Example 1, page 11-26: size 10 is too small for 50 ft, size 8 is chosen.
        ("28 V", "50 ft", "10", Verdict.FAIL),
        ("28 V", "50 ft", "8", Verdict.PASS),
    ],
)
def test_drop_agrees_with_the_published_rows(volts: str, run: str, size: str, verdict: Verdict) -> None:
    text = f"""
        electrical:
          nominal_voltage: {volts}
          sources: [{{id: BAT, kind: battery}}]
          loads: [{{id: L, current: 20 A, nature: heater, grounded_at: BAT.return}}]
          wires: [{{id: W1, from: BAT, to: L, size: {size} AWG, length: {run}}}]
    """
    assert the_finding(RULE, text, "L").verdict is verdict


def test_drop_counts_the_other_loads_of_a_shared_return() -> None:
    text = """
        electrical:
          nominal_voltage: 14 V
          sources: [{id: BAT, kind: battery}]
          buses: [{id: MAIN}]
          junctions: [{id: J, kind: splice}]
          loads: [{id: L1, current: 2 A, nature: led}, {id: L2, current: 3 A, nature: led}]
          wires:
            - {id: W1, from: MAIN, to: L1, size: 18 AWG, length: 10 ft}
            - {id: W2, from: MAIN, to: L2, size: 18 AWG, length: 10 ft}
            - {id: R1, from: L1.return, to: J, size: 18 AWG, length: 1 ft}
            - {id: R2, from: L2.return, to: J, size: 18 AWG, length: 1 ft}
            - {id: R, from: J, to: BAT.return, size: 18 AWG, length: 10 ft}
            - {id: FEED, from: BAT, to: MAIN, size: 18 AWG, length: 10 ft}
    """
    # 6.23 ohm per 1000 ft: 10 ft x 2 A + 1 ft x 2 A + 10 ft x 5 A; the feed to the bus does not count.
    found = the_finding(RULE, text, "L1")
    assert measured(found) == pytest.approx(6.23 / 1000 * (20 + 2 + 50))


TWO_WAYS = """
electrical:
  nominal_voltage: 14 V
  sources: [{id: BAT, kind: battery}]
  buses: [{id: MAIN}, {id: ENG}]
  diodes: [{id: D1}, {id: D2}]
  junctions: [{id: J, kind: stud}]
  grounds: [{id: G, kind: single-point}]
  loads: [{id: L, current: 2 A, nature: ignition, grounded_at: G}]
  wires:
    - {id: F1, from: BAT, to: MAIN, size: 18 AWG, length: 1 ft}
    - {id: F2, from: BAT, to: ENG, size: 18 AWG, length: 1 ft}
    - {id: W1, from: MAIN, to: D1, size: 18 AWG, length: 99 ft}
    - {id: W2, from: ENG, to: D2, size: 18 AWG, length: 99 ft}
    - {id: W3, from: D1, to: J, size: 18 AWG, length: 1 ft}
    - {id: W4, from: D2, to: J, size: 18 AWG, length: 1 ft}
    - {id: W5, from: J, to: L, size: 18 AWG, length: 1 ft}
    - {id: R, from: G, to: BAT.return, size: 18 AWG, length: 1 ft}
"""


def test_drop_where_two_ways_lead_to_a_load_is_the_worse_ones_alone() -> None:
    # Either way: 99 + 1 + 1 ft out x 6.23 ohm per 1000 ft x 2 A; it sits on its ground.
    found = the_finding(RULE, TWO_WAYS, "L")
    assert found.verdict is Verdict.NO_DATA
    assert measured(found) == pytest.approx(101 * 6.23 / 1000 * 2)
    assert found.remedy == "Measure it with the load on: several ways lead there."
    short = TWO_WAYS.replace("99 ft", "29 ft")  # 31 ft: 0.39 V, within 0.5 V whichever way is taken
    passing = the_finding(RULE, short, "L")
    assert passing.verdict is Verdict.PASS
    assert measured(passing) == pytest.approx(31 * 6.23 / 1000 * 2)
    assert passing.working
    assert list(passing.working())[1:] == [
        "and from there to a bus the worst of several ways, as if it were the only one",
        "together 0.386 V",
    ]
    # With one of the two taken away it is: 101 ft x 6.23 ohm per 1000 ft x 2 A = 1.26 V.
    single = "\n".join(line for line in TWO_WAYS.splitlines() if "id: W4" not in line)
    assert measured(the_finding(RULE, single, "L")) == pytest.approx(101 * 6.23 / 1000 * 2)


@pytest.mark.parametrize(
    ("wire", "said"), [("W1", "from the last bus to this load"), ("W2", "from this load to a ground")]
)
def test_drop_of_a_load_without_a_way_is_not_judged(wire: str, said: str) -> None:
    text = "\n".join(line for line in branch("5 A", FOUR, NOUGHT).splitlines() if f"id: {wire}" not in line)
    found = the_finding(RULE, text, "L")
    assert found.verdict is Verdict.NO_DATA
    assert said in found.message


def test_drop_of_a_load_on_what_joins_two_sources_counts_from_there() -> None:
    text = """
        electrical:
          nominal_voltage: 14 V
          sources: [{id: BAT, kind: battery}, {id: ALT, kind: alternator, rating: 40 A}]
          junctions: [{id: J, kind: stud}]
          grounds: [{id: G, kind: single-point}]
          loads: [{id: L, current: 2 A, nature: led, grounded_at: G}]
          wires:
            - {id: W1, from: BAT, to: J, size: 4 AWG, length: 10 ft}
            - {id: W2, from: ALT, to: J, size: 4 AWG, length: 10 ft}
            - {id: W3, from: J, to: L, size: 18 AWG, length: 10 ft}
            - {id: R1, from: BAT.return, to: G, size: 4 AWG, length: 10 ft}
            - {id: R2, from: ALT.return, to: G, size: 4 AWG, length: 10 ft}
    """
    assert measured(the_finding(RULE, text, "L")) == pytest.approx(0.1246)  # 6.23 / 1000 x 10 x 2


def test_drop_of_a_load_that_no_wire_leads_to_is_not_judged() -> None:
    text = """
        electrical:
          nominal_voltage: 14 V
          sources: [{id: BAT, kind: battery}]
          buses: [{id: MAIN}]
          protection: [{id: F1, kind: breaker, rating: 5 A, fed_from: MAIN}]
          loads: [{id: L, current: 2 A, nature: led}]
    """
    assert the_finding(RULE, text, "L").verdict is Verdict.NO_DATA


def test_drop_of_a_starter_counts_from_the_stud_that_protection_is_fed_from() -> None:
    # The battery feeds MAIN from the contactor's stud and past it, so that the stud lies in a mesh.
    text = """
        electrical:
          nominal_voltage: 14 V
          sources: [{id: BAT, kind: battery}]
          buses: [{id: MAIN}]
          switches: [{id: K, kind: contactor}]
          protection:
            - {id: F1, kind: current-limiter, rating: 50 A, fed_from: K}
            - {id: F2, kind: breaker, rating: 20 A, fed_from: BAT}
          loads: [{id: STARTER, current: 110 A, nature: motor, intermittent: true, grounded_at: BAT.return}]
          wires:
            - {id: W1, from: BAT, to: K, size: 4 AWG, length: 10 ft}
            - {id: W2, from: K, to: STARTER, size: 4 AWG, length: 5 ft}
            - {id: W3, from: F1, to: MAIN, size: 8 AWG, length: 1 ft}
            - {id: W4, from: F2, to: MAIN, size: 8 AWG, length: 1 ft}
    """
    assert measured(the_finding(RULE, text, "STARTER")) == pytest.approx(0.28 / 1000 * 5 * 110)


def test_aluminium_elsewhere_softens_nothing() -> None:
    # The wires of this load are copper: what Table 11-6 allows decides, and no figure from memory.
    over = branch("50.1 A", FOUR, NOUGHT)
    elsewhere = over + "    - {id: W9, from: MAIN, to: MAIN, size: 4 AWG, length: 1 ft, material: aluminium}\n"
    assert the_finding(RULE, elsewhere, "L").verdict is Verdict.FAIL
    assert (
        the_finding(RULE, over.replace("size: 0 AWG", "size: 0 AWG, material: aluminium"), "L").verdict is Verdict.WARN
    )
