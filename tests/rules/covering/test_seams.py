"""Seams and laps against AC 43.13-1B paragraph 2-7 (read, but for the doped leading edge, which is from memory)."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, record_line, the_finding

ORACLES = {
    "ac43-2-7-a": "covering/hand-stitch covering/seam-tape",
    "ac43-2-7-b": "covering/doped-seam-speed covering/seam-overlap covering/seam-tape",
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
Changes = dict[str, str | None]
DOPED: Changes = {"kind": "doped", "place": "perimeter", "overlap": "1 in", "tape_width": "3 in"}
CEMENTED: Changes = {
    "kind": "cemented",
    "place": "leading-edge",
    "overlap": "2 in",
    "least_overlap": "2 in",
    "tape_width": "4 in",
    "least_tape": "4 in",
    "manual": "page 21",
}
HAND: Changes = {
    "kind": "hand-sewn",
    "place": "trailing-edge",
    "stitches_per_inch": "4",
    "lock_every": "10",
    "fold": "3/8 in",
}


def records(changes: Changes, speed: str = "never_exceed_speed: 150 mph") -> str:
    return f"""\
aircraft: {{name: T, authority: US, stage: operating, limits: {{{speed}}}}}
covering:
  seams:
    - {record_line({"id": "X"}, **changes)}
