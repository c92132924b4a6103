"""Operating points against a dense general solver (numpy), and against AC 43.13-1B tables 11-7 and 11-8."""

from __future__ import annotations

import math
import random
from typing import TYPE_CHECKING
from unittest.mock import patch

import numpy as np
import pytest

from jurystrut.calculations.circuit import Edge, Network, Sink, Supply
from jurystrut.calculations.circuit.operating import Demand, Grid, NoSteadyState, OperatingPoint, Source, settling_at
from jurystrut.calculations.circuit.rigid import Rigid
from jurystrut.calculations.circuit.steady import Steady

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

BAT = Source("BAT", "BAT", "GND", 12.6, 0.009)


def grid(
    edges: list[tuple[str, str, float]], *, diodes: tuple[int, ...] = (), drops: dict[int, float] | None = None
) -> Grid:
    """From (start, end, ohms); every source stands between a point of its name and GND."""
    made = tuple(
        Edge(f"W{place}", start, end, "diode" if place in diodes else "wire", one_way=place in diodes)
        for place, (start, end, _) in enumerate(edges)
    )
    points = {point for start, end, _ in edges for point in (start, end)}
    supplies = tuple(Supply(p, p, "GND") for p in sorted(points) if p in {"BAT", "ALT", "BAT2"})
    network = Network(made, supplies, ())
    return Grid.of(network, {place: ohms for place, (_, _, ohms) in enumerate(edges)}, drops or {})


def test_a_battery_a_wire_and_a_load() -> None:
    found = grid([("BAT", "L", 0.1), ("L-", "GND", 0.05)]).operate([BAT], [Demand("L", "L", "L-", 10.0)])
    assert found.across["L"] == pytest.approx(12.6 - 10 * (0.009 + 0.1 + 0.05), abs=1e-12)
    assert found.amperes == pytest.approx([10, 10])
    assert found.delivered["BAT"] == pytest.approx(10)


# AC 43.13-1B tables 11-7 and 11-8 (read in two copies): feet, amperes, ohm per foot, and the product of the three. Two printed
# drops are misprints (3.60 for 3.5552, 0.366 for 0.4914), so the product is what counts.
@pytest.mark.parametrize(
    ("feet", "amperes", "ohm_per_ft", "drop"),
    [
        (107, 20, 0.00044, 0.9416),
        (90, 20, 0.00028, 0.504),
        (88, 20, 0.00202, 3.5552),
        (100, 20, 0.00306, 6.12),
        (39, 20, 0.00126, 0.9828),
        (19.5, 20, 0.00126, 0.4914),
        (156, 20, 0.00126, 3.9312),
        (273, 20, 0.00126, 6.8796),
    ],
)
def test_the_rows_of_tables_11_7_and_11_8(feet: float, amperes: float, ohm_per_ft: float, drop: float) -> None:
    source = Source("BAT", "BAT", "GND", 28.0)
    found = grid([("BAT", "L", feet * ohm_per_ft)]).operate([source], [Demand("L", "L", "GND", amperes)])
    assert 28.0 - found.across["L"] == pytest.approx(drop, abs=1e-12)


def test_example_1_of_page_11_26() -> None:
    # 50 ft at 20 A on 28 V: size 10 loses 1.26 V, size 8 loses 0.70 V of the 1 V allowed (ohms of Table 11-9).
    for ohm_per_1000_ft, drop in ((1.26, 1.26), (0.70, 0.70)):
        found = grid([("BAT", "L", 0.05 * ohm_per_1000_ft)]).operate(
            [Source("BAT", "BAT", "GND", 28.0)], [Demand("L", "L", "GND", 20)]
        )
        assert 28 - found.across["L"] == pytest.approx(drop, abs=1e-12)


def test_loads_of_constant_power_and_of_resistance() -> None:
    net = grid([("BAT", "L", 0.5)])
    source = Source("BAT", "BAT", "GND", 14.0)
    # A resistance divides: 14 V x 2 / 2.5.
    assert net.operate([source], [Demand("L", "L", "GND", 2.0, "resistance")]).across["L"] == pytest.approx(
        11.2, abs=1e-10
    )
    # A power P behind R: V = (E + sqrt(E^2 - 4 P R)) / 2.
    volts = (14 + math.sqrt(14**2 - 4 * 60 * 0.5)) / 2
    assert net.operate([source], [Demand("L", "L", "GND", 60.0, "power")]).across["L"] == pytest.approx(volts, abs=1e-9)


