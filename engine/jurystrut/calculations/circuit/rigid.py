"""Points that are held together at fixed differences of voltage: by conductors without resistance, sources and diodes."""

from __future__ import annotations

import math
from typing import NamedTuple

__all__ = ["Inwards", "Joint", "Rigid"]


class Joint(NamedTuple):
    """Something without resistance from one point to another; `name` tells what."""

    one: str
    other: str
    name: tuple[str, int]


class Inwards(NamedTuple):
    """A step from a point over its last joint: all that arrives at the point goes there, along the joint or, -1, against it."""

    point: str
    towards: str
    name: tuple[str, int]
    sign: int


class Rigid:
    """Groups of points; of each the root, and how far the point's voltage lies above its root's."""

    def __init__(self) -> None:
        self._above: dict[str, tuple[str, float]] = {}
        self._joints: list[Joint] = []
        self.undetermined: dict[tuple[str, int], float] = {}
        """Joints that close a loop: their current is not a number, minus infinity where they contradict the loop."""

    def place(self, point: str) -> tuple[str, float]:
        """The root of a point's group, and its volts above that root."""
        walked = []
        height = 0.0
        while point in self._above:
            walked.append(point)
            point = self._above[point][0]
        for passed in reversed(walked):
            height += self._above[passed][1]
            self._above[passed] = (point, height)
        return point, height

    def root(self, point: str) -> str:
        """The root of a point's group."""
        return self.place(point)[0]

    def join(self, one: str, other: str, volts: float, name: tuple[str, int]) -> None:
        """Hold `other` at so many volts above `one`."""
        (low, below), (high, above) = self.place(one), self.place(other)
        if low == high:
            agrees = math.isclose(above - below, volts, rel_tol=1e-12, abs_tol=1e-12)
            self.undetermined[name] = math.nan if agrees else -math.inf
            return
        self._above[high] = (low, below + volts - above)
        self._joints.append(Joint(one, other, name))

    def inwards(self) -> list[Inwards]:
        """Every joint that closes no loop once, the outermost of each group first."""
        near: dict[str, list[int]] = {}
        for place, joint in enumerate(self._joints):
            near.setdefault(joint.one, []).append(place)
            near.setdefault(joint.other, []).append(place)
        left = {point: len(places) for point, places in near.items()}
        found: list[Inwards] = []
        taken: set[int] = set()
        ends = [point for point, count in left.items() if count == 1]
        while ends:
            point = ends.pop()
            if left[point] != 1:  # the last of a group: its only joint was taken from the other side
                continue
            place = next(p for p in near[point] if p not in taken)
            taken.add(place)
            left[point] = 0
            joint = self._joints[place]
            towards = joint.other if point == joint.one else joint.one
            found.append(Inwards(point, towards, joint.name, 1 if point == joint.one else -1))
            left[towards] -= 1
            if left[towards] == 1:
                ends.append(towards)
        return found
