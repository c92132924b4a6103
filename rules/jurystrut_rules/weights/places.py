"""What single parts bear: tyres, floors, seats, tanks, and what holds the ballast."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jurystrut.calculations.loadings import border
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_most,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.weights.ledger import pounds

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.fuel import Fuel, Tank
    from jurystrut.records.weights import Component, Station, Tyre, Weights
    from jurystrut_rules.weights.possible import Possible

__all__ = [
    "ballast_is_secured",
    "floor_bears_load",
    "greatest_reaction",
    "seat_bears_load",
    "tank_has_room",
    "tyre_bears_load",
]


def greatest_reaction(possible: Possible, wheel: float, other: float) -> float:
    """The greatest weight on the wheel or wheels at one arm while others stand at another, over all loadings up to gross weight.

    W (other - arm) / (other - wheel) is straight in weight and moment, so it is greatest at a corner of the region.
    """
    empty, gross = possible.empty, possible.gross
    corners = [corner for side in ("forward", "aft") for corner in _below(border(empty, possible.places, side), gross)]
    return max((weight * other - moment) / (other - wheel) for weight, moment in corners)


def _below(corners: list[tuple[float, float]], gross: float) -> Iterator[tuple[float, float]]:
    """A border up to gross weight, and the point where it meets it."""
    before = corners[0]
    yield before
    for weight, moment in corners[1:]:
        if weight > gross:
            share = (gross - before[0]) / (weight - before[0])
            yield gross, before[1] + share * (moment - before[1])
            return
        before = weight, moment
        yield before


@rule(
    "weights/tyre-load",
    title="Tyres bear the aircraft",
    asks="Is the load on every tyre within its rating in every possible loading up to gross weight?",
    references=("23-733",),
    due=Stage.SYSTEMS,
    remedy="Fit a tyre of a higher rating.",
    at_worst=Verdict.WARN,
)
def tyre_bears_load(weights: Weights, aircraft: Aircraft, possible: Possible) -> Iterator[Finding]:
    """The aircraft stands level on its wheels. The weight on each follows from weight and moment; of all possible loadings up to
    gross weight the heaviest on it counts. Two main wheels share alike. The section cited is known from memory only.
    """
    if not weights.tyres and aircraft.gear in {"floats", "skis"}:
        yield not_applicable("aircraft", f"it stands on {aircraft.gear}, and no tyre is recorded", aircraft.at("gear"))
        return
    if not weights.tyres:
        raise MissingRecord("no tyre is recorded", weights.at())
    mains = [tyre for tyre in weights.tyres if tyre.wheel.endswith("main")]
    ends = [tyre for tyre in weights.tyres if not tyre.wheel.endswith("main")]
    if not mains or not ends:
        raise MissingRecord(
            "the tyres of the main wheels and of nose or tail are not all recorded", weights.at("tyres")
        )
    for tyre in weights.tyres:
        main = tyre in mains
        other = ends[0] if main else mains[0]
        yield _tyre(tyre, other, len(mains) if main else 1, possible)


def _tyre(tyre: Tyre, other: Tyre, sharing: int, possible: Possible) -> Finding:
    if tyre.rating is None:
        return no_data(tyre.id, "the tyre's static rating is not recorded", tyre.at(), remedy="Record 'rating'.")
    if tyre.arm.si == other.arm.si:
        return no_data(tyre.id, f"it stands at the same arm as {other.id}", tyre.at("arm"), other.at("arm"))
    load = pounds(greatest_reaction(possible, tyre.arm.si, other.arm.si)) / sharing
    words = f"up to {load:.1f} lb stand on the {tyre.wheel} tyre, rated {tyre.rating}"
    return at_most(
        tyre.id,
        load,
        tyre.rating.to("lb"),
        "lb",
        words,
        tyre.at("rating"),
        remedy=f"Fit a tyre rated {math.ceil(load)} lb or more.",
        working=lambda: [
            f"greatest W (other - CG) / (other - wheel) over all loadings up to gross weight, other wheels at {other.arm}",
            f"{load * sharing:.1f} lb on {sharing} wheel{'s' if sharing > 1 else ''} at {tyre.arm}",
        ],
    )


@rule(
    "weights/floor-load",
    title="Floor bears the baggage",
    asks="Is the most that each baggage space may hold no more than its floor bears?",
    references=("own-floor-load",),
    due=Stage.SYSTEMS,
    remedy="Lower the most that the place may hold, or strengthen the floor.",
)
def floor_bears_load(weights: Weights) -> Iterator[Finding]:
    """The most that the place may hold, spread evenly over its floor, against what the designer says that the floor bears."""
    spaces = [station for station in weights.stations if station.kind == "baggage"]
    if not spaces:
        yield not_applicable("aircraft", "no baggage space is recorded")
    for station in spaces:
        yield _floor(station)


def _floor(station: Station) -> Finding:
    missing = [f for f in ("maximum", "floor_area", "floor_bears") if getattr(station, f) is None]
    if station.maximum is None or station.floor_area is None or station.floor_bears is None:
        return no_data(station.id, f"not recorded: {', '.join(missing)}", station.at(), remedy="Record it.")
    bears = pounds(station.floor_area.si * station.floor_bears.si)
    return at_most(
        station.id,
        station.maximum.to("lb"),
        bears,
        "lb",
        f"{station.maximum} may be carried on {station.floor_area} that bear {station.floor_bears}: {bears:.1f} lb",
        station.at("maximum"),
        station.at("floor_bears"),
        remedy=f"Let it hold {math.floor(bears * 10 + 1e-6) / 10:.1f} lb at most.",
        working=lambda: [f"{station.floor_area} x {station.floor_bears} = {bears:.2f} lb"],
    )


@rule(
    "weights/seat-load",
    title="Seat bears its occupants",
    asks="Is the most that each seat may hold no more than its structure was built to carry?",
    references=("own-seat-load",),
    due=Stage.SYSTEMS,
    remedy="Lower the most that the seat may hold, or strengthen it.",
)
def seat_bears_load(weights: Weights) -> Iterator[Finding]:
    """The most that a seat may hold, all its occupants together, against what the designer says that its structure carries.

    That figure holds for the load factors of the design; a seat that bears a load standing still says nothing of them.
    """
    seats = [station for station in weights.stations if station.kind == "seat"]
    if not seats:
        yield not_applicable("aircraft", "no seat is recorded")
    for station in seats:
        yield _seat(station)


def _seat(station: Station) -> Finding:
    missing = [field for field in ("maximum", "bears") if getattr(station, field) is None]
    if station.maximum is None or station.bears is None:
        return no_data(station.id, f"not recorded: {', '.join(missing)}", station.at(), remedy="Record it.")
    return at_most(
        station.id,
        station.maximum.to("lb"),
        station.bears.to("lb"),
        "lb",
        f"it may hold {station.maximum}; its structure was built to carry {station.bears}",
        station.at("maximum"),
        station.at("bears"),
        remedy=f"Let it hold {station.bears} at most, or strengthen it.",
    )


@rule(
    "weights/tank-room",
    title="Tank holds its usable fuel",
    asks="Does every tank hold the fuel that is counted as usable, and the space left for expansion?",
    references=("ac43-10-2-b", "23-29-a"),
    due=Stage.SYSTEMS,
    remedy="Measure the tank, and record what it holds and what can be used.",
)
def tank_has_room(fuel: Fuel) -> Iterator[Finding]:
    """Usable fuel and expansion space together are held against capacity. What is left is unusable fuel: part of the empty
    weight, as both sources say, and so not to be counted again as load.
    """
    if not fuel.tanks:
        raise MissingRecord("no tank is recorded", fuel.at())
    for tank in fuel.tanks:
        yield _tank(tank, fuel)


def _tank(tank: Tank, fuel: Fuel) -> Finding:
    missing = [f for f in ("capacity", "usable", "expansion_space") if getattr(tank, f) is None]
    if tank.capacity is None or tank.usable is None or tank.expansion_space is None:
        return no_data(tank.id, f"not recorded: {', '.join(missing)}", tank.at(), remedy="Record it; 0 is a value.")
    asked, holds = tank.usable.to("US gal") + tank.expansion_space.to("US gal"), tank.capacity.to("US gal")
    weight = f", {pounds(tank.usable.si * fuel.density.si):.1f} lb" if fuel.density else ""
    return at_most(
        tank.id,
        asked,
        holds,
        "US gal",
        f"{tank.usable} usable{weight}, and {tank.expansion_space} for expansion, in a tank of {tank.capacity}",
        tank.at("usable"),
        tank.at("capacity"),
        remedy=f"Count {asked - holds:.2f} US gal less as usable, or measure the tank again.",
        working=lambda: [f"unusable: {holds - asked:.2f} US gal"],
    )


@rule(
    "weights/ballast-secured",
    title="Ballast secured",
    asks="Is the attachment of permanent ballast checked, and does a placard say that it stays?",
    references=("ac43-10-22",),
    due=Stage.ENGINE_RUN,
    remedy="Have the attachment checked, and put a placard on the ballast.",
)
def ballast_is_secured(weights: Weights) -> Iterator[Finding]:
    """Permanent ballast is part of the empty weight. AC 43.13-1B asks for a check of what holds it, and for a placard."""
    ballast = [component for component in weights.components if component.ballast and not component.removed]
    if not ballast:
        yield not_applicable("aircraft", "no component is recorded as ballast")
    for component in ballast:
        yield from _ballast(component)


def _ballast(component: Component) -> Iterator[Finding]:
    if component.attachment_checked is None:
        yield no_data(
            component.id,
            "who checked that its attachment bears it is not recorded",
            component.at(),
            remedy="Have it checked, and record 'attachment_checked'.",
        )
    else:
        yield passes(component.id, f"attachment: {component.attachment_checked}", component.at("attachment_checked"))
    if component.placarded is None:
        yield no_data(component.id, "whether a placard says that it stays is not recorded", component.at())
    elif component.placarded:
        yield passes(component.id, "a placard says that it stays", component.at("placarded"))
    else:
        words = "no placard says that this ballast stays"
        yield fails(
            component.id, words, component.at("placarded"), remedy="Put a placard on it: ballast, do not remove."
        )
