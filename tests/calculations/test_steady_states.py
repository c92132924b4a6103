"""Which sources deliver and which diodes pass: random systems against the laws themselves, and a few worked by hand.

Whether sources can carry the loads at all is asked of scipy's HiGHS, as a linear program: some flow within all limits.
"""

from __future__ import annotations

import math
import random
from unittest.mock import patch

import numpy
import pytest
from scipy.optimize import linprog

from jurystrut.calculations.circuit import Edge, Network, Supply
from jurystrut.calculations.circuit.operating import Demand, Grid, NoSteadyState, OperatingPoint, Source
from jurystrut.calculations.circuit.steady import Steady

_NEAR = 1e-6


def system(edges: list[tuple[str, str, float, float | None]], sources: list[Source]) -> Grid:
    """From (start, end, ohms, forward volts of a diode or None); a source stands between the point of its name and GND."""
    made = tuple(
        Edge(f"E{place}", start, end, "wire" if drop is None else "diode", one_way=drop is not None)
        for place, (start, end, _, drop) in enumerate(edges)
    )
    network = Network(made, tuple(Supply(source.id, source.point, "GND") for source in sources), ())
    drops = {place: drop for place, (*_, drop) in enumerate(edges) if drop is not None}
    return Grid.of(network, {place: ohms for place, (_, _, ohms, _) in enumerate(edges)}, drops)


def battery(name: str, volts: float, ohms: float) -> Source:
    return Source(name, name, "GND", volts, ohms)


def alternator(name: str, volts: float, most: float) -> Source:
    return Source(name, name, "GND", volts, most=most)


def random_system(seed: int) -> tuple[Grid, list[Source], list[Demand]]:
    """Two to four batteries and alternators, joined by wires and diodes, with or without meshes."""
    chance = random.Random(seed)
    names = [f"S{place}" for place in range(chance.randint(2, 4))]
    batteries = chance.randint(1, len(names) - 1)
    sources = [
        *(battery(name, chance.choice((12.6, 13.2)), chance.uniform(0.003, 0.02)) for name in names[:batteries]),
        *(alternator(name, chance.choice((13.8, 14.4)), chance.choice((8, 20, 60))) for name in names[batteries:]),
    ]
    points = [*names, *(f"P{place}" for place in range(chance.randint(1, 4)))]
    chance.shuffle(points)
    joins = [(points[chance.randrange(place)], points[place]) for place in range(1, len(points))]
    joins += [(a, b) for a, b in (chance.sample(points, 2) for _ in range(chance.randint(0, 2)))]
    edges = []
    for a, b in joins:
        start, end = chance.sample((a, b), 2)
        edges.append((start, end, chance.uniform(0.001, 0.05), chance.choice((0.5, 0.7, None, None, None, None))))
    chance.shuffle(sources)
    grid = system(edges, sources)
    fed = sorted(grid.network.fed())
    loads = [chance.choice((1, 5, 20, 60)) for _ in range(chance.randint(1, 3))]
    demands = [Demand(f"L{place}", chance.choice(fed), "GND", load) for place, load in enumerate(loads)]
    return grid, sources, demands


def can_be_carried(grid: Grid, sources: list[Source], demands: list[Demand]) -> bool:
    """Whether any flow at all brings every load what it asks for."""
    edges = grid.network.edges
    points = sorted({point for edge in edges for point in (edge.start, edge.end)})
    row = {point: place for place, point in enumerate(points)}
    flows = numpy.zeros((len(points), len(edges) + len(sources)))
    for column, edge in enumerate(edges):
        flows[row[edge.end], column] += 1
        flows[row[edge.start], column] -= 1
    for column, source in enumerate(sources, len(edges)):
        flows[row[source.point], column] += 1
    asked = numpy.zeros(len(points))
    for demand in demands:
        asked[row[demand.point]] += demand.amount
    limits: list[tuple[float | None, float | None]] = [(0 if edge.one_way else None, None) for edge in edges]
    limits += [(0, None if math.isinf(source.most) else source.most) for source in sources]
    solved = linprog(numpy.zeros(len(limits)), A_eq=flows, b_eq=asked, bounds=limits)
    assert solved.status in {0, 2}, solved.message
    return bool(solved.status == 0)


def obeys_the_laws(grid: Grid, sources: list[Source], demands: list[Demand], found: OperatingPoint) -> None:
    """Kirchhoff's and Ohm's laws, what diodes let pass, and what each source delivers at its voltage."""
    arriving = {point: 0.0 for point in found.volts if point != "GND"}
    assert arriving.keys() >= {source.point for source in sources}
    for place, edge in enumerate(grid.network.edges):
        amperes = found.amperes[place]
        if edge.start in arriving and edge.end in arriving:
            spent = grid.ohms[place] * amperes + grid.drops.get(place, 0.0)
            across = found.volts[edge.start] - found.volts[edge.end]
            if edge.one_way and not amperes > _NEAR:
                assert across <= spent + _NEAR
                assert amperes >= -_NEAR
            else:
                assert across == pytest.approx(spent, abs=_NEAR)
            arriving[edge.end] += amperes
            arriving[edge.start] -= amperes
        else:  # nothing holds a voltage beyond this edge
            assert amperes == pytest.approx(0, abs=_NEAR)
    for demand in demands:
        arriving[demand.point] -= demand.amount
    for source in sources:
        amperes = found.delivered[source.id]
        arriving[source.point] += amperes
        own = source.volts - source.ohms * amperes
        assert -_NEAR <= amperes <= source.most + _NEAR
        assert amperes > source.most - _NEAR or found.volts[source.point] >= own - _NEAR
        assert amperes < _NEAR or found.volts[source.point] <= own + _NEAR
    assert arriving == pytest.approx(dict.fromkeys(arriving, 0.0), abs=1e-5)


