"""Single failures against taking everything out by trial on random networks; dominators against networkx."""

from __future__ import annotations

import random

import networkx
import pytest

from jurystrut.calculations.circuit import Edge, Network, Sink, Supply
from jurystrut.calculations.circuit.dominators import immediate_dominators
from jurystrut.calculations.circuit.failures import Failure, SingleFailures

BAT = Supply("BAT", "BAT", "BAT.return")


def stopping(network: Network, sink: str) -> set[Failure]:
    failures = SingleFailures(network)
    return set(failures.stopping(next(s for s in network.sinks if s.id == sink)))


def test_a_radial_load_hangs_on_everything_on_its_way() -> None:
    edges = (
        Edge("W1", "BAT", "BUS", "wire"),
        Edge("F1", "BUS", "F1.out", "protection", 5),
        Edge("W2", "F1.out", "L", "wire"),
        Edge("W3", "L.return", "G", "wire"),
        Edge("W4", "G", "BAT.return", "wire"),
        Edge("F2", "BUS", "F2.out", "protection", 5),
        Edge("W5", "F2.out", "M", "wire"),
    )
    network = Network(edges, (BAT,), (Sink("L", "L", "L.return", 1), Sink("M", "M", "G", 1)), frozenset({"BUS", "G"}))
    assert stopping(network, "L") == {
        *(Failure("open", name) for name in ("W1", "F1", "W2", "W3", "W4")),
        *(Failure("bus", name) for name in ("BUS", "G")),
        Failure("source", "BAT"),
        # A short behind F1 opens F1; one before it takes the bus. One behind F2 opens F2 and leaves L alone.
        *(Failure("short", name) for name in ("W2", "BUS")),
    }


def test_the_table_holds_opens_and_shorts_with_all_that_quits_the_worst_first() -> None:
    edges = (
        Edge("F1", "BAT", "F1.out", "protection", 5),
        Edge("W1", "F1.out", "L", "wire"),
        Edge("F2", "BAT", "F2.out", "protection", 5),
        Edge("W2", "F2.out", "M", "wire"),
    )
    sinks = (Sink("L", "L", "G", 1), Sink("L2", "L", "G", 1), Sink("M", "M", "G", 1))
    table = SingleFailures(Network(edges, (Supply("BAT", "BAT", "G"),), sinks, frozenset({"G"}))).table()
    assert list(table.values())[:3] == [["L", "L2", "M"]] * 3
    assert set(list(table)[:3]) == {Failure("source", "BAT"), Failure("bus", "G"), Failure("short", "BAT")}
    assert {failure: lost for failure, lost in table.items() if len(lost) < 3} == {
        Failure("open", "W1"): ["L", "L2"],
        Failure("open", "F1"): ["L", "L2"],
        Failure("short", "W1"): ["L", "L2"],
        Failure("open", "W2"): ["M"],
        Failure("open", "F2"): ["M"],
        Failure("short", "W2"): ["M"],
    }


def test_two_ways_leave_neither_alone_to_fail_but_a_short_between_them_takes_both() -> None:
    edges = (
        Edge("F1", "BAT", "A", "protection", 10),
        Edge("F2", "BAT", "B", "protection", 10),
        Edge("W1", "A", "BUS", "wire"),
        Edge("W2", "B", "BUS", "wire"),
    )
    network = Network(edges, (Supply("BAT", "BAT", "G"),), (Sink("L", "BUS", "G", 1),), frozenset({"BUS", "G"}))
    found = stopping(network, "L")
    assert not {failure.name for failure in found if failure.kind == "open"}
    assert Failure("short", "BUS") in found
    assert Failure("bus", "BUS") in found


