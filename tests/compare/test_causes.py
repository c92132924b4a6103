"""Late changes to the example, each hidden among other changes: the lines that brought a finding about must be named."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from jurystrut.compare import Side, compare
from jurystrut.compare.causes import Trials
from jurystrut.compare.changes import changes
from jurystrut.compare.hunks import applied, hunks_between, split
from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.rulebook import Stage, Verdict
from jurystrut.testing import installed

if TYPE_CHECKING:
    from collections.abc import Collection

    from jurystrut.compare import Comparison

DAY = datetime.date(2026, 11, 25)
CASES = sorted(path.stem for path in (Path(__file__).parents[1] / "late_changes").glob("*.yaml"))[::40]
"""Every fortieth of the late changes: each is judged many times over."""

# What else is in the same change: comments, a moved file, and figures that break nothing.
NOISE = {
    "electrical/engine.yaml": ("id: W19,", "  # noise above\n"),
    "weights/systems.yaml": ("components:", "  # noise, another\n"),
    "panel.yaml": ("items:", "  # noise, one more\n"),
}


def side(name: str, files: dict[str, str]) -> Side:
    return Side(name, None, tuple(RecordFile(path, files[path]) for path in sorted(files)))


def compared(before: dict[str, str], after: dict[str, str], stage: str | None = None) -> Comparison:
    at = Stage(stage) if stage else None
    return compare(side("before", before), side("after", after), installed(), at=at, on=DAY)


def noisy(files: dict[str, str], edited: Collection[str] = ()) -> dict[str, str]:
    """The files with comments put in, which move lines, and one file that the case leaves alone under another name."""
    files = dict(files)
    for file, (piece, comment) in NOISE.items():
        before, found, after = files[file].partition(piece)
        assert found
        start = before.rfind("\n") + 1
        files[file] = before[:start] + comment + before[start:] + found + after
    moved = next(file for file in ("rigging.yaml", "lighting.yaml") if file not in edited)
    files[f"moved-{moved}"] = files.pop(moved)
    return files


def marks(edits: list[dict[str, str]]) -> list[str]:
    """Pieces of the lines that a case changed."""
    texts = (edit.get("with") or edit.get("add") or edit.get("replace") or edit["line"] for edit in edits)
    return [line.strip() for text in texts for line in text.splitlines()]


@pytest.mark.parametrize("name", CASES)
def test_the_lines_of_a_late_change_are_named_among_others(name: str, build: Any) -> None:
    case = build.cases[name]
    earlier = case.get("after", [])
    edited = {edit["file"] for edit in case["edits"]}
    before, after = build.after(*earlier), noisy(build.after(*earlier, name), edited)
    comparison = compared(before, after, case.get("stage"))
    told = {
        (*e.change.key, e.change.after.verdict.value): e
        for e in comparison.changes
        if e.change.after and e.change.worse
    }
    # What an earlier case brought about may be better after this one: an accepted deviation is no worse than its failure.
    already = {key[:2] for key in build.expected(*earlier)}
    wanted = {key for key in build.expected(name) if key[:2] not in already}
    assert wanted <= told.keys()
    for key in wanted:
        causes = told[key].causes
        assert causes.narrowed
        assert causes.sets, key
        for hunks in causes.sets:
            assert len(hunks) <= sum(
                2 if "replace" in edit and "\n" in edit["replace"].strip() else 1 for edit in case["edits"]
            )
            for hunk in hunks:
                assert hunk.file in edited
                lines = "".join([*(hunk.old or ()), *(hunk.new or ())])
                assert any(mark in lines for mark in marks(case["edits"])), lines
                assert "# noise" not in lines


def test_two_changes_in_one_commit_have_each_their_own_lines(build: Any) -> None:
    comparison = compared(build.files, build.after("longer-run", "smaller-switch"))
    told = {e.change.key: e.causes.sets for e in comparison.changes if e.change.kind == "verdict"}
    (pitot,) = told["electrical/voltage-drop", "PITOT"]
    (switch,) = told["electrical/switch-rating", "SW-PUMPA"]
    assert [(h.file, "PITOT" in (h.new or "")[0]) for h in pitot] == [("electrical/cabin.yaml", True)]
    assert [(h.file, "SW-PUMPA" in (h.new or "")[0]) for h in switch] == [("electrical/engine.yaml", True)]


LAMP = """
aircraft: {{name: T, authority: US, stage: systems}}
electrical:
  nominal_voltage: 14 V
  sources: [{{id: BAT, kind: battery, capacity: 18 A*h}}]
  protection: [{{id: F1, kind: breaker, rating: 7.5 A}}]
  loads: [{{id: LAMP, current: 5 A, nature: lamp, duty: {{cruise: 100 %}}}}]
  wires:
    - {{id: W1, from: BAT, to: F1, size: 18 AWG, length: 1 in}}
    - {{id: W2, from: F1, to: LAMP, size: 18 AWG, length: {}}}
    - {{id: W3, from: LAMP.return, to: BAT.return, size: 18 AWG, length: {}}}
