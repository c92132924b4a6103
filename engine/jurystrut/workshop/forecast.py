"""A weather forecast as a table: time, temperature, humidity, wind, each column with its unit in its head."""

from __future__ import annotations

import csv
import datetime
import io
from itertools import pairwise
from typing import TYPE_CHECKING

from jurystrut.calculations.work_window import Hour
from jurystrut.errors import UsageError
from jurystrut.quantities import QuantityError, Ratio, Speed, Temperature
from jurystrut.reading.files import bytes_of

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["hours_of", "read_forecast"]

_MOST_BYTES = 1_000_000
_HEAD = "time,temperature degF,humidity %,wind kt"


def read_forecast(path: Path) -> list[Hour]:
    """Read a forecast, at most a megabyte; the column of wind may be missing.

    Raises UsageError, naming the line, for what is no forecast: columns without units, times that do not rise, bad numbers.
    """
    try:
        text = bytes_of(path, _MOST_BYTES).decode("utf-8-sig")
    except (OSError, ValueError) as error:
        raise UsageError(f"{path}: cannot be read: {error}") from None
    return hours_of(text, str(path))


def hours_of(text: str, name: str) -> list[Hour]:
    """The hours of a forecast's text; `name` is what the file is called in errors, which are as above."""
    try:
        rows = list(csv.reader(io.StringIO(text)))
    except csv.Error as error:
        raise UsageError(f"{name}: no comma separated values: {error}") from None
    if not rows:
        raise UsageError(f"{name}: empty; its first line reads {_HEAD}")
    columns = _columns(name, rows[0])
    hours = [_hour(name, number, row, columns) for number, row in enumerate(rows[1:], 2) if any(row)]
    if not hours:
        raise UsageError(f"{name}: no line below the first")
    for number, (earlier, later) in enumerate(pairwise(hours), 3):
        if later.time <= earlier.time:
            raise UsageError(f"{name}:{number}: {later.time} does not come after {earlier.time}")
    return hours


def _columns(name: str, head: list[str]) -> dict[str, tuple[int, str]]:
    """Column by its name: where it is, and its unit."""
    found = {}
    for index, cell in enumerate(head):
        name, _, unit = cell.strip().partition(" ")
        found[name.lower()] = (index, unit.strip())
    for name in ("time", "temperature", "humidity"):
        if name not in found:
            raise UsageError(f"{name}:1: no column '{name}'; the first line reads {_HEAD}")
    return found


def _hour(name: str, number: int, row: list[str], columns: dict[str, tuple[int, str]]) -> Hour:
    def cell(name: str) -> str:
        index, unit = columns[name]
        return f"{row[index].strip()} {unit}".strip()

    try:
        time = datetime.datetime.fromisoformat(cell("time"))
        temperature, humidity = Temperature.parse(cell("temperature")), Ratio.parse(cell("humidity"))
        wind = Speed.parse(cell("wind")).to("kt") if "wind" in columns and row[columns["wind"][0]].strip() else None
    except (IndexError, ValueError) as error:
        words = (
            str(error)
            if isinstance(error, QuantityError)
            else f"{str(error)[:120]}; a line reads 2026-05-02 09:00,62,55,4"
        )
        raise UsageError(f"{name}:{number}: {words}") from None
    if time.tzinfo is not None:
        raise UsageError(f"{name}:{number}: {cell('time')} names a time zone; write local time, as the log does")
    return Hour(time, temperature.to("degC"), humidity.si, wind)
