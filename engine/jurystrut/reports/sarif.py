"""SARIF 2.1.0, as code scanning reads it: one run, paths from the repository's root, fingerprints that outlive moved lines."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

import jurystrut
from jurystrut.judge import CAUTION
from jurystrut.reports.noted import UNREADABLE, noted, place_of, sentence
from jurystrut.reports.plain import safe
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from jurystrut.judge import Judgement
    from jurystrut.positions import Position
    from jurystrut.reports.noted import Noted
    from jurystrut.rulebook import Reference, Rule

__all__ = ["write"]

_MOST_RESULTS = 25_000  # GitHub, "SARIF support for code scanning": a run with more is rejected
_MOST_PLACES = 100  # as above: what is kept of one result's places
_LONGEST_DESCRIPTION = 1024  # as above: descriptions are cut there


def write(judgement: Judgement) -> str:
    """The judgement as one SARIF log; a clean one has an empty list of results, which closes what was open before."""
    rules = [_rule(result.rule, judgement.rulebook.cited(result.rule)) for result in judgement.results]
    rules.append(_unreadable_rule())
    numbers: dict[str, int] = {rule["id"]: number for number, rule in enumerate(rules)}
    log = {
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [
            {
                "tool": {
                    "driver": {"name": "jurystrut", "semanticVersion": jurystrut.__version__, "rules": rules},
                },
                # The part before the last / is the category: records of several aircraft may share a repository.
                "automationDetails": {"id": f"jurystrut/{safe(judgement.folder)}"},
                "columnKind": "unicodeCodePoints",
                "invocations": [{"executionSuccessful": not judgement.problems, "exitCode": judgement.exit_status}],
                "results": [
                    _result(one, numbers[one.rule_id], place_of(judgement, one))
                    for one in noted(judgement)[:_MOST_RESULTS]
                ],
                "properties": {"stage": judgement.stage.value, "caution": CAUTION},
            }
        ],
    }
    return json.dumps(log, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _rule(rule: Rule, cited: tuple[Reference, ...]) -> dict[str, Any]:
    about = " ".join(rule.explanation.split())
    sources = [f"{reference}: {reference.says}" for reference in cited]
    text = "\n\n".join([about, f"What mends it: {rule.remedy}", *sources, CAUTION])
    worst_level = "error" if rule.at_worst is Verdict.FAIL else "warning"
    return _descriptor(rule.id, rule.title, rule.asks, text, worst_level, [rule.domain])


def _unreadable_rule() -> dict[str, Any]:
    asks = "Can all records be read?"
    text = f"What cannot be read cannot be judged. Correct the record at the place named.\n\n{CAUTION}"
    return _descriptor(UNREADABLE, "Records that can be read", asks, text, "error", ["records"])


def _descriptor(id_: str, title: str, asks: str, text: str, level: str, tags: list[str]) -> dict[str, Any]:
    return {
        "id": id_,
        "name": safe(title)[:255],
        "shortDescription": {"text": safe(title)[:_LONGEST_DESCRIPTION]},
        "fullDescription": {"text": safe(asks)[:_LONGEST_DESCRIPTION]},
        "help": {"text": safe(text)},
        "defaultConfiguration": {"level": level},
        "properties": {"tags": tags},
    }


def _result(one: Noted, number: int, place: Position) -> dict[str, Any]:
    text = " ".join(_sentence(part) for part in sentence(one.finding))
    result: dict[str, Any] = {
        "ruleId": one.rule_id,
        "ruleIndex": number,
        "level": one.level,
        "message": {"text": text},
        "partialFingerprints": {"primaryLocationLineHash": one.fingerprint},
        "locations": [_location(place)],  # without one, code scanning shows nothing
    }
    if one.places[1:]:
        result["relatedLocations"] = [
            {"id": count, **_location(other), "message": {"text": "the other record"}}
            for count, other in enumerate(one.places[1:_MOST_PLACES], start=1)
        ]
    return result


def _sentence(text: str) -> str:
    """Plain text: `[words](target)` would be shown as a link, so its two halves are kept apart."""
    plain = safe(" ".join(text.split())).replace("](", "] (")
    return plain if plain.endswith((".", "!", "?")) else plain + "."


def _location(place: Position) -> dict[str, Any]:
    # A pull request shows a finding only where all its lines are in the change: a region is one place in one line.
    region = {
        "startLine": place.line,
        "startColumn": place.column,
        "endLine": place.line,
        "endColumn": place.column + 1,
    }
    return {
        "physicalLocation": {
            "artifactLocation": {"uri": quote(place.file, safe="/", errors="surrogatepass")},
            "region": region,
        }
    }
