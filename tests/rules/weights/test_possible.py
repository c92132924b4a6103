"""Every possible loading: the published extreme loadings, and arithmetic written out here."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding
from jurystrut_rules.weights.possible import _MOST_TOLD as MOST_TOLD

ORACLES = {
    "ac43-10-17": "weights/every-loading",
    "scipy": "weights/envelope-covers weights/every-loading",
}

EVERY, COVERS = "weights/every-loading", "weights/envelope-covers"

# 1,000 lb at 10 in; a seat at 20 in for 120 to 220 lb; baggage at 50 in; a tank of 20 US gal, 120 lb, at 8 in.
# With w lb of baggage, the lightest pilot and no fuel: (10000 + 20 * 120 + 50 w) / (1120 + w).
# Aft limit 13 in: 12400 + 50 w = 13 (1120 + w) gives 37 w = 2160, w = 58.378...; with w = 58 lb 12.9897 in, with 59 13.0161.
# A heavier pilot makes it worse, since his seat stands behind the limit: 220 lb: 14400 + 50 w = 13 (1220 + w), 37 w = 1460,
# w = 39.4595 lb.
RECORDS = """
aircraft:
  name: Worked example
  authority: US
  stage: operating
  limits:
    gross_weight: 1400 lb
    cg_envelope_joined_in: arm
    cg_envelope:
      - {weight: 1000 lb, arm: 9 in}
      - {weight: 1400 lb, arm: 9 in}
      - {weight: 1400 lb, arm: 13 in}
      - {weight: 1000 lb, arm: 13 in}
fuel: {density: 6 lb/US gal, tanks: [{id: TANK, arm: 8 in, usable: 20 US gal}]}
weights:
  components: [{id: ALL, weight: 1000 lb, arm: 10 in, basis: weighed}, {id: NOSE, weight: 0 lb, arm: -40 in, basis: weighed}]
  stations:
    - {id: SEAT, what: pilot, kind: seat, arm: 20 in, minimum: 120 lb, maximum: 220 lb}
    - {id: BAG, what: baggage, kind: baggage, arm: 50 in, maximum: 39 lb}
