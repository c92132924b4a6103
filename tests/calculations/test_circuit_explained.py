"""What decides a let-through rating, voltage drops, sides, ways and switches, against hand-worked cases and nodal analysis."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import networkx
import numpy
import pytest

from jurystrut.calculations.circuit import (
    Analysis,
    Edge,
    Network,
    Sink,
    Supply,
    analyse,
    can_be_switched_off,
    deciding,
    has_return,
    reaches_source,
    voltage_drops,
)

BAT = Supply("BAT", "BAT", "BAT.return")
ALT = Supply("ALT", "ALT", "ALT.return", 40.0)


def wire(name: str, start: str, end: str) -> Edge:
    return Edge(name, start, end, "wire")


def fuse(name: str, rating: float, start: str, end: str) -> Edge:
    return Edge(name, start, end, "protection", rating)


def switch(name: str, start: str, end: str) -> Edge:
    return Edge(name, start, end, "switch")


def diode(name: str, start: str, end: str) -> Edge:
    return Edge(name, start, end, "diode", one_way=True)


def load(name: str, current: float) -> Sink:
    return Sink(name, name, f"{name}.return", current)


def place(network: Network, name: str) -> int:
    return next(index for index, edge in enumerate(network.edges) if edge.id == name)


# A small aircraft: alternator and battery meet at MAIN; an engine bus is fed through a diode and, switched, by the battery.
AIRCRAFT = Network(
    (
        wire("CABLE", "BAT", "BATT"),
        switch("MASTER", "BATT", "K"),
        wire("FEED", "K", "MAIN"),
        wire("B-LEAD", "ALT", "X"),
        fuse("LIMITER", 60, "X", "MAIN"),
        fuse("F-ENG", 20, "MAIN", "M1"),
        wire("W-M", "M1", "M2"),
        diode("D-ENG", "M2", "ENG"),
        fuse("F-EBAT", 15, "BATT", "E1"),
        wire("W-E", "E1", "E2"),
        switch("SW-ENG", "E2", "ENG"),
        fuse("F-IGN", 5, "ENG", "I1"),
        wire("W-IGN", "I1", "IGN"),
        fuse("F-LAND", 10, "MAIN", "L1"),
        switch("SW-LAND", "L1", "L2"),
        wire("W-LAND", "L2", "LAND"),
        wire("R-IGN", "IGN.return", "BLOCK"),
        wire("R-LAND", "LAND.return", "G"),
        wire("NEG", "BAT.return", "G"),
        wire("STRAP", "G", "BLOCK"),
        wire("ALT-G", "ALT.return", "BLOCK"),
    ),
    (BAT, ALT),
    (load("IGN", 3), load("LAND", 6.5)),
    frozenset({"MAIN", "BATT", "ENG", "G", "BLOCK"}),
)


@pytest.fixture(scope="module")
def aircraft() -> Analysis:
    return analyse(AIRCRAFT)


@pytest.mark.parametrize(
    ("name", "amperes", "limits"),
    [
        ("W-LAND", 10, {"F-LAND": 10}),
        ("W-IGN", 5, {"F-IGN": 5}),
        ("W-M", 20, {"F-ENG": 20}),  # the diode keeps the battery's 15 A from coming round
        ("W-E", 20, {"F-ENG": 20}),  # from the engine bus's end: more than its own fuse
        ("B-LEAD", 60, {"LIMITER": 60}),
        ("R-LAND", 10, {"F-LAND": 10}),
        ("R-IGN", 5, {"F-IGN": 5}),
    ],
)
def test_what_decides_a_rating_is_named(
    aircraft: Analysis, name: str, amperes: float, limits: dict[str, float]
) -> None:
    index = place(AIRCRAFT, name)
    found = deciding(aircraft, index)
    assert found.amperes == aircraft.let_through[index] == amperes
    assert {limit.id: limit.amperes for limit in found.limits} == limits
    assert found.load == (name[2:] if name.startswith("R-") else None)


def test_devices_side_by_side_are_all_named_and_so_is_a_weak_source() -> None:
    edges = (
        fuse("F1", 10, "BAT", "A"),
        fuse("F2", 15, "ALT", "B"),
        wire("W1", "A", "J"),
        wire("W2", "B", "J"),
        wire("W", "J", "L"),
    )
    network = Network(edges, (BAT, Supply("ALT", "ALT", "G", 12)), (Sink("L", "L", "G", 1),))
    found = deciding(analyse(network), 4)
    assert found.amperes == 22
    assert set(found.limits) == {("F1", 10), ("ALT", 12)}


def test_nothing_limits_a_battery_cable(aircraft: Analysis) -> None:
    found = deciding(aircraft, place(AIRCRAFT, "CABLE"))
    assert (found.amperes, found.limits) == (math.inf, ())


def test_the_sides_are_told_apart(aircraft: Analysis) -> None:
    sides = {edge.id: aircraft.side[index] for index, edge in enumerate(AIRCRAFT.edges)}
    assert {name for name, side in sides.items() if side == "source-return"} == {"NEG", "STRAP", "ALT-G"}
    assert {name for name, side in sides.items() if side == "return"} == {"R-IGN", "R-LAND"}
    assert "isolated" not in sides.values()


def test_a_wire_that_no_source_reaches_is_isolated() -> None:
    network = Network((wire("W", "BAT", "L"), wire("LOOSE", "P", "Q")), (BAT,), (load("L", 1),))
    result = analyse(network)
    assert result.side == ["supply", "isolated"]
    assert (result.let_through[1], result.current[1]) == (0, 0)


def test_a_return_behind_the_first_ground_is_not_the_sources_own() -> None:
    edges = (
        fuse("F", 10, "BAT", "L"),
        wire("NEG", "BAT.return", "G"),
        wire("STRAP", "G", "G2"),
        wire("R", "L.return", "G2"),
        wire("R2", "M.return", "G"),
    )
    network = Network((*edges, fuse("F2", 5, "BAT", "M")), (BAT,), (load("L", 4), load("M", 2)))
    result = analyse(network)
    assert [result.side[k] for k in (1, 2, 3, 4)] == ["source-return", "return", "return", "return"]
    assert [result.let_through[k] for k in (2, 3, 4)] == [10, 10, 5]
    assert [result.current[k] for k in (1, 2, 3, 4)] == [6, 4, 4, 2]


def test_returns_in_a_ring_are_each_given_the_worst_load() -> None:
    ring = (wire("A", "G", "P"), wire("B", "P", "Q"), wire("C", "Q", "G"))
    edges = (
        fuse("F1", 10, "BAT", "L"),
        fuse("F2", 5, "BAT", "M"),
        wire("NEG", "BAT.return", "G"),
        *ring,
        wire("R1", "L.return", "P"),
        wire("R2", "M.return", "Q"),
    )
    network = Network(edges, (BAT,), (load("L", 4), load("M", 2)))
    result = analyse(network)
    assert result.side[2:] == ["source-return", "return", "return", "return", "return", "return"]
    assert result.let_through[3:] == [10, 10, 10, 10, 5]
    assert result.current[3:] == [6, 6, 6, 4, 2]
    assert result.meshed == {3, 4, 5}
    assert deciding(result, 4).load == "L"


def test_two_straps_between_two_sources_are_both_the_sources_own() -> None:
    straps = (wire("S1", "BLOCK", "G"), wire("S2", "BLOCK", "G"))
    edges = (wire("N1", "BAT.return", "G"), wire("N2", "ALT.return", "BLOCK"), *straps, wire("R", "L.return", "G"))
    network = Network((*edges, fuse("F", 5, "BAT", "L"), fuse("A", 40, "ALT", "L")), (BAT, ALT), (load("L", 4),))
    assert analyse(network).side[:5] == ["source-return"] * 4 + ["return"]


@pytest.mark.parametrize("another_source", [False, True])
def test_between_a_ground_and_a_ring_a_return_is_the_sources_own_where_another_source_stands_at_the_ring(
    another_source: bool,
) -> None:
    ring = (wire("A", "P", "Q"), wire("B", "Q", "S"), wire("C", "S", "P"))
    edges = [
        fuse("F1", 10, "BAT", "L"),
        fuse("F2", 5, "BAT", "M"),
        wire("NEG", "BAT.return", "G"),
        wire("LINK", "G", "P"),
        *ring,
        wire("R1", "L.return", "Q"),
        wire("R2", "M.return", "G"),
    ]
    if another_source:
        edges += (wire("N2", "ALT.return", "S"), fuse("F3", 40, "ALT", "L"))
    result = analyse(Network(tuple(edges), (BAT, ALT) if another_source else (BAT,), (load("L", 4), load("M", 2))))
    assert result.side[2:4] == ["source-return", "source-return" if another_source else "return"]
    if not another_source:
        assert result.let_through[3] == 10  # the worst load that may return this way
        assert deciding(result, 3).load == "L"


def test_a_load_that_is_wired_straight_to_the_battery_still_has_a_return_of_its_own() -> None:
    network = Network((fuse("F", 10, "BAT", "L"), wire("R", "L.return", "BAT.return")), (BAT,), (load("L", 4),))
    assert analyse(network).side[1] == "source-return"  # one wire is both: the battery's only lead
    longer = Network(
        (fuse("F", 10, "BAT", "L"), wire("R", "L.return", "P"), wire("N", "P", "BAT.return")), (BAT,), (load("L", 4),)
    )
    assert analyse(longer).side[1:] == ["return", "source-return"]


def test_the_devices_on_the_way_to_the_sources(aircraft: Analysis) -> None:
    assert [edge.id for edge in aircraft.upstream_devices("LAND")] == ["F-LAND"]
    assert [edge.id for edge in aircraft.path("IGN")] == ["W-IGN", "F-IGN"]
    assert [edge.id for edge in aircraft.path("LAND", to_bus=True)] == ["W-LAND", "SW-LAND", "F-LAND"]


def test_the_first_device_may_be_the_first_record() -> None:
    edges = (fuse("F", 10, "BAT", "A"), wire("W", "A", "L"), fuse("F2", 5, "BAT", "M"))
    result = analyse(Network(edges, (BAT,), (load("L", 4), load("M", 2))))
    assert [found and found.id for found in map(result.first_device, ("L", "M", "BAT", "nowhere"))] == [
        "F",
        "F2",
        None,
        None,
    ]
    assert result.first_devices == [0, 0, 2]
    assert result.devices_beyond == [None, 0, None]


# -- sources, returns, switches ----------------------------------------------------------------------------------------


def test_loads_with_and_without_ways() -> None:
    edges = (
        wire("W1", "BAT", "A"),
        switch("S1", "A", "ON-OFF"),
        wire("R1", "ON-OFF.return", "G"),
        wire("W2", "A", "LIVE"),
        wire("R2", "LIVE.return", "G"),
        wire("W3", "A", "GROUNDED"),
        switch("S3", "GROUNDED.return", "G"),
        diode("D", "BACKWARDS", "A"),
        wire("R4", "BACKWARDS.return", "G"),
        wire("W5", "A", "NO-RETURN"),
        wire("W6", "A", "WRONG-WAY"),
        diode("D6", "G", "WRONG-WAY.return"),
        wire("NEG", "BAT.return", "G"),
    )
    names = ("ON-OFF", "LIVE", "GROUNDED", "BACKWARDS", "NO-RETURN", "WRONG-WAY")
    network = Network(edges, (BAT,), tuple(load(name, 1) for name in names))
    assert reaches_source(network) == set(names) - {"BACKWARDS"}
    assert has_return(network) == set(names) - {"NO-RETURN", "WRONG-WAY"}
    assert can_be_switched_off(network) == {"ON-OFF", "GROUNDED"}


# -- voltage drops -----------------------------------------------------------------------------------------------------


def test_drops_add_up_from_the_bus_and_back_to_the_ground(aircraft: Analysis) -> None:
    ohms = {edge.id: 0.01 for edge in AIRCRAFT.edges if edge.kind == "wire"}
    drops = voltage_drops(aircraft, ohms)
    # Each load hangs by one wire of 10 mohm on either side: ohms times amperes (AC 43.13-1B Table 11-7).
    assert drops == {"IGN": pytest.approx(0.02 * 3), "LAND": pytest.approx(0.02 * 6.5)}


def test_a_wire_of_unknown_resistance_leaves_its_loads_out(aircraft: Analysis) -> None:
    ohms = {edge.id: 0.01 for edge in AIRCRAFT.edges if edge.id != "R-IGN"}
    assert voltage_drops(aircraft, ohms).keys() == {"LAND"}


def test_a_long_way_adds_its_wires_each_at_its_own_current() -> None:
    edges = (wire("W1", "BUS", "A"), wire("W2", "A", "L"), wire("W3", "A", "M"), wire("W0", "BAT", "BUS"))
    network = Network(
        edges, (BAT,), (Sink("L", "L", "BAT.return", 2), Sink("M", "M", "BAT.return", 3)), frozenset({"BUS"})
    )
    drops = voltage_drops(analyse(network), {"W0": 9, "W1": 0.1, "W2": 0.2, "W3": 0.3})
    assert drops == {"L": pytest.approx(0.1 * 5 + 0.2 * 2), "M": pytest.approx(0.1 * 5 + 0.3 * 3)}


@pytest.mark.parametrize(("one", "other"), [(0.1, 0.4), (0.4, 0.1)])
def test_of_two_ways_the_worse_counts(one: float, other: float) -> None:
    edges = (wire("W1", "BUS", "J"), wire("W2", "BUS", "J"), wire("W3", "J", "L"), fuse("F", 10, "BAT", "BUS"))
    network = Network(edges, (BAT,), (Sink("L", "L", "BAT.return", 2),), frozenset({"BUS"}))
    drops = voltage_drops(analyse(network), {"W1": one, "W2": other, "W3": 0.05})
    assert drops == {"L": pytest.approx(2 * 0.4 + 2 * 0.05)}


@pytest.mark.parametrize("mirrored", [False, True])
def test_in_a_mesh_the_worst_of_all_ways_counts(mirrored: bool) -> None:
    # BUS to P1 and P2, these joined, and both to E. Four ways without a detour, listed by a general library.
    ohms = {"SA": 0.01, "SB": 0.02, "AB": 0.03, "AE": 0.04, "BE": 0.01}
    ends = {"SA": "BUS P1", "SB": "BUS P2", "AB": "P1 P2", "AE": "P1 E", "BE": "P2 E"}
    edges = [wire(name, *ends[name].split()) for name in ohms]
    edges += [fuse("F", 10, "BAT", "BUS"), wire("W", "E", "L")]
    network = Network(
        tuple(edges[::-1] if mirrored else edges), (BAT,), (Sink("L", "L", "BAT.return", 2),), frozenset({"BUS"})
    )
    result = analyse(network)
    current = {edge.id: result.current[index] for index, edge in enumerate(network.edges)}
    graph: networkx.Graph[str] = networkx.Graph()
    for name, joined in ends.items():
        graph.add_edge(*joined.split(), lost=ohms[name] * current[name])
    ways = [
        sum(graph.edges[step]["lost"] for step in pairwise(way)) for way in networkx.all_simple_paths(graph, "E", "BUS")
    ]
    assert len(ways) == 4
    drops = voltage_drops(result, ohms | {"W": 0.05})
    assert drops == {"L": pytest.approx(max(ways) + 0.05 * 2)}


def test_what_branches_off_a_mesh_has_no_part_in_its_ways() -> None:
    edges = (
        *(wire("W1", "BUS", "J"), wire("W2", "BUS", "J"), fuse("F", 10, "BAT", "BUS")),
        *(wire("W3", "J", "L"), wire("W4", "J", "M")),
    )
    sinks = (Sink("L", "L", "BAT.return", 2), Sink("M", "M", "BAT.return", 2))
    network = Network(edges, (BAT,), sinks, frozenset({"BUS"}))
    drops = voltage_drops(analyse(network), {"W1": 0.1, "W2": 0.2, "W3": 0.05})  # that of W4 is not known
    assert drops == {"L": pytest.approx(4 * 0.2 + 2 * 0.05)}


def test_a_way_that_ends_nowhere_gives_no_drop() -> None:
    network = Network((wire("W", "BAT", "L"), wire("X", "P", "M")), (BAT,), (load("L", 1), load("M", 1)))
    assert voltage_drops(analyse(network), {"W": 0.1, "X": 0.1}) == {}


# -- random networks against nodal analysis ----------------------------------------------------------------------------


def random_network(seed: int) -> tuple[Network, list[float]]:
    """A connected mesh of wires with one to three unlimited sources of one voltage, and each wire's ohms."""
    dice = random.Random(seed)
    points = [f"P{k}" for k in range(dice.randint(3, 14))]
    joins = [(points[dice.randrange(k)], points[k]) for k in range(1, len(points))]
    joins += [(a, b) for a, b in (dice.sample(points, 2) for _ in range(dice.choice((0, 1, 2, 4))))]
    edges = tuple(wire(f"W{k}", a, b) for k, (a, b) in enumerate(joins))
    supplies = tuple(Supply(f"S{k}", point, "G") for k, point in enumerate(dice.sample(points, dice.randint(1, 3))))
    sinks = tuple(Sink(f"L{k}", dice.choice(points), "G", float(dice.randint(1, 9))) for k in range(4))
    return Network(edges, supplies, sinks), [dice.uniform(0.001, 0.1) for _ in edges]


