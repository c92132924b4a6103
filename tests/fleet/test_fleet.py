"""Many repositories at once: the same results as one by one, whatever becomes of some of them."""

from __future__ import annotations

import datetime
import json
import shutil
import subprocess
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from jurystrut.cli import main
from jurystrut.fleet import Outcome, Task, apart, judge_in_processes, judge_in_turn, judge_on_cluster
from jurystrut.fleet.table import as_data, write

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

EXAMPLE = Path(__file__).parents[2] / "project_example"
DAY = datetime.date(2026, 11, 25)


@pytest.fixture(scope="module")
def hangar(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """The example, one with a thinner wire, one that is just begun, one that is no YAML, and one that is not there."""
    root = tmp_path_factory.mktemp("hangar")
    shutil.copytree(EXAMPLE, root / "sound")
    shutil.copytree(EXAMPLE, root / "thin")
    engine = root / "thin" / "electrical" / "engine.yaml"
    text = engine.read_text("utf-8")
    assert "14 AWG" in text
    engine.write_text(text.replace("14 AWG", "22 AWG"), "utf-8")
    for name, records in (("begun", "aircraft: {name: B, authority: US, stage: design}\n"), ("torn", "aircraft: [\n")):
        (root / name).mkdir()
        (root / name / "a.yaml").write_text(records)
    return [str(root / name) for name in ("sound", "thin", "missing", "begun", "torn")]


def jurystrut(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "jurystrut", *arguments]
    return subprocess.run(command, capture_output=True, encoding="utf-8", check=False)


@pytest.fixture(scope="module")
def alone(hangar: list[str]) -> list[tuple[int, Any]]:
    """Exit status and JSON of each repository, judged by a command of its own."""
    done = [jurystrut("check", folder, "--format", "json", "--on", DAY.isoformat()) for folder in hangar]
    return [(one.returncode, json.loads(one.stdout) if one.stdout else None) for one in done]


def on_a_local_cluster(
    tasks: Sequence[Task], time_limit: float | None = None, command: tuple[str, ...] | None = None
) -> list[Outcome]:
    from distributed import Client, LocalCluster

    with (
        LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,  # type: ignore[no-untyped-call]
        Client(cluster) as client,  # type: ignore[no-untyped-call]
    ):
        if command:
            client.run(setattr, apart, "_COMMAND", command)
        return judge_on_cluster(client, tasks, time_limit)


@pytest.mark.parametrize(
    "judged",
    [judge_in_turn, lambda tasks: judge_in_processes(tasks, 2), on_a_local_cluster],
    ids=["turn", "jobs", "dask"],
)
@pytest.mark.filterwarnings("ignore")  # what the cluster's libraries say of each other when it ends
def test_the_same_as_one_by_one(
    judged: Callable[[Sequence[Task]], list[Outcome]], hangar: list[str], alone: list[tuple[int, Any]]
) -> None:
    outcomes = judged([Task(folder, on=DAY, whole=True) for folder in hangar])
    assert [outcome.path for outcome in outcomes] == hangar
    assert [(outcome.status, outcome.judgement) for outcome in outcomes] == alone
    assert [outcome.status for outcome in outcomes] == [0, 1, 2, 0, 2]
    assert "is not a folder" in str(outcomes[2].broke)


def test_the_command_gives_one_table_and_the_worst_status(hangar: list[str], alone: list[tuple[int, Any]]) -> None:
    done = jurystrut("check", *hangar, "--jobs", "2", "--format", "json", "--on", DAY.isoformat())
    data = json.loads(done.stdout)
    assert (done.returncode, done.stderr) == (2, "")
    assert [(one["exit_status"], one["judgement"]) for one in data["repositories"]] == alone
    verdicts = [
        next(rule["verdict"] for rule in one["rules"] if rule["id"] == "electrical/wire-load")
        for _, one in alone
        if one
    ]
    assert data["rules"]["electrical/wire-load"] == {
        v: verdicts.count(v) for v in data["rules"]["electrical/wire-load"]
    }
    assert verdicts.count("fail") == 1


def test_the_table_names_who_fails_what(hangar: list[str]) -> None:
    outcomes = judge_in_turn([Task(folder, on=DAY) for folder in hangar])
    assert all(outcome.judgement is None for outcome in outcomes)
    text = write(outcomes)
    assert "5 repositories: 1 fail, 1 with mistakes in their records, 1 not judged." in " ".join(text.split())
    lines = text.splitlines()
    row = next(number for number, line in enumerate(lines) if line.startswith("electrical/wire-load "))
    assert lines[row].split()[1] == "1"
    assert "thin" in "".join(lines[row + 1 : row + 4])


def test_a_thousand_failing_are_counted_and_five_are_named() -> None:
    outcomes = [Outcome(f"r{i}", 1, "fail", {"a/b": "fail"}) for i in range(1000)]
    text = write(outcomes)
    assert "fails: r0, r1, r2, r3, r4 and 995 more" in text
    assert as_data(outcomes)["rules"]["a/b"]["fail"] == 1000


PLANTED = """
import os, re, time
import jurystrut.reading as reading
from jurystrut.fleet import apart
real = reading.read
def read(root):
    if root.name == "deadly":
        os._exit(1)
    if root.name == "endless":  # within a library's own code, which lets nothing else of the process go on
        re.match("(a+)+$", "a" * 60 + "b")
    if root.name == "slow":
        time.sleep(1000)
    if root.name == "loud":
        print("a pack that prints")
        root = root.parent / "sound"
    return real(root)
reading.read = read
apart.serve()
"""
"""The process that judges, with repositories that end it, keep it for ever or print."""


@pytest.fixture
def planted(monkeypatch: pytest.MonkeyPatch) -> tuple[str, ...]:
    command = (sys.executable, "-c", PLANTED)
    monkeypatch.setattr(apart, "_COMMAND", command)
    return command


def judged_with(hangar: list[str], *names: str) -> list[Task]:
    root = Path(hangar[0]).parent
    return [Task(str(root / name), on=DAY) for name in names]


@pytest.mark.usefixtures("planted")
def test_a_process_that_dies_takes_no_other_with_it(hangar: list[str]) -> None:
    outcomes = judge_in_processes(judged_with(hangar, "sound", "deadly", "thin", "loud"), 2)
    assert [outcome.status for outcome in outcomes] == [0, 2, 1, 0]
    assert outcomes[1].broke == "the process that judged it died"


@pytest.mark.usefixtures("planted")
@pytest.mark.parametrize("jobs", [1, 2])
def test_a_repository_that_takes_for_ever_is_given_up_and_the_others_go_on(hangar: list[str], jobs: int) -> None:
    tasks = judged_with(hangar, "endless", "sound", "slow", "thin", "torn")
    begun = time.monotonic()
    outcomes = judge_in_processes(tasks, jobs, time_limit=8)
    assert time.monotonic() - begun < 100
    assert [outcome.status for outcome in outcomes] == [2, 0, 2, 1, 2]
    for outcome in (outcomes[0], outcomes[2]):
        assert "took longer than 8 seconds and was given up; judge it alone" in str(outcome.broke)
    assert [outcome.broke for outcome in outcomes[1::2]] == [None, None]
    assert "2 not judged" in " ".join(write(outcomes).split())


@pytest.mark.filterwarnings("ignore")
def test_on_a_cluster_too(hangar: list[str], planted: tuple[str, ...]) -> None:
    tasks = judged_with(hangar, "endless", "slow", "deadly", "sound", "thin")
    outcomes = on_a_local_cluster(tasks, time_limit=8, command=planted)
    assert [outcome.status for outcome in outcomes] == [2, 2, 2, 0, 1]
    assert ["took longer than 8 seconds" in str(outcome.broke) for outcome in outcomes] == [
        True,
        True,
        False,
        False,
        False,
    ]
    assert outcomes[2].broke == "the process that judged it died"


def test_a_limit_that_is_not_reached_changes_nothing(hangar: list[str], alone: list[tuple[int, Any]]) -> None:
    outcomes = judge_in_processes([Task(folder, on=DAY, whole=True) for folder in hangar], 2, time_limit=500)
    assert [(outcome.status, outcome.judgement) for outcome in outcomes] == alone


def test_a_module_in_the_folder_it_is_started_in_is_not_imported(hangar: list[str], tmp_path: Path) -> None:
    (tmp_path / "yaml.py").write_text("raise SystemExit('imported')\n")
    done = subprocess.run(
        [
            sys.executable,
            "-P",
            "-m",
            "jurystrut",
            "check",
            hangar[0],
            hangar[3],
            "--jobs",
            "2",
            "--on",
            DAY.isoformat(),
        ],
        cwd=tmp_path,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("limit", ["-1", "nan", "inf", "ten"])
def test_a_limit_that_is_none_is_refused(limit: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        main(["check", "a", "b", "--time-limit", limit])
    assert f"found '{limit}'; wanted a number of seconds" in capsys.readouterr().err


def test_a_bug_in_one_repository_is_told(monkeypatch: pytest.MonkeyPatch, hangar: list[str]) -> None:
    import jurystrut.reading

    real = jurystrut.reading.read
    monkeypatch.setattr(jurystrut.reading, "read", lambda root: 1 // 0 if root.name == "thin" else real(root))
    outcomes = judge_in_turn([Task(folder, on=DAY) for folder in hangar])
    assert [outcome.status for outcome in outcomes] == [0, 2, 2, 0, 2]
    assert "a bug in jurystrut: ZeroDivisionError" in str(outcomes[1].broke)
