"""Drawings for the cutter: written and read again, edited by a general CAD library, and drawn in other ways by hand."""

from __future__ import annotations

import math
import random
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from ezdxf.filemanagement import new, readfile

from jurystrut.cli import main
from jurystrut.errors import UsageError
from jurystrut.panel_drawing.commands import drawn
from jurystrut.panel_drawing.comparing import Comparison, compare
from jurystrut.panel_drawing.contours import Contour, recorded_contours
from jurystrut.panel_drawing.dxf import read_dxf, write_dxf
from jurystrut.panel_drawing.svg import read_svg
from jurystrut.testing import project_of

if TYPE_CHECKING:
    from jurystrut.records.panel import Panel
    from jurystrut.records.project import Project

EXAMPLE = Path(__file__).parents[2] / "project_example"

RECORDS = """\
panel:
  outline: [[0 in, 0 in], [12 in, 0 in], [12 in, 6 in], [10 in, 7 in], [0 in, 7 in]]
  holes:
    - {id: ROUND, centre: [2 in, 3 in], diameter: 3-1/8 in, screws: [[1.8 in, 0 in], [0 in, -1.8 in]], screw_diameter: 0.16 in}
    - {id: BOX, centre: [6 in, 3 in], width: 2 in, height: 1 in}
    - {id: FLAT, centre: [8.5 in, 3 in], diameter: 0.5 in, across_flat: 0.43 in, flat: left}
    - {id: ODD, centre: [10 in, 5 in], corners: [[9 in, 4.5 in], [11 in, 4.5 in], [10 in, 6 in]]}
    - {id: ON-PLATE, centre: [3 in, 3 in], diameter: 0.5 in, sheet: PLATE}
  sub_panels: [{id: PLATE, outline: [[1 in, 1 in], [5 in, 1 in], [5 in, 5 in], [1 in, 5 in]]}]
  items:
    - {id: A, kind: instrument, hole: ROUND, bezel: {diameter: 3.3 in}}
    - {id: B, kind: radio, hole: BOX, bezel: {width: 2.2 in, height: 1.2 in}}
  legends: [{id: L, text: MASTER, centre: [6 in, 1 in], letter_height: 0.14 in}]
  keep_outs: [{id: K, what: tube, corners: [[0 in, 6 in], [9 in, 6 in], [9 in, 7 in]], behind: 3 in}]
"""
NAMES = {"outline", "ROUND", "ROUND screw 1", "ROUND screw 2", "BOX", "FLAT", "ODD"}


def panel_of(project: Project) -> Panel:
    panel: Panel = project.sections["panel"]
    return panel


PANEL = panel_of(project_of(RECORDS))


def written(folder: Path, text: str | None = None) -> Path:
    path = folder / "panel.dxf"
    path.write_text(text or drawn(project_of(RECORDS), None), encoding="utf-8")
    return path


def held(path: Path, tolerance: float = 0.001, **options: Any) -> Comparison:
    contours = read_svg(path, **options) if path.suffix == ".svg" else read_dxf(path, **options).contours
    return compare(recorded_contours(PANEL), contours, tolerance)


def names(comparison: Comparison) -> set[str]:
    return {difference.name for difference in comparison.differences}


def test_what_is_written_and_read_again_does_not_differ(tmp_path: Path) -> None:
    comparison = held(written(tmp_path), tolerance=1e-4)
    assert comparison == Comparison((), len(NAMES), (0.0, 0.0))


def test_a_plain_cad_library_sees_the_recorded_figures(tmp_path: Path) -> None:
    document = readfile(written(tmp_path))
    assert document.units == 1  # inches
    cut = document.modelspace().query('*[layer=="CUT"]')
    circles = {
        (round(c.dxf.center.x, 6), round(c.dxf.center.y, 6), round(c.dxf.radius, 6)) for c in cut.query("CIRCLE")
    }
    assert circles == {(2, 3, 1.5625), (3.8, 3, 0.08), (2, 1.2, 0.08)}
    assert len(cut.query("LWPOLYLINE")) == 4
    (text,) = document.modelspace().query("TEXT")
    assert (text.dxf.layer, text.dxf.text, text.dxf.height) == ("ENGRAVE", "MASTER", 0.14)
    assert len(document.modelspace().query('*[layer=="REFERENCE"]')) == 3


