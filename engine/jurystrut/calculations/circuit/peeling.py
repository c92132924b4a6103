"""Takes a network apart into trees and what is left of it: its meshed core."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Set

    from jurystrut.calculations.circuit.network import Network

__all__ = ["Branch", "apart", "parts", "peel"]


class Branch(NamedTuple):
    """One step of the way from a point towards the core: the next point, and the edge that leads there."""

    towards: str
    edge: int


def peel(
    network: Network, points: Iterable[str], kept: frozenset[str], gone: Mapping[str, Branch]
) -> dict[str, Branch]:
    """Take off dead ends one by one, never one of `kept`; gives each point taken its branch, outermost first.

    `gone` holds points that were taken off before. What stays is `kept`, what lies between them, and every cycle. Linear.
    """
    neighbours = network.neighbours
    left = {point: len(neighbours[point]) for point in points if point not in gone}
    if gone:
        left = {point: sum(1 for other, _ in neighbours[point] if other not in gone) for point in left}
    ends = [point for point, degree in left.items() if degree == 1 and point not in kept]
    taken: dict[str, Branch] = {}
    while ends:
        point = ends.pop()
        if left[point] != 1:  # its last neighbour was taken meanwhile: a tree's very last point stays
            continue
        other, edge = next((o, e) for o, e in neighbours[point] if o not in taken and o not in gone)
        taken[point] = Branch(other, edge)
        left[point] = 0
        left[other] -= 1
        if left[other] == 1 and other not in kept:
            ends.append(other)
    return taken


def apart(network: Network) -> tuple[dict[str, Branch], list[int]]:
    """The branches of a whole network, outermost first, and the edges that are in none: what lies between sources."""
    ends = frozenset(point for supply in network.supplies for point in (supply.point, supply.back))
    branches = peel(network, network.neighbours, ends, {})
    taken = {branch.edge for branch in branches.values()}
    return branches, [index for index in range(len(network.edges)) if index not in taken]


def parts(network: Network, points: Set[str]) -> list[set[str]]:
    """The points sorted into those that are joined among themselves. Linear."""
    left = set(points)
    found = []
    while left:
        part = {left.pop()}
        pending = list(part)
        while pending:
            for other, _ in network.neighbours[pending.pop()]:
                if other in left:
                    left.discard(other)
                    part.add(other)
                    pending.append(other)
        found.append(part)
    return found
