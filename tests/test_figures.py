"""Every figure that decides something is traced to a source, or said to be exact."""

from __future__ import annotations

from importlib import import_module
from pathlib import Path

import pytest

import jurystrut_rules
from jurystrut.judge import load
from jurystrut.rulebook.figures import EXACT, figures_in_code, figures_in_table, figures_of, status_of
from jurystrut.rulebook.rules import declared_in

PACK = jurystrut_rules.PACK
FOLDER = PACK.sources.parent
BOOK = load([PACK])
READING = "own-reading-precision"
"""How finely a size is read bears on many look-ups, and decides no rule there."""


def test_every_figure_is_traced() -> None:
    """Mended by a comment at the line: an entry of the sources, or `arithmetic` or `numerics` where it is exact."""
    figures = [figure for _, figure in figures_of(BOOK)]
    assert len(figures) > 1000
    assert [figure for figure in figures if status_of(figure, BOOK.references) is None] == []


@pytest.mark.parametrize("name", PACK.modules)
def test_a_rule_cites_what_the_figures_beside_it_come_from(name: str) -> None:
    module = import_module(name)
    cited = {entry for rule in declared_in(module)[0] for entry in rule.references}
    assert module.__file__
    used = {figure.source for figure in figures_in_code(Path(module.__file__), FOLDER)} - EXACT - {READING}
    assert used <= cited or not cited


def test_a_figure_says_only_where_it_is_known_otherwise_than_its_entry() -> None:
    said = [figure for _, figure in figures_of(BOOK) if figure.known and figure.place.partition(":")[2]]
    assert said
    assert [figure for figure in said if figure.source and BOOK.references[figure.source].status == figure.known] == []


def test_what_a_working_says_of_a_figure_is_how_it_is_known() -> None:
    """Some figures carry their source in words, for the builder: `Figure(24.0, "in", "AC 43.13-1B 11-96a, read")`."""
    worded = 0
    for path in sorted((FOLDER / "electrical").glob("*.py")):
        lines = path.read_text("utf-8").splitlines()
        for figure in figures_in_code(path, FOLDER):
            code = lines[int(figure.place.partition(":")[2]) - 1].partition("  # ")[0]
            if "Figure(" in code:
                worded += 1
                assert status_of(figure, BOOK.references) == ("memory" if "from memory" in code else "read"), code
    assert worded > 15


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("_MOST = 24.0", [("24.0", None, "")]),
        ("_MOST = 24.0  # inches, as usual", [("24.0", None, "")]),
        ("_MOST = 24.0  # ac43-11-96-a", [("24.0", "ac43-11-96-a", "")]),
        ("_MOST = 24.0  # ac43-11-96-a: inches", [("24.0", "ac43-11-96-a", "")]),
        ("_MOST = 24.0  # ac43-11-96-a (memory): inches", [("24.0", "ac43-11-96-a", "memory")]),
        ("_ONE, _OTHER = 1, 2.0  # a, b", [("1", "a", ""), ("2.0", "b", "")]),
        ("_ONE, _OTHER = 1, 2.0  # a", [("1", "a", ""), ("2.0", "a", "")]),
        (
            "_ALL = {  # a\n    1: 3,\n    2: 4,  # b\n}",
            [("1", "a", ""), ("3", "a", ""), ("2", "b", ""), ("4", "b", "")],
        ),
        ("_LEAST = -40.0  # a", [("-40.0", "a", "")]),
        ("def f(x):\n    return x > 0.5", [("0.5", None, "")]),
        ("def f(x):\n    return x > 0.5  # a", [("0.5", "a", "")]),
        ("def f(x):\n    return [x, 0.5] if x < 7 else 2.0", [("0.5", None, ""), ("7", None, ""), ("2.0", None, "")]),
        ("def f(x):\n    if x > 3:\n        return 5  # a", [("3", None, ""), ("5", "a", "")]),
        ("def f(x):\n    return x[7] + round(x[0], 6) + 1 - 1e-9 + 100 * x[1] / 3600", []),
        ("def f(x):\n    return f'{x:.3f} of {x + 5}' + 'at most 7'", []),
        ("def f(x):\n    return x + 100", [("100", None, "")]),
    ],
)
def test_what_a_line_is_traced_to(line: str, found: list[tuple[str, str | None, str]], tmp_path: Path) -> None:
    (tmp_path / "m.py").write_text(line + "\n")
    figures = figures_in_code(tmp_path / "m.py", tmp_path)
    assert [(figure.value, figure.source, figure.known) for figure in figures] == found


def test_a_table_gives_its_source_to_its_cells_and_a_row_may_know_better(tmp_path: Path) -> None:
    (tmp_path / "t.yaml").write_text(
        "source: {entry: a}\nrows:\n"
        "  - {size: '1/4-28', most: 5, colour: ff0000, kind: castle, least: }\n"
        "  - {most: 7.5, source: b, status: memory}\n"
    )
    figures = figures_in_table(tmp_path / "t.yaml", tmp_path)
    assert [(figure.value, figure.source, figure.known) for figure in figures] == [
        ("1/4-28", "a", ""),
        ("5", "a", ""),
        ("ff0000", "a", ""),
        ("7.5", "b", "memory"),
    ]
