"""Do the bodies behind the sheet clear each other and the structure, also while the panel opens, and do the wires let it?"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.layout import Shape, near_pairs
from jurystrut.calculations.solids import Section, moved_by_tilt, room, room_while_tilting, swept
from jurystrut.rulebook import Finding, MissingRecord, Stage, at_least, fact, no_data, not_applicable, passes, rule
from jurystrut_rules.panel.shapes import LOOK_AROUND, mounted, nearest, outline_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from jurystrut.records.electrical import Bundle, Electrical, Wire
    from jurystrut.records.panel import Item, KeepOut, Opening, Panel

__all__ = [
    "Solid",
    "bodies",
    "bodies_clear_structure",
    "bodies_keep_apart",
    "structure",
    "tilting_bodies_clear_structure",
    "wires_let_panel_open",
]


class Solid(NamedTuple):
    """A body or a zone behind the sheet, in inches: its outline, and how far behind it begins and ends."""

    shape: Shape
    near: float
    far: float


@fact
def bodies(panel: Panel, body_shapes: Mapping[str, Shape | str]) -> dict[str, Solid | str]:
    """Every item that reaches behind the sheet, or in words why it cannot be drawn."""
    found: dict[str, Solid | str] = {}
    for item in panel.items:
        shape = body_shapes.get(item.id, "its hole is not recorded")
        if isinstance(shape, str):
            found[item.id] = shape
        elif item.depth is None:
            found[item.id] = "its depth behind the sheet is not recorded"
        else:
            found[item.id] = Solid(shape, 0.0, _depth(item))
    return found


def _depth(item: Item) -> float:
    """How far an item reaches behind the sheet, in inches, with the room for its connectors."""
    return (item.depth.to("in") if item.depth else 0.0) + (item.connector.to("in") if item.connector else 0.0)


@fact
def structure(panel: Panel) -> dict[str, Solid | str]:
    """Every zone that no body may enter, or in words why it cannot be drawn."""
    found: dict[str, Solid | str] = {}
    for zone in panel.keep_outs:
        shape = outline_of(zone.corners, "its outline")
        far = zone.until.to("in") if zone.until else float("inf")
        found[zone.id] = shape if isinstance(shape, str) else Solid(shape, zone.behind.to("in"), far)
    return found


def _wanted(panel: Panel) -> float:
    return panel.clearance.to("in") if panel.clearance else 0.0


def _undrawn(records: Iterable[Item | KeepOut], drawn: Mapping[str, Solid | str]) -> Iterator[Finding]:
    for record in records:
        fault = drawn[record.id]
        if isinstance(fault, str):
            yield no_data(record.id, fault, record.at(), remedy="Record it.")


def _solids(drawn: Mapping[str, Solid | str]) -> dict[str, Solid]:
    return {name: solid for name, solid in drawn.items() if not isinstance(solid, str)}


@rule(
    "panel/bodies-apart",
    title="Bodies behind the panel keep apart",
    asks="Do the bodies behind the panel keep clear of each other?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move one of the two items.",
)
def bodies_keep_apart(panel: Panel, body_shapes: Mapping[str, Shape | str]) -> Iterator[Finding]:
    """All bodies begin at the sheet, so two that overlap as seen from the seat run into each other. Where no body is
    recorded, what passes its hole from the front is taken to be as wide as the hole. The room between two is held against
    the clearance that the builder wants, or else against nothing at all. No published figure is known.
    """
    if not panel.items:
        raise MissingRecord("no panel item is recorded", panel.at())
    wanted = _wanted(panel)
    shapes = {name: shape for name, shape in body_shapes.items() if not isinstance(shape, str)}
    found = nearest(shapes, max(wanted, LOOK_AROUND))
    items = {item.id: item for item in panel.items}
    if not mounted(panel):
        yield not_applicable("aircraft", "nothing is mounted in the sheet", panel.at("items"))
    for item in mounted(panel):
        shape = body_shapes.get(item.id, "its hole is not recorded")
        if isinstance(shape, str):
            yield no_data(item.id, shape, item.at(), remedy="Record it.")
        elif item.id not in found:
            yield passes(item.id, f"no other body within {max(wanted, LOOK_AROUND):g} in", item.at())
        else:
            distance, other = found[item.id]
            apart, into = f"{distance:.3f} in of room to {other}", f"its body runs {-distance:.3f} in into {other}"
            remedy = f"Move it {wanted - distance:.3f} in or more away from {other}."
            where = (item.at(), items[other].at())
            yield at_least(item.id, distance, wanted, "in", apart if distance >= 0 else into, *where, remedy=remedy)


@rule(
    "panel/bodies-clear-structure",
    title="Bodies clear what is behind the panel",
    asks="Do the bodies behind the panel keep clear of tubes, tank and control runs?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move the item, or fit a shallower one.",
)
def bodies_clear_structure(
    panel: Panel, bodies: Mapping[str, Solid | str], structure: Mapping[str, Solid | str]
) -> Iterator[Finding]:
    """Body and zone are upright blocks: their outlines as seen from the seat, from where they begin behind the sheet to where
    they end, room for connectors included. The distance between the two is held against the clearance that the builder wants,
    or else against nothing at all. A zone without an end goes on to the firewall.
    """
    if not panel.keep_outs:
        raise MissingRecord("nothing that is in the way behind the panel is recorded", panel.at())
    yield from _undrawn(panel.keep_outs, structure)
    if not mounted(panel):
        yield not_applicable("aircraft", "nothing is mounted in the sheet", panel.at("items"))
    yield from _undrawn(mounted(panel), bodies)
    wanted = _wanted(panel)
    closest = _closest(_solids(bodies), _solids(structure), max(wanted, LOOK_AROUND))
    zones = {zone.id: zone for zone in panel.keep_outs}
    for item in panel.items:
        if isinstance(bodies[item.id], str):
            continue
        if item.id not in closest:
            yield passes(item.id, f"nothing in the way within {max(wanted, LOOK_AROUND):g} in", item.at())
            continue
        distance, name = closest[item.id]
        what = f"{name} ({zones[name].what})"
        message = f"{distance:.3f} in of room to {what}" if distance >= 0 else f"it runs {-distance:.3f} in into {what}"
        remedy = f"Move it, or shorten it, by {wanted - distance:.3f} in or more."
        yield at_least(item.id, distance, wanted, "in", message, item.at(), zones[name].at(), remedy=remedy)


def _closest(bodies: Mapping[str, Solid], zones: Mapping[str, Solid], within: float) -> dict[str, tuple[float, str]]:
    """Each body's closest zone less than `within` away, after its distance. A zone's name is told by a sign before it."""
    shapes = {name: body.shape for name, body in bodies.items()} | {f"<{n}": zone.shape for n, zone in zones.items()}
    found: dict[str, tuple[float, str]] = {}
    for one, other, beside in near_pairs(shapes, within):
        # Bodies come first in the mapping, so of a mixed pair the zone is the second.
        if other[0] == "<" and one[0] != "<":
            body, zone = bodies[one], zones[other[1:]]
            here = (room(beside, max(zone.near - body.far, body.near - zone.far)), other[1:])
            if here[0] < within:
                found[one] = min(found.get(one, here), here)
    return found


def _opening(panel: Panel) -> Opening:
    """How the panel opens; MissingRecord where that is not told well enough."""
    opening = panel.opening
    if opening is None:
        raise MissingRecord("how the panel opens is not recorded", panel.at("opens"))
    wanted = {"tilts": ("hinge", "hinge_at", "angle"), "comes-out": ("travel",)}.get(opening.way, ())
    missing = [name for name in wanted if getattr(opening, name) is None]
    if missing:
        raise MissingRecord(f"of how the panel opens, {', '.join(missing)} is not recorded", opening.at())
    return opening


def _section(solid: Solid, opening: Opening) -> tuple[Section, tuple[float, float]]:
    """A block cut square to the hinge, and where it lies along the hinge; by its box, so never too small."""
    left, low, right, high = solid.shape.box
    at = opening.hinge_at.to("in") if opening.hinge_at else 0.0
    along = (left, right) if opening.hinge in {"bottom", "top"} else (low, high)
    across = (low, high) if opening.hinge in {"bottom", "top"} else (left, right)
    start, end = (
        (across[0] - at, across[1] - at) if opening.hinge in {"bottom", "left"} else (at - across[1], at - across[0])
    )
    return Section(start, end, solid.near, min(solid.far, _FAR)), along


_FAR = 1000.0  # numerics
"""Inches behind the sheet at which a zone without an end is cut off."""


@rule(
    "panel/tilt-clear",
    title="Panel tilts out freely",
    asks="Do the bodies keep clear of what is behind the panel while it tilts?",
    references=("own-panel-distances",),
    due=Stage.STRUCTURE,
    remedy="Move the item or the hinge, fit a shallower item, or tilt the panel less far.",
)
def tilting_bodies_clear_structure(
    panel: Panel, bodies: Mapping[str, Solid | str], structure: Mapping[str, Solid | str]
) -> Iterator[Finding]:
    """As the free side comes towards the seats, a deep body swings away from the hinge and may meet the structure there. The
    least distance over the whole tilt is computed from the angles at which it can be least. Each body and zone is taken as a
    block with square corners, which is never too small.
    """
    if panel.opening is None and not panel.opens:
        yield not_applicable("aircraft", "the panel is not recorded as one that opens", panel.at())
        return
    opening = _opening(panel)
    if opening.way != "tilts" or opening.angle is None:
        yield not_applicable("aircraft", "the panel does not tilt", opening.at())
        return
    if not panel.keep_outs:
        raise MissingRecord("nothing that is in the way behind the panel is recorded", panel.at())
    yield from _undrawn(panel.keep_outs, structure)
    if not mounted(panel):
        yield not_applicable("aircraft", "nothing is mounted in the sheet", panel.at("items"))
    yield from _undrawn(mounted(panel), bodies)
    zones = {name: _section(solid, opening) for name, solid in _solids(structure).items()}
    records = {zone.id: zone for zone in panel.keep_outs}
    wanted = _wanted(panel)
    for item in panel.items:
        body = bodies[item.id]
        if isinstance(body, str):
            continue
        least = _least_room(*_section(body, opening), zones, opening.angle.si, max(wanted, LOOK_AROUND))
        if least is None:
            yield passes(item.id, f"nothing in the way within {max(wanted, LOOK_AROUND):g} in", item.at())
            continue
        distance, name = least
        what = f"{name} ({records[name].what})"
        clear, hits = f"{distance:.3f} in of room to {what}", f"it runs at least {-distance:.3f} in into {what}"
        message = f"while the panel tilts: {clear if distance >= 0 else hits}"
        where = (item.at(), records[name].at(), opening.at())
        yield at_least(item.id, distance, wanted, "in", message, *where)


def _least_room(
    body: Section,
    along: tuple[float, float],
    zones: Mapping[str, tuple[Section, tuple[float, float]]],
    angle: float,
    within: float,
) -> tuple[float, str] | None:
    """The zone that a tilting body comes closest to, after the distance; None where none is less than `within` away."""
    whole = swept(body, angle)
    near = []
    for name, (section, its_along) in zones.items():
        beside = max(its_along[0] - along[1], along[0] - its_along[1])
        outwards = max(section.low - whole.high, whole.low - section.high)
        behind = max(section.near - whole.far, whole.near - section.far)
        near.append((room(beside, room(outwards, behind)), beside, name))
    least = None
    for bound, beside, name in sorted(near):
        if bound >= (least[0] if least else within):  # what it sweeps over is already farther off
            break
        distance = room(beside, room_while_tilting(body, zones[name][0], angle))
        if distance < (least[0] if least else within):
            least = distance, name
    return least


@rule(
    "panel/service-loop",
    title="Wires let the panel open",
    asks="Has every wire to the panel enough spare length for the panel to open?",
    references=("own-service-loop",),
    due=Stage.SYSTEMS,
    remedy="Make the wire longer, and let the spare length hang in a loop where nothing chafes it.",
)
def wires_let_panel_open(
    panel: Panel, electrical: Electrical, items_by_equipment: Mapping[str, Item], bodies: Mapping[str, Solid | str]
) -> Iterator[Finding]:
    """Asked are wires with one end on the panel and the other elsewhere. Opening the panel carries the back of an item away,
    in a straight line by so much; a wire whose spare length (its length without its `route`, or else its bundle's
    `service_loop`) is no less will follow, whichever way it lies. Less may do where the wire comes from the hinge side, so
    this errs to safety.
    """
    if panel.opening is None and not panel.opens:
        yield not_applicable("aircraft", "the panel is not recorded as one that opens", panel.at())
        return
    opening = _opening(panel)
    if opening.way == "fixed":
        yield not_applicable("aircraft", "the panel does not open", opening.at())
        return
    bundles = {bundle.id: bundle for bundle in electrical.bundles}
    asked = 0
    for wire in electrical.wires:
        ends = [items_by_equipment.get(end.partition(".")[0]) for end in (wire.from_, wire.to)]
        item = ends[0] or ends[1]
        if item is None or (ends[0] and ends[1]):
            continue
        asked += 1
        yield _loop(wire, item, bodies[item.id], bundles.get(wire.bundle or ""), opening)
    if not asked:
        yield not_applicable("aircraft", "no wire leads from the panel to elsewhere", electrical.at())


def _loop(wire: Wire, item: Item, body: Solid | str, bundle: Bundle | None, opening: Opening) -> Finding:
    if isinstance(body, str):
        return no_data(wire.id, f"{item.id}: {body}", item.at(), wire.at(), remedy="Record it.")
    if wire.length and wire.route:
        spare, source = wire.length.to("in") - wire.route.to("in"), wire.at("length")
    elif bundle and bundle.service_loop:
        spare, source = bundle.service_loop.to("in"), bundle.at("service_loop")
    else:
        message = f"neither its 'route' nor a 'service_loop' of its bundle tells what it has to spare for {item.id}"
        return no_data(wire.id, message, wire.at(), remedy="Record one of them.")
    wanted = _carried(body, opening)
    message = f"{spare:.1f} in to spare; {item.id} is carried {wanted:.1f} in as the panel opens"
    remedy = f"Make it {wanted - spare:.1f} in longer."
    return at_least(wire.id, spare, wanted, "in", message, source, item.at(), opening.at(), remedy=remedy)


def _carried(body: Solid, opening: Opening) -> float:
    """How far the back of a body is carried as the panel opens, by its farthest corner."""
    if opening.way == "comes-out" or opening.angle is None:
        return opening.travel.to("in") if opening.travel else 0.0
    section, _ = _section(body, opening)
    return max(moved_by_tilt(side, section.far, opening.angle.si) for side in (section.low, section.high))
