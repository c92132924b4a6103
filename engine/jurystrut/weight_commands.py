"""The command about weights: `draw`, for their pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import argparse
    from pathlib import Path

__all__ = ["add_weight_commands"]

_MOST_COMMITS = 1000
"""As `history` looks at."""


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
