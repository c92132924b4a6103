"""The greatest flow from several sources to one point, and the bottleneck that makes it no greater."""

from __future__ import annotations

import math
from collections import deque
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["Way", "before_bottleneck", "greatest_flow"]

_SOURCE = ""  # no point has an empty name


class Way(NamedTuple):
    """What can pass from one point to another, in amperes; the opposite direction is a way of its own."""

    start: str
    end: str
    capacity: float


def greatest_flow(ways: Iterable[Way], supplied: Mapping[str, float], to: str) -> float:
    """The greatest current that can reach a point, by shortest augmenting paths (Edmonds and Karp, 1972).

    Meshed cores of light aircraft have tens of edges; for those this is done long before a graph library is imported.
    Gives infinity where an unlimited source reaches the point over unlimited ways.
    """
    return _fill(_room(ways, supplied, to), to)


def before_bottleneck(ways: Iterable[Way], supplied: Mapping[str, float], to: str) -> frozenset[str]:
    """The points to which more could still flow when no more reaches `to`: what limits the flow leads out of them."""
    room = _room(ways, supplied, to)
    _fill(room, to)
    return frozenset(_steps_from_source(room, None)) - {_SOURCE}


def _room(ways: Iterable[Way], supplied: Mapping[str, float], to: str) -> dict[str, dict[str, float]]:
    """What each point can still send to each other, ways side by side added."""
    room: dict[str, dict[str, float]] = {_SOURCE: dict(supplied), to: {}}
    for start, end, capacity in ways:
        beyond = room.setdefault(start, {})
        beyond[end] = beyond.get(end, 0.0) + capacity
        room.setdefault(end, {})
    for point in supplied:
        room.setdefault(point, {})
    return room


def _fill(room: dict[str, dict[str, float]], to: str) -> float:
    total = 0.0
    while to in (before := _steps_from_source(room, to)):
        path = _path(before, to)
        amount = min(room[a][b] for a, b in path)
        if amount == math.inf:
            return math.inf
        for a, b in path:
            room[a][b] -= amount
            room[b][a] = room[b].get(a, 0.0) + amount
        total += amount
    return total


def _steps_from_source(room: Mapping[str, Mapping[str, float]], to: str | None) -> dict[str, str]:
    """Point -> the point before it, on shortest paths with room left, as far as `to`."""
    before = {_SOURCE: _SOURCE}
    pending = deque([_SOURCE])
    while pending:
        here = pending.popleft()
        for other, left in room[here].items():
            if left > 0 and other not in before:
                before[other] = here
                if other == to:
                    return before
                pending.append(other)
    return before


def _path(before: Mapping[str, str], point: str) -> list[tuple[str, str]]:
    found = []
    while point != _SOURCE:
        found.append((before[point], point))
        point = before[point]
    return found
