"""`jurystrut new FOLDER`, the first command of a build; and lists of wires and of the panel from a spreadsheet."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import argparse

__all__ = ["add_start_command"]

_STAGES = "design structure covering systems engine-run inspection first-flight flight-test operating".split()
_OPERATIONS = ("day-vfr", "night-vfr", "ifr")
_MOST_BYTES = 5 * 1024 * 1024  # of a spreadsheet; ten thousand parts are some hundred thousand bytes


def add_start_command(commands: Any, status: str) -> None:
    """Declare `new` to the parser of the whole; every question that it asks is an option too."""
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
    new.add_argument("--name", metavar="NAME", help="the aircraft's name")
    new.add_argument("--authority", metavar="CODE", help="whose rules apply, by country code (default: US)")
    new.add_argument("--stage", choices=_STAGES, metavar="STAGE", help=f"how far the build is: {', '.join(_STAGES)}")
    new.add_argument("--operations", metavar="LIST", help="the flights intended: day-vfr, night-vfr, ifr")
    new.add_argument("--seats", metavar="NUMBER", help="how many seats (default: 1)")
    new.set_defaults(run=_new)


def _new(options: argparse.Namespace) -> int:
    return _begin_folder(options) if options.from_csv is None else _from_table(options)


def _begin_folder(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.scaffold import Answers, scaffold

    folder = Path(options.section)
    answers = Answers(
        _answer(options.name, "Name of the aircraft", folder.resolve().name),
        _answer(options.authority, "Authority, by country code", "US"),
        _one_of(_answer(options.stage, "Stage of the build", "design"), _STAGES),
        tuple(
            _one_of(word, _OPERATIONS) for word in _words(_answer(options.operations, "Flights intended", "day-vfr"))
        ),
        _number(_answer(options.seats, "Seats", "1")),
    )
    try:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            raise UsageError(f"{folder} is there already and not empty; name a new folder")
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in scaffold(answers).items():
            (folder / name).write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise UsageError(f"{folder} cannot be written: {error.strerror}") from None
    deliver(f"{folder} is ready. Fill in aircraft.yaml first; `jurystrut check {folder}` says what comes next.\n")
    return 0


def _answer(given: str | None, question: str, otherwise: str) -> str:
    """An option's value; else what is typed at a terminal; else what is usual."""
    if given is not None:
        return given.strip() or otherwise
    if not (sys.stdin and sys.stdin.isatty() and sys.stderr.isatty()):
        return otherwise
    sys.stderr.write(f"{question} [{otherwise}]: ")
    sys.stderr.flush()
    return sys.stdin.readline().strip() or otherwise


def _words(text: str) -> list[str]:
    return text.replace(",", " ").split()


def _one_of(word: str, known: tuple[str, ...] | list[str]) -> str:
    from jurystrut.errors import UsageError
    from jurystrut.reading.messages import nearest

    if word not in known:
        raise UsageError(f"found '{word}'; wanted one of {', '.join(known)}{nearest(word, known)}")
    return word


def _number(text: str) -> str:
    from jurystrut.errors import UsageError

    if not (text.isascii() and text.isdigit() and len(text) < 4):
        raise UsageError(f"found '{text}' seats; wanted a whole number, for example 2")
    return text


def _from_table(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.reading.files import bytes_of
    from jurystrut.reading.lists import LISTED, listed_records
    from jurystrut.reading.spreadsheet import records_of
    from jurystrut.reports.plain import one_line

    if options.section not in {"weights", *LISTED}:
        raise UsageError(f"--from-csv makes weights, {' or '.join(LISTED)}; found '{options.section}'")
    path = Path(options.from_csv)
    try:
        text = bytes_of(path, _MOST_BYTES).decode("utf-8-sig")
    except (OSError, ValueError) as error:
        raise UsageError(f"{path} cannot be read as UTF-8 text: {error}") from None
    pairs = [pair.partition("=") for pair in options.columns.split(",") if pair.strip()]
    chosen = {field.strip(): column.strip() for field, _, column in pairs}
    if options.section == "weights":
        imported = records_of(text, path.name, chosen, options.day)
    else:
        imported = listed_records(options.section, text, path.name, chosen)
    deliver(imported.text)
    for line in imported.unread:
        sys.stderr.write(f"{one_line(line)}\n")
    return 2 if imported.unread else 0
