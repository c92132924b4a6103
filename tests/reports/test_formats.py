"""What other programs read of a judgement: every format against its published schema, and hostile text through all of them."""

from __future__ import annotations

import dataclasses
import datetime
import functools
import html
import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as Xml

import jsonschema
import pytest
import xmlschema
from markdown_it import MarkdownIt

from jurystrut.errors import Problem
from jurystrut.judge import Judgement, RuleResult, judge
from jurystrut.positions import Position, Spot, Where, pack_mark
from jurystrut.reading import read, read_files
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.reports import FORMATS, writer
from jurystrut.reports.markdown import MOST_BYTES, escaped
from jurystrut.reports.noted import noted
from jurystrut.rulebook import Amount, Finding, Limit, Stage, Verdict, worst
from jurystrut.testing import installed

STANDARDS = Path(__file__).parent / "standards"
EXAMPLE = Path(__file__).parents[2] / "project_example"
DAY = datetime.date(2026, 11, 25)
# The published schemas; where they are from and their licences stand in standards/README.md.
SARIF = jsonschema.Draft4Validator(json.loads((STANDARDS / "sarif-2.1.0-rtm.5.json").read_text("utf-8")))
JUNIT = xmlschema.XMLSchema10(str(STANDARDS / "junit-10.xsd"))

NASTY = [
    "plain",
    "\x1b]0;title\x07 \x1b[2J",
    "nul \x00 del \x7f csi \x9b31m",
    "bidi \u202egnp\u202c zero\u200bwidth",
    "lines\nof\r\nmany\rkinds\u2028and\u2029these\x85too",
    "\n::error::forged",
    "::warning file=a,line=1::forged",
    "middle ##[add-mask]a and ##[error]b",
    "%0A::error::x %25 100 %",
    "a,b:c=d;title=x::y",
    "</script><script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "&amp; &lt; &#60; &unknown;",
    "]]> <![CDATA[ <!-- --> <?xml ?>",
    "a|b || c \\| d",
    "[text](javascript:alert) ![i](http://x.example/p.png)",
    "[1](1) {0} {{0}}",
    "http://x.example www.x.example a@x.example",
    "@everyone #1 GH-1",
    "`code` ``more`` ~~~ ``` *b* _i_ ~~s~~ $m$ $$m$$",
    "# head - list + list 1. list > quote --- ===",
    "<details><summary>x</summary>",
    "lone \ud800 surrogate \udfff",
    "non-characters \ufffe \uffff \U0001f6e9",
    "/etc/passwd ../../x \\\\server\\share C:\\x",
    "=HYPERLINK(1) \t tab",
    "long " * 2000,
]


@functools.cache
def example() -> Judgement:
    return judge(read(EXAMPLE), installed(), on=DAY)


def hostile(text: str) -> Judgement:
    """A judgement in which everything that a record can bring into a report is this text."""
    base = example()
    where = (Spot(Where(text, pack_mark(4, 7))), Spot(Where(text, pack_mark(9, 0))))
    figures = (Amount(12.0, "A"), Limit(10.0, "A", "at-most"), -0.2)
    findings = (
        Finding(Verdict.FAIL, text, text, where, *figures, remedy=text),
        Finding(Verdict.FAIL, text, text, where, remedy=text),
        Finding(Verdict.WARN, text, text, where, deviation=text),
        Finding(Verdict.NO_DATA, text, text, ()),
        Finding(Verdict.NOT_APPLICABLE, text, text, ()),
        Finding(Verdict.PASS, text, text, where, *figures),
    )
    results = (RuleResult(base.results[0].rule, worst(f.verdict for f in findings), findings), *base.results[1:])
    return dataclasses.replace(
        base, results=results, problems=(Problem(Position(text, 3, 4), text),), revision=None, folder=f"{text}/"
    )


@pytest.fixture(params=NASTY, ids=lambda text: ascii(text[:24]))
def nasty(request: pytest.FixtureRequest) -> str:
    text: str = request.param
    return text


def visible(text: str) -> str:
    """Letters and figures alone: what must come through whatever is escaped around it."""
    return re.sub("[^A-Za-z0-9]", "", re.sub(r"\\u[0-9a-f]{4}", "", text))


@pytest.mark.parametrize("name", FORMATS)
def test_every_format_is_plain_text_that_can_be_encoded(name: str, nasty: str) -> None:
    text = writer(name)(hostile(nasty))
    if name != "json":  # JSON carries the text as it is; its strings escape control characters below U+0020 alone
        text.encode("utf-8")
        assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", text)
    assert text.endswith("\n")
    assert "\ufeff" not in text


