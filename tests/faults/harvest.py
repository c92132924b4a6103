"""Sows thousands of faults into the example and prints what answered: `python tests/faults/harvest.py [--every N]`.

By kind of fault: how many were sown, how many were noted (refused in reading, or a rule speaks up where it did not), and for
how many only figures of a finding moved, all by what has to do with the place of the fault. By rule: on how many findings a
value was pushed just over the limit, and how often that broke it; how many other faults the rule noted; and its false alarms:
what it noted of records that the fault had nothing to do with, and what it noted after a change that says the same as before.

Whatever did not answer has its reason in explained.yaml or explained_rules.yaml, and so has every rule that judges records
together with others far away, or that no fault alarms; else the run fails. So it does where a reason explains nothing any
more, or where an answer refutes it.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.insert(0, str(Path(__file__).parents[2]))  # run as a script, beside its parts
from tests.faults.explained import Explained
from tests.faults.ground import Ground, example
from tests.faults.over import push_over
from tests.faults.table import printed
from tests.faults.trial import Shift

from jurystrut.testing import installed

if TYPE_CHECKING:
    from tests.faults.seeds import Fault
    from tests.faults.sound import Unchanged
    from tests.faults.trial import Answer, Outcome

    from jurystrut.rulebook import Verdict

__all__ = ["Harvest", "harvested"]

OVER = "over a limit"


@dataclass(frozen=True)
class Harvest:
    """What was sown and what came of it; counters go by kind of fault, or by rule."""

    sown: Counter[str] = field(default_factory=Counter)
    noted: Counter[str] = field(default_factory=Counter)
    moved: Counter[str] = field(default_factory=Counter)
    """No verdict changed, and none had to: a figure in a finding did."""
    pushed: Counter[str] = field(default_factory=Counter)
    driven: Counter[str] = field(default_factory=Counter)
    alarms: Counter[str] = field(default_factory=Counter)
    together: Counter[str] = field(default_factory=Counter)
    """Alarms far from the fault, of rules that judge its record together with others."""
    unrelated: Counter[str] = field(default_factory=Counter)
    unchanged: Counter[str] = field(default_factory=Counter)
    """By kind, changes that say the same as before."""
    false: Counter[str] = field(default_factory=Counter)
    """Findings that such a change altered."""
    unexplained: list[str] = field(default_factory=list)


def harvested(ground: Ground, explained: Explained, every: int = 1, first: int = 0) -> Harvest:
    """Sow every so many of the faults, from the first on, and gather what comes of them."""
    harvest = Harvest()
    for fault in ground.faults[first::every]:
        _gather(ground, fault, explained, harvest)
    for key, finding in ground.measured()[first::every]:
        found = push_over(ground.trials, key, finding, ground.candidates(finding))
        harvest.sown[OVER] += 1
        harvest.pushed[key.rule] += 1
        if found:
            harvest.noted[OVER] += 1
            harvest.driven[key.rule] += 1
            explained.driven(key)
        elif not explained.not_driven(key):
            harvest.unexplained.append(f"{OVER}: no value drives {key.rule} {key.subject} over")
    for same in ground.unchanged[first::every]:
        _hold_still(ground, same, harvest)
    return harvest


def _gather(ground: Ground, fault: Fault, explained: Explained, harvest: Harvest) -> None:
    outcome = ground.trials.of(fault.file, fault.text)
    near = ground.near(fault.touched)
    places = frozenset(place for entry in near for place in entry.places)
    shift = Shift(fault.file, ground.trials.files[fault.file], fault.text)
    names = {entry.id for entry in near} | {f"{entry.id}-other" for entry in fault.touched}
    section = fault.target.partition(".")[0]  # which its only list may have taken along
    answers: list[Answer] = []
    for answer in outcome.answers:
        rule = answer.key.rule
        missed = answer.after and f"no section '{section}'" in answer.after.message
        if missed or answer.points_at(places, shift) or answer.key.subject in names:
            answers.append(answer)
            harvest.alarms[rule] += answer.alarm
        elif explained.reaches(rule, fault):
            answers.append(answer)
            harvest.together[rule] += answer.alarm
        elif answer.alarm:
            harvest.unrelated[rule] += 1
            harvest.unexplained.append(f"unrelated: {rule} {answer.key.subject} after {fault.kind}: {fault.what}")
    harvest.sown[fault.kind] += 1
    if _refused(fault, outcome) or any(answer.alarm for answer in answers):
        harvest.noted[fault.kind] += 1
        explained.answered(fault)
    elif answers:
        harvest.moved[fault.kind] += 1
        explained.answered(fault)
    elif not explained.silent(fault):
        harvest.unexplained.append(f"{fault.kind}: {fault.what}")


def _refused(fault: Fault, outcome: Outcome) -> bool:
    """The reader refuses it, at its place where one value alone is wrong."""
    if fault.kind == "other dimension":
        place = (fault.file, *fault.at)
        return any((p.position.file, p.position.line, p.position.column) == place for p in outcome.problems)
    return bool(outcome.problems)


def _hold_still(ground: Ground, same: Unchanged, harvest: Harvest) -> None:
    """Every change of a verdict is a false alarm; subjects may have another name."""
    outcome = ground.trials.of_files(same.files)
    harvest.unchanged[same.kind] += 1
    if outcome.problems:
        harvest.unexplained.append(f"false: {outcome.problems[0].message} after {same.what}")
    verdicts: dict[str, Counter[Verdict]] = {}
    for answer in outcome.answers:
        changed = verdicts.setdefault(answer.key.rule, Counter())
        changed.update([answer.after.verdict] if answer.after else [])
        changed.subtract([answer.before.verdict] if answer.before else [])
    for rule, counts in verdicts.items():
        if any(counts.values()):
            harvest.false[rule] += 1
            harvest.unexplained.append(f"false: {rule} after {same.kind}: {same.what}")


def main() -> int:
    """Sow, gather, print; 1 where something has no reason, or a reason nothing to explain."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--every", type=int, default=1, metavar="N", help="sow only every N-th fault")
    parser.add_argument("--first", type=int, default=0, metavar="N", help="leave out so many first")
    options = parser.parse_args()
    explained = Explained()
    harvest = harvested(example(), explained, options.every, options.first)
    wrong = harvest.unexplained
    if options.every == 1:
        deaf = [rule.id for rule in installed().rules if not harvest.driven[rule.id] + harvest.alarms[rule.id]]
        wrong += [f"alarmed by no fault: {rule}" for rule in deaf if not explained.never(rule)] + explained.wrong()
    sys.stdout.write("\n".join([*printed(harvest), *wrong, ""]))
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
