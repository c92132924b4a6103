"""Gates: what a builder lets stop a commit, and what may wait, but not for ever."""

from __future__ import annotations

import datetime
import os
import re
import shutil
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from jurystrut.cli import main
from jurystrut.errors import UsageError
from jurystrut.gates import Passage, pass_gates, read_gates
from jurystrut.judge import RuleResult, judge
from jurystrut.reading import read
from jurystrut.records.aircraft import Stage
from jurystrut.records.gates import GATES_FILE
from jurystrut.rulebook import Verdict, warns
from jurystrut.testing import installed

if TYPE_CHECKING:
    from jurystrut.judge import Judgement

EXAMPLE = Path(__file__).parents[2] / "project_example"
DAY = datetime.date(2026, 11, 25)

STRICT = "gates: [{stops: [warn, no-data, fail]}]\n"
KNOWN = "{{rule: electrical/load-circuit, subject: {}, verdict: {}, findings: {}, reason: on order, until: {}}}"


@pytest.fixture(scope="module")
def judgement() -> Judgement:
    """The example, in which nothing is noted but what two loads are given here."""
    whole = judge(read(EXAMPLE), installed(), on=DAY)
    rule = next(result.rule for result in whole.results if result.rule.id == "electrical/load-circuit")
    warned = RuleResult(rule, Verdict.WARN, tuple(warns(name, "no switch") for name in ("FUELQ", "LOWV")))
    others = (result for result in whole.results if result.verdict is Verdict.PASS and result.rule is not rule)
    return replace(whole, results=(*others, warned))


def passage(judgement: Judgement, text: str, folder: Path) -> Passage:
    path = folder / GATES_FILE
    path.write_text(text, encoding="utf-8")
    return pass_gates(judgement, read_gates(path, installed(), judgement.day))


def subjects(passed: Passage) -> list[str]:
    return [one.finding.subject for one in passed.stopped]


@pytest.mark.parametrize(
    ("gates", "stopped"),
    [
        ("{}", 0),  # nothing chosen: what fails stops a commit, and nothing does
        (STRICT, 2),
        ("gates: [{stops: [warn], domains: [electrical]}]", 2),
        ("gates: [{stops: [warn], domains: [weights]}]", 0),
        ("gates: [{stops: [warn], from: systems}]", 2),
        ("gates: [{stops: [warn], from: engine-run}]", 0),
        ("gates: [{stops: [warn], before: systems}]", 0),
        ("gates: [{stops: [warn], before: engine-run}]", 2),
        ("gates: [{stops: [fail]}, {stops: [warn], domains: [electrical, panel]}]", 2),
    ],
)
def test_a_gate_stops_by_verdict_domain_and_stage(
    gates: str, stopped: int, judgement: Judgement, tmp_path: Path
) -> None:
    passed = passage(judgement, gates, tmp_path)
    assert len(passed.stopped) == stopped
    assert passed.exit_status == int(stopped > 0)


