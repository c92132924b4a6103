"""A trial laid over the records: what it changes, where its findings point, and that nothing is written."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from jurystrut.errors import UsageError
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut_rules.weights.ledger import empty_aircraft, inches, pounds

if TYPE_CHECKING:
    from jurystrut.records.project import Project

EXAMPLE = Path(__file__).parents[2] / "project_example"
RECORDS = """\
aircraft:
  name: T
  authority: US
  stage: operating
  limits:
    gross_weight: 1320 lb
    landing_weight: 1300 lb
    cg_envelope: [{weight: 700 lb, arm: 9 in}, {weight: 1320 lb, arm: 9 in}, {weight: 1320 lb, arm: 16 in}]
weights:
  components:
    - {id: BAT, what: battery, weight: 11.8 lb, arm: -21 in, basis: weighed}
    - {id: BRACKET, weight: 1.4 lb, arm: 52 in, basis: weighed}
"""


def tried(change: str) -> Project:
    return read_files([RecordFile("records.yaml", RECORDS)], trial=RecordFile("CHANGE.yaml", change))


def test_a_changed_record_keeps_its_other_fields_and_each_points_to_its_own_file() -> None:
    project = tried("weights:\n  components:\n    - {id: BAT, weight: 4.2 lb}\n")
    assert project.problems == ()
    battery, bracket, _ = project.sections["weights"].components
    assert (battery.weight.to("lb"), battery.arm.to("in"), battery.what) == (
        pytest.approx(4.2),
        pytest.approx(-21),
        "battery",
    )
    assert str(battery.at("weight").position) == "CHANGE.yaml:3:25"
    assert str(battery.at("arm").position) == "records.yaml:11:54"
    assert bracket.weight.to("lb") == pytest.approx(1.4)
    assert project.trial[0] == "weights.components.BAT.weight 11.8 lb -> 4.2 lb"


WEIGHED = """\
  weighings:
    - {id: W1, day: 2026-01-10, aboard: [], missing: [], scales: [{wheel: other, reading: 800 lb, tare: 0 lb, arm: 10 in}]}
