"""Bodies behind the panel, its tilt and its service loops; distances are plane geometry, worked out beside each case."""

from __future__ import annotations

import math

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "shapely": "panel/bodies-apart panel/bodies-clear-structure panel/tilt-clear",
    "own arithmetic": "panel/service-loop",
}

AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating}\n"


def panel(*fields: str, **lists: list[str]) -> str:
    """Line 1 the aircraft, line 2 the section; each list opens a line, each record has its own; fields come last."""
    text = AIRCRAFT + "panel:\n"
    for name, records in lists.items():
        text += f" {name}:" + ("".join(f"\n  - {{{record}}}" for record in records) or " []") + "\n"
    return text + "".join(f" {field}\n" for field in fields)


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"panel/{rule}", text)
    return finding


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


def amounts(finding: Finding) -> tuple[float, float]:
    assert finding.measured is not None
    assert finding.limit is not None
    return finding.measured.value, finding.limit.value


HOLES = ["id: HA, centre: [2 in, 3 in], diameter: 1 in", "id: HB, centre: [5 in, 3 in], diameter: 1 in"]

# panel/bodies-apart: two bodies 2 in wide, centres 3 in apart: 1 in of room


def two_bodies(width: str, *fields: str, more: str = "") -> str:
    items = [
        f"id: A, kind: radio, hole: HA, depth: 5 in, body: {{width: {width}, height: 2 in{more}}}",
        "id: B, kind: radio, hole: HB, depth: 5 in, body: {width: 2 in, height: 2 in}",
    ]
    return panel(*fields, holes=HOLES, items=items)


def apart(text: str) -> Finding:
    return the_finding("panel/bodies-apart", text, "A")


def test_bodies_apart_pass() -> None:
    finding = apart(two_bodies("2.6 in", "clearance: 0.25 in"))  # 3 - 1.3 - 1
    assert (finding.verdict, finding.message) == (Verdict.PASS, "0.700 in of room to B")


def test_bodies_exactly_at_the_clearance_pass() -> None:
    finding = apart(two_bodies("3.5 in", "clearance: 0.25 in"))  # 3 - 1.75 - 1
    assert finding.verdict is Verdict.PASS
    assert amounts(finding) == pytest.approx((0.25, 0.25))


def test_bodies_just_too_close_fail() -> None:
    finding = apart(two_bodies("3.6 in", "clearance: 0.25 in"))
    assert finding.verdict is Verdict.FAIL
    assert amounts(finding) == pytest.approx((0.2, 0.25))
    assert finding.margin == pytest.approx(-0.2)
    assert lines(finding) == [7, 8]
    assert finding.remedy == "Move it 0.050 in or more away from B."


def test_bodies_that_touch_pass_and_that_overlap_fail_without_a_clearance() -> None:
    assert apart(two_bodies("4 in")).verdict is Verdict.PASS
    finding = apart(two_bodies("4.1 in"))
    assert (finding.verdict, finding.message) == (Verdict.FAIL, "its body runs 0.050 in into B")


def test_a_body_beside_the_middle_of_its_hole() -> None:
    assert apart(two_bodies("2 in", more=", offset: [0.4 in, 0 in]")).message == "0.600 in of room to B"


def test_a_body_that_is_not_recorded_is_as_wide_as_its_hole_unless_it_comes_from_the_rear() -> None:
    items = ["id: A, kind: lamp, hole: HA", "id: B, kind: lamp, hole: HB, mounted: rear"]
    found = {f.subject: f.verdict for f in findings("panel/bodies-apart", panel(holes=HOLES, items=items))}
    assert found == {"A": Verdict.PASS, "B": Verdict.NO_DATA}


@pytest.mark.parametrize(
    "item", ["id: A, kind: lamp", "id: A, kind: lamp, hole: HA, body: {width: 1 in}", "id: A, kind: lamp, hole: HC"]
)
def test_bodies_no_data(item: str) -> None:
    text = panel(holes=[*HOLES, "id: HC, centre: [1 in, 1 in]"], items=[item])
    assert one("bodies-apart", text).verdict is Verdict.NO_DATA


