"""The commands for the editor and the shell: `schema`, `serve-editor`, `completion`."""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import argparse

__all__ = ["add_editor_commands"]


def add_editor_commands(commands: Any, status: str) -> None:
    """Declare the commands to the parser of the whole."""
    schema = commands.add_parser(
        "schema",
        help="the JSON Schema of the records or of the gates, for editors",
        description="Write the JSON Schema (draft 07) of the records, or of the gates in .jurystrut.yaml: editors complete, "
        "explain and check fields by it.",
        epilog=status,
    )
    schema.add_argument(
        "of",
        nargs="?",
        choices=("records", "gates"),
        default="records",
        metavar="OF",
        help="records (default) or gates",
    )
    schema.add_argument("-o", "--output", metavar="FILE", help="where to write it (default: standard output)")
    schema.set_defaults(run=_schema)
    serve = commands.add_parser(
        "serve-editor",
        help="findings in the editor while you type",
        description="Serve an editor over standard input and output by the language server protocol: findings while typing, a "
        "rule's arithmetic at its line, the way from a name to its record, and a new id everywhere at once.",
        epilog=status,
    )
    serve.add_argument("path", nargs="?", default=".", metavar="PATH", help="the folder of the records (default: here)")
    serve.set_defaults(run=_serve)
    completion = commands.add_parser(
        "completion",
        help="lines that let a shell complete commands and options",
        description="Write the completion of commands and options for a shell: "
        'eval "$(jurystrut completion bash)" in .bashrc; the same with zsh in .zshrc after compinit; '
        "jurystrut completion fish | source in config.fish.",
        epilog=status,
    )
    completion.add_argument("shell", choices=("bash", "zsh", "fish"), metavar="SHELL", help="bash, zsh or fish")
    completion.set_defaults(run=_completion)


def _schema(options: argparse.Namespace) -> int:
    import json

    from jurystrut.delivery import deliver
    from jurystrut.records.schema import gates_schema, records_schema

    schema = records_schema() if options.of == "records" else gates_schema()
    deliver(json.dumps(schema, indent=1, ensure_ascii=False) + "\n", options.output)
    return 0


def _serve(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.editor.server import serve
    from jurystrut.errors import UsageError

    if not Path(options.path).is_dir():
        raise UsageError(f"{options.path} is not a folder; name the folder that holds the aircraft's records")
    gc.enable()  # this one lives on
    serve(Path(options.path))
    return 0


def _completion(options: argparse.Namespace) -> int:
    from jurystrut.completion import SHELLS, described
    from jurystrut.delivery import deliver

    deliver(SHELLS[options.shell](described(options.parser)))
    return 0
