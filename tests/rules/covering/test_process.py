"""Pot life as the product's manual declares it, and the order of the steps (common practice, no source)."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "own arithmetic": "covering/coats-counted covering/pot-life",
    "nothing computed": "covering/log-times covering/step-order covering/surface-logged",
}

NO_SUCH_CASE = {
    "covering/surface-logged": {"just over": "it asks for a record alone: one that is missing is no data"},
}

RECORDS = """
covering:
  products: [{{id: P, what: paint{product}}}]
  surfaces: [{{id: S, what: wing}}]
  applications:
    - {{id: A, product: P, surface: S, started: 2026-05-02 09:00{first}}}
    - {{id: B, product: P, surface: S, started: 2026-05-03 09:00{second}}}
"""


def records(product: str = "", first: str = "", second: str = "") -> str:
    return RECORDS.format(product=product, first=first, second=second)


@pytest.mark.parametrize(
    ("finished", "verdict", "margin"),
    [("11:30", Verdict.PASS, 0.25), ("12:30", Verdict.PASS, 0.0), ("12:31", Verdict.FAIL, -1 / 240)],
)
def test_pot_life_passes_to_the_minute_and_fails_a_minute_later(finished: str, verdict: Verdict, margin: float) -> None:
    # Mixed at 08:30 with a pot life of 4 h: good until 12:30.
    entry = f", mixed: 2026-05-02 08:30, finished: 2026-05-02 {finished}"
    finding = the_finding("covering/pot-life", records(", pot_life: 4 h", entry, entry), "A")
    assert finding.verdict is verdict
    assert finding.margin == pytest.approx(margin)
    assert finding.where[0].position.line == 7


def test_pot_life_without_data() -> None:
    unknown = the_finding("covering/pot-life", records("", ", mixed: 2026-05-02 08:30"), "A")
    unlogged = the_finding("covering/pot-life", records(", pot_life: 4 h", ", finished: 2026-05-02 10:00"), "A")
    assert (unknown.verdict, unlogged.verdict) == (Verdict.NO_DATA, Verdict.NO_DATA)
    assert "when the pot was mixed" in unlogged.message


def test_ready_products_have_no_pot() -> None:
    assert findings("covering/pot-life", records())[0].verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("first", "second", "verdicts"),
    [
        ("step: fill, coat: 1", "step: fill, coat: 2", [Verdict.PASS, Verdict.PASS]),
        ("step: fill, coat: 1", "step: build, coat: 1", [Verdict.PASS, Verdict.PASS]),  # each step counts its own
        ("step: fill, coat: 1", "step: fill, coat: 3", [Verdict.PASS, Verdict.WARN]),
        ("step: fill, coat: 2", "step: fill, coat: 1", [Verdict.WARN, Verdict.WARN]),
        ("step: fill, coat: 2", "step: build, coat: 1", [Verdict.WARN, Verdict.PASS]),
        ("step: fill, coat: 1", "step: fill", [Verdict.PASS, Verdict.NO_DATA]),
        ("step: fill", "step: fill", [Verdict.NOT_APPLICABLE]),
    ],
)
def test_coats_follow_one_another(first: str, second: str, verdicts: list[Verdict]) -> None:
    found = findings("covering/coats-counted", records(first=f", {first}", second=f", {second}"))
    assert [finding.verdict for finding in found] == verdicts


@pytest.mark.parametrize(
    ("first", "second", "verdict"),
    [
        ("cement", "fill", Verdict.PASS),
        ("fill", "fill", Verdict.PASS),
        ("fill", "cement", Verdict.WARN),
        ("fill", "repair", Verdict.NOT_APPLICABLE),
    ],
)
def test_steps_in_order(first: str, second: str, verdict: Verdict) -> None:
    text = records(first=f", step: {first}", second=f", step: {second}")
    assert the_finding("covering/step-order", text, "B").verdict is verdict


def test_an_unnamed_step_is_no_data() -> None:
    assert the_finding("covering/step-order", records(), "A").verdict is Verdict.NO_DATA


TIMES = """
covering:
  products: [{{id: P, what: paint}}]
  surfaces: [{{id: S, what: wing}}]
  batches: [{{id: B, product: P, made: {made}}}]
  applications:
    - {{id: A, product: P, surface: S, batch: B, started: {day} 09:00{times}}}
"""


@pytest.mark.parametrize(
    ("times", "day", "made", "verdict"),
    [
        (", mixed: 2026-05-02 08:30, finished: 2026-05-02 10:00", "2026-05-02", "2026-05-01", Verdict.PASS),
        (", mixed: 2026-05-02 09:00, finished: 2026-05-02 09:00", "2026-05-02", "2026-05-02", Verdict.PASS),
        (", mixed: 2026-05-02 09:01", "2026-05-02", "2026-05-01", Verdict.FAIL),
        (", finished: 2026-05-02 08:59", "2026-05-02", "2026-05-01", Verdict.FAIL),
        ("", "2026-06-01", "2026-05-01", Verdict.PASS),  # the day of judging
        (", finished: 2026-06-01 23:59", "2026-06-01", "2026-05-01", Verdict.PASS),
        (", finished: 2026-06-02 00:00", "2026-06-01", "2026-05-01", Verdict.FAIL),
        ("", "2026-06-02", "2026-05-01", Verdict.FAIL),
        ("", "2026-05-02", "2026-05-03", Verdict.FAIL),
    ],
)
def test_the_log_runs_forward(times: str, day: str, made: str, verdict: Verdict) -> None:
    finding = the_finding("covering/log-times", TIMES.format(times=times, day=day, made=made), "A")
    assert finding.verdict is verdict, finding.message
    assert finding.where[0].position.line == 8


def test_a_log_without_entries_has_no_times() -> None:
    assert findings("covering/log-times", "covering: {products: []}\n")[0].verdict is Verdict.NO_DATA


@pytest.mark.parametrize(
    ("logged", "verdict"),
    [("[{id: A, product: P, surface: S, started: 2026-05-02 09:00}]", Verdict.PASS), ("[]", Verdict.NO_DATA)],
)
def test_every_surface_is_in_the_log(logged: str, verdict: Verdict) -> None:
    text = f"covering:\n  products: [{{id: P, what: paint}}]\n  surfaces: [{{id: S, what: wing}}]\n  applications: {logged}\n"
    (finding,) = findings("covering/surface-logged", text)
    assert (finding.subject, finding.verdict, finding.where[0].position.line) == ("S", verdict, 4)


def test_no_surface_at_all_is_no_data_but_for_metal() -> None:
    (finding,) = findings("covering/surface-logged", "covering: {products: []}\n")
    assert finding.verdict is Verdict.NO_DATA
    metal = "aircraft: {name: T, authority: US, stage: operating, covering: metal}\ncovering: {products: []}\n"
    assert [f.verdict for f in findings("covering/surface-logged", metal)] == [Verdict.NOT_APPLICABLE]
