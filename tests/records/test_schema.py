"""The schema against the validator of JSON Schema: the example is valid, and what has no shape is not."""

from __future__ import annotations

import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from jurystrut.cli import main
from jurystrut.records import SECTIONS
from jurystrut.records.schema import gates_schema, records_schema

ROOT = Path(__file__).parents[2]
EXAMPLES = [
    path
    for folder in ("project_example", "tests/examples", "tests/aircraft")
    for path in sorted((ROOT / folder).rglob("*.yaml"))
    if not path.name.startswith(".")
]


@cache
def validator() -> Any:
    schema = records_schema()
    jsonschema.Draft7Validator.check_schema(schema)
    return jsonschema.Draft7Validator(schema)


def as_text(text: str) -> Any:
    """Every scalar as text, as reading takes it."""
    return yaml.load(text, yaml.BaseLoader)  # noqa: S506 - it makes nothing but text, lists and mappings


def as_editor(text: str) -> Any:
    """Scalars typed by their look, as an editor takes them: YAML 1.2, section 10.3.2, where `on` and `yes` are words."""
    return typed(as_text(text))


def typed(tree: Any) -> Any:
    if isinstance(tree, dict):
        return {key: typed(value) for key, value in tree.items()}
    if isinstance(tree, list):
        return [typed(value) for value in tree]
    if tree in {"", "null", "~"}:
        return None
    if re.fullmatch("[Tt]rue|TRUE|[Ff]alse|FALSE", tree):
        return tree.lower() == "true"
    return float(tree) if re.fullmatch(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", tree) else tree


@pytest.mark.parametrize("loaded", [as_text, as_editor])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_every_file_of_the_example_is_valid(path: Path, loaded: Any) -> None:
    assert [error.message for error in validator().iter_errors(loaded(path.read_text("utf-8")))] == []


@pytest.mark.parametrize(
    "text",
    [
        "electrcal: {}",
        "electrical: {busses: []}",
        "electrical: {buses: {id: MAIN}}",
        "electrical: {buses: [MAIN]}",
        "electrical: {buses: [{what: main}]}",
        "electrical: {buses: [{id: MAIN, ratng: 80 A}]}",
        "electrical: {buses: [{id: MAIN, rating: 80}]}",
        "electrical: {buses: [{id: MAIN, rating: 80 amperez}]}",
        "electrical: {buses: [{id: MAIN, rating: 80 lb}]}",
        "electrical: {wires: [{id: W1, from: A, to: B, size: 18}]}",
        "electrical: {bundles: [{id: B1, ambient: 50 degrees}]}",
        "electrical: {buses: [{id: A B}]}",
        "electrical: {sources: [{id: B, kind: batery}]}",
        "electrical: {switches: [{id: S, kind: toggle, guarded: maybe}]}",
        "electrical: {switches: [{id: S, kind: toggle, contacts: [{joins: [a, b, c]}]}]}",
        "documents: {id: D}",
        "documents: [{id: D, kind: x, day: 3 May}]",
    ],
)
def test_what_has_no_shape_is_not_valid(text: str) -> None:
    assert list(validator().iter_errors(as_editor(text)))


@pytest.mark.parametrize(
    "text", ["electrical:", "electrical: {buses: }", "electrical: {nominal_voltage: }", "documents:"]
)
def test_what_somebody_is_about_to_fill_is_valid(text: str) -> None:
    assert list(validator().iter_errors(as_editor(text))) == []


def test_the_gates_of_the_example_are_valid_and_slips_in_them_are_not() -> None:
    schema = gates_schema()
    jsonschema.Draft7Validator.check_schema(schema)
    gates = jsonschema.Draft7Validator(schema)
    text = (ROOT / "project_example" / ".jurystrut.yaml").read_text("utf-8")
    assert list(gates.iter_errors(as_editor(text))) == []
    assert list(gates.iter_errors({"gates": None})) == []
    for slip in (
        "gates: {stops: [fail]}",
        "gates: [{stops: [fails]}]",
        "gates: [{stops: [fail], form: systems}]",
        "gates: [{domains: [weights]}]",
        "margins: [{rule: weights, keep: 10}]",
        "margins: [{rule: weights, keep: 10 lb}]",
        "baseline: [{rule: a/b, subject: X, verdict: warn, until: 3 May, reason: x}]",
        "gate: []",
    ):
        assert list(gates.iter_errors(as_editor(slip))), slip


def test_every_section_and_every_field_is_explained() -> None:
    schema = records_schema()
    assert list(schema["properties"]) == list(SECTIONS)
    silent = [
        f"{name}.{field}"
        for name, definition in (schema["definitions"] | gates_schema()["definitions"]).items()
        for field, described in definition.get("properties", {}).items()
        if not described.get("description")
    ]
    assert silent == []


def test_examples_and_units_come_along() -> None:
    rating = records_schema()["definitions"]["Bus"]["properties"]["rating"]
    assert rating["examples"] == ["80 A"]
    assert "a current" in rating["description"]


def test_nothing_but_draft_07_is_used() -> None:
    text = json.dumps(records_schema())
    assert not [word for word in ('"$defs"', '"prefixItems"', '"unevaluated', '"dependent') if word in text]


def test_the_command_writes_it(tmp_path: Path) -> None:
    assert main(["schema", "-o", str(tmp_path / "s.json")]) == 0
    assert json.loads((tmp_path / "s.json").read_text("utf-8")) == records_schema()
    assert main(["schema", "gates", "-o", str(tmp_path / "g.json")]) == 0
    assert json.loads((tmp_path / "g.json").read_text("utf-8")) == gates_schema()