def test_sarif_is_valid_and_carries_the_words(nasty: str) -> None:
    data = json.loads(writer("sarif")(hostile(nasty)))
    assert not list(SARIF.iter_errors(data))
    run = data["runs"][0]
    assert [result["level"] for result in run["results"]].count("error") == 3
    for result in run["results"]:
        assert run["tool"]["driver"]["rules"][result["ruleIndex"]]["id"] == result["ruleId"]
        assert not re.search(r"\[[^\]]*\]\(", result["message"]["text"])
        for place in result["locations"]:
            assert re.fullmatch(r"[A-Za-z0-9/._~%-]+", place["physicalLocation"]["artifactLocation"]["uri"])
    ours = next(result for result in run["results"] if result["ruleId"] == example().results[0].rule.id)
    assert visible(nasty) in visible(ours["message"]["text"])


def test_junit_is_valid_and_carries_the_words(nasty: str) -> None:
    text = writer("junit")(hostile(nasty))
    JUNIT.validate(text)
    root = Xml.fromstring(text)  # noqa: S314 - our own text, read back
    assert (len(root.findall(".//failure")), len(root.findall(".//error"))) == (2, 1)
    assert all(visible(nasty) in visible(failure.text or "") for failure in root.iter("failure"))
    names = [case.get("name") for case in root.iter("testcase")]
    assert len(names) == len(set(names))
    for suite in root.iter("testsuite"):
        for kind, tag in (("tests", "testcase"), ("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
            assert int(suite.get(kind, "-1")) == len(list(suite.iter(tag)))


def test_the_flavour_for_gitlab_adds_the_file_alone(nasty: str) -> None:
    root = Xml.fromstring(writer("junit-gitlab")(hostile(nasty)))  # noqa: S314 - our own text, read back
    assert any(case.get("file") for case in root.iter("testcase"))
    for case in root.iter("testcase"):
        case.attrib.pop("file", None)
    JUNIT.validate(Xml.tostring(root, encoding="unicode"))


COMMAND = re.compile(r"::(error|warning) ((?:\w+=[^:,]*)(?:,\w+=[^:,]*)*)::(.*)")


def unescaped(text: str) -> str:
    """As the runner undoes the toolkit's escapes, `%25` last."""
    for code, character in (("%3A", ":"), ("%2C", ","), ("%0D", "\r"), ("%0A", "\n"), ("%25", "%")):
        text = text.replace(code, character)
    return text


def test_annotations_hold_our_commands_and_no_others(nasty: str) -> None:
    lines = writer("annotations")(hostile(nasty)).splitlines()
    assert lines[-1].startswith("jurystrut: FAIL, ")
    for line in lines[:-1]:
        command = COMMAND.fullmatch(line)
        assert command, line
        properties = dict(part.split("=", 1) for part in command[2].split(","))
        assert set(properties) <= {"file", "line", "col", "title"}
        assert len(line) < 16_000
    assert not any("##[" in line for line in lines)
    first = next(line for line in lines if "line=5,col=8" in line)
    assert visible(nasty)[:1000] in visible(unescaped(first))
    assert sum(line.startswith("::error ") for line in lines) == 3


def test_no_line_of_the_report_for_people_begins_with_a_command(nasty: str) -> None:
    written = writer("text")(hostile(nasty))
    assert not re.search("^\\s*::", written, re.MULTILINE)
    assert "##[" not in written


def test_no_more_annotations_than_the_runner_keeps() -> None:
    base = example()
    many = tuple(Finding(Verdict.FAIL, f"W{i}", "x") for i in range(25))
    lines = writer("annotations")(
        dataclasses.replace(base, results=(RuleResult(base.results[0].rule, Verdict.FAIL, many),))
    ).splitlines()
    assert sum(line.startswith("::error ") for line in lines) == 10
    assert lines[-1] == "jurystrut: FAIL, 25 noted; 15 more, which stand in the summary and in the other formats"


def words_of(rendered: str) -> str:
    return html.unescape(re.sub("<[^>]*>", " ", rendered)).replace("\u200b", "")


def test_markdown_renders_to_the_words_alone(nasty: str) -> None:
    rendered = MarkdownIt("gfm-like", {"linkify": False, "html": True}).render(writer("markdown")(hostile(nasty)))
    assert set(re.findall(r"<(\w+)", rendered)) <= {"h2", "p", "table", "thead", "tbody", "tr", "th", "td", "br"}
    rows = re.findall(r"<tr>(.*?)</tr>", rendered, re.DOTALL)
    assert all(len(re.findall("<t[hd]", row)) == 6 for row in rows)
    assert any(visible(nasty) in visible(words_of(row)) for row in rows)


@pytest.mark.parametrize("text", ["@someone", "#12", "see @a/b and #3"])
def test_markdown_calls_nobody(text: str) -> None:
    assert not re.search(r"[@#]\w", html.unescape(escaped(text)))


def test_a_summary_too_long_is_cut_at_the_edge_of_a_finding() -> None:
    base = example()
    many = tuple(Finding(Verdict.FAIL, f"W{i}", "é|" * 300, remedy="mend") for i in range(3000))
    text = writer("markdown")(
        dataclasses.replace(base, results=(RuleResult(base.results[0].rule, Verdict.FAIL, many),))
    )
    assert MOST_BYTES - 3000 < len(text.encode()) <= MOST_BYTES
    rows = [line for line in text.splitlines() if line.startswith("| FAIL")]
    assert all(row.endswith(" |") and row.count(" | ") == 5 for row in rows)
    assert f"... and {3000 - len(rows)} more" in text
    assert text.rstrip().endswith("people decide.")


def test_gitlab_reads_its_six_fields(nasty: str) -> None:
    text = writer("gitlab")(hostile(nasty))
    entries = json.loads(text)
    assert text.startswith("[")
    assert all(set(e) == {"description", "check_name", "fingerprint", "severity", "location"} for e in entries)
    assert {entry["severity"] for entry in entries} <= {"critical", "major"}
    assert all(entry["location"]["path"] and entry["location"]["lines"]["begin"] >= 1 for entry in entries)
    assert len({entry["fingerprint"] for entry in entries}) == len(entries)
    assert all(visible(nasty) in visible(entry["description"]) for entry in entries[:3])


def test_the_schemas_themselves_catch_what_they_should() -> None:
    data = json.loads(writer("sarif")(example()))
    assert not list(SARIF.iter_errors(data))
    data["runs"][0]["results"][0]["level"] = "fatal"
    data["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]["startLine"] = 0
    assert len(list(SARIF.iter_errors(data))) == 2
    assert not JUNIT.is_valid(writer("junit-gitlab")(example()))  # it knows no attribute `file`


# GitHub's table of what code scanning reads: what must be there, by object.
RESULT_FIELDS = {"ruleId", "ruleIndex", "level", "message", "partialFingerprints", "locations"}
RULE_FIELDS = {"id", "name", "shortDescription", "fullDescription", "help", "defaultConfiguration", "properties"}


def test_sarif_has_what_code_scanning_reads() -> None:
    data = json.loads(writer("sarif")(dataclasses.replace(example(), folder="aircraft/")))
    run = data["runs"][0]
    assert run["automationDetails"]["id"] == "jurystrut/aircraft/"
    assert all(set(rule) == RULE_FIELDS for rule in run["tool"]["driver"]["rules"])
    assert run["results"]
    for result in run["results"]:
        assert set(result) >= RESULT_FIELDS
        place = result["locations"][0]["physicalLocation"]
        assert place["artifactLocation"]["uri"].startswith("aircraft/")
        assert len(place["region"]) == 4
        assert place["region"]["endColumn"] > place["region"]["startColumn"] >= 1


def test_a_clean_run_still_lists_no_results() -> None:
    base = example()
    clean = dataclasses.replace(base, results=tuple(r for r in base.results if r.verdict is Verdict.PASS))
    assert json.loads(writer("sarif")(clean))["runs"][0]["results"] == []
    assert json.loads(writer("gitlab")(clean)) == []


def fingerprints(files: dict[str, str]) -> set[str]:
    project = read_files([RecordFile(name, text) for name, text in files.items()])
    return {one.fingerprint for one in noted(judge(project, installed(), on=DAY, at=Stage.OPERATING))}


def test_fingerprints_outlive_moved_lines_and_renamed_files() -> None:
    files = {file.path: file.text for file in record_files(EXAMPLE)}
    moved = {f"moved/{name}": "# a line\n\n" + text for name, text in files.items()}
    assert len(fingerprints(files)) >= 2
    assert fingerprints(moved) == fingerprints(files)


@pytest.mark.parametrize(
    ("stage", "level"), [(Stage.SYSTEMS, "warning"), (Stage.INSPECTION, "error"), (Stage.OPERATING, "error")]
)
def test_no_data_is_told_as_loudly_as_it_counts(stage: Stage, level: str) -> None:
    records = "aircraft: {name: T, authority: US, stage: operating}\n"
    judgement = judge(read_files([RecordFile("a.yaml", records)]), installed(), on=DAY, at=stage)
    missing: list[Any] = [one for one in noted(judgement) if one.finding.verdict is Verdict.NO_DATA]
    assert missing
    assert {one.level for one in missing} == {level}
