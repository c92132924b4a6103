"""What tyres, floors and tanks bear, and how ballast is held."""

from __future__ import annotations

import pytest
from scipy.optimize import linprog

from jurystrut.calculations.balance import Body
from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, project_of, the_finding
from jurystrut_rules.weights.ledger import empty_aircraft
from jurystrut_rules.weights.places import greatest_reaction
from jurystrut_rules.weights.possible import places, possible

ORACLES = {
    "scipy": "weights/tyre-load",
    "own arithmetic": "weights/floor-load weights/seat-load weights/tank-room",
    "nothing computed": "weights/ballast-secured",
}

TYRE, FLOOR, TANK, BALLAST = "weights/tyre-load", "weights/floor-load", "weights/tank-room", "weights/ballast-secured"

# 1,000 lb at 10 in, nose wheel at -40 in, mains at 25 in. Nose: W (25 - CG) / 65. Empty with the lightest pilot, 100 lb at
# 25 in (no load on the nose): 1000 * 15 / 65 = 230.769 lb; the tank at -1 in adds 120 * 26 / 65 = 48 lb: 278.769 lb.
# Mains: W (CG + 40) / 65: 1000 * 50 / 65 = 769.231; pilot 200 lb * 65 / 65 = 200; fuel 120 * 39 / 65 = 72; baggage 65 lb at 90:
# 65 * 130 / 65 = 130: 1171.231 lb on two wheels, 585.615 lb each. That is 1,385 lb, below gross weight.
RECORDS = """
aircraft:
  name: Worked example
  authority: US
  stage: operating
  limits:
    gross_weight: 1400 lb
    cg_envelope_joined_in: arm
    cg_envelope:
      - {weight: 1000 lb, arm: 5 in}
      - {weight: 1400 lb, arm: 5 in}
      - {weight: 1400 lb, arm: 20 in}
      - {weight: 1000 lb, arm: 20 in}
fuel:
  density: 6 lb/US gal
  tanks: [{id: TANK, arm: -1 in, capacity: 21 US gal, usable: 20 US gal, expansion_space: 0.5 US gal}]
weights:
  components: [{id: ALL, weight: 1000 lb, arm: 10 in, basis: weighed}]
  stations:
    - {id: SEAT, kind: seat, arm: 25 in, minimum: 100 lb, maximum: 200 lb}
    - {id: BAG, kind: baggage, arm: 90 in, maximum: 65 lb, floor_area: 4 ft2, floor_bears: 20 lb/ft2}
  tyres:
    - {id: T-NOSE, wheel: nose, arm: -40 in, rating: 300 lb}
    - {id: T-LEFT, wheel: left-main, arm: 25 in, rating: 600 lb}
    - {id: T-RIGHT, wheel: right-main, arm: 25 in, rating: 600 lb}
"""


def value(finding: Finding) -> float:
    assert finding.measured is not None
    return finding.measured.value


@pytest.mark.parametrize(("subject", "load"), [("T-NOSE", 278.76923), ("T-LEFT", 585.61538), ("T-RIGHT", 585.61538)])
def test_tyres_pass(subject: str, load: float) -> None:
    finding = the_finding(TYRE, RECORDS, subject)
    assert finding.verdict is Verdict.PASS
    assert value(finding) == pytest.approx(load)


@pytest.mark.parametrize(
    ("rating", "verdict"), [("278.7693 lb", Verdict.PASS), ("278.7692 lb", Verdict.WARN), ("278 lb", Verdict.WARN)]
)
def test_a_tyre_just_at_and_just_over_its_rating(rating: str, verdict: Verdict) -> None:
    records = RECORDS.replace("rating: 300 lb", f"rating: {rating}")
    finding = the_finding(TYRE, records, "T-NOSE")
    assert finding.verdict is verdict
    assert finding.where[0].position.line == 23
    assert finding.remedy == ("" if verdict is Verdict.PASS else "Fit a tyre rated 279 lb or more.")


