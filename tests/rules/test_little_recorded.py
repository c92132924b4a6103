"""What the other rules say where a record is empty, half written, or of another kind than the question."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from jurystrut.judge import judge
from jurystrut.reading import read
from jurystrut.rulebook import Verdict
from jurystrut.testing import DAY, findings, installed, the_finding

if TYPE_CHECKING:
    from pathlib import Path

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

# -- hardware ----------------------------------------------------------------------------------------------------------


def joint(fields: str) -> str:
    return f"hardware:\n  joints:\n    - {{id: J, {fields}}}\n"


@pytest.mark.parametrize(
    ("rule", "fields", "said"),
    [
        ("cotter", "bolt: AN4-15, rotates: true", "nut"),
        ("cotter", "nut: AN310-4, rotates: true", "bolt is drilled"),
        ("shear-nut", "bolt: AN4-15A", "nut"),
        ("nut-drag", "bolt: AN4-15A", "nut"),
        ("threads-showing", "bolt: AN4-15A", "nut"),
        ("threads-in-hole", "bolt: AN4-15A", "parts"),
        ("threads-in-hole", "stack: [0.25 in]", "bolt"),
        ("nut-fits", "bolt: AN4-15A", "nut"),
        ("nut-fits", "nut: AN365-428A", "bolt"),
    ],
)
def test_half_a_joint_is_no_pass(rule: str, fields: str, said: str) -> None:
    found = the_finding(f"hardware/{rule}", joint(fields), "J")
    assert found.verdict is NO_DATA
    assert said in found.message


@pytest.mark.parametrize(
    ("rule", "records", "field"),
    [
        ("wire-twist", "safety_wires: [{id: X}]", "diameter"),
        ("countersink", "rivets: [{id: X, head: countersunk, sheets: [0.04 in]}]", "diameter"),
        ("countersink", "rivets: [{id: X, head: countersunk, diameter: 1/8 in}]", "sheets"),
        ("blind-rivet", "rivets: [{id: X}]", "kind"),
        ("clamp-kind", "clamps: [{id: X, holds: wires, vibrates: true}]", "cushioned"),
    ],
)
def test_the_missing_field_is_named(rule: str, records: str, field: str) -> None:
    found = the_finding(f"hardware/{rule}", f"hardware: {{{records}}}\n", "X")
    assert found.verdict is NO_DATA
    assert field in f"{found.message} {found.remedy}"


# -- fuel --------------------------------------------------------------------------------------------------------------


def test_a_tube_without_its_diameter_has_no_distance_between_supports() -> None:
    line = "fuel: {lines: [{id: X, kind: aluminium-tube, longest_span: 12 in%s}]}\n"
    assert the_finding("fuel/line-support", line % "", "X").verdict is NO_DATA
    assert the_finding("fuel/line-support", line % ", diameter: 3/8 in", "X").verdict is PASS


def test_a_firewall_without_a_single_opening_is_not_taken_as_closed() -> None:
    (found,) = findings("fuel/firewall-openings", "fuel: {firewall: {material: stainless}}\n")
    assert found.verdict is NO_DATA
    assert "no opening in the firewall is recorded" in found.message


def test_a_drain_that_may_not_be_the_lowest_point_is_told_under_its_tank() -> None:
    found = the_finding("fuel/drain", "fuel: {tanks: [{id: T}], drains: [{id: D, tank: T, locks_closed: true}]}\n", "T")
    assert found.verdict is NO_DATA
    assert "lowest_point" in f"{found.message} {found.remedy}"


def test_a_flow_test_shows_the_two_days_that_it_compares() -> None:
    found = the_finding("fuel/flow-day", "fuel: {flow_tests: [{id: X, flow: 14 US gal/h, day: 2026-05-02}]}\n", "X")
    assert found.working is not None
    assert found.working() == ["recorded: 2026-05-02", f"judged on: {DAY}"]


# -- lights ------------------------------------------------------------------------------------------------------------

LANDING = "lighting: {lights: [{id: LL, function: landing%s}]}\n"


def test_without_an_anti_collision_light_no_coverage_is_asked() -> None:
    (found,) = findings("lighting/anti-collision-coverage", LANDING % "")
    assert (found.verdict, found.message) == (APART, "no anti-collision light is recorded")


def test_lights_that_need_not_be_lit_are_not_asked_for() -> None:
    loads = "electrical: {loads: [{id: LL, current: 5 A, nature: led}]}\n"
    (found,) = findings("operations/lights-lit", LANDING % "" + loads)
    assert (found.verdict, found.message) == (APART, "neither position nor anti-collision light is recorded")


def test_a_colour_shows_how_far_it_lies_from_each_border() -> None:
    # Old 23.1397 (read): aviation red has y not greater than 0.335 and z not greater than 0.002: here z is 0.001.
    found = the_finding(
        "lighting/chromaticity",
        "lighting: {lights: [{id: X, function: position-left, colour: red, chromaticity: [0.689, 0.310]}]}\n",
        "X",
    )
    assert found.verdict is PASS
    assert found.working is not None
    assert any(line.endswith("inside by 0.0250") for line in found.working())


# -- operations --------------------------------------------------------------------------------------------------------


def test_without_a_panel_no_transponder_is_missed() -> None:
    text = "aircraft: {name: T, authority: US, stage: operating, airspace: [class-c], limits: {altitude: 9000 ft}}\n"
    assert the_finding("operations/transponder", text + "weights: {}\n", "transponder").verdict is NO_DATA
    assert the_finding("operations/transponder", text + "panel: {items: []}\n", "transponder").verdict is FAIL


def test_a_switch_provides_what_it_is_recorded_for_and_nothing_by_its_name() -> None:
    text = """
