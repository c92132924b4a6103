"""The greatest flow from several sources to one point."""

from __future__ import annotations

import math
from collections import deque
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from jurystrut.calculations.circuit.network import Edge

__all__ = ["greatest_flow"]

_SOURCE = ""  # no point has an empty name


def greatest_flow(edges: Iterable[Edge], supplied: Mapping[str, float], to: str) -> float:
    """The greatest current that can reach a point, by shortest augmenting paths (Edmonds and Karp, 1972).

    Meshed cores of light aircraft have tens of edges; for those this is done long before a graph library is imported.
    Gives infinity where an unlimited source reaches the point over unlimited edges.
    """
    room: dict[str, dict[str, float]] = {_SOURCE: dict(supplied), to: {}}
    for edge in edges:
        _widen(room, edge.start, edge.end, edge.capacity)
        _widen(room, edge.end, edge.start, 0.0 if edge.one_way else edge.capacity)
    for point in supplied:
        room.setdefault(point, {}).setdefault(_SOURCE, 0.0)
    total = 0.0
    while path := _shortest_path(room, to):
        amount = min(room[a][b] for a, b in path)
        if amount == math.inf:
            return math.inf
        for a, b in path:
            room[a][b] -= amount
            room[b][a] = room[b].get(a, 0.0) + amount
        total += amount
    return total


def _widen(room: dict[str, dict[str, float]], start: str, end: str, capacity: float) -> None:
    beyond = room.setdefault(start, {})
    beyond[end] = beyond.get(end, 0.0) + capacity


def _shortest_path(room: dict[str, dict[str, float]], to: str) -> list[tuple[str, str]]:
    """The steps of a shortest path with room left, or none."""
    before = {_SOURCE: _SOURCE}
    pending = deque([_SOURCE])
    while pending:
        here = pending.popleft()
        for other, left in room[here].items():
            if left > 0 and other not in before:
                before[other] = here
                if other == to:
                    return _steps(before, to)
                pending.append(other)
    return []


def _steps(before: Mapping[str, str], point: str) -> list[tuple[str, str]]:
    found = []
    while point != _SOURCE:
        found.append((before[point], point))
        point = before[point]
    return found
