"""The published extreme loadings: AC 43.13-1B figures 10-10 and 10-11, through the rules and through the calculations."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding
from jurystrut_rules.weights.extremes import minimum_fuel

ORACLES = {
    "ac43-10-17": "weights/forward-extreme weights/rearward-extreme",
    "23-25-a": "weights/gross-weight-is-enough",
    "ac43-minimum-fuel": "weights/gross-weight-is-enough",
}

FORWARD, REARWARD, ENOUGH = "weights/forward-extreme", "weights/rearward-extreme", "weights/gross-weight-is-enough"

# AC 43.13-1B figures 10-10 and 10-11: 1,169 lb at 10.6 in; oil 17 lb at -49; front seats at 16, rear at 48, fuel 40 gal at 22,
# baggage 100 lb at 75.5; limits 8.5 to 21.9 in, 2,100 lb, 165 METO horsepower. The least weight of 1,000 lb is ours.
RECORDS = """
aircraft:
  name: Worked example
  authority: US
  stage: operating
  seats: 4
  engine: {power: 165 hp}
  limits:
    gross_weight: 2100 lb
    cg_envelope_joined_in: arm
    cg_envelope:
      - {weight: 1000 lb, arm: 8.5 in}
      - {weight: 2100 lb, arm: 8.5 in}
      - {weight: 2100 lb, arm: 21.9 in}
      - {weight: 1000 lb, arm: 21.9 in}
fuel: {density: 6 lb/US gal, tanks: [{id: TANK, arm: 22 in, usable: 40 US gal}]}
weights:
  weighings:
    - id: W1
      day: 2026-01-10
      scales: [{wheel: other, reading: 1169 lb, tare: 0 lb, arm: 10.6 in}]
      aboard: []
      missing: [{what: oil, weight: 17 lb, arm: -49 in}]
  stations:
    - {id: PILOT, kind: seat, arm: 16 in, minimum: 120 lb, maximum: 200 lb}
    - {id: FRONT, kind: seat, arm: 16 in, maximum: 200 lb}
    - {id: REAR-L, kind: seat, arm: 48 in, maximum: 200 lb}
    - {id: REAR-R, kind: seat, arm: 48 in, maximum: 200 lb}
    - {id: BAGGAGE, kind: baggage, arm: 75.5 in, maximum: 100 lb}
