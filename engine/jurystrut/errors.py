"""Everything that jurystrut raises or collects when it cannot go on.

    JurystrutError          whatever the user can mend; printed as one line, exit status 2
    |-- UsageError          the command was wrong: no such folder, no such rule
    |-- PackError           a rule pack declares something that does not hold together
    `-- MissingRecord       a rule asks for a record that is not there; becomes a `no-data` finding

A mistake in a record is not an exception: it is a `Problem`, collected with all others and reported together.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from jurystrut.positions import Position, Spot

__all__ = ["JurystrutError", "MissingRecord", "PackError", "Problem", "UsageError"]


class JurystrutError(Exception):
    """Base of everything that the user, not the program, can mend."""


class UsageError(JurystrutError):
    """The command names something that is not there."""


class PackError(JurystrutError):
    """A rule pack is inconsistent; the message names pack, rule and parameter."""


class MissingRecord(JurystrutError):
    """A rule needs a record that the build repository does not hold.

    `where` points at the place in the records where a reader would look for it.
    """

    def __init__(self, message: str, *where: Spot) -> None:
        super().__init__(message)
        self.where = where


class Problem(NamedTuple):
    """One thing in the records that cannot be read, at its place."""

    position: Position
    message: str
