"""Prints what the electrical rules cost, in processor time of one run: `python tests/benchmarks/wiring.py [CIRCUITS]`.

1. All electrical rules together over reading the files: promised at most 1.
2. The electrical rules on twice as many wires over those on the first: promised at most 2.2.
"""

from __future__ import annotations

import gc
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

from promises import Promises  # run as a script, beside its neighbours
from synthetic import write_aircraft

from jurystrut.judge import Rulebook, judge, load
from jurystrut.reading import read
from jurystrut.testing import DAY
from jurystrut_rules import PACK

if TYPE_CHECKING:
    from jurystrut.records.project import Project

WIRES_A_CIRCUIT = 3


def read_seconds(circuits: int) -> tuple[float, Project]:
    """How long reading takes, and what was read."""
    with tempfile.TemporaryDirectory() as folder:
        write_aircraft(Path(folder), circuits)
        start = time.process_time()
        project = read(Path(folder))
        return time.process_time() - start, project


def rule_seconds(project: Project) -> float:
    """How long the electrical rules take, the faster of two runs."""
    book = load([PACK])
    rules = tuple(rule for rule in book.rules if rule.domain == "electrical")
    wiring = Rulebook(rules, book.facts, book.references, book.packs)
    best = float("inf")
    for _ in range(2):
        start = time.process_time()
        judge(project, wiring, on=DAY)
        best = min(best, time.process_time() - start)
    return best


def main() -> int:
    """Measure and print; gives the number of broken promises."""
    promises = Promises()
    gc.disable()  # as the command does
    circuits = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000 // WIRES_A_CIRCUIT // 2
    seconds = []
    for count in (circuits, 2 * circuits):
        reading, project = read_seconds(count)
        seconds.append(rule_seconds(project))
        wires = WIRES_A_CIRCUIT * count
        promises.hold(
            f"rules on {wires} wires over reading", seconds[-1] / reading, 1.0, f"{seconds[-1]:.2f} s / {reading:.2f} s"
        )
    promises.hold("twice the wires", seconds[1] / seconds[0], 2.2)
    return promises.broken


if __name__ == "__main__":
    sys.exit(main())