# panel/bodies-clear-structure: a zone 4 in behind the sheet, over the whole of it


def before_a_tube(depth: str, *fields: str, zone: str = "behind: 4 in") -> str:
    tube = f"id: K, what: tube, corners: [[0 in, 0 in], [9 in, 0 in], [9 in, 9 in], [0 in, 9 in]], {zone}"
    return panel(*fields, holes=HOLES[:1], items=[f"id: A, kind: radio, hole: HA{depth}"], keep_outs=[tube])


def clear(depth: str, *fields: str, zone: str = "behind: 4 in") -> Finding:
    return one("bodies-clear-structure", before_a_tube(depth, *fields, zone=zone))


def test_a_short_body_clears_the_tube() -> None:
    finding = clear(", depth: 3.5 in", "clearance: 0.25 in")
    assert (finding.verdict, finding.message) == (Verdict.PASS, "0.500 in of room to K (tube)")


def test_a_body_exactly_at_the_clearance_of_the_tube_passes() -> None:
    assert clear(", depth: 3.75 in", "clearance: 0.25 in").verdict is Verdict.PASS


def test_a_body_just_too_near_the_tube_fails() -> None:
    finding = clear(", depth: 3.8 in", "clearance: 0.25 in")
    assert finding.verdict is Verdict.FAIL
    assert amounts(finding) == pytest.approx((0.2, 0.25))
    assert lines(finding) == [6, 8]


def test_the_room_for_connectors_counts() -> None:
    finding = clear(", depth: 3 in, connector: 1.5 in")
    assert (finding.verdict, finding.message) == (Verdict.FAIL, "it runs 0.500 in into K (tube)")


def test_a_zone_that_ends_before_a_body_begins_is_no_zone_behind_it() -> None:
    beside = "id: K, what: tube, corners: [[2.8 in, 0 in], [9 in, 0 in], [9 in, 9 in], [2.8 in, 9 in]], behind: 0 in"
    text = panel(holes=HOLES[:1], items=["id: A, kind: radio, hole: HA, depth: 3 in"], keep_outs=[beside])
    finding = one("bodies-clear-structure", text)
    assert finding.message == "0.300 in of room to K (tube)"  # 2.8 - 2 - 0.5


def test_room_slantwise_past_an_edge() -> None:
    # 0.3 in beside and 0.4 in deep of it: 0.5 in
    beside = "id: K, what: tube, corners: [[2.8 in, 0 in], [9 in, 0 in], [9 in, 9 in], [2.8 in, 9 in]], behind: 3.4 in"
    text = panel(holes=HOLES[:1], items=["id: A, kind: radio, hole: HA, depth: 3 in"], keep_outs=[beside])
    assert one("bodies-clear-structure", text).message == "0.500 in of room to K (tube)"


def test_clear_no_data() -> None:
    assert clear("").verdict is Verdict.NO_DATA
    assert one("bodies-clear-structure", panel(holes=HOLES, items=[])).verdict is Verdict.NO_DATA
    crossed = "id: K, what: tube, corners: [[0 in, 0 in], [1 in, 1 in], [1 in, 0 in], [0 in, 1 in]], behind: 1 in"
    finding = the_finding("panel/bodies-clear-structure", panel(holes=HOLES, items=[], keep_outs=[crossed]), "K")
    assert finding.verdict is Verdict.NO_DATA
    assert "crosses or touches itself" in finding.message


# panel/tilt-clear: a body whose far upper corner is 5 in from the hinge (3 up, 4 behind), and a ledge above it. The corner
# swings up to 5 in above the hinge, so a ledge at 5.25 in leaves 0.25 in.

LEDGE = "id: K, what: ledge, corners: [[0 in, {0}], [9 in, {0}], [9 in, 9 in], [0 in, 9 in]], behind: 0 in, until: 9 in"


