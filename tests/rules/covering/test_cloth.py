"""Fabric against AC 43.13-1B table 2-1 and paragraph 2-33 (both read), drains, attachments and the inspection before closing."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

import jurystrut_rules
from jurystrut.rulebook import Verdict, read_table
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-table-2-1": "covering/fabric-grade covering/fabric-strength",
    "ac43-2-33": "covering/fabric-strength",
    "nothing computed": "covering/closed-after-inspection",
}

RECORDS = """
aircraft:
  name: Test
  authority: US
  stage: operating
  wing_area: 100 ft2
  limits: {{gross_weight: {gross}, never_exceed_speed: {vne}}}
covering: {{cloths: [{{id: C, what: cloth{cloth}}}]}}
"""


def records(gross: str = "890 lb", vne: str = "159 mph", cloth: str = "") -> str:
    return RECORDS.format(gross=gross, vne=vne, cloth=cloth)


def test_the_table_is_as_printed() -> None:
    table = read_table(Path(jurystrut_rules.__file__).parent / "tables" / "covering" / "table_2_1.yaml")
    assert [(row["grade"], row["new"], row["deteriorated"]) for row in table.rows] == [
        ("light", "50", "35"),  # for gliders alone
        ("intermediate", "65", "46"),
        ("A", "80", "56"),
    ]
    # 70 % of the new strength, which the table rounds up: 45.5 is printed as 46
    assert all(math.ceil(0.7 * int(str(row["new"])) - 1e-9) == int(str(row["deteriorated"])) for row in table.rows)


@pytest.mark.parametrize(
    ("gross", "vne", "needed"),
    [
        ("900 lb", "120 mph", 80),  # 9.0 psf: the boundary belongs to grade A
        ("890 lb", "159 mph", 65),  # 8.9 psf and 159 mph: intermediate
        ("600 lb", "160 mph", 80),  # 160 mph: grade A
        ("700 lb", "120 mph", 65),  # 7 psf and 120 mph: light cotton would do for a glider, and for no aeroplane
    ],
)
def test_the_grade_follows_wing_loading_and_speed(gross: str, vne: str, needed: float) -> None:
    finding = the_finding("covering/fabric-grade", records(gross, vne, ", strength_new: 100 lb/in"), "C")
    assert finding.limit
    assert finding.limit.value == needed


@pytest.mark.parametrize(
    ("strength", "verdict"), [("66 lb/in", Verdict.PASS), ("65 lb/in", Verdict.PASS), ("64.9 lb/in", Verdict.FAIL)]
)
def test_fabric_grade_passes_at_the_limit_and_fails_just_under(strength: str, verdict: Verdict) -> None:
    finding = the_finding("covering/fabric-grade", records(cloth=f", strength_new: {strength}"), "C")
    assert finding.verdict is verdict
    assert finding.where[0].position.line == 8


@pytest.mark.parametrize(
    ("strength", "verdict"), [("46 lb/in", Verdict.PASS), ("45.5 lb/in", Verdict.PASS), ("45 lb/in", Verdict.FAIL)]
)
def test_fabric_strength_is_held_against_what_the_aircraft_needs(strength: str, verdict: Verdict) -> None:
    # 0.70 x 65 = 45.5 lb/in where intermediate is required, even on the stronger cloth fitted.
    cloth = f", strength_new: 95 lb/in, strength_tested: {strength}"
    finding = the_finding("covering/fabric-strength", records(cloth=cloth), "C")
    assert finding.verdict is verdict
    assert finding.limit
    assert finding.limit.value == 45.5
    assert finding.working
    assert list(finding.working())[-1] == "70 % of it: 45.5 lb/in"


@pytest.mark.parametrize("rule", ["covering/fabric-grade", "covering/fabric-strength"])
def test_fabric_without_data(rule: str) -> None:
    assert the_finding(rule, records(), "C").verdict is Verdict.NO_DATA
    without = "aircraft: {name: T, authority: US, stage: operating}\ncovering: {cloths: [{id: C, what: c}]}"
    assert the_finding(rule, without, "aircraft").verdict is Verdict.NO_DATA
    assert the_finding(rule, records().replace("[{id: C, what: cloth}]", "[]"), "aircraft").verdict is Verdict.NO_DATA


@pytest.mark.parametrize("field", ["wing_area", "gross_weight", "never_exceed_speed"])
def test_without_its_area_weight_or_speed_an_aircraft_has_no_grade(field: str) -> None:
    text = re.sub(rf"(?<=[{{ ]){field}: [^,}}\n]*,?", "", records(cloth=", strength_new: 100 lb/in"))
    (finding,) = findings("covering/fabric-grade", text)
    assert finding.verdict is Verdict.NO_DATA
    assert "wing area is not recorded" in finding.message


@pytest.mark.parametrize("nothing", ["wing_area: 0 ft2", "gross_weight: 0 lb", "never_exceed_speed: 0 mph"])
def test_an_aircraft_of_no_area_weight_or_speed_has_no_grade(nothing: str) -> None:
    field = nothing.partition(":")[0]
    text = re.sub(rf"{field}: [^,}}\n]*", nothing, records(cloth=", strength_new: 100 lb/in"))
    (finding,) = findings("covering/fabric-grade", text)
    assert finding.verdict is Verdict.NO_DATA
    assert "recorded as nothing" in finding.message


SURFACE = """
aircraft: {{name: T, authority: US, stage: operating, limits: {{never_exceed_speed: 138 kt}}}}
covering:
  products: [{{id: P, what: cement}}]
  surfaces: [{{id: S, what: wing{fields}}}]
  applications: [{{id: A, product: P, surface: S, step: cement, started: 2026-05-02 09:00}}]
