"""Rule on switches: AC 43.13-1B Table 11-4 at 12 V (lamp 5, inductive 2, resistive 1, motor 2) and 28 V (8, 4, 2, 3)."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "ac43-table-11-4": "electrical/switch-rating",
    "own arithmetic": "electrical/coil-feed",
}

RULE = "electrical/switch-rating"


def measured(found: Finding) -> float:
    assert found.measured is not None
    return found.measured.value


def records(switch: str, *loads: str, volts: str = "nominal_voltage: 14 V") -> str:
    """BAT - SW - the loads, each with its own return."""
    names = [f"L{number}" for number, _ in enumerate(loads, 1)]
    return "\n".join(
        (
            "electrical:",
            f"  {volts}" if volts else "  buses: []",
            "  sources: [{id: BAT, kind: battery}]",
            "  switches:",
            f"    - {{id: SW, {switch}}}",
            "  loads:",
            *(
                f"    - {{id: {name}, {load}, grounded_at: BAT.return}}"
                for name, load in zip(names, loads, strict=True)
            ),
            "  wires:",
            "    - {id: W-IN, from: BAT, to: SW}",
            *(f"    - {{id: W-{name}, from: SW, to: {name}}}" for name in names),
        )
    )


# Factor of Table 11-4 for each nature of load; it has no row for electronics, ignitions and LED lamps: taken as resistive.
FACTORS = {
    "lamp": (5, 8),
    "relay": (2, 4),
    "heater": (1, 2),
    "motor": (2, 3),
    "electronic": (1, 2),
    "ignition": (1, 2),
    "led": (1, 2),
}


@pytest.mark.parametrize(("volts", "row"), [("14 V", 0), ("28 V", 1)])
@pytest.mark.parametrize("nature", FACTORS)
def test_the_factor_of_each_kind_of_load_and_system(nature: str, volts: str, row: int) -> None:
    text = records("kind: toggle, rating: 100 A", f"current: 2 A, nature: {nature}", volts=f"nominal_voltage: {volts}")
    found = the_finding(RULE, text, "SW")
    assert measured(found) == pytest.approx(2 * FACTORS[nature][row])


def test_passes_below_the_rating() -> None:
    # A 2 A lamp at 14 V: 2 x 5 = 10 A of 15 A, 1/3 to spare.
    found = the_finding(RULE, records("kind: toggle, rating: 15 A", "current: 2 A, nature: lamp"), "SW")
    assert found.verdict is Verdict.PASS
    assert measured(found) == pytest.approx(10)
    assert found.limit == (15, "A", "at-most")
    assert found.margin == pytest.approx(1 / 3)
    assert found.message == "its loads, multiplied by their factors, ask for 10 A; it is rated 15 A"


def test_exactly_at_the_rating_passes() -> None:
    # 3 A x 5.
    assert (
        the_finding(RULE, records("kind: rocker, rating: 15 A", "current: 3 A, nature: lamp"), "SW").verdict
        is Verdict.PASS
    )


def test_just_over_the_rating_fails_at_its_line() -> None:
    # 3.01 A x 5 = 15.05 A.
    found = the_finding(RULE, records("kind: rocker, rating: 15 A", "current: 3.01 A, nature: lamp"), "SW")
    assert found.verdict is Verdict.FAIL
    assert found.margin == pytest.approx(-0.05 / 15)
    assert found.remedy == "Fit one rated 15.05 A or more, or let it work a relay."
    # One line of the aircraft, then the switch on the sixth.
    assert found.where[0].position.line == 6


def test_at_28_volts_the_same_lamp_is_too_much() -> None:
    text = records("kind: toggle, rating: 15 A", "current: 2 A, nature: lamp", volts="nominal_voltage: 28 V")
    # 2 A x 8 = 16 A.
    assert the_finding(RULE, text, "SW").verdict is Verdict.FAIL


@pytest.mark.parametrize(("rating", "verdict"), [("10 A", Verdict.PASS), ("9.9 A", Verdict.FAIL)])
def test_in_a_ring_a_switch_is_taken_as_carrying_every_load(rating: str, verdict: Verdict) -> None:
    """How two ways share a current is not known from the records; all of it may pass either. A 2 A lamp x 5."""
    text = records(f"kind: toggle, rating: {rating}", "current: 2 A, nature: lamp")
    ring = "\n    - {id: W-ON, from: SW, to: BUS}\n    - {id: W-PAST, from: BAT, to: BUS}"
    text = text.replace("from: SW, to: L1", "from: BUS, to: L1").replace("  loads:", "  buses: [{id: BUS}]\n  loads:")
    found = the_finding(RULE, text + ring, "SW")
    assert measured(found) == pytest.approx(10)
    assert found.verdict is verdict


def test_without_a_rating_there_is_no_data() -> None:
    found = the_finding(RULE, records("kind: toggle", "current: 2 A, nature: lamp"), "SW")
    assert found.verdict is Verdict.NO_DATA
    assert found.message == "its rating is not recorded; its loads ask for 10 A"


def test_without_a_voltage_there_is_no_data() -> None:
    (found,) = findings(RULE, records("kind: toggle, rating: 15 A", "current: 2 A, nature: lamp", volts=""))
    assert found.verdict is Verdict.NO_DATA
    assert "nominal voltage" in found.message


def test_without_switches_it_does_not_apply() -> None:
    (found,) = findings(RULE, "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is Verdict.NOT_APPLICABLE


def test_several_loads_each_take_their_own_factor_and_the_working_adds_them() -> None:
    # 1 A lamp x 5 + 2 A motor x 2 + 3 A electronics x 1 = 12 A.
    loads = ("current: 1 A, nature: lamp", "current: 2 A, nature: motor", "current: 3 A, nature: electronic")
    found = the_finding(RULE, records("kind: toggle, rating: 15 A", *loads), "SW")
    assert measured(found) == pytest.approx(12)
    assert found.working is not None
    *terms, last = found.working()
    assert terms[0] == "L1: 1 A x 5 (Table 11-4) = 5 A"
    assert len(terms) == 3
    assert last.endswith("12 A")


CONTACTOR = """
electrical:
  nominal_voltage: 14 V
  sources: [{{id: BAT, kind: battery}}]
  switches:
    - {{id: K, kind: contactor, rating: 20 A, coil: 0.8 A}}
    - {{id: SW, kind: toggle, rating: {rating}}}
  loads:
    - {{id: LAMP, current: {lamp}, nature: lamp, grounded_at: BAT.return}}
    - {{id: STARTER, current: 110 A, nature: motor, intermittent: true, grounded_at: BAT.return}}
  wires:
    - {{id: W1, from: BAT, to: K}}
    - {{id: W2, from: K, to: LAMP}}
    - {{id: W3, from: K, to: STARTER}}
    - {{id: W4, from: BAT, to: K.coil}}
    - {{id: W5, from: K.coil-return, to: SW}}
    - {{id: W6, from: SW, to: BAT.return}}