def test_a_diode_draws_the_bus_behind_it_into_a_short() -> None:
    edges = (
        Edge("F1", "BAT", "MAIN", "protection", 30),
        Edge("D", "MAIN", "ENG", "diode", one_way=True),
        Edge("F2", "BAT", "ENG", "protection", 15),
    )
    sinks = (Sink("L", "MAIN", "G", 1), Sink("E", "ENG", "G", 1))
    network = Network(edges, (Supply("BAT", "BAT", "G"),), sinks, frozenset({"MAIN", "ENG", "G"}))
    assert Failure("short", "ENG") in stopping(network, "L")
    assert Failure("short", "MAIN") not in stopping(network, "E")


def test_a_switch_of_two_poles_takes_both_of_its_ways() -> None:
    edges = (
        Edge("S", "BAT", "A", "switch"),
        Edge("S", "BAT", "B", "switch"),
        Edge("W1", "A", "L", "wire"),
        Edge("W2", "B", "L", "wire"),
    )
    network = Network(edges, (Supply("BAT", "BAT", "G"),), (Sink("L", "L", "G", 1),))
    found = stopping(network, "L")
    assert Failure("open", "S") in found
    assert Failure("open", "W1") not in found


def test_a_switch_of_two_poles_in_the_return_takes_both_of_its_ways() -> None:
    edges = (
        Edge("W", "BAT", "L", "wire"),
        Edge("W1", "L.return", "A", "wire"),
        Edge("W2", "L.return", "B", "wire"),
        Edge("S", "A", "BAT.return", "switch"),
        Edge("S", "B", "BAT.return", "switch"),
    )
    network = Network(edges, (BAT,), (Sink("L", "L", "L.return", 1), Sink("M", "L", "BAT.return", 1)))
    assert Failure("open", "S") in stopping(network, "L")
    assert Failure("open", "W1") not in stopping(network, "L")
    assert Failure("open", "S") not in stopping(network, "M")  # it returns past the switch


def test_what_is_joined_to_the_end_of_a_branch() -> None:
    edges = (
        Edge("W1", "BAT", "BUS", "wire"),
        Edge("D", "BUS", "M", "diode", one_way=True),
        Edge("W2", "BUS", "L", "wire"),
        Edge("W3", "X", "Y", "wire"),
    )
    network = Network(edges, (BAT,), ())
    for start in ("BAT", "BUS", "L", "M"):
        assert network.reached([start]) == {"BAT", "BUS", "L", "M"}
    assert network.reached(["X"]) == {"X", "Y"}
    assert network.reached(["X", "L"]) == {"BAT", "BUS", "L", "M", "X", "Y"}
    assert network.reached([]) == set()


def test_what_never_worked_is_stopped_by_nothing() -> None:
    network = Network((Edge("W", "A", "L", "wire"),), (BAT,), (Sink("L", "L", "G", 1),))
    assert stopping(network, "L") == set()


def made_up(chance: random.Random) -> Network:
    """Sources on a mesh of wires, devices and diodes, loads in trees, returns with loops."""
    kinds = ("wire", "wire", "protection", "switch", "diode")
    names = ["S1", "S2", *(f"P{n}" for n in range(chance.randint(3, 14)))]
    pairs = [(chance.choice(names[:n]), names[n]) for n in range(1, len(names))]
    pairs += [(a, b) for a, b in (chance.sample(names, 2) for _ in range(chance.randint(0, 6)))]
    edges = []
    for place, (a, b) in enumerate(pairs):
        kind = chance.choice(kinds)
        if kind == "protection":
            edges.append(Edge(f"E{place}", a, b, "protection", 5.0))
        elif kind == "diode":
            edges.append(Edge(f"E{place}", a, b, "diode", one_way=True))
        else:
            # Some switches have two edges of one id.
            edges.append(Edge(f"K{place % 2}" if kind == "switch" else f"E{place}", a, b, kind))  # type: ignore[arg-type]
    backs = ["B1", "B2", *(f"R{n}" for n in range(chance.randint(1, 6)))]
    edges += [Edge(f"G{n}", backs[n], chance.choice(backs[:n]), "wire") for n in range(1, len(backs))]
    if chance.random() < 0.5:
        a, b = chance.sample(backs, 2)
        edges.append(Edge("LOOP", a, b, "wire"))
    sinks = tuple(Sink(f"L{n}", chance.choice(names), chance.choice(backs), 1.0) for n in range(6))
    supplies = (Supply("S1", "S1", "B1"), Supply("S2", "S2", "B2"))
    return Network(tuple(edges), supplies, sinks, frozenset({"P0", "P1", "R0"}))


