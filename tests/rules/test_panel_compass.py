"""The compass among steel, magnets and currents: distances in space, and a long straight wire's mu0 I / 2 pi d."""

from __future__ import annotations

import math

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings

ORACLES = {
    "scipy": "panel/compass-deviation",
    "own arithmetic": "panel/compass-from-steel panel/compass-from-wires",
}

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"panel/{rule}", text)
    return finding


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


def amounts(finding: Finding) -> tuple[float, float]:
    assert finding.measured is not None
    assert finding.limit is not None
    return finding.measured.value, finding.limit.value


# panel/compass-from-steel: 2, 3 and 6 in away along the three axes: 7 in


def steel(thing: str, compass: str = "") -> Finding:
    text = f"""\
{AIRCRAFT}panel:
 compass: {{centre: [20 in, 14 in, 2 in]{compass}}}
 disturbers: [{{id: TUBE, kind: steel, place: [22 in, 11 in, -4 in]{thing}}}]
"""
    return one("compass-from-steel", text)


def test_far_steel_passes() -> None:
    finding = steel(", keep_away: 6 in")
    assert (finding.verdict, finding.message) == (Verdict.PASS, "this steel is 7.0 in from the compass")


@pytest.mark.parametrize(("thing", "compass"), [(", keep_away: 7 in", ""), ("", ", steel_distance: 7 in")])
def test_steel_exactly_at_the_distance_passes(thing: str, compass: str) -> None:
    assert steel(thing, compass).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("thing", "compass"), [(", keep_away: 8 in", ", steel_distance: 6 in"), ("", ", steel_distance: 8 in")]
)
def test_near_steel_fails(thing: str, compass: str) -> None:
    finding = steel(thing, compass)
    assert finding.verdict is Verdict.FAIL
    assert amounts(finding) == pytest.approx((7, 8))
    assert lines(finding) == [4, 3]


def test_steel_no_data() -> None:
    assert steel("", ", magnet_distance: 6 in").verdict is Verdict.NO_DATA
    assert one("compass-from-steel", AIRCRAFT + "panel: {opens: true}\n").verdict is Verdict.NO_DATA
    assert one("compass-from-steel", AIRCRAFT + "panel: {compass: {centre: [1 in, 1 in, 1 in]}}\n").verdict is (
        Verdict.NO_DATA
    )


# a wire 2000 in long that passes 12 in below the compass, and carries what the lamp draws

RUN = "{id: R%s, wire: %s, path: [[%s in, 0 in, 0 in], [%s in, 0 in, 0 in]]}"
WIRING = """\
electrical:
 sources: [{id: BAT, kind: battery}]
 loads: [{id: LAMP, current: 20 A, nature: lamp}, {id: STARTER, current: 200 A, nature: motor, intermittent: true}]
 wires: [{id: W1, from: BAT, to: LAMP}, {id: W2, from: LAMP.return, to: BAT.return}, {id: W3, from: BAT, to: STARTER}, \
{id: W4, from: STARTER.return, to: BAT.return}]
"""


def near_wire(compass: str, *runs: str) -> str:
    listed = ", ".join(runs or (RUN % (1, "W1", -1000, 1000),))
    return f"{AIRCRAFT}panel:\n compass: {{centre: [0 in, 12 in, 0 in]{compass}}}\n runs: [{listed}]\n{WIRING}"


# panel/compass-from-wires


@pytest.mark.parametrize(("wanted", "verdict"), [("11 in", "pass"), ("12 in", "pass"), ("12.1 in", "fail")])
def test_the_compass_keeps_its_distance_from_wires(wanted: str, verdict: str) -> None:
    finding = one("compass-from-wires", near_wire(f", current_distance: {wanted}"))
    assert finding.verdict.value == verdict
    assert amounts(finding)[0] == pytest.approx(12)
    assert lines(finding) == [4, 3]


def test_a_run_that_ends_before_the_compass_is_measured_from_its_end() -> None:
    finding = one("compass-from-wires", near_wire(", current_distance: 5 in", RUN % (1, "W1", 5, 9)))
    assert amounts(finding)[0] == pytest.approx(13)  # 5 and 12


def test_without_wiring_no_run_of_wire_is_missing() -> None:
    panel = "panel: {compass: {centre: [0 in, 0 in, 0 in], current_distance: 5 in}}\n"
    aircraft = "aircraft: {name: A, authority: US, stage: operating, without: [%s]}\n"
    assert one("compass-from-wires", aircraft % "electrical" + panel).verdict is Verdict.NOT_APPLICABLE
    assert one("compass-from-wires", aircraft % "lighting" + panel).verdict is Verdict.NO_DATA


def test_wires_no_data() -> None:
    assert one("compass-from-wires", near_wire("")).verdict is Verdict.NO_DATA
    assert one("compass-from-wires", near_wire(", current_distance: 5 in", "{id: R, wire: W1, path: []}")).verdict is (
        Verdict.NO_DATA
    )


# panel/compass-deviation: 20 A at 12 in (0.3048 m) make 13.12 uT

FIELD = 4e-7 * math.pi * 20 / (2 * math.pi * 0.3048) * 1e6


