"""Whole aircraft, rewritten: what is judged of them, without where it stands."""

from __future__ import annotations

import datetime
import functools
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import pytest
import yaml

from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.rulebook import Rulebook, Stage, Verdict
from jurystrut.testing import installed

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from jurystrut.judge import Judgement
    from jurystrut.records.project import Project

HERE = Path(__file__).parents[1]
AIRCRAFT = {
    folder.name: folder
    for folder in (HERE.parent / "project_example", *sorted(p for p in (HERE / "aircraft").iterdir() if p.is_dir()))
    if (folder / "aircraft.yaml").is_file()
}
"""The example, and the aircraft of `tests/aircraft`."""
DAY = datetime.date(2026, 11, 25)
ORDER = (Verdict.PASS, Verdict.WARN, Verdict.NO_DATA, Verdict.FAIL)
"""From the best to the worst that can be said of what is asked at all."""


class Said(NamedTuple):
    """Verdicts by rule, subject and number, and the figures that they rest on."""

    verdicts: dict[tuple[str, ...], Verdict]
    figures: dict[tuple[str, ...], float]


@functools.cache
def texts(name: str) -> Mapping[str, str]:
    """An aircraft's files."""
    return {file.path: file.text for file in record_files(AIRCRAFT[name])}


@functools.cache
def _trees(name: str) -> dict[str, Any]:
    return {path: yaml.load(text, yaml.BaseLoader) for path, text in texts(name).items()}  # noqa: S506 - text only


def trees(name: str, change: Callable[[Any], Any]) -> dict[str, Any]:
    """An aircraft's files as plain trees, each passed through `change`, which must make a new one."""
    return {path: change(tree) for path, tree in _trees(name).items()}


def values_changed(tree: Any, change: Callable[[str, str], str], field: str = "") -> Any:
    """A copy of a tree whose every plain value went through `change`, with the name of its field."""
    if isinstance(tree, dict):
        return {key: values_changed(value, change, key) for key, value in tree.items()}
    if isinstance(tree, list):
        return [values_changed(value, change, field) for value in tree]
    return change(field, tree)


def written(files: Mapping[str, Any]) -> dict[str, str]:
    """Trees as YAML, in the order that they have."""
    return {path: yaml.safe_dump(tree, sort_keys=False, allow_unicode=True) for path, tree in files.items()}


def project_of(files: Mapping[str, str]) -> Project:
    """Read texts, in their order; they must all be sound."""
    project = read_files([RecordFile(path, text) for path, text in files.items()])
    assert not project.problems, "\n".join(f"{p.position}: {p.message}" for p in project.problems)
    return project


def judged(files: Mapping[str, str], rules: str = "") -> Judgement:
    """Judge texts at the last stage, where every rule is due, by the rules whose ids begin so."""
    book = installed()
    some = Rulebook(tuple(r for r in book.rules if r.id.startswith(rules)), book.facts, book.references, book.packs)
    assert some.rules
    judgement = judge(project_of(files), some, at=Stage.OPERATING, on=DAY)
    assert not judgement.problems, judgement.problems
    return judgement


def said(judgement: Judgement, name: Callable[[str, str], str] = lambda _, subject: subject) -> Said:
    """What a judgement says; `name` may call a rule's subject otherwise."""
    found: defaultdict[tuple[str, ...], list[tuple[Verdict, list[float]]]] = defaultdict(list)
    for result in judgement.results:
        for finding in result.findings:
            measured = [amount.value for amount in (finding.measured, finding.limit) if amount is not None]
            deviates = "deviates" if finding.deviation else ""
            found[result.rule.id, name(result.rule.id, finding.subject), deviates].append((finding.verdict, measured))
    verdicts: dict[tuple[str, ...], Verdict] = {}
    figures: dict[tuple[str, ...], float] = {}
    for key, several in found.items():
        for number, (verdict, measured) in enumerate(sorted(several, key=lambda one: (one[0].value, one[1]))):
            verdicts[*key, str(number)] = verdict
            figures |= {(*key, str(number), str(place)): value for place, value in enumerate(measured)}
    return Said(verdicts, figures)


def alike(one: Said, other: Said) -> None:
    """The same verdicts, and figures that differ by no more than rounding."""
    assert other.verdicts == one.verdicts
    assert other.figures == pytest.approx(one.figures, rel=1e-9, abs=1e-9)


@functools.cache
def as_recorded(name: str) -> Said:
    """What is said of an aircraft as its files stand."""
    return said(judged(texts(name)))
