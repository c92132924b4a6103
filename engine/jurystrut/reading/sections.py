"""Trees of many files -> one model a section; every record is checked alone, so that a bad one hides no other."""

from __future__ import annotations

from contextlib import suppress
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple, get_args, get_origin

from pydantic import ValidationError

from jurystrut.errors import Problem
from jurystrut.reading.messages import field_names, message_of, nearest
from jurystrut.records import LISTS, SECTIONS, section_model
from jurystrut.records.base import Record, is_record
from jurystrut.records.fields import parts_of
from jurystrut.tree import Listing, Mapping, position_of

if TYPE_CHECKING:
    from collections.abc import Container, Iterable

    from jurystrut.positions import Position
    from jurystrut.tree import Tree

__all__ = ["Checked", "check_mapping", "check_section", "gather", "record_in", "record_lists"]

_MOST_PROBLEMS_A_SECTION = 2000
_MOST_UNKNOWN_SECTIONS = 100


class Checked(NamedTuple):
    """A section checked: its model or tuple of records (None where it cannot stand), and what was wrong.

    `broken` are the ids of records that could not be checked, by list: other records may still name them.
    """

    value: Any
    problems: list[Problem]
    broken: dict[str, set[str]]


def gather(trees: Iterable[tuple[str, Tree]]) -> tuple[dict[str, Tree], list[Problem]]:
    """Join the sections of many files: lists grow, a field given in two files is a problem."""
    sections: dict[str, Tree] = {}
    problems: list[Problem] = []
    unknown = 0
    for file, tree in trees:
        if tree is None:
            continue
        if not isinstance(tree, Mapping):
            where = tree.position(0) if isinstance(tree, Listing) and tree else _start(file)
            problems.append(Problem(where, "wanted sections, such as 'electrical:' or 'weights:', at the left margin"))
            continue
        for name, body in tree.items():
            if name not in SECTIONS:
                unknown += 1
                if unknown > _MOST_UNKNOWN_SECTIONS:  # the list of what is known has been given often enough
                    continue
                message = f"unknown section '{name.strip()[:64]}'{_what_is_meant(name)}"
                problems.append(Problem(tree.where.of_key(name), message))
            elif not isinstance(body, Listing if name in LISTS else Mapping) and body is not None:
                problems.append(Problem(tree.where.of(name), _wrong_shape(name, body)))
            elif name not in sections:
                sections[name] = body
            else:
                problems.extend(_join(sections[name], body, tree.where.of(name)))
    return sections, problems


def _what_is_meant(name: str) -> str:
    """By a section that is not known."""
    if name != name.strip():  # YAML has taken away every blank that it knows
        return "; a blank that YAML does not know stands before it; retype the beginning of the line by hand"
    return nearest(name, SECTIONS) or f"; known: {', '.join(SECTIONS)}"


def _wrong_shape(name: str, body: Tree) -> str:
    """A section that would hold nothing, though its builder wrote something: it must not go by in silence."""
    found = (
        "a mapping" if isinstance(body, Mapping) else "a list" if isinstance(body, Listing) else repr(str(body)[:60])
    )
    if name in LISTS:
        return f"{name}: found {found}; wanted a list of records, each beginning with '- '"
    known = ", ".join(field_names(section_model(name))[:3])
    return f"{name}: found {found}; wanted fields below it, each its name, a colon and a blank: {known}, ..."


def _start(file: str) -> Position:
    from jurystrut.positions import Position

    return Position(file, 1, 1)


def _join(first: Tree, more: Tree, where: Position) -> Iterable[Problem]:
    """Put a section's second part to its first, in place; its lists grow, and nothing else may stand in both."""
    if isinstance(first, Listing) and isinstance(more, Listing):
        first.join(more)
        return
    if not (isinstance(first, Mapping) and isinstance(more, Mapping)):
        if more is not None:
            yield Problem(where, "this section is written as a list in one file and as a mapping in another")
        return
    for name, value in more.items():
        before = first.get(name)
        if isinstance(before, Listing) and isinstance(value, Listing):
            before.join(value)
        elif before is None and isinstance(value, Listing):  # a list that lost its last record here goes on there
            first[name] = value
        elif value is None and isinstance(before, Listing):
            continue
        elif name in first:
            message = f"'{name}' is given twice in this section, first at {first.where.of_key(name)}; keep one of them"
            yield Problem(more.where.of_key(name), message)
        else:
            first[name] = value
    last = first.where
    while last.also is not None:
        last = last.also
    last.also = more.where


def check_section(name: str, tree: Tree, context: dict[str, Any]) -> Checked:
    """Check one section's tree against its model."""
    model = section_model(name)
    problems: list[Problem] = []
    broken: dict[str, set[str]] = {}
    if name in LISTS:
        records = _records(name, tree, model, context, problems, broken)
        return Checked(records, problems, broken)
    return check_mapping(model, tree, context)


