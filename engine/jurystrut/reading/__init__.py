"""From a folder of YAML files to the checked records of one aircraft."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jurystrut.errors import Problem
from jurystrut.positions import Position
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.reading.overlay import lay_over, trial_file
from jurystrut.reading.references import dangling, index_of
from jurystrut.reading.sections import check_section, gather
from jurystrut.records import SECTIONS
from jurystrut.records.project import Project
from jurystrut.tree import Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from jurystrut.tree import Tree

__all__ = ["read", "read_files"]


def read(root: Path, trial: Path | None = None) -> Project:
    """Read a build repository; every problem of every file is in the result, and what can stand is there too.

    A `trial` is a file of changes, laid over the records. Raises UsageError where `root` is no folder, or the trial no file.
    """
    return read_files(record_files(root), trial_file(trial) if trial else None)


def read_files(files: Iterable[RecordFile], trial: RecordFile | None = None) -> Project:
    """Read records from texts that somebody else has opened; for revisions of a repository, and for tests."""
    files = list(files)
    problems = [file.problem for file in files if file.problem]
    trees: list[tuple[str, Tree]] = []
    for file in files:
        if not file.problem:
            tree, found = parse(file.text, file.path)
            problems.extend(found)
            trees.append((file.path, tree))
    sections, found = gather(trees)
    problems.extend(found)
    changed, found = lay_over(sections, trial) if trial else ((), [])
    problems.extend(found)
    checked: dict[str, Any] = {}
    broken: dict[str, set[str]] = {}
    context = _context(sections.get("aircraft"))
    for name in (name for name in SECTIONS if name in sections):
        result = check_section(name, sections[name], context)
        problems.extend(result.problems)
        if result.value is not None:
            checked[name] = result.value
        for field, ids in result.broken.items():
            broken.setdefault(name, set()).update(ids)
            broken.setdefault(f"{name}.{field}", set()).update(ids)
    index, found = index_of(checked)
    problems.extend(found)
    problems.extend(dangling(checked, index, broken))
    if not files:
        problems.append(Problem(Position(".", 1, 1), "no record files here; records are files named *.yaml"))
    elif "aircraft" not in sections:
        problems.append(Problem(Position(files[0].path, 1, 1), "the records have no section 'aircraft'; begin with it"))
    return Project(checked, index, tuple(sorted(set(problems))), tuple(file.path for file in files), changed)


def _context(aircraft: Tree) -> dict[str, Any]:
    """What the fields must know of the whole: the gallon is American in the United States and ambiguous elsewhere."""
    american = isinstance(aircraft, Mapping) and aircraft.get("authority") == "US"
    return {"gallon": "US"} if american else {}
