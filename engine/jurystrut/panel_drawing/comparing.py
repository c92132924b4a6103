"""Which holes of a drawing differ from the records, and by how much."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.errors import UsageError
from jurystrut.panel_drawing.contours import SHEET, Contour

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

__all__ = ["Comparison", "Difference", "compare"]


class Difference(NamedTuple):
    """One contour that differs: its name in the records, by how many inches at most, and how, in words."""

    name: str
    amount: float
    words: str


class Comparison(NamedTuple):
    """All that differs beyond the tolerance, how many contours agree, and how far the drawing was moved to compare it."""

    differences: tuple[Difference, ...]
    agreeing: int
    moved: tuple[float, float]
    words: int | None = None
    """How many legends agree with what is engraved; None where they were not compared."""


def compare(recorded: Sequence[Contour], drawn: Iterable[Contour], tolerance: float) -> Comparison:
    """Hold a drawing against the records; `tolerance` in inches.

    A drawing may have its origin anywhere: where its outline does not lie on the recorded one as it is, but does when its
    lower left corner is laid on the recorded one's, the whole drawing is moved so.
    """
    contours = list(drawn)
    if not contours:
        raise UsageError("the drawing holds no closed line on the layer to be cut")
    outline = next(contour for contour in recorded if contour.name == SHEET)
    right, up = _shift(outline, contours, tolerance)
    contours = [contour.moved(right, up) for contour in contours]
    pairs = _pairs(recorded, contours, tolerance)
    paired = {index for index in pairs.values() if index is not None}
    differences = []
    for place, contour in enumerate(recorded):
        index = pairs[place]
        if index is None:
            differences.append(Difference(contour.name, math.inf, f"is not in the drawing; {_words(contour)}"))
        elif (amount := _apart(contour, contours[index])) > tolerance:
            differences.append(Difference(contour.name, amount, _how(contour, contours[index], amount)))
    differences += [
        Difference("not recorded", math.inf, f"the drawing has {_words(contour)}")
        for index, contour in enumerate(contours)
        if index not in paired
    ]
    alike = sum(index is not None for index in pairs.values()) - sum(d.amount < math.inf for d in differences)
    return Comparison(tuple(differences), alike, (right, up))


def _shift(outline: Contour, drawn: list[Contour], tolerance: float) -> tuple[float, float]:
    largest = max(drawn, key=lambda contour: _area(contour.box()))
    box, its = outline.box(), largest.box()
    right, up = box[0] - its[0], box[1] - its[1]
    if max(abs(right), abs(up)) <= tolerance or _apart(outline, largest.moved(right, up)) > tolerance:
        return 0.0, 0.0
    return right, up


def _area(box: tuple[float, float, float, float]) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _middle(contour: Contour) -> tuple[float, float]:
    left, bottom, right, top = contour.box()
    return (left + right) / 2, (bottom + top) / 2


def _pairs(recorded: Sequence[Contour], drawn: list[Contour], tolerance: float) -> dict[int, int | None]:
    """Which drawn contour each recorded one is: first those that agree, then the nearest that is left and at all alike."""
    shapely = _shapely()
    middles = [_middle(contour) for contour in drawn]
    tree = shapely.STRtree(shapely.points(middles))
    free = set(range(len(drawn)))
    pairs: dict[int, int | None] = {}
    waiting = []
    for place, contour in enumerate(recorded):
        close = tree.query(shapely.Point(_middle(contour)).buffer(2 * tolerance)).tolist()
        pairs[place] = next((i for i in close if i in free and _apart(contour, drawn[i]) <= tolerance), None)
        if pairs[place] is None:
            waiting.append(place)
        else:
            free.discard(pairs[place] or 0)
    chances = []
    for place in waiting:
        middle = _middle(recorded[place])
        around = tree.query(shapely.Point(middle).buffer(_reach(recorded[place]))).tolist()
        chances += [(math.dist(middle, middles[i]), place, i) for i in around if i in free]
    taken: set[int] = set()
    for _, place, i in sorted(chances):
        if place not in taken and i in free:
            pairs[place] = i
            free.discard(i)
            taken.add(place)
    return pairs


def _reach(contour: Contour) -> float:
    """How far away a contour is still taken for the recorded one that was moved: as far as it is wide, or an inch."""
    left, bottom, right, top = contour.box()
    return max(right - left, top - bottom, 1.0)


def _shapely() -> Any:
    try:
        import shapely
    except ImportError:
        raise UsageError("drawings need ezdxf and shapely: pip install 'jurystrut[drawing]'") from None
    return shapely


def _apart(one: Contour, other: Contour) -> float:
    """The greatest distance from any place on one border to the other border."""
    if one.circle and other.circle:
        return math.dist(one.circle[:2], other.circle[:2]) + abs(one.circle[2] - other.circle[2])
    if one.corners and one.corners == other.corners:
        return 0.0
    shapely = _shapely()
    first, second = (shapely.LinearRing(contour.border()) for contour in (one, other))
    return max(_farthest(shapely, first, second), _farthest(shapely, second, first))


def _farthest(shapely: Any, ring: Any, other: Any) -> float:
    """The greatest distance from a ring's corners, and places along its sides, to another ring."""
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(ring, _PIECE)))
    return float(shapely.distance(places, other).max())


_PIECE = 0.1
"""Inches between two places on a side that are looked at."""


def _words(contour: Contour) -> str:
    left, bottom, right, top = contour.box()
    x, y = _middle(contour)
    size = f"{right - left:.3f} in across" if contour.circle else f"{right - left:.3f} by {top - bottom:.3f} in"
    return f"a contour {size} at [{x:.3f} in, {y:.3f} in]"


def _how(recorded: Contour, drawn: Contour, amount: float) -> str:
    """What differs: the place, the size, or the shape."""
    one, other = recorded.box(), drawn.box()
    (x, y), (its_x, its_y) = _middle(recorded), _middle(drawn)
    told = []
    if max(abs(its_x - x), abs(its_y - y)) > _SHOWN:
        told.append(f"its middle is at [{its_x:.3f} in, {its_y:.3f} in], recorded [{x:.3f} in, {y:.3f} in]")
    for name, low, high in (("width", 0, 2), ("height", 1, 3)):
        was, now = one[high] - one[low], other[high] - other[low]
        if abs(now - was) > _SHOWN:
            told.append(f"its {name} is {now:.3f} in, recorded {was:.3f} in")
    return "; ".join(told) or f"its shape differs by up to {amount:.3f} in"


_SHOWN = 5e-4
"""Inches that show in three decimals."""
