"""Changes calculations and rules a little, thousands of times, and tells which changes no test notices.

`python tests/mutation/mutate.py [MODULE...] [--share 0.2] [--more | --again]`, with `".[test,mutation]"` installed. A MODULE
is a file or a folder of them. A mutant that no test kills is explained in survivors.yaml, or a test is missing. Results are
kept in .mutation/, so that `--more` and `--again` go on from there, and `--report` only tells.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import multiprocessing
import pickle
import re
import sys
from collections import Counter, defaultdict
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import yaml

sys.path.insert(0, str(Path(__file__).parents[2]))  # run as a script, beside its parts
from tests.mutation.chosen import Order, Source, words_of
from tests.mutation.recorded import Record, record
from tests.mutation.trial import Outcome, Trial, fresh_outcomes, swapped_outcomes

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from tests.mutation.mutants import Mutant

ROOT = Path(__file__).parents[2]
SOURCES = ["engine/jurystrut/calculations", "rules/jurystrut_rules"]
TESTS = ["tests/calculations", "tests/rules", "tests/workshop"]
SCRATCH = ROOT / ".mutation"
EXPLAINED = Path(__file__).with_name("survivors.yaml")
WANTED = 0.9
"""So many of the mutants of each package are killed or explained."""

_fork = multiprocessing.get_context("fork")


class Result(NamedTuple):
    """What became of a mutant: `killed`, `timed out`, `survived`, or `not covered` where no test comes by."""

    id: str
    file: str
    line: int
    was: str
    becomes: str
    verdict: str
    by: str
    stamp: str
    """Of the module's source and of what changes it: a result is no result any more once one of the two is another."""


def text_of(file: str) -> str:
    """A module's source."""
    return (ROOT / file).read_text("utf-8")


def digest_of(text: str) -> str:
    """A short name for a text."""
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def stamp_of(file: str) -> str:
    """What a result of a module's mutants rests on."""
    return digest_of(text_of(file) + Path(__file__).with_name("mutants.py").read_text("utf-8"))


def files_of(paths: Iterable[str]) -> list[str]:
    """The modules at some paths, from the root."""
    found: set[Path] = set()
    for path in paths:
        found |= {ROOT / path} if path.endswith(".py") else set((ROOT / path).rglob("*.py"))
    return sorted(str(path.relative_to(ROOT)) for path in found)