def test_more_power_than_the_wire_can_bring_has_no_steady_state() -> None:
    # The most that 14 V behind 0.5 ohm gives is E^2 / 4R = 98 W.
    with pytest.raises(NoSteadyState):
        grid([("BAT", "L", 0.5)]).operate([Source("BAT", "BAT", "GND", 14.0)], [Demand("L", "L", "GND", 99, "power")])


def test_an_alternator_carries_everything_up_to_its_rating_and_the_battery_the_rest() -> None:
    net = grid([("ALT", "BUS", 0.01), ("BAT", "BUS", 0.01)])
    sources = [Source("ALT", "ALT", "GND", 14.2, most=40), Source("BAT", "BAT", "GND", 12.6, 0.009)]
    light = net.operate(sources, [Demand("L", "BUS", "GND", 30.0)])
    assert light.delivered == pytest.approx({"ALT": 30, "BAT": 0})
    assert light.across["L"] == pytest.approx(14.2 - 0.3)
    heavy = net.operate(sources, [Demand("L", "BUS", "GND", 50.0)])
    assert heavy.delivered == pytest.approx({"ALT": 40, "BAT": 10})
    assert heavy.across["L"] == pytest.approx(12.6 - 10 * 0.019)


def test_a_diode_blocks_backwards_and_costs_its_drop_forwards() -> None:
    net = grid([("ALT", "ENG", 0.0), ("BAT", "ENG", 0.1)], diodes=(0,), drops={0: 0.5})
    sources = [Source("ALT", "ALT", "GND", 14.2), Source("BAT", "BAT", "GND", 12.6)]
    fed = net.operate(sources, [Demand("L", "ENG", "GND", 4.0)])
    assert fed.across["L"] == pytest.approx(13.7)
    alone = net.operate(sources[1:], [Demand("L", "ENG", "GND", 4.0)])
    assert alone.across["L"] == pytest.approx(12.2)
    assert alone.amperes[0] == pytest.approx(0, abs=1e-12)
    assert alone.volts.get("ALT") is None


def test_a_part_cut_off_behind_a_diode_draws_nothing() -> None:
    # Without the edge that feeds MAIN nothing reaches its load: the diode to ENG does not lend MAIN the voltage of ENG.
    net = grid([("BAT", "MAIN", 0.1), ("MAIN", "ENG", 0.0), ("BAT", "ENG", 0.2)], diodes=(1,), drops={1: 0.5})
    demands = [Demand("LM", "MAIN", "GND", 5.0), Demand("LE", "ENG", "GND", 2.0)]
    found = net.operate([Source("BAT", "BAT", "GND", 12.6)], demands, frozenset({0}))
    assert found.across == pytest.approx({"LE": 12.6 - 2.0 * 0.2})
    assert found.amperes == pytest.approx([0, 0, 2])


def test_two_batteries_in_a_row_add_their_voltages() -> None:
    net = grid([("BAT", "BUS", 0.02), ("BAT2", "BAT-", 0.01)])
    sources = [Source("BAT", "BAT", "BAT-", 12.6, 0.015), Source("BAT2", "BAT2", "GND", 12.6, 0.015)]
    net = Grid.of(
        Network(net.network.edges, (Supply("BAT", "BAT", "BAT-"), Supply("BAT2", "BAT2", "GND")), ()), net.ohms, {}
    )
    found = net.operate(sources, [Demand("L", "BUS", "GND", 10.0)])
    assert found.across["L"] == pytest.approx(25.2 - 10 * (0.02 + 0.01 + 2 * 0.015))
    assert found.delivered == pytest.approx({"BAT": 10, "BAT2": 10})


