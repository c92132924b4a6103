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
    from jurystrut.errors import JurystrutError

    try:
        status: int = options.run(options)
        sys.stdout.flush()
    except JurystrutError as error:
        print(f"jurystrut: {error}", file=sys.stderr)
        return 2
    except BrokenPipeError:
        # The reader has gone, as `head` does; Python must not try to flush to it again on the way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 2
    except KeyboardInterrupt:
        return 130
    return status


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


def _placards(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.errors import UsageError
    from jurystrut.reading import read
    from jurystrut.reports.placards import write_sheets

    folder = Path(options.folder)
    try:
        sheets, too_large = write_sheets(read(Path(options.path)))
        folder.mkdir(parents=True, exist_ok=True)
        for number, sheet in enumerate(sheets, 1):
            target = folder / f"placards-{number}.svg"
            target.write_text(sheet, encoding="utf-8")
            _print(f"{target}\n")
        _print("".join(f"too large for a sheet, not printed: {note}\n" for note in too_large))
    except OSError as error:
        raise UsageError(f"{folder}: {error.strerror}") from None
    return 0


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
