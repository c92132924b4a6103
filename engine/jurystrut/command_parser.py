"""The parser of one command among many."""

from __future__ import annotations

import argparse
from typing import Any

__all__ = ["CommandParser"]


class CommandParser(argparse.ArgumentParser):
    """One command's parser; it learns its arguments when it is the one asked for, since there are twenty of them."""

    def __init__(self, **how: Any) -> None:
        self._waiting: list[tuple[tuple[str, ...], dict[str, Any]]] = []
        super().__init__(**how)

    def add_argument(self, *names: str, **how: Any) -> None:  # type: ignore[override]
        """As argparse has it, but kept for later; gives nothing back."""
        self._waiting.append((names, how))

    def declared(self) -> CommandParser:
        """The parser with all its arguments."""
        waiting, self._waiting = self._waiting, []
        for names, how in waiting:
            super().add_argument(*names, **how)
        return self

    def parse_known_args(self, *arguments: Any) -> Any:  # type: ignore[override]
        """As argparse has it, with all arguments."""
        self.declared()
        return super().parse_known_args(*arguments)
