"""From a folder of YAML files to the checked records of one aircraft."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from jurystrut.errors import Problem
from jurystrut.positions import Position
from jurystrut.reading.evidence import look_at
from jurystrut.reading.files import RecordFile, clashing, record_files
from jurystrut.reading.memory import Memory
from jurystrut.reading.overlay import lay_over, trial_file
from jurystrut.reading.references import Links
from jurystrut.reading.sections import check_section, gather
from jurystrut.records import SECTIONS
from jurystrut.records.project import Project
from jurystrut.tree import Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from jurystrut.tree import Tree

__all__ = ["Memory", "read", "read_files"]

_MOST_PROBLEMS = 2000


def read(root: Path, trial: Path | None = None) -> Project:
    """Read a build repository and look at the evidence that its records name; every problem of every file is in the result.

    What can stand is there too. A `trial` is a file of changes, laid over the records. Raises UsageError where `root` is no
    folder, or the trial no file.
    """
    project = read_files(record_files(root), trial=trial_file(trial) if trial else None)
    return replace(project, evidence=look_at(root, project.sections))


def read_files(files: Iterable[RecordFile], memory: Memory | None = None, trial: RecordFile | None = None) -> Project:
    """Read records from texts that somebody else has opened; for revisions of a repository, and for tests.

    With a `memory`, what has not changed since the last reading is not read again. A `trial` is laid over the records.
    """
    problems: list[Problem] = []
    trees: dict[str, Tree] = {}
    kept: list[RecordFile] = []
    for file in files:  # one text at a time is in memory, unless a `Memory` wants to know them again
        if file.problem:
            tree, found = None, [file.problem]
        elif memory:
            tree, found = memory.parsed(file)
            kept.append(file)
        else:
            tree, found = parse(file.text, file.path)
        problems.extend(found)
        trees[file.path] = tree
    problems.extend(clashing(trees))
    sections, found = gather(trees.items())
    problems.extend(found)
    changed, found = lay_over(sections, trial) if trial else ((), [])
    problems.extend(found)
    checked: dict[str, Any] = {}
    broken: dict[str, set[str]] = {}
    context = _context(sections.get("aircraft"))
    for name in (name for name in SECTIONS if name in sections):
        result = (
            memory.checked(name, sections[name], context, kept)
            if memory
            else check_section(name, sections[name], context)
        )
        problems.extend(result.problems)
        if result.value is not None:
            checked[name] = result.value
        for field, ids in result.broken.items():
            broken.setdefault(name, set()).update(ids)
            broken.setdefault(f"{name}.{field}", set()).update(ids)
    links = memory.links if memory else Links()
    index, found = links.index(checked)
    problems.extend(found)
    problems.extend(links.dangling(checked, index, broken))
    if not trees:
        problems.append(Problem(Position(".", 1, 1), "no record files here; records are files named *.yaml"))
    elif "aircraft" not in sections:
        problems.append(
            Problem(Position(next(iter(trees)), 1, 1), "the records have no section 'aircraft'; begin with it")
        )
    return Project(checked, index, _told(problems), tuple(trees), trial=changed)


def _told(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems in the order of their places, up to the number that anybody would read."""
    every = sorted(set(problems))
    if len(every) <= _MOST_PROBLEMS:
        return tuple(every)
    more = f"{len(every) - _MOST_PROBLEMS} more mistakes from here on; mend those above first"
    return (*every[:_MOST_PROBLEMS], Problem(every[_MOST_PROBLEMS].position, more))


def _context(aircraft: Tree) -> dict[str, Any]:
    """What the fields must know of the whole: the gallon is American in the United States and ambiguous elsewhere."""
    american = isinstance(aircraft, Mapping) and aircraft.get("authority") == "US"
    return {"gallon": "US"} if american else {}
