"""Coverage-guided fuzzing: `python tests/fuzz/atheris_targets.py SECONDS [TARGET ...]`, all targets where none is named.

Each target runs for so many seconds in a process of its own, from the corpus; no execution may take a second, no process may
grow by 200 MB. What is found is written beside the log as libFuzzer does; it goes into the corpus, which the tests replay.
Needs `pip install -e ".[test,fuzz]"`.
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

HERE = Path(__file__).parent
MOST_SECONDS, MOST_MEGABYTES = 1.0, 200.0


def fuzz(name: str, options: list[str]) -> None:
    """Run one target in this process until libFuzzer's options stop it."""
    import atheris

    sys.path.insert(0, str(HERE.parents[1]))
    with atheris.instrument_imports(include=["jurystrut", "jurystrut_rules"]):
        from tests.fuzz.targets import TARGETS, corpus_of
    target = TARGETS[name]
    for data in corpus_of(name):  # what is loaded once is no growth
        target(data)
    runs, start, slowest = 0, resident(), 0.0

    def once(data: bytes) -> None:
        nonlocal runs, slowest
        begun = time.process_time()
        target(data)
        took = time.process_time() - begun
        slowest = max(slowest, took)
        assert took < MOST_SECONDS, f"{took:.2f} s"
        runs += 1
        if runs % 2000 == 0:
            gc.collect()
            assert resident() - start < MOST_MEGABYTES, f"grew by {resident() - start:.0f} MB"
            print(f"so far {runs}, slowest {slowest:.3f} s, grown by {resident() - start:.0f} MB", flush=True)  # noqa: T201

    gc.disable()
    atheris.Setup([sys.argv[0], *options], once)
    atheris.Fuzz()


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
        print(f"{name}: {max(runs, default=0)} runs, slowest {slowest[0][0]} s, {slowest[0][1]} MB, ", end="")  # noqa: T201
        print("nothing found" if status == 0 else f"FOUND, see {log}", flush=True)  # noqa: T201
    print(f"{total} runs of {len(names or TARGETS)} targets, {failed} found something")  # noqa: T201
    return failed


if __name__ == "__main__":
    if sys.argv[1] == "one":
        fuzz(sys.argv[2], sys.argv[3:])
    elif os.environ.get("FUZZ_LOGS"):
        sys.exit(each(sys.argv[1], sys.argv[2:], Path(os.environ["FUZZ_LOGS"])))
    else:
        with tempfile.TemporaryDirectory() as folder:
            sys.exit(each(sys.argv[1], sys.argv[2:], Path(folder)))
