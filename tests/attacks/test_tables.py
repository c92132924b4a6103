"""Spreadsheets and forecasts from strangers: cells without end, words that are orders, and tables that are none."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from tests.attacks.commands import jurystrut

from jurystrut.errors import UsageError
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.reading.spreadsheet import records_of
from jurystrut.workshop.forecast import hours_of, read_forecast

if TYPE_CHECKING:
    from pathlib import Path

    from tests.attacks.conftest import Bounded

HEAD = "Item,Weight (lb),Arm (in)\n"

TABLES = {
    "one name 20,000 times": HEAD + "Bolt,1,2\n" * 20_000,
    "names that run into each other": HEAD + "".join(f"Bolt-{i % 7},1,2\nBolt,1,2\n" for i in range(10_000)),
    "a head of brackets": HEAD + "x,1,2\n",
    "cells of 100 kB": HEAD + "\n".join(f"{'x' * 100_000},1,2" for _ in range(40)),
    "a weight of 100,000 digits": HEAD + f"x,{'9' * 100_000},2\n",
    "a row of 100,000 cells": HEAD + "x,1,2," + "y," * 100_000 + "\n",
    "100,000 empty rows": HEAD + ",,\n" * 100_000,
    "formulas": HEAD + "=HYPERLINK(1),=1+1,@x\n+x,1,2\n-x,1,2\n",
    "orders": HEAD + "::error::x,1,2\n##[group],1,2\n",
    "YAML": HEAD
    + '"}], aircraft: {name: X",1,2\n"x\ny: 1",1,2\nx,"1 lb}, {id: Y",2\n#x,1,2\n&a,1,2\n!!x,1,2\n"a"": b",1,2\n',
    "what cannot be seen": HEAD + "a\u202eb\u200bc\u00add\x1be\ufffef\U000e0041g,1,2\n",
    "tags": HEAD + "</script><b>,1,2\n",
}


@pytest.mark.parametrize("name", TABLES)
def test_what_is_made_of_a_hostile_table_is_records_without_a_mistake(name: str, bounded: Bounded) -> None:
    with bounded(seconds=5):
        imported = records_of(TABLES[name], "x.csv")
    text = "aircraft: {name: T, authority: US, stage: design}\n" + imported.text
    assert not read_files([RecordFile("x.yaml", text)]).problems
    assert all(len(line) < 3000 for line in imported.unread)


NO_TABLES = {
    "brackets without end": "(" * 100_000 + ",weight\n" + "[ " * 100_000,
    "blanks without end": " " * 120_000 + "x,weight\n",
    "a cell too large for any table": "Item,Weight (lb)\n" + "x" * 200_000 + ",1\n",
    "a quotation that never ends": 'Item,Weight (lb)\n"' + "x\n" * 200_000,
    "NUL": "Item\0,Weight (lb)\r\0\n",
    "nothing": "",
    "no table": "\x1b[2J",
}


@pytest.mark.parametrize("name", NO_TABLES)
def test_what_is_no_table_is_refused(name: str, bounded: Bounded) -> None:
    with bounded(seconds=2), pytest.raises(UsageError, match=r"x\.csv") as refused:
        records_of(NO_TABLES[name], "x.csv")
    assert len(str(refused.value)) < 400


FORECASTS = {
    "a time without end": "time,temperature degF,humidity %\n" + "2" * 100_000 + ",62,55\n",
    "a time beyond the calendar": "time,temperature degF,humidity %\n99999-01-01,62,55\n",
    "no number": "time,temperature degF,humidity %\n2026-05-02 09:00,nan,55\n",
    "beyond all numbers": "time,temperature degF,humidity %\n2026-05-02 09:00,1e999,55\n",
    "a unit that is an order": "time,temperature 9**9**9,humidity %\n2026-05-02 09:00,1,55\n",
    "an hour twice": "time,temperature degF,humidity %\n2026-05-02 09:00,62,55\n2026-05-02 09:00,62,55\n",
    "a quotation that never ends": 'time,temperature degF,humidity %\n"' + "x\n" * 100_000,
    "two time zones": "time,temperature degF,humidity %\n2026-05-02 09:00+01:00,62,55\n",
    "nothing": "",
    "only heads": "time,temperature degF,humidity %\n" * 20_000,
}


@pytest.mark.parametrize("name", FORECASTS)
def test_what_is_no_forecast_is_refused_at_its_line(name: str, bounded: Bounded) -> None:
    with bounded(seconds=2), pytest.raises(UsageError, match=r"x\.csv") as refused:
        hours_of(FORECASTS[name], "x.csv")
    assert len(str(refused.value)) < 400


def test_a_forecast_of_more_than_a_megabyte_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    for size, told in ((1_000_000, "no column"), (1_000_001, "larger than")):
        path.write_bytes((b"x\n" * size)[:size])
        with pytest.raises(UsageError, match=told):
            read_forecast(path)


def test_a_name_of_a_table_gives_no_orders(tmp_path: Path) -> None:
    """Neither as the file's own name nor as a cell."""
    name = "x\n::error::\x1b[2J.csv"
    (tmp_path / name).write_text("Item,Weight (lb)\n::error::x,\x1b[31m\n")
    done = jurystrut(tmp_path, "new", "weights", "--from-csv", name)
    assert done.returncode == 2
    for line in (done.stdout + done.stderr).decode().splitlines():
        assert not line.lstrip().startswith("::")
        assert "\x1b" not in line
