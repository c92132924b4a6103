"""Prints what the history of a thousand commits costs: `python tests/benchmarks/commits.py`.

A thousand commits of the example, each changing one file in turn, over one cold `check` of it: at most 30. Two in three
change a figure of a quantity by a little, where the file has one; the others add a line of comment at the top, which moves
every record of the file.
"""

from __future__ import annotations

import os
import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from promises import Promises  # run as a script, beside its neighbours

EXAMPLE = Path(__file__).parents[2] / "project_example"
COMMITS = 1000
PROMISED = 30.0
FIGURE = re.compile(r"(\.[0-9])([0-9]?)(?= (?:in|lb|ft|V|A|h|mohm)\b)")


def seconds(*arguments: str, folder: Path) -> float:
    """One run of the command, start to end."""
    start = time.perf_counter()
    subprocess.run([sys.executable, "-m", "jurystrut", *arguments], cwd=folder, stdout=subprocess.DEVNULL, check=False)
    return time.perf_counter() - start


def edited(text: str, number: int) -> str:
    """A file after one more evening's work."""
    places = list(FIGURE.finditer(text))
    if number % 3 == 0 or not places:
        return f"# evening {number}\n{text}"
    place = places[number % len(places)]
    return f"{text[: place.start(2)]}{number % 9 + 1}{text[place.end(2) :]}"


def stream(files: dict[str, str]) -> bytes:
    """The commits as `git fast-import` reads them."""
    parts: list[bytes] = []
    names = sorted(files)
    now = dict(files)
    for number in range(COMMITS):
        changed = names if number == 0 else [names[number % len(names)]]
        if number:
            now[changed[0]] = edited(now[changed[0]], number)
        stamp = f"A Builder <builder@example.invalid> {1767268800 + 3600 * number} +0000"
        title = f"Commit {number}".encode()
        parts.append(f"commit refs/heads/main\nauthor {stamp}\ncommitter {stamp}\ndata {len(title)}\n".encode() + title)
        for name in changed:
            data = now[name].encode()
            parts.append(f"\nM 100644 inline {name}\ndata {len(data)}\n".encode() + data)
        parts.append(b"\n")
    return b"".join(parts)


def main() -> int:
    """Measure and print; gives the number of broken promises."""
    promises = Promises()
    files = {path.relative_to(EXAMPLE).as_posix(): path.read_text("utf-8") for path in EXAMPLE.rglob("*.yaml")}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        quiet = {**os.environ, "GIT_CONFIG_GLOBAL": os.devnull}
        subprocess.run(["git", "init", "--quiet", "--initial-branch=main"], cwd=folder, env=quiet, check=True)
        subprocess.run(["git", "fast-import", "--quiet"], cwd=folder, input=stream(files), env=quiet, check=True)
        checks = statistics.median(seconds("check", str(EXAMPLE), folder=folder) for _ in range(7))
        whole = seconds("history", folder=folder)
        promises.hold(f"history of {COMMITS} commits", whole / checks, PROMISED, f"{whole:.2f} s / {checks:.3f} s")
    return promises.broken


if __name__ == "__main__":
    sys.exit(main())
