"""An aircraft covered with something else logs its paint too, and is not asked for cloth, seams and laces."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings

RULES = (
    "attachment-spacing",
    "cord-fibre",
    "cord-strength",
    "doped-seam-speed",
    "fabric-grade",
    "fabric-strength",
    "first-lace",
    "hand-stitch",
    "iron-calibration",
    "reinforcing-tape",
    "seam-overlap",
    "seam-tape",
    "shrink-stages",
    "surface-tape",
    "taut-first",
)
RECORDS = """\
aircraft: {{name: T, authority: US, stage: operating, wing_area: 100 ft2{covered},
  limits: {{gross_weight: 1000 lb, never_exceed_speed: 120 kt}}}}
covering: {{surfaces: [{{id: S, what: wing}}]{cloths}}}
"""


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize(
    ("covered", "cloths", "verdict"),
    [
        (", covering: metal", "", Verdict.NOT_APPLICABLE),
        (", covering: composite", "", Verdict.NOT_APPLICABLE),
        (", covering: fabric", "", Verdict.NO_DATA),
        (", covering: mixed", "", Verdict.NO_DATA),
        ("", "", Verdict.NO_DATA),
        (", covering: plywood", ", cloths: [{id: C, what: cloth over it}]", Verdict.NO_DATA),
    ],
)
def test_only_fabric_is_asked_for_what_fabric_needs(rule: str, covered: str, cloths: str, verdict: Verdict) -> None:
    (finding,) = findings(f"covering/{rule}", RECORDS.format(covered=covered, cloths=cloths))
    assert finding.verdict is verdict, finding.message
