"""The commands: parse, read, judge, write; nothing else. Light until a command really needs the rest."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from typing import TYPE_CHECKING

from jurystrut import __version__
from jurystrut.change_commands import add_change_commands
from jurystrut.command_parser import CommandParser
from jurystrut.drawing_commands import add_drawing_commands
from jurystrut.editor_commands import add_editor_commands
from jurystrut.reports import FORMATS
from jurystrut.source_commands import add_source_command
from jurystrut.start_commands import add_start_command
from jurystrut.weight_commands import add_weight_commands
from jurystrut.workshop.commands import add_workshop_commands

if TYPE_CHECKING:
    import datetime
    from collections.abc import Sequence
    from typing import NoReturn

    from jurystrut.judge import Judgement
    from jurystrut.records.aircraft import Stage

__all__ = ["main", "run"]

_STAGES = "design structure covering systems engine-run inspection first-flight flight-test operating".split()

_TIME_LIMIT = 600.0
"""Seconds for one folder of many, our own choice: a hundred thousand records take a small part of it."""

_STATUS = "exit status: 0 nothing failed, 1 a rule failed, 2 the records could not be read or the command was wrong"


def run() -> NoReturn:
    """The command itself; it ends at once, since taking a run's millions of objects down one by one is a tenth of its time."""
    # A run makes millions of objects and next to no cycles: the cyclic collector would cost as much as all the rest.
    gc.disable()
    status = main()
    sys.stderr.flush()
    os._exit(status)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; gives the exit status that `jurystrut --help` lists."""
    options = _parser().parse_args(arguments)
    # Plugins of other distributions have no say in how records are checked; looking for them costs a third of start-up.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    if sys.stdout is None:  # started with its output closed; the exit status still tells
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115 - pathlib is not loaded yet; open to the end
    from jurystrut.errors import JurystrutError

    try:
        status: int = options.run(options)
        sys.stdout.flush()
    except JurystrutError as error:
        return _failed(str(error))
    except BrokenPipeError:  # the reader has gone, as `head` does
        _give_up_output()
        return 2
    except OSError as error:  # reading notes its own; what is left is the output: a full disk, a closed descriptor
        _give_up_output()
        return _failed(f"cannot go on: {error}")
    except KeyboardInterrupt:
        return 130
    except Exception as error:  # noqa: BLE001 - whatever it is, a builder gets one line and an exit status that is no pass
        return _failed(f"a bug in jurystrut, {_place_of(error)}: {type(error).__name__}: {error}; please report it")
    return status


def _failed(message: str) -> int:
    from jurystrut.reports.plain import one_line

    # On one line: what a name or a message holds must not begin a line of its own in a log that obeys commands.
    print(f"jurystrut: {one_line(message)}", file=sys.stderr)
    return 2


def _give_up_output() -> None:
    """Python must not try to flush the rest of the output again on its way out."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _place_of(error: Exception) -> str:
    place = error.__traceback__
    while place and place.tb_next:
        place = place.tb_next
    return f"{place.tb_frame.f_globals.get('__name__')}:{place.tb_lineno}" if place else "somewhere"


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="jurystrut",
        description="Judge the records of an amateur-built aeroplane by rules that each cite a published section.",
        epilog=_STATUS,
    )
    parser.add_argument("--version", action="version", version=f"jurystrut {__version__}")
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND", parser_class=CommandParser)
    check = commands.add_parser("check", help="judge the records", description="Judge the records.", epilog=_STATUS)
    check.add_argument("path", nargs="?", default=".", metavar="PATH", help="the folder of the records (default: here)")
    check.add_argument("others", nargs="*", metavar="PATH", help="more such folders: one table over all of them")
    check.add_argument("--jobs", type=int, metavar="N", help="judge so many folders at once (default: one a processor)")
    check.add_argument(
        "--time-limit",
        type=_seconds,
        metavar="SECONDS",
        help=f"of many folders, give one up after so long and go on (default: {_TIME_LIMIT:g}; 0: never)",
    )
    check.add_argument("--format", choices=FORMATS, default="text", help="text for people, the others for machines")
    check.add_argument("--output", metavar="FILE", help="write the report there, whole or not at all")
    check.add_argument("--with", dest="trial", metavar="CHANGE", help="a trial: lay this file over the records")
    check.set_defaults(run=_check, trial=None)
    explain = commands.add_parser(
        "explain",
        help="a rule, its source, and its arithmetic on this aircraft",
        description="Explain a rule: its source, and its arithmetic step by step on this aircraft.",
        epilog=_STATUS,
    )
    explain.add_argument("rule", metavar="RULE", help="for example electrical/wire-protection")
    explain.add_argument("subject", nargs="?", metavar="SUBJECT", help="a record's id, for example W12")
    explain.add_argument(
        "--in", dest="path", default=".", metavar="PATH", help="the folder of the records (default: here)"
    )
    explain.set_defaults(run=_explain)
    report = commands.add_parser(
        "report",
        help="one page to read and to print, for the builder and the inspector",
        description="Write the readiness report: one self-contained HTML file, to read and to print.",
        epilog=_STATUS,
    )
    report.add_argument(
        "path", nargs="?", default=".", metavar="PATH", help="the folder of the records (default: here)"
    )
    report.add_argument(
        "-o", "--output", default="-", metavar="FILE", help="where to write it; - is standard output (default)"
    )
    report.add_argument("--watch", action="store_true", help="write it anew whenever a record is saved, until Ctrl-C")
    report.set_defaults(run=_report)
    add_workshop_commands(commands)
    add_drawing_commands(commands)
    add_start_command(commands, _STATUS)
    add_weight_commands(commands, _STATUS)
    add_source_command(commands, _STATUS)
    add_editor_commands(commands, _STATUS)
    parser.set_defaults(parser=parser)  # `completion` describes all the commands
    placards = commands.add_parser(
        "placards",
        help="print the recorded placards at true size",
        description="Write the recorded placards at true size, one SVG file a sheet, to be printed without scaling.",
        epilog=_STATUS,
    )
    placards.add_argument(
        "path", nargs="?", default=".", metavar="PATH", help="the folder of the records (default: here)"
    )
    placards.add_argument("-o", dest="folder", required=True, metavar="FOLDER", help="the folder for the sheets")
    placards.set_defaults(run=_placards)
    for command in (check, explain, report, *add_change_commands(commands, _STATUS)):
        command.add_argument(
            "--at", choices=_STAGES, metavar="STAGE", help=f"judge as if the build were at: {', '.join(_STAGES)}"
        )
        command.add_argument(
            "--on", type=_day, metavar="DATE", help="judge validity on this day, YYYY-MM-DD (default: today)"
        )
        command.add_argument("--color", choices=("auto", "always", "never"), default="auto", help="colour the text")
        command.set_defaults(coloured=_text_coloured)
    return parser


