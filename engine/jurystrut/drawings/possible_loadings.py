"""The weight and balance envelope with everything that can be loaded, the loadings declared, and the finished aircraft."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.drawings.weight_svg import MARKS, Sheet

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from jurystrut.calculations.envelope import Envelope

__all__ = ["Band", "Burn", "draw_possible_loadings", "outline"]

_STEPS = 12
_LIMIT = 'fill="none" stroke="black" stroke-width="2.5"'
_REACH = 'fill="url(#hatch)" fill-opacity="0.5" stroke="#333" stroke-width="1"'
_BURN = 'fill="none" stroke="black" stroke-width="1.2" stroke-dasharray="5 3"'
_BAND = 'fill="url(#dots)" stroke="black" stroke-width="1" stroke-dasharray="2 2"'
_GROSS = 'fill="none" stroke="black" stroke-width="1" stroke-dasharray="9 3 2 3"'

_Point = tuple[float, float]


class Burn(NamedTuple):
    """A declared loading and its states as (weight, arm), from take-off until the fuel is gone."""

    name: str
    states: tuple[_Point, ...]


class Band(NamedTuple):
    """The finished empty aircraft: weight and arm expected, and how far each may be off."""

    weight: float
    arm: float
    weight_spread: float
    arm_spread: float


def draw_possible_loadings(
    envelope: Envelope,
    forward: Sequence[_Point],
    aft: Sequence[_Point],
    gross: float,
    burns: Sequence[Burn] = (),
    band: Band | None = None,
    *,
    name: str = "",
    units: tuple[str, str] = ("lb", "in"),
) -> str:
    """An SVG of arm against weight, all in the units named.

    `forward` and `aft` are the borders of all possible loadings as (weight, moment), lightest first, as
    `calculations.loadings.border` gives them; the part up to gross weight is hatched. Straight in moment is curved here.
    """
    region = _region(forward, aft, gross)
    limits = outline(envelope)
    points = [*region, *limits, *((arm, weight) for burn in burns for weight, arm in burn.states)]
    if band:
        points.append((band.arm, band.weight - band.weight_spread))
    sheet = _sheet(points, gross, name, units, 30 + 18 * len(burns))
    sheet.axes(f"centre of gravity, {units[1]} from the datum", f"weight, {units[0]}")
    sheet.path(region, _REACH, closed=True)
    sheet.path(limits, _LIMIT, closed=True)
    sheet.path([(sheet.x[0], gross), (sheet.x[1], gross)], _GROSS)
    sheet.words(
        (sheet.size[0] - sheet.right - 4, sheet.at((0, gross))[1] - 5), f"gross {gross:g}", anchor="end", size=11
    )
    for weight, arm in envelope.corners:
        x, y = sheet.at((arm, weight))
        sheet.words((x + 4, y + 13), f"{arm:g} / {weight:g}", size=10)
    for number, burn in enumerate(burns):
        _burn(sheet, number, burn)
    if band:
        _band(sheet, band, units)
    return sheet.text()


def outline(envelope: Envelope) -> list[_Point]:
    """The envelope's border as (arm, weight); sides joined in moment are curves of short pieces."""
    corners = envelope.corners
    points: list[_Point] = []
    for (w1, x1), (w2, x2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        points.append((x1, w1))
        if envelope.joined_in == "moment" and w1 != w2 and x1 != x2:
            points += list(_curve((w1, w1 * x1), (w2, w2 * x2)))
    return points


def _curve(one: _Point, other: _Point) -> Iterator[_Point]:
    """Between two (weight, moment), as (arm, weight), without the ends."""
    for step in range(1, _STEPS):
        weight = one[0] + (other[0] - one[0]) * step / _STEPS
        yield (one[1] + (other[1] - one[1]) * step / _STEPS) / weight, weight


def _region(forward: Sequence[_Point], aft: Sequence[_Point], gross: float) -> list[_Point]:
    """All possible loadings up to gross weight, as (arm, weight) around the border."""
    return [*_line(_below(aft, gross)), *reversed(_line(_below(forward, gross)))]


def _below(border: Sequence[_Point], gross: float) -> list[_Point]:
    kept = [border[0]]
    for (w1, m1), (w2, m2) in pairwise(border):
        share = min((gross - w1) / (w2 - w1), 1.0)
        if share <= 0:
            break
        kept.append((w1 + share * (w2 - w1), m1 + share * (m2 - m1)))
    return kept


def _line(border: Sequence[_Point]) -> list[_Point]:
    points = [(border[0][1] / border[0][0], border[0][0])]
    for one, other in pairwise(border):
        points += [*_curve(one, other), (other[1] / other[0], other[0])]
    return points


def _sheet(points: Sequence[_Point], gross: float, name: str, units: tuple[str, str], legend: float) -> Sheet:
    arms, weights = [x for x, _ in points], [*(y for _, y in points), gross]
    wide, high = max(max(arms) - min(arms), 1e-6), max(max(weights) - min(weights), 1e-6)
    sheet = Sheet(
        (760, 520 + legend),
        (min(arms) - 0.08 * wide, max(arms) + 0.12 * wide),
        (min(weights) - 0.08 * high, max(weights) + 0.06 * high),
        f"Weight and balance{f', {name}' if name else ''}",
        f"Centre of gravity in {units[1]} against weight in {units[0]}: the thick line is the envelope, the hatched area all "
        "loadings that are possible up to gross weight, dashed lines the declared loadings from take-off until the fuel is "
        "gone, the dotted box the finished empty aircraft with its uncertainty.",
    )
    sheet.top, sheet.bottom = 40, 50 + legend
    return sheet


def _burn(sheet: Sheet, number: int, burn: Burn) -> None:
    """A loading's states joined in the order in which fuel is burnt; numbered, with its figures in the legend."""
    line = [(weight, weight * arm) for weight, arm in burn.states]
    sheet.path(_line(line), _BURN)
    shape = MARKS[number % len(MARKS)]
    for weight, arm in burn.states:
        sheet.mark((arm, weight), shape)
    (weight, first), (_, last) = burn.states[0], burn.states[-1]
    x, y = sheet.at((first, weight))
    aft = last > first  # the number stands where the line does not go
    sheet.words((x - 8 if aft else x + 8, y + 4), str(number + 1), anchor="end" if aft else "start", size=11)
    y = sheet.size[1] - sheet.bottom + 58 + 18 * number
    sheet.mark((sheet.left + 6, y - 4), shape, on_sheet=True)
    states = "; ".join(f"{weight:.1f} at {arm:.2f}" for weight, arm in burn.states)
    sheet.words((sheet.left + 18, y), f"{number + 1}  {burn.name}: {states}", size=11)


def _band(sheet: Sheet, band: Band, units: tuple[str, str]) -> None:
    low, high = band.weight - band.weight_spread, band.weight + band.weight_spread
    fore, rear = band.arm - band.arm_spread, band.arm + band.arm_spread
    sheet.path([(fore, low), (rear, low), (rear, high), (fore, high)], _BAND, closed=True)
    words = f"empty, finished: {band.weight:.1f} ± {band.weight_spread:.1f} {units[0]}"
    sheet.mark((band.arm, band.weight), "plus", f"{words} at {band.arm:.2f} ± {band.arm_spread:.2f} {units[1]}")
