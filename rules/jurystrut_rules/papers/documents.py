"""Are the papers there that an inspector asks for, and are they valid?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, at_least, fails, no_data, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.papers import Document
    from jurystrut.records.weights import Weights

__all__ = [
    "aircraft_is_identified",
    "aircraft_is_registered",
    "application_is_there",
    "document_is_valid",
    "limitations_are_there",
    "logbooks_are_there",
    "purpose_is_stated",
    "weight_report_is_there",
]

_DRAFT = re.compile(r"\b(draft|reserved|reservation|planned|template)\b")


def _of_kind(documents: tuple[Document, ...], *wanted: str) -> tuple[list[Document], list[Document]]:
    """The documents whose kind holds all of the wanted words; those that count, and those that are drafts only."""
    found = [d for d in documents if all(re.search(rf"\b{word}", d.kind.lower()) for word in wanted)]
    return [d for d in found if not _DRAFT.search(d.kind.lower())], [d for d in found if _DRAFT.search(d.kind.lower())]


def _asked(subject: str, documents: tuple[Document, ...], aircraft: Aircraft, *wanted: str) -> Finding:
    """Whether a paper of this kind is on record; a draft is named, and is not enough."""
    good, drafts = _of_kind(documents, *wanted)
    kind = " ".join(wanted)
    if good:
        dated = f", dated {good[0].day}" if good[0].day else ""
        return passes(subject, f"{good[0].kind} is on record as {good[0].id}{dated}", good[0].at("kind"))
    spot = (drafts or documents)[-1].at() if documents else aircraft.at()
    message = f"only '{drafts[0].kind}' is on record" if drafts else f"no document of kind '{kind}' is on record"
    return no_data(subject, message, spot, remedy=f"Get the {kind}, and record it under 'documents'.")


@rule(
    "papers/registration",
    title="Registration",
    asks="Is the aircraft's registration on record?",
    references=("ac20-27-registration", "47-registration"),
    due=Stage.INSPECTION,
    remedy="Register the aircraft, and record the certificate.",
)
def aircraft_is_registered(aircraft: Aircraft, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """A document of kind `registration` is looked for; a reservation or a draft is none. The registration comes before the
    airworthiness certificate. Whether it is valid is another rule's question.
    """
    yield _asked("registration", documents, aircraft, "registration")


@rule(
    "papers/application",
    title="Application",
    asks="Are the application for an airworthiness certificate and the eligibility statement on record?",
    references=("ac20-27-application",),
    due=Stage.INSPECTION,
    remedy="Fill in and sign the forms, and record them.",
)
def application_is_there(aircraft: Aircraft, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """Documents whose kind holds `airworthiness application` and `eligibility statement` are looked for."""
    yield _asked("application", documents, aircraft, "airworthiness", "application")
    yield _asked("eligibility", documents, aircraft, "eligibility")


@rule(
    "papers/purpose",
    title="Statement of purpose",
    asks="Is the statement of purpose, the programme letter, on record?",
    references=("21-193-a",),
    due=Stage.INSPECTION,
    remedy="Write it, and record it as 'programme letter'.",
)
def purpose_is_stated(aircraft: Aircraft, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """A document of kind `programme letter`, `program letter` or `statement of purpose` is looked for."""
    good, _ = _of_kind(documents, "(programme letter|program letter|statement of purpose)")
    if good:
        yield passes("purpose", f"{good[0].kind} is on record as {good[0].id}", good[0].at("kind"))
    else:
        yield _asked("purpose", documents, aircraft, "programme", "letter")


@rule(
    "papers/identification",
    title="Three views and identification",
    asks="Are three-view drawings or photographs that identify the aircraft on record?",
    references=("21-193-d-4", "21-193-b"),
    due=Stage.INSPECTION,
    remedy="Record drawings or dimensioned photographs of three views as 'three-view'.",
)
def aircraft_is_identified(aircraft: Aircraft, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """A document of kind `three-view` is looked for; what it shows is for people to judge."""
    yield _asked("three-view", documents, aircraft, "three-view")


@rule(
    "papers/logbooks",
    title="Logbooks",
    asks="Have airframe, engine and propeller their logbooks?",
    references=("91-417-a", "ac20-27-logs"),
    due=Stage.INSPECTION,
    remedy="Start the logbook, and record it.",
)
def logbooks_are_there(aircraft: Aircraft, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """One document each is looked for, of kind `airframe logbook` and so on; engine and propeller only where recorded."""
    parts = ["airframe", *(["engine"] if aircraft.engine else []), *(["propeller"] if aircraft.propeller else [])]
    for part in parts:
        yield _asked(f"{part}-logbook", documents, aircraft, part, "log")


@rule(
    "papers/weight-report",
    title="Weight and balance report",
    asks="Is the weight and balance report on record, and not older than the last weighing?",
    references=("ac20-27g-weight", "own-consistency"),
    due=Stage.INSPECTION,
    remedy="Write it from the latest weighing, and record it.",
)
def weight_report_is_there(
    aircraft: Aircraft, documents: tuple[Document, ...], weights: Weights | None = None
) -> Iterator[Finding]:
    """A document of kind `weight and balance report` is looked for. One from before the last weighing speaks of another aircraft.
    What the report holds, and which weighing it rests on, `weights/report-complete` judges.
    """
    yield _asked("weight-report", documents, aircraft, "weight and balance", "report")
    last = max(weights.weighings, key=lambda weighing: weighing.day, default=None) if weights else None
    reports, _ = _of_kind(documents, "weight and balance", "report")
    for report in reports if last else ():
        assert last is not None
        if report.day is None:
            yield no_data(report.id, "when it was written is not recorded", report.at(), remedy="Record 'day'.")
        else:
            message = f"written on {report.day}; the last weighing, {last.id}, is of {last.day}"
            said = passes if report.day >= last.day else fails
            yield said(report.id, message, report.at("day"), last.at("day"))


@rule(
    "papers/operating-limitations",
    title="Operating limitations",
    asks="Are the aircraft's own operating limitations on record, and entered with the document that each stands in?",
    references=("8130-2-issued", "91-203-oplims", "91-9"),
    due=Stage.FIRST_FLIGHT,
    remedy="Record them as issued, and enter under aircraft.operating_limitations what bears on the intended flights.",
)
def limitations_are_there(aircraft: Aircraft, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """They are part of the certificate, ride in the aircraft, and are the first authority for this aircraft. Older ones differ
    from newer ones: the words as issued count, and a draft is not enough.

    A paper that lies there unentered decides nothing here; a limitation entered without the document that it stands in cannot
    be looked up. They come with the airworthiness certificate, so they are asked for from the first flight on.
    """
    paper = _asked("operating-limitations", documents, aircraft, "operating limitations")
    yield paper
    if not aircraft.operating_limitations:
        where = paper.where[:1] if paper.verdict is Verdict.PASS else (aircraft.at("operating_limitations"),)
        yield no_data("entered", "none of the aircraft's own operating limitations is entered", *where)
    for limitation in aircraft.operating_limitations:
        if limitation.document:
            yield passes(limitation.id, f"it stands in {limitation.document}", limitation.at("document"))
        else:
            message = "which document it stands in is not recorded"
            yield no_data(limitation.id, message, limitation.at(), remedy="Record 'document'.")


@rule(
    "papers/document-valid",
    title="Documents are valid",
    asks="Is every document valid on the day of the check, and issued before it?",
    references=("47-registration", "own-consistency"),
    due=Stage.DESIGN,
    remedy="Renew it, and record the new day.",
    at_worst=Verdict.WARN,
)
def document_is_valid(day: datetime.date, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """Each document with `expires` is held against the day of the check; the last day still counts. Days of issue must be past.

    A paper that ran out is a warning: which of them must be valid when, the records do not say. A calibration has to be good
    on the day of measuring, and the record of the measurement holds its day; one that ran out since is not asked for.
    """
    dated = [document for document in documents if document.expires or document.day]
    if not dated:
        yield not_applicable("aircraft", "no document with a day is recorded")
    for document in dated:
        yield _valid(document, day)


def _valid(document: Document, day: datetime.date) -> Finding:
    if document.day is not None and document.day > day:
        message = f"issued on {document.day}, after the day of this check, {day}"
        return warns(document.id, message, document.at("day"), remedy="Correct 'day'.")
    if document.expires is None:
        return passes(document.id, f"{document.kind}, dated {document.day}, has no end on record", document.at("day"))
    left = (document.expires - day).days
    if left < 0 and "calibration" in document.kind.lower():
        message = f"{document.kind} counted until {document.expires}; it is asked for on the day of measuring only"
        return not_applicable(document.id, message, document.at("expires"))
    message = f"{document.kind} counts until {document.expires}; the check is on {day}"
    return at_least(
        document.id, left, 0, "days", message, document.at("expires"), remedy="Renew it, and record the new day."
    )