def test_random_panels_come_back_as_they_went(tmp_path: Path) -> None:
    chance = random.Random(4)
    for _ in range(5):
        holes = []
        for place in range(40):
            x, y, size = 1.5 + 3 * (place % 8), 1.5 + 3 * (place // 8), chance.uniform(0.2, 2.5)
            shape = chance.choice(
                [
                    f"diameter: {size:.4f} in",
                    f"width: {size:.4f} in, height: {chance.uniform(0.2, 2.5):.4f} in",
                    f"diameter: {size:.4f} in, across_flat: {size * chance.uniform(0.3, 0.95):.4f} in, flat: right",
                ]
            )
            holes.append(f"{{id: H{place}, centre: [{x + chance.uniform(-0.1, 0.1):.4f} in, {y:.4f} in], {shape}}}")
        outline = "[[0 in, 0 in], [25 in, 0 in], [25 in, 16 in], [0 in, 16 in]]"
        panel = panel_of(project_of(f"panel: {{outline: {outline}, holes: [{', '.join(holes)}]}}"))
        recorded = recorded_contours(panel)
        path = written(tmp_path, write_dxf(recorded, panel))
        assert compare(recorded, read_dxf(path).contours, 1e-4) == Comparison((), 41, (0.0, 0.0))


def test_exactly_the_holes_that_were_edited_are_told(tmp_path: Path) -> None:
    path = written(tmp_path)
    document = readfile(path)
    space: Any = document.modelspace()
    for circle in space.query('CIRCLE[layer=="CUT"]'):
        if circle.dxf.radius > 1:
            circle.dxf.radius += 0.01
        elif circle.dxf.center.y > 2:
            circle.translate(0.05, 0, 0)
        else:
            space.delete_entity(circle)
    (box,) = (line for line in space.query('LWPOLYLINE[layer=="CUT"]') if tuple(line[0])[:2] == (5, 2.5))
    box.translate(0, 0.004, 0)
    space.add_circle((9, 1), 0.2, dxfattribs={"layer": "CUT"})
    space.add_circle((9, 1), 0.4, dxfattribs={"layer": "REFERENCE"})
    document.saveas(path)
    comparison = held(path)
    assert names(comparison) == {"ROUND", "ROUND screw 1", "ROUND screw 2", "BOX", "not recorded"}
    words = {difference.name: difference.words for difference in comparison.differences}
    assert words["ROUND"] == "its width is 3.145 in, recorded 3.125 in; its height is 3.145 in, recorded 3.125 in"
    assert words["ROUND screw 1"] == "its middle is at [3.850 in, 3.000 in], recorded [3.800 in, 3.000 in]"
    assert words["ROUND screw 2"].startswith("is not in the drawing")
    assert words["not recorded"] == "the drawing has a contour 0.400 in across at [9.000 in, 1.000 in]"
    assert names(held(path, tolerance=0.005)) == {"ROUND", "ROUND screw 1", "ROUND screw 2", "not recorded"}


def test_the_tolerance_itself_is_allowed(tmp_path: Path) -> None:
    circle, shifted = Contour("outline", (0, 0, 2)), Contour("CIRCLE", (0.5, 0, 2))
    assert compare([circle], [shifted], 0.5).differences == ()
    far = compare([circle, Contour("A", (0, 0, 1))], [circle, Contour("CIRCLE", (0.51, 0, 1))], 0.5)
    assert names(far) == {"A"}
    assert far.differences[0].amount == pytest.approx(0.51)


def by_hand(folder: Path, *, scale: float = 1, units: int = 1, shift: float = 0, block: bool = False) -> Path:
    """The same panel as another program might draw it: lines and arcs in no order, one layer, any unit, any origin."""
    document = new("R2000", units=units)
    document.header["$INSUNITS"] = units
    space: Any = document.blocks.new("PART") if block else document.modelspace()

    def at(x: float, y: float) -> tuple[float, float]:
        return (x + shift) * scale, (y - shift) * scale

    corners = [(0, 0), (12, 0), (12, 6), (10, 7), (0, 7)]
    for place in (3, 0, 4, 1, 2):
        one, other = corners[place], corners[(place + 1) % 5]
        space.add_line(*((at(*other), at(*one)) if place % 2 else (at(*one), at(*other))))
    space.add_circle(at(2, 3), 1.5625 * scale)
    space.add_arc(at(3.8, 3), 0.08 * scale, 0, 180)
    space.add_arc(at(3.8, 3), 0.08 * scale, 180, 360)
    space.add_ellipse(at(2, 1.2), (0.08 * scale, 0), 1)
    box = [at(5, 2.5), at(7, 2.5), at(7, 3.5), at(5, 3.5)]
    space.add_polyline2d(box, close=True)
    half = math.degrees(math.acos(0.18 / 0.25))
    ends = math.sqrt(0.25**2 - 0.18**2)
    space.add_arc(at(8.5, 3), 0.25 * scale, 180 + half, 180 - half)
    space.add_line(at(8.5 - 0.18, 3 + ends), at(8.5 - 0.18, 3 - ends))
    space.add_lwpolyline([at(9, 4.5), at(11, 4.5), at(10, 6), at(9, 4.5)])
    space.add_text("NOT CUT")
    if block:
        document.modelspace().add_blockref("PART", (0, 0))
    path = folder / "by_hand.dxf"
    document.saveas(path)
    return path


@pytest.mark.parametrize(("scale", "units"), [(1, 1), (25.4, 4), (2.54, 5)])
@pytest.mark.parametrize("block", [False, True])
def test_other_ways_to_draw_the_same(tmp_path: Path, scale: float, units: int, block: bool) -> None:
    comparison = held(by_hand(tmp_path, scale=scale, units=units, block=block))
    assert comparison == Comparison((), len(NAMES), (0.0, 0.0))


def test_a_line_that_was_drawn_face_down_is_turned_over(tmp_path: Path) -> None:
    path = written(tmp_path)
    document = readfile(path)
    space: Any = document.modelspace()
    for line in space.query('LWPOLYLINE[layer=="CUT"]'):
        points = [(-x, y, -bulge) for x, y, bulge in line.get_points("xyb")]
        line.set_points(points, format="xyb")
        line.dxf.extrusion = (0, 0, -1)
    document.saveas(path)
    assert names(held(path)) == set()


def test_a_drawing_with_another_origin_is_moved_as_a_whole(tmp_path: Path) -> None:
    comparison = held(by_hand(tmp_path, shift=30))
    assert names(comparison) == set()
    assert comparison.moved == pytest.approx((-30, 30))


def test_a_drawing_without_a_unit_is_refused_until_one_is_given(tmp_path: Path) -> None:
    path = by_hand(tmp_path, units=0)
    with pytest.raises(UsageError, match="does not tell its unit"):
        held(path)
    assert names(held(path, unit="in")) == set()
    assert "outline" in names(held(path, unit="mm"))


def test_lines_that_close_nothing_are_refused(tmp_path: Path) -> None:
    path = by_hand(tmp_path)
    document = readfile(path)
    document.modelspace().add_line((20, 20), (21, 21))
    document.saveas(path)
    with pytest.raises(UsageError, match="1 of the lines on the layer to be cut close nothing"):
        held(path)


def test_a_layer_can_be_chosen(tmp_path: Path) -> None:
    path = written(tmp_path)
    assert "outline" in names(held(path, layer="REFERENCE"))
    with pytest.raises(UsageError, match="no closed line"):
        held(path, layer="NOTHING")


def test_what_is_no_drawing_is_refused(tmp_path: Path) -> None:
    (tmp_path / "a.dxf").write_text("no drawing\n")
    (tmp_path / "a.svg").write_text("no drawing\n")
    for path in (tmp_path / "a.dxf", tmp_path / "a.svg", tmp_path / "missing.dxf"):
        with pytest.raises(UsageError, match="cannot be read"):
            held(path)


SVG = """\
<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 12 7">
 <g id="words"><path d="M 1 1 L 2 2"/></g>
 <g id="cut" transform="translate(0 7) scale(1 -1)">
  <path d="M 0 0 H 12 V 6 L 10 7 H 0 Z"/>
  <circle cx="2" cy="3" r="1.5625"/>
  <path d="M 3.88 3 a 0.08 0.08 0 0 1 -0.16 0 a 0.08 0.08 0 0 1 0.16 0 z"/>
  <ellipse cx="2" cy="{screw}" rx="0.08" ry="0.08"/>
  <rect x="5" y="2.5" width="2" height="1"/>
  <path d="M 8.32 {up} A 0.25 0.25 0 1 0 8.32 {down} Z"/>
  <polygon points="9,4.5 11,4.5 10,6"/>
 </g>
</svg>
"""


def svg(folder: Path, *, screw: float = 1.2, width: str = "12in", height: str = "7in") -> Path:
    ends = math.sqrt(0.25**2 - 0.18**2)
    path = folder / "panel.svg"
    path.write_text(SVG.format(screw=screw, up=3 + ends, down=3 - ends, width=width, height=height), encoding="utf-8")
    return path


@pytest.mark.parametrize(("width", "height"), [("12in", "7in"), ("304.8mm", "177.8mm"), ("1152", "672")])
def test_an_svg_drawing_is_read_too(tmp_path: Path, width: str, height: str) -> None:
    comparison = held(svg(tmp_path, width=width, height=height), layer="cut")
    assert names(comparison) == set()
    assert comparison.agreeing == len(NAMES)


def test_exactly_the_edited_hole_of_an_svg_is_told(tmp_path: Path) -> None:
    assert names(held(svg(tmp_path, screw=1.21), layer="cut")) == {"ROUND screw 2"}


def test_an_svg_group_must_be_there_and_its_lines_closed(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="no group 'other'"):
        held(svg(tmp_path), layer="other")
    with pytest.raises(UsageError, match="closes nothing"):
        held(written_open_svg(tmp_path))


def written_open_svg(folder: Path) -> Path:
    path = folder / "open.svg"
    path.write_text(SVG.format(screw=1, up=3, down=2, width="12in", height="7in").replace("L 2 2", "L 2 2 L 3 1"))
    return path


def test_a_sub_panel_is_drawn_by_itself() -> None:
    assert [contour.name for contour in recorded_contours(PANEL, "PLATE")] == ["outline", "ON-PLATE"]
    with pytest.raises(UsageError, match="no sub-panel 'X'; recorded: PLATE"):
        recorded_contours(PANEL, "X")


@pytest.mark.parametrize(
    ("hole", "words"),
    [
        ("id: A, centre: [1 in, 1 in]", "size is not recorded"),
        ("id: A, centre: [1 in, 1 in], diameter: 1 in, screws: [[1 in, 0 in]]", "diameter of its screws"),
        ("id: A, centre: [1 in, 1 in], diameter: 1 in, across_flat: 2 in", "flat side"),
    ],
)
def test_a_panel_with_a_hole_that_cannot_be_drawn_is_not_drawn_at_all(hole: str, words: str) -> None:
    outline = "[[0 in, 0 in], [9 in, 0 in], [9 in, 9 in]]"
    panel = panel_of(project_of(f"panel: {{outline: {outline}, holes: [{{{hole}}}]}}"))
    with pytest.raises(UsageError, match=words):
        recorded_contours(panel)


def test_a_panel_without_an_outline_is_not_drawn() -> None:
    with pytest.raises(UsageError, match="fewer than three corners"):
        recorded_contours(panel_of(project_of("panel: {opens: true}")))


def test_the_commands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = str(tmp_path / "panel.dxf")
    assert main(["export-drawing", path, "--in", str(EXAMPLE)]) == 0
    assert main(["compare-drawing", path, "--in", str(EXAMPLE), "--tolerance", "0.001 in"]) == 0
    assert capsys.readouterr().out.endswith("agree within 0.001 in; 43 legends agree; none differs.\n")
    document = readfile(path)
    space: Any = document.modelspace()
    space.query('CIRCLE[layer=="CUT"]')[0].dxf.radius += 0.1
    document.saveas(path)
    assert main(["compare-drawing", path, "--in", str(EXAMPLE)]) == 1
    assert "1 differs." in capsys.readouterr().out
    assert main(["compare-drawing", str(tmp_path / "none.dxf"), "--in", str(EXAMPLE)]) == 2
    assert main(["export-drawing", path, "--in", str(tmp_path)]) == 2


def test_records_that_cannot_all_be_read_are_not_drawn(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "panel.yaml").write_text("panel: {outlin: 3}\n", encoding="utf-8")
    assert main(["export-drawing", str(tmp_path / "panel.dxf"), "--in", str(tmp_path)]) == 2
    assert "could not all be read" in capsys.readouterr().err
    assert not (tmp_path / "panel.dxf").exists()
