"""Diodes and junctions against the ratings declared for them; currents are plain sums, worked beside each case."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "own arithmetic": "electrical/device-load electrical/feeder-device electrical/part-rating",
}

RULE = "electrical/part-rating"
PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
# The source feeds the splice J by W1, J feeds loads of 3 A and, through the diode D, of 4 A: W1 carries 7 A, D 4 A.
RECORDS = """electrical:
  sources: [{id: ALT, kind: alternator, rating: 40 A}]
  grounds: [{id: G, kind: single-point}]
  junctions: [{id: J, kind: splice%s}]
  diodes: [{id: D%s}]
  loads: [{id: A, current: 3 A, nature: led}, {id: B, current: 4 A, nature: led}]
  wires:
    - {id: W1, from: ALT, to: J, size: 14 AWG}
    - {id: W2, from: J, to: A, size: 14 AWG}
    - {id: W3, from: J, to: D.in, size: 14 AWG}
    - {id: W4, from: D.out, to: B, size: 14 AWG}
    - {id: W5, from: A.return, to: G, size: 14 AWG}
    - {id: W6, from: B.return, to: G, size: 14 AWG}
    - {id: W7, from: ALT.return, to: G, size: 14 AWG}
"""


def records(junction: str = ", rating: 10 A", diode: str = ", rating: 10 A") -> str:
    return RECORDS % (junction, diode)


@pytest.mark.parametrize(
    ("rating", "verdict"),
    [("7.1 A", Verdict.PASS), ("7 A", Verdict.PASS), ("6.9 A", Verdict.FAIL), ("7 mA", Verdict.FAIL)],
)
def test_a_junction_by_the_wire_that_carries_most(rating: str, verdict: Verdict) -> None:
    found = the_finding(RULE, records(junction=f", rating: {rating}"), "J")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.measured.value == pytest.approx(7)
    assert found.where[0].position.line == 5


@pytest.mark.parametrize(
    ("rating", "verdict"), [("4.1 A", Verdict.PASS), ("4 A", Verdict.PASS), ("3.9 A", Verdict.FAIL)]
)
def test_a_diode_by_the_loads_behind_it(rating: str, verdict: Verdict) -> None:
    found = the_finding(RULE, records(diode=f", rating: {rating}"), "D")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.measured.value == pytest.approx(4)


def test_without_a_rating_there_is_no_data() -> None:
    assert {f.subject: f.verdict for f in findings(RULE, records("", ""))} == dict.fromkeys(("J", "D"), Verdict.NO_DATA)


def test_a_starter_feeder_is_not_counted() -> None:
    text = records(", rating: 5 A").replace("to: J, size: 14 AWG", "to: J, size: 14 AWG, serves: starter-feeder")
    assert the_finding(RULE, text, "J").verdict is Verdict.PASS


def test_nothing_to_rate_is_not_asked() -> None:
    (found,) = findings(RULE, "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is Verdict.NOT_APPLICABLE


def behind_one_fuse(rating: str, *duties: str, more: str = "") -> str:
    """BAT - F - two loads of 3 A each, on in the phases named."""
    loads = "\n".join(
        f"    - {{id: L{n}, current: 3 A, nature: led, grounded_at: BAT.return{duty}}}" for n, duty in enumerate(duties)
    )
    wires = "\n".join(f"    - {{id: W{n}, from: F, to: L{n}}}" for n, _ in enumerate(duties))
    return f"""electrical:
  sources: [{{id: BAT, kind: battery}}]
  protection: [{{id: F, kind: blade-fuse, rating: {rating}, fed_from: BAT}}]
  loads:
{loads}
  wires:
{wires}
{more}"""


# A fuse holds 100 % of its rating (read of large blade fuses: 100 h): 3 A + 3 A.
@pytest.mark.parametrize(("rating", "verdict"), [("7.5 A", PASS), ("6 A", PASS), ("5.9 A", FAIL)])
def test_a_fuse_holds_what_hangs_on_it(rating: str, verdict: Verdict) -> None:
    found = the_finding("electrical/device-load", behind_one_fuse(rating, "", ""), "F")
    assert found.verdict is verdict
    assert found.measured == (6.0, "A")
    assert found.where[0].position.line == 4


@pytest.mark.parametrize(
    ("second", "verdict"),
    [
        (", duty: {landing: 100 %}", PASS),
        (", duty: {taxi: 0 %}", PASS),
        (", duty: {taxi: 10 %}", FAIL),
        (", intermittent: true, duty: {taxi: 1 %}", FAIL),
        ("", FAIL),
    ],
)
def test_loads_that_are_never_on_together_are_not_added(second: str, verdict: Verdict) -> None:
    found = the_finding("electrical/device-load", behind_one_fuse("5 A", ", duty: {taxi: 100 %}", second), "F")
    assert found.verdict is verdict


def test_without_devices_or_wiring_their_loads_are_not_judged() -> None:
    (found,) = findings("electrical/device-load", "electrical: {nominal_voltage: 14 V}")
    assert found.verdict is APART
    (found,) = findings("electrical/device-load", "weights: {}")
    assert found.verdict is NO_DATA


def two_sources(limiter: str, battery: str = "20 A", load: str = "12 A") -> str:
    """ALT - CL - MAIN - F - BAT, and a load on MAIN: with both sources the alternator, of the higher voltage, gives it all."""
    return f"""electrical:
  nominal_voltage: 14 V
  sources:
    - {{id: ALT, kind: alternator, rating: 40 A, voltage: 14.2 V}}
    - {{id: BAT, kind: battery, voltage: 12.6 V, resistance: 10 mohm}}
  buses: [{{id: MAIN}}]
  protection:
    - {{id: CL, kind: current-limiter, rating: {limiter}}}
    - {{id: F, kind: current-limiter, rating: {battery}}}
  loads: [{{id: L, current: {load}, nature: led, duty: {{cruise: 100 %}}}}]
  wires:
    - {{id: W1, from: ALT, to: CL, size: 8 AWG, length: 1 ft}}
    - {{id: W2, from: CL, to: MAIN, size: 8 AWG, length: 1 ft}}
    - {{id: W3, from: BAT, to: F, size: 8 AWG, length: 1 ft}}
    - {{id: W4, from: F, to: MAIN, size: 8 AWG, length: 1 ft}}
    - {{id: W5, from: MAIN, to: L, size: 8 AWG, length: 1 ft}}
    - {{id: W6, from: L.return, to: BAT.return, size: 8 AWG, length: 1 ft}}
    - {{id: W7, from: ALT.return, to: BAT.return, size: 8 AWG, length: 1 ft}}
