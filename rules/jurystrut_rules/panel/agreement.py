"""Does the panel agree with the wiring, the weights and itself: everything in one place, with its name?"""

from __future__ import annotations

import re
from collections import defaultdict
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from jurystrut.records.electrical import Electrical, Protection, Switch
    from jurystrut.records.panel import Item, Legend, Panel
    from jurystrut.records.project import Project
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = [
    "control_has_legend",
    "control_has_place",
    "dimmer_is_not_doubled",
    "item_is_known",
    "item_is_what_the_wiring_says",
    "legend_tells_rating",
    "legends_read_differently",
    "one_thing_in_one_place",
]

_BY_HAND = frozenset({"toggle", "rocker", "push-button", "rotary", "key", "lever", "dimmer"})


def _controls(electrical: Electrical) -> Iterator[Switch | Protection]:
    """What the pilot works or resets by hand: switches, breakers, and fuses that can be reached in flight."""
    yield from (switch for switch in electrical.switches if switch.kind in _BY_HAND)
    for device in electrical.protection:
        if device.kind == "breaker" or (device.kind in {"blade-fuse", "glass-fuse"} and device.reachable_in_flight):
            yield device


@rule(
    "panel/control-has-place",
    title="Switch and breaker has a place",
    asks="Has every switch, breaker and fuse within reach a place on the panel, or elsewhere on record?",
    references=("23-1367", "23-1357-d", "own-consistency"),
    due=Stage.SYSTEMS,
    remedy="Add a panel item for it, or record its 'place'; if it is gone, take it out of the wiring too.",
)
def control_has_place(
    panel: Panel, electrical: Electrical, items_by_equipment: Mapping[str, Item]
) -> Iterator[Finding]:
    """Every switch that a hand moves, every breaker, and every fuse that can be reached in flight is looked for on the panel.

    One that stands elsewhere says so in its 'place'. One that stands nowhere was probably taken off the panel while its
    wires stayed.
    """
    controls = list(_controls(electrical))
    if not controls:
        yield not_applicable("aircraft", "no switch or breaker is recorded", electrical.at())
    for control in controls:
        item = items_by_equipment.get(control.id)
        if item:
            yield passes(control.id, f"on the panel as {item.id}", control.at(), item.at())
        elif control.place:
            yield passes(control.id, f"not on the panel: {control.place}", control.at("place"))
        else:
            message = f"this {control.kind} is in the wiring and has no place on the panel"
            yield fails(control.id, message, control.at(), panel.at("items"))


@rule(
    "panel/control-has-legend",
    title="Switch and breaker has a legend",
    asks="Has every switch, breaker and fuse on the panel a legend that names it?",
    references=("23-1367", "23-1555-a"),
    due=Stage.SYSTEMS,
    remedy="Add a legend and name it in the item.",
)
def control_has_legend(
    panel: Panel, electrical: Electrical, items_by_equipment: Mapping[str, Item]
) -> Iterator[Finding]:
    """Old 23.1367 wants a switch labelled for its operation and its circuit, old 23.1555(a) every control that is not
    obvious. Both are yardsticks here; the condition inspection of most operating limitations asks for marked controls too.
    """
    texts = {legend.id: legend.text for legend in panel.legends}
    on_panel = [control for control in _controls(electrical) if control.id in items_by_equipment]
    if not on_panel:
        yield not_applicable("aircraft", "no switch or breaker is on the panel", panel.at())
    for control in on_panel:
        item = items_by_equipment[control.id]
        if item.legend is None:
            yield fails(control.id, "it is on the panel without a legend", item.at())
        else:
            yield passes(control.id, f"its legend reads {texts.get(item.legend, item.legend)}", item.at("legend"))


_ELSEWHERE = ("electrical", "lighting", "weights.components", "fuel", "markings.placards")


