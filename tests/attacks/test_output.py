"""What a record or a file name may try to do to a terminal, to the log of a build service, and to JSON."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from jurystrut.judge import judge
from jurystrut.reading import read
from jurystrut.reports import writer
from jurystrut.reports.plain import safe
from jurystrut.testing import DAY, installed

if TYPE_CHECKING:
    from pathlib import Path

NASTY = [
    "\\n::error file=a.yaml::nothing is wrong",
    "::stop-commands::x",
    "x ::add-mask::y " * 20,
    "##[add-mask]y",
    "a ##[group]b",
    "[bold]x[/red]",
    "\\\\u001b[31m",
    '\\"><img src=x onerror=alert(1)>',
    "</script><script>",
    "=HYPERLINK(1)",
    "{0.__class__} %s %(x)s",
    "`$(reboot)`",
]


def report(folder: Path, format_: str, text: str) -> str:
    (folder / "a.yaml").write_text(text, encoding="utf-8")
    return writer(format_)(judge(read(folder), installed(), on=DAY))


@pytest.mark.parametrize("value", NASTY)
def test_no_line_of_text_is_an_order_to_a_build_service(tmp_path: Path, value: str) -> None:
    """The runner of the public workflow obeys `::x::` at the start of a line, spaces aside, and `##[x]` anywhere."""
    text = f'aircraft: {{name: "{value}", authority: "{value}", stage: "{value}", registration: "{value}"}}\n'
    for records in (text, text.replace(f'authority: "{value}", stage: "{value}"', "authority: US, stage: operating")):
        lines = report(tmp_path, "text", records).splitlines()
        assert not [line for line in lines if line.strip().startswith("::") or "##[" in line]
        assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", "\n".join(lines))


@pytest.mark.parametrize("value", NASTY)
def test_json_gives_back_what_was_written(tmp_path: Path, value: str) -> None:
    data = json.loads(
        report(tmp_path, "json", f'aircraft: {{name: "{value}", authority: US, stage: systems}}\nfuel: "{value}"\n')
    )
    assert data["project"]["name"] == value.replace("\\n", "\n").replace('\\"', '"').replace("\\\\", "\\")


def test_a_file_name_gives_no_orders_either(tmp_path: Path) -> None:
    name = "x\x1b[2J\n::error::.yaml"
    (tmp_path / name).write_text("- x\n")
    text = report(tmp_path, "text", "aircraft: {name: T, authority: US, stage: systems}\n")
    assert "\x1b" not in text
    assert "x\\u001b[2J \\u003a\\u003aerror" in text
    assert not [line for line in text.splitlines() if line.strip().startswith("::")]
    assert name in {error["file"] for error in json.loads(report(tmp_path, "json", "x: 1\n"))["errors"]}


def test_a_file_name_that_is_no_text_is_told(tmp_path: Path) -> None:
    bad = tmp_path / b"x\xff.yaml".decode("utf-8", "surrogateescape")
    try:
        bad.write_text("- x\n")
    except OSError:  # some file systems hold text names only, and have no such attack
        return
    for format_ in ("text", "json"):
        done = subprocess.run(
            [sys.executable, "-m", "jurystrut", "check", str(tmp_path), "--format", format_],
            capture_output=True,
            check=False,
        )
        assert (done.returncode, done.stderr) == (2, b"")
        assert b"\\udcff" in done.stdout


@pytest.mark.parametrize("character", [*range(0x20), *range(0x7F, 0xA0), 0x200B, 0x2028, 0x202E, 0x2066, 0xFEFF])
def test_no_character_that_a_terminal_obeys_is_printed(character: int) -> None:
    assert safe(f"a{chr(character)}b") == f"a\\u{character:04x}b"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("::error::x", "\\u003a\\u003aerror::x"),
        ("x ::error::y", "x \\u003a\\u003aerror::y"),
        ("a::b", "a::b"),
        ("x##[y", "x\\u0023\\u0023\\u005by"),
        ("#1 [a] °C ± 2", "#1 [a] °C ± 2"),
    ],
)
def test_orders_are_escaped_and_words_are_not(text: str, shown: str) -> None:
    assert safe(text) == shown
