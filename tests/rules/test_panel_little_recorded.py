"""What panel rules say where a panel is simple or hardly recorded."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

PASS, NO_DATA, APART = Verdict.PASS, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

SHEET = "outline: [[0 in, 0 in], [20 in, 0 in], [20 in, 10 in], [0 in, 10 in]]"
CROSSED = "outline: [[0 in, 0 in], [20 in, 0 in], [0 in, 10 in], [20 in, 10 in]]"
TILTS = "opening: {way: tilts, hinge: bottom, hinge_at: 0 in, angle: 20 deg}"
RADIO = "items: [{id: RADIO, kind: radio, hole: H, depth: 5 in%s}]"
BODY = ", body: {width: 2 in, height: 2 in}"
HOLE = "holes: [{id: H, centre: [5 in, 5 in], diameter: 1 in%s}]"
BEAM = "keep_outs: [{id: BEAM, what: beam, behind: 8 in, corners: [[0 in, 0 in], [9 in, 0 in], [9 in, 1 in], [0 in, 1 in]]}]"


def panel(*fields: str) -> str:
    return "panel:\n" + "".join(f"  {field}\n" for field in fields)


@pytest.mark.parametrize(
    ("rule", "text", "message"),
    [
        ("bodies-apart", panel("items: []"), "no panel item is recorded"),
        ("letters-readable", panel("legends: []"), "no legend is recorded"),
        ("item-fitted", panel("items: []") + "weights: {components: []}\n", "no panel item is recorded"),
        (
            "words-on-sheet",
            panel(CROSSED, "legends: [{id: L, text: FUEL}]"),
            "the panel's outline has a border that crosses or touches itself; give the corners in order around it",
        ),
        (
            "tilt-clear",
            panel(TILTS, HOLE % "", RADIO % BODY),
            "nothing that is in the way behind the panel is recorded",
        ),
        (
            "compass-deviation",
            panel("compass: {centre: [20 in, 14 in, 2 in], earth_field: 20 uT}") + "electrical: {wires: []}\n",
            "no run of wire near the compass is recorded",
        ),
    ],
)
def test_what_is_missing_is_told_and_is_no_pass(rule: str, text: str, message: str) -> None:
    (found,) = findings(f"panel/{rule}", text)
    assert (found.verdict, found.message) == (NO_DATA, message)


@pytest.mark.parametrize(
    ("rule", "text", "message"),
    [
        (
            "service-loop",
            panel(HOLE % "", RADIO % BODY) + "electrical: {wires: []}\n",
            "the panel is not recorded as one that opens",
        ),
        (
            "service-loop",
            panel(TILTS, HOLE % "", RADIO % BODY) + "electrical: {wires: []}\n",
            "no wire leads from the panel to elsewhere",
        ),
        ("tilt-clear", panel(TILTS, BEAM, "items: [{id: CARD, kind: placard}]"), "nothing is mounted in the sheet"),
        (
            "flight-instrument-order",
            panel(HOLE % "", "items: [{id: ASI, kind: instrument, hole: H, provides: [airspeed]}]"),
            "no two of attitude, airspeed, altitude and direction are shown",
        ),
    ],
)
def test_what_there_is_not_is_not_asked_about(rule: str, text: str, message: str) -> None:
    (found,) = findings(f"panel/{rule}", text)
    assert (found.verdict, found.message) == (APART, message)


def test_an_item_without_its_size_is_told_and_the_others_are_judged() -> None:
    two = "items: [{id: RADIO, kind: radio, hole: H, depth: 5 in}, {id: AI, kind: instrument, hole: H2, depth: 3 in%s}]"
    holes = "holes: [{id: H, centre: [5 in, 5 in]}, {id: H2, centre: [12 in, 5 in], diameter: 1 in}]"
    found = {f.subject: f.verdict for f in findings("panel/tilt-clear", panel(TILTS, BEAM, holes, two % BODY))}
    assert found["RADIO"] is NO_DATA
    assert found["AI"] is not NO_DATA


def test_a_wire_to_an_item_without_its_size_cannot_be_measured() -> None:
    wire = """electrical:
  loads: [{id: RADIO, current: 1 A, nature: electronic}]
  buses: [{id: MAIN}]
  wires: [{id: W, from: MAIN, to: RADIO}]
"""
    for size, said in (("", NO_DATA), (BODY, NO_DATA)):
        holes = "holes: [{id: H, centre: [5 in, 5 in]}]"
        found = the_finding("panel/service-loop", panel(TILTS, holes, RADIO % size) + wire, "W")
        assert found.verdict is said
        assert found.message.startswith("RADIO: ") == (size == "")


def test_a_hole_in_a_sub_panel_without_an_outline_is_told_and_the_others_are_measured() -> None:
    holes = "holes: [{id: H, centre: [5 in, 5 in], diameter: 1 in}, {id: K, centre: [1 in, 1 in], diameter: 1 in, sheet: SUB}]"
    text = panel(SHEET, "sub_panels: [{id: SUB}]", "edge_distance: 1 in", holes)
    found = {finding.subject: finding for finding in findings("panel/hole-inside-outline", text)}
    assert found["H"].verdict is PASS
    assert (found["K"].verdict, found["K"].remedy) == (NO_DATA, "Record 'outline'.")
