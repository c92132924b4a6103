"""YAML text to trees: places, refusals and bounds. The attacks are those that are known to hurt YAML readers."""

from __future__ import annotations

import time

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from jurystrut.tree import Limits, Listing, Mapping, Tree, parse, position_of

PLAIN = {"a": ["1", {"b": "x", "c": None}], "d": "no", "e": "12:30", "f": "010", "g": "2026-02-30"}


def plain(tree: Tree) -> object:
    """The tree without its places."""
    if isinstance(tree, Mapping):
        return {key: plain(value) for key, value in tree.items()}
    return [plain(item) for item in tree] if isinstance(tree, Listing) else tree


def problem(text: str, limits: Limits | None = None) -> str:
    """The one problem that a text has, with its place."""
    _, problems = parse(text, "x.yaml", limits) if limits else parse(text, "x.yaml")
    assert len(problems) == 1, problems
    return f"{problems[0].position.line}:{problems[0].position.column} {problems[0].message}"


def test_every_scalar_stays_text() -> None:
    tree, problems = parse("a: [1, {b: x, c: }]\nd: no\ne: 12:30\nf: 010\ng: 2026-02-30\n", "x.yaml")
    assert not problems
    assert plain(tree) == PLAIN


def test_every_value_knows_its_place() -> None:
    tree, _ = parse("a:\n  - b: one\n    c: [two, three]\n", "x.yaml")
    assert str(position_of(tree, ("a", 0, "b"))) == "x.yaml:2:8"
    assert str(position_of(tree, ("a", 0, "c", 1))) == "x.yaml:3:14"
    assert str(position_of(tree, ("a", 0, "nothing"))) == "x.yaml:2:5"


def test_places_count_characters_not_bytes() -> None:
    tree, _ = parse("a: {grüß: 1, b: 2}\n", "x.yaml")
    assert str(position_of(tree, ("a", "b"))) == "x.yaml:1:17"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a: 1\nb: 2\na: 3\n", "3:1 'a' is given twice in this record, first in line 1; keep one of them"),
        ("a: !!python/object/apply:os.system [x]\n", "1:4 a tag, "),
        ("a: &b 1\n", "1:4 an anchor, &b"),
        ("a: *b\n", "1:4 an alias, *b"),
        ("a: 1\n---\nb: 2\n", "2:1 a second document begins here"),
        ("? [1, 2]\n: 3\n", "1:3 a mapping or a list stands where a field's name belongs"),
        ("a: [1\n", "2:1 not YAML here"),
        ("a:\n\tb: 1\n", "2:1 not YAML here"),
        ("'': 1\n", "1:1 a field without a name"),
        ("a: \x07\n", "1:4 an invisible character, U+0007"),
        ("a: x\u202ey\n", "1:5 an invisible character, U+202E"),
        ('a: "\\e[31m"\n', "1:4 an escaped invisible or control character"),
        ("a: " + "x" * 70_000, "1:4 a value of 70000 characters"),
        ("x" * 300 + ": 1\n", "1:1 a field's name of 300 characters"),
        ("[" * 60 + "]" * 60, "1:51 nested more than 50 levels deep"),
    ],
)
def test_what_is_refused_and_where(text: str, found: str) -> None:
    assert problem(text).startswith(found)


def test_a_repeated_key_keeps_the_first_value_and_the_rest() -> None:
    tree, problems = parse("a: 1\na: 2\nb: 3\n", "x.yaml")
    assert plain(tree) == {"a": "1", "b": "3"}
    assert len(problems) == 1


def test_too_many_values_are_refused() -> None:
    assert problem("[a, b, c, d]", Limits(values=3)).startswith("1:11 more than 3 values")


@pytest.mark.parametrize(
    "text",
    [
        "a0: &a0 [x, x]\n" + "".join(f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]\n" for i in range(1, 10)),
        "a: &a {k: 1}\nb: {<<: [*a, *a]}\n",
        "a: &a [*a]\n",
        "[" * 1_000_000,
        "1" + ":59" * 200_000,
        "a: 0x" + "f" * 60_000,
        "{" + ", ".join(f"{i * (2**61 - 1)}: 1" for i in range(20_000)) + "}",
    ],
    ids=["alias bomb", "merge keys", "self alias", "deep", "base 60", "long number", "colliding keys"],
)
def test_hostile_text_is_done_with_at_once(text: str) -> None:
    start = time.process_time()
    parse(text, "x.yaml")
    assert (
        time.process_time() - start < 2
    )  # measured: the slowest takes 0.1 s; not a test of speed but of being bounded


VALUES = st.recursive(
    st.text(st.characters(codec="ascii", categories=["L", "N", "P", "Zs"]), max_size=8),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text("abcdefgh", min_size=1, max_size=6), inner, max_size=4)
    ),
    max_leaves=12,
)


@given(VALUES)
@settings(max_examples=200, deadline=None)
def test_agrees_with_pyyaml_on_text(value: object) -> None:
    """PyYAML's base loader keeps scalars as text too; it is the outside reference."""
    text = yaml.safe_dump({"root": value}, default_style='"')
    tree, problems = parse(text, "x.yaml")
    assert not problems
    assert plain(tree) == yaml.load(text, yaml.BaseLoader)  # noqa: S506 - it makes text only


@given(st.text(max_size=80))
@settings(max_examples=300, deadline=None)
def test_any_text_gives_a_tree_or_a_problem(text: str) -> None:
    tree, problems = parse(text, "x.yaml")
    assert tree is None or isinstance(tree, (str, Mapping, Listing))
    assert all(p.position.line >= 1 and p.position.column >= 1 for p in problems)
