"""Can displays and lamps be read in the sun, and does the sheet throw it into the eyes?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, no_data, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.panel import Panel

__all__ = ["readable_in_the_sun", "sheet_does_not_shine"]


@rule(
    "panel/readable-in-sun",
    title="Displays and lamps readable in the sun",
    asks="Was every display and every lamp read with the sun on it?",
    references=("23-1311-a", "23-1322-e"),
    due=Stage.SYSTEMS,
    remedy="Look at it outside, canopy closed, the sun from behind; shade it, or fit a brighter one.",
    at_worst=Verdict.WARN,
)
def readable_in_the_sun(panel: Panel) -> Iterator[Finding]:
    """Old 23.1311(a)(2), a yardstick, wants displays legible in all light of the cockpit, direct sun included, to the end of
    their life; old 23.1322(e) wants warning lights effective in it. Nothing but a look tells that: the answer is recorded as
    `read_in_sun`.
    """
    asked = [item for item in panel.items if item.kind in {"display", "lamp"}]
    if not asked:
        yield not_applicable("aircraft", "no display and no lamp is on the panel", panel.at("items"))
    for item in asked:
        if item.read_in_sun is None:
            message = f"whether this {item.kind} was read in the sun is not recorded"
            yield no_data(item.id, message, item.at(), remedy="Try it, and record 'read_in_sun'.")
        elif item.read_in_sun:
            yield passes(item.id, f"this {item.kind} was read with the sun on it", item.at("read_in_sun"))
        else:
            yield warns(item.id, f"this {item.kind} cannot be read with the sun on it", item.at("read_in_sun"))


@rule(
    "panel/sheet-matt",
    title="Panel without glare",
    asks="Is the front of the sheet matt?",
    references=("practice-matt-panel",),
    due=Stage.SYSTEMS,
    remedy="Spray it matt, or cover it.",
    at_worst=Verdict.WARN,
)
def sheet_does_not_shine(panel: Panel) -> Iterator[Finding]:
    """A glossy sheet throws sun and lamps into the eyes, and itself into the windscreen by night. Common practice, no source; so
    it warns.
    """
    if panel.finish is None:
        raise MissingRecord("how the front of the sheet shines is not recorded", panel.at("finish"))
    said = warns if panel.finish == "gloss" else passes
    yield said("panel", f"its front is {panel.finish}", panel.at("finish"))
