"""What may take off can land, and fly on without fuel: arithmetic written out here.

AC 43.13-1B paragraph 10-2o: what is above the zero fuel weight must be usable fuel. 1,000 lb empty, seat 200 lb, baggage 60 lb:
1,260 lb when the fuel is gone; gross weight is 1,300 lb.
"""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "scipy": "weights/every-loading-without-fuel",
}

RULE = "weights/every-loading-without-fuel"
RECORDS = """
aircraft:
  name: Worked example
  authority: US
  stage: operating
  limits:
    gross_weight: 1300 lb
    landing_weight: 1280 lb
    zero_fuel_weight: 1270 lb
    cg_envelope_joined_in: arm
    cg_envelope:
      - {weight: 1000 lb, arm: 9 in}
      - {weight: 1300 lb, arm: 9 in}
      - {weight: 1300 lb, arm: 19 in}
      - {weight: 1000 lb, arm: 19 in}
fuel: {density: 6 lb/US gal, tanks: [{id: TANK, arm: 8 in, usable: 20 US gal}]}
weights:
  components: [{id: ALL, weight: 1000 lb, arm: 10 in, basis: weighed}]
  stations:
    - {id: SEAT, kind: seat, arm: 20 in, minimum: 120 lb, maximum: 200 lb}
    - {id: BAG, kind: baggage, arm: 50 in, maximum: 60 lb}
"""


@pytest.mark.parametrize(
    ("subject", "field", "line"), [("landing-weight", "1280 lb", 8), ("zero-fuel-weight", "1270 lb", 9)]
)
@pytest.mark.parametrize(
    ("limit", "verdict"),
    [("1270 lb", Verdict.PASS), ("1260 lb", Verdict.PASS), ("1259.9 lb", Verdict.WARN), ("1200 lb", Verdict.WARN)],
)
def test_all_stations_full_and_no_fuel(subject: str, field: str, line: int, limit: str, verdict: Verdict) -> None:
    finding = the_finding(RULE, RECORDS.replace(field, limit), subject)
    assert finding.verdict is verdict
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(1260)
    assert finding.where[0].position.line == line
    if limit == "1200 lb":
        assert finding.remedy == "Let the stations hold 60.0 lb less together."


def test_nothing_takes_off_above_gross_weight() -> None:
    """300 lb of baggage would make 1,500 lb; 1,300 lb may take off. To land at 1,280 lb the stations must lose 220 lb."""
    finding = the_finding(RULE, RECORDS.replace("maximum: 60 lb", "maximum: 300 lb"), "landing-weight")
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(1300)
    assert finding.remedy == "Let the stations hold 220.0 lb less together."


def test_without_either_limit_nothing_is_asked() -> None:
    records = RECORDS.replace("    landing_weight: 1280 lb\n", "").replace("    zero_fuel_weight: 1270 lb\n", "")
    assert [f.verdict for f in findings(RULE, records)] == [Verdict.NOT_APPLICABLE]


@pytest.mark.parametrize("there", [", maximum: 60 lb", "gross_weight: 1300 lb", ", basis: weighed}]"])
def test_without_data(there: str) -> None:
    instead = ", fitted: true, removed: 2026-01-01}]" if "basis" in there else ""
    assert {f.verdict for f in findings(RULE, RECORDS.replace(there, instead))} == {Verdict.NO_DATA}
