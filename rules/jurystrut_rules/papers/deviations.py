"""Do the deviations that a builder lives with still hold: known, allowed, agreed, current, and about something?"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jurystrut.rulebook import Finding, Rule, Stage, Verdict, fails, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator, Mapping

    from jurystrut.records.papers import Deviation

__all__ = [
    "deviation_ends",
    "deviation_excuses_something",
    "deviation_is_allowed",
    "deviation_is_current",
    "deviation_is_dated",
    "deviation_names_rule",
]

_WORTH_EXCUSING = frozenset({Verdict.WARN, Verdict.NO_DATA, Verdict.FAIL})


def _subject(deviation: Deviation) -> str:
    return deviation.subject or "aircraft"


def _none_recorded() -> Finding:
    return not_applicable("aircraft", "no deviation is recorded")


@rule(
    "papers/deviation-rule",
    title="Deviation names a rule",
    asks="Does every recorded deviation name a rule that exists?",
    references=("own-deviation",),
    due=Stage.DESIGN,
    remedy="Correct the rule's name, or strike the deviation.",
)
def deviation_names_rule(rules: Mapping[str, Rule], deviations: tuple[Deviation, ...]) -> Iterator[Finding]:
    """A deviation whose rule is misspelt excuses nothing, and the builder believes that it does."""
    if not deviations:
        yield _none_recorded()
    for deviation in deviations:
        known = rules.get(deviation.rule)
        if known is None:
            message = f"there is no rule '{deviation.rule}', so this deviation excuses nothing"
            yield fails(_subject(deviation), message, deviation.at("rule"), remedy="Correct the rule's name.")
        else:
            yield passes(_subject(deviation), f"{known.id} asks: {known.asks}", deviation.at("rule"))


@rule(
    "papers/deviation-allowed",
    title="Deviation is allowed",
    asks="Is every recorded deviation from a rule that allows one?",
    references=("own-deviation",),
    due=Stage.DESIGN,
    remedy="Mend what the rule found; strike the deviation.",
)
def deviation_is_allowed(rules: Mapping[str, Rule], deviations: tuple[Deviation, ...]) -> Iterator[Finding]:
    """Some limits cannot be agreed away, such as gross weight. Their rules say why, and a deviation from them excuses nothing."""
    known = [deviation for deviation in deviations if deviation.rule in rules]
    if not known:
        yield _none_recorded()
    for deviation in known:
        why = rules[deviation.rule].no_deviation
        if why:
            message = f"{deviation.rule} allows no deviation, because {why}"
            yield fails(
                _subject(deviation),
                message,
                deviation.at("rule"),
                remedy="Mend what the rule found; strike the deviation.",
            )
        else:
            yield passes(_subject(deviation), f"{deviation.rule} allows a deviation", deviation.at("rule"))


@rule(
    "papers/deviation-current",
    title="Deviation has not expired",
    asks="Is every recorded deviation still inside its time?",
    references=("own-deviation",),
    due=Stage.DESIGN,
    remedy="Mend what it excused, or agree on it anew.",
)
def deviation_is_current(stage: Stage, day: datetime.date, deviations: tuple[Deviation, ...]) -> Iterator[Finding]:
    """A deviation counts up to and including its last day, or until the build reaches the stage that it names. After that
    it excuses nothing, and what it excused fails again at its own place.
    """
    if not deviations:
        yield _none_recorded()
    for deviation in deviations:
        until = deviation.until.value if isinstance(deviation.until, Stage) else deviation.until
        reached = f"the build is judged at {stage.value} on {day}"
        if not deviation.is_current(stage, day):
            message = f"the deviation from {deviation.rule} ended: until {until}, and {reached}"
            yield fails(
                _subject(deviation), message, deviation.at("until"), remedy="Mend what it excused, or agree on it anew."
            )
        else:
            yield passes(
                _subject(deviation),
                f"counts until {until}; {reached}" if until else "counts without an end",
                deviation.at("until"),
            )


@rule(
    "papers/deviation-ends",
    title="Deviation has an end",
    asks="Does every recorded deviation say until when it counts?",
    references=("own-deviation",),
    due=Stage.SYSTEMS,
    remedy="Record 'until', a day or a stage.",
    at_worst=Verdict.WARN,
)
def deviation_ends(deviations: tuple[Deviation, ...]) -> Iterator[Finding]:
    """What is agreed for ever is never looked at again. A day or a stage is asked for; without one it is a warning."""
    if not deviations:
        yield _none_recorded()
    for deviation in deviations:
        if deviation.until is None:
            message = f"the deviation from {deviation.rule} has no end"
            yield warns(_subject(deviation), message, deviation.at(), remedy="Record 'until', a day or a stage.")
        else:
            yield passes(_subject(deviation), f"the deviation from {deviation.rule} has an end", deviation.at("until"))


@rule(
    "papers/deviation-dated",
    title="Deviation was agreed before it counts",
    asks="Was every recorded deviation agreed on a day that is past, and before its end?",
    references=("own-deviation",),
    due=Stage.DESIGN,
    remedy="Correct 'day' or 'until'.",
)
def deviation_is_dated(day: datetime.date, deviations: tuple[Deviation, ...]) -> Iterator[Finding]:
    """A deviation dated after the day of the check was not agreed yet; one that ends before it was agreed is a mistake."""
    if not deviations:
        yield _none_recorded()
    for deviation in deviations:
        until = None if isinstance(deviation.until, Stage) else deviation.until
        if deviation.day > day:
            message = f"agreed on {deviation.day}, after the day of this check, {day}"
            yield fails(_subject(deviation), message, deviation.at("day"), remedy="Correct 'day'.")
        elif until is not None and until < deviation.day:
            message = f"agreed on {deviation.day}, and ended before, on {until}"
            yield fails(
                _subject(deviation), message, deviation.at("until"), deviation.at("day"), remedy="Correct 'until'."
            )
        else:
            yield passes(
                _subject(deviation), f"agreed on {deviation.day} by {deviation.agreed_by}", deviation.at("day")
            )


@rule(
    "papers/deviation-matches",
    title="Deviation is still needed",
    asks="Is there still a finding that every recorded deviation excuses?",
    references=("own-deviation",),
    due=Stage.DESIGN,
    remedy="Strike the deviation; what it excused is gone.",
    at_worst=Verdict.WARN,
)
def deviation_excuses_something(
    judged: Mapping[str, Any], stage: Stage, day: datetime.date, deviations: tuple[Deviation, ...]
) -> Iterator[Finding]:
    """All other rules are judged first. A deviation that matches no warning, failure or missing datum of its rule is left
    over: it would silently excuse the next mistake at the same place. One whose rule is not due yet, or that has expired,
    is left alone here.
    """
    current = [d for d in deviations if d.rule in judged and d.is_current(stage, day)]
    if not current:
        yield not_applicable("aircraft", "no current deviation from a known rule is recorded")
    for deviation in current:
        yield _still_needed(deviation, judged[deviation.rule])


def _still_needed(deviation: Deviation, result: Any) -> Finding:
    subject, about = _subject(deviation), deviation.subject or "any subject"
    if result.verdict is Verdict.NOT_DUE:
        return passes(subject, f"{deviation.rule} is not due yet", deviation.at())
    found = [f for f in result.findings if deviation.subject in {None, f.subject} and f.verdict in _WORTH_EXCUSING]
    if found:
        return passes(subject, f"excuses: {found[0].message}", deviation.at())
    message = f"{deviation.rule} finds nothing to excuse about {about} any more"
    return warns(subject, message, deviation.at("subject"), remedy="Strike the deviation.")
