"""Takes a network apart into trees and what is left of it: its meshed core."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence, Set

__all__ = ["Branch", "parts", "peel"]


class Branch(NamedTuple):
    """One step of the way from a point towards the core: the next point, and the edge that leads there."""

    towards: str
    edge: int


def peel(neighbours: Mapping[str, Sequence[tuple[str, int]]], kept: Set[str]) -> dict[str, Branch]:
    """Take dead ends off one by one, never a point of `kept`; gives each point taken its branch, outermost first.

    `neighbours` gives each point the others that it is joined to, and by which edge. What stays is `kept`, what lies between
    them, and every cycle. Linear.
    """
    left = {point: len(steps) for point, steps in neighbours.items()}
    ends = [point for point, count in left.items() if count == 1 and point not in kept]
    taken: dict[str, Branch] = {}
    while ends:
        point = ends.pop()
        if left[point] != 1:  # its last neighbour was taken meanwhile: a tree's very last point stays
            continue
        other, index = _only_step(neighbours[point], left)
        taken[point] = Branch(other, index)
        left[point] = 0
        left[other] -= 1
        if left[other] == 1 and other not in kept:
            ends.append(other)
    return taken


def _only_step(steps: Iterable[tuple[str, int]], left: Mapping[str, int]) -> tuple[str, int]:
    """The one step that leads to a point not taken yet."""
    return next(step for step in steps if left[step[0]])


def parts(neighbours: Mapping[str, Iterable[tuple[str, int]]], points: Iterable[str]) -> list[set[str]]:
    """The points sorted into those that are joined among themselves. Linear."""
    left = set(points)
    found = []
    while left:
        part = {left.pop()}
        pending = list(part)
        while pending:
            for other, _ in neighbours.get(pending.pop(), ()):
                if other in left:
                    left.discard(other)
                    part.add(other)
                    pending.append(other)
        found.append(part)
    return found
