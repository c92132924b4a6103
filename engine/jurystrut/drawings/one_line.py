"""A one-line diagram: what feeds what, from the left to the right; one row a branch's end, so that no two lines cross.

Each device stands in a column of its own; a wire is the line between two devices with its name and size above it. A bus is
an upright bar. What is fed on another sheet, or joined to what stands elsewhere, ends in a flag that says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from jurystrut.drawings.svg import Svg, circle, drawing, line, path, polygon, rectangle, text

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Node", "one_line", "rows_of"]

_Kind = Literal["source", "bus", "protection", "switch", "diode", "junction", "load", "flag"]

_ROW, _TOP, _LEFT = 34.0, 20.0, 14.0
_COLUMN = 140.0
_RISER = 66.0
"""How far behind a device its branches go down: beyond the words below it."""
_END = 190.0
"""Room to the right of the last column for a load's words."""
_MOST_COLUMNS = 60


@dataclass(frozen=True, slots=True)
class Node:
    """One device; `wire` names the line that leads to it, `detail` stands beside its name, `children` are fed from it."""

    kind: _Kind
    name: str
    detail: str = ""
    wire: str = ""
    children: tuple[Node, ...] = ()


def rows_of(node: Node) -> int:
    """How many rows a node and all behind it need."""
    waiting, rows = [node], 0
    while waiting:
        here = waiting.pop()
        rows += not here.children
        waiting += here.children
    return rows


def one_line(name: str, title: str, root: Node) -> Svg:
    """One sheet, from its root at the left."""
    parts: list[Svg] = []
    deepest = _draw(root, parts)
    width = _LEFT + deepest * _COLUMN + _END
    height = _TOP + rows_of(root) * _ROW + 8
    described = f"{root.name} feeds " + ", ".join(_ends(root))
    return drawing(name, max(width, 520), height, title, described, parts)


def _ends(root: Node) -> Iterator[str]:
    waiting = [root]
    while waiting:
        here = waiting.pop()
        if here.kind in {"load", "flag"}:
            yield here.name
        waiting += reversed(here.children)


def _draw(root: Node, parts: list[Svg]) -> int:
    """Draw the tree without recursion; gives the number of the last column."""
    row, deepest = 0, 0
    waiting: list[tuple[Node, int, Node | None, float]] = [(root, 0, None, 0.0)]
    while waiting:
        node, column, parent, parent_y = waiting.pop()
        x, y = _LEFT + column * _COLUMN, _TOP + row * _ROW + 12
        deepest = max(deepest, column)
        if parent is not None:
            parts += _lead(node, parent, (x, y), parent_y)
        parts += _symbol(node, x, y, rows_of(node) if node.kind == "bus" else 1)
        parts += _words(node, x, y)
        if node.children:
            waiting += [(child, min(column + 1, _MOST_COLUMNS), node, y) for child in reversed(node.children)]
        else:
            row += 1
    return deepest


_HALF = {
    "source": 13.0,
    "bus": 3.0,
    "protection": 11.0,
    "switch": 11.0,
    "diode": 8.0,
    "junction": 3.0,
    "load": 5.0,
    "flag": 0.0,
}


def _lead(node: Node, parent: Node, place: tuple[float, float], parent_y: float) -> Iterator[Svg]:
    """The line from the parent: straight from a bus or in the same row, else down behind the parent and across."""
    x, y = place
    left, end = x - _COLUMN, x - _HALF[node.kind]
    riser = left + _RISER
    if parent.kind == "bus" or y == parent_y:
        yield line((left + _HALF[parent.kind], y), (end, y), "lead")
    else:
        yield path([(riser, parent_y), (riser, y), (end, y)], "lead")
    yield text((riser + 3, y - 4), node.wire, size=8.5, look="words faint-words")


def _symbol(node: Node, x: float, y: float, rows: int) -> Iterator[Svg]:
    match node.kind:
        case "source":
            yield circle((x, y), 13, "device")
            yield text((x, y + 4), "+/-", size=10, anchor="middle", look="words strong")
        case "bus":
            yield rectangle((x - 3, y - 10), 6, max(20.0, (rows - 1) * _ROW + 20), "bus-bar")
        case "protection":
            yield rectangle((x - 11, y - 5), 22, 10, "device")
            yield line((x - 11, y), (x + 11, y), "lead")
        case "switch":
            yield rectangle((x - 11, y - 11), 22, 14, "paper")
            yield circle((x - 9, y), 2, "solid")
            yield circle((x + 9, y), 2, "solid")
            yield line((x - 9, y), (x + 7, y - 9), "stroke")
        case "diode":
            yield polygon([(x - 7, y - 6), (x - 7, y + 6), (x + 6, y)], "solid")
            yield line((x + 7, y - 6), (x + 7, y + 6), "stroke")
        case "junction":
            yield circle((x, y), 3, "solid")
        case "load":
            yield circle((x + 5, y), 5, "device")
        case "flag":
            yield path([(x, y - 5), (x + 6, y), (x, y + 5)], "stroke")


def _words(node: Node, x: float, y: float) -> Iterator[Svg]:
    if node.kind in {"load", "flag"}:
        yield text((x + 16, y + 1), node.name, size=10.5, look="words strong")
        yield text((x + 16, y + 12), _short(node.detail, 34), size=8.5)
    elif node.kind == "bus":
        yield text((x - 3, y - 13), _short(f"{node.name} {node.detail}".strip(), 40), size=10.5, look="words strong")
    else:
        yield text(
            (x - _HALF[node.kind], y + (22 if node.kind == "source" else 15)),
            _short(f"{node.name} {node.detail}".strip(), 21),
            size=9,
        )


def _short(words: str, most: int) -> str:
    return words if len(words) <= most else words[: most - 1] + "…"
