"""The list of attacks names tests that are there, and every test here stands for an attack in the list or beside one."""

from __future__ import annotations

import re
from pathlib import Path

HERE = Path(__file__).parent
_ROW = r"^\| (?!attack|---)(.+?) \| (.+?) \| `(\S+?)::(\w+)` \|$"
ROWS = re.findall(_ROW, (HERE / "README.md").read_text("utf-8"), re.MULTILINE)


def test_every_test_in_the_list_is_there() -> None:
    missing = [f"{file}::{name}" for _, _, file, name in ROWS if f"def {name}(" not in (HERE / file).read_text("utf-8")]
    assert not missing


def test_the_list_is_read_whole() -> None:
    lines = [line for line in (HERE / "README.md").read_text("utf-8").splitlines() if line.startswith("| ")]
    assert len(ROWS) == len(lines) - 2
    assert len(ROWS) > 40


def test_every_file_of_attacks_is_in_the_list() -> None:
    named = {file for _, _, file, _ in ROWS}
    assert {path.name for path in HERE.glob("test_*.py")} - named == {"test_list.py"}
