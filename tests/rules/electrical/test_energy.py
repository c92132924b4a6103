"""Rules on endurance (old 23.1353(h) and CAP 562), the load analysis (MIL-E-7016F, ASTM F2490) and bus ratings."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "cap-562": "electrical/endurance",
    "mil-e-7016f": "electrical/load-analysis",
    "own arithmetic": "electrical/bus-rating",
}

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA

BATTERY = "capacity: 20 A*h, capacity_hours: 1 h, chemistry: agm, peukert: 1"


def battery(fields: str = BATTERY, *, amperes: str = "14.4 A", endurance: str = "", more: str = "") -> str:
    return f"""electrical:
  {f"endurance: {endurance}" if endurance else "nominal_voltage: 14 V"}
  sources:
    - {{id: BAT, kind: battery, {fields}}}
  loads:
    - {{id: L, current: {amperes}, nature: led, duty: {{cruise: 100 %, emergency: 100 %}}, essential: true}}
    {more}
"""


# 20 A*h x 0.80 x 0.90 = 14.4 A*h; with an exponent of 1 that is 60 min at 14.4 A and 30 min at 28.8 A.
@pytest.mark.parametrize(
    ("amperes", "endurance", "verdict", "minutes", "target"),
    [
        ("14.4 A", "", PASS, 60, 30),
        ("28.8 A", "", PASS, 30, 30),
        ("28.9 A", "", WARN, 30 * 28.8 / 28.9, 30),
        ("28.8 A", "30 min", PASS, 30, 30),
        ("28.9 A", "30 min", FAIL, 30 * 28.8 / 28.9, 30),
        ("14.4 A", "61 min", FAIL, 60, 61),
    ],
)
def test_endurance(amperes: str, endurance: str, verdict: Verdict, minutes: float, target: float) -> None:
    found = the_finding("electrical/endurance", battery(amperes=amperes, endurance=endurance), "BAT")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.measured.value == pytest.approx(minutes)
    assert found.limit is not None
    assert found.limit.value == pytest.approx(target)
    assert found.where[0].position.line == 5


def test_the_first_five_minutes_are_cruise() -> None:
    # Five minutes at 14.4 + 28.8 A take 3.6 of 14.4 A*h; the other 10.8 last 45 min at 14.4 A.
    text = battery(more="- {id: M, current: 28.8 A, nature: led, duty: {cruise: 100 %}}")
    found = the_finding("electrical/endurance", text, "BAT")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(50)


def test_a_closed_contactor_draws_as_well_and_the_starters_does_not() -> None:
    # 14.4 + 14.4 A of coil: 14.4 A*h last 30 min.
    more = """- {id: START, current: 100 A, nature: motor, intermittent: true}
  switches:
    - {id: K, kind: contactor, coil: 14.4 A}
    - {id: K-START, kind: contactor, coil: 5 A}
  wires:
    - {id: W1, from: K-START, to: START, serves: starter-feeder}"""
    found = the_finding("electrical/endurance", battery(more=more), "BAT")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(30)


def test_the_exponent_that_is_not_recorded_is_an_unfavourable_one() -> None:
    # 14.4 A*h rated over 20 h give 0.72 A; at 14.4 A: 20 h x (1 / 20)^1.3 = 24.4 min, with 1.1 for iron phosphate 44.5 min.
    for chemistry, exponent in (("agm", 1.3), ("lithium-iron-phosphate", 1.1)):
        text = battery(f"capacity: 20 A*h, capacity_hours: 20 h, chemistry: {chemistry}")
        found = the_finding("electrical/endurance", text, "BAT")
        assert found.measured is not None
        assert found.measured.value == pytest.approx(60 * 20 * (1 / 20) ** exponent)


@pytest.mark.parametrize(
    "fields",
    [
        "capacity_hours: 1 h, chemistry: agm",
        "capacity: 20 A*h, chemistry: agm",
        "capacity: 20 A*h, capacity_hours: 1 h",
    ],
)
def test_a_battery_that_is_not_described_is_no_data(fields: str) -> None:
    assert the_finding("electrical/endurance", battery(fields), "BAT").verdict is NO_DATA


def test_no_essential_load_is_no_data() -> None:
    text = f"electrical:\n  sources: [{{id: BAT, kind: battery, {BATTERY}}}]\n"
    (found,) = findings("electrical/endurance", text)
    assert found.verdict is NO_DATA


def loads(rating: str = "40 A", *, charging: str = "") -> str:
    """Climb: A 10 A for half the time, B 20 A throughout, FLAP 15 A for two minutes at a time. MAIN hangs behind 50 A."""
    return f"""electrical:
  sources:
    - {{id: ALT, kind: alternator, rating: {rating}}}
    - {{id: BAT, kind: battery{charging}}}
  buses: [{{id: MAIN}}]
  protection: [{{id: CL, kind: current-limiter, rating: 10 A, fed_from: BAT}}]
  loads:
    - {{id: A, current: 10 A, nature: led, duty: {{climb: 50 %}}}}
    - {{id: B, current: 20 A, nature: led, duty: {{climb: 100 %, taxi: 100 %}}}}
    - {{id: FLAP, current: 15 A, nature: motor, intermittent: true}}
  wires:
    - {{id: W1, from: ALT, to: MAIN}}
    - {{id: W2, from: CL, to: MAIN}}
