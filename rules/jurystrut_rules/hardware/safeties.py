"""Are safety wires and turnbuckles done so that they hold?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
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
from jurystrut_rules.hardware.tables import turnbuckle_wire
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.hardware import Hardware, SafetyWire, Turnbuckle

__all__ = [
    "emergency_wire_shears",
    "pigtail_is_right",
    "safety_wire_is_thick_enough",
    "turnbuckle_is_wound",
    "turnbuckle_threads_hidden",
    "turnbuckle_wire_suits_cable",
    "wire_is_twisted",
]

_SMALL_HOLE = 0.045  # ac43-7-123: inches
_TWISTS = (6, 8)  # ac43-7-124-twists: to the inch
_PIGTAIL = (4, 6)  # ac43-7-124: turns
_SHOWING = 3  # ac43-7-179: threads of a turnbuckle
_TURNS = 4  # ac43-7-180: round the shank of a turnbuckle
_EMERGENCY_WIRE = 0.020  # ac43-7-123: inches
_ROUNDING = 0.0005  # own-reading-precision: inches; wire is measured to a thousandth


@rule(
    "hardware/safety-wire",
    title="Safety wire is thick enough",
    asks="Is every safety wire at least 0.032 in, or 0.020 in through a small hole?",
    references=("ac43-7-123",),
    due=Stage.SYSTEMS,
    remedy="Wire it again with 0.032 in.",
)
def safety_wire_is_thick_enough(hardware: Hardware) -> Iterator[Finding]:
    """0.032 in where the hole is larger than 0.045 in. That 0.020 in serves smaller holes in parts less than 2 in apart is from
    memory, so a thinner wire there is warned of at most.
    """
    yield from none_recorded(hardware.safety_wires, "safety wire", hardware)
    for wire in hardware.safety_wires:
        yield _thickness(wire)


def _thickness(wire: SafetyWire) -> Finding:
    if wire.emergency:
        return not_applicable(wire.id, "an emergency device, which has its own wire", wire.at("emergency"))
    if wire.diameter is None or wire.hole is None:
        return lacking(wire, "diameter" if wire.diameter is None else "hole")
    have, hole = wire.diameter.to("in"), wire.hole.to("in")
    message = f"wire of {have:.3f} in through a hole of {hole:.3f} in"
    if hole > _SMALL_HOLE:
        return at_least(wire.id, have, 0.032, "in", message, wire.at("diameter"))  # ac43-7-123
    if wire.spacing is None:
        return lacking(wire, "spacing", ", and the hole is small")
    least = 0.020 if wire.spacing.to("in") < 2 else 0.032  # ac43-7-123 (memory), ac43-7-123
    return at_least(wire.id, have, least, "in", message, wire.at("diameter"), otherwise=Verdict.WARN)


@rule(
    "hardware/emergency-wire",
    title="Wire of an emergency device",
    asks="Has every emergency device copper or brass wire of 0.020 in, which shears when it is pulled?",
    references=("ac43-7-123",),
    due=Stage.SYSTEMS,
    remedy="Wire it with soft copper or brass of 0.020 in.",
)
def emergency_wire_shears(hardware: Hardware) -> Iterator[Finding]:
    """Steel wire on an extinguisher, an exit or a shutoff makes it useless at the moment when it is needed."""
    yield from none_recorded(hardware.safety_wires, "safety wire", hardware)
    for wire in hardware.safety_wires:
        if not wire.emergency:
            yield not_applicable(wire.id, "no emergency device", wire.at())
        elif wire.diameter is None or wire.material is None:
            yield lacking(wire, "diameter" if wire.diameter is None else "material")
        else:
            have = wire.diameter.to("in")
            right = wire.material in {"copper", "brass"} and abs(have - _EMERGENCY_WIRE) < _ROUNDING
            where = wire.at("diameter" if wire.material in {"copper", "brass"} else "material")
            yield (passes if right else fails)(
                wire.id, f"{wire.material} wire of {have:.3f} in on an emergency device", where
            )


@rule(
    "hardware/wire-twist",
    title="Twist of safety wire",
    asks="Has safety wire of 0.032 in six to eight twists to the inch?",
    references=("ac43-7-124-twists",),
    due=Stage.SYSTEMS,
    remedy="Wire it again; wire is not twisted twice.",
    at_worst=Verdict.WARN,
)
def wire_is_twisted(hardware: Hardware) -> Iterator[Finding]:
    """Fewer twists let it chafe, more make it brittle. Known at second hand, and for 0.032 in alone."""
    yield from none_recorded(hardware.safety_wires, "safety wire", hardware)
    for wire in hardware.safety_wires:
        if wire.diameter is None:
            yield lacking(wire, "diameter")
        elif abs(wire.diameter.to("in") - 0.032) >= _ROUNDING:  # ac43-7-124-twists
            yield not_applicable(wire.id, "the figure is for wire of 0.032 in alone", wire.at("diameter"))
        elif wire.twists_per_inch is None:
            yield lacking(wire, "twists_per_inch")
        else:
            twists = wire.twists_per_inch
            yield between(
                wire.id, twists, *_TWISTS, "per in", f"{twists:g} twists to the inch", wire.at("twists_per_inch")
            )


@rule(
    "hardware/pigtail",
    title="Pigtail of safety wire",
    asks="Has the end of every safety wire four to six turns?",
    references=("ac43-7-124",),
    due=Stage.SYSTEMS,
    remedy="Cut it to 1/2 to 5/8 in with four to six turns, and bend it in.",
    at_worst=Verdict.WARN,
)
def pigtail_is_right(hardware: Hardware) -> Iterator[Finding]:
    """AC 43.13-1B wants 1/2 to 5/8 in and four to six turns; a Navy text wants it shorter. So the turns alone are judged, and
    warned of at most, and the length is only shown.
    """
    yield from none_recorded(hardware.safety_wires, "safety wire", hardware)
    for wire in hardware.safety_wires:
        if wire.emergency:
            yield not_applicable(wire.id, "an emergency device", wire.at("emergency"))
        elif wire.pigtail_turns is None:
            yield lacking(wire, "pigtail_turns")
        else:
            turns = wire.pigtail_turns
            long = f", {wire.pigtail} long" if wire.pigtail else ""
            yield between(wire.id, turns, *_PIGTAIL, "turns", f"{turns} turns{long}", wire.at("pigtail_turns"))


@rule(
    "hardware/turnbuckle-threads",
    title="Threads of a turnbuckle",
    asks="Do no more than three threads show at either end of a turnbuckle?",
    references=("ac43-7-179",),
    due=Stage.SYSTEMS,
    remedy="Screw it further in; shorten the cable where it is then too slack.",
)
def turnbuckle_threads_hidden(hardware: Hardware) -> Iterator[Finding]:
    """The more threads show, the fewer hold. The worse end counts."""
    yield from none_recorded(hardware.turnbuckles, "turnbuckle", hardware)
    for item in hardware.turnbuckles:
        if item.threads_showing is None:
            yield lacking(item, "threads_showing")
        else:
            shown = item.threads_showing
            yield at_most(item.id, shown, _SHOWING, "threads", f"{shown:g} threads show", item.at("threads_showing"))


@rule(
    "hardware/turnbuckle-wire",
    title="Wire of a turnbuckle",
    asks="Is every turnbuckle wired as table 7-8 says for its cable?",
    references=("ac43-table-7-8",),
    due=Stage.SYSTEMS,
    remedy="Wire it again, double, with a wire that the table gives for its cable.",
)
def turnbuckle_wire_suits_cable(hardware: Hardware) -> Iterator[Finding]:
    """Cable, wrap and material of the wire choose the row of table 7-8, which gives the wire's diameter."""
    yield from none_recorded(hardware.turnbuckles, "turnbuckle", hardware)
    for item in hardware.turnbuckles:
        yield _wired(item)


