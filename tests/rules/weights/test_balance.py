"""Loadings against gross weight, envelope and stations: AC 43.13-1B's loadings, and arithmetic written out here."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-figure-10-13": "weights/cg-envelope weights/gross-weight",
    "ac43-10-17": "weights/cg-envelope",
    "own arithmetic": "weights/station-load",
}

GROSS, ENVELOPE, STATION = "weights/gross-weight", "weights/cg-envelope", "weights/station-load"

# AC 43.13-1B, figures 10-10 to 10-13: 1,169 lb at 10.6 in; oil 17 lb at -49; front seats at 16, rear at 48, fuel at 22,
# baggage at 75.5; limits 8.5 to 21.9 in and 2,100 lb. The circular gives no least weight; the 1,000 lb are ours.
# The oil stands as missing at the weighing, which adds it at its negative arm.
CIRCULAR = """
aircraft:
  name: Worked example
  authority: US
  stage: operating
  limits:
    gross_weight: 2100 lb
    cg_envelope_joined_in: arm
    cg_envelope:
      - {weight: 1000 lb, arm: 8.5 in}
      - {weight: 2100 lb, arm: 8.5 in}
      - {weight: 2100 lb, arm: 21.9 in}
      - {weight: 1000 lb, arm: 21.9 in}
fuel:
  density: 6 lb/US gal
  tanks:
    - {id: TANK, arm: 22 in, usable: 40 US gal}
weights:
  components: []
  weighings:
    - id: W1
      day: 2026-01-10
      scales: [{wheel: other, reading: 1169 lb, tare: 0 lb, arm: 10.6 in}]
      aboard: []
      missing: [{what: oil, weight: 17 lb, arm: -49 in}]
  stations:
    - {id: FRONT, kind: seat, arm: 16 in, maximum: 340 lb}
    - {id: REAR, kind: seat, arm: 48 in, maximum: 340 lb}
    - {id: BAGGAGE, kind: baggage, arm: 75.5 in, maximum: 100 lb}
  loadings:
    - {id: FIG-10-10, stations: {FRONT: 170 lb}, fuel: {TANK: 13.8333333333 US gal}}
    - {id: FIG-10-11, stations: {FRONT: 170 lb, REAR: 340 lb, BAGGAGE: 100 lb}, fuel: {TANK: 40 US gal}}
    - {id: FIG-10-13, stations: {FRONT: 340 lb, REAR: 340 lb}, fuel: {TANK: 39 US gal}}
"""

_ABOARD = "weighing W1 gives no empty weight: what was aboard is not recorded; write [] for nothing"

# Components only, no weighing: the aircraft is one body, so that its weight and arm are what the test says.
ONE_BODY = """
aircraft:
  name: One body
  authority: US
  stage: operating
  limits:
    gross_weight: 2300 lb
    cg_envelope_joined_in: {space}
    cg_envelope: {corners}
weights:
  components:
    - {{id: ALL, weight: {weight}, arm: {arm}, basis: weighed}}
  loadings:
    - {{id: EMPTY}}
"""
# A polygon of our own, published nowhere; its forward limit slopes from 1,950 to 2,300 lb.
SLOPED = """
      - {weight: 1500 lb, arm: 35.0 in}
      - {weight: 1950 lb, arm: 35.0 in}
      - {weight: 2300 lb, arm: 38.5 in}
      - {weight: 2300 lb, arm: 47.3 in}
      - {weight: 1500 lb, arm: 47.3 in}"""

# 1,000 lb at 10 in, and a tank behind it: the centre of gravity goes forward as fuel is burnt.
# Take-off 20 gal = 120 lb: (10000 + 3600) / 1120 = 12.143 in. Landing 5 gal = 30 lb: 10900 / 1030 = 10.583 in.
# Without fuel 10 in.
BURNING = """
aircraft:
  name: Rear tank
  authority: US
  stage: operating
  limits:
    gross_weight: 1200 lb
    cg_envelope_joined_in: arm
    cg_envelope:
      - {weight: 900 lb, arm: 10 in}
      - {weight: 1200 lb, arm: 10 in}
      - {weight: 1200 lb, arm: 13 in}
      - {weight: 900 lb, arm: 13 in}
