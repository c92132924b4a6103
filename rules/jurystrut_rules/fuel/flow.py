"""Does enough fuel reach the engine, from every tank, by every pump, with the nose up?"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.fuel_flow import caught_flow, needed_flow
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    fact,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.electrical import Electrical
    from jurystrut.records.fuel import FlowTest, Fuel

__all__ = [
    "Need",
    "every_feed_is_tested",
    "flow_meets_need",
    "flow_test_has_its_day",
    "flow_tested_nose_up",
    "fuel_need",
    "pumps_survive",
]

_FACTOR = {"gravity": 1.5, "pump": 1.25}  # 23-955
_ABOVE_CLIMB = 5.0  # ac90-89-attitude: deg
_GALLONS_PER_HOUR = 0.003785411784 / 3600  # arithmetic: m3/s; the US gallon is 231 cubic inches


class Need(NamedTuple):
    """What the engine takes at take-off power, US gal/h, and how that is known."""

    gallons: float
    steps: list[str]


@fact
def fuel_need(fuel: Fuel, aircraft: Aircraft) -> Need:
    """From the engine's manual: its flow, or its specific consumption with its power and the fuel's density."""
    if fuel.takeoff_flow is not None:
        gallons = fuel.takeoff_flow.to("US gal/h")
        return Need(gallons, [f"the engine takes {gallons:.2f} US gal/h at take-off power, as recorded"])
    power = aircraft.engine.power if aircraft.engine else None
    if fuel.specific_consumption is None or power is None or fuel.density is None:
        message = (
            "what the engine takes at take-off power is not recorded: 'takeoff_flow', or consumption, power and density"
        )
        raise MissingRecord(message, fuel.at())
    gallons = needed_flow(power.si, fuel.specific_consumption.si, fuel.density.si) / _GALLONS_PER_HOUR
    step = f"{power} x {fuel.specific_consumption} / {fuel.density} = {gallons:.2f} US gal/h"
    return Need(gallons, [step])


def _flow(test: FlowTest) -> float | None:
    """US gal/h as recorded, or from what was caught in its time."""
    if test.flow is not None:
        return test.flow.to("US gal/h")
    if test.caught is None or test.time is None or test.time.si <= 0:
        return None
    return caught_flow(test.caught.si, test.time.si) / _GALLONS_PER_HOUR


@rule(
    "fuel/flow",
    title="Fuel flow",
    asks="Does every flow test give 150 % of what the engine takes by gravity, or 125 % by pump?",
    references=("23-955",),
    due=Stage.ENGINE_RUN,
    remedy="Find what chokes it: vent, strainer, hose, selector. Do not fly.",
)
def flow_meets_need(fuel: Fuel, fuel_need: Need) -> Iterator[Finding]:
    """Old 23.955(b) and (c), a yardstick that every builder's flow test rests on. The flow is as recorded, or what was caught
    at the engine's end divided by the time.
    """
    if not fuel.flow_tests:
        raise MissingRecord("no flow test is recorded", fuel.at())
    for test in fuel.flow_tests:
        flow = _flow(test)
        if flow is None or test.feed is None:
            yield lacking(test, "flow" if flow is None else "feed")
            continue
        least = _FACTOR[test.feed] * fuel_need.gallons
        message = (
            f"{flow:.2f} US gal/h by {test.feed}; {100 * _FACTOR[test.feed]:.0f} % of the need is {least:.2f} US gal/h"
        )
        steps = [*fuel_need.steps, f"x {_FACTOR[test.feed]} for {test.feed} feed = {least:.2f} US gal/h"]
        yield _flowing(test, flow, least, message, steps)


def _flowing(test: FlowTest, flow: float, least: float, message: str, steps: list[str]) -> Finding:
    where = test.at("flow" if test.flow is not None else "caught")
    return at_least(test.id, flow, least, "US gal/h", message, where, working=lambda: steps)


@rule(
    "fuel/flow-attitude",
    title="Flow tested nose up",
    asks="Was the flow tested with the nose 5 degrees above the highest climb attitude?",
    references=("ac90-89-attitude",),
    due=Stage.ENGINE_RUN,
    remedy="Test again with the tail lower or the nose in the air.",
    at_worst=Verdict.WARN,
)
def flow_tested_nose_up(fuel: Fuel) -> Iterator[Finding]:
    """AC 90-89A, as quoted elsewhere: a level aircraft tells nothing of the climb, in which fuel has to run uphill. The 5 degrees
    are known at second hand, so this rule warns at most.
    """
    if not fuel.flow_tests:
        raise MissingRecord("no flow test is recorded", fuel.at())
    if fuel.climb_angle is None:
        raise MissingRecord("the highest attitude expected in a climb, 'climb_angle', is not recorded", fuel.at())
    if fuel.climb_angle.to("deg") <= 0:
        raise MissingRecord("'climb_angle' is no attitude of a climb: it is not above level", fuel.at("climb_angle"))
    least = fuel.climb_angle.to("deg") + _ABOVE_CLIMB
    for test in fuel.flow_tests:
        if test.pitch is None:
            yield lacking(test, "pitch")
        else:
            have = test.pitch.to("deg")
            message = f"tested at {have:g} deg nose up; climb {fuel.climb_angle} and 5 deg are {least:g} deg"
            yield at_least(test.id, have, least, "deg", message, test.at("pitch"), fuel.at("climb_angle"))


@rule(
    "fuel/flow-day",
    title="Day of the flow test",
    asks="Is it recorded when each flow was measured, and is that day past?",
    references=("own-consistency", "23-955"),
    due=Stage.ENGINE_RUN,
    remedy="Record the day on which the flow was measured.",
)
def flow_test_has_its_day(fuel: Fuel, day: datetime.date) -> Iterator[Finding]:
    """A flow that is expected, or copied from another aircraft, has no day of measuring; a day yet to come is a slip."""
    if not fuel.flow_tests:
        raise MissingRecord("no flow test is recorded", fuel.at())
    for test in fuel.flow_tests:
        if test.day is None:
            yield lacking(test, "day")
        else:
            yield _on_a_day(test, test.day, day)


def _on_a_day(test: FlowTest, measured: datetime.date, today: datetime.date) -> Finding:
    def working() -> list[str]:
        return [f"recorded: {measured}", f"judged on: {today}"]

    if measured <= today:
        return passes(test.id, f"measured on {measured}", test.at("day"), working=working)
    return fails(test.id, f"measured on {measured}, a day yet to come", test.at("day"), working=working)


@rule(
    "fuel/flow-every-feed",
    title="Every pump and tank tested",
    asks="Is there a flow test of every pump and from every tank?",
    references=("23-955",),
    due=Stage.ENGINE_RUN,
    remedy="Run each pump alone, and each tank alone with the least fuel in it.",
)
def every_feed_is_tested(fuel: Fuel) -> Iterator[Finding]:
    """Old 23.955(c) speaks of each main and each emergency pump. A test names its pump and its tank."""
    if not fuel.tanks:
        raise MissingRecord("no tank is recorded", fuel.at())
    pumps = {test.pump: test for test in fuel.flow_tests}
    tanks = {test.tank: test for test in fuel.flow_tests}
    for thing, tests in [*((pump, pumps) for pump in fuel.pumps), *((tank, tanks) for tank in fuel.tanks)]:
        test = tests.get(thing.id)
        if test:
            yield passes(thing.id, f"tested as {test.id}", test.at(), thing.at())
        else:
            yield no_data(
                thing.id, "no flow test names it", thing.at(), remedy="Test it alone, and name it in the test."
            )


@rule(
    "fuel/pump-redundancy",
    title="Fuel pressure survives",
    asks="Does an engine that needs electric pumps have two, one of which must survive in the wiring?",
    references=("own-consistency", "23-955"),
    due=Stage.SYSTEMS,
    remedy="Wire a second pump, and record an electrical function with both loads of which one must survive.",
)
def pumps_survive(fuel: Fuel, aircraft: Aircraft, electrical: Electrical | None = None) -> Iterator[Finding]:
    """Where nothing but electric pumps brings the fuel, their loads must stand together in an electrical function; the
    rules of the circuit then take away one part after the other and ask whether one pump still runs.
    """
    feed = aircraft.engine.fuel_feed if aircraft.engine else None
    if feed is None:
        raise MissingRecord("what brings the fuel to the engine, 'fuel_feed', is not recorded", aircraft.at("engine"))
    if feed != "electric-pump":
        yield not_applicable("aircraft", f"the engine does not depend on electric pumps: {feed}", aircraft.at("engine"))
        return
    electric = {pump.load: pump for pump in fuel.pumps if pump.load}
    if not electric:
        raise MissingRecord("no fuel pump names its electrical load", fuel.at("pumps"))
    groups = [set(function.loads) for function in electrical.functions if function.survive] if electrical else []
    for load, pump in electric.items():
        mates = next((group for group in groups if load in group), set())
        others = sorted(name for name in mates - {load} if name in electric)
        if others:
            yield passes(pump.id, f"in the wiring {load} or {', '.join(others)} must survive", pump.at("load"))
        else:
            yield fails(
                pump.id, f"no electrical function says that {load} or another pump must survive", pump.at("load")
            )
