"""`jurystrut new FOLDER`, the first command of a build, with the lists that the builder has; and such a list as records alone."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterable, Mapping

    from jurystrut.reading.columns import Imported

__all__ = ["add_start_command"]

_STAGES = "design structure covering systems engine-run inspection first-flight flight-test operating".split()
_OPERATIONS = ("day-vfr", "night-vfr", "ifr")
_LISTS = ("wires", "panel", "weights")
_MOST_BYTES = 5 * 1024 * 1024  # of a spreadsheet; ten thousand parts are some hundred thousand bytes


def add_start_command(commands: Any, status: str) -> None:
    """Declare `new` to the parser of the whole; every question that it asks is an option too."""
    new = commands.add_parser(
        "new",
        help="a new build repository, or records from a builder's spreadsheet",
        description="Begin a build repository in a new FOLDER, with what --wires, --panel and --weights hold; or, with "
        "--from-csv, turn one such spreadsheet into records (wires, panel, weights), written to standard output. What could not "
        "be read stays in the records as a comment, and is told on standard error.",
        epilog=status,
    )
    new.add_argument("section", metavar="FOLDER", help="a new folder; with --from-csv: wires, panel or weights")
    new.add_argument("--wires", metavar="FILE", help="a wire list for the new folder: comma separated values, UTF-8")
    new.add_argument("--panel", metavar="FILE", help="a list of what is on the panel, for the new folder")
    new.add_argument("--weights", metavar="FILE", help="a list of components, places for load or weighings, likewise")
    new.add_argument("--from-csv", metavar="FILE", help="one such spreadsheet, to be written out as records")
    new.add_argument(
        "--columns",
        default="",
        metavar="TABLE",
        help="columns by other names, 'weight=Wt as built, arm=FS'; of several lists, 'wires.from=Start, weights.arm=FS'",
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
    given = [word for word in _LISTS if getattr(options, word) is not None]
    lists = {word: _imported(word, getattr(options, word), options, given, alone=True) for word in given}
    answers = Answers(
        _answer(options.name, "Name of the aircraft", folder.resolve().name),
        _country(_answer(options.authority, "Authority, by country code", "US")),
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
        for name, text in scaffold(answers, {word: imported.text for word, imported in lists.items()}).items():
            (folder / name).write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise UsageError(f"{folder} cannot be written: {error.strerror}") from None
    waiting = "".join(
        f"The {word} wait as comments in {word}-list.yaml for the {len(imported.waits_for)} names that its head lists.\n"
        for word, imported in lists.items()
        if imported.waits_for
    )
    deliver(
        f"{folder} is ready. Fill in aircraft.yaml first; `jurystrut check {folder}` says what comes next.\n{waiting}"
    )
    return _told(lists.values())


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


def _country(text: str) -> str:
    from jurystrut.errors import UsageError

    if not (len(text) == 2 and text.isascii() and text.isalpha()) or text.upper() == "UK":
        raise UsageError(
            f"found '{text}' for the authority; wanted a country's code of two letters, for example US or GB"
        )
    return text.upper()


def _number(text: str) -> str:
    from jurystrut.errors import UsageError

    if not (text.isascii() and text.isdigit() and len(text) < 4):
        raise UsageError(f"found '{text}' seats; wanted a whole number, for example 2")
    return text


def _from_table(options: argparse.Namespace) -> int:
    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError

    if options.section not in _LISTS:
        raise UsageError(
            f"--from-csv makes {', '.join(_LISTS)}; found '{options.section}'; "
            "a new folder takes its lists with --wires, --panel and --weights"
        )
    imported = _imported(options.section, options.from_csv, options, [options.section])
    deliver(imported.text)
    return _told([imported])


def _imported(word: str, file: str, options: argparse.Namespace, given: list[str], *, alone: bool = False) -> Imported:
    """The records of one list, of those given; with `alone`, they are the first of a build."""
    from pathlib import Path

    from jurystrut.errors import UsageError
    from jurystrut.reading.files import bytes_of
    from jurystrut.reading.lists import listed_records
    from jurystrut.reading.spreadsheet import records_of

    path = Path(file)
    try:
        text = bytes_of(path, _MOST_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise UsageError(f'{path} is no UTF-8 text; save the spreadsheet anew, as "CSV UTF-8"') from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise UsageError(f"{path} cannot be read: {reason}") from None
    chosen = _chosen(options.columns, word, given)
    if word == "weights":
        return records_of(text, path.name, chosen, options.day)
    return listed_records(word, text, path.name, chosen, alone=alone)


def _chosen(columns: str, word: str, given: list[str]) -> Mapping[str, str]:
    """Which columns of one list are called otherwise."""
    from jurystrut.errors import UsageError

    chosen = {}
    for pair in (pair for pair in columns.split(",") if pair.strip()):
        field, equals, column = pair.partition("=")
        list_, dot, inner = field.strip().partition(".")
        if not (equals and column.strip()):
            raise UsageError(f"--columns: found '{pair.strip()}'; wanted a field and its column, for example weight=Wt")
        if dot and list_ not in given:
            raise UsageError(f"--columns: there is no list '{list_}' here; wanted {' or '.join(given)} before the dot")
        if not dot and len(given) > 1:
            raise UsageError(
                f"--columns: say which list has '{list_}', for example {given[0]}.{list_}={column.strip()}"
            )
        if not dot or list_ == word:
            chosen[inner if dot else list_] = column.strip()
    return chosen


def _told(lists: Iterable[Imported]) -> int:
    """The exit status, after everything that could not be read."""
    from jurystrut.reports.plain import one_line

    unread = [line for imported in lists for line in imported.unread]
    sys.stderr.write("".join(f"{one_line(line)}\n" for line in unread))
    return 2 if unread else 0