def test_what_no_source_reaches_has_no_voltage_and_draws_nothing() -> None:
    net = grid([("BAT", "A", 0.1), ("A", "B", 0.1)])
    found = net.operate([BAT], [Demand("L1", "A", "GND", 1), Demand("L2", "B", "GND", 2)], frozenset({1}))
    assert "L2" not in found.across
    assert found.amperes == pytest.approx([1, 0])
    none = net.operate([], [Demand("L1", "A", "GND", 1)])
    assert not none.across


def test_a_return_that_is_open_stops_its_load() -> None:
    net = grid([("BAT", "L", 0.1), ("L-", "GND", 0.1)])
    found = net.operate([BAT], [Demand("L", "L", "L-", 5)], frozenset({1}))
    assert not found.across
    assert found.delivered["BAT"] == pytest.approx(0)


def linear(
    edges: list[tuple[str, str, float]], sources: list[Source], demands: list[Demand], at: Callable[[str], float]
) -> Iterator[tuple[str, str, float, float]]:
    """Everything as a conductance and a fixed current from a to b beside it, about the present voltages."""
    for a, b, ohms in edges:
        yield a, b, 1 / ohms, 0.0
    for source in sources:
        yield source.back, source.point, 1 / source.ohms, source.volts / source.ohms
    for d in demands:
        across = at(d.point) - at(d.back)
        slope = {"current": 0.0, "power": -d.amount / across**2, "resistance": 1 / d.amount}[d.kind]
        yield d.point, d.back, slope, d.amperes(across) - slope * across


def dense(edges: list[tuple[str, str, float]], sources: list[Source], demands: list[Demand]) -> dict[str, float]:
    """Voltages by Newton's method on the whole network at once, numpy's dense solver for every step."""
    points = sorted({p for a, b, _ in edges for p in (a, b)} - {"GND"})
    place = {point: index for index, point in enumerate(points)}
    volts = np.array([0.0 if point.startswith("R") else 13.0 for point in points])
    for _ in range(60):
        matrix, right = np.zeros((len(points),) * 2), np.zeros(len(points))
        for a, b, siemens, into_b in linear(edges, sources, demands, lambda p: volts[place[p]] if p in place else 0.0):  # noqa: B023
            for here, there, sign in ((a, b, -1), (b, a, 1)):
                if here in place:
                    matrix[place[here], place[here]] += siemens
                    right[place[here]] += sign * into_b
                    if there in place:
                        matrix[place[here], place[there]] -= siemens
        volts = np.linalg.solve(matrix, right)
    return dict(zip(points, volts.tolist(), strict=True))


@pytest.mark.parametrize("seed", range(40))
def test_random_networks_against_a_dense_solver(seed: int) -> None:
    chance = random.Random(seed)
    names = ["BAT", "BAT2", *(f"P{n}" for n in range(chance.randint(3, 40)))]
    edges = [(chance.choice(names[:n]), names[n], chance.uniform(0.002, 0.05)) for n in range(1, len(names))]
    for _ in range(chance.randint(0, 25)):  # meshes and parallel wires
        a, b = chance.sample(names, 2)
        edges.append((a, b, chance.uniform(0.002, 0.05)))
    backs = [f"R{n}" for n in range(chance.randint(1, 12))]
    edges += [(chance.choice(["GND", *backs[:n]]), backs[n], chance.uniform(0.001, 0.02)) for n in range(len(backs))]
    edges.append(("GND", chance.choice(backs), 0.004))
    sources = [Source("BAT", "BAT", "GND", 12.6, 0.01), Source("BAT2", "BAT2", "GND", 12.6, 0.02)]
    kinds = ("current", "power", "resistance")
    demands = []
    for n in range(chance.randint(1, 12)):
        kind = kinds[n % 3]
        amount = {
            "current": chance.uniform(0.1, 3),
            "power": chance.uniform(1, 30),
            "resistance": chance.uniform(4, 40),
        }
        demands.append(Demand(f"L{n}", chance.choice(names), chance.choice(backs), amount[kind], kind))  # type: ignore[arg-type]
    found = grid(edges).operate(sources, demands)
    expected = dense(edges, sources, demands)
    assert {p: found.volts[p] for p in expected} == pytest.approx(expected, abs=1e-9)
    for index, (a, b, ohms) in enumerate(edges):  # Ohm's law in every edge
        assert found.amperes[index] * ohms == pytest.approx(found.volts[a] - found.volts[b], abs=1e-9)


