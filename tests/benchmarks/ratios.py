"""Prints the promises of speed and memory as ratios, each measured side by side in one run: `python tests/benchmarks/ratios.py`.

1. A whole `check` of the example from a cold start, over starting Python and importing pydantic, networkx and PyYAML: at most 2.
   `--version` and `--help` over bare Python: at most 3.
2. A whole `check` of 100,000 records, over `yaml.load(text, CSafeLoader)` of the same files: at most 0.5.
3. The most memory that this check ever uses, over that of loading the same files with everything kept: at most 3.
4. The exponent of time against records from 10,000 to 1,000,000, start-up taken off (with `--million`; minutes): at most 1.05.
"""

from __future__ import annotations

import math
import os
import statistics
import subprocess
import sys
import tempfile
from itertools import pairwise
from pathlib import Path

from promises import Promises  # run as a script, beside its neighbours
from synthetic import RECORDS_A_CIRCUIT, write_aircraft

EXAMPLE = Path(__file__).parents[2] / "project_example"
IMPORTS = ("-c", "import pydantic, networkx, yaml")
LOAD = (
    "import sys, yaml, pathlib\n"
    "kept = []\n"
    "for path in sorted(pathlib.Path(sys.argv[1]).rglob('*.yaml')):\n"
    "    kept.append(yaml.load(path.read_text(encoding='utf-8'), yaml.CSafeLoader))\n"
)


def seconds(*arguments: str) -> float:
    """One run of Python with these arguments, start to end, in processor time; its output is thrown away."""
    return cost(*arguments)[0]


def cost(*arguments: str) -> tuple[float, float]:
    """Seconds of processor time and the most megabytes of one run of Python; a busy machine changes little of either."""
    process = subprocess.Popen([sys.executable, *arguments], stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def memory(promises: Promises, name: str, ours: tuple[str, ...], theirs: tuple[str, ...], most: float) -> None:
    """The most memory of either command; one run each, as it hardly varies."""
    mine, other = cost(*ours)[1], cost(*theirs)[1]
    promises.hold(name, mine / other, most, f"{mine:.0f} MB / {other:.0f} MB")


def linearity(promises: Promises, folder: Path) -> None:
    """Time and memory for 10,000, 100,000 and 1,000,000 records, and the exponents between them."""
    nothing = write_aircraft(folder / "none", 0)
    start_up = statistics.median(seconds("-m", "jurystrut", "check", str(folder / "none")) for _ in range(5))
    measured: list[tuple[int, float]] = []
    for wanted in (10_000, 100_000, 1_000_000):
        here = folder / str(wanted)
        records = write_aircraft(here, wanted // RECORDS_A_CIRCUIT) - nothing
        taken, most = cost("-m", "jurystrut", "check", str(here))
        measured.append((records, taken - start_up))
        print(f"check of {records} records: {taken:.2f} s, {most:.0f} MB", flush=True)
    for (few, quick), (many, slow) in pairwise(measured):
        exponent = math.log(slow / quick) / math.log(many / few)
        promises.hold(f"exponent from {few} to {many} records", exponent, 1.05)


def ratio(
    promises: Promises, name: str, ours: tuple[str, ...], theirs: tuple[str, ...], most: float, runs: int
) -> None:
    """Both commands in turn, so many times; the ratio of the medians."""
    pairs = [(seconds(*ours), seconds(*theirs)) for _ in range(runs)]
    mine, other = (statistics.median(values) for values in zip(*pairs, strict=True))
    promises.hold(name, mine / other, most, f"{mine:.3f} s / {other:.3f} s")


def compiled() -> None:
    """Bytecode of everything to be run, as an installed package has it; an environment may forbid Python to write it."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    for command in (("-m", "jurystrut", "check", str(EXAMPLE)), ("-m", "jurystrut", "--help"), IMPORTS):
        seconds(*command)


def main() -> int:
    """Measure and print; gives the number of broken promises."""
    compiled()
    promises = Promises()
    ratio(promises, "cold check of the example", ("-m", "jurystrut", "check", str(EXAMPLE)), IMPORTS, 2.0, 11)
    for option in ("--version", "--help"):
        ratio(promises, f"jurystrut {option}", ("-m", "jurystrut", option), ("-c", "pass"), 3.0, 11)
    with tempfile.TemporaryDirectory() as folder:
        records = write_aircraft(Path(folder), 100_000 // RECORDS_A_CIRCUIT)
        check = ("-m", "jurystrut", "check", folder)
        ratio(promises, f"check of {records} records", check, ("-c", LOAD, folder), 0.5, 3)
        memory(promises, f"memory of that check of {records} records", check, ("-c", LOAD, folder), 3.0)
        if "--million" in sys.argv:
            linearity(promises, Path(folder) / "more")
    return promises.broken


if __name__ == "__main__":
    sys.exit(main())
