"""Figures told on the example: what was measured stands in the message, and the arithmetic is worked again by Python itself."""

from __future__ import annotations

import copy
import datetime
import math
import re
from collections import Counter, defaultdict
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import yaml

from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.rulebook import Stage, Verdict
from jurystrut.testing import installed

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jurystrut.rulebook import Finding

EXAMPLE = Path(__file__).parents[2] / "project_example"
_RESULT = re.compile(r"([^=;]+) = ([-+]?[\d.]+) ?(\S*)")
_NUMBER = re.compile(r"\(*[-+]?[\d.]*\d(\*\*2)?\)*(\*\*2)?")
_OPERATORS = {"*", "/", "+", "-"}


def judged(files: Iterable[RecordFile]) -> list[tuple[str, Finding]]:
    """Every rule's findings on an aircraft as it will be at last."""
    project = read_files(files)
    assert not project.problems
    judgement = judge(project, installed(), at=Stage.OPERATING, on=datetime.date(2026, 11, 25))
    return [(result.rule.id, finding) for result in judgement.results for finding in result.findings]


@cache
def told() -> list[tuple[str, Finding]]:
    """What is found on the example."""
    return judged(record_files(EXAMPLE))


@cache
def workings() -> list[tuple[str, Finding, list[str]]]:
    """The same with their steps."""
    return [(rule, finding, list(finding.working())) for rule, finding in told() if finding.working]


def decimals(number: str) -> float:
    """Half of the last place that is shown."""
    return 0.5 * 10.0 ** -len(number.partition(".")[2])


def worked(left: str) -> float | None:
    """What the left side of a step comes to, units and remarks left out; None where it is no arithmetic."""
    text = (
        left.replace("^", "**").replace(" x ", " * ").replace(" at ", " * ")
    )  # so many gallons at so many pounds each
    turned = "asin(" in text or "arcsin(" in text
    text = re.sub(r"(arc|a)sin", "", text)
    text = re.sub(r"\([^()]*[A-Za-z][^()]*\)", " ", text)
    kept, thousandths = [], 1.0
    for word in text.split():
        if word in _OPERATORS or _NUMBER.fullmatch(word):
            kept.append(word)
        elif word == "mohm":
            thousandths *= 1e3 if kept[-2:-1] == ["/"] else 1e-3
    if not any(word in _OPERATORS for word in kept) or kept[0] in _OPERATORS:
        return None
    value = float(eval(" ".join(kept), {"__builtins__": {}})) * thousandths  # noqa: S307 - numbers and four signs alone
    return math.degrees(math.asin(value)) if turned else value


STILL_TO_COME = {"covering/fabric-strength", "operations/condition-inspection"}
"""What the example, not flying yet, cannot have measured; nor has it the papers that come with flying."""


def test_what_is_missing_or_does_not_concern_the_example_is_said_alone() -> None:
    by_rule: dict[str, list[Finding]] = defaultdict(list)
    for rule, finding in told():
        by_rule[rule].append(finding)
    missing = {rule for rule, found in by_rule.items() if any(f.verdict is Verdict.NO_DATA for f in found)}
    assert {rule for rule in missing if not rule.startswith("papers/")} == STILL_TO_COME
    apart = {Verdict.NO_DATA, Verdict.NOT_APPLICABLE}
    whole = {
        rule for rule, found in by_rule.items() if any(f.subject == "aircraft" and f.verdict in apart for f in found)
    }
    assert len(whole) > 20
    assert {rule for rule in whole if len(by_rule[rule]) > 1} == set()


def turned_round(node: Any) -> Any:
    """The same records with every list of items back to front."""
    if isinstance(node, dict):
        return {field: turned_round(value) for field, value in node.items()}
    if isinstance(node, list):
        items = [turned_round(item) for item in node]
        return items[::-1] if all(isinstance(item, dict) and "id" in item for item in items) else items
    return node


