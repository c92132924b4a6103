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

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["read_forecast"]

_MOST_BYTES = 1_000_000
_HEAD = "time,temperature degF,humidity %,wind kt"


def read_forecast(path: Path) -> list[Hour]:
    """Read a forecast, at most a megabyte; the column of wind may be missing.

    Raises UsageError, naming the line, for what is no forecast: columns without units, times that do not rise, bad numbers.
    """
    try:
        text = path.read_bytes()[: _MOST_BYTES + 1].decode("utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise UsageError(f"{path}: cannot be read: {error}") from None
    if len(text) > _MOST_BYTES:
        raise UsageError(f"{path}: larger than {_MOST_BYTES} bytes; a forecast is shorter")
    rows = list(csv.reader(io.StringIO(text)))
    if not rows:
        raise UsageError(f"{path}: empty; its first line reads {_HEAD}")
    columns = _columns(path, rows[0])
    hours = [_hour(path, number, row, columns) for number, row in enumerate(rows[1:], 2) if any(row)]
    if not hours:
        raise UsageError(f"{path}: no line below the first")
    for number, (earlier, later) in enumerate(pairwise(hours), 3):
        if later.time <= earlier.time:
            raise UsageError(f"{path}:{number}: {later.time} does not come after {earlier.time}")
    return hours


def _columns(path: Path, head: list[str]) -> dict[str, tuple[int, str]]:
    """Column by its name: where it is, and its unit."""
    found = {}
    for index, cell in enumerate(head):
        name, _, unit = cell.strip().partition(" ")
        found[name.lower()] = (index, unit.strip())
    for name in ("time", "temperature", "humidity"):
        if name not in found:
            raise UsageError(f"{path}:1: no column '{name}'; the first line reads {_HEAD}")
    return found


def _hour(path: Path, number: int, row: list[str], columns: dict[str, tuple[int, str]]) -> Hour:
    def cell(name: str) -> str:
        index, unit = columns[name]
        return f"{row[index].strip()} {unit}".strip()

    try:
        time = datetime.datetime.fromisoformat(cell("time"))
        temperature, humidity = Temperature.parse(cell("temperature")), Ratio.parse(cell("humidity"))
        wind = Speed.parse(cell("wind")).to("kt") if "wind" in columns and row[columns["wind"][0]].strip() else None
    except (IndexError, ValueError) as error:
        words = str(error) if isinstance(error, QuantityError) else f"{error}; a line reads 2026-05-02 09:00,62,55,4"
        raise UsageError(f"{path}:{number}: {words}") from None
    if time.tzinfo is not None:
        raise UsageError(f"{path}:{number}: {cell('time')} names a time zone; write local time, as the log does")
    return Hour(time, temperature.to("degC"), humidity.si, wind)
