"""Prints how long judging every possible loading of a thousand stations takes, over reading their file.

`python tests/benchmarks/stations.py`; promised at most 0.1. Both in one process, side by side, the best of eleven runs of each,
since others may use the machine.
"""

from __future__ import annotations

import gc
import time

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
        f"    - {{id: S{i}, what: place {i}, kind: other, arm: {10 + (i * 37) % 300 / 10} in, "
        f"minimum: 0 lb, maximum: {10 + i % 6} lb}}\n"
        for i in range(stations)
    )
    return _AIRCRAFT.format(aft=aft) + "".join(lines)


def main() -> None:
    """Measure and print."""
    gc.disable()  # as the command does
    book = load(installed_packs())
    every = Rulebook(
        tuple(r for r in book.rules if r.id == "weights/every-loading"), book.facts, book.references, book.packs
    )
    for aft, expected in ((50, Verdict.PASS), (20, Verdict.FAIL)):
        file = RecordFile("weights.yaml", records(1000, aft))
        reading, judging = [], []
        for _ in range(11):
            start = time.perf_counter()
            project = read_files([file])
            between = time.perf_counter()
            result = judge(project, every).results[0]
            judging.append(time.perf_counter() - between)
            reading.append(between - start)
            assert result.verdict is expected, result.findings
        ratio = min(judging) / min(reading)
        print(
            f"1000 stations, {expected.value}: judged in {1000 * min(judging):.1f} ms, "
            f"read in {1000 * min(reading):.1f} ms: {ratio:.3f}, promised at most 0.1",
            flush=True,
        )


if __name__ == "__main__":
    main()