fuel: {density: 6 lb/US gal, tanks: [{id: REAR, arm: 30 in, usable: 20 US gal}]}
weights:
  components: [{id: ALL, weight: 1000 lb, arm: 10 in, basis: weighed}]
  loadings:
    - {id: TRIP, fuel: {REAR: 20 US gal}, landing_fuel: {REAR: 5 US gal}}
"""
RIGHT_SIDE = """      - {weight: 1200 lb, arm: 10 in}
      - {weight: 1200 lb, arm: 13 in}
"""
STATES = ("at take-off", "at landing", "without fuel")


def one_body(weight: str, arm: str, space: str = "arm", corners: str = SLOPED) -> str:
    return ONE_BODY.format(weight=weight, arm=arm, space=space, corners=corners)


def in_state(rule: str, records: str, subject: str, state: str = "at take-off") -> Finding:
    (finding,) = [f for f in findings(rule, records) if f.subject == subject and state in f.message]
    return finding


def line_of(records: str, words: str) -> int:
    (line,) = [number for number, text in enumerate(records.splitlines(), 1) if words in text]
    return line


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


def measured(finding: Finding) -> float:
    assert finding.measured is not None
    return finding.measured.value


def bound(finding: Finding) -> float:
    assert finding.limit is not None
    return finding.limit.value


@pytest.mark.parametrize(
    ("figure", "weight", "moment", "arm"),
    [
        # Published, and every input read. 82.5 lb of minimum fuel are printed as 83; hence 83 / 6 gal.
        pytest.param("FIG-10-10", 1439, 16104, 11.2, id="figure 10-10"),
        # The copy prints 18.6, a misprint: its own columns give 38466 / 2100 = 18.3.
        pytest.param("FIG-10-13", 2100, 38466, 18.3, id="figure 10-13"),
        # Inputs and totals published; the copy read breaks off before the quotient, which is 43428 / 2036.
        pytest.param("FIG-10-11", 2036, 43428, 21.3, id="figure 10-11"),
    ],
)
def test_the_circulars_loadings_pass_with_its_totals(figure: str, weight: float, moment: float, arm: float) -> None:
    gross = the_finding(GROSS, CIRCULAR, figure)
    inside = in_state(ENVELOPE, CIRCULAR, figure)
    assert gross.verdict is inside.verdict is Verdict.PASS
    assert measured(gross) == pytest.approx(weight, abs=1e-6)
    assert round(measured(inside), 1) == arm
    # The circular rounds the empty moment of 12391.4 to 12391 before it adds.
    assert measured(gross) * measured(inside) == pytest.approx(moment + 0.4, abs=1e-3)


def test_gross_weight_passes_below() -> None:
    finding = the_finding(GROSS, CIRCULAR, "FIG-10-10")
    assert finding.verdict is Verdict.PASS
    assert bound(finding) == pytest.approx(2100)
    assert finding.margin == pytest.approx((2100 - 1439) / 2100)
    assert finding.message == "1439.0 lb at take-off; gross weight is 2100 lb"
    assert lines(finding) == [line_of(CIRCULAR, "id: FIG-10-10"), line_of(CIRCULAR, "gross_weight")]


def test_gross_weight_passes_exactly_at_it() -> None:
    finding = the_finding(GROSS, CIRCULAR, "FIG-10-13")  # the circular accepts it
    assert finding.verdict is Verdict.PASS
    assert finding.margin == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(("front", "remedy"), [("340.1 lb", "0.1"), ("340.04 lb", "0.1"), ("350.25 lb", "10.3")])
def test_gross_weight_just_over_fails_and_what_to_take_off_is_rounded_up(front: str, remedy: str) -> None:
    records = CIRCULAR.replace("FRONT: 340 lb", f"FRONT: {front}")
    finding = the_finding(GROSS, records, "FIG-10-13")
    assert finding.verdict is Verdict.FAIL
    assert finding.remedy == f"Carry {remedy} lb less."


@pytest.mark.parametrize(
    ("there", "words", "place"),
    [
        ("    gross_weight: 2100 lb\n", "the gross weight is not recorded", "cg_envelope_joined_in"),
        ("      aboard: []\n", _ABOARD, "id: W1"),
        ("  density: 6 lb/US gal\n", "fuel density or the arm of tank TANK is not recorded", "id: FIG-10-10"),
        ("arm: 22 in, ", "fuel density or the arm of tank TANK is not recorded", "id: FIG-10-10"),
    ],
)
def test_gross_weight_without_data(there: str, words: str, place: str) -> None:
    records = CIRCULAR.replace(there, "")
    finding = findings(GROSS, records)[0]
    assert finding.verdict is Verdict.NO_DATA
    assert finding.message == words
    assert lines(finding)[0] == line_of(records, place)


@pytest.mark.parametrize("rule", [GROSS, ENVELOPE])
def test_without_limits_or_loadings_there_is_no_data(rule: str) -> None:
    without_limits = "weights: {components: [{id: ALL, weight: 9 lb, arm: 1 in}], loadings: [{id: EMPTY}]}"
    without_loadings = CIRCULAR[: CIRCULAR.index("  loadings:")]
    assert [f.message for f in findings(rule, without_limits)] == ["the aircraft's limits are not recorded"]
    for records in (without_limits, without_loadings):
        assert {f.verdict for f in findings(rule, records)} == {Verdict.NO_DATA}
    assert [f.message for f in findings(rule, without_loadings)] == ["no loading is declared"]


LATER = "components: [{id: RADIO, weight: 4 lb, arm: -10 in, basis: weighed, fitted: %s, since: %s}]"


def test_what_was_fitted_after_the_weighing_counts() -> None:
    records = CIRCULAR.replace("components: []", LATER % ("true", "2026-02-01"))
    finding = the_finding(GROSS, records, "FIG-10-13")
    assert finding.verdict is Verdict.FAIL
    assert measured(finding) == pytest.approx(2104)
    assert lines(finding)[-1] == line_of(records, "id: RADIO")
    moved = in_state(ENVELOPE, records, "FIG-10-10")
    assert measured(moved) == pytest.approx((16104.4 - 4 * 10) / 1443, abs=1e-6)


@pytest.mark.parametrize(("fitted", "since"), [("true", "2026-01-10"), ("false", "2026-02-01")])
def test_what_was_on_the_scales_or_is_not_fitted_does_not_count_again(fitted: str, since: str) -> None:
    records = CIRCULAR.replace("components: []", LATER % (fitted, since))
    assert measured(the_finding(GROSS, records, "FIG-10-13")) == pytest.approx(2100)


@pytest.mark.parametrize("rule", [GROSS, ENVELOPE])
def test_components_that_weigh_nothing_are_no_data(rule: str) -> None:
    (finding,) = findings(rule, one_body("0 lb", "1 in"))
    assert finding.verdict is Verdict.NO_DATA


def test_what_was_fitted_after_the_weighing_without_weight_is_no_data() -> None:
    records = CIRCULAR.replace("components: []", (LATER % ("true", "2026-02-01")).replace("weight: 4 lb, ", ""))
    (finding,) = findings(GROSS, records)
    assert finding.verdict is Verdict.NO_DATA
    assert lines(finding) == [line_of(records, "id: RADIO")]


def test_the_working_names_every_step() -> None:
    working = in_state(ENVELOPE, CIRCULAR, "FIG-10-10").working
    assert working is not None
    assert list(working()) == [
        "weighing W1: 1186.0 lb at 9.75 in",  # (12391.4 - 833) / 1186
        "empty: 1186.0 lb at 9.75 in",
        "FRONT: 170 lb = 170.0 lb at 16.00 in",
        "TANK: 13.8333333333 US gal at 6 lb/US gal = 83.0 lb at 22.00 in",
        "loaded at take-off: 1439.0 lb at 11.19 in",
        "limits at that weight: 8.50 to 21.90 in",
    ]


# 1,120 lb at take-off, 1,030 lb at landing, 1,000 lb without fuel, as written at BURNING.
@pytest.mark.parametrize(
    ("field", "state", "weight"), [("landing_weight", "at landing", 1030), ("zero_fuel_weight", "without fuel", 1000)]
)
@pytest.mark.parametrize(("over", "verdict"), [(10, Verdict.PASS), (0, Verdict.PASS), (-0.1, Verdict.FAIL)])
def test_landing_and_zero_fuel_weight(field: str, state: str, weight: float, over: float, verdict: Verdict) -> None:
    records = BURNING.replace("    gross_weight", f"    {field}: {weight + over} lb\n    gross_weight")
    finding = in_state(GROSS, records, "TRIP", state)
    assert finding.verdict is verdict
    assert measured(finding) == pytest.approx(weight)
    assert lines(finding) == [line_of(records, "id: TRIP"), line_of(records, field)]


def test_a_landing_weight_without_declared_landing_fuel_is_no_data() -> None:
    records = BURNING.replace("    gross_weight", "    landing_weight: 1100 lb\n    gross_weight")
    records = records.replace(", landing_fuel: {REAR: 5 US gal}", "")
    assert [f.verdict for f in findings(GROSS, records)] == [Verdict.PASS, Verdict.NO_DATA]


@pytest.mark.parametrize(("arm", "limit"), [("35.1 in", 35.0), ("41 in", 35.0), ("47 in", 47.3)])
def test_envelope_passes_inside(arm: str, limit: float) -> None:
    finding = in_state(ENVELOPE, one_body("1700 lb", arm), "EMPTY")
    assert finding.verdict is Verdict.PASS
    assert bound(finding) == pytest.approx(limit)  # the nearer of the two


@pytest.mark.parametrize(
    ("weight", "arm"),
    [
        ("1700 lb", "35 in"),
        ("1700 lb", "47.3 in"),
        ("2125 lb", "36.75 in"),
        ("2300 lb", "38.5 in"),
        ("1500 lb", "40 in"),
    ],
)
def test_envelope_passes_exactly_on_its_border(weight: str, arm: str) -> None:
    # 36.75 in is half way up the slope: (35.0 + 38.5) / 2 at (1950 + 2300) / 2 lb.
    assert in_state(ENVELOPE, one_body(weight, arm), "EMPTY").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("weight", "arm", "limit", "remedy"),
    [
        ("1600 lb", "34.99 in", 35.0, "Bring it 0.01 in aft."),
        ("2125 lb", "36.7 in", 36.75, "Bring it 0.05 in aft."),
        ("2125 lb", "36.748 in", 36.75, "Bring it 0.01 in aft."),
        ("1600 lb", "47.301 in", 47.3, "Bring it 0.01 in forward."),
    ],
)
def test_envelope_just_outside_fails(weight: str, arm: str, limit: float, remedy: str) -> None:
    records = one_body(weight, arm)
    finding = in_state(ENVELOPE, records, "EMPTY")
    assert finding.verdict is Verdict.FAIL
    assert bound(finding) == pytest.approx(limit)
    assert finding.margin == pytest.approx(-abs(measured(finding) - limit) / limit)
    assert finding.remedy == remedy
    assert lines(finding)[:2] == [line_of(records, "id: EMPTY"), line_of(records, "weight: 1500 lb, arm: 35.0 in")]


@pytest.mark.parametrize(
    ("space", "verdict", "limit"), [("arm", Verdict.PASS, 36.75), ("moment", Verdict.FAIL, (68250 + 88550) / 2 / 2125)]
)
def test_how_the_corners_are_joined_decides_on_a_slope(space: str, verdict: Verdict, limit: float) -> None:
    # 36.8 in at 2,125 lb, half way between 1950 x 35 = 68250 and 2300 x 38.5 = 88550 lb in: over 2,125 lb, 36.894 in.
    finding = in_state(ENVELOPE, one_body("2125 lb", "36.8 in", space), "EMPTY")
    assert finding.verdict is verdict
    assert bound(finding) == pytest.approx(limit)


@pytest.mark.parametrize(("weight", "shown"), [("2300.1 lb", "2300.1"), ("1499.9 lb", "1499.9")])
def test_envelope_says_nothing_above_or_below_its_weights(weight: str, shown: str) -> None:
    finding = in_state(ENVELOPE, one_body(weight, "40 in"), "EMPTY")
    assert finding.verdict is Verdict.FAIL
    assert finding.message == f"at take-off it weighs {shown} lb; the envelope covers 1500 to 2300 lb"


AROUND_THE_DATUM = """
      - {weight: 900 lb, arm: -3 in}
      - {weight: 1200 lb, arm: -3 in}
      - {weight: 1200 lb, arm: -1 in}
      - {weight: 900 lb, arm: -1 in}"""


@pytest.mark.parametrize(
    ("arm", "verdict", "limit"),
    [
        ("-2.9 in", Verdict.PASS, -3),
        ("-3 in", Verdict.PASS, -3),
        ("-3.01 in", Verdict.FAIL, -3),
        ("-1 in", Verdict.PASS, -1),
        ("-0.99 in", Verdict.FAIL, -1),
        ("0 in", Verdict.FAIL, -1),
    ],
)
def test_arms_ahead_of_the_datum(arm: str, verdict: Verdict, limit: float) -> None:
    finding = in_state(ENVELOPE, one_body("1000 lb", arm, corners=AROUND_THE_DATUM), "EMPTY")
    assert finding.verdict is verdict
    assert bound(finding) == pytest.approx(limit)


@pytest.mark.parametrize(
    ("forward", "verdicts", "remedy"),
    [
        ("10", "pass pass pass", ""),
        ("10.2", "pass pass fail", "Bring it 0.20 in aft."),
        ("11", "pass fail fail", "Bring it 1.00 in aft."),
        ("12.2", "fail fail fail", "Bring it 2.20 in aft."),
    ],
)
def test_envelope_holds_until_the_fuel_is_gone(forward: str, verdicts: str, remedy: str) -> None:
    records = BURNING.replace("lb, arm: 10 in}\n", f"lb, arm: {forward} in}}\n")
    found = [in_state(ENVELOPE, records, "TRIP", state) for state in STATES]
    assert " ".join(f.verdict.value for f in found) == verdicts
    assert [round(measured(f), 3) for f in found] == [12.143, 10.583, 10.0]
    assert found[-1].remedy == remedy


@pytest.mark.parametrize(
    ("there", "words"),
    [
        (
            "    cg_envelope_joined_in: arm\n",
            "whether the envelope's corners are joined in arm or in moment is not recorded",
        ),
        (RIGHT_SIDE, "three corners"),
        ("density: 6 lb/US gal, ", "fuel density or the arm of tank REAR is not recorded"),
        ("weight: 1000 lb, ", "there is no weighing, and not every component has a weight and an arm"),
    ],
)
def test_envelope_without_data(there: str, words: str) -> None:
    finding = findings(ENVELOPE, BURNING.replace(there, ""))[0]
    assert finding.verdict is Verdict.NO_DATA
    assert words in finding.message


def test_an_envelope_without_corners_is_no_data() -> None:
    start, end = BURNING.index("    cg_envelope:"), BURNING.index("fuel:")
    (finding,) = findings(ENVELOPE, BURNING[:start] + BURNING[end:])
    assert (finding.verdict, finding.message) == (Verdict.NO_DATA, "the envelope is not recorded")


# Seats of 220 lb, a tank of 11 gal: the limits are the record's own.
PLACES = """
fuel: {{tanks: [{{id: TANK{usable}}}]}}
weights:
  stations:
    - {{id: SEAT, kind: seat, arm: 21 in{maximum}}}
  loadings:
    - {{id: SOLO, stations: {{SEAT: {load}}}, fuel: {{TANK: {fuel}}}}}
