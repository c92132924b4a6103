"""The catalogue of all rules and sources, in Markdown; `python -m jurystrut.reports.catalogue rules/CATALOGUE.md` writes it."""

from __future__ import annotations

import sys
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING

from jurystrut.judge import installed_packs, load
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.judge import Rulebook
    from jurystrut.rulebook import Reference, Rule

__all__ = ["main", "write_catalogue"]

_INTRODUCTION = """# Catalogue of rules

Written by `python -m jurystrut.reports.catalogue rules/CATALOGUE.md`; a test keeps it current. Change the rules, not this file.

Each rule names the source that decides it first, how it reaches an amateur-built aircraft, and how the source is known to us:
read in a copy, at second hand, or from memory. `warns` stands at rules that warn at worst, for their figures come from memory
or common practice. Of an aircraft of another authority, law written elsewhere warns at most, but for the rules that say why
they hold anywhere.
"""


def write_catalogue(book: Rulebook) -> str:
    """All rules by domain, then all sources with the rules that cite them."""
    return "\n".join([_INTRODUCTION, *_rules(book), *_sources(book)]) + "\n"


def _rules(book: Rulebook) -> Iterator[str]:
    domain = ""
    for rule in book.rules:
        if rule.domain != domain:
            domain = rule.domain
            yield f"## {domain}\n"
        yield from _rule(rule, book)


def _rule(rule: Rule, book: Rulebook) -> Iterator[str]:
    first, *others = book.cited(rule)
    facts = [f"from stage {rule.due.value} on", "warns" if rule.at_worst is Verdict.WARN else "fails"]
    facts += [f"for aircraft of {' and '.join(rule.only_for)} only"] if rule.only_for else []
    facts += [f"anywhere, because {rule.holds_abroad}"] if rule.holds_abroad else []
    facts += [f"no deviation, because {rule.no_deviation}"] if rule.no_deviation else []
    yield f"### {rule.id}\n"
    yield f"{rule.title}. {rule.asks}\n"
    yield f"- {'; '.join(facts)}"
    yield f"- decided by {first} ({_how(first)})"
    if others:
        yield f"- cites {', '.join(reference.id for reference in others)} too"
    yield f"- mended: {rule.remedy}\n"


def _how(reference: Reference) -> str:
    if reference.kind == "common-practice":
        return "common practice"
    return f"{reference.kind}, {reference.binds.replace('-', ' ')}, {reference.status}"


def _sources(book: Rulebook) -> Iterator[str]:
    citing: dict[str, list[str]] = defaultdict(list)
    for rule in book.rules:
        for name in rule.references:
            citing[name].append(rule.id)
    yield "## Sources\n"
    yield "| id | source | how it binds, how it is known | cited by |"
    yield "| --- | --- | --- | --- |"
    for name, reference in sorted(book.references.items()):
        who = ", ".join(citing[name]) or "a table"
        yield f"| {name} | {reference} | {_how(reference)} | {who} |".replace("\n", " ")


def main(arguments: list[str]) -> int:
    """Write the catalogue of the installed packs to the file named."""
    (target,) = arguments
    Path(target).write_text(write_catalogue(load(installed_packs())), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
