"""Rules on what the builder saw of bundles and feeders: AC 43.13-1B 11-96, 11-115, 11-119 and 11-125, all read."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "nothing computed": (
        "electrical/chafing electrical/drip-loop electrical/failed-clamp electrical/feeder-access "
        "electrical/feeder-guard electrical/hinge electrical/lacing electrical/primary-support "
        "electrical/stand-off electrical/steel-clamps electrical/tubing-drain"
    ),
}

PASS, FAIL, NO_DATA, NOT = Verdict.PASS, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def bundle(installed: str) -> str:
    return f"electrical:\n  bundles:\n    - id: B\n      installed: {{{installed}}}\n"


CONTROLS = "near_controls: true"
CASES = [
    ("drip-loop", "drip_loop: true", PASS),
    ("drip-loop", "held_by: tape, drip_loop: true", PASS),
    ("drip-loop", "drip_loop: false", FAIL),
    ("primary-support", "held_by: clamps", PASS),
    ("primary-support", "chafes: true, held_by: clamps", PASS),
    ("primary-support", "held_by: tape", FAIL),
    ("primary-support", "held_by: straps", FAIL),
    ("primary-support", "held_by: cord", FAIL),
    ("stand-off", "kept_off_by: stand-offs", PASS),
    ("stand-off", "kept_off_by: nothing-near", PASS),
    ("stand-off", "kept_off_by: tape", FAIL),
    ("stand-off", "kept_off_by: tubing", FAIL),
    ("lacing", "continuous_lacing: false", PASS),
    ("lacing", "continuous_lacing: true, inside_box: true", PASS),
    ("lacing", "continuous_lacing: true", FAIL),
    ("chafing", "chafes: false", PASS),
    ("chafing", "held_by: tape, chafes: false", PASS),
    ("chafing", "chafes: true", FAIL),
    ("tubing-drain", "in_tubing: true, drain_holes: true", PASS),
    ("tubing-drain", "in_tubing: true, drain_holes: false", FAIL),
    ("tubing-drain", "in_tubing: false", NOT),
    ("tubing-drain", "in_tubing: true", NO_DATA),
    ("hinge", "at_hinges: twists", PASS),
    ("hinge", "at_hinges: bends", FAIL),
    ("hinge", "at_hinges: no-hinge", NOT),
    ("steel-clamps", f"{CONTROLS}, steel_clamps: true", PASS),
    ("steel-clamps", f"{CONTROLS}, steel_clamps: false", FAIL),
    ("steel-clamps", "near_controls: false", NOT),
    ("steel-clamps", CONTROLS, NO_DATA),
    ("failed-clamp", f"{CONTROLS}, failed_clamp_clear: true", PASS),
    ("failed-clamp", f"{CONTROLS}, failed_clamp_clear: false", FAIL),
    ("failed-clamp", "near_controls: false", NOT),
    ("failed-clamp", CONTROLS, NO_DATA),
]


@pytest.mark.parametrize(("rule", "installed", "verdict"), CASES)
def test_what_was_seen_is_judged_at_its_line(rule: str, installed: str, verdict: Verdict) -> None:
    found = the_finding(f"electrical/{rule}", bundle(installed), "B")
    assert found.verdict is verdict
    assert found.where[0].position.line == 5
    assert bool(found.remedy) is (verdict in {FAIL, NO_DATA})


@pytest.mark.parametrize("rule", sorted({case[0] for case in CASES}))
def test_what_nobody_looked_at_is_no_data(rule: str) -> None:
    for records in ("electrical:\n  bundles: [{id: B}]\n", bundle("diameter: 0.3 in")):
        assert the_finding(f"electrical/{rule}", records, "B").verdict is NO_DATA
    assert the_finding(f"electrical/{rule}", "electrical: {nominal_voltage: 14 V}", "aircraft").verdict is NO_DATA


@pytest.mark.parametrize(("rule", "installed", "verdict"), [case for case in CASES if case[2] in {PASS, FAIL}])
def test_the_working_shows_record_and_source(rule: str, installed: str, verdict: Verdict) -> None:
    found = the_finding(f"electrical/{rule}", bundle(installed), "B")
    assert found.working is not None
    recorded, wanted = found.working()
    assert recorded.startswith("recorded: ")
    assert installed.rsplit(",", maxsplit=1)[-1].strip() in recorded
    assert wanted.startswith("wanted: ")
    assert wanted.endswith(", read)")


FEEDERS = """electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: MAIN}}]
  loads: [{{id: L, current: 1 A, nature: led}}]
  wires:
    - {{id: W1, from: BAT, to: L, {seen}}}
    - {{id: W2, from: L.return, to: MAIN, {seen}}}
    - {{id: W3, from: MAIN, to: L}}
    - {{id: W4, from: L, to: L, serves: starter-feeder, {seen}}}
