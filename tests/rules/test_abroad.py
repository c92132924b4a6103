"""Aircraft of other authorities: their few published items, and American law that only warns and says whom to ask."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Finding, Stage, Verdict
from jurystrut.testing import findings, installed, judged, the_finding

PASS, WARN, FAIL, NO_DATA, NA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

AIRCRAFT = "aircraft: {{name: T, authority: {}, stage: systems, operations: [{}], seats: 2{}}}\n"
LISTS = {  # rule, authority, flight: names that satisfy the list
    ("ca-day-vfr", "CA", "day-vfr"): "altimeter/airspeed indicator/compass/tachometer/fuel gauge/clock",
    ("ca-night-vfr", "CA", "night-vfr"): "sensitive altimeter/turn coordinator/directional gyro",
    ("ca-ifr", "CA", "ifr"): "attitude indicator/vertical speed indicator/outside air temperature gauge/radio/NAV",
    ("eu-day-vfr", "EU", "day-vfr"): "compass/clock/altimeter/airspeed indicator",
    (
        "eu-night-vfr",
        "GB",
        "night-vfr",
    ): "turn coordinator/attitude indicator/vertical speed indicator/directional gyro",
    (
        "au-visual",
        "AU",
        "day-vfr",
    ): "airspeed indicator/altimeter/compass/clock/turn coordinator/outside air thermometer",
}


def panel(names: list[str]) -> str:
    items = [
        f"    - {{id: I{n}, kind: instrument, what: {name}{', provides: [navigation]' if name == 'NAV' else ''}}}\n"
        for n, name in enumerate(names)
    ]
    return "panel:\n  items:\n" + "".join(items)


def verdicts(rule: str, text: str) -> list[Verdict]:
    return [finding.verdict for finding in findings(f"abroad/{rule}", text)]


@pytest.mark.parametrize(("rule", "authority", "flight"), LISTS)
def test_lists(rule: str, authority: str, flight: str) -> None:
    names = LISTS[rule, authority, flight].split("/")
    aircraft = AIRCRAFT.format(authority, flight, "")
    assert set(verdicts(rule, aircraft + panel(names))) - {NA} == {PASS}
    for missing in names:
        found = findings(f"abroad/{rule}", aircraft + panel([name for name in names if name != missing]))
        bad = [finding for finding in found if finding.verdict not in {PASS, NA}]
        assert {finding.verdict for finding in bad} == {FAIL if rule == "ca-night-vfr" else WARN}, missing
        assert bad[0].where[0].position.line == 1
    assert NO_DATA in verdicts(rule, aircraft + "electrical: {loads: []}\n") or authority != "CA"
    assert verdicts(rule, AIRCRAFT.format("US", flight, "") + panel(names)) == [NA]


@pytest.mark.parametrize(("rule", "authority", "flight"), [key for key in LISTS if key[2] != "day-vfr"])
def test_what_is_not_intended_is_not_asked(rule: str, authority: str, flight: str) -> None:
    assert verdicts(rule, AIRCRAFT.format(authority, "day-vfr", "") + panel(["clock"])) == [NA]


CANADIAN = "instrument position-left position-right position-tail anti-collision landing".split()


def lights(functions: list[str]) -> str:
    return "lighting:\n  lights:\n" + "".join(f"    - {{id: X{n}, function: {f}}}\n" for n, f in enumerate(functions))


def test_canadian_lights_at_night() -> None:
    """605.16(1)(i), (j), (k)."""
    aircraft = AIRCRAFT.format("CA", "night-vfr", "")
    assert verdicts("ca-night-lights", aircraft + lights(CANADIAN)) == [PASS] * 6
    for missing in CANADIAN:
        found = verdicts("ca-night-lights", aircraft + lights([f for f in CANADIAN if f != missing]))
        assert found.count(FAIL) == 1
    alone = aircraft.replace("seats: 2", "seats: 1")
    assert FAIL not in verdicts("ca-night-lights", alone + lights(CANADIAN[:-1]))
    assert verdicts("ca-night-lights", AIRCRAFT.format("CA", "day-vfr", "") + lights([])) == [NA]
    assert verdicts("ca-night-lights", aircraft) == [NO_DATA]


@pytest.mark.parametrize(("below", "wanted"), [("30 deg", PASS), ("29.9 deg", FAIL), ("31 deg", PASS), (None, NO_DATA)])
def test_canadian_flasher(below: str | None, wanted: Verdict) -> None:
    """Standard 625, appendix I, 4: 30 degrees above and below."""
    more = f", covers_below: {below}" if below else ""
    text = AIRCRAFT.format("CA", "day-vfr", "") + "lighting:\n  lights:\n"
    text += f"    - {{id: X, function: anti-collision, covers_above: 45 deg{more}}}\n"
    assert the_finding("abroad/ca-flasher-angle", text, "X").verdict is wanted


LIT = """
lighting: {{lights: [{{id: X, function: anti-collision, load: L}}]}}
electrical:
  loads: [{{id: L, current: 1 A, nature: led, duty: {{taxi: 100 %, takeoff: 100 %, climb: 100 %, cruise: {}, landing: 100 %}}}}]
