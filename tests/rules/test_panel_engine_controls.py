"""Engine controls against old 23.777(d) and 23.779 (both read) and 23.781 (memory): yardsticks that bind nobody."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "23-777-d": "panel/carburettor-heat-apart panel/engine-control-order panel/power-lever-stands-out",
    "23-779": "panel/control-motion",
    "nothing computed": "panel/knob-shape",
}

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"


def panel(*items: str) -> str:
    """Items with their holes 2 in apart from left to right; the first item stands on line 4."""
    records = "".join(f"\n  - {{{item}, hole: H{place}}}" for place, item in enumerate(items))
    holes = "".join(f"\n  - {{id: H{p}, centre: [{1 + 2 * p} in, 3 in], diameter: 0.5 in}}" for p in range(len(items)))
    return f"{AIRCRAFT}panel:\n items:{records}\n holes:{holes}\n"


def control(name: str, more: str = "", *, id_: str = "") -> str:
    return f"id: {id_ or name}, kind: control, function: {name}{more}"


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"panel/{rule}", text)
    return finding


def verdicts(rule: str, text: str) -> dict[str, Verdict]:
    return {finding.subject: finding.verdict for finding in findings(f"panel/{rule}", text)}


def amounts(finding: Finding) -> tuple[float, float]:
    assert finding.measured is not None
    assert finding.limit is not None
    return finding.measured.value, finding.limit.value


NOTHING = panel("id: A, kind: lamp")

# panel/control-motion: every row of old 23.779


def test_a_trim_rocker_up_and_down_is_left_open() -> None:
    """23.779(a)(2) speaks of rotation about a parallel axis; of a rocker nobody sees which way it turns."""
    text = panel(control("trim", ", motions: [{way: up, does: nose-up}]"))
    assert one("control-motion", text).verdict is Verdict.NOT_APPLICABLE
    assert one("control-motion", text.replace("way: up", "way: forward")).verdict is Verdict.FAIL


@pytest.mark.parametrize(
    ("name", "way", "does", "opposite"),
    [
        ("throttle", "forward", "more-power", "less-power"),
        ("propeller", "forward", "more-rpm", "less-rpm"),
        ("mixture", "forward", "rich", "lean"),
        ("mixture", "up", "rich", "lean"),
        ("carburettor-heat", "forward", "cold", "hot"),
        ("carburettor-heat", "up", "cold", "hot"),
        ("fuel-valve", "forward", "open", "closed"),
        ("flaps", "forward", "retract", "extend"),
        ("flaps", "down", "extend", "retract"),
        ("gear", "down", "extend", "retract"),
        ("speed-brake", "aft", "extend", "retract"),
        ("fuel-selector", "right", "right-tank", "left-tank"),
        ("fuel-valve", "clockwise", "on", "off"),
        ("trim", "forward", "nose-down", "nose-up"),
        ("trim", "aft", "nose-up", "nose-down"),
        ("trim", "clockwise", "right-wing-down", "left-wing-down"),
        ("trim", "left", "nose-left", "nose-right"),
    ],
)
def test_motions_of_the_section_pass_and_their_opposites_fail(name: str, way: str, does: str, opposite: str) -> None:
    finding = one("control-motion", panel(control(name, f", motions: [{{way: {way}, does: {does}}}]")))
    assert (finding.verdict, finding.message) == (Verdict.PASS, f"this {name}: {way} is {does}")
    finding = one("control-motion", panel(control(name, f", motions: [{{way: {way}, does: {opposite}}}]")))
    assert finding.verdict is Verdict.FAIL
    assert finding.where[0].position.line == 4


def test_motion_nearest_sound_case_is_the_opposite_way_with_the_opposite_effect() -> None:
    assert one("control-motion", panel(control("throttle", ", motions: [{way: aft, does: less-power}]"))).verdict is (
        Verdict.PASS
    )


def test_motion_no_data() -> None:
    assert one("control-motion", panel(control("throttle"))).verdict is Verdict.NO_DATA
    assert one("control-motion", NOTHING).verdict is Verdict.NOT_APPLICABLE


# panel/knob-shape


def test_knobs_that_differ_pass() -> None:
    text = panel(
        control("throttle", ", knob: smooth and round"),
        control("mixture", ", knob: ridged"),
        control("flaps", ", knob: small aerofoil"),
        control("gear", ", knob: wheel"),
    )
    assert set(verdicts("knob-shape", text).values()) == {Verdict.PASS}


def test_knobs_that_are_alike_or_of_a_wrong_shape_warn() -> None:
    text = panel(
        control("throttle", ", knob: Round"), control("mixture", ", knob: round"), control("flaps", ", knob: ball")
    )
    expected = {"throttle": Verdict.PASS, "mixture": Verdict.WARN, "flaps": Verdict.WARN}
    assert verdicts("knob-shape", text) == expected
    finding = the_finding("panel/knob-shape", text, "mixture")
    assert [spot.position.line for spot in finding.where] == [5, 4]


def test_knob_nearest_sound_case_is_two_throttles() -> None:
    text = panel(control("throttle", ", knob: round", id_="A"), control("throttle", ", knob: round", id_="B"))
    assert set(verdicts("knob-shape", text).values()) == {Verdict.PASS}


def test_knob_no_data() -> None:
    assert one("knob-shape", panel(control("throttle"))).verdict is Verdict.NO_DATA
    assert one("knob-shape", NOTHING).verdict is Verdict.NOT_APPLICABLE


# panel/engine-control-order


def test_power_propeller_mixture_pass() -> None:
    text = panel(control("throttle"), control("propeller"), control("mixture"))
    assert set(verdicts("engine-control-order", text).values()) == {Verdict.PASS}


def test_mixture_left_of_power_fails() -> None:
    text = panel(control("mixture"), control("throttle"))
    assert verdicts("engine-control-order", text) == {"mixture": Verdict.PASS, "throttle": Verdict.FAIL}
    finding = the_finding("panel/engine-control-order", text, "throttle")
    assert finding.message == "the throttle stands right of mixture, the mixture"
    assert [spot.position.line for spot in finding.where] == [5, 4]


def test_order_nearest_sound_case_is_a_second_throttle_on_the_right() -> None:
    text = panel(control("throttle", id_="LEFT"), control("mixture"), control("throttle", id_="RIGHT"))
    assert set(verdicts("engine-control-order", text).values()) == {Verdict.PASS}


def test_order_exactly_above_each_other_fails() -> None:
    text = panel(control("throttle"), control("mixture")).replace("[3 in, 3 in]", "[1 in, 6 in]")
    assert verdicts("engine-control-order", text)["throttle"] is Verdict.FAIL


def test_order_no_data() -> None:
    text = panel(control("throttle"), control("mixture")).replace(", hole: H1", "")
    assert verdicts("engine-control-order", text)["mixture"] is Verdict.NO_DATA
    assert one("engine-control-order", panel(control("throttle"))).verdict is Verdict.NOT_APPLICABLE


# panel/power-lever-stands-out: at least 1 in


def stands(power: str, mixture: str) -> Finding:
    return one("power-lever-stands-out", panel(control("throttle", power), control("mixture", mixture)))


@pytest.mark.parametrize(("power", "verdict"), [("2.6", "pass"), ("2.5", "pass"), ("2.4", "fail")])
def test_the_power_lever_stands_out_by_an_inch(power: str, verdict: str) -> None:
    finding = stands(f", stands_out: {power} in", ", stands_out: 1.5 in")
    assert finding.verdict.value == verdict
    assert amounts(finding) == pytest.approx((float(power) - 1.5, 1))


def test_stands_out_no_data() -> None:
    assert stands("", ", stands_out: 1.5 in").verdict is Verdict.NO_DATA
    assert stands(", stands_out: 1.5 in", "").verdict is Verdict.NO_DATA
    assert one("power-lever-stands-out", panel(control("throttle"))).verdict is Verdict.NOT_APPLICABLE


# panel/carburettor-heat-apart: left of the throttle, or 8 in from the mixture


def heat(*order: str, at: str = "") -> Finding:
    text = panel(*map(control, order))
    return one("carburettor-heat-apart", text.replace("[5 in, 3 in]", f"[{at}, 3 in]") if at else text)


def test_carburettor_heat_left_of_the_throttle_passes() -> None:
    assert heat("carburettor-heat", "throttle", "mixture").verdict is Verdict.PASS


@pytest.mark.parametrize(("at", "verdict"), [("11.1 in", "pass"), ("11 in", "pass"), ("10.9 in", "fail")])
def test_carburettor_heat_eight_inches_from_the_mixture(at: str, verdict: str) -> None:
    finding = heat("throttle", "mixture", "carburettor-heat", at=at)  # the mixture is at 3 in
    assert finding.verdict.value == verdict
    assert amounts(finding)[1] == 8


def test_carburettor_heat_no_data() -> None:
    text = panel(control("throttle"), control("carburettor-heat"), control("mixture")).replace(", hole: H1", "")
    assert one("carburettor-heat-apart", text).verdict is Verdict.NO_DATA
    assert heat("throttle", "mixture").verdict is Verdict.NOT_APPLICABLE
