"""The commands about weights: `draw` for their pictures, `new weights` for a builder's spreadsheet."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

from jurystrut.start_commands import add_start_options, begin

if TYPE_CHECKING:
    import argparse
    from pathlib import Path

__all__ = ["add_weight_commands"]

_MOST_COMMITS = 1000
"""As `history` looks at."""
_MOST_BYTES = 5 * 1024 * 1024  # of a spreadsheet; ten thousand parts are some hundred thousand bytes


def add_weight_commands(commands: Any, status: str) -> None:
    """Declare the commands to the parser of the whole."""
    draw = commands.add_parser(
        "draw",
        help="a picture of the weights, as SVG",
        description="Draw weights as SVG, written to standard output: jurystrut draw possible-loadings > loadings.svg",
        epilog=status,
    )
    pictures = ("possible-loadings", "weight-budget", "weight-history")
    draw.add_argument("picture", choices=pictures, metavar="PICTURE", help="%(choices)s")
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
    new.add_argument(
        "--day", default="", metavar="DAY", help="the day of a weighing that has no column for it: 2026-10-24"
    )
    add_start_options(new)
    new.set_defaults(run=_new)


def _new(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.reading.files import bytes_of
    from jurystrut.reading.spreadsheet import records_of
    from jurystrut.reports.plain import one_line

    if options.from_csv is None or options.section != "weights":
        return begin(options)
    path = Path(options.from_csv)
    try:
        text = bytes_of(path, _MOST_BYTES).decode("utf-8")
    except (OSError, ValueError) as error:
        raise UsageError(f"{path} cannot be read as UTF-8 text: {error}") from None
    pairs = [pair.partition("=") for pair in options.columns.split(",") if pair.strip()]
    chosen = {field.strip(): column.strip() for field, _, column in pairs}
    imported = records_of(text, path.name, chosen, options.day)
    deliver(imported.text)
    for line in imported.unread:
        print(one_line(line), file=sys.stderr)
    return 2 if imported.unread else 0


def _draw(options: argparse.Namespace) -> int:
    from pathlib import Path

    if options.picture == "weight-history":
        return _draw_history(Path(options.path))
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


def _draw_history(here: Path) -> int:
    """The weight at every commit whose records can be read."""
    from jurystrut.compare import Repository
    from jurystrut.delivery import deliver
    from jurystrut.judge import installed_packs, load
    from jurystrut.reading import Memory, read_files
    from jurystrut.reports.weight_pictures import weight_history

    repository = Repository(here)
    commits = repository.line_up_to("HEAD", _MOST_COMMITS)
    memory = Memory()
    projects = (
        (str(commit.day), read_files(files, memory))
        for commit, files in zip(commits, repository.files(commits), strict=True)
    )
    deliver(
        weight_history(((day, project) for day, project in projects if not project.problems), load(installed_packs()))
    )
    return 0