"""


def side(records: str, name: str) -> Finding:
    return the_finding(EVERY, records, name)


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


def line_of(records: str, words: str) -> int:
    (line,) = [number for number, text in enumerate(records.splitlines(), 1) if words in text]
    return line


def test_every_loading_passes_and_the_nearest_is_told() -> None:
    finding = side(RECORDS, "aft")
    assert finding.verdict is Verdict.PASS
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx((14400 + 50 * 39) / 1259)  # 12.9865 in
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(13)
    assert finding.message.startswith(
        "pilot 220.0 lb (its most), baggage 39.0 lb (its most), no usable fuel: 1259.0 lb at 12.99 in"
    )
    # 220 lb pull 7 in behind the limit, 39 lb of baggage 37 in: 1540 against 1443 lb in, so the seat is told first.
    assert lines(finding) == [line_of(RECORDS, "id: SEAT"), line_of(RECORDS, "weight: 1000 lb, arm: 9 in")]


def test_the_forward_side_is_told_too() -> None:
    # The lightest pilot, no baggage, full fuel: (10000 + 2400 + 960) / 1240 = 10.774 in, ahead of everything else.
    finding = side(RECORDS, "forward")
    assert finding.verdict is Verdict.PASS
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(13360 / 1240)
    assert "pilot 120.0 lb (its least), baggage empty, full fuel" in finding.message


@pytest.mark.parametrize(("most", "verdict"), [("39.459459459459 lb", Verdict.PASS), ("39.46 lb", Verdict.FAIL)])
def test_exactly_at_the_limit_passes_and_just_over_it_fails(most: str, verdict: Verdict) -> None:
    assert side(RECORDS.replace("maximum: 39 lb", f"maximum: {most}"), "aft").verdict is verdict


def test_the_remedy_names_every_single_limit_that_mends_it() -> None:
    # 50 lb of baggage: the pilot must weigh p with 10000 + 20 p + 2500 = 13 (1050 + p), 7 p = 1150, p = 164.28 lb: 164.2.
    # Baggage alone 39.4 lb. Ballast b at -40 in with the pilot at 220 lb: 16900 - 40 b = 13 (1270 + b), 53 b = 390, b = 7.36.
    records = RECORDS.replace("maximum: 39 lb", "maximum: 50 lb")
    finding = side(records, "aft")
    assert finding.verdict is Verdict.FAIL
    assert finding.remedy == (
        "Let SEAT hold at most 164.2 lb, or let BAG hold at most 39.4 lb, or secure 7.4 lb of ballast at -40.0 in."
    )
    mended = records.replace("maximum: 50 lb", "maximum: 39.4 lb")
    assert side(mended, "aft").verdict is Verdict.PASS


def test_where_a_heavier_pilot_helps_the_least_pilot_is_named() -> None:
    # Seat ahead of the limit, at 5 in, baggage 80 lb at 50, limit 12.5: with p lb in it
    # 14000 + 5 p = 12.5 (1080 + p), 7.5 p = 500, p = 66.67; 40 lb is too little, 66.7 enough.
    records = RECORDS.replace("arm: 20 in, minimum: 120 lb", "arm: 5 in, minimum: 40 lb").replace("39 lb", "80 lb")
    records = records.replace("arm: 13 in", "arm: 12.5 in")
    assert "Let SEAT hold at least 66.7 lb" in side(records, "aft").remedy


@pytest.mark.parametrize(("gross", "verdict"), [("1259 lb", Verdict.FAIL), ("1200 lb", Verdict.PASS)])
def test_loadings_above_gross_weight_do_not_count(gross: str, verdict: Verdict) -> None:
    # 50 lb of baggage: at 1,200 lb the pilot is at 150 lb: (10000 + 3000 + 2500) / 1200 = 12.917 in.
    records = RECORDS.replace("maximum: 39 lb", "maximum: 50 lb").replace(
        "gross_weight: 1400 lb", f"gross_weight: {gross}"
    )
    assert side(records, "aft").verdict is verdict


@pytest.mark.parametrize(("may", "verdict"), [("false", Verdict.PASS), ("true", Verdict.FAIL)])
def test_an_item_that_may_be_left_at_home_does_not_help(may: str, verdict: Verdict) -> None:
    # 60 lb at 28 in. Full fuel, lightest pilot: 8200 + 2400 + 960 = 11560 lb in over 1,240 lb, 9.323 in; with the item
    # 13240 / 1300 = 10.185 in. Forward limit 9.5 in.
    records = RECORDS.replace("weight: 1000 lb, arm: 10 in", "weight: 1000 lb, arm: 8.2 in").replace(
        "arm: 9 in", "arm: 9.5 in"
    )
    item = f"{{id: ITEM, kind: other, arm: 28 in, minimum: 60 lb, maximum: 60 lb, may_be_empty: {may}}}"
    finding = side(f"{records.rstrip()}\n    - {item}\n", "forward")
    assert finding.verdict is verdict
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(13240 / 1300 if may == "false" else 11560 / 1240)


@pytest.mark.parametrize(("joined_in", "verdict"), [("arm", Verdict.PASS), ("moment", Verdict.FAIL)])
def test_how_corners_are_joined_decides(joined_in: str, verdict: Verdict) -> None:
    """36.8 in at 2,125 lb: the forward limit there is 36.750 in joined in arm, 36.894 in joined in moment."""
    records = f"""
    aircraft:
      name: Sloped
      authority: US
      stage: operating
      limits:
        gross_weight: 2300 lb
        cg_envelope_joined_in: {joined_in}
        cg_envelope:
          - {{weight: 1500 lb, arm: 35.0 in}}
          - {{weight: 1950 lb, arm: 35.0 in}}
          - {{weight: 2300 lb, arm: 38.5 in}}
          - {{weight: 2300 lb, arm: 47.3 in}}
          - {{weight: 1500 lb, arm: 47.3 in}}
    fuel: {{density: 6 lb/US gal, tanks: []}}
    weights:
      components: [{{id: ALL, weight: 2125 lb, arm: 36.8 in, basis: weighed}}]
      stations: [{{id: SEAT, kind: seat, arm: 40 in, maximum: 0 lb}}]
    """
    assert side(records, "forward").verdict is verdict


def test_a_notch_is_told() -> None:
    notch = """
      - {weight: 1000 lb, arm: 9 in}
      - {weight: 1400 lb, arm: 9 in}
      - {weight: 1400 lb, arm: 11 in}
      - {weight: 1150 lb, arm: 11.5 in}
      - {weight: 1400 lb, arm: 12 in}
      - {weight: 1400 lb, arm: 13 in}
      - {weight: 1000 lb, arm: 13 in}
