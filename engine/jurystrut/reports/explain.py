"""One rule explained: what it asks, where it is written, and its arithmetic on this aircraft."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.judge import CAUTION
from jurystrut.reports.plain import Paint, heading, one_line, wrapped
from jurystrut.reports.text import margin_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.judge import Judgement, RuleResult
    from jurystrut.rulebook import Finding, Rule

__all__ = ["write_explanation"]

_MOST_WITHOUT_SUBJECT = 3


def write_explanation(judgement: Judgement, result: RuleResult, subject: str | None, *, coloured: bool = False) -> str:
    """Explain a rule; for one subject with all its steps, else for the few worst subjects."""
    paint = Paint(coloured)
    parts = [
        "\n".join(_about(result.rule, paint)),
        "\n".join(_sources(judgement, result.rule, paint)),
        "\n".join(_on_this_aircraft(judgement, result, subject, paint)),
        wrapped(CAUTION, ""),
    ]
    return "\n\n".join(parts) + "\n"


def _about(rule: Rule, paint: Paint) -> Iterator[str]:
    yield heading(rule.id, rule.title, paint)
    yield wrapped(rule.asks, "  ")
    yield ""
    for paragraph in rule.explanation.split("\n\n"):
        yield wrapped(paragraph, "  ")
    yield wrapped(f"asked from stage: {rule.due.value}", "    ", "  ")
    yield wrapped(f"what mends it: {rule.remedy}", "    ", "  ")
    deviation = f"none, because {rule.no_deviation}" if rule.no_deviation else "may be recorded, with a reason"
    yield wrapped(f"deviation: {deviation}", "    ", "  ")


def _sources(judgement: Judgement, rule: Rule, paint: Paint) -> Iterator[str]:
    yield paint.strong("Where it is written")
    for reference in judgement.rulebook.cited(rule):
        kind = reference.kind.replace("-", " ")
        elsewhere = judgement.written_elsewhere(reference)
        binds = (
            f"written for {reference.authority}, a yardstick here" if elsewhere else reference.binds.replace("-", " ")
        )
        how = "no source" if reference.status == "none" else f"status: {reference.status}"
        yield wrapped(f"{reference} [{kind}; {binds}; {how}]", "    ", "  ")
        yield wrapped(reference.says, "    ")
        if reference.note:
            yield wrapped(f"note: {reference.note}", "    ")


def _on_this_aircraft(judgement: Judgement, result: RuleResult, subject: str | None, paint: Paint) -> Iterator[str]:
    findings = [f for f in result.findings if subject is None or f.subject == subject]
    chosen = findings if subject else sorted(findings, key=_worst_first)[:_MOST_WITHOUT_SUBJECT]
    name = judgement.project.aircraft.name if judgement.project.aircraft else "this aircraft"
    yield paint.strong(f"On {one_line(name)}")
    for finding in chosen:
        yield from _finding(finding, paint)
    if len(findings) > len(chosen):
        yield f"  ... and {len(findings) - len(chosen)} more; name a subject to see its steps"


def _worst_first(finding: Finding) -> tuple[int, float]:
    return -finding.verdict.rank, finding.margin if finding.margin is not None else float("inf")


def _finding(finding: Finding, paint: Paint) -> Iterator[str]:
    yield f"  {paint.verdict(finding.verdict)}  {one_line(finding.subject)}"
    yield wrapped(finding.message, "    ")
    for step, line in enumerate(finding.working() if finding.working else (), 1):
        yield wrapped(line, "       ", f"    {step}. ")
    if margin_words(finding):
        yield wrapped(f"result: {margin_words(finding)}", "      ", "    ")
    for spot in finding.where:
        yield f"    at {one_line(str(spot.position))}"
    if finding.deviation:
        yield wrapped(f"deviation on record: {finding.deviation}", "      ", "    ")
    if finding.remedy:
        yield wrapped(f"mend: {finding.remedy}", "      ", "    ")
