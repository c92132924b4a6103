"""The records as they stand in the editor: files as saved, and over them what is being typed; judged anew at every change."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.judge import Judgement, installed_packs, judge, load
from jurystrut.reading import read_files
from jurystrut.reading.evidence import look_at
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.reports.explain import write_explanation
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from pathlib import Path

    from jurystrut.positions import Position

__all__ = ["Desk", "Remark"]

_NOTED = frozenset({Verdict.WARN, Verdict.NO_DATA, Verdict.FAIL})


class Remark(NamedTuple):
    """One thing to show at a place: a mistake, which has no rule, or a rule's finding."""

    position: Position
    verdict: Verdict
    message: str
    rule: str = ""
    subject: str = ""


class Desk:
    """One build repository under a folder; `typed` holds texts that are not saved yet, by path from the root."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.typed: dict[str, str] = {}
        self.texts: dict[str, str] = {}
        self.judgement: Judgement | None = None

    def look(self) -> list[Remark]:
        """Read and judge the records as they stand now."""
        saved = {file.path: file for file in record_files(self.root)}
        files = saved | {path: RecordFile(path, text) for path, text in self.typed.items()}
        self.texts = {path: file.text for path, file in files.items()}
        project = read_files(files[path] for path in sorted(files))
        project = replace(project, evidence=look_at(self.root, project.sections))
        self.judgement = judge(project, load(installed_packs()))
        mistakes = [Remark(problem.position, Verdict.FAIL, problem.message) for problem in project.problems]
        return mistakes + [remark for remark in _remarks(self.judgement) if remark.verdict in _NOTED]

    def explained(self, file: str, line: int) -> str:
        """The rules that speak of a line, with their arithmetic; empty where none does. Passing ones speak too."""
        if self.judgement is None:
            return ""
        here = [r for r in _remarks(self.judgement) if (r.position.file, r.position.line) == (file, line)]
        worst = sorted(dict.fromkeys((-r.verdict.rank, r.rule, r.subject) for r in here))[:3]
        results = {result.rule.id: result for result in self.judgement.results}
        return "\n\n".join(write_explanation(self.judgement, results[rule], subject) for _, rule, subject in worst)


def _remarks(judgement: Judgement) -> list[Remark]:
    """Every finding that has a place, at the first one: the line that a builder would edit."""
    return [
        Remark(f.where[0].position, f.verdict, f"{f.message}. {f.remedy}".strip(), result.rule.id, f.subject)
        for result in judgement.results
        for f in result.findings
        if f.where
    ]
