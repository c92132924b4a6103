"""Runs every rule of every pack over one aircraft's records."""

from __future__ import annotations

import datetime
import operator
import sys
from dataclasses import dataclass, field
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

__all__ = [
    "CAUTION",
    "Judgement",
    "Remembered",
    "RuleResult",
    "Rulebook",
    "facts_of",
    "installed_packs",
    "judge",
    "load",
]

CAUTION = (
    "jurystrut advises; it certifies nothing. It knows only what the records say and can be wrong. "
    "The local authority, its inspectors and licensed people decide."
)

_GIVEN = frozenset({"project", "stage", "day", "rules", "judged"})
"""Given to every rule that asks: `rules` by id, and `judged`, the results of all rules that do not ask for that, by id."""


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
    facts: Mapping[str, Any] = field(default_factory=dict, repr=False)
    """What the packs computed on the way, by the fact's name, for reports that draw or tabulate it."""

    @property
    def verdict(self) -> Verdict:
        """The worst rule; `no-data` counts as a warning, from stage `inspection` on as a failure."""
        return worst(counted(result.verdict, self.stage) for result in self.results)

    def written_elsewhere(self, reference: Reference) -> bool:
        """Whether a source is the law of an authority that is not this aircraft's: a yardstick here."""
        return _elsewhere(reference, self.project)

    @property
    def exit_status(self) -> int:
        """0 nothing failed, 1 a rule failed, 2 the records could not all be read."""
        return 2 if self.problems else int(self.verdict is Verdict.FAIL)


def _elsewhere(reference: Reference, project: Project) -> bool:
    aircraft = project.aircraft
    return aircraft is not None and reference.obliges_only_its_own() and reference.authority != aircraft.authority


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
        references |= read_references(pack.sources, pack.authority)
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
    run = _run_of(project, book, at, on, memory)
    results = run.results()
    problems = tuple(sorted({*project.problems, *run.problems}))
    return Judgement(project, run.stage, run.day, book, results, problems, facts=run.facts())


def facts_of(project: Project, book: Rulebook, *names: str) -> tuple[Any, ...]:
    """Facts as the rules get them, for drawings and reports; raises MissingRecord where the records lack what one needs."""
    run = _run_of(project, book, None, None, None)
    return tuple(run.value(Parameter(name, optional=False)) for name in names)


def _run_of(
    project: Project, book: Rulebook, at: Stage | None, on: datetime.date | None, memory: Remembered | None
) -> _Run:
    aircraft = project.aircraft
    # Without an aircraft record every rule is taken as due: in doubt, ask.
    stage = at or (aircraft.stage if aircraft else Stage.OPERATING)
    return _Run(project, book, stage, on or datetime.datetime.now().astimezone().date(), memory)


Remembered = dict[str, tuple[tuple[object, ...], Any]]
"""The last value of each fact and the last result of each rule, with the records that they rest on."""


def _with_remedy(rule: Rule, finding: Finding) -> Finding:
    """What is not sound and names no remedy of its own gets the rule's."""
    if finding.remedy or finding.verdict not in _UNSOUND:
        return finding
    return finding._replace(remedy=rule.remedy)