"""


def places(load: str = "100 lb", fuel: str = "1 US gal", maximum: str = "220 lb", usable: str = "11 US gal") -> str:
    limits = {"maximum": maximum and f", maximum: {maximum}", "usable": usable and f", usable: {usable}"}
    return PLACES.format(load=load, fuel=fuel, **limits)


@pytest.mark.parametrize(
    ("load", "verdict", "margin"),
    [
        pytest.param("198 lb", Verdict.PASS, 0.1, id="below"),
        pytest.param("220 lb", Verdict.PASS, 0.0, id="exactly at it"),
        pytest.param("220.1 lb", Verdict.FAIL, -0.1 / 220, id="just over"),
    ],
)
def test_seat_load(load: str, verdict: Verdict, margin: float) -> None:
    seat, tank = findings(STATION, places(load=load))
    assert (seat.verdict, tank.verdict) == (verdict, Verdict.PASS)
    assert seat.margin == pytest.approx(margin, abs=1e-9)
    assert seat.message == f"{load} at SEAT, which may hold 220 lb"
    # One line further down, below that of the aircraft.
    assert lines(seat) == [line_of(places(), "id: SOLO") + 1, line_of(places(), "id: SEAT") + 1]


@pytest.mark.parametrize(
    ("fuel", "verdict", "margin"),
    [
        pytest.param("9.9 US gal", Verdict.PASS, 0.1, id="below"),
        pytest.param("11 US gal", Verdict.PASS, 0.0, id="exactly at it"),
        pytest.param("11.1 US gal", Verdict.FAIL, -0.1 / 11, id="just over"),
    ],
)
def test_tank_load(fuel: str, verdict: Verdict, margin: float) -> None:
    seat, tank = findings(STATION, places(fuel=fuel))
    assert (seat.verdict, tank.verdict) == (Verdict.PASS, verdict)
    assert tank.margin == pytest.approx(margin, abs=1e-9)
    assert lines(tank) == [line_of(places(), "id: SOLO") + 1, line_of(places(), "id: TANK") + 1]


@pytest.mark.parametrize(
    ("records", "words"),
    [
        (places(maximum=""), "the most that SEAT may hold is not recorded"),
        (places(usable=""), "the usable fuel of tank TANK is not recorded"),
        ("weights: {stations: []}", "no loading is declared"),
    ],
)
def test_station_load_without_data(records: str, words: str) -> None:
    assert [f.message for f in findings(STATION, records) if f.verdict is Verdict.NO_DATA] == [words]


def test_an_empty_loading_has_nothing_to_ask_about() -> None:
    assert the_finding(STATION, "weights: {loadings: [{id: EMPTY}]}", "EMPTY").verdict is Verdict.NOT_APPLICABLE


# TRIP takes off with 20 US gal.
@pytest.mark.parametrize(
    ("left", "verdict"), [("5", Verdict.PASS), ("20", Verdict.PASS), ("20.1", Verdict.FAIL), ("21", Verdict.FAIL)]
)
def test_no_more_fuel_is_left_than_was_aboard(left: str, verdict: Verdict) -> None:
    records = CIRCULAR.replace(
        "FRONT: 340 lb, REAR: 340 lb}, fuel: {TANK: 39 US gal}",
        f"FRONT: 340 lb}}, fuel: {{TANK: 20 US gal}}, landing_fuel: {{TANK: {left} US gal}}",
    )
    (finding,) = [f for f in findings(STATION, records) if "left at landing" in f.message]
    assert (finding.subject, finding.verdict) == ("FIG-10-13", verdict)
    assert finding.limit is not None
    assert finding.limit.value == pytest.approx(20)
    assert lines(finding)[0] == line_of(records, "landing_fuel")


def test_what_is_not_recorded_is_to_be_recorded_and_not_to_be_unloaded() -> None:
    for rule in (GROSS, ENVELOPE):
        assert findings(rule, CIRCULAR.replace("  density: 6 lb/US gal\n", ""))[0].remedy == "Record it."


@pytest.mark.parametrize("carried", ["stations: {SEAT: 100 lb}", "fuel: {TANK: 5 US gal}"])
def test_seats_alone_or_fuel_alone_are_something_carried(carried: str) -> None:
    records = f"""
