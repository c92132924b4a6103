"""The catalogue of all rules and sources, in Markdown: from each requirement to its rules, their tests and what these rest on.

`python -m jurystrut.reports.catalogue rules/CATALOGUE.md` writes it, in a checkout of the sources: it runs the tests of rules.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from pathlib import Path
from typing import TYPE_CHECKING

from jurystrut.errors import UsageError
from jurystrut.judge import installed_packs, load
from jurystrut.rulebook import Verdict
from jurystrut.rulebook.figures import figures_of, status_of
from jurystrut.traces import KINDS, LATE, NOTHING, gaps, observe, shown

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.judge import Rulebook
    from jurystrut.rulebook import Reference, Rule
    from jurystrut.traces import Traces

__all__ = ["main", "used_by_figures", "write_catalogue"]

_INTRODUCTION = """# Catalogue of rules

Written by `python -m jurystrut.reports.catalogue rules/CATALOGUE.md` in a checkout of the sources; a test keeps it current.
Change the rules and their tests, not this file.

Each rule names the source that decides it first, how it reaches an amateur-built aircraft, and how the source is known to us:
read in a copy, at second hand, or from memory. `warns` stands at rules that warn at worst, for their figures come from memory
or common practice. Of an aircraft of another authority, law written elsewhere warns at most, but for the rules that say why
they hold anywhere.

The tests are not declared, they are observed: the tests of rules ran, and what each was told of a rule is what it shows. Of
those that go over a limit the one that goes least over is named; where no figures are compared, a second sound case stands for
`exactly at`. What expected figures come from is said in the tests: an entry of the sources, a library that the calculation
behind the rule is compared with, `own arithmetic` worked by hand in the test, or `nothing computed`.
"""


def write_catalogue(book: Rulebook, traces: Traces) -> str:
    """From requirements to tests, all rules by domain, all figures, and all sources with the rules that cite them."""
    sections = (_requirements(book, traces), _rules(book, traces), _figures(book), _sources(book))
    return "\n".join([_INTRODUCTION, *(line for section in sections for line in section)]) + "\n"


def _requirements(book: Rulebook, traces: Traces) -> Iterator[str]:
    """A line for each rule that a source asks for; or for the figures, where it is behind these alone."""
    asked: dict[str, list[Rule]] = defaultdict(list)
    for rule in book.rules:
        for name in rule.references:
            asked[name].append(rule)
    figures: dict[str, set[str]] = defaultdict(set)
    for _, figure in figures_of(book):
        figures[figure.source or ""].add(figure.place.partition(":")[0])
    oracles = {name for rule in book.rules for name in traces.oracles_of(rule.id)}
    yield "## From requirement to test\n"
    yield "| requirement | known | rule | tests | expected figures from |"
    yield "| --- | --- | --- | --- | --- |"
    for name, reference in sorted(book.references.items()):
        for rule in asked[name]:
            tests = ", ".join(map(_short, traces.modules_of(rule.id)))
            yield f"| {name} | {reference.known} | {rule.id} | {tests} | {', '.join(traces.oracles_of(rule.id))} |"
        if not asked[name]:
            used = [f"figures in {', '.join(sorted(figures[name]))}"] if name in figures else []
            used += ["tests, as their oracle"] if name in oracles else []
            yield f"| {name} | {reference.known} | {'; '.join(used)} | | |"
    yield ""


def _rules(book: Rulebook, traces: Traces) -> Iterator[str]:
    domain = ""
    for rule in book.rules:
        if rule.domain != domain:
            domain = rule.domain
            yield f"## {domain}\n"
        yield from _rule(rule, book, traces)


def _rule(rule: Rule, book: Rulebook, traces: Traces) -> Iterator[str]:
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
    yield from _tests(rule, traces)
    yield f"- mended: {rule.remedy}\n"


def _tests(rule: Rule, traces: Traces) -> Iterator[str]:
    by_module: dict[str, list[str]] = defaultdict(list)
    for kind, test in shown(rule.id, traces).items():
        module, _, name = test.partition("::")
        by_module[module].append(f"{kind} `{name}`")
    tests = (f"{_short(module)}: {', '.join(named)}" for module, named in by_module.items())
    yield f"- tests {'; '.join(tests)}"
    oracles = traces.oracles_of(rule.id)
    yield f"- {NOTHING}" if oracles == [NOTHING] else f"- expected figures from {', '.join(oracles)}"
    if rule.id in traces.late:
        yield f"- late changes {', '.join(traces.late[rule.id])}"
    excuses = traces.excuses(rule.id)
    yield from (f"- no `{kind}`: {excuses[kind]}" for kind in (*KINDS, LATE) if kind in excuses)


def _short(module: str) -> str:
    return module.removeprefix("tests/rules/")


def _figures(book: Rulebook) -> Iterator[str]:
    """Those of one name together, those of a table counted."""
    named: dict[tuple[str, str, str, str], list[str]] = defaultdict(list)
    counted: dict[tuple[str, str], Counter[str]] = defaultdict(Counter)
    for domain, figure in figures_of(book):
        file, _, line = figure.place.partition(":")
        known = status_of(figure, book.references) or "untraced"
        if line:
            named[f"{domain}, {file}", figure.name or "in a function", figure.source or "", known].append(figure.value)
        else:
            counted[file, figure.source or ""][known] += 1
    yield "## Figures\n"
    yield "| where | figure | from | known |"
    yield "| --- | --- | --- | --- |"
    for (where, name, source, known), values in named.items():
        yield f"| {where} | `{name} {' '.join(values)}` | {source} | {known} |"
    yield "\n## Tables\n"
    yield "| table | from | figures known how |"
    yield "| --- | --- | --- |"
    for (file, source), how in counted.items():
        yield f"| {file} | {source} | {', '.join(f'{count} {known}' for known, count in sorted(how.items()))} |"
    yield ""


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
        who = ", ".join(citing[name]) or "a table, a figure or a test"
        yield f"| {name} | {reference} | {_how(reference)} | {who} |".replace("\n", " ")


def used_by_figures(book: Rulebook) -> set[str]:
    """The entries that figures, those of tables among them, are traced to."""
    return {figure.source for _, figure in figures_of(book) if figure.source}


def main(arguments: list[str]) -> int:
    """Write the catalogue of the installed packs to the file named; gives 1 where a way from source to test has a gap."""
    (target,) = arguments
    book = load(installed_packs())
    try:
        traces = observe(Path("tests"))
    except UsageError as error:
        sys.stderr.write(f"{error}\n")
        return 2
    Path(target).write_text(write_catalogue(book, traces), encoding="utf-8")
    found = list(gaps(book, traces, used_by_figures(book)))
    sys.stderr.writelines(f"gap: {gap}\n" for gap in found)
    return int(bool(found))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
