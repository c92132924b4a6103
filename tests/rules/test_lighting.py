"""Lights against the published lists: 91.205(c) and 91.209 of 14 CFR, and old part 23, sections 1385 to 1401, a yardstick."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Verdict
from jurystrut.testing import findings, installed, the_finding

ORACLES = {
    "23-1401": "lighting/anti-collision",
    "23-1387": "lighting/position-arcs",
    "23-1391": "lighting/position-colours",
    "nothing computed": "lighting/light-fed lighting/night-approval",
}

ASKED = "it asks for a record alone: one that is missing is no data"
NO_SUCH_CASE = {
    "lighting/light-fed": {"just over": ASKED},
}

DAY, NIGHT = "[day-vfr]", "[day-vfr, night-vfr]"
AIRCRAFT = "aircraft: {name: Test Article, authority: US, stage: operating, operations: %s}\n"
APPROVED = "approval: {standard: TSO-C30c, evidence: evidence/marking.jpg}"
POSITION_LIGHTS = f"""
  - {{id: L, function: position-left, {APPROVED}}}
  - {{id: R, function: position-right, {APPROVED}}}
  - {{id: T, function: position-tail, {APPROVED}}}
"""
FLASHER = "  - {id: F, function: anti-collision, approval: {standard: TSO-C96b, evidence: evidence/flasher.jpg}}\n"


def records(*lights: str, operations: str = NIGHT) -> str:
    """Line 1 holds the aircraft, lines 2 and 3 open the lights; one light a line from line 4 on."""
    listed = "\n".join(f"  - {{{light}}}" for light in lights)
    return AIRCRAFT % operations + "lighting:\n  lights:" + (f"\n{listed}\n" if lights else " []\n")


def light(rule: str, *lights: str, operations: str = NIGHT) -> Finding:
    return the_finding(f"lighting/{rule}", records(*lights, operations=operations), "X")


def verdicts(rule: str, text: str) -> dict[str, Verdict]:
    return {finding.subject: finding.verdict for finding in findings(f"lighting/{rule}", text)}


# lighting/night-approval: 91.205(c)(2) and (c)(3), edition 1 January 2014


def night_records(lights: str, operations: str = NIGHT) -> str:
    return AIRCRAFT % operations + "lighting:\n lights:" + lights


def test_night_approval_passes() -> None:
    found = verdicts("night-approval", night_records(POSITION_LIGHTS + FLASHER))
    assert found == dict.fromkeys("LRTF", Verdict.PASS)


def test_night_approval_fails_without_approval() -> None:
    text = records("id: X, function: position-left, technology: led")
    finding = the_finding("lighting/night-approval", text, "X")
    assert finding.verdict is Verdict.FAIL
    assert [spot.position.line for spot in finding.where] == [4, 1]
    assert "day flight only" in finding.remedy


def test_night_approval_nearest_sound_case_is_the_same_light_by_day() -> None:
    finding = light("night-approval", "id: X, function: position-left, technology: led", operations=DAY)
    assert finding.verdict is Verdict.NOT_APPLICABLE
    assert finding.message == "night VFR is not intended; this light needs no approval by day"


def test_night_approval_by_day_tells_what_the_light_is_said_to_meet() -> None:
    finding = light("night-approval", f"id: X, function: position-left, {APPROVED}", operations=DAY)
    assert finding.verdict is Verdict.NOT_APPLICABLE
    assert "said to meet TSO-C30c" in finding.message


@pytest.mark.parametrize(
    ("approval", "named"),
    [("approval: {standard: TSO-C30c}", "no evidence"), ("approval: {marking: TSO-C30c TYPE I}", "which standard")],
)
def test_night_approval_no_data(approval: str, named: str) -> None:
    finding = light("night-approval", f"id: X, function: position-left, {approval}")
    assert finding.verdict is Verdict.NO_DATA
    assert named in finding.message


def test_night_approval_no_data_without_the_intended_flights() -> None:
    (finding,) = findings("lighting/night-approval", night_records(POSITION_LIGHTS + FLASHER, "[]"))
    assert finding.verdict is Verdict.NO_DATA
    assert "which flights are intended" in finding.message


def test_night_approval_no_data_without_the_section() -> None:
    (finding,) = findings("lighting/night-approval", AIRCRAFT % NIGHT)
    assert finding.verdict is Verdict.NO_DATA


def test_night_approval_fails_each_missing_function_by_night_only() -> None:
    functions = ("position-left", "position-right", "position-tail", "anti-collision")
    assert verdicts("night-approval", records()) == dict.fromkeys(functions, Verdict.FAIL)
    assert verdicts("night-approval", records(operations=DAY)) == dict.fromkeys(functions, Verdict.NOT_APPLICABLE)


def test_night_approval_asks_each_of_two_lights_of_one_function() -> None:
    lights = (f"id: A, function: position-tail, {APPROVED}", "id: B, function: position-tail")
    found = verdicts("night-approval", records(*lights))
    assert (found["A"], found["B"]) == (Verdict.PASS, Verdict.FAIL)


@pytest.mark.parametrize("function", ["position-left", "position-right", "position-tail"])
def test_position_lights_are_asked_for_through_the_operating_limitations(function: str) -> None:
    # 91.205(a): the list is for standard-category aircraft; an amateur-built one comes in by its operating limitations.
    for finding in (
        the_finding("lighting/night-approval", records(), function),
        light("night-approval", f"id: X, function: {function}"),
    ):
        assert "the operating limitations, through 91.205(c)(2), ask for" in finding.message


def test_the_anti_collision_light_is_asked_for_by_the_paragraphs_own_words() -> None:
    # 91.205(a) takes (c)(3) out of the standard-category limit; (c)(3) says all US-registered civil aircraft.
    finding = the_finding("lighting/night-approval", records(), "anti-collision")
    assert "91.205(c)(3), by its own words, asks for" in finding.message
    assert "limitations" not in finding.message


@pytest.mark.parametrize("approval", [APPROVED, "approval: {standard: TSO-C30c}"])
def test_what_evidence_suffices_is_left_to_the_authority(approval: str) -> None:
    message = light("night-approval", f"id: X, function: position-left, {approval}").message
    assert "said to meet TSO-C30c" in message  # never: meets
    assert message.endswith("the authority decides")


def test_the_explanation_of_night_approval_carries_its_caveats() -> None:
    rule = next(rule for rule in installed().rules if rule.id == "lighting/night-approval")
    words = " ".join(rule.explanation.split())
    assert "operating limitations are the first authority" in words
    assert "no technical standard order is named" in words
    assert "No text read says what evidence suffices" in words


# lighting/position-colours: old 23.1385, from memory (29.1385 was read); the table of 23.1391, read, names them too

COLOURS = {"position-left": "red", "position-right": "green", "position-tail": "white"}


@pytest.mark.parametrize("function", COLOURS)
def test_colours_pass(function: str) -> None:
    finding = light("position-colours", f"id: X, function: {function}, colour: {COLOURS[function]}")
    assert finding.verdict is Verdict.PASS


@pytest.mark.parametrize("function", COLOURS)
@pytest.mark.parametrize("colour", ["red", "green", "white", "amber", "blue"])
def test_every_other_colour_fails_by_night_and_warns_by_day(function: str, colour: str) -> None:
    if colour == COLOURS[function]:
        colour = "amber"
    described = f"id: X, function: {function}, colour: {colour}"
    finding = light("position-colours", described)
    assert finding.verdict is Verdict.FAIL
    assert finding.message == f"{colour}; a {function} light is {COLOURS[function]}"
    assert finding.where[0].position.line == 4
    assert light("position-colours", described, operations=DAY).verdict is Verdict.WARN


def test_colours_fail_where_the_intended_flights_are_unknown() -> None:
    assert (
        light("position-colours", "id: X, function: position-left, colour: green", operations="[]").verdict
        is Verdict.FAIL
    )


def test_colours_swapped_left_and_right_are_two_failures() -> None:
    lights = ("id: A, function: position-left, colour: green", "id: B, function: position-right, colour: red")
    assert verdicts("position-colours", records(*lights)) == {"A": Verdict.FAIL, "B": Verdict.FAIL}


def test_colours_nearest_sound_case_is_another_light_of_any_colour() -> None:
    (finding,) = findings("lighting/position-colours", records("id: X, function: landing, colour: amber"))
    assert finding.verdict is Verdict.NOT_APPLICABLE


def test_colours_no_data() -> None:
    finding = light("position-colours", "id: X, function: position-left")
    assert finding.verdict is Verdict.NO_DATA
    assert finding.where[0].position.line == 4


# lighting/position-arcs: old 23.1387 from memory (25.1387 was read): 110 degrees to either side from ahead, 70 to either
# side of dead aft. Clockwise from the nose that is 250 to 360, 0 to 110, and 180 - 70 = 110 to 180 + 70 = 250.

ARCS = {"position-left": (250, 360), "position-right": (0, 110), "position-tail": (110, 250)}


def covering(function: str, covers: str, more: str = "") -> str:
    return f"id: X, function: {function}, covers: [{covers}]{more}"


def arc(*lights: str, operations: str = NIGHT) -> Finding:
    (found,) = (
        finding
        for finding in findings("lighting/position-arcs", records(*lights, operations=operations))
        if finding.verdict is not Verdict.NOT_APPLICABLE
    )
    return found


@pytest.mark.parametrize("function", ARCS)
def test_arc_passes_with_degrees_to_spare(function: str) -> None:
    start, end = ARCS[function]
    assert arc(covering(function, f"{start - 10}..{end + 10} deg")).verdict is Verdict.PASS


@pytest.mark.parametrize("function", ARCS)
def test_arc_exactly_covered_passes(function: str) -> None:
    start, end = ARCS[function]
    finding = arc(covering(function, f"{start}..{end} deg"))
    assert finding.verdict is Verdict.PASS
    assert finding.margin == pytest.approx(0)
    assert "dark" not in finding.message


@pytest.mark.parametrize("function", ARCS)
@pytest.mark.parametrize("short", [(1, 0), (0, 1)])
def test_arc_one_degree_short_fails(function: str, short: tuple[int, int]) -> None:
    start, end = ARCS[function]
    assert arc(covering(function, f"{start + short[0]}..{end - short[1]} deg")).verdict is Verdict.FAIL


def test_arc_shows_how_much_is_lit_where_and_what_mends_it() -> None:
    finding = arc(covering("position-right", "0..99 deg"))
    assert finding.measured is not None
    assert finding.limit is not None
    assert finding.measured.value == pytest.approx(99)
    assert finding.limit.value == pytest.approx(110)
    assert finding.limit.sense == "at-least"
    assert finding.margin == pytest.approx(-0.1)  # (99 - 110) / 110
    assert finding.where[0].position.line == 4
    assert finding.message == "99 of the 110 degrees of a position-right light are lit; dark from 99 to 110 deg"
    assert finding.remedy == "Light 99 to 110 degrees, clockwise from the nose."
    assert finding.working is not None
    assert finding.working() == ["asked: 0 to 110 deg", "lit: 0 to 99 deg", "dark: 99 to 110 deg"]


def test_arc_gap_warns_by_day() -> None:
    assert arc(covering("position-right", "0..99 deg"), operations=DAY).verdict is Verdict.WARN


def test_arc_no_data() -> None:
    finding = arc("id: X, function: position-tail")
    assert finding.verdict is Verdict.NO_DATA
    assert finding.where[0].position.line == 4


def test_arc_no_data_where_one_of_two_lights_lacks_it() -> None:
    lights = ("id: A, function: position-tail, covers: [110..250 deg]", "id: B, function: position-tail")
    assert arc(*lights).subject == "B"


def test_two_wing_tip_lights_make_one_tail_arc() -> None:
    # Old 23.1385(c), from memory: the white light may stand on each wing tip instead of the tail.
    left = "id: A, function: position-tail, covers: [170..250 deg]"
    assert arc(left, "id: B, function: position-tail, covers: [110..170 deg]").verdict is Verdict.PASS
    finding = arc(left, "id: B, function: position-tail, covers: [110..160 deg]")
    assert finding.verdict is Verdict.FAIL
    assert "130 of the 140 degrees" in finding.message
    assert "dark from 160 to 170 deg" in finding.message


def test_a_blocked_sector_is_dark() -> None:
    finding = arc(covering("position-tail", "110..250 deg", ", blocked: [178..182 deg]"))
    assert finding.verdict is Verdict.FAIL
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(136)  # 140 - 4
    assert "dark from 178 to 182 deg" in finding.message


def test_a_sector_blocked_outside_the_arc_takes_nothing() -> None:
    assert arc(covering("position-tail", "90..270 deg", ", blocked: [90..110 deg]")).verdict is Verdict.PASS


def test_what_is_hidden_of_one_light_may_be_lit_by_another() -> None:
    hidden = "id: A, function: position-tail, covers: [110..250 deg], blocked: [178..182 deg]"
    assert arc(hidden, "id: B, function: position-tail, covers: [170..190 deg]").verdict is Verdict.PASS
    both = "id: B, function: position-tail, covers: [110..250 deg], blocked: [180..184 deg]"
    assert "dark from 180 to 182 deg" in arc(hidden, both).message


def test_two_gaps_are_both_named() -> None:
    finding = arc(covering("position-left", "260..300 deg, 310..360 deg"))
    assert "90 of the 110 degrees" in finding.message  # 40 + 50
    assert "dark from 250 to 260 and 300 to 310 deg" in finding.message


@pytest.mark.parametrize("covers", ["-110..0 deg", "200..400 deg", "0..360 deg"])
def test_sectors_may_be_counted_through_the_nose(covers: str) -> None:
    assert arc(covering("position-left", covers)).verdict is Verdict.PASS


@pytest.mark.parametrize("split", range(1, 110))
def test_sectors_that_meet_leave_no_sliver(split: int) -> None:
    finding = arc(covering("position-right", f"0..{split} deg, {split}..110 deg"))
    assert finding.verdict is Verdict.PASS
    assert "dark" not in finding.message


# lighting/anti-collision: colours 91.205(c)(3), read; 40 to 100 flashes a minute old 23.1401(c) (25.1401(c) was read)


def flashing(rate: str, colour: str = "white", operations: str = NIGHT) -> Finding:
    return light(
        "anti-collision",
        f"id: X, function: anti-collision, colour: {colour}, flash_rate: {rate}",
        operations=operations,
    )


@pytest.mark.parametrize("colour", ["red", "white"])
def test_anti_collision_passes(colour: str) -> None:
    assert flashing("50 /min", colour).verdict is Verdict.PASS


@pytest.mark.parametrize("rate", ["40 /min", "100 /min"])
def test_anti_collision_exactly_at_either_limit_passes(rate: str) -> None:
    assert flashing(rate).verdict is Verdict.PASS


@pytest.mark.parametrize(("rate", "limit"), [("39.9 /min", 40), ("100.1 /min", 100), ("0 /min", 40)])
def test_anti_collision_just_beyond_either_limit_warns(rate: str, limit: float) -> None:
    """The rate is from memory, so it fails nobody, by night either."""
    finding = flashing(rate)
    assert finding.verdict is Verdict.WARN
    assert finding.limit is not None
    assert finding.limit.value == limit
    assert flashing(rate, operations=DAY).verdict is Verdict.WARN


def test_anti_collision_shows_its_rate_and_place() -> None:
    finding = flashing("110 /min")
    assert finding.measured is not None
    assert finding.measured.value == pytest.approx(110)
    assert finding.margin == pytest.approx(-0.1)  # (100 - 110) / 100
    assert finding.where[0].position.line == 4
    assert finding.message == "it flashes 110 times a minute"


@pytest.mark.parametrize(("operations", "verdict"), [(NIGHT, Verdict.FAIL), (DAY, Verdict.WARN)])
def test_anti_collision_of_another_colour(operations: str, verdict: Verdict) -> None:
    text = records("id: X, function: anti-collision, colour: amber, flash_rate: 50 /min", operations=operations)
    colour, rate = findings("lighting/anti-collision", text)
    assert (colour.verdict, rate.verdict) == (verdict, Verdict.PASS)
    assert colour.message == "amber; it is to be red or white"


@pytest.mark.parametrize(("given", "lacking"), [("flash_rate: 50 /min", "colour"), ("colour: red", "flash_rate")])
def test_anti_collision_no_data(given: str, lacking: str) -> None:
    found = findings("lighting/anti-collision", records(f"id: X, function: anti-collision, {given}"))
    assert [f.message for f in found if f.verdict is Verdict.NO_DATA] == [f"its {lacking} is not recorded"]


def test_a_wrong_colour_is_told_though_the_rate_is_unknown() -> None:
    found = findings("lighting/anti-collision", records("id: X, function: anti-collision, colour: blue"))
    assert [finding.verdict for finding in found] == [Verdict.FAIL, Verdict.NO_DATA]


def test_a_light_without_its_rate_hides_no_other() -> None:
    lights = (
        "id: A, function: anti-collision, colour: white",
        "id: B, function: anti-collision, colour: white, flash_rate: 120 /min",
    )
    assert verdicts("anti-collision", records(*lights)) == {"A": Verdict.NO_DATA, "B": Verdict.WARN}


def test_anti_collision_does_not_apply_without_one() -> None:
    (finding,) = findings("lighting/anti-collision", records("id: X, function: landing"))
    assert finding.verdict is Verdict.NOT_APPLICABLE


# lighting/light-fed: agreement of the records, our own

LOAD = "electrical: {loads: [{id: NAV, current: 1 A, nature: led}]}\n"


def test_light_fed_passes() -> None:
    finding = the_finding("lighting/light-fed", LOAD + records("id: X, function: cabin, load: NAV"), "X")
    assert finding.verdict is Verdict.PASS
    assert finding.message == "fed as load NAV"
    assert finding.where[0].position.line == 5


def test_light_fed_nearest_sound_case_is_no_light() -> None:
    (finding,) = findings("lighting/light-fed", records())
    assert finding.verdict is Verdict.NOT_APPLICABLE


def test_light_fed_without_a_load_is_no_data_and_never_passes() -> None:
    # The rule knows no failure of its own: a load that is named and is not there stops the reading.
    finding = the_finding("lighting/light-fed", LOAD + records("id: X, function: cabin"), "X")
    assert finding.verdict is Verdict.NO_DATA
    assert finding.where[0].position.line == 5
    assert "wiring rules" in next(rule for rule in installed().rules if rule.id == "lighting/light-fed").remedy


def test_a_load_that_is_named_and_not_there_is_not_read() -> None:
    with pytest.raises(AssertionError, match="NAVX"):
        findings("lighting/light-fed", LOAD + records("id: X, function: cabin, load: NAVX"))
