"""Fault currents against Ohm's law on a drawing, and against the operating point with a very small load (a second method)."""

from __future__ import annotations

import pytest

from jurystrut.calculations.circuit import Edge, Network, Supply
from jurystrut.calculations.circuit.faults import fault_currents
from jurystrut.calculations.circuit.operating import Grid, Source


def net(*edges: tuple[str, str, float]) -> Grid:
    made = tuple(Edge(f"W{n}", a, b, "wire") for n, (a, b, _) in enumerate(edges))
    supplies = tuple(Supply(p, p, "G") for p in ("BAT", "AUX") if any(p in e[:2] for e in edges))
    return Grid.of(Network(made, supplies, ()), {n: ohms for n, (_, _, ohms) in enumerate(edges)}, {})


def test_one_battery_by_ohms_law() -> None:
    grid = net(("BAT", "BUS", 0.001), ("BUS", "F", 0.0), ("X", "Y", 0.1))
    found = fault_currents(grid, [Source("BAT", "BAT", "G", 12.6, 0.009)], ["BUS", "F", "Y"])
    assert found == pytest.approx({"BUS": 1260, "F": 1260})


def test_two_batteries_side_by_side_add() -> None:
    # 9 + 1 mohm and 18 + 2 mohm side by side: 12.6 V / (20/3 mohm) = 1890 A; the branch adds 10 mohm.
    grid = net(("BAT", "BUS", 0.001), ("AUX", "BUS", 0.002), ("BUS", "L", 0.01))
    sources = [Source("BAT", "BAT", "G", 12.6, 0.009), Source("AUX", "AUX", "G", 12.6, 0.018)]
    found = fault_currents(grid, sources, ["BUS", "L"])
    assert found == pytest.approx({"BUS": 1890, "L": 12.6 / (0.02 / 3 + 0.01)})


def test_a_device_of_which_no_resistance_is_recorded_has_none() -> None:
    edges = (Edge("W", "BAT", "F", "wire"), Edge("F", "F", "L", "protection", 5.0))
    grid = Grid.of(Network(edges, (Supply("BAT", "BAT", "G"),), ()), {0: 0.001}, {})
    # 12.6 V / (9 + 1 mohm)
    assert fault_currents(grid, [Source("BAT", "BAT", "G", 12.6, 0.009)], ["L"]) == pytest.approx({"L": 1260})


def test_batteries_that_a_contactor_joins_add_and_a_point_that_none_reaches_is_left_out() -> None:
    # 9 + 1 mohm and 18 mohm side by side, the contactor between them with no resistance: 12.6 V x (100 + 1000 / 18) / s.
    grid = net(("BAT", "K", 0.001), ("K", "BUS", 0.0), ("AUX", "BUS", 0.0), ("X", "Y", 0.1))
    sources = [Source("BAT", "BAT", "G", 12.6, 0.009), Source("AUX", "AUX", "G", 12.6, 0.018)]
    found = fault_currents(grid, sources, ["Y", "BUS", "K"])
    assert found == pytest.approx(dict.fromkeys(("BUS", "K"), 12.6 * (100 + 1000 / 18)))


def test_without_a_battery_there_is_none() -> None:
    assert fault_currents(net(("BAT", "BUS", 0.001)), [], ["BUS"]) == {}