def tilting(
    ledge: str, *fields: str, opening: str = "way: tilts, hinge: bottom, hinge_at: 0 in, angle: 90 deg"
) -> Finding:
    item = "id: A, kind: radio, hole: HA, depth: 4 in, body: {width: 1 in, height: 1 in}"
    holes = ["id: HA, centre: [2 in, 2.5 in], diameter: 1 in"]
    text = panel(*fields, f"opening: {{{opening}}}", holes=holes, items=[item], keep_outs=[LEDGE.format(ledge)])
    return one("tilt-clear", text)


def test_a_panel_that_tilts_freely_passes() -> None:
    finding = tilting("5.5 in", "clearance: 0.25 in")
    assert (finding.verdict, finding.message) == (
        Verdict.PASS,
        "while the panel tilts: 0.500 in of room to K (ledge)",
    )


def test_a_tilt_exactly_at_the_clearance_passes() -> None:
    finding = tilting("5.25 in", "clearance: 0.25 in")
    assert finding.verdict is Verdict.PASS
    assert amounts(finding) == pytest.approx((0.25, 0.25))


def test_a_tilt_just_too_close_fails() -> None:
    finding = tilting("5.2 in", "clearance: 0.25 in")
    assert finding.verdict is Verdict.FAIL
    assert amounts(finding) == pytest.approx((0.2, 0.25))
    assert lines(finding) == [6, 8, 10]


def test_what_clears_the_closed_panel_may_be_hit_while_it_tilts() -> None:
    finding = tilting("4.8 in")
    assert finding.verdict is Verdict.FAIL
    assert finding.message.startswith("while the panel tilts: it runs at least 0.")
    assert amounts(finding)[0] == pytest.approx(-0.2, abs=0.005)  # the depth is the greatest one met


def test_a_small_tilt_does_not_bring_the_corner_to_the_top() -> None:
    # Tilted by 20 degrees the corner is 5 sin(atan(3/4) + 20 deg) = 4.187 in up.
    found = tilting("4.8 in", opening="way: tilts, hinge: bottom, hinge_at: 0 in, angle: 20 deg")
    height = 5 * math.sin(math.atan2(3, 4) + math.radians(20))
    assert amounts(found)[0] == pytest.approx(4.8 - height)


def test_a_hinge_at_the_top_swings_the_body_down() -> None:
    assert tilting("5.2 in", opening="way: tilts, hinge: top, hinge_at: 5 in, angle: 90 deg").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("hinge", "ledge"),
    [
        # 1 to 2 in above the hinge, 4 behind: the corner swings sqrt(20) in = 4.472 up, to 5.472.
        ("bottom, hinge_at: 1 in", ((0.0, 5.722), (9.0, 9.0))),
        # 1 to 2 in right of the hinge: to 4.972.
        ("left, hinge_at: 0.5 in", ((5.222, 0.0), (9.0, 9.0))),
        # 2 to 3 in below the hinge: 5 in down, to 0.
        ("top, hinge_at: 5 in", ((0.0, -9.0), (9.0, -0.25))),
        # 2 to 3 in left of the hinge: 5 in to the left, to -0.5.
        ("right, hinge_at: 4.5 in", ((-9.0, 0.0), (-0.75, 9.0))),
    ],
)
def test_where_the_hinge_is_decides_where_the_body_swings(
    hinge: str, ledge: tuple[tuple[float, float], tuple[float, float]]
) -> None:
    (left, low), (right, high) = ledge
    corners = ", ".join(f"[{x} in, {y} in]" for x, y in ((left, low), (right, low), (right, high), (left, high)))
    text = panel(
        f"opening: {{way: tilts, hinge: {hinge}, angle: 90 deg}}",
        "clearance: 0.25 in",
        holes=["id: HA, centre: [2 in, 2.5 in], diameter: 1 in"],
        items=["id: A, kind: radio, hole: HA, depth: 4 in, body: {width: 1 in, height: 1 in}"],
        keep_outs=[f"id: K, what: ledge, corners: [{corners}], behind: 0 in, until: 9 in"],
    )
    assert amounts(one("tilt-clear", text)) == pytest.approx((0.25, 0.25), abs=1e-3)


