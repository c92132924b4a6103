"""Which hours of a forecast allow a coat: each limit on both sides, the cure, and tables that are no forecast.

The dew point is held against psychrolib in tests/calculations; here 20 degC at 50 % has its published 9.26 degC.
"""

from __future__ import annotations

import datetime
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from jurystrut.calculations.work_window import Hour, Needs, hindrances, windows
from jurystrut.cli import main
from jurystrut.errors import UsageError
from jurystrut.workshop.forecast import read_forecast

if TYPE_CHECKING:
    from pathlib import Path


START = datetime.datetime(2026, 5, 2, 8)  # noqa: DTZ001 - local time, as the forecast and the log have it
NEEDS = Needs((15.0, 30.0), (0.20, 0.70), 3.0, 8.0, datetime.timedelta(hours=3), 10.0)


def day(*hours: tuple[float, float, float | None]) -> list[Hour]:
    return [Hour(START + datetime.timedelta(hours=i), *values) for i, values in enumerate(hours)]


MILD = (20.0, 0.5, 4.0)


@pytest.mark.parametrize(
    ("first", "reasons"),
    [
        (MILD, ()),
        ((15.0, 0.5, 8.0), ()),
        ((14.9, 0.5, 4.0), ("too cold",)),
        ((30.0, 0.5, 4.0), ()),
        ((30.1, 0.5, 4.0), ("too hot",)),
        ((20.0, 0.70, 4.0), ()),
        ((20.0, 0.71, 4.0), ("too humid",)),
        ((20.0, 0.19, 4.0), ("too dry",)),
        ((20.0, 0.5, 8.1), ("too much wind",)),
        ((20.0, 0.5, None), ("no wind is forecast",)),
    ],
)
def test_the_hour_itself(first: tuple[float, float, float | None], reasons: tuple[str, ...]) -> None:
    assert hindrances(day(first, MILD, MILD, MILD), 0, NEEDS) == reasons


def test_the_dew_point_margin_on_both_sides_of_its_limit() -> None:
    # 20 - 9.26 = 10.74 degC above the dew point at 50 %.
    hours = day(MILD, MILD, MILD, MILD)
    for margin, reasons in ((10.73, ()), (10.75, ("too near the dew point",))):
        needs = Needs((15.0, 30.0), None, margin, None, datetime.timedelta(hours=3), 10.0)
        assert hindrances(hours, 0, needs) == reasons


@pytest.mark.parametrize(
    ("celsius", "humidity", "why"), [(-45.0, 0.5, "formula holds from -40 to 50 degC"), (20.0, 0.0, "above 0 %")]
)
def test_an_hour_whose_dew_point_cannot_be_told_is_no_permission(celsius: float, humidity: float, why: str) -> None:
    anything = Needs((-60.0, 60.0), None, 3.0, None, datetime.timedelta(hours=1), -60.0)
    (reason,) = hindrances(day((celsius, humidity, None), MILD, MILD), 0, anything)
    assert why in reason


def test_a_cold_hour_forbids_all_work_whose_cure_reaches_it() -> None:
    found = windows(day(*[MILD] * 3, (9.9, 0.5, 4.0), *[MILD] * 6), NEEDS)
    assert [(w.start.hour, w.end.hour, w.reasons) for w in found] == [
        (8, 11, ("too cold before it has cured",)),
        (11, 12, ("too cold", "too cold before it has cured")),
        (12, 15, ()),
        (15, 18, ("the forecast ends before it has cured",)),
    ]


def test_the_cure_may_be_exactly_as_cold_as_allowed() -> None:
    assert hindrances(day(MILD, MILD, MILD, (10.0, 0.5, 4.0)), 0, NEEDS) == ()


def test_work_may_begin_at_the_last_moment_of_a_long_line() -> None:
    # A line that holds for four hours: what is begun at its end cures for three more, and 11 o'clock is too cold.
    hours = [Hour(START + datetime.timedelta(hours=h), *MILD) for h in (0, 4)]
    cold = Hour(START + datetime.timedelta(hours=6), 9.9, 0.5, 4.0)
    assert hindrances([*hours, cold], 0, NEEDS) == ("too cold before it has cured",)
    assert hindrances([*hours, Hour(cold.time, *MILD)], 0, NEEDS) == ()
    assert hindrances(hours, 0, NEEDS) == ("the forecast ends before it has cured",)


def test_dampness_through_the_cure_on_both_sides_of_its_limit() -> None:
    needs = replace(NEEDS, humidity=None, dampest_while_curing=0.60)
    for humidity, reasons in ((0.60, ()), (0.61, ("too humid before it has cured",))):
        assert hindrances(day(MILD, MILD, (20.0, humidity, 4.0), MILD), 0, needs) == reasons


def test_the_coat_before_opens_and_closes_a_window() -> None:
    hour = datetime.timedelta(hours=1)
    needs = replace(NEEDS, recoat=(START + hour, START + 3 * hour))
    found = windows(day(*[MILD] * 8), needs)
    assert [(w.start.hour, w.end.hour, w.reasons) for w in found] == [
        (8, 9, ("too soon after the coat before",)),
        (9, 11, ()),
        (11, 13, ("too late after the coat before",)),
        (13, 16, ("too late after the coat before", "the forecast ends before it has cured")),
    ]


HEAD = "time,temperature degF,humidity %,wind kt\n"