"""
"""18 AWG has some 6.5 ohm in 1,000 ft: at 5 A, 0.5 V are lost in about 15 ft of way there and back."""


@pytest.mark.parametrize(
    ("there", "back", "sets"),
    [
        ("8 ft", "8 ft", [2]),  # 3 ft more each: only together
        ("16 ft", "16 ft", [1, 1]),  # each by itself
        ("16 ft", "6 ft", [1]),  # the way there alone
    ],
)
def test_lines_that_count_together_and_lines_that_count_alone(there: str, back: str, sets: list[int]) -> None:
    comparison = compared({"a.yaml": LAMP.format("5 ft", "5 ft")}, {"a.yaml": LAMP.format(there, back)})
    (broken,) = [e for e in comparison.changes if e.change.key == ("electrical/voltage-drop", "LAMP")]
    assert broken.change.kind == "verdict"
    assert [len(hunks) for hunks in broken.causes.sets] == sets


def test_a_margin_that_moved_says_how_much_of_the_room_is_left(build: Any) -> None:
    before = build.files
    piece = "to: PITOT, size: 14 AWG, length: 92 in"
    after = {
        **before,
        "electrical/cabin.yaml": before["electrical/cabin.yaml"].replace(piece, piece.replace("92", "110")),
    }
    moved = {e.change.key: e for e in compared(before, after).changes}
    change = moved["electrical/voltage-drop", "PITOT"].change
    assert change.kind == "margin"
    assert change.before
    assert change.after
    was, now, room = change.before.margin, change.after.margin, change.room_left
    assert was
    assert now
    assert room
    assert room == pytest.approx(now / was)
    assert room < 1
    assert [h.file for (hunks) in moved[change.key].causes.sets for h in hunks] == ["electrical/cabin.yaml"]


def test_nothing_changed_is_told_as_nothing(build: Any) -> None:
    moved = {f"elsewhere/{name}": "# a line\n" + text for name, text in build.files.items()}
    assert compared(build.files, moved).changes == ()
    assert compared(build.files, moved).exit_status == 0


@pytest.mark.parametrize("name", CASES)
def test_all_pieces_together_are_the_whole_change_and_none_is_the_text_before(name: str, build: Any) -> None:
    before, after = build.files, noisy(build.after(*build.cases[name].get("after", []), name))
    pieces = hunks_between(before, after)
    assert applied(before, pieces) == after
    assert applied(before, []) == before
    assert applied(after, hunks_between(after, before)) == before


@pytest.mark.parametrize("text", ["", "a", "a\n", "\n\n", "a\r\nb\r\n", "a\u2028b\x0cc\n", "a\nb"])
def test_lines_are_split_without_loss_and_at_line_feeds_alone(text: str) -> None:
    assert "".join(split(text)) == text
    assert len(split(text)) == text.count("\n") + (not text.endswith("\n") and bool(text))


def test_records_added_together_are_tried_one_by_one() -> None:
    before = {"a.yaml": "list:\n  - {id: A}\n"}
    after = {"a.yaml": "list:\n  - {id: A}\n  - id: B\n    more: x\n  - id: C\n"}
    assert [hunk.new for hunk in hunks_between(before, after)] == [("  - id: B\n", "    more: x\n"), ("  - id: C\n",)]


@pytest.mark.parametrize(("stage", "status"), [(Stage.SYSTEMS, 0), (Stage.INSPECTION, 1)])
def test_data_that_goes_missing_counts_as_it_does_everywhere(stage: Stage, status: int, build: Any) -> None:
    """The wire's size is taken out: no data, a warning while the build goes on, a failure at the inspection."""
    before = build.files
    piece = "id: W19, from: SW-ENG, to: ENG, size: 14 AWG,"
    text = before["electrical/engine.yaml"].replace(piece, piece.replace(" size: 14 AWG,", ""))
    sides = side("before", before), side("after", {**before, "electrical/engine.yaml": text})
    comparison = compare(*sides, installed(), at=stage, on=DAY)
    missing = [e.change for e in comparison.changes if e.change.after and e.change.after.verdict is Verdict.NO_DATA]
    assert {change.key for change in missing} >= {("electrical/wire-protection", "W19")}
    assert all(change.worse for change in missing)
    assert comparison.exit_status == status


def test_the_whole_change_judged_already_is_not_judged_again(build: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    before, after = build.files, build.after("smaller-switch")
    old, new = (judge(read_files(side("", files).files), installed(), on=DAY) for files in (before, after))
    worse = [change for change in changes(old, new) if change.worse]
    rules = {change.rule.id for change in worse}
    fresh, seeded = (
        Trials(before, after, installed(), at=None, on=DAY, rules=rules, whole=whole) for whole in (None, new)
    )
    expected = [fresh.causes(change) for change in worse]
    monkeypatch.setattr(seeded, "_judged", lambda _texts: pytest.fail("judged once more"))
    assert [seeded.causes(change) for change in worse] == expected
    assert all(causes.sets for causes in expected)