def working(network: Network, gone: set[str] = frozenset(), dead: set[str] = frozenset(), lost: str = "") -> set[str]:  # type: ignore[assignment]
    """The loads that work without the edges `gone`, the points `dead` and the source `lost`, by plain reachability."""
    supply: networkx.DiGraph[str] = networkx.DiGraph()
    back: networkx.DiGraph[str] = networkx.DiGraph()
    for graph in (supply, back):
        graph.add_nodes_from([*network.places, "root"])
    for edge in network.edges:
        if edge.id not in gone:
            supply.add_edge(edge.start, edge.end)
            back.add_edge(edge.end, edge.start)
            if not edge.one_way:
                supply.add_edge(edge.end, edge.start)
                back.add_edge(edge.start, edge.end)
    for source in network.supplies:
        if source.id != lost:
            supply.add_edge("root", source.point)
            back.add_edge("root", source.back)
    for graph in (supply, back):
        graph.remove_nodes_from(dead)
    fed, returned = networkx.descendants(supply, "root"), networkx.descendants(back, "root")
    return {sink.id for sink in network.sinks if sink.point in fed and sink.back in returned}


def shorted_with(network: Network, point: str) -> set[str]:
    """All points that go to ground with one: those whose current reaches it past no protective device."""
    graph: networkx.DiGraph[str] = networkx.DiGraph()
    graph.add_node(point)
    for edge in network.edges:
        if edge.kind != "protection":
            graph.add_edge(edge.end, edge.start)
            if not edge.one_way:
                graph.add_edge(edge.start, edge.end)
    return {point, *networkx.descendants(graph, point)}


@pytest.mark.parametrize("seed", range(150))
def test_random_networks_against_taking_out_by_trial(seed: int) -> None:
    network = made_up(random.Random(seed))
    whole = working(network)
    expected: dict[Failure, set[str]] = {}
    for edge in network.edges:
        expected[Failure("open", edge.id)] = whole - working(network, gone={edge.id})
    for bus in network.buses & network.places.keys():
        expected[Failure("bus", bus)] = whole - working(network, dead={bus})
    for source in network.supplies:
        expected[Failure("source", source.id)] = whole - working(network, lost=source.id)
    failures = SingleFailures(network)
    found: dict[Failure, set[str]] = {}
    shorts: dict[str, set[str]] = {}
    for sink in network.sinks:
        for failure in failures.stopping(sink):
            target = shorts if failure.kind == "short" else found
            target.setdefault(failure.name if failure.kind == "short" else failure, set()).add(sink.id)  # type: ignore[arg-type]
    assert found == {failure: lost for failure, lost in expected.items() if lost}
    regions = failures._regions
    by_trial: dict[str, set[str]] = {}
    for point in network.places:
        if point in network.fed():
            name = regions.name(regions.of[point], point)
            lost = whole - working(network, dead=shorted_with(network, point))
            by_trial.setdefault(name, set()).update(lost)
    assert shorts == {name: lost for name, lost in by_trial.items() if lost}


@pytest.mark.parametrize("seed", range(60))
def test_dominators_against_networkx(seed: int) -> None:
    chance = random.Random(seed)
    graph = networkx.gnp_random_graph(chance.randint(2, 30), chance.uniform(0.05, 0.3), seed=seed, directed=True)
    found = immediate_dominators(0, {v: list(graph.successors(v)) for v in graph})
    expected = {v: d for v, d in networkx.immediate_dominators(graph, 0).items() if d is not None}
    assert {**expected, 0: 0} == found
