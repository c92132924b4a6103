"""The README shows what the program really prints."""

from __future__ import annotations

import datetime
from pathlib import Path

from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.reports.text import write
from jurystrut.testing import installed

TOP = Path(__file__).parents[1]


def test_the_output_shown_is_the_output() -> None:
    thinner = {file.path: file.text for file in record_files(TOP / "project_example")}
    engine = thinner["electrical/engine.yaml"]
    thinner["electrical/engine.yaml"] = engine.replace(
        "id: W19, from: SW-ENG, to: ENG, size: 14 AWG", "id: W19, from: SW-ENG, to: ENG, size: 16 AWG"
    )
    project = read_files([RecordFile(path, text) for path, text in thinner.items()])
    shown = (TOP / "README.md").read_text(encoding="utf-8").partition("```text\n")[2].partition("```")[0]
    assert write(judge(project, installed(), on=datetime.date(2026, 11, 25))) == shown
