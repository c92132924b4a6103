"""The command `jurystrut sources`: how what the rules rest on is known."""

from __future__ import annotations

import json
from collections import Counter
from typing import TYPE_CHECKING, Any

import pytest

from jurystrut.cli import main
from jurystrut.judge import load
from jurystrut.reports.sources import write, write_json
from jurystrut.rulebook import Pack
from jurystrut.testing import installed

if TYPE_CHECKING:
    from pathlib import Path


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(["sources", *arguments]) == 0
    return capsys.readouterr().out


def data(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    return json.loads(said(capsys, "--format", "json", *arguments))


def test_the_shares_of_each_domain_and_together(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys)
    shares = data(capsys)["shares"]
    assert all(len(line) <= 80 for line in text.splitlines())
    for what, table in zip(("rules", "figures"), text.split("FIGURES"), strict=True):
        for domain, counts in shares[what].items():
            (row,) = [line.split() for line in table.splitlines() if line.startswith(f"{domain} ")]
            columns = ("read", "second-hand", "memory", "common-practice", "as-recorded")
            assert row == [domain, *(str(counts.get(name, 0)) for name in columns), str(sum(counts.values()))]
        together = Counter(row["status"] for row in data(capsys)[what] if row["status"] != "exact")
        read = 100 * together["read"] / together.total()
        assert f"share{f'{read:.1f} %':>20}" in table
    assert sum(map(Counter.total, map(Counter, shares["rules"].values()))) == len(installed().rules)
    entries = Counter(reference.known for reference in installed().references.values())
    assert data(capsys)["sources"] == entries
    assert f"SOURCES: {entries.total()} in all, {entries['read']} read, {entries['second-hand']} second hand" in text


def test_a_table_counts_its_cells_and_a_row_that_knows_better_itself(capsys: pytest.CaptureFixture[str]) -> None:
    """Figure 11-6 has four rows of two figures, one of them read; the entry is from memory."""
    rows = [f for f in data(capsys)["figures"] if f["place"] == "tables/electrical/altitude.yaml"]
    assert Counter(row["status"] for row in rows) == {"memory": 6, "read": 2}
    assert {row["value"] for row in rows if row["status"] == "read"} == {"20000", "0.91"}
    assert {(row["domain"], row["source"]) for row in rows} == {("electrical", "ac43-figure-11-6")}


def test_what_rests_on_memory_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "--status", "memory")
    decided, cited, figures = (
        text.split("\n\n")[1],
        text.split("RULES that cite it besides")[1],
        text.split("FIGURES")[1],
    )
    assert "electrical/load-switch  A switch for every load\n    14 CFR 23 23.1361(a) to (c)" in decided
    assert "electrical/endurance" in cited  # 23.1353(h) from memory, decided by CAP 562, which was read
    assert "_FEEDER_SHARE 0.02: ac43-11-66-feeders, electrical/operation.py:" in figures
    assert "_NAMEPLATE" not in figures
    assert "_CHARGED" in figures


@pytest.mark.parametrize("status", ["read", "second-hand", "memory", "common-practice", "as-recorded"])
def test_a_status_filters_rules_and_figures(status: str, capsys: pytest.CaptureFixture[str]) -> None:
    found = data(capsys, "--status", status)
    assert found["rules"]
    assert {row["status"] for row in (*found["rules"], *found["figures"])} == {status}
    assert sum(counts.get(status, 0) for counts in found["shares"]["figures"].values()) == len(found["figures"])


def test_a_pack_with_a_figure_of_no_source_has_a_column_for_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "bare_rules"
    (folder / "sources").mkdir(parents=True)
    (folder / "__init__.py").write_text("")
    (folder / "wings.py").write_text("_MOST = 7.5\n_LEAST = 2.5  # no-such-entry\n_TURN = 90  # arithmetic\n")
    monkeypatch.syspath_prepend(tmp_path)
    book = load([Pack(name="bare", authority="NZ", modules=("bare_rules.wings",), sources=folder / "sources")])
    assert "untraced" in write(book).splitlines()[8]
    figures = [figure for figure in json.loads(write_json(book))["figures"] if figure["domain"] == "wings"]
    assert [(figure["value"], figure["status"]) for figure in figures] == [
        ("7.5", None),
        ("2.5", None),
        ("90", "exact"),
    ]
