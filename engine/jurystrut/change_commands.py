"""The commands about what changed: `compare`, `history` and `gate`."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import argparse
    import datetime

    from jurystrut.judge import Rulebook
    from jurystrut.records.aircraft import Stage

__all__ = ["add_change_commands"]


def add_change_commands(commands: Any, status: str) -> list[argparse.ArgumentParser]:
    """Declare the commands to the parser of the whole."""
    return [_add_compare(commands), _add_history(commands, status), _add_gate(commands)]


def _add_compare(commands: Any) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = commands.add_parser(
        "compare",
        help="what changed between two revisions or folders, and which lines changed it",
        description="Compare two git revisions or folders: verdicts and margins that moved, and the lines that moved them.",
        epilog="exit status: 0 nothing fails that did not fail before, 1 something does, "
        "2 the records could not be read or the command was wrong",
    )
    parser.add_argument(
        "base", metavar="BASE", help="a revision, for example main or HEAD~1, or a folder such as ./old"
    )
    parser.add_argument("head", nargs="?", metavar="HEAD", help="the same (default: the records as they are now)")
    _add_place(parser, ("text", "json", "markdown"))
    parser.set_defaults(run=_compare)
    return parser


def _add_history(commands: Any, status: str) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = commands.add_parser(
        "history",
        help="margins over the commits, and the commit in which a limit broke",
        description="Judge every commit: margins over the commits, and the commit and lines in which a limit broke.",
        epilog=status,
    )
    parser.add_argument("head", nargs="?", default="HEAD", metavar="HEAD", help="the last commit (default: HEAD)")
    parser.add_argument("--rule", metavar="RULE", help="this rule alone, for example weights/cg-envelope")
    parser.add_argument("--subject", metavar="SUBJECT", help="this subject alone, for example TWO-FAR")
    parser.add_argument(
        "--most", type=int, default=1000, metavar="N", help="at most the latest N commits (default: 1000)"
    )
    _add_place(parser, ("text", "json", "svg"))
    parser.set_defaults(run=_history)
    return parser


def _add_gate(commands: Any) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = commands.add_parser(
        "gate",
        help="whether the records may be committed, by the gates that their builder has set up",
        description="Judge the records and say what stops a commit, by the gates in .jurystrut.yaml beside the records.",
        epilog="exit status: 0 nothing stops the commit, 1 something does, "
        "2 the records or the gates could not be read or the command was wrong",
    )
    parser.add_argument(
        "path", nargs="?", default=".", metavar="PATH", help="the folder of the records (default: here)"
    )
    parser.add_argument("--gates", metavar="FILE", help="another file of gates, for example that of the main branch")
    parser.add_argument(
        "--baseline", action="store_true", help="print what stops the commit as a list of known findings"
    )
    parser.add_argument("--output", metavar="FILE", help="write the report there, whole or not at all")
    parser.set_defaults(run=_gate)
    return parser


def _add_place(parser: argparse.ArgumentParser, formats: tuple[str, ...]) -> None:
    parser.add_argument(
        "--in", dest="path", default=".", metavar="PATH", help="the folder of the records (default: here)"
    )
    parser.add_argument("--format", choices=formats, default="text", help="text for people (default)")
    parser.add_argument("--output", metavar="FILE", help="write the report there, whole or not at all")


def _judging(options: argparse.Namespace) -> tuple[Rulebook, Stage | None, datetime.date]:
    from datetime import datetime

    from jurystrut.judge import installed_packs, load
    from jurystrut.records.aircraft import Stage as Stages

    at: Stage | None = Stages(options.at) if options.at else None
    return load(installed_packs()), at, options.on or datetime.now().astimezone().date()


def _compare(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.compare import Side, compare, side_of
    from jurystrut.delivery import deliver
    from jurystrut.reading.files import record_files
    from jurystrut.reports.comparison import COMPARISON_FORMATS, as_text

    here = Path(options.path)
    before = side_of(options.base, here)
    after = side_of(options.head, here) if options.head else Side("the records now", None, tuple(record_files(here)))
    book, at, on = _judging(options)
    comparison = compare(before, after, book, at=at, on=on)
    if options.format == "text":
        deliver(as_text(comparison, coloured=options.coloured(options)), options.output)
    else:
        deliver(COMPARISON_FORMATS[options.format](comparison), options.output)
    return comparison.exit_status


def _history(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.compare import Repository, history
    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.reports.history import history_as_json, history_as_text
    from jurystrut.reports.trend import trend

    repository = Repository(Path(options.path))
    book, at, on = _judging(options)
    commits = repository.line_up_to(options.head, max(options.most, 1))
    told = history(repository, commits, book, at=at, on=on).only(options.rule, options.subject)
    if not told.series:
        raise UsageError("no commit has a finding of this rule and subject")
    if told.shallow:
        sys.stderr.write("jurystrut: this is a shallow clone; earlier commits are missing from the history\n")
    if options.format == "svg":
        deliver(trend(told), options.output)
    elif options.format == "json":
        deliver(history_as_json(told), options.output)
    else:
        deliver(history_as_text(told, coloured=options.coloured(options)), options.output)
    return told.exit_status


def _gate(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.gates import pass_gates, read_gates
    from jurystrut.judge import judge
    from jurystrut.reading import read
    from jurystrut.records.gates import GATES_FILE
    from jurystrut.reports.gate import baseline_of, gate_as_text

    book, at, on = _judging(options)
    here = Path(options.path)
    file = Path(options.gates) if options.gates else here / GATES_FILE
    project = read(here)
    gates = read_gates(file, book, on) if options.gates or file.is_symlink() or file.exists() else None
    passage = pass_gates(judge(project, book, at=at, on=on), gates)
    text = baseline_of(passage) if options.baseline else gate_as_text(passage, coloured=options.coloured(options))
    deliver(text, options.output)
    return passage.exit_status
