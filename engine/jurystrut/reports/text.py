"""The judgement for people: what is not right first, by domain, with the numbers, the place, and what mends it."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from jurystrut.judge import CAUTION
from jurystrut.reports.coming import sections_to_begin
from jurystrut.reports.plain import WORDS, Paint, heading, one_line, wrapped
from jurystrut.rulebook import Finding, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.errors import Problem
    from jurystrut.judge import Judgement, RuleResult
    from jurystrut.records.aircraft import Stage
    from jurystrut.rulebook import Reference

__all__ = ["margin_words", "problem_lines", "spare_words", "write"]

_SHOWN = (Verdict.FAIL, Verdict.NO_DATA, Verdict.WARN)
_MOST_FINDINGS_A_RULE = 200


def write(judgement: Judgement, *, coloured: bool = False) -> str:
    """The report for a terminal, 80 columns wide."""
    paint = Paint(coloured)
    parts = [_head(judgement, paint)]
    if judgement.problems:
        parts.append("\n".join(problem_lines(judgement.problems, paint)))
    waiting, others = _waiting(judgement.results)
    for domain, results in _by_domain(others).items():
        parts.append(
            "\n\n".join([paint.strong(domain.upper()), *(_rule(judgement, result, paint) for result in results)])
        )
    if waiting:
        parts.append("\n".join(_waiting_lines(waiting, paint)))
    begin = sections_to_begin(judgement)
    if begin:
        parts.append("\n".join(_begin_lines(begin, judgement.stage, paint)))
    parts.append(_foot(judgement, paint))
    return "\n\n".join(parts) + "\n"


def _head(judgement: Judgement, paint: Paint) -> str:
    aircraft = judgement.project.aircraft
    name = one_line(aircraft.name) if aircraft else "(no aircraft record)"
    authority = f", authority {one_line(aircraft.authority)}" if aircraft else ""
    head = f"{paint.strong(name)}{authority}, judged at stage {judgement.stage.value} on {judgement.day.isoformat()}"
    return "\n".join([head, *_trial(judgement, paint)])


def _trial(judgement: Judgement, paint: Paint) -> Iterator[str]:
    """That these are not the records, and what was changed."""
    if judgement.project.trial:
        yield paint.strong("TRIAL, not the records. Nothing was written. Changed for this run alone:")
        yield from (wrapped(change, "    ", "  ") for change in judgement.project.trial)


def problem_lines(problems: Iterable[Problem], paint: Paint) -> Iterator[str]:
    """One block a problem of reading."""
    yield paint.strong("RECORDS THAT CANNOT BE READ")
    for problem in problems:
        yield wrapped(problem.message, "    ", f"  {one_line(str(problem.position))}: ")


def _waiting(results: Iterable[RuleResult]) -> tuple[dict[Finding, list[str]], list[RuleResult]]:
    """Rules that wait as a whole for the same record, by what they wait for; and all other results."""
    by_message: dict[str, list[RuleResult]] = {}
    others: list[RuleResult] = []
    for result in results:
        whole = len(result.found) == 1 and result.verdict is Verdict.NO_DATA
        (by_message.setdefault(result.findings[0].message, []) if whole else others).append(result)
    waiting = {group[0].findings[0]: [result.rule.id for result in group] for group in by_message.values()}
    return waiting, others


def _waiting_lines(waiting: dict[Finding, list[str]], paint: Paint) -> Iterator[str]:
    """One block for each missing record, and the rules that wait for it; a build begins with many."""
    yield paint.strong("WAITING FOR RECORDS")
    for finding, rules in waiting.items():
        head = f"  {WORDS[Verdict.NO_DATA].ljust(8)}"
        yield f"  {paint.verdict(Verdict.NO_DATA, 8)}" + wrapped(finding.message, " " * 10, head)[len(head) :]
        for spot in finding.where:
            yield f"          at {one_line(str(spot.position))}"
        yield wrapped(", ".join(rules), " " * 12, " " * 10 + "asked by: ")


def _begin_lines(begin: dict[Stage, list[str]], now: Stage, paint: Paint) -> Iterator[str]:
    """What to fill in next, for a build that has only begun."""
    yield paint.strong("TO FILL IN NEXT")
    for stage, sections in begin.items():
        when = f"  now, asked for since {stage.value}: " if now >= stage else f"  before {stage.value}: "
        yield wrapped(", ".join(sections), "    ", when)


def _by_domain(results: Iterable[RuleResult]) -> dict[str, list[RuleResult]]:
    """The results worth showing, worst domain and worst rule first."""
    shown = sorted((r for r in results if r.verdict in _SHOWN), key=lambda r: (-r.verdict.rank, r.rule.id))
    domains: dict[str, list[RuleResult]] = {}
    for result in shown:
        domains.setdefault(result.rule.domain, []).append(result)
    return domains


def _rule(judgement: Judgement, result: RuleResult, paint: Paint) -> str:
    shown = sorted(result.of(*_SHOWN), key=lambda f: -f.verdict.rank)
    lines = [heading(result.rule.id, result.rule.title, paint)]
    for finding in shown[:_MOST_FINDINGS_A_RULE]:
        lines.extend(_finding(finding, paint))
    if len(shown) > _MOST_FINDINGS_A_RULE:
        lines.append(f"  ... and {len(shown) - _MOST_FINDINGS_A_RULE} more; the other formats list all of them")
    first = judgement.rulebook.deciding(result.rule)
    status = "" if first.status == "none" else f", {_STATUS[first.status]}"
    lines.append(
        wrapped(
            f"{first}; {_binds(judgement, first)}{status}",
            "    ",
            "  source: ",
        )
    )
    return "\n".join(lines)


_STATUS = {"read": "read in a copy", "second-hand": "known at second hand", "memory": "from memory, not checked"}


def _binds(judgement: Judgement, reference: Reference) -> str:
    if reference.kind == "common-practice":
        return "common practice"
    if judgement.written_elsewhere(reference):
        return f"written for {reference.authority}, a yardstick for this aircraft"
    return _BINDS[reference.binds]


_BINDS = {
    "directly": "binds this aircraft by its own words",
    "through-operating-limitations": "binds through the aircraft's own operating limitations",
    "yardstick": "a yardstick, it does not bind an amateur-built aircraft",
}


def _finding(finding: Finding, paint: Paint) -> Iterator[str]:
    head = f"  {paint.verdict(finding.verdict, 8)}{one_line(finding.subject)}: "
    plain = f"  {WORDS[finding.verdict].ljust(8)}{one_line(finding.subject)}: "
    body = wrapped(finding.message, " " * 10, plain)
    yield head + body[len(plain) :]
    numbers = margin_words(finding)
    if numbers:
        yield wrapped(numbers, " " * 10)
    for spot in finding.where:
        yield f"          at {one_line(str(spot.position))}"
    if finding.deviation:
        yield wrapped(f"deviation on record: {finding.deviation}", " " * 12, " " * 10)
    if finding.remedy:
        yield wrapped(f"mend: {finding.remedy}", " " * 12, " " * 10)


def margin_words(finding: Finding) -> str:
    """Measured against limit, and the room that is left or missing, in words."""
    if finding.measured is None or finding.limit is None:
        return ""
    words = f"{finding.measured}, wanted {finding.limit}"
    if finding.margin is None:
        return words
    return f"{words}: {spare_words(finding.margin)}"


def spare_words(margin: float) -> str:
    """The room that is left or missing; what a comparison takes as equal is exactly at the limit."""
    if abs(margin) < 1e-9:
        return "exactly at it"
    return f"{abs(margin) * 100:.3g} % {'to spare' if margin > 0 else 'outside'}"


def _foot(judgement: Judgement, paint: Paint) -> str:
    counts = Counter(result.verdict for result in judgement.results)
    tally = ", ".join(f"{counts[verdict]} {WORDS[verdict]}" for verdict in reversed(Verdict) if counts[verdict])
    whose = "Verdict of the trial" if judgement.project.trial else "Verdict"
    plain = f"{whose}: {WORDS[judgement.verdict]}"
    line = wrapped(f"of {len(judgement.results)} rules: {tally}.", "  ", f"{plain}, ")
    lines = [f"{paint.strong(whose)}: {paint.verdict(judgement.verdict)}{line[len(plain) :]}"]
    if judgement.problems:
        lines.append(f"{len(judgement.problems)} of the records' places cannot be read; the verdict covers the rest.")
    lines += _foreign(judgement)
    lines.append(wrapped(CAUTION, ""))
    return "\n".join(lines)


def _foreign(judgement: Judgement) -> Iterator[str]:
    """For an aircraft of an authority that no pack is written for: whose law decides the rules asked of it, and what to do."""
    aircraft = judgement.project.aircraft
    if aircraft is None or aircraft.authority in {pack.authority for pack in judgement.rulebook.packs}:
        return
    asked = (r for r in judgement.results if r.verdict not in {Verdict.NOT_DUE, Verdict.NOT_APPLICABLE})
    decides = [judgement.rulebook.deciding(result.rule) for result in asked]
    law = Counter(reference.authority for reference in decides if reference.obliges_only_its_own())
    if law.keys() - {aircraft.authority}:
        tally = " and ".join(f"{count} on that of {authority}" for authority, count in sorted(law.items()))
        yield wrapped(
            f"Of the rules asked, as far as they rest on law: {tally}. "
            f"For {aircraft.authority} all but its own is a yardstick only: ask the authority there.",
            "",
        )
