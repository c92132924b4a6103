"""Whether a judgement may pass the gates that its builder has set up; without a file of gates, whatever fails stops it."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.errors import Problem, UsageError
from jurystrut.positions import Position
from jurystrut.reading.files import record_file
from jurystrut.reading.messages import nearest
from jurystrut.reading.sections import check_mapping
from jurystrut.records.gates import GATES_FILE, Gate, Gates, KeptMargin, Known
from jurystrut.rulebook import Verdict, counted
from jurystrut.tree import Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from jurystrut.judge import Judgement, Rulebook
    from jurystrut.rulebook import Finding, Rule, Stage

__all__ = ["GATES_FILE", "Passage", "Stopped", "pass_gates", "read_gates"]

_LONGEST = datetime.timedelta(days=366)
_USUAL = Gate(stops=("fail",))


class Stopped(NamedTuple):
    """A finding that stops the commit, and why."""

    rule: Rule
    finding: Finding
    why: str


@dataclass(frozen=True, slots=True)
class Passage:
    """What stops a commit, what known findings let pass, and what is to be said of the list of known findings."""

    judgement: Judgement
    stopped: tuple[Stopped, ...]
    known: int
    remarks: tuple[str, ...]

    @property
    def exit_status(self) -> int:
        """0 it may pass, 1 something stops it, 2 the records could not all be read."""
        return 2 if self.judgement.problems else int(bool(self.stopped))


def read_gates(path: Path, book: Rulebook, day: datetime.date) -> Gates:
    """Read a file of gates; raises UsageError, with every mistake in it, where it cannot stand.

    A mistake stops everything: a gate with a slip of the pen in it must not stand open.
    """
    file = record_file(path.parent, path.name)
    tree, problems = parse(file.text, path.name)
    problems += [file.problem] if file.problem else []
    checked = check_mapping(Gates, tree if tree is not None else Mapping(), {})
    problems += checked.problems
    if tree is not None and not isinstance(tree, Mapping):
        problems.append(
            Problem(Position(path.name, 1, 1), "wanted 'gates:', 'margins:' or 'baseline:' at the left margin")
        )
    gates = checked.value
    if isinstance(gates, Gates):
        problems += _out_of_place(gates, book, day)
    if problems or not isinstance(gates, Gates):
        raise UsageError("; ".join(f"{problem.position}: {problem.message}" for problem in sorted(set(problems))))
    return gates


def _out_of_place(gates: Gates, book: Rulebook, day: datetime.date) -> Iterator[Problem]:
    rules = {rule.id for rule in book.rules}
    domains = {rule.domain for rule in book.rules}
    for gate in gates.gates:
        for domain in gate.domains:
            if domain not in domains:
                yield Problem(gate.at("domains").position, f"there is no domain '{domain}'{nearest(domain, domains)}")
    for margin in gates.margins:
        if margin.rule not in rules | domains:
            hint = nearest(margin.rule, rules | domains)
            yield Problem(margin.at("rule").position, f"there is no rule or domain '{margin.rule}'{hint}")
    for known in gates.baseline:
        if known.rule not in rules:
            yield Problem(known.at("rule").position, f"there is no rule '{known.rule}'{nearest(known.rule, rules)}")
        if known.until > day + _LONGEST:
            yield Problem(
                known.at("until").position, f"{known.until} is more than a year ahead; nothing may wait so long unseen"
            )


def pass_gates(judgement: Judgement, gates: Gates | None) -> Passage:
    """Hold a judgement against the gates; None stands for the usual one, which stops what fails."""
    gates = gates or Gates()
    open_ = [known for known in gates.baseline if judgement.day <= known.until]
    left = {id(known): known.findings for known in open_}
    stopped: list[Stopped] = []
    covered = 0
    for result in judgement.results:
        for finding in result.findings:
            why = _why(gates, result.rule, finding, judgement.stage)
            if not why:
                continue
            known = next((k for k in open_ if left[id(k)] and _covers(k, result.rule, finding)), None)
            if known is None:
                stopped.append(Stopped(result.rule, finding, why))
            else:
                left[id(known)] -= 1
                covered += 1
    return Passage(judgement, tuple(stopped), covered, tuple(_remarks(judgement, gates.baseline, left)))


def _why(gates: Gates, rule: Rule, finding: Finding, stage: Stage) -> str:
    for gate in gates.gates or (_USUAL,):
        if _holds(gate.from_, gate.before, stage) and (not gate.domains or rule.domain in gate.domains):
            # `no-data` counts as a failure from stage inspection on, and a gate for failures stops it then.
            told = {finding.verdict.value, counted(finding.verdict, stage).value}
            if told & set(gate.stops):
                return f"{finding.verdict.value} stops a commit here"
    return next((why for margin in gates.margins if (why := _too_close(margin, rule, finding, stage))), "")


def _holds(first: Stage | None, before: Stage | None, stage: Stage) -> bool:
    return (first is None or stage >= first) and (before is None or stage < before)


def _too_close(margin: KeptMargin, rule: Rule, finding: Finding, stage: Stage) -> str:
    if margin.rule not in {rule.id, rule.domain} or not _holds(margin.from_, None, stage) or finding.margin is None:
        return ""
    if finding.margin >= margin.keep.si - 1e-9:
        return ""
    return f"a margin of {finding.margin * 100:.3g} %, and {margin.keep} must be kept"


def _covers(known: Known, rule: Rule, finding: Finding) -> bool:
    if (known.rule, known.subject) != (rule.id, finding.subject):
        return False
    return finding.verdict.rank <= Verdict(known.verdict).rank


def _remarks(judgement: Judgement, baseline: Iterable[Known], left: dict[int, int]) -> Iterator[str]:
    for known in baseline:
        name = f"{known.at().position}: {known.rule} {known.subject}"
        if judgement.day > known.until:
            yield f"{name}: its time ran out on {known.until}; it stops commits again"
        elif left[id(known)]:
            yield f"{name}: {left[id(known)]} of {known.findings} known are there no more; lower the number or take it out"
