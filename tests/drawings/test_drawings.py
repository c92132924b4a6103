"""Drawings: true to the figures they are given, whole, and safe whatever words they hold.

A drawing is read back as XML by the standard library's parser, and its places are compared with geometry worked by hand.
"""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jurystrut.drawings.cg_envelope import Mark, Track, cg_envelope
from jurystrut.drawings.light_arcs import Ring, light_arcs
from jurystrut.drawings.load_chart import Phase, load_chart
from jurystrut.drawings.one_line import Node, one_line, rows_of
from jurystrut.drawings.panel_front import Place, panel_front
from jurystrut.drawings.scales import ticks
from jurystrut.drawings.svg import Svg, drawing, text

SQUARE = ((700.0, 10.0), (1300.0, 10.0), (1300.0, 16.0), (700.0, 16.0))
HOSTILE = "<script>alert(1)</script>\"' & ]]> \x00\u202e"


def read_back(svg: str) -> ET.Element:
    return ET.fromstring(svg)  # noqa: S314 - our own drawing


def of_class(root: ET.Element, look: str) -> list[ET.Element]:
    return [element for element in root.iter() if look in element.get("class", "").split()]


def points(element: ET.Element) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (pair.split(",") for pair in element.get("points", "").split())]


def test_a_loading_lies_where_its_weight_and_arm_put_it() -> None:
    """The middle of a rectangle of weight and arm is the middle of its picture."""
    middle = Track(1, (Mark("at landing", 1000.0, 13.0),))
    root = read_back(cg_envelope("e", SQUARE, [middle], ("lb", "in")))
    (area,) = of_class(root, "area")
    corners = points(area)
    x = sum(p[0] for p in corners) / 4
    y = sum(p[1] for p in corners) / 4
    disc = next(e for e in of_class(root, "solid") if e.tag == "circle" and float(e.get("cy", "0")) > 20)
    assert (float(disc.get("cx", "")), float(disc.get("cy", ""))) == pytest.approx((x, y), abs=0.02)


def test_heavier_is_higher_and_aft_is_right() -> None:
    track = Track(1, (Mark("at landing", 800.0, 11.0), Mark("at landing", 1200.0, 15.0)))
    line = of_class(read_back(cg_envelope("e", SQUARE, [track], ("lb", "in"))), "track")[0]
    (x1, y1), (x2, y2) = points(line)
    assert x2 > x1
    assert y2 < y1


def test_corners_joined_in_moment_make_a_curved_limit() -> None:
    """Straight in moment from 600 at 10 to 1200 at 16: half way the arm is (6000 + 19200) / 2 / 900 = 14, not 13."""
    corners = ((600.0, 10.0), (1200.0, 16.0), (1200.0, 20.0), (600.0, 20.0))
    straight, curved = (
        points(of_class(read_back(cg_envelope("e", corners, [], ("lb", "in"), joined)), "area")[0])
        for joined in ("arm", "moment")
    )
    assert len(straight) == 4
    (x0, y0), (x1, y1) = curved[0], curved[16]
    x_half, y_half = curved[8]
    assert y_half == pytest.approx((y0 + y1) / 2, abs=0.02)
    assert (x_half - x0) / (x1 - x0) == pytest.approx((14 - 10) / (16 - 10), abs=0.001)


@given(st.floats(0.001, 1e6), st.floats(0.001, 1e6))
def test_ticks_cover_and_are_few(low: float, length: float) -> None:
    marks = ticks(low, low + length)
    assert marks[0] <= low * (1 + 1e-6)
    assert marks[-1] >= (low + length) * (1 - 1e-6)
    assert 2 <= len(marks) <= 9


def test_bars_are_as_long_as_their_current() -> None:
    root = read_back(load_chart("c", [Phase("taxi", 10.0, 32.0), Phase("climb", 20.0)]))
    short, long = (float(bar.get("width", "")) for bar in of_class(root, "bar"))
    assert long == pytest.approx(2 * short, abs=0.02)
    (limit,) = of_class(root, "limit")
    bar = of_class(root, "bar")[0]
    assert float(limit.get("x1", "")) - float(bar.get("x", "")) == pytest.approx(3.2 * short, abs=0.05)


