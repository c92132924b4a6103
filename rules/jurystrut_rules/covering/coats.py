"""Is the log of every surface there, with all of its numbered coats in the order of their days?"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, no_data, not_applicable, passes, rule, warns
from jurystrut_rules.covering.no_fabric import no_fabric
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.covering import Application, Covering

__all__ = ["coats_follow_one_another", "every_surface_is_logged"]


@rule(
    "covering/coats-counted",
    title="Coats counted",
    asks="Do the numbered coats of every step on a surface follow one another from the first, without a gap?",
    references=("own-consistency",),
    due=Stage.COVERING,
    remedy="Look whether a coat was left out, or only its entry; correct the log.",
    at_worst=Verdict.WARN,
)
def coats_follow_one_another(covering: Covering) -> Iterator[Finding]:
    """Coats of one step on one surface are counted 1, 2, 3 in the order in which they were begun; a coat that was never
    put on, an entry that was lost and a number mistyped leave a gap. Steps of which no coat is numbered are not counted.
    """
    steps: dict[tuple[str, str | None], list[Application]] = {}
    for entry in sorted(covering.applications, key=lambda entry: (entry.started, entry.id)):
        steps.setdefault((entry.surface, entry.step), []).append(entry)
    numbered = [entries for entries in steps.values() if any(entry.coat is not None for entry in entries)]
    if not numbered:
        yield not_applicable("aircraft", "no coats are numbered", covering.at("applications"))
    for entries in numbered:
        for wanted, entry in enumerate(entries, 1):
            if entry.coat is None:
                yield lacking(
                    entry, "coat", f", and other coats of {entry.step or 'its step'} on {entry.surface} are numbered"
                )
            else:
                say = passes if entry.coat == wanted else warns
                words = f"coat {entry.coat} of {entry.step or 'a step'} on {entry.surface}, in its place among them coat {wanted}"
                yield say(entry.id, words, entry.at("coat"))


@rule(
    "covering/surface-logged",
    title="Every surface in the log",
    asks="Has every surface under fabric at least one step in the log?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Find its part of the log, or take the surface out where it is bare.",
)
def every_surface_is_logged(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """Rules on coats judge what the log holds; a surface whose whole log is lost would go by in silence. It is asked once
    covering is over.
    """
    apart = no_fabric(aircraft, covering)
    if apart:
        yield apart
        return
    if not covering.surfaces:
        raise MissingRecord("no covered surface is recorded", covering.at("surfaces"))
    steps = Counter(entry.surface for entry in covering.applications)
    for surface in covering.surfaces:
        if steps[surface.id]:
            yield passes(surface.id, f"{steps[surface.id]} steps in the log", surface.at())
        else:
            yield no_data(surface.id, "no step on it is in the log", surface.at(), covering.at("applications"))