def test_a_long_radial_network_takes_no_meshed_solution() -> None:
    edges = [("BAT", "BUS", 0.001), *(("BUS", f"L{n}", 0.1) for n in range(2000))]
    net = grid(edges)
    assert len(net.core) == 0  # one source: its lead is a branch as well
    found: OperatingPoint = net.operate([BAT], [Demand(f"L{n}", f"L{n}", "GND", 0.01) for n in range(2000)])
    assert found.amperes[0] == pytest.approx(20)


def test_the_sinks_of_a_network_are_not_drawn_unless_asked() -> None:
    network = Network((Edge("W", "BAT", "L", "wire"),), (Supply("BAT", "BAT", "GND"),), (Sink("L", "L", "GND", 3.0),))
    net = Grid.of(network, {0: 0.1}, {})
    assert net.operate([BAT], []).amperes == [0.0]


def test_a_load_of_nothing_and_one_that_no_way_leads_to_are_not_there() -> None:
    net = grid([("BAT", "L", 0.1), ("X", "BAT", 0.1)], diodes=(1,))  # the diode leads away from X
    off = Demand("OFF", "L", "GND", 0.0, "resistance")
    found = net.operate([BAT], [Demand("L", "L", "GND", 2.0), off, Demand("DEAD", "X", "GND", 3.0)])
    assert found.across == {"L": pytest.approx(12.6 - 2 * 0.109)}
    assert found.delivered["BAT"] == pytest.approx(2)


def test_a_load_of_less_resistance_than_its_wire_still_settles() -> None:
    # 0.4 ohm behind 0.5 ohm: the drawn current overshoots round after round unless it is damped. 14 V x 0.4 / 0.9.
    found = grid([("BAT", "L", 0.5)]).operate(
        [Source("BAT", "BAT", "GND", 14.0)], [Demand("L", "L", "GND", 0.4, "resistance")]
    )
    assert found.across["L"] == pytest.approx(14 * 0.4 / 0.9, abs=1e-9)
    assert found.amperes[0] == pytest.approx(14 / 0.9, abs=1e-9)


def test_a_diode_in_a_lead_costs_its_drop_on_the_way_out_and_on_the_way_back() -> None:
    net = grid(
        [("BAT", "A", 0.1), ("A", "L", 0.0), ("L-", "G", 0.0), ("G", "GND", 0.05)],
        diodes=(1, 2),
        drops={1: 0.7, 2: 0.4},
    )
    found = net.operate([BAT], [Demand("L", "L", "L-", 2.0)])
    assert found.volts["L"] == pytest.approx(12.6 - 2 * 0.109 - 0.7)
    assert found.volts["L-"] == pytest.approx(2 * 0.05 + 0.4)
    assert found.amperes == pytest.approx([2, 2, 2, 2])
    assert net.operate([BAT], []).volts["L"] == pytest.approx(12.6)  # without current no drop


BUSES = [("BAT", "MAIN", 0.01), ("MAIN", "ENG", 0.0), ("ALT", "ENG", 0.02)]
"""The battery on the main bus, an alternator on the engine bus, and a diode from the one to the other."""
LOADS = [Demand("M", "MAIN", "GND", 5.0), Demand("E", "ENG", "GND", 6.0)]


def test_a_diode_between_two_buses_keeps_the_higher_one_from_the_lower() -> None:
    net = grid(BUSES, diodes=(1,), drops={1: 0.5})
    sources = [Source("BAT", "BAT", "GND", 12.6), Source("ALT", "ALT", "GND", 14.2, most=40)]
    found = net.operate(sources, LOADS)
    assert found.amperes == pytest.approx([5, 0, 6])
    assert found.across == pytest.approx({"M": 12.6 - 0.05, "E": 14.2 - 0.12})


