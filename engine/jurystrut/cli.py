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
    from jurystrut.records.project import Project

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
    _add_drawing_commands(commands)
    for command in (check, explain):
        command.add_argument(
            "--at", choices=_STAGES, metavar="STAGE", help=f"judge as if the build were at: {', '.join(_STAGES)}"
        )
        command.add_argument(
            "--on", type=_day, metavar="DATE", help="judge validity on this day, YYYY-MM-DD (default: today)"
        )
        command.add_argument("--color", choices=("auto", "always", "never"), default="auto", help="colour the text")
    return parser


def _add_drawing_commands(commands: Any) -> None:
    export = commands.add_parser(
        "export-drawing",
        help="write the panel as DXF for the cutter, or as SVG to look at",
        description="Write the panel: as DXF, on layers CUT, ENGRAVE and REFERENCE; or where the name ends with .svg, both "
        "sides full size, with the findings marked by number.",
    )
    export.set_defaults(run=_export_drawing)
    compare = commands.add_parser(
        "compare-drawing",
        help="which holes of a DXF or SVG differ from the records",
        description="List each hole of a DXF or SVG drawing that differs from the records.",
        epilog="exit status: 0 nothing differs, 1 something does, 2 the drawing or the records could not be read",
    )
    compare.add_argument("--tolerance", type=_inches, default=0.005, metavar="LENGTH", help="default: 0.005 in")
    compare.add_argument(
        "--unit", choices=("in", "mm", "cm", "m", "ft"), help="where the drawing does not tell its own"
    )
    compare.add_argument("--layer", help="what is cut (default: CUT in a DXF that has it, or else all)")
    compare.set_defaults(run=_compare_drawing)
    for command in (export, compare):
        command.add_argument("drawing", metavar="PANEL", help="the drawing, for example panel.dxf")
        command.add_argument(
            "--in", dest="path", default=".", metavar="PATH", help="the folder of the records (default: here)"
        )
        command.add_argument("--sheet", metavar="ID", help="one of its sub-panels instead of the panel")


def _inches(text: str) -> float:
    from jurystrut.quantities import Length, QuantityError

    try:
        return Length.parse(text).to("in")
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def _export_drawing(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.panel_drawing.commands import drawn, looked_at
    from jurystrut.reading import read

    path, project = Path(options.drawing), read(Path(options.path))
    if path.suffix.casefold() == ".svg":
        path.write_text(looked_at(project, options.sheet, _panel_findings(project)), encoding="utf-8")
    else:
        path.write_text(drawn(project, options.sheet), encoding="utf-8")
    return 0


def _panel_findings(project: Project) -> list[tuple[str, str]]:
    """What the panel's rules have to say, record by record."""
    from jurystrut.judge import installed_packs, judge, load
    from jurystrut.rulebook import Verdict

    noted = {Verdict.WARN, Verdict.NO_DATA, Verdict.FAIL}
    judgement = judge(project, load(installed_packs()))
    found = [f for r in judgement.results if r.rule.domain == "panel" for f in r.findings if f.verdict in noted]
    return [(finding.subject, f"{finding.verdict.value}: {finding.message}") for finding in found]


def _compare_drawing(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.panel_drawing.commands import compared, report
    from jurystrut.reading import read

    path = Path(options.drawing)
    comparison = compared(
        read(Path(options.path)),
        path,
        sheet=options.sheet,
        tolerance=options.tolerance,
        unit=options.unit,
        layer=options.layer,
    )
    _print(report(comparison, path, options.tolerance))
    return int(bool(comparison.differences))


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