"""


@pytest.mark.parametrize(
    ("rule", "changes", "verdict", "limit"),
    [
        # a doped lap at a perimeter: 1 in, under tape of 3 in
        ("overlap", {"overlap": "1.5 in"}, PASS, 1),
        ("overlap", {}, PASS, 1),
        ("overlap", {"overlap": "0.99 in"}, FAIL, 1),
        ("overlap", {"place": "fuselage", "overlap": "0.9 in"}, FAIL, 1),
        ("overlap", {"place": "trailing-edge", "overlap": "0.9 in"}, FAIL, 1),
        # at a leading edge 4 in, from memory: a warning at most
        ("overlap", {"place": "leading-edge", "overlap": "3.9 in"}, WARN, 4),
        ("overlap", {"place": "leading-edge", "overlap": "4 in"}, PASS, 4),
        # what its manual declares decides, to either side
        ("overlap", CEMENTED, PASS, 2),
        ("overlap", {**CEMENTED, "overlap": "1.99 in"}, FAIL, 2),
        ("overlap", {"least_overlap": "0.5 in", "manual": "page 4", "overlap": "0.5 in"}, PASS, 0.5),
        ("tape", {"tape_width": "4 in"}, PASS, 3),
        ("tape", {}, PASS, 3),
        ("tape", {"tape_width": "2.9 in"}, FAIL, 3),
        ("tape", {"place": "leading-edge", "tape_width": "3 in"}, WARN, 4),
        ("tape", CEMENTED, PASS, 4),
        ("tape", {**CEMENTED, "tape_width": "3.9 in"}, FAIL, 4),
        # sewn: 4 in at the leading edge, 3 in at the trailing edge
        ("tape", {"kind": "machine-sewn", "place": "leading-edge", "tape_width": "4 in"}, PASS, 4),
        ("tape", {"kind": "machine-sewn", "place": "leading-edge", "tape_width": "3.9 in"}, FAIL, 4),
        ("tape", {"kind": "hand-sewn", "place": "trailing-edge", "tape_width": "3 in"}, PASS, 3),
        ("tape", {"kind": "hand-sewn", "place": "trailing-edge", "tape_width": "2.9 in"}, FAIL, 3),
    ],
)
def test_overlap_and_tape(rule: str, changes: Changes, verdict: Verdict, limit: float) -> None:
    finding = the_finding(f"covering/seam-{rule}", records({**DOPED, **changes}), "X")
    assert finding.verdict is verdict, finding.message
    assert finding.limit
    assert finding.limit.value == pytest.approx(limit)
    assert finding.where[0].position.line == 4


@pytest.mark.parametrize(
    ("rule", "changes", "verdict", "words"),
    [
        ("overlap", {"overlap": None}, NO_DATA, "'overlap' is not recorded"),
        ("overlap", {"kind": None}, NO_DATA, "'kind' is not recorded"),
        ("overlap", {"place": None}, NO_DATA, "'place' is not recorded"),
        ("overlap", {"place": "other"}, APART, "gives no figure for a doped seam at other"),
        ("overlap", {"kind": "machine-sewn"}, APART, "no lap"),
        ("overlap", {**CEMENTED, "least_overlap": None}, NO_DATA, "it stands in the covering manual"),
        ("overlap", {**CEMENTED, "manual": None}, NO_DATA, "'manual' is not recorded, which gives its limit"),
        ("tape", {"tape_width": None}, NO_DATA, "'tape_width' is not recorded"),
        ("tape", {"kind": "hand-sewn", "place": "fuselage"}, APART, "no figure for a hand-sewn seam at fuselage"),
        ("tape", {**CEMENTED, "least_tape": None}, NO_DATA, "it stands in the covering manual"),
    ],
)
def test_seams_that_no_figure_decides(rule: str, changes: Changes, verdict: Verdict, words: str) -> None:
    finding = the_finding(f"covering/seam-{rule}", records({**DOPED, **changes}), "X")
    assert finding.verdict is verdict, finding.message
    assert words in finding.message


@pytest.mark.parametrize(
    ("changes", "verdicts"),
    [
        ({"stitches_per_inch": "5", "lock_every": "8", "fold": "0.5 in"}, [PASS, PASS, PASS]),
        ({}, [PASS, PASS, PASS]),
        ({"stitches_per_inch": "3.9"}, [FAIL, PASS, PASS]),
        ({"lock_every": "11"}, [PASS, FAIL, PASS]),
        ({"fold": "0.37 in"}, [PASS, PASS, FAIL]),
        ({"stitches_per_inch": None, "lock_every": None, "fold": None}, [NO_DATA, NO_DATA, NO_DATA]),
        ({"kind": "doped"}, [APART]),
        ({"kind": None}, [NO_DATA]),
    ],
)
def test_stitches(changes: Changes, verdicts: list[Verdict]) -> None:
    found = findings("covering/hand-stitch", records({**HAND, **changes}))
    assert [finding.verdict for finding in found] == verdicts


@pytest.mark.parametrize(
    ("speed", "verdict"),
    [
        ("never_exceed_speed: 140 mph", PASS),
        ("never_exceed_speed: 150 mph", PASS),
        ("never_exceed_speed: 151 mph", FAIL),
        ("gross_weight: 1000 lb", NO_DATA),
    ],
)
def test_doped_laps_end_at_150_mph(speed: str, verdict: Verdict) -> None:
    assert the_finding("covering/doped-seam-speed", records(DOPED, speed), "X").verdict is verdict
    assert the_finding("covering/doped-seam-speed", records(CEMENTED, speed), "X").verdict is APART
    assert the_finding("covering/doped-seam-speed", records({}, speed), "X").verdict is NO_DATA


@pytest.mark.parametrize("rule", ["seam-overlap", "seam-tape", "hand-stitch", "doped-seam-speed"])
def test_fabric_has_seams_somewhere(rule: str) -> None:
    (finding,) = findings(f"covering/{rule}", "covering: {cloths: [{id: C, what: cloth}]}\n")
    assert finding.verdict is NO_DATA


@pytest.mark.parametrize(
    ("rule", "changes", "fields"),
    [
        ("overlap", {}, ["overlap"]),
        ("overlap", CEMENTED, ["overlap", "least_overlap"]),
        ("tape", {}, ["tape_width"]),
        ("tape", CEMENTED, ["tape_width", "least_tape"]),
    ],
)
def test_a_declared_limit_is_shown_beside_what_was_measured(rule: str, changes: Changes, fields: list[str]) -> None:
    found = the_finding(f"covering/seam-{rule}", records({**DOPED, **changes}), "X")
    assert [spot.field for spot in found.where] == fields