"""


def test_a_contactor_is_held_against_the_continuous_current_as_it_is() -> None:
    # The lamp's 20 A, not 20 x 5, and not the starter's seconds.
    found = the_finding(RULE, CONTACTOR.format(rating="5 A", lamp="20 A"), "K")
    assert measured(found) == pytest.approx(20)
    assert found.verdict is Verdict.PASS
    assert found.message == "its loads, continuous, ask for 20 A; it is rated 20 A"
    assert the_finding(RULE, CONTACTOR.format(rating="5 A", lamp="20.1 A"), "K").verdict is Verdict.FAIL


def test_a_switch_in_a_coils_return_takes_the_inductive_factor() -> None:
    # 0.8 A x 2 = 1.6 A.
    assert the_finding(RULE, CONTACTOR.format(rating="1.6 A", lamp="2 A"), "SW").verdict is Verdict.PASS
    found = the_finding(RULE, CONTACTOR.format(rating="1.5 A", lamp="2 A"), "SW")
    assert found.verdict is Verdict.FAIL
    assert measured(found) == pytest.approx(1.6)


def test_a_relay_that_works_another_carries_its_coil() -> None:
    text = """
        electrical:
          nominal_voltage: 14 V
          sources: [{id: BAT, kind: battery}]
          switches:
            - {id: K1, kind: relay, rating: 1 A}
            - {id: K2, kind: contactor, rating: 80 A, coil: 1.2 A}
          wires:
            - {id: W1, from: BAT, to: K1}
            - {id: W2, from: K1, to: K2.coil}
            - {id: W3, from: K2.coil-return, to: BAT.return}
    """
    found = the_finding(RULE, text, "K1")
    assert measured(found) == pytest.approx(1.2)
    assert found.verdict is Verdict.FAIL


def test_the_busiest_contact_of_several_counts() -> None:
    text = """
        electrical:
          nominal_voltage: 14 V
          sources: [{id: BAT, kind: battery}]
          switches:
            - {id: SW, kind: rotary, rating: 5 A, contacts: [{joins: [a, left]}, {joins: [b, right]}]}
          loads:
            - {id: L1, current: 1 A, nature: heater, grounded_at: BAT.return}
            - {id: L2, current: 6 A, nature: heater, grounded_at: BAT.return}
          wires:
            - {id: W1, from: BAT, to: SW.a}
            - {id: W2, from: BAT, to: SW.b}
            - {id: W3, from: SW.left, to: L1}
            - {id: W4, from: SW.right, to: L2}
    """
    found = the_finding(RULE, text, "SW")
    assert measured(found) == pytest.approx(6)
    assert found.verdict is Verdict.FAIL


def contactors(main: str, alternator: str = "", starter: str = ", starter: true") -> str:
    """BAT - K - MAIN - the starter; the coil of K is fed from the point named, by a switch in its return."""
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}{", {id: ALT, kind: alternator}" if alternator else ""}]
  buses: [{{id: MAIN}}]
  switches:
    - {{id: K, kind: contactor, coil: 1 A}}
    - {{id: SW, kind: toggle}}
  loads: [{{id: START, current: 90 A, nature: motor{starter}, grounded_at: BAT.return}}]
  wires:
    - {{id: W1, from: BAT, to: K}}
    - {{id: W2, from: K, to: MAIN}}
    - {{id: W3, from: MAIN, to: START}}
    - {{id: W4, from: {main}, to: K.coil}}
    - {{id: W5, from: K.coil-return, to: SW}}
    - {{id: W6, from: SW, to: BAT.return}}
    {alternator}
"""


