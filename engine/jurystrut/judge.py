"""Runs every rule of every pack over one aircraft's records."""

from __future__ import annotations

import datetime
import operator
import sys
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Any

from jurystrut.errors import MissingRecord, PackError, Problem
from jurystrut.positions import Position, Spot
from jurystrut.records import LISTS, SECTIONS
from jurystrut.rulebook import (
    Fact,
    Finding,
    Pack,
    Parameter,
    Reference,
    Rule,
    Stage,
    Verdict,
    counted,
    declared_in,
    no_data,
    not_applicable,
    read_references,
    worst,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from jurystrut.records.papers import Deviation
    from jurystrut.records.project import Project

__all__ = ["CAUTION", "Judgement", "Remembered", "RuleResult", "Rulebook", "installed_packs", "judge", "load"]

CAUTION = (
    "jurystrut advises; it certifies nothing. It knows only what the records say and can be wrong. "
    "The local authority, its inspectors and licensed people decide."
)

_GIVEN = frozenset({"project", "stage", "day"})


@dataclass(frozen=True, slots=True)
class Rulebook:
    """The rules, facts and sources of all packs together."""

    rules: tuple[Rule, ...]
    facts: Mapping[str, Fact]
    references: Mapping[str, Reference]
    packs: tuple[Pack, ...]

    def cited(self, rule: Rule) -> tuple[Reference, ...]:
        """The sources that a rule cites, the deciding one first."""
        return tuple(self.references[name] for name in rule.references)


@dataclass(frozen=True, slots=True)
class RuleResult:
    """One rule's findings, and its verdict: the worst of them."""

    rule: Rule
    verdict: Verdict
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Judgement:
    """All the findings of one run.

    `revision` is the commit that the records stand at, and `folder` the path from the git repository's root to them,
    empty or ending in `/`; both are for writers that need them.
    """

    project: Project
    stage: Stage
    day: datetime.date
    rulebook: Rulebook
    results: tuple[RuleResult, ...]
    problems: tuple[Problem, ...]
    revision: str | None = None
    folder: str = ""

    @property
    def verdict(self) -> Verdict:
        """The worst rule; `no-data` counts as a warning, from stage `inspection` on as a failure."""
        return worst(counted(result.verdict, self.stage) for result in self.results)

    @property
    def exit_status(self) -> int:
        """0 nothing failed, 1 a rule failed, 2 the records could not all be read."""
        return 2 if self.problems else int(self.verdict is Verdict.FAIL)


def installed_packs() -> tuple[Pack, ...]:
    """The rule packs that are installed, by entry point group `jurystrut.rules`, in the order of their names.

    Raises PackError where there is none.
    """
    from importlib.metadata import entry_points

    found = sorted(entry_points(group="jurystrut.rules"), key=lambda point: point.name)
    if not found:  # nothing judged must not look like nothing wrong
        raise PackError("no rule pack is installed; install jurystrut again, or a pack of your own")
    return tuple(point.load() for point in found)


def load(packs: Iterable[Pack]) -> Rulebook:
    """Import the packs' modules and check that their declarations hold together; raises PackError where not."""
    packs = tuple(packs)
    rules: dict[str, Rule] = {}
    facts: dict[str, Fact] = {}
    references: dict[str, Reference] = {}
    for pack in packs:
        references |= read_references(pack.sources)
        for module in pack.modules:
            new_rules, new_facts = declared_in(import_module(module))
            for rule in new_rules:
                if rules.setdefault(rule.id, rule) is not rule:
                    raise PackError(f"pack '{pack.name}': the rule '{rule.id}' is declared twice")
            facts |= {fact.name: fact for fact in new_facts}
    book = Rulebook(tuple(rules[id_] for id_ in sorted(rules)), facts, references, packs)
    _hold_together(book)
    return book


def _hold_together(book: Rulebook) -> None:
    known = _GIVEN | SECTIONS.keys() | book.facts.keys()
    for rule in book.rules:
        for name in rule.references:
            if name not in book.references:
                raise PackError(f"rule '{rule.id}' cites '{name}', which is not in the pack's sources")
    asked = [(rule.id, rule.parameters) for rule in book.rules]
    asked += [(fact.name, fact.parameters) for fact in book.facts.values()]
    for name, parameters in asked:
        for parameter in parameters:
            if parameter.name not in known:
                raise PackError(f"'{name}' asks for '{parameter.name}', which is neither a section nor a fact")


def judge(
    project: Project,
    book: Rulebook,
    *,
    at: Stage | None = None,
    on: datetime.date | None = None,
    memory: Remembered | None = None,
) -> Judgement:
    """Judge a project as if the build were at stage `at` (its own where None), on the day `on` (today where None).

    With a `memory` that goes from run to run, what rests on the same records as last time is not computed again.
    """
    aircraft = project.aircraft
    # Without an aircraft record every rule is taken as due: in doubt, ask.
    stage = at or (aircraft.stage if aircraft else Stage.OPERATING)
    day = on or datetime.datetime.now().astimezone().date()
    run = _Run(project, book, stage, day, memory)
    results = tuple(run.result(rule) for rule in book.rules)
    return Judgement(project, stage, day, book, results, tuple(sorted({*project.problems, *run.problems})))


Remembered = dict[str, tuple[tuple[object, ...], Any]]
"""The last value of each fact and the last result of each rule, with the records that they rest on."""


class _Run:
    """One run: facts are computed when first asked for, and kept."""

    def __init__(
        self, project: Project, book: Rulebook, stage: Stage, day: datetime.date, memory: Remembered | None
    ) -> None:
        # What rules say where records could not be read depends on more than the records: nothing is remembered then.
        self.memory = None if project.problems else memory
        self.project = project
        self.book = book
        self.stage = stage
        self.day = day
        self.problems: list[Problem] = []
        self.without = frozenset(project.aircraft.without if project.aircraft else ())
        self.known: dict[str, Any] = {"project": project, "stage": stage, "day": day}
        self.deviations: tuple[Deviation, ...] = project.sections.get("deviations", ())

    def result(self, rule: Rule) -> RuleResult:
        result: RuleResult = self._remembered(rule.id, rule.parameters, lambda: self._result(rule))
        return result

    def _remembered(self, name: str, parameters: tuple[Parameter, ...], compute: Callable[[], Any]) -> Any:
        if self.memory is None:
            return compute()
        rests_on = self._rests_on(parameters)
        known = self.memory.get(name)
        if known and len(known[0]) == len(rests_on) and all(map(operator.is_, known[0], rests_on)):
            return known[1]
        problems = len(self.problems)
        value = compute()
        if len(self.problems) == problems:  # a rule's bug is told anew each time
            self.memory[name] = (rests_on, value)
        return value

    def _rests_on(self, parameters: tuple[Parameter, ...]) -> tuple[object, ...]:
        """The records that a rule or fact is computed from; identity decides, since records do not change."""
        names = self._reached(parameters)
        sections = self.project.sections
        everything = "project" in names
        present = (
            sections.get(name)
            for name in SECTIONS
            if everything or name in names or name in {"aircraft", "deviations"}  # these two bear on every rule
        )
        files = map(sys.intern, self.project.files) if everything else ()
        return (self.stage, self.day, *present, *files)

    def _reached(self, parameters: tuple[Parameter, ...]) -> frozenset[str]:
        """All facts and sections behind some parameters."""
        found: set[str] = set()
        for parameter in parameters:
            found.add(parameter.name)
            if parameter.name in self.book.facts:
                found |= self._reached(self.book.facts[parameter.name].parameters)
        return frozenset(found)

    def _result(self, rule: Rule) -> RuleResult:
        findings = tuple(self._with_deviation(rule, self._capped(rule, finding)) for finding in self._findings(rule))
        return RuleResult(rule, worst(finding.verdict for finding in findings), findings)

    def _findings(self, rule: Rule) -> Iterable[Finding]:
        if self.stage < rule.due:
            return (Finding(Verdict.NOT_DUE, "aircraft", f"asked from stage {rule.due.value} on"),)
        absent = self._sections(rule.parameters) & self.without
        if absent:
            return (
                not_applicable("aircraft", f"this aircraft is recorded as one without {', '.join(sorted(absent))}"),
            )
        try:
            return tuple(rule.check(*[self._value(parameter) for parameter in rule.parameters]))
        except MissingRecord as missing:
            return (
                no_data("aircraft", str(missing), *missing.where, remedy="Record it, so that this rule can be judged."),
            )
        except Exception as error:  # noqa: BLE001 - one rule's bug must hide no other rule, and must not pass
            if self.project.problems:  # what it stumbled over is, in all likelihood, a record that could not be read
                return (no_data("aircraft", "not evaluated, because records could not be read"),)
            self.problems.append(
                Problem(
                    Position(rule.id, 1, 1), f"a bug in this rule: {type(error).__name__}: {error}; please report it"
                )
            )
            return (no_data("aircraft", "not evaluated: the rule itself has a bug"),)

    def _sections(self, parameters: tuple[Parameter, ...]) -> set[str]:
        """The sections that these parameters cannot do without."""
        found: set[str] = set()
        for parameter in parameters:
            if parameter.name in SECTIONS and not parameter.optional:
                found.add(parameter.name)
            elif parameter.name in self.book.facts:
                found |= self._sections(self.book.facts[parameter.name].parameters)
        return found

    def _value(self, parameter: Parameter) -> Any:
        name = parameter.name
        if name not in self.known:
            self.known[name] = self._compute(name)
        value = self.known[name]
        if isinstance(value, MissingRecord):
            if parameter.optional:
                return None
            raise value
        return value

    def _compute(self, name: str) -> Any:
        if name in self.book.facts:
            fact = self.book.facts[name]
            return self._remembered(name, fact.parameters, lambda: self._fact(fact))
        if name in self.project.sections:
            return self.project.sections[name]
        return () if name in LISTS else MissingRecord(f"the records have no section '{name}'", *self._first_place())

    def _fact(self, fact: Fact) -> Any:
        try:
            return fact.compute(*[self._value(parameter) for parameter in fact.parameters])
        except MissingRecord as missing:
            return missing

    def _first_place(self) -> tuple[Spot, ...]:
        aircraft = self.project.aircraft
        return (aircraft.at(),) if aircraft else ()

    @staticmethod
    def _capped(rule: Rule, finding: Finding) -> Finding:
        if finding.verdict is Verdict.FAIL and rule.at_worst is Verdict.WARN:
            return finding._replace(verdict=Verdict.WARN)
        return finding

    def _with_deviation(self, rule: Rule, finding: Finding) -> Finding:
        """A recorded, current deviation turns `fail` into `warn`, where the rule allows one; never into `pass`."""
        if finding.verdict is not Verdict.FAIL or rule.no_deviation:
            return finding
        for deviation in self.deviations:
            if deviation.rule == rule.id and deviation.subject in {None, finding.subject} and self._current(deviation):
                return finding._replace(
                    verdict=Verdict.WARN, deviation=f"{deviation.reason}; agreed by {deviation.agreed_by}"
                )
        return finding

    def _current(self, deviation: Deviation) -> bool:
        until = deviation.until
        if until is None:
            return True
        return self.stage < until if isinstance(until, Stage) else self.day <= until
