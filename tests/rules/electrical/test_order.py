"""Rules on switches, grounds and the record's own agreement: old 23.1361, AC 43.13-1B 11-174, 11-186, 11-208."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac-21-99-ground-stud": "electrical/stud",
    "own arithmetic": "electrical/series-switches",
    "nothing computed": (
        "electrical/dead-end electrical/ground-loop electrical/guarded-switch electrical/marking "
        "electrical/master-switch electrical/signal-ground"
    ),
}

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA


def switched(second: str = "") -> str:
    """BAT - MAIN - S1 - (S2) - L."""
    way = "{id: W2, from: S1, to: S2}, {id: W3, from: S2, to: L}" if second else "{id: W2, from: S1, to: L}"
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}]
  buses: [{{id: MAIN}}]
  switches:
    - {{id: S1, kind: toggle}}
    {second}
  loads: [{{id: L, current: 1 A, nature: led}}]
  wires: [{{id: W0, from: BAT, to: MAIN}}, {{id: W1, from: MAIN, to: S1}}, {way}, {{id: W4, from: L.return, to: BAT.return}}]
"""


def test_one_switch_in_a_feed_is_enough() -> None:
    found = the_finding("electrical/series-switches", switched(), "L")
    assert found.verdict is PASS
    assert found.measured == (1, "switches")


def test_a_second_one_warns_where_it_stands() -> None:
    found = the_finding("electrical/series-switches", switched("- {id: S2, kind: toggle}"), "L")
    assert found.verdict is WARN
    assert found.measured == (2, "switches")
    assert found.where[0].position.line in {6, 7}


def test_a_contactor_in_series_is_meant() -> None:
    assert the_finding("electrical/series-switches", switched("- {id: S2, kind: contactor}"), "L").verdict is PASS


def test_a_record_without_loads_has_no_feeds() -> None:
    (found,) = findings("electrical/series-switches", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is Verdict.NOT_APPLICABLE


def mastered(*, master: str = ", master: true", coil: str = "coil: 1 A", field: str = "", past: str = "") -> str:
    """A contactor whose coil the master switches; an alternator whose field hangs on the bus."""
    return f"""electrical:
  sources:
    - {{id: BAT, kind: battery}}
    {field}
  buses: [{{id: MAIN}}]
  grounds: [{{id: G, kind: single-point}}]
  switches:
    - {{id: K, kind: contactor, {coil}}}
    - {{id: SW, kind: toggle{master}}}
  wires:
    - {{id: W1, from: BAT, to: K}}
    - {{id: W2, from: K, to: MAIN}}
    - {{id: W3, from: BAT, to: K.coil}}
    - {{id: W4, from: K.coil-return, to: SW}}
    - {{id: W5, from: SW, to: G}}
    - {{id: W6, from: G, to: BAT.return}}
    {past}
"""


def test_the_master_drops_the_contactor_out() -> None:
    found = the_finding("electrical/master-switch", mastered(), "BAT")
    assert found.verdict is PASS
    assert found.message == "with K, SW open it reaches no bus"


def test_a_way_past_the_contactor_warns() -> None:
    found = the_finding("electrical/master-switch", mastered(past="- {id: W7, from: BAT, to: MAIN}"), "BAT")
    assert found.verdict is WARN
    assert found.where[0].position.line == 4


def test_an_alternator_without_its_field_gives_nothing() -> None:
    text = """electrical:
  sources: [{id: ALT, kind: alternator, field: F}, {id: BAT, kind: battery}]
  buses: [{id: MAIN}]
  switches: [{id: SW, kind: toggle, master: true}, {id: SW-F, kind: toggle%s}]
  loads: [{id: F, current: 3 A, nature: electronic}]
  wires:
    - {id: W1, from: ALT, to: MAIN}
    - {id: W2, from: BAT, to: SW}
    - {id: W3, from: SW, to: MAIN}
    - {id: W4, from: MAIN, to: SW-F}
    - {id: W5, from: SW-F, to: F}
"""
    assert the_finding("electrical/master-switch", text % ", master: true", "ALT").verdict is PASS
    assert the_finding("electrical/master-switch", text % "", "ALT").verdict is WARN


def test_no_master_is_no_data() -> None:
    (found,) = findings("electrical/master-switch", mastered(master=""))
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("fields", "verdict"),
    [
        ("by_accident: it stops, guarded: true", PASS),
        ("by_accident: it stops", WARN),
        ("what: lamp", Verdict.NOT_APPLICABLE),
    ],
)
def test_dangerous_switches_are_guarded(fields: str, verdict: Verdict) -> None:
    (found,) = findings(
        "electrical/guarded-switch", f"electrical:\n  switches:\n    - {{id: S, kind: toggle, {fields}}}\n"
    )
    assert found.verdict is verdict


