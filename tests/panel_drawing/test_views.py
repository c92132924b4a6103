"""Both sides of the panel as SVG: well formed, to scale, readable without colour, and with its findings by number."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from jurystrut.cli import main
from jurystrut.panel_drawing.comparing import compare
from jurystrut.panel_drawing.contours import recorded_contours
from jurystrut.panel_drawing.svg import read_svg
from jurystrut.panel_drawing.views import Note, write_views
from jurystrut.testing import project_of

EXAMPLE = Path(__file__).parents[2] / "project_example"
NAME = "{http://www.w3.org/2000/svg}"

PANEL = project_of("""\
panel:
  outline: [[0 in, 0 in], [12 in, 0 in], [12 in, 6 in], [0 in, 6 in]]
  holes:
    - {id: HA, centre: [2 in, 3 in], diameter: 3 in}
    - {id: HB, centre: [6 in, 3 in], diameter: 0.5 in, across_flat: 0.43 in, flat: left}
  items:
    - {id: A, kind: radio, hole: HA, bezel: {diameter: 3.2 in}, body: {width: 2 in, height: 1 in}, depth: 5 in}
    - {id: B, kind: switch, hole: HB, depth: 1 in}
  legends: [{id: L, text: A < B, centre: [6 in, 4 in], letter_height: 0.14 in}]
  keep_outs: [{id: K, what: cross tube, corners: [[0 in, 5 in], [12 in, 5 in], [12 in, 6 in]], behind: 3 in}]
""").sections["panel"]  # fmt: skip


def drawing(*notes: Note) -> ET.Element:
    return ET.fromstring(write_views(PANEL, notes))  # noqa: S314 - our own drawing


def words(svg: ET.Element) -> list[str]:
    return [text.text or "" for text in svg.iter(f"{NAME}text")]


def test_it_is_full_size_and_a_unit_is_an_inch() -> None:
    svg = drawing()
    width, height = svg.attrib["width"], svg.attrib["height"]
    assert svg.attrib["viewBox"] == f"0 0 {width.removesuffix('in')} {height.removesuffix('in')}"
    assert float(width.removesuffix("in")) == pytest.approx(13.2)  # 12 in and a margin of 0.6 in on either side


def test_the_front_is_as_seen_from_the_seats_and_the_back_is_mirrored() -> None:
    svg = drawing()
    groups = {group.attrib["id"]: group for group in svg.iter(f"{NAME}g")}
    (front,), (back,) = (groups[name].findall(f"{NAME}circle") for name in ("cut-front", "cut-back"))
    assert float(front.attrib["cx"]) == pytest.approx(0.6 + 2)
    assert float(back.attrib["cx"]) == pytest.approx(0.6 + 12 - 2)
    assert {front.attrib["r"], back.attrib["r"]} == {"1.50000"}


def test_what_is_cut_comes_back_from_the_drawing(tmp_path: Path) -> None:
    path = tmp_path / "panel.svg"
    path.write_text(write_views(PANEL, [Note("A", "words")]), encoding="utf-8")
    comparison = compare(recorded_contours(PANEL), read_svg(path), 0.001)
    assert comparison.differences == ()
    assert comparison.agreeing == 3


def test_bodies_zones_and_legends_are_named() -> None:
    found = words(drawing())
    assert {"A < B", "A 5 in", "B 1 in", "cross tube, from 3 in behind"} <= set(found)


def test_each_finding_has_its_number_on_both_sides_and_its_words_below() -> None:
    found = words(drawing(Note("A", "it is too deep"), Note("L", "too small"), Note("elsewhere", "not on this sheet")))
    assert found.count("1") == found.count("2") == 2
    assert found[-2:] == ["1  A: it is too deep", "2  L: too small"]
    assert not any("not on this sheet" in text for text in found)


def test_two_findings_on_one_thing_stand_beside_each_other() -> None:
    svg = drawing(Note("A", "one"), Note("A", "two"))
    rings = [ring.attrib for ring in svg.iter(f"{NAME}circle") if ring.get("r") == "0.16"]
    assert len({(ring["cx"], ring["cy"]) for ring in rings}) == 4


def test_nothing_depends_on_colour() -> None:
    colours = set(re.findall(r'(?:fill|stroke)="([^"]*)"', write_views(PANEL, [Note("A", "words")])))
    assert colours == {"none", "#000", "#fff", "url(#hatch)"}


def test_the_command_marks_what_the_rules_found(tmp_path: Path) -> None:
    records = tmp_path / "records"
    records.mkdir()
    text = (
        (EXAMPLE / "panel.yaml")
        .read_text("utf-8")
        .replace("hole: H-ASI, bezel: {diameter: 3-1/4 in}", "hole: H-ASI, bezel: {diameter: 3 in}")
    )
    (records / "panel.yaml").write_text(text, encoding="utf-8")
    drawing_file = tmp_path / "panel.svg"
    assert main(["export-drawing", str(drawing_file), "--in", str(EXAMPLE)]) == 0
    assert "fail" not in drawing_file.read_text("utf-8")
    for path in EXAMPLE.rglob("*.yaml"):
        if path.name != "panel.yaml":
            (records / path.relative_to(EXAMPLE)).parent.mkdir(exist_ok=True)
            (records / path.relative_to(EXAMPLE)).write_bytes(path.read_bytes())
    assert main(["export-drawing", str(drawing_file), "--in", str(records)]) == 0
    assert "1  ASI: fail: H-ASI shows beside it" in drawing_file.read_text("utf-8")
