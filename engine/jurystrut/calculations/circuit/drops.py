"""The voltage that each load loses on its supply and its return."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping, Set

    from jurystrut.calculations.circuit.analysis import Analysis

__all__ = ["Drop", "drops_to", "voltage_drops"]

# Beyond this many steps every edge of the mesh is counted instead of its worst way.
_MOST_STEPS = 2000  # numerics


class Drop(NamedTuple):
    """Volts lost on a way; the edge that loses most of it on its own, -1 for none, and what that loses.

    `bound` says that the way leads through a mesh, so that no more than these volts are lost.
    """

    volts: float
    edge: int = -1
    most: float = -1.0
    bound: bool = False

    def then(self, other: Drop) -> Drop:
        """The two ways in a row."""
        worse = self if self.most >= other.most else other
        return _new(Drop, (self.volts + other.volts, worse.edge, worse.most, self.bound or other.bound))


_new = tuple.__new__  # what a named tuple's own constructor comes to, in a third of the time


def voltage_drops(analysis: Analysis, ohms: Mapping[str, float]) -> dict[str, float]:
    """Volts lost by each load's id, from the last bus to the load and from the load to its ground, each edge at its current.

    As `drops_to`, with ways that end at the first of the network's buses, or at a source.
    """
    network = analysis.network
    ends = network.buses | {point for supply in network.supplies for point in (supply.point, supply.back)}
    return {id_: drop.volts for id_, drop in drops_to(ends, analysis, ohms).items()}


def drops_to(ends: Set[str], analysis: Analysis, ohms: Mapping[str, float]) -> dict[str, Drop]:
    """What each load loses, by its id, on its supply and its return as far as the first of `ends`.

    `ohms` gives wires their resistance by id; devices have none. Where a way leads through a mesh, the worst way without a
    detour counts, or in a large mesh all edges together: a bound, as any one of the alternatives may be the only one left. A
    load is left out when the resistance of a wire on its way is not given, or when its way reaches no end.
    """
    ways, network = _Ways(analysis, ohms, ends), analysis.network
    found: dict[str, Drop] = {}
    for sink, (point, returning) in zip(network.sinks, network.sink_ends, strict=True):
        supply, back = ways.lost(point), ways.lost(returning)
        if supply is not None and back is not None:
            found[sink.id] = supply.then(back)
    return found


_NOTHING = Drop(0.0)  # arithmetic
_NOT_YET = Drop(math.nan)


class _Ways:
    """What is lost between each point and the end that it hangs on, each point looked at once."""

    def __init__(self, analysis: Analysis, ohms: Mapping[str, float], stops: Set[str]) -> None:
        self._analysis, self._ohms, self._stops = analysis, ohms, stops
        self._regions: dict[str, dict[str, list[tuple[str, int]]]] = {}
        places, branches, edges = analysis.network.places, analysis.towards, analysis.network.edges
        self._known: list[Drop | None] = [_NOT_YET] * len(places)
        known = self._known
        for stop in stops & places.keys():
            known[places[stop]] = _NOTHING
        for place in reversed(branches.outer):  # from the core outwards
            if known[place] is _NOT_YET:
                so_far, index = self.lost(branches.inner[place]), branches.edges[place]
                known[place] = self._behind(so_far, index) if edges[index].kind == "wire" else so_far

    def lost(self, place: int) -> Drop | None:
        """What is lost between a place and where its way ends; None where that cannot be told."""
        so_far = self._known[place]
        if so_far is _NOT_YET:  # in the core
            volts = self._through_mesh(self._analysis.towards.points[place])
            so_far = self._known[place] = None if volts is None else Drop(volts, bound=True)
        return so_far

    def _behind(self, so_far: Drop | None, wire: int) -> Drop | None:
        """What is lost as far as the outer end of one more wire."""
        lost = self._drop(wire)
        if lost is None or so_far is None:
            return None
        volts, edge, most, bound = so_far
        return _new(Drop, (volts + lost, wire, lost, bound) if lost > most else (volts + lost, edge, most, bound))

    def _drop(self, index: int) -> float | None:
        edge = self._analysis.network.edges[index]
        ohms = self._ohms.get(edge.id, None if edge.kind == "wire" else 0.0)
        return None if ohms is None else ohms * self._analysis.current[index]

    def _through_mesh(self, point: str) -> float | None:
        steps = self._region(point)
        drops = {index: self._drop(index) for near in steps.values() for _, index in near}
        known = {index: drop for index, drop in drops.items() if drop is not None}
        if len(known) < len(drops) or not self._stops & {other for near in steps.values() for other, _ in near}:
            return None
        worst = _worst_way(point, steps, self._stops, known)
        return sum(known.values()) if worst is None else worst

    def _region(self, start: str) -> dict[str, list[tuple[str, int]]]:
        """The meshed points joined to this one short of any stop, with their steps; one look for all of its points."""
        if start in self._regions:
            return self._regions[start]
        towards, near = self._analysis.towards, self._analysis.network.near
        steps: dict[str, list[tuple[str, int]]] = {}
        pending = [start]
        while pending:
            point = pending.pop()
            if point not in steps and point not in self._stops:
                # A branch's edge leads away from the sources: no way back to them.
                steps[point] = [step for step in near(point) if step[0] not in towards or step[0] in self._stops]
                pending.extend(other for other, _ in steps[point])
        self._regions.update(dict.fromkeys(steps, steps))
        return steps


def _worst_way(
    start: str, steps: Mapping[str, list[tuple[str, int]]], stops: Set[str], drops: Mapping[int, float]
) -> float | None:
    """The most that is lost on any way without a detour from a point to a stop; None after too many steps."""
    worst, count = 0.0, 0
    way: list[tuple[str, float]] = [(start, 0.0)]
    on_way = {start}
    choices = [iter(steps[start])]
    while choices:
        step = next(choices[-1], None)
        count += 1
        if count > _MOST_STEPS:
            return None
        if step is None:
            choices.pop()
            on_way.discard(way.pop()[0])
            continue
        point, volts = step[0], way[-1][1] + drops[step[1]]
        if point in stops:
            worst = max(worst, volts)
        elif point not in on_way:
            way.append((point, volts))
            on_way.add(point)
            choices.append(iter(steps[point]))
    return worst
