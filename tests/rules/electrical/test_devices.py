"""Rules on protective devices: what exists, what they stand and break, how they close again, who reaches them."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "blade-fuse-limits": "electrical/device-voltage electrical/interrupting-rating",
    "blade-fuse-colours": "electrical/standard-rating",
    "ac43-table-11-9": "electrical/interrupting-rating",
    "nothing computed": "electrical/automatic-reset electrical/essential-reset",
}

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA


def system(device: str, *, source: str = "voltage: 12.6 V, resistance: 10 mohm", load: str = "essential: true") -> str:
    """BAT - MAIN - F - L, F fed by a wire of 20 ft of 10 AWG: 20 x 1.26 / 1000 = 25.2 mohm."""
    return f"""electrical:
  nominal_voltage: 14 V
  sources: [{{id: BAT, kind: battery, {source}}}]
  buses: [{{id: MAIN}}]
  protection:
    - {{id: F, {device}}}
  loads: [{{id: L, current: 1 A, nature: led, {load}}}]
  wires:
    - {{id: W0, from: BAT, to: MAIN, size: 10 AWG, length: 0 in}}
    - {{id: W1, from: MAIN, to: F, size: 10 AWG, length: 20 ft}}
    - {{id: W2, from: F, to: L, size: 20 AWG, length: 1 ft}}
    - {{id: W3, from: L.return, to: BAT.return, size: 20 AWG, length: 1 ft}}
