"""The weight budget as one bar, and the weight over the time of the build."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.drawings.weight_svg import Sheet

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["Part", "Weighed", "draw_weight_budget", "draw_weight_history"]

_FILLS = ("white", "url(#hatch)", "url(#dots)", "url(#cross)", "#ddd")
_LINE = 'fill="none" stroke="black" stroke-width="1.5"'
_MOST_NAMED = 9
"""A day takes some 60 points of the 670 across."""
_THIN = 'fill="none" stroke="black" stroke-width="1" stroke-dasharray="9 3 2 3"'


class Part(NamedTuple):
    """One piece of the budget."""

    name: str
    weight: float


class Weighed(NamedTuple):
    """The weight at one moment of the build, and the bounds within which it was known."""

    when: str
    weight: float
    least: float
    most: float


def draw_weight_budget(
    parts: Sequence[Part], gross: float, bounds: tuple[float, float] | None = None, *, name: str = "", unit: str = "lb"
) -> str:
    """An SVG bar of what fills gross weight, part by part; what is left, or too much, is named at its end.

    `bounds` are the least and greatest total that the uncertainty of the parts allows, drawn as a whisker.
    """
    total = sum(part.weight for part in parts)
    most = max(gross, total, bounds[1] if bounds else 0.0)
    left = gross - total
    rest = f"{left:.1f} {unit} left" if left >= 0 else f"{-left:.1f} {unit} too much"
    sheet = Sheet(
        (760, 170 + 18 * len(parts)),
        (0.0, most * 1.05),
        (0.0, 1.0),
        f"Weight budget{f', {name}' if name else ''}: {rest}",
        f"{'; '.join(f'{part.name} {part.weight:.1f} {unit}' for part in parts)}; gross weight {gross:g} {unit}; {rest}.",
    )
    sheet.left, sheet.bottom = 30, 80 + 18 * len(parts)
    start = 0.0
    for number, part in enumerate(parts):
        end = start + part.weight
        fill = _FILLS[number % len(_FILLS)]
        sheet.path(_box(start, end), f'fill="{fill}" stroke="black" stroke-width="1"', closed=True)
        _number(sheet, start, end, str(number + 1))
        y = sheet.size[1] - sheet.bottom + 66 + 18 * number
        sheet.words((sheet.left, y), f"({number + 1}) {part.name}: {part.weight:.1f} {unit}")
        start = end
    _gross(sheet, gross, unit)
    if bounds:
        sheet.path([(bounds[0], 0.08), (bounds[1], 0.08)], _LINE)
        for bound in bounds:
            sheet.path([(bound, 0.0), (bound, 0.16)], _LINE)
        words = f"{bounds[0]:.1f} to {bounds[1]:.1f} {unit} within the uncertainty"
        sheet.words((sheet.at((bounds[0], 0))[0], sheet.at((0, 0))[1] + 16), words, anchor="end", size=11)
    return sheet.text()


def _box(start: float, end: float) -> list[tuple[float, float]]:
    return [(start, 0.2), (end, 0.2), (end, 0.8), (start, 0.8)]


def _number(sheet: Sheet, start: float, end: float, number: str) -> None:
    """A part's number in its box, or above a box too narrow for it."""
    (left, bottom), (right, top) = sheet.at((start, 0.2)), sheet.at((end, 0.8))
    narrow = right - left < 8 + 7 * len(number)
    sheet.words(((left + right) / 2, top - 2 if narrow else (top + bottom) / 2 + 4), number, anchor="middle")


def _gross(sheet: Sheet, gross: float, unit: str) -> None:
    sheet.path([(gross, 0.0), (gross, 1.0)], _THIN)
    sheet.words(
        (sheet.at((gross, 0))[0] + 4, sheet.at((0, 1))[1] - 4), f"gross {gross:g} {unit}", anchor="end", size=11
    )


def draw_weight_history(
    weights: Sequence[Weighed], limit: Part | None = None, *, name: str = "", unit: str = "lb"
) -> str:
    """An SVG of the weight at each moment given, oldest first, with the bounds within which it was known.

    `limit` is a weight to stay below, with what it is called. Of many moments only some are named, so that no words run
    together; the description names all. ValueError where no weight is given.
    """
    if not weights:
        raise ValueError("no weight was given to draw")
    bounds = [value for one in weights for value in (one.least, one.most)] + ([limit.weight] if limit else [])
    room = max(0.15 * (max(bounds) - min(bounds)), 1.0)
    sheet = Sheet(
        (760, 420),
        (-0.5, len(weights) - 0.5),
        (min(bounds) - room, max(bounds) + room),
        f"Finished empty weight over the commits{f', {name}' if name else ''}",
        "; ".join(f"{one.when}: {one.weight:.1f} {unit} ({one.least:.1f} to {one.most:.1f})" for one in weights),
    )
    sheet.right, sheet.bottom = 60, 80
    sheet.scale_up(f"expected weight, {unit}")
    sheet.path([(number, one.weight) for number, one in enumerate(weights)], _LINE)
    named = _named(len(weights))
    for number, one in enumerate(weights):
        sheet.path([(number, one.least), (number, one.most)], _LINE)
        sheet.mark((number, one.weight), "circle")
        if number in named:
            x, y = sheet.at((number, one.most))
            sheet.words((x, y - 8), f"{one.weight:.1f}", anchor="middle", size=11)
            sheet.words((x, sheet.size[1] - sheet.bottom + 18), one.when, anchor="middle", size=11)
    _below(sheet, 12, "circle: expected; upright line: what it may be if all errors go one way")
    if limit:
        sheet.path([(sheet.x[0], limit.weight), (sheet.x[1], limit.weight)], _THIN)
        beside = sheet.size[0] - sheet.right + 4, sheet.at((0, limit.weight))[1] + 4
        sheet.words(beside, f"{limit.weight:.1f}", size=11)
        _below(sheet, 28, f"dash-dotted line: {limit.weight:.1f} {unit} {limit.name}")
    return sheet.text()


def _below(sheet: Sheet, up: float, text: str) -> None:
    """A line of words below the picture, so far above the sheet's lower edge."""
    middle = (sheet.left + sheet.size[0] - sheet.right) / 2
    sheet.words((middle, sheet.size[1] - up), text, anchor="middle", size=11)


def _named(count: int) -> set[int]:
    """The moments that are named: all of a few, else the last and every so many before it."""
    every = -(-count // _MOST_NAMED)
    return set(range(count - 1, -1, -every))
