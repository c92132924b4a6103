"""Colour, shadows and flashes of lights: 14 CFR 23.1387, 23.1397 and 23.1401, before amendment 64."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "23-1397": "lighting/chromaticity",
    "23-1397-c": "lighting/chromaticity",
    "23-1401": "lighting/flashes-together",
    "23-1387": "lighting/position-shadows",
}

PASS, WARN, FAIL, NO_DATA, NA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def records(*lights: str, operations: str = "night-vfr") -> str:
    rows = "".join(f"    - {{{light}}}\n" for light in lights)
    return f"""
aircraft: {{name: T, authority: US, stage: systems, operations: [{operations}]}}
lighting:
  lights:
{rows}"""


def left(colour: str, x: float, y: float) -> str:
    return f"id: X, function: position-left, colour: {colour}, chromaticity: [{x}, {y}]"


@pytest.mark.parametrize(
    ("light", "by_night", "by_day"),
    [
        (left("red", 0.69, 0.308), PASS, PASS),
        (left("red", 0.663, 0.335), PASS, PASS),  # y at its limit, z = 0.002 at its own
        (left("red", 0.66, 0.338), FAIL, WARN),
        (left("green", 0.2, 0.37), PASS, PASS),
        (left("green", 0.2, 0.3699), FAIL, WARN),
        (left("white", 0.3, 0.32), PASS, PASS),
        (left("white", 0.299, 0.318), WARN, WARN),  # white is from memory
        ("id: X, function: position-left, chromaticity: [0.3, 0.3]", NO_DATA, NO_DATA),
        ("id: X, function: anti-collision, colour: red", NA, NA),
    ],
)
def test_chromaticity(light: str, by_night: Verdict, by_day: Verdict) -> None:
    finding = the_finding("lighting/chromaticity", records(light), "X")
    assert (finding.verdict, finding.where[0].position.line) == (by_night, 5)
    assert the_finding("lighting/chromaticity", records(light, operations="day-vfr"), "X").verdict is by_day


def test_chromaticity_of_the_worst_limit_is_told() -> None:
    finding = the_finding("lighting/chromaticity", records(left("red", 0.60, 0.35)), "X")
    assert finding.message == "x 0.6, y 0.35 is no aviation red: z is at most 0.002, and it is 0.048 beyond"


def test_chromaticity_without_a_light_that_asks() -> None:
    assert [f.verdict for f in findings("lighting/chromaticity", records("id: C, function: cabin"))] == [NA]
    assert [f.verdict for f in findings("lighting/chromaticity", "panel: {}\n")] == [NO_DATA]


def flasher(name: str, rate: str, sector: str, more: str = "") -> str:
    return f"id: {name}, function: anti-collision, colour: white, flash_rate: {rate} /min, covers: [{sector} deg]{more}"


@pytest.mark.parametrize(
    ("lights", "wanted"),
    [  # 23.1401(c): up to 180 in overlaps
        ((flasher("A", "90", "0..180"), flasher("B", "90", "170..360")), PASS),
        ((flasher("A", "90", "0..180"), flasher("B", "91", "170..360")), WARN),
        ((flasher("A", "90", "0..180"), flasher("B", "91", "180..360")), PASS),
        ((flasher("A", "90", "0..180"), flasher("B", "91", "170..360", ", in_step_with: A")), PASS),
        ((flasher("A", "90", "0..180"), flasher("B", "91", "170..360", ", blocked: [165..185 deg]")), PASS),
        ((flasher("A", "90", "0..180"), "id: B, function: anti-collision, covers: [0..360 deg]"), NO_DATA),
        ((flasher("A", "90", "0..180"),), NA),
    ],
)
def test_flashes_together(lights: tuple[str, ...], wanted: Verdict) -> None:
    (finding,) = findings("lighting/flashes-together", records(*lights))
    assert finding.verdict is wanted


def test_flashes_together_name_the_bearing() -> None:
    text = records(flasher("A", "90", "0..180"), flasher("B", "95", "170..360"))
    finding = the_finding("lighting/flashes-together", text, "B")
    assert finding.message == "185 flashes a minute are seen from 170 degrees, of A, B"
    assert [spot.position.line for spot in finding.where] == [6, 5]


def shadow(elevation: str, bearing: str = "170..190") -> str:
    return f"shadows: [{{bearing: {bearing} deg, elevation: {elevation} deg, by: fin}}]"


TAIL = "id: T, function: position-tail, colour: white, covers: [110..250 deg], "
RIGHT = "id: R, function: position-right, colour: green, covers: [0..110 deg], "


@pytest.mark.parametrize(
    ("light", "wanted"),
    [
        # 23.1387(e): 0.04 sr within 30 degrees of the vertical; 17.1 degrees wide from 60 up is 0.298 x 0.134 = 0.0400
        (TAIL + shadow("60..90", "170..187.1"), PASS),
        (TAIL + shadow("60..90", "170..187.2"), WARN),
        (TAIL + shadow("59..90", "180..181"), WARN),  # too flat, though small
        (TAIL + shadow("-90..-60", "170..187.1"), PASS),
        (TAIL + shadow("-90..-60", "170..187.2"), WARN),
        (RIGHT + shadow("80..90", "20..21"), WARN),  # nothing is allowed at the sides
        (RIGHT + shadow("80..90", "200..210"), PASS),  # outside its angle
        (RIGHT + shadow("-5..90", "20..30"), NA),  # on the horizontal: the arcs' rule
    ],
)
def test_shadows(light: str, wanted: Verdict) -> None:
    name = light[4]
    found = {f.subject: f for f in findings("lighting/position-shadows", records(light))}
    finding = found.get(name) or found["position-right"]
    assert finding.verdict is wanted
    if wanted is not NA:
        assert finding.where[0].position.line == 5


def test_another_light_fills_a_shadow() -> None:
    second = RIGHT.replace("id: R", "id: R2") + "load: NAV"
    text = records(RIGHT + shadow("30..90", "20..30"), second)
    text = "electrical: {loads: [{id: NAV, current: 1 A, nature: led}]}\n" + text
    assert the_finding("lighting/position-shadows", text, "R").verdict is PASS


def test_a_shadow_on_the_horizontal_darkens_the_arc() -> None:
    text = records(TAIL + shadow("-10..40", "178..182"))
    finding = the_finding("lighting/position-arcs", text, "T")
    assert (finding.verdict, finding.measured and finding.measured.value) == (FAIL, 136)
    higher = records(TAIL + shadow("10..40", "178..182"))
    assert the_finding("lighting/position-arcs", higher, "T").verdict is PASS


def test_nothing_recorded() -> None:
    assert {f.verdict for f in findings("lighting/position-shadows", records(RIGHT + "load: null"[:0]))} == {NA}
    for rule in ("position-shadows", "flashes-together"):
        assert [f.verdict for f in findings(f"lighting/{rule}", "panel: {}\n")] == [NO_DATA]
