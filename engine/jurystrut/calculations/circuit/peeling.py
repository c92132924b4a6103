"""Takes a network apart into trees and what is left of it: its meshed core."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence, Set

__all__ = ["Branch", "Branches", "parts", "peel"]


class Branch(NamedTuple):
    """One step of the way from a point towards the core: the next point, and the edge that leads there."""

    towards: str
    edge: int


@dataclass(frozen=True, slots=True)
class Branches(Mapping[str, Branch]):
    """The trees of a network: of every point in one the branch that it hangs on, outermost first.

    Large networks are swept by number: `points` are all of the network's, `places` their numbers. `outer` are the places
    in trees, outermost first; `inner` and `edges` give each place its next one towards the core and the edge that leads there,
    -1 in the core.
    """

    points: Sequence[str]
    places: Mapping[str, int]
    outer: Sequence[int]
    inner: Sequence[int]
    edges: Sequence[int]

    def __getitem__(self, point: str) -> Branch:
        place = self.places[point]
        if self.inner[place] < 0:
            raise KeyError(point)
        return Branch(self.points[self.inner[place]], self.edges[place])

    def __contains__(self, point: object) -> bool:
        return point in self.places and self.inner[self.places[point]] >= 0  # type: ignore[index]  # it is a point

    def __iter__(self) -> Iterator[str]:
        return map(self.points.__getitem__, self.outer)

    def __len__(self) -> int:
        return len(self.outer)

    def only(self, outer: Sequence[int], late: Mapping[str, Branch]) -> Branches:
        """The same for these places in trees alone, of which some only now are in one, by their `late` branches."""
        if len(outer) == len(self.outer) and not late:
            return self
        inner, edges = [-1] * len(self.inner), [-1] * len(self.edges)
        for place in outer:
            inner[place], edges[place] = self.inner[place], self.edges[place]
        for point, (towards, edge) in late.items():
            inner[self.places[point]], edges[self.places[point]] = self.places[towards], edge
        return Branches(self.points, self.places, outer, inner, edges)


def peel(places: Mapping[str, int], ends: Sequence[tuple[int, int]], kept: Iterable[int]) -> Branches:
    """Take dead ends off one by one, never a place of `kept`; `ends` are the places that each edge joins.

    What stays is `kept`, what lies between them, and every cycle. Linear: instead of lists of neighbours each place keeps the
    count of its edges and the exclusive or of their numbers, which for a dead end is the number of its only one.
    """
    left, joined = [0] * len(places), [0] * len(places)
    for index, (one, other) in enumerate(ends):
        left[one] += 1
        left[other] += 1
        joined[one] ^= index
        joined[other] ^= index
    for place in kept:
        left[place] += _NEVER_A_DEAD_END
    outer: list[int] = []
    inner, edges = [-1] * len(places), [-1] * len(places)
    dead_ends = [place for place, count in enumerate(left) if count == 1]
    while dead_ends:
        place = dead_ends.pop()
        if left[place] != 1:  # its last neighbour was taken meanwhile: a tree's very last point stays
            continue
        index = joined[place]
        one, other = ends[index]
        towards = other if one == place else one
        outer.append(place)
        inner[place], edges[place] = towards, index
        left[place] = 0
        left[towards] -= 1
        joined[towards] ^= index
        if left[towards] == 1:
            dead_ends.append(towards)
    return Branches(tuple(places), places, outer, inner, edges)


_NEVER_A_DEAD_END = 1 << 60  # numerics: more edges than any place has


def parts(neighbours: Mapping[str, Iterable[tuple[str, int]]], points: Set[str]) -> list[set[str]]:
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