"""


def test_flasher_is_lit_by_day_in_europe() -> None:
    """SERA.3215(d)."""
    for authority in ("EU", "GB"):
        aircraft = AIRCRAFT.format(authority, "day-vfr", "")
        assert verdicts("eu-flasher-lit", aircraft + LIT.format("100 %")) == [PASS]
        assert verdicts("eu-flasher-lit", aircraft + LIT.format("99 %")) == [WARN]
        assert verdicts("eu-flasher-lit", aircraft + LIT.format("100 %").replace(", load: L", "")) == [NO_DATA]
        assert verdicts("eu-flasher-lit", aircraft + "lighting: {lights: []}\nelectrical: {loads: []}\n") == [NA]


def test_british_permit() -> None:
    """Article 23(4) and (5) of the order of 2009."""
    warned = "markings: {placards: [{id: P, purpose: passenger-warning, text: WARNING}]}\n"
    aircraft = AIRCRAFT.format("GB", "day-vfr", "")
    assert verdicts("gb-permit-placard", aircraft + warned) == [PASS]
    assert verdicts("gb-permit-placard", aircraft + "markings: {placards: []}\n") == [WARN]
    assert verdicts("gb-permit-placard", aircraft) == [NO_DATA]
    allowed = ", operating_limitations: [{id: OL, text: as permitted, on: [night-vfr], says: allows}]"
    assert verdicts("gb-permit-night", AIRCRAFT.format("GB", "night-vfr", allowed)) == [PASS]
    assert verdicts("gb-permit-night", AIRCRAFT.format("GB", "night-vfr, ifr", allowed)) == [PASS, WARN]
    assert verdicts("gb-permit-night", aircraft) == [NA]


@pytest.mark.parametrize(
    ("authority", "wanted"), [("US", PASS), ("CA", WARN), ("GB", WARN), ("EU", WARN), ("AU", WARN), ("XX", WARN)]
)
def test_authority(authority: str, wanted: Verdict) -> None:
    assert verdicts("authority-known", AIRCRAFT.format(authority, "day-vfr", "")) == [wanted]


def american(authority: str, stage: str = "systems") -> Finding:
    text = AIRCRAFT.format(authority, "night-vfr", "") + "lighting:\n  lights: [{id: X, function: position-left}]\n"
    return the_finding("lighting/night-approval", text, "X", at=Stage(stage))


def test_american_law_fails_americans_and_warns_others() -> None:
    assert american("US").verdict is FAIL
    for authority in ("CA", "GB", "EU", "AU", "XX"):
        finding = american(authority)
        assert finding.verdict is WARN
        assert f"ask the authority of {authority}" in finding.remedy


def test_what_american_law_misses_does_not_fail_others_at_the_inspection() -> None:
    """`no-data` counts as a failure from the inspection on; of a yardstick from elsewhere it is a warning."""
    rule = "markings/data-plate"
    text = AIRCRAFT + "markings: {{placards: []}}\n"
    for authority, wanted in (("US", NO_DATA), ("GB", WARN)):
        (finding,) = findings(rule, text.format(authority, "day-vfr", ""), at=Stage.INSPECTION)
        assert finding.verdict is wanted


OVERLOADED = """
weights:
  stations: [{id: SEAT, kind: seat, arm: 10 in}]
  weighings:
    - id: W
      day: 2026-05-01
      levelled: true
      aboard: []
      missing: []
      scales:
        - {wheel: nose, reading: 300 lb, tare: 0 lb, arm: 0 in}
        - {wheel: left-main, reading: 300 lb, tare: 0 lb, arm: 20 in}
        - {wheel: right-main, reading: 300 lb, tare: 0 lb, arm: 20 in}
  loadings: [{id: ALONE, stations: {SEAT: 170 lb}}]
"""


@pytest.mark.parametrize("authority", ["US", "GB", "XX"])
def test_the_aircrafts_own_limits_hold_anywhere(authority: str) -> None:
    text = AIRCRAFT.format(authority, "day-vfr", ", limits: {gross_weight: 500 lb}") + OVERLOADED
    assert "weights/gross-weight" in {result.rule.id for result in judged(text).results if result.verdict is FAIL}


def test_no_rule_whose_first_source_is_american_law_can_fail_abroad_but_for_a_reason() -> None:
    book = installed()
    for rule in book.rules:
        first = book.cited(rule)[0]
        if rule.holds_abroad:
            assert first.obliges_only_its_own(), f"{rule.id} needs no reason: its source is nobody's law"
        if rule.only_for:
            assert first.authority in rule.only_for
