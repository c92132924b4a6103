"""The covering log against declared limits, and the dew point against published readings and a reference library."""

from __future__ import annotations

import psychrolib
import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "psychrolib": "covering/dew-point",
    "iso-8502-4": "covering/dew-point",
    "own arithmetic": "covering/humidity covering/overnight covering/recoat covering/shelf-life covering/temperature",
    "nothing computed": "covering/declared-page",
}

ASKED = "it asks for a record alone: one that is missing is no data"
NO_SUCH_CASE = {
    "covering/declared-page": {"just over": ASKED},
}

TEMPERATURE, HUMIDITY, DEW = "covering/temperature", "covering/humidity", "covering/dew-point"
NIGHT, RECOAT, SHELF = "covering/overnight", "covering/recoat", "covering/shelf-life"

LOG = """
covering:
  products:
    - {{id: CEMENT, what: cement{product}}}
    - {{id: OTHER, what: other}}
  surfaces: [{{id: WING, what: wing}}, {{id: TAIL, what: tail}}]
  batches:
    - {{id: B1, product: CEMENT{batch}}}
    - {{id: B2, product: OTHER, expires: 2027-01-01}}
  applications:
    - {{id: A1, product: CEMENT, surface: WING, started: 2026-05-03 09:30{entry}}}
"""
PRODUCT_LINE, BATCH_LINE, ENTRY_LINE = 4, 8, 11  # the text's empty first line takes the place of the aircraft's


def log(*, product: str = "", batch: str = "", entry: str = "", more: str = "") -> str:
    """The log with further fields, each written `name: value`, and further applications."""
    parts = {"product": product, "batch": batch, "entry": entry}
    return LOG.format(**{name: f", {fields}" if fields else "" for name, fields in parts.items()}).lstrip("\n") + more


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


def measured(finding: Finding) -> float:
    assert finding.measured is not None
    return finding.measured.value


def bound(finding: Finding) -> float:
    assert finding.limit is not None
    return finding.limit.value


@pytest.mark.parametrize("rule", [TEMPERATURE, HUMIDITY, DEW, NIGHT, RECOAT, SHELF])
@pytest.mark.parametrize("records", ["covering: {products: []}", "fuel: {tanks: []}"])
def test_an_empty_log_is_no_data(rule: str, records: str) -> None:
    assert [f.verdict for f in findings(rule, records)] == [Verdict.NO_DATA]


# Limits as a builder would declare them from a manual; the figures are the test's own.
@pytest.mark.parametrize(
    ("logged", "verdict", "limit", "margin"),
    [
        pytest.param("64 degF", Verdict.PASS, 50, 14 / 50, id="passes"),
        pytest.param("50 degF", Verdict.PASS, 50, 0, id="exactly at the low limit"),
        pytest.param("49.9 degF", Verdict.FAIL, 50, -0.1 / 50, id="just under"),
        pytest.param("95 degF", Verdict.PASS, 95, 0, id="exactly at the high limit"),
        pytest.param("95.1 degF", Verdict.FAIL, 95, -0.1 / 95, id="just over"),
        pytest.param("10 degC", Verdict.PASS, 50, 0, id="exactly at the low limit in Celsius"),
        pytest.param("35.1 degC", Verdict.FAIL, 95, -0.18 / 95, id="just over in Celsius"),
    ],
)
def test_temperature(logged: str, verdict: Verdict, limit: float, margin: float) -> None:
    finding = the_finding(TEMPERATURE, log(product="temperature: 50..95 degF", entry=f"temperature: {logged}"), "A1")
    assert finding.verdict is verdict
    assert bound(finding) == pytest.approx(limit)
    assert finding.margin == pytest.approx(margin, abs=1e-7)
    assert finding.message == f"{logged} while CEMENT was applied; its manual allows 50..95 degF"
    assert lines(finding) == [ENTRY_LINE, PRODUCT_LINE]


