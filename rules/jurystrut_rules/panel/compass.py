"""Do steel, magnets and heavy currents leave the compass alone?"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from jurystrut.calculations.magnetism import deviation, field_of_path
from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, at_least, at_most, no_data, not_applicable, rule
from jurystrut_rules.panel.controls import place_in_inches

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.panel import Compass, Disturber, Panel, Place, Run
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["compass_away_from_steel", "compass_away_from_wires", "compass_not_turned_by_loads"]


def _compass(panel: Panel) -> Compass:
    if panel.compass is None:
        raise MissingRecord("the compass is not recorded", panel.at("compass"))
    return panel.compass


@rule(
    "panel/compass-from-steel",
    title="Compass away from steel and magnets",
    asks="Is the compass as far from steel and magnets as their makers and the builder want?",
    references=("own-compass",),
    due=Stage.SYSTEMS,
    remedy="Move the compass, or what disturbs it.",
)
def compass_away_from_steel(panel: Panel) -> Iterator[Finding]:
    """The straight distance from the middle of the compass is held against what is declared: by whoever made the disturbing
    part, or for all steel and all magnets by whoever made the compass; the greater of the two. How much a piece of steel turns
    a needle cannot be computed from its place alone, and no published distance is known.
    """
    compass = _compass(panel)
    if not panel.disturbers:
        raise MissingRecord("no steel and no magnet near the compass is recorded", panel.at("disturbers"))
    for thing in panel.disturbers:
        wanted = _wanted(thing, compass)
        if wanted is None:
            yield no_data(
                thing.id, "no distance that it must keep is declared", thing.at(), remedy="Record 'keep_away'."
            )
            continue
        distance = math.dist(place_in_inches(thing.place), place_in_inches(compass.centre))
        message = f"this {thing.kind} is {distance:.1f} in from the compass"
        remedy = f"Move one of the two {wanted - distance:.1f} in or more away."
        yield at_least(
            thing.id, distance, wanted, "in", message, thing.at("place"), compass.at("centre"), remedy=remedy
        )


def _wanted(thing: Disturber, compass: Compass) -> float | None:
    """The greatest distance that is declared for it, in inches."""
    general = compass.steel_distance if thing.kind == "steel" else compass.magnet_distance
    declared = [length.to("in") for length in (thing.keep_away, general) if length]
    return max(declared, default=None)


@rule(
    "panel/compass-from-wires",
    title="Compass away from heavy current",
    asks="Is the compass as far from the recorded runs of wire as declared?",
    references=("own-compass",),
    due=Stage.SYSTEMS,
    remedy="Lead the wire another way, or move the compass.",
)
def compass_away_from_wires(panel: Panel, aircraft: Aircraft) -> Iterator[Finding]:
    """The least distance from the compass to every recorded run is held against the distance that the builder or the compass's
    maker wants from wires of heavy current. No published distance is known.
    """
    if "electrical" in aircraft.without and not panel.runs:
        yield not_applicable("aircraft", "this aircraft is recorded as one without electrical wiring")
        return
    compass = _compass(panel)
    if compass.current_distance is None:
        raise MissingRecord("the compass's distance from heavy current is not declared", compass.at("current_distance"))
    if not panel.runs:
        raise MissingRecord("no run of wire near the compass is recorded", panel.at("runs"))
    wanted = compass.current_distance.to("in")
    for run in panel.runs:
        if len(run.path) < 2:
            yield no_data(run.id, "its path has fewer than two corners", run.at("path"), remedy="Record its corners.")
            continue
        distance = _to_path(compass, run)
        message = f"{run.wire} passes {distance:.1f} in from the compass"
        remedy = f"Keep it {wanted - distance:.1f} in or more farther away."
        yield at_least(run.id, distance, wanted, "in", message, run.at("path"), compass.at(), remedy=remedy)


def _to_path(compass: Compass, run: Run) -> float:
    centre = place_in_inches(compass.centre)
    corners = [place_in_inches(place) for place in run.path]
    return min(_to_piece(centre, a, b) for a, b in pairwise(corners))


def _to_piece(p: tuple[float, ...], a: tuple[float, ...], b: tuple[float, ...]) -> float:
    """The distance from a place to a straight piece of wire."""
    along = [end - start for start, end in zip(a, b, strict=True)]
    square = sum(part * part for part in along)
    share = (
        sum((place - start) * part for place, start, part in zip(p, a, along, strict=True)) / square if square else 0
    )
    share = min(max(share, 0.0), 1.0)
    return math.dist(p, [start + share * part for start, part in zip(a, along, strict=True)])


_DEVIATION_DEGREES = 10.0  # 23-1547
"""Old 23.1547(e), from memory (27.1547(e) was read): loads that shift the compass by more must be named on its card."""


@rule(
    "panel/compass-deviation",
    title="Compass not turned by electrical loads",
    asks="Do the currents near the compass turn it by no more than allowed?",
    references=("own-compass", "23-1547"),
    due=Stage.SYSTEMS,
    remedy="Lead supply and return side by side, farther away, or name the load on the compass card.",
)
def compass_not_turned_by_loads(panel: Panel, circuit: Circuit) -> Iterator[Finding]:
    """The field of every recorded run is computed by the law of Biot and Savart from the current that it carries with all steady
    loads on, and added up. Its level part turns the needle most on the heading where it stands square to the Earth's. That
    angle is held against the `deviation` that the builder allows, or else against the 10 degrees above which old 23.1547(e)
    wants the loads named, a figure from memory that only warns. Runs that are not recorded are not counted, so record supply
    and return alike. Between two sources the computed current is the most that either may ask of the other; where that is
    too much to be true, measure, and record the run's `current`.
    """
    compass = _compass(panel)
    if compass.earth_field is None or not compass.earth_field.si:
        raise MissingRecord("the Earth's field is not recorded", compass.at("earth_field"))
    if not panel.runs:
        raise MissingRecord("no run of wire near the compass is recorded", panel.at("runs"))
    steady = {name: load.current.si for name, load in circuit.loads.items() if not load.intermittent}
    steady |= {sink.id: sink.current for sink in circuit.network.sinks if sink.id not in circuit.loads}
    currents = circuit.analysis.with_currents(steady).current
    place = _metres(compass.centre)
    fields = []
    for run in panel.runs:
        computed = max((currents[edge] for edge in circuit.edge_of.get(run.wire, ())), default=0.0)
        current = run.current.to("A") if run.current else computed
        path = [_metres(corner) for corner in run.path]
        if len(path) < 2:
            raise MissingRecord(f"the path of {run.id} has fewer than two corners", run.at("path"))
        try:
            fields.append((run, current, field_of_path(path, current, place)))
        except ValueError:
            raise MissingRecord(f"the path of {run.id} leads through the compass itself", run.at("path")) from None
    level = math.hypot(math.fsum(field[0] for *_, field in fields), math.fsum(field[2] for *_, field in fields))
    angle = math.degrees(deviation(level, compass.earth_field.si))
    allowed = compass.deviation.to("deg") if compass.deviation else _DEVIATION_DEGREES
    earth = compass.earth_field.si * 1e6
    message = f"currents near the compass turn it by up to {angle:.1f} deg"
    yield at_most(
        "compass", angle, allowed, "deg", message, compass.at(), panel.at("runs"),
        otherwise=Verdict.FAIL if compass.deviation else Verdict.WARN,
        working=lambda: [
            *(f"{run.wire}: {current:.2f} A makes {_level(field):.3f} uT level" for run, current, field in fields),
            f"together {level * 1e6:.3f} uT level; the Earth's field is {earth:g} uT",
            f"arcsin({level * 1e6:.3f} / {earth:g}) = {angle:.2f} deg",
        ],
    )  # fmt: skip


def _metres(place: Place) -> tuple[float, float, float]:
    return place[0].si, place[1].si, place[2].si


def _level(field: tuple[float, float, float]) -> float:
    """The level part of a field, in microtesla."""
    return math.hypot(field[0], field[2]) * 1e6