NAMED_FOR_THE_FIRST = {"covering/weight-counted", "electrical/wire-type", "lighting/anti-collision-coverage"}
"""Rules that speak of several records at once, under the name of the first."""


def test_in_which_order_records_stand_decides_nothing() -> None:
    backwards = [
        RecordFile(file.path, yaml.safe_dump(turned_round(yaml.load(file.text, yaml.BaseLoader)), sort_keys=False))  # noqa: S506 - words alone
        for file in record_files(EXAMPLE)
    ]
    assert any(backwards[i].text.find("id: W4") > backwards[i].text.find("id: W7") >= 0 for i in range(len(backwards)))
    one, other = (
        Counter(
            (rule, f.subject, f.verdict, str(f.measured), str(f.limit))  # sums differ in their last place
            for rule, f in found
            if rule not in NAMED_FOR_THE_FIRST
        )
        for found in (told(), judged(backwards))
    )
    assert one - other == other - one == Counter()
    assert one.total() > 3500


NEEDED = {
    **dict.fromkeys(("instruments", "items"), ("kind",)),
    **dict.fromkeys(("products", "surfaces", "cloths", "lengths", "angles", "triangles"), ("what",)),
    **dict.fromkeys(("shrinkings", "panels"), ("surface",)),
    "applications": ("product", "started", "surface"),
    "batches": ("product",),
    "disturbers": ("kind", "place"),
    "holes": ("centre",),
    "instrument_marks": ("colour", "instrument", "kind"),
    "keep_outs": ("behind", "corners", "what"),
    "legends": ("text",),
    "lights": ("function",),
    "pairs": ("left", "right"),
    "placards": ("purpose", "text"),
    "restraints": ("holds",),
    "runs": ("path", "wire"),
    "stock": ("count", "part"),
    "strips": ("batch",),
    "tests": ("control",),
    "washouts": ("root", "tip"),
}
"""The fields without which a record of a list is none; it takes them from another."""

UPSET_BY_ONE_MORE = {
    "covering/recoat",  # the coat before is the new one
    "lighting/position-arcs",  # a second left light, which shines nowhere
    "panel/compass-deviation",  # all runs together
    *(
        f"weights/{name}" for name in ("envelope-covers", "every-loading", "every-loading-without-fuel", "tyre-load")
    ),  # a tank
    *(f"weights/{name}" for name in ("forward-extreme", "rearward-extreme")),
}
"""Rules that add all records of a list up, or hold each against its neighbour."""


def with_empty_ones(section: Any, file: int) -> Any:
    """A section with a record in front of every list that says no more than it must."""
    if not isinstance(section, dict):
        return section
    found = dict(section)
    for name, records in section.items():
        if isinstance(records, list) and records and all(isinstance(one, dict) and "id" in one for one in records):
            taken = {field: next(one[field] for one in records if field in one) for field in NEEDED.get(name, ())}
            found[name] = [{"id": f"EMPTY-{name}-{file}", **copy.deepcopy(taken)}, *records]
    return found


def test_records_that_say_nothing_hide_no_other() -> None:
    sections = {"panel", "hardware", "rigging", "fuel", "lighting", "covering", "markings"}
    files = []
    for number, file in enumerate(record_files(EXAMPLE)):
        read = yaml.load(file.text, yaml.BaseLoader)  # noqa: S506 - words alone
        records = {name: with_empty_ones(body, number) if name in sections else body for name, body in read.items()}
        files.append(RecordFile(file.path, yaml.safe_dump(records, sort_keys=False)))
    before, after = (
        {
            (rule, f.subject, f.verdict, str(f.measured), str(f.limit))
            for rule, f in found
            if rule not in UPSET_BY_ONE_MORE
        }
        for found in (told(), judged(files))
    )
    assert before - after == set()
    assert len({subject for _, subject, *_ in after if subject.startswith("EMPTY-")}) > 20


