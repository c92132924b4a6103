"""Records that say the same in another way are judged the same: another order, other ids, units, comments, files."""

from __future__ import annotations

import re
from decimal import Decimal
from random import Random
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.properties.judgements import (
    AIRCRAFT,
    HERE,
    alike,
    as_recorded,
    judged,
    project_of,
    said,
    texts,
    trees,
    values_changed,
    written,
)
from tests.test_late_changes import case_of, edited

from jurystrut.editor.mentions import mentions_of

few = settings(max_examples=3, derandomize=True, deadline=None, database=None)
CHANCE = st.integers(0, 2**32).map(Random)

TOLD_AT_THE_FIRST = {"covering/weight-counted", "electrical/wire-type", "lighting/anti-collision-coverage"}
"""Rules with one finding for several records, told at the first of them as recorded."""


def unless_first(rule: str, subject: str) -> str:
    return "" if rule in TOLD_AT_THE_FIRST else subject


def mixed(tree: Any, random: Random) -> Any:
    """Records with ids in another order; other lists have an order that means something."""
    if isinstance(tree, dict):
        return {key: mixed(value, random) for key, value in tree.items()}
    if isinstance(tree, list) and tree and all(isinstance(record, dict) and "id" in record for record in tree):
        return random.sample(tree, len(tree))
    return tree


@pytest.mark.parametrize("name", sorted(AIRCRAFT))
@given(random=CHANCE)
@few
def test_the_order_of_files_and_records_changes_nothing(name: str, random: Random) -> None:
    files = list(trees(name, lambda tree: mixed(tree, random)).items())
    random.shuffle(files)
    as_before = said(judged(texts(name)), unless_first)
    alike(as_before, said(judged(written(dict(files))), unless_first))


def renamed(files: dict[str, str], ending: str) -> dict[str, str]:
    """Every id with this ending, where it is given and where it is named, as the editor would write it."""
    project = project_of(files)
    ids = {id_ for section, records in project.index.items() if "." not in section for id_ in records}
    places = {(m.position, id_) for id_ in ids for m in mentions_of(project, id_, files)}
    lines = {path: text.splitlines(keepends=True) for path, text in files.items()}
    for at, id_ in sorted(places, reverse=True):  # from the end of a line to its beginning
        line = lines[at.file][at.line - 1]
        assert line[at.column - 1 :].startswith(id_)
        lines[at.file][at.line - 1] = line[: at.column - 1] + id_ + ending + line[at.column - 1 + len(id_) :]
    return {path: "".join(text) for path, text in lines.items()}


@pytest.mark.parametrize("name", sorted(AIRCRAFT))
def test_other_ids_change_neither_verdicts_nor_figures(name: str) -> None:
    after = said(judged(renamed(dict(texts(name)), "-Q7")), lambda _, subject: subject.replace("-Q7", ""))
    alike(as_recorded(name), after)


def test_a_deviation_goes_with_the_record_that_it_speaks_of() -> None:
    accepted = HERE / "late_changes/thinner-return-accepted.yaml"
    files = edited(dict(texts("project_example")), case_of(accepted))
    before = said(judged(files, "electrical/voltage-drop"))
    assert any("deviates" in key for key in before.verdicts)
    after = judged(renamed(files, "-Q7"), "electrical/voltage-drop")
    alike(before, said(after, lambda _, subject: subject.replace("-Q7", "")))


# Exact by definition: the pound and inch of 1959, the US gallon of 231 cubic inches, and standard gravity for pounds of force.
IN_OTHER_UNITS = {
    "lb": (Decimal("0.45359237"), "kg"),
    "lbf": (Decimal("4.4482216152605"), "N"),
    "in": (Decimal("25.4"), "mm"),
    "ft": (Decimal("0.3048"), "m"),
    "US gal": (Decimal("3.785411784"), "L"),
}
FORCES = {"cord_strength", "strength", "tension", "tension_tolerance", "ultimate_load"}
_PLAIN = re.compile(r"(-?[0-9]+(?:\.[0-9]+)?) (lb|in|ft|US gal)")


def in_other_units(field: str, value: str) -> str:
    found = _PLAIN.fullmatch(value)
    if found is None:
        return value
    unit = "lbf" if found[2] == "lb" and field in FORCES else found[2]
    factor, other = IN_OTHER_UNITS[unit]
    return f"{Decimal(found[1]) * factor:f} {other}"


@pytest.mark.parametrize("name", sorted(AIRCRAFT))
def test_other_units_change_neither_verdicts_nor_figures(name: str) -> None:
    changed = 0

    def change(field: str, value: str) -> str:
        nonlocal changed
        other = in_other_units(field, value)
        changed += other != value
        return other

    files = trees(name, lambda tree: values_changed(tree, change))
    assert changed > 100
    alike(as_recorded(name), said(judged(written(files))))


def commented(text: str, random: Random) -> str:
    """Comments and blank lines between the lines."""
    lines = []
    for line in text.splitlines():
        if line.lstrip().startswith(("- ", "#")) and random.random() < 0.3:
            lines.append(random.choice(("", "# later", "      # - {id: W999, from: NOWHERE}")))
        lines.append(line)
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("name", sorted(AIRCRAFT))
@given(random=CHANCE)
@few
def test_comments_and_blank_lines_change_nothing_but_the_lines(name: str, random: Random) -> None:
    files = {path: commented(text, random) for path, text in texts(name).items()}
    assert files != texts(name)
    assert [yaml.safe_load(text) for text in files.values()] == [yaml.safe_load(text) for text in texts(name).values()]
    alike(as_recorded(name), said(judged(files)))


def joined(files: dict[str, Any]) -> dict[str, Any]:
    """All files' sections in one: lists behind each other, fields together."""
    whole: dict[str, Any] = {}
    for tree in files.values():
        for section, body in (tree or {}).items():
            if isinstance(body, list):
                whole[section] = whole.get(section, []) + body
            else:
                here = whole.setdefault(section, {})
                for field, value in body.items():
                    here[field] = here[field] + value if field in here else value
    return whole


@pytest.mark.parametrize("flow", [True, False])
def test_one_file_for_everything_is_judged_as_many(flow: bool) -> None:
    whole = joined(trees("project_example", lambda tree: tree))
    text = yaml.safe_dump(whole, sort_keys=False, allow_unicode=True, default_flow_style=flow)
    alike(as_recorded("project_example"), said(judged({"everything.yaml": text})))
