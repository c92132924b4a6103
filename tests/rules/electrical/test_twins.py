"""Rules on devices and their twins among lights and weights: the words of the rules, for one record contradicts the other."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "nothing computed": (
        "electrical/device-fitted electrical/device-weighed electrical/lamp-is-a-light electrical/light-nature"
    ),
}

PASS, WARN, FAIL, NO_DATA, NOT = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def lit(nature: str, light: str) -> str:
    return f"""electrical:
  loads:
    - {{id: L, current: 1 A, nature: {nature}}}
lighting:
  lights:
    - {{id: N, function: cabin, colour: white{light}}}
"""


@pytest.mark.parametrize(
    ("nature", "light", "verdict"),
    [
        ("led", ", load: L", PASS),
        ("lamp", ", load: L", PASS),
        ("led", "", WARN),
        ("lamp", "", WARN),
        ("electronic", "", NOT),
    ],
)
def test_a_lamp_is_named_by_a_light(nature: str, light: str, verdict: Verdict) -> None:
    (found,) = findings("electrical/lamp-is-a-light", lit(nature, light))
    assert found.verdict is verdict
    if verdict is WARN:
        assert found.where[0].position.line == 4
        assert found.working is not None
        assert "lights that name it: 0" in found.working()


@pytest.mark.parametrize(
    ("nature", "technology", "verdict"),
    [
        ("led", "led", PASS),
        ("electronic", "led", PASS),
        ("lamp", "filament", PASS),
        ("lamp", "halogen", PASS),
        ("led", "filament", FAIL),
        ("electronic", "halogen", FAIL),
        ("lamp", "led", FAIL),
        ("electronic", "strobe", NOT),
    ],
)
def test_a_light_is_wired_as_what_it_is(nature: str, technology: str, verdict: Verdict) -> None:
    found = the_finding("electrical/light-nature", lit(nature, f", load: L, technology: {technology}"), "N")
    assert found.verdict is verdict
    if verdict is FAIL:
        assert [spot.position.line for spot in found.where] == [4, 7]


def test_a_light_without_technology_is_no_data() -> None:
    assert the_finding("electrical/light-nature", lit("led", ", load: L"), "N").verdict is NO_DATA
    (none,) = findings("electrical/light-nature", lit("led", ""))
    assert none.verdict is NOT


@pytest.mark.parametrize("rule", ["lamp-is-a-light", "light-nature"])
def test_without_lights_there_is_no_data(rule: str) -> None:
    (found,) = findings(f"electrical/{rule}", "electrical: {loads: [{id: L, current: 1 A, nature: led}]}")
    assert found.verdict is NO_DATA


def weighed(*components: str) -> str:
    lines = "".join(f"    - {{{component}}}\n" for component in components)
    return f"""electrical:
  protection:
    - {{id: F, kind: breaker, rating: 5 A}}
weights:
  components:
{lines or "    []"}
"""


@pytest.mark.parametrize(
    ("components", "verdict"),
    [
        (("id: F, weight: 1 lb",), PASS),
        (("id: BLOCK, weight: 1 lb, equipment: [F]",), PASS),
        (("id: F, fitted: false",), WARN),
        (("id: BLOCK, equipment: [F], removed: 2026-05-01",), WARN),
        (("id: OLD, equipment: [F], removed: 2026-05-01", "id: NEW, equipment: [F]"), PASS),  # exchanged
        (("id: BLOCK, weight: 1 lb",), NOT),
    ],
)
def test_what_is_wired_is_fitted(components: tuple[str, ...], verdict: Verdict) -> None:
    (found,) = findings("electrical/device-fitted", weighed(*components))
    assert found.verdict is verdict
    if verdict is WARN:
        assert [spot.position.line for spot in found.where] == [4, 7]


@pytest.mark.parametrize(
    ("component", "verdict"),
    [("id: F", PASS), ("id: BLOCK, equipment: [F]", PASS), ("id: BLOCK, weight: 1 lb", WARN)],
)
def test_devices_are_weighed(component: str, verdict: Verdict) -> None:
    found = the_finding("electrical/device-weighed", weighed(component), "F")
    assert found.verdict is verdict
    assert found.where[0].position.line == 4
    assert found.working is not None
    assert found.working()[0].startswith("component")


@pytest.mark.parametrize("rule", ["device-fitted", "device-weighed"])
def test_without_weights_there_is_no_data(rule: str) -> None:
    (found,) = findings(f"electrical/{rule}", "electrical: {protection: [{id: F, kind: breaker, rating: 5 A}]}")
    assert found.verdict is NO_DATA


def test_without_devices_nothing_is_weighed() -> None:
    (found,) = findings("electrical/device-weighed", "electrical: {nominal_voltage: 14 V}\nweights: {}")
    assert found.verdict is NOT


def test_a_component_in_the_aircraft_goes_before_one_that_was_taken_out_or_is_to_come() -> None:
    """F was weighed twice: the one that counts is in the aircraft, wherever it stands in the list."""
    here = "{id: NEW, weight: 1 lb, equipment: [L]}"
    for gone in ("fitted: false", "removed: 2026-01-01", "fitted: false, removed: 2026-01-01"):
        old = f"{{id: OLD, weight: 1 lb, equipment: [L], {gone}}}"
        for components in ((here, old), (old, here)):
            records = (
                "electrical: {loads: [{id: L, current: 1 A, nature: led}]}\n"
                f"weights: {{components: [{', '.join(components)}]}}\n"
            )
            assert the_finding("electrical/device-fitted", records, "L").verdict is PASS
