"""Reach, room for hands, mix-up, letters and the instruments' arrangement.

Distances are plane and solid geometry, worked out beside each case. Old 23.777 (read) and 23.1321 (memory) are yardsticks; the
figures 0.75 in, 1/200 and 30 degrees are common practice, no source.
"""

from __future__ import annotations

import math

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "own arithmetic": "panel/flight-instruments-ahead panel/hand-clearance panel/letters-readable panel/within-reach",
    "nothing computed": "panel/flight-instrument-order panel/guarded-or-distinct",
}

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"


def panel(*fields: str, **lists: list[str]) -> str:
    text = AIRCRAFT + "panel:\n"
    for name, records in lists.items():
        text += f" {name}:" + ("".join(f"\n  - {{{record}}}" for record in records) or " []") + "\n"
    return text + "".join(f" {field}\n" for field in fields)


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"panel/{rule}", text)
    return finding


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


def amounts(finding: Finding) -> tuple[float, float]:
    assert finding.measured is not None
    assert finding.limit is not None
    return finding.measured.value, finding.limit.value


# panel/within-reach: a control 9 in to the right of and 12 in below a shoulder that is 20 in aft: 25 in


def reach(seat: str, hole: str = ", hole: H", more: str = "") -> Finding:
    holes = ["id: H, centre: [19 in, 4 in], diameter: 0.5 in"]
    seats = [f"id: PILOT, {seat}", *([more] if more else [])]
    return one("within-reach", panel(holes=holes, items=[f"id: SW, kind: switch{hole}"], seats=seats))


SHOULDER = "shoulder: [10 in, 16 in, 20 in]"


def test_a_control_within_reach_passes() -> None:
    finding = reach(f"{SHOULDER}, reach: 28 in")
    assert finding.verdict is Verdict.PASS
    assert finding.message == "25.0 in from the shoulder in PILOT, who reaches 28.0 in"


def test_a_control_exactly_at_the_reach_passes() -> None:
    assert reach(f"{SHOULDER}, reach: 25 in").verdict is Verdict.PASS


def test_a_control_just_out_of_reach_fails() -> None:
    finding = reach(f"{SHOULDER}, reach: 24.5 in")
    assert finding.verdict is Verdict.FAIL
    assert amounts(finding) == pytest.approx((25, 24.5))
    assert lines(finding) == [6, 8]
    assert finding.remedy == "Move it 0.5 in or more nearer to PILOT."


def test_one_seat_that_flies_is_enough() -> None:
    other = "id: RIGHT, shoulder: [30 in, 16 in, 20 in], reach: 28 in"
    assert reach(f"{SHOULDER}, reach: 20 in", more=other).verdict is Verdict.PASS
    assert reach(f"{SHOULDER}, reach: 20 in", more=other + ", flies: false").verdict is Verdict.FAIL


@pytest.mark.parametrize("seat", [SHOULDER, "reach: 20 in", f"{SHOULDER}, reach: 25 in, flies: false"])
def test_reach_no_data_without_a_measured_seat(seat: str) -> None:
    assert reach(seat).verdict is Verdict.NO_DATA


def test_reach_no_data_without_a_place() -> None:
    assert reach(f"{SHOULDER}, reach: 25 in", hole="").verdict is Verdict.NO_DATA


# panel/hand-clearance


def hands(apart: str, *fields: str) -> Finding:
    holes = ["id: HA, centre: [2 in, 3 in], diameter: 0.5 in", f"id: HB, centre: [{apart}, 3 in], diameter: 0.5 in"]
    items = ["id: A, kind: switch, hole: HA", "id: B, kind: breaker, hole: HB"]
    return the_finding("panel/hand-clearance", panel(*fields, holes=holes, items=items), "A")


def test_controls_apart_pass() -> None:
    assert hands("3 in").message == "1.000 in from the middle of B"
    assert hands("4 in").message == "no other control within 1.5 in"


@pytest.mark.parametrize(("apart", "field"), [("2.75 in", ()), ("3 in", ("hand_clearance: 1 in",))])
def test_controls_exactly_apart_pass(apart: str, field: tuple[str, ...]) -> None:
    assert hands(apart, *field).verdict is Verdict.PASS


