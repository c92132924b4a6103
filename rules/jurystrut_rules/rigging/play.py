"""How far do surfaces move while their controls are held fast?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, at_most, not_applicable, rule
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.quantities import Length
    from jurystrut.records.rigging import FreePlay, Rigging

__all__ = ["surface_has_little_play"]

_SHARE_OF_CHORD = 0.025  # practice-free-play: of a trim tab, with low confidence


@rule(
    "controls/free-play",
    title="Free play",
    asks="Has every surface no more free play than its drawing allows, and a trim tab no more than 2.5 % of its chord?",
    references=("declared-drawing", "practice-free-play"),
    due=Stage.SYSTEMS,
    remedy="Renew hinge, bush or rod end until the play is gone.",
)
def surface_has_little_play(rigging: Rigging) -> Iterator[Finding]:
    """A loose surface flutters, a loose tab first. What the drawing or manual declares decides. Without it, 2.5 % of a trim tab's
    chord serves as a warning: a figure from memory. For any other surface only its drawing can say.
    """
    if not any(check.control for check in rigging.angles) and not rigging.free_plays:
        yield not_applicable("aircraft", "no control travel is recorded, so no surface that moves", rigging.at())
    elif not rigging.free_plays:
        raise MissingRecord("no free play is recorded", rigging.at())
    for free in rigging.free_plays:
        yield _measured(free, free.play) if free.play is not None else lacking(free, "play")


def _measured(free: FreePlay, play: Length) -> Finding:
    have = play.to("in")
    if free.limit is not None:
        if free.manual is None:
            return lacking(free, "manual", ", which gives its limit")
        message = f"{play} at the trailing edge; {free.manual} allows {free.limit}"
        steps = [f"recorded: {have:.3f} in", f"{free.manual}: {free.limit.to('in'):.3f} in"]
        spots = free.at("play"), free.at("limit")
        return at_most(free.id, have, free.limit.to("in"), "in", message, *spots, working=lambda: steps)
    if free.control != "trim":
        return lacking(free, "limit", "; for a surface that is no trim tab only its drawing gives one")
    if free.chord is None:
        return lacking(free, "chord", ", of which the play is a share")
    most = _SHARE_OF_CHORD * free.chord.to("in")
    steps = [f"{_SHARE_OF_CHORD:.1%} of {free.chord.to('in'):.3f} in = {most:.4f} in (from memory)"]
    message = f"{play} at the trailing edge; 2.5 % of {free.chord} is {most:.3f} in"
    spots = free.at("play"), free.at("chord")
    return at_most(free.id, have, most, "in", message, *spots, working=lambda: steps, otherwise=Verdict.WARN)