def test_the_reaction_stops_at_gross_weight_and_agrees_with_linear_programming() -> None:
    project = project_of(RECORDS.replace("gross_weight: 1400 lb", "gross_weight: 1250 lb"))
    weights, fuel, aircraft = (project.sections[name] for name in ("weights", "fuel", "aircraft"))
    facts = possible.compute(aircraft, empty_aircraft.compute(weights), places.compute(weights, fuel))
    pound, inch = 0.45359237, 0.0254
    # Greatest sum of x (arm + 40) / 65 over 100 <= seat <= 200, bag <= 65, fuel <= 120 lb, together at most 250 lb.
    solved = linprog(
        [-65 / 65, -130 / 65, -39 / 65], A_ub=[[1, 1, 1]], b_ub=[250], bounds=[(100, 200), (0, 65), (0, 120)]
    )
    expected = 1000 * 50 / 65 - solved.fun
    assert greatest_reaction(facts, 25 * inch, -40 * inch) / pound == pytest.approx(expected)
    assert isinstance(facts.empty, Body)


@pytest.mark.parametrize(
    ("there", "instead"),
    [
        (", rating: 300 lb", ""),
        ("    - {id: T-NOSE, wheel: nose, arm: -40 in, rating: 300 lb}\n", ""),
        ("arm: -40 in", "arm: 25 in"),
        (", maximum: 200 lb", ""),
    ],
)
def test_tyres_without_data(there: str, instead: str) -> None:
    assert Verdict.NO_DATA in {f.verdict for f in findings(TYRE, RECORDS.replace(there, instead))}


@pytest.mark.parametrize("gear", ["floats", "skis"])
def test_what_stands_on_no_wheels_has_no_tyres(gear: str) -> None:
    afloat = RECORDS.replace("  stage: operating\n", f"  stage: operating\n  gear: {gear}\n")
    (finding,) = findings(TYRE, afloat[: afloat.index("  tyres:")])
    assert finding.verdict is Verdict.NOT_APPLICABLE
    assert {f.verdict for f in findings(TYRE, afloat)} == {Verdict.PASS}  # wheels that are recorded are judged


def test_no_tyres_are_no_data() -> None:
    assert [f.verdict for f in findings(TYRE, RECORDS[: RECORDS.index("  tyres:")])] == [Verdict.NO_DATA]


# 4 ft2 that bear 20 lb/ft2: 80 lb.
@pytest.mark.parametrize(
    ("most", "verdict"), [("65 lb", Verdict.PASS), ("80 lb", Verdict.PASS), ("80.01 lb", Verdict.FAIL)]
)
def test_floors(most: str, verdict: Verdict) -> None:
    finding = the_finding(FLOOR, RECORDS.replace("maximum: 65 lb", f"maximum: {most}"), "BAG")
    assert finding.verdict is verdict
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(80)
    assert [spot.position.line for spot in finding.where] == [21, 21]
    assert finding.remedy == ("" if verdict is Verdict.PASS else "Let it hold 80.0 lb at most.")


@pytest.mark.parametrize("there", [", maximum: 65 lb", ", floor_area: 4 ft2", ", floor_bears: 20 lb/ft2"])
def test_floors_without_data(there: str) -> None:
    assert the_finding(FLOOR, RECORDS.replace(there, ""), "BAG").verdict is Verdict.NO_DATA


def test_no_baggage_space_has_no_floor() -> None:
    records = RECORDS.replace("kind: baggage", "kind: other")
    assert [f.verdict for f in findings(FLOOR, records)] == [Verdict.NOT_APPLICABLE]


SEAT = "weights/seat-load"


