"""Drawings from strangers: files that grow when they are read, that point elsewhere, or whose numbers no panel has."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from jurystrut.errors import UsageError
from jurystrut.panel_drawing.dxf import read_dxf
from jurystrut.panel_drawing.svg import read_svg

if TYPE_CHECKING:
    from pathlib import Path

    from tests.attacks.conftest import Bounded

SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="10in" height="7in">%s</svg>'
SQUARE = '<path d="M0 0H96V96H0Z"/>'
LAUGHS = "".join(f'<!ENTITY a{i} "' + f"&a{i - 1};" * 10 + '">' for i in range(1, 10))


def clones(levels: int, times: int) -> str:
    groups = "".join(f'<g id="g{i}">' + f'<use xlink:href="#g{i - 1}"/>' * times + "</g>" for i in range(1, levels))
    return f'<defs><g id="g0">{SQUARE}</g>{groups}</defs><use xlink:href="#g{levels - 1}"/>'


HOSTILE_SVG = {
    "entities that grow": f'<!DOCTYPE svg [<!ENTITY a0 "ha">{LAUGHS}]>' + SVG % "<text>&a9;</text>",
    "one entity very often": '<!DOCTYPE svg [<!ENTITY a "'
    + "x" * 60_000
    + '">]>'
    + SVG % ("<text>" + "&a;" * 50_000 + "</text>"),
    "a file as entity": '<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>' + SVG % "<text>&a;</text>",
    "a page as entity": '<!DOCTYPE svg [<!ENTITY % a SYSTEM "http://localhost:9/"> %a;]>' + SVG % SQUARE,
    "clones of clones": SVG % clones(12, 10),
    "a clone of itself": SVG % '<g id="a"><use href="#a"/></g>',
    "two clones of each other": SVG % '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>',
    "deep groups": SVG % ("<g>" * 100_000 + "</g>" * 100_000),
    "a group too deep": SVG % ("<g>" * 60 + SQUARE + "</g>" * 60),
    "many shapes": SVG % (SQUARE * 30_000),
    "many curves": SVG % ('<path d="M0 0' + "C1 1 2 2 3 3" * 50_000 + 'Z"/>'),
    "a mile": SVG % '<path d="M0 0H1e9V1e9Z"/>',
    "beyond all numbers": SVG % '<path d="M0 0L1e999 5L9 9Z" transform="scale(1e308)"/>',
    "no drawing": "x",
    "nothing": "",
    "not closed": "<svg><g>",
    "another encoding": '<?xml version="1.0" encoding="utf-7"?><svg/>',
    "NUL": "<svg>\0</svg>",
}


def test_a_drawing_that_is_none_is_refused(tmp_path: Path) -> None:
    for read, name in ((read_svg, "a.svg"), (read_dxf, "a.dxf")):
        os.mkfifo(tmp_path / name)
        with pytest.raises(UsageError, match="no ordinary file"):
            read(tmp_path / name)


@pytest.mark.parametrize("name", HOSTILE_SVG)
def test_a_hostile_svg_is_refused_within_bounds(name: str, tmp_path: Path, bounded: Bounded) -> None:
    path = tmp_path / "panel.svg"
    path.write_text(HOSTILE_SVG[name])
    with bounded(seconds=8), pytest.raises(UsageError, match=r"panel\.svg"):
        read_svg(path)


NO_SHAPE = {
    "a number that is none": SVG % '<path d="M0 0Lnan 5L9 9Z"/>',
    "nothing wide": SVG
    % '<svg viewBox="0 0 0 0" width="0" height="0"><path d="M0 0H9V9Z" transform="matrix(0 0 0 0 1e300 1e300)"/></svg>',
}


@pytest.mark.parametrize("name", NO_SHAPE)
def test_what_the_standard_does_not_draw_is_no_line_without_end(name: str, tmp_path: Path, bounded: Bounded) -> None:
    path = tmp_path / "panel.svg"
    path.write_text(NO_SHAPE[name])
    with bounded():
        assert all(abs(x) <= 1 for contour in read_svg(path) for x in contour.box())


def test_harmless_oddities_of_svg_are_read(tmp_path: Path) -> None:
    path = tmp_path / "panel.svg"
    public = '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    image = '<image href="http://localhost:9/x.png" width="9" height="9"/><script>alert(1)</script>'
    path.write_text(public + SVG % (SQUARE + image + "<g>" * 40 + '<circle r="48"/>' + "</g>" * 40 + clones(3, 3)))
    assert len(read_svg(path)) == 2 + 9  # the square and the circle, and three clones of three clones of the square


def pairs(*tags: object) -> str:
    return "".join(f"{tag}\n" for tag in tags)


def drawing(entities: str, blocks: str = "") -> str:
    return (
        pairs(0, "SECTION", 2, "BLOCKS") + blocks + pairs(0, "ENDSEC", 0, "SECTION", 2, "ENTITIES") + entities
    ) + pairs(0, "ENDSEC", 0, "EOF")


def block(name: str, inside: str) -> str:
    return pairs(0, "BLOCK", 8, 0, 2, name, 70, 0, 10, 0, 20, 0) + inside + pairs(0, "ENDBLK")


def insert(name: str, *more: object) -> str:
    return pairs(0, "INSERT", 8, 0, 2, name, 10, 0, 20, 0, *more)


def circle(radius: object, x: object = 0) -> str:
    return pairs(0, "CIRCLE", 8, "CUT", 10, x, 20, 0, 40, radius)


def spline(size: object, degree: int = 3, points: int = 4) -> str:
    knots = [t for k in range(points + degree + 1) for t in (40, k)]
    places = [t for k in range(points) for t in (10, size if k % 2 else 0, 20, k)]
    return pairs(0, "SPLINE", 8, 0, 70, 9, 71, degree, 72, points + degree + 1, 73, points, *knots, *places)


def polyline(*corners: tuple[object, object, object]) -> str:
    tags = [tag for x, y, bulge in corners for tag in (10, x, 20, y, 42, bulge)]
    return pairs(0, "LWPOLYLINE", 8, "CUT", 90, len(corners), 70, 1, *tags)


NEST = "".join(block(f"B{i}", insert(f"B{i - 1}") * 10) for i in range(1, 12))
HOSTILE_DXF = {
    "blocks of blocks": drawing(insert("B11"), block("B0", circle(1)) + NEST),
    "blocks of blocks of nothing": drawing(insert("B11"), block("B0", "") + NEST),
    "a block of itself": drawing(insert("A"), block("A", insert("A"))),
    "a row of a thousand million": drawing(insert("A", 70, 32000, 71, 32000, 44, 1, 45, 1), block("A", circle(1))),
    "many lines": drawing(circle(1) * 30_000),
    "a huge circle": drawing(circle(1e9)),
    "a far circle": drawing(circle(1, 1e9)),
    "a circle without number": drawing(circle("nan")),
    "a circle beyond all numbers": drawing(circle("1e999")),
    "a huge spline": drawing(spline(1e12)),
    "a spline of a high degree": drawing(spline(1, degree=900, points=1000)),
    "a spline of many points": drawing(spline(1, points=20_000)),
    "a huge ellipse": drawing(pairs(0, "ELLIPSE", 10, 0, 20, 0, 11, 1e9, 21, 0, 40, 0.5, 41, 0, 42, 6.283185307)),
    "a bulge beyond all numbers": drawing(polyline((0, 0, "1e300"), (1, 0, 0), (1, 1, 0))),
    "a bulge next to nothing": drawing(polyline((0, 0, "1e-300"), (1, 0, 0), (1, 1, 0))),
    "a zigzag of a hundred miles": drawing(polyline(*[(900 if k % 2 else -900, k / 100, 0) for k in range(4000)])),
    "a number that is none": drawing(pairs(0, "CIRCLE", 10, "x", 20, 0, 40, 1)),
    "a group code that is none": drawing(pairs("x", "CIRCLE")),
    "cut off": drawing(circle(1))[:40],
    "nothing": "",
    "no drawing": "x\n" * 1000,
    "NUL": "\0" * 1000,
}


@pytest.mark.parametrize("name", HOSTILE_DXF)
def test_a_hostile_dxf_is_refused_within_bounds(name: str, tmp_path: Path, bounded: Bounded) -> None:
    path = tmp_path / "panel.dxf"
    path.write_text(HOSTILE_DXF[name])
    with bounded(seconds=8), pytest.raises(UsageError):
        read_dxf(path, unit="in")


def test_a_row_of_blocks_is_resolved(tmp_path: Path) -> None:
    """Three columns and two rows of one hole: six holes for the cutter, and not one."""
    path = tmp_path / "panel.dxf"
    path.write_text(drawing(insert("A", 70, 3, 71, 2, 44, 2, 45, 1.5), block("A", circle(0.25))))
    found = sorted(contour.circle for contour in read_dxf(path, unit="in").contours if contour.circle)
    assert found == [(2.0 * column, 1.5 * row, 0.25) for column in range(3) for row in range(2)]


def test_a_drawing_larger_than_any_panels_is_not_read(tmp_path: Path, bounded: Bounded) -> None:
    for read, name in ((read_svg, "a.svg"), (read_dxf, "a.dxf")):
        (tmp_path / name).write_bytes(b" " * (8 * 1024 * 1024 + 1))
        with bounded(), pytest.raises(UsageError, match="larger than 8 MiB"):
            read(tmp_path / name)
