"""Sound records to sow into: their entries, values and faults, and which entries have to do with which."""

from __future__ import annotations

from collections import defaultdict
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from tests.faults.seeds import faults
from tests.faults.slips import slips
from tests.faults.sound import unchanged
from tests.faults.trial import Key, Trials
from tests.faults.values import Entry, Files, Place, Value, entries, values

from jurystrut.reading.files import record_files
from jurystrut.rulebook import Stage, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tests.faults.seeds import Fault
    from tests.faults.sound import Unchanged

    from jurystrut.rulebook import Finding

__all__ = ["Ground", "example"]

_CANDIDATES = 16
"""So many values are tried for each limit, the nearest first."""


_NUMBERS = frozenset({"quantity", "count", "gauge", "day", "instant"})


class Ground:
    """Sound records, judged at one stage."""

    def __init__(self, files: Files, stage: Stage) -> None:
        self.trials = Trials(files, stage)
        self.entries = list(entries(files))
        self.values = list(values(self.entries, files))
        self._by_id: dict[str, list[Entry]] = defaultdict(list)
        self._naming: dict[str, list[Entry]] = defaultdict(list)
        self._at: dict[Place, Entry] = {entry.places[0]: entry for entry in self.entries}
        self._values_at: dict[Place, list[Value]] = defaultdict(list)
        self._sections: dict[str, list[Entry]] = defaultdict(list)
        for entry in self.entries:
            self._sections[entry.section].append(entry)
            if entry.id:
                self._by_id[entry.id].append(entry)
            for name in _names(entry):
                self._naming[name].append(entry)
        for value in self.values:
            for place in value.entry.places:
                self._values_at[place].append(value)

    @cached_property
    def faults(self) -> list[Fault]:
        """Everything that is sown but values pushed over a limit."""
        files = self.trials.files
        return [*faults(self.entries, self.values, files), *slips(self.entries, self.values, files)]

    @cached_property
    def unchanged(self) -> list[Unchanged]:
        """Changes that say the same as before."""
        return list(unchanged(self.entries, self.values, self.trials.files))

    def near(self, touched: Iterable[Entry]) -> list[Entry]:
        """What was touched and what is around it, what these name, and what names them or has the same id.

        A field of a section itself, or a whole list, bears on all that stands in the section.
        """
        found: list[Entry] = []
        for entry in touched:
            whole = entry.list == entry.section and entry.id is None
            around = (self._at[place] for place in entry.places)
            for own in self._sections[entry.section] if whole else around:
                found += [own, *(one for name in _names(own) for one in self._by_id.get(name, ()))]
                if own.id:
                    found += [*self._by_id[own.id], *self._naming.get(own.id, ())]
        return found

    def candidates(self, finding: Finding) -> list[Value]:
        """The values that may decide a finding: those it points at, then those of its records, then of their neighbours."""
        pointed = {((spot.where.file, spot.where.mark), spot.field) for spot in finding.where}
        places = [place for place, _ in sorted(pointed, key=str)]
        own = [value for place in places for value in self._values_at[place]]
        own.sort(key=lambda value: not any((place, value.name) in pointed for place in value.entry.places))
        around = self.near(self._at[place] for place in places if place in self._at)
        around.sort(key=lambda entry: entry.list == entry.section)  # what holds for a whole section decides last
        own += [value for entry in around for value in self._values_at[entry.places[0]]]
        once = {(value.entry.file, value.start): value for value in own if value.kind in _NUMBERS}
        return list(once.values())[:_CANDIDATES]

    def measured(self) -> list[tuple[Key, Finding]]:
        """The findings with room to their limit."""
        sound = self.trials.sound.items()
        return [
            (key, finding) for key, finding in sound if finding.verdict is Verdict.PASS and finding.margin is not None
        ]


def _names(entry: Entry) -> set[str]:
    """The words in an entry that could be ids, terminals without what follows the dot."""
    values = (one for value in entry.node.values() for one in (value if isinstance(value, list) else [value]))
    return {value.partition(".")[0] for value in values if isinstance(value, str)} - {entry.id or ""}


def example(stage: Stage = Stage.OPERATING) -> Ground:
    """The example, late enough for every rule to be due."""
    folder = Path(__file__).parents[2] / "project_example"
    return Ground({file.path: file.text for file in record_files(folder)}, stage)