def solved(network: Network, ohms: list[float]) -> tuple[dict[str, float], list[float]]:
    """Voltages below the sources, and wire currents, by Kirchhoff's laws: one linear system, solved by numpy."""
    points = list(network.places)
    row = {point: k for k, point in enumerate(points)}
    matrix, right = numpy.zeros((len(points), len(points))), numpy.zeros(len(points))
    for edge, resistance in zip(network.edges, ohms, strict=True):
        a, b = row[edge.start], row[edge.end]
        for here, there in ((a, b), (b, a)):
            matrix[here, here] += 1 / resistance
            matrix[here, there] -= 1 / resistance
    for sink in network.sinks:
        right[row[sink.point]] -= sink.current
    for point in {supply.point for supply in network.supplies} | {"G"}:
        matrix[row[point]] = 0
        matrix[row[point], row[point]] = 1
        right[row[point]] = 0
    volts = numpy.linalg.solve(matrix, right)
    currents = [abs(volts[row[e.start]] - volts[row[e.end]]) / r for e, r in zip(network.edges, ohms, strict=True)]
    return {point: -float(volts[k]) for point, k in row.items()}, currents


@pytest.mark.parametrize("seed", range(300))
def test_currents_and_drops_are_never_less_than_kirchhoffs(seed: int) -> None:
    network, ohms = random_network(seed)
    result = analyse(network)
    lost, currents = solved(network, ohms)
    for index, current in enumerate(currents):
        assert result.current[index] >= current - 1e-9, f"wire {index} of network {seed}"
    drops = voltage_drops(result, {edge.id: r for edge, r in zip(network.edges, ohms, strict=True)})
    for sink in network.sinks:
        assert drops[sink.id] >= lost[sink.point] - 1e-9