"""


def test_another_battery_is_exchanged_for_the_one_that_stood_on_the_scales() -> None:
    # 800 lb at 10 in, less 11.8 lb at -21 in, plus 4.2 lb at -21 in: 792.4 lb, (8000 + 7.6 * 21) / 792.4 in.
    trial = RecordFile("CHANGE.yaml", "weights:\n  components:\n    - {id: BAT, weight: 4.2 lb}\n")
    project = read_files([RecordFile("records.yaml", RECORDS + WEIGHED)], trial=trial)
    assert project.problems == ()
    empty = empty_aircraft.compute(project.sections["weights"])
    assert pounds(empty.body.weight) == pytest.approx(792.4)
    assert inches(empty.body.arm) == pytest.approx((8000 + 7.6 * 21) / 792.4)
    assert project.trial[-1] == "weights.components.BAT-BEFORE: what stood on the scales is taken out"


def test_a_part_that_is_not_fitted_yet_is_not_taken_out() -> None:
    # 800 lb on the scales and 1.4 lb of bracket missing then; the bracket becomes 5 lb: 805 lb.
    waiting = RECORDS.replace("{id: BRACKET,", "{id: BRACKET, fitted: false,") + WEIGHED.replace(
        "missing: []", "missing: [{what: bracket, weight: 1.4 lb, arm: 52 in, component: BRACKET}]"
    )
    trial = RecordFile("CHANGE.yaml", "weights:\n  components:\n    - {id: BRACKET, weight: 5 lb}\n")
    project = read_files([RecordFile("records.yaml", waiting)], trial=trial)
    assert project.problems == ()
    assert pounds(empty_aircraft.compute(project.sections["weights"]).body.weight) == pytest.approx(805)
    assert project.trial == ("weights.components.BRACKET.weight 1.4 lb -> 5 lb",)


def test_records_are_added_and_removed() -> None:
    project = tried(
        "weights:\n  remove: [BRACKET]\n  components: [{id: NEW, weight: 1 lb, arm: 1 in, basis: estimated}]\n"
    )
    assert project.problems == ()
    assert [c.id for c in project.sections["weights"].components] == ["BAT", "NEW"]
    assert project.trial == ("weights.components.NEW added", "weights.BRACKET removed")


def test_fields_of_one_record_are_changed_and_lists_without_ids_replaced() -> None:
    right = "{weight: 1320 lb, arm: 15 in}, {weight: 700 lb, arm: 15 in}"
    corners = f"[{{weight: 700 lb, arm: 8 in}}, {{weight: 1320 lb, arm: 8 in}}, {right}]"
    project = tried(f"aircraft:\n  limits:\n    gross_weight: 1250 lb\n    cg_envelope: {corners}\n")
    limits = project.sections["aircraft"].limits
    assert project.problems == ()
    assert limits.gross_weight.to("lb") == pytest.approx(1250)
    assert limits.landing_weight.to("lb") == pytest.approx(1300)
    assert len(limits.cg_envelope) == 4
    assert project.trial == (
        "aircraft.limits.gross_weight 1320 lb -> 1250 lb",
        "aircraft.limits.cg_envelope a list of 3 -> a list of 4",
    )


def test_a_whole_section_may_be_new() -> None:
    project = tried("fuel: {density: 6 lb/US gal}\n")
    assert project.sections["fuel"].density is not None
    assert project.trial == ("fuel a record added",)


@pytest.mark.parametrize(
    ("change", "place", "words"),
    [
        ("weights: {remove: [BRACKETS]}\n", "CHANGE.yaml:1:11", "remove: there is no 'BRACKETS' in weights"),
        ("weights: {components: [{id: BAT, wieght: 4 lb}]}\n", "CHANGE.yaml:1:34", "wieght"),
        ("weigths: {}\n", "CHANGE.yaml:1:1", "unknown section 'weigths'"),
        ("weights: [\n", "CHANGE.yaml:2:1", "not YAML here"),
        ("weights: {components: [{id: BAT, weight: 4 in}]}\n", "CHANGE.yaml:1:42", "weight"),
    ],
)
def test_what_is_wrong_with_a_trial_is_told_at_its_place(change: str, place: str, words: str) -> None:
    problem = tried(change).problems[0]
    assert str(problem.position) == place
    assert words in problem.message


@pytest.mark.parametrize("change", ["", "weights: {components: [{id: BAT, weight: 11.8 lb}]}\n"])
def test_a_trial_that_changes_nothing_is_refused(change: str) -> None:
    with pytest.raises(UsageError, match=r"CHANGE\.yaml changes nothing"):
        tried(change)


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "jurystrut", "check", str(EXAMPLE), "--on", "2026-11-25", *arguments]
    return subprocess.run(command, capture_output=True, encoding="utf-8", env=os.environ, check=False)


def test_the_command_says_that_it_is_a_trial_and_writes_nothing(tmp_path: Path) -> None:
    change = tmp_path / "hook.yaml"
    change.write_text(
        "weights: {components: [{id: HOOK, weight: 31 lb, arm: 172 in, basis: estimated, since: 2026-11-20}]}\n"
    )
    before = {path: path.read_bytes() for path in EXAMPLE.rglob("*") if path.is_file()}
    done = run("--with", str(change))
    assert done.returncode == 1
    lines = done.stdout.splitlines()
    assert lines[1] == "TRIAL, not the records. Nothing was written. Changed for this run alone:"
    assert lines[2] == "  weights.components.HOOK added"
    assert "weights/every-loading" in done.stdout
    assert "Verdict of the trial: FAIL" in done.stdout
    assert before == {path: path.read_bytes() for path in EXAMPLE.rglob("*") if path.is_file()}
    data = json.loads(run("--with", str(change), "--format", "json").stdout)
    assert data["project"]["trial"] == ["weights.components.HOOK added"]
    assert "TRIAL" not in run().stdout
    assert "trial" not in json.loads(run("--format", "json").stdout)["project"]


def test_a_trial_that_is_not_there_is_a_wrong_command(tmp_path: Path) -> None:
    done = run("--with", str(tmp_path / "none.yaml"))
    assert done.returncode == 2
    assert "cannot be read as a trial" in done.stderr
