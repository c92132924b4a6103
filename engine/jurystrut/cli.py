"""The commands: parse, read, judge, write; nothing else. Light until a command really needs the rest."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from typing import TYPE_CHECKING, Any, TextIO

from jurystrut import __version__

if TYPE_CHECKING:
    import datetime
    from collections.abc import Sequence

    from jurystrut.judge import Judgement
    from jurystrut.records.aircraft import Stage

__all__ = ["main"]

_STAGES = "design structure covering systems engine-run inspection first-flight flight-test operating".split()

_STATUS = "exit status: 0 nothing failed, 1 a rule failed, 2 the records could not be read or the command was wrong"


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; gives the exit status that `jurystrut --help` lists."""
    options = _parser().parse_args(arguments)
    # Plugins of other distributions have no say in how records are checked; looking for them costs a third of start-up.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # A run makes millions of objects and next to no cycles: the cyclic collector would cost as much as all the rest.
    gc.disable()
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
    from jurystrut.reports.plain import safe

    print(f"jurystrut: {safe(message)}", file=sys.stderr)
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
    commands = parser.add_subparsers(title="commands", required=True, metavar="COMMAND")
    check = commands.add_parser("check", help="judge the records", description="Judge the records.", epilog=_STATUS)
    check.add_argument("path", nargs="?", default=".", metavar="PATH", help="the folder of the records (default: here)")
    check.add_argument("others", nargs="*", metavar="PATH", help="more such folders: one table over all of them")
    check.add_argument("--jobs", type=int, metavar="N", help="judge so many folders at once (default: one a processor)")
    check.add_argument("--format", choices=("text", "json"), default="text", help="text for people, json for machines")
    check.set_defaults(run=_check)
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
    for command in (check, explain):
        command.add_argument(
            "--at", choices=_STAGES, metavar="STAGE", help=f"judge as if the build were at: {', '.join(_STAGES)}"
        )
        command.add_argument(
            "--on", type=_day, metavar="DATE", help="judge validity on this day, YYYY-MM-DD (default: today)"
        )
        command.add_argument("--color", choices=("auto", "always", "never"), default="auto", help="colour the text")
    return parser


def _day(text: str) -> datetime.date:
    from datetime import date

    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is no day; write it as 2026-05-03") from None


def _judged(options: argparse.Namespace) -> Judgement:
    from pathlib import Path

    from jurystrut.judge import installed_packs, judge, load
    from jurystrut.reading import read
    from jurystrut.records.aircraft import Stage

    stage: Stage | None = Stage(options.at) if options.at else None
    project = read(Path(options.path))
    return judge(project, load(installed_packs()), at=stage, on=options.on)


def _check(options: argparse.Namespace) -> int:
    if options.others:
        return _check_many(options)
    judgement = _judged(options)
    if options.format == "json":
        from dataclasses import replace
        from pathlib import Path

        from jurystrut.reports import writer
        from jurystrut.revision import head_commit

        _print(writer("json")(replace(judgement, revision=head_commit(Path(options.path)))))
    else:
        from jurystrut.reports.text import write

        _print(write(judgement, coloured=_coloured(options.color, sys.stdout)))
    return judgement.exit_status


def _check_many(options: argparse.Namespace) -> int:
    from jurystrut.fleet import Task, judge_in_processes
    from jurystrut.fleet.table import write, write_json

    machine = options.format == "json"
    tasks = [Task(path, options.at, options.on, whole=machine) for path in (options.path, *options.others)]
    outcomes = judge_in_processes(tasks, options.jobs or os.cpu_count() or 1)
    _print(write_json(outcomes) if machine else write(outcomes, coloured=_coloured(options.color, sys.stdout)))
    return max(outcome.status for outcome in outcomes)


def _explain(options: argparse.Namespace) -> int:
    from jurystrut.errors import UsageError
    from jurystrut.reading.messages import nearest
    from jurystrut.reports.explain import write_explanation

    judgement = _judged(options)
    result = next((r for r in judgement.results if r.rule.id == options.rule), None)
    if result is None:
        raise UsageError(
            f"there is no rule '{options.rule}'{nearest(options.rule, (r.rule.id for r in judgement.results))}"
        )
    subjects = [finding.subject for finding in result.findings]
    if options.subject and options.subject not in subjects:
        raise UsageError(f"{options.rule} says nothing of '{options.subject}'{nearest(options.subject, subjects)}")
    _print(write_explanation(judgement, result, options.subject, coloured=_coloured(options.color, sys.stdout)))
    return judgement.exit_status


def _print(text: str) -> None:
    """Write UTF-8 whatever the locale: a report must not fail on a degree sign."""
    buffer: Any = getattr(sys.stdout, "buffer", None)
    if buffer is None:
        sys.stdout.write(text)
    else:
        sys.stdout.flush()
        buffer.write(text.encode("utf-8", "backslashreplace"))


def _coloured(wish: str, stream: TextIO) -> bool:
    """Colour on a terminal only, never against NO_COLOR or TERM=dumb; the option beats both."""
    if wish != "auto":
        return wish == "always"
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
