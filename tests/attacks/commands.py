"""Every command of the program with arguments that make it work on the example: attacks go through all of them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

__all__ = ["COMMANDS", "WRITING", "jurystrut", "workplace"]

EXAMPLE = Path(__file__).parents[2] / "project_example"
TABLES = {
    "forecast.csv": "time,temperature degF,humidity %,wind kt\n2026-05-02 09:00,62,55,4\n",
    "wires.csv": "Wire,From,To,Size\nW1,MAIN,F1,18 AWG\n",
    "weights.csv": "Item,Weight (lb),Arm (in)\nBattery,12.5,40\n",
}

COMMANDS: dict[str, tuple[str, ...]] = {
    "check": ("check", "records"),
    "check many": ("check", "records", "records", "--jobs", "1"),
    "check sarif": ("check", "records", "--format", "sarif"),
    "explain": ("explain", "weights/gross-weight", "--in", "records"),
    "report": ("report", "records"),
    "parts": ("parts", "records"),
    "work-window": ("work-window", "forecast.csv", "--in", "records"),
    "compare-drawing": ("compare-drawing", "panel.dxf", "--in", "records"),
    "draw": ("draw", "weight-budget", "records"),
    "new": ("new", "weights", "--from-csv", "weights.csv"),
    "new wires": ("new", "wires", "--from-csv", "wires.csv"),
    "compare": ("compare", "HEAD", "--in", "records"),
    "history": ("history", "--in", "records"),
    "gate": ("gate", "records"),
    "sources": ("sources",),
    "schema": ("schema",),
    "schema gates": ("schema", "gates"),
    "completion": ("completion", "bash"),
    "export-drawing": ("export-drawing", "-", "--in", "records"),
}
"""Those that write to standard output, by name; none of them judges the example as failed."""

WRITING: dict[str, tuple[tuple[str, ...], str]] = {
    "check": (("check", "records", "--output", "out/it"), "out/it"),
    "report": (("report", "records", "-o", "out/it"), "out/it"),
    "compare": (("compare", "HEAD", "--in", "records", "--output", "out/it"), "out/it"),
    "history": (("history", "--in", "records", "--format", "svg", "--output", "out/it"), "out/it"),
    "gate": (("gate", "records", "--output", "out/it"), "out/it"),
    "export-drawing": (("export-drawing", "out/it", "--in", "records"), "out/it"),
    "placards": (("placards", "records", "-o", "out"), "out/placards-1.svg"),
}
"""Those that write a file, and the file."""


def workplace(folder: Path) -> Path:
    """A folder with the example under git, and with what the commands need besides."""
    shutil.copytree(EXAMPLE, folder / "records")
    for name, text in TABLES.items():
        (folder / name).write_text(text)
    (folder / "out").mkdir()
    who = ("-c", "user.name=A Builder", "-c", "user.email=builder@example.invalid", "-c", "commit.gpgsign=false")
    for arguments in (("init", "-q"), ("add", "records"), (*who, "commit", "-q", "-m", "records")):
        subprocess.run(["git", *arguments], cwd=folder, check=True)
    jurystrut(folder, "export-drawing", "panel.dxf", "--in", "records", check=True)
    return folder


def jurystrut(folder: Path, *arguments: str, **how: Any) -> subprocess.CompletedProcess[Any]:
    """Run a command there."""
    how = {"capture_output": True, "env": environment(), **how}
    check = how.pop("check", False)
    return subprocess.run([sys.executable, "-m", "jurystrut", *arguments], cwd=folder, check=check, **how)


def environment() -> dict[str, str]:
    """This environment without what git sets while a hook runs."""
    return {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