@pytest.mark.parametrize("most", [2.0, 4.5])
def test_the_diode_passes_again_when_the_alternator_can_give_no_more(most: float) -> None:
    net = grid(BUSES, diodes=(1,), drops={1: 0.5})
    sources = [Source("BAT", "BAT", "GND", 12.6), Source("ALT", "ALT", "GND", 14.2, most=most)]
    found = net.operate(sources, LOADS)
    assert found.delivered == pytest.approx({"BAT": 11 - most, "ALT": most})
    assert found.amperes == pytest.approx([11 - most, 6 - most, most])
    main = 12.6 - (11 - most) * 0.01
    assert found.across == pytest.approx({"M": main, "E": main - 0.5})


def test_more_than_all_sources_together_may_give_has_no_steady_state() -> None:
    sources = [Source("BAT", "BAT", "GND", 12.6, most=4), Source("ALT", "ALT", "GND", 14.2, most=6)]
    with pytest.raises(NoSteadyState):
        grid(BUSES, diodes=(1,)).operate(sources, LOADS)


def test_joints_that_close_a_loop_agree_with_it_or_contradict_it() -> None:
    held = Rigid()
    held.join("A", "B", 1.0, ("edge", 1))
    held.join("B", "C", 2.0, ("edge", 2))
    held.join("A", "C", 3.0, ("edge", 3))
    held.join("A", "C", 2.5, ("edge", 4))
    assert math.isnan(held.undetermined["edge", 3])
    assert held.undetermined["edge", 4] == -math.inf
    (root, low), (same, high) = held.place("A"), held.place("C")
    assert root == same
    assert high - low == pytest.approx(3.0)


def test_two_groups_that_are_joined_keep_their_own_heights() -> None:
    held = Rigid()
    held.join("A", "B", 1.0, ("edge", 1))
    held.join("C", "D", 2.0, ("edge", 2))
    held.join("B", "D", 5.0, ("edge", 3))
    (root, start) = held.place("A")
    heights = {}
    for point in "ABCD":
        same, height = held.place(point)
        assert same == root
        heights[point] = height - start
    # B lies 1 above A, D 5 above B, and C 2 below D.
    assert heights == pytest.approx({"A": 0, "B": 1, "C": 4, "D": 6})


def test_what_arrives_at_joined_points_leaves_over_every_joint_once() -> None:
    held = Rigid()
    for place, (one, other) in enumerate([("C", "A"), ("C", "B"), ("C", "D"), ("D", "E"), ("F", "E")]):
        held.join(one, other, 0.0, ("edge", place))
    # Amperes that arrive, in balance; by Kirchhoff each joint carries what arrives beyond it, against its own direction.
    arriving = {"A": 1.0, "B": 2.0, "D": 4.0, "E": 8.0, "F": 16.0, "C": -31.0}
    carried = {}
    for step in held.inwards():
        carried[step.name[1]] = step.sign * arriving[step.point]
        arriving[step.towards] += arriving.pop(step.point)
    assert carried == {0: -1, 1: -2, 2: -28, 3: -24, 4: 16}
    assert list(arriving.values()) == [0.0]


@pytest.mark.parametrize("share", [0.3, -0.3, 0.49, -0.05])
def test_a_figure_whose_steps_shrink_by_one_share_is_bound_for_the_sum_of_the_series(share: float) -> None:
    # 7 + 2 r, 7 + 2 r^2, 7 + 2 r^3, ... ends at 7.
    rounds = [7 + 2 * share**power for power in (1, 2, 3)]
    assert settling_at(*rounds) == pytest.approx(7, abs=1e-12)


@pytest.mark.parametrize("rounds", [(4.0, 2.0, 1.0), (1.0, 2.0, 4.0), (3.0, 3.0, 3.0), (0.0, 1.0, -1.0)])
def test_a_figure_that_hardly_settles_is_taken_as_it_is(rounds: tuple[float, float, float]) -> None:
    assert settling_at(*rounds) == rounds[2]


def test_a_load_that_depends_on_its_voltage_settles_in_four_rounds() -> None:
    with patch.object(Steady, "state", autospec=True, side_effect=Steady.state) as rounds:
        found = grid([("BAT", "L", 0.1)]).operate([BAT], [Demand("L", "L", "GND", 2.0, "resistance")])
    assert found.across["L"] == pytest.approx(12.6 * 2 / 2.109, abs=1e-12)  # a divider
    assert 1 <= rounds.call_count <= 4
