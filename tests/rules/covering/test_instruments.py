"""Irons and thermometers. The ceiling of 350 degF is from memory, a year between comparisons common practice: both only warn."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "amt-fabric-iron": "covering/shrink-stages",
    "own arithmetic": "covering/thermometer",
    "nothing computed": "covering/iron-calibration covering/tautened-everywhere",
}

NO_SUCH_CASE = {
    "covering/tautened-everywhere": {"just over": "it asks for a record alone: one that is missing is no data"},
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

IRONED = """\
covering:
  cloths: [{{id: C, what: cloth{cloth}}}]
  surfaces: [{{id: W, what: wing, cloth: C}}]
  instruments:
    - {{id: IRON, kind: iron, calibrations: [{calibrations}]}}
    - {{id: AIR, kind: weather}}
  shrinkings:
    - {{id: X, surface: W{fields}}}
"""
DAY = ", iron: IRON, day: 2026-05-02"


def ironed(
    stages: str = "250 degF, 350 degF",
    calibrations: str = "{day: 2026-05-02, points: [250 degF, 350 degF]}",
    cloth: str = "",
) -> str:
    return IRONED.format(cloth=cloth, calibrations=calibrations, fields=f"{DAY}, stages: [{stages}]")


@pytest.mark.parametrize(
    ("stages", "calibrations", "verdict"),
    [
        ("260 degF, 340 degF", "{day: 2026-05-01, points: [250 degF, 350 degF]}", PASS),
        ("250 degF, 350 degF", "{day: 2026-05-02, points: [350 degF, 250 degF]}", PASS),
        ("249 degF, 350 degF", "{day: 2026-05-02, points: [250 degF, 350 degF]}", WARN),
        ("250 degF, 351 degF", "{day: 2026-05-02, points: [250 degF, 350 degF]}", WARN),
        # the same heat in another unit
        ("250 degF, 350 degF", "{day: 2026-05-02, points: [121.111111111 degC, 176.666666667 degC]}", PASS),
        # the last one before the day counts, not one that came after
        ("250 degF", "{day: 2026-05-03, points: [200 degF, 400 degF]}", NO_DATA),
        ("250 degF", "{day: 2026-05-01}, {day: 2026-04-01, points: [200 degF, 400 degF]}", NO_DATA),
    ],
)
def test_iron_calibration_and_its_points(stages: str, calibrations: str, verdict: Verdict) -> None:
    assert the_finding("covering/iron-calibration", ironed(stages, calibrations), "X").verdict is verdict


@pytest.mark.parametrize(("day", "verdict"), [("2026-04-02", PASS), ("2026-04-01", WARN)])
def test_an_iron_is_good_for_as_long_as_its_record_says(day: str, verdict: Verdict) -> None:
    records = ironed(calibrations=f"{{day: {day}, points: [200 degF, 400 degF]}}")
    records = records.replace("kind: iron", "kind: iron, interval: 30 day")
    assert the_finding("covering/iron-calibration", records, "X").verdict is verdict


@pytest.mark.parametrize(
    ("fields", "verdict", "words"),
    [
        (", day: 2026-05-02, stages: [300 degF]", NO_DATA, "'iron' is not recorded"),
        (", iron: IRON, stages: [300 degF]", NO_DATA, "'day' is not recorded"),
        (DAY, NO_DATA, "'stages' is not recorded"),
        (", iron: AIR, day: 2026-05-02, stages: [300 degF]", WARN, "AIR is recorded as no iron"),
    ],
)
def test_irons_of_which_something_is_unknown(fields: str, verdict: Verdict, words: str) -> None:
    finding = the_finding("covering/iron-calibration", IRONED.format(cloth="", calibrations="", fields=fields), "X")
    assert finding.verdict is verdict
    assert words in finding.message


CEILING = ", hottest_iron: 325 degF, manual: page 24"


@pytest.mark.parametrize(
    ("stages", "cloth", "verdict"),
    [
        ("250 degF, 320 degF", CEILING, PASS),
        ("250 degF, 325 degF", CEILING, PASS),
        ("250 degF, 326 degF", CEILING, FAIL),
        ("250 degF, 350 degF", "", PASS),
        ("250 degF, 351 degF", "", WARN),
        ("325 degF, 250 degF", CEILING, WARN),  # the cooler stage last
        ("300 degF, 300 degF", CEILING, PASS),
        ("300 degF", ", hottest_iron: 325 degF", NO_DATA),  # no page
    ],
)
def test_shrink_stages(stages: str, cloth: str, verdict: Verdict) -> None:
    finding = the_finding("covering/shrink-stages", ironed(stages, cloth=cloth), "X")
    assert finding.verdict is verdict, finding.message


@pytest.mark.parametrize("rule", ["covering/iron-calibration", "covering/shrink-stages"])
def test_polyester_that_nobody_tautened_and_cotton_that_nobody_irons(rule: str) -> None:
    for fibre, verdict in (("", NO_DATA), (", fibre: polyester", NO_DATA), (", fibre: cotton", APART)):
        text = IRONED.format(cloth=fibre, calibrations="", fields="").partition("  shrinkings")[0]
        (finding,) = findings(rule, text)
        assert finding.verdict is verdict
    assert (
        the_finding("covering/shrink-stages", IRONED.format(cloth="", calibrations="", fields=""), "X").verdict
        is NO_DATA
    )


LOGGED = """\
covering:
  products: [{{id: P, what: cement}}]
  surfaces: [{{id: W, what: wing}}]
  instruments: [{instruments}]
  applications:
    - {{id: X, product: P, surface: W, started: 2026-05-02 09:00{used}}}
