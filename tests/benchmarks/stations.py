"""Prints how long judging every possible loading of a thousand stations takes, over reading their file.

`python tests/benchmarks/stations.py`; promised at most 0.1. Each of seven runs is a process of its own, as a builder's command
is: in one process, reading remembers figures from run to run and judging has nothing to remember. In processor time, the best
of each, since others may use the machine.
"""

from __future__ import annotations

import gc
import subprocess
import sys
import time

from promises import Promises  # run as a script, beside its neighbours

from jurystrut.judge import Rulebook, installed_packs, judge, load
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.rulebook import Verdict

_AIRCRAFT = """\
aircraft:
  name: Synthetic
  authority: US
  stage: operating
  limits:
    gross_weight: 12000 lb
    cg_envelope_joined_in: arm
    cg_envelope:
      - {{weight: 900 lb, arm: 9 in}}
      - {{weight: 12000 lb, arm: 9 in}}
      - {{weight: 12000 lb, arm: {aft} in}}
      - {{weight: 900 lb, arm: {aft} in}}
fuel: {{density: 6 lb/US gal, tanks: []}}
weights:
  components: [{{id: ALL, weight: 1000 lb, arm: 10 in, basis: weighed}}]
  stations:
"""


def records(stations: int, aft: int) -> str:
    """So many baggage places of 10 to 15 lb, from 10 to 40 in behind the datum; inside an aft limit of 50 in, not of 20."""
    lines = (
        f"    - {{id: S{i}, what: place {i}, kind: other, arm: {10 + (i * 37) % 300 / 10}{i % 97:02} in, "
        f"minimum: 0 lb, maximum: {10 + i % 6}.{i % 89:02} lb}}\n"
        for i in range(stations)
    )
    return _AIRCRAFT.format(aft=aft) + "".join(lines)


def measure(aft: int, expected: str) -> None:
    """Read and judge once; print both times in seconds."""
    gc.disable()  # as the command does
    book = load(installed_packs())
    every = Rulebook(
        tuple(r for r in book.rules if r.id == "weights/every-loading"), book.facts, book.references, book.packs
    )
    file = RecordFile("weights.yaml", records(1000, aft))
    start = time.process_time()
    project = read_files([file])
    between = time.process_time()
    result = judge(project, every).results[0]
    end = time.process_time()
    assert result.verdict is Verdict(expected), result.findings
    print(between - start, end - between)


def main() -> int:
    """Measure and print; gives the number of broken promises."""
    promises = Promises()
    for aft, expected in ((50, "pass"), (20, "fail")):
        command = [sys.executable, __file__, str(aft), expected]
        runs = [subprocess.run(command, capture_output=True, text=True, check=True).stdout.split() for _ in range(7)]
        reading, judging = (min(float(run[which]) for run in runs) for which in (0, 1))
        of = f"judged in {1000 * judging:.1f} ms / read in {1000 * reading:.1f} ms"
        promises.hold(f"1000 stations, {expected}", judging / reading, 0.1, of)
    return promises.broken


if __name__ == "__main__":
    if sys.argv[1:]:
        measure(int(sys.argv[1]), sys.argv[2])
    else:
        sys.exit(main())
