"""What does the builder's log add up to, and does it support the question of the major portion?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, at_least, no_data, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.papers import Document, LogEntry

__all__ = ["log_days_are_sound", "log_is_kept", "log_supports_major_portion"]


def _hours_of(entries: tuple[LogEntry, ...] | list[LogEntry]) -> float:
    """Hours of some entries together."""
    return sum(entry.hours.si for entry in entries) / 3600.0


@rule(
    "papers/builders-log",
    title="Builder's log",
    asks="Is a builder's log on record?",
    references=("ac20-27-logs",),
    due=Stage.INSPECTION,
    remedy="Record the log line by line under 'builders_log', or the paper volumes under 'documents' as 'builder's log'.",
)
def log_is_kept(
    aircraft: Aircraft, builders_log: tuple[LogEntry, ...] = (), documents: tuple[Document, ...] = ()
) -> Iterator[Finding]:
    """Lines with day, hours, task and who are added up; a log on paper, recorded as a document, counts as well."""
    paper = [
        document for document in documents if "builder" in document.kind.lower() and "log" in document.kind.lower()
    ]
    if builders_log:
        days = len({entry.day for entry in builders_log})
        yield passes(
            "builders-log",
            f"{len(builders_log)} lines on {days} days, {_hours_of(builders_log):.1f} h",
            builders_log[0].at(),
        )
    elif paper:
        yield passes(
            "builders-log", f"on paper: {paper[0].kind}, {paper[0].number or paper[0].id}", paper[0].at("kind")
        )
    else:
        yield no_data("builders-log", "no line of the builder's log is recorded, and no log on paper", aircraft.at())


@rule(
    "papers/builders-log-days",
    title="Builder's log, days and hours",
    asks="Is no line of the builder's log in the future, and no person's day longer than 24 hours?",
    references=("own-consistency",),
    due=Stage.DESIGN,
    remedy="Correct the day or the hours.",
    at_worst=Verdict.WARN,
)
def log_days_are_sound(day: datetime.date, builders_log: tuple[LogEntry, ...] = ()) -> Iterator[Finding]:
    """The hours of each person on each day are added. More than 24 is a mistake, and so is a day that has not come yet."""
    if not builders_log:
        yield not_applicable("builders-log", "no line of the builder's log is recorded")
        return
    of_day: dict[tuple[datetime.date, str], list[LogEntry]] = {}
    for entry in builders_log:
        of_day.setdefault((entry.day, entry.who), []).append(entry)
    wrong = [_unsound(entries, day) for entries in of_day.values()]
    yield from (finding for finding in wrong if finding)
    if not any(wrong):
        yield passes(
            "builders-log", f"{len(of_day)} days of work, none in the future, none over 24 h", builders_log[0].at()
        )


def _unsound(entries: list[LogEntry], day: datetime.date) -> Finding | None:
    first = entries[0]
    if first.day > day:
        return warns(
            "builders-log",
            f"{first.task}: on {first.day}, after the day of this check, {day}",
            first.at("day"),
            remedy="Correct 'day'.",
        )
    hours = _hours_of(entries)
    if hours > 24:  # arithmetic
        return warns(
            "builders-log",
            f"{hours:g} h of {first.who} on {first.day}",
            entries[-1].at("hours"),
            first.at("hours"),
            remedy="Correct 'hours'.",
        )
    return None


@rule(
    "papers/major-portion",
    title="Major portion",
    asks="Does the builder's log support that amateurs did the major portion of the work?",
    references=("21-191-g", "ac20-27-logs"),
    due=Stage.INSPECTION,
    remedy="Go through the authority's own list of tasks with the inspector.",
    at_worst=Verdict.WARN,
)
def log_supports_major_portion(builders_log: tuple[LogEntry, ...] = ()) -> Iterator[Finding]:
    """Hours of making and putting together are added, those of amateurs and of others. Half or less is a warning.

    21.191(g) gives no number, and guidance counts tasks and not hours, so this only supports the question and never decides
    it; the authority does. Lines of another nature are left out, and lines that name none are counted.
    """
    counted = [entry for entry in builders_log if entry.nature != "other"]
    if not counted:
        yield no_data(
            "builders-log",
            "no line of making or putting together is recorded",
            remedy="Record the log under 'builders_log'.",
        )
        return
    amateur = _hours_of([entry for entry in counted if entry.by == "amateur"])
    total = _hours_of(counted)
    share = 100 * amateur / total if total else 0.0
    bought = next((entry for entry in counted if entry.by != "amateur"), counted[0])
    message = f"{amateur:.1f} of {total:.1f} recorded hours are amateurs' work, {share:.0f} %; the authority decides, by tasks"
    finding = at_least("builders-log", share, 50.0, "%", message, bought.at(), otherwise=Verdict.WARN)  # 21-191-g
    # Exactly half is no major portion.
    yield finding._replace(verdict=Verdict.WARN) if share <= 50.0 else finding  # 21-191-g