FEEDING = """- {id: W7, from: ALT, to: MAIN}
    - {id: W8, from: ALT.return, to: BAT.return}"""


@pytest.mark.parametrize(
    ("text", "verdict", "said"),
    [
        (contactors("BAT"), Verdict.PASS, "the battery closes it"),
        (contactors("K.in"), Verdict.PASS, "the battery closes it"),
        (contactors("MAIN"), Verdict.FAIL, "nothing closes it: its coil hangs behind open contacts"),
        (
            contactors("MAIN", FEEDING),
            Verdict.FAIL,
            "the battery cannot close it: its coil has current only once a generator turns, and START needs it",
        ),
        # No starter is recorded: whether the engine is started by hand is not known.
        (contactors("MAIN", FEEDING, ""), Verdict.WARN, "its coil has current only once a generator turns"),
        # The starter sits before the contactor, which joins the bus to the battery once the generator turns.
        (contactors("MAIN", FEEDING).replace("from: MAIN, to: START", "from: BAT, to: START"), Verdict.PASS, "once"),
    ],
)
def test_a_coil_needs_current_before_its_contacts_close(text: str, verdict: Verdict, said: str) -> None:
    found = the_finding("electrical/coil-feed", text, "K")
    assert found.verdict is verdict
    assert said in found.message
    assert found.where[0].position.line == 6


def test_contactors_that_close_one_after_the_other() -> None:
    text = contactors("BAT").replace(
        "id: SW, kind: toggle}", "id: SW, kind: toggle}\n    - {id: K2, kind: relay, coil: 1 A}"
    )
    text = text.replace(
        "    - {id: W6",
        "    - {id: W7, from: MAIN, to: K2.coil}\n    - {id: W8, from: K2.coil-return, to: SW}\n    - {id: W6",
    )
    assert {found.verdict for found in findings("electrical/coil-feed", text)} == {Verdict.PASS}


def test_without_coils_or_wiring_closing_is_not_judged() -> None:
    (found,) = findings("electrical/coil-feed", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is Verdict.NOT_APPLICABLE
    (found,) = findings("electrical/coil-feed", "weights: {}")
    assert found.verdict is Verdict.NO_DATA
