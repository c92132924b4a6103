"""Do the words at controls say what they are and which way they go?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, fails, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.markings import Markings
    from jurystrut.records.panel import Panel

__all__ = ["control_says_which_way"]

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
