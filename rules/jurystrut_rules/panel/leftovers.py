"""Is anything left over from what has gone: a hole, a legend, a placard, an item whose component is not in the aircraft?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.records.markings import Markings
    from jurystrut.records.panel import Hole, Legend, Panel
    from jurystrut.records.project import Project
    from jurystrut.records.weights import Weights

__all__ = ["hole_is_used", "item_is_fitted", "legend_is_used", "placard_speaks_of_what_is_there"]


@rule(
    "panel/hole-used",
    title="Hole has its item",
    asks="Has every hole in the sheet an item that sits in it?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Mount an item in it, cover it, or take the hole out of the drawing before it is cut.",
    at_worst=Verdict.WARN,
)
def hole_is_used(panel: Panel) -> Iterator[Finding]:
    """A hole without an item is what stays when an item leaves the panel."""
    yield from _used(
        "no item sits in this hole",
        _holes(panel),
        {item.hole for item in panel.items} | {sheet.opening for sheet in panel.sub_panels},
    )


def _holes(panel: Panel) -> tuple[Hole, ...]:
    if not panel.holes:
        raise MissingRecord("no hole is recorded", panel.at())
    return panel.holes


@rule(
    "panel/legend-used",
    title="Legend has its item",
    asks="Does every legend name an item that is there?",
    references=("23-1555-a", "own-consistency"),
    due=Stage.SYSTEMS,
    remedy="Take the legend off, or name it in its item.",
    at_worst=Verdict.WARN,
)
def legend_is_used(panel: Panel) -> Iterator[Finding]:
    """A legend that no item names is what stays when an item leaves the panel, and it misleads."""
    if not panel.legends:
        raise MissingRecord("no legend is recorded", panel.at())
    yield from _used("no item has this legend", panel.legends, {item.legend for item in panel.items})


def _used(complaint: str, things: Iterable[Hole | Legend], used: set[str | None]) -> Iterator[Finding]:
    for thing in things:
        if thing.id in used:
            yield passes(thing.id, "an item has it", thing.at())
        else:
            yield warns(thing.id, complaint, thing.at())


@rule(
    "panel/item-fitted",
    title="What is on the panel is in the aircraft",
    asks="Is no item on the panel weighed as a component that is not fitted?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Take the item off the panel's records, or record its component as fitted.",
    at_worst=Verdict.WARN,
)
def item_is_fitted(panel: Panel, weights: Weights) -> Iterator[Finding]:
    """A component with `fitted: false` has left the aircraft, or is not in it yet; an item of the panel that is this
    component is left over, or the component was forgotten.
    """
    if not panel.items:
        raise MissingRecord("no panel item is recorded", panel.at())
    components = {name: component for component in weights.components for name in (*component.equipment, component.id)}
    asked = 0
    for item in panel.items:
        component = components.get(item.id) or components.get(item.equipment or item.id)
        if component is None:
            continue
        asked += 1
        where = (item.at(), component.at("fitted"))
        if component.fitted:
            yield passes(item.id, f"{component.id} is fitted", *where)
        else:
            yield warns(item.id, f"its component {component.id} is recorded as not fitted", *where)
    if not asked:
        yield not_applicable("aircraft", "no item of the panel is a component that is weighed", panel.at())


@rule(
    "panel/placard-beside",
    title="Placard speaks of what is there",
    asks="Does every placard that stands beside something name a record that exists?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Take the placard down, or name in 'beside' what it speaks of now.",
    at_worst=Verdict.WARN,
)
def placard_speaks_of_what_is_there(markings: Markings, project: Project) -> Iterator[Finding]:
    """A placard names in `beside` the record of any section that it speaks of: a tank, a station, a switch. When that goes, the
    placard stays, and misleads. Placards that stand beside nothing are not asked.
    """
    known = {name for section, records in project.index.items() if "." not in section for name in records}
    asked = [placard for placard in markings.placards if placard.beside]
    if not asked:
        yield not_applicable("aircraft", "no placard says what it stands beside", markings.at("placards"))
    for placard in asked:
        if placard.beside in known:
            yield passes(placard.id, f"it speaks of {placard.beside}", placard.at("beside"))
        else:
            message = f"there is no record {placard.beside}, of which it speaks"
            yield warns(placard.id, message, placard.at("beside"))