_UNSOUND = frozenset({Verdict.FAIL, Verdict.WARN, Verdict.NO_DATA})


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
        self.judged: dict[str, RuleResult] = {}
        self.authority = project.aircraft.authority if project.aircraft else None
        self.known: dict[str, Any] = {"project": project, "stage": stage, "day": day}
        self.known |= {"rules": {rule.id: rule for rule in book.rules}, "judged": self.judged}
        self.deviations: tuple[Deviation, ...] = project.sections.get("deviations", ())

    def results(self) -> tuple[RuleResult, ...]:
        """All results in the order of the rules; those that look at the others' results come last to their turn."""
        last = {rule.id for rule in self.book.rules if any(p.name == "judged" for p in rule.parameters)}
        for rule in self.book.rules:
            if rule.id not in last:
                self.judged[rule.id] = self.result(rule)
        looking_back = {rule.id: self.result(rule) for rule in self.book.rules if rule.id in last}
        return tuple((looking_back.get(rule.id) or self.judged[rule.id]) for rule in self.book.rules)

    def facts(self) -> dict[str, Any]:
        """The pack's facts that could be computed."""
        return {n: v for n, v in self.known.items() if n in self.book.facts and not isinstance(v, MissingRecord)}

    def result(self, rule: Rule) -> RuleResult:
        result: RuleResult = self._remembered(rule.id, rule.parameters, lambda: self._result(rule), rule.due)
        return result

    def _remembered(
        self, name: str, parameters: tuple[Parameter, ...], compute: Callable[[], Any], due: Stage | None = None
    ) -> Any:
        if self.memory is None or any(parameter.name in {"judged", "rules"} for parameter in parameters):
            return compute()  # what looks at other results rests on more than records
        rests_on = self._rests_on(parameters, due)
        known = self.memory.get(name)
        if known and len(known[0]) == len(rests_on) and all(map(operator.is_, known[0], rests_on)):
            return known[1]
        problems = len(self.problems)
        value = compute()
        if len(self.problems) == problems:  # a rule's bug is told anew each time
            self.memory[name] = (rests_on, value)
        return value

    def _rests_on(self, parameters: tuple[Parameter, ...], due: Stage | None) -> tuple[object, ...]:
        """What a rule or fact is computed from: records, whose identity decides, since they do not change; day; and stage.

        The stage bears on what asks for it, on rules by being due or not, and by deviations that end with a stage.
        """
        names = self._reached(parameters)
        sections = self.project.sections
        everything = "project" in names
        present = (
            sections.get(name)
            for name in SECTIONS
            if everything or name in names or name in {"aircraft", "deviations"}  # these two bear on every rule
        )
        files = map(sys.intern, self.project.files) if everything else ()
        whole_stage = "stage" in names or (due is not None and bool(self.deviations))
        stage = self.stage if whole_stage else due is not None and self.stage < due
        return (stage, self.day, *present, *files)

    def _reached(self, parameters: tuple[Parameter, ...]) -> frozenset[str]:
        """All facts and sections behind some parameters."""
        found: set[str] = set()
        for parameter in parameters:
            found.add(parameter.name)
            if parameter.name in self.book.facts:
                found |= self._reached(self.book.facts[parameter.name].parameters)
        return frozenset(found)

    def _result(self, rule: Rule) -> RuleResult:
        judged = (self._with_deviation(rule, self._capped(rule, finding)) for finding in self._findings(rule))
        findings = tuple(_with_remedy(rule, finding) for finding in judged)
        return RuleResult(rule, worst(finding.verdict for finding in findings), findings)

    def _findings(self, rule: Rule) -> Iterable[Finding]:
        if self.stage < rule.due:
            return (Finding(Verdict.NOT_DUE, "aircraft", f"asked from stage {rule.due.value} on"),)
        if rule.only_for and self.authority not in rule.only_for:
            return (not_applicable("aircraft", f"it asks about aircraft of {' and '.join(rule.only_for)} only"),)
        absent = self._sections(rule.parameters) & self.without
        if absent:
            return (
                not_applicable("aircraft", f"this aircraft is recorded as one without {', '.join(sorted(absent))}"),
            )
        try:
            found = tuple(rule.check(*[self.value(parameter) for parameter in rule.parameters]))
            # Silence must not read as "nothing wrong": no wires recorded is not the same as no wires.
            return found or (no_data("aircraft", "the records hold nothing that this rule could judge"),)
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

    def value(self, parameter: Parameter) -> Any:
        """A fact or section that a rule asks for; None where an optional one is missing, MissingRecord otherwise."""
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
            return fact.compute(*[self.value(parameter) for parameter in fact.parameters])
        except MissingRecord as missing:
            return missing

    def _first_place(self) -> tuple[Spot, ...]:
        aircraft = self.project.aircraft
        return (aircraft.at(),) if aircraft else ()

    def _capped(self, rule: Rule, finding: Finding) -> Finding:
        if finding.verdict is Verdict.FAIL and rule.at_worst is Verdict.WARN:
            finding = finding._replace(verdict=Verdict.WARN)
        stands = rule.holds_abroad or self.authority in rule.only_for
        if finding.verdict in {Verdict.FAIL, Verdict.NO_DATA} and not stands:
            source = self.book.references[rule.references[0]]
            if _elsewhere(source, self.project):
                ask = f"This is the law of {source.authority}, a yardstick here: ask the authority of {self.authority}."
                return finding._replace(verdict=Verdict.WARN, remedy=f"{finding.remedy or rule.remedy} {ask}")
        return finding

    def _with_deviation(self, rule: Rule, finding: Finding) -> Finding:
        """A recorded, current deviation turns `fail` into `warn`, where the rule allows one; never into `pass`."""
        if finding.verdict is not Verdict.FAIL or rule.no_deviation:
            return finding
        for deviation in self.deviations:
            if (
                deviation.rule == rule.id
                and deviation.subject in {None, finding.subject}
                and (deviation.is_current(self.stage, self.day))
            ):
                return finding._replace(
                    verdict=Verdict.WARN, deviation=f"{deviation.reason}; agreed by {deviation.agreed_by}"
                )
        return finding
