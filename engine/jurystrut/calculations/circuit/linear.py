"""The core of a network for one choice of who delivers and which diodes block: its voltages and currents are linear then."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit.elimination import Eliminated
from jurystrut.calculations.circuit.rigid import Rigid

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence, Set

    from jurystrut.calculations.circuit.network import Network

__all__ = ["Choice", "Core", "CoreState", "Linear", "Source"]


class Source(NamedTuple):
    """A source that holds `volts` behind `ohms`, delivers no more than `most` amperes, and takes none back."""

    id: str
    point: str
    back: str
    volts: float
    ohms: float = 0.0
    most: float = math.inf


class Core(NamedTuple):
    """The part of a network to be solved: the places of its points in the lists that go in and out, from 0 on; some of the
    network's edges; and their resistance and forward voltage by index.
    """

    network: Network
    places: Mapping[str, int]
    edges: Set[int]
    ohms: Mapping[int, float]
    drops: Mapping[int, float]


class CoreState(NamedTuple):
    """Volts by place, not a number where no source reaches, and infinite where sources at their most reach alone: above
    nothing where they bring more than is drawn, else below. Amperes by ("edge", index), counted from its start to its end,
    and by ("source", place), as delivered. What is not named carries nothing.
    """

    volts: list[float]
    amperes: dict[tuple[str, int], float]


class Choice(NamedTuple):
    """Which sources hold their voltage, which deliver their most, and which diodes block."""

    holding: frozenset[int]
    limited: frozenset[int]
    blocking: frozenset[int]


class _Resistive(NamedTuple):
    """Something with resistance from one point to another, and the volts that it adds on the way."""

    name: tuple[str, int]
    one: str
    other: str
    siemens: float
    volts: float


class Linear:
    """One choice made. All but the loads is worked out once, for as many loads as wanted."""

    def __init__(self, core: Core, sources: Sequence[Source], choice: Choice) -> None:
        rigid, number = _joined(core, sources, choice), core.places
        resistive = list(_resistive(core, sources, choice))
        links = [(rigid.root(one), rigid.root(other), siemens) for _, one, other, siemens, _ in resistive]
        part = _parts(links, [rigid.root(sources[place].back) for place in sorted(choice.holding)])
        live = [(step, number[step.one], number[step.other]) for step in resistive if rigid.root(step.one) in part]
        self._eliminated = Eliminated([link for link in links if link[0] in part], set(part.values()))
        self._places = _heights(rigid, core.places, part, [sources[place].back for place in sorted(choice.holding)])
        self._fixed = _emfs(rigid, resistive, core.places)
        self._resistive = [(step.name, one, other, step.siemens, step.volts) for step, one, other in live]
        self._joints = [
            (name, number[point], number[towards], sign)
            for point, towards, name, sign in rigid.inwards()
            if rigid.root(point) in part
        ]
        limited = {place: sources[place] for place in choice.limited}
        ends = [rigid.root(end) for source in limited.values() for end in (source.point, source.back)]
        self._adrift = _parts(links, [root for root in ends if root not in part])
        self._told = rigid.undetermined | {("source", place): source.most for place, source in limited.items()}
        self._delivered = [(number[s.point], number[s.back], s.most) for s in limited.values()]

    def state(self, arriving: Sequence[float]) -> CoreState:
        """Solve it for the amperes that arrive at each place from elsewhere: less than nothing where loads take them."""
        here, injected, told = list(arriving), dict(self._fixed), dict(self._told)
        for point, back, amperes in self._delivered:
            here[point] += amperes
            here[back] -= amperes
        for (root, _), amperes in zip(self._places, here, strict=True):
            injected[root] += amperes
        roots = self._eliminated.volts(injected) | self._without_hold(injected)
        volts = [roots.get(root, math.nan) + height for root, height in self._places]
        for name, one, other, siemens, added in self._resistive:
            told[name] = flow = siemens * (volts[one] - volts[other] + added)
            here[other] += flow
            here[one] -= flow
        for name, point, towards, sign in self._joints:
            told[name] = sign * here[point]
            here[towards] += here[point]
        return CoreState(volts, told)

    def _without_hold(self, injected: Mapping[str, float]) -> dict[str, float]:
        """The voltage where what comes in is given and no source holds any: it rises or falls without end."""
        balance = dict.fromkeys(self._adrift.values(), 0.0)
        for root, part in self._adrift.items():
            balance[part] += injected[root]
        return {root: math.inf if balance[part] > -_NOTHING else -math.inf for root, part in self._adrift.items()}


_NOTHING = 1e-9


def _joined(core: Core, sources: Sequence[Source], choice: Choice) -> Rigid:
    """Plain conductors first, then sources from the highest voltage down, then diodes: who contradicts, gives way."""
    rigid, edges = Rigid(), core.network.edges
    joints = [i for i in core.edges if not core.ohms.get(i) and i not in choice.blocking]
    for index in joints:
        if not edges[index].one_way:
            rigid.join(edges[index].start, edges[index].end, 0.0, ("edge", index))
    stiff = [place for place in choice.holding if not sources[place].ohms]
    for place in sorted(stiff, key=lambda place: -sources[place].volts):
        rigid.join(sources[place].back, sources[place].point, sources[place].volts, ("source", place))
    for index in joints:
        if edges[index].one_way:
            rigid.join(edges[index].start, edges[index].end, -core.drops.get(index, 0.0), ("edge", index))
    return rigid


def _resistive(core: Core, sources: Sequence[Source], choice: Choice) -> Iterator[_Resistive]:
    for index in core.edges - choice.blocking:
        if core.ohms.get(index):
            edge, volts = core.network.edges[index], -core.drops.get(index, 0.0)
            yield _Resistive(("edge", index), edge.start, edge.end, 1 / core.ohms[index], volts)
    for place in choice.holding:
        source = sources[place]
        if source.ohms:
            yield _Resistive(("source", place), source.back, source.point, 1 / source.ohms, source.volts)


def _parts(links: Iterable[tuple[str, str, float]], grounds: Iterable[str]) -> dict[str, str]:
    """Every root that is joined to a source that holds its voltage, with the first ground of its part."""
    near: dict[str, list[str]] = {}
    for one, other, _ in links:
        near.setdefault(one, []).append(other)
        near.setdefault(other, []).append(one)
    found: dict[str, str] = {}
    for ground in grounds:
        pending = [ground]
        while pending:
            root = pending.pop()
            if root not in found:
                found[root] = ground
                pending += near.get(root, ())
    return found


def _heights(
    rigid: Rigid, points: Iterable[str], part: Mapping[str, str], backs: Sequence[str]
) -> list[tuple[str, float]]:
    """The root of every point, and its volts above that root, counted from the negative side of its part's first source."""
    zero = {part[rigid.root(back)]: rigid.place(back)[1] for back in reversed(backs)}
    placed = (rigid.place(point) for point in points)
    return [(root, height - zero[part[root]] if root in part else 0.0) for root, height in placed]


def _emfs(rigid: Rigid, resistive: Iterable[_Resistive], points: Iterable[str]) -> dict[str, float]:
    """The currents that stand for fixed voltages within what has resistance, and for height within rigid groups, by root."""
    found = {rigid.root(point): 0.0 for point in points}
    for _, one, other, siemens, volts in resistive:
        (low, below), (high, above) = rigid.place(one), rigid.place(other)
        current = siemens * (volts + below - above)
        found[high] += current
        found[low] -= current
    return found
