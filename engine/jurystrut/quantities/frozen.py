"""Values that cannot be changed.

Not dataclasses: of a generic dataclass, such as `Range[Temperature]`, pydantic builds a schema of its own (a mapping
of its fields) and never asks the class how it is read from text.
"""

from __future__ import annotations

from typing import Any

__all__ = ["Frozen"]


class Frozen:
    """Base of slotted values; `_parts` gives what the constructor takes, for copies."""

    __slots__ = ()

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} is immutable")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__} is immutable")

    def _parts(self) -> tuple[Any, ...]:
        raise NotImplementedError

    def __reduce__(self) -> tuple[Any, ...]:
        return type(self), self._parts()
