"""Two judgements in, what changed between them out."""

from __future__ import annotations

import math
import re
from operator import attrgetter, eq
from typing import TYPE_CHECKING, Literal, NamedTuple

from jurystrut.rulebook import Finding, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from jurystrut.judge import Judgement, RuleResult
    from jurystrut.rulebook import Rule

__all__ = ["WORSE", "Change", "Key", "Kind", "changes", "findings_by_key", "same_numbers", "shape"]

Kind = Literal["verdict", "new", "gone", "margin"]
Key = tuple[str, str]
"""A rule's id and a subject."""

WORSE = frozenset({Verdict.WARN, Verdict.NO_DATA, Verdict.FAIL})
"""The verdicts on what is not as it should be."""

_FIGURES = re.compile(r"[-+]?\d[\d.,/]*")
_SAME = 1e-9


class Change(NamedTuple):
    """What one rule says of one subject, before and after; one of the two is None for what is new or gone."""

    rule: Rule
    before: Finding | None
    after: Finding | None

    @property
    def finding(self) -> Finding:
        """What is said now, or was said last."""
        found = self.after or self.before
        assert found
        return found

    @property
    def key(self) -> Key:
        """The rule's id and the subject."""
        return self.rule.id, self.finding.subject

    @property
    def kind(self) -> Kind:
        """Whether the verdict changed, the finding came or went, or only its margin moved."""
        if self.before is None:
            return "new"
        if self.after is None:
            return "gone"
        return "margin" if self.before.verdict is self.after.verdict else "verdict"

    @property
    def noted(self) -> bool:
        """Whether it is about something that is, or was, not as it should be, or a margin."""
        return self.kind == "margin" or any(f.verdict in WORSE for f in (self.before, self.after) if f)

    @property
    def worse(self) -> bool:
        """Whether things are worse than they were."""
        if self.kind == "margin":
            room = self.room_left
            return room is not None and room < 1
        ranks = [f.verdict.rank if f and f.verdict in WORSE else 0 for f in (self.before, self.after)]
        return ranks[1] > ranks[0]

    @property
    def room_left(self) -> float | None:
        """The margin that is left as a fraction of the one that was; None where there was none."""
        before = self.before.margin if self.before else None
        after = self.after.margin if self.after else None
        if before is None or after is None or before <= 0 or not math.isfinite(before):
            return None
        return after / before


def findings_by_key(results: Iterable[RuleResult]) -> dict[Key, list[Finding]]:
    """All findings, by rule and subject."""
    return {
        (result.rule.id, subject): group
        for result in results
        for subject, group in _by_subject(result.findings).items()
    }


def _by_subject(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        found.setdefault(finding.subject, []).append(finding)
    return found


def changes(before: Judgement, after: Judgement) -> list[Change]:
    """All that changed between two judgements, in the order of the rules."""
    old, new = ({result.rule.id: result for result in judgement.results} for judgement in (before, after))
    found = (change for id_ in dict.fromkeys((*old, *new)) for change in _changes_of_rule(old.get(id_), new.get(id_)))
    return sorted(found, key=lambda change: change.key)


def _changes_of_rule(before: RuleResult | None, after: RuleResult | None) -> Iterator[Change]:
    last = after or before
    if last is None or before is after:  # a result that was remembered is the same object
        return
    old, new = (result.findings if result else () for result in (before, after))
    if _unchanged(old, new):
        return
    left_of, right_of = _by_subject(old), _by_subject(new)
    for subject in dict.fromkeys((*left_of, *right_of)):
        lefts, rights = left_of.get(subject, []), right_of.get(subject, [])
        for left, right in () if _unchanged(lefts, rights) else _pairs(lefts, rights):
            if left is None or right is None or left.verdict is not right.verdict or not same_numbers(left, right):
                yield Change(last.rule, left, right)


def _unchanged(old: Sequence[Finding], new: Sequence[Finding]) -> bool:
    """Whether the findings say the same of the same, word for word: nearly all do, and need no pairing."""
    return len(old) == len(new) and all(map(eq, map(_said, old), map(_said, new)))


_said = attrgetter("verdict", "subject", "message", "margin", "measured", "limit")


def _pairs(old: list[Finding], new: list[Finding]) -> Iterator[tuple[Finding | None, Finding | None]]:
    """The findings of one rule on one subject that answer each other: those that say the same but for figures come first."""
    waiting: dict[str, list[Finding]] = {}
    for finding in old:
        waiting.setdefault(shape(finding), []).append(finding)
    unpaired: list[Finding] = []
    for finding in new:
        alike = waiting.get(shape(finding))
        if alike:
            yield alike.pop(0), finding
        else:
            unpaired.append(finding)
    left = [finding for finding in old if any(finding is other for rest in waiting.values() for other in rest)]
    yield from zip(left, unpaired, strict=False)
    count = min(len(left), len(unpaired))
    yield from ((before, None) for before in left[count:])
    yield from ((None, after) for after in unpaired[count:])


def shape(finding: Finding) -> str:
    """What a finding says, without its figures."""
    return _FIGURES.sub("#", finding.message)


def same_numbers(one: Finding, other: Finding) -> bool:
    """Whether two findings measure the same against the same limit."""
    return all(_close(*pair) for pair in zip(_numbers(one), _numbers(other), strict=True))


def _numbers(finding: Finding) -> Iterable[float | None]:
    measured, limit = finding.measured, finding.limit
    return (measured.value if measured else None, limit.value if limit else None, finding.margin)


def _close(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return one == other or math.isclose(one, other, rel_tol=_SAME, abs_tol=1e-12)
