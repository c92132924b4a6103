"""Spare positions, grounds of sources and avionics, the harness with its fittings, Table 11-3, and marked ends."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "wire-weight": "electrical/harness-weight",
    "ac43-11-208": "electrical/marked-ends",
    "ac43-table-11-3": "electrical/protector-by-size",
    "ac-21-99-ground-stud": "electrical/source-stud",
    "own arithmetic": "electrical/avionics-ground",
    "nothing computed": "electrical/spare-position electrical/unused-device",
}

PASS, WARN, FAIL, NO_DATA, NOT = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE


def position(spare: str, wire: str = "") -> str:
    return f"""electrical:
  buses: [{{id: MAIN}}]
  protection:
    - {{id: F, kind: breaker, rating: 5 A, fed_from: MAIN{spare}}}
  loads: [{{id: L, current: 1 A, nature: led}}]
  wires: [{wire}]
"""


@pytest.mark.parametrize(
    ("spare", "wire", "verdict", "used"),
    [
        (", spare: true", "", PASS, NOT),
        (", spare: true", "{id: W1, from: F, to: L}", FAIL, NOT),
        (", spare: true", "{id: W1, from: MAIN, to: F}", PASS, NOT),  # fed, and still free
        ("", "{id: W1, from: F, to: L}", NOT, PASS),
        ("", "", NOT, WARN),
    ],
)
def test_spare_positions_are_free(spare: str, wire: str, verdict: Verdict, used: Verdict) -> None:
    (found,) = findings("electrical/spare-position", position(spare, wire))
    assert found.verdict is verdict
    assert the_finding("electrical/unused-device", position(spare, wire), "F").verdict is used
    if verdict is FAIL:
        assert found.where[0].position.line == 5
        assert found.working is not None
        assert list(found.working()) == ["joined to F.in: F.fed_from", "joined to F.out: W1"]


def test_without_records_spare_positions_are_no_data() -> None:
    (found,) = findings("electrical/spare-position", "weights: {}")
    assert found.verdict is NO_DATA


def sources(second: str = "G2", studs: str = "kind: engine") -> str:
    return f"""electrical:
  sources:
    - {{id: BAT, kind: battery}}
    - {{id: ALT, kind: alternator}}
  grounds:
    - {{id: G1, {studs}}}
    - {{id: G2, kind: engine}}
  wires:
    - {{id: W1, from: BAT.return, to: G1}}
    - {{id: W2, from: {second}, to: ALT.return}}
"""


# AC 21-99 section 2 chapter 13, read: separate grounds for each power source.
@pytest.mark.parametrize(
    ("second", "studs", "subject", "verdict"),
    [
        ("G2", "kind: engine", "G1", PASS),
        ("G1", "kind: engine, studs: 2", "G1", PASS),
        ("G1", "kind: engine, studs: 1", "G1", FAIL),
        ("G1", "kind: engine", "G1", FAIL),
        ("BAT", "kind: engine", "ALT", NO_DATA),
    ],
)
def test_every_source_has_a_stud(second: str, studs: str, subject: str, verdict: Verdict) -> None:
    found = the_finding("electrical/source-stud", sources(second, studs), subject)
    assert found.verdict is verdict
    assert found.where[0].position.line == (5 if verdict is NO_DATA else 7)


def test_one_source_alone_is_not_asked() -> None:
    (found,) = findings("electrical/source-stud", "electrical: {sources: [{id: BAT, kind: battery}]}")
    assert found.verdict is NOT


def avionics(bus: str = ", avionics: true", third: str = "G1", kind: str = "avionics") -> str:
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: AVI{bus}}}, {{id: MAIN}}]
  grounds: [{{id: G1, kind: {kind}}}, {{id: G2, kind: single-point}}]
  loads:
    - {{id: A, current: 1 A, nature: electronic}}
    - {{id: B, current: 1 A, nature: electronic}}
    - {{id: C, current: 1 A, nature: electronic}}
    - {{id: D, current: 1 A, nature: motor}}
  wires:
    - {{id: W0, from: BAT, to: MAIN}}
    - {{id: W1, from: MAIN, to: AVI}}
    - {{id: W2, from: AVI, to: A}}
    - {{id: W3, from: AVI, to: B}}
    - {{id: W4, from: AVI, to: C}}
    - {{id: W5, from: MAIN, to: D}}
    - {{id: R1, from: A.return, to: G1}}
    - {{id: R2, from: B.return, to: G1}}
    - {{id: R3, from: C.return, to: {third}}}
    - {{id: R4, from: D.return, to: G2}}
    - {{id: R5, from: G1, to: G2}}
    - {{id: R6, from: G2, to: BAT.return}}
"""


