"""Every loading that an aircraft can have, held against its envelope: exact, without trying loadings one by one.

Each seat, tank and baggage space adds anything between its least and its most at one arm. In weight against moment the loadings
together fill a zonotope, the sum of one straight stroke a place. Its aft border fills the places from the tail forward, its
forward border from the nose aft; both come from one sorting, n log n. On a stretch where border and limit keep their form,
their distance in arm is a/W + b + cW, whose greatest value stands at an end or at W = sqrt(a/c). So nothing is sampled.

A place that may also stay empty (nobody, or somebody of at least 120 lb; an item carried whole or not at all) is first taken
as anything from nothing up. Where the worst loading found needs what cannot be, the question is split in two, without it and
with it, worst first, until the worst loading is one that can be. Any one unit of weight and of arm, used throughout.
"""

from __future__ import annotations

import heapq
import math
from bisect import bisect_left, bisect_right
from itertools import accumulate, compress, pairwise
from operator import add, itemgetter, mul, sub
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.calculations.balance import Body, total

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from jurystrut.calculations.envelope import Envelope

__all__ = ["Place", "Side", "Worst", "border", "greatest_most", "lightest", "worst_loading"]

Side = Literal["forward", "aft", "gap"]
"""Which limit: the foremost, the rearmost, or a gap between two ranges allowed at one weight."""

_Curve = tuple[float, float, float]
"""A moment over weight, a + bW + cW^2; divided by the weight it is an arm."""

_MOST_SPLITS = 20_000  # numerics


class Place(NamedTuple):
    """A seat, tank or baggage space: from `least` to `most` at its arm, and nothing at all where it may be empty too."""

    least: float
    most: float
    arm: float
    name: str = ""
    may_be_empty: bool = False

    @property
    def lowest(self) -> float:
        """The least that can be there."""
        return 0.0 if self.may_be_empty else self.least

    def holds(self, load: float) -> bool:
        """Whether this load can be there."""
        slack = 1e-9 * max(self.most, 1.0)
        return self.least - slack <= load <= self.most + slack or (self.may_be_empty and abs(load) <= slack)


class Worst(NamedTuple):
    """The loading that lies farthest beyond a limit, or, where `excess` (an arm) is negative, comes nearest to it.

    `exact` is False where too many splits were needed; the true excess is then at most this one.
    """

    excess: float
    weight: float
    arm: float
    limit: float
    loads: tuple[tuple[str, float], ...]
    exact: bool = True


class _Stretch(NamedTuple):
    """The envelope between two weights: its allowed ranges, forward to aft, each between two curves."""

    low: float
    high: float
    ranges: tuple[tuple[_Curve, _Curve], ...]


class _Point(NamedTuple):
    """A candidate: excess in arm, weight, moment there, and the arm of the limit."""

    excess: float
    weight: float
    moment: float
    limit: float


def lightest(empty: Body, places: Iterable[Place]) -> Body:
    """The aircraft with the least at every place."""
    return total([empty, *(Body(place.lowest, place.arm) for place in places)])


def border(empty: Body, places: Iterable[Place], side: Literal["forward", "aft"]) -> list[tuple[float, float]]:
    """The forward or aft border of all loadings as (weight, moment), lightest first; places may take any part of their load."""
    ordered = sorted(places, key=itemgetter(2), reverse=side == "aft")
    chain = _chain(empty, ordered)
    return list(zip(chain.weights, chain.moments, strict=True))


def worst_loading(empty: Body, places: Iterable[Place], envelope: Envelope, gross: float, side: Side) -> Worst | None:
    """The loading not above gross weight that goes farthest beyond one side of the envelope, at weights that it covers.

    None where no loading has such a weight, or, for `gap`, where no loading lies in a gap.
    Weights that the envelope does not cover are the caller's to look at.
    """
    stretches = _stretches(envelope, min(gross, envelope.heaviest))
    if side == "gap" and all(len(stretch.ranges) == 1 for stretch in stretches):
        return None
    order = sorted(places, key=itemgetter(2))  # by their arms
    bound = _bound(empty, order, stretches, side)
    if bound is None:
        return None
    choices = [i for i, (*_, may_be_empty) in enumerate(order) if may_be_empty]
    waiting = [(-bound.excess, 0, bound, order)]
    for count in range(1, _MOST_SPLITS):
        _, _, point, order = heapq.heappop(waiting)
        loads = _loads(empty, order, point, side)
        odd = next((i for i in choices if order[i].may_be_empty and not order[i].holds(loads[i])), None)
        if odd is None:
            return _told(point, order, loads)
        for number, part in enumerate(_split(order, odd)):
            bound = _bound(empty, part, stretches, side)
            if bound is not None:
                heapq.heappush(waiting, (-bound.excess, 2 * count + number, bound, part))
        if not waiting:
            return None
    _, _, point, order = waiting[0]
    return _told(point, order, _loads(empty, order, point, side), exact=False)


