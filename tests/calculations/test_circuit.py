"""The network's let-through ratings and currents, against hand-worked cases and a general graph library's maximum flow."""

from __future__ import annotations

import math
import random

import networkx
import pytest

from jurystrut.calculations.circuit import Edge, Network, Sink, Supply, analyse

ALT = Supply("ALT", "ALT", "GND", 40.0)
BAT = Supply("BAT", "BAT", "GND")


def wire(name: str, start: str, end: str) -> Edge:
    return Edge(name, start, end, "wire")


def fuse(name: str, rating: float, start: str, end: str) -> Edge:
    return Edge(name, start, end, "protection", rating)


def by_id(network: Network) -> dict[str, float]:
    result = analyse(network)
    return {edge.id: result.let_through[index] for index, edge in enumerate(network.edges)}


def test_a_radial_wire_is_protected_by_the_smallest_rating_upstream() -> None:
    edges = (
        wire("W1", "BAT", "BUS"),
        fuse("F1", 30, "BUS", "A"),
        wire("W2", "A", "B"),
        fuse("F2", 5, "B", "C"),
        wire("W3", "C", "L"),
    )
    found = by_id(Network(edges, (BAT,), (Sink("L", "L", "GND", 4.0),)))
    assert found["W2"] == 30
    assert found["W3"] == 5
    assert found["W1"] == math.inf


def test_two_sources_add_and_feed_a_wire_from_both_ends() -> None:
    edges = (
        wire("B-LEAD", "ALT", "X"),
        fuse("CL", 60, "X", "BUS"),
        wire("CABLE", "BAT", "BUS"),
        fuse("F1", 10, "BUS", "A"),
        wire("W", "A", "L"),
    )
    found = by_id(Network(edges, (ALT, BAT), (Sink("L", "L", "GND", 4.0),)))
    # The alternator's lead: its own 40 A from one end, the battery through the 60 A limiter from the other.
    assert found["B-LEAD"] == 60
    assert found["CABLE"] == math.inf
    assert found["W"] == 10


def test_parallel_protective_devices_add() -> None:
    edges = (fuse("F1", 10, "BAT", "A"), fuse("F2", 15, "BAT", "A"), wire("W", "A", "L"))
    assert by_id(Network(edges, (BAT,), (Sink("L", "L", "GND", 1.0),)))["W"] == 25


def test_a_diode_feeds_forwards_only() -> None:
    diode = Edge("D", "MAIN", "ENG", "diode", one_way=True)
    edges = (
        fuse("F1", 30, "BAT", "MAIN"),
        diode,
        fuse("F2", 20, "BAT", "ENG"),
        wire("W-MAIN", "MAIN", "L1"),
        wire("W-ENG", "ENG", "L2"),
    )
    found = by_id(Network(edges, (BAT,), (Sink("L1", "L1", "GND", 1.0), Sink("L2", "L2", "GND", 1.0))))
    assert found["W-MAIN"] == 30
    assert found["W-ENG"] == 50


def test_a_return_carries_what_its_load_lets_through_when_it_shorts() -> None:
    edges = (
        fuse("F1", 10, "BAT", "A"),
        wire("W", "A", "L"),
        wire("R", "L.return", "G"),
        wire("NEG", "BAT.return", "G"),
    )
    network = Network(edges, (Supply("BAT", "BAT", "BAT.return"),), (Sink("L", "L", "L.return", 4.0),))
    result = analyse(network)
    assert result.let_through[2] == 10
    assert result.current[2] == 4
    assert result.side == ["supply", "supply", "return", "source-return"]
    assert result.let_through[3] == math.inf  # whatever the battery gives comes back through its own lead


def test_currents_add_up_towards_the_source() -> None:
    edges = (wire("W1", "BAT", "BUS"), wire("W2", "BUS", "L1"), wire("W3", "BUS", "L2"))
    result = analyse(Network(edges, (BAT,), (Sink("1", "L1", "GND", 4.0), Sink("2", "L2", "GND", 2.5))))
    assert result.current == [6.5, 4.0, 2.5]


def test_between_two_sources_the_larger_demand_counts() -> None:
    edges = (wire("CABLE", "BAT", "BUS"), wire("B-LEAD", "ALT", "BUS"), wire("W", "BUS", "L"))
    result = analyse(Network(edges, (ALT, BAT), (Sink("L", "L", "GND", 55.0),)))
    assert result.current == [55.0, 40.0, 55.0]


