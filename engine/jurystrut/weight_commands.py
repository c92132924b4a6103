"""The commands about weights: `draw` for their pictures, `new weights` for a builder's spreadsheet."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

from jurystrut.start_commands import add_start_options, begin

if TYPE_CHECKING:
    import argparse

__all__ = ["add_weight_commands"]


def add_weight_commands(commands: Any, status: str) -> None:
    """Declare the commands to the parser of the whole."""
    draw = commands.add_parser(
        "draw",
        help="a picture of the weights, as SVG",
        description="Draw weights as SVG, written to standard output: jurystrut draw possible-loadings > loadings.svg",
        epilog=status,
    )
    draw.add_argument("picture", choices=("possible-loadings", "weight-budget"), metavar="PICTURE", help="%(choices)s")
    draw.add_argument("path", nargs="?", default=".", metavar="PATH", help="the folder of the records (default: here)")
    draw.set_defaults(run=_draw)
    new = commands.add_parser(
        "new",
        help="a new build repository, or records from a builder's spreadsheet",
        description="Begin a build repository in a new FOLDER; or, with --from-csv, turn a spreadsheet into records (weights, "
        "wires, panel), written to standard output; what could not be read goes to standard error.",
        epilog=status,
    )
    new.add_argument("section", metavar="FOLDER", help="a new folder; with --from-csv: weights, wires or panel")
    new.add_argument("--from-csv", metavar="FILE", help="the spreadsheet as comma separated values, UTF-8")
    new.add_argument(
        "--columns", default="", metavar="TABLE", help="columns by other names: 'weight=Wt as built, arm=FS'"
    )
    add_start_options(new)
    new.set_defaults(run=_new)


def _new(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.reading.spreadsheet import components_of

    if options.from_csv is None or options.section != "weights":
        return begin(options)
    path = Path(options.from_csv)
    try:
        text = path.read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise UsageError(f"{path} cannot be read as UTF-8 text: {error}") from None
    pairs = [pair.partition("=") for pair in options.columns.split(",") if pair.strip()]
    imported = components_of(text, path.name, {field.strip(): column.strip() for field, _, column in pairs})
    deliver(imported.text)
    for line in imported.unread:
        print(line, file=sys.stderr)
    return 2 if imported.unread else 0


def _draw(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.judge import installed_packs, load
    from jurystrut.reading import read
    from jurystrut.reports.weight_pictures import PICTURES

    project = read(Path(options.path))
    if project.problems:
        first = project.problems[0]
        raise UsageError(f"records cannot be read, so nothing is drawn; first {first.position}: {first.message}")
    deliver(PICTURES[options.picture](project, load(installed_packs())))
    return 0