"""


@pytest.mark.parametrize(("rating", "verdict"), [("15 A", PASS), ("12 A", PASS), ("11.9 A", FAIL)])
def test_a_limiter_between_sources_holds_what_the_alternator_gives(rating: str, verdict: Verdict) -> None:
    found = the_finding("electrical/feeder-device", two_sources(rating), "CL")
    assert found.verdict is verdict
    assert found.measured is not None
    assert found.measured.value == pytest.approx(12)
    assert found.where[0].position.line == 9


def test_the_batterys_limiter_holds_when_the_alternator_is_lost() -> None:
    found = the_finding("electrical/feeder-device", two_sources("15 A", battery="10 A"), "F")
    assert found.verdict is FAIL
    assert found.message == "12 A pass it, cruise, ALT lost; it is rated 10 A"


def test_a_device_that_opens_after_another_warns() -> None:
    # Whole, ALT gives what the load asks through CL alone; a load on the way that only the other device's opening sends over F
    # is a second step. Losing ALT must not ask it of F, so ALT stands behind neither: both devices lead from BAT.
    text = two_sources("15 A", battery="10 A").replace("from: ALT, to: CL", "from: BAT, to: CL")
    text = text.replace("    - {id: ALT, kind: alternator, rating: 40 A, voltage: 14.2 V}\n", "")
    text = text.replace("    - {id: W7, from: ALT.return, to: BAT.return, size: 8 AWG, length: 1 ft}\n", "")
    found = the_finding("electrical/feeder-device", text, "F")
    assert found.verdict is WARN  # the two share 12 A evenly, 6 A each, until CL opens
    assert found.message == "12 A pass it, cruise, CL open; it is rated 10 A"


def test_devices_between_sources_without_records() -> None:
    (found,) = findings("electrical/feeder-device", two_sources("15 A").replace(", resistance: 10 mohm", ""))
    assert found.verdict is NO_DATA
    one = behind_one_fuse("5 A", "").replace("kind: battery", "kind: battery, voltage: 12 V, resistance: 9 mohm")
    (found,) = findings("electrical/feeder-device", one.replace("  sources", "  nominal_voltage: 14 V\n  sources"))
    assert found.verdict is APART


def test_what_sources_cannot_carry_tells_no_current() -> None:
    # Behind 10 mohm 12.6 V drive 1,260 A at most, and the alternator adds 40 A.
    found = the_finding("electrical/feeder-device", two_sources("15 A", load="2000 A"), "CL")
    assert found.verdict is NO_DATA
    assert found.message == "what passes it cannot be told"


def test_a_limiter_that_the_starter_hangs_on_warns() -> None:
    # Cranking, 90 A come over F from the battery; CL carries nothing then.
    text = two_sources("15 A").replace("loads: [", "loads: [{id: S, current: 90 A, nature: motor, starter: true}, ")
    text += """    - {id: W8, from: MAIN, to: S, size: 4 AWG, length: 1 ft, serves: starter-feeder}
    - {id: W9, from: S.return, to: BAT.return, size: 4 AWG, length: 1 ft}
"""
    found = the_finding("electrical/feeder-device", text, "F")
    assert found.verdict is WARN
    assert found.message == "90 A pass it, cranking; it is rated 20 A"
