"""Rules on coaxial cables: AC 43.13-1B 11-120, read, and six diameters of 11-96, from memory."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-11-96-bend": "electrical/coax-bend",
    "nothing computed": "electrical/coax-centre electrical/coax-clamp",
}

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA


def cable(fields: str) -> str:
    return f"electrical:\n  coaxial:\n    - {{id: C, what: radio, {fields}}}\n"


@pytest.mark.parametrize(
    ("radius", "verdict"),
    [("2 in", PASS), ("1.2 in", PASS), ("1.19 in", WARN)],  # six diameters of 0.2 in are 1.2 in
)
def test_bends_of_six_diameters(radius: str, verdict: Verdict) -> None:
    found = the_finding("electrical/coax-bend", cable(f"diameter: 0.2 in, bend_radius: {radius}"), "C")
    assert found.verdict is verdict
    assert found.limit is not None
    assert found.limit.value == pytest.approx(1.2)
    assert found.where[0].position.line == 4
    assert found.working is not None
    assert "6 diameters x 0.2 in = 1.2 in" in found.working()


@pytest.mark.parametrize(
    ("rule", "fields", "verdict"),
    [
        ("coax-clamp", "tight_clamps: false", PASS),
        ("coax-clamp", "tight_clamps: true", FAIL),
        ("coax-centre", "centre: stranded", PASS),
        ("coax-centre", "centre: solid", WARN),
    ],
)
def test_clamps_and_centres(rule: str, fields: str, verdict: Verdict) -> None:
    found = the_finding(f"electrical/{rule}", cable(fields), "C")
    assert found.verdict is verdict
    assert found.where[0].position.line == 4
    assert found.working is not None
    assert "11-120" in found.working()[1]


@pytest.mark.parametrize("rule", ["coax-bend", "coax-clamp", "coax-centre"])
def test_cables_that_say_nothing_are_no_data(rule: str) -> None:
    assert the_finding(f"electrical/{rule}", cable("diameter: 0.2 in"), "C").verdict is NO_DATA
    (none,) = findings(f"electrical/{rule}", "electrical: {nominal_voltage: 14 V}")
    assert none.verdict is Verdict.NOT_APPLICABLE