@pytest.mark.parametrize(
    ("logged", "verdict", "limit", "margin"),
    [
        pytest.param("40 %", Verdict.PASS, 20, 1, id="passes"),
        pytest.param("80 %", Verdict.PASS, 80, 0, id="exactly at the high limit"),
        pytest.param("80.1 %", Verdict.FAIL, 80, -0.1 / 80, id="just over"),
        pytest.param("20 %", Verdict.PASS, 20, 0, id="exactly at the low limit"),
        pytest.param("19.9 %", Verdict.FAIL, 20, -0.1 / 20, id="just under"),
    ],
)
def test_humidity(logged: str, verdict: Verdict, limit: float, margin: float) -> None:
    finding = the_finding(HUMIDITY, log(product="humidity: 20..80 %", entry=f"humidity: {logged}"), "A1")
    assert finding.verdict is verdict
    assert bound(finding) == pytest.approx(limit)
    assert finding.margin == pytest.approx(margin, abs=1e-7)
    assert lines(finding) == [ENTRY_LINE, PRODUCT_LINE]


@pytest.mark.parametrize(
    ("rule", "records", "words", "line"),
    [
        (TEMPERATURE, log(product="temperature: 50..95 degF"), "the temperature was not logged", ENTRY_LINE),
        (
            TEMPERATURE,
            log(entry="temperature: 64 degF"),
            "the temperature limits of CEMENT are not declared",
            PRODUCT_LINE,
        ),
        (HUMIDITY, log(product="humidity: 20..80 %"), "the humidity was not logged", ENTRY_LINE),
        (HUMIDITY, log(entry="humidity: 50 %"), "the humidity limits of CEMENT are not declared", PRODUCT_LINE),
        (DEW, log(entry="humidity: 50 %"), "the temperature was not logged", ENTRY_LINE),
        (DEW, log(entry="temperature: 64 degF"), "the humidity was not logged", ENTRY_LINE),
        (
            NIGHT,
            log(product="overnight_minimum: 45 degF"),
            "the coldest of the night that followed was not logged",
            ENTRY_LINE,
        ),
        (SHELF, log(batch="expires: 2027-01-01"), "which batch was used is not recorded", ENTRY_LINE),
    ],
)
def test_without_data(rule: str, records: str, words: str, line: int) -> None:
    finding = the_finding(rule, records, "A1")
    assert (finding.verdict, finding.message) == (Verdict.NO_DATA, words)
    assert lines(finding)[0] == line


@pytest.mark.parametrize(
    ("air", "words"),
    [
        ("temperature: 51 degC, humidity: 50 %", "the dew-point formula holds from -40 to 50 degC, not at 51.0 degC"),
        ("temperature: 20 degC, humidity: 0 %", "a relative humidity lies above 0 % and up to 100 %, not at 0 %"),
    ],
)
def test_outside_the_formula_there_is_no_dew_point(air: str, words: str) -> None:
    finding = the_finding(DEW, log(entry=air), "A1")
    assert (finding.verdict, finding.message) == (Verdict.NO_DATA, words)


def dew(air: str, surface: str, declared: str = "") -> Finding:
    """The finding for air and a surface temperature, with or without a declared margin."""
    margin = f"dew_point_margin: {declared}" if declared else ""
    entry = f"{air}, surface_temperature: {surface}"
    return the_finding(DEW, log(product=margin, entry=entry), "A1")


# Two readings off a dew-point chart, printed as examples of the 3 degC margin; the chart is read to a whole degree.
@pytest.mark.parametrize(
    ("declared", "verdict"),
    [
        pytest.param("", Verdict.WARN, id="customary margin only warns"),
        pytest.param("3 degC", Verdict.FAIL, id="declared margin fails"),
        pytest.param("2 degC", Verdict.PASS, id="declared margin passes"),
    ],
)
def test_published_chart_reading_too_close(declared: str, verdict: Verdict) -> None:
    # 16 degC and 71 %: dew point 11 degC; the surface at 13 degC is 2 degC above it.
    finding = dew("temperature: 16 degC, humidity: 71 %", "13 degC", declared)
    assert finding.verdict is verdict
    assert 13 - measured(finding) == pytest.approx(11, abs=0.5)
    assert bound(finding) == pytest.approx(float(declared.split(maxsplit=1)[0]) if declared else 3)
    assert finding.margin == pytest.approx((measured(finding) - bound(finding)) / bound(finding))
    assert lines(finding) == [ENTRY_LINE, PRODUCT_LINE]