"""


def value(finding: Finding) -> float:
    assert finding.measured is not None
    return finding.measured.value


def line_of(records: str, words: str) -> int:
    (line,) = [number for number, text in enumerate(records.splitlines(), 1) if words in text]
    return line


def test_figure_10_10() -> None:
    arm, weight = the_finding(FORWARD, RECORDS, "forward"), the_finding(FORWARD, RECORDS, "forward-weight")
    assert arm.verdict is weight.verdict is Verdict.PASS
    assert round(value(arm), 1) == 11.2
    assert arm.limit is not None
    assert arm.limit.value == pytest.approx(8.5)
    # The circular takes 82.5 lb of minimum fuel as 83: 1439 lb there.
    assert value(weight) == pytest.approx(1438.5)
    assert arm.where[0].position.line == line_of(RECORDS, "id: PILOT")


def test_figure_10_11() -> None:
    arm, weight = the_finding(REARWARD, RECORDS, "aft"), the_finding(REARWARD, RECORDS, "aft-weight")
    assert arm.verdict is weight.verdict is Verdict.PASS
    # Inputs and totals were read, the quotient is 43428 / 2036; the tank, 0.1 in behind the limit, is full.
    assert value(weight) == pytest.approx(2036)
    assert value(arm) == pytest.approx((43428 + 0.4) / 2036)  # the circular rounds the empty moment of 12391.4
    assert weight.limit is not None
    assert weight.limit.value == pytest.approx(2100)


def test_the_working_names_the_minimum_fuel_and_its_convention() -> None:
    finding = the_finding(FORWARD, RECORDS, "forward")
    assert "minimum fuel by AC 43.13-1B 82.5 lb" in finding.message
    assert finding.working is not None
    assert "TANK: 82.5 lb at 22.00 in" in finding.working()


REAR_SEAT = "    - {id: REAR-L, kind: seat, arm: 48 in, maximum: 200 lb}\n"


@pytest.mark.parametrize("least", ["minimum: 0 lb, ", "minimum: 90 lb, may_be_empty: true, "])
def test_a_seat_that_may_stay_empty_is_not_the_pilots_wherever_it_is_recorded(least: str) -> None:
    rear = REAR_SEAT.replace("maximum", f"{least}maximum")
    first = RECORDS.replace(REAR_SEAT, "").replace("  stations:\n", f"  stations:\n{rear}")
    assert first.index("REAR-L") < first.index("PILOT")
    for rule, side in ((FORWARD, "forward"), (REARWARD, "aft")):
        assert value(the_finding(rule, first, side)) == pytest.approx(value(the_finding(rule, RECORDS, side)))


def test_where_two_seats_are_never_empty_the_pilot_sits_in_the_worse() -> None:
    # The rear seat's 170 lb at 48 in instead of the front's at 16 in: 16093.4 + 170 x 32 in-lb, if he sat there; he does not.
    both = RECORDS.replace(REAR_SEAT, REAR_SEAT.replace("maximum", "minimum: 90 lb, maximum"))
    assert value(the_finding(FORWARD, both, "forward")) == pytest.approx(16093.4 / 1438.5)


@pytest.mark.parametrize(("rule", "side", "nearest"), [(FORWARD, "forward", "12 in"), (REARWARD, "aft", "20 in")])
@pytest.mark.parametrize("order", [("12 in", "20 in"), ("20 in", "12 in")])
def test_the_least_fuel_stands_in_the_tank_nearest_to_that_side(
    rule: str, side: str, nearest: str, order: tuple[str, str]
) -> None:
    """Neither tank lies beyond a limit, and either holds the 82.5 lb of figure 10-10."""
    one = "{id: TANK, arm: 22 in, usable: 40 US gal}"
    two = ", ".join(f"{{id: T{number}, arm: {arm}, usable: 20 US gal}}" for number, arm in enumerate(order))
    both, alone = RECORDS.replace(one, two), RECORDS.replace(one, one.replace("22 in", nearest))
    assert value(the_finding(rule, both, side)) == pytest.approx(value(the_finding(rule, alone, side)))


@pytest.mark.parametrize("side", ["forward", "aft"])
def test_on_a_bench_the_pilot_leaves_room_for_one_less(side: str) -> None:
    """A bench for two, in which somebody must sit, is two seats at one arm; beyond the limit both are filled."""
    rear_right = REAR_SEAT.replace("REAR-L", "REAR-R")
    seats = RECORDS.replace("minimum: 120 lb, ", "").replace(REAR_SEAT, REAR_SEAT.replace("max", "minimum: 90 lb, max"))
    bench = seats.replace(rear_right, "").replace("REAR-L, kind: seat,", "REAR-L, kind: seat, occupants: 2,")
    rule = FORWARD if side == "forward" else REARWARD
    for subject in (side, f"{side}-weight"):
        assert value(the_finding(rule, bench, subject)) == pytest.approx(value(the_finding(rule, seats, subject)))
    # Figure 10-11 has 2,036 lb; without the person of 170 lb on a front seat, who sits on the bench now:
    assert value(the_finding(REARWARD, bench, "aft-weight")) == pytest.approx(2036 - 170)


def test_minimum_fuel_of_figure_10_10() -> None:
    """165 hp / 12 is 13.75 US gal, 82.5 lb."""
    assert minimum_fuel(165 * 745.6998715822702) / 0.45359237 == pytest.approx(82.5)


# (12391.4 - 833 + 170 * 16 + 82.5 * 22) / 1438.5 = 16093.4 / 1438.5 = 11.18763 in.
@pytest.mark.parametrize(("limit", "verdict"), [("11.1876 in", Verdict.PASS), ("11.188 in", Verdict.FAIL)])
def test_forward_just_inside_and_just_beyond(limit: str, verdict: Verdict) -> None:
    assert the_finding(FORWARD, RECORDS.replace("arm: 8.5 in", f"arm: {limit}"), "forward").verdict is verdict


# Exactly: one body of 1,000 lb at 10 in, the pilot's 170 lb at 10 in and 82.5 lb of fuel at 10 in balance at 10 in.
EXACT = """
weights:
  components: [{id: ALL, weight: 1000 lb, arm: 10 in, basis: weighed}]
  stations: [{id: PILOT, kind: seat, arm: 10 in, minimum: 120 lb, maximum: 200 lb}]