def random_network(seed: int) -> Network:
    """A random network of trees, meshes, diodes and one to three sources."""
    dice = random.Random(seed)
    points = [f"P{i}" for i in range(dice.randint(2, 16))]
    edges = []
    for i, point in enumerate(points[1:], 1):
        edges.append(random_edge(dice, f"E{i}", points[dice.randrange(i)], point))
    for i in range(dice.choice((0, 0, 1, 2, 5))):
        a, b = dice.sample(points, 2)
        edges.append(random_edge(dice, f"M{i}", a, b))
    supplies = tuple(
        Supply(f"S{i}", dice.choice(points), "GND", dice.choice((math.inf, 20.0, 40.0)))
        for i in range(dice.randint(1, 3))
    )
    sinks = tuple(Sink(f"L{i}", dice.choice(points), "GND", float(dice.randint(1, 9))) for i in range(3))
    return Network(tuple(edges), supplies, sinks)


def random_edge(dice: random.Random, name: str, start: str, end: str) -> Edge:
    kind = dice.choice(("wire", "wire", "protection", "diode"))
    if kind == "protection":
        return Edge(name, start, end, "protection", float(dice.choice((5, 10, 15, 30))))
    return Edge(name, start, end, "diode" if kind == "diode" else "wire", one_way=kind == "diode")


def plain_flow(network: Network, without: int, to: str) -> float:
    """The same question put to networkx, on the whole network."""
    graph: networkx.DiGraph[str] = networkx.DiGraph()
    graph.add_nodes_from([to, "source"])
    for index, edge in enumerate(network.edges):
        if index != without:
            widen(graph, edge.start, edge.end, edge.capacity)
            if not edge.one_way:
                widen(graph, edge.end, edge.start, edge.capacity)
    for supply in network.supplies:
        widen(graph, "source", supply.point, supply.capacity)
    try:
        return float(networkx.maximum_flow_value(graph, "source", to))
    except networkx.NetworkXUnbounded:
        return math.inf


def widen(graph: networkx.DiGraph[str], start: str, end: str, capacity: float) -> None:
    before = graph.get_edge_data(start, end, {"capacity": 0.0})["capacity"]
    graph.add_edge(start, end, capacity=before + capacity)


@pytest.mark.parametrize("seed", range(400))
def test_agrees_with_a_plain_maximum_flow_for_every_edge(seed: int) -> None:
    network = random_network(seed)
    found = analyse(network).let_through
    for index, edge in enumerate(network.edges):
        plain = max(plain_flow(network, index, end) for end in (edge.start, edge.end))
        assert found[index] == pytest.approx(plain), f"edge {edge.id} of network {seed}"


@pytest.mark.parametrize("seed", range(400, 600))
def test_what_is_available_at_a_point_is_a_plain_maximum_flow(seed: int) -> None:
    network = random_network(seed)
    result = analyse(network)
    for point in network.reached({supply.point for supply in network.supplies}):
        assert result.available(point) == pytest.approx(plain_flow(network, -1, point))


@pytest.mark.parametrize("seed", range(50))
def test_the_order_of_the_records_does_not_matter(seed: int) -> None:
    network = random_network(seed)
    shuffled = list(network.edges)
    random.Random(seed + 1).shuffle(shuffled)
    other = Network(tuple(shuffled), network.supplies, network.sinks)
    assert by_id(other) == pytest.approx(by_id(network))


@pytest.mark.parametrize("seed", range(40))
def test_other_currents_in_a_known_shape_are_as_if_analysed_anew(seed: int) -> None:
    network = random_network(seed)
    currents = {sink.id: 0.5 + 3.0 * number for number, sink in enumerate(network.sinks) if number != 1}
    sinks = tuple(Sink(sink.id, sink.point, sink.back, currents.get(sink.id, 0.0)) for sink in network.sinks)
    anew = analyse(Network(network.edges, network.supplies, sinks, network.buses))
    again = analyse(network).with_currents(currents)
    assert again.network == anew.network
    assert (again.current, again.let_through, again.side) == (anew.current, anew.let_through, anew.side)
    assert (again.towards, again.reaching) == (anew.towards, anew.reaching)