@rule(
    "panel/item-known",
    title="Panel item known elsewhere",
    asks="Is every item on the panel also an electrical device, a light, a tank's gauge, a placard or a weighed component?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Record what it is in the other section, or take it off the panel.",
)
def item_is_known(panel: Panel, project: Project) -> Iterator[Finding]:
    """An item that no other section knows has no wire, no weight and no load: it was forgotten there, or is left over here."""
    if not panel.items:
        raise MissingRecord("no panel item is recorded", panel.at())
    for item in panel.items:
        name = item.equipment or item.id
        home = next((section for section in _ELSEWHERE if name in project.index.get(section, {})), None)
        if home:
            yield passes(item.id, f"known in {home} as {name}", item.at())
        else:
            remedy = "Add it there, or name its 'equipment'."
            yield fails(item.id, "no other section knows this item", item.at(), remedy=remedy)


_CALLED = {"breaker": "breaker", "blade-fuse": "fuse-holder", "glass-fuse": "fuse-holder"}
"""What a panel calls the kinds of protection that it can hold."""
_TURNED = frozenset({"rotary", "lever", "dimmer"})


@rule(
    "panel/item-kind",
    title="Panel and wiring call it the same",
    asks="Is what the wiring has as a switch, a breaker or a fuse called so on the panel too?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Correct the 'kind' that is wrong, on the panel or in the wiring.",
    at_worst=Verdict.WARN,
)
def item_is_what_the_wiring_says(panel: Panel, electrical: Electrical) -> Iterator[Finding]:
    """A breaker that took the place of a switch, or the other way round, leaves one of the two sections behind. What a lever
    or a knob works may stand on the panel as a control.
    """
    devices: dict[str, tuple[Switch | Protection, tuple[str, ...]]] = {}
    for switch in electrical.switches:
        devices[switch.id] = switch, ("switch", "control") if switch.kind in _TURNED else ("switch",)
    for protection in electrical.protection:
        if protection.kind in _CALLED:
            devices[protection.id] = protection, (_CALLED[protection.kind],)
    known = [(item, *devices[name]) for item in panel.items if (name := item.equipment or item.id) in devices]
    if not known:
        yield not_applicable("aircraft", "no switch, breaker or fuse is on the panel", panel.at("items"))
    for item, device, called in known:
        say = passes if item.kind in called else warns
        words = f"a {item.kind} on the panel; {device.id} is a {device.kind} in the wiring"
        yield say(item.id, words, item.at("kind"), device.at("kind"))


@rule(
    "panel/one-place-each",
    title="One thing in one place",
    asks="Does no hole hold two items, and does no device stand on the panel twice?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Give each its own hole, or take one of the two out.",
)
def one_thing_in_one_place(panel: Panel) -> Iterator[Finding]:
    """Two items in one hole, or two items that are the same device, are a copied line of which one half was not changed."""
    if not panel.items:
        raise MissingRecord("no panel item is recorded", panel.at())
    in_hole: dict[str, list[Item]] = defaultdict(list)
    of_device: dict[str, list[Item]] = defaultdict(list)
    for item in panel.items:
        of_device[item.equipment or item.id].append(item)
        if item.hole:
            in_hole[item.hole].append(item)
    for item in panel.items:
        hole_mate = _other(item, in_hole[item.hole] if item.hole else [])
        twin = _other(item, of_device[item.equipment or item.id])
        if hole_mate:
            yield fails(item.id, f"{hole_mate.id} sits in {item.hole} too", item.at("hole"), hole_mate.at("hole"))
        elif twin:
            message = f"{twin.id} is {item.equipment or item.id} too"
            yield fails(item.id, message, item.at("equipment"), twin.at("equipment"))
        else:
            yield passes(item.id, "it is there once, in a hole of its own", item.at())


def _other(item: Item, items: Iterable[Item]) -> Item | None:
    return next((other for other in items if other is not item), None)


_NUMBER_AT_THE_END = re.compile(r"(?:^|\s)([0-9]+(?:\.[0-9]+)?)\s*A?$")