"""


@pytest.mark.parametrize(
    ("rating", "verdict"),
    [("5 A", PASS), ("7.5 A", PASS), ("40 A", PASS), ("6 A", WARN), ("7 A", WARN), ("50 A", WARN)],
)
def test_blade_fuses_are_made_in_a_series(rating: str, verdict: Verdict) -> None:
    found = the_finding("electrical/standard-rating", system(f"kind: blade-fuse, rating: {rating}"), "F")
    assert found.verdict is verdict
    assert found.where[0].position.line == 7


def test_the_next_smaller_fuse_is_named() -> None:
    found = the_finding("electrical/standard-rating", system("kind: blade-fuse, rating: 12 A"), "F")
    assert found.remedy == "Fit 10 A, the next smaller."


def test_without_blade_fuses_the_series_is_not_asked() -> None:
    (found,) = findings("electrical/standard-rating", system("kind: breaker, rating: 6 A"))
    assert found.verdict is Verdict.NOT_APPLICABLE


@pytest.mark.parametrize(
    ("device", "source", "verdict", "margin"),
    [
        # The system's highest voltage is the nominal 14 V or a source's own.
        ("kind: breaker, rating: 5 A, voltage: 28 V", "voltage: 12.6 V", PASS, 1.0),
        ("kind: breaker, rating: 5 A, voltage: 14 V", "voltage: 12.6 V", PASS, 0.0),
        ("kind: breaker, rating: 5 A, voltage: 14 V", "voltage: 14.1 V", FAIL, -0.1 / 14.1),
        ("kind: blade-fuse, rating: 5 A", "voltage: 32 V", PASS, 0.0),
        ("kind: blade-fuse, rating: 5 A", "voltage: 32.1 V", FAIL, -0.1 / 32.1),
        ("kind: blade-fuse, rating: 5 A, voltage: 32 V", "voltage: 32.1 V", FAIL, -0.1 / 32.1),
        ("kind: breaker, rating: 5 A", "voltage: 12.6 V", NO_DATA, None),
    ],
)
def test_rated_voltage(device: str, source: str, verdict: Verdict, margin: float | None) -> None:
    found = the_finding("electrical/device-voltage", system(device, source=source), "F")
    assert found.verdict is verdict
    assert found.margin == (None if margin is None else pytest.approx(margin))
    assert found.where[0].position.line == 7
    if found.working is not None:
        assert ("as recorded" in found.working()[0]) is (" voltage:" in device)


# 12.6 V / (10 mohm + 25.2 mohm) = 357.95 A at the device, by Ohm's law.
@pytest.mark.parametrize(
    ("device", "verdict"),
    [
        ("kind: breaker, rating: 5 A, interrupts: 400 A", PASS),
        ("kind: breaker, rating: 5 A, interrupts: 357.9 A", FAIL),
        ("kind: blade-fuse, rating: 5 A", PASS),
        ("kind: breaker, rating: 5 A", NO_DATA),
    ],
)
def test_interrupting_rating(device: str, verdict: Verdict) -> None:
    found = the_finding("electrical/interrupting-rating", system(device), "F")
    assert found.verdict is verdict
    if verdict is not NO_DATA:
        assert found.limit is not None
        assert found.limit.value == pytest.approx(12.6 / 0.0352)
    assert "358 A" in found.message


@pytest.mark.parametrize(("breaks", "verdict"), [("40 A", PASS), ("39.9 A", FAIL)])
def test_where_no_battery_reaches_a_generator_gives_what_it_is_rated(breaks: str, verdict: Verdict) -> None:
    text = system(f"kind: breaker, rating: 5 A, interrupts: {breaks}")
    text = text.replace("from: BAT, to: MAIN", "from: ALT, to: MAIN").replace(
        "sources: [", "sources: [{id: ALT, kind: alternator, rating: 40 A}, "
    )
    found = the_finding("electrical/interrupting-rating", text, "F")
    assert found.verdict is verdict
    assert found.working is not None
    assert found.working()[0] == "no battery reaches it; generators as rated: 40 A"


def test_exactly_at_the_interrupting_rating_passes() -> None:
    # 10.56 V / 35.2 mohm = 300 A.
    text = system("kind: breaker, rating: 5 A, interrupts: 300 A", source="voltage: 10.56 V, resistance: 10 mohm")
    assert the_finding("electrical/interrupting-rating", text, "F").verdict is PASS


# Table 11-10, from memory: 4 AWG of aluminium has 0.427 ohm per 1000 ft; 12.6 V over 10 + 4.27 mohm are 882.97 A.
@pytest.mark.parametrize(("breaks", "verdict"), [("883 A", PASS), ("882.9 A", WARN)])
def test_what_rests_on_aluminium_warns(breaks: str, verdict: Verdict) -> None:
    text = system(f"kind: breaker, rating: 5 A, interrupts: {breaks}").replace(
        "size: 10 AWG, length: 20 ft", "size: 4 AWG, length: 10 ft, material: aluminium"
    )
    assert the_finding("electrical/interrupting-rating", text, "F").verdict is verdict


def test_a_battery_without_a_resistance_leaves_the_fault_unknown() -> None:
    (found,) = findings(
        "electrical/interrupting-rating", system("kind: blade-fuse, rating: 5 A", source="voltage: 12 V")
    )
    assert found.verdict is NO_DATA


@pytest.mark.parametrize(
    ("device", "verdict"),
    [
        ("kind: breaker, rating: 5 A, resets: by-hand", PASS),
        ("kind: breaker, rating: 5 A, resets: automatic", FAIL),
        ("kind: breaker, rating: 5 A, resets: never", PASS),
        ("kind: breaker, rating: 5 A", NO_DATA),
        ("kind: current-limiter, rating: 5 A, resets: automatic", FAIL),
    ],
)
def test_nothing_resets_itself(device: str, verdict: Verdict) -> None:
    found = the_finding("electrical/automatic-reset", system(device), "F")
    assert found.verdict is verdict
    assert found.where[0].position.line == 7


@pytest.mark.parametrize(
    ("device", "verdict"),
    [
        ("reachable_in_flight: true", PASS),
        ("reachable_in_flight: false", WARN),
        ("what: no word of reach", NO_DATA),
    ],
)
def test_essential_devices_are_reached(device: str, verdict: Verdict) -> None:
    found = the_finding("electrical/essential-reset", system(f"kind: breaker, rating: 5 A, {device}"), "L")
    assert found.verdict is verdict
    assert found.where[0].position.line == 7


def test_loads_that_are_not_essential_ask_for_no_reach() -> None:
    text = system("kind: breaker, rating: 5 A, reachable_in_flight: false", load="what: lamp")
    (found,) = findings("electrical/essential-reset", text)
    assert found.verdict is Verdict.NOT_APPLICABLE


def test_records_without_the_section_are_no_data() -> None:
    (found,) = findings("electrical/standard-rating", "")
    assert found.verdict is Verdict.NO_DATA


def test_below_the_smallest_fuse_that_is_made_the_smallest_is_named() -> None:
    found = the_finding("electrical/standard-rating", system("kind: blade-fuse, rating: 0.5 A"), "F")
    assert found.remedy.startswith("Fit 1 A")


@pytest.mark.parametrize(
    ("device", "field"),
    [("kind: breaker, rating: 5 A, interrupts: 400 A", "interrupts"), ("kind: blade-fuse, rating: 5 A", "kind")],
)
def test_an_interrupting_rating_is_shown_where_it_comes_from(device: str, field: str) -> None:
    assert the_finding("electrical/interrupting-rating", system(device), "F").where[0].field == field


@pytest.mark.parametrize(("resets", "words"), [("by-hand", "reset by hand"), ("never", "never closes again")])
def test_how_a_device_closes_again_is_told(resets: str, words: str) -> None:
    found = the_finding("electrical/automatic-reset", system(f"kind: breaker, rating: 5 A, resets: {resets}"), "F")
    assert words in found.message
