"""Values pushed just over a limit: for each finding with a margin, a value in the records that can break it narrowly.

A quantity is just over where it breaks the limit by less than `NARROWLY`; what goes in leaps, as counts, gauges and days do,
where one step less would not.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from tests.faults.seeds import with_text
from tests.faults.trial import SOUND

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from tests.faults.seeds import Fault
    from tests.faults.trial import Key, Trials
    from tests.faults.values import Value

    from jurystrut.rulebook import Finding

__all__ = ["push_over"]

NARROWLY = 0.02
"""Just over: outside by less than this share of the limit."""
_TRIES = 6
_SHARE = 0.02
"""The first move of a quantity, of itself."""
_HOURS = 24.0
"""The first move of a time of day: limits on it are hours or days."""
_LEAP = {"count": 1.0, "gauge": 2.0, "day": 24.0}
"""From one value to the next; days are counted in hours."""


def push_over(trials: Trials, key: Key, finding: Finding, candidates: Iterable[Value]) -> Fault | None:
    """The first fault that breaks this finding's limit narrowly, by one of these values; None where none does."""
    pushed = (_pushed(trials, key, finding, value) for value in candidates)
    return next(filter(None, pushed), None)


def _pushed(trials: Trials, key: Key, finding: Finding, value: Value) -> Fault | None:
    """Look along one value for the place at which the margin is gone, upwards first, then downwards."""
    for direction in (1, -1):
        moved = False
        for fault, now, just in _along(trials, key, finding, value, direction):
            moved = True
            if now.verdict not in SOUND and just:
                return fault
        if not moved:  # nor will it downwards, as a rule; and most values beside a finding have no part in it
            return None
    return None


def _along(
    trials: Trials, key: Key, finding: Finding, value: Value, direction: int
) -> Iterator[tuple[Fault, Finding, bool]]:
    """The faults tried by secants, as long as the finding moves: each with the finding as it is then, and whether it is near."""
    leap = direction * _LEAP.get(value.kind, 0.0)
    below, margin_below = value.number, finding.margin or 0.0
    at = below + (leap or direction * (_HOURS if value.kind == "instant" else _SHARE * (abs(below) or 1)))
    sound, broken = {below}, None
    for _ in range(_TRIES):
        fault = with_text(value, trials.files, value.written(at), "over a limit")
        now = trials.of(fault.file, fault.text).now(key)
        if now is None:
            return
        if now.verdict in SOUND:
            sound.add(at)
        elif leap and (broken is None or direction * at < direction * broken):
            broken = at
        yield fault, now, (at - leap in sound) if leap else now.margin is None or -NARROWLY < now.margin < 0
        if broken is not None:  # look between the last that is sound and the first that is not
            last = max(sound, key=lambda one: direction * one)
            at = last + max(1, round((broken - last) / leap) // 2) * leap
            continue
        if now.margin is None or now.margin == margin_below or at == below:
            return
        slope = (now.margin - margin_below) / (at - below)
        below, margin_below = at, now.margin
        at += _steps(now.margin, slope * leap) * leap if leap else (-NARROWLY / 4 - now.margin) / slope


def _steps(margin: float, lost: float) -> int:
    """How many leaps lead to the last value that is sound, or one beyond where this is it; `lost` is what a leap adds to it."""
    return math.floor(margin / -lost + 1e-9) or 1
