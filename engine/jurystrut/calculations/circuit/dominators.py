"""What every way from a root to a vertex of a graph passes."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["immediate_dominators"]

_V = TypeVar("_V")


def immediate_dominators(root: _V, onwards: Mapping[_V, Sequence[_V]]) -> dict[_V, _V]:
    """For each vertex that the root reaches, the last one that every way to it passes; the root is its own.

    K. D. Cooper, T. J. Harvey and K. Kennedy, "A Simple, Fast Dominance Algorithm", Rice University TR-06-33870 (2001).
    """
    order = _outwards(root, onwards)
    number = {vertex: place for place, vertex in enumerate(order)}
    before: list[list[int]] = [[] for _ in order]
    for vertex in order:
        for other in onwards.get(vertex, ()):
            before[number[other]].append(number[vertex])
    last = [0, *([-1] * (len(order) - 1))]
    changed = True
    while changed:
        changed = False
        for place in range(1, len(order)):
            new = -1
            for earlier in before[place]:
                if last[earlier] >= 0:
                    new = earlier if new < 0 else _meeting(last, new, earlier)
            if last[place] != new:
                last[place], changed = new, True
    return {vertex: order[last[place]] for place, vertex in enumerate(order)}


def _outwards(root: _V, onwards: Mapping[_V, Sequence[_V]]) -> list[_V]:
    """The vertices in reverse postorder of a depth-first walk."""
    seen, done = {root}, []
    walk = [(root, iter(onwards.get(root, ())))]
    while walk:
        vertex, others = walk[-1]
        for other in others:
            if other not in seen:
                seen.add(other)
                walk.append((other, iter(onwards.get(other, ()))))
                break
        else:
            done.append(vertex)
            walk.pop()
    return done[::-1]


def _meeting(last: Sequence[int], one: int, other: int) -> int:
    while one != other:
        if one > other:
            one = last[one]
        else:
            other = last[other]
    return one
