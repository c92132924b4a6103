"""The runner itself: it kills what a test notices, and says of the rest that it lives."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest
from tests.mutation import trial
from tests.mutation.chosen import Order, Source, words_of
from tests.mutation.mutate import Explained, Result, code_of, report
from tests.mutation.recorded import Record
from tests.mutation.trial import Outcome, Trial, changed_functions

ROOT = Path(__file__).parents[2]
CHART = "engine/jurystrut/calculations/charts.py"
LINE = "        if x1 < at <= x2:\n"
NO_FAULT = LINE.replace("<", "<=", 1)
"""The same chart: where two straights meet they give one value, and its first point is answered before."""

FAULTS = {
    "sound": ("", ""),
    "no fault": (LINE, NO_FAULT),
    "fault": (LINE, LINE.replace("<", ">", 1)),
    "raise": (LINE, f"        raise LookupError\n{LINE}"),
    "never ends": (LINE, f"        while True:\n            pass\n{LINE}"),
    "fault at import": ("from itertools import pairwise\n", "from itertools import permutations as pairwise\n"),
    "import ends": ("__all__ =", "raise LookupError\n__all__ ="),
}

TRY = f"""
import sys
from pathlib import Path

root = Path({str(ROOT)!r})
sys.path[:0] = [str(root), str(root / "engine"), str(root / "rules")]
from tests.mutation.trial import Trial, fresh_outcomes, swapped_outcomes

text = (root / {CHART!r}).read_text("utf-8")
tests = "tests/calculations/test_charts.py"
names = [f"{{tests}}::test_a_chart_is_read_straight_between_its_points[{{at}}]" for at in ("40-36", "55-38", "70-40")]
trials = [
    Trial(name, {CHART!r}, text.replace(*change), [(test, 0.01) for test in names]) for name, change in {FAULTS!r}.items()
]
if sys.argv[1] == "fresh":
    for outcome in fresh_outcomes(root, trials):
        print(outcome.id, outcome.verdict, sep=": ")
else:
    swapped_outcomes(root, [tests], trials, lambda trial, outcome: print(trial.id, outcome and outcome.verdict, sep=": "))
"""

VERDICTS = ["sound: survived", "no fault: survived", "fault: killed", "raise: killed", "never ends: timed out"]


@pytest.mark.parametrize(
    ("way", "at_import"),
    [
        ("fresh", ["fault at import: killed", "import ends: killed"]),
        ("swapped", ["fault at import: None", "import ends: None"]),  # these are left to the other way
    ],
)
def test_faults_are_killed_and_what_is_none_lives(way: str, at_import: list[str]) -> None:
    text = (ROOT / CHART).read_text("utf-8")
    assert all(before in text for before, _ in FAULTS.values())
    tried = subprocess.run([sys.executable, "-c", TRY, way], cwd=ROOT, capture_output=True, text=True, check=True)
    assert tried.stdout.splitlines() == VERDICTS + at_import


def test_a_test_that_fails_without_a_change_kills_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trial, "_fork", lambda run: (0, run()))
    tried, sound, asked = Trial("m", "m.py", "", [("good", 1.0), ("bad", 2.0)]), set[str](), []

    def alone(test: tuple[str, float]) -> str:
        asked.append(test)
        return trial._SOUND if test[0] == "good" else "bad"

    for _ in range(2):
        trial._passes_unchanged(Outcome("m", "killed", "good"), tried, sound, alone)
    trial._passes_unchanged(Outcome("m", "survived"), tried, sound, alone)
    assert asked == [("good", 1.0)]
    with pytest.raises(AssertionError, match="bad fails on its own"):
        trial._passes_unchanged(Outcome("m", "killed", "bad"), tried, sound, alone)


MODULE = """\
LIMIT = 3
@rule(worst=LIMIT)
def heavy(item):
    if item > LIMIT:
        return [one for one in item]
class Scale:
    step: int = 2
    def read(self):
        return self.step
