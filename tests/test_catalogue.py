"""The registry of sources, the rules, their tests and the catalogue agree: from a source to what shows it, without a gap."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import jurystrut_rules
from jurystrut.judge import load
from jurystrut.rulebook import read_table
from jurystrut.rulebook.figures import EXACT, figures_of

ROOT = Path(__file__).parents[1]
BOOK = load([jurystrut_rules.PACK])
CATALOGUE = (ROOT / "rules/CATALOGUE.md").read_text("utf-8")


def cited() -> set[str]:
    """What rules, tables and figures cite."""
    tables = {read_table(path).source for path in (ROOT / "rules/jurystrut_rules/tables").rglob("*.yaml")}
    figures = {figure.source for _, figure in figures_of(BOOK) if figure.source} - EXACT
    return {name for rule in BOOK.rules for name in rule.references} | tables | figures


def test_every_citation_is_in_the_registry() -> None:
    assert cited() <= BOOK.references.keys()


def test_memory_alone_fails_nobody() -> None:
    """Mended by reading the source, or by letting the rule warn."""
    deciding = {rule.id: BOOK.cited(rule)[0] for rule in BOOK.rules if rule.at_worst.value != "warn"}
    assert {name for name, first in deciding.items() if first.status == "memory"} == set()


def test_the_catalogue_is_current_and_shows_no_gap(tmp_path: Path) -> None:
    """Mended by `python -m jurystrut.reports.catalogue rules/CATALOGUE.md`; it names the gaps, which the tests close."""
    outside = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST")}
    done = subprocess.run(
        [sys.executable, "-m", "jurystrut.reports.catalogue", str(tmp_path / "C.md")],
        cwd=ROOT,
        env=outside,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, ""), done.stdout
    assert (tmp_path / "C.md").read_text("utf-8") == CATALOGUE


def test_the_catalogue_names_every_rule_and_every_source() -> None:
    assert all(f"\n### {rule.id}\n" in CATALOGUE and rule.asks in CATALOGUE for rule in BOOK.rules)
    assert all(f"\n| {name} |" in CATALOGUE for name in BOOK.references)


def test_every_requirement_leads_to_its_rules_their_tests_and_what_these_rest_on() -> None:
    table = CATALOGUE.partition("## From requirement to test")[2].partition("\n## ")[0]
    rows = {tuple(re.split(r" \| ", line.strip("| "))) for line in table.splitlines() if line.startswith("| ")}
    pairs = {(name, rule.id) for rule in BOOK.rules for name in rule.references}
    assert {(row[0], row[2]) for row in rows if len(row) == 5 and "/" in row[2]} == pairs
    assert all(
        (ROOT / "tests/rules" / path).is_file()
        for row in rows
        if len(row) == 5
        for path in row[3].split(", ")[:9]
        if "." in path
    )
    protection = next(row for row in rows if row[0] == "23-1357-a" and row[2] == "electrical/wire-protection")
    assert protection[1] == "read"
    assert protection[3:] == (
        "electrical/test_protection.py",
        "ac43-table-11-9, ac43-figure-11-4a, ac43-figure-11-5, networkx",
    )


def test_away_from_a_checkout_it_says_so(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "jurystrut.reports.catalogue", "C.md"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert (
        done.stderr == "no tests of rules are in tests/rules; the catalogue is written in a checkout of the sources\n"
    )
    assert not (tmp_path / "C.md").exists()
