"""What changed between two states of the records, for people, for machines and for a pull request."""

from __future__ import annotations

import json
import math
from collections import Counter
from typing import TYPE_CHECKING, Any

import jurystrut
from jurystrut.judge import CAUTION
from jurystrut.records.evidence import files_named
from jurystrut.reports.json_ import finding_data, number, problem_data
from jurystrut.reports.markdown import escaped, fitted
from jurystrut.reports.plain import WORDS, Paint, heading, one_line, wrapped
from jurystrut.reports.text import margin_words, problem_lines, spare_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.compare import Break, Causes, Change, Comparison, Explained, Hunk
    from jurystrut.rulebook import Finding

__all__ = ["COMPARISON_FORMATS", "as_text", "by_cause", "cause_lines", "hunk_place", "move_words", "verdict_words"]

_MOST_MARGINS = 40
_MOST_LINES_A_CAUSE = 6
_HEADINGS = {"verdict": "VERDICTS THAT CHANGED", "new": "NEW FINDINGS", "gone": "FINDINGS THAT ARE GONE"}


def as_text(comparison: Comparison, *, coloured: bool = False) -> str:
    """The comparison for a terminal."""
    paint = Paint(coloured)
    blocks = ["\n".join(_head(comparison, paint))]
    if comparison.after.problems:
        blocks.append("\n".join(problem_lines(comparison.after.problems, paint)))
    for kind, title in _HEADINGS.items():
        chosen = _worst_first(e for e in comparison.changes if e.change.kind == kind and e.change.noted)
        if chosen:
            blocks.append("\n".join([paint.strong(title), *_changes(chosen, paint)]))
    margins = _worst_first(e for e in comparison.changes if e.change.kind == "margin")
    if margins:
        blocks.append("\n".join([paint.strong("MARGINS THAT MOVED"), *_margins(margins)]))
    blocks.append("\n".join(_foot(comparison, paint)))
    return "\n\n".join(blocks) + "\n"


def _worst_first(explained: Iterable[Explained]) -> list[Explained]:
    return sorted(explained, key=lambda e: (not e.change.worse, _loss(e.change), e.change.key))


def _loss(change: Change) -> float:
    """Sorts the change that leaves the least room first."""
    if change.kind != "margin":
        return -change.finding.verdict.rank
    room = change.room_left
    return math.inf if room is None else room


def _head(comparison: Comparison, paint: Paint) -> Iterator[str]:
    after = comparison.after
    aircraft = after.project.aircraft
    yield f"{paint.strong(one_line(aircraft.name) if aircraft else '(no aircraft record)')}, from {_sides(comparison)}"
    yield f"judged at stage {after.stage.value} on {after.day.isoformat()}"
    if comparison.before.stage is not after.stage:
        yield f"the stage was {comparison.before.stage.value} before: rules may be due that were not"
    if comparison.before.problems:
        yield wrapped(
            f"{len(comparison.before.problems)} places could not be read before; some of what is new may have been there",
            "",
        )
    if after.project.evidence is None and any(files_named(after.project.sections)):
        yield wrapped(
            "files that the records name as evidence were not looked at; `check` and `report` look at them", ""
        )


def _sides(comparison: Comparison) -> str:
    names = []
    for name, judgement in zip(comparison.names, (comparison.before, comparison.after), strict=True):
        commit = f" ({judgement.revision[:12]})" if judgement.revision else ""
        names.append(f"{one_line(name)}{commit}")
    return " to ".join(names)


def _changes(explained: list[Explained], paint: Paint) -> Iterator[str]:
    """The changes under the lines that caused them, by rule."""
    for causes, told in by_cause(explained).items():
        yield ""
        yield from cause_lines(causes, "  ")
        rule = None
        for change, count in told:
            if change.rule is not rule:
                rule = change.rule
                yield f"  {heading(rule.id, rule.title, paint)}"
            yield from _change(change, count)


def by_cause(explained: Iterable[Explained | Break]) -> dict[Causes, list[tuple[Change, int]]]:
    """Changes with the same causes together; of several on one subject by one rule, the worst, and how many they are."""
    found: dict[Causes, dict[tuple[object, ...], list[Change]]] = {}
    for one in explained:
        change = one.change
        verdicts = (f.verdict if f else None for f in (change.before, change.after))
        found.setdefault(one.causes, {}).setdefault((*change.key, *verdicts), []).append(change)
    return {
        causes: [(min(alike, key=_margin_now), len(alike)) for alike in groups.values()]
        for causes, groups in found.items()
    }


