"""Rule on wires and what protects them: AC 43.13-1B paragraphs 11-47 and 11-48, old 23.1357(a).

Ampacities come from AC 43.13-1B Table 11-9 (read), whose copper row for size 6 at 105 degC is 50 A, or from the points of
figures 11-4a and 11-5 as read off by others, multiplied out in the test.
"""

from __future__ import annotations

from math import log

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-table-11-9": "electrical/wire-protection",
    "ac43-figure-11-4a": "electrical/wire-protection",
    "ac43-figure-11-5": "electrical/wire-protection",
    "networkx": "electrical/wire-protection",
}

RULE = "electrical/wire-protection"

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating, limits: {altitude: 10000 ft}}"

SIX = "size: 6 AWG, insulation: 105 degC"
"""50 A by Table 11-9."""


def limit(found: Finding) -> float:
    assert found.limit is not None
    return found.limit.value


def radial(
    rating: str,
    wire: str,
    *,
    back: str = "size: 0000 AWG, insulation: 105 degC",
    bundle: str = "",
    aircraft: str = AIRCRAFT,
) -> str:
    """BAT - MAIN - F1 - the wire W1 - L, and the return W2."""
    return f"""{aircraft}
electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: MAIN}}]
  grounds: [{{id: G, kind: single-point}}]
  protection: [{{id: F1, kind: breaker, rating: {rating}, fed_from: MAIN}}]
  loads: [{{id: L, current: 1 A, nature: led}}]
  bundles: [{bundle}]
  wires:
    - {{id: FEED, from: BAT, to: MAIN, serves: short-lead, {SIX}}}
    - {{id: W1, from: F1, to: L, {wire}}}
    - {{id: W2, from: L.return, to: G, {back}}}
    - {{id: R, from: G, to: BAT.return, {back}}}
"""


def test_passes_below_the_ampacity() -> None:
    found = the_finding(RULE, radial("40 A", SIX), "W1")
    assert found.verdict is Verdict.PASS
    assert found.measured == (40, "A")
    assert found.limit == (50, "A", "at-most")
    assert found.margin == pytest.approx(0.2)
    assert found.message == "40 A can reach this 6 AWG wire before anything opens; it carries 50.0 A as installed"
    assert not found.remedy


def test_exactly_at_the_ampacity_passes() -> None:
    assert the_finding(RULE, radial("50 A", SIX), "W1").verdict is Verdict.PASS


def test_just_over_the_ampacity_fails_at_the_wires_line() -> None:
    found = the_finding(RULE, radial("50.1 A", SIX), "W1")
    assert found.verdict is Verdict.FAIL
    assert found.margin == pytest.approx(-0.1 / 50)
    assert found.where[0].position.line == 11
    assert found.remedy == "Protect it with 50 A or less, or fit a thicker wire."


@pytest.mark.parametrize(
    ("wire", "why"),
    [
        ("insulation: 105 degC", "its size is not recorded"),
        ("size: 18 AWG", "neither its specification nor 'insulation' tells"),
        ("size: 18 AWG, spec: bought at a fair", "neither its specification nor 'insulation' tells"),
        ("size: 18 AWG, insulation: 105 degC, material: aluminium", "thinner than size 8 is not recommended"),
        ("size: 18 AWG, insulation: 105 degC, bundle: B1", "ambient temperature of bundle B1 is not recorded"),
        ("size: 30 AWG, insulation: 105 degC", "Table 11-9 has no current for 30 AWG"),
    ],
)
def test_without_data_on_the_wire_nothing_is_said(wire: str, why: str) -> None:
    found = the_finding(RULE, radial("5 A", wire, bundle="{id: B1}"), "W1")
    assert found.verdict is Verdict.NO_DATA
    assert why in found.message


def test_without_an_altitude_there_is_no_data() -> None:
    aircraft = "aircraft: {name: Test Article, authority: US, stage: operating}"
    (found,) = findings(RULE, radial("5 A", SIX, aircraft=aircraft))
    assert found.verdict is Verdict.NO_DATA
    assert "aircraft.limits.altitude" in found.message


def free_air(at_30: float, at_250: float, rise: float) -> float:
    """Figure 11-4a: a straight line on logarithmic axes through the currents read off at a rise of 30 and 250 degC."""
    return float(at_30 * (rise / 30) ** (log(at_250 / at_30) / log(250 / 30)))


