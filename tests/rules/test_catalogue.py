"""The registry of sources, the rules and the catalogue agree."""

from __future__ import annotations

from pathlib import Path

import jurystrut_rules
from jurystrut.judge import load
from jurystrut.reports.catalogue import main, write_catalogue
from jurystrut.rulebook import read_table
from jurystrut.rulebook.figures import EXACT, figures_of

ROOT = Path(__file__).parents[2]
BOOK = load([jurystrut_rules.PACK])


def cited() -> set[str]:
    """What rules, tables and figures cite."""
    tables = {read_table(path).source for path in (ROOT / "rules/jurystrut_rules/tables").rglob("*.yaml")}
    figures = {figure.source for _, figure in figures_of(BOOK) if figure.source} - EXACT
    return {name for rule in BOOK.rules for name in rule.references} | tables | figures


def test_every_citation_is_in_the_registry() -> None:
    assert cited() <= BOOK.references.keys()


def test_every_entry_is_cited() -> None:
    assert BOOK.references.keys() <= cited()


def test_memory_alone_fails_nobody() -> None:
    """Mended by reading the source, or by letting the rule warn."""
    deciding = {rule.id: BOOK.cited(rule)[0] for rule in BOOK.rules if rule.at_worst.value != "warn"}
    assert {name for name, first in deciding.items() if first.status == "memory"} == set()


def test_the_catalogue_is_current() -> None:
    """Mended by `python -m jurystrut.reports.catalogue rules/CATALOGUE.md`."""
    assert (ROOT / "rules/CATALOGUE.md").read_text("utf-8") == write_catalogue(BOOK)


def test_the_catalogue_names_every_rule_and_every_source() -> None:
    text = write_catalogue(BOOK)
    assert all(f"\n### {rule.id}\n" in text and rule.asks in text for rule in BOOK.rules)
    assert all(f"\n| {name} |" in text for name in BOOK.references)


def test_the_command_writes_it(tmp_path: Path) -> None:
    assert main([str(tmp_path / "C.md")]) == 0
    assert "# Catalogue of rules" in (tmp_path / "C.md").read_text("utf-8")
