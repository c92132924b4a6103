"""Solves a resistive network: conductances and injected currents in, voltages out."""

from __future__ import annotations

from heapq import heapify, heappop, heappush
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Set

__all__ = ["solve"]


def solve(
    conductances: Iterable[tuple[str, str, float]], injected: Mapping[str, float], grounded: Set[str]
) -> dict[str, float]:
    """The voltage of every point in volts, those of `grounded` being zero.

    Symmetric elimination, the point with fewest neighbours next (W. F. Tinney and J. W. Walker, Proc. IEEE 55, 1967):
    trees and rows of wires take time in proportion to their size, only what is meshed fills in. Every point must be
    joined to a grounded one. Siemens and amperes.
    """
    diagonal: dict[str, float] = {}
    near: dict[str, dict[str, float]] = {}
    for one, other, siemens in conductances:
        for here, there in ((one, other), (other, one)):
            if here not in grounded:
                diagonal[here] = diagonal.get(here, 0.0) + siemens
                row = near.setdefault(here, {})
                if there not in grounded:
                    row[there] = row.get(there, 0.0) + siemens
    current = {point: injected.get(point, 0.0) for point in diagonal}
    order = _eliminate(diagonal, near, current)
    volts = dict.fromkeys(grounded, 0.0)
    for point, row in reversed(order):
        volts[point] = (current[point] + sum(g * volts[other] for other, g in row.items())) / diagonal[point]
    return volts


def _eliminate(
    diagonal: dict[str, float], near: dict[str, dict[str, float]], current: dict[str, float]
) -> list[tuple[str, dict[str, float]]]:
    """Take out point after point; gives each with its row as it was then. Changes what it is given."""
    waiting = [(len(row), point) for point, row in near.items()]
    heapify(waiting)
    order = []
    while waiting:
        degree, point = heappop(waiting)
        row = near.get(point)
        if row is None or len(row) != degree:  # taken already, or waiting a second time with another degree
            continue
        del near[point]
        order.append((point, row))
        own, arriving = diagonal[point], current[point]
        for other, g in row.items():
            share = g / own
            current[other] += arriving * share
            diagonal[other] -= g * share
            there = near[other]
            del there[point]
            for third, further in row.items():
                if third != other:
                    there[third] = there.get(third, 0.0) + further * share
            heappush(waiting, (len(there), other))
    return order
