"""How what the rules rest on is known: rules by the source that decides them, figures by the source they come from."""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from jurystrut.reports.plain import one_line, wrapped
from jurystrut.rulebook.figures import figures_of, status_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.rulebook import Rulebook
    from jurystrut.rulebook.figures import Figure

__all__ = ["STATUSES", "Shares", "shares_of", "write", "write_json"]

STATUSES = {
    "read": "read",
    "second-hand": "second hand",
    "memory": "memory",
    "common-practice": "practice",
    "as-recorded": "as recorded",
}
"""How a source may be known, as `Reference.known` says it, and as a column is headed."""

Shares = dict[str, Counter[str]]
"""By domain, how many are known how."""

_UNTRACED = "untraced"


def shares_of(book: Rulebook) -> tuple[Shares, Shares]:
    """The rules and the figures of each domain by their status; figures of no entry stand under `untraced`."""
    rules: Shares = defaultdict(Counter)
    figures: Shares = defaultdict(Counter)
    for rule in book.rules:
        rules[rule.domain][book.deciding(rule).known] += 1
    for domain, figure in figures_of(book):
        status = status_of(figure, book.references) or _UNTRACED
        if status != "exact":
            figures[domain][status] += 1
    return rules, figures


def write(book: Rulebook, status: str | None = None) -> str:
    """The shares as text; or, of one status, the rules and figures themselves."""
    return "\n".join(_listed(book, status) if status else _tables(book)) + "\n"


def _tables(book: Rulebook) -> Iterator[str]:
    rules, figures = shares_of(book)
    yield "RULES, by how the source that decides each is known\n"
    yield from _table(rules)
    yield "\nFIGURES of rules, tables and calculations, by how the source of each is known\n"
    yield from _table(figures)
    yield ""
    known = Counter(reference.known for reference in book.references.values())
    counts = ", ".join(f"{known[name]} {title}" for name, title in STATUSES.items())
    yield wrapped(f"SOURCES: {known.total()} in all, {counts}.", "")
    yield ""
    yield wrapped(
        "Practice is common practice and our own choice, which no document backs. As recorded means that the builder's own "
        "drawing or manual decides. A rule that memory decides warns at most; `jurystrut sources --status memory` lists them.",
        "",
    )


def _table(shares: Shares) -> Iterator[str]:
    columns = dict(STATUSES)
    if any(counts[_UNTRACED] for counts in shares.values()):
        columns[_UNTRACED] = _UNTRACED
    yield " " * 13 + "".join(f"{title:>12}" for title in columns.values()) + f"{'all':>7}"
    whole: Counter[str] = Counter()
    for domain, counts in sorted(shares.items()):
        whole.update(counts)
        yield _row(domain, columns, counts)
    yield _row("together", columns, whole)
    parts = (f"{100 * whole[name] / max(whole.total(), 1):.1f} %" for name in columns)
    yield f"{'share':13}" + "".join(f"{part:>12}" for part in parts)


def _row(name: str, columns: Mapping[str, str], counts: Counter[str]) -> str:
    return f"{name:13}" + "".join(f"{counts[column]:>12}" for column in columns) + f"{counts.total():>7}"


def _listed(book: Rulebook, status: str) -> Iterator[str]:
    yield f"RULES that {status.replace('-', ' ')} decides\n"
    others = []
    for rule in book.rules:
        first, *rest = book.cited(rule)
        if first.known == status:
            yield f"{rule.id}  {rule.title}"
            yield wrapped(str(first), "    ")
        elif any(reference.known == status for reference in rest):
            others.append(rule.id)
    yield "\nRULES that cite it besides\n"
    yield wrapped(", ".join(others) or "none", "")
    yield "\nFIGURES\n"
    for (domain, name, place, source), values in _figures(book, status).items():
        yield wrapped(f"{name or 'in ' + domain} {' '.join(values)}: {source}, {place}", "    ", "")


def _figures(book: Rulebook, status: str) -> dict[tuple[str, str, str, str], list[str]]:
    """The figures of one status: those of one line, and those of one column of a table, together."""
    found: dict[tuple[str, str, str, str], list[str]] = defaultdict(list)
    for domain, figure in figures_of(book):
        if status_of(figure, book.references) == status:
            found[domain, figure.name, figure.place, figure.source or ""].append(figure.value)
    return found


def write_json(book: Rulebook, status: str | None = None) -> str:
    """The same for machines, `jurystrut/sources/1`; without a status every rule and figure is listed."""
    rules, figures = shares_of(book)
    data = {
        "schema": "jurystrut/sources/1",
        "shares": {"rules": rules, "figures": figures},
        "sources": Counter(reference.known for reference in book.references.values()),
        "rules": [
            {"id": rule.id, "domain": rule.domain, "source": first.id, "status": first.known}
            for rule in book.rules
            for first in book.cited(rule)[:1]
            if status in {None, first.known}
        ],
        "figures": [
            _figure_data(domain, figure, word)
            for domain, figure in figures_of(book)
            for word in [status_of(figure, book.references)]
            if status in {None, word}
        ],
    }
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def _figure_data(domain: str, figure: Figure, status: str | None) -> dict[str, str | None]:
    return {
        "value": one_line(figure.value),
        "name": figure.name,
        "domain": domain,
        "place": figure.place,
        "source": figure.source,
        "status": status,
    }
