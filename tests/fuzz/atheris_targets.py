"""Fuzzing by hand and in CI: `python tests/fuzz/atheris_targets.py SECONDS [TARGET ...]`, all targets where none is named.

Each target runs for so many seconds in a process of its own, from the corpus, guided by coverage; by chance alone where atheris
is not installed (`pip install -e ".[test,fuzz]"`), which is said. No execution may take a second, and no process grow by 200 MB.
With FUZZ_LOGS=FOLDER, the logs, the inputs that were found and the grown corpus stay there. What is found goes into `corpus/`,
which the tests replay.
"""

from __future__ import annotations

import gc
import os
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

HERE = Path(__file__).parent
MOST_SECONDS, MOST_MEGABYTES = 1.0, 200.0
_LOOK_SECONDS = 0.25


class Counted:
    """A target with its executions counted, and held to the bounds."""

    def __init__(self, target: Callable[[bytes], None], seeds: list[bytes]) -> None:
        for data in seeds:  # what is loaded once is no growth, and takes its time once
            target(data)
        self.target = target
        self.runs, self.slowest, self.waiting, self.start = 0, 0.0, 0.0, resident()

    def __call__(self, data: bytes) -> None:
        begun = time.process_time()
        self.target(data)
        took = time.process_time() - begun
        self.slowest = max(self.slowest, took)
        assert took < MOST_SECONDS, f"{took:.2f} s"
        self.runs += 1
        self.waiting += took
        if self.runs == 1 or self.waiting > _LOOK_SECONDS:  # what is let go in circles is not collected in between
            self.waiting = 0.0
            gc.collect()
            grown = resident() - self.start
            assert grown < MOST_MEGABYTES, f"grew by {grown:.0f} MB"
            print(f"so far {self.runs}, slowest {self.slowest:.3f} s, grown by {grown:.0f} MB", flush=True)


def fuzz(name: str, options: list[str]) -> None:
    """Run one target in this process until the time is up."""
    sys.path.insert(0, str(HERE.parents[1]))
    gc.disable()
    try:
        import atheris
    except ImportError:
        by_chance(name, float(options[0].rpartition("=")[2]))
        return
    with atheris.instrument_imports(include=["jurystrut", "jurystrut_rules"]):
        from tests.fuzz.targets import TARGETS, corpus_of
    atheris.Setup([sys.argv[0], *options], Counted(TARGETS[name], corpus_of(name)))
    atheris.Fuzz()


def by_chance(name: str, seconds: float) -> None:
    """The corpus with bytes changed, without a guide."""
    from tests.fuzz.making import spoilt_bytes
    from tests.fuzz.targets import TARGETS, corpus_of

    print("atheris is not installed: by chance alone")
    seeds, random, end = corpus_of(name), Random(), time.monotonic() + seconds
    target = Counted(TARGETS[name], seeds)
    while time.monotonic() < end:
        data = random.choice(seeds)
        for _ in range(random.randint(1, 5)):
            data = spoilt_bytes(data, random)
        try:
            target(data)
        except BaseException:
            print(f"found by {data!r}")
            raise
    print(f"Done {target.runs} runs in {seconds:g} second(s)")


def resident() -> float:
    """Megabytes in memory."""
    status = Path("/proc/self/status").read_text()
    return int(next(line.split()[1] for line in status.splitlines() if line.startswith("VmRSS"))) / 1024


def each(seconds: str, names: list[str], logs: Path) -> int:
    """Run targets one after the other; gives how many found something, and prints a line for each."""
    sys.path.insert(0, str(HERE.parents[1]))
    from tests.fuzz.targets import CORPUS, TARGETS, folder_of

    failed = total = 0
    for name in names or TARGETS:
        logs.mkdir(parents=True, exist_ok=True)
        log = logs / f"{name.replace(' ', '-')}.log"
        grown = logs / f"corpus-{folder_of(name)}"
        grown.mkdir(exist_ok=True)
        options = [
            f"-max_total_time={seconds}",
            "-timeout=60",
            "-max_len=4096",
            "-len_control=20",
            f"-artifact_prefix={log}.",
        ]
        options += [f"-dict={HERE / 'words.dict'}", str(grown), str(CORPUS / folder_of(name))]
        with log.open("w") as out:
            command = [sys.executable, __file__, "one", name, *options]
            status = subprocess.run(command, stdout=out, stderr=out, check=False, env=os.environ).returncode
        text = log.read_text(errors="replace")
        runs = [
            int(count) for count in re.findall(r"(?m)^(?:Done (\d+) runs|#(\d+)\t)", text) for count in count if count
        ]
        total += max(runs, default=0)
        failed += status != 0
        slowest = re.findall(r"slowest (\S+) s, grown by (-?\d+) MB", text)[-1:] or [("?", "?")]
        print(f"{name}: {max(runs, default=0)} runs, slowest {slowest[0][0]} s, {slowest[0][1]} MB, ", end="")
        print("nothing found" if status == 0 else f"FOUND, see {log}", flush=True)
    print(f"{total} runs of {len(names or TARGETS)} targets, {failed} found something")
    return failed


if __name__ == "__main__":
    if sys.argv[1] == "one":
        fuzz(sys.argv[2], sys.argv[3:])
    elif os.environ.get("FUZZ_LOGS"):
        sys.exit(each(sys.argv[1], sys.argv[2:], Path(os.environ["FUZZ_LOGS"])))
    else:
        with tempfile.TemporaryDirectory() as folder:
            sys.exit(each(sys.argv[1], sys.argv[2:], Path(folder)))