def test_controls_too_close_warn_by_common_practice_and_fail_by_declared_distance() -> None:
    assert hands("2.7 in").verdict is Verdict.WARN
    finding = hands("2.9 in", "hand_clearance: 1 in")
    assert finding.verdict is Verdict.FAIL
    assert amounts(finding) == pytest.approx((0.9, 1))
    assert lines(finding) == [7, 8]


def test_hand_clearance_no_data() -> None:
    assert one("hand-clearance", panel(items=["id: A, kind: switch"])).verdict is Verdict.NO_DATA
    assert one("hand-clearance", panel(items=["id: A, kind: lamp"])).verdict is Verdict.NO_DATA


# panel/guarded-or-distinct


def mix_up(item: str, *, neighbour: str = "switch", at: str = "3 in", wiring: str = "") -> Finding:
    holes = ["id: HA, centre: [2 in, 3 in], diameter: 0.5 in", f"id: HB, centre: [{at}, 3 in], diameter: 0.5 in"]
    items = [f"id: A, kind: switch, hole: HA, confusion_hurts: true{item}", f"id: B, kind: {neighbour}, hole: HB"]
    return one("guarded-or-distinct", panel(holes=holes, items=items) + wiring)


def test_a_switch_beside_one_that_feels_the_same_warns() -> None:
    finding = mix_up("")
    assert (finding.verdict, finding.message) == (Verdict.WARN, "the switch B, 1.00 in away, feels the same")
    assert lines(finding) == [7]


def test_guarded_or_distinct_switches_pass() -> None:
    guarded = "electrical: {switches: [{id: A, kind: toggle, guarded: true}]}\n"
    assert mix_up("", wiring=guarded).message == "it is guarded"
    assert mix_up(", distinct: locking lever").verdict is Verdict.PASS
    assert mix_up("", wiring=guarded.replace("true", "false")).verdict is Verdict.WARN


def test_mix_up_nearest_sound_case_is_another_kind_or_a_distance() -> None:
    assert mix_up("", neighbour="breaker").verdict is Verdict.PASS
    assert mix_up("", at="4.1 in").verdict is Verdict.PASS


def test_mix_up_no_data_and_not_asked() -> None:
    assert one("guarded-or-distinct", panel(items=["id: A, kind: switch, confusion_hurts: true"])).verdict is (
        Verdict.NO_DATA
    )
    assert one("guarded-or-distinct", panel(items=["id: A, kind: switch"])).verdict is Verdict.NOT_APPLICABLE


# panel/letters-readable: eyes 28 in aft of the legend, so 28 / 200 = 0.14 in

EYE = "id: PILOT, eye: [10 in, 8 in, 28 in]"


def letters(
    height: str, *fields: str, seats: list[str] | None = None, centre: str = ", centre: [10 in, 8 in]"
) -> Finding:
    legends = [f"id: L, text: MASTER{centre}{height}"]
    return one("letters-readable", panel(*fields, legends=legends, seats=[EYE] if seats is None else seats))


def test_high_letters_pass() -> None:
    finding = letters(", letter_height: 0.15 in")
    assert (finding.verdict, finding.message) == (Verdict.PASS, "letters of 0.15 in, read from 28.0 in")


def test_letters_exactly_high_enough_pass() -> None:
    assert letters(", letter_height: 0.14 in").verdict is Verdict.PASS
    assert letters(", letter_height: 0.12 in", "letter_height: 0.12 in").verdict is Verdict.PASS


def test_low_letters_warn_by_common_practice_and_fail_by_declared_height() -> None:
    finding = letters(", letter_height: 0.13 in")
    assert finding.verdict is Verdict.WARN
    assert amounts(finding) == pytest.approx((0.13, 0.14))
    assert letters(", letter_height: 0.11 in", "letter_height: 0.12 in").verdict is Verdict.FAIL


def test_letters_no_data() -> None:
    assert letters("").verdict is Verdict.NO_DATA
    assert letters(", letter_height: 0.14 in", seats=[]).verdict is Verdict.NO_DATA
    assert letters(", letter_height: 0.14 in", centre="").verdict is Verdict.NO_DATA


# panel/flight-instrument-order: old 23.1321(d), memory


def shown(**places: str) -> str:
    holes = [f"id: H-{name}, centre: [{at}], diameter: 3 in" for name, at in places.items()]
    items = [f"id: {name}, kind: instrument, hole: H-{name}, provides: [{name}]" for name in places]
    return panel(holes=holes, items=items, seats=["id: PILOT, eye: [10 in, 12 in, 20 in]"])


