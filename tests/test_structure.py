"""The shape of the code: who may import whom, what loads when, how long a file may grow, what is public."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parent.parent
CONTAINERS = {"engine": "jurystrut", "rules": "jurystrut_rules"}

LAYERS: dict[str, str] = {
    "jurystrut.positions": "",
    "jurystrut.errors": "positions",
    "jurystrut.quantities": "",
    "jurystrut.revision": "",
    "jurystrut.delivery": "errors",
    "jurystrut.tree": "errors positions",
    "jurystrut.calculations": "",
    "jurystrut.records": "quantities errors positions",
    "jurystrut.reading": "records tree quantities errors positions",
    "jurystrut.rulebook": "reading records calculations tree quantities errors positions",
    "jurystrut.judgement": "rulebook records errors",
    "jurystrut.judge": "judgement rulebook reading records calculations tree quantities errors positions",
    "jurystrut.testing": "judge rulebook reading records quantities errors positions",
    "jurystrut.traces": "testing judge rulebook tree errors",
    "jurystrut.compare": "judge rulebook reading records quantities revision errors positions",
    "jurystrut.gates": "judge rulebook reading records tree quantities errors positions",
    "jurystrut.drawings": "calculations",
    "jurystrut.panel_drawing": "drawings reading records calculations quantities errors positions",
    "jurystrut.reports": "drawings gates compare traces judge rulebook records calculations quantities errors positions",
    "jurystrut.change_commands": "reports gates compare judge reading records delivery errors",
    "jurystrut.workshop": "reports reading records calculations quantities delivery errors",
    "jurystrut.scaffold": "reading records errors",
    "jurystrut.start_commands": "scaffold reports reading delivery errors",
    "jurystrut.weight_commands": "reports compare judge reading delivery errors",
    "jurystrut.source_commands": "reports judge delivery errors",
    "jurystrut.drawing_commands": "panel_drawing reports judge rulebook reading records quantities delivery errors",
    "jurystrut.completion": "",
    "jurystrut.command_parser": "",
    "jurystrut.editor": "reports judge rulebook reading records positions errors",
    "jurystrut.editor_commands": "editor completion records delivery errors",
    "jurystrut.readiness": "reports judge reading records revision errors delivery",
    "jurystrut.fleet": "reports judge rulebook reading records revision errors",
    "jurystrut.cli": (
        "command_parser fleet readiness editor_commands workshop start_commands weight_commands source_commands "
        "change_commands drawing_commands reports drawings gates compare judge rulebook reading records revision delivery "
        "tree quantities errors positions"
    ),
    "jurystrut.__main__": "cli",
    "jurystrut_rules": "rulebook records calculations quantities positions",
}
"""Every layer, lowest first, with the layers that it may import besides itself and the version in `jurystrut`."""

HEAVY = frozenset(
    (
        "PIL dask distributed ezdxf jinja2 jsonschema lsprotocol networkx numpy pint pydantic pydantic_core pygls scipy shapely "
        "svgelements watchfiles yaml"
    ).split()
)
HEAVY_AT_MODULE_LEVEL: dict[str, str] = {
    "jurystrut.records": "pydantic",  # records are pydantic models
    "jurystrut.reading": "pydantic",  # catches its ValidationError; loads the records anyway
}
"""A heavy library is imported inside the function that needs it, but for these."""

LONG_FILES: dict[str, str] = {}
"""Files of more than 400 lines, by path from the root, each with its reason."""

RESERVED_NAMES = frozenset({"utils", "util", "helpers", "helper", "common", "misc"})


def source_files() -> list[Path]:
    files = sorted(path for folder in CONTAINERS for path in (ROOT / folder).rglob("*.py"))
    assert files
    return files


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts[1:]
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {module_name(path): path for path in source_files()}


def layer_of(module: str) -> str | None:
    """The layer that a module belongs to; None for the package `jurystrut` itself, which holds the version alone."""
    return next((layer for layer in LAYERS if module == layer or module.startswith(layer + ".")), None)


def is_type_checking(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and ast.unparse(node.test) in {"TYPE_CHECKING", "typing.TYPE_CHECKING"}


def imports_of(source: str) -> Iterator[tuple[int, str]]:
    """Line and dotted name of everything imported anywhere; `from a import b` counts as `a.b`."""
    for node in ast.walk(ast.parse(source)):
        yield from imported_by(node)


def imported_by(node: ast.AST) -> Iterator[tuple[int, str]]:
    match node:
        case ast.Import(names=names):
            yield from ((node.lineno, alias.name) for alias in names)
        case ast.ImportFrom(module=module, names=names, level=level):
            yield from ((node.lineno, "." * level + f"{module or ''}.{alias.name}") for alias in names)
        case ast.Call(func=ast.Name(id=name) | ast.Attribute(attr=name), args=[ast.Constant(value=str(target)), *_]):
            if name in {"import_module", "__import__"}:
                yield node.lineno, target


def forbidden_imports(module: str, source: str) -> list[str]:
    """What a module imports against the table, as `line: name`."""
    own = layer_of(module)
    allowed = {own, *(f"jurystrut.{name}" for name in LAYERS[own].split())} if own else set()
    found = []
    for line, name in imports_of(source):
        ours = name.split(".")[0] in {"jurystrut", "jurystrut_rules"}
        layer = layer_of(name)
        if name.startswith(".") or (ours and layer and layer not in allowed):
            found.append(f"{line}: {name}")
    return found


def heavy_at_module_level(module: str, source: str) -> list[str]:
    """Heavy libraries that importing the module would load, as `line: name`."""
    allowed = HEAVY_AT_MODULE_LEVEL.get(layer_of(module) or "", "").split()
    found = []
    waiting: list[ast.AST] = [ast.parse(source)]
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda) or is_type_checking(node):
            continue
        waiting += ast.iter_child_nodes(node)
        for line, name in imported_by(node):
            library = name.split(".")[0]
            if library in HEAVY and library not in allowed:
                found.append(f"{line}: {name}")
    return found


def public_names(tree: ast.Module) -> set[str]:
    """Functions, classes and constants that a module defines without an underscore."""
    names: set[str] = set()
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            names.add(node.name)
        elif isinstance(node, ast.Assign):
            names |= {part.id for target in node.targets for part in ast.walk(target) if isinstance(part, ast.Name)}
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
            names.add(node.target.id)
    return {name for name in names if not name.startswith("_")}


def listed_names(tree: ast.Module) -> list[str] | None:
    """What `__all__` lists; None where there is none."""
    for node in tree.body:
        if isinstance(node, ast.Assign) and [ast.unparse(target) for target in node.targets] == ["__all__"]:
            return list(ast.literal_eval(node.value))
    return None


def test_the_table_of_layers_only_points_down() -> None:
    above: set[str] = set()
    for layer, allowed in LAYERS.items():
        assert {f"jurystrut.{name}" for name in allowed.split()} <= above, layer
        above.add(layer)


def test_every_module_has_a_layer() -> None:
    assert [module for module in MODULES if layer_of(module) is None] == ["jurystrut"]


@pytest.mark.parametrize("module", MODULES)
def test_imports_follow_the_layers(module: str) -> None:
    assert not forbidden_imports(module, MODULES[module].read_text("utf-8"))


@pytest.mark.parametrize(
    ("module", "source"),
    [
        pytest.param("jurystrut.records.panel", "from jurystrut.judge import judge", id="upwards"),
        pytest.param("jurystrut.records", "from jurystrut import cli", id="upwards, from the package"),
        pytest.param("jurystrut.reading", "import os, jurystrut.reports.text", id="upwards, plain import"),
        pytest.param("jurystrut.tree", "def f():\n    from jurystrut.reading import read", id="inside a function"),
        pytest.param("jurystrut.tree", "if TYPE_CHECKING:\n    import jurystrut.judge", id="for types only"),
        pytest.param("jurystrut.errors", "import_module('jurystrut.cli')", id="by its name as text"),
        pytest.param("jurystrut.calculations.balance", "import jurystrut.quantities", id="calculations know SI alone"),
        pytest.param("jurystrut.judge", "import jurystrut_rules", id="the engine knows no pack"),
        pytest.param("jurystrut.cli", "def f():\n    import jurystrut_rules.panel", id="nor do the commands"),
        pytest.param("jurystrut_rules.panel", "from jurystrut.reading import read", id="rules read no files"),
        pytest.param("jurystrut_rules.panel", "from jurystrut.reports import text", id="rules write no reports"),
        pytest.param("jurystrut", "import jurystrut.cli", id="the package itself holds the version alone"),
        pytest.param("jurystrut.cli", "from .judge import judge", id="relative"),
    ],
)
def test_a_planted_import_is_caught(module: str, source: str) -> None:
    assert len(forbidden_imports(module, source)) == 1


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("jurystrut.cli", "from jurystrut import __version__"),
        ("jurystrut.records.panel", "from jurystrut.records.base import Record"),
        ("jurystrut_rules.weights.balance", "from jurystrut_rules.weights.ledger import pounds"),
        ("jurystrut_rules.weights.balance", "from jurystrut.rulebook import rule\nimport jurystrut_rulesets"),
    ],
)
def test_a_sound_import_is_let_be(module: str, source: str) -> None:
    assert not forbidden_imports(module, source)


@pytest.mark.parametrize("module", MODULES)
def test_heavy_libraries_wait_until_they_are_needed(module: str) -> None:
    assert not heavy_at_module_level(module, MODULES[module].read_text("utf-8"))


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("import pint", ["1: pint"]),
        ("try:\n    from yaml import CParser\nexcept ImportError:\n    pass", ["2: yaml.CParser"]),
        ("class A:\n    import networkx.algorithms", ["2: networkx.algorithms"]),
        ("def f():\n    import pint", []),
        ("if TYPE_CHECKING:\n    from pydantic import BaseModel", []),
    ],
)
def test_a_planted_heavy_import_is_caught(source: str, found: list[str]) -> None:
    assert heavy_at_module_level("jurystrut.tree", source) == found


def loaded_by(*arguments: str) -> set[str]:
    """The heavy libraries that are loaded when a command has ended."""
    program = (
        "import sys\n"
        "from jurystrut.cli import main\n"
        "try:\n"
        "    status = main(sys.argv[2:])\n"
        "except SystemExit as stop:\n"
        "    status = stop.code\n"
        "print(status or 0, *sys.modules.keys() & sys.argv[1].split(), sep='\\n', file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, " ".join(HEAVY), *arguments], capture_output=True, text=True, check=True
    )
    status, *libraries = done.stderr.splitlines()
    assert status in {"0", "1"}, done.stderr
    return set(libraries)


@pytest.mark.parametrize("option", ["--version", "--help"])
def test_version_and_help_load_no_heavy_library(option: str) -> None:
    assert loaded_by(option) == set()


@pytest.mark.parametrize("format_", ["text", "json"])
def test_a_check_loads_only_what_reads_yaml_and_checks_records(format_: str) -> None:
    loaded = loaded_by("check", str(ROOT / "project_example"), "--format", format_)
    assert loaded == {"pydantic", "pydantic_core", "yaml"}


@pytest.mark.parametrize(("folder", "package"), CONTAINERS.items())
def test_a_container_holds_one_package(folder: str, package: str) -> None:
    """In an editable installation anything else in it would become importable under its bare name."""
    importable = {path.name for path in (ROOT / folder).iterdir() if path.is_dir() or path.suffix == ".py"}
    assert importable - {"__pycache__"} == {package}
    assert (ROOT / folder / package / "py.typed").is_file()


def test_long_files_are_listed_with_their_reason() -> None:
    long = {
        path.relative_to(ROOT).as_posix()
        for path in MODULES.values()
        if len(path.read_text("utf-8").splitlines()) > 400
    }
    assert long == LONG_FILES.keys()
    assert all(LONG_FILES.values())


def test_modules_are_named_for_what_they_hold() -> None:
    assert not [module for module in MODULES if RESERVED_NAMES & set(module.strip("_").split("."))]


@pytest.mark.parametrize("module", [name for name in MODULES if name != "jurystrut.__main__"])
def test_all_is_complete(module: str) -> None:
    tree = ast.parse(MODULES[module].read_text("utf-8"))
    listed = listed_names(tree)
    if listed is None:
        # Packages that only hold modules need no list; a module with public names does.
        assert not public_names(tree) - {"PACK"}
        return
    assert len(listed) == len(set(listed))
    imported = {
        alias.asname or alias.name for node in tree.body if isinstance(node, ast.ImportFrom) for alias in node.names
    }
    assert set(listed) <= public_names(tree) | imported
    assert public_names(tree) <= set(listed)


RUNS_CODE = frozenset("eval exec compile __import__ system popen loads load full_load unsafe_load".split())
READS_DATA = frozenset({"re.compile", "json.loads", "json.load", "point.load", "load"})
"""Calls by such a name that run no text as code: `point.load` imports an installed pack, `load` is the judge's own."""


def code_runners(source: str) -> list[str]:
    """Calls that could run text as code, or give it to a shell, as `line: name`."""
    calls = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    return [
        f"{call.lineno}: {ast.unparse(call.func)}"
        for call in calls
        if any(keyword.arg == "shell" for keyword in call.keywords)
        or (ast.unparse(call.func).rpartition(".")[2] in RUNS_CODE and ast.unparse(call.func) not in READS_DATA)
    ]


@pytest.mark.parametrize("module", MODULES)
def test_no_text_is_run_as_code(module: str) -> None:
    assert not code_runners(MODULES[module].read_text("utf-8"))


@pytest.mark.parametrize("source", ["eval(x)", "yaml.load(x)", "pickle.loads(x)", "run(x, shell=True)", "os.system(x)"])
def test_a_planted_code_runner_is_caught(source: str) -> None:
    assert len(code_runners(source)) == 1
