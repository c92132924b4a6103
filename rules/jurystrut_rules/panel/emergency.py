"""Are the controls for an emergency red, and safe from a wrong hand?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, no_data, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Electrical
    from jurystrut.records.panel import Item, Panel

__all__ = ["emergency_controls_are_guarded", "emergency_controls_are_red"]

_RED = "red"


def _is_red(item: Item) -> bool:
    return _RED in (item.colour or "").casefold().split()


@rule(
    "panel/emergency-red",
    title="Emergency controls are red, and no others",
    asks="Is every control for an emergency red, and no other control?",
    references=("23-1555-e",),
    due=Stage.SYSTEMS,
    remedy="Fit a red knob or lever, and black ones beside it.",
    at_worst=Verdict.WARN,
)
def emergency_controls_are_red(panel: Panel) -> Iterator[Finding]:
    """Old 23.1555(e)(2), a yardstick from memory but read in part 29: an emergency control is red. That no other control is red
    is from memory alone. Items with `emergency` are asked, and all whose `colour` is recorded.
    """
    asked = [item for item in panel.items if item.emergency or item.colour]
    if not asked:
        yield not_applicable("aircraft", "no item is recorded for an emergency, or with a colour", panel.at("items"))
    for item in asked:
        if item.colour is None:
            yield no_data(item.id, "the colour of its knob is not recorded", item.at(), remedy="Record 'colour'.")
        elif item.emergency is _is_red(item):
            use = "for an emergency" if item.emergency else "for no emergency"
            yield passes(item.id, f"{use}, and {item.colour}", item.at("colour"))
        elif item.emergency:
            yield warns(item.id, f"for an emergency, and {item.colour}", item.at("colour"), item.at("emergency"))
        else:
            remedy = "Paint it another colour, or record it as 'emergency'."
            yield warns(item.id, "red, and not for an emergency", item.at("colour"), remedy=remedy)


@rule(
    "panel/emergency-guarded",
    title="Emergency controls are guarded",
    asks="Is every control for an emergency guarded, or such that no hand moves it unawares?",
    references=("23-777",),
    due=Stage.SYSTEMS,
    remedy="Guard it, or fit one that must be lifted, pulled or turned first, and record that in 'distinct'.",
    at_worst=Verdict.WARN,
)
def emergency_controls_are_guarded(panel: Panel, electrical: Electrical | None = None) -> Iterator[Finding]:
    """Old 23.777(a), a yardstick, wants controls kept from unintended use; what shuts off fuel or power in an emergency does harm
    at any other time. A switch that is `guarded`, or anything recorded in `distinct` that tells it by feel, is enough.
    """
    asked = [item for item in panel.items if item.emergency]
    guarded = {switch.id for switch in electrical.switches if switch.guarded} if electrical else set()
    if not asked:
        yield not_applicable("aircraft", "no item is recorded for an emergency", panel.at("items"))
    for item in asked:
        if (item.equipment or item.id) in guarded:
            yield passes(item.id, "it is guarded", item.at("equipment"))
        elif item.distinct:
            yield passes(item.id, f"told by feel: {item.distinct}", item.at("distinct"))
        else:
            yield warns(item.id, "neither a guard nor a feel of its own is recorded", item.at())
