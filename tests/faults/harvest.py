"""Sows thousands of faults into the example and prints what answered: `python tests/faults/harvest.py [--every N]`.

By kind of fault: how many were sown, and how many the reader or a rule answered. By rule: on how many findings a value was
pushed just over the limit, and how often that rule answered; and how often it noted a record that a fault had not touched.
Whatever did not answer, or spoke of something else, has its reason in explained.yaml, or the run fails; so does a reason
that explains nothing any more.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter, defaultdict
from fnmatch import fnmatchcase
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import yaml

sys.path.insert(0, str(Path(__file__).parents[2]))  # run as a script, beside its parts
from tests.faults.over import push_over
from tests.faults.seeds import Entry, Fault, Field, entries, faults, fields
from tests.faults.trial import Key, Outcome, Trials

from jurystrut.reading.files import record_files
from jurystrut.rulebook import Stage, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jurystrut.rulebook import Finding

__all__ = ["Explained", "Ground", "Harvest", "example", "harvested"]

HERE = Path(__file__).parent
_CANDIDATES = 10
"""So many quantities are tried for each limit, the nearest first."""


class Ground:
    """Sound records: their entries and quantities, and which entries name which."""

    def __init__(self, files: dict[str, str], stage: Stage) -> None:
        self.trials = Trials(files, stage)
        self.entries = list(entries(files))
        self.fields = list(fields(self.entries, files))
        self.faults = list(faults(self.entries, self.fields, files))
        self._by_id: dict[str, list[Entry]] = defaultdict(list)
        self._naming: dict[str, list[Entry]] = defaultdict(list)
        self._fields_at: dict[tuple[str, int], list[Field]] = defaultdict(list)
        for entry in self.entries:
            if entry.id:
                self._by_id[entry.id].append(entry)
            for name in _names(entry):
                self._naming[name].append(entry)
        for field in self.fields:
            for place in field.entry.places:
                self._fields_at[place].append(field)

    def near(self, touched: Iterable[Entry]) -> list[Entry]:
        """What was touched, what it names, and what names it."""
        found: list[Entry] = []
        for entry in touched:
            found += [entry, *(one for name in _names(entry) for one in self._by_id.get(name, ()))]
            found += self._naming.get(entry.id or "", ())
        return found

    def candidates(self, finding: Finding) -> list[Field]:
        """The quantities that may decide a finding: those it points at, then those of its records, then of their neighbours."""
        pointed = {((spot.where.file, spot.where.mark), spot.field) for spot in finding.where}
        places = [place for place, _ in sorted(pointed, key=str)]
        own = [field for place in places for field in self._fields_at[place]]
        own.sort(key=lambda field: not any((place, field.name) in pointed for place in field.entry.places))
        around = self.near(entry for entry in self.entries if entry.places[0] in places)
        own += [field for entry in around for field in self._fields_at[entry.places[0]]]
        once = {(field.entry.file, field.start): field for field in own}
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


class Explained:
    """The reasons in explained.yaml, and which of them were needed."""

    def __init__(self) -> None:
        reasons = yaml.safe_load((HERE / "explained.yaml").read_text("utf-8"))
        self.reasons = [(part, pattern) for part, patterns in reasons.items() for pattern in patterns]
        self.used: set[tuple[str, str]] = set()

    def __call__(self, part: str, subject: str) -> bool:
        """Whether a miss has its reason."""
        found = [reason for reason in self.reasons if reason[0] == part and fnmatchcase(subject, reason[1])]
        self.used |= set(found)
        return bool(found)

    def unused(self) -> list[str]:
        """Reasons that explained nothing."""
        return [f"{part}: {pattern}" for part, pattern in self.reasons if (part, pattern) not in self.used]


class Harvest(NamedTuple):
    """How many faults were sown and answered, by kind or rule; what was noted elsewhere, by rule; and what nothing explains."""

    sown: Counter[str]
    answered: Counter[str]
    elsewhere: Counter[str]
    unexplained: list[str]


def harvested(ground: Ground, explained: Explained, every: int = 1, first: int = 0) -> Harvest:
    """Sow every so many of the faults, from the first on, and gather what comes of them."""
    harvest = Harvest(Counter(), Counter(), Counter(), [])
    for fault in ground.faults[first::every]:
        _gather(ground, fault, explained, harvest)
    for key, finding in ground.measured()[first::every]:
        found = push_over(ground.trials, key, finding, ground.candidates(finding))
        harvest.sown[key.rule] += 1
        harvest.answered[key.rule] += found is not None
        if found is None and not explained("over a limit", key.rule):
            harvest.unexplained.append(f"over a limit: no value drives {key.rule} {key.subject} over")
    return harvest


def _gather(ground: Ground, fault: Fault, explained: Explained, harvest: Harvest) -> None:
    outcome = ground.trials.of(fault.file, fault.text)
    harvest.sown[fault.kind] += 1
    if _answered(fault, outcome):
        harvest.answered[fault.kind] += 1
    elif not explained(fault.kind, fault.target):
        harvest.unexplained.append(f"{fault.kind}: {fault.what}")
    near = {place for entry in ground.near(fault.touched) for place in entry.places}
    for answer in outcome.answers:
        if answer.alarm and not answer.points_at(near):
            harvest.elsewhere[answer.key.rule] += 1
            if not explained("elsewhere", f"{fault.touched[0].section} {answer.key.rule}"):
                noted = f"{fault.touched[0].section} {answer.key.rule} {answer.key.subject}"
                harvest.unexplained.append(f"elsewhere: {noted} after {fault.kind}: {fault.what}")


def _answered(fault: Fault, outcome: Outcome) -> bool:
    """The reader refuses it, at its place where that is known, or some finding is another than it was."""
    if fault.kind == "other dimension" and outcome.problems:
        place = (fault.file, *fault.at)
        return any((p.position.file, p.position.line, p.position.column) == place for p in outcome.problems)
    return bool(outcome.problems or outcome.answers)


def example(stage: Stage = Stage.OPERATING) -> Ground:
    """The example, late enough for every rule to be due."""
    return Ground({file.path: file.text for file in record_files(HERE.parents[1] / "project_example")}, stage)


def main() -> int:
    """Sow, gather, print; 1 where something has no reason, or a reason nothing to explain."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--every", type=int, default=1, metavar="N", help="sow only every N-th fault")
    parser.add_argument("--first", type=int, default=0, metavar="N", help="leave out so many first")
    options = parser.parse_args()
    explained = Explained()
    harvest = harvested(example(), explained, options.every, options.first)
    lines = [f"{name}: {harvest.answered[name]} of {sown} answered" for name, sown in sorted(harvest.sown.items())]
    lines += [f"{rule}: {count} times elsewhere" for rule, count in sorted(harvest.elsewhere.items())]
    lines.append(f"{harvest.answered.total()} of {harvest.sown.total()} faults answered")
    unused = explained.unused() if options.every == 1 else []
    wrong = harvest.unexplained + [f"explains nothing: {reason}" for reason in unused]
    sys.stdout.write("\n".join([*lines, *wrong, ""]))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