def greatest_most(judge: Callable[[float], bool], least: float, most: float, step: float) -> float | None:
    """The greatest load between least and most, in whole steps and rounded down, for which `judge` says yes; None where none.

    `judge` must say yes below some load and no above it.
    """
    low, high = 0, math.floor((most - least) / step + 1e-9)
    if not judge(least):
        return None
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if judge(least + middle * step) else (low, middle - 1)
    return least + low * step


def _told(point: _Point, order: Sequence[Place], loads: Sequence[float], *, exact: bool = True) -> Worst:
    named = tuple(zip(map(itemgetter(3), order), loads, strict=True))  # arithmetic: names
    return Worst(point.excess, point.weight, point.moment / point.weight, point.limit, named, exact)


def _split(order: list[Place], odd: int) -> Iterator[list[Place]]:
    """The same places, once with the odd one empty, once with it holding at least its least."""
    place = order[odd]
    for part in (place._replace(least=0.0, most=0.0, may_be_empty=False), place._replace(may_be_empty=False)):
        yield [*order[:odd], part, *order[odd + 1 :]]


class _Chain(NamedTuple):
    """A border of all loadings: weight and moment at its corners, lightest first, and the arm of the stroke to each."""

    weights: list[float]
    moments: list[float]
    arms: list[float]


def _chain(empty: Body, ordered: Sequence[Place]) -> _Chain:
    """The border that fills the places in this order."""
    lows, rooms, arms = _columns(ordered)
    weight = empty.weight + math.fsum(lows)
    moment = empty.moment + math.fsum(map(mul, lows, arms))
    strokes, their_arms = list(filter(None, rooms)), list(compress(arms, rooms))
    return _Chain(
        list(accumulate(strokes, initial=weight)),
        list(accumulate(map(mul, strokes, their_arms), initial=moment)),
        [0.0, *their_arms],
    )


def _columns(ordered: Sequence[Place]) -> tuple[list[float], list[float], list[float]]:
    """The least, the room above it and the arm of each place; column by column, which is quicker for thousands of places."""
    if not ordered:
        return [], [], []
    least, most, arms, _, may_be_empty = zip(*ordered, strict=True)
    lows = (
        [0.0 if odd else low for low, odd in zip(least, may_be_empty, strict=True)]
        if any(may_be_empty)
        else list(least)
    )
    return lows, list(map(sub, most, lows)), list(arms)


def _loads(empty: Body, order: Sequence[Place], point: _Point, side: Side) -> list[float]:
    """What stands at each place at a point of a border; in a gap, the mixture of both borders that leads there."""
    lows, rooms, arms = _columns(order)
    room = point.weight - empty.weight - math.fsum(lows)
    if side == "forward":
        return _filled(lows, rooms, room)
    aft = _filled(lows[::-1], rooms[::-1], room)[::-1]
    if side == "aft":
        return aft
    forward = _filled(lows, rooms, room)
    ends = [empty.moment + math.fsum(map(mul, arms, loads)) for loads in (forward, aft)]
    share = (point.moment - ends[0]) / (ends[1] - ends[0]) if ends[1] > ends[0] else 0.0
    return [(1 - share) * one + share * other for one, other in zip(forward, aft, strict=True)]


def _filled(lows: list[float], rooms: list[float], room: float) -> list[float]:
    """Each place's load when so much beyond the least is filled in, in this order."""
    filled = list(accumulate(rooms))
    full = bisect_right(filled, max(room, 0.0))
    loads = [*map(add, lows[:full], rooms[:full]), *lows[full:]]
    if full < len(loads):
        loads[full] += max(room, 0.0) - (filled[full - 1] if full else 0.0)
    return loads


