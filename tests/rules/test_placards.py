"""Placards against 14 CFR 91.319, the operating limitations of Order 8130.2, and old part 23, a yardstick."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Rule, Verdict
from jurystrut.testing import findings, installed

ORACLES = {
    "own arithmetic": "markings/baggage-placard",
    "nothing computed": "markings/day-vfr-only markings/fuel-filler markings/passenger-warning",
}


def aircraft(more: str) -> str:
    return f"aircraft: {{name: Test Article, authority: US, stage: operating{', ' if more else ''}{more}}}\n"


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"markings/{rule}", text)
    return finding


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


# markings/day-vfr-only: 91.319(d)(2) limits the flying, read as quoted text; the placard itself is common practice, no source


def day_placard(operations: str, *texts: str) -> str:
    """Line 1 the aircraft, one placard a line from line 4 on."""
    placards = "".join(f"  - {{id: P{n}, purpose: day-vfr-only, text: {text}}}\n" for n, text in enumerate(texts))
    return aircraft(f"operations: {operations}") + "markings:\n placards:" + (f"\n{placards}" if texts else " []\n")


def test_day_vfr_placard_passes() -> None:
    assert one("day-vfr-only", day_placard("[day-vfr]", "DAY VFR FLIGHT ONLY")).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("operations", "named"),
    [("[day-vfr, night-vfr]", "night-vfr"), ("[day-vfr, ifr]", "ifr"), ("[night-vfr, ifr]", "night-vfr and ifr")],
)
def test_day_vfr_placard_that_contradicts_the_intended_flights_fails(operations: str, named: str) -> None:
    finding = one("day-vfr-only", day_placard(operations, "DAY VFR FLIGHT ONLY"))
    assert finding.verdict is Verdict.FAIL
    assert finding.message == f"the placard reads DAY VFR FLIGHT ONLY, and the records intend {named}"
    assert lines(finding) == [4, 1]  # both records, for one of the two is wrong


def test_day_vfr_without_a_placard_is_a_warning() -> None:
    finding = one("day-vfr-only", day_placard("[day-vfr]"))
    assert finding.verdict is Verdict.WARN
    assert lines(finding) == [3, 1]
    assert "the aircraft's own operating limitations" in finding.remedy


def test_day_vfr_nearest_sound_case_is_night_without_a_placard() -> None:
    finding = one("day-vfr-only", day_placard("[day-vfr, night-vfr]"))
    assert finding.verdict is Verdict.NOT_APPLICABLE


def test_day_vfr_no_data() -> None:
    assert one("day-vfr-only", day_placard("[]", "DAY VFR FLIGHT ONLY")).verdict is Verdict.NO_DATA


def test_day_vfr_two_placards_both_contradict() -> None:
    found = findings("markings/day-vfr-only", day_placard("[night-vfr]", "DAY ONLY", "DAY VFR FLIGHT ONLY"))
    assert [finding.verdict for finding in found] == [Verdict.FAIL, Verdict.FAIL]


# markings/passenger-warning: operating limitations of Order 8130.2F to J, second-hand


def warning(seats: str, *placards: str) -> str:
    listed = "".join(f"  - {{id: P{n}, purpose: {placard}}}\n" for n, placard in enumerate(placards))
    return aircraft(seats) + "markings:\n placards:" + (f"\n{listed}" if placards else " []\n")


WARNING = "passenger-warning, text: THIS AIRCRAFT IS EXPERIMENTAL"


def test_passenger_warning_passes() -> None:
    finding = one("passenger-warning", warning("seats: 2", f"{WARNING}, place: on the panel"))
    assert finding.verdict is Verdict.PASS
    assert finding.message == "it stands on the panel"
    assert lines(finding) == [4]


@pytest.mark.parametrize("seats", ["seats: 2", ""])
def test_passenger_warning_fails_without_a_placard_also_where_seats_are_unknown(seats: str) -> None:
    finding = one("passenger-warning", warning(seats, "day-vfr-only, text: DAY VFR FLIGHT ONLY"))
    assert finding.verdict is Verdict.FAIL
    assert "the operating limitations ask for one" in finding.message
    assert lines(finding) == [4]


def test_passenger_warning_nearest_sound_case_is_a_single_seat() -> None:
    assert one("passenger-warning", warning("seats: 1")).verdict is Verdict.NOT_APPLICABLE


def test_passenger_warning_no_data() -> None:
    finding = one("passenger-warning", warning("seats: 2", WARNING))
    assert finding.verdict is Verdict.NO_DATA
    assert lines(finding) == [4]


def test_passenger_warning_sends_the_builder_to_the_aircrafts_own_words() -> None:
    # The order's words changed with 8130.2J (2017), and older placards stay valid.
    assert "the aircraft's own operating limitations" in explained("markings/passenger-warning").remedy


def explained(rule_id: str) -> Rule:
    return next(rule for rule in installed().rules if rule.id == rule_id)


# markings/fuel-filler: old 23.1557(c)(1), second-hand: the fuel word and the least grade at each filler


def filler(grade: str, text: str, beside: str = "LEFT") -> str:
    """Placard on line 4, grade on line 6, tank on line 8."""
    placard = f"markings:\n placards:\n  - {{id: P, purpose: fuel-filler, text: '{text}', beside: {beside}}}\n"
    return aircraft("") + placard + f"fuel:\n {grade}\n tanks:\n  - {{id: LEFT}}\n"


@pytest.mark.parametrize(
    ("grade", "text"),
    [
        ("Avgas 100LL", "AVGAS 100LL"),
        ("Avgas 100LL", "USE AVGAS 100LL ONLY. 11 US GAL."),
        ("100LL", "Avgas 100LL"),
        ("Mogas 91 AKI without ethanol", "FUEL: MOGAS 91 AKI, NO ETHANOL"),
        ("Mogas 93.5", "MOGAS 93.5."),
        ("Mogas 91", "FUEL MOGAS 91."),
    ],
)
def test_fuel_filler_passes(grade: str, text: str) -> None:
    assert one("fuel-filler", filler(f"grade: {grade}", text)).verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("grade", "text"),
    [
        ("Avgas 100LL", "MOGAS 91 AKI"),
        ("Avgas 100LL", "AVGAS"),  # no grade
        ("Avgas 100LL", "100LL"),  # no fuel word
        ("Mogas 91 AKI", "MOGAS 87 AKI"),
        ("Mogas 91", "MOGAS 9.1"),
        ("Mogas 91", "MOGAS 191"),
    ],
)
def test_fuel_filler_that_names_another_fuel_warns(grade: str, text: str) -> None:
    finding = one("fuel-filler", filler(f"grade: {grade}", text))
    assert finding.verdict is Verdict.WARN  # a yardstick
    assert finding.message == f"its placard reads {text}, and the fuel is {grade}"
    assert lines(finding) == [4, 6]


def test_fuel_filler_nearest_sound_case_gives_no_capacity() -> None:
    # The later 23.1557(c) as quoted asks the fuel word and its grade, and no capacity.
    assert one("fuel-filler", filler("grade: Avgas 100LL", "avgas 100ll")).verdict is Verdict.PASS


def test_fuel_filler_without_a_placard_beside_it_warns() -> None:
    finding = one("fuel-filler", filler("grade: Avgas 100LL", "AVGAS 100LL", beside="RIGHT"))
    assert finding.verdict is Verdict.WARN
    assert lines(finding) == [8, 4]


@pytest.mark.parametrize(
    "text",
    [
        filler("density: 6.0 lb/US gal", "AVGAS"),
        filler("grade: Avgas 100LL", "AVGAS").replace("\n  - {id: LEFT}", " []"),
    ],
)
def test_fuel_filler_no_data(text: str) -> None:
    assert one("fuel-filler", text).verdict is Verdict.NO_DATA


# markings/baggage-placard: old 23.1557(a), from memory (25.1557(a) was read)


def baggage(maximum: str, text: str | None, kind: str = "baggage") -> str:
    """Placard on line 4, station on line 7 with text; on line 6 without."""
    placard = f"\n  - {{id: P, purpose: baggage, text: '{text}', beside: BAG}}" if text else " []"
    station = f"{{id: BAG, kind: {kind}, arm: 50 in{maximum and ', maximum: '}{maximum}}}"
    return aircraft("") + f"markings:\n placards:{placard}\nweights:\n stations:\n  - {station}\n"


@pytest.mark.parametrize("text", ["BAGGAGE 30 LB MAXIMUM", "one bag, 39.9 lbs", "MAX 18 kg"])
def test_baggage_passes_below_the_limit(text: str) -> None:
    assert one("baggage-placard", baggage("40 lb", text)).verdict is Verdict.PASS


# A pound is 0.45359237 kg by definition: 100 lb is 45.359237 kg.
@pytest.mark.parametrize(
    ("maximum", "text"),
    [("40 lb", "BAGGAGE 40 LB MAXIMUM"), ("18 kg", "18KG"), ("45.359237 kg", "100 lb"), ("100 lb", "45.359237 kg")],
)
def test_baggage_exactly_at_the_limit_passes(maximum: str, text: str) -> None:
    assert one("baggage-placard", baggage(maximum, text)).verdict is Verdict.PASS


def test_baggage_just_over_the_limit_warns() -> None:
    finding = one("baggage-placard", baggage("40 lb", "BAGGAGE 41 LB MAXIMUM"))
    assert finding.verdict is Verdict.WARN
    assert finding.measured is not None
    assert finding.limit is not None
    assert (finding.measured.value, finding.measured.unit) == (41, "lb")
    assert finding.limit.value == pytest.approx(40)
    assert finding.limit.sense == "at-most"
    assert finding.margin == pytest.approx(-0.025)  # (40 - 41) / 40
    assert finding.message == "its placard reads BAGGAGE 41 LB MAXIMUM; the space may hold 40 lb"
    assert finding.remedy == "Make it read 40 lb, or less."
    assert lines(finding) == [4, 7]


def test_baggage_in_the_wrong_unit_warns() -> None:
    assert one("baggage-placard", baggage("40 lb", "BAGGAGE 40 KG")).verdict is Verdict.WARN


def test_baggage_without_a_weight_warns() -> None:
    finding = one("baggage-placard", baggage("40 lb", "NO HEAVY BAGS"))
    assert finding.verdict is Verdict.WARN
    assert "no weight in lb or kg" in finding.message
    assert finding.remedy == "Add 40 lb to its words."


def test_baggage_without_a_placard_warns() -> None:
    finding = one("baggage-placard", baggage("40 lb", None))
    assert finding.verdict is Verdict.WARN
    assert lines(finding) == [6, 3]


def test_baggage_no_data() -> None:
    assert one("baggage-placard", baggage("", "BAGGAGE 40 LB")).verdict is Verdict.NO_DATA


def test_baggage_does_not_apply_to_seats() -> None:
    assert one("baggage-placard", baggage("200 lb", None, kind="seat")).verdict is Verdict.NOT_APPLICABLE