def _margin_now(change: Change) -> float:
    margin = change.finding.margin
    return math.inf if margin is None else margin


def verdict_words(change: Change, count: int, then: str = "now") -> str:
    """The verdict before and after, and how many findings changed so."""
    old, new = (WORDS[f.verdict] if f else "nothing" for f in (change.before, change.after))
    worst = f" (the worst of {count})" if count > 1 else ""
    return f"{change.finding.subject}: {old} before, {new} {then}{worst}"


def _change(change: Change, count: int) -> Iterator[str]:
    finding = change.finding
    yield wrapped(f"{verdict_words(change, count)}: {finding.message}", "      ", "    ")
    numbers = margin_words(finding)
    if numbers:
        yield wrapped(numbers, "      ")
    if change.before and change.after:
        before = margin_words(change.before) or change.before.message
        yield wrapped(f"before: {before}", "        ", "      ")
    if change.after:
        yield from (f"      at {one_line(str(spot.position))}" for spot in change.after.where[:1])
        if change.after.remedy:
            yield wrapped(f"mend: {change.after.remedy}", "        ", "      ")


def cause_lines(causes: Causes, indent: str) -> Iterator[str]:
    """The lines that brought something about, as they were and as they are."""
    for count, hunks in enumerate(causes.sets):
        several = f"{len(hunks)} places together" if len(hunks) > 1 else ""
        word = "also by itself by" if count else "caused by"
        doubt = "" if causes.narrowed else " (among these; the search was cut short)"
        if several:
            yield f"{indent}{word} {several}{doubt}"
        for hunk in hunks[:_MOST_LINES_A_CAUSE]:
            yield f"{indent}{'  ' if several else word + ' '}{one_line(hunk_place(hunk))}{'' if several else doubt}"
            yield from (f"{indent}  {line}" for line in _lines(hunk))
        if len(hunks) > _MOST_LINES_A_CAUSE:
            yield f"{indent}  ... and {len(hunks) - _MOST_LINES_A_CAUSE} more"
    if not causes.sets:
        yield f"{indent}no lines of the change bring it about by themselves"


def hunk_place(hunk: Hunk) -> str:
    """File and line after the change."""
    if hunk.old is None or hunk.new is None:
        return f"{hunk.file}, {'a new file' if hunk.old is None else 'a file that is gone'}"
    return f"{hunk.file}:{hunk.line}"


def _lines(hunk: Hunk) -> list[str]:
    if hunk.old is None or hunk.new is None:
        return []
    marked = [f"- {one_line(line.strip())}" for line in hunk.old] + [f"+ {one_line(line.strip())}" for line in hunk.new]
    more = [f"... {len(marked) - _MOST_LINES_A_CAUSE} lines more"] if len(marked) > _MOST_LINES_A_CAUSE else []
    return marked[:_MOST_LINES_A_CAUSE] + more


def _margins(explained: list[Explained]) -> Iterator[str]:
    """The margins under the lines that moved them, the least room first."""
    for causes, moved in by_cause(explained[:_MOST_MARGINS]).items():
        yield ""
        yield from cause_lines(causes, "  ")
        for change, count in moved:
            worst = f" (the least of {count})" if count > 1 else ""
            yield wrapped(f"{change.rule.id} {change.finding.subject}{worst}: {move_words(change)}", "      ", "    ")
    if len(explained) > _MOST_MARGINS:
        yield f"    ... and {len(explained) - _MOST_MARGINS} more; --format json lists all of them"


def move_words(change: Change) -> str:
    """A margin before and after, and how much of the room is left."""
    assert change.before
    assert change.after
    words = f"{_amount(change.before)} before, {_amount(change.after)} now; {_spare(change.before)}, then {_spare(change.after)}"
    room = change.room_left
    return words if room is None or room < 0 else f"{words}: {room * 100:.3g} % of the room is left"


def _amount(finding: Finding) -> str:
    return f"{finding.measured} ({finding.limit})" if finding.measured else "no figure"


def _spare(finding: Finding) -> str:
    if finding.margin is None:
        return "no margin"
    return spare_words(finding.margin)