def _read_by_tests() -> Iterator[Path]:
    for folder in ("engine", "rules", "tests", "project_example"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.is_file() and path.suffix != ".pyc" and path.parent != EXPLAINED.parent:
                yield path


def recorded(tests: list[str]) -> Record:
    """The record of these tests, made anew where any file has changed since that could send a test another way."""
    state = digest_of(" ".join(digest_of(path.read_bytes().hex()) for path in _read_by_tests()))
    kept = SCRATCH / f"record-{digest_of(' '.join(tests))}"
    if kept.exists():
        of, known = pickle.loads(kept.read_bytes())
        if of == state:
            return Record(*known)
    with _fork.Pool(1) as pool:  # what the tests import stays there
        found: Record = pool.apply(record, (ROOT, tests, [f"{folder}/*" for folder in SOURCES]))
    kept.write_bytes(pickle.dumps((state, tuple(found))))
    return found


class Run(NamedTuple):
    """What is to be tried, and with what."""

    record: Record
    tests: list[str]
    share: float
    seconds: float
    known: frozenset[str]
    """The mutants, by id, that need not be tried."""
    only: frozenset[str] | None
    """The mutants, by id, to be tried whatever the share; None for a share of all."""


def _mutants(file: str, run: Run) -> list[Mutant]:
    from tests.mutation.mutants import mutants

    found = list(mutants(file, text_of(file)))
    if run.only is not None:
        return [one for one in found if one.id in run.only]
    # The same ones every time, and a larger share holds a smaller.
    by_lot = sorted(found, key=lambda one: digest_of(one.id))
    drawn = {one.id for one in by_lot[: -int(-len(found) * run.share // 1)]}
    return [one for one in found if one.id in drawn - run.known]


def _result(file: str, one: Mutant, outcome: Outcome) -> Result:
    return Result(one.id, file, one.line, one.was, one.becomes, outcome.verdict, outcome.by, stamp_of(file))


def _swap(files: list[str], run: Run, results: Any, rest: Any) -> None:
    """Try the mutants that can be exchanged in loaded code; the others go to the rest."""
    words = words_of({file: text_of(file) for file in files_of(SOURCES)})
    order = Order(run.record, run.seconds)
    now: dict[str, tuple[str, Mutant]] = {}

    def trials() -> Iterator[Trial]:
        for file in files:
            source = Source(file, text_of(file), run.record, words)
            order.killers.clear()
            for one in _mutants(file, run):
                tests = source.tests(one.line)
                trial = Trial(one.id, file, one.text, order(tests))
                if not tests:
                    results.put(_result(file, one, Outcome(one.id, "not covered")))
                elif source.runs_at_import(one.line):
                    rest.put((file, one, trial))
                else:
                    now[one.id] = file, one
                    yield trial

    def tell(trial: Trial, outcome: Outcome | None) -> None:
        file, one = now.pop(trial.id)
        if outcome is None:
            rest.put((file, one, trial))
            return
        order.killers[outcome.by.partition(" ")[0]] += 1
        results.put(_result(file, one, outcome))

    try:
        swapped_outcomes(ROOT, run.tests, trials(), tell)
    finally:
        rest.put(None)


def _work(files: list[str], run: Run, results: Any) -> None:
    try:
        rest = _fork.SimpleQueue()
        swapping = _fork.Process(target=_swap, args=(files, run, results, rest))
        swapping.start()
        later = list(iter(rest.get, None))
        swapping.join()
        assert swapping.exitcode == 0, "trying mutants by exchange broke off"
        outcomes = fresh_outcomes(ROOT, (trial for _, _, trial in later))
        for (file, one, _), outcome in zip(later, outcomes, strict=True):
            results.put(_result(file, one, outcome))
    finally:
        results.put(None)


def results_of(files: list[str], run: Run, jobs: int) -> Iterator[Result]:
    """Try the mutants of some modules, in so many processes at once."""
    results = _fork.SimpleQueue()
    working = [_fork.Process(target=_work, args=(files[first::jobs], run, results)) for first in range(jobs)]
    for worker in working:
        worker.start()
    ended = 0
    while ended < jobs:
        result = results.get()
        if result is None:
            ended += 1
        else:
            yield result
    for worker in working:
        worker.join()
        assert worker.exitcode == 0, "a worker broke off"


def known(files: Iterable[str]) -> dict[str, Result]:
    """The results kept of earlier runs for the sources as they are."""
    kept = SCRATCH / "results.jsonl"
    lines = kept.read_text("utf-8").splitlines() if kept.exists() else []
    stamps = {file: stamp_of(file) for file in files}
    found = [Result(*json.loads(line)) for line in lines]
    return {one.id: one for one in found if stamps.get(one.file) == one.stamp}


def code_of(line: str) -> str:
    """A line without the comment at its end, which says where its figure comes from."""
    return re.split(r"\s+# ", line)[0]


class Explained:
    """The reasons in survivors.yaml, by module, source line and what it becomes; and which of them were needed."""

    def __init__(self, reasons: Mapping[str, Any] | None = None) -> None:
        of = yaml.safe_load(EXPLAINED.read_text("utf-8")) if reasons is None else reasons
        self.reasons: dict[tuple[str, str, str], str] = {
            (file, code_of(reason["line"]), code_of(becomes)): reason["why"]
            for file, reasons in of.items()
            for reason in reasons
            for becomes in reason["becomes"]
        }
        self.used: set[tuple[str, str, str]] = set()

    def __call__(self, result: Result) -> bool:
        """Whether a survivor has its reason."""
        key = (result.file, code_of(result.was), code_of(result.becomes))
        if key in self.reasons:
            self.used.add(key)
        return key in self.reasons

    def unused(self, files: Iterable[str]) -> list[str]:
        """Reasons in these modules that explained nothing."""
        left = [key for key in self.reasons if key not in self.used and key[0] in set(files)]
        return [f"explains nothing: {file}: {line} -> {becomes}" for file, line, becomes in left]


DEAD, ALIVE = ("killed", "timed out"), ("survived", "not covered")
COLUMNS = (*DEAD, *ALIVE, "explained")


def report(results: Iterable[Result], explained: Explained) -> tuple[list[str], bool]:
    """A table by module and package, and every mutant left; whether enough of each package was killed or explained."""
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    left: list[str] = []
    for one in sorted(results, key=lambda one: (one.file, one.line)):
        has_reason = one.verdict not in DEAD and explained(one)
        package = next(folder for folder in SOURCES if one.file.startswith(folder))
        for row in (one.file, f"all of {package}"):
            counts[row]["explained" if has_reason else one.verdict] += 1
        if one.verdict not in DEAD and not has_reason:
            left.append(f"{one.file}:{one.line}: {one.verdict}: {one.was}  ->  {one.becomes}")
    table = [f"{'':60}{'mutants':>8}" + "".join(f"{name:>13}" for name in COLUMNS) + f"{'share':>8}"]
    enough = True
    for row, count in sorted(counts.items(), key=lambda pair: (pair[0].startswith("all of"), pair[0])):
        share = 1 - (count["survived"] + count["not covered"]) / count.total()
        table.append(f"{row:60}{count.total():8}" + "".join(f"{count[name]:13}" for name in COLUMNS) + f"{share:8.1%}")
        enough &= share >= WANTED or not row.startswith("all of")
    return [*left, "", *table], enough


def main() -> int:
    """Try, keep, tell; 1 where too few were killed or explained, or a reason explains nothing any more."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument(
        "modules", nargs="*", default=SOURCES, metavar="MODULE", help="a file or folder; all by default"
    )
    parser.add_argument("--share", type=float, default=1.0, help="try this share of the mutants of each module")
    parser.add_argument("--more", action="store_true", help="try what was never tried")
    parser.add_argument(
        "--again", action="store_true", help="try what was neither killed the last time nor explained since"
    )
    parser.add_argument("--report", action="store_true", help="try nothing, tell what is known")
    parser.add_argument("--seconds", type=float, default=1.0, help="hold tests of so many seconds against each mutant")
    parser.add_argument("--jobs", type=int, default=1, help="so many processes")
    parser.add_argument("--tests", nargs="+", default=TESTS, metavar="PATH", help="hold these tests against them")
    options = parser.parse_args()
    sys.path[:0] = [str(ROOT / "engine"), str(ROOT / "rules")]  # the sources here, not what may be installed
    files = files_of(options.modules)
    SCRATCH.mkdir(exist_ok=True)
    found = known(files_of(SOURCES))
    explained = Explained()
    if not options.report:
        tried = frozenset(found) if options.more else frozenset()
        alive = frozenset(one.id for one in found.values() if one.verdict in ALIVE and not explained(one))
        run = Run(
            recorded(options.tests),
            options.tests,
            options.share,
            options.seconds,
            tried,
            alive if options.again else None,
        )
        with (SCRATCH / "results.jsonl").open("a", encoding="utf-8") as kept:
            for result in results_of(files, run, options.jobs):
                found[result.id] = result
                kept.write(json.dumps(result) + "\n")
                kept.flush()
    explained.used.clear()
    lines, enough = report((one for one in found.values() if one.file in files), explained)
    whole = options.share == 1 and not (options.again or options.report)
    unused = explained.unused(files) if whole else []
    sys.stdout.write("\n".join([*lines, *unused, ""]))
    return 0 if enough and not unused else 1


if __name__ == "__main__":
    sys.exit(main())
