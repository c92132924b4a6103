"""Runs every rule of every pack over one aircraft's records."""

from __future__ import annotations

import datetime
import operator
import sys
from typing import TYPE_CHECKING, Any, NamedTuple, cast

from jurystrut.errors import MissingRecord, Problem
from jurystrut.judgement import CAUTION, Judgement, RuleResult, is_law_elsewhere
from jurystrut.positions import Position, Spot
from jurystrut.records import LISTS, SECTIONS
from jurystrut.rulebook import (
    Fact,
    Finding,
    Parameter,
    Rule,
    Rulebook,
    Sound,
    Stage,
    Verdict,
    installed_packs,
    load,
    no_data,
    not_applicable,
    worst,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

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

_ON_EVERYTHING = frozenset({"aircraft", "deviations"})
"""Sections that bear on every rule."""
_STAGE = frozenset({"stage"})
_JUDGED = frozenset({Parameter("judged", optional=False), Parameter("judged", optional=True)})
_OTHERS_RESULTS = frozenset({"judged", "rules"})
"""What looks at the results of other rules rests on more than records."""


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


class _Last(NamedTuple):
    """The names behind a fact or rule, the sections of these names, what it was computed from, and what came out."""

    names: frozenset[str]
    sections: tuple[object, ...]
    rests_on: tuple[object, ...]
    value: Any


class Remembered:
    """What one judgement leaves for the next of nearly the same records, by the same rules."""

    def __init__(self) -> None:
        self.last: dict[str, _Last] = {}
        """Of each fact and rule."""
        self.reached: dict[tuple[str, frozenset[str]], frozenset[str]] = {}
        self._waived: dict[Stage, tuple[object, dict[str, RuleResult | None]]] = {}
        self._sections: dict[frozenset[str], tuple[object, ...]] = {}

    def waived(self, stage: Stage, aircraft: object) -> dict[str, RuleResult | None]:
        """By rule, its result where it is not asked at this stage of this aircraft, and None where it is, so far as known."""
        if stage not in self._waived or self._waived[stage][0] is not aircraft:
            self._waived[stage] = aircraft, {}
        return self._waived[stage][1]

    def sections(self, names: frozenset[str], now: tuple[object, ...]) -> tuple[object, ...]:
        """The tuple of last time where it holds the same objects: a look at one object tells then that nothing changed."""
        before = self._sections.get(names)
        if before is None or not _identical(before, now):
            before = self._sections[names] = now
        return before


def _identical(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    return len(one) == len(other) and all(map(operator.is_, one, other))


def _without_frames(missing: MissingRecord) -> MissingRecord:
    """What is remembered must not keep the run in which it was raised, and with that every run before."""
    return missing.with_traceback(None)


def _with_remedy(rule: Rule, finding: Finding) -> Finding:
    """A finding, not sound, that names no remedy of its own gets the rule's."""
    return finding if finding.remedy else finding._replace(remedy=rule.remedy)


def _verdicts(found: Iterable[Finding | Sound]) -> set[Verdict]:
    return {one.verdict if isinstance(one, Finding) else Verdict.PASS for one in found}


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
        self.behind: dict[frozenset[str], tuple[object, ...]] = {}
        self.authority = project.aircraft.authority if project.aircraft else None
        self.waived = self.memory.waived(stage, project.aircraft) if self.memory else {}
        self.known: dict[str, Any] = {"project": project, "stage": stage, "day": day}
        self.known |= {"rules": {rule.id: rule for rule in book.rules}, "judged": self.judged}
        self.deviations: tuple[Deviation, ...] = project.sections.get("deviations", ())

    def results(self) -> tuple[RuleResult, ...]:
        """All results in the order of the rules; those that look at the others' results come last to their turn."""
        last = {rule.id for rule in self.book.rules if not _JUDGED.isdisjoint(rule.parameters)}
        for rule in self.book.rules:
            if rule.id not in last:
                self.judged[rule.id] = self.result(rule)
        looking_back = {rule.id: self.result(rule) for rule in self.book.rules if rule.id in last}
        return tuple((looking_back.get(rule.id) or self.judged[rule.id]) for rule in self.book.rules)

    def facts(self) -> dict[str, Any]:
        """The pack's facts that could be computed."""
        return {n: v for n, v in self.known.items() if n in self.book.facts and not isinstance(v, MissingRecord)}

    def result(self, rule: Rule) -> RuleResult:
        if rule.id not in self.waived:
            waiver = self._waiver(rule)
            self.waived[rule.id] = RuleResult(rule, waiver.verdict, (waiver,)) if waiver else None
        return self.waived[rule.id] or cast(
            "RuleResult", self._remembered(rule.id, rule.parameters, lambda: self._result(rule))
        )

    def _remembered(self, name: str, parameters: tuple[Parameter, ...], compute: Callable[[], Any]) -> Any:
        """What came out last time, where it rests on the same records or facts; identity decides, since none changes."""
        if self.memory is None:
            return compute()
        known = self.memory.last.get(name)
        if known and self._behind(self.memory, known.names) is known.sections:
            return known.value
        names = self._names_behind(self.memory, name, parameters)
        if not names.isdisjoint(_OTHERS_RESULTS):
            return compute()
        try:
            rests_on = self._rests_on(name, parameters)
        except Exception:  # noqa: BLE001 - a fact's bug is told by the rule that asks for it
            return compute()
        problems = len(self.problems)
        if known and _identical(known.rests_on, rests_on):
            value = known.value
        else:
            value = compute()
            if known and name in self.book.facts and self.book.facts[name].is_plain and value == known.value:
                value = known.value
        if len(self.problems) == problems:  # a rule's bug is told anew each time
            self.memory.last[name] = _Last(names, self._behind(self.memory, names), rests_on, value)
        return value

    def _behind(self, memory: Remembered, names: frozenset[str]) -> tuple[object, ...]:
        """The sections of these names, the same tuple as last time where none changed."""
        if names not in self.behind:
            self.behind[names] = memory.sections(names, self._present(names))
        return self.behind[names]

    def _names_behind(self, memory: Remembered, name: str, parameters: tuple[Parameter, ...]) -> frozenset[str]:
        """All facts and sections behind something."""
        besides = self._besides(name)
        if (name, besides) not in memory.reached:
            memory.reached[name, besides] = self._reached(parameters) | besides
        return memory.reached[name, besides]

    def _besides(self, name: str) -> frozenset[str]:
        """A rule's result rests on the stage where deviations may end with one; when it is due was looked at before."""
        return _STAGE if self.deviations and name not in self.book.facts else frozenset()

    def _present(self, names: frozenset[str]) -> tuple[object, ...]:
        """The sections of these names, with those that bear on everything; `project` names them all."""
        sections = self.project.sections
        everything = "project" in names
        present = (sections.get(name) for name in SECTIONS if everything or name in names or name in _ON_EVERYTHING)
        files = map(sys.intern, self.project.files) if everything else ()
        return (self.stage if "stage" in names else None, self.day, *present, *files)

    def _reached(self, parameters: tuple[Parameter, ...]) -> frozenset[str]:
        """All facts and sections behind some parameters."""
        found: set[str] = set()
        for parameter in parameters:
            found.add(parameter.name)
            if parameter.name in self.book.facts:
                found |= self._reached(self.book.facts[parameter.name].parameters)
        return frozenset(found)

    def _rests_on(self, name: str, parameters: tuple[Parameter, ...]) -> tuple[object, ...]:
        """The facts and sections that something asks for itself."""
        names = self._besides(name).union(parameter.name for parameter in parameters)
        return (*self._present(names), *(self._known(name) for name in sorted(names) if name in self.book.facts))

    def _result(self, rule: Rule) -> RuleResult:
        found = self._findings(rule)
        verdicts = _verdicts(found)
        if verdicts & _UNSOUND:
            found = tuple(
                self._settled(rule, one) if isinstance(one, Finding) and one.verdict in _UNSOUND else one
                for one in found
            )
            verdicts = _verdicts(found)
        return RuleResult(rule, worst(verdicts), found)

    def _waiver(self, rule: Rule) -> Finding | None:
        """Why a rule is not asked at all, where it is not."""
        if self.stage < rule.due:
            return Finding(Verdict.NOT_DUE, "aircraft", f"asked from stage {rule.due.value} on")
        if rule.only_for and self.authority not in rule.only_for:
            return not_applicable("aircraft", f"it asks about aircraft of {' and '.join(rule.only_for)} only")
        absent = self._sections(rule.parameters) & self.without
        if absent:
            return not_applicable("aircraft", f"this aircraft is recorded as one without {', '.join(sorted(absent))}")
        return None

    def _findings(self, rule: Rule) -> tuple[Finding | Sound, ...]:
        try:
            found = tuple(rule.check(*[self.value(parameter) for parameter in rule.parameters]))
            # Silence must not read as "nothing wrong": no wires recorded is not the same as no wires.
            return found or (no_data("aircraft", "the records hold nothing that this rule could judge"),)
        except MissingRecord as missing:
            where = _without_frames(missing).where
            return (no_data("aircraft", str(missing), *where, remedy="Record it, so that this rule can be judged."),)
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
        value = self._known(parameter.name)
        if isinstance(value, MissingRecord):
            if parameter.optional:
                return None
            raise value
        return value

    def _known(self, name: str) -> Any:
        if name not in self.known:
            self.known[name] = self._compute(name)
        return self.known[name]

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
            return _without_frames(missing)

    def _first_place(self) -> tuple[Spot, ...]:
        aircraft = self.project.aircraft
        return (aircraft.at(),) if aircraft else ()

    def _settled(self, rule: Rule, finding: Finding) -> Finding:
        """What is not sound, no worse than its source and its deviation let it be, and with a remedy."""
        return _with_remedy(rule, self._with_deviation(rule, self._capped(rule, finding)))

    def _capped(self, rule: Rule, finding: Finding) -> Finding:
        if finding.verdict is Verdict.FAIL and rule.at_worst is Verdict.WARN:
            finding = finding._replace(verdict=Verdict.WARN)
        stands = rule.holds_abroad or self.authority in rule.only_for
        if finding.verdict in {Verdict.FAIL, Verdict.NO_DATA} and not stands:
            source = self.book.references[rule.references[0]]
            if is_law_elsewhere(source, self.project):
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
