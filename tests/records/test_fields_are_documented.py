"""Every field of every record says what it means, in a line of text below it; the editor's schema and readers live from it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

import jurystrut.records
from jurystrut.records import LISTS, SECTIONS, section_model

MODULES = sorted(Path(jurystrut.records.__file__).parent.glob("*.py"))
PLUMBING = {"base.py", "evidence.py", "fields.py", "project.py", "schema.py", "__init__.py"}


def fields_of(path: Path) -> list[tuple[str, str, str | None]]:
    """Class and field, its annotation, and the text below it."""
    found: list[tuple[str, str, str | None]] = []
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.ClassDef):
            for field, below in zip(node.body, [*node.body[1:], ast.Pass()], strict=True):
                if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name):
                    value = (
                        below.value.value
                        if isinstance(below, ast.Expr) and isinstance(below.value, ast.Constant)
                        else None
                    )
                    text = value if isinstance(value, str) else None
                    found.append((f"{node.name}.{field.target.id}", ast.unparse(field.annotation), text))
    return found


@pytest.mark.parametrize("path", [path for path in MODULES if path.name not in PLUMBING], ids=lambda path: path.stem)
def test_every_field_has_its_text_and_an_example(path: Path) -> None:
    records = {name.partition(".")[0] for name, _, _ in fields_of(path)}
    for name, annotation, text in fields_of(path):
        if annotation.startswith("ClassVar"):
            continue
        assert text, f"{name} has no text below it"
        shown = "example" in text or "hether" in text or "say []" in text
        holds_records = "tuple[" in annotation or annotation.partition(" ")[0] in records
        assert shown or holds_records or len(text) > 25, f"{name}: no example"


@pytest.mark.parametrize("section", SECTIONS)
def test_every_section_has_its_model(section: str) -> None:
    model = section_model(section)
    assert model.__doc__
    assert section in LISTS or model.__doc__.startswith(f"The section `{section}`")
    assert model.model_config["frozen"]
    assert model.model_config["extra"] == "forbid"
