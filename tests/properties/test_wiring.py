"""Electrical systems: what longer wires, larger fuses, more loads, hotter air and one more failure may do, and may not."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.calculations.test_circuit import random_network as any_network
from tests.calculations.test_quitting import random_network as two_sources
from tests.calculations.test_steady_states import random_system
from tests.properties.judgements import ORDER, judged, said, texts

from jurystrut.calculations.circuit import Demand, Edge, Grid, Network, NoSteadyState, Sink, Source, Supply, analyse
from jurystrut.calculations.circuit.faults import fault_currents
from jurystrut.calculations.circuit.quitting import lost_without
from jurystrut.calculations.endurance import endurance
from jurystrut.testing import findings, the_finding
from jurystrut_rules.electrical.tables import blade_times

if TYPE_CHECKING:
    from jurystrut.rulebook import Finding

some = settings(max_examples=40, derandomize=True, deadline=None, database=None)
SEEDS = st.integers(0, 5000)
NEAR = 1e-6


def operate(grid: Grid, sources: list[Source], demands: list[Demand]) -> dict[str, float]:
    """Every load's voltage; cases that have none are passed over."""
    try:
        return dict(grid.operate(sources, demands).across)
    except NoSteadyState:
        assume(False)  # noqa: FBT003 - hypothesis's own way to pass a case over
        raise


@given(SEEDS, st.floats(0.1, 10))
@some
def test_more_resistance_and_less_current_in_proportion_leave_the_voltages(seed: int, times: float) -> None:
    grid, sources, demands = random_system(seed)
    before = operate(grid, sources, demands)
    thinner = Grid.of(grid.network, {index: ohms * times for index, ohms in grid.ohms.items()}, grid.drops)
    weaker = [source._replace(ohms=source.ohms * times, most=source.most / times) for source in sources]
    smaller = [demand._replace(amount=demand.amount / times) for demand in demands]
    assert operate(thinner, weaker, smaller) == pytest.approx(before, abs=NEAR)


@given(SEEDS, st.integers(0, 100), st.floats(0.1, 20))
@some
def test_another_load_never_raises_a_voltage_nor_relieves_a_source(seed: int, place: int, amperes: float) -> None:
    grid, sources, demands = random_system(seed)
    fed = sorted(grid.network.fed())
    more = [*demands, Demand("MORE", fed[place % len(fed)], "GND", amperes)]
    before, after = operate(grid, sources, demands), operate(grid, sources, more)
    assert all(after[load] <= volts + NEAR for load, volts in before.items())
    one, other = (grid.operate(sources, each).delivered for each in (demands, more))
    assert all(other[source] >= given - NEAR for source, given in one.items())


@given(SEEDS, st.floats(1.01, 3))
@some
def test_a_larger_device_never_lets_less_through_anywhere(seed: int, times: float) -> None:
    network = any_network(seed)
    devices = [place for place, edge in enumerate(network.edges) if edge.kind == "protection"]
    assume(devices)
    edges = list(network.edges)
    edges[devices[0]] = edges[devices[0]]._replace(capacity=edges[devices[0]].capacity * times)
    before, after = analyse(network).let_through, analyse(replace(network, edges=tuple(edges))).let_through
    assert all(larger >= given - NEAR for larger, given in zip(after, before, strict=True))


@given(SEEDS, st.integers(0, 100))
@some
def test_a_wire_taken_out_never_lets_more_reach_a_point(seed: int, place: int) -> None:
    network = any_network(seed)
    edges = network.edges[: place % len(network.edges)] + network.edges[place % len(network.edges) + 1 :]
    less = replace(network, edges=edges)
    before, after = analyse(network), analyse(less)
    assert all(after.available(point) <= before.available(point) + NEAR for point in less.places)


@given(SEEDS, st.integers(0, 39), st.integers(0, 39))
@some
def test_one_more_failure_never_gives_a_load_back(seed: int, one: int, other: int) -> None:
    network = two_sources(seed)
    assert set(lost_without(network, {f"E{one}"})) <= set(lost_without(network, {f"E{one}", f"E{other}"}))


