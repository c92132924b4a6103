"""The registry of sources: found by id, read file by file, and refused where an entry cannot stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from jurystrut.errors import PackError
from jurystrut.rulebook import Registry

if TYPE_CHECKING:
    from pathlib import Path

RULE = "kind: regulation, binds: directly, status: read, says: wings are fitted"
SOUND = f"""
sources:
  - id: part-9
    document: Part 9
    kind: regulation
    binds: directly
    status: read
    says: wings are fitted
  - {{document: Part 10, id: part-10, authority: NZ, {RULE}}}
"""


def registry(folder: Path, **files: str) -> Registry:
    for name, text in files.items():
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return Registry([(folder, "US")])


def test_entries_are_found_however_they_are_written(tmp_path: Path) -> None:
    found = registry(tmp_path, a=SOUND)
    assert found["part-9"].authority == "US"
    assert found["part-10"].authority == "NZ"
    assert "part-10" in found
    assert list(found) == ["part-9", "part-10"]
    assert len(found) == 2


def test_an_entry_that_is_not_there_is_missed(tmp_path: Path) -> None:
    found = registry(tmp_path, a=SOUND)
    assert "part-11" not in found
    with pytest.raises(KeyError):
        found["part-11"]


def test_a_file_is_read_when_one_of_its_entries_is_asked_for(tmp_path: Path) -> None:
    found = registry(tmp_path, a=SOUND, b="sources:\n  - id: part-11\n    kind: rumour\n")
    assert found["part-9"].says == "wings are fitted"
    assert "part-11" in found  # cited, so its fault is told as soon as somebody asks
    with pytest.raises(PackError, match="kind must be one of regulation, guidance"):
        found["part-11"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("sources:\n  - [part-9]\n", "an entry that is no mapping of id, document"),
        ("sources:\n  - {id: part-9, colour: red}\n", "an entry that is no mapping of id, document"),
        (f"sources:\n  - {{id: part-9, {RULE}}}\n", "b.yaml:2:5: 'document' is missing"),
        ("sources: [\n", "yaml:"),
        (f"sources:\n  - {{id: x, document: X, {RULE}}}\n  - {{id: x, document: X, {RULE}}}\n", "'x' stands twice"),
    ],
)
def test_what_cannot_stand_is_told_with_its_file(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(PackError, match=message):
        list(registry(tmp_path, b=text))


def test_an_id_stands_in_one_pack_alone(tmp_path: Path) -> None:
    for pack in ("one", "other"):
        (tmp_path / pack).mkdir()
        (tmp_path / pack / "a.yaml").write_text(SOUND, encoding="utf-8")
    with pytest.raises(PackError, match="the source 'part-9' stands twice"):
        Registry([(tmp_path / "one", "US"), (tmp_path / "other", "NZ")])