T = {"attitude": "10 in, 8 in", "airspeed": "6 in, 8 in", "altitude": "14 in, 8 in", "direction": "10 in, 4 in"}


def test_the_usual_order_passes() -> None:
    found = findings("panel/flight-instrument-order", shown(**T))
    assert [f.verdict for f in found] == [Verdict.PASS] * 3
    assert found[0].message == "airspeed is left of attitude (attitude)"


@pytest.mark.parametrize(
    ("name", "at"), [("airspeed", "14.1 in, 8 in"), ("altitude", "9.9 in, 8 in"), ("direction", "10 in, 8.1 in")]
)
def test_an_instrument_on_the_wrong_side_warns(name: str, at: str) -> None:
    finding = the_finding("panel/flight-instrument-order", shown(**T | {name: at}), name)
    assert finding.verdict is Verdict.WARN


def test_order_exactly_above_each_other_warns() -> None:
    finding = the_finding("panel/flight-instrument-order", shown(**T | {"airspeed": "10 in, 5 in"}), "airspeed")
    assert finding.verdict is Verdict.WARN


def test_without_attitude_airspeed_and_altitude_are_compared() -> None:
    two = {"airspeed": "6 in, 8 in", "altitude": "14 in, 8 in"}
    assert one("flight-instrument-order", shown(**two)).verdict is Verdict.PASS
    turned = {"airspeed": two["altitude"], "altitude": two["airspeed"]}
    assert one("flight-instrument-order", shown(**turned)).verdict is Verdict.WARN


def test_one_display_shows_all() -> None:
    items = ["id: D, kind: display, hole: H, provides: [attitude, airspeed, altitude, direction]"]
    text = panel(holes=["id: H, centre: [9 in, 5 in], diameter: 5 in"], items=items)
    assert {f.verdict for f in findings("panel/flight-instrument-order", text)} == {Verdict.PASS}


def test_order_no_data() -> None:
    assert one("flight-instrument-order", panel(items=["id: A, kind: instrument"])).verdict is Verdict.NO_DATA


def test_instruments_are_known_by_their_names_too() -> None:
    """The left of two that name themselves is the airspeed indicator; its breaker of the same name shows nothing."""
    holes = [f"id: H{x}, centre: [{x} in, 8 in], diameter: 3 in" for x in (2, 6, 14)]
    items = [
        "id: ASI, kind: instrument, what: airspeed indicator, hole: H6",
        "id: ALTM, kind: instrument, what: altimeter, hole: H14",
        "id: B, kind: breaker, what: altimeter, hole: H2",
    ]
    assert one("flight-instrument-order", panel(holes=holes, items=items)).verdict is Verdict.PASS
    swapped = [items[0].replace("H6", "H14"), items[1].replace("H14", "H6")]
    assert one("flight-instrument-order", panel(holes=holes, items=swapped)).verdict is Verdict.WARN


# panel/flight-instruments-ahead: 20 in aft, so 20 tan 30 deg = 11.547 in to the side


def ahead(right: float, *fields: str) -> Finding:
    text = shown(airspeed=f"{10 + right:.4f} in, 8 in")
    return one("flight-instruments-ahead", text + "".join(f" {field}\n" for field in fields))


def test_an_instrument_before_the_pilot_passes() -> None:
    finding = ahead(5)
    assert finding.verdict is Verdict.PASS
    assert amounts(finding) == pytest.approx((math.degrees(math.atan2(5, 20)), 30))


def test_an_instrument_exactly_at_the_angle_passes() -> None:
    assert ahead(20, "view_angle: 45 deg").verdict is Verdict.PASS


def test_an_instrument_too_far_aside_warns_by_common_practice_and_fails_by_declared_angle() -> None:
    assert ahead(11.5).verdict is Verdict.PASS
    assert ahead(11.6).verdict is Verdict.WARN
    finding = ahead(20.1, "view_angle: 45 deg")
    assert finding.verdict is Verdict.FAIL
    assert lines(finding) == [6, 8]


def test_ahead_no_data() -> None:
    assert one("flight-instruments-ahead", panel(items=["id: A, kind: lamp"])).verdict is Verdict.NO_DATA
    assert one("flight-instruments-ahead", panel(seats=["id: P, eye: [1 in, 1 in, 20 in]"])).verdict is Verdict.NO_DATA