def test_a_gap_in_the_light_is_drawn_dark_at_its_bearing() -> None:
    """A left light that begins at 270 where 250 to 360 is asked leaves 250 to 270 dark."""
    root = read_back(light_arcs("l", [Ring("position left", "red", (250, 360), ((270, 360),))]))
    (dark,) = [e for e in of_class(root, "dark-gap") if e.tag == "path"]
    start, end = dark.get("d", "").lstrip("M").split("A")[0].split(), dark.get("d", "").split()[-2:]
    bearings = [math.degrees(math.atan2(float(x) - 216, 205 - float(y))) % 360 for x, y in (start, end)]
    assert bearings == pytest.approx([250, 270], abs=0.1)
    assert "90 of 110 deg lit" in "".join(root.itertext())


def test_the_panel_is_to_scale() -> None:
    """40 in of sheet on 668 units: a 3-1/8 in hole is 3.125 / 40 * 668 = 52.19 across."""
    outline = [(0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (0.0, 10.0)]
    root = read_back(panel_front("p", outline, [Place("1", (20.0, 5.0), diameter=3.125)]))
    (hole,) = of_class(root, "hole")
    assert 2 * float(hole.get("r", "")) == pytest.approx(52.19, abs=0.02)
    assert float(hole.get("cx", "")) == pytest.approx(350, abs=0.01)


def tree(width: int, depth: int) -> Node:
    if not depth:
        return Node("load", "L", "1 A")
    return Node("protection", "F", "5 A", "W1 20 AWG", tuple(tree(width, depth - 1) for _ in range(width)))


def test_every_branch_has_a_row_of_its_own() -> None:
    root = Node("bus", "MAIN", children=tuple(tree(2, 2) for _ in range(6)))
    assert rows_of(root) == 24
    rows = [
        circle.get("cy") for circle in of_class(read_back(one_line("o", "t", root)), "device") if circle.tag == "circle"
    ]
    assert len(rows) == len(set(rows)) == 24


def test_no_two_words_of_a_diagram_overlap() -> None:
    root = Node("bus", "MAIN", "60 A", children=tuple(tree(2, 3) for _ in range(3)))
    boxes = [
        box_of(element) for element in read_back(one_line("o", "t", root)).iter("text") if (element.text or "").strip()
    ]
    hits = [(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :] if overlap(a, b)]
    assert not hits


def box_of(element: ET.Element) -> tuple[float, float, float, float]:
    size, words = float(element.get("font-size", "")), element.text or ""
    x, y = float(element.get("x", "")), float(element.get("y", ""))
    return x, y - 0.75 * size, x + 0.56 * size * len(words), y + 0.1 * size


def overlap(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def test_a_chain_as_long_as_the_records_like_is_drawn() -> None:
    node = Node("load", "L")
    for _ in range(5000):
        node = Node("junction", "J", children=(node,))
    assert one_line("o", "t", node)


@given(st.text())
def test_words_stay_words(words: str) -> None:
    root = read_back(drawing("d", 10, 10, words, words, [text((1, 1), words)]))
    assert {element.tag for element in root.iter()} <= {"svg", "title", "desc", "text"}


def test_hostile_words_stay_words_in_every_drawing() -> None:
    drawings = [
        cg_envelope("e", SQUARE, [Track(1, (Mark(HOSTILE, 1000, 12),))], (HOSTILE, HOSTILE)),
        load_chart("c", [Phase(HOSTILE, 1.0)]),
        light_arcs("l", [Ring(HOSTILE, HOSTILE, None, ())]),
        panel_front("p", [(0, 0), (40, 0), (40, 10)], [Place(HOSTILE, (1, 1), 1)]),
        one_line("o", HOSTILE, Node("bus", HOSTILE, HOSTILE, children=(Node("load", HOSTILE, HOSTILE, HOSTILE),))),
    ]
    for svg in drawings:
        assert type(svg) is Svg
        tags = {element.tag for element in read_back(svg).iter()}
        assert "script" not in tags
        assert "<script" not in svg


@pytest.mark.parametrize("value", [math.nan, math.inf])
def test_a_figure_that_is_none_is_refused(value: float) -> None:
    with pytest.raises(ValueError, match="not finite"):
        text((value, 0), "x")
