"""SVG files from any drawing program, read by svgelements."""

from __future__ import annotations

import io
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from jurystrut.errors import UsageError
from jurystrut.panel_drawing.contours import Contour, corners_around
from jurystrut.panel_drawing.foreign import MOST_PIECES, measured, opened, plain_svg, understood

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

__all__ = ["read_svg"]

_DOTS = 96.0
"""User units in an inch, as CSS has it."""
_OWN = "cut-front"
"""The group that holds the cut lines in a drawing of ours."""
_PIECES = 128
"""Straight pieces to one curve."""
_GAP = 1e-4


def read_svg(path: Path, *, layer: str | None = None) -> list[Contour]:
    """Every closed line of a drawing, in inches, up positive: in the group of that id or label, or in `cut-front` where there
    is one, or in all groups.

    The drawing must tell its size in inches or millimetres, or have 96 user units to the inch. Raises UsageError where the file
    cannot be read, or holds lines that close nothing.
    """
    try:
        from svgelements import SVG
    except ImportError:
        raise UsageError("SVG drawings need svgelements: pip install 'jurystrut[drawing]'") from None
    data = opened(path)
    plain_svg(data, path)
    with understood(path, "SVG"):
        drawing = SVG.parse(io.BytesIO(data), ppi=_DOTS, reify=True)
        return measured(_cut(drawing, layer, path), path)


def _cut(drawing: Any, layer: str | None, path: Path) -> Iterator[Contour]:
    """The contours in the group that is cut. Raises UsageError where there is no such group."""
    if layer is None and any(_OWN in _names(group) for group in drawing.select(_is_group)):
        layer = _OWN
    if layer and not any(layer in _names(group) for group in drawing.select(_is_group)):
        raise UsageError(f"{path}: there is no group '{layer}'")
    for shape in _shapes(drawing, layer, inside=layer is None):
        yield from _contours(shape, path)


def _is_group(element: Any) -> bool:
    from svgelements import Group

    return isinstance(element, Group)


def _names(group: Any) -> set[str]:
    """A group's id and labels."""
    values = group.values.get("attributes", group.values)
    return {str(value) for key, value in values.items() if key == "id" or key.endswith("label")}


def _shapes(group: Any, layer: str | None, *, inside: bool) -> Iterator[Any]:
    from svgelements import Group, Shape, Use

    for element in group:
        if isinstance(element, (Group, Use)):  # a clone holds what it repeats
            yield from _shapes(element, layer, inside=inside or layer in _names(element))
        elif inside and isinstance(element, Shape):
            yield element


def _contours(shape: Any, path: Path) -> Iterator[Contour]:
    from svgelements import Path as Drawn

    whole = Drawn(shape).reify()
    if len(whole) > MOST_PIECES // _PIECES:
        raise UsageError(f"{path}: a path of {len(whole)} lines and curves; no panel has one")
    for part in whole.as_subpaths():
        places = list(_places(Drawn(part)))
        if len(places) < 3:
            continue
        (ax, ay), (bx, by) = places[0], places[-1]
        if abs(ax - bx) > _GAP or abs(ay - by) > _GAP:
            message = (
                f"a line that begins {ax:.3f} in right of and {-ay:.3f} in below the top left corner closes nothing"
            )
            raise UsageError(f"{path}: {message}")
        yield Contour("path", corners=corners_around(tuple(places[:-1])))


def _places(path: Any) -> Iterator[tuple[float, float]]:
    """Places along a path in inches, no two in a row the same."""
    from svgelements import Close, Line, Move

    found: list[tuple[float, float]] = []
    for segment in path:
        if isinstance(segment, Move):
            shares: tuple[float, ...] = (1.0,)
        elif isinstance(segment, (Line, Close)):
            shares = (0.0, 1.0)
        else:
            shares = tuple(k / _PIECES for k in range(_PIECES + 1))
        points = (segment.point(share) for share in shares)
        found += [(float(point.x) / _DOTS, -float(point.y) / _DOTS) for point in points if point is not None]
    yield from found[:1]
    yield from (other for one, other in pairwise(found) if one != other)
