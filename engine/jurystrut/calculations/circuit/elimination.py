"""Solves a resistive network: conductances and injected currents in, voltages out."""

from __future__ import annotations

from heapq import heapify, heappop, heappush
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Set

__all__ = ["Eliminated"]


class _Step(NamedTuple):
    """A point taken out, its conductance as it was then, and the share of its current that each neighbour got."""

    point: str
    siemens: float
    shares: list[tuple[str, float]]


class Eliminated:
    """A resistive network taken apart once, to be solved for as many currents as wanted.

    Symmetric elimination, the point with fewest neighbours next (W. F. Tinney and J. W. Walker, Proc. IEEE 55, 1967):
    trees and rows of wires take time in proportion to their size, only what is meshed fills in. Every point must be
    joined to one of `grounded`, whose voltage is zero. Conductances in siemens.
    """

    def __init__(self, conductances: Iterable[tuple[str, str, float]], grounded: Set[str]) -> None:
        diagonal: dict[str, float] = {}
        near: dict[str, dict[str, float]] = {}
        for one, other, siemens in conductances:
            for here, there in ((one, other), (other, one)):
                if here not in grounded and here != there:
                    diagonal[here] = diagonal.get(here, 0.0) + siemens
                    row = near.setdefault(here, {})
                    if there not in grounded:
                        row[there] = row.get(there, 0.0) + siemens
        self._steps = _eliminate(diagonal, near)
        self._inwards = self._steps[::-1]
        self._grounded = grounded

    def volts(self, injected: Mapping[str, float]) -> dict[str, float]:
        """The voltage of every point, in volts, from the amperes that come in at each."""
        current = {step.point: injected.get(step.point, 0.0) for step in self._steps}
        for point, _, shares in self._steps:
            arriving = current[point]
            for other, share in shares:
                current[other] += arriving * share
        volts = dict.fromkeys(self._grounded, 0.0)
        for point, siemens, shares in self._inwards:
            across = current[point] / siemens
            for other, share in shares:
                across += share * volts[other]
            volts[point] = across
        return volts


def _eliminate(diagonal: dict[str, float], near: dict[str, dict[str, float]]) -> list[_Step]:
    """Take out point after point. Changes what it is given."""
    waiting = [(len(row), point) for point, row in near.items()]
    heapify(waiting)
    steps = []
    while waiting:
        degree, point = heappop(waiting)
        row = near.get(point)
        if row is None or len(row) != degree:  # taken already, or waiting a second time with another degree
            continue
        del near[point]
        shares = [(other, siemens / diagonal[point]) for other, siemens in row.items()]
        steps.append(_Step(point, diagonal[point], shares))
        for other, share in shares:
            diagonal[other] -= row[other] * share
            there = near[other]
            del there[point]
            for third, further in row.items():
                if third != other:
                    there[third] = there.get(third, 0.0) + further * share
            heappush(waiting, (len(there), other))
    return steps
