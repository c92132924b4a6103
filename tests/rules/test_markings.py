"""Marks on the outside and the data plate against 14 CFR 45."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "45-23-b": "markings/experimental-word",
    "45-29-b": "markings/registration-height",
    "nothing computed": "markings/data-plate",
}


def aircraft(more: str) -> str:
    return f"aircraft: {{name: Test Article, authority: US, stage: operating{', ' if more else ''}{more}}}\n"


def one(rule: str, text: str) -> Finding:
    (finding,) = findings(f"markings/{rule}", text)
    return finding


def lines(finding: Finding) -> list[int]:
    return [spot.position.line for spot in finding.where]


# markings/experimental-word: 45.23(b), 1 January 2024: letters of 2 to 6 inches near each entrance


def word(height: str) -> str:
    return aircraft("") + f"markings:\n registration_marks:\n  {height}\n"


@pytest.mark.parametrize("height", ["2.5 in", "4 in", "5.9 in"])
def test_experimental_word_passes(height: str) -> None:
    assert one("experimental-word", word(f"experimental_height: {height}")).verdict is Verdict.PASS


# 2 in is 50.8 mm and 6 in is 152.4 mm, at 25.4 mm an inch by definition
@pytest.mark.parametrize("height", ["2 in", "6 in", "50.8 mm", "152.4 mm"])
def test_experimental_word_exactly_at_either_limit_passes(height: str) -> None:
    finding = one("experimental-word", word(f"experimental_height: {height}"))
    assert finding.verdict is Verdict.PASS
    assert finding.margin == pytest.approx(0)


@pytest.mark.parametrize(
    ("height", "verdict"),
    [("2 in", Verdict.PASS), ("6 in", Verdict.PASS), ("1.9 in", Verdict.FAIL), ("6.1 in", Verdict.FAIL)],
)
def test_the_placard_must_not_contradict_the_height_of_the_word(height: str, verdict: Verdict) -> None:
    placard = f" placards:\n  - {{id: P, purpose: experimental, text: EXPERIMENTAL, letter_height: {height}}}\n"
    found = findings("markings/experimental-word", word("experimental_height: 2 in") + placard)
    assert [(f.subject, f.verdict) for f in found] == [("P", verdict), ("registration-marks", Verdict.PASS)]
    assert lines(found[0]) == [6]
    assert one("experimental-word", aircraft("") + "markings:\n" + placard).verdict is verdict


@pytest.mark.parametrize(
    ("text", "verdicts"),
    [
        ("EXPERIMENTAL", [Verdict.PASS]),
        ("Experimental", [Verdict.PASS]),
        ("EXPERIMENTA", [Verdict.FAIL, Verdict.PASS]),
        ("EXPERIMENTALLY BUILT", [Verdict.FAIL, Verdict.PASS]),
    ],
)
def test_the_word_has_all_its_letters(text: str, verdicts: list[Verdict]) -> None:
    placard = f"markings:\n placards:\n  - {{id: P, purpose: experimental, text: {text}, letter_height: 2 in}}\n"
    found = findings("markings/experimental-word", aircraft("") + placard)
    assert [(f.subject, f.verdict) for f in found] == [("P", verdict) for verdict in verdicts]


@pytest.mark.parametrize(("height", "limit", "margin"), [("1.9 in", 2, -0.05), ("6.3 in", 6, -0.05)])
def test_experimental_word_just_beyond_either_limit_fails(height: str, limit: float, margin: float) -> None:
    finding = one("experimental-word", word(f"experimental_height: {height}"))
    assert finding.verdict is Verdict.FAIL
    assert finding.limit is not None
    assert (finding.limit.value, finding.limit.unit) == (limit, "in")
    assert finding.margin == pytest.approx(margin)  # (1.9 - 2) / 2 and (6 - 6.3) / 6
    assert finding.message == f"the word EXPERIMENTAL is {height} high"
    assert finding.remedy == "Paint it 2 to 6 in high."
    assert lines(finding) == [4]


def test_experimental_word_no_data() -> None:
    assert one("experimental-word", word("height: 3 in")).verdict is Verdict.NO_DATA


def test_experimental_word_no_data_without_any_marks() -> None:
    assert one("experimental-word", aircraft("") + "markings: {}\n").verdict is Verdict.NO_DATA


# markings/registration-height: 45.29(b)(1), read as quoted text: 12 in; 3 in within 180 knots calibrated


def marks(height: str, cruise: str, more: str = "text: X-EXAMPLE") -> str:
    limits = f"\n limits: {{maximum_cruise: {cruise}}}" if cruise else ""
    head = f"aircraft:\n name: Test Article\n authority: US\n stage: operating\n registration: X-EXAMPLE{limits}\n"
    return head + f"markings:\n registration_marks:\n  height: {height}\n" + (f"  {more}\n" if more else "")


def height_of(height: str, cruise: str) -> Finding:
    return the_finding("markings/registration-height", marks(height, cruise), "registration-marks")


@pytest.mark.parametrize(("height", "cruise"), [("4 in", "112 kt"), ("13 in", "200 kt"), ("12 in", "112 kt")])
def test_registration_height_passes(height: str, cruise: str) -> None:
    assert height_of(height, cruise).verdict is Verdict.PASS


@pytest.mark.parametrize(("height", "cruise"), [("3 in", "112 kt"), ("12 in", "200 kt"), ("304.8 mm", "200 kt")])
def test_registration_height_exactly_at_its_limit_passes(height: str, cruise: str) -> None:
    assert height_of(height, cruise).verdict is Verdict.PASS  # 12 in x 25.4 mm = 304.8 mm


@pytest.mark.parametrize(
    ("height", "cruise", "margin"),
    [("2.7 in", "112 kt", -0.1), ("11.4 in", "200 kt", -0.05)],  # (2.7 - 3) / 3 and (11.4 - 12) / 12
)
def test_registration_height_just_below_fails(height: str, cruise: str, margin: float) -> None:
    finding = height_of(height, cruise)
    assert finding.verdict is Verdict.FAIL
    assert finding.margin == pytest.approx(margin)
    assert lines(finding) == [9, 6]


# A knot is 1852 m an hour: 180 kt is 333.36 km/h, and 333.36 / 1.609344 = 207.14 mph.
@pytest.mark.parametrize(
    ("cruise", "asked"),
    [
        ("179.9 kt", 3),
        ("180 kt", 3),
        ("333.36 km/h", 3),
        ("207.1 mph", 3),
        ("180.1 kt", 12),
        ("333.4 km/h", 12),
        ("207.2 mph", 12),
    ],
)
def test_registration_height_changes_above_180_knots(cruise: str, asked: float) -> None:
    finding = height_of("3 in", cruise)
    assert finding.limit is not None
    assert finding.limit.value == asked
    assert finding.verdict is (Verdict.PASS if asked == 3 else Verdict.FAIL)
    assert finding.message == f"the marks are 3 in high; {asked} in is asked for at a maximum cruise of {cruise}"


def test_registration_height_no_data() -> None:
    finding = one("registration-height", aircraft("") + "markings: {registration_marks: {text: X-EXAMPLE}}\n")
    assert finding.verdict is Verdict.NO_DATA
    assert "height" in finding.message


def test_registration_height_no_data_without_the_speed() -> None:
    finding = one("registration-height", marks("12 in", ""))
    assert finding.verdict is Verdict.NO_DATA
    assert "aircraft.limits.maximum_cruise" in finding.message


def test_marks_that_read_as_registered_pass() -> None:
    finding = the_finding("markings/registration-height", marks("3 in", "112 kt"), "registration")
    assert finding.verdict is Verdict.PASS


def test_marks_that_read_otherwise_fail() -> None:
    finding = the_finding("markings/registration-height", marks("3 in", "112 kt", "text: X-EXAMPEL"), "registration")
    assert finding.verdict is Verdict.FAIL
    assert finding.message == "the marks read X-EXAMPEL, and the registration is X-EXAMPLE"
    assert lines(finding) == [10, 5]


@pytest.mark.parametrize(
    ("text", "named"),
    [
        (marks("3 in", "112 kt", ""), "what the marks read"),
        (marks("3 in", "112 kt").replace(" registration: X-EXAMPLE\n", ""), "aircraft.registration"),
    ],
)
def test_marks_no_data_on_what_they_read(text: str, named: str) -> None:
    finding = the_finding("markings/registration-height", text, "registration")
    assert finding.verdict is Verdict.NO_DATA
    assert named in finding.message


# markings/data-plate: 45.11(a) and 45.13(a), 1 January 2024

PLATE = "fireproof: true, outside: true, builder: A. Builder, model: Warbler, serial: 001"


def plate(fields: str) -> list[Verdict]:
    return [finding.verdict for finding in findings("markings/data-plate", plated(fields))]


def plated(fields: str) -> str:
    return aircraft("") + f"markings:\n data_plate: {{{fields}}}\n"


def test_data_plate_passes() -> None:
    assert plate(PLATE) == [Verdict.PASS, Verdict.PASS, Verdict.PASS]


@pytest.mark.parametrize(
    ("field", "message"),
    [("outside", "it cannot be read from the ground outside"), ("fireproof", "it is not fireproof")],
)
def test_data_plate_fails(field: str, message: str) -> None:
    # 45.11(a)(3): on the fuselage exterior, readable from the ground; amateur-built is not among the exceptions.
    found = findings("markings/data-plate", plated(PLATE.replace(f"{field}: true", f"{field}: false")))
    (finding,) = (finding for finding in found if finding.verdict is not Verdict.PASS)
    assert (finding.verdict, finding.message) == (Verdict.FAIL, message)
    assert lines(finding) == [3]


def test_data_plate_nearest_sound_case_needs_no_address() -> None:
    # 45.13(a) asks name, model and serial number; an address is not asked. Type certificates and ratings are "if any".
    assert set(plate(PLATE + ", material: stainless steel, place: by the tail")) == {Verdict.PASS}


@pytest.mark.parametrize("field", ["outside", "fireproof", "builder", "model", "serial"])
def test_data_plate_no_data(field: str) -> None:
    fields = ", ".join(part for part in PLATE.split(", ") if not part.startswith(f"{field}:"))
    assert sorted(verdict.value for verdict in plate(fields)) == ["no-data", "pass", "pass"]


def test_data_plate_no_data_names_what_is_missing() -> None:
    found = findings("markings/data-plate", plated("fireproof: true, outside: true, builder: A. Builder"))
    assert found[-1].message == "not recorded as being on it: model, serial"


def test_data_plate_no_data_without_a_plate() -> None:
    assert one("data-plate", aircraft("") + "markings: {}\n").verdict is Verdict.NO_DATA
