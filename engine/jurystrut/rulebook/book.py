"""All that the installed packs declare, brought together and checked: rules, facts and sources."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.errors import PackError
from jurystrut.records import SECTIONS
from jurystrut.rulebook.references import Registry
from jurystrut.rulebook.rules import declared_in

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from jurystrut.rulebook.references import Reference
    from jurystrut.rulebook.rules import Fact, Pack, Rule

__all__ = ["Rulebook", "installed_packs", "load"]

_GIVEN = frozenset({"project", "stage", "day", "rules", "judged"})
"""Given to every rule that asks: `rules` by id, and `judged`, the results of all rules that do not ask for that, by id."""


class Rulebook(NamedTuple):
    """The rules, facts and sources of all packs together."""

    rules: tuple[Rule, ...]
    facts: Mapping[str, Fact]
    references: Mapping[str, Reference]
    packs: tuple[Pack, ...]

    def cited(self, rule: Rule) -> tuple[Reference, ...]:
        """The sources that a rule cites, the deciding one first."""
        return tuple(self.references[name] for name in rule.references)

    def deciding(self, rule: Rule) -> Reference:
        """The source that decides a rule."""
        return self.references[rule.references[0]]


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
    for pack in packs:
        for module in pack.modules:
            new_rules, new_facts = declared_in(import_module(module))
            for rule in new_rules:
                if rules.setdefault(rule.id, rule) is not rule:
                    raise PackError(f"pack '{pack.name}': the rule '{rule.id}' is declared twice")
            facts |= {fact.name: fact for fact in new_facts}
    references = Registry((pack.sources, pack.authority) for pack in packs)
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