"""
AIR = "{{id: {id}, kind: weather, calibrations: [{{day: {day}}}]{interval}}}"


@pytest.mark.parametrize(
    ("day", "interval", "verdict"),
    [
        ("2026-04-30", ", interval: 2 day", PASS),
        ("2026-04-29", ", interval: 2 day", FAIL),
        ("2025-05-02", "", PASS),  # a year by custom
        ("2025-04-30", "", WARN),
        ("2026-05-03", "", NO_DATA),
    ],
)
def test_thermometer(day: str, interval: str, verdict: Verdict) -> None:
    air = AIR.format(id="AIR", day=day, interval=interval)
    assert the_finding("covering/thermometer", LOGGED.format(instruments=air, used=""), "X").verdict is verdict


def test_of_several_thermometers_the_log_names_one() -> None:
    two = ", ".join(
        AIR.format(id=name, day=day, interval="") for name, day in (("A", "2026-05-01"), ("B", "2024-05-01"))
    )
    both = f"{two}, {{id: I, kind: iron}}"
    for used, verdict in (
        ("", NO_DATA),
        (", measured_with: A", PASS),
        (", measured_with: B", WARN),
        (", measured_with: I", FAIL),
    ):
        assert the_finding("covering/thermometer", LOGGED.format(instruments=both, used=used), "X").verdict is verdict


def test_no_thermometer_and_no_log() -> None:
    for text in (LOGGED.format(instruments="", used=""), "covering: {cloths: []}\n"):
        (finding,) = findings("covering/thermometer", text)
        assert finding.verdict is NO_DATA


COATED = """\
covering:
  products: [{{id: P, what: sealer}}]
  cloths: [{{id: C, what: cloth, fibre: {fibre}}}]
  surfaces: [{{id: W, what: wing, cloth: C}}, {{id: T, what: tail, cloth: C}}]
  shrinkings: [{{id: X, surface: W}}]
  applications: [{{id: A, product: P, surface: {surface}, step: {step}, started: 2026-05-02 09:00}}]
"""


@pytest.mark.parametrize(
    ("surface", "step", "fibre", "verdict"),
    [
        ("W", "first-coat", "polyester", PASS),
        ("T", "first-coat", "polyester", NO_DATA),
        ("T", "cement", "polyester", APART),
        ("T", "first-coat", "cotton", APART),
    ],
)
def test_every_surface_is_tautened(surface: str, step: str, fibre: str, verdict: Verdict) -> None:
    text = COATED.format(surface=surface, step=step, fibre=fibre)
    assert the_finding("covering/tautened-everywhere", text, surface).verdict is verdict


def test_no_tautening_at_all_is_no_data() -> None:
    text = COATED.format(surface="W", step="first-coat", fibre="polyester").replace("[{id: X, surface: W}]", "[]")
    assert [f.verdict for f in findings("covering/tautened-everywhere", text)] == [NO_DATA]
