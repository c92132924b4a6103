"""The README shows what the program really prints."""

from __future__ import annotations

import datetime
import shutil
from pathlib import Path

from jurystrut.judge import judge
from jurystrut.reading import read
from jurystrut.reports.text import write
from jurystrut.testing import installed

TOP = Path(__file__).parents[1]


def test_the_output_shown_is_the_output(tmp_path: Path) -> None:
    thinner = Path(shutil.copytree(TOP / "project_example", tmp_path / "build"))
    engine = thinner / "electrical/engine.yaml"
    before = engine.read_text(encoding="utf-8")
    after = before.replace(
        "id: W19, from: SW-ENG, to: ENG, size: 14 AWG", "id: W19, from: SW-ENG, to: ENG, size: 16 AWG"
    )
    assert after != before
    engine.write_text(after, encoding="utf-8")
    shown = (TOP / "README.md").read_text(encoding="utf-8").partition("```text\n")[2].partition("```")[0]
    assert write(judge(read(thinner), installed(), on=datetime.date(2026, 11, 25))) == shown