"""


@pytest.mark.parametrize(
    ("subject", "measured"),
    [
        ("climb-5-s", 45),
        ("climb-5-min", 36),
        ("climb-continuous", 25),
        ("taxi-5-s", 35),
        ("taxi-5-min", 26),
        ("taxi-continuous", 20),
    ],
)
def test_loads_over_three_intervals(subject: str, measured: float) -> None:
    # 5 s: 10 + 20 + 15. 5 min: 10 + 20 + 15 x 2/5. Continuously: 10 x 50 % + 20.
    found = the_finding("electrical/load-analysis", loads(), subject)
    assert found.verdict is PASS
    assert found.measured is not None
    assert found.measured.value == pytest.approx(measured)
    assert found.limit == (50 if subject.endswith("5-s") else 40, "A", "at-most")
    assert found.where[0].position.line == 4


@pytest.mark.parametrize(("rating", "verdict"), [("36 A", PASS), ("35.9 A", WARN)])
def test_five_minutes_at_and_over_the_generator(rating: str, verdict: Verdict) -> None:
    assert the_finding("electrical/load-analysis", loads(rating), "climb-5-min").verdict is verdict


def test_a_battery_that_charges_after_the_start_is_a_load_of_taxiing() -> None:
    found = the_finding("electrical/load-analysis", loads(charging=", charging: 8 A"), "taxi-continuous")
    assert found.measured == (28, "A")
    assert the_finding("electrical/load-analysis", loads(charging=", charging: 8 A"), "climb-continuous").measured == (
        25,
        "A",
    )


def test_coils_count_over_every_interval_but_the_starters() -> None:
    switches = "switches: [{id: K, kind: contactor, coil: 3 A}, {id: KS, kind: contactor, coil: 5 A}]"
    text = loads().replace(
        "  wires:\n", f"  {switches}\n  wires:\n    - {{id: W0, from: KS, to: FLAP, serves: starter-feeder}}\n"
    )
    # FLAP now stands for the starter and is left out: 10 + 20 + 3; continuously 10 x 50 % + 20 + 3.
    for subject, amperes in (("climb-5-s", 33), ("climb-5-min", 33), ("climb-continuous", 28)):
        assert the_finding("electrical/load-analysis", text, subject).measured == (amperes, "A")


def test_the_whole_table_is_shown_a_phase_a_line() -> None:
    found = the_finding("electrical/load-analysis", loads(), "aircraft")
    assert found.message == "2 phases of flight over three intervals; the most in any is 45.0 A"
    assert found.working is not None
    assert list(found.working()) == [
        "climb: 45.0 A over 5 s, 36.0 A over 5 min, 25.0 A continuously",
        "taxi: 35.0 A over 5 s, 26.0 A over 5 min, 20.0 A continuously",
    ]


def test_a_load_analysis_without_ratings_or_phases_is_no_data() -> None:
    (found,) = findings("electrical/load-analysis", loads().replace("rating: 40 A", "what: unknown"))
    assert found.verdict is NO_DATA
    text = "electrical:\n  sources: [{id: ALT, kind: alternator, rating: 40 A}]\n"
    for lacking in (text, "electrical: {loads: [{id: L, current: 1 A, nature: led, duty: {climb: 100 %}}]}"):
        (found,) = findings("electrical/load-analysis", lacking)
        assert found.verdict is NO_DATA


def bus(fields: str) -> str:
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses:
    - {{id: MAIN{fields}}}
  loads: [{{id: A, current: 10 A, nature: led}}, {{id: B, current: 20 A, nature: led}}]
  wires: [{{id: W0, from: BAT, to: MAIN}}, {{id: W1, from: MAIN, to: A}}, {{id: W2, from: MAIN, to: B}}]
"""