def test_published_chart_reading_far_enough() -> None:
    # Dry bulb 21, wet bulb 17 degC: dew point 15 degC; the surface at 19 degC is 4 degC above it. The humidity that
    # belongs to the two bulbs comes from a psychrometric library, at sea level.
    psychrolib.SetUnitSystem(psychrolib.SI)
    humidity = psychrolib.GetRelHumFromTWetBulb(21.0, 17.0, 101325.0) * 100
    finding = dew(f"temperature: 21 degC, humidity: {humidity:.2f} %", "19 degC")
    assert finding.verdict is Verdict.PASS
    assert 19 - measured(finding) == pytest.approx(15, abs=0.5)


# Dew points above freezing: below, the library gives the frost point, which is another thing.
@pytest.mark.parametrize(
    ("celsius", "humidity"), [(5, 90), (10, 71), (10, 90), (16, 50), (16, 71), (25, 30), (25, 60), (35, 30), (35, 90)]
)
def test_the_dew_point_agrees_with_a_psychrometric_library(celsius: float, humidity: float) -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    expected = psychrolib.GetTDewPointFromRelHum(celsius, humidity / 100)
    finding = dew(f"temperature: {celsius} degC, humidity: {humidity} %", f"{celsius} degC")
    # Sets of Magnus constants agree within 0.03 degC; the library solves the full saturation curve.
    assert celsius - measured(finding) == pytest.approx(expected, abs=0.06)


# Saturated air is at its dew point by definition, whatever the formula.
@pytest.mark.parametrize(
    ("surface", "declared", "verdict", "margin"),
    [
        pytest.param("19 degC", "", Verdict.PASS, 0, id="exactly at the customary margin"),
        pytest.param("18.99 degC", "", Verdict.WARN, -0.01 / 3, id="just under it only warns"),
        pytest.param("19 degC", "3 degC", Verdict.PASS, 0, id="exactly at the declared margin"),
        pytest.param("18.99 degC", "3 degC", Verdict.FAIL, -0.01 / 3, id="just under the declared margin"),
        pytest.param("65.8 degF", "5 degF", Verdict.PASS, 0, id="exactly at a margin in Fahrenheit"),  # 60.8 + 5
        pytest.param("65.7 degF", "5 degF", Verdict.FAIL, -0.1 / 5, id="just under a margin in Fahrenheit"),
    ],
)
def test_dew_point_at_the_limit(surface: str, declared: str, verdict: Verdict, margin: float) -> None:
    finding = dew("temperature: 16 degC, humidity: 100 %", surface, declared)
    assert finding.verdict is verdict
    assert finding.margin == pytest.approx(margin, abs=1e-9)
    assert finding.message.endswith(f"; {declared or '3 degC by common practice'} is asked for")


def test_without_a_surface_temperature_the_airs_counts() -> None:
    finding = the_finding(DEW, log(entry="temperature: 16 degC, humidity: 100 %"), "A1")
    assert finding.verdict is Verdict.WARN
    assert measured(finding) == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("low", "declared", "verdict", "margin"),
    [
        pytest.param("54 degF", "45 degF", Verdict.PASS, 9 / 45, id="passes"),
        pytest.param("45 degF", "45 degF", Verdict.PASS, 0, id="exactly at it"),
        pytest.param("44.9 degF", "45 degF", Verdict.FAIL, -0.1 / 45, id="just under"),
        pytest.param("10 degC", "50 degF", Verdict.PASS, 0, id="exactly at it in Celsius"),
        pytest.param("45 degF", "", Verdict.PASS, 0, id="exactly at common practice"),
        pytest.param("44.9 degF", "", Verdict.WARN, -0.1 / 45, id="just under common practice only warns"),
        pytest.param("44.9 degF", "40 degF", Verdict.PASS, 4.9 / 40, id="the declared limit comes first"),
    ],
)
def test_overnight(low: str, declared: str, verdict: Verdict, margin: float) -> None:
    product = f"overnight_minimum: {declared}" if declared else ""
    finding = the_finding(NIGHT, log(product=product, entry=f"overnight_low: {low}"), "A1")
    assert finding.verdict is verdict
    assert finding.margin == pytest.approx(margin, abs=1e-7)
    assert finding.message == f"the night fell to {low}; CEMENT wants {declared or '45 degF by common practice'}"
    assert lines(finding) == [ENTRY_LINE, PRODUCT_LINE]


