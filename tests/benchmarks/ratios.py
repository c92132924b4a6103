"""Prints the two speed promises as ratios, each measured side by side in one run: `python tests/benchmarks/ratios.py`.

1. A whole `check` of the example from a cold start, over starting Python and importing pydantic, networkx and PyYAML: at most 2.
   `--version` and `--help` over bare Python: at most 3.
2. A whole `check` of 100,000 records, over `yaml.load(text, CSafeLoader)` of the same files: at most 0.5.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))  # run as a script, beside its generator
from synthetic import RECORDS_A_CIRCUIT, write_aircraft

EXAMPLE = Path(__file__).parents[2] / "project_example"
LOAD = (
    "import sys, yaml, pathlib\n"
    "for path in sorted(pathlib.Path(sys.argv[1]).rglob('*.yaml')):\n"
    "    yaml.load(path.read_text(encoding='utf-8'), yaml.CSafeLoader)\n"
)


def seconds(*arguments: str) -> float:
    """One run of Python with these arguments, start to end; its output is thrown away."""
    start = time.perf_counter()
    subprocess.run([sys.executable, *arguments], stdout=subprocess.DEVNULL, check=False)
    return time.perf_counter() - start


def ratio(name: str, ours: tuple[str, ...], theirs: tuple[str, ...], promised: float, runs: int) -> None:
    """Both commands in turn, so many times; the ratio of the medians."""
    pairs = [(seconds(*ours), seconds(*theirs)) for _ in range(runs)]
    mine, other = (statistics.median(values) for values in zip(*pairs, strict=True))
    print(f"{name}: {mine:.3f} s / {other:.3f} s = {mine / other:.2f}, promised at most {promised:g}", flush=True)


def main() -> None:
    """Measure and print."""
    imports = ("-c", "import pydantic, networkx, yaml")
    ratio("cold check of the example", ("-m", "jurystrut", "check", str(EXAMPLE)), imports, 2.0, 11)
    for option in ("--version", "--help"):
        ratio(f"jurystrut {option}", ("-m", "jurystrut", option), ("-c", "pass"), 3.0, 11)
    with tempfile.TemporaryDirectory() as folder:
        records = write_aircraft(Path(folder), 100_000 // RECORDS_A_CIRCUIT)
        check = ("-m", "jurystrut", "check", folder)
        ratio(f"check of {records} records", check, ("-c", LOAD, folder), 0.5, 3)


if __name__ == "__main__":
    main()