fuel: {{density: 6 lb/US gal, tanks: [{{id: TANK, usable: 10 US gal, arm: 3 in}}]}}
weights:
  stations: [{{id: SEAT, kind: seat, arm: 20 in, maximum: 200 lb}}]
  loadings: [{{id: ONE, {carried}}}]
"""
    assert [(f.subject, f.verdict) for f in findings(STATION, records)] == [("ONE", Verdict.PASS)]


def test_a_missing_landing_fuel_is_told_once_for_a_loading() -> None:
    records = CIRCULAR.replace("    gross_weight", "    landing_weight: 2000 lb\n    gross_weight")
    told = [f for f in findings(GROSS, records) if f.message == "the fuel left at landing is not recorded"]
    assert sorted({f.subject for f in told}) == sorted(f.subject for f in told)
    assert {f.verdict for f in told} == {Verdict.NO_DATA}
    assert len(told) > 1


def test_what_was_fitted_later_is_shown_with_the_envelope_and_the_weighing_is_not() -> None:
    records = CIRCULAR.replace("components: []", LATER % ("true", "2026-02-01"))
    shown = lines(in_state(ENVELOPE, records, "FIG-10-10"))
    assert shown[0] == line_of(records, "id: FIG-10-10")
    assert shown[-1] == line_of(records, "id: RADIO")
    assert len(shown) == 3
