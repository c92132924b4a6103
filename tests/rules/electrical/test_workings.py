"""Every verdict of this domain on the example shows its working: what was recorded, against what, and from where."""

from __future__ import annotations

import datetime
from pathlib import Path

from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import record_files
from jurystrut.rulebook import Verdict
from jurystrut.testing import installed

EXAMPLE = Path(__file__).parents[3] / "project_example"


def test_every_verdict_on_the_example_shows_its_working() -> None:
    judgement = judge(read_files(record_files(EXAMPLE)), installed(), on=datetime.date(2026, 11, 25))
    judged = {Verdict.PASS, Verdict.WARN, Verdict.FAIL}
    found = [
        (result.rule.id, list(finding.working()) if finding.working else [])
        for result in judgement.results
        if result.rule.id.startswith("electrical/")
        for finding in result.findings
        if finding.verdict in judged
    ]
    assert len(found) > 500
    assert {rule for rule, steps in found if not steps} == set()
    assert all(step.strip() for _, steps in found for step in steps)
