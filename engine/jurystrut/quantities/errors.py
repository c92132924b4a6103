"""What is raised for a text that is no quantity of the kind wanted."""

from __future__ import annotations

__all__ = ["QuantityError", "an", "shown"]

_LONGEST = 64


class QuantityError(ValueError):
    """The text is no quantity of the kind wanted; the message says what was found, what was wanted, and what to do."""


def shown(value: object) -> str:
    """A value as messages show it: quoted, escaped, at most 64 characters."""
    if value is None:
        return "no value"
    if not isinstance(value, str):
        # Never the value itself: a nested list or a number of a million digits has no short form.
        kind = type(value).__name__
        return {"dict": "a mapping", "list": "a list", "tuple": "a list"}.get(kind) or an(kind)
    quoted = repr(value[:_LONGEST])
    return quoted if len(quoted) <= _LONGEST and len(value) <= _LONGEST else f"{quoted[: _LONGEST - 4]}...{quoted[0]}"


def an(noun: str) -> str:
    """The noun with its article."""
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"