# AC 43.13-1B 11-186f, read: signal grounds apart from power returns, a single point often best.
@pytest.mark.parametrize(
    ("third", "kind", "verdict"),
    [
        ("G1", "avionics", PASS),
        ("G1", "single-point", PASS),
        ("G2", "avionics", WARN),
        ("G1", "engine", WARN),
        ("G1", "airframe", WARN),
    ],
)
def test_avionics_return_to_one_ground(third: str, kind: str, verdict: Verdict) -> None:
    records = avionics(third=third, kind=kind)
    found = the_finding("electrical/avionics-ground", records, "C")
    assert found.verdict is verdict
    assert found.where[0].position.line == 9
    assert {finding.subject for finding in findings("electrical/avionics-ground", records)} == {"A", "B", "C"}
    assert found.working is not None
    assert found.working()[0].startswith("the first ground on its way back: ")


def test_avionics_without_a_return_are_no_data_and_without_a_bus_not_asked() -> None:
    lost = avionics().replace("    - {id: R3, from: C.return, to: G1}\n", "")
    assert the_finding("electrical/avionics-ground", lost, "C").verdict is NO_DATA
    assert [found.verdict for found in findings("electrical/avionics-ground", avionics(bus=""))] == [NOT]


def harness(weight: str, fittings: str = "2 lb", wire: str = "") -> str:
    """1000 ft of 20 AWG, 4.9 lb by the estimate."""
    return f"""weights:
  components:
    - {{id: LOOM, arm: 10 in, weight: {weight}}}
electrical:
  harness: [LOOM]
  harness_fittings: {fittings}
  buses: [{{id: A}}]
  wires: [{{id: W, from: A, to: A, size: 20 AWG, length: 1000 ft{wire}}}]
"""


@pytest.mark.parametrize(
    ("weight", "verdict", "limit"),
    [
        ("7 lb", PASS, 2 + 1.25 * 4.9),
        ("8.125 lb", PASS, 2 + 1.25 * 4.9),
        ("8.13 lb", WARN, 2 + 1.25 * 4.9),
        ("5.675 lb", PASS, 2 + 0.75 * 4.9),
        ("5.67 lb", WARN, 2 + 0.75 * 4.9),
    ],
)
def test_a_harness_weighs_its_wires_and_fittings(weight: str, verdict: Verdict, limit: float) -> None:
    found = the_finding("electrical/harness-weight", harness(weight), "aircraft")
    assert found.verdict is verdict
    assert found.limit is not None
    assert found.limit.value == pytest.approx(limit)


def test_what_aluminium_weighs_is_not_known() -> None:
    found = the_finding("electrical/harness-weight", harness("7 lb", wire=", material: aluminium"), "aircraft")
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("wire", "said"),
    [
        ("", "; they come to about 4.90 lb"),
        ("}, {id: W9, from: A, to: A, size: 20 AWG", "; those of known size and length, of copper, come to 4.90 lb"),
        (", material: aluminium", "which components stand for the wires is not recorded"),
    ],
)
def test_where_no_component_stands_for_the_wires_their_weight_is_told(wire: str, said: str) -> None:
    text = harness("7 lb", wire=wire).replace("  harness: [LOOM]\n", "")
    found = the_finding("electrical/harness-weight", text, "aircraft")
    assert found.verdict is NO_DATA
    assert found.message.endswith(said)
    assert ("4.9 lb or more" in found.remedy) == ("4.90" in said)


def protected(device: str, wire: str, further: str = "") -> str:
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: MAIN}}]
  bundles: [{{id: B, ambient: 50 degC}}]
  protection:
    - {{id: F, {device}, fed_from: MAIN}}
    - {{id: F2, kind: breaker, rating: 5 A}}
  loads: [{{id: L, current: 1 A, nature: led}}, {{id: L2, current: 1 A, nature: led, grounded_at: BAT.return}}]
  wires:
    - {{id: W0, from: BAT, to: MAIN}}
    - {{id: W1, from: F, to: F2, {wire}}}
    - {{id: W2, from: F2, to: L, size: 22 AWG, bundle: B}}
    - {{id: W3, from: L.return, to: BAT.return, size: 24 AWG}}
    {further}