@pytest.mark.parametrize("opening", ["way: tilts, hinge: bottom, hinge_at: 0 in", "way: tilts"])
def test_tilt_no_data(opening: str) -> None:
    assert tilting("5 in", opening=opening).verdict is Verdict.NO_DATA
    assert one("tilt-clear", panel("opens: true", holes=HOLES, items=[])).verdict is Verdict.NO_DATA


@pytest.mark.parametrize("field", ["opens: false", "opening: {way: fixed}", "opening: {way: comes-out, travel: 9 in}"])
def test_tilt_does_not_apply_to_a_panel_that_does_not_tilt(field: str) -> None:
    assert one("tilt-clear", panel(field, holes=HOLES, items=[])).verdict is Verdict.NOT_APPLICABLE


# panel/service-loop: a panel that comes out by 6 in, and a wire 20 in long

WIRES = """\
electrical:
 buses: [{id: MAIN}]
 protection: [{id: B1, kind: breaker, rating: 5 A}, {id: B2, kind: breaker, rating: 5 A}]
 bundles: [{id: BU%s}]
 wires:
  - {id: W, from: MAIN, to: B1%s}
  - {id: X, from: B1, to: B2, length: 3 in}
"""


def loop(wire: str, bundle: str = "", opening: str = "way: comes-out, travel: 6 in") -> Finding:
    items = ["id: B1, kind: breaker, hole: HA, depth: 4 in", "id: B2, kind: breaker, hole: HB, depth: 4 in"]
    return one("service-loop", panel(f"opening: {{{opening}}}", holes=HOLES, items=items) + WIRES % (bundle, wire))


def test_a_wire_with_a_loop_passes() -> None:
    finding = loop(", length: 20 in, route: 13 in")
    assert (finding.verdict, finding.message) == (
        Verdict.PASS,
        "7.0 in to spare; B1 is carried 6.0 in as the panel opens",
    )


def test_a_wire_with_exactly_enough_passes() -> None:
    assert loop(", length: 20 in, route: 14 in").verdict is Verdict.PASS


def test_a_wire_just_too_short_fails() -> None:
    finding = loop(", length: 20 in, route: 14.1 in")
    assert finding.verdict is Verdict.FAIL
    assert amounts(finding) == pytest.approx((5.9, 6))
    assert lines(finding) == [15, 7, 9]


def test_a_bundle_tells_what_its_wires_have_to_spare() -> None:
    assert loop(", length: 20 in, bundle: BU", ", service_loop: 6 in").verdict is Verdict.PASS
    assert loop(", length: 20 in, bundle: BU", ", service_loop: 5.9 in").verdict is Verdict.FAIL


def test_a_tilt_carries_an_item_along_a_chord() -> None:
    # The upper corner, 3.5 in up and 4 in behind, turns by 60 degrees: as far as it is from the hinge.
    finding = loop(", length: 20 in, route: 14 in", opening="way: tilts, hinge: bottom, hinge_at: 0 in, angle: 60 deg")
    assert amounts(finding)[1] == pytest.approx(math.hypot(3.5, 4))


def test_service_loop_no_data() -> None:
    assert loop(", length: 20 in").verdict is Verdict.NO_DATA
    assert loop(", length: 20 in, route: 1 in", opening="way: comes-out").verdict is Verdict.NO_DATA


def test_service_loop_does_not_apply_to_a_fixed_panel() -> None:
    assert loop(", length: 20 in", opening="way: fixed").verdict is Verdict.NOT_APPLICABLE


def test_what_a_short_wire_lacks_is_told() -> None:
    assert loop(", length: 20 in, route: 14.1 in").remedy == "Make it 0.1 in longer."


