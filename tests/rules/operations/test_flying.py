"""Airspace, altitude, belts, dates and lights in use: 91.107, 91.207 to 91.225, 91.411 and 91.413 of 14 CFR."""

from __future__ import annotations

import datetime

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding
from jurystrut_rules.operations.dates import last_of_month

ORACLES = {
    "91-225-d": "operations/ads-b-out",
    "91-411": "operations/altimeter-test",
    "8130-2-condition": "operations/condition-inspection",
    "91-207-c": "operations/elt-battery operations/elt-inspection",
    "91-211-a": "operations/oxygen",
    "91-215-b": "operations/transponder",
    "91-413": "operations/transponder-test",
    "nothing computed": "operations/belts operations/elt operations/lights-lit",
}

OXYGEN = """
aircraft:
  name: T
  authority: US
  stage: operating
  limits: {{altitude: {altitude}}}
  seats: 2
  {oxygen}
"""


@pytest.mark.parametrize(
    ("altitude", "oxygen", "wanted"),
    [  # 91.211(a)(1): above 12,500 to 14,000 ft beyond 30 minutes; (2): above 14,000 the crew; (3): above 15,000 everybody
        ("12000 ft", "oxygen_for: 0", Verdict.PASS),
        ("12500 ft", "oxygen_for: 0", Verdict.PASS),
        ("12501 ft", "oxygen_for: 0", Verdict.WARN),
        ("14000 ft", "oxygen_for: 0", Verdict.WARN),
        ("14001 ft", "oxygen_for: 0", Verdict.FAIL),
        ("14001 ft", "oxygen_for: 1", Verdict.PASS),
        ("15000 ft", "oxygen_for: 1", Verdict.PASS),
        ("15001 ft", "oxygen_for: 1", Verdict.FAIL),
        ("15001 ft", "oxygen_for: 2", Verdict.PASS),
        ("14001 ft", "", Verdict.NO_DATA),
    ],
)
def test_oxygen(altitude: str, oxygen: str, wanted: Verdict) -> None:
    finding = the_finding("operations/oxygen", OXYGEN.format(altitude=altitude, oxygen=oxygen), "oxygen")
    assert finding.verdict is wanted
    assert finding.where[0].position.line == 6


def test_oxygen_margin() -> None:
    finding = the_finding("operations/oxygen", OXYGEN.format(altitude="16000 ft", oxygen="oxygen_for: 1"), "oxygen")
    assert finding.measured
    assert finding.limit
    assert (finding.measured.value, finding.limit.value, finding.margin) == (1, 2, -0.5)


def test_oxygen_without_altitude() -> None:
    assert [f.verdict for f in findings("operations/oxygen", "panel: {}\n")] == [Verdict.NO_DATA]


AIRSPACE = """
aircraft: {{name: T, authority: US, stage: systems, airspace: [{airspace}], limits: {{{altitude}}}}}
panel: {{items: [{{id: X, what: {what}, kind: radio, provides: [{provides}]}}]}}
"""
BOTH = "altitude-reporting, ads-b-out"


@pytest.mark.parametrize(
    ("airspace", "altitude", "transponder", "sent"),
    [  # 91.215(b)(1), (2), (4), (5); 91.225(d): the latter from 10,000 ft on in class E only
        ("class-g", "9999 ft", Verdict.NOT_APPLICABLE, Verdict.NOT_APPLICABLE),
        ("class-g", "10000 ft", Verdict.FAIL, Verdict.NOT_APPLICABLE),
        ("class-e", "10000 ft", Verdict.FAIL, Verdict.FAIL),
        ("class-d", "3000 ft", Verdict.NOT_APPLICABLE, Verdict.NOT_APPLICABLE),
        ("class-c", "3000 ft", Verdict.FAIL, Verdict.FAIL),
        ("class-b", "3000 ft", Verdict.FAIL, Verdict.FAIL),
        ("mode-c-veil", "3000 ft", Verdict.FAIL, Verdict.FAIL),
        ("above-class-c", "8000 ft", Verdict.FAIL, Verdict.FAIL),
    ],
)
def test_airspace(airspace: str, altitude: str, transponder: Verdict, sent: Verdict) -> None:
    bare = AIRSPACE.format(airspace=airspace, altitude=f"altitude: {altitude}", what="radio", provides="")
    assert the_finding("operations/transponder", bare, "transponder").verdict is transponder
    assert the_finding("operations/ads-b-out", bare, "ads-b-out").verdict is sent
    fitted = AIRSPACE.format(airspace=airspace, altitude=f"altitude: {altitude}", what="transponder", provides=BOTH)
    for rule in ("transponder", "ads-b-out"):
        assert the_finding(f"operations/{rule}", fitted, rule).verdict in {Verdict.PASS, Verdict.NOT_APPLICABLE}


