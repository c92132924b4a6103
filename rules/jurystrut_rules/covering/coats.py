"""Are the numbered coats of every step all there, in the order of their days?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, not_applicable, passes, rule, warns
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.covering import Application, Covering

__all__ = ["coats_follow_one_another"]


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
