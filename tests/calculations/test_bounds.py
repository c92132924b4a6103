"""Where an exact answer would take too long, a bound on the safe side stands in for it; and a return that is none."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

import pytest

from jurystrut.calculations import loadings
from jurystrut.calculations.balance import Body
from jurystrut.calculations.circuit import Edge, Network, Sink, Supply, analyse, voltage_drops
from jurystrut.calculations.envelope import Envelope
from jurystrut.calculations.loadings import Place, worst_loading

if TYPE_CHECKING:
    from collections.abc import Mapping

BAT = Supply("BAT", "BAT", "GND")


def joined_to_all(count: int) -> tuple[Network, dict[str, float]]:
    """A bus and junctions, each joined to each by a wire of 1 to so many milliohms; the load hangs on the last, at 2 A."""
    points = ["BUS", *(f"J{place}" for place in range(count))]
    edges = [Edge(f"{a}-{b}", a, b, "wire") for a, b in itertools.combinations(points, 2)]
    ohms = {edge.id: place / 1000 for place, edge in enumerate(edges, 1)}
    feeder = Edge("F", "BAT", "BUS", "protection", 10.0)
    return Network((*edges, feeder), (BAT,), (Sink("L", points[-1], "GND", 2.0),), frozenset({"BUS", "GND"})), ohms


def every_way(ohms: Mapping[str, float], count: int) -> float:
    """The most resistance of all ways without a detour from the bus to the last junction, each of them tried."""
    between, last = [f"J{place}" for place in range(count - 1)], f"J{count - 1}"
    either = {frozenset(name.split("-")): value for name, value in ohms.items()}
    ways = (("BUS", *middle, last) for length in range(count) for middle in itertools.permutations(between, length))
    return max(sum(either[frozenset(step)] for step in itertools.pairwise(way)) for way in ways)


def test_in_a_small_mesh_the_worst_way_is_found() -> None:
    network, ohms = joined_to_all(4)
    assert voltage_drops(analyse(network), ohms)["L"] == pytest.approx(2.0 * every_way(ohms, 4))


def test_in_a_large_mesh_all_of_its_wires_count_which_is_never_less() -> None:
    network, ohms = joined_to_all(8)
    drop = voltage_drops(analyse(network), ohms)["L"]
    assert drop == pytest.approx(2.0 * sum(ohms.values()))
    assert drop > 2.0 * every_way(ohms, 8)


def test_a_load_returned_to_the_supply_by_mistake_puts_nothing_on_the_returns() -> None:
    edges = (
        Edge("F", "BAT", "A", "protection", 10.0),
        Edge("W", "A", "L", "wire"),
        Edge("WRONG", "L.return", "A", "wire"),
        Edge("R", "M.return", "G", "wire"),
        Edge("NEG", "G", "BAT.return", "wire"),
    )
    sinks = (Sink("L", "L", "L.return", 4.0), Sink("M", "A", "M.return", 1.0))
    found = analyse(Network(edges, (Supply("BAT", "BAT", "BAT.return"),), sinks, frozenset({"G"})))
    assert found.side[2] == "supply"
    # The other load's return carries that load's own short, of 10 A, and its own 1 A.
    assert (found.let_through[3], found.current[3]) == (10.0, 1.0)


def test_a_search_that_is_cut_short_gives_no_less_than_the_worst_loading(monkeypatch: pytest.MonkeyPatch) -> None:
    # Carried whole or not at all: which of them together go farthest aft below gross weight takes many splits to find.
    box = Envelope(((900, 9.0), (1300, 9.0), (1300, 16.0), (900, 16.0)), "arm")
    items = [Place(31 + 7 * n, 31 + 7 * n, 40 + 5 * n, f"I{n}", may_be_empty=True) for n in range(6)]
    whole = worst_loading(Body(1000, 10), items, box, 1100, "aft")
    assert whole is not None
    assert whole.exact
    monkeypatch.setattr(loadings, "_MOST_SPLITS", 2)
    short = worst_loading(Body(1000, 10), items, box, 1100, "aft")
    assert short is not None
    assert not short.exact
    assert short.excess > whole.excess