def _day(text: str) -> datetime.date:
    from datetime import date

    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is no day; write it as 2026-05-03") from None


def _seconds(text: str) -> float:
    try:
        seconds = float(text)
    except ValueError:
        seconds = -1
    if not 0 <= seconds <= 1e6:
        raise argparse.ArgumentTypeError(
            f"found '{text}'; wanted a number of seconds, for example 60, or 0 for no limit"
        )
    return seconds


def _judged(options: argparse.Namespace) -> Judgement:
    from pathlib import Path

    from jurystrut.judge import installed_packs, judge, load
    from jurystrut.reading import read
    from jurystrut.records.aircraft import Stage

    stage: Stage | None = Stage(options.at) if options.at else None
    trial = getattr(options, "trial", None)
    project = read(Path(options.path), Path(trial) if trial else None)
    return judge(project, load(installed_packs()), at=stage, on=options.on)


def _check(options: argparse.Namespace) -> int:
    from jurystrut.delivery import deliver

    if options.others:
        return _check_many(options)
    judgement = _judged(options)
    if options.format == "text":
        from jurystrut.reports.text import write

        text = write(judgement, coloured=_text_coloured(options))
    else:
        from dataclasses import replace
        from pathlib import Path

        from jurystrut.reports import writer
        from jurystrut.revision import folder_in_repository, head_commit

        here = Path(options.path)
        folder = "" if options.format == "json" else folder_in_repository(here) or ""
        text = writer(options.format)(replace(judgement, revision=head_commit(here), folder=folder))
    deliver(text, options.output)
    return judgement.exit_status


