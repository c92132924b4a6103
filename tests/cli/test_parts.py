"""The command `jurystrut parts`, run as a builder would."""

from __future__ import annotations

import subprocess
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

RECORDS = """\
aircraft: {name: Test Article, authority: US, stage: structure}
hardware:
  joints:
    - {id: J1, what: main spar, bolt: AN6-20, nut: AN310-6, cotter: MS24665-283,
       head_washers: [AN960-616], nut_washers: [AN960-616]}
    - {id: J2, bolt: AN6-20, nut_washers: [AN960-616], nut: AN310-6}
    - {id: J3, bolt: AN4-7A}
    - {id: J4, bolt: AN4-7A, nut: AN365-428A, torque: 60 in-lb, torqued: 2026-05-01}
  stock:
    - {id: S1, part: an960-616, count: 10}
    - {id: S2, part: AN6-20, count: 1}
    - {id: S3, part: AN4-7A, count: 1}
"""

EXPECTED = """\
3 of 4 joints are open: no torque is on record.

To buy
  AN310-6        2  for J1, J2
  AN6-20         1  for J1, J2 (1 at hand)
  MS24665-283    1  for J1

Joints that wait for a part
  J1, main spar: AN310-6, MS24665-283
  J2: AN6-20, AN310-6

Joints that do not name all their parts
  J3: its nut, washers

At hand and not needed
  AN960-616  7
"""


def run(path: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "jurystrut", "parts", str(path)], capture_output=True, encoding="utf-8", check=False
    )


def test_the_buying_list(tmp_path: Path) -> None:
    (tmp_path / "records.yaml").write_text(RECORDS, "utf-8")
    done = run(tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == EXPECTED


def test_no_joints_no_list(tmp_path: Path) -> None:
    (tmp_path / "records.yaml").write_text("aircraft: {name: Test Article, authority: US, stage: structure}\n", "utf-8")
    done = run(tmp_path)
    assert (done.returncode, done.stdout) == (0, "No joint is recorded.\n")


def test_closed_joints_need_nothing(tmp_path: Path) -> None:
    closed = [
        line
        for line in RECORDS.splitlines(keepends=True)
        if "J4" in line or ("id: J" not in line and "[AN960-616]}" not in line)
    ]
    (tmp_path / "records.yaml").write_text("".join(closed), "utf-8")
    assert run(tmp_path).stdout.startswith("Every joint is closed: its torque is on record.\n\nTo buy\n  none\n")


def test_records_that_cannot_be_read_are_told_and_exit_2(tmp_path: Path) -> None:
    (tmp_path / "records.yaml").write_text(RECORDS.replace("count: 10", "count: some"), "utf-8")
    done = run(tmp_path)
    assert done.returncode == 2
    assert "records.yaml:10:" in done.stderr
    assert "AN310-6        2" in done.stdout
