"""GitLab's code quality report: a JSON list with the fields that it reads and no others."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from jurystrut.reports.noted import noted, sentence
from jurystrut.reports.plain import safe

if TYPE_CHECKING:
    from jurystrut.judge import Judgement

__all__ = ["write"]

_SEVERITY = {"error": "critical", "warning": "major"}


def write(judgement: Judgement) -> str:
    """The judgement's findings; one without a place stands at the first record file, since GitLab shows none without."""
    files = judgement.project.files
    somewhere = judgement.folder + (files[0] if files else "aircraft.yaml")
    entries = [
        {
            "description": safe(". ".join(" ".join(part.split()).removesuffix(".") for part in sentence(one.finding))),
            "check_name": one.rule_id,
            "fingerprint": one.fingerprint,
            "severity": _SEVERITY[one.level],
            "location": {
                "path": safe(one.places[0].file if one.places else somewhere),
                "lines": {"begin": one.places[0].line if one.places else 1},
            },
        }
        for one in noted(judgement)
    ]
    return json.dumps(entries, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
