"""Texts that are known to hurt readers of YAML, each through reading, judging and every writer, within its bound.

Each sample took seconds to hours, or gigabytes, or was misread in silence, in PyYAML, pint or pydantic used plainly.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.reports import FORMATS, writer
from jurystrut.testing import DAY, installed
from jurystrut.tree import parse

if TYPE_CHECKING:
    from tests.attacks.conftest import Bounded

    from jurystrut.judge import Judgement

AIRCRAFT = "aircraft: {name: Test, authority: US, stage: systems}\n"


def judged(text: str) -> Judgement:
    """The whole way from text to every report; gives the judgement."""
    judgement = judge(read_files([RecordFile("x.yaml", text)]), installed(), on=DAY)
    for name in FORMATS:
        writer(name)(judgement)
    json.loads(writer("json")(judgement))
    return judgement


def many(count: int, record: str, section: str = "electrical: {buses: [%s]}") -> str:
    """So many records, `#` in each standing for its number."""
    return AIRCRAFT + section % ", ".join(record.replace("#", str(i)) for i in range(count))


REFUSED = {
    "alias bomb": "a0: &a0 [x, x]\n" + "".join(f"a{i}: &a{i} [{f'*a{i - 1}, ' * 9}]\n" for i in range(1, 10)),
    "merge keys": "a0: &a0 {k: 1}\n" + "".join(f"a{i}: &a{i} {{<<: [*a{i - 1}, *a{i - 1}]}}\n" for i in range(1, 30)),
    "list that holds itself": AIRCRAFT + "documents: &a [*a]\n",
    "a million levels": "[" * 1_000_000,
    "a million levels of mappings": "{a: " * 1_000_000,
    "wide behind deep": "[" * 49 + "a, " * 100_000,
    "keys that collide": "{" + ", ".join(f"{i * (2**61 - 1)}: 1" for i in range(20_000)) + "}",
    "a key 100,000 times": AIRCRAFT + "electrical: {" + "s: 1, " * 100_000 + "}",
    "50,000 keys, each twice": "{" + ", ".join(f"s{i % 50_000}: 1" for i in range(100_000)) + "}",
    "100,000 keys without a name": "{" + "'': 1, " * 100_000 + "}",
    "100,000 unknown sections": AIRCRAFT + "".join(f"s{i}: 1\n" for i in range(100_000)),
    "50,000 unknown fields": AIRCRAFT + "electrical: {" + ", ".join(f"s{i}: 1" for i in range(50_000)) + "}",
    "100,000 escapes": AIRCRAFT + "documents: [" + '"\\e", ' * 100_000 + "]",
    "100,000 wrong texts": AIRCRAFT + "documents: [" + "x, " * 100_000 + "]",
    "a value of 10 MB": AIRCRAFT + "x: " + "y" * 10_000_000,
    "100 ids of 60 kB": many(100, "{id: " + "a" * 60_000 + "}"),
    "base 60": AIRCRAFT + "electrical: {nominal_voltage: 1" + ":59" * 20_000 + "}",
    "number of 60,000 digits": AIRCRAFT + "electrical: {nominal_voltage: " + "9" * 60_000 + " V}",
    "hexadecimal of 60,000 digits": AIRCRAFT + "electrical: {nominal_voltage: 0x" + "f" * 60_000 + "}",
    "power tower": AIRCRAFT + "electrical: {nominal_voltage: 9**9**9 V}",
    "power in a unit": AIRCRAFT + "electrical: {nominal_voltage: 1 V**9**9**9}",
    "beyond all floats": AIRCRAFT + "electrical: {nominal_voltage: 1e999 V}",
    "not a number": AIRCRAFT + "electrical: {nominal_voltage: .nan}",
    "tag that calls": AIRCRAFT + "electrical: !!python/object/apply:os.system ['exit 1']",
    "tag under another name": "%TAG !x! tag:yaml.org,2002:python/\n---\n" + AIRCRAFT + "electrical: !x!name:os.system",
    "tag that is known": AIRCRAFT + "documents: !!set {a, b}",
    "complex key": AIRCRAFT + "? {a: 1}\n: 2\n",
    "second document": AIRCRAFT + "---\n" + AIRCRAFT,
    "nothing": "",
    "comment only": "# nothing\n",
    "one word": "x",
    "tab": "aircraft:\n\tname: x\n",
    "NUL": AIRCRAFT + "\0",
    "escape sequence": AIRCRAFT + "\x1b[31m",
    "escape sequence in disguise": 'aircraft: {name: "\\e[2J", authority: US, stage: systems}',
    "right to left": "aircraft: {name: a\u202eb, authority: US, stage: systems}",
    "lone surrogate": "aircraft: {name: a\ud800b, authority: US, stage: systems}",
    "digits of another script": AIRCRAFT + "electrical: {buses: [{id: W\u0661}]}",
    "id with a line break": AIRCRAFT + 'electrical: {buses: [{id: "W1\\n"}]}',
    "31 February": AIRCRAFT + "documents: [{id: D, kind: x, day: 2026-02-31}]",
    "leads out": AIRCRAFT + "documents: [{id: D, kind: x, evidence: a/../../b}]",
    "absolute": AIRCRAFT + "documents: [{id: D, kind: x, evidence: /etc/passwd}]",
    "drive": AIRCRAFT + "documents: [{id: D, kind: x, evidence: 'C:x'}]",
    "another's home": AIRCRAFT + "documents: [{id: D, kind: x, evidence: ~root/x}]",
}


@pytest.mark.parametrize("name", REFUSED)
def test_is_refused_within_bounds(name: str, bounded: Bounded) -> None:
    with bounded():
        judgement = judged(REFUSED[name])
    assert judgement.exit_status == 2
    assert len(judgement.problems) <= 2001
    assert all(len(problem.message) < 600 for problem in judgement.problems)


BULK = {
    # measured: 0.8 s and 90 MB
    "300,000 empty records": (AIRCRAFT + "documents: [" + "{}, " * 300_000 + "]", 40, 200),
    "20,000 records with one id": (many(20_000, "{id: A}"), 50, 400),
    # measured: 2.5 s and 120 MB
    "100,000 names that lead nowhere": (
        many(50_000, "{id: W#, from: A#, to: B#}", "electrical: {wires: [%s]}"),
        60,
        400,
    ),
    # measured: 0.9 s and 100 MB
    "50,000 wrong quantities": (many(50_000, "{id: W#, rating: # xx}"), 50, 400),
}


@pytest.mark.parametrize("name", BULK)
def test_bulk_costs_no_more_than_its_size(name: str, bounded: Bounded) -> None:
    text, seconds, megabytes = BULK[name]
    with bounded(seconds, megabytes):
        judgement = judged(text)
    assert judgement.exit_status == 2


SOUND = {
    "comment of 10 MB": "#" + "y" * 10_000_000 + "\n" + AIRCRAFT,
    "10 million empty lines": "\n" * 10_000_000 + AIRCRAFT,
    "byte order mark": "\ufeff" + AIRCRAFT,
    "Windows lines": AIRCRAFT.replace("\n", "\r\n"),
    "words that YAML takes for others": "aircraft: {name: no, authority: US, stage: systems, without: []}\n",
}


@pytest.mark.parametrize("name", SOUND)
def test_odd_but_sound_text_is_read(name: str, bounded: Bounded) -> None:
    with bounded():
        judgement = judged(SOUND[name])
    assert not judgement.problems


def test_a_name_is_taken_as_written_and_not_as_a_truth_value() -> None:
    aircraft = judged(SOUND["words that YAML takes for others"]).project.aircraft
    assert aircraft
    assert aircraft.name == "no"


def test_the_200th_mistake_ends_a_file_and_says_so() -> None:
    text = AIRCRAFT + "electrical: {" + "s: 1, " * 300 + "}"
    problems = judged(text).problems
    assert any(problem.message.startswith("200 mistakes down to here") for problem in problems)
    few = judged(AIRCRAFT + "electrical: {" + "s: 1, " * 200 + "}").problems
    assert not any("mistakes down to here" in problem.message for problem in few)


NUMBERS = ["1E+9999999", "9" * 5000, "9" * 20, "1_000", "1e3", "0x10", "-1", "1.0", "nan", "\u0967\u0968", " 12", "yes"]
DAYS = [
    "2026-02-30",
    "2026-1-1",
    "86400",
    "\u0968\u0966\u0968\u0966-01-01",
    "2026-01-01T00:00",
    "20260101",
    "2026-W01-1",
]
RECORD = "covering: {surfaces: [{id: S, what: x}], products: [{id: P, what: x}], applications: [{id: A, %s}]}\n"
FIELDS = {
    **{f"coat {text[:12]}": f"surface: S, product: P, started: 2026-01-01 09:00, coat: '{text}'" for text in NUMBERS},
    **{f"day {text}": f"surface: S, product: P, started: '{text} 09:00', coat: 1" for text in DAYS},
}


@pytest.mark.parametrize("name", FIELDS)
def test_a_number_or_a_day_that_only_looks_like_one_is_refused_in_its_place(name: str, bounded: Bounded) -> None:
    with bounded(seconds=1):
        (problem,) = read_files([RecordFile("x.yaml", AIRCRAFT + RECORD % FIELDS[name])]).problems
    assert problem.position.line == 2
    assert len(problem.message) < 200


def test_the_same_with_a_plain_number_and_a_plain_day_is_read() -> None:
    fields = "surface: S, product: P, started: 2026-01-01 09:00, coat: 1"
    assert not read_files([RecordFile("x.yaml", AIRCRAFT + RECORD % fields)]).problems


def test_keys_and_words_that_other_readers_take_for_one() -> None:
    tree, problems = parse("{1: a, true: b, 1.0: c, 01: d, 0x1: e, x: =, 8: 08:30, 9: 12:30}", "x.yaml")
    assert not problems
    assert tree == {"1": "a", "true": "b", "1.0": "c", "01": "d", "0x1": "e", "x": "=", "8": "08:30", "9": "12:30"}


def test_a_pair_that_is_written_as_two_halves_is_refused() -> None:
    assert parse('a: "\\ud83d\\ude00"', "x.yaml")[1]