def turned(allowed: str, earth: str = "20 uT", *runs: str) -> Finding:
    return one("compass-deviation", near_wire(f", earth_field: {earth}{allowed}", *runs))


def test_the_field_of_a_long_wire_turns_the_needle() -> None:
    finding = turned(", deviation: 50 deg")
    assert finding.verdict is Verdict.PASS
    assert amounts(finding) == pytest.approx((math.degrees(math.asin(FIELD / 20)), 50), rel=1e-3)
    assert finding.working is not None
    assert any("W1: 20.00 A" in line for line in finding.working())


@pytest.mark.parametrize(
    ("path", "level"),
    [
        ("[[0 in, -988 in, 12 in], [0 in, 1012 in, 12 in]]", FIELD),  # upright, ahead of the compass: it acts sideways
        ("[[-1000 in, 12 in, 12 in], [1000 in, 12 in, 12 in]]", 0.0),  # across, at its height: it acts upwards alone
    ],
)
def test_what_acts_upwards_turns_no_needle(path: str, level: float) -> None:
    finding = turned(", deviation: 50 deg", "20 uT", f"{{id: R1, wire: W1, path: {path}}}")
    assert amounts(finding)[0] == pytest.approx(math.degrees(math.asin(level / 20)), rel=1e-3, abs=1e-9)
    assert finding.working is not None
    assert f"W1: 20.00 A makes {level:.2f}"[:-1] in finding.working()[0]


@pytest.mark.parametrize(("earth", "verdict"), [("76 uT", "pass"), ("75 uT", "warn")])
def test_ten_degrees_from_memory_where_nothing_is_declared(earth: str, verdict: str) -> None:
    # 13.123 / sin 10 deg = 75.57 uT
    finding = turned("", earth)
    assert finding.verdict.value == verdict
    assert lines(finding) == [3, 4]


def test_more_than_the_builder_allows_fails() -> None:
    assert turned(", deviation: 40 deg").verdict is Verdict.FAIL  # it is turned by 41 degrees


def test_exactly_at_the_allowed_angle_passes() -> None:
    angle = amounts(turned(""))[0]
    assert turned(f", deviation: {angle:.10f} deg").verdict is Verdict.PASS


def test_supply_and_return_side_by_side_undo_each_other() -> None:
    both = (RUN % (1, "W1", -1000, 1000), RUN % (2, "W2", 1000, -1000))
    assert amounts(turned("", "20 uT", *both))[0] == pytest.approx(0, abs=1e-6)


def test_what_runs_for_two_minutes_does_not_count() -> None:
    assert amounts(turned("", "20 uT", RUN % (1, "W3", -1000, 1000)))[0] == pytest.approx(0, abs=1e-9)


def test_a_measured_current_is_taken_for_the_computed_one() -> None:
    run = (RUN % (1, "W1", -1000, 1000)).replace("wire: W1", "wire: W1, current: 10 A")
    assert amounts(turned("", "20 uT", run))[0] == pytest.approx(math.degrees(math.asin(FIELD / 40)), rel=1e-3)


def test_deviation_no_data() -> None:
    assert one("compass-deviation", near_wire("")).verdict is Verdict.NO_DATA
    through = "{id: R, wire: W1, path: [[-5 in, 12 in, 0 in], [5 in, 12 in, 0 in]]}"
    assert turned("", "20 uT", through).verdict is Verdict.NO_DATA
    assert turned("", "20 uT", "{id: R, wire: W1, path: [[-5 in, 0 in, 0 in]]}").verdict is Verdict.NO_DATA


def test_beyond_the_end_of_a_run_its_end_is_the_nearest() -> None:
    # The compass stands 4 in beyond the end and 3 in beside the line: 5 in, however the run is led.
    for ends in ("[0 in, 3 in, 0 in], [10 in, 3 in, 0 in]", "[10 in, 3 in, 0 in], [0 in, 3 in, 0 in]"):
        text = f"""\
{AIRCRAFT}panel:
 compass: {{centre: [14 in, 0 in, 0 in], current_distance: 5 in}}
 runs: [{{id: R, wire: W1, path: [{ends}]}}]
electrical:
 buses: [{{id: B}}]
 wires: [{{id: W1, from: B, to: B}}]
"""
        assert amounts(one("compass-from-wires", text)) == pytest.approx((5, 5))


def test_a_run_of_one_corner_has_no_way_and_hides_no_other() -> None:
    text = f"""\
{AIRCRAFT}panel:
 compass: {{centre: [14 in, 0 in, 0 in], current_distance: 5 in}}
 runs: [{{id: R1, wire: W1, path: [[0 in, 3 in, 0 in]]}}, {{id: R2, wire: W1, path: [[0 in, 3 in, 0 in], [10 in, 3 in, 0 in]]}}]
electrical:
 buses: [{{id: B}}]
 wires: [{{id: W1, from: B, to: B}}]
"""
    found = {f.subject: f.verdict for f in findings("panel/compass-from-wires", text)}
    assert found == {"R1": Verdict.NO_DATA, "R2": Verdict.PASS}