def write(folder: Path, text: str) -> Path:
    path = folder / "forecast.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_units_stand_in_the_head(tmp_path: Path) -> None:
    (hour,) = read_forecast(write(tmp_path, "time,humidity %,temperature degC\n2026-05-02 09:00,50,20\n"))
    assert hour.celsius == pytest.approx(20.0)
    assert (hour.humidity, hour.wind) == (0.5, None)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "empty"),
        ("time,temperature degF\n", ":1: no column 'humidity'"),
        (HEAD, "no line below the first"),
        (HEAD + "2026-05-02 09:00,60\n", ":2: "),
        (HEAD + "nine o'clock,60,50,3\n", ":2: "),
        (HEAD + "2026-05-02T09:00+02:00,60,50,3\n", ":2: 2026-05-02T09:00+02:00 names a time zone"),
        (HEAD + "2026-05-02 09:00,warm,50,3\n", ":2: "),
        (HEAD + "2026-05-02 09:00,60,50,3\n2026-05-02 09:00,60,50,3\n", ":3: 2026-05-02 09:00:00 does not come after"),
        ("time,temperature,humidity %\n2026-05-02 09:00,60,50\n", ":2: "),
    ],
)
def test_what_is_no_forecast_is_told_by_line(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(UsageError) as raised:
        read_forecast(write(tmp_path, text))
    assert said in str(raised.value)


RECORDS = """\
aircraft: {name: Test, authority: US, stage: covering}
covering:
  products:
    - {id: BARE, what: cement without declared limits}
"""


def test_common_practice_stands_in_for_what_is_not_declared_and_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "records.yaml").write_text(RECORDS, encoding="utf-8")
    # 50 degF may be worked in and 49 may not; a night of 45 is warm enough, of 44 not: common practice, no source.
    lines = [
        "2026-05-02 09:00,49,40,3",
        "2026-05-02 10:00,50,40,3",
        "2026-05-03 04:00,45,60,3",
        "2026-05-03 11:00,60,40,3",
        "2026-05-04 03:00,60,40,3",  # holds for an hour: the cure of what is begun at 04:00 the day before just ends
    ]
    forecast = write(tmp_path, HEAD + "\n".join(lines) + "\n")
    assert main(["work-window", str(forecast), "--in", str(tmp_path)]) == 0
    shown = capsys.readouterr().out
    assert "air not below 50 degF: common practice, no source" in shown
    assert "09:00 to Sat 10:00  no: too cold" in shown
    assert "10:00 to Sun 04:00  WORK" in shown
    forecast.write_text(forecast.read_text().replace("04:00,45", "04:00,44"))
    main(["work-window", str(forecast), "--in", str(tmp_path)])
    assert "10:00 to Sun 04:00  no: too cold before it has cured" in capsys.readouterr().out


def test_an_unknown_product_is_exit_2(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "records.yaml").write_text(RECORDS, encoding="utf-8")
    forecast = write(tmp_path, HEAD + "2026-05-02 09:00,60,50,3\n")
    assert main(["work-window", str(forecast), "--product", "BARRE", "--in", str(tmp_path)]) == 2
    assert "did you mean 'BARE'?" in capsys.readouterr().err


LOGGED = """\
aircraft: {name: Test, authority: US, stage: covering}
covering:
  products:
    - {id: FILL, what: fill coat, manual: page 3, temperature: 50..90 degF, recoat: 2..4 h, cure: 1 h, cure_minimum: 50 degF}
  surfaces: [{id: WING, what: wing}]
  applications:
    - {id: A2, product: FILL, surface: WING, started: 2026-05-02 08:00, finished: 2026-05-02 09:00}
    - {id: A1, product: FILL, surface: WING, started: 2026-05-01 08:00, finished: 2026-05-01 09:00}
"""


def test_a_surface_brings_the_recoat_window_of_its_last_coat(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "records.yaml").write_text(LOGGED, encoding="utf-8")
    forecast = write(tmp_path, HEAD + "".join(f"2026-05-02 {hour}:00,60,50,3\n" for hour in range(10, 18)))
    assert main(["work-window", str(forecast), "--surface", "WING", "--in", str(tmp_path)]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert "the coat before is A2, finished 2026-05-02 09:00; 2..4 h after it: page 3" in shown
    assert "10:00 to Sat 11:00 no: too soon after the coat before" in shown
    assert "11:00 to Sat 13:00 WORK" in shown
    assert "13:00 to Sat 17:00 no: too late after the coat before" in shown


@pytest.mark.parametrize(
    ("surface", "records", "said"),
    [
        ("WIGN", LOGGED, "no surface 'WIGN' in the records; did you mean 'WING'?"),
        ("WING", LOGGED.replace(", finished: 2026-05-02 09:00", ""), "records.yaml:7:7: record 'finished' of A2"),
    ],
)
def test_a_surface_whose_log_says_nothing_is_exit_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], surface: str, records: str, said: str
) -> None:
    (tmp_path / "records.yaml").write_text(records, encoding="utf-8")
    forecast = write(tmp_path, HEAD + "2026-05-02 10:00,60,50,3\n")
    assert main(["work-window", str(forecast), "--surface", surface, "--in", str(tmp_path)]) == 2
    assert said in capsys.readouterr().err


def test_air_that_the_formula_does_not_cover_is_told_and_allows_nothing() -> None:
    wide = replace(NEEDS, celsius=(-60.0, 90.0))
    for celsius in (-50.0, 80.0):
        (reason, *_) = hindrances(day(*[(celsius, 0.5, 4.0)] * 9), 0, wide)
        assert "holds from" in reason


@pytest.mark.parametrize(
    ("humidity", "reasons"), [(0.2, ()), (0.199, ("too dry",)), (0.7, ()), (0.701, ("too humid",))]
)
def test_the_bounds_of_humidity_themselves_are_allowed(humidity: float, reasons: tuple[str, ...]) -> None:
    hours = day((29.0, humidity, 4.0), *[MILD] * 9)
    assert tuple(one for one in hindrances(hours, 0, NEEDS) if one in {"too dry", "too humid"}) == reasons
