"""Rules on opening times. The band of blade fuses is from pages and memory: 200 % not before 0.15 s, not after 5 s."""

from __future__ import annotations

import math

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "blade-fuse-times": "electrical/coordination electrical/inrush",
    "iec-60949": "electrical/fault-heating",
}

PASS, WARN, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.NO_DATA


def system(
    *,
    near: str = "kind: blade-fuse, rating: 5 A",
    far: str = "kind: breaker, rating: 15 A",
    load: str = "inrush: 10 A, inrush_time: 0.1 s",
    wire: str = "size: 20 AWG, spec: M22759/16",
) -> str:
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: MAIN}}]
  protection:
    - {{id: F1, {near}}}
    - {{id: F0, {far}}}
  loads:
    - {{id: L, current: 1 A, nature: motor, {load}}}
  wires:
    - {{id: W0, from: BAT, to: F0, {wire}}}
    - {{id: W1, from: F0, to: F1, {wire}}}
    - {{id: W2, from: F1, to: L, {wire}}}
    - {{id: W3, from: L.return, to: BAT.return, {wire}}}
"""


@pytest.mark.parametrize(
    ("load", "verdict", "limit"),
    [
        ("inrush: 10 A, inrush_time: 0.1 s", PASS, 0.15),  # 200 %
        ("inrush: 10 A, inrush_time: 0.15 s", PASS, 0.15),
        ("inrush: 10 A, inrush_time: 0.16 s", WARN, 0.15),
        ("inrush: 10.1 A, inrush_time: 0.1 s", WARN, 0.04),  # 202 %: the row of 350 %
        ("inrush: 5.5 A, inrush_time: 60 s", PASS, 360000),  # 110 % for 100 h
        ("inrush: 18 A, inrush_time: 0.001 s", WARN, 0),  # beyond 350 % no least time is given
    ],
)
def test_inrush(load: str, verdict: Verdict, limit: float) -> None:
    found = the_finding("electrical/inrush", system(load=load), "L")
    assert found.verdict is verdict
    assert found.limit == (limit, "s", "at-most")
    assert found.where[0].position.line == 9


@pytest.mark.parametrize("load", ["what: nothing known", "inrush: 10 A"])
def test_inrush_of_a_motor_that_is_not_recorded_is_no_data(load: str) -> None:
    assert the_finding("electrical/inrush", system(load=load), "L").verdict is NO_DATA


def test_no_times_are_held_for_breakers() -> None:
    text = system(near="kind: breaker, rating: 5 A")
    for rule in ("inrush", "fault-heating"):
        (found,) = findings(f"electrical/{rule}", text)
        assert found.verdict is Verdict.NOT_APPLICABLE


def stands(cmil: float) -> float:
    """k^2 S^2 with k = 226 sqrt(ln(434.5 / 384.5)) (IEC 60949) and 1 circular mil = pi/4 (0.0254 mm)^2."""
    return 226**2 * math.log(434.5 / 384.5) * (cmil * math.pi / 4 * 0.0254**2) ** 2


@pytest.mark.parametrize(
    ("rating", "size", "cmil", "verdict"),
    [
        # (2 r)^2 x 5 s = 20 r^2 against 913 A2s for 755 cmil, 2370 for 1216.
        ("5 A", "22 AWG", 755, PASS),
        ("7.5 A", "22 AWG", 755, WARN),
        ("10 A", "20 AWG", 1216, PASS),
        ("15 A", "20 AWG", 1216, WARN),
    ],
)
def test_the_wire_stands_what_the_fuse_passes(rating: str, size: str, cmil: float, verdict: Verdict) -> None:
    text = system(near=f"kind: blade-fuse, rating: {rating}", wire=f"size: {size}, spec: M22759/16")
    found = the_finding("electrical/fault-heating", text, "W2")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.limit is not None
    assert found.measured.value == pytest.approx(20 * float(rating.split(maxsplit=1)[0]) ** 2)
    assert found.limit.value == pytest.approx(stands(cmil), rel=1e-9)
    assert found.where[0].position.line == 13
    assert found.working is not None
    assert "79.0" in found.working()[1]


def test_exactly_what_it_stands_passes_and_a_hair_more_does_not() -> None:
    limit = math.sqrt(stands(1216) / 20)
    for factor, verdict in ((1 - 1e-6, PASS), (1 + 1e-6, WARN)):
        text = system(near=f"kind: blade-fuse, rating: {limit * factor:.8f} A")
        assert the_finding("electrical/fault-heating", text, "W2").verdict is verdict


@pytest.mark.parametrize("wire", ["spec: M22759/16", "size: 20 AWG"])
def test_a_wire_that_is_not_known_is_no_data(wire: str) -> None:
    assert the_finding("electrical/fault-heating", system(wire=wire), "W2").verdict is NO_DATA


def test_no_final_temperature_is_held_for_other_insulation() -> None:
    found = the_finding("electrical/fault-heating", system(wire="size: 20 AWG, insulation: 105 degC"), "W2")
    assert found.verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("near", "far", "verdict"),
    [
        ("kind: breaker, rating: 10 A", "kind: breaker, rating: 15 A", PASS),
        ("kind: breaker, rating: 15 A", "kind: breaker, rating: 15 A", WARN),  # equal: either may open
        ("kind: breaker, rating: 20 A", "kind: breaker, rating: 15 A", WARN),
        # Two blade fuses by their times: a third is in order, a half is not (17.5 A: by 0.5 s, not before 0.15 s).
        ("kind: blade-fuse, rating: 5 A", "kind: blade-fuse, rating: 15 A", PASS),
        ("kind: blade-fuse, rating: 5 A", "kind: blade-fuse, rating: 10 A", WARN),
    ],
)
def test_the_nearer_device_opens_first(near: str, far: str, verdict: Verdict) -> None:
    found = the_finding("electrical/coordination", system(near=near, far=far), "F1")
    assert found.verdict is verdict
    assert found.where[0].position.line == 6
    assert bool(found.remedy) is (verdict is WARN)


@pytest.mark.parametrize(
    ("near", "far", "timed"),
    [("3 A", "30 A", True), ("2 A", "30 A", False), ("3 A", "35 A", False), ("10 A", "15 A", True)],
)
def test_the_published_times_are_for_blade_fuses_of_3_to_30_amperes(near: str, far: str, *, timed: bool) -> None:
    text = system(near=f"kind: blade-fuse, rating: {near}", far=f"kind: blade-fuse, rating: {far}")
    assert ("it has opened after" in the_finding("electrical/coordination", text, "F1").message) is timed


def test_a_device_with_none_before_it_is_not_compared() -> None:
    text = "electrical:\n  protection: [{id: F, kind: breaker, rating: 5 A}]\n"
    (found,) = findings("electrical/coordination", text)
    assert found.verdict is Verdict.NOT_APPLICABLE


def test_records_without_the_section_are_no_data() -> None:
    (found,) = findings("electrical/coordination", "")
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(("load", "what"), [("what: nothing known", "inrush"), ("inrush: 10 A", "inrush_time")])
def test_what_is_missing_of_an_inrush_is_named(load: str, what: str) -> None:
    found = the_finding("electrical/inrush", system(load=load), "L")
    assert found.message.startswith(f"its {what} is not recorded")
    assert found.remedy == f"Record its '{what}'."


def test_what_is_judged_is_not_called_absent() -> None:
    assert [found.subject for found in findings("electrical/inrush", system())] == ["L"]
    heated = [found.subject for found in findings("electrical/fault-heating", system())]
    assert heated
    assert "aircraft" not in heated
