"""What quits when something opens, compared with networkx: descendants of the sources once the device is taken away."""

from __future__ import annotations

import random
from typing import Literal

import networkx as nx
import pytest

from jurystrut.calculations.circuit import Edge, Network, Sink, Supply
from jurystrut.calculations.circuit.quitting import lost_without, running


def random_network(seed: int) -> Network:
    """A mesh of wires, fuses and diodes with two sources; all loads return to one ground."""
    dice = random.Random(seed)
    names = [f"P{i}" for i in range(25)]
    kinds: list[Literal["wire", "protection", "diode"]] = ["wire", "protection", "diode"]
    edges = []
    for i in range(40):
        start, end = dice.sample(names, 2)
        kind = dice.choice(kinds)
        edges.append(Edge(f"E{i}", start, end, kind, one_way=kind == "diode"))
    edges += [Edge(f"R{i}", f"P{i}.return", "GROUND", "wire") for i in range(25)]
    supplies = (Supply("BAT", "P0", "GROUND"), Supply("ALT", "P1", "GROUND"))
    return Network(tuple(edges), supplies, tuple(Sink(f"L{i}", f"P{i}", f"P{i}.return", 1.0) for i in range(2, 25)))


def fed(network: Network, without: str) -> set[str]:
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(supply.point for supply in network.supplies)
    for edge in network.edges:
        if edge.id != without:
            graph.add_edge(edge.start, edge.end)
            if not edge.one_way:
                graph.add_edge(edge.end, edge.start)
    reached = set()
    for supply in network.supplies:
        if supply.id != without:
            reached |= {supply.point, *nx.descendants(graph, supply.point)}
    returns = nx.node_connected_component(graph.to_undirected(), "GROUND") if "GROUND" in graph else set()
    return {s.id for s in network.sinks if s.point in reached and s.back in returns}


@pytest.mark.parametrize("seed", range(8))
def test_agrees_with_the_graph_without_the_device(seed: int) -> None:
    network = random_network(seed)
    whole = fed(network, "")
    assert running(network) == whole
    for id_ in [edge.id for edge in network.edges] + ["BAT", "ALT"]:
        assert set(lost_without(network, {id_})) == whole - fed(network, id_), id_


def test_a_contactor_whose_coil_stops_takes_its_loads_with_it() -> None:
    network = Network(
        (
            Edge("F", "BAT", "K.coil", "protection", 3.0),
            Edge("W", "BAT", "K.in", "wire"),
            Edge("K", "K.in", "K.out", "switch"),
            Edge("X", "K.out", "LAMP", "wire"),
        ),
        (Supply("BAT", "BAT", "GROUND"),),
        (Sink("K", "K.coil", "GROUND", 0.8), Sink("LAMP", "LAMP", "GROUND", 1.0)),
    )
    assert lost_without(network, {"F"}) == ("K", "LAMP")
    assert lost_without(network, {"X"}) == ("LAMP",)
    assert lost_without(network, {"BAT"}) == ("K", "LAMP")
