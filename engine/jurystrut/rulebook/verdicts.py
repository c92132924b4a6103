"""The words in which the judge answers, from best to worst, and what each counts for."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING

from jurystrut.records.aircraft import Stage

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Verdict", "counted", "worst"]


class Verdict(Enum):
    """What one finding, one rule or a whole judgement says."""

    NOT_APPLICABLE = "not-applicable"
    NOT_DUE = "not-due"
    PASS = "pass"  # noqa: S105 - a verdict, no password
    WARN = "warn"
    NO_DATA = "no-data"
    FAIL = "fail"

    # Each member exists once; Enum's own hash is that of its name, worked out in Python for every finding.
    __hash__ = object.__hash__

    @property
    def rank(self) -> int:
        """0 for the best; not knowing ranks behind a known warning."""
        return _RANKS[self]


_RANKS = {verdict: rank for rank, verdict in enumerate(Verdict)}


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """The worst of some verdicts; `not-applicable` where there are none."""
    return max(verdicts, key=_RANKS.__getitem__, default=Verdict.NOT_APPLICABLE)


def counted(verdict: Verdict, stage: Stage) -> Verdict:
    """What a rule's verdict counts for in the whole: `no-data` is a warning, from stage `inspection` on a failure."""
    if verdict is Verdict.NO_DATA:
        return Verdict.FAIL if stage >= Stage.INSPECTION else Verdict.WARN
    return verdict