def second(started: str, *, product: str = "CEMENT", surface: str = "WING") -> str:
    return f"    - {{id: A2, product: {product}, surface: {surface}, started: {started}}}\n"


FINISHED = "finished: 2026-05-03 11:00"


@pytest.mark.parametrize(
    ("started", "hours", "limit", "verdict"),
    [
        pytest.param("2026-05-03 15:00", 4, 2, Verdict.PASS, id="passes"),
        pytest.param("2026-05-03 13:00", 2, 2, Verdict.PASS, id="exactly at the earliest"),
        pytest.param("2026-05-03 12:59", 119 / 60, 2, Verdict.FAIL, id="just too early"),
        pytest.param("2026-05-05 11:00", 48, 48, Verdict.PASS, id="exactly at the latest"),
        pytest.param("2026-05-05 11:01", 48 + 1 / 60, 48, Verdict.FAIL, id="just too late"),
        pytest.param("2026-05-03 10:00", -1, 2, Verdict.FAIL, id="before the coat below was finished"),
    ],
)
def test_recoat(started: str, hours: float, limit: float, verdict: Verdict) -> None:
    finding = the_finding(RECOAT, log(product="recoat: 2..48 h", entry=FINISHED, more=second(started)), "A2")
    assert finding.verdict is verdict
    assert measured(finding) == pytest.approx(hours)
    assert bound(finding) == limit
    assert finding.margin == pytest.approx(abs(hours - limit) / limit * (-1 if verdict is Verdict.FAIL else 1))
    assert finding.message == f"{hours:.1f} h after A1; the window of CEMENT is 2..48 h"
    assert lines(finding) == [ENTRY_LINE + 1, PRODUCT_LINE]


def test_coats_are_put_in_order_of_time_not_of_writing() -> None:
    earlier = "    - {id: A9, product: CEMENT, surface: WING, started: 2026-05-03 05:00, finished: 2026-05-03 06:30}\n"
    found = {f.subject: f for f in findings(RECOAT, log(product="recoat: 2..48 h", entry=FINISHED, more=earlier))}
    assert found["A9"].verdict is Verdict.NOT_APPLICABLE
    assert measured(found["A1"]) == pytest.approx(3)


@pytest.mark.parametrize(("product", "surface"), [("CEMENT", "TAIL"), ("OTHER", "WING")])
def test_the_first_coat_of_a_product_on_a_surface_has_no_window(product: str, surface: str) -> None:
    other = second("2026-05-03 11:01", product=product, surface=surface)
    found = findings(RECOAT, log(product="recoat: 2..48 h", entry=FINISHED, more=other))
    assert [(f.subject, f.verdict) for f in found] == [("A1", Verdict.NOT_APPLICABLE), ("A2", Verdict.NOT_APPLICABLE)]


@pytest.mark.parametrize(
    ("product", "entry", "words", "line"),
    [
        ("", FINISHED, "the recoat window of CEMENT is not declared", PRODUCT_LINE),
        ("recoat: 2..48 h", "", "when A1 was finished is not logged", ENTRY_LINE),
    ],
)
def test_recoat_without_data(product: str, entry: str, words: str, line: int) -> None:
    finding = the_finding(RECOAT, log(product=product, entry=entry, more=second("2026-05-03 15:00")), "A2")
    assert (finding.verdict, finding.message) == (Verdict.NO_DATA, words)
    assert lines(finding)[0] == line


