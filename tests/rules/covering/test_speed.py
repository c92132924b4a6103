"""Notches, anti-tear strips and tapes round repairs: AC 43.13-1B paragraphs 2-7a(5) and 2-43, read, and 2-9, from memory."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, record_line, the_finding

ORACLES = {
    "ac43-2-7-a": "covering/tape-notches",
    "ac43-2-9": "covering/anti-tear",
    "ac43-2-43": "covering/repair-tape",
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
Changes = dict[str, str | None]

SEAM = {
    "id": "X",
    "kind": "hand-sewn",
    "place": "trailing-edge",
    "control_surface": "true",
    "tape_width": "3 in",
    "notch_depth": "1 in",
    "notch_spacing": "6 in",
}
REPAIR = {"id": "X", "opening": "8 in", "top_of_wing": "false", "tape_width": "3 in"}
SURFACE = "surfaces: [{id: X, what: wing, lacing: {cord: polyester%s}}]"


def covered(what: str, mph: float | None = 201) -> str:
    limits = f", limits: {{never_exceed_speed: {mph} mph}}" if mph else ""
    return f"aircraft: {{name: T, authority: US, stage: operating{limits}}}\ncovering:\n  {what}\n"


def seam(changes: Changes, mph: float | None = 201) -> str:
    return covered(f"seams:\n    - {record_line(SEAM, **changes)}", mph)


def repair(changes: Changes, mph: float | None = 150) -> str:
    return covered(f"repairs:\n    - {record_line(REPAIR, **changes)}", mph)


@pytest.mark.parametrize(
    ("changes", "verdicts"),
    [
        ({}, [PASS, PASS]),
        ({"notch_depth": "1.1 in", "notch_spacing": "5 in"}, [PASS, PASS]),
        ({"notch_depth": "0.99 in"}, [FAIL, PASS]),
        ({"notch_spacing": "6.1 in"}, [PASS, FAIL]),
        # a third of 2.4 in is 0.8 in
        ({"tape_width": "2.4 in", "notch_depth": "0.8 in"}, [PASS, PASS]),
        ({"tape_width": "2.4 in", "notch_depth": "0.79 in"}, [FAIL, PASS]),
        ({"control_surface": "false"}, [APART]),
        ({"place": "leading-edge"}, [APART]),
        ({"place": None}, [NO_DATA]),
        ({"control_surface": None}, [NO_DATA]),
        ({"notch_depth": None}, [NO_DATA]),
        ({"tape_width": None}, [NO_DATA]),
    ],
)
def test_fast_tapes_are_notched(changes: Changes, verdicts: list[Verdict]) -> None:
    found = findings("covering/tape-notches", seam(changes))
    assert [finding.verdict for finding in found] == verdicts
    assert all(finding.where[0].position.line == 4 for finding in found)


def test_notches_are_asked_for_above_200_mph_only() -> None:
    changes: Changes = {"notch_depth": None}
    assert the_finding("covering/tape-notches", seam(changes, 200), "aircraft").verdict is APART
    assert the_finding("covering/tape-notches", seam(changes, None), "aircraft").verdict is NO_DATA


@pytest.mark.parametrize(
    ("field", "verdict"), [(", anti_tear: true", PASS), (", anti_tear: false", WARN), ("", NO_DATA)]
)
def test_anti_tear_strips_are_asked_for_above_250_mph(field: str, verdict: Verdict) -> None:
    found = the_finding("covering/anti-tear", covered(SURFACE % field, 250.1), "X")
    assert found.verdict is verdict
    assert found.where[0].position.line == 3


def test_anti_tear_strips_are_not_asked_for_at_250_mph() -> None:
    text = covered(SURFACE % ", anti_tear: false", 250)
    assert [found.verdict for found in findings("covering/anti-tear", text)] == [APART]
    (found,) = findings("covering/anti-tear", covered(SURFACE % "", None))
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("changes", "mph", "verdict", "least"),
    [
        ({}, 150, PASS, 3),
        ({"tape_width": "2.9 in"}, 150, FAIL, 3),
        ({"opening": "8.1 in"}, 150, FAIL, 4),
        ({"opening": "8.1 in", "tape_width": "4 in"}, 150, PASS, 4),
        ({"opening": "15.9 in", "tape_width": "4 in"}, 150, PASS, 4),
        ({"opening": "16 in", "tape_width": "4 in"}, 150, FAIL, 6),  # the text leaves it open: the wider
        ({"opening": "16 in", "tape_width": "6 in"}, 150, PASS, 6),
        ({"tape_width": "5 in"}, 151, FAIL, 6),
        ({"tape_width": "6 in"}, None, NO_DATA, None),
        ({"top_of_wing": "true", "tape_width": "6 in"}, None, PASS, 6),
        ({"top_of_wing": "true", "tape_width": "5 in"}, 150, FAIL, 6),
        ({"least_tape": "2 in", "manual": "page 52", "tape_width": "2 in"}, 151, PASS, 2),
        ({"least_tape": "2 in", "manual": "page 52", "tape_width": "1.9 in"}, 151, FAIL, 2),
        ({"least_tape": "2 in"}, 151, NO_DATA, None),
        ({"tape_width": None}, 150, NO_DATA, None),
        ({"opening": None}, 150, NO_DATA, None),
        ({"top_of_wing": None}, 150, NO_DATA, None),
    ],
)
def test_tape_round_a_repair(changes: Changes, mph: float | None, verdict: Verdict, least: float | None) -> None:
    (found,) = findings("covering/repair-tape", repair(changes, mph))
    assert found.verdict is verdict, found.message
    assert (found.limit.value if found.limit else None) == (None if least is None else pytest.approx(least))


def test_fabric_that_was_never_repaired_has_no_repair_to_tape() -> None:
    (found,) = findings("covering/repair-tape", "covering: {}\n")
    assert found.verdict is APART
