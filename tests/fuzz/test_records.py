"""Every record model under chance: sound records must be judged by every rule, broken ones told at their place."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.fuzz.making import mutated, sound_records, spoilt_bytes, written

from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.records import SECTIONS
from jurystrut.records.aircraft import Stage
from jurystrut.reports import FORMATS, writer
from jurystrut.testing import DAY, installed

if TYPE_CHECKING:
    from jurystrut.judge import Judgement

EXAMPLE = Path(__file__).parents[2] / "project_example"

chance = st.integers(0, 2**64).map(Random)
bounded = settings(max_examples=40, deadline=5000, suppress_health_check=[HealthCheck.too_slow])


def judged(*texts: str, at: Stage | None = None) -> Judgement:
    """The whole way to every report."""
    files = [RecordFile(f"{number}.yaml", text) for number, text in enumerate(texts)]
    judgement = judge(read_files(files), installed(), at=at, on=DAY)
    names = {file.path for file in files} | {"."}
    assert all(problem.position.file in names for problem in judgement.problems), judgement.problems
    assert not [problem for problem in judgement.problems if "a bug in this rule" in problem.message]
    for name in FORMATS:
        writer(name)(judgement)
    json.loads(writer("json")(judgement))
    return judgement


@given(chance, st.sampled_from([None, *Stage]))
@bounded
def test_sound_records_break_no_rule(random: Random, stage: Stage | None) -> None:
    """Only what two fields say together may be refused; no rule has a bug, whatever is recorded and whatever is not."""
    judgement = judged(written(sound_records(random), random), at=stage)
    assert all(result.findings for result in judgement.results)


def test_most_records_made_by_chance_are_sound() -> None:
    """Else the test above would look at little."""
    sound = [not judged(written(sound_records(Random(seed)), Random(seed))).problems for seed in range(40)]
    assert sum(sound) >= 4


def test_every_section_is_made() -> None:
    assert {name for seed in range(40) for name in sound_records(Random(seed))} == set(SECTIONS)


@given(chance, st.integers(1, 6), st.sampled_from([0.0, 0.02, 0.3]))
@bounded
def test_broken_records_are_told_and_nothing_else_happens(random: Random, changes: int, oddity: float) -> None:
    tree: Any = sound_records(random)
    for _ in range(changes):
        tree = mutated(copy.deepcopy(tree), random)
    judged(written(tree, random, oddity))


def example_files() -> list[tuple[str, Any]]:
    return [
        (path.relative_to(EXAMPLE).as_posix(), yaml.load(path.read_text("utf-8"), yaml.BaseLoader))  # noqa: S506 - text only
        for path in sorted(EXAMPLE.rglob("*.yaml"))
    ]


EXAMPLE_FILES = example_files()


@given(chance, st.integers(1, 3))
@settings(bounded, max_examples=12)
def test_the_example_with_parts_changed(random: Random, changes: int) -> None:
    files = dict(copy.deepcopy(EXAMPLE_FILES))
    for _ in range(changes):
        name = random.choice(sorted(files))
        files[name] = mutated(files[name], random)
    judged(*[written(tree, random) for tree in files.values()])


@given(chance)
@bounded
def test_spoilt_bytes_are_told(random: Random) -> None:
    path = random.choice(sorted(EXAMPLE.rglob("*.yaml")))
    data = spoilt_bytes(path.read_bytes()[:4000], random)
    judged(data.decode("utf-8", "replace"))
