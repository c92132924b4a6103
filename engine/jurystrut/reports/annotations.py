"""GitHub's workflow commands: each finding beside its line, at most ten of a level, and nothing that a record could forge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.reports.noted import noted, sentence
from jurystrut.reports.plain import WORDS, safe

if TYPE_CHECKING:
    from jurystrut.judge import Judgement
    from jurystrut.reports.noted import Noted

__all__ = ["write"]

_MOST_OF_A_LEVEL = 10  # the runner keeps no more of one step
_LONGEST = 4000  # the runner cuts at 4,096 characters


def write(judgement: Judgement) -> str:
    """One command a finding, and a last line with the verdict and how many are told elsewhere."""
    everything = noted(judgement)
    lines = []
    for level in ("error", "warning"):
        lines += [_command(one) for one in everything if one.level == level][:_MOST_OF_A_LEVEL]
    more = len(everything) - len(lines)
    rest = f"; {more} more, which stand in the summary and in the other formats" if more else ""
    lines.append(f"jurystrut: {WORDS[judgement.verdict]}, {len(everything)} noted{rest}")
    return "\n".join(lines) + "\n"


def _command(one: Noted) -> str:
    properties = {"title": f"{one.rule_id}: {one.title}"}
    if one.places:
        file, line, column = one.places[0]
        properties = {"file": file, "line": str(line), "col": str(column), **properties}
    head = ",".join(f"{key}={_property(value)}" for key, value in properties.items())
    return f"::{one.level} {head}::{_data(chr(10).join(sentence(one.finding)))}"


def _data(text: str) -> str:
    """As the runner's own toolkit escapes; its old form `##[command]` would be obeyed anywhere in a line, and is broken."""
    plain = "\n".join(safe(line) for line in text.splitlines()).replace("##[", "## [")[:_LONGEST]
    return plain.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