"""


@pytest.mark.parametrize(("rule", "field"), [("feeder-access", "inspectable"), ("feeder-guard", "chafe_guard")])
def test_feeders_are_wires_of_sources_to_buses_and_of_starters(rule: str, field: str) -> None:
    sound = findings(f"electrical/{rule}", FEEDERS.format(seen=f"{field}: true"))
    assert [(found.subject, found.verdict) for found in sound] == [("W1", PASS), ("W2", PASS), ("W4", PASS)]
    unsound = findings(f"electrical/{rule}", FEEDERS.format(seen=f"{field}: false"))
    assert [(found.verdict, found.where[0].position.line) for found in unsound] == [(FAIL, 7), (FAIL, 8), (FAIL, 10)]
    assert {found.verdict for found in findings(f"electrical/{rule}", FEEDERS.format(seen="splices: 0"))} == {NO_DATA}
    (none,) = findings(f"electrical/{rule}", "electrical: {nominal_voltage: 14 V}")
    assert none.verdict is NOT


@pytest.mark.parametrize(
    ("rule", "installed", "words"),
    [
        ("drip-loop", "drip_loop: true", "a drip loop where it runs down"),
        ("drip-loop", "drip_loop: false", "without a drip loop"),
        ("stand-off", "kept_off_by: nothing-near", "nothing is near that it would touch"),
        ("stand-off", "kept_off_by: tape", "kept off structure by tape"),
        ("steel-clamps", f"{CONTROLS}, steel_clamps: true", "beside flight controls: steel clamps"),
        ("steel-clamps", f"{CONTROLS}, steel_clamps: false", "clamps that are not of steel"),
        ("failed-clamp", f"{CONTROLS}, failed_clamp_clear: true", "leaves it clear"),
        ("failed-clamp", f"{CONTROLS}, failed_clamp_clear: false", "lets it reach a control"),
    ],
)
def test_the_message_says_what_was_seen(rule: str, installed: str, words: str) -> None:
    assert words in the_finding(f"electrical/{rule}", bundle(installed), "B").message


@pytest.mark.parametrize(
    ("rule", "seen", "words"),
    [
        ("feeder-access", "inspectable: true", "it can be looked at"),
        ("feeder-access", "inspectable: false", "it cannot be looked at"),
        ("feeder-guard", "chafe_guard: true", "it has protection"),
        ("feeder-guard", "chafe_guard: false", "nothing but its insulation"),
    ],
)
def test_the_message_says_what_was_seen_of_a_feeder(rule: str, seen: str, words: str) -> None:
    assert the_finding(f"electrical/{rule}", FEEDERS.format(seen=seen), "W1").message.startswith(words)


def test_several_missing_fields_are_named_and_the_first_is_to_be_recorded() -> None:
    found = the_finding("electrical/tie-spacing", bundle("diameter: 0.3 in"), "B")
    first = found.message.partition(" ")[0]
    assert found.remedy == f"Measure it and record '{first}'."
