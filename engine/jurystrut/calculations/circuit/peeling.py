"""Takes a network apart into trees and what is left of it: its meshed core."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence, Set

    from jurystrut.calculations.circuit.network import Edge

__all__ = ["Branch", "parts", "peel"]


class Branch(NamedTuple):
    """One step of the way from a point towards the core: the next point, and the edge that leads there."""

    towards: str
    edge: int


def peel(edges: Sequence[Edge], some: Iterable[int], kept: Set[str]) -> dict[str, Branch]:
    """Take dead ends off some of the edges one by one, never a point of `kept`; gives each point taken its branch.

    Outermost points come first. What stays is `kept`, what lies between them, and every cycle. Linear.
    """
    left: dict[str, int] = {}
    joined: dict[str, int] = {}  # the numbers of a point's edges, one xor the other: of a dead end, its only edge
    for index in some:
        edge = edges[index]
        for point in (edge.start, edge.end):
            left[point] = left.get(point, 0) + 1
            joined[point] = joined.get(point, 0) ^ index
    ends = [point for point, count in left.items() if count == 1 and point not in kept]
    taken: dict[str, Branch] = {}
    while ends:
        point = ends.pop()
        if left[point] != 1:  # its last neighbour was taken meanwhile: a tree's very last point stays
            continue
        index = joined[point]
        edge = edges[index]
        other = edge.end if edge.start == point else edge.start
        taken[point] = Branch(other, index)
        left[point] = 0
        left[other] -= 1
        joined[other] ^= index
        if left[other] == 1 and other not in kept:
            ends.append(other)
    return taken


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
