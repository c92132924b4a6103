"""The record models as JSON Schemas, for editors: these complete fields, explain them, and underline what has no place.

A schema sees the shape of one file alone. Whether an id exists or a limit holds, only reading and judging can tell.
"""

from __future__ import annotations

import ast
import inspect
import re
from functools import cache
from typing import TYPE_CHECKING, Any, get_args

from jurystrut.records import LISTS, SECTIONS, section_model
from jurystrut.records.base import Record
from jurystrut.records.gates import Gates

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Iterator

__all__ = ["field_descriptions", "gates_schema", "records_schema"]

_DRAFT = "http://json-schema.org/draft-07/schema#"
_EXAMPLE = re.compile(r"for example (?P<example>[^;]+?)\.?$")


def records_schema() -> dict[str, Any]:
    """The schema of any file of a build repository, in draft 07, which every editor reads.

    No section is required, and none of a section's own fields: they may stand in another file.
    """
    mappings = {section_model(name) for name in SECTIONS if name not in LISTS}
    places, definitions = _definitions([section_model(name) for name in SECTIONS], mappings)
    sections = {name: _section(name, places[section_model(name)]) for name in SECTIONS}
    return {
        "$schema": _DRAFT,
        "title": "Records of one amateur-built aeroplane",
        "description": "A file of a build repository: one or more sections.",
        "type": "object",
        "properties": sections,
        "additionalProperties": False,
        "definitions": definitions,
    }


def gates_schema() -> dict[str, Any]:
    """The schema of the file in which a builder says what stops a commit."""
    _, definitions = _definitions([Gates], {Gates})
    return {"$schema": _DRAFT, "title": "What stops a commit", **definitions.pop("Gates"), "definitions": definitions}


_Places = dict[type[Record], dict[str, Any]]


def _definitions(roots: Iterable[type[Record]], files: Container[type[Record]]) -> tuple[_Places, dict[str, Any]]:
    """References to these models, and all definitions that they lead to.

    Of `files`, models whose fields stand at the left margin or right below it, nothing is required, and a list may be empty.
    """
    from pydantic.json_schema import models_json_schema

    models = sorted(_models(roots), key=lambda model: (model.__module__, model.__name__))
    places, whole = models_json_schema(
        [(model, "validation") for model in models], ref_template="#/definitions/{model}"
    )
    definitions: dict[str, Any] = whole.get("$defs", {})
    for (model, _), place in places.items():
        definition = definitions[place["$ref"].rpartition("/")[2]]
        _describe(definition, model)
        if model in files:
            definition.pop("required", None)
            for prop in definition["properties"].values():
                if prop.get("type") == "array" and "$ref" in prop["items"]:
                    prop["type"] = ["array", "null"]  # somebody is about to fill it
    found = {model: places[model, "validation"] for model in models}
    return found, {name: _plain(definition) for name, definition in sorted(definitions.items())}


def _section(name: str, place: dict[str, Any]) -> dict[str, Any]:
    """An empty section is allowed: somebody is about to fill it."""
    body = {"type": "array", "items": place} if name in LISTS else place
    return {"description": _first_line(section_model(name)), "anyOf": [body, {"type": "null"}]}


def _models(roots: Iterable[type[Record]]) -> set[type[Record]]:
    """Every record model that these are made of."""
    found: set[type[Record]] = set()
    waiting = [*roots]
    while waiting:
        model = waiting.pop()
        if model not in found:
            found.add(model)
            waiting += [inner for info in model.model_fields.values() for inner in _records_in(info.annotation)]
    return found


def _records_in(annotation: Any) -> Iterator[type[Record]]:
    if isinstance(annotation, type) and issubclass(annotation, Record):
        yield annotation
    for argument in get_args(annotation):
        yield from _records_in(argument)


def _describe(definition: dict[str, Any], model: Any) -> None:
    """Give every property the line of text below its field, and the example in it."""
    texts = field_descriptions(model)
    definition["description"] = _first_line(model)
    for name, prop in definition.get("properties", {}).items():
        text = texts.get(name, "")
        _or_null(prop)
        kinds = [prop, *prop.get("anyOf", ())]
        unit = next((kind["description"] for kind in kinds if "description" in kind), "")
        for kind in kinds[1:]:  # editors show the words of an alternative instead of the field's own
            prop["examples"] = kind.pop("examples", prop.get("examples", []))
            kind.pop("description", None)
        if "$ref" in prop:  # in draft 07 nothing beside a reference counts
            prop["allOf"] = [{"$ref": prop.pop("$ref")}]
        prop["description"] = " ".join(filter(None, [text, _how_written(unit, text)]))
        example = _EXAMPLE.search(text)
        if example and not any("$ref" in kind or kind.get("type") == "array" for kind in kinds):
            prop["examples"] = [example["example"]]
        elif not prop.get("examples"):
            prop.pop("examples", None)


def _or_null(prop: dict[str, Any]) -> None:
    """One type of two names in place of two alternatives: of these, editors would not say what is wanted."""
    match prop.get("anyOf"):
        case [{"type": _} as kind, {"type": "null"}] if not {"enum", "const"} & kind.keys():
            del prop["anyOf"]
            types = kind["type"] if isinstance(kind["type"], list) else [kind["type"]]
            prop.update(kind, type=[*types, "null"])


def _how_written(unit: str, text: str) -> str:
    """Which kind of quantity or word the field wants; nothing where the field's own text has said all."""
    return "" if unit in {"", "words"} or unit in text else f"Written as {unit}."


@cache
def field_descriptions(model: type[Record]) -> dict[str, str]:
    """What each field of a record means, by its name in YAML: the text that stands below it in the model's source."""
    texts: dict[str, str] = {}
    for base in reversed(model.__mro__):
        if issubclass(base, Record):
            texts |= _texts_below(_class_body(base))
    return {info.alias or name: texts[name] for name, info in model.model_fields.items() if name in texts}


@cache
def _class_body(model: type) -> list[ast.stmt]:
    tree = ast.parse(inspect.getsource(model))
    node = tree.body[0]
    return node.body if isinstance(node, ast.ClassDef) else []


def _texts_below(body: Iterable[ast.stmt]) -> dict[str, str]:
    texts: dict[str, str] = {}
    field = ""
    for node in body:
        match node:
            case ast.AnnAssign(target=ast.Name(id=name)):
                field = name
            case ast.Expr(value=ast.Constant(value=str(text))) if field:
                texts[field], field = inspect.cleandoc(text), ""
            case _:
                field = ""
    return texts


def _first_line(model: type) -> str:
    return inspect.cleandoc(model.__doc__ or "").partition("\n\n")[0]


def _plain(node: Any) -> Any:
    """Draft 07 of what pydantic writes for 2020-12; without the titles and empty defaults that an editor would insert."""
    if isinstance(node, list):
        return [_plain(item) for item in node]
    if not isinstance(node, dict):
        return node
    plain = {key: _plain(value) for key, value in node.items() if key != "title" or isinstance(value, dict)}
    if plain.get("default") in (None, [], {}) and "default" in plain:
        del plain["default"]
    if "prefixItems" in plain:
        plain["items"] = plain.pop("prefixItems")
        plain["additionalItems"] = False
    return plain
