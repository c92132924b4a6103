"""Lights, panels, joints, fuel and coats: one figure made better or worse moves a verdict in one direction only."""

from __future__ import annotations

import datetime
import math
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.properties.judgements import ORDER

from jurystrut.calculations.layout import Circle, Polygon, gap, inside_distance, rectangle
from jurystrut.calculations.light_arcs import uncovered, width
from jurystrut.calculations.solid_angles import Beam, Shadow, dark_solid_angle
from jurystrut.calculations.work_window import Hour, Needs, hindrances
from jurystrut.testing import the_finding

if TYPE_CHECKING:
    from jurystrut.calculations.layout import Point, Shape

some = settings(max_examples=60, derandomize=True, deadline=None, database=None)
DEGREES, EXTENT = st.integers(0, 359), st.integers(1, 200)


def no_worse(rule: str, before: str, after: str, subject: str = "X") -> None:
    """What a rule says of the second records is no worse than of the first."""
    one, other = (the_finding(rule, records, subject).verdict for records in (before, after))
    assert ORDER.index(other) <= ORDER.index(one), f"{rule}: {one.value} became {other.value}\n{before}{after}"


# -- lights ------------------------------------------------------------------------------------------------------------


def light(start: int, end: int, hidden: tuple[int, int] | None = None) -> str:
    blocked = f", blocked: [{hidden[0]}..{hidden[1]} deg]" if hidden else ""
    return f"""aircraft: {{name: T, authority: US, stage: operating, operations: [day-vfr, night-vfr]}}
lighting: {{lights: [{{id: X, function: position-right, covers: [{start}..{end} deg]{blocked}}}]}}
"""


@given(st.integers(-40, 40), st.integers(70, 150), st.integers(0, 30), st.integers(0, 30))
@some
def test_a_position_light_with_wider_arcs_never_fails_where_a_narrower_passed(
    start: int, end: int, left: int, right: int
) -> None:
    no_worse("lighting/position-arcs", light(start, end), light(start - left, end + right))


@given(st.integers(0, 100), st.integers(1, 10), st.integers(0, 20))
@some
def test_less_before_a_light_never_makes_it_worse(start: int, extent: int, more: int) -> None:
    small, large = light(-10, 120, (start, start + extent)), light(-10, 120, (start, start + extent + more))
    no_worse("lighting/position-arcs", large, small)
    no_worse("lighting/position-arcs", small, light(-10, 120))


@given(DEGREES, EXTENT, DEGREES, EXTENT, st.integers(0, 90), st.integers(0, 90))
@some
def test_more_light_leaves_no_more_dark_and_a_shadow_no_less(
    start: int, extent: int, other: int, more: int, low: int, high: int
) -> None:
    asked, lit, also = (0.0, 360.0), (float(start), float(start + extent)), (float(other), float(other + more))
    assert width(uncovered(asked, [lit, also])) <= width(uncovered(asked, [lit])) + 1e-9
    shadow = Shadow(also, float(-low), float(high))
    one, two = Beam((lit,)), Beam((also,))
    dark = dark_solid_angle(asked, -75, 75, [one])
    assert dark_solid_angle(asked, -75, 75, [one, two]) <= dark + 1e-9
    assert dark_solid_angle(asked, -75, 75, [Beam((lit,), (shadow,))]) >= dark - 1e-9


# -- the panel ---------------------------------------------------------------------------------------------------------

PLACES = st.tuples(st.floats(-20, 20), st.floats(-20, 20))
CIRCLES = st.builds(Circle, PLACES, st.floats(0.1, 3))
BOXES = st.builds(rectangle, PLACES, st.floats(0.2, 6), st.floats(0.2, 6))
SHAPES = st.one_of(CIRCLES, BOXES)


def moved(shape: Shape, turn: float, by: Point) -> Shape:
    """The shape turned about the corner of the sheet and moved."""

    def place(point: Point) -> Point:
        x, y = point
        return x * math.cos(turn) - y * math.sin(turn) + by[0], x * math.sin(turn) + y * math.cos(turn) + by[1]

    if isinstance(shape, Circle):
        return Circle(place(shape.centre), shape.radius)
    return Polygon(tuple(map(place, shape.corners)))