def grounded(audio: str = "G1", other: str = "G1", nature: str = "motor", *, ends: bool = True) -> str:
    """A radio and an intercom with sound, and something else."""
    back = "{id: W9, from: G1, to: BAT.return}, {id: W8, from: G2, to: BAT.return}," if ends else ""
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}]
  grounds: [{{id: G1, kind: avionics}}, {{id: G2, kind: single-point}}]
  loads:
    - {{id: COM, current: 1 A, nature: electronic, audio: true}}
    - {{id: ICS, current: 1 A, nature: electronic, audio: true}}
    - {{id: M, current: 1 A, nature: {nature}}}
  wires: [{back} {{id: W1, from: COM.return, to: G1}}, {{id: W2, from: ICS.return, to: {audio}}},
          {{id: W3, from: M.return, to: {other}}}]
"""


@pytest.mark.parametrize(
    ("audio", "other", "nature", "verdict"),
    [
        ("G1", "G2", "motor", PASS),
        ("G1", "G1", "led", PASS),
        ("G1", "G1", "motor", WARN),
        ("G2", "G2", "led", WARN),
        ("ICS.return", "G2", "led", NO_DATA),
    ],
)
def test_sound_returns_to_one_quiet_ground(audio: str, other: str, nature: str, verdict: Verdict) -> None:
    if audio == "ICS.return":
        text = grounded(other=other, nature=nature).replace("{id: W2, from: ICS.return, to: G1},", "")
    else:
        text = grounded(audio, other, nature)
    assert the_finding("electrical/signal-ground", text, "ICS").verdict is verdict


def test_returns_in_a_loop_warn() -> None:
    assert the_finding("electrical/ground-loop", grounded(), "aircraft").verdict is PASS
    looped = grounded().replace("wires: [", "wires: [{id: W7, from: G1, to: G2}, ")
    found = the_finding("electrical/ground-loop", looped, "aircraft")
    assert found.verdict is WARN
    assert "3 returns lie in a loop" in found.message
    beside = (
        grounded()
        .replace("wires: [", "wires: [{id: W7, from: G1, to: SPARE}, ")
        .replace("grounds: [", "grounds: [{id: SPARE, kind: airframe}, ")
    )
    assert the_finding("electrical/ground-loop", beside, "aircraft").verdict is PASS


def test_no_return_at_all_is_no_data() -> None:
    assert the_finding("electrical/ground-loop", "electrical: {nominal_voltage: 14 V}", "aircraft").verdict is NO_DATA


def stud(wires: int, fields: str = "kind: engine") -> str:
    ends = ", ".join(f"{{id: W{n}, from: A, to: G}}" for n in range(wires))
    return f"electrical:\n  buses: [{{id: A}}]\n  grounds:\n    - {{id: G, {fields}}}\n  wires: [{ends}]\n"


@pytest.mark.parametrize(
    ("wires", "fields", "verdict", "most"),
    [
        (3, "kind: engine", PASS, 4),
        (4, "kind: engine", PASS, 4),
        (5, "kind: engine", FAIL, 4),
        (5, "kind: engine, studs: 2", PASS, 8),
        (9, "kind: single-point, studs: 2", FAIL, 8),
    ],
)
def test_four_terminals_on_a_stud(wires: int, fields: str, verdict: Verdict, most: int) -> None:
    found = the_finding("electrical/stud", stud(wires, fields), "G")
    assert found.verdict is verdict
    assert found.measured == (wires, "terminals")
    assert found.limit == (most, "terminals", "at-most")
    assert found.where[0].position.line == 5


@pytest.mark.parametrize(("wires", "verdict"), [(3, PASS), (4, PASS), (5, WARN)])
def test_four_lugs_on_any_other_stud_are_from_memory(wires: int, verdict: Verdict) -> None:
    # AC 43.13-1B 11-174, from memory: it warns at most.
    text = stud(wires).replace("grounds:", "junctions:").replace("kind: engine", "kind: stud")
    found = the_finding("electrical/stud", text, "G")
    assert found.verdict is verdict
    assert found.limit == (4, "terminals", "at-most")


def test_a_block_that_does_not_say_how_many_studs_it_has_is_no_data() -> None:
    assert the_finding("electrical/stud", stud(3, "kind: single-point"), "G").verdict is NO_DATA


def test_a_device_that_nothing_is_joined_to_warns() -> None:
    assert the_finding("electrical/unused-device", switched(), "S1").verdict is PASS
    found = the_finding("electrical/unused-device", switched().replace("{id: W2, from: S1, to: L}, ", ""), "S1")
    assert found.verdict is WARN
    assert found.message == "nothing is joined to S1.out"
    assert found.where[0].position.line == 6
    unfed = the_finding("electrical/unused-device", switched().replace("{id: W1, from: MAIN, to: S1}, ", ""), "S1")
    assert (unfed.verdict, unfed.message) == (WARN, "nothing is joined to S1.in")
    (nothing,) = findings("electrical/unused-device", "electrical: {nominal_voltage: 14 V}")
    assert nothing.verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("wires", "verdict"),
    [
        ("{id: W1, from: A, to: J}, {id: W2, from: J, to: A}", PASS),
        ("{id: W1, from: A, to: J}", WARN),
        ("{id: W1, from: A, to: J.one}, {id: W2, from: J.two, to: A}", WARN),
        ("{id: W1, from: A, to: A}", WARN),
    ],
)
def test_what_arrives_at_a_junction_goes_on(wires: str, verdict: Verdict) -> None:
    text = (
        f"electrical:\n  buses: [{{id: A}}]\n  junctions:\n    - {{id: J, kind: terminal-block}}\n  wires: [{wires}]\n"
    )
    found = the_finding("electrical/dead-end", text, "J")
    assert found.verdict is verdict
    assert found.where[0].position.line == 5


def test_without_junctions_no_wire_can_end_at_one() -> None:
    (found,) = findings("electrical/dead-end", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is Verdict.NOT_APPLICABLE


def marked(second: str) -> str:
    first = "- {id: W1, from: A, to: A, marking: L2A}"
    return f"electrical:\n  buses: [{{id: A}}]\n  wires:\n    {first}\n    - {{id: W2, from: A, to: A{second}}}\n"


@pytest.mark.parametrize(
    ("second", "subject", "verdict"),
    [(", marking: L2B", "aircraft", PASS), ("", "aircraft", PASS), (", marking: l2a", "W2", FAIL)],
)
def test_every_marking_is_its_own(second: str, subject: str, verdict: Verdict) -> None:
    (found,) = findings("electrical/marking", marked(second))
    assert (found.subject, found.verdict) == (subject, verdict)
    if verdict is FAIL:
        assert [spot.position.line for spot in found.where] == [6, 5]


def test_no_wires_have_no_markings() -> None:
    (found,) = findings("electrical/marking", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is NO_DATA


def harness(weight: str, wire: str = "size: 20 AWG, length: 1000 ft", names: str = "[LOOM]") -> str:
    return f"""weights:
  components:
    - {{id: LOOM, arm: 10 in{weight}}}