"""


@pytest.mark.parametrize(
    ("before", "after", "names"),
    [
        ("item > LIMIT", "item >= LIMIT", ["heavy"]),
        ("for one in item", "for one in []", ["heavy"]),
        ("return self.step", "return -self.step", ["read"]),
        ("LIMIT = 3", "LIMIT = 4", None),
        ("LIMIT = 3", "LIMIT = 3.0", None),
        ("worst=LIMIT", "worst=-LIMIT", None),
        ("int = 2", "int = 1", None),
        ("LIMIT", "LIMIT", []),
    ],
)
def test_only_what_changes_inside_a_function_is_exchanged(before: str, after: str, names: list[str] | None) -> None:
    changed = MODULE.replace(before, after, 1)
    found = changed_functions(compile(MODULE, "m.py", "exec"), compile(changed, "m.py", "exec"))
    assert (None if found is None else [code.co_name for code in found]) == names


def test_the_tests_of_a_line() -> None:
    # `heavy` runs in two tests; the head of the module, its constants and decorators run at import alone.
    lines: dict[int, set[str]] = {
        1: {""},
        2: {""},
        3: {""},
        4: {"a", "b"},
        5: {"b"},
        6: {""},
        7: {""},
        8: {""},
        9: {"c"},
    }
    source = Source("m.py", MODULE, Record({}, {"m.py": lines}), words_of({"m.py": MODULE}))
    assert source.tests(5) == {"b"}
    assert not source.runs_at_import(5)
    assert source.tests(1) == {"a", "b"}  # the line that names LIMIT
    assert source.tests(2) == {"a", "b"}
    assert source.tests(7) == {"c"}
    assert source.runs_at_import(7)


def test_what_is_fast_and_runs_little_else_comes_first_the_sooner_the_more_it_killed() -> None:
    seconds = {"narrow": 0.2, "wide": 0.2, "slow": 1.0, "last": 9.0}
    order = Order(Record(seconds, {"m.py": {1: {"narrow", "wide", "slow", "last"}, 2: {"wide"}}}), seconds=1.0)
    assert [name for name, _ in order(set(seconds))] == ["narrow", "wide", "slow"]
    order.killers["wide"] += 1
    assert [name for name, _ in order({"narrow", "wide"})] == ["wide", "narrow"]
    order.killers["last"] += 1
    assert [name for name, _ in order({"narrow", "slow", "last"})] == ["narrow", "slow"]


def test_the_report_counts_what_lives_and_what_has_its_reason() -> None:
    explained = Explained(
        {"rules/jurystrut_rules/x.py": [{"line": "a < b", "becomes": ["a <= b", "b"], "why": "same"}]}
    )
    results = [
        Result(f"{line}", "rules/jurystrut_rules/x.py", line, "a < b", becomes, verdict, "", "")
        for line, (becomes, verdict) in enumerate(
            [("a <= b", "survived"), ("a > b", "survived"), ("a", "killed"), ("c", "timed out"), ("d", "not covered")]
        )
    ]
    lines, enough = report(results, explained)
    assert lines[0].endswith("x.py:1: survived: a < b  ->  a > b")
    assert lines[1].endswith("x.py:4: not covered: a < b  ->  d")
    assert lines[-1].split() == ["all", "of", "rules/jurystrut_rules", "5", "1", "1", "1", "1", "1", "60.0%"]
    assert not enough
    assert report(results[2:4], explained)[1]
    assert explained.unused(["rules/jurystrut_rules/x.py"]) == [
        "explains nothing: rules/jurystrut_rules/x.py: a < b -> b"
    ]


def test_every_reason_stands_by_a_line_that_is_there() -> None:
    for file, line, becomes in Explained().reasons:
        text = (ROOT / file).read_text("utf-8")
        ast.parse(text)
        assert line in [code_of(one.strip()) for one in text.splitlines()], f"{file}: {line}"
        assert becomes != line