@given(SHAPES, SHAPES, st.floats(0, 6), PLACES)
@some
def test_metal_between_two_holes_is_the_same_wherever_the_sheet_lies(
    one: Shape, other: Shape, turn: float, by: Point
) -> None:
    between = gap(one, other)
    assert gap(other, one) == pytest.approx(between, abs=1e-7)
    if between > 1e-6:  # how deep two overlap is told along the sheet's own axes for some shapes
        assert gap(moved(one, turn, by), moved(other, turn, by)) == pytest.approx(between, abs=1e-6)


@given(CIRCLES, SHAPES, st.floats(0.01, 2))
@some
def test_a_larger_hole_never_leaves_more_metal(one: Circle, other: Shape, more: float) -> None:
    larger = Circle(one.centre, one.radius + more)
    assert gap(larger, other) <= gap(one, other) + 1e-9
    sheet = rectangle((0, 0), 60, 60)
    assert inside_distance(larger, sheet) == pytest.approx(inside_distance(one, sheet) - more, abs=1e-6)


# -- joints and fuel ---------------------------------------------------------------------------------------------------


def joint(parts: float, washers: int, edge: float = 0.6) -> str:
    under = ", ".join(["AN960-416"] * washers)
    fields = f"stack: [{parts:.4f} in], gap: 0 in, bolt: AN4-15A, nut: AN365-428A, nut_washers: [{under}]"
    return f"hardware: {{joints: [{{id: X, {fields}, edge_distance: {edge:.3f} in}}]}}\n"


@given(st.floats(0.9, 1.5), st.integers(1, 3))
@some
def test_one_more_washer_helps_a_long_grip_and_hurts_a_short_one(parts: float, washers: int) -> None:
    fewer, more = joint(parts, washers), joint(parts, washers + 1)
    no_worse("hardware/grip", fewer, more)
    for rule in ("hardware/threads-in-hole", "hardware/bolt-length", "hardware/washers-under-nut"):
        no_worse(rule, more, fewer)


@given(st.floats(0.2, 1), st.floats(0, 0.5))
@some
def test_a_hole_farther_from_the_edge_is_never_worse(edge: float, more: float) -> None:
    no_worse("hardware/edge-distance", joint(1.1, 1, edge), joint(1.1, 1, edge + more))


def flowing(flow: float, pitch: float, power: float) -> str:
    return f"""aircraft: {{name: T, authority: US, stage: operating, engine: {{power: {power:.2f} hp, fuel_feed: gravity}}}}
fuel:
  specific_consumption: 0.55 lb/hp/h
  density: 6 lb/US gal
  climb_angle: 10 deg
  flow_tests: [{{id: X, flow: {flow:.3f} US gal/h, feed: gravity, pitch: {pitch:.2f} deg}}]
"""


@given(st.floats(5, 20), st.floats(0, 25), st.floats(60, 130), st.floats(0, 10))
@some
def test_more_flow_nose_higher_and_less_power_are_never_worse(
    flow: float, pitch: float, power: float, by: float
) -> None:
    no_worse("fuel/flow", flowing(flow, pitch, power), flowing(flow + by, pitch, power))
    no_worse("fuel/flow", flowing(flow, pitch, power + by), flowing(flow, pitch, power))
    no_worse("fuel/flow-attitude", flowing(flow, pitch, power), flowing(flow, pitch + by, power))


# -- coats -------------------------------------------------------------------------------------------------------------


@given(st.floats(5, 35), st.floats(0.3, 0.95), st.floats(0, 0.25), st.integers(0, 3))
@some
def test_drier_air_and_a_shorter_cure_never_forbid_a_coat(
    celsius: float, humidity: float, drier: float, hours: int
) -> None:
    start = datetime.datetime(2026, 5, 2, 8)  # noqa: DTZ001 - local time, as the forecast has it

    def forbidden(wet: float, cure: int) -> bool:
        day = [Hour(start + datetime.timedelta(hours=h), celsius - h, wet) for h in range(5)]
        return bool(hindrances(day, 0, Needs((15.0, 30.0), None, 3.0, None, datetime.timedelta(hours=cure), 10.0)))

    assert forbidden(humidity, hours) >= forbidden(humidity - drier, hours)
    assert forbidden(humidity, hours + 1) >= forbidden(humidity, hours)