@pytest.mark.parametrize(
    ("fields", "verdict"),
    [(", rating: 40 A", PASS), (", rating: 30 A", PASS), (", rating: 29.9 A", FAIL), ("", NO_DATA)],
)
def test_bus_rating(fields: str, verdict: Verdict) -> None:
    found = the_finding("electrical/bus-rating", bus(fields), "MAIN")
    assert found.verdict is verdict
    assert "30 A" in found.message
    assert found.where[0].position.line == 5


def minutes(text: str, subject: str = "BAT") -> float:
    found = the_finding("electrical/endurance", text, subject)
    assert found.measured is not None
    return found.measured.value


def test_a_load_counts_for_its_share_of_the_phase() -> None:
    # 28.8 A for half of cruise and half of the emergency are 14.4 A: 60 min.
    text = battery(amperes="28.8 A").replace("cruise: 100 %, emergency: 100 %", "cruise: 50 %, emergency: 50 %")
    assert minutes(text) == pytest.approx(60)


def test_without_an_emergency_phase_the_essential_loads_that_run_on_are_left() -> None:
    # 14.4 A of L alone: X runs for moments only, Y is shed. In cruise L and Y draw 28.8 A: 2.4 of 14.4 A*h in five minutes.
    more = """- {id: X, current: 90 A, nature: motor, essential: true, intermittent: true}
    - {id: Y, current: 14.4 A, nature: led, duty: {cruise: 100 %}}"""
    assert minutes(battery(more=more).replace(", emergency: 100 %", "")) == pytest.approx(5 + 60 * 12 / 14.4)


def test_two_batteries_share_what_is_drawn() -> None:
    # 14.4 and 28.8 A more in cruise: each battery gives 21.6 A for five minutes, 1.8 A*h, and 7.2 A from the other 12.6 A*h.
    second = f"\n    - {{id: BAT2, kind: battery, {BATTERY}}}\n  loads:"
    text = battery(more="- {id: M, current: 28.8 A, nature: led, duty: {cruise: 100 %}}").replace("\n  loads:", second)
    assert minutes(text) == minutes(text, "BAT2") == pytest.approx(5 + 60 * 12.6 / 7.2)


def test_a_load_that_is_off_in_a_phase_does_not_count_in_it() -> None:
    off = loads().replace("duty: {climb: 50 %}", "duty: {climb: 0 %}")
    for subject, measured in (("climb-5-s", 35), ("climb-5-min", 26), ("climb-continuous", 20)):
        assert the_finding("electrical/load-analysis", off, subject).measured == (measured, "A")


@pytest.mark.parametrize(
    ("interval", "whose"), [("5-s", "the devices let through"), ("5-min", "generators"), ("continuous", "generators")]
)
def test_whose_limit_holds_over_which_interval(interval: str, whose: str) -> None:
    found = the_finding("electrical/load-analysis", loads(), f"climb-{interval}")
    assert whose in found.message
