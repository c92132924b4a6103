"""Our own regular expressions, every one in the source: none takes long on a long text, and none takes a figure for another."""

from __future__ import annotations

import ast
import re
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

import jurystrut
import jurystrut_rules

_FUNCTIONS = frozenset("compile match fullmatch search sub split findall finditer".split())
_LENGTH = 2000
_SHORT = {"jurystrut/reading/columns.py": 200}  # names of columns; longer ones are not looked at


def _written(node: ast.expr) -> str | None:
    """A literal, or literals that are added."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add):
        left, right = _written(node.left), _written(node.right)
        return None if left is None or right is None else left + right
    return None


def expressions() -> Iterator[tuple[str, str]]:
    """Every expression that is written out in a call of `re`, and its place."""
    for package in (jurystrut, jurystrut_rules):
        root = Path(package.__file__ or "").parent
        for path in sorted(root.rglob("*.py")):
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                if isinstance(node, ast.Call) and ast.unparse(node.func) in {f"re.{name}" for name in _FUNCTIONS}:
                    text = _written(node.args[0])
                    if text is not None:
                        yield f"{path.relative_to(root.parent).as_posix()}:{node.lineno}", text


EXPRESSIONS = dict(expressions())


def test_they_are_found() -> None:
    assert len(EXPRESSIONS) > 20
    assert any("spreadsheet" in place for place in EXPRESSIONS)


TEXTS = [
    *(
        "a",
        " ",
        "1",
        "(",
        "[",
        "-",
        ".",
        ",",
        "::",
        "\n",
        "1.",
        "1,",
        "a ",
        "a: ",
        "- ",
        "[ ",
        "( ",
        "1-1/",
        "#",
        "\\",
        "A1",
        "é",
        "a(",
        "total ",
    ),
]


@pytest.mark.parametrize("place", EXPRESSIONS)
def test_none_takes_long_on_a_long_text(place: str) -> None:
    """A nested repetition takes twice as long for each letter more: `(a+)+$` some seconds on thirty letters."""
    expression = re.compile(EXPRESSIONS[place])
    for piece in TEXTS:
        for end in ("", "!", "\x00"):
            length = _SHORT.get(place.partition(":")[0], _LENGTH)
            text = (piece * length)[:length] + end
            begun = time.process_time()
            for use in (expression.search, expression.match, expression.fullmatch):
                use(text)
            assert time.process_time() - begun < 1, (piece, end)


def test_the_bound_is_one_that_a_bad_expression_breaks() -> None:
    begun = time.process_time()
    re.fullmatch(r"(a+)+", "a" * 25 + "!")
    assert time.process_time() - begun > 0.3
