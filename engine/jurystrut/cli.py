"""The commands: parse, read, judge, write; nothing else. Light until a command really needs the rest."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from typing import TYPE_CHECKING

from jurystrut import __version__
from jurystrut.change_commands import add_change_commands
from jurystrut.reports import FORMATS

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
    from jurystrut.errors import JurystrutError

    try:
        status: int = options.run(options)
        sys.stdout.flush()
    except JurystrutError as error:
        from jurystrut.reports.plain import one_line

        # On one line: what a name or a message holds must not begin a line of its own in a log that obeys commands.
        print(f"jurystrut: {one_line(str(error))}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        # The reader has gone, as `head` does; Python must not try to flush to it again on the way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 2
    except KeyboardInterrupt:
        return 130
    except Exception as error:  # noqa: BLE001 - a crash must look like neither 0 nor 1
        print(f"jurystrut: {_bug(error)}", file=sys.stderr)
        return 2
    return status


def _bug(error: Exception) -> str:
    """What to say of a mistake of our own, in one line that a report can quote."""
    from jurystrut.reports.plain import one_line

    place = error.__traceback__
    while place and place.tb_next:
        place = place.tb_next
    where = f" at {os.path.basename(place.tb_frame.f_code.co_filename)}:{place.tb_lineno}" if place else ""  # noqa: PTH119 - light
    return f"a bug in jurystrut{where}: {type(error).__name__}: {one_line(str(error))}; please report it"


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
    check.add_argument("--format", choices=FORMATS, default="text", help="text for people, the others for machines")
    check.add_argument("--output", metavar="FILE", help="write the report there, whole or not at all")
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
    for command in (check, explain, *add_change_commands(commands, _STATUS)):
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


def _judged(options: argparse.Namespace) -> Judgement:
    from pathlib import Path

    from jurystrut.judge import installed_packs, judge, load
    from jurystrut.reading import read
    from jurystrut.records.aircraft import Stage

    stage: Stage | None = Stage(options.at) if options.at else None
    project = read(Path(options.path))
    return judge(project, load(installed_packs()), at=stage, on=options.on)


def _check(options: argparse.Namespace) -> int:
    from jurystrut.delivery import deliver

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


def _explain(options: argparse.Namespace) -> int:
    from jurystrut.delivery import deliver
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
    deliver(write_explanation(judgement, result, options.subject, coloured=_text_coloured(options)))
    return judgement.exit_status


def _text_coloured(options: argparse.Namespace) -> bool:
    """Colour on a terminal only, never against NO_COLOR or TERM=dumb; the option beats both."""
    if options.color != "auto":
        return bool(options.color == "always")
    if getattr(options, "output", None) or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return sys.stdout.isatty()