"""


@pytest.mark.parametrize(("rule", "subject", "side"), [(FORWARD, "forward", "8.5"), (REARWARD, "aft", "21.9")])
@pytest.mark.parametrize(("shift", "verdict"), [(0, Verdict.PASS), (0.001, Verdict.FAIL)])
def test_exactly_at_the_limit(rule: str, subject: str, side: str, shift: float, verdict: Verdict) -> None:
    limit = 10 + shift if subject == "forward" else 10 - shift
    records = RECORDS[: RECORDS.index("weights:")].replace("arm: 22 in", "arm: 10 in") + EXACT
    assert the_finding(rule, records.replace(f"arm: {side} in", f"arm: {limit} in"), subject).verdict is verdict


@pytest.mark.parametrize(("gross", "verdict"), [("2036 lb", Verdict.PASS), ("2035.9 lb", Verdict.FAIL)])
def test_the_extreme_loading_is_held_against_gross_weight(gross: str, verdict: Verdict) -> None:
    records = RECORDS.replace("gross_weight: 2100 lb", f"gross_weight: {gross}")
    assert the_finding(REARWARD, records, "aft-weight").verdict is verdict


def test_a_heavier_baggage_limit_goes_beyond_the_aft_limit() -> None:
    # 43428.4 + 75.5 x = 21.9 (2036 + x) at x = 21.64 lb more.
    for most, verdict in (("121.6 lb", Verdict.PASS), ("121.7 lb", Verdict.FAIL)):
        records = RECORDS.replace("maximum: 100 lb", f"maximum: {most}")
        assert the_finding(REARWARD, records, "aft").verdict is verdict


@pytest.mark.parametrize("rule", [FORWARD, REARWARD])
@pytest.mark.parametrize(
    ("there", "instead", "words"),
    [
        ("  engine: {power: 165 hp}\n", "", "the engine's power, which decides the minimum fuel, is not recorded"),
        ("    gross_weight: 2100 lb\n", "", "the gross weight is not recorded"),
        ("kind: seat", "kind: other", "no seat is recorded"),
    ],
)
def test_extremes_without_data(rule: str, there: str, instead: str, words: str) -> None:
    (finding,) = findings(rule, RECORDS.replace(there, instead))
    assert (finding.verdict, finding.message) == (Verdict.NO_DATA, words)


# 1,186 lb empty, 4 x 170 = 680 lb, 82.5 lb of fuel: 1,948.5 lb.
@pytest.mark.parametrize(
    ("gross", "verdict"), [("2100 lb", Verdict.PASS), ("1948.5 lb", Verdict.PASS), ("1948.4 lb", Verdict.WARN)]
)
def test_gross_weight_covers_all_seats(gross: str, verdict: Verdict) -> None:
    finding = the_finding(ENOUGH, RECORDS.replace("gross_weight: 2100 lb", f"gross_weight: {gross}"), "aircraft")
    assert finding.verdict is verdict
    assert value(finding) == pytest.approx(1948.5)


@pytest.mark.parametrize("there", ["  seats: 4\n", "    gross_weight: 2100 lb\n", "  engine: {power: 165 hp}\n"])
def test_gross_weight_covers_all_seats_without_data(there: str) -> None:
    assert [f.verdict for f in findings(ENOUGH, RECORDS.replace(there, ""))] == [Verdict.NO_DATA]


def test_a_bench_is_one_station_for_two() -> None:
    """The same figures with pilot and front seat as one bench, and the two rear seats as another."""
    bench = RECORDS.replace("{id: PILOT, kind: seat,", "{id: PILOT, kind: seat, occupants: 2,")
    lines = [line for line in bench.splitlines() if "id: FRONT" not in line]
    rear = [line for line in lines if "kind: seat" in line and "48 in" in line]
    lines = [line.replace("kind: seat,", "kind: seat, occupants: 2,") if line == rear[0] else line for line in lines]
    benches = "\n".join(line for line in lines if line not in rear[1:])
    for rule, subject in ((FORWARD, "forward"), (REARWARD, "aft")):
        seats, bench_found = the_finding(rule, RECORDS, subject), the_finding(rule, benches, subject)
        assert value(bench_found) == pytest.approx(value(seats))
        assert bench_found.message == seats.message


def test_without_tanks_there_is_no_fuel_and_no_power_is_asked_for() -> None:
    """Figure 10-10 less its 82.5 lb of fuel: the empty aircraft with oil, and the pilot."""
    records = RECORDS.replace("tanks: [{id: TANK, arm: 22 in, usable: 40 US gal}]", "tanks: []").replace(
        "  engine: {power: 165 hp}\n", ""
    )
    found = the_finding(FORWARD, records, "forward")
    # The seat beside the pilot is behind the forward limit of 8.5 in, and so empty.
    assert value(found) == pytest.approx((1169 * 10.6 - 17 * 49 + 170 * 16) / (1169 + 17 + 170))
    assert found.message.endswith("no tank is recorded")
    assert value(the_finding(ENOUGH, records, "aircraft")) == pytest.approx(1169 + 17 + 4 * 170)


@pytest.mark.parametrize(("seats", "words"), [("1", "1 occupant of 170 lb"), ("4", "4 occupants of 170 lb")])
def test_those_who_are_counted_are_told(seats: str, words: str) -> None:
    assert words in the_finding(ENOUGH, RECORDS.replace("seats: 4", f"seats: {seats}"), "aircraft").message
