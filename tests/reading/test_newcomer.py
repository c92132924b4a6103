"""A hundred mistakes that a newcomer makes: the golden file `newcomer.yaml` holds what is said of each, word for word."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.records.schema import records_schema

CASES: list[dict[str, Any]] = yaml.safe_load(Path(__file__).with_name("newcomer.yaml").read_text("utf-8"))
SOUND = (
    RecordFile("aircraft.yaml", "aircraft: {name: Tern, authority: US, stage: design}\n"),
    RecordFile("known.yaml", "electrical:\n  buses: [{id: A}, {id: B}]\n"),
)


def said(text: str, *, alone: bool = False) -> list[str]:
    problems = read_files([*(() if alone else SOUND), RecordFile("records.yaml", text)]).problems
    return [f"{problem.position}: {problem.message}" for problem in problems]


def test_there_are_a_hundred_and_nothing_is_wrong_without_them() -> None:
    assert len({case["what"] for case in CASES}) >= 100
    assert said("electrical:\n  wires: [{id: W1, from: A, to: B}]\n") == []


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["what"])
def test_each_is_told_as_written_down(case: dict[str, Any]) -> None:
    assert case["says"], "a mistake must not go by in silence"
    assert said(case["text"], alone=case.get("alone", False)) == case["says"]
    for line in case["says"]:
        assert re.match(r"records\.yaml:\d+:\d+: \S", line)


@pytest.mark.parametrize("line_end", ["\r\n", "\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_a_byte_order_mark_change_no_place(line_end: str, mark: str) -> None:
    """As editors on Windows save it."""
    for case in (case for case in CASES if "\t" not in case["text"] and "not YAML" not in case["says"][0]):
        text = mark + case["text"].replace("\n", line_end)
        assert said(text, alone=case.get("alone", False)) == case["says"], case["what"]


def test_the_schema_refuses_what_an_editor_can_see() -> None:
    validator = jsonschema.Draft7Validator(records_schema())
    unseen = [case["what"] for case in CASES if case.get("shape") and validator.is_valid(yaml.safe_load(case["text"]))]
    assert unseen == []