@rule(
    "panel/legend-rating",
    title="Legend tells the device's rating",
    asks="Does the number on a breaker's or fuse's legend agree with its rating?",
    references=("own-consistency", "23-1357-d"),
    due=Stage.SYSTEMS,
    remedy="Engrave the legend anew, or fit the device that it names.",
)
def legend_tells_rating(
    panel: Panel, electrical: Electrical, items_by_equipment: Mapping[str, Item]
) -> Iterator[Finding]:
    """A legend of a breaker or fuse that ends with a number, with or without an A behind it, is read as its rating in
    amperes. A device that was changed keeps its old legend until somebody notices.
    """
    legends = {legend.id: legend for legend in panel.legends}
    asked = 0
    for device in electrical.protection:
        item = items_by_equipment.get(device.id)
        legend = legends.get(item.legend or "") if item else None
        number = _NUMBER_AT_THE_END.search(legend.text.strip()) if legend else None
        if not legend or not number:
            continue
        asked += 1
        engraved, rated = float(number[1]), device.rating.to("A")
        message = f"its legend reads {legend.text}; it is rated {rated:g} A"
        where = (legend.at("text"), device.at("rating"))
        agree = abs(engraved - rated) <= 1e-9 * rated
        yield passes(device.id, message, *where) if agree else fails(device.id, message, *where)
    if not asked:
        yield not_applicable("aircraft", "no legend of a breaker or fuse ends with a number", panel.at("legends"))


@rule(
    "panel/legend-distinct",
    title="No two legends read the same",
    asks="Has every legend words of its own?",
    references=("23-777", "23-1555-a"),
    due=Stage.SYSTEMS,
    remedy="Say on each which of them it is.",
)
def legends_read_differently(panel: Panel) -> Iterator[Finding]:
    """Old 23.777(a) wants controls identified against mix-up; two of them with the same words are not. A breaker and the
    switch of the same circuit may share their words: legends are compared among items of one kind.
    """
    if not panel.legends:
        raise MissingRecord("no legend is recorded", panel.at())
    kinds = {item.legend: item.kind for item in panel.items if item.legend}
    same: dict[tuple[str | None, str], list[Legend]] = defaultdict(list)
    for legend in panel.legends:
        same[kinds.get(legend.id), " ".join(legend.text.casefold().split())].append(legend)
    for group in same.values():
        for legend in group:
            other = next((twin for twin in group if twin is not legend), None)
            if other:
                yield fails(legend.id, f"{other.id} reads {legend.text} too", legend.at("text"), other.at("text"))
            else:
                yield passes(legend.id, f"nothing else of its kind reads {legend.text}", legend.at("text"))


@rule(
    "panel/dimmer-doubled",
    title="Dimmer and switch in series",
    asks="Does no switch do over again what a dimmer in the same line already does?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Leave one of the two out: its hole, its legend, its wires and its weight go with it.",
    at_worst=Verdict.WARN,
)
def dimmer_is_not_doubled(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """A dimmer that also switches off makes a switch useless that interrupts the same loads and no others. The way from each
    load towards the sources is followed as far as it is single. A dimmer that only dims (`turns_off: false`) may have one.
    """
    dimmers = {switch.id: switch for switch in electrical.switches if switch.kind == "dimmer"}
    if not dimmers:
        yield not_applicable("aircraft", "no dimmer is recorded", electrical.at())
        return
    loads_behind: dict[str, set[str]] = defaultdict(set)
    in_line: dict[str, set[str]] = defaultdict(set)
    for load in electrical.loads:
        on_the_way = [edge.id for edge in circuit.analysis.path(load.id) if edge.kind == "switch"]
        for name in on_the_way:
            loads_behind[name].add(load.id)
            if name in dimmers:
                in_line[name].update(on_the_way)
    switches = {switch.id: switch for switch in electrical.switches}
    for name, dimmer in dimmers.items():
        twins = sorted(o for o in in_line[name] if o != name and loads_behind[o] == loads_behind[name])
        if not twins:
            yield passes(name, "no switch interrupts what this dimmer feeds and nothing else", dimmer.at())
            continue
        both = (dimmer.at(), switches[twins[0]].at())
        fed = ", ".join(sorted(loads_behind[name]))
        if dimmer.turns_off is None:
            message = f"{twins[0]} interrupts {fed} too, and whether this dimmer switches off is not recorded"
            yield no_data(name, message, *both, remedy="Record 'turns_off'.")
        elif dimmer.turns_off:
            yield warns(name, f"it switches {fed} off by itself, and {twins[0]} does so again", *both)
        else:
            yield passes(name, f"it only dims {fed}; {twins[0]} switches", *both)
