"""Rules on installed wiring: AC 43.13-1B 11-96, 11-115, 11-118, 11-125, 11-158, 11-167, 11-208 and Table 11-13."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-11-96-bend": "electrical/bend-radius",
    "ac43-11-125": "electrical/control-clearance",
    "ac43-11-96-w": "electrical/fluid-separation",
    "ac43-11-115": "electrical/grommet",
    "ac43-11-208": "electrical/marking-interval",
    "ac43-11-118": "electrical/slack electrical/spare-length",
    "ac43-11-167": "electrical/splices",
    "ac43-table-11-13": "electrical/strands",
    "ac43-11-96-a": "electrical/support-spacing",
    "ac43-11-158-b": "electrical/tie-spacing",
}

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA


def bundle(installed: str) -> str:
    return f"electrical:\n  bundles:\n    - id: B\n      installed: {{{installed}}}\n"


def wire(fields: str) -> str:
    return f"electrical:\n  wires:\n    - {{id: W, from: A, to: A, {fields}}}\n  buses: [{{id: A}}]\n"


# Figures as read, those of bend and controls from memory: rule, record, verdict, what was measured, limit.
CASES = [
    ("support-spacing", "support_spacing: 20 in", PASS, 20, 24),
    ("support-spacing", "support_spacing: 24 in", PASS, 24, 24),
    ("support-spacing", "support_spacing: 24.1 in", FAIL, 24.1, 24),
    ("tie-spacing", "support_spacing: 20 in, tie_spacing: 6 in", PASS, 6, 12),
    ("tie-spacing", "support_spacing: 20 in, tie_spacing: 12 in", PASS, 12, 12),
    ("tie-spacing", "support_spacing: 20 in, tie_spacing: 12.1 in", FAIL, 12.1, 12),
    ("bend-radius", "diameter: 0.3 in, bend_radius: 4 in", PASS, 4, 3),
    ("bend-radius", "diameter: 0.3 in, bend_radius: 3 in", PASS, 3, 3),
    ("bend-radius", "diameter: 0.3 in, bend_radius: 2.9 in", WARN, 2.9, 3),
    ("fluid-separation", "fluid_distance: 6 in", PASS, 6, 6),
    ("fluid-separation", "fluid_distance: 5.9 in, held_off_fluids: false", FAIL, 5.9, 6),
    ("fluid-separation", "fluid_distance: 5.9 in, held_off_fluids: true", PASS, 5.9, 2),
    ("fluid-separation", "fluid_distance: 2 in, held_off_fluids: true", PASS, 2, 2),
    ("fluid-separation", "fluid_distance: 1.9 in, held_off_fluids: true", FAIL, 1.9, 2),
    ("grommet", "hole_clearance: 1/2 in", PASS, 0.5, 0.375),
    ("grommet", "hole_clearance: 3/8 in", PASS, 0.375, 0.375),
    ("grommet", "hole_clearance: 0.37 in, grommets: false", FAIL, 0.37, 0.375),
    ("slack", "sag: 3/8 in", PASS, 0.375, 0.5),
    ("slack", "sag: 1/2 in", PASS, 0.5, 0.5),
    ("slack", "sag: 0.51 in", WARN, 0.51, 0.5),
    ("spare-length", "spare_terminations: 3", PASS, 3, 2),
    ("spare-length", "spare_terminations: 2", PASS, 2, 2),
    ("spare-length", "spare_terminations: 1", WARN, 1, 2),
    ("control-clearance", "control_distance: 3/4 in", PASS, 0.75, 0.5),
    ("control-clearance", "control_distance: 1/2 in", PASS, 0.5, 0.5),
    ("control-clearance", "control_distance: 0.49 in", WARN, 0.49, 0.5),
]


@pytest.mark.parametrize(("rule", "installed", "verdict", "measured", "limit"), CASES)
def test_bundles_at_over_and_within(rule: str, installed: str, verdict: Verdict, measured: float, limit: float) -> None:
    found = the_finding(f"electrical/{rule}", bundle(installed), "B")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.limit is not None
    assert found.measured.value == pytest.approx(measured)
    assert found.limit.value == pytest.approx(limit)
    assert found.where[0].position.line == 5
    assert bool(found.remedy) is (verdict is not PASS)


@pytest.mark.parametrize("rule", sorted({case[0] for case in CASES} | {"drip-loop"}))
def test_what_was_not_measured_is_no_data(rule: str) -> None:
    for records in ("electrical:\n  bundles: [{id: B}]\n", bundle("diameter: 0.3 in")):
        found = the_finding(f"electrical/{rule}", records, "B")
        assert found.verdict is NO_DATA
        assert found.remedy.startswith("Measure it and record")
    assert the_finding(f"electrical/{rule}", "electrical: {nominal_voltage: 14 V}", "aircraft").verdict is NO_DATA


@pytest.mark.parametrize(
    ("rule", "installed"),
    [
        ("tie-spacing", "support_spacing: 20 in"),
        ("fluid-separation", "fluid_distance: 4 in"),
        ("grommet", "hole_clearance: 0.2 in"),
    ],
)
def test_what_matters_only_there_is_asked_for_only_there(rule: str, installed: str) -> None:
    assert the_finding(f"electrical/{rule}", bundle(installed), "B").verdict is NO_DATA


def test_close_clamps_need_no_ties() -> None:
    found = the_finding("electrical/tie-spacing", bundle("support_spacing: 12 in"), "B")
    assert found.verdict is Verdict.NOT_APPLICABLE
    assert the_finding("electrical/tie-spacing", bundle("support_spacing: 12.1 in"), "B").verdict is NO_DATA


def test_a_grommet_makes_up_for_clearance() -> None:
    assert the_finding("electrical/grommet", bundle("hole_clearance: 0.1 in, grommets: true"), "B").verdict is PASS


def test_a_drip_loop_is_there_or_not() -> None:
    assert the_finding("electrical/drip-loop", bundle("drip_loop: true"), "B").verdict is PASS
    found = the_finding("electrical/drip-loop", bundle("drip_loop: false"), "B")
    assert found.verdict is FAIL
    assert found.where[0].position.line == 5


@pytest.mark.parametrize(
    ("rule", "fields", "verdict", "measured", "limit"),
    [
        # Table 11-13: two nicked of 20 AWG and none broken, four nicked of 12 AWG, six broken of 8 AWG.
        ("strands", "size: 20 AWG, nicked: 1, broken: 0", PASS, 1, 2),
        ("strands", "size: 20 AWG, nicked: 2, broken: 0", PASS, 2, 2),
        ("strands", "size: 20 AWG, nicked: 3", FAIL, 3, 2),
        ("strands", "size: 20 AWG, nicked: 2, broken: 1", FAIL, 1, 0),
        ("strands", "size: 12 AWG, nicked: 5", FAIL, 5, 4),
        ("strands", "size: 8 AWG, nicked: 0, broken: 6", PASS, 6, 6),
        ("strands", "size: 8 AWG, broken: 7", FAIL, 7, 6),
        ("strands", "size: 8 AWG, material: aluminium, nicked: 1", FAIL, 1, 0),
        ("splices", "splices: 0", PASS, 0, 1),
        ("splices", "splices: 1", PASS, 1, 1),
        ("splices", "splices: 2", WARN, 2, 1),
        ("marking-interval", "length: 40 in, marking_interval: 12 in", PASS, 12, 15),
        ("marking-interval", "length: 40 in, marking_interval: 15 in", PASS, 15, 15),
        ("marking-interval", "length: 40 in, marking_interval: 15.1 in", FAIL, 15.1, 15),
        # Printed sleeves: 6 is read, that it means feet is from memory.
        ("marking-interval", "marking_interval: 72 in, printed_sleeves: true", PASS, 72, 72),
        ("marking-interval", "marking_interval: 73 in, printed_sleeves: true", WARN, 73, 72),
    ],
)
def test_wires_at_over_and_within(rule: str, fields: str, verdict: Verdict, measured: float, limit: float) -> None:
    found = the_finding(f"electrical/{rule}", wire(fields), "W")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.limit is not None
    assert (found.measured.value, found.limit.value) == pytest.approx((measured, limit))
    assert found.where[0].position.line == 4


@pytest.mark.parametrize("rule", ["strands", "splices", "marking-interval"])
def test_where_nobody_looked_there_is_no_data(rule: str) -> None:
    (found,) = findings(f"electrical/{rule}", wire("size: 20 AWG"))
    assert found.verdict is NO_DATA


def test_strands_of_a_wire_without_a_size_are_no_data() -> None:
    assert the_finding("electrical/strands", wire("nicked: 0"), "W").verdict is NO_DATA


@pytest.mark.parametrize(
    "fields",
    [
        "size: 20 AWG, nicked: 1",  # the broken ones were not counted
        "size: 20 AWG, broken: 0",
        "size: 0000 AWG, material: aluminium, nicked: 0, broken: 0",  # Table 11-13 ends at 000 for aluminium
    ],
)
def test_strands_that_nobody_counted_or_listed_are_no_data(fields: str) -> None:
    assert the_finding("electrical/strands", wire(fields), "W").verdict is NO_DATA


def test_the_working_shows_record_limit_source_and_margin() -> None:
    found = the_finding("electrical/support-spacing", bundle("support_spacing: 20 in"), "B")
    assert found.working is not None
    assert list(found.working()) == ["recorded: 20 in", "the most: 24 in (AC 43.13-1B 11-96a, read)", "margin: 4 in"]
    found = the_finding("electrical/bend-radius", bundle("diameter: 0.3 in, bend_radius: 4 in"), "B")
    assert found.working is not None
    assert list(found.working()) == [
        "recorded: 4 in",
        "10 diameters x 0.3 in = 3 in",
        "the least: 3 in (AC 43.13-1B 11-96, from memory)",
        "margin: 1 in",
    ]


def test_a_wire_under_3_inches_needs_no_marking() -> None:
    found = the_finding("electrical/marking-interval", wire("length: 2.9 in, marking_interval: 20 in"), "W")
    assert found.verdict is Verdict.NOT_APPLICABLE


def test_no_slack_at_all_is_recorded_as_none() -> None:
    found = the_finding("electrical/spare-length", bundle("spare_terminations: 0"), "B")
    assert found.measured is not None
    assert found.measured.value == 0
    assert "slack for 0 more" in found.message
