"""What people and machines read of a judgement."""

from __future__ import annotations

import datetime
import json
import math
import re
from typing import TYPE_CHECKING, Any

import jsonschema
import pytest

from jurystrut.judge import CAUTION, Judgement, Rulebook, judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.reports.json_ import write as write_json
from jurystrut.reports.plain import safe
from jurystrut.reports.text import write as write_text
from jurystrut.testing import installed

if TYPE_CHECKING:
    from collections.abc import Mapping

DAY = datetime.date(2026, 6, 1)

# design.md section 7, written as a schema: the keys are exactly these.
PLACE: dict[str, Any] = {
    "type": "object",
    "additionalProperties": False,
    "required": ["file", "line", "column"],
    "properties": {
        "file": {"type": "string"},
        "line": {"type": "integer", "minimum": 1},
        "column": {"type": "integer", "minimum": 1},
    },
}
VERDICT: dict[str, Any] = {"enum": ["pass", "warn", "fail", "no-data", "not-due", "not-applicable"]}
AMOUNT: dict[str, Any] = {
    "type": ["object", "null"],
    "additionalProperties": False,
    "required": ["value", "unit"],
    "properties": {"value": {"type": ["number", "null"]}, "unit": {"type": "string"}},
}
LIMIT = {
    **AMOUNT,
    "required": ["value", "unit", "sense"],
    "properties": {**AMOUNT["properties"], "sense": {"enum": ["at-most", "at-least"]}},
}
FINDING_KEYS = {
    "verdict": VERDICT,
    "subject": {"type": "string"},
    "message": {"type": "string"},
    "measured": AMOUNT,
    "limit": LIMIT,
    "margin": {"type": ["number", "null"]},
    "where": {"type": "array", "items": PLACE},
    "remedy": {"type": ["string", "null"]},
    "deviation": {"type": ["string", "null"]},
}
REFERENCE_KEYS = {
    "document": {"type": "string"},
    "section": {"type": "string"},
    "edition": {"type": "string"},
    "kind": {"enum": ["regulation", "guidance", "standard", "common-practice"]},
}


def closed(properties: Mapping[str, object]) -> dict[str, object]:
    return {"type": "object", "additionalProperties": False, "required": list(properties), "properties": properties}


RULE_KEYS = {
    "id": {"type": "string"},
    "title": {"type": "string"},
    "verdict": VERDICT,
    "references": {"type": "array", "minItems": 1, "items": closed(REFERENCE_KEYS)},
    "findings": {"type": "array", "minItems": 1, "items": closed(FINDING_KEYS)},
}
SCHEMA = closed(
    {
        "schema": {"const": "jurystrut/judgement/1"},
        "tool": closed({"name": {"const": "jurystrut"}, "version": {"type": "string"}}),
        "project": closed(
            {
                "name": {"type": ["string", "null"]},
                "authority": {"type": ["string", "null"]},
                "stage": {"type": "string"},
                "revision": {"type": ["string", "null"]},
            }
        ),
        "verdict": VERDICT,
        "summary": closed({v: {"type": "integer"} for v in VERDICT["enum"]}),
        "rules": {"type": "array", "items": closed(RULE_KEYS)},
        "errors": {"type": "array", "items": closed({**PLACE["properties"], "message": {"type": "string"}})},
        "caution": {"const": CAUTION},
    }
)

RECORDS = """\
aircraft: {name: Test, authority: US, stage: systems, operations: [day-vfr], limits: {altitude: 10000 ft}}
electrical:
  nominal_voltage: 14 V
  sources: [{id: BAT, kind: battery}]
  grounds: [{id: G, kind: single-point}]
  buses: [{id: MAIN}]
  protection:
    - {id: F1, kind: blade-fuse, rating: 30 A, fed_from: MAIN, reachable_in_flight: false}
  loads: [{id: L, current: 2 A, nature: led, duty: {cruise: 100 %}}]
  wires:
    - {id: W0, from: BAT, to: MAIN, size: 4 AWG, length: 10 in, spec: M22759/16, serves: starter-feeder}
    - {id: W1, from: F1, to: L, size: 20 AWG, length: 30 in, spec: M22759/16}
    - {id: W2, from: L.return, to: G, size: 20 AWG, length: 30 in, spec: M22759/16}
    - {id: W3, from: BAT.return, to: G, size: 4 AWG, length: 30 in, spec: M22759/16, serves: starter-feeder}
"""


