"""What is remembered from one revision to the next must never show: the same judgement comes out as from a fresh start."""

from __future__ import annotations

import datetime
import gc
from typing import Any
from unittest.mock import ANY

from jurystrut.judge import Remembered, RuleResult, judge
from jurystrut.reading import Memory, read_files
from jurystrut.reading.files import RecordFile
from jurystrut.reports.json_ import as_data
from jurystrut.rulebook import Stage
from jurystrut.testing import installed

DAY = datetime.date(2026, 11, 25)

ODD = [
    ("aircraft.yaml", "stage: systems", "stage: operating"),
    ("aircraft.yaml", "authority: US", "authority: CA"),
    ("aircraft.yaml", "authority: US", "authority: [\n"),
    ("electrical/engine.yaml", "id: W19,", "id: W20,"),
    ("electrical/engine.yaml", "from: SW-ENG,", "from: SW-NONE,"),
    ("weights/systems.yaml", "weights:", "weights:\n  loadings: 3"),
    ("papers.yaml", "documents:", "# documents:"),
]


def records(files: dict[str, str]) -> list[RecordFile]:
    return [RecordFile(name, files[name]) for name in sorted(files)]


def sequence(build: Any) -> list[dict[str, str]]:
    """Late changes one after the other, undone in between now and then, and files that cannot be read or are not there."""
    states = [build.files]
    for number, (name, case) in enumerate(sorted(build.cases.items())[::12]):
        states.append(build.after(*case.get("after", []), name))
        if number % 3 == 0:
            states.append(build.files)
    for file, piece, other in ODD:
        states.append({**build.files, file: build.files[file].replace(piece, other)})
        if len(states) % 2:
            states.append(build.files)
    states += [{n: t for n, t in build.files.items() if n != gone} for gone in build.files]
    states += [{f"moved/{name}": text for name, text in build.files.items()}, build.files]
    return states


def test_a_remembered_judgement_is_the_one_that_a_fresh_start_gives(build: Any) -> None:
    book = installed()
    reading, judging = Memory(), Remembered()
    for files in sequence(build):
        project = read_files(records(files), reading)
        remembered = judge(project, book, on=DAY, memory=judging)
        fresh = judge(read_files(records(files)), book, on=DAY)
        assert as_data(remembered) == as_data(fresh)


def test_what_was_judged_before_the_last_is_let_go(build: Any) -> None:
    """A thousand commits must not stay in memory: the example lacks records, and what is raised for them holds no run."""
    reading, judging = Memory(), Remembered()
    alive = []
    for number in range(4):
        files = {**build.files, "panel.yaml": f"# {'-' * number}\n\n{build.files['panel.yaml']}" + "\n" * number}
        files["aircraft.yaml"] = "\n" * number + files["aircraft.yaml"]
        judge(read_files(records(files), reading), installed(), on=DAY, memory=judging)
        gc.collect()
        alive.append(sum(isinstance(known, RuleResult) for known in gc.get_objects()))
    assert alive[3] == alive[1]


def test_what_did_not_change_is_the_same_object(build: Any) -> None:
    reading, judging = Memory(), Remembered()
    one = judge(read_files(records(build.files), reading), installed(), on=DAY, memory=judging)
    files = build.after("smaller-switch")
    other = judge(read_files(records(files), reading), installed(), on=DAY, memory=judging)
    same = {a.rule.domain for a, b in zip(one.results, other.results, strict=True) if a is b}
    assert {"weights", "covering"} <= same
    assert other.project.sections["weights"] is one.project.sections["weights"]
    assert other.project.sections["electrical"] is not one.project.sections["electrical"]


def test_a_section_that_has_just_been_begun_is_remembered_too() -> None:
    sound, begun = "aircraft: {name: T, authority: US, stage: design}\n", "fuel:\n"
    reading = Memory()
    for text in (sound, sound + begun, begun + sound, sound):
        remembered, fresh = (read_files([RecordFile("a.yaml", text)], memory) for memory in (reading, None))
        assert (remembered.problems, repr(remembered.sections)) == (fresh.problems, repr(fresh.sections)) == ((), ANY)


def test_one_memory_serves_every_stage(build: Any) -> None:
    """What is not asked yet at one stage is asked at the next, of the same records; back at the first it is not again."""
    project, judging = read_files(records(build.files)), Remembered()
    for stage in (*Stage, *reversed(Stage)):
        remembered, fresh = (judge(project, installed(), at=stage, on=DAY, memory=memory) for memory in (judging, None))
        assert as_data(remembered) == as_data(fresh)


def test_a_name_that_leads_nowhere_is_told_where_the_other_section_alone_changed() -> None:
    aircraft, fuel = "aircraft: {name: T, authority: US, stage: design}\n", "fuel:\n  pumps: [{id: P, load: RADIO}]\n"
    reading = Memory()
    for load in ("RADIO", "LAMP", "RADIO", "LAMP"):
        files = [
            RecordFile("a.yaml", aircraft),
            RecordFile("e.yaml", f"electrical:\n  loads: [{{id: {load}}}]\n"),
            RecordFile("f.yaml", fuel),
        ]
        remembered, fresh = (read_files(files, memory).problems for memory in (reading, None))
        assert remembered == fresh
        assert any("there is no 'RADIO'" in problem.message for problem in remembered) is (load == "LAMP")
