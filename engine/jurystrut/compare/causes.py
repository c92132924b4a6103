"""Which lines of a change brought a finding about: the records are judged again with only some of the lines changed.

The smallest set of lines that still brings it about is looked for by delta debugging (Zeller and Hildebrandt, Simplifying and
Isolating Failure-Inducing Input, IEEE Transactions on Software Engineering 28(2), 2002), over whole files first.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, NamedTuple, TypeVar

from jurystrut.compare.changes import findings_by_key, same_numbers, shape
from jurystrut.compare.hunks import Hunk, applied, hunks_between
from jurystrut.judge import Remembered, Rulebook, judge
from jurystrut.reading import Memory, read_files
from jurystrut.reading.files import RecordFile

if TYPE_CHECKING:
    import datetime
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from jurystrut.compare.changes import Change, Key
    from jurystrut.judge import Judgement
    from jurystrut.rulebook import Finding, Stage

__all__ = ["Causes", "Trials"]

_T = TypeVar("_T")
_MOST_TRIALS = 600  # some seconds on the records of one aircraft
_MOST_CHARACTERS = 60_000_000  # of records read in all trials together: the larger the repository, the fewer trials
_FEWEST_TRIALS = 20
_MOST_ALTERNATIVES = 3
_MOST_IN_PAIRS = 12


class Causes(NamedTuple):
    """The sets of lines each of which brings a change about by itself; `narrowed` is False where the search was cut short."""

    sets: tuple[tuple[Hunk, ...], ...]
    narrowed: bool = True


class _Enough(Exception):
    """As many trials were made as are allowed."""


class Trials:
    """Judges the records with some of the pieces of a change put in; no set of pieces is judged twice.

    `tolerated` are the messages of problems that the records had before or after all the same; `whole` is the judgement with all
    pieces put in, where these very records were judged already.
    """

    def __init__(
        self,
        before: Mapping[str, str],
        after: Mapping[str, str],
        book: Rulebook,
        *,
        at: Stage | None,
        on: datetime.date,
        rules: Iterable[str],
        tolerated: Iterable[str] = (),
        whole: Judgement | None = None,
    ) -> None:
        wanted = frozenset(rules)
        rules_wanted = tuple(rule for rule in book.rules if rule.id in wanted)
        self.before = before
        self.hunks = hunks_between(before, after)
        self.book = Rulebook(rules_wanted, book.facts, book.references, book.packs)
        self.at = at
        self.on = on
        self.tolerated = frozenset(tolerated)
        size = max(sum(map(len, after.values())), 1)
        self.most = max(min(_MOST_TRIALS, _MOST_CHARACTERS // size), _FEWEST_TRIALS)
        self._reading = Memory()
        self._judging = Remembered()
        self._known: dict[frozenset[Hunk], dict[Key, list[Finding]] | None] = {}
        if whole:
            self._known[frozenset(self.hunks)] = findings_by_key(r for r in whole.results if r.rule.id in wanted)

    def causes(self, change: Change) -> Causes:
        """The shortest sets of lines that bring the change about by themselves, a few of them."""
        sets: list[tuple[Hunk, ...]] = []
        rest = self.hunks
        try:
            while len(sets) < _MOST_ALTERNATIVES and rest and self._brings(change, rest):
                found = self._narrowed(change, rest)
                sets.append(found)
                rest = [hunk for hunk in rest if hunk not in found]
        except _Enough:
            return Causes(tuple(sets) or (tuple(self.hunks),), narrowed=False)
        return Causes(tuple(sets))

    def _narrowed(self, change: Change, hunks: Sequence[Hunk]) -> tuple[Hunk, ...]:
        """Whole files first, then the lines in the files that matter."""
        files = {file: tuple(group) for file, group in itertools.groupby(hunks, lambda hunk: hunk.file)}
        groups = _smallest(list(files.values()), lambda some: self._brings(change, itertools.chain(*some)))
        pieces = list(itertools.chain(*groups))
        return tuple(_smallest(pieces, lambda some: self._brings(change, some)))

    def _brings(self, change: Change, hunks: Iterable[Hunk]) -> bool:
        outcome = self._outcome(frozenset(hunks))
        return outcome is not None and _shows(change, outcome.get(change.key, []))

    def _outcome(self, hunks: frozenset[Hunk]) -> dict[Key, list[Finding]] | None:
        """What the rules say with these pieces put in; None where the records do not hold together then."""
        if hunks not in self._known:
            if len(self._known) >= self.most:
                raise _Enough
            judgement = self._judged(applied(self.before, hunks))
            torn = any(problem.message not in self.tolerated for problem in judgement.problems)
            self._known[hunks] = None if torn else findings_by_key(judgement.results)
        return self._known[hunks]

    def _judged(self, texts: Mapping[str, str]) -> Judgement:
        files = [RecordFile(path, texts[path]) for path in sorted(texts)]
        project = read_files(files, self._reading)
        return judge(project, self.book, at=self.at, on=self.on, memory=self._judging)


def _shows(change: Change, findings: Sequence[Finding]) -> bool:
    """Whether the change is there in what a trial says of its rule and subject."""
    if change.after is None:
        assert change.before
        return not any(
            finding.verdict is change.before.verdict and _alike(finding, change.before) for finding in findings
        )
    wanted = change.after
    # A margin is brought about where it is the same; a verdict, also where the figures differ.
    exactly = change.kind == "margin"
    return any(
        finding.verdict is wanted.verdict and _alike(finding, wanted) and (not exactly or same_numbers(finding, wanted))
        for finding in findings
    )


def _alike(one: Finding, other: Finding) -> bool:
    return shape(one) == shape(other)


def _smallest(items: Sequence[_T], test: Callable[[Sequence[_T]], bool]) -> Sequence[_T]:
    """A smallest set of items that passes the test, which all of them together do: one, else two, else none can be spared."""
    for item in items:
        if test([item]):
            return [item]
    if len(items) <= _MOST_IN_PAIRS:
        for pair in itertools.combinations(items, 2):
            if test(pair):
                return pair
    return _spared(items, test)


def _spared(items: Sequence[_T], test: Callable[[Sequence[_T]], bool]) -> Sequence[_T]:
    """Delta debugging: drop ever smaller parts as long as what is left passes."""
    parts = 2
    while len(items) > 1:
        size = -(-len(items) // parts)
        for start in range(0, len(items), size):
            rest = [*items[:start], *items[start + size :]]
            if rest and test(rest):
                items, parts = rest, max(parts - 1, 2)
                break
        else:
            if size == 1:
                break
            parts = min(2 * parts, len(items))
    return items
