"""GitLab's code quality report: a JSON list with the fields that it reads and no others."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from jurystrut.reports.noted import noted, place_of, sentence
from jurystrut.reports.plain import safe

if TYPE_CHECKING:
    from jurystrut.judge import Judgement

__all__ = ["write"]

_SEVERITY = {"error": "critical", "warning": "major"}


def write(judgement: Judgement) -> str:
    """The judgement's findings, each at a place, since GitLab shows none without."""
    entries = [
        {
            "description": safe(". ".join(" ".join(part.split()).removesuffix(".") for part in sentence(one.finding))),
            "check_name": one.rule_id,
            "fingerprint": one.fingerprint,
            "severity": _SEVERITY[one.level],
            "location": {
                "path": safe(place_of(judgement, one).file),
                "lines": {"begin": place_of(judgement, one).line},
            },
        }
        for one in noted(judgement)
    ]
    return json.dumps(entries, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
