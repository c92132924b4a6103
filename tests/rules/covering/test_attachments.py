"""Laces, cord and tapes against AC 43.13-1B table 2-2 and paragraphs 2-5, 2-11 and 2-13; the rib's cap is common practice."""

from __future__ import annotations

from pathlib import Path

import pytest

import jurystrut_rules
from jurystrut.rulebook import Verdict, read_table
from jurystrut.testing import findings, record_line, the_finding
from jurystrut_rules.covering.attachments import cord_table

ORACLES = {
    "ac43-figure-2-12": "covering/attachment-spacing",
    "ac43-table-2-2": "covering/cord-strength",
    "ac43-2-11": "covering/first-lace",
    "ac43-2-13": "covering/surface-tape",
    "own arithmetic": "covering/reinforcing-tape",
    "nothing computed": "covering/cord-fibre covering/taut-first",
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
Changes = dict[str, str | None]

LACING = {
    "day": "2026-05-03",
    "first": "1.2 in",
    "cord": "polyester",
    "cord_strength": "45 lb",
    "reinforcing_width": "0.6 in",
    "rib_cap": "0.5 in",
    "tape_beside": "0.9 in",
    "tape_beyond": "1 in",
}


def records(changes: Changes, fibre: str = ", fibre: polyester", shrunk: str = "2026-05-02") -> str:
    lacing = record_line(LACING, **changes)
    return f"""\
covering:
  cloths: [{{id: C, what: cloth{fibre}}}]
  surfaces:
    - {{id: X, what: wing, cloth: C, lacing_spacing: 2.5 in, lacing: {lacing}}}
  shrinkings:
    - {{id: S1, surface: X, day: {shrunk}}}
    - {{id: S0, surface: X, day: 2026-04-01}}
"""


# Table 2-2 as printed, in an order of our own: hand thread, machine thread, prewaxed, high tenacity, braided.
TABLE = {
    "hand-sewing thread": 14,
    "machine thread": 5,
    "cotton cord, prewaxed": 40,
    "high-tenacity thread": 62,
    "cotton cord, braided": 80,
}


def test_table_2_2() -> None:
    assert {item: cord_table(item) for item in TABLE} == TABLE
    path = Path(jurystrut_rules.__file__).parent / "tables/covering/table_2_2.yaml"
    assert len(read_table(path).rows) == len(TABLE)


@pytest.mark.parametrize(
    ("rule", "changes", "verdict", "measured", "limit"),
    [
        ("cord-strength", {}, PASS, 45, 40),
        ("cord-strength", {"cord_strength": "40 lb"}, PASS, 40, 40),
        ("cord-strength", {"cord_strength": "39 lb"}, FAIL, 39, 40),
        # half of 2.5 in
        ("first-lace", {}, PASS, 1.2, 1.25),
        ("first-lace", {"first": "1.25 in"}, PASS, 1.25, 1.25),
        ("first-lace", {"first": "1.26 in"}, WARN, 1.26, 1.25),
        ("reinforcing-tape", {}, PASS, 0.6, 0.5),
        ("reinforcing-tape", {"rib_cap": "0.6 in"}, PASS, 0.6, 0.6),
        ("reinforcing-tape", {"rib_cap": "0.61 in"}, WARN, 0.6, 0.61),
        ("surface-tape", {}, PASS, 1, 0.5),
        ("surface-tape", {"tape_beside": "3/8 in", "tape_beyond": "1/2 in"}, PASS, 0.5, 0.5),
        ("surface-tape", {"tape_beside": "0.37 in"}, FAIL, 0.37, 0.375),
        ("surface-tape", {"tape_beyond": "0.49 in"}, FAIL, 0.49, 0.5),
    ],
)
def test_against_its_limit(rule: str, changes: Changes, verdict: Verdict, measured: float, limit: float) -> None:
    finding = the_finding(f"covering/{rule}", records(changes), "X")
    assert finding.verdict is verdict, finding.message
    assert finding.measured
    assert finding.limit
    assert finding.measured.value == pytest.approx(measured)
    assert finding.limit.value == pytest.approx(limit)
    assert finding.where[0].position.line == 5


@pytest.mark.parametrize(
    ("rule", "field"),
    [
        ("cord-fibre", "cord"),
        ("cord-strength", "cord_strength"),
        ("first-lace", "first"),
        ("reinforcing-tape", "rib_cap"),
        ("reinforcing-tape", "reinforcing_width"),
        ("surface-tape", "tape_beside"),
        ("surface-tape", "tape_beyond"),
        ("taut-first", "day"),
    ],
)
def test_what_is_not_recorded_is_named(rule: str, field: str) -> None:
    finding = the_finding(f"covering/{rule}", records({field: None}), "X")
    assert finding.verdict is NO_DATA
    assert f"'{field}' of its lacing" in finding.message


RULES = ("cord-fibre", "cord-strength", "first-lace", "reinforcing-tape", "surface-tape", "taut-first")


@pytest.mark.parametrize("rule", RULES)
def test_a_spacing_without_a_record_of_the_lacing_is_no_pass(rule: str) -> None:
    bare = "covering:\n  surfaces:\n    - {id: X, what: wing, lacing_spacing: 2.5 in}\n"
    finding = the_finding(f"covering/{rule}", bare, "X")
    assert finding.verdict is NO_DATA
    assert finding.where[0].position.line == 4
    (none,) = findings(f"covering/{rule}", bare.replace(", lacing_spacing: 2.5 in", ""))
    assert none.verdict is NO_DATA


@pytest.mark.parametrize(
    ("cord", "fibre", "verdict"),
    [
        ("polyester", "polyester", PASS),
        ("cotton", "polyester", FAIL),
        ("linen", "glass", FAIL),
        ("cotton", "cotton", PASS),
        ("linen", "cotton", PASS),
    ],
)
def test_cotton_and_linen_hold_no_polyester(cord: str, fibre: str, verdict: Verdict) -> None:
    assert the_finding("covering/cord-fibre", records({"cord": cord}, f", fibre: {fibre}"), "X").verdict is verdict


def test_cord_in_a_fabric_of_unknown_fibre() -> None:
    assert the_finding("covering/cord-fibre", records({}, ""), "X").verdict is NO_DATA


@pytest.mark.parametrize(("shrunk", "verdict"), [("2026-05-02", PASS), ("2026-05-03", PASS), ("2026-05-04", FAIL)])
def test_taut_before_laced_the_last_tautening_counts(shrunk: str, verdict: Verdict) -> None:
    assert the_finding("covering/taut-first", records({}, shrunk=shrunk), "X").verdict is verdict


def test_tautening_that_is_not_logged_or_not_done_with_an_iron() -> None:
    without = records({}).partition("  shrinkings")[0]
    assert the_finding("covering/taut-first", without, "X").verdict is NO_DATA
    assert the_finding("covering/taut-first", records({}, ", fibre: cotton"), "X").verdict is APART


@pytest.mark.parametrize(
    ("outside", "verdicts"),
    [
        ("spacing_outside: 3.5 in, limit_outside: 3.5 in", [PASS, PASS, PASS]),
        ("spacing_outside: 3.51 in, limit_outside: 3.5 in", [PASS, PASS, FAIL]),
        ("spacing_outside: 2 in, limit_outside: 2 in", [PASS, PASS, PASS, FAIL]),  # the readings exchanged
        ("spacing_outside: 3 in", [PASS, PASS, NO_DATA]),
        ("day: 2026-05-03", [PASS, PASS]),
    ],
)
def test_outside_the_slipstream_the_other_curve_counts(outside: str, verdicts: list[Verdict]) -> None:
    found = findings(
        "covering/attachment-spacing",
        f"""\
aircraft: {{name: T, authority: US, stage: operating, limits: {{never_exceed_speed: 138 kt}}}}
covering:
  surfaces:
    - {{id: X, what: wing, lacing_spacing: 2.5 in, lacing_limit: 2.5 in, lacing_limit_speed: 138 kt,
       lacing_limit_from: figure 2-12, lacing: {{{outside}}}}}
""",
    )
    assert [finding.verdict for finding in found] == verdicts
