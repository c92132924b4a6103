"""Readiness at a glance: how it stands now, what each coming stage still asks, and what is only estimated."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from jurystrut.judge import Judgement
    from jurystrut.rulebook import Finding, Stage

__all__ = ["Overview", "StageView", "Step", "overview"]

_SHOWN_STEPS = 12
_OPEN = (Verdict.FAIL, Verdict.NO_DATA, Verdict.WARN)


class Step(NamedTuple):
    """One thing to do: what, for which record, which rule asks, and how many findings it would settle."""

    what: str
    subjects: str
    rule: str
    verdict: Verdict
    findings: int


class StageView(NamedTuple):
    """What one stage asks that earlier ones do not; `ready` where nothing of it stands open."""

    stage: Stage
    now: bool
    rules: int
    counts: dict[str, int]
    steps: list[Step]
    more: int

    @property
    def ready(self) -> bool:
        """Whether nothing is missing and nothing fails."""
        return not (self.counts["fail"] or self.counts["no-data"])


class Overview(NamedTuple):
    """The stages from now on, and what is only estimated."""

    stages: list[StageView]
    estimated: list[tuple[str, str]]


def overview(judgement: Judgement, outlook: Sequence[Judgement]) -> Overview:
    """Now, and each later stage with what is new in it."""
    stages: list[StageView] = []
    known: set[tuple[str, str, str]] = set()
    for index, one in enumerate((judgement, *outlook)):
        stages.append(_stage(one, known, now=index == 0))
        known |= {_key(rule, finding) for rule, finding in _open(one)}
    return Overview(stages, list(_estimated(judgement)))


def _open(judgement: Judgement) -> Iterator[tuple[str, Finding]]:
    for result in judgement.results:
        for finding in result.findings:
            if finding.verdict in _OPEN:
                yield result.rule.id, finding


def _key(rule: str, finding: Finding) -> tuple[str, str, str]:
    """One finding over several stages, whose words may name the stage: the same rule, subject and place."""
    return rule, finding.subject, str(finding.where[0].position) if finding.where else finding.message


def _stage(judgement: Judgement, known: set[tuple[str, str, str]], *, now: bool) -> StageView:
    counts = Counter(finding.verdict for _, finding in _open(judgement))
    new = [(rule, finding) for rule, finding in _open(judgement) if _key(rule, finding) not in known]
    steps = _steps(judgement, new)
    due = sum(result.verdict not in {Verdict.NOT_DUE, Verdict.NOT_APPLICABLE} for result in judgement.results)
    numbers = {verdict.value: counts[verdict] for verdict in _OPEN}
    return StageView(judgement.stage, now, due, numbers, steps[:_SHOWN_STEPS], max(0, len(steps) - _SHOWN_STEPS))


def _steps(judgement: Judgement, new: list[tuple[str, Finding]]) -> list[Step]:
    """What to do, failures first; the same order for several subjects of one rule is one step."""
    remedies = {result.rule.id: result.rule.remedy for result in judgement.results}
    together: dict[tuple[str, str], list[Finding]] = {}
    for rule, finding in new:
        together.setdefault((rule, finding.remedy or remedies[rule]), []).append(finding)
    steps = [
        Step(what, _named(found), rule, max((f.verdict for f in found), key=lambda v: v.rank), len(found))
        for (rule, what), found in together.items()
    ]
    return sorted(steps, key=lambda step: (-step.verdict.rank, -step.findings, step.rule))


def _named(found: list[Finding]) -> str:
    names = list(dict.fromkeys(finding.subject for finding in found))
    return ", ".join(names[:6]) + (f" and {len(names) - 6} more" if len(names) > 6 else "")


def _estimated(judgement: Judgement) -> Iterator[tuple[str, str]]:
    """Figures that nobody has measured, and verdicts whose deciding source nobody has read, with where a reader finds them."""
    weights = judgement.project.sections.get("weights")
    parts = weights.components if weights else ()
    for basis in ("estimated", "catalogue"):
        some = [part for part in parts if part.basis == basis]
        if some:
            pounds = sum(part.weight.to("lb") for part in some if part.weight)
            yield f"weights of {len(some)} components, {pounds:.1f} lb together, {basis}", _first(some)
    unread = [
        result.rule.id
        for result in judgement.results
        if result.verdict is Verdict.PASS and judgement.rulebook.deciding(result.rule).status == "memory"
    ]
    if unread:
        yield f"verdicts of {len(unread)} rules that pass, by a source known from memory", _first(unread)
    unknown = [part for part in parts if part.weight is None or part.arm is None]
    if unknown:
        yield f"{len(unknown)} components without weight or arm", _first(unknown)


def _first(records: Sequence[object]) -> str:
    names = [str(record) for record in records]
    return ", ".join(names[:10]) + (f" and {len(names) - 10} more" if len(names) > 10 else "")