EIGHT_WIRES = "{id: B1, ambient: 50 degC, loading: 60 %, wires: 8}"
FOURTEEN = "size: 14 AWG, spec: M22759/16-14-9, bundle: B1"


def test_a_bundled_wire_carries_what_the_figures_leave_it() -> None:
    # Size 14: 21.6 A at 30 and 60 A at 250 degC rise. 150 - 50 = 100 degC; 8 wires at 60 % 0.595; 10,000 ft is
    # halfway from 1 to 0.91.
    carries = free_air(21.6, 60, 100) * 0.595 * 0.955
    assert carries == pytest.approx(21.9, abs=0.1)
    found = the_finding(RULE, radial("20 A", FOURTEEN, bundle=EIGHT_WIRES), "W1")
    assert found.verdict is Verdict.PASS
    assert limit(found) == pytest.approx(carries, rel=0.002)
    assert the_finding(RULE, radial("22.5 A", FOURTEEN, bundle=EIGHT_WIRES), "W1").verdict is Verdict.FAIL


def test_a_bundle_without_a_loading_is_taken_as_full() -> None:
    # 8 wires at 100 %: 0.5125.
    found = the_finding(RULE, radial("20 A", FOURTEEN, bundle="{id: B1, ambient: 50 degC, wires: 8}"), "W1")
    assert found.verdict is Verdict.FAIL
    assert limit(found) == pytest.approx(free_air(21.6, 60, 100) * 0.5125 * 0.955, rel=0.002)


def test_a_bundle_has_at_least_the_wires_recorded_in_it() -> None:
    back = "size: 14 AWG, spec: M22759/16, bundle: B1"
    found = the_finding(RULE, radial("20 A", FOURTEEN, back=back, bundle="{id: B1, ambient: 50 degC, wires: 1}"), "W1")
    # 3 wires at 100 %: 0.725.
    assert limit(found) == pytest.approx(free_air(21.6, 60, 100) * 0.725 * 0.955, rel=0.002)


def test_the_working_leads_to_the_let_through_rating() -> None:
    found = the_finding(RULE, radial("20 A", FOURTEEN, bundle=EIGHT_WIRES), "W1")
    assert found.working is not None
    *steps, last = found.working()
    assert "temperature rise: 150 - 50 = 100 degC" in steps
    assert steps[-1] == "what opens or gives out first on all ways from the sources to F1.out: F1 20 A"
    assert last == "let-through rating of the wire: 20 A"


def test_the_remedy_rounds_an_ampacity_down() -> None:
    # Size 16 alone in 70 degC: 16.15 and 45 A read off, rise 35 degC: 16.6 A. A 17 A device would not protect it.
    found = the_finding(RULE, radial("20 A", "size: 16 AWG, insulation: 105 degC"), "W1")
    assert free_air(16.15, 45, 35) * 0.955 == pytest.approx(16.6, abs=0.05)
    assert found.remedy == "Protect it with 16 A or less, or fit a thicker wire."


def test_in_air_as_hot_as_its_insulation_a_wire_carries_nothing() -> None:
    bundle = "{id: B1, ambient: 105 degC}"
    found = the_finding(RULE, radial("1 A", "size: 16 AWG, insulation: 105 degC, bundle: B1", bundle=bundle), "W1")
    assert found.verdict is Verdict.FAIL
    assert found.limit == (0, "A", "at-most")
    assert found.remedy == "Fit wire whose insulation stands more than the air around it."


def test_a_bundle_beyond_the_curves_takes_table_11_9() -> None:
    # Table 11-9, size 18 at 105 degC: 6 A.
    bundle = "{id: B1, ambient: 70 degC, loading: 20 %, wires: 21}"
    wire = "size: 18 AWG, insulation: 105 degC, bundle: B1"
    found = the_finding(RULE, radial("6 A", wire, bundle=bundle), "W1")
    assert found.verdict is Verdict.PASS
    assert found.limit == (6, "A", "at-most")


