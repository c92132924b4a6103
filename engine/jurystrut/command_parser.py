"""The parser of one command among many."""

from __future__ import annotations

import argparse
from typing import Any

__all__ = ["CommandParser"]


class CommandParser(argparse.ArgumentParser):
    """One command's parser; it is made when its command is the one asked for, since there are twenty of them."""

    def __init__(self, **how: Any) -> None:
        self._how: dict[str, Any] | None = how
        self._waiting: list[tuple[tuple[str, ...], dict[str, Any]]] = []
        self._given: dict[str, Any] = {}

    def add_argument(self, *names: str, **how: Any) -> Any:
        """As argparse has it, but kept for later, and giving nothing back, while the parser is not made."""
        if self._how is None:
            return super().add_argument(*names, **how)
        return self._waiting.append((names, how))

    def set_defaults(self, **values: Any) -> None:
        """As argparse has it, but kept for later."""
        self._given |= values

    def declared(self) -> CommandParser:
        """The parser made, with all its arguments."""
        if self._how is not None:
            how, self._how = self._how, None
            super().__init__(**how)
            for names, argument in self._waiting:
                self.add_argument(*names, **argument)
            super().set_defaults(**self._given)
        return self

    def parse_known_args(self, *arguments: Any) -> Any:  # type: ignore[override]
        """As argparse has it."""
        self.declared()
        return super().parse_known_args(*arguments)