"""
    start, end = RECORDS.index("    cg_envelope:\n"), RECORDS.index("fuel:")
    records = RECORDS[:start] + "    cg_envelope:" + notch + RECORDS[end:]
    finding = the_finding(EVERY, records, "gap")
    assert finding.verdict is Verdict.FAIL
    assert "inside a notch of the envelope" in finding.message


@pytest.mark.parametrize(
    ("there", "instead", "words"),
    [
        ("    gross_weight: 1400 lb\n", "", "the gross weight is not recorded"),
        (", maximum: 39 lb", "", "the most that BAG may hold is not recorded"),
        (", usable: 20 US gal", "", "the usable fuel or the arm of tank TANK is not recorded"),
        ("density: 6 lb/US gal, ", "", "the fuel's density is not recorded"),
        ("minimum: 120 lb", "minimum: 230 lb", "SEAT has a minimum above its maximum"),
    ],
)
@pytest.mark.parametrize("rule", [EVERY, COVERS])
def test_without_data(rule: str, there: str, instead: str, words: str) -> None:
    assert there in RECORDS
    (finding,) = findings(rule, RECORDS.replace(there, instead))
    assert (finding.verdict, finding.message) == (Verdict.NO_DATA, words)


def test_a_gross_weight_below_every_loading_is_no_pass() -> None:
    (finding,) = findings(EVERY, RECORDS.replace("gross_weight: 1400 lb", "gross_weight: 1100 lb"))
    assert finding.verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("least", "verdict"), [("1000 lb", Verdict.PASS), ("1120 lb", Verdict.PASS), ("1120.1 lb", Verdict.FAIL)]
)
def test_the_envelope_reaches_down_to_the_lightest_loading(least: str, verdict: Verdict) -> None:
    # 1,000 lb and a pilot of 120 lb.
    finding = the_finding(
        COVERS,
        RECORDS.replace("weight: 1000 lb, arm: 9", f"weight: {least}, arm: 9").replace(
            "weight: 1000 lb, arm: 13", f"weight: {least}, arm: 13"
        ),
        "lightest",
    )
    assert finding.verdict is verdict
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(1120)


@pytest.mark.parametrize(
    ("gross", "verdict"), [("1399 lb", Verdict.PASS), ("1400 lb", Verdict.PASS), ("1400.1 lb", Verdict.FAIL)]
)
def test_the_envelope_reaches_up_to_gross_weight(gross: str, verdict: Verdict) -> None:
    records = RECORDS.replace("gross_weight: 1400 lb", f"gross_weight: {gross}")
    finding = the_finding(COVERS, records, "gross")
    assert finding.verdict is verdict
    assert lines(finding)[0] == line_of(records, "weight: 1000 lb, arm: 9 in")


def test_the_working_adds_up() -> None:
    working = side(RECORDS, "aft").working
    assert working is not None
    assert list(working())[1:] == [
        "TANK: 0.0 lb at 8.00 in",
        "SEAT: 220.0 lb at 20.00 in",
        "BAG: 39.0 lb at 50.00 in",
        "together 1259.0 lb at 12.986 in",
        "aft limit there: 13.000 in",
    ]


def test_an_aircraft_without_tanks_needs_no_density() -> None:
    records = RECORDS[: RECORDS.index("fuel:")] + "fuel: {tanks: []}\n" + RECORDS[RECORDS.index("weights:") :]
    assert {f.verdict for f in findings(EVERY, records)} == {Verdict.PASS}


def test_an_aircraft_heavier_than_gross_weight_before_anybody_chooses_a_load() -> None:
    """1,000 lb and the lightest pilot of 120 lb."""
    (finding,) = findings(EVERY, RECORDS.replace("gross_weight: 1400 lb", "gross_weight: 1100 lb"))
    assert finding.verdict is Verdict.FAIL
    assert finding.message == "the lightest loading weighs 1120.0 lb; gross weight is 1100 lb"
    assert lines(finding)[0] == line_of(RECORDS, "gross_weight")


def test_how_far_within_or_beyond_a_limit_is_told_in_inches() -> None:
    assert side(RECORDS, "aft").message.endswith("1259.0 lb at 12.99 in, 0.01 in inside the aft limit")
    beyond = side(RECORDS.replace("maximum: 39 lb", "maximum: 50 lb"), "aft")  # 16900 / 1270 = 13.307 in
    assert beyond.message.endswith("1270.0 lb at 13.31 in, 0.31 in beyond the aft limit")
    assert side(RECORDS, "forward").message.endswith("1.77 in inside the forward limit")  # 10.774 - 9


def test_what_pulls_hardest_to_a_side_is_shown_first() -> None:
    # 45 lb of baggage pull 37 in behind the limit, 1665 lb in; the pilot's 220 lb 7 in, 1540 lb in.
    records = RECORDS.replace("maximum: 39 lb", "maximum: 45 lb")
    assert lines(side(records, "aft"))[0] == line_of(records, "id: BAG")
    # Forward of 9 in stands the tank alone: 120 lb of fuel pull 1 in.
    assert lines(side(RECORDS, "forward"))[0] == line_of(RECORDS, "tanks: [")


def test_a_place_all_but_full_is_not_called_full() -> None:
    # 50 lb of baggage and 219 lb in the seat are all that 1,269 lb allow.
    records = RECORDS.replace("maximum: 39 lb", "maximum: 50 lb").replace("gross_weight: 1400", "gross_weight: 1269")
    assert "pilot 219.0 lb, baggage 50.0 lb (its most), no usable fuel" in side(records, "aft").message
    # The lightest pilot and 1.5 lb of fuel are 1,121.5 lb.
    light = RECORDS.replace("gross_weight: 1400", "gross_weight: 1121.5")
    assert "pilot 120.0 lb (its least), baggage empty, TANK 1.5 lb of fuel" in side(light, "forward").message


@pytest.mark.parametrize(("count", "left_out"), [(MOST_TOLD - 2, 0), (MOST_TOLD - 1, 1), (MOST_TOLD + 3, 5)])
def test_of_many_stations_the_heaviest_are_told(count: int, left_out: int) -> None:
    more = "".join(
        f"    - {{id: S{n}, kind: other, arm: 12 in, minimum: {n + 1} lb, maximum: {n + 1} lb}}\n" for n in range(count)
    )
    message = side(RECORDS + more, "forward").message
    assert (f"{left_out} more stations" in message) is (left_out > 0)
    assert "pilot 120.0 lb" in message
