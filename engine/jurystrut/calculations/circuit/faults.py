"""The current that a dead short draws: batteries behind their resistance and that of the way to the fault."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.circuit.elimination import Eliminated
from jurystrut.calculations.circuit.rigid import Rigid

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from jurystrut.calculations.circuit.operating import Grid
    from jurystrut.calculations.circuit.steady import Source

__all__ = ["fault_currents"]


def fault_currents(grid: Grid, batteries: Sequence[Source], points: Iterable[str]) -> dict[str, float]:
    """Amperes from batteries into a short to their negative side at each of the points, by Thevenin's theorem.

    Returns are taken without resistance, and the highest battery voltage as that of all: both err to more current. Every
    battery must have a resistance. A point that no battery reaches is left out; points on one branch share its way inwards.
    """
    if not batteries:
        return {}
    rigid, links = Rigid(), []
    edges, branches = grid.network.edges, grid.branches
    for index in grid.core:
        if not grid.ohms.get(index):
            rigid.join(edges[index].start, edges[index].end, 0.0, ("edge", index))
    links = [(edges[i].start, edges[i].end, 1 / grid.ohms[i]) for i in grid.core if grid.ohms.get(i)]
    links += [(_GROUND, battery.point, 1 / battery.ohms) for battery in batteries]
    merged = [(rigid.root(one), rigid.root(other), siemens) for one, other, siemens in links]
    volts = max(battery.volts for battery in batteries)
    ground = rigid.root(_GROUND)
    reached = _reached(merged, ground)
    eliminated = Eliminated([link for link in merged if link[0] in reached], {ground})
    known: dict[str, float] = {}
    found = {}
    for point in points:
        place, ohms = branches.places[point], 0.0
        while branches.inner[place] >= 0:
            ohms += grid.ohms.get(branches.edges[place], 0.0)
            place = branches.inner[place]
        root = rigid.root(branches.points[place])
        if root not in reached:
            continue
        if root not in known:
            known[root] = eliminated.volts({root: 1.0})[root]
        found[point] = volts / (ohms + known[root])
    return found


_GROUND = "the negative side of all batteries"


def _reached(links: Sequence[tuple[str, str, float]], start: str) -> set[str]:
    near: dict[str, list[str]] = {}
    for one, other, _ in links:
        near.setdefault(one, []).append(other)
        near.setdefault(other, []).append(one)
    seen, pending = set[str](), [start]
    while pending:
        root = pending.pop()
        if root not in seen:
            seen.add(root)
            pending += near.get(root, ())
    return seen
