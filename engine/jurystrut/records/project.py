"""All the records of one aircraft, read and checked."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping

    from jurystrut.errors import Problem
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.base import Named
    from jurystrut.records.evidence import EvidenceFile

__all__ = ["Project"]


@dataclass(frozen=True, slots=True)
class Project:
    """One build repository, as far as it could be read.

    `sections` holds each section's model, or a tuple of records for one that is a list, such as `documents`;
    `index` finds a record by section, or by section and list (`weights.stations`), and id. `evidence` holds every file
    that a record names, by its path; None where nobody looked, as when records are read without their folder. `trial` says
    what was changed for a trial, and is empty where these are the records themselves.
    """

    sections: Mapping[str, Any]
    index: Mapping[str, Mapping[str, Named]]
    problems: tuple[Problem, ...] = ()
    files: tuple[str, ...] = field(default=())
    evidence: Mapping[str, EvidenceFile] | None = None
    trial: tuple[str, ...] = ()

    @property
    def aircraft(self) -> Aircraft | None:
        """The section `aircraft`, or None where it is missing or could not be read."""
        aircraft: Aircraft | None = self.sections.get("aircraft")
        return aircraft