def _wired(item: Turnbuckle) -> Finding:
    for field in ("cable", "wrap", "material", "wire"):
        if getattr(item, field) is None:
            return lacking(item, field)
    assert item.cable is not None
    assert item.wrap is not None
    assert item.material is not None
    assert item.wire is not None
    cable, wire = item.cable.to("in"), item.wire.to("in")
    kind = f"{item.wrap} {item.material} wire on cable of {cable:.3f} in"
    if cable < 1 / 16 - 0.0011:  # ac43-table-7-8, own-reading-precision
        return no_data(item.id, f"table 7-8 starts at 1/16 in, and the cable has {cable:.3f} in", item.at("cable"))
    least = turnbuckle_wire(cable, item.wrap, item.material)
    if least is None:
        return fails(item.id, f"table 7-8 has no row for {kind}", item.at("wrap"), item.at("material"))
    return at_least(item.id, wire, least, "in", f"{kind}: {wire:.3f} in", item.at("wire"))


@rule(
    "hardware/turnbuckle-turns",
    title="Turns of a turnbuckle's wire",
    asks="Is each end of a turnbuckle's wire wound at least four turns round the shank?",
    references=("ac43-7-180",),
    due=Stage.SYSTEMS,
    remedy="Wire it again with new wire.",
)
def turnbuckle_is_wound(hardware: Hardware) -> Iterator[Finding]:
    """Wire is not used twice."""
    yield from none_recorded(hardware.turnbuckles, "turnbuckle", hardware)
    for item in hardware.turnbuckles:
        if item.turns is None:
            yield lacking(item, "turns")
        else:
            yield at_least(
                item.id, item.turns, _TURNS, "turns", f"{item.turns} turns round the shank", item.at("turns")
            )
