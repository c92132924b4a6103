"""What a builder reads when a record does not fit its model."""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pydantic_core import ErrorDetails

__all__ = ["field_names", "message_of", "nearest"]


def nearest(word: str, known: Iterable[str]) -> str:
    """`; did you mean 'x'?` for the known word nearest to `word`, or nothing."""
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
    name = str(error["loc"][-1]) if error["loc"] else ""
    context: dict[str, Any] = error.get("ctx") or {}
    if kind == "extra_forbidden":
        known = list(fields)
        return f"unknown field '{name[:64]}'{nearest(name, known) or '; known here: ' + ', '.join(known)}"
    if kind == "missing" and len(error["loc"]) > 1 and isinstance(error["loc"][-1], int):
        return f"{error['loc'][-2]}: found a list of {name}; wanted one more in it"
    if kind == "missing":
        return f"'{name}' is missing; this record needs it"
    if kind in {"literal_error", "enum"}:
        return _not_a_choice(name, error["input"], str(context.get("expected", "")))
    said = str(context.get("error", "")) or f"found {_kind_of(error['input'])}; {_WANTED.get(kind, error['msg'])}"
    return f"{name}: {said}" if name else said


_WANTED = {
    "model_type": "wanted a mapping of fields",
    "model_attributes_type": "wanted a mapping of fields",
    "dict_type": "wanted a mapping",
    "tuple_type": "wanted a list",
    "too_long": "wanted a shorter list",
}


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
