"""Coverage-guided fuzzing, by hand: `python tests/fuzz/atheris_targets.py TARGET -max_total_time=600 [CORPUS]`.

Targets: `text` (any text through reading, judging and every report), `records` (the mutator steers), `quantities`.
Needs `pip install atheris`; what it finds goes into `corpus/`, which every run of the tests replays.
"""

from __future__ import annotations

import gc
import json
import sys
from pathlib import Path
from random import Random
from typing import Any

import atheris

sys.path.insert(0, str(Path(__file__).parents[2]))

with atheris.instrument_imports(include=["jurystrut", "jurystrut_rules"]):
    from tests.fuzz.making import mutated, sound_records, written

    import jurystrut.quantities as q
    from jurystrut.judge import judge
    from jurystrut.reading import read_files
    from jurystrut.reading.files import RecordFile
    from jurystrut.reports import FORMATS, writer
    from jurystrut.testing import DAY, installed

    BOOK = installed()

KINDS: list[Any] = [
    kind
    for kind in (getattr(q, name) for name in q.__all__)
    if isinstance(kind, type) and issubclass(kind, q.Quantity) and kind is not q.Quantity
]
_runs = 0


def _through(text: str) -> None:
    judgement = judge(read_files([RecordFile("x.yaml", text)]), BOOK, on=DAY)
    for name in FORMATS:
        writer(name)(judgement)
    json.loads(writer("json")(judgement))
    for problem in judgement.problems:
        if "a bug in this rule" in problem.message:
            raise AssertionError(problem.message)


def text(data: bytes) -> None:
    _through(data.decode("utf-8", "replace"))


def records(data: bytes) -> None:
    random = Random(data)
    tree: Any = sound_records(random)
    for _ in range(random.randint(0, 4)):
        tree = mutated(tree, random)
    _through(written(tree, random, random.choice((0.0, 0.02, 0.2))))


def quantities(data: bytes) -> None:
    words = data.decode("utf-8", "replace")
    kind = KINDS[len(words) % len(KINDS)]
    for read in (
        kind.parse_american,
        q.Gauge.parse,
        lambda words: q.Range.parse(words, kind),
        lambda words: q.Tolerance.parse(words, kind),
    ):
        try:
            read(words)
        except q.QuantityError:
            continue


def main() -> None:
    """Run one target until libFuzzer's own options stop it."""
    target = {"text": text, "records": records, "quantities": quantities}[sys.argv.pop(1)]

    def once(data: bytes) -> None:
        global _runs  # noqa: PLW0603 - the fuzzer owns the loop
        _runs += 1
        target(data)
        if _runs % 2000 == 0:
            gc.collect()

    gc.disable()
    atheris.Setup(sys.argv, once)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
