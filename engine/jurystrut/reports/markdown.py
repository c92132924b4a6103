"""Markdown for a job's summary or a comment: what is not right, in one table, cut at a finding's edge under the size limit."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING

from jurystrut.judge import CAUTION
from jurystrut.reports.noted import noted
from jurystrut.reports.plain import WORDS, safe
from jurystrut.reports.text import margin_words
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jurystrut.judge import Judgement
    from jurystrut.reports.noted import Noted

__all__ = ["MOST_BYTES", "escaped", "fitted", "write"]

MOST_BYTES = 900 * 1024
"""GitHub drops a step's whole summary above 1 MiB."""

_SPECIAL = re.compile(r"[\\`*_{}\[\]<>()#!|&~$:^]|(?<=[wW])\.")
_CALLS = re.compile("[@#](?=[\\w])")  # mentions people, names issues


def escaped(text: str) -> str:
    """Text from a record, on one line, with nothing left that Markdown, HTML or a forge would take for more than text."""
    plain = _CALLS.sub(lambda match: match.group() + "\u200b", safe(" ".join(text.split())))
    return _SPECIAL.sub(lambda match: f"&#{ord(match.group())};", plain)


def fitted(head: str, rows: Iterable[str], foot: str, more: str = "... and {} more") -> str:
    """Head, rows and foot, with as many rows as the size limit allows and a word on those left out."""
    room = MOST_BYTES - len((head + foot + more).encode()) - 32
    kept: list[str] = []
    left = 0
    for row in rows:
        room -= len(row.encode()) + 1
        if room < 0:
            left += 1
        else:
            kept.append(row)
    rest = f"\n\n{more.format(left)}" if left else ""
    return head + "\n".join(kept) + rest + foot


def write(judgement: Judgement) -> str:
    """The judgement as Markdown, the worst first."""
    aircraft = judgement.project.aircraft
    counts = Counter(result.verdict for result in judgement.results)
    tally = ", ".join(f"{counts[verdict]} {WORDS[verdict]}" for verdict in reversed(Verdict) if counts[verdict])
    head = f"## {escaped(aircraft.name) if aircraft else 'Records'}: {WORDS[judgement.verdict]}\n\n"
    head += f"Judged at stage {judgement.stage.value} on {judgement.day.isoformat()}, "
    head += f"{len(judgement.results)} rules: {tally}.\n"
    rows = [_row(one) for one in noted(judgement)]
    if rows:
        head += "\n| verdict | rule | subject | what was found | where | what mends it |\n" + "| --- " * 6 + "|\n"
    return fitted(head, rows, f"\n\n{CAUTION}\n")


def _row(one: Noted) -> str:
    finding = one.finding
    verdict = WORDS[finding.verdict] if one.rule else "UNREADABLE"
    told = ". ".join(filter(None, (finding.message, margin_words(finding))))
    if finding.deviation:
        told += f". Deviation on record: {finding.deviation}"
    where = "<br>".join(escaped(str(place)) for place in one.places)
    cells = (verdict, escaped(one.rule_id), escaped(finding.subject), escaped(told), where, escaped(finding.remedy))
    return f"| {' | '.join(cells)} |"
