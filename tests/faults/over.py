"""Values pushed just over a limit: for each finding with a margin, a quantity in the records that can break it narrowly."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.faults.seeds import with_text
from tests.faults.trial import SOUND

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tests.faults.seeds import Fault, Field
    from tests.faults.trial import Key, Trials

    from jurystrut.rulebook import Finding

__all__ = ["push_over"]

NARROWLY = 0.02
"""Just over: outside by less than this share of the limit."""
_STEPS = 6


def push_over(trials: Trials, key: Key, finding: Finding, candidates: Iterable[Field]) -> Fault | None:
    """The first fault that breaks this finding's limit narrowly, by one of these quantities; None where none does."""
    pushed = (_pushed(trials, key, finding, field) for field in candidates)
    return next(filter(None, pushed), None)


def _pushed(trials: Trials, key: Key, finding: Finding, field: Field) -> Fault | None:
    """Look along one quantity for the value at which the margin is gone, upwards first, then downwards."""
    for step in (0.05, -0.05):
        moved = False
        for fault, now in _along(trials, key, finding, field, step):
            moved = True
            if now.verdict not in SOUND and (now.margin is None or -NARROWLY < now.margin < 0):
                return fault
        if not moved:  # nor will it downwards, as a rule; and most quantities beside a finding have no part in it
            return None
    return None


def _along(trials: Trials, key: Key, finding: Finding, field: Field, step: float) -> Iterator[tuple[Fault, Finding]]:
    """The faults tried by secants, each with the finding as it is then; as long as it moves with the value."""
    number, wanted = float(field.number), -NARROWLY / 4
    below, margin_below = number, finding.margin or 0.0
    at = number + step * (abs(number) or 1)
    for _ in range(_STEPS):
        fault = with_text(field, trials.files, f"{at:.6f} {field.unit}", "over a limit")
        now = trials.of(fault.file, fault.text).now(key)
        if now is None:
            return
        yield fault, now
        if now.margin is None or now.margin == margin_below or at == below:
            return
        slope = (now.margin - margin_below) / (at - below)
        below, margin_below = at, now.margin
        at += (wanted - now.margin) / slope
