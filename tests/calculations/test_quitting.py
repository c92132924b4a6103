"""What quits when something opens or is shorted, compared with networkx: descendants of the sources once that is away."""

from __future__ import annotations

import random
from typing import Literal

import networkx as nx
import pytest

from jurystrut.calculations.circuit import Edge, Network, Sink, Supply
from jurystrut.calculations.circuit.quitting import Lost, Quitting, lost_without, running


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


def fed_around_short(network: Network, point: str) -> set[str]:
    """What runs once all points are away that a short at one of them holds at ground; diodes conduct into it, fuses open."""
    joined: nx.DiGraph[str] = nx.DiGraph()
    joined.add_nodes_from([point])
    for edge in network.edges:
        if edge.kind == "protection":
            continue
        joined.add_edge(edge.start, edge.end)
        if not edge.one_way:
            joined.add_edge(edge.end, edge.start)
    dead = {point, *nx.ancestors(joined, point)}
    edges = tuple(edge for edge in network.edges if not dead & {edge.start, edge.end})
    supplies = tuple(supply for supply in network.supplies if supply.point not in dead)
    return fed(Network(edges, supplies, network.sinks), "")


@pytest.mark.parametrize("seed", range(8))
def test_a_short_agrees_with_the_graph_without_what_conducts_into_it(seed: int) -> None:
    network = random_network(seed)
    asked, whole, hot = Quitting(network), fed(network, ""), network.fed()
    for edge in network.edges:
        if edge.kind == "wire" and edge.start in hot:
            assert set(asked.of(edge.id).shorted) == whole - fed_around_short(network, edge.start), edge.id
    for supply in network.supplies:
        assert set(asked.of(supply.id).shorted) == whole - fed_around_short(network, supply.point), supply.id


TWO_FUSES = Network(
    (
        Edge("W1", "BAT", "MAIN", "wire"),
        Edge("F1", "MAIN", "A", "protection", 5.0),
        Edge("F2", "MAIN", "B", "protection", 5.0),
        Edge("W2", "A", "L1", "wire"),
        Edge("W3", "B", "L2", "wire"),
        Edge("R1", "L1.return", "GROUND", "wire"),
    ),
    (Supply("BAT", "BAT", "GROUND"),),
    (Sink("L1", "L1", "L1.return", 1.0), Sink("L2", "L2", "GROUND", 1.0)),
    frozenset({"MAIN"}),
)


@pytest.mark.parametrize(
    ("thing", "opened", "shorted"),
    [
        ("BAT", "L1 L2", "L1 L2"),
        ("W1", "L1 L2", "L1 L2"),
        ("F1", "L1", "L1"),  # on the load's side, where it opens and saves the rest
        ("W3", "L2", "L2"),
        ("R1", "L1", ""),  # a return is at ground already
        ("unknown", "", ""),
    ],
)
def test_a_fuse_saves_what_is_not_behind_it(thing: str, opened: str, shorted: str) -> None:
    assert Quitting(TWO_FUSES).of(thing) == Lost(tuple(opened.split()), tuple(shorted.split()))


def test_a_shorted_bus_takes_all_of_it() -> None:
    assert Quitting(TWO_FUSES).of_bus("MAIN") == Lost(("L1", "L2"), ("L1", "L2"))
