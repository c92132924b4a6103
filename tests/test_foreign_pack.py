"""A pack for another country is a distribution of its own: installed beside jurystrut, found by its entry point, judged by."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[1]
RECORDS = """\
aircraft: {{name: T, authority: {}, stage: systems, operations: [night-vfr], seats: 2}}
lighting:
  lights:
    - {{id: LEFT, function: position-left, colour: green}}
"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder as an installer leaves it: the package, and the description of the distribution with its entry point."""
    folder = tmp_path_factory.mktemp("site")
    shutil.copytree(ROOT / "tests/packs/kiwi_rules", folder / "kiwi_rules")
    description = folder / "kiwi_rules-1.0.dist-info"
    description.mkdir()
    (description / "METADATA").write_text("Metadata-Version: 2.1\nName: kiwi-rules\nVersion: 1.0\n", "utf-8")
    (description / "entry_points.txt").write_text("[jurystrut.rules]\nnz = kiwi_rules:PACK\n", "utf-8")
    return folder


def check(records: Path, site: Path | None) -> dict[str, Any]:
    """What the command says, with or without the folder of the other distribution on the path."""
    path = os.pathsep.join([*([str(site)] if site else []), os.environ.get("PYTHONPATH", "")]).rstrip(os.pathsep)
    command = [sys.executable, "-m", "jurystrut", "check", str(records), "--format", "json", "--on", "2026-06-01"]
    done = subprocess.run(
        command, capture_output=True, text=True, check=False, env={**os.environ, "PYTHONPATH": path}, cwd=records
    )
    assert done.stderr == ""
    return {rule["id"]: rule for rule in json.loads(done.stdout)["rules"]}


@pytest.fixture
def records(tmp_path: Path) -> Path:
    (tmp_path / "aircraft.yaml").write_text(RECORDS.format("NZ"), "utf-8")
    return tmp_path


def test_its_rules_bind_aircraft_of_its_country(records: Path, site: Path) -> None:
    rules = check(records, site)
    assert rules["kiwi/instruments-lit"]["verdict"] == "fail"
    assert rules["kiwi/instruments-lit"]["references"][0]["section"] == "91.511"
    assert "kiwi/instruments-lit" not in check(records, None)


def test_american_law_is_a_yardstick_there(records: Path, site: Path) -> None:
    rules = check(records, site)
    assert rules["lighting/position-colours"]["verdict"] == "warn"
    assert "ask the authority of NZ" in rules["lighting/position-colours"]["findings"][0]["remedy"]


def test_its_rules_do_not_ask_american_aircraft(tmp_path: Path, site: Path) -> None:
    (tmp_path / "aircraft.yaml").write_text(RECORDS.format("US"), "utf-8")
    rules = check(tmp_path, site)
    assert rules["kiwi/instruments-lit"]["verdict"] == "not-applicable"
    assert rules["lighting/position-colours"]["verdict"] == "fail"