ROUND_IN_A_CIRCLE = (424, 599, 923, 977, 1433, 1470, 1501)
"""Systems in which changing one thing at a time comes back to where it was."""


@pytest.mark.parametrize("seed", [*range(300), *ROUND_IN_A_CIRCLE])
def test_a_steady_state_obeys_the_laws_and_is_found_where_there_is_one(seed: int) -> None:
    grid, sources, demands = random_system(seed)
    try:
        with patch.object(Steady, "state", autospec=True, side_effect=Steady.state) as rounds:
            found = grid.operate(sources, demands)
    except NoSteadyState:
        assert not can_be_carried(grid, sources, demands)
    else:
        # Constant currents are known beforehand, so the first choice that is found must be right.
        assert rounds.call_count == 1
        assert found.across.keys() == {demand.id for demand in demands}
        obeys_the_laws(grid, sources, demands, found)


@pytest.mark.parametrize(("load", "first", "second", "volts"), [(0.5, 0.5, 0.0, 12.05), (30.0, 15.5, 14.5, 10.55)])
def test_of_two_batteries_behind_diodes_the_lower_helps_once_the_higher_sags(
    load: float, first: float, second: float, volts: float
) -> None:
    # 12.6 V and 12.5 V, each over 0.1 ohm and 0.5 V: up to 1 A the first carries all; above, 12.1 - 0.1 i = 12.0 - 0.1 k.
    ways = [("B1", "D1", 0.1, None), ("D1", "ENG", 0.0, 0.5), ("B2", "D2", 0.1, None), ("D2", "ENG", 0.0, 0.5)]
    sources = [battery("B1", 12.6, 0.0), battery("B2", 12.5, 0.0)]
    # What hangs before the second diode keeps it closed while the second battery has not begun to deliver.
    demands = [Demand("L", "ENG", "GND", load), Demand("OWN", "B2", "GND", 1.0)]
    found = system(ways, sources).operate(sources, demands)
    assert found.delivered == pytest.approx({"B1": first, "B2": second + 1.0})
    assert found.across["L"] == pytest.approx(volts)


def test_an_alternator_at_its_most_gives_less_where_its_own_resistance_says_so() -> None:
    # 14 V behind 0.1 ohm and at most 20 A, beside 13 V behind 0.05 ohm, 30 A together: (14 - v) / 0.1 + (13 - v) / 0.05 = 30.
    # At 20 A the alternator would stand at 12 V, but v is 370 / 30.
    sources = [Source("ALT", "ALT", "GND", 14.0, 0.1, 20.0), battery("BAT", 13.0, 0.05)]
    found = system([("ALT", "BUS", 0.0, None), ("BAT", "BUS", 0.0, None)], sources).operate(
        sources, [Demand("L", "BUS", "GND", 30.0)]
    )
    assert found.across["L"] == pytest.approx(370 / 30)
    assert found.delivered == pytest.approx({"ALT": 50 / 3, "BAT": 40 / 3})


def test_alternators_that_cannot_carry_the_loads_have_no_steady_state() -> None:
    sources = [alternator("A1", 14.2, 40), alternator("A2", 13.8, 20)]
    bus = system([("A1", "BUS", 0.01, None), ("A2", "BUS", 0.01, None)], sources)
    assert bus.operate(sources, [Demand("L", "BUS", "GND", 59.0)]).delivered == pytest.approx({"A1": 40, "A2": 19})
    with pytest.raises(NoSteadyState):
        bus.operate(sources, [Demand("L", "BUS", "GND", 61.0)])


def test_conductors_without_resistance_side_by_side_share_in_no_way_that_is_known() -> None:
    # Two switches in parallel, of which the records give no resistance: the load has its voltage, the switches no figures.
    sources = [battery("BAT", 12.6, 0.01)]
    found = system([("BAT", "L", 0.0, None), ("BAT", "L", 0.0, None), ("L", "BAT", 0.1, None)], sources).operate(
        sources, [Demand("L", "L", "GND", 10.0)]
    )
    assert found.across["L"] == pytest.approx(12.5)
    assert [math.isnan(amperes) for amperes in found.amperes].count(True) == 1


@pytest.mark.parametrize(("load", "volts", "first", "second"), [(5.0, 14.4, 5.0, 0.0), (80.0, 13.8, 60.0, 20.0)])
@pytest.mark.parametrize("higher_first", [True, False])
def test_of_two_alternators_on_one_bus_the_higher_holds_it_until_it_gives_its_most(
    load: float, volts: float, first: float, second: float, *, higher_first: bool
) -> None:
    grid = system([("A1", "BUS", 0.0, None), ("A2", "BUS", 0.0, None)], [])
    network = Network(grid.network.edges, tuple(Supply(name, name, "GND") for name in ("A1", "A2")), ())
    sources = [alternator("A1", 14.4, 60), alternator("A2", 13.8, 60)]
    found = Grid.of(network, {}, {}).operate(
        sources if higher_first else sources[::-1], [Demand("L", "BUS", "GND", load)]
    )
    assert found.volts["BUS"] == pytest.approx(volts)
    assert found.delivered == pytest.approx({"A1": first, "A2": second})
    assert found.amperes == pytest.approx([first, second])