@pytest.mark.parametrize("seed", range(300))
def test_in_a_tree_with_one_source_currents_and_drops_are_kirchhoffs(seed: int) -> None:
    network, ohms = random_network(seed)
    count = len({point for edge in network.edges for point in (edge.start, edge.end)}) - 1
    tree = Network(network.edges[:count], network.supplies[:1], network.sinks)
    result = analyse(tree)
    lost, currents = solved(tree, ohms[:count])
    assert result.current == pytest.approx(currents)
    drops = voltage_drops(result, {edge.id: r for edge, r in zip(tree.edges, ohms, strict=False)})
    assert drops == {sink.id: pytest.approx(lost[sink.point]) for sink in tree.sinks}


def protected_network(seed: int) -> Network:
    """A mesh with devices, diodes, returns and two limited sources."""
    dice = random.Random(seed)
    points = [f"P{k}" for k in range(dice.randint(3, 12))]
    back = [f"R{k}" for k in range(dice.randint(2, 6))]
    edges: list[Edge] = []
    for side in (points, back):
        joins = [(side[dice.randrange(k)], side[k]) for k in range(1, len(side))]
        joins += [(a, b) for a, b in (dice.sample(side, 2) for _ in range(dice.choice((0, 1, 3))))]
        for a, b in joins:
            kind = dice.choice((wire, wire, diode) if side is points else (wire,))
            name = f"E{len(edges)}"
            edges.append(
                fuse(name, float(dice.choice((5, 10, 15))), a, b)
                if side is points and dice.random() < 0.4
                else kind(name, a, b)
            )
    supplies = tuple(
        Supply(f"S{k}", dice.choice(points), dice.choice(back), dice.choice((math.inf, 20.0, 40.0))) for k in range(2)
    )
    sinks = tuple(Sink(f"L{k}", dice.choice(points), dice.choice(back), float(dice.randint(1, 9))) for k in range(4))
    return Network(tuple(edges), supplies, sinks)