"""


# AC 43.13-1B Table 11-3, read: size 18 breaker and fuse 10 A, size 16 breaker 15 A and fuse 10 A.
@pytest.mark.parametrize(
    ("device", "wire", "verdict", "most"),
    [
        ("kind: breaker, rating: 7.5 A", "size: 18 AWG, bundle: B", PASS, 10),
        ("kind: breaker, rating: 10 A", "size: 18 AWG, bundle: B", PASS, 10),
        ("kind: breaker, rating: 10.1 A", "size: 18 AWG, bundle: B", WARN, 10),
        ("kind: blade-fuse, rating: 15 A", "size: 16 AWG, bundle: B", WARN, 10),
        ("kind: current-limiter, rating: 10 A", "size: 16 AWG, bundle: B", PASS, 10),
        ("kind: breaker, rating: 15 A", "size: 18 AWG", PASS, 15),  # 11-49, read: alone, the next higher breaker
        ("kind: breaker, rating: 15.1 A", "size: 18 AWG", WARN, 15),
        ("kind: blade-fuse, rating: 15 A", "size: 18 AWG", WARN, 10),
    ],
)
def test_a_device_is_no_larger_than_table_11_3_lists(device: str, wire: str, verdict: Verdict, most: float) -> None:
    found = the_finding("electrical/protector-by-size", protected(device, wire), "F")
    assert found.verdict is verdict
    assert found.limit == (most, "A", "at-most")
    assert [spot.position.line for spot in found.where] == [7, 12]
    assert found.working is not None
    assert "W1" in found.working()[0]


def test_the_thinnest_wire_up_to_the_next_device_counts() -> None:
    # W2 behind F2 is as thin, and is F2's; W4 hangs on F itself. Size 22: a breaker of 5 A.
    device, wire = "kind: breaker, rating: 7.5 A", "size: 18 AWG, bundle: B"
    further = "- {id: W4, from: F, to: L2, size: 22 AWG, bundle: B}"
    found = the_finding("electrical/protector-by-size", protected(device, wire, further), "F")
    assert (found.verdict, found.limit) == (WARN, (5, "A", "at-most"))
    assert found.message == "7.5 A before W4, 22 AWG; Table 11-3 lists a breaker of 5 A"


@pytest.mark.parametrize(
    "wire", ["size: 24 AWG", "size: 0 AWG", "bundle: B", "size: 18 AWG, material: aluminium"]
)  # the last two: no size, and a table for copper
def test_what_table_11_3_does_not_cover_is_not_judged(wire: str) -> None:
    assert (
        the_finding("electrical/protector-by-size", protected("kind: breaker, rating: 5 A", wire), "F").verdict is NOT
    )


def test_without_records_there_is_no_data() -> None:
    for rule in ("protector-by-size", "source-stud", "avionics-ground", "harness-weight"):
        (found,) = findings(f"electrical/{rule}", "weights: {}")
        assert found.verdict is NO_DATA


def ends(fields: str) -> str:
    return f"electrical:\n  buses: [{{id: A}}]\n  wires:\n    - {{id: W, from: A, to: A, {fields}}}\n"


# AC 43.13-1B 11-208, read: marked at each end, below 3 in not at all.
@pytest.mark.parametrize(
    ("fields", "subject", "verdict"),
    [
        ("length: 40 in, ends_marked: true", "aircraft", PASS),
        ("length: 40 in, ends_marked: false", "W", FAIL),
        ("length: 3 in, ends_marked: false", "W", FAIL),
        ("length: 2.9 in, ends_marked: false", "aircraft", PASS),
        ("ends_marked: false", "W", FAIL),
        ("length: 40 in", "aircraft", NO_DATA),
    ],
)
def test_both_ends_are_marked(fields: str, subject: str, verdict: Verdict) -> None:
    (found,) = findings("electrical/marked-ends", ends(fields))
    assert (found.subject, found.verdict) == (subject, verdict)
    if verdict is FAIL:
        assert found.where[0].position.line == 5


def test_records_without_the_section_are_no_data() -> None:
    (found,) = findings("electrical/unused-device", "")
    assert found.verdict is NO_DATA