def _stretches(envelope: Envelope, heaviest: float) -> list[_Stretch]:
    """The envelope cut at the weights of its corners, up to the heaviest weight asked about."""
    corners = envelope.corners
    levels = sorted({weight for weight, _ in corners})
    sides = list(zip(corners, (*corners[1:], corners[0]), strict=True))
    found = []
    for low, high in pairwise(levels):
        if low > heaviest:
            break
        middle = (low + high) / 2
        across = [_side(one, other, envelope.joined_in) for one, other in sides if _spans(one[0], other[0], middle)]
        across.sort(key=lambda curve: _at(curve, middle))
        found.append(_Stretch(low, min(high, heaviest), tuple(zip(across[::2], across[1::2], strict=True))))
    return found


def _spans(one: float, other: float, weight: float) -> bool:
    return min(one, other) < weight < max(one, other)


def _side(one: tuple[float, float], other: tuple[float, float], joined_in: str) -> _Curve:
    """One straight side: in arm its moment is W(a + bW), in moment a + bW."""
    (w1, x1), (w2, x2) = one, other
    if joined_in == "arm":
        slope = (x2 - x1) / (w2 - w1)
        return 0.0, x1 - slope * w1, slope
    slope = (w2 * x2 - w1 * x1) / (w2 - w1)
    return w1 * x1 - slope * w1, slope, 0.0


def _at(curve: _Curve, weight: float) -> float:
    return curve[0] + weight * (curve[1] + weight * curve[2])


def _less(one: _Curve, other: _Curve) -> _Curve:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def _bound(empty: Body, order: list[Place], stretches: list[_Stretch], side: Side) -> _Point | None:
    """The farthest point of these loadings beyond a side, every part of a load taken as possible."""
    points = _in_gaps(empty, order, stretches) if side == "gap" else _beyond(empty, order, stretches, side)
    return max(points, default=None)


def _beyond(
    empty: Body, order: list[Place], stretches: list[_Stretch], side: Literal["forward", "aft"]
) -> Iterator[_Point]:
    aft = side == "aft"
    chain = _chain(empty, order[::-1] if aft else order)
    spans = [(max(s.low, chain.weights[0]), min(s.high, chain.weights[-1]), s) for s in stretches]
    # A single weight counts where there is nothing longer; one that is the heaviest but for rounding is the heaviest.
    longer = [span for span in spans if span[0] < span[1]]
    for low, high, stretch in longer or [(h, h, s) for w, h, s in spans if w <= h * (1 + 1e-9)]:
        yield _farthest(chain, low, high, stretch.ranges[-1][1] if aft else stretch.ranges[0][0], 1 if aft else -1)


def _farthest(chain: _Chain, low: float, high: float, limit: _Curve, sign: int) -> _Point:
    """The point of a border farthest beyond a limit between two weights: a corner, an end, or where the distance turns."""
    a, b, c = limit
    weights, moments, arms = chain
    first, last = bisect_right(weights, low), bisect_left(weights, high)
    candidates = [(low, _moment_at(chain, low)), (high, _moment_at(chain, high))]
    if c:  # a limit that is curved in moment: every corner, and where the distance turns between two
        candidates += zip(weights[first:last], moments[first:last], strict=True)
        for k in range(max(first, 1), min(last + 1, len(weights))):
            intercept = moments[k] - arms[k] * weights[k]
            turning = _turning((intercept - a, 0.0, -c), max(low, weights[k - 1]), min(high, weights[k]))
            candidates += [(weight, intercept + arms[k] * weight) for weight in turning]
    elif first < last:
        k = _crest(chain, first, last - 1, a, sign)
        candidates.append((weights[k], moments[k]))
    excess, weight, moment = max((sign * ((m - a) / w - b - c * w), w, m) for w, m in candidates)
    return _Point(excess, weight, moment, a / weight + b + c * weight)


