"""Rules on insulation, metal and size of wires: AC 43.13-1B Table 11-9 and its note on aluminium, 11-85; and common practice."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-aluminium": "electrical/aluminium",
    "ac43-table-11-9": "electrical/insulation-temperature electrical/smallest-wire",
    "own arithmetic": "electrical/engine-compartment",
    "nothing computed": "electrical/wire-type",
}

PASS, WARN, FAIL, NO_DATA, NOT = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

SPEC = "spec: M22759/16"
"""150 degC, from memory."""


def wired(*wires: str, bundle: str = "zone: engine-compartment, ambient: 80 degC", more: str = "") -> str:
    lines = "".join(f"    - {{id: W{n}, from: A, to: A, {fields}}}\n" for n, fields in enumerate(wires, 1))
    return f"electrical:\n  buses: [{{id: A}}]\n  bundles: [{{id: B, {bundle}}}]\n  wires:\n{lines}{more}"


@pytest.mark.parametrize(
    ("insulation", "verdict", "margin"),
    [("105 degC", PASS, 25 / 80), ("80 degC", PASS, 0), ("79 degC", FAIL, -1 / 80)],
)
def test_the_least_insulation_is_held_against_the_air(insulation: str, verdict: Verdict, margin: float) -> None:
    records = wired(f"{SPEC}, bundle: B", f"insulation: {insulation}, bundle: B")
    found = the_finding("electrical/insulation-temperature", records, "B")
    assert found.verdict is verdict
    assert found.margin == pytest.approx(margin)
    assert found.where[0].position.line == 7
    assert "W2" in found.message
    assert found.working is not None
    assert "M22759/16 150 degC" in found.working()[0]


@pytest.mark.parametrize(
    ("insulation", "verdict"), [("71 degC", PASS), ("70 degC", PASS), ("69 degC", FAIL)]
)  # 70 degC, as Table 11-9 takes it
def test_wires_of_no_bundle_are_taken_in_air_of_70_degrees(insulation: str, verdict: Verdict) -> None:
    found = the_finding("electrical/insulation-temperature", wired(f"insulation: {insulation}"), "aircraft")
    assert found.verdict is verdict


@pytest.mark.parametrize(
    ("wire", "bundle", "place"),
    [
        (f"{SPEC}, bundle: B", "zone: cabin", 4),
        ("bundle: B", "ambient: 80 degC", 6),
        ("spec: household cable, bundle: B", "ambient: 80 degC", 6),
    ],
)
def test_unknown_air_or_insulation_is_no_data(wire: str, bundle: str, place: int) -> None:
    found = the_finding("electrical/insulation-temperature", wired(wire, bundle=bundle), "B")
    assert found.verdict is NO_DATA
    assert found.where[0].position.line == place


def test_without_wires_there_is_no_data() -> None:
    (found,) = findings("electrical/insulation-temperature", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("insulation", "verdict"), [("200 degC", PASS), ("150 degC", PASS), ("149 degC", WARN)]
)  # common practice, no source
def test_the_engine_compartment_has_the_150_degree_class(insulation: str, verdict: Verdict) -> None:
    found = the_finding("electrical/engine-compartment", wired(f"insulation: {insulation}, bundle: B"), "B")
    assert found.verdict is verdict
    assert found.working is not None
    assert "common practice, no source" in found.working()[1]


@pytest.mark.parametrize(
    ("wire", "bundle", "verdict"),
    [
        ("insulation: 105 degC, bundle: B", "zone: cabin", NOT),
        ("insulation: 105 degC, bundle: B", "ambient: 50 degC", NO_DATA),
        ("bundle: B", "zone: engine-compartment", NO_DATA),
    ],
)
def test_other_zones_are_not_asked_and_unknown_ones_are_no_data(wire: str, bundle: str, verdict: Verdict) -> None:
    assert the_finding("electrical/engine-compartment", wired(wire, bundle=bundle), "B").verdict is verdict


@pytest.mark.parametrize(("insulation", "verdict"), [("150 degC", PASS), ("149 degC", NO_DATA)])
def test_wires_of_no_bundle_must_stand_any_zone(insulation: str, verdict: Verdict) -> None:
    assert (
        the_finding("electrical/engine-compartment", wired(f"insulation: {insulation}"), "aircraft").verdict is verdict
    )


@pytest.mark.parametrize(
    ("size", "subject", "verdict"),
    [
        ("20 AWG", "aircraft", PASS),
        ("22 AWG", "aircraft", PASS),
        ("24 AWG", "W1", WARN),
        ("0000 AWG", "aircraft", PASS),
    ],
)
def test_no_wire_is_thinner_than_22(size: str, subject: str, verdict: Verdict) -> None:
    found = the_finding("electrical/smallest-wire", wired(f"size: {size}"), subject)
    assert found.verdict is verdict
    assert found.where[0].position.line == 6
    assert found.working is not None
    assert "755 circular mils" in found.working()[1]  # Table 11-9, size 22


def test_wires_without_sizes_are_no_data() -> None:
    (found,) = findings("electrical/smallest-wire", wired(SPEC))
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("size", "verdict"), [("size: 6 AWG", PASS), ("size: 8 AWG", PASS), ("size: 10 AWG", WARN), (SPEC, NO_DATA)]
)
def test_aluminium_is_8_or_thicker(size: str, verdict: Verdict) -> None:
    found = the_finding("electrical/aluminium", wired(f"material: aluminium, {size}"), "W1")
    assert found.verdict is verdict
    assert found.where[0].position.line == 6


def test_copper_is_not_asked() -> None:
    (found,) = findings("electrical/aluminium", wired("size: 10 AWG"))
    assert found.verdict is NOT


AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating, limits: {altitude: 10000 ft}}\n"


@pytest.mark.parametrize(
    ("size", "insulation", "amperes"),
    [
        # Copper two numbers higher, Table 11-9: size 4 as 6, size 1 as the next thinner that is made, 4; 0000 as 00.
        ("4 AWG", "105 degC", 50),
        ("1 AWG", "150 degC", 103),
        ("0000 AWG", "150 degC", 222),
        ("4 AWG", "200 degC", 76),  # no column beyond 150 degC is published for aluminium
    ],
)
def test_aluminium_carries_what_copper_two_sizes_smaller_does(size: str, insulation: str, amperes: float) -> None:
    wire = f"size: {size}, insulation: {insulation}, material: aluminium"
    found = the_finding("electrical/wire-load", AIRCRAFT + wired(wire), "W1")
    assert found.limit is not None
    assert found.limit.value == amperes
    assert found.working is not None
    assert found.working()[0].startswith(f"aluminium of size {size.split(maxsplit=1)[0]}: rated as copper of size")


def test_thin_aluminium_has_no_rating() -> None:
    wire = "size: 10 AWG, insulation: 105 degC, material: aluminium"
    assert the_finding("electrical/wire-load", AIRCRAFT + wired(wire), "W1").verdict is NO_DATA


@pytest.mark.parametrize(
    ("spec", "verdict"),
    [("M22759/16", PASS), ("M22759/16-18-9", PASS), ("M22759/161", WARN), ("household cable", WARN)],
)
def test_kinds_of_wire_are_looked_for_among_those_known(spec: str, verdict: Verdict) -> None:
    records = wired(f"spec: {spec}", more="  flame_tested: [M22759/16]\n")
    found = the_finding("electrical/wire-type", records, "W1")
    assert found.verdict is verdict
    assert found.where[0].position.line == (7 if verdict is PASS else 6)


@pytest.mark.parametrize("records", [wired("size: 20 AWG", more="  flame_tested: [M22759/16]\n"), wired(SPEC)])
def test_unknown_kinds_and_a_missing_list_are_no_data(records: str) -> None:
    assert [found.verdict for found in findings("electrical/wire-type", records)] == [NO_DATA]


@pytest.mark.parametrize(
    ("sizes", "thinnest"),
    [(("00 AWG", "2 AWG"), "2 AWG"), (("0000 AWG", "0 AWG"), "0 AWG"), (("1 AWG", "000 AWG"), "1 AWG")],
)
def test_noughts_are_thicker_the_more_there_are(sizes: tuple[str, str], thinnest: str) -> None:
    found = the_finding("electrical/smallest-wire", wired(*(f"size: {size}" for size in sizes)), "aircraft")
    assert found.message.startswith(f"the thinnest is W{sizes.index(thinnest) + 1}, {thinnest}")


def test_among_thicker_wires_the_thin_one_is_told() -> None:
    wires = "{id: W1, from: A, to: B, size: 20 AWG}, {id: W2, from: A, to: C, size: 24 AWG}, {id: W3, from: A, to: D}"
    buses = "[{id: A}, {id: B}, {id: C}, {id: D}]"
    found = findings("electrical/smallest-wire", f"electrical: {{buses: {buses}, wires: [{wires}]}}")
    assert [(one.subject, one.verdict) for one in found] == [("W2", Verdict.WARN)]