electrical:
  harness: {names}
  buses: [{{id: A}}]
  wires: [{{id: W, from: A, to: A, {wire}}}]
"""


# 1000 ft of 20 AWG are 4.9 lb by the estimate; three quarters of it are 3.675 lb.
@pytest.mark.parametrize(
    ("weight", "verdict"),
    [(", weight: 5 lb", PASS), (", weight: 3.675 lb", PASS), (", weight: 3.67 lb", WARN), ("", NO_DATA)],
)
def test_a_harness_weighs_no_less_than_its_wires(weight: str, verdict: Verdict) -> None:
    found = the_finding("electrical/harness-weight", harness(weight), "aircraft")
    assert found.verdict is verdict
    assert found.where[0].position.line == 4
    if verdict is not NO_DATA:
        assert found.limit is not None
        assert found.limit.value == pytest.approx(3.675)


def test_a_harness_without_components_or_lengths_is_no_data() -> None:
    assert (
        the_finding("electrical/harness-weight", harness(", weight: 5 lb", names="[]"), "aircraft").verdict is NO_DATA
    )
    text = harness(", weight: 5 lb", "size: 20 AWG")
    assert the_finding("electrical/harness-weight", text, "aircraft").verdict is NO_DATA


def test_thick_wire_counts_as_bare_copper() -> None:
    # 0.003027 x 16983 circular mils (Table 11-9, 8 AWG) = 51.4 lb per 1000 ft.
    found = the_finding(
        "electrical/harness-weight", harness(", weight: 60 lb", "size: 8 AWG, length: 1000 ft"), "aircraft"
    )
    assert found.limit is not None
    assert found.limit.value == pytest.approx(0.75 * 0.003027 * 16983)


@pytest.mark.parametrize("rule", ["dead-end", "guarded-switch", "series-switches"])
def test_records_without_the_section_are_no_data(rule: str) -> None:
    (found,) = findings(f"electrical/{rule}", "")
    assert found.verdict is NO_DATA


def test_where_sound_returns_otherwise_is_told_with_the_ground_to_return_it_to() -> None:
    # Two of three audio devices return to G1.
    third = grounded("G2").replace(
        "    - {id: M,", "    - {id: MIC, current: 1 A, nature: electronic, audio: true}\n    - {id: M,"
    )
    text = third.replace("{id: W2,", "{id: W5, from: MIC.return, to: G1}, {id: W2,")
    found = the_finding("electrical/signal-ground", text, "ICS")
    assert (found.message, found.remedy) == ("it returns to G2, other audio devices to G1", "Return it to G1.")
    assert found.working is not None
    assert "most audio devices return to G1: 2" in list(found.working())
    assert the_finding("electrical/signal-ground", text, "COM").verdict is WARN  # the motor returns there as well
    assert "M returns to G1 as well" in the_finding("electrical/signal-ground", text, "COM").message


def test_six_of_many_returns_in_a_loop_are_named() -> None:
    more = ", ".join(f"{{id: L{n}, from: G1, to: G2}}" for n in range(6))
    found = the_finding("electrical/ground-loop", grounded().replace("wires: [", f"wires: [{more}, "), "aircraft")
    assert found.message == "8 returns lie in a loop: L0, L1, L2, L3, L4, L5"
    assert len(found.where) == 6


def test_a_stud_alone_or_a_ground_alone_is_asked() -> None:
    for records in (stud(3), stud(3).replace("grounds", "junctions").replace("kind: engine", "kind: stud")):
        assert [f.subject for f in findings("electrical/stud", records)] == ["G"]
    assert [f.verdict for f in findings("electrical/stud", "electrical: {buses: [{id: A}]}")] == [
        Verdict.NOT_APPLICABLE
    ]


@pytest.mark.parametrize(("wires", "left"), [(3, 1), (4, 0), (5, -1)])
def test_the_working_of_a_stud_tells_what_is_left(wires: int, left: int) -> None:
    found = the_finding("electrical/stud", stud(wires), "G")
    assert found.working is not None
    assert list(found.working())[-1] == f"margin: {left}"


def test_three_wires_of_one_marking_are_told_with_the_others() -> None:
    text = """electrical:
  buses: [{id: A}]
  wires:
    - {id: W1, from: A, to: A, marking: P1}
    - {id: W2, from: A, to: A, marking: p1}
    - {id: W3, from: A, to: A, marking: P1}
    - {id: P2, from: A, to: A}
    - {id: W5, from: A, to: A, marking: p2}
"""
    told = {f.subject: f.message for f in findings("electrical/marking", text)}
    assert told == {"W3": "it is marked P1, as W1, W2 is", "W5": "it is marked p2, as P2 is"}


def test_the_working_of_a_master_tells_whether_a_field_is_still_fed() -> None:
    text = """electrical:
  sources: [{id: ALT, kind: alternator, field: F}, {id: BAT, kind: battery}]
  buses: [{id: MAIN}]
  switches: [{id: SW, kind: toggle, master: true}, {id: SW-F, kind: toggle%s}]
  loads: [{id: F, current: 3 A, nature: electronic}]
  wires:
    - {id: W1, from: ALT, to: MAIN}
    - {id: W2, from: BAT, to: SW}
    - {id: W3, from: SW, to: MAIN}
    - {id: W4, from: MAIN, to: SW-F}
    - {id: W5, from: SW-F, to: F}
"""
    for master, fed in ((", master: true", ""), ("", ", still fed")):
        found = the_finding("electrical/master-switch", text % master, "ALT")
        assert found.working is not None
        assert list(found.working())[1] == f"field: F{fed}"
        battery = the_finding("electrical/master-switch", text % master, "BAT").working
        assert battery is not None
        assert list(battery())[1] == "field: none"