# Used on 3 May 2026. 100 days from 23 January: 8 in January, 28, 31, 30 make 97 by 30 April; the hundredth is 3 May.
@pytest.mark.parametrize(
    ("batch", "days", "verdict"),
    [
        # 28 of May, then 30, 31, 31, 30, 31, 30, 31 to the end of the year, and 15.
        pytest.param("expires: 2027-01-15", -257, Verdict.PASS, id="passes"),
        pytest.param("expires: 2026-05-03", 0, Verdict.PASS, id="exactly on the last day"),
        pytest.param("expires: 2026-05-02", 1, Verdict.FAIL, id="just a day over"),
        pytest.param("made: 2026-01-24", -1, Verdict.PASS, id="by shelf life, passes"),
        pytest.param("made: 2026-01-23", 0, Verdict.PASS, id="by shelf life, exactly on the last day"),
        pytest.param("made: 2026-01-22", 1, Verdict.FAIL, id="by shelf life, just a day over"),
        pytest.param("made: 2025-01-01, expires: 2026-05-03", 0, Verdict.PASS, id="the printed day comes first"),
        pytest.param("made: 2026-05-01, expires: 2026-05-02", 1, Verdict.FAIL, id="the printed day comes first, over"),
    ],
)
def test_shelf_life(batch: str, days: int, verdict: Verdict) -> None:
    finding = the_finding(SHELF, log(product="shelf_life: 100 day", batch=batch, entry="batch: B1"), "A1")
    assert finding.verdict is verdict
    assert (measured(finding), bound(finding)) == (days, 0)
    assert lines(finding) == [ENTRY_LINE, BATCH_LINE, *([] if "expires" in batch else [PRODUCT_LINE])]


def test_the_last_day_by_shelf_life_is_said() -> None:
    finding = the_finding(SHELF, log(product="shelf_life: 100 day", batch="made: 2026-01-22", entry="batch: B1"), "A1")
    assert finding.message == "batch B1 may be used until 2026-05-02, and was used on 2026-05-03"
    assert finding.margin is None


@pytest.mark.parametrize(("product", "batch"), [("shelf_life: 100 day", ""), ("", "made: 2026-01-24"), ("", "")])
def test_shelf_life_without_data(product: str, batch: str) -> None:
    finding = the_finding(SHELF, log(product=product, batch=batch, entry="batch: B1"), "A1")
    assert finding.verdict is Verdict.NO_DATA
    assert finding.message == "neither a last day of use nor day made and shelf life are recorded for batch B1"
    assert lines(finding) == [BATCH_LINE]


def test_a_batch_of_another_product_fails() -> None:
    finding = the_finding(SHELF, log(entry="batch: B2"), "A1")
    assert (finding.verdict, finding.message) == (Verdict.FAIL, "batch B2 is OTHER, and CEMENT was applied")
    assert lines(finding) == [ENTRY_LINE, BATCH_LINE + 1]


def test_a_margin_declared_below_the_dew_point_is_no_margin() -> None:
    entry = "temperature: 20 degC, humidity: 50 %"
    for margin, verdict in (("0 degC", Verdict.PASS), ("-1 degC", Verdict.NO_DATA)):
        found = the_finding(DEW, log(product=f"dew_point_margin: {margin}", entry=entry), "A1")
        assert found.verdict is verdict


@pytest.mark.parametrize(
    ("product", "verdict"),
    [
        ("manual: page 18, recoat: 2..48 h", Verdict.PASS),
        ("manual: page 18, mix: [4, 1]", Verdict.PASS),
        ("recoat: 2..48 h", Verdict.NO_DATA),
        ("least_peel: 2 lb/in", Verdict.NO_DATA),
        ("", Verdict.NOT_APPLICABLE),
    ],
)
def test_declared_limits_name_their_page(product: str, verdict: Verdict) -> None:
    finding = the_finding("covering/declared-page", log(product=product), "CEMENT")
    assert finding.verdict is verdict
    assert lines(finding) == [PRODUCT_LINE]


def test_no_log_has_no_limits_to_name() -> None:
    assert findings("covering/declared-page", "covering: {products: []}")[0].verdict is Verdict.NO_DATA