def test_a_transponder_without_altitude_does_not_do() -> None:
    text = AIRSPACE.format(airspace="class-c", altitude="altitude: 3000 ft", what="transponder", provides="")
    finding = the_finding("operations/transponder", text, "transponder")
    assert finding.verdict is Verdict.FAIL
    assert finding.where[0].position.line == 2


def test_a_traffic_receiver_sends_nothing() -> None:
    text = AIRSPACE.format(airspace="class-c", altitude="altitude: 3000 ft", what="traffic receiver", provides="")
    assert the_finding("operations/ads-b-out", text, "ads-b-out").verdict is Verdict.FAIL


def test_airspace_or_altitude_not_recorded() -> None:
    for rule in ("transponder", "ads-b-out"):
        text = AIRSPACE.format(airspace="class-e", altitude="", what="radio", provides="")
        assert the_finding(f"operations/{rule}", text, rule).verdict is Verdict.NO_DATA
        assert [f.verdict for f in findings(f"operations/{rule}", "panel: {items: []}\n")] == [Verdict.NO_DATA]


SEATED = "aircraft: {{name: T, authority: US, stage: systems, seats: {seats}}}\npanel: {{items: [{items}]}}\n"


@pytest.mark.parametrize(
    ("seats", "items", "wanted"),
    [
        (2, "{id: E, what: ELT, kind: other}", Verdict.PASS),
        (2, "", Verdict.FAIL),
        (2, "{id: E, what: remote switch of the ELT, kind: switch}", Verdict.FAIL),
        (1, "", Verdict.NOT_APPLICABLE),  # 91.207(f)(9)
    ],
)
def test_locator(seats: int, items: str, wanted: Verdict) -> None:
    finding = the_finding("operations/elt", SEATED.format(seats=seats, items=items), "elt")
    assert finding.verdict is wanted


def test_locator_without_data() -> None:
    assert [f.verdict for f in findings("operations/elt", "panel: {items: []}\n")] == [Verdict.NO_DATA]
    text = "aircraft: {name: T, authority: US, stage: systems, seats: 2}\nelectrical: {loads: []}\n"
    assert the_finding("operations/elt", text, "elt").verdict is Verdict.NO_DATA


SEATS = """
aircraft:
  name: T
  authority: US
  stage: systems
  seats: {seats}
  seating:
    - {{id: A, belt: {belt}}}
    - {{id: B, belt: four-point}}
"""


def test_belts() -> None:
    rule = "operations/belts"
    assert the_finding(rule, SEATS.format(seats=2, belt="lap-belt"), "A").verdict is Verdict.PASS
    without = the_finding(rule, SEATS.format(seats=2, belt="none"), "A")
    assert (without.verdict, without.where[0].position.line) == (Verdict.FAIL, 8)
    assert (
        the_finding(rule, SEATS.format(seats=2, belt="lap-belt").replace(", belt: lap-belt", ""), "A").verdict
        is Verdict.NO_DATA
    )
    for seats, wanted in ((1, Verdict.FAIL), (2, Verdict.PASS), (3, Verdict.NO_DATA)):
        assert the_finding(rule, SEATS.format(seats=seats, belt="lap-belt"), "aircraft").verdict is wanted
    assert [f.verdict for f in findings(rule, "panel: {}\n")] == [Verdict.NO_DATA]


def test_calendar_months() -> None:
    """ "Within 24 calendar months" runs to the end of the month: 14 CFR 91.411 and 91.413."""
    assert last_of_month(datetime.date(2024, 1, 3), 24) == datetime.date(2026, 1, 31)
    assert last_of_month(datetime.date(2025, 2, 28), 12) == datetime.date(2026, 2, 28)
    assert last_of_month(datetime.date(2027, 2, 1), 12) == datetime.date(2028, 2, 29)
    assert last_of_month(datetime.date(2025, 12, 31), 12) == datetime.date(2026, 12, 31)
    assert last_of_month(datetime.date(2025, 6, 15), 24) == datetime.date(2027, 6, 30)


INSPECTED = """
aircraft: {{name: T, authority: US, stage: operating, operations: [day-vfr, ifr], seats: 2}}
panel: {{items: [{{id: X, what: transponder, kind: radio}}]}}
inspections:
  - {{id: I, what: "{what}", who: somebody, day: 2024-05-10, result: good}}
"""


@pytest.mark.parametrize(
    ("rule", "subject", "what", "last_good"),
    [  # 24 calendar months: 91.411(a), 91.413(a); 12: 91.207(d) and the operating limitations
        ("transponder-test", "transponder", "transponder test", "2026-05-31"),
        ("altimeter-test", "altimeter", "altimeter and static test, with the encoder", "2026-05-31"),
        ("condition-inspection", "condition", "condition inspection", "2025-05-31"),
        ("elt-inspection", "elt", "ELT inspection", "2025-05-31"),
    ],
)
def test_what_runs_out(rule: str, subject: str, what: str, last_good: str) -> None:
    last = datetime.date.fromisoformat(last_good)
    text = INSPECTED.format(what=what)
    for on, wanted in (
        (datetime.date(2024, 5, 10), Verdict.PASS),
        (last, Verdict.PASS),
        (last + datetime.timedelta(days=1), Verdict.FAIL),
        (datetime.date(2024, 5, 9), Verdict.NO_DATA),  # not done yet on that day
    ):
        finding = the_finding(f"operations/{rule}", text, subject, on=on)
        assert finding.verdict is wanted
    assert (
        str(last + datetime.timedelta(days=1))
        in the_finding(f"operations/{rule}", text, subject, on=last + datetime.timedelta(days=1)).message
    )
    other = INSPECTED.format(what=f"preparing the {what}")
    assert the_finding(f"operations/{rule}", other, subject).verdict is Verdict.NO_DATA