@pytest.mark.parametrize("seed", range(300))
def test_what_is_named_adds_up_to_the_rating(seed: int) -> None:
    network = protected_network(seed)
    result = analyse(network)
    for index, rating in enumerate(result.let_through):
        found = deciding(result, index)
        assert found.amperes == pytest.approx(rating), f"edge {index} of network {seed}"
        if math.isfinite(rating):
            assert sum(limit.amperes for limit in found.limits) == pytest.approx(rating)


def test_a_mesh_too_large_for_flows_gets_an_upper_bound() -> None:
    def grid(size: int) -> Network:
        across = [
            fuse(f"A{i},{j}", 5.0 + (i + j) % 3, f"{i},{j}", f"{i + 1},{j}")
            for i in range(size - 1)
            for j in range(size)
        ]
        down = [wire(f"D{i},{j}", f"{i},{j}", f"{i},{j + 1}") for i in range(size) for j in range(size - 1)]
        return Network(
            (*across, *down), (Supply("ALT", "0,0", "G", 30.0),), (Sink("L", f"{size - 1},{size - 1}", "G", 1.0),)
        )

    large = analyse(grid(12))
    for index in range(0, len(large.let_through), 20):
        assert deciding(large, index).amperes <= large.let_through[index] <= 30.0


def test_a_way_goes_on_past_a_bus_unless_it_is_to_end_there() -> None:
    edges = (fuse("F", 10, "BAT", "BUS"), wire("W0", "BUS", "A"), wire("W1", "A", "L"))
    result = analyse(Network(edges, (BAT,), (load("L", 1),), frozenset({"BUS"})))
    assert [edge.id for edge in result.path("L")] == ["W1", "W0", "F"]
    assert [edge.id for edge in result.path("L", to_bus=True)] == ["W1", "W0"]