# What the designer declares is the limit; no publication gives a figure for an amateur-built seat.
@pytest.mark.parametrize(
    ("bears", "verdict"), [("215 lb", Verdict.PASS), ("200 lb", Verdict.PASS), ("199.9 lb", Verdict.FAIL)]
)
def test_seats(bears: str, verdict: Verdict) -> None:
    finding = the_finding(SEAT, RECORDS.replace("maximum: 200 lb", f"maximum: 200 lb, bears: {bears}"), "SEAT")
    assert finding.verdict is verdict
    assert value(finding) == pytest.approx(200)
    assert [spot.position.line for spot in finding.where] == [20, 20]
    expected = "" if verdict is Verdict.PASS else "Let it hold 199.9 lb at most, or strengthen it."
    assert finding.remedy == expected


@pytest.mark.parametrize("most", ["", ", bears: 215 lb"])
def test_seats_without_data(most: str) -> None:
    finding = the_finding(SEAT, RECORDS.replace(", maximum: 200 lb", most), "SEAT")
    assert finding.verdict is Verdict.NO_DATA
    assert "maximum" in finding.message


def test_no_seat_bears_nothing() -> None:
    assert [f.verdict for f in findings(SEAT, RECORDS.replace("kind: seat", "kind: other"))] == [Verdict.NOT_APPLICABLE]


# 20 US gal and 0.5 for expansion.
@pytest.mark.parametrize(
    ("capacity", "verdict"),
    [("21 US gal", Verdict.PASS), ("20.5 US gal", Verdict.PASS), ("20.49 US gal", Verdict.FAIL)],
)
def test_tanks(capacity: str, verdict: Verdict) -> None:
    finding = the_finding(TANK, RECORDS.replace("capacity: 21 US gal", f"capacity: {capacity}"), "TANK")
    assert finding.verdict is verdict
    assert value(finding) == pytest.approx(20.5)
    assert "20 US gal usable, 120.0 lb" in finding.message


@pytest.mark.parametrize("there", [", capacity: 21 US gal", ", usable: 20 US gal", ", expansion_space: 0.5 US gal"])
def test_tanks_without_data(there: str) -> None:
    finding = the_finding(TANK, RECORDS.replace(there, ""), "TANK")
    assert finding.verdict is Verdict.NO_DATA
    assert finding.message == f"not recorded: {there.strip(', ').partition(':')[0]}"
    assert [f.verdict for f in findings(TANK, "fuel: {tanks: []}")] == [Verdict.NO_DATA]


def test_the_workings_of_tanks_and_tyres() -> None:
    # 21 US gal less 20.5; and what stands on one nose wheel or on both mains together.
    tank, nose, left = (
        the_finding(rule, RECORDS, name) for rule, name in ((TANK, "TANK"), (TYRE, "T-NOSE"), (TYRE, "T-LEFT"))
    )
    assert tank.working is not None
    assert list(tank.working()) == ["unusable: 0.50 US gal"]
    assert nose.working is not None
    assert list(nose.working())[1].startswith("278.8 lb on 1 wheel at")
    assert left.working is not None
    assert list(left.working())[1].startswith("1171.2 lb on 2 wheels at")


LEAD = "weights: {{components: [{{id: LEAD, weight: 4 lb, arm: -40 in, ballast: {ballast}{more}}}]}}"
HELD = ", attachment_checked: pulled with 9 g"


@pytest.mark.parametrize(
    ("ballast", "more", "verdicts"),
    [
        ("true", f"{HELD}, placarded: true", [Verdict.PASS, Verdict.PASS]),
        ("true", f"{HELD}, placarded: false", [Verdict.PASS, Verdict.FAIL]),
        ("true", HELD, [Verdict.PASS, Verdict.NO_DATA]),
        ("true", ", placarded: true", [Verdict.NO_DATA, Verdict.PASS]),
        ("false", "", [Verdict.NOT_APPLICABLE]),
    ],
)
def test_ballast(ballast: str, more: str, verdicts: list[Verdict]) -> None:
    found = findings(BALLAST, LEAD.format(ballast=ballast, more=more))
    assert [f.verdict for f in found] == verdicts
    assert found[0].where == () or found[0].where[0].position.line == 2