def _check_many(options: argparse.Namespace) -> int:
    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.fleet import Task, judge_in_processes
    from jurystrut.fleet.table import write, write_json

    if options.format not in {"text", "json"} or options.trial:
        raise UsageError("many folders at once are judged as they stand, in text or json")
    machine = options.format == "json"
    tasks = [Task(path, options.at, options.on, whole=machine) for path in (options.path, *options.others)]
    limit = _TIME_LIMIT if options.time_limit is None else options.time_limit
    outcomes = judge_in_processes(tasks, options.jobs or os.cpu_count() or 1, limit or None)
    text = write_json(outcomes) if machine else write(outcomes, coloured=_text_coloured(options))
    deliver(text, options.output)
    return max(outcome.status for outcome in outcomes)


def _explain(options: argparse.Namespace) -> int:
    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.reading.messages import nearest
    from jurystrut.reports.explain import write_explanation

    judgement = _judged(options)
    result = next((r for r in judgement.results if r.rule.id == options.rule), None)
    if result is None:
        ids = [r.rule.id for r in judgement.results]
        meant = next((id_ for id_ in ids if id_.endswith(f"/{options.rule}")), options.rule)
        raise UsageError(f"there is no rule '{options.rule}'{nearest(meant, ids)}")
    subjects = [finding.subject for finding in result.findings]
    if options.subject and options.subject not in subjects:
        only = result.findings[0] if len(result.findings) == 1 else None
        hint = f"; it says of {only.subject}: {only.message}" if only else nearest(options.subject, subjects)
        raise UsageError(f"{options.rule} says nothing of '{options.subject}'{hint}")
    deliver(write_explanation(judgement, result, options.subject, coloured=_text_coloured(options)))
    return judgement.exit_status


def _report(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.readiness import Wish, build, watch
    from jurystrut.records.aircraft import Stage

    wish = Wish(Path(options.path), Stage(options.at) if options.at else None, options.on)
    if options.watch and options.output == "-":
        raise UsageError("--watch needs a file to write to; name it with -o")
    if options.watch:
        gc.enable()  # this one lives on
        return watch(wish, Path(options.output), _tell)
    page, status = build(wish, _tell if sys.stderr.isatty() else lambda _: None)
    deliver(page, None if options.output == "-" else options.output)
    return status


def _placards(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.reading import read
    from jurystrut.reports.placards import write_sheets
    from jurystrut.reports.plain import one_line

    folder = Path(options.folder)
    try:
        sheets, too_large = write_sheets(read(Path(options.path)))
        folder.mkdir(parents=True, exist_ok=True)
        for number, sheet in enumerate(sheets, 1):
            target = folder / f"placards-{number}.svg"
            if target.is_symlink():  # the name is ours, and whoever made the folder must not say where it leads
                raise UsageError(f"{target} is a link; it is not followed")
            deliver(sheet, str(target))
            deliver(f"{one_line(str(target))}\n")
        deliver("".join(f"too large for a sheet, not printed: {one_line(note)}\n" for note in too_large))
    except OSError as error:
        raise UsageError(f"{folder}: {error.strerror}") from None
    return 0


def _tell(step: str) -> None:
    """Say what is being done, on standard error: standard output may be the page itself."""
    from jurystrut.reports.plain import one_line

    print(f"jurystrut: {one_line(step)}", file=sys.stderr, flush=True)


def _text_coloured(options: argparse.Namespace) -> bool:
    """Colour on a terminal only, never against NO_COLOR or TERM=dumb; the option beats both."""
    if options.color != "auto":
        return bool(options.color == "always")
    if getattr(options, "output", None) or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return sys.stdout.isatty()
