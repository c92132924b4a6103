"""Do the papers carry the flights that they are meant for: certificate, test plan, the entry that ends phase one?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    fails,
    no_data,
    passes,
    rule,
    warns,
)
from jurystrut_rules.operations.equipment import head_of

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.papers import Document

__all__ = [
    "certificate_is_held",
    "first_phase_was_completed",
    "flight_tests_are_planned",
]


def _of(documents: tuple[Document, ...], *kinds: str) -> list[Document]:
    return [document for document in documents if head_of(document.kind) in kinds]


@rule(
    "papers/airworthiness-certificate",
    title="Airworthiness certificate",
    asks="Is a current airworthiness certificate held?",
    references=("91-203-a-1", "21-181"),
    due=Stage.FIRST_FLIGHT,
    remedy="Record the certificate as a document of kind 'airworthiness certificate', with its day.",
    no_deviation="91.203 lets nobody fly without it",
)
def certificate_is_held(aircraft: Aircraft, documents: tuple[Document, ...], day: datetime.date) -> Iterator[Finding]:
    """91.203(a)(1) binds by its own words: a current and appropriate certificate is aboard. One for an amateur-built aircraft
    has no end unless the FAA sets one for cause (21.181); where `expires` is recorded, it is held against the day judged.
    """
    held = _of(documents, "airworthiness certificate", "special airworthiness certificate")
    if not held:
        yield no_data("aircraft", "no airworthiness certificate is recorded", aircraft.at("stage"))
    for document in held:
        if document.day is None:
            yield no_data(document.id, "when it was issued is not recorded", document.at(), remedy="Record 'day'.")
        elif document.day > day:
            yield fails(document.id, f"issued on {document.day}, after the day judged, {day}", document.at("day"))
        elif document.expires is not None and document.expires < day:
            yield fails(document.id, f"it ended on {document.expires}; judged on {day}", document.at("expires"))
        else:
            yield passes(document.id, f"issued on {document.day}; judged on {day}", document.at("day"))


@rule(
    "papers/flight-test-plan",
    title="Flight test plan",
    asks="Is a plan for the flight tests on record before the first flight?",
    references=("ac90-89",),
    due=Stage.FIRST_FLIGHT,
    remedy="Write one, and record it as a document of kind 'flight test plan'.",
    at_worst=Verdict.WARN,
)
def flight_tests_are_planned(aircraft: Aircraft, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """AC 90-89 suggests a plan for each hour of the test programme; it obliges nobody. Later guidance lets a list of tasks take
    the place of hours (memory), and such a list is a plan too.
    """
    plans = _of(documents, "flight test plan", "flight test programme", "flight test program", "task list")
    if plans:
        yield passes(plans[0].id, f"planned in {plans[0].kind}", plans[0].at())
    else:
        yield warns("aircraft", "no plan for the flight tests is recorded", aircraft.at("stage"))


_ENTERED = {
    "91.319(b)": re.compile(r"91\.?319\(b\)|controllable", re.IGNORECASE),
    "VSO": re.compile(r"\bvs[o0]\b", re.IGNORECASE),
    "VX": re.compile(r"\bvx\b", re.IGNORECASE),
    "VY": re.compile(r"\bvy\b", re.IGNORECASE),
    "weight": re.compile(r"\bweight\b|[0-9] ?(?:lb|kg)\b", re.IGNORECASE),
    "centre of gravity": re.compile(r"centre of gravity|center of gravity|\bcg\b", re.IGNORECASE),
}


@rule(
    "papers/phase-one",
    title="Phase one completed",
    asks="Does an entry say that phase one is complete, with what the operating limitations want in it?",
    references=("8130-2-phase-one", "91-319-b"),
    due=Stage.OPERATING,
    remedy="Make the entry, and record its words as a document of kind 'phase one entry'.",
)
def first_phase_was_completed(aircraft: Aircraft, documents: tuple[Document, ...]) -> Iterator[Finding]:
    """91.319(b) keeps the aircraft in its test area until it is shown controllable and free of hazards. The operating
    limitations, as quoted, want an entry that says so, with VSO, VX and VY, and weight and centre of gravity at which they
    were found. The entry's words are recorded in `text`. How many hours it takes they say too; hours are not judged here.
    """
    entries = _of(documents, "phase one entry", "phase 1 entry", "phase i entry")
    if not entries:
        yield no_data("aircraft", "no entry that phase one is complete is recorded", aircraft.at("stage"))
    for entry in entries:
        lacking = [name for name, words in _ENTERED.items() if not words.search(entry.text or "")]
        if entry.text is None:
            yield no_data(entry.id, "the words of the entry are not recorded", entry.at(), remedy="Record 'text'.")
        elif lacking:
            yield fails(entry.id, f"the entry does not speak of {', '.join(lacking)}", entry.at("text"))
        else:
            yield passes(entry.id, "the entry speaks of all that is wanted", entry.at("text"))