def _crest(chain: _Chain, first: int, last: int, a: float, sign: int) -> int:
    """The corner of the greatest (moment - a) / weight: it rises while the next stroke's arm is beyond it, then falls.

    The aft border is concave, so what exceeds any given arm is one piece of it; the forward border is its mirror image.
    """
    while first < last:
        middle = (first + last) // 2
        rises = sign * chain.arms[middle + 1] * chain.weights[middle] > sign * (chain.moments[middle] - a)
        first, last = (middle + 1, last) if rises else (first, middle)
    return first


def _moment_at(chain: _Chain, weight: float) -> float:
    """The moment of a border at a weight; at its ends for a weight beyond them."""
    k = min(bisect_left(chain.weights, weight), len(chain.weights) - 1)
    return chain.moments[k] - chain.arms[k] * (chain.weights[k] - weight) if k else chain.moments[0]


def _strokes(chain: _Chain) -> Iterator[tuple[float, float, _Curve]]:
    """The straight parts of a border, each with its curve; a border of one corner is one part without length."""
    weights, moments, arms = chain
    if len(weights) == 1:
        yield weights[0], weights[0], (moments[0], 0.0, 0.0)
    for (w1, w2), m1, arm in zip(pairwise(weights), moments, arms[1:], strict=False):
        yield w1, w2, (m1 - arm * w1, arm, 0.0)


def _overlaps(
    borders: list[list[tuple[float, float, _Curve]]], stretches: list[_Stretch]
) -> Iterator[tuple[float, float, list[_Curve], _Stretch]]:
    """The weights over which no border and no limit changes its form, in one pass over all of them.

    A single weight counts where there is nothing longer; elsewhere the stretch beside it says all.
    """
    positions = [0] * len(borders)
    at, longer = 0, False
    single = []
    while at < len(stretches) and all(i < len(border) for i, border in zip(positions, borders, strict=True)):
        parts = [border[i] for i, border in zip(positions, borders, strict=True)]
        stretch = stretches[at]
        low = max(stretch.low, *(part[0] for part in parts))
        high = min(stretch.high, *(part[1] for part in parts))
        if low < high:
            longer = True
            yield low, high, [part[2] for part in parts], stretch
        elif low <= high * (1 + 1e-9):  # a weight that is the heaviest but for rounding is the heaviest
            single.append((high, high, [part[2] for part in parts], stretch))
        if stretch.high <= high:
            at += 1
        else:
            positions = [i + (part[1] <= high) for i, part in zip(positions, parts, strict=True)]
    if not longer:
        yield from single


def _turning(curve: _Curve, low: float, high: float) -> Iterator[float]:
    """The weight between two at which a curve's arm, a/W + b + cW, turns."""
    if curve[2] and curve[0] / curve[2] > 0:
        weight = math.sqrt(curve[0] / curve[2])
        if low < weight < high:
            yield weight


def _in_gaps(empty: Body, order: list[Place], stretches: list[_Stretch]) -> Iterator[_Point]:
    """Points between two allowed ranges, each the farthest from both that its stretch of weights has."""
    forward, aft = list(_strokes(_chain(empty, order))), list(_strokes(_chain(empty, order[::-1])))
    for low, high, (first, last), stretch in _overlaps([forward, aft], stretches):
        for (_, ahead), (behind, _) in pairwise(stretch.ranges):
            half = _less(behind, ahead)
            depths = [_less(last, ahead), _less(behind, first), (half[0] / 2, half[1] / 2, half[2] / 2)]
            weights = {low, high}
            for number, depth in enumerate(depths):
                weights.update(_turning(depth, low, high))
                for other in depths[number + 1 :]:
                    weights.update(_roots(_less(depth, other), low, high))
            for weight in weights:
                deep = min(_at(depth, weight) for depth in depths)
                if deep > 1e-9 * abs(_at(ahead, weight)):
                    moment = min(_at(ahead, weight) + deep, _at(last, weight))
                    yield _Point(deep / weight, weight, max(moment, _at(first, weight)), _at(ahead, weight) / weight)


def _roots(curve: _Curve, low: float, high: float) -> Iterator[float]:
    """The weights between two at which a curve is zero."""
    a, b, c = curve
    if not c:
        found = [-a / b] if b else []
    else:
        inside = b * b - 4 * a * c  # arithmetic
        found = [(-b + sign * math.sqrt(inside)) / (2 * c) for sign in (-1, 1)] if inside >= 0 else []
    yield from (weight for weight in found if low < weight < high)