def test_missing_data_is_stopped_as_a_failure_from_inspection_on(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("aircraft: {name: T, authority: US, stage: operating}\n")
    for stage, status in ((Stage.SYSTEMS, 0), (Stage.INSPECTION, 1)):
        judged = judge(read(tmp_path), installed(), on=DAY, at=stage)
        assert pass_gates(judged, None).exit_status == status
        assert passage(judged, "gates: [{stops: [fail]}]", tmp_path).exit_status == status


def test_without_gates_it_is_the_exit_status_of_check(judgement: Judgement) -> None:
    assert pass_gates(judgement, None).exit_status == judgement.exit_status == 0


def test_a_margin_must_be_kept(judgement: Judgement, tmp_path: Path) -> None:
    margins = [
        (finding.margin, finding.subject)
        for result in judgement.results
        if result.rule.id == "weights/cg-envelope"
        for finding in result.findings
        if finding.margin is not None
    ]
    least, subject = min(margins)
    at_it = passage(judgement, f"margins: [{{rule: weights/cg-envelope, keep: {least * 100:.9f} %}}]", tmp_path)
    assert at_it.stopped == ()
    above = passage(judgement, f"margins: [{{rule: weights/cg-envelope, keep: {least * 100 + 0.01:.9f} %}}]", tmp_path)
    assert subjects(above) == [subject]
    assert "must be kept" in above.stopped[0].why
    assert not passage(judgement, "margins: [{rule: weights, keep: 99 %, from: operating}]", tmp_path).stopped


@pytest.mark.parametrize(
    ("known", "stopped", "remarks"),
    [
        ([("FUELQ", "warn", 1, "2026-12-01"), ("LOWV", "warn", 1, "2026-12-01")], [], 0),
        ([("FUELQ", "warn", 1, "2026-12-01")], ["LOWV"], 0),
        ([("FUELQ", "warn", 1, "2026-11-25"), ("LOWV", "warn", 1, "2026-11-24")], ["LOWV"], 1),  # the last day counts
        ([("FUELQ", "fail", 1, "2026-12-01"), ("LOWV", "warn", 2, "2026-12-01")], [], 1),  # one known is there no more
        (
            [("FUELQ", "warn", 0, "2026-12-01"), ("LOWV", "warn", 1, "2026-12-01")],
            ["FUELQ"],
            0,
        ),  # the list may not grow
    ],
)
def test_known_findings_may_wait_but_not_grow_and_not_for_ever(
    known: list[tuple[str, str, int, str]], stopped: list[str], remarks: int, judgement: Judgement, tmp_path: Path
) -> None:
    lines = "".join(f"  - {KNOWN.format(*one)}\n" for one in known)
    passed = passage(judgement, f"{STRICT}baseline:\n{lines}", tmp_path)
    assert subjects(passed) == stopped
    assert len(passed.remarks) == remarks


def test_a_known_warning_does_not_cover_a_failure(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("aircraft: {name: T, authority: US, stage: operating}\n")
    judged = judge(read(tmp_path), installed(), on=DAY)
    stopped = pass_gates(judged, None).stopped[0]
    for verdict, covered in (("warn", False), ("no-data", True)):
        entry = f"{{rule: {stopped.rule.id}, subject: aircraft, verdict: {verdict}, reason: x, until: 2026-12-01}}"
        rules = {one.rule.id for one in passage(judged, f"baseline: [{entry}]", tmp_path).stopped}
        assert (stopped.rule.id not in rules) is covered


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("gates: [{stops: [fial]}]", "wanted one of"),
        ("gates: [{stop: [fail]}]", "unknown field 'stop'; did you mean 'stops'?"),
        ("gates: {stops: [fail]}", "wanted a list"),
        ("gate: []", "unknown field 'gate'; did you mean 'gates'?"),
        ("gates: [{stops: [fail], domains: [electric]}]", "there is no domain 'electric'; did you mean 'electrical'?"),
        ("gates: [{stops: [fail], from: sometime}]", "from"),
        ("margins: [{rule: weights/cg-envelop, keep: 5 %}]", "did you mean 'weights/cg-envelope'?"),
        ("margins: [{rule: weights, keep: 5 lb}]", "keep"),
        ("baseline: [{rule: electrical/load-circuit, subject: X, verdict: warn, reason: x}]", "'until' is missing"),
        (
            "baseline: [{rule: electrical/load-circuit, subject: X, verdict: warn, until: 2026-12-01}]",
            "'reason' is missing",
        ),
        (f"baseline: [{KNOWN.format('X', 'warn', 1, '2028-01-01')}]", "more than a year ahead"),
        (f"baseline: [{KNOWN.format('X', 'pass', 1, '2026-12-01')}]", "wanted one of"),
        ("gates: [", "not YAML"),
        ("- gates", "at the left margin"),
        ("gates: &a [{stops: [fail]}]", "anchor"),
        ("gates: [{stops: [fail]}]\ngates: []", "given twice"),
    ],
)
def test_a_slip_of_the_pen_stops_everything(text: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / GATES_FILE
    path.write_text(text, encoding="utf-8")
    with pytest.raises(UsageError) as refused:
        read_gates(path, installed(), DAY)
    assert said in str(refused.value)
    assert GATES_FILE in str(refused.value)


@pytest.mark.parametrize("target", ["/dev/zero", "/etc/passwd", "nowhere"])
def test_a_file_of_gates_that_is_a_link_out_of_the_records_is_refused(target: str, tmp_path: Path) -> None:
    (tmp_path / GATES_FILE).symlink_to(target)
    (tmp_path / "a.yaml").write_text("aircraft: {name: T, authority: US, stage: design}\n")
    assert main(["gate", str(tmp_path)]) == 2


def test_the_command_says_what_stops_and_writes_the_list(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    gates = tmp_path / "strict.yaml"
    gates.write_text(STRICT)
    arguments = ["gate", str(EXAMPLE), "--on", "2026-11-25", "--gates", str(gates)]
    assert main(arguments) == 1
    said = capsys.readouterr().out
    assert "LOWV: warn stops a commit here" in said
    count = re.search(r"(\d+) findings? stops? this commit at stage systems on 2026-11-25\.", said)
    assert count
    assert main([*arguments, "--baseline"]) == 1
    gates.write_text(STRICT + capsys.readouterr().out)
    assert main(arguments) == 0
    passed = f"Nothing stops this commit at stage systems on 2026-11-25; {count[1]} known findings let pass."
    assert passed in capsys.readouterr().out
    assert main([*arguments[:3], "2027-03-01", *arguments[4:]]) == 1
    assert "its time ran out on 2027-02-23; it stops commits again" in " ".join(capsys.readouterr().out.split())


def test_the_file_beside_the_records_is_found(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("aircraft: {name: T, authority: US, stage: systems}\n")
    assert main(["gate", str(tmp_path), "--output", os.devnull]) == 0
    (tmp_path / GATES_FILE).write_text("gates: [{stops: [no-data]}]\n")
    assert main(["gate", str(tmp_path), "--output", os.devnull]) == 1
    (tmp_path / "b.yaml").write_text("aircraft: [\n")
    assert main(["gate", str(tmp_path), "--output", os.devnull]) == 2


def test_the_example_passes_its_own_gates_and_a_heavier_one_does_not(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(EXAMPLE, tmp_path / "build")
    assert main(["gate", str(tmp_path / "build"), "--on", "2026-11-25"]) == 0
    airframe = tmp_path / "build/weights/airframe.yaml"
    before, found, after = airframe.read_text("utf-8").partition("    - {id: RUDDER,")
    plate = "    - {id: PLATE, what: plate, weight: 12 lb, arm: 12 in, basis: weighed, since: 2026-11-20}\n"
    airframe.write_text(before + plate + found + after, encoding="utf-8")
    # Full fuel and two aboard come to 1306.9 lb of 1320 lb; 12 lb more leave 1.1 lb, under 0.1 %.
    assert main(["gate", str(tmp_path / "build"), "--on", "2026-11-25"]) == 1
    assert "0.25 % must be kept" in " ".join(capsys.readouterr().out.split())