def test_what_is_not_flown_or_fitted_needs_no_test() -> None:
    text = "aircraft: {name: T, authority: US, stage: operating, operations: [day-vfr], seats: 1}\npanel: {items: []}\n"
    for rule in ("transponder-test", "altimeter-test", "elt-inspection", "elt-battery"):
        assert [f.verdict for f in findings(f"operations/{rule}", text)] == [Verdict.NOT_APPLICABLE], rule


BATTERY = """
aircraft: {{name: T, authority: US, stage: operating, seats: 2}}
documents:
  - {{id: D, kind: {kind}{expires}}}
"""


@pytest.mark.parametrize(
    ("expires", "wanted"),
    [
        (", expires: 2026-06-02", Verdict.PASS),
        (", expires: 2026-06-01", Verdict.PASS),
        (", expires: 2026-05-31", Verdict.FAIL),
        ("", Verdict.NO_DATA),
    ],
)
def test_locator_battery_on_the_first_of_june(expires: str, wanted: Verdict) -> None:
    finding = the_finding("operations/elt-battery", BATTERY.format(kind="ELT battery", expires=expires), "D")
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 4)


def test_locator_battery_not_recorded() -> None:
    text = BATTERY.format(kind="main battery", expires="")
    assert [f.verdict for f in findings("operations/elt-battery", text)] == [Verdict.NO_DATA]


LIT = """
aircraft: {{name: T, authority: US, stage: systems, operations: [{operations}]}}
lighting:
  lights: [{{id: X, function: {function}{load}}}]
electrical:
  loads:
    - {{id: L, current: 1 A, nature: led, duty: {{taxi: 100 %, takeoff: 100 %, climb: 100 %, cruise: {cruise}, landing: 100 %}}}}
"""


@pytest.mark.parametrize(
    ("function", "operations", "cruise", "load", "wanted"),
    [  # 91.209(b) by day too; 91.209(a) from sunset
        ("anti-collision", "day-vfr", "100 %", ", load: L", Verdict.PASS),
        ("anti-collision", "day-vfr", "99 %", ", load: L", Verdict.WARN),
        ("anti-collision", "day-vfr", "100 %", "", Verdict.NO_DATA),
        ("position-left", "day-vfr", "0 %", ", load: L", Verdict.NOT_APPLICABLE),
        ("position-left", "night-vfr", "0 %", ", load: L", Verdict.WARN),
        ("position-left", "night-vfr", "100 %", ", load: L", Verdict.PASS),
    ],
)
def test_lights_in_use(function: str, operations: str, cruise: str, load: str, wanted: Verdict) -> None:
    text = LIT.format(function=function, operations=operations, cruise=cruise, load=load)
    finding = the_finding("operations/lights-lit", text, "X")
    assert finding.verdict is wanted


def test_without_a_number_of_seats_everybody_is_not_known() -> None:
    alone = OXYGEN.replace("  seats: 2\n", "")
    assert the_finding(
        "operations/oxygen", alone.format(altitude="15001 ft", oxygen="oxygen_for: 1"), "oxygen"
    ).verdict is (Verdict.NO_DATA)
    assert the_finding(
        "operations/oxygen", alone.format(altitude="14001 ft", oxygen="oxygen_for: 1"), "oxygen"
    ).limit == (
        1,
        "occupants",
        "at-least",
    )


@pytest.mark.parametrize(
    ("fields", "words"),
    [("seating: [{id: A}]", "how many seats it has"), ("seats: 2", "its seats and belts, under 'seating',")],
)
def test_what_is_missing_of_the_seats_is_told(fields: str, words: str) -> None:
    text = f"aircraft: {{name: T, authority: US, stage: systems, {fields}}}\n"
    assert [f.message for f in findings("operations/belts", text)] == [f"{words} is not recorded"]


@pytest.mark.parametrize(("function", "source"), [("anti-collision", "91.209(b)"), ("position-left", "91.209(a)")])
def test_each_light_is_lit_by_its_own_paragraph(function: str, source: str) -> None:
    for cruise in ("100 %", "50 %"):
        text = LIT.format(function=function, operations="night-vfr", cruise=cruise, load=", load: L")
        assert the_finding("operations/lights-lit", text, "X").message.startswith(source)