def row(ohms: list[float]) -> tuple[Grid, Source]:
    """A battery and wires one behind the other."""
    edges = tuple(Edge(f"W{n}", "BAT" if n == 0 else f"P{n}", f"P{n + 1}", "wire") for n in range(len(ohms)))
    network = Network(edges, (Supply("BAT", "BAT", "G"),), (Sink("L", f"P{len(ohms)}", "G", 1.0),))
    return Grid.of(network, dict(enumerate(ohms)), {}), Source("BAT", "BAT", "G", 12.6, 0.009)


@given(st.lists(st.floats(0.0001, 0.5), min_size=1, max_size=6), st.integers(0, 5), st.floats(0.0001, 1))
@some
def test_a_longer_wire_never_raises_the_current_of_a_short_behind_it(ohms: list[float], at: int, more: float) -> None:
    end = f"P{len(ohms)}"
    longer = [value + more * (place == at % len(ohms)) for place, value in enumerate(ohms)]
    before, after = (fault_currents(grid, [source], [end])[end] for grid, source in map(row, (ohms, longer)))
    assert after < before


GAUGES = ("10", "12", "14", "16", "18", "20", "22")
FEET = st.integers(1, 60)


def branch(gauge: str, feet: int, amperes: str = "2 A", more: str = "") -> str:
    """A battery, a bus and a load behind one wire."""
    return f"""aircraft: {{name: T, authority: US, stage: operating, limits: {{altitude: 10000 ft}}}}
electrical:
  nominal_voltage: 14 V
  sources:
    - {{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm, capacity: 18 A*h, capacity_hours: 20 h, chemistry: agm}}
    - {{id: ALT, kind: alternator, voltage: 14 V, rating: 40 A}}
  buses: [{{id: MAIN}}]
  protection: [{{id: F, kind: blade-fuse, rating: 5 A, fed_from: MAIN}}]
  loads:
    - {{id: L, current: {amperes}, nature: led, essential: true, minimum_voltage: 11 V, duty: {{cruise: 100 %}}}}
    {more}
  wires:
    - {{id: W0, from: BAT, to: MAIN, size: 8 AWG, length: 2 ft}}
    - {{id: W1, from: ALT, to: MAIN, size: 8 AWG, length: 4 ft}}
    - {{id: W2, from: F, to: L, size: {gauge} AWG, length: {feet} ft}}
    - {{id: W3, from: L.return, to: BAT.return, size: 18 AWG, length: 4 ft}}
    - {{id: W4, from: ALT.return, to: BAT.return, size: 8 AWG, length: 4 ft}}
"""


def measured(finding: Finding) -> float:
    assert finding.measured is not None
    return finding.measured.value


@given(st.integers(0, len(GAUGES) - 1), st.integers(0, len(GAUGES) - 1), FEET, FEET)
@some
def test_a_longer_or_thinner_wire_never_raises_the_voltage_at_its_load(
    one: int, other: int, feet: int, more: int
) -> None:
    thick, thin = sorted((one, other))
    short, long = branch(GAUGES[thick], feet), branch(GAUGES[thin], feet + more)
    rule = "electrical/minimum-voltage"
    assert measured(the_finding(rule, long, "L")) < measured(the_finding(rule, short, "L"))
    rule = "electrical/voltage-drop"
    assert measured(the_finding(rule, long, "L")) > measured(the_finding(rule, short, "L"))


@given(st.integers(1, 80), st.integers(1, 80))
@some
def test_another_load_never_lengthens_the_endurance_nor_lightens_the_alternator(tenths: int, more: int) -> None:
    extra = f"- {{id: M, current: {more / 10} A, nature: led, essential: true, duty: {{cruise: 100 %}}}}"
    alone, two = branch("18", 5, f"{tenths / 10} A"), branch("18", 5, f"{tenths / 10} A", extra)
    rule = "electrical/endurance"
    assert measured(the_finding(rule, two, "BAT")) <= measured(the_finding(rule, alone, "BAT"))
    for rule in ("electrical/source-capacity", "electrical/load-analysis"):
        before, after = ({f.subject: f for f in findings(rule, text)} for text in (alone, two))
        pairs = [(after[name], finding) for name, finding in before.items() if finding.measured]
        assert pairs
        assert all(measured(heavier) >= measured(lighter) for heavier, lighter in pairs)