def check_mapping(model: type[Record], tree: Tree, context: dict[str, Any]) -> Checked:
    """Check one mapping of fields and lists of records against its model."""
    problems: list[Problem] = []
    broken: dict[str, set[str]] = {}
    if not isinstance(tree, Mapping):
        return Checked(None, problems, broken)
    # All at once, which is all there is to it where nothing is wrong; else record by record, so that the sound ones stand.
    with suppress(ValidationError):
        section = model.model_validate(tree, context=context)
        for field in record_lists(model):
            _slim(getattr(section, field))
        return Checked(section, problems, broken)
    for field, item in record_lists(model).items():
        if field in tree:
            where = tree.where.of(field)
            if tree[field] is not None and not isinstance(tree[field], Listing):
                problems.append(Problem(where, f"{field}: wanted a list of records, each beginning with '- '"))
            tree[field] = _records(field, tree[field], item, context, problems, broken)  # type: ignore[assignment]
    return Checked(_section(model, tree, context, problems), problems, broken)


@cache
def record_lists(model: type[Record]) -> dict[str, type[Record]]:
    """The fields of a model that are lists of records, and what records."""
    found: dict[str, type[Record]] = {}
    for name, info in model.model_fields.items():
        arguments = get_args(info.annotation)
        if get_origin(info.annotation) is tuple and is_record(arguments[0]):
            found[info.alias or name] = arguments[0]
    return found


def _records(
    name: str,
    tree: Tree,
    model: type[Record],
    context: dict[str, Any],
    problems: list[Problem],
    broken: dict[str, set[str]],
) -> tuple[Record, ...]:
    """The records of one list that can stand; the others leave a problem, and their id where it can be told."""
    good: list[Record] = []
    validate = model.model_validate
    for index, node in enumerate(tree if isinstance(tree, Listing) else ()):
        try:
            if len(problems) < _MOST_PROBLEMS_A_SECTION:
                good.append(validate(node, context=context))
                continue
        except ValidationError as error:
            if isinstance(tree, Listing):
                _note(error, model, node, tree.position(index), problems)
        if isinstance(node, Mapping) and isinstance(node.get("id"), str):
            broken.setdefault(name, set()).add(str(node["id"]))
    return tuple(good)


def _slim(records: Iterable[Record]) -> None:
    """Give back what pydantic keeps of which fields were given: nobody asks, and it is a sixth of all memory."""
    for record in records:
        object.__setattr__(record, "__pydantic_fields_set__", _NO_FIELDS)


_NO_FIELDS = set[str]()


def _section(model: type[Record], tree: Mapping, context: dict[str, Any], problems: list[Problem]) -> Record | None:
    """The section's own fields; one that cannot stand is left out, and the section tried again without it."""
    told: set[str] = set()
    for _ in range(2):
        try:
            return model.model_validate(tree, context=context)
        except ValidationError as error:
            _note(error, model, tree, tree.where.position, problems, told)
            told |= {str(detail["loc"][0]) for detail in error.errors(include_url=False)}
            for field in told:
                tree.pop(field, None)
    return None


def _note(
    error: ValidationError,
    model: type[Record],
    node: Tree,
    start: Position,
    problems: list[Problem],
    told: Container[str] = frozenset(),
) -> None:
    for detail in error.errors(include_url=False):
        if detail["type"] == "missing" and detail["loc"][0] in told:
            continue  # it was written, and taken out because it cannot stand
        if len(problems) >= _MOST_PROBLEMS_A_SECTION:
            return
        path = tuple(step for step in detail["loc"] if isinstance(step, (str, int)))
        fields = field_names(_model_at(model, path[:-1]))
        problem = Problem(_place(detail["type"], node, path) or start, message_of(detail, fields))
        if problem not in problems[-20:]:
            problems.append(problem)


def _place(kind: str, node: Tree, path: tuple[str | int, ...]) -> Position | None:
    """Where an error stands: an unknown field at its name, a missing one at its record, others at the value."""
    if kind == "extra_forbidden":
        holder: Any = node
        for step in path[:-1]:
            holder = holder[step]
        if isinstance(holder, Mapping):
            return holder.where.of_key(str(path[-1]))
    return position_of(node, path)


def _model_at(model: Any, path: tuple[str | int, ...]) -> Any:
    """The model of the record at the end of a path of fields and indexes; the last one met where the path leaves models."""
    for step in path:
        if isinstance(step, int):
            continue
        info = next((i for n, i in model.model_fields.items() if (i.alias or n) == step), None)
        inner = record_in(info.annotation) if info else None
        if inner is None:
            break
        model = inner
    return model


def record_in(annotation: Any) -> type[Record] | None:
    """The record model that an annotation holds: itself, optional, or in a tuple."""
    return next((part for part in parts_of(annotation) if is_record(part)), None)