@pytest.mark.parametrize(
    ("bundle", "said"),
    [
        ("ambient: 40 degC, wires: 20, loading: 40 %", "the bundle curves cover up to 20 wires"),
        ("ambient: 40 degC, wires: 21", "the bundle curves cover up to 20 wires, not 21 wires at 100% loading"),
        ("ambient: 71 degC, wires: 21, loading: 20 %", "Table 11-9 is for air of 70 degC, not 71 degC"),
    ],
)
def test_a_bundle_outside_curves_and_table_is_no_data(bundle: str, said: str) -> None:
    wire = "size: 18 AWG, insulation: 105 degC, bundle: B1"
    found = the_finding(RULE, radial("5 A", wire, bundle=f"{{id: B1, {bundle}}}"), "W1")
    assert found.verdict is Verdict.NO_DATA
    assert found.message.startswith(f"what this wire carries cannot be told: {said}")


def test_a_wire_without_protection_fails_whatever_it_carries() -> None:
    text = radial("5 A", SIX).replace("serves: short-lead, ", "")
    found = the_finding(RULE, text, "FEED")
    assert found.verdict is Verdict.FAIL
    assert found.message == "nothing between a source and this wire ever opens"
    assert found.where[0].position.line == 10
    unknown = text.replace(f"to: MAIN, {SIX}", "to: MAIN")
    assert the_finding(RULE, unknown, "FEED").verdict is Verdict.FAIL


def test_a_battery_is_unlimited_whatever_its_record_says() -> None:
    text = (
        radial("5 A", SIX).replace("kind: battery", "kind: battery, rating: 10 A").replace("serves: short-lead, ", "")
    )
    assert the_finding(RULE, text, "FEED").verdict is Verdict.FAIL


def test_a_short_lead_without_protection_warns_and_says_how_long_it_is() -> None:
    found = the_finding(RULE, radial("5 A", SIX), "FEED")
    assert found.verdict is Verdict.WARN
    assert found.message == "declared a short lead without protection, length not recorded"
    long = radial("5 A", SIX).replace("short-lead,", "short-lead, length: 4 in,")
    assert the_finding(RULE, long, "FEED").message == "declared a short lead without protection, 4 in"


def test_a_protected_short_lead_is_judged_like_any_wire() -> None:
    assert the_finding(RULE, radial("50.1 A", f"serves: short-lead, {SIX}"), "W1").verdict is Verdict.FAIL


def test_a_starter_feeder_is_left_out() -> None:
    found = the_finding(RULE, radial("5 A", SIX).replace("short-lead", "starter-feeder"), "FEED")
    assert found.verdict is Verdict.NOT_APPLICABLE


def test_a_wire_that_nothing_feeds_is_left_out() -> None:
    found = the_finding(
        RULE,
        radial("5 A", SIX).replace("from: F1,", "from: NOWHERE,").replace("buses: [", "buses: [{id: NOWHERE}, "),
        "W1",
    )
    assert found.verdict is Verdict.NOT_APPLICABLE
    assert found.message == "no source can feed this wire"


@pytest.mark.parametrize(("rating", "verdict"), [("50 A", Verdict.PASS), ("50.1 A", Verdict.FAIL)])
def test_a_return_receives_what_its_loads_supply_lets_through(rating: str, verdict: Verdict) -> None:
    found = the_finding(RULE, radial(rating, "size: 0000 AWG, insulation: 105 degC", back=SIX), "W2")
    assert found.verdict is verdict
    assert found.working is not None
    *_, why, what, last = found.working()
    assert why == "a return: when L shorts inside, it receives what that load's supply lets through"
    assert what == f"what opens or gives out first on all ways from the sources to L: F1 {rating}"
    assert last == f"let-through rating of the wire: {rating}"


TWO_SOURCES = f"""{AIRCRAFT}
electrical:
  sources: [{{id: BAT, kind: battery}}, {{id: ALT, kind: alternator, rating: 40 A}}]
  buses: [{{id: MAIN}}, {{id: SUB}}]
  grounds: [{{id: G, kind: single-point}}]
  protection:
    - {{id: CL-BAT, kind: current-limiter, rating: 50 A, fed_from: BAT}}
    - {{id: CL-ALT, kind: current-limiter, rating: 60 A}}
  loads: [{{id: L, current: 1 A, nature: led, grounded_at: G}}]
  wires:
    - {{id: B-LEAD, from: ALT, to: CL-ALT, {SIX}}}
    - {{id: W-ALT, from: CL-ALT, to: MAIN, {SIX}}}
    - {{id: W-BAT, from: CL-BAT, to: MAIN, {SIX}}}
    - {{id: W-SUB, from: MAIN, to: SUB, {SIX}}}
    - {{id: W-L, from: SUB, to: L, {SIX}}}
    - {{id: R-BAT, from: BAT.return, to: G, {SIX}}}
    - {{id: R-ALT, from: ALT.return, to: G, {SIX}}}
"""


