"""A new build repository: one commented file a section, made of the record models, so that it can never fall behind them."""

from __future__ import annotations

import json
import re
import textwrap
from itertools import count
from typing import TYPE_CHECKING, Any, NamedTuple, get_args, get_origin

from jurystrut.reading.sections import record_in
from jurystrut.records import LISTS, SECTIONS, section_model
from jurystrut.records.gates import GATES_FILE, Gates
from jurystrut.records.schema import field_descriptions, gates_schema, records_schema

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.base import Record

__all__ = ["Answers", "scaffold"]

_SCHEMA = "records.schema.json"
_GATES_SCHEMA = ".jurystrut.schema.json"
_MODELINE = f"# yaml-language-server: $schema={_SCHEMA}"
_ID = "\0"  # stands for an example of an id until it is numbered; no answer of a builder can hold it
_EXAMPLE = re.compile(r",? *[Ff]or example (?P<example>.+?)\.?$")


class Answers(NamedTuple):
    """What is known of the aircraft when its records begin."""

    name: str
    authority: str
    stage: str
    operations: tuple[str, ...]
    seats: str


def scaffold(answers: Answers, lists: Mapping[str, str]) -> Mapping[str, str]:
    """The files of a new build repository by name; all of it reads clean.

    All but the aircraft is still a comment, and but for the `lists` that the builder has, records as text by the list's name.
    """
    files = {f"{name}.yaml": _section(name) for name in SECTIONS if name not in LISTS and name != "aircraft"}
    papers = [_MODELINE, "# Papers. Take the # away from what you have, and write what is so."]
    for name in (name for name in SECTIONS if name in LISTS):
        papers += ["", *_wrapped(_first_line(section_model(name))), f"# {name}:", *_record(section_model(name), "#   ")]
    return {
        "aircraft.yaml": _numbered(_aircraft(answers)),
        **{file: _numbered(text) for file, text in files.items()},
        "papers.yaml": _numbered("\n".join(papers) + "\n"),
        **{f"{name}-list.yaml": f"{_MODELINE}\n{text}" for name, text in lists.items()},
        _SCHEMA: json.dumps(records_schema(), indent=1, ensure_ascii=False) + "\n",
        GATES_FILE: _gates(),
        _GATES_SCHEMA: json.dumps(gates_schema(), indent=1, ensure_ascii=False) + "\n",
    }


def _gates() -> str:
    lines = [
        f"# yaml-language-server: $schema={_GATES_SCHEMA}",
        "# What stops a commit, where git asks `jurystrut gate`: whatever fails, as long as nothing else stands here.",
        *_fields(Gates, "# "),
    ]
    return "\n".join(lines) + "\n"


def _aircraft(answers: Answers) -> str:
    known = {
        "name": json.dumps(answers.name, ensure_ascii=False),
        "authority": json.dumps(answers.authority, ensure_ascii=False),
        "stage": answers.stage,
        "operations": f"[{', '.join(answers.operations)}]",
        "seats": answers.seats,
    }
    lines = [
        _MODELINE,
        "# The aircraft. When the build goes on, change `stage`: jurystrut then asks for what that stage needs.",
        "aircraft:",
        *(f"  {field}: {value}" for field, value in known.items()),
        "  # Take the # away from what you know, and write what is so.",
        *_fields(section_model("aircraft"), "  # ", leave_out=known.keys()),
    ]
    return "\n".join(lines) + "\n"


def _section(name: str) -> str:
    model = section_model(name)
    lines = [_MODELINE, f"# Take the # away from `{name}:` and from what you have, and write what is so.", f"# {name}:"]
    return "\n".join([*lines, *_fields(model, "#   ")]) + "\n"


def _fields(model: type[Record], before: str, leave_out: Any = ()) -> Iterator[str]:
    """A section's or record's own fields; one that is a list of records shows one record."""
    texts = field_descriptions(model)
    for name, info in model.model_fields.items():
        field = info.alias or name
        if field == "@where" or field in leave_out:
            continue
        inner = _listed(info.annotation)
        if inner:
            yield f"{before}{field}:" + _comment(texts.get(field, ""))
            yield from _record(inner, before + "  ")
        elif held := record_in(info.annotation):
            yield f"{before}{field}:" + _comment(texts.get(field, ""))
            yield from _fields(held, before + "  ")
        else:
            yield _line(field, texts.get(field, ""), before)


def _record(model: type[Record], before: str) -> Iterator[str]:
    """One example of a record: what it must have, and below it what it may have."""
    must = {info.alias or name for name, info in model.model_fields.items() if info.is_required()}
    texts = field_descriptions(model)
    fields = [field for name, info in model.model_fields.items() if (field := info.alias or name) != "@where"]
    ordered = sorted(fields, key=lambda field: field not in must)
    for place, field in enumerate(ordered):
        dash = "- " if place == 0 else "  "
        text = texts.get(field, "")
        yield _line(field, f"Needed. {text}" if field in must and field != "id" else text, before + dash)


def _line(field: str, text: str, before: str) -> str:
    example = _EXAMPLE.search(text)
    value = example["example"] if example else _ID if field == "id" else "..."
    said = text[: example.start()] if example else text
    return f"{before}{field}: {value}" + _comment(said)


def _numbered(text: str) -> str:
    """Every example of an id another, so that they can stand together in a section."""
    numbers = count(1)
    return re.sub(_ID, lambda _: f"EXAMPLE-{next(numbers)}", text)


def _comment(text: str) -> str:
    words = " ".join(text.split()).rstrip(".")
    return f"  # {words}" if words else ""


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, 110, initial_indent="# ", subsequent_indent="# ")


def _first_line(model: type[Record]) -> str:
    return " ".join((model.__doc__ or "").partition("\n\n")[0].split())


def _listed(annotation: Any) -> type[Record] | None:
    """The record that a field lists; None where it holds anything else."""
    arguments = get_args(annotation)
    is_record = get_origin(annotation) is tuple and hasattr(arguments[0], "model_fields")
    return arguments[0] if is_record else None
