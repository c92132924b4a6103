"""Do the words at controls and breakers say what they are, which way they go, and what they are rated?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, fails, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.electrical import Electrical
    from jurystrut.records.markings import Markings
    from jurystrut.records.panel import Item, Panel

__all__ = ["breaker_legend_names_rating", "control_says_which_way"]

_WAY = re.compile(
    r"\b(IN|OUT|OPEN|CLOSED?|SHUT|ON|OFF|UP|DOWN|PUSH|PULL|FORWARD|FWD|AFT|LEFT|RIGHT|RICH|LEAN|HOT|COLD|MORE|LESS|FULL|IDLE|TURN)\b"
)


@rule(
    "markings/control-way",
    title="Control says which way",
    asks="Has every engine and cabin control on the panel words that name it and say which way does what?",
    references=("8130-2-marked-instruments", "23-1555-a", "23-777"),
    due=Stage.SYSTEMS,
    remedy="Add a legend, or a placard beside it, with the way, as OPEN IN.",
)
def control_says_which_way(panel: Panel, markings: Markings) -> Iterator[Finding]:
    """The condition inspection of most operating limitations asks for marked controls; old 23.1555(a) for function and method,
    old 23.777 that they are told apart. A control without words fails; one whose words do not say which way is a warning.
    """
    controls = [item for item in panel.items if item.kind == "control"]
    legends = {legend.id: legend.text for legend in panel.legends}
    beside: dict[str, str] = {placard.beside: placard.text for placard in markings.placards if placard.beside}
    if not controls:
        yield not_applicable("aircraft", "no control other than a switch is on the panel", panel.at("items"))
    for item in controls:
        words = [legends.get(item.legend or ""), beside.get(item.id), beside.get(item.equipment or "")]
        text = "; ".join(dict.fromkeys(word for word in words if word))
        if not text:
            yield fails(item.id, "neither a legend nor a placard beside it names this control", item.at())
        elif _WAY.search(text.upper()):
            yield passes(item.id, f"it reads {text}", item.at("legend"))
        else:
            yield warns(item.id, f"it reads {text}, which does not say which way", item.at("legend"))


_RATING = re.compile(r"\b([0-9]+(?:\.[0-9]+)?)(?: ?A)?$")


@rule(
    "markings/legend-rating",
    title="Breaker's legend names its rating",
    asks="Does the number in a breaker's or fuse's legend agree with its rating?",
    references=("own-consistency", "23-1555-a"),
    due=Stage.SYSTEMS,
    remedy="Make legend and rating the same.",
)
def breaker_legend_names_rating(
    panel: Panel, electrical: Electrical, items_by_equipment: Mapping[str, Item]
) -> Iterator[Finding]:
    """A legend that ends in a number is taken to give the rating. Whoever replaces the device one day will trust it; a number
    larger than the rating recorded would let the wire burn.
    """
    legends = {legend.id: legend for legend in panel.legends}
    looked = False
    for device in electrical.protection:
        item = items_by_equipment.get(device.id)
        legend = legends.get((item.legend if item else None) or "")
        number = _RATING.search(legend.text.upper()) if legend else None
        if legend is None or number is None:
            continue
        looked = True
        message = f"its legend reads {legend.text}; it is rated {device.rating}"
        same = abs(float(number[1]) - device.rating.to("A")) < 1e-9
        yield (passes if same else fails)(device.id, message, legend.at("text"), device.at("rating"))
    if not looked:
        yield not_applicable("aircraft", "no legend of a breaker or fuse gives a rating", panel.at("legends"))
