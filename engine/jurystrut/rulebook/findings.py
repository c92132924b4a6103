"""What a rule says of one subject, and the few ways of saying it.

A message states the fact, with its numbers; the verdict says what the fact is worth. So the same words serve on both
sides of a limit. Limits are compared unrounded, and a value exactly on its limit passes (AC 43.13-1B Figure 10-13 accepts
a loading exactly at maximum weight).

Nearly all findings are sound, and of a large aircraft nobody reads most of these. So a rule that looks at thousands of
subjects may put off, by `later_if`, what it would say of one that plainly passes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from jurystrut.rulebook.verdicts import Verdict

if TYPE_CHECKING:
    from jurystrut.positions import Spot

__all__ = [
    "Amount",
    "Finding",
    "Limit",
    "Sound",
    "Working",
    "at_least",
    "at_most",
    "between",
    "fails",
    "later_if",
    "no_data",
    "not_applicable",
    "passes",
    "told",
    "warns",
]

Working = Callable[[], Sequence[str]]
"""Gives the arithmetic behind a finding, one step a line; called only when somebody asks for it."""

# Decimal fractions of inches and amperes are not exact in binary: 0.1 A * 3 must not exceed 0.3 A.
_TOLERANCE = 1e-9

_PASS = Verdict.PASS
_new = (
    tuple.__new__
)  # what a named tuple's own constructor comes to, in a third of the time: findings are made by the million


class Amount(NamedTuple):
    """A number and the unit it is shown in."""

    value: float
    unit: str

    def __str__(self) -> str:
        return f"{self.value:.4g} {self.unit}".rstrip()


class Limit(NamedTuple):
    """The bound that an amount is held against."""

    value: float
    unit: str
    sense: Literal["at-most", "at-least"]

    def __str__(self) -> str:
        return f"{self.sense.replace('-', ' ')} {Amount(self.value, self.unit)}"


class Finding(NamedTuple):
    """What one rule says of one subject."""

    verdict: Verdict
    subject: str
    message: str
    where: tuple[Spot, ...] = ()
    measured: Amount | None = None
    limit: Limit | None = None
    margin: float | None = None
    remedy: str = ""
    working: Working | None = None
    deviation: str | None = None


class Sound(NamedTuple):
    """A subject that plainly passes, and what makes its finding once somebody reads it."""

    tell: Callable[..., Finding]
    about: tuple[Any, ...]

    def finding(self) -> Finding:
        """The finding."""
        return self.tell(*self.about)


def later_if(sound: bool, tell: Callable[..., Finding], *about: Any) -> Finding | Sound:  # noqa: FBT001 - the condition of the name
    """What `tell` says of a subject: made at once, or where the subject is plainly `sound`, when somebody reads it.

    `sound` may err to False only, as where a figure lies within a rounding of its limit; `tell` decides.
    """
    return _new(Sound, (tell, about)) if sound else tell(*about)


def told(found: Iterable[Finding | Sound]) -> Iterator[Finding]:
    """Every finding, with those that were put off."""
    for one in found:
        yield one if isinstance(one, Finding) else one.finding()


def at_most(
    subject: str,
    measured: float,
    limit: float,
    unit: str,
    message: str,
    *where: Spot,
    remedy: str = "",
    working: Working | None = None,
    otherwise: Verdict = Verdict.FAIL,
) -> Finding:
    """The measured value must not exceed the limit, both in `unit`; `otherwise` is the verdict where it does."""
    inside = measured <= limit + abs(limit) * _TOLERANCE
    margin = (limit - measured) / abs(limit) if limit else None
    verdict, remedy = (_PASS, "") if inside else (otherwise, remedy)
    amount, bound = _new(Amount, (measured, unit)), _new(Limit, (limit, unit, "at-most"))
    return _new(Finding, (verdict, subject, message, where, amount, bound, margin, remedy, working, None))


def at_least(
    subject: str,
    measured: float,
    limit: float,
    unit: str,
    message: str,
    *where: Spot,
    remedy: str = "",
    working: Working | None = None,
    otherwise: Verdict = Verdict.FAIL,
) -> Finding:
    """The measured value must reach the limit, both in `unit`; `otherwise` is the verdict where it does not."""
    inside = measured >= limit - abs(limit) * _TOLERANCE
    margin = (measured - limit) / abs(limit) if limit else None
    verdict, remedy = (_PASS, "") if inside else (otherwise, remedy)
    amount, bound = _new(Amount, (measured, unit)), _new(Limit, (limit, unit, "at-least"))
    return _new(Finding, (verdict, subject, message, where, amount, bound, margin, remedy, working, None))


def between(
    subject: str,
    measured: float,
    low: float,
    high: float,
    unit: str,
    message: str,
    *where: Spot,
    remedy: str = "",
    working: Working | None = None,
    otherwise: Verdict = Verdict.FAIL,
) -> Finding:
    """The measured value must lie between two limits, all in `unit`; the finding shows the nearer one."""
    judge = at_least if measured - low < high - measured else at_most
    limit = low if judge is at_least else high
    return judge(subject, measured, limit, unit, message, *where, remedy=remedy, working=working, otherwise=otherwise)


def passes(subject: str, message: str, *where: Spot, working: Working | None = None) -> Finding:
    """The answer to the rule's question is yes."""
    return Finding(Verdict.PASS, subject, message, where, working=working)


def warns(subject: str, message: str, *where: Spot, remedy: str = "", working: Working | None = None) -> Finding:
    """The answer is no, and the source, or what is known, carries no more than a warning."""
    return Finding(Verdict.WARN, subject, message, where, remedy=remedy, working=working)


def fails(subject: str, message: str, *where: Spot, remedy: str = "", working: Working | None = None) -> Finding:
    """The answer is no."""
    return Finding(Verdict.FAIL, subject, message, where, remedy=remedy, working=working)


def no_data(subject: str, message: str, *where: Spot, remedy: str = "") -> Finding:
    """The rule applies to the subject and is due, but a record that it needs is missing; the message names it."""
    return Finding(Verdict.NO_DATA, subject, message, where, remedy=remedy)


def not_applicable(subject: str, message: str, *where: Spot) -> Finding:
    """The rule does not ask about this subject; the message says why."""
    return Finding(Verdict.NOT_APPLICABLE, subject, message, where)
