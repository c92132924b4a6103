"""How a rule is declared: one small function with everything about it in one place, and facts that rules share."""

from __future__ import annotations

import inspect
import re
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.errors import PackError
from jurystrut.rulebook.verdicts import Verdict

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path
    from types import ModuleType

    from jurystrut.records.aircraft import Stage
    from jurystrut.rulebook.findings import Finding, Sound

__all__ = ["Fact", "Pack", "Parameter", "Rule", "declared_in", "fact", "plain_fact", "rule"]

_RULE_ID = re.compile("[a-z]+(-[a-z]+)*/[a-z0-9]+(-[a-z0-9]+)*")


class Parameter(NamedTuple):
    """A fact that a rule asks for by name; an optional one is None where the records do not hold it."""

    name: str
    optional: bool


class Rule(NamedTuple):
    """A rule and all that is known of it."""

    id: str
    title: str
    asks: str
    references: tuple[str, ...]
    due: Stage
    remedy: str
    no_deviation: str
    at_worst: Verdict
    check: Callable[..., Iterable[Finding | Sound]]
    parameters: tuple[Parameter, ...] = ()
    only_for: tuple[str, ...] = ()
    holds_abroad: str = ""

    @property
    def explanation(self) -> str:
        """The docstring of its function, for a builder."""
        return inspect.cleandoc(self.check.__doc__ or "")

    @property
    def domain(self) -> str:
        """The part of the id before the slash."""
        return self.id.partition("/")[0]


class Fact(NamedTuple):
    """Something computed once from the records, which rules of the pack receive under its name.

    One that `is_plain` holds names and numbers alone, no records and no places.
    """

    name: str
    compute: Callable[..., Any]
    parameters: tuple[Parameter, ...] = ()
    is_plain: bool = False


class Pack(NamedTuple):
    """A distribution's rules: the modules that hold them, and the folder of the sources they cite."""

    name: str
    authority: str
    modules: tuple[str, ...]
    sources: Path


def rule(
    id: str,  # noqa: A002 - the word that users know
    *,
    title: str,
    asks: str,
    references: tuple[str, ...],
    due: Stage,
    remedy: str,
    no_deviation: str = "",
    at_worst: Verdict = Verdict.FAIL,
    only_for: tuple[str, ...] = (),
    holds_abroad: str = "",
) -> Callable[[Callable[..., Iterable[Finding | Sound]]], Rule]:
    """Declare a rule.

    `references` are ids in the pack's registry of sources, the one that decides first. `no_deviation` says why no
    deviation may be recorded, where none may. `at_worst` is `warn` for a rule whose figures come from memory or common
    practice. `only_for` names the authorities whose aircraft alone it asks about. A rule whose deciding source is
    another authority's law warns at most, unless `holds_abroad` says why it stands anywhere. The function's parameters
    name the facts it wants: a section, `project`, `stage`, `day`, or a fact of the pack; one with the default None is
    optional. Its docstring explains the rule to a builder.

    Raises PackError where the declaration does not hold together.
    """

    def declare(check: Callable[..., Iterable[Finding | Sound]]) -> Rule:
        if not _RULE_ID.fullmatch(id):
            raise PackError(f"rule '{id}': an id is written domain/what-it-asks, in small letters")
        if not (check.__doc__ or "").strip():
            raise PackError(f"rule '{id}': its function needs a docstring, which explains it to a builder")
        if not references:
            raise PackError(f"rule '{id}': it cites nothing; common practice has an entry in the sources too")
        if not asks.endswith("?"):
            raise PackError(f"rule '{id}': 'asks' is one question, with its question mark")
        return Rule(
            id,
            title,
            asks,
            references,
            due,
            remedy,
            no_deviation,
            at_worst,
            check,
            _parameters(check, f"rule '{id}'"),
            only_for,
            holds_abroad,
        )

    return declare


def fact(compute: Callable[..., Any]) -> Fact:
    """Declare a fact: the function's name is the name under which rules receive what it gives."""
    return Fact(compute.__name__, compute, _parameters(compute, f"fact '{compute.__name__}'"))


def plain_fact(compute: Callable[..., Any]) -> Fact:
    """Declare a fact of names and numbers alone: where records change and it comes out equal, what rests on it stands."""
    return fact(compute)._replace(is_plain=True)


def _parameters(function: Callable[..., Any], whose: str) -> tuple[Parameter, ...]:
    code = function.__code__  # inspect.signature would resolve annotations, at ten times the cost
    if code.co_kwonlyargcount or code.co_flags & (inspect.CO_VARARGS | inspect.CO_VARKEYWORDS):
        raise PackError(f"{whose}: its parameters must be plain names of facts")
    names = code.co_varnames[: code.co_argcount]
    defaults = len(function.__defaults__ or ())
    return tuple(Parameter(name, position >= len(names) - defaults) for position, name in enumerate(names))


def declared_in(module: ModuleType) -> tuple[list[Rule], list[Fact]]:
    """The rules and facts that a module declares, in the order written."""
    values = list(vars(module).values())
    return [v for v in values if isinstance(v, Rule)], [v for v in values if isinstance(v, Fact)]