def test_a_wire_led_from_the_panel_is_asked_like_one_led_to_it() -> None:
    items = ["id: B1, kind: breaker, hole: HA, depth: 4 in", "id: B2, kind: breaker, hole: HB, depth: 4 in"]
    records = panel("opening: {way: comes-out, travel: 6 in}", holes=HOLES, items=items)
    wires = WIRES % ("", ", length: 20 in, route: 13 in")
    back = wires.replace("from: MAIN, to: B1", "from: B1, to: MAIN")
    assert one("service-loop", records + back).message == one("service-loop", records + wires).message
    # A wire that stays behind the panel, first in the list, hides none that comes after it.
    first = wires.replace(" wires:\n", " wires:\n  - {id: V, from: MAIN, to: MAIN, length: 3 in}\n")
    assert [f.subject for f in findings("panel/service-loop", records + first)] == ["W"]


MIRRORED = {
    "bottom": ("[2 in, 2.5 in]", "[[0 in, {0} in], [9 in, {0} in], [9 in, 9 in], [0 in, 9 in]]", 1),
    "top": ("[2 in, -2.5 in]", "[[0 in, {0} in], [9 in, {0} in], [9 in, -9 in], [0 in, -9 in]]", -1),
    "left": ("[2.5 in, 2 in]", "[[{0} in, 0 in], [{0} in, 9 in], [9 in, 9 in], [9 in, 0 in]]", 1),
    "right": ("[-2.5 in, 2 in]", "[[{0} in, 0 in], [{0} in, 9 in], [-9 in, 9 in], [-9 in, 0 in]]", -1),
}
"""The body and the ledge of `tilting`, mirrored so that the hinge lies along another side of the panel."""


@pytest.mark.parametrize("hinge", MIRRORED)
@pytest.mark.parametrize(("ledge", "room"), [(5.5, 0.5), (5.2, 0.2)])
def test_whichever_side_the_hinge_is_on_the_free_side_swings_out(hinge: str, ledge: float, room: float) -> None:
    centre, corners, sign = MIRRORED[hinge]
    item = "id: A, kind: radio, hole: HA, depth: 4 in, body: {width: 1 in, height: 1 in}"
    zone = f"id: K, what: ledge, corners: {corners.format(sign * ledge)}, behind: 0 in, until: 9 in"
    opening = f"opening: {{way: tilts, hinge: {hinge}, hinge_at: 0 in, angle: 90 deg}}"
    text = panel(opening, holes=[f"id: HA, centre: {centre}, diameter: 1 in"], items=[item], keep_outs=[zone])
    assert amounts(one("tilt-clear", text))[0] == pytest.approx(room)


def test_an_item_without_a_depth_hides_no_other_while_the_panel_tilts() -> None:
    items = [
        "id: Z, kind: radio, hole: HB",
        "id: A, kind: radio, hole: HA, depth: 4 in, body: {width: 1 in, height: 1 in}",
    ]
    holes = ["id: HA, centre: [2 in, 2.5 in], diameter: 1 in", "id: HB, centre: [7 in, 2.5 in], diameter: 1 in"]
    opening = "opening: {way: tilts, hinge: bottom, hinge_at: 0 in, angle: 90 deg}"
    text = panel(opening, holes=holes, items=items, keep_outs=[LEDGE.format("5.5 in")])
    found = {f.subject: f.verdict for f in findings("panel/tilt-clear", text)}
    assert found == {"Z": Verdict.NO_DATA, "A": Verdict.PASS}


def test_of_two_zones_the_nearer_one_is_told() -> None:
    far = "id: FAR, what: tube, corners: [[0 in, 0 in], [9 in, 0 in], [9 in, 9 in], [0 in, 9 in]], behind: 6 in"
    for zones in ([LEDGE.format("5.5 in"), far], [far, LEDGE.format("5.5 in")]):
        item = "id: A, kind: radio, hole: HA, depth: 4 in, body: {width: 1 in, height: 1 in}"
        text = panel(
            "opening: {way: tilts, hinge: bottom, hinge_at: 0 in, angle: 90 deg}",
            holes=["id: HA, centre: [2 in, 2.5 in], diameter: 1 in"],
            items=[item],
            keep_outs=zones,
        )
        assert one("tilt-clear", text).message == "while the panel tilts: 0.500 in of room to K (ledge)"
