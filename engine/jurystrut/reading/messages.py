"""What a builder reads when a record does not fit its model."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, get_args

from jurystrut.records import LISTS, SECTIONS, section_model

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pydantic_core import ErrorDetails

__all__ = ["field_names", "message_of", "nearest"]


def nearest(word: str, known: Iterable[str]) -> str:
    """`; did you mean 'x'?` for the known word nearest to `word`, or nothing."""
    import difflib  # only where there is something to mend

    # Long lists are not worth the quadratic comparison: a thousand names are enough to find a slip of the pen.
    candidates = sorted(set(known))[:1000]
    folded = {candidate.lower(): candidate for candidate in candidates}
    close = difflib.get_close_matches(word.lower()[:64], folded, n=1, cutoff=0.6)
    return f"; did you mean '{folded[close[0]]}'?" if close else ""


def field_names(model: Any) -> list[str]:
    """The fields of a model as they are written in YAML."""
    return [info.alias or name for name, info in model.model_fields.items() if info.alias != "@where"]


def message_of(error: ErrorDetails, fields: Iterable[str]) -> str:
    """One error of pydantic's in a builder's words; `fields` are those that the record may have."""
    kind = error["type"]
    name = _name_of(error["loc"])
    context: dict[str, Any] = error.get("ctx") or {}
    if kind == "extra_forbidden":
        return f"unknown field '{name[:64]}'{_where_it_belongs(name, error['input'], list(fields))}"
    if error["input"] == "...":
        return f"{name}: '...' still stands here; write what is so, or take the line out"
    if kind == "missing" and len(error["loc"]) > 1 and isinstance(error["loc"][-1], int):
        return f"{error['loc'][-2]}: found a list of {error['loc'][-1]}; wanted one more in it"
    if kind == "too_long":
        return f"{name}: found a list of {context['actual_length']}; wanted {context['max_length']} in it"
    if kind == "missing":
        return f"'{name}' is missing; this record needs it"
    if kind in {"literal_error", "enum"}:
        return _not_a_choice(name, error["input"], str(context.get("expected", "")))
    said = str(context.get("error", "")) or f"found {_kind_of(error['input'])}; {_WANTED.get(kind, error['msg'])}"
    return f"{name}: {said}" if name else said


_FIELDS = "wanted fields in braces or below each other, each its name, a colon and a blank"
_WANTED = {
    "model_type": _FIELDS,
    "model_attributes_type": _FIELDS,
    "dict_type": "wanted names with their values, in braces: {name: value}",
    "tuple_type": "wanted a list: its parts in brackets, commas between them",
}


def _name_of(loc: Sequence[str | int]) -> str:
    """The field that an error is about, with the number of the part where it is a list."""
    if len(loc) > 1 and isinstance(loc[-1], int):
        return f"{loc[-2]}, part {loc[-1] + 1}"
    return str(loc[-1]) if loc and isinstance(loc[-1], str) else ""


def _where_it_belongs(name: str, value: object, known: Sequence[str]) -> str:
    """What was probably meant by a field that is not known here."""
    if value is None and " " in name:
        return "; put words that hold a comma in quotes"
    if hint := nearest(name, known):
        return hint
    if name in SECTIONS:
        return f"; it is a section: begin '{name}:' at the left margin"
    home = next((section for section in SECTIONS if section not in LISTS and name in _lists_of(section)), None)
    if home:
        return f"; it is a list of the section '{home}'"
    if name == "id":
        return "; an id belongs to a record, and a record begins with '- ' below the name of its list"
    return f"; known here: {', '.join(known)}"


@cache
def _lists_of(section: str) -> frozenset[str]:
    """The fields of a section that are lists of records."""
    fields = section_model(section).model_fields.items()
    return frozenset(
        name for name, info in fields if hasattr(next(iter(get_args(info.annotation)), None), "model_fields")
    )


def _kind_of(value: object) -> str:
    if value is None:
        return "no value"
    if isinstance(value, dict):
        return "a mapping"
    return "a list" if isinstance(value, (list, tuple)) else repr(value)[:60]


def _not_a_choice(name: str, value: object, expected: str) -> str:
    choices = expected.replace("'", "").replace(" or ", ", ")
    hint = nearest(value, choices.split(", ")) if isinstance(value, str) else ""
    return f"{name}: found {_kind_of(value)}; wanted one of {choices}{hint}"
