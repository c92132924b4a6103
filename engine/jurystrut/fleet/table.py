"""One table over many repositories: each repository's verdict, and rule by rule how many of them have which."""

from __future__ import annotations

import json
from collections import Counter
from typing import TYPE_CHECKING, Any

from jurystrut.judge import CAUTION
from jurystrut.reports.plain import WORDS, Paint, wrapped
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from jurystrut.fleet import Outcome

__all__ = ["as_data", "write", "write_json"]

_COLUMNS = (Verdict.FAIL, Verdict.NO_DATA, Verdict.WARN, Verdict.PASS, Verdict.NOT_DUE, Verdict.NOT_APPLICABLE)
_SHOWN = (Verdict.FAIL, Verdict.NO_DATA, Verdict.WARN)
_MOST_NAMED = 5


def write(outcomes: Sequence[Outcome], *, coloured: bool = False) -> str:
    """The table for a terminal."""
    paint = Paint(coloured)
    parts = ["\n".join(_repositories(outcomes, paint)), "\n".join(_rules(outcomes, paint)), _foot(outcomes)]
    return "\n\n".join(parts) + "\n"


def _repositories(outcomes: Iterable[Outcome], paint: Paint) -> Iterator[str]:
    yield paint.strong("REPOSITORIES")
    for outcome in outcomes:
        if outcome.broke is not None:
            yield wrapped(f"{outcome.path}: {outcome.broke}", " " * 10, "  broken  ")
            continue
        counts = Counter(outcome.rules.values())
        tally = ", ".join(f"{counts[v.value]} {WORDS[v]}" for v in _COLUMNS if counts[v.value])
        unread = f"; mistakes in its records: {outcome.problems}" if outcome.problems else ""
        head = f"  {WORDS[Verdict(outcome.verdict)].ljust(8)}"
        line = wrapped(f"{outcome.path}: {tally}{unread}", " " * 10, head)
        yield f"  {paint.verdict(Verdict(outcome.verdict), 8)}{line[len(head) :]}"


def _rules(outcomes: Sequence[Outcome], paint: Paint) -> Iterator[str]:
    """Rule by rule, those on which any repository falls short; the last column of each names the first of these."""
    yield paint.strong(f"{'RULES':38}{'FAIL':>6}{'NO DATA':>9}{'WARN':>6}{'pass':>6}{'others':>8}")
    for rule, counts in _by_rule(outcomes).items():
        if not any(counts[verdict] for verdict in _SHOWN):
            continue
        others = counts[Verdict.NOT_DUE] + counts[Verdict.NOT_APPLICABLE]
        short, missing, warned, sound = (counts[verdict] for verdict in _COLUMNS[:4])
        yield f"{rule:38}{short:6}{missing:9}{warned:6}{sound:6}{others:8}"
        failing = [outcome.path for outcome in outcomes if outcome.rules.get(rule) == Verdict.FAIL.value]
        if failing:
            more = f" and {len(failing) - _MOST_NAMED} more" if len(failing) > _MOST_NAMED else ""
            yield wrapped(f"{', '.join(failing[:_MOST_NAMED])}{more}", "    ", "  fails: ")


def _by_rule(outcomes: Iterable[Outcome]) -> dict[str, Counter[Verdict]]:
    table: dict[str, Counter[Verdict]] = {}
    for outcome in outcomes:
        for rule, verdict in outcome.rules.items():
            table.setdefault(rule, Counter())[Verdict(verdict)] += 1
    return dict(sorted(table.items()))


def _foot(outcomes: Sequence[Outcome]) -> str:
    broken = sum(1 for outcome in outcomes if outcome.broke is not None)
    unread = sum(1 for outcome in outcomes if outcome.problems)
    failed = sum(1 for outcome in outcomes if outcome.status == 1)
    line = f"{len(outcomes)} repositories: {failed} fail, {unread} with mistakes in their records, {broken} not judged."
    return f"{wrapped(line, '')}\n{wrapped(CAUTION, '')}"


def as_data(outcomes: Sequence[Outcome]) -> dict[str, Any]:
    """The table as plain data, with each repository's whole judgement where its outcome carries it."""
    return {
        "schema": "jurystrut/fleet/1",
        "repositories": [
            {
                "path": outcome.path,
                "exit_status": outcome.status,
                "broke": outcome.broke,
                "judgement": outcome.judgement,
            }
            for outcome in outcomes
        ],
        "rules": {
            rule: {verdict.value: counts[verdict] for verdict in _COLUMNS}
            for rule, counts in _by_rule(outcomes).items()
        },
        "caution": CAUTION,
    }


def write_json(outcomes: Sequence[Outcome]) -> str:
    """The table as one JSON object."""
    return json.dumps(as_data(outcomes), ensure_ascii=False, allow_nan=False, indent=1) + "\n"