IN_OTHER_WORDS = {
    "covering/shelf-life": "two days",
    "electrical/essential-own-device": "no other load",
    "electrical/series-switches": "no switch of its own",
    "electrical/source-stud": "the sources by name",
    "markings/airspeed-marks": "the mark and the speed it belongs to",
    "papers/document-valid": "two days",
    "weights/empty-weight": "both weights",
    "weights/tank-room": "the fuel and its expansion",
}
"""Rules whose messages show what they measured in another way."""


def test_a_message_shows_what_was_measured() -> None:
    rules, wrong = set(), []
    for rule, finding in told():
        if finding.measured is None or rule in IN_OTHER_WORDS:
            continue
        rules.add(rule)
        shown = re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?", finding.message)
        value = abs(finding.measured.value)
        if not any(abs(abs(float(one)) - value) <= decimals(one) + 1e-3 * value for one in shown):
            wrong.append(f"{rule} {finding.subject}: {finding.measured}: {finding.message}")
    assert wrong == []
    assert len(rules) >= 140


def test_products_sums_and_differences_come_to_what_is_shown() -> None:
    rules: set[str] = set()
    wrong = []
    for rule, finding, steps in workings():
        for step in steps:
            shown = _RESULT.search(step.rpartition(": ")[2] if ": " in step else step)
            value = worked(shown[1]) if shown else None
            if shown is None or value is None:
                continue
            rules.add(rule)
            value *= 100 if shown[3] == "%" else 1
            if abs(value - float(shown[2])) > decimals(shown[2]) + 0.006 * abs(value):
                wrong.append(f"{rule} {finding.subject}: {step}: {value}")
    assert wrong == []
    assert len(rules) >= 20


def test_a_margin_shown_is_what_is_left_to_the_limit() -> None:
    rules: set[str] = set()
    for rule, finding, steps in workings():
        for step in steps:
            shown = re.match(r"margin[^:]*: (-?[\d.]+)", step)
            if shown and finding.measured and finding.limit and "margin of" not in step:
                rules.add(rule)
                left = finding.limit.value - finding.measured.value
                left = left if finding.limit.sense == "at-most" else -left
                slack = decimals(shown[1]) + 1e-3 * abs(left)
                assert float(shown[1]) == pytest.approx(left, abs=slack), f"{rule} {finding.subject}: {step}"
    assert len(rules) >= 15


def test_what_comes_together_is_the_sum_of_its_lines() -> None:
    rules: set[str] = set()
    for rule, finding, steps in workings():
        parts = [re.fullmatch(r"[^:]+: ([\d.]+) (\S+)", step) for step in steps[:-1]]
        total = re.match(r"together ([\d.]+) (\S+?);?( |$)", steps[-1]) if steps else None
        if total and parts and all(part and part[2] == total[2] for part in parts):
            rules.add(rule)
            amounts = [part[1] for part in parts if part]
            slack = sum(map(decimals, amounts)) + decimals(total[1])
            assert float(total[1]) == pytest.approx(sum(map(float, amounts)), abs=slack), f"{rule} {finding.subject}"
    assert len(rules) >= 3


@pytest.mark.parametrize(
    ("left", "value"),
    [
        ("18 A*h x 0.8 (CAP 562, read) x 0.9 charged (memory)", 12.96),
        ("36 in-lb x 10 in / (10 +2) in", 30.0),
        ("(214.44^2 - 214.56^2) / (2 x 340.2)", -0.07565),
        ("10.2 US gal at 6.0 lb/US gal", 61.2),
        ("(79.0 x 0.3826)^2", 913.6),
        ("12.99 mohm x 1.6 A", 0.020784),
        ("asin((33.06 - 33) / 36)", 0.095493),
        ("washers under the head 0.063 + parts 1.3200 + washers under the nut 0.063", 1.446),
        ("26.7 ft", None),
        ("together", None),
    ],
)
def test_how_steps_are_read(left: str, value: float | None) -> None:
    assert worked(left) == (None if value is None else pytest.approx(value, rel=1e-3))
