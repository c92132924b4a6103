"""Findings and sources as the page shows them."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.reports.plain import WORDS
from jurystrut.reports.text import margin_words
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jurystrut.judge import Judgement, RuleResult
    from jurystrut.rulebook import Finding, Reference

__all__ = ["BINDS", "STATUS", "Domain", "Shown", "domains", "sources", "visible", "word"]

BINDS = {
    "directly": "binds by its own words",
    "through-operating-limitations": "binds through the operating limitations",
    "yardstick": "a yardstick, binds nobody here",
}
STATUS = {
    "read": "read in a copy",
    "second-hand": "known at second hand",
    "memory": "from memory, not checked",
    "none": "common practice, no source",
}

_OPEN = (Verdict.FAIL, Verdict.NO_DATA, Verdict.WARN)
_MOST_FINDINGS = 60
# Characters that no page may hold, or that would make its words read otherwise than they are.
_UNSEEN = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]"
)


class Shown(NamedTuple):
    """A rule with what is not right, each with its numbers in words and its places."""

    result: RuleResult
    findings: list[tuple[Finding, str]]
    more: int
    cited: tuple[Reference, ...]


class Domain(NamedTuple):
    """One domain: what is open, what is settled, and what is not asked yet."""

    name: str
    open: list[Shown]
    settled: list[tuple[RuleResult, str, Reference]]
    waiting: list[RuleResult]
    tally: str


def visible(value: Any) -> Any:
    """What is printed, places and quantities among it, with every unseen character replaced by a sign that shows.

    A drawing, which was cleaned when it was made, stays as it is.
    """
    return value if hasattr(value, "__html__") else _UNSEEN.sub("\ufffd", str(value))


def word(verdict: Verdict) -> str:
    """The verdict as the page writes it."""
    return WORDS[verdict].lower()


def domains(judgement: Judgement) -> list[Domain]:
    """Every domain, the worst first."""
    found: dict[str, list[RuleResult]] = {}
    for result in judgement.results:
        found.setdefault(result.rule.domain, []).append(result)
    order = sorted(found, key=lambda name: (-max(r.verdict.rank for r in found[name]), name))
    return [_domain(judgement, name, found[name]) for name in order]


def _domain(judgement: Judgement, name: str, results: list[RuleResult]) -> Domain:
    worst_first = sorted(results, key=lambda r: (-r.verdict.rank, r.rule.id))
    settled = [r for r in worst_first if r.verdict is Verdict.PASS]
    counts = Counter(r.verdict for r in results)
    return Domain(
        name,
        [_shown(judgement, r) for r in worst_first if r.verdict in _OPEN],
        [(r, _tightest(r.findings), judgement.rulebook.deciding(r.rule)) for r in settled],
        [r for r in worst_first if r.verdict in {Verdict.NOT_DUE, Verdict.NOT_APPLICABLE}],
        ", ".join(f"{counts[v]} {word(v)}" for v in reversed(Verdict) if counts[v]),
    )


def _shown(judgement: Judgement, result: RuleResult) -> Shown:
    bad = sorted((f for f in result.findings if f.verdict in _OPEN), key=lambda f: -f.verdict.rank)
    pairs = [(finding, margin_words(finding)) for finding in bad[:_MOST_FINDINGS]]
    return Shown(result, pairs, max(0, len(bad) - _MOST_FINDINGS), judgement.rulebook.cited(result.rule))


def _tightest(findings: Iterable[Finding]) -> str:
    """The subject with the least room, in words; the number of subjects where none is measured."""
    findings = [f for f in findings if f.verdict is Verdict.PASS]
    measured = [f for f in findings if f.margin is not None]
    if not measured:
        return f"{len(findings)} looked at"
    least = min(measured, key=lambda f: f.margin if f.margin is not None else 0.0)
    return f"{len(findings)} looked at, least room at {least.subject}: {margin_words(least)}"


def sources(judgement: Judgement) -> list[Reference]:
    """Every source that a rule cites, in the order of document and section."""
    cited = {ref.id: ref for result in judgement.results for ref in judgement.rulebook.cited(result.rule)}
    return sorted(cited.values(), key=lambda ref: (ref.kind == "common-practice", ref.document, ref.section))
