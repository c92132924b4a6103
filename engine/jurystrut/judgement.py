"""A judgement: what every rule says of one aircraft's records, and what that comes to."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from jurystrut.rulebook import Finding, Sound, Verdict, counted, no_data, worst

if TYPE_CHECKING:
    import datetime
    from collections.abc import Mapping

    from jurystrut.errors import Problem
    from jurystrut.records.project import Project
    from jurystrut.rulebook import Reference, Rule, Rulebook, Stage

__all__ = ["CAUTION", "Judgement", "RuleResult", "is_law_elsewhere"]

CAUTION = (
    "jurystrut advises; it certifies nothing. It knows only what the records say and can be wrong. "
    "The local authority, its inspectors and licensed people decide."
)


@dataclass(frozen=True)
class RuleResult:
    """One rule's findings, and its verdict: the worst of them. Some that pass may not be made yet."""

    rule: Rule
    verdict: Verdict
    found: tuple[Finding | Sound, ...]

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, in the order of the records."""
        return tuple(one if isinstance(one, Finding) else _told(one) for one in self.found)

    def of(self, *verdicts: Verdict) -> list[Finding]:
        """The findings with one of these verdicts, of which none is `pass`."""
        return [one for one in self.found if isinstance(one, Finding) and one.verdict in verdicts]


def _told(sound: Sound) -> Finding:
    try:
        finding = sound.finding()
    except Exception as error:  # noqa: BLE001 - a bug in what a rule says of one subject must hide nothing else
        return no_data("aircraft", f"a bug in this rule: {type(error).__name__}: {error}; please report it")
    if finding.verdict is Verdict.PASS:
        return finding
    bug = f"a bug in this rule: it was sure of this and is not: {finding.message}; please report it"
    return finding._replace(verdict=Verdict.NO_DATA, message=bug)


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
        return worst({counted(verdict, self.stage) for verdict in {result.verdict for result in self.results}})

    def written_elsewhere(self, reference: Reference) -> bool:
        """Whether a source is the law of an authority that is not this aircraft's: a yardstick here."""
        return is_law_elsewhere(reference, self.project)

    @property
    def exit_status(self) -> int:
        """0 nothing failed, 1 a rule failed, 2 the records could not all be read."""
        return 2 if self.problems else int(self.verdict is Verdict.FAIL)


def is_law_elsewhere(reference: Reference, project: Project) -> bool:
    """Whether a source is the law of an authority that is not the aircraft's."""
    aircraft = project.aircraft
    return aircraft is not None and reference.obliges_only_its_own() and reference.authority != aircraft.authority
