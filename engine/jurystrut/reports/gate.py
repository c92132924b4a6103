"""What stops a commit, for the one who wants to make it."""

from __future__ import annotations

import datetime
import json
from collections import Counter
from typing import TYPE_CHECKING

from jurystrut.judge import CAUTION
from jurystrut.reports.plain import Paint, heading, one_line, wrapped
from jurystrut.reports.text import margin_words, problem_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.gates import Passage, Stopped
    from jurystrut.rulebook import Verdict

__all__ = ["baseline_of", "gate_as_text"]

_MOST = 50
_DAYS = 90


def gate_as_text(passage: Passage, *, coloured: bool = False) -> str:
    """What stops the commit, or that nothing does."""
    paint = Paint(coloured)
    judgement = passage.judgement
    blocks = []
    if judgement.problems:
        blocks.append("\n".join(problem_lines(judgement.problems, paint)))
    blocks += ["\n".join(_stopped(one, paint)) for one in passage.stopped[:_MOST]]
    last = [f"... and {len(passage.stopped) - _MOST} more"] if len(passage.stopped) > _MOST else []
    last += [wrapped(remark, "  ", "") for remark in passage.remarks]
    known = f"; {passage.known} known findings let pass" if passage.known else ""
    last.append(f"{_says(passage)} at stage {judgement.stage.value} on {judgement.day.isoformat()}{known}.")
    return "\n\n".join([*blocks, "\n".join([*last, wrapped(CAUTION, "")])]) + "\n"


def _says(passage: Passage) -> str:
    if passage.judgement.problems:
        return "The records cannot all be read"
    count = len(passage.stopped)
    return (
        f"{count} {'finding stops' if count == 1 else 'findings stop'} this commit"
        if count
        else "Nothing stops this commit"
    )


def _stopped(one: Stopped, paint: Paint) -> Iterator[str]:
    finding = one.finding
    yield heading(one.rule.id, one.rule.title, paint)
    yield wrapped(f"{finding.subject}: {one.why}: {finding.message}", "    ", "  ")
    numbers = margin_words(finding)
    if numbers:
        yield wrapped(numbers, "    ")
    yield from (f"    at {one_line(str(spot.position))}" for spot in finding.where)
    if finding.remedy:
        yield wrapped(f"mend: {finding.remedy}", "      ", "    ")


def baseline_of(passage: Passage) -> str:
    """Entries for the list of known findings that would let pass what stops the commit now, for ninety days."""
    until = (passage.judgement.day + datetime.timedelta(days=_DAYS)).isoformat()
    counts = Counter((one.rule.id, one.finding.subject) for one in passage.stopped)
    worst: dict[tuple[str, str], Verdict] = {}
    for one in passage.stopped:
        key = (one.rule.id, one.finding.subject)
        worst[key] = max(worst.get(key, one.finding.verdict), one.finding.verdict, key=lambda verdict: verdict.rank)
    lines = ["baseline:"] if counts else ["baseline: []"]
    for (rule, subject), count in sorted(counts.items()):
        verdict = worst[rule, subject].value
        # JSON text is YAML as well, whatever the subject holds, unless it writes a rare letter as two halves.
        name = json.dumps(one_line(subject), ensure_ascii=False)
        words = "'write here why it may wait'"
        lines.append(
            f"  - {{rule: {rule}, subject: {name}, verdict: {verdict}, findings: {count}, reason: {words}, until: {until}}}"
        )
    return "\n".join(lines) + "\n"
