"""What is raised for a text that is no quantity of the kind wanted."""

from __future__ import annotations

__all__ = ["QuantityError", "shown"]


class QuantityError(ValueError):
    """The text is no quantity of the kind wanted; the message says what was found, what was wanted, and what to do."""


def shown(value: object) -> str:
    """A value as messages show it: quoted and short."""
    if value is None:
        return "no value"
    if isinstance(value, dict):
        return "a mapping"
    if isinstance(value, (list, tuple)):
        return "a list"
    text = repr(value)
    return text if len(text) <= 66 else text[:63] + "...'"
