"""What a drawing from another program may ask of whoever reads it: it comes from a stranger, and so do its numbers."""

from __future__ import annotations

import math
from contextlib import contextmanager
from itertools import pairwise
from typing import TYPE_CHECKING
from xml.etree import ElementTree as Xml

from jurystrut.errors import UsageError
from jurystrut.reading.files import bytes_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from jurystrut.panel_drawing.contours import Contour

__all__ = ["FURTHEST", "MOST_PIECES", "MOST_SHAPES", "measured", "opened", "plain_svg", "understood"]

_MOST_BYTES = 8 * 1024 * 1024
MOST_SHAPES = 20_000
"""Lines, circles and curves in one drawing, those in blocks and clones counted as often as they are drawn."""
MOST_PIECES = 500_000
"""Straight pieces into which the curves of one drawing are divided."""
FURTHEST = 1000.0
"""Inches from the origin: no panel is larger, and distances are measured along every inch."""
_LONGEST = 100_000.0
_DEEPEST = 50


def opened(path: Path) -> bytes:
    """The drawing's bytes. Raises UsageError where it is no ordinary file, or larger than any panel's drawing."""
    try:
        return bytes_of(path, _MOST_BYTES)
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or error
        raise UsageError(f"{path}: cannot be read: {reason}") from None


@contextmanager
def understood(path: Path, kind: str) -> Iterator[None]:
    """Whatever the library that reads `kind` raises becomes a UsageError with the file's name."""
    try:
        yield
    except UsageError:
        raise
    except Exception as error:  # noqa: BLE001 - on broken files these libraries raise errors of every kind
        words = " ".join(str(error).split())[:200]
        raise UsageError(f"{path}: cannot be read as {kind}: {words or type(error).__name__}") from None


def measured(contours: Iterator[Contour], path: Path) -> list[Contour]:
    """The contours, none of them beyond a panel's size. Raises UsageError for what no cutter could follow."""
    found: list[Contour] = []
    pieces, length = 0, 0.0
    for contour in contours:
        border = contour.border()
        if not all(abs(number) <= FURTHEST for place in border for number in place):  # NaN is not within it either
            raise UsageError(f"{path}: a line lies more than {FURTHEST:g} in from the origin; is the unit right?")
        pieces += len(border)
        length += sum(math.dist(one, other) for one, other in pairwise(border))
        if len(found) == MOST_SHAPES or pieces > MOST_PIECES or length > _LONGEST:
            raise UsageError(f"{path}: more lines than a panel has; draw only what is cut, or name its layer")
        found.append(contour)
    return found


def plain_svg(data: bytes, path: Path) -> None:
    """Raises UsageError for an SVG that grows when it is read: by entities, by clones of clones, or by its depth."""
    with understood(path, "SVG"):
        root = _elements(data)
    known = {name: element for element in root.iter() for name in (_named(element, "id"),) if name}
    sizes: dict[str, int] = {}

    def size(element: Xml.Element, above: tuple[str, ...]) -> int:
        if len(above) > _DEEPEST:
            raise UsageError(f"{path}: nested more than {_DEEPEST} levels deep")
        count = 1 + sum(size(child, (*above, "")) for child in element)
        name = _named(element, "href").removeprefix("#") if element.tag.rpartition("}")[2] == "use" else ""
        if name in known:
            if name in above:
                raise UsageError(f"{path}: a clone that holds itself, '{name[:60]}'")
            if name not in sizes:
                sizes[name] = size(known[name], (*above, name))
            count += sizes[name]
        if count > MOST_SHAPES:
            raise UsageError(f"{path}: more than {MOST_SHAPES} shapes; draw only what is cut")
        return count

    size(root, ())


def _elements(data: bytes) -> Xml.Element:
    """The drawing's elements. Raises ValueError for entities: one may stand for another's text many times, or for a file."""
    from xml.parsers import expat

    builder = Xml.TreeBuilder()
    parser = expat.ParserCreate(namespace_separator="}")
    parser.StartElementHandler, parser.EndElementHandler = builder.start, builder.end
    parser.EntityDeclHandler = _no_entities
    parser.Parse(data, True)  # noqa: FBT003 - the last argument says that this is all
    return builder.close()


def _no_entities(*_: object) -> None:
    raise ValueError("it declares entities; save it as plain SVG")


def _named(element: Xml.Element, attribute: str) -> str:
    """An attribute's value in whatever name space, or nothing."""
    return next((value for key, value in element.attrib.items() if key.rpartition("}")[2] == attribute), "")