aircraft: {name: T, authority: US, stage: operating, airspace: [class-c], limits: {altitude: 9000 ft}}
panel: {items: [{id: SW, kind: switch, what: transponder, provides: [%s]}]}
"""
    assert the_finding("operations/ads-b-out", text % "ads-b-out", "ads-b-out").verdict is PASS
    assert the_finding("operations/transponder", text % "ads-b-out", "transponder").verdict is FAIL
    assert (
        the_finding("operations/transponder", text % "altitude-reporting, transponder", "transponder").verdict is PASS
    )


def test_a_seat_whose_belt_is_not_recorded_is_not_taken_as_fitted() -> None:
    text = """
aircraft: {name: T, authority: US, stage: operating, operations: [day-vfr], seats: 1, seating: [{id: S1, front: true%s}]}
panel: {items: []}
"""
    for belt, latch, harness in (
        ("", NO_DATA, NO_DATA),
        (", belt: four-point", NO_DATA, PASS),
        (", belt: four-point, metal_latch: true", PASS, PASS),
    ):
        found = {f.subject: f.verdict for f in findings("operations/day-vfr", text % belt)}
        assert (found["b-13"], found["b-14"]) == (latch, harness)


# -- markings, papers, covering, controls ------------------------------------------------------------------------------


def test_an_engine_limit_of_one_side_asks_for_one_red_line() -> None:
    text = """
aircraft: {name: T, authority: US, stage: operating, engine: {limits: [{id: OIL, what: oil pressure, least: 12 psi}]}}
markings: {instrument_marks: [{id: M, instrument: OILP, kind: line, colour: red, high: 12 psi}]}
panel: {items: [{id: OILP, kind: instrument}]}
"""
    (found,) = findings("markings/engine-limits", text)
    assert (found.subject, found.verdict) == ("OIL", PASS)


def test_a_tank_without_a_word_for_its_side_cannot_be_looked_for_on_the_placard() -> None:
    text = """
markings: {placards: [{id: P, purpose: fuel-selector, text: LEFT 10 - RIGHT 10}]}
fuel: {tanks: [{id: T1, usable: 10 US gal}, {id: T2, what: right wing tank, usable: 10 US gal}]}
"""
    assert the_finding("markings/fuel-selector", text, "T1").verdict is NO_DATA
    assert the_finding("markings/fuel-selector", text, "T2").verdict is PASS


def test_registration_marks_show_the_share_of_their_height() -> None:
    text = "markings: {registration_marks: {height: 12 in, width: 8 in}}\n"  # 14 CFR 45.29(c), read: two thirds as wide as high
    found = the_finding("markings/registration-characters", text, "width")
    assert found.working is not None
    assert found.working() == ["0.6667 x 12 in = 8 in"]


@pytest.mark.parametrize("rule", ["present", "hashed"])
def test_records_that_name_no_file_have_no_evidence_to_look_at(tmp_path: Path, rule: str) -> None:
    assert judged_in(tmp_path, "aircraft: {name: T, authority: US, stage: operating}\n", rule) == [APART]


def test_a_file_too_large_to_be_compared_is_not_taken_as_unchanged(tmp_path: Path) -> None:
    records = f"""aircraft: {{name: T, authority: US, stage: operating}}
evidence: [{{id: E1, file: video.mov, sha256: {"0" * 64}}}]
"""
    with (tmp_path / "video.mov").open("wb") as video:
        video.truncate(256 * 1024 * 1024 + 1)  # a hole, which takes no room
    assert judged_in(tmp_path, records, "unchanged") == [NO_DATA]
    with (tmp_path / "video.mov").open("wb") as video:
        video.truncate(1)
    assert judged_in(tmp_path, records, "unchanged") == [FAIL]


def judged_in(folder: Path, records: str, rule: str) -> list[Verdict]:
    (folder / "records.yaml").write_text(records, encoding="utf-8")
    judgement = judge(read(folder), installed(), on=DAY)
    assert not judgement.problems
    result = next(result for result in judgement.results if result.rule.id == f"papers/evidence-{rule}")
    return [finding.verdict for finding in result.findings]


def test_the_first_lace_of_a_surface_without_a_spacing_has_no_limit() -> None:
    text = "covering: {surfaces: [{id: X, what: wing, lacing: {day: 2026-05-03, first: 1.2 in}%s}]}\n"
    assert the_finding("covering/first-lace", text % "", "X").verdict is NO_DATA
    assert the_finding("covering/first-lace", text % ", lacing_spacing: 2.5 in", "X").verdict is PASS


@pytest.mark.parametrize(("day", "verdict"), [("2026-05-02", PASS), ("2026-07-01", NO_DATA)])
def test_a_trial_on_a_day_yet_to_come_is_none(day: str, verdict: Verdict) -> None:
    text = f"""
rigging:
  angles: [{{id: X, what: elevator up, control: elevator, measured: 25 deg, limit: 25 ± 1 deg, day: 2026-05-01}}]
  tests: [{{id: T, control: elevator, day: {day}}}]
"""
    assert the_finding("controls/tried-after-rigging", text, "X").verdict is verdict
