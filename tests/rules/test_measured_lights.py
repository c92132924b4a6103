"""Measured lights against 14 CFR 23.1391, 23.1393, 23.1395 and 23.1401, before amendment 64: figures from those tables."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "23-1401": "lighting/anti-collision-coverage",
    "23-1401-f": "lighting/anti-collision-intensity",
    "23-1391": "lighting/position-intensity",
    "23-1393": "lighting/position-intensity",
    "23-1395": "lighting/position-overlap",
    "23-1322": "lighting/warning-colour",
    "nothing computed": "lighting/instrument-lights lighting/landing-light",
}

RECORDS = """
aircraft: {{name: T, authority: US, stage: systems, operations: [{operations}]}}
lighting:
  lights:
    - {{id: X, function: {function}, {more}}}
"""


def light(rule: str, function: str, more: str, operations: str = "night-vfr") -> Finding:
    text = RECORDS.format(operations=operations, function=function, more=more)
    return the_finding(f"lighting/{rule}", text, "X")


def point(bearing: float, candela: float, elevation: float | None = None) -> str:
    up = f", elevation: {elevation} deg" if elevation is not None else ""
    return f"measured: [{{bearing: {bearing} deg, intensity: {candela} cd{up}}}]"


@pytest.mark.parametrize(
    ("function", "bearing", "elevation", "asked"),
    [  # 23.1391: 40 to 10 degrees, 30 to 20, 5 to 110, rear 20; 23.1393: 0.90 to 5, 0.80 to 10 ... 0.05 to 90 degrees
        ("position-right", 0, None, 40),
        ("position-right", 10, None, 40),
        ("position-right", 10.1, None, 30),
        ("position-right", 20.1, None, 5),
        ("position-right", 110, None, 5),
        ("position-left", 350, None, 40),
        ("position-left", 345, None, 30),
        ("position-left", 260, None, 5),
        ("position-tail", 180, None, 20),
        ("position-tail", 110, None, 20),
        ("position-right", 0, 4, 36),
        ("position-right", 0, -4, 36),
        ("position-right", 0, 5, 36),
        ("position-right", 0, 7, 32),
        ("position-right", 0, 12, 28),
        ("position-right", 0, 18, 20),
        ("position-right", 0, 25, 12),
        ("position-right", 0, 35, 4),
        ("position-right", 0, 80, 2),
        ("position-tail", 180, 80, 1),
    ],
)
def test_least_intensities(function: str, bearing: float, elevation: float | None, asked: float) -> None:
    exact = light("position-intensity", function, point(bearing, asked, elevation))
    assert exact.verdict is Verdict.PASS
    assert exact.limit
    assert exact.limit.value == pytest.approx(asked)
    under = light("position-intensity", function, point(bearing, asked * 0.99, elevation))
    assert under.verdict is (Verdict.FAIL if elevation is None else Verdict.WARN)  # 23.1393 is from memory
    assert under.margin == pytest.approx(-0.01)
    assert under.where[0].position.line == 5
    by_day = light("position-intensity", function, point(bearing, asked * 0.99, elevation), "day-vfr")
    assert by_day.verdict is Verdict.WARN


def test_the_weakest_direction_is_shown() -> None:
    several = "measured: [{bearing: 5 deg, intensity: 60 cd}, {bearing: 15 deg, intensity: 31 cd}]"
    finding = light("position-intensity", "position-right", several)
    assert finding.measured
    assert (finding.measured.value, finding.verdict) == (31, Verdict.PASS)
    assert finding.working
    assert len(finding.working()) == 2


@pytest.mark.parametrize(
    ("function", "bearing", "most"),
    [  # 23.1395: area A 10 to 20 degrees, area B beyond; green in left or red in right 10 and 1, all others 5 and 1
        ("position-right", 345, 10),
        ("position-right", 335, 1),
        ("position-right", 340, 1),
        ("position-right", 125, 5),
        ("position-right", 135, 1),
        ("position-left", 15, 10),
        ("position-left", 25, 1),
        ("position-left", 235, 5),
        ("position-tail", 95, 5),
        ("position-tail", 80, 1),
        ("position-tail", 265, 5),
    ],
)
def test_overlaps(function: str, bearing: float, most: float) -> None:
    assert light("position-overlap", function, point(bearing, most)).verdict is Verdict.PASS
    over = light("position-overlap", function, point(bearing, most * 1.01))
    assert over.verdict is Verdict.FAIL
    assert over.where[0].position.line == 5
    assert light("position-overlap", function, point(bearing, most * 1.01), "day-vfr").verdict is Verdict.WARN


def test_ten_degrees_past_is_free() -> None:
    assert light("position-overlap", "position-left", point(10, 99)).verdict is Verdict.NOT_APPLICABLE
    assert light("position-overlap", "position-left", point(10.1, 99)).verdict is Verdict.FAIL


@pytest.mark.parametrize("rule", ["position-intensity", "position-overlap"])
def test_nothing_measured(rule: str) -> None:
    assert light(rule, "position-left", "colour: red").verdict is Verdict.NOT_APPLICABLE
    none = RECORDS.format(operations="day-vfr", function="cabin", more="colour: red")
    assert [f.verdict for f in findings(f"lighting/{rule}", none)] == [Verdict.NOT_APPLICABLE]
    assert [f.verdict for f in findings(f"lighting/{rule}", "panel: {}\n")] == [Verdict.NO_DATA]


BOTH = "covers_above: 75 deg, covers_below: 75 deg"


@pytest.mark.parametrize(
    ("more", "wanted"),
    [  # 23.1401(b): all round but for 0.5 sr; a gap of a degrees to 75 above and below is 2 a sin 75 pi/180, 0.5 sr at 14.829
        ("covers: [0..360 deg]", Verdict.PASS),
        ("covers: [0..345.18 deg]", Verdict.PASS),
        ("covers: [0..345.17 deg]", Verdict.WARN),
        ("covers: [0..360 deg], blocked: [172.6..187.4 deg]", Verdict.PASS),
        ("covers: [0..360 deg], blocked: [172.5..187.4 deg]", Verdict.WARN),
        # from 30 degrees up to 75 it is a (sin 75 - sin 30): 61.49 degrees wide for the same
        ("covers: [0..360 deg], shadows: [{bearing: 100..161.4 deg, elevation: 30..90 deg}]", Verdict.PASS),
        ("covers: [0..360 deg], shadows: [{bearing: 100..161.5 deg, elevation: 30..90 deg}]", Verdict.WARN),
        ("colour: red", Verdict.NO_DATA),
    ],
)
def test_all_round(more: str, wanted: Verdict) -> None:
    assert light("anti-collision-coverage", "anti-collision", more, "day-vfr").verdict is wanted


def test_one_light_fills_what_hides_another() -> None:
    text = RECORDS.format(
        operations="day-vfr", function="anti-collision", more="covers: [0..360 deg], blocked: [170..190 deg]"
    )
    text += "    - {id: Y, function: anti-collision, covers: [160..200 deg]}\n"
    finding = the_finding("lighting/anti-collision-coverage", text, "X")
    assert finding.verdict is Verdict.PASS
    assert finding.measured
    assert finding.measured.value == 0
    assert "360 of 360 degrees are lit" in finding.message


@pytest.mark.parametrize(
    ("above", "wanted"),
    [
        ("covers_above: 75 deg", Verdict.PASS),
        ("covers_above: 74.9 deg", Verdict.WARN),
        ("colour: red", Verdict.NO_DATA),
    ],
)
def test_above_and_below_at_night(above: str, wanted: Verdict) -> None:
    text = RECORDS.format(
        operations="night-vfr", function="anti-collision", more=f"covers: [0..360 deg], covers_below: 75 deg, {above}"
    )
    _, found, below = findings("lighting/anti-collision-coverage", text)
    assert (found.verdict, below.verdict) == (wanted, Verdict.PASS)


@pytest.mark.parametrize(
    ("function", "more", "wanted"),
    [
        ("instrument", "shielded: true", Verdict.PASS),
        ("instrument", "shielded: false", Verdict.WARN),
        ("instrument", "colour: red", Verdict.NO_DATA),
        ("cabin", "shielded: true", Verdict.WARN),  # 23.1381: a dome light does not count
    ],
)
def test_instrument_lights(function: str, more: str, wanted: Verdict) -> None:
    text = RECORDS.format(operations="night-vfr", function=function, more=more)
    assert [f.verdict for f in findings("lighting/instrument-lights", text)] == [wanted]
    by_day = RECORDS.format(operations="day-vfr", function=function, more=more)
    assert [f.verdict for f in findings("lighting/instrument-lights", by_day)] == [Verdict.NOT_APPLICABLE]


@pytest.mark.parametrize(
    ("function", "more", "wanted"),
    [
        ("landing", "forward_facing: true", Verdict.PASS),
        ("landing", "forward_facing: false", Verdict.WARN),
        ("taxi", "colour: white", Verdict.WARN),
    ],
)
def test_landing_lights(function: str, more: str, wanted: Verdict) -> None:
    assert light("landing-light", function, more).verdict is wanted


def test_no_landing_light() -> None:
    text = RECORDS.format(operations="night-vfr", function="cabin", more="colour: white")
    assert [f.verdict for f in findings("lighting/landing-light", text)] == [Verdict.NOT_APPLICABLE]


@pytest.mark.parametrize(
    ("elevation", "least"), [(0, 400), (5, 400), (5.1, 240), (10.1, 80), (20.1, 40), (30.1, 20), (-75, 20)]
)
def test_effective_intensity_of_flashes(elevation: float, least: float) -> None:
    """23.1401(f), from memory: 400 to 5 degrees, 240 to 10, 80 to 20, 40 to 30, 20 to 75."""
    assert light("anti-collision-intensity", "anti-collision", point(0, least, elevation)).verdict is Verdict.PASS
    under = light("anti-collision-intensity", "anti-collision", point(0, least * 0.99, elevation))
    assert (under.verdict, under.where[0].position.line) == (Verdict.WARN, 5)


def test_flashes_not_measured() -> None:
    assert light("anti-collision-intensity", "anti-collision", point(0, 1, 80)).verdict is Verdict.NOT_APPLICABLE
    none = RECORDS.format(operations="day-vfr", function="cabin", more="colour: red")
    assert [f.verdict for f in findings("lighting/anti-collision-intensity", none)] == [Verdict.NOT_APPLICABLE]
    assert [f.verdict for f in findings("lighting/anti-collision-intensity", "panel: {}\n")] == [Verdict.NO_DATA]


@pytest.mark.parametrize(
    ("more", "wanted"),
    [  # 23.1322: red warning, amber caution, green safe
        ("colour: red", Verdict.PASS),
        ("colour: amber", Verdict.PASS),
        ("colour: green", Verdict.PASS),
        ("colour: white", Verdict.WARN),
        ("colour: blue", Verdict.WARN),
        ("technology: led", Verdict.NO_DATA),
    ],
)
def test_warning_lights(more: str, wanted: Verdict) -> None:
    assert light("warning-colour", "warning", more).verdict is wanted
    none = RECORDS.format(operations="day-vfr", function="cabin", more="colour: red")
    assert [f.verdict for f in findings("lighting/warning-colour", none)] == [Verdict.NOT_APPLICABLE]


def test_records_without_the_section_are_no_data() -> None:
    (found,) = findings("lighting/landing-light", "")
    assert found.verdict is Verdict.NO_DATA


def test_the_direction_of_a_flash_that_falls_shortest_of_what_is_asked_there_is_shown() -> None:
    # 450 of 400 cd near the horizontal are nearer to their limit than 60 of 20 cd far above it, though many more candles.
    several = "measured: [{bearing: 0 deg, intensity: 60 cd, elevation: 70 deg}, {bearing: 0 deg, intensity: 450 cd}]"
    finding = light("anti-collision-intensity", "anti-collision", several)
    assert finding.measured == (450, "cd")
    assert finding.limit == (400, "cd", "at-least")


@pytest.mark.parametrize(("elevation", "verdict"), [(None, Verdict.FAIL), (0, Verdict.FAIL), (1, Verdict.WARN)])
def test_level_is_level_however_it_was_recorded(elevation: float | None, verdict: Verdict) -> None:
    assert light("position-intensity", "position-right", point(0, 20, elevation)).verdict is verdict


def test_each_rule_on_measured_lights_speaks_of_each_light_once() -> None:
    records = RECORDS.format(operations="day-vfr", function="position-right", more=point(0, 50))
    assert [f.subject for f in findings("lighting/position-intensity", records)] == ["X"]
    assert [f.subject for f in findings("lighting/position-overlap", records)] == ["X"]
