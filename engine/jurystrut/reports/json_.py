"""The judgement for machines, `jurystrut/judgement/1`: the same records give the same bytes."""

from __future__ import annotations

import json
from collections import Counter
from typing import TYPE_CHECKING, Any

import jurystrut
from jurystrut.judge import CAUTION
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from jurystrut.errors import Problem
    from jurystrut.judge import Judgement, RuleResult
    from jurystrut.rulebook import Finding, Spot

__all__ = ["as_data", "finding_data", "number", "problem_data", "write"]

_SUMMARY = (Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_DUE, Verdict.NOT_APPLICABLE)


def write(judgement: Judgement) -> str:
    """The judgement as one JSON object."""
    return json.dumps(as_data(judgement), ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def as_data(judgement: Judgement) -> dict[str, Any]:
    """The judgement as plain data, in the order in which it is written."""
    aircraft = judgement.project.aircraft
    counts = Counter(result.verdict for result in judgement.results)
    return {
        "schema": "jurystrut/judgement/1",
        "tool": {"name": "jurystrut", "version": jurystrut.__version__},
        "project": {
            "name": aircraft.name if aircraft else None,
            "authority": aircraft.authority if aircraft else None,
            "stage": judgement.stage.value,
            "revision": judgement.revision,
            **({"trial": list(judgement.project.trial)} if judgement.project.trial else {}),
        },
        "verdict": judgement.verdict.value,
        "summary": {verdict.value: counts[verdict] for verdict in _SUMMARY},
        "rules": [_rule(judgement, result) for result in judgement.results],
        "errors": [problem_data(problem) for problem in judgement.problems],
        "caution": CAUTION,
    }


def _rule(judgement: Judgement, result: RuleResult) -> dict[str, Any]:
    return {
        "id": result.rule.id,
        "title": result.rule.title,
        "verdict": result.verdict.value,
        "references": [
            {
                "document": reference.document,
                "section": reference.section,
                "edition": reference.edition,
                "kind": reference.kind,
            }
            for reference in judgement.rulebook.cited(result.rule)
        ],
        "findings": [finding_data(finding) for finding in result.findings],
    }


def finding_data(finding: Finding) -> dict[str, Any]:
    """One finding as plain data."""
    measured, limit = finding.measured, finding.limit
    return {
        "verdict": finding.verdict.value,
        "subject": finding.subject,
        "message": finding.message,
        "measured": {"value": number(measured.value), "unit": measured.unit} if measured else None,
        "limit": {"value": number(limit.value), "unit": limit.unit, "sense": limit.sense} if limit else None,
        "margin": number(finding.margin),
        "where": [_place(spot) for spot in finding.where],
        "remedy": finding.remedy or None,
        "deviation": finding.deviation,
    }


def number(value: float | None) -> float | None:
    """Twelve significant digits: more would show the last bits of binary fractions; JSON has no infinity."""
    if value is None or value in (float("inf"), float("-inf")):
        return None
    return float(f"{value:.12g}")


def _place(spot: Spot) -> dict[str, Any]:
    position = spot.position
    return {"file": position.file, "line": position.line, "column": position.column}


def problem_data(problem: Problem) -> dict[str, Any]:
    """One place that cannot be read as plain data."""
    file, line, column = problem.position
    return {"file": file, "line": line, "column": column, "message": problem.message}