inspections: [{{id: I, what: wing, who: counsellor, day: {seen}, result: none}}]
"""


def surface(fields: str, seen: str = "2026-05-02") -> str:
    return SURFACE.format(fields=fields, seen=seen)


@pytest.mark.parametrize(
    ("fields", "verdict"),
    [(", drained: true", Verdict.PASS), (", drained: false", Verdict.FAIL), ("", Verdict.NO_DATA)],
)
def test_drains(fields: str, verdict: Verdict) -> None:
    assert the_finding("covering/drains", surface(", lies_below: true" + fields), "S").verdict is verdict


@pytest.mark.parametrize(("drained", "words"), [("true", "has its drain"), ("false", "no drain at its lowest point")])
def test_what_is_said_of_a_drain(drained: str, words: str) -> None:
    panel = f"  panels: [{{id: LOW, what: panel, surface: S, drained: {drained}}}]\n  surfaces:"
    text = surface(", lies_below: true").replace("  surfaces:", panel)
    assert words in the_finding("covering/drains", text, "LOW").message
    whole = the_finding("covering/drains", surface(f", lies_below: true, drained: {drained}"), "S")
    assert whole.message.startswith("every panel" if drained == "true" else "not every panel")


def test_upper_sides_need_no_drain() -> None:
    assert findings("covering/drains", surface(""))[0].verdict is Verdict.NOT_APPLICABLE


CHART = ", lacing_limit: 2.5 in, lacing_limit_speed: {speed}, lacing_limit_from: figure 2-12"


@pytest.mark.parametrize(
    ("spacing", "speed", "verdicts"),
    [
        ("2.4 in", "140 kt", ["pass", "pass"]),
        ("2.5 in", "138 kt", ["pass", "pass"]),
        ("2.51 in", "138 kt", ["fail", "pass"]),
        ("2.5 in", "137.9 kt", ["pass", "fail"]),
    ],
)
def test_attachments_against_the_reading_and_the_reading_against_the_speed(
    spacing: str, speed: str, verdicts: list[str]
) -> None:
    text = surface(f", lacing_spacing: {spacing}" + CHART.format(speed=speed))
    assert [finding.verdict.value for finding in findings("covering/attachment-spacing", text)] == verdicts


def test_attachments_without_data() -> None:
    rule = "covering/attachment-spacing"
    assert findings(rule, surface(""))[0].verdict is Verdict.NO_DATA
    assert findings(rule, surface(", lacing_spacing: 2 in"))[0].verdict is Verdict.NO_DATA
    no_speed = surface(", lacing_spacing: 2 in" + CHART.format(speed="138 kt")).replace(
        "never_exceed_speed: 138 kt", ""
    )
    assert findings(rule, no_speed)[0].verdict is Verdict.NO_DATA


@pytest.mark.parametrize("field", ["lacing_limit", "lacing_limit_speed", "lacing_limit_from"])
def test_a_reading_of_the_chart_needs_its_speed_and_its_place(field: str) -> None:
    chart = re.sub(rf", {field}: [^,]*", "", CHART.format(speed="138 kt"))
    (finding,) = findings("covering/attachment-spacing", surface(", lacing_spacing: 2 in" + chart))
    assert finding.verdict is Verdict.NO_DATA
    assert "the chart's reading, its speed or where it was read" in finding.message


@pytest.mark.parametrize(
    ("seen", "verdict"), [("2026-05-01", Verdict.PASS), ("2026-05-02", Verdict.PASS), ("2026-05-03", Verdict.WARN)]
)
def test_the_structure_is_looked_at_before_it_is_closed(seen: str, verdict: Verdict) -> None:
    text = surface(", closes: true, closed_after: I", seen)
    assert the_finding("covering/closed-after-inspection", text, "S").verdict is verdict


def test_closing_without_data() -> None:
    rule = "covering/closed-after-inspection"
    assert the_finding(rule, surface(", closes: true"), "S").verdict is Verdict.NO_DATA
    assert findings(rule, surface(""))[0].verdict is Verdict.NO_DATA
    for step, verdict in (
        ("prime", Verdict.NOT_APPLICABLE),
        ("repair", Verdict.NOT_APPLICABLE),
        ("first-coat", Verdict.WARN),
    ):
        text = surface(", closes: true, closed_after: I", "2026-05-03").replace("step: cement", f"step: {step}")
        assert the_finding(rule, text, "S").verdict is verdict
