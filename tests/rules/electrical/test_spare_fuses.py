"""Rule on spare fuses: 14 CFR 91.205(c)(6) by night (memory), old 23.1357(e) by day (read in a translated copy)."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "91-205-c-6": "electrical/spare-fuses",
    "23-1357-e": "electrical/spare-fuses",
}

RULE = "electrical/spare-fuses"


def fuses(*devices: str, operations: str = "day-vfr") -> str:
    return "\n".join(
        (
            f"aircraft: {{name: Test Article, authority: US, stage: operating, operations: [{operations}]}}",
            "electrical:",
            "  protection:",
            *(f"    - {{id: F{number}, {device}}}" for number, device in enumerate(devices, 1)),
        )
    )


REACHED = "kind: blade-fuse, rating: 5 A, reachable_in_flight: true"


@pytest.mark.parametrize(
    ("fitted", "carried", "wanted", "verdict"),
    [
        # Old 23.1357(e): one of each rating or half of those fitted, whichever is more.
        (1, 1, 1, Verdict.PASS),
        (1, 0, 1, Verdict.WARN),
        (2, 1, 1, Verdict.PASS),
        (3, 2, 2, Verdict.PASS),
        (3, 1, 2, Verdict.WARN),
        (8, 5, 4, Verdict.PASS),
        (8, 3, 4, Verdict.WARN),
        (10, 4, 5, Verdict.WARN),
    ],
)
def test_by_day_half_of_each_rating_is_a_yardstick(fitted: int, carried: int, wanted: int, verdict: Verdict) -> None:
    found = the_finding(RULE, fuses(*[REACHED] * (fitted - 1), f"{REACHED}, spares: {carried}"), "5 A blade-fuse")
    assert found.verdict is verdict
    assert found.measured == (carried, "spares")
    assert found.limit == (wanted, "spares", "at-least")
    assert f"old 23.1357(e) asks for {wanted}" in found.message


@pytest.mark.parametrize(
    ("fitted", "carried", "wanted", "verdict"),
    [
        # 91.205(c)(6), from memory: one spare set, or three of each kind.
        (1, 1, 1, Verdict.PASS),
        (1, 0, 1, Verdict.FAIL),
        (2, 2, 2, Verdict.PASS),
        (2, 1, 2, Verdict.FAIL),
        (3, 3, 3, Verdict.PASS),
        (8, 3, 3, Verdict.PASS),
        (8, 4, 3, Verdict.PASS),
        (8, 2, 3, Verdict.FAIL),
    ],
)
def test_by_night_a_whole_set_or_three_of_each_are_asked(
    fitted: int, carried: int, wanted: int, verdict: Verdict
) -> None:
    text = fuses(*[REACHED] * (fitted - 1), f"{REACHED}, spares: {carried}", operations="day-vfr, night-vfr")
    found = the_finding(RULE, text, "5 A blade-fuse")
    assert found.verdict is verdict
    assert found.limit == (wanted, "spares", "at-least")
    assert f"91.205(c)(6) asks for {wanted}" in found.message


def test_too_few_spares_say_how_many_more_and_where() -> None:
    text = fuses(REACHED, f"{REACHED}, spares: 1", f"{REACHED}, spares: 0", operations="night-vfr")
    found = the_finding(RULE, text, "5 A blade-fuse")
    assert found.verdict is Verdict.FAIL
    assert found.remedy == "Carry 2 more, within the pilot's reach."
    assert found.margin == pytest.approx(-2 / 3)
    assert [spot.position.line for spot in found.where] == [4, 5, 6]
    assert found.working is not None
    assert list(found.working()) == ["F1: 0 spare", "F2: 1 spare", "F3: 0 spare", "together 1"]


def test_each_kind_and_rating_is_counted_for_itself() -> None:
    others = (
        "kind: glass-fuse, rating: 5 A, reachable_in_flight: true, spares: 0",
        "kind: blade-fuse, rating: 5000 mA, reachable_in_flight: true",
    )
    found = {f.subject: f.measured for f in findings(RULE, fuses(f"{REACHED}, spares: 2", *others))}
    assert found == {"5 A blade-fuse": (2, "spares"), "5 A glass-fuse": (0, "spares")}


def test_without_a_word_on_reach_there_is_no_data() -> None:
    found = the_finding(RULE, fuses("kind: blade-fuse, rating: 5 A, spares: 3"), "F1")
    assert found.verdict is Verdict.NO_DATA
    assert found.where[0].position.line == 4


def test_without_a_count_of_spares_there_is_no_data() -> None:
    found = the_finding(RULE, fuses(REACHED, REACHED), "5 A blade-fuse")
    assert found.verdict is Verdict.NO_DATA
    assert found.message == "2 fitted; how many spares are carried is not recorded"


def test_breakers_and_fuses_out_of_reach_need_no_spares() -> None:
    text = fuses(
        "kind: breaker, rating: 5 A, reachable_in_flight: true",
        "kind: blade-fuse, rating: 5 A, reachable_in_flight: false",
    )
    (found,) = findings(RULE, text)
    assert found.verdict is Verdict.NOT_APPLICABLE