def _foot(comparison: Comparison, paint: Paint) -> Iterator[str]:
    before, after = comparison.before.verdict, comparison.after.verdict
    quiet = Counter(e.change.kind for e in comparison.changes if not e.change.noted)
    if quiet:
        words = ", ".join(f"{count} {kind}" for kind, count in sorted(quiet.items()))
        yield wrapped(f"Besides, among findings that are as they should be: {words}.", "  ", "")
    if not comparison.changes:
        yield "No verdict and no margin changed."
    yield f"{paint.strong('Verdict')}: {paint.verdict(before)} before, {paint.verdict(after)} now"
    yield wrapped(CAUTION, "")


def _as_markdown(comparison: Comparison) -> str:
    after = comparison.after
    aircraft = after.project.aircraft
    name = escaped(aircraft.name) if aircraft else "Records"
    head = f"## {name}: {WORDS[comparison.before.verdict]} before, {WORDS[after.verdict]} now\n\n"
    head += f"From {escaped(_sides(comparison))}, judged at stage {after.stage.value} on {after.day.isoformat()}.\n"
    if after.problems:
        places = "; ".join(escaped(f"{problem.position}: {problem.message}") for problem in after.problems[:20])
        head += f"\nRecords that cannot be read: {places}\n"
    chosen = _worst_first(e for e in comparison.changes if e.change.noted)
    verdicts = [e for e in chosen if e.change.kind != "margin"]
    margins = [e for e in chosen if e.change.kind == "margin"]
    rows = [
        _row(change, count, causes)
        for part in (verdicts, margins)
        for causes, told in by_cause(part).items()
        for change, count in told
    ]
    if rows:
        head += "\n| change | rule | subject | what is said now | caused by |\n" + "| --- " * 5 + "|\n"
    else:
        head += "\nNo verdict and no margin changed.\n"
    return fitted(head, rows, f"\n\n{CAUTION}\n")


def _row(change: Change, count: int, causes: Causes) -> str:
    if change.kind == "margin":
        what, said = "margin", move_words(change)
    else:
        old, new = (WORDS[f.verdict] if f else "nothing" for f in (change.before, change.after))
        what, said = f"{old} → {new}", ". ".join(filter(None, (change.finding.message, margin_words(change.finding))))
    if count > 1:
        what += f" (the worst of {count})"
    lines = "<br>".join(_cell(hunk) for hunks in causes.sets for hunk in hunks[:_MOST_LINES_A_CAUSE])
    return f"| {what} | {escaped(change.rule.id)} | {escaped(change.finding.subject)} | {escaped(said)} | {lines} |"


def _cell(hunk: Hunk) -> str:
    return "<br>".join([escaped(hunk_place(hunk)), *(escaped(line) for line in _lines(hunk))])


def _as_json(comparison: Comparison) -> str:
    data = {
        "schema": "jurystrut/comparison/1",
        "tool": {"name": "jurystrut", "version": jurystrut.__version__},
        "before": _side(comparison, 0),
        "after": _side(comparison, 1),
        "day": comparison.after.day.isoformat(),
        "changes": [_change_data(explained) for explained in comparison.changes],
        "caution": CAUTION,
    }
    return json.dumps(data, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _side(comparison: Comparison, which: int) -> dict[str, Any]:
    judgement = (comparison.before, comparison.after)[which]
    return {
        "name": comparison.names[which],
        "revision": judgement.revision,
        "stage": judgement.stage.value,
        "verdict": judgement.verdict.value,
        "errors": [problem_data(problem) for problem in judgement.problems],
    }


def _change_data(explained: Explained) -> dict[str, Any]:
    change = explained.change
    return {
        "kind": change.kind,
        "rule": change.rule.id,
        "subject": change.finding.subject,
        "worse": change.worse,
        "before": finding_data(change.before) if change.before else None,
        "after": finding_data(change.after) if change.after else None,
        "room_left": number(change.room_left),
        "causes": [[_hunk_data(hunk) for hunk in hunks] for hunks in explained.causes.sets],
        "narrowed": explained.causes.narrowed,
    }


def _hunk_data(hunk: Hunk) -> dict[str, Any]:
    return {
        "file": hunk.file,
        "line": hunk.line,
        "line_before": hunk.start + 1,
        "removed": [line.rstrip("\n") for line in hunk.old or ()],
        "added": [line.rstrip("\n") for line in hunk.new or ()],
    }


COMPARISON_FORMATS = {"text": as_text, "json": _as_json, "markdown": _as_markdown}
"""Every format of a comparison and what writes it."""