@pytest.mark.parametrize(
    ("wire", "amperes", "verdict"),
    [
        ("B-LEAD", 50, Verdict.PASS),  # 40 A of its own from one end, 50 A of the battery through CL-BAT from the other
        ("W-ALT", 50, Verdict.PASS),
        ("W-BAT", 50, Verdict.PASS),  # 50 A from the battery, 40 A from the alternator
        ("W-SUB", 90, Verdict.FAIL),  # both: 50 + 40
        ("W-L", 90, Verdict.FAIL),
    ],
)
def test_two_sources_feed_a_wire_from_both_ends_and_add(wire: str, amperes: float, verdict: Verdict) -> None:
    found = the_finding(RULE, TWO_SOURCES, wire)
    assert found.measured == (amperes, "A")
    assert found.verdict is verdict


@pytest.mark.parametrize("wire", ["R-BAT", "R-ALT"])
def test_the_return_of_a_source_itself_is_left_to_its_load(wire: str) -> None:
    found = the_finding(RULE, TWO_SOURCES, wire)
    assert found.verdict is Verdict.NOT_APPLICABLE
    assert "the return of a source itself" in found.message


DIODE = f"""{AIRCRAFT}
electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: MAIN}}, {{id: ENG}}]
  grounds: [{{id: G, kind: single-point}}]
  protection:
    - {{id: F1, kind: breaker, rating: 30 A, fed_from: BAT}}
    - {{id: F2, kind: breaker, rating: 20 A, fed_from: BAT}}
  diodes: [{{id: D}}]
  loads: [{{id: L1, current: 1 A, nature: led, grounded_at: G}}, {{id: L2, current: 1 A, nature: led, grounded_at: G}}]
  wires:
    - {{id: W1, from: F1, to: MAIN, {SIX}}}
    - {{id: W2, from: F2, to: ENG, {SIX}}}
    - {{id: W3, from: MAIN, to: D, {SIX}}}
    - {{id: W4, from: D, to: ENG, {SIX}}}
    - {{id: W-MAIN, from: MAIN, to: L1, {SIX}}}
    - {{id: W-ENG, from: ENG, to: L2, {SIX}}}
    - {{id: R, from: G, to: BAT.return, {SIX}}}
"""


def test_a_diode_feeds_forwards_only() -> None:
    by_wire = {finding.subject: finding.measured for finding in findings(RULE, DIODE)}
    assert by_wire["W-MAIN"] == (30, "A")  # the second fuse cannot feed back through the diode
    assert by_wire["W-ENG"] == (50, "A")  # 30 + 20, exactly what size 6 carries
    assert by_wire["W2"] == (30, "A")  # from its far end, through F1 and the diode
    assert all(finding.verdict is not Verdict.FAIL for finding in findings(RULE, DIODE))


MESHED = f"""{AIRCRAFT}
electrical:
  sources: [{{id: BAT, kind: battery}}]
  protection:
    - {{id: F1, kind: breaker, rating: 20 A, fed_from: BAT}}
    - {{id: F2, kind: breaker, rating: 30 A, fed_from: BAT}}
  junctions: [{{id: A, kind: stud}}, {{id: B, kind: stud}}]
  loads: [{{id: L, current: 1 A, nature: led, grounded_at: BAT.return}}]
  wires:
    - {{id: W1, from: F1, to: A, {SIX}}}
    - {{id: W2, from: F2, to: B, {SIX}}}
    - {{id: TIE, from: A, to: B, {SIX}}}
    - {{id: W3, from: B, to: L, {SIX}}}
"""


def test_meshed_feeds_add_and_a_tie_takes_the_larger_of_its_ends() -> None:
    by_wire = {finding.subject: finding.measured for finding in findings(RULE, MESHED)}
    assert by_wire == {"W1": (30, "A"), "W2": (30, "A"), "TIE": (30, "A"), "W3": (50, "A")}
    found = the_finding(RULE, MESHED, "W3")
    assert found.working is not None
    assert found.working()[-2].endswith("to B: F1 20 A + F2 30 A")