def judgement_of(records: str, only: str = "") -> Judgement:
    book = installed()
    rules = tuple(rule for rule in book.rules if only in rule.id)
    return judge(
        read_files([RecordFile("a.yaml", records)]), Rulebook(rules, book.facts, book.references, book.packs), on=DAY
    )


def test_json_has_exactly_the_shape_of_the_contract() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    jsonschema.validate(json.loads(write_json(judgement_of(RECORDS))), SCHEMA)
    jsonschema.validate(json.loads(write_json(judgement_of("electrical: {wires: [{id: '?'}]}\n"))), SCHEMA)


def test_the_same_records_give_the_same_bytes() -> None:
    assert write_json(judgement_of(RECORDS)) == write_json(judgement_of(RECORDS))
    assert write_text(judgement_of(RECORDS)) == write_text(judgement_of(RECORDS))


def test_infinite_numbers_become_null() -> None:
    data = json.loads(write_json(judgement_of(RECORDS, "wire-protection")))
    assert "Infinity" not in write_json(judgement_of(RECORDS, "wire-protection"))
    assert data["summary"]["fail"] == 1


def test_text_is_as_people_read_it() -> None:
    text = write_text(judgement_of(RECORDS, "electrical/wire-protection"))
    assert text == (
        "Test, authority US, judged at stage systems on 2026-06-01\n"
        "\n"
        "ELECTRICAL\n"
        "\n"
        "electrical/wire-protection  Wire protected by what feeds it\n"
        "  FAIL    W1: 30 A can reach this 20 AWG wire before anything opens; it carries\n"
        "          15.9 A as installed\n"
        "          30 A, wanted at most 15.88 A: 88.9 % outside\n"
        "          at a.yaml:12:39\n"
        "          mend: Protect it with 15 A or less, or fit a thicker wire.\n"
        "  FAIL    W2: 30 A can reach this 20 AWG wire before anything opens; it carries\n"
        "          15.9 A as installed\n"
        "          30 A, wanted at most 15.88 A: 88.9 % outside\n"
        "          at a.yaml:13:45\n"
        "          mend: Protect it with 15 A or less, or fit a thicker wire.\n"
        "  source: FAA AC 43.13-1B paragraph 11-48 (9/8/98 with Change 1 of 9/27/01); a\n"
        "    yardstick, it does not bind an amateur-built aircraft, read in a copy\n"
        "\n"
        "Verdict: FAIL, of 1 rules: 1 FAIL.\n"
        "jurystrut advises; it certifies nothing. It knows only what the records say and\n"
        "can be wrong. The local authority, its inspectors and licensed people decide.\n"
    )
    # The 15.88 A: 2.206 x 80^0.461 = 16.63 A in free air at a rise of 80 degC, times 0.955 at 10,000 ft.
    assert 2.206 * math.pow(80, 0.461) * 0.955 == pytest.approx(15.88, abs=0.01)


def test_text_fits_eighty_columns_and_colour_carries_no_meaning() -> None:
    judgement = judgement_of(RECORDS)
    plain, coloured = write_text(judgement), write_text(judgement, coloured=True)
    assert max(len(line) for line in plain.splitlines()) <= 80
    assert re.sub("\x1b\\[[0-9;]*m", "", coloured) == plain


NASTY = ["\x1b[2J", "a\rb", "\x9b31m", "\u202egnp", "\u2028", "::error::x", "\x00", "\ud800"]


@pytest.mark.parametrize("text", NASTY)
def test_nothing_a_terminal_would_obey_gets_through(text: str) -> None:
    shown = safe(text)
    assert all(character.isprintable() for character in shown)


def test_a_clean_run_is_short() -> None:
    text = write_text(judgement_of(RECORDS.replace("rating: 30 A", "rating: 5 A"), "wire-protection"))
    assert len(text.splitlines()) == 5
