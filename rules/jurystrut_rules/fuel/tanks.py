"""Do tanks leave room to expand, breathe, drain, and own up to what cannot be used?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    between,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.fuel import Drain, Fuel, Tank, Vent

__all__ = [
    "gauge_reads_zero_in_time",
    "mark_is_true",
    "outlet_is_strained",
    "strainer_before_pump",
    "tank_can_expand",
    "tank_has_sump",
    "tank_is_drained",
    "tank_is_off_firewall",
    "tank_is_vented",
    "unusable_is_measured",
    "valve_shuts_off",
]

_EXPANSION = 0.02  # 23-969: of the capacity
_SUMP = 0.0025  # 23-971: of the capacity
_LEAST_SUMP = 1 / 16  # 23-971: US gal
_MESH = (8.0, 16.0)  # 23-977: to the inch
_STRAINER_AREA = 5.0  # 23-977: times the outlet line's
_OFF_FIREWALL = 0.5  # 23-967-c: inch


def _tanks(fuel: Fuel) -> tuple[Tank, ...]:
    if not fuel.tanks:
        raise MissingRecord("no tank is recorded", fuel.at())
    return fuel.tanks


@rule(
    "fuel/unusable",
    title="Unusable fuel",
    asks="Is as much fuel counted as unusable as was left in the tank when it ran dry?",
    references=("23-959",),
    due=Stage.ENGINE_RUN,
    remedy="Lower 'usable', and correct placards, gauges and loadings.",
)
def unusable_is_measured(fuel: Fuel) -> Iterator[Finding]:
    """Capacity less usable fuel is what the aircraft counts as unusable. Old 23.959(a), a yardstick, wants that to be no
    less than what is left at the first sign of malfunction in the worst attitude.
    """
    for tank in _tanks(fuel):
        if tank.capacity is None or tank.usable is None or tank.left_over is None:
            yield lacking(tank, next(f for f in ("capacity", "usable", "left_over") if getattr(tank, f) is None))
            continue
        capacity, usable, left = (volume.to("US gal") for volume in (tank.capacity, tank.usable, tank.left_over))
        counted = round(capacity - usable, 9)
        message = f"{counted:.2f} US gal count as unusable; {left:.2f} US gal were left in it"
        remedy = f"Lower 'usable' to {capacity - left:.2f} US gal or less, and correct placards and gauges."
        yield at_least(
            tank.id, counted, left, "US gal", message, tank.at("usable"), tank.at("left_over"), remedy=remedy
        )


@rule(
    "fuel/capacity-mark",
    title="Usable fuel as marked",
    asks="Is no more fuel marked as usable than there is?",
    references=("23-1555-d", "own-consistency"),
    due=Stage.ENGINE_RUN,
    remedy="Mark the usable fuel anew.",
    at_worst=Verdict.WARN,
)
def mark_is_true(fuel: Fuel) -> Iterator[Finding]:
    """A mark that promises more than the tank gives is found out in the air. Old 23.1555(d) from memory, so this warns at
    most.
    """
    for tank in _tanks(fuel):
        if tank.marked_usable is None or tank.usable is None:
            yield lacking(tank, "usable" if tank.usable is None else "marked_usable")
            continue
        marked, usable = tank.marked_usable.to("US gal"), tank.usable.to("US gal")
        message = f"{marked:g} US gal marked as usable, and {usable:g} US gal usable"
        yield at_most(tank.id, marked, usable, "US gal", message, tank.at("marked_usable"), tank.at("usable"))


@rule(
    "fuel/gauge-zero",
    title="Gauge at zero",
    asks="Does every gauge read zero while no more than the unusable fuel is left?",
    references=("23-1337-b",),
    due=Stage.ENGINE_RUN,
    remedy="Set the gauge or bend its float arm, so that it reads zero earlier.",
)
def gauge_reads_zero_in_time(fuel: Fuel) -> Iterator[Finding]:
    """Old 23.1337(b)(1), a yardstick: in level flight the gauge reads zero when only unusable fuel is left. One that reads
    zero with more in the tank errs to safety.
    """
    for tank in _tanks(fuel):
        if tank.capacity is None or tank.usable is None or tank.gauge_zero is None:
            yield lacking(tank, next(f for f in ("capacity", "usable", "gauge_zero") if getattr(tank, f) is None))
            continue
        left, unusable = tank.gauge_zero.to("US gal"), round(tank.capacity.to("US gal") - tank.usable.to("US gal"), 9)
        message = f"the gauge reads zero with {left:g} US gal in the tank, of which {unusable:g} US gal are unusable"
        yield at_least(tank.id, left, unusable, "US gal", message, tank.at("gauge_zero"), tank.at("usable"))


@rule(
    "fuel/expansion",
    title="Room to expand",
    asks="Has every tank 2 % of its capacity as expansion space?",
    references=("23-969",),
    due=Stage.SYSTEMS,
    remedy="Lower the filler neck, or lead the vent clear of the aeroplane.",
)
def tank_can_expand(fuel: Fuel) -> Iterator[Finding]:
    """A tank filled cold overflows in the sun. Old 23.969, a yardstick, lets a vent that discharges clear of the aeroplane
    replace the space.
    """
    clear = {vent.tank for vent in fuel.vents if vent.discharges_clear}
    for tank in _tanks(fuel):
        if tank.capacity is None or tank.expansion_space is None:
            yield lacking(tank, "capacity" if tank.capacity is None else "expansion_space")
            continue
        have, least = tank.expansion_space.to("US gal"), _EXPANSION * tank.capacity.to("US gal")
        message = f"{have:.3f} US gal of space; 2 % of the capacity are {least:.3f} US gal"
        if have < least and tank.id in clear:
            yield not_applicable(
                tank.id, f"{message}; its vent discharges clear of the aeroplane", tank.at("expansion_space")
            )
        else:
            yield at_least(tank.id, have, least, "US gal", message, tank.at("expansion_space"))


@rule(
    "fuel/sump",
    title="Sump",
    asks="Has every tank a sump of a quarter of a percent, and of 1/16 gallon at least?",
    references=("23-971",),
    due=Stage.SYSTEMS,
    remedy="Fit a larger sump at the lowest point.",
    at_worst=Verdict.WARN,
)
def tank_has_sump(fuel: Fuel) -> Iterator[Finding]:
    """Water collects there, and can be drained before it reaches the engine. Old 23.971 from memory, so this warns at most."""
    for tank in _tanks(fuel):
        if tank.capacity is None or tank.sump is None:
            yield lacking(tank, "capacity" if tank.capacity is None else "sump")
            continue
        have, least = tank.sump.to("US gal"), max(_LEAST_SUMP, _SUMP * tank.capacity.to("US gal"))
        message = f"the sump holds {have:.4f} US gal; {least:.4f} US gal are asked for"
        yield at_least(tank.id, have, least, "US gal", message, tank.at("sump"))


@rule(
    "fuel/vent",
    title="Vent of every tank",
    asks="Has every tank a vent in which no water can stand?",
    references=("23-975",),
    due=Stage.SYSTEMS,
    remedy="Fit a vent from the top of the tank, falling all the way, and name the tank in it.",
    at_worst=Verdict.WARN,
)
def tank_is_vented(fuel: Fuel) -> Iterator[Finding]:
    """A tank that cannot breathe stops the engine. Old 23.975 from memory, so this warns at most."""
    vents: dict[str | None, list[Vent]] = {}
    for vent in fuel.vents:
        vents.setdefault(vent.tank, []).append(vent)
    for tank in _tanks(fuel):
        if tank.id not in vents:
            yield fails(tank.id, "no vent names this tank", tank.at(), fuel.at("vents"))
        for vent in vents.get(tank.id, ()):
            yield _vented(tank, vent)


def _vented(tank: Tank, vent: Vent) -> Finding:
    if vent.low_spot is None:
        return lacking(vent, "low_spot")._replace(subject=tank.id)
    words = f"{vent.id}: {'water' if vent.low_spot else 'no water'} can stand in it"
    return (fails if vent.low_spot else passes)(tank.id, words, vent.at("low_spot"))


@rule(
    "fuel/drain",
    title="Drain of every tank",
    asks="Has every tank a drain at its lowest point that locks closed?",
    references=("23-999", "23-971"),
    due=Stage.SYSTEMS,
    remedy="Fit a drain with a lock at the lowest point in the parked attitude, and name the tank in it.",
    at_worst=Verdict.WARN,
)
def tank_is_drained(fuel: Fuel) -> Iterator[Finding]:
    """Water that cannot be drained reaches the engine. From memory, so this warns at most."""
    drains: dict[str | None, list[Drain]] = {}
    for drain in fuel.drains:
        drains.setdefault(drain.tank, []).append(drain)
    for tank in _tanks(fuel):
        if tank.id in drains:
            yield _drained(tank, drains[tank.id])
        else:
            yield fails(tank.id, "no drain names this tank", tank.at(), fuel.at("drains"))


def _drained(tank: Tank, drains: list[Drain]) -> Finding:
    """Of several drains one must stand at the lowest point, and all must lock."""
    lowest = next((drain for drain in drains if drain.lowest_point), None)
    unknown = next((drain for drain in drains if drain.lowest_point is None), None)
    if lowest is None and unknown:
        return lacking(unknown, "lowest_point")._replace(subject=tank.id)
    if lowest is None:
        return fails(tank.id, f"{drains[0].id} is not at its lowest point", drains[0].at("lowest_point"))
    unlocked = next((drain for drain in drains if drain.locks_closed is not True), None)
    if unlocked is None:
        return passes(tank.id, f"{lowest.id} is at the lowest point, with a lock", lowest.at())
    if unlocked.locks_closed is None:
        return lacking(unlocked, "locks_closed")._replace(subject=tank.id)
    return fails(tank.id, f"{unlocked.id} has no lock", unlocked.at("locks_closed"))


@rule(
    "fuel/outlet-strainer",
    title="Strainer at the outlet",
    asks="Has every tank outlet a strainer of 8 to 16 meshes with five times the area of its line?",
    references=("23-977",),
    due=Stage.SYSTEMS,
    remedy="Fit a finger strainer of 8 to 16 meshes to the inch, long enough for the area.",
    at_worst=Verdict.WARN,
)
def outlet_is_strained(fuel: Fuel) -> Iterator[Finding]:
    """Old 23.977 from memory (its twins in parts 25 and 27 were read), so this warns at most."""
    for tank in _tanks(fuel):
        yield _strained(tank)


def _strained(tank: Tank) -> Finding:
    for field in ("outlet_mesh", "outlet_strainer_area", "outlet_line_area"):
        if getattr(tank, field) is None:
            return lacking(tank, field)
    assert tank.outlet_mesh is not None
    assert tank.outlet_strainer_area is not None
    assert tank.outlet_line_area is not None
    mesh, area = tank.outlet_mesh, tank.outlet_strainer_area.to("in2")
    least = _STRAINER_AREA * tank.outlet_line_area.to("in2")
    if least <= 0:
        return no_data(tank.id, "a line without an open area carries no fuel", tank.at("outlet_line_area"))
    message = f"{mesh:g} meshes to the inch, {area:.3f} in2 open; five times its line are {least:.3f} in2"
    if not _MESH[0] <= mesh <= _MESH[1]:
        return between(tank.id, mesh, *_MESH, "per in", message, tank.at("outlet_mesh"))
    return at_least(tank.id, area, least, "in2", message, tank.at("outlet_strainer_area"))


@rule(
    "fuel/strainer",
    title="Strainer before the pump",
    asks="Is there a strainer between tanks and engine that can be drained and does not hang on its lines?",
    references=("23-997",),
    due=Stage.SYSTEMS,
    remedy="Fit a drainable strainer, held to structure.",
    at_worst=Verdict.WARN,
)
def strainer_before_pump(fuel: Fuel) -> Iterator[Finding]:
    """Old 23.997 from memory, so this warns at most."""
    if not fuel.strainers:
        raise MissingRecord("no strainer is recorded", fuel.at())
    for item in fuel.strainers:
        if item.drainable is None or item.own_support is None:
            yield lacking(item, "drainable" if item.drainable is None else "own_support")
        elif not item.drainable:
            yield fails(item.id, "it cannot be drained", item.at("drainable"))
        else:
            say = passes if item.own_support else fails
            yield say(
                item.id,
                "drainable, " + ("held to structure" if item.own_support else "hung on its lines"),
                item.at("own_support"),
            )


@rule(
    "fuel/shutoff",
    title="Fuel can be shut off",
    asks="Is there a shutoff that the pilot reaches, away from the engine, and not turned off by mistake?",
    references=("23-995",),
    due=Stage.SYSTEMS,
    remedy="Move the valve behind the firewall, within reach, with a guard on OFF.",
    at_worst=Verdict.WARN,
)
def valve_shuts_off(fuel: Fuel) -> Iterator[Finding]:
    """Old 23.995, a yardstick known at second hand. On the engine's side of the firewall a valve burns before it is turned."""
    if not fuel.valves:
        raise MissingRecord("no shutoff valve is recorded", fuel.at())
    for valve in fuel.valves:
        if valve.engine_side:
            yield fails(valve.id, "it is on the engine's side of the firewall", valve.at("engine_side"))
            continue
        bad = next((field for field in ("reachable", "off_guarded") if getattr(valve, field) is False), None)
        unknown = next((f for f in ("engine_side", "reachable", "off_guarded") if getattr(valve, f) is None), None)
        if bad:
            words = {
                "reachable": "the pilot does not reach it strapped in",
                "off_guarded": "OFF needs no act of its own",
            }
            yield fails(valve.id, words[bad], valve.at(bad))
        elif unknown:
            yield lacking(valve, unknown)
        else:
            yield passes(valve.id, "within reach, behind the firewall, OFF guarded", valve.at())


@rule(
    "fuel/tank-at-firewall",
    title="Tank off the firewall",
    asks="Is there half an inch of air between a tank and the firewall?",
    references=("23-967-c",),
    due=Stage.STRUCTURE,
    remedy="Move the tank, or the firewall.",
    at_worst=Verdict.WARN,
)
def tank_is_off_firewall(fuel: Fuel) -> Iterator[Finding]:
    """A tank without 'to_firewall' is taken as one that does not stand near it. Old 23.967(c) from memory."""
    for tank in _tanks(fuel):
        if tank.to_firewall is None:
            yield not_applicable(tank.id, "it is not recorded as standing near the firewall", tank.at())
        else:
            have = tank.to_firewall.to("in")
            yield at_least(tank.id, have, _OFF_FIREWALL, "in", f"{have:.3f} in of air", tank.at("to_firewall"))
