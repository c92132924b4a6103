"""The registry of sources, the rules and the catalogue agree."""

from __future__ import annotations

from pathlib import Path

import jurystrut_rules
from jurystrut.judge import load
from jurystrut.reports.catalogue import main, write_catalogue
from jurystrut.rulebook import read_table

ROOT = Path(__file__).parents[2]
BOOK = load([jurystrut_rules.PACK])

READ_AHEAD = {
    *("tm-55-1500-345-23", "mil-hdbk-1110", "ac43-11-49", "ac43-11-66-feeders", "astm-b258", "iacs-copper"),
    *("ac43-7-39", "ac43-4-57-c", "practice-bolt-edge", "23-777-d", "23-1321", "ac43-10-15-g", "ac43-minimum-fuel"),
    *("h8083-30-weights", "23-25-a", "23-29-a", "ac20-27g-weight"),
}
"""Sources of electrical, hardware, panel and weights rules that were read before the rules were written."""


def cited() -> set[str]:
    """What rules and tables cite."""
    tables = {read_table(path).source for path in (ROOT / "rules/jurystrut_rules/tables").rglob("*.yaml")}
    return {name for rule in BOOK.rules for name in rule.references} | tables


def test_every_citation_is_in_the_registry() -> None:
    assert cited() <= BOOK.references.keys()


def test_every_entry_is_cited() -> None:
    assert BOOK.references.keys() - cited() <= READ_AHEAD


def test_memory_alone_never_fails_anybody() -> None:
    """A rule whose deciding source is from memory or common practice outside the records themselves may warn at most."""
    free = {"own-consistency"}  # a contradiction between two records is a fact, whatever anybody publishes
    for rule in BOOK.rules:
        first = BOOK.cited(rule)[0]
        if rule.domain in {"operations", "abroad", "documents"} and first.id not in free and first.status == "memory":
            assert rule.at_worst.value == "warn", rule.id


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