@given(st.floats(1, 100), st.floats(1.0, 1.5), st.floats(0.1, 40), st.floats(0, 40), st.floats(0, 2))
@some
def test_more_current_before_or_after_never_lengthens_the_endurance(
    capacity: float, exponent: float, amperes: float, more: float, hours: float
) -> None:
    whole = endurance(capacity, 20, exponent, [(amperes, hours)], amperes)
    assert endurance(capacity, 20, exponent, [(amperes + more, hours)], amperes) <= whole + NEAR
    assert endurance(capacity, 20, exponent, [(amperes, hours)], amperes + more) <= whole + NEAR


@given(st.floats(1, 500), st.sampled_from((3, 5, 7.5, 10, 15, 20, 25)), st.sampled_from((5, 7.5, 10, 15, 20, 25, 30)))
@some
def test_a_larger_fuse_never_opens_sooner(amperes: float, small: float, large: float) -> None:
    small, large = sorted((small, large))
    times = blade_times()
    assert times.earliest(100 * amperes / large) >= times.earliest(100 * amperes / small)
    assert times.latest(100 * amperes / large) >= times.latest(100 * amperes / small)


HARDER = {
    "ambient: 40 degC": "ambient: 60 degC",
    "altitude: 8000 ft": "altitude: 14000 ft",
    "wires: 5": "wires: 8",
    "insulation: 150 degC": "insulation: 105 degC",
    "size: 16 AWG": "size: 18 AWG",
    "kind: breaker, rating: 10 A": "kind: breaker, rating: 15 A",
}
EASY = """aircraft: {name: T, authority: US, stage: operating, limits: {altitude: 8000 ft}}
electrical:
  sources: [{id: BAT, kind: battery}]
  buses: [{id: MAIN}]
  protection: [{id: F, kind: breaker, rating: 10 A, fed_from: MAIN}]
  bundles: [{id: B, ambient: 40 degC, wires: 5}]
  loads: [{id: L, current: 6 A, nature: led}]
  wires:
    - {id: W0, from: BAT, to: MAIN, size: 8 AWG, serves: short-lead, insulation: 150 degC}
    - {id: W1, from: F, to: L, size: 16 AWG, insulation: 150 degC, bundle: B}
    - {id: W2, from: L.return, to: BAT.return, size: 8 AWG, insulation: 150 degC}
"""


@given(st.sets(st.sampled_from(sorted(HARDER))), st.sampled_from(sorted(HARDER)))
@some
def test_harder_conditions_never_make_a_wire_carry_more_nor_its_verdict_better(already: set[str], one: str) -> None:
    text = EASY
    for easy in already - {one}:
        text = text.replace(easy, HARDER[easy])
    for rule in ("electrical/wire-protection", "electrical/wire-load"):
        before, after = (the_finding(rule, each, "W1") for each in (text, text.replace(one, HARDER[one])))
        assert before.limit is not None
        assert after.limit is not None
        if one.startswith("kind"):
            assert after.limit.value == before.limit.value
        else:
            assert after.limit.value < before.limit.value
        assert ORDER.index(after.verdict) >= ORDER.index(before.verdict)


def test_the_example_with_every_wire_twice_as_long_has_no_better_voltage_and_no_greater_fault() -> None:
    before = said(judged(texts("project_example"), "electrical/"))
    longer = {
        path: doubled(text) if path.startswith("electrical/") else text
        for path, text in texts("project_example").items()
    }
    after = said(judged(longer, "electrical/"))
    for rule, sign in (
        ("electrical/minimum-voltage", 1),
        ("electrical/interrupting-rating", 1),
        ("electrical/voltage-drop", -1),
    ):
        keys = [key for key in before.figures if key[0] == rule and key[-1] == "0" and key in after.figures]
        assert len(keys) > 5
        assert all(sign * after.figures[key] <= sign * before.figures[key] + NEAR for key in keys)


def doubled(text: str) -> str:
    return re.sub(r"length: ([0-9.]+) (in|ft)", lambda found: f"length: {2 * float(found[1]):g} {found[2]}", text)
