"""Aircraft of other authorities: their few published items, and American law that only warns and says whom to ask."""

from __future__ import annotations

from pathlib import Path

import pytest

import jurystrut_rules
from jurystrut.rulebook import Finding, Stage, Verdict, read_table
from jurystrut.testing import findings, installed, judged, the_finding

ORACLES = {
    "au-cao-20-18": "abroad/australia",
    "gb-ano-23": "abroad/britain",
    "ca-605-14": "abroad/canada",
    "ca-605-16": "abroad/canada",
    "eu-nco-120": "abroad/europe",
    "nothing computed": "abroad/authority-known",
}

NO_SUCH_CASE = {
    "abroad/authority-known": {
        "exactly at": "one authority alone is known in full",
        "no data": "an aircraft without its authority cannot be read",
    },
}

PASS, WARN, FAIL, NO_DATA, NA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE

AIRCRAFT = "aircraft: {{name: T, authority: {}, stage: systems, operations: [{}], seats: 2{}}}\n"
LISTS = {  # authority and flight: the list's items begin so, and names that satisfy it
    ("CA", "day-vfr"): ("ca-", "altimeter/airspeed indicator/compass/tachometer/fuel gauge/clock"),
    ("CA", "night-vfr"): ("ca-", "sensitive altimeter/turn coordinator/directional gyro"),
    ("CA", "ifr"): ("ca-", "attitude indicator/vertical speed indicator/outside air temperature gauge/radio/NAV"),
    ("EU", "day-vfr"): ("nco-", "compass/clock/altimeter/airspeed indicator"),
    ("GB", "night-vfr"): (
        "nco-",
        "turn coordinator/attitude indicator/vertical speed indicator/directional gyro",
    ),
    ("AU", "day-vfr"): (
        "au-",
        "airspeed indicator/altimeter/compass/clock/turn coordinator/outside air thermometer",
    ),
}
RULES = {"CA": "canada", "EU": "europe", "GB": "britain", "AU": "australia"}


def panel(names: list[str]) -> str:
    items = [
        f"    - {{id: I{n}, kind: instrument, what: {name}{', provides: [navigation]' if name == 'NAV' else ''}}}\n"
        for n, name in enumerate(names)
    ]
    return "panel:\n  items:\n" + "".join(items)


def asked(authority: str, text: str, *items: str) -> list[Verdict]:
    """The verdicts on the items of an authority that begin so, in order."""
    found = findings(f"abroad/{RULES[authority]}", text)
    return [finding.verdict for finding in found if finding.subject.startswith(items or "")]


def lit(text: str) -> str:
    """With all lights, so that equipment alone may lack."""
    return text + lights(CANADIAN).replace("}", ", covers_above: 30 deg, covers_below: 30 deg}")


@pytest.mark.parametrize(("authority", "flight"), LISTS)
def test_lists(authority: str, flight: str) -> None:
    start, joined = LISTS[authority, flight]
    names = joined.split("/")
    aircraft = AIRCRAFT.format(authority, flight, "")
    assert set(asked(authority, lit(aircraft + panel(names)), start)) - {NA} == {PASS}
    for missing in names:
        text = lit(aircraft + panel([name for name in names if name != missing]))
        found = findings(f"abroad/{RULES[authority]}", text)
        bad = [f for f in found if f.verdict not in {PASS, NA} and f.subject.startswith(start)]
        assert {f.verdict for f in bad} == {FAIL if (authority, flight) == ("CA", "night-vfr") else WARN}, missing
        assert bad[0].where[0].position.line == 1
    unknown = asked(authority, lit(aircraft + "electrical: {loads: []}\n"), start)
    assert NO_DATA in unknown
    assert PASS not in unknown or authority == "CA"  # its lights are there
    for rule in RULES.values():
        american = findings(f"abroad/{rule}", AIRCRAFT.format("US", flight, "") + panel(names))
        assert [finding.verdict for finding in american] == [NA]


def test_every_row_says_where_to_look_and_its_source_is_cited_for_its_authority() -> None:
    rules = {rule.id: rule for rule in installed().rules}
    rows = read_table(Path(jurystrut_rules.__file__).parent / "tables/operations/abroad.yaml").rows
    for row in rows:
        for authority in str(row["authorities"]).split():
            assert row["source"] in rules[f"abroad/{RULES[authority]}"].references
        source = installed().references[str(row["source"])]
        read_and_binding = source.status == "read" and source.binds == "directly"
        assert row["worst"] == "warn" or read_and_binding, row["item"]
    assert len({row["item"] for row in rows}) == len(rows)


@pytest.mark.parametrize(("authority", "flight"), [key for key in LISTS if key[1] != "day-vfr"])
def test_what_is_not_intended_is_not_asked(authority: str, flight: str) -> None:
    text = AIRCRAFT.format(authority, "day-vfr", "") + panel(["clock"])
    found = findings(f"abroad/{RULES[authority]}", text)
    (spared, *_) = [finding for finding in found if finding.message.startswith(f"{flight} is not intended")]
    assert spared.verdict is NA


CANADIAN = "instrument position-left position-right position-tail anti-collision landing".split()


def lights(functions: list[str]) -> str:
    return "lighting:\n  lights:\n" + "".join(f"    - {{id: X{n}, function: {f}}}\n" for n, f in enumerate(functions))


LAMPS = ("ca-i", "ca-j", "ca-k")


def test_canadian_lights_at_night() -> None:
    """605.16(1)(i), (j), (k)."""
    aircraft = AIRCRAFT.format("CA", "night-vfr", "")
    assert asked("CA", aircraft + lights(CANADIAN), *LAMPS) == [PASS] * 6
    for missing in CANADIAN:
        found = asked("CA", aircraft + lights([f for f in CANADIAN if f != missing]), *LAMPS)
        assert found.count(FAIL) == 1
    alone = aircraft.replace("seats: 2", "seats: 1")
    assert FAIL not in asked("CA", alone + lights(CANADIAN[:-1]), *LAMPS)
    assert set(asked("CA", AIRCRAFT.format("CA", "day-vfr", "") + lights([]), *LAMPS)) == {NA}
    assert set(asked("CA", aircraft, *LAMPS)) == {NO_DATA}
    without = AIRCRAFT.format("CA", "night-vfr", ", without: [lighting]")
    assert set(asked("CA", without, *LAMPS)) == {FAIL}


@pytest.mark.parametrize(("below", "wanted"), [("30 deg", PASS), ("29.9 deg", FAIL), ("31 deg", PASS), (None, NO_DATA)])
def test_canadian_flasher(below: str | None, wanted: Verdict) -> None:
    """Standard 625, appendix I, 4: 30 degrees above and below."""
    more = f", covers_below: {below}" if below else ""
    text = AIRCRAFT.format("CA", "day-vfr", "") + "lighting:\n  lights:\n"
    text += f"    - {{id: X, function: anti-collision, covers_above: 45 deg{more}}}\n"
    assert the_finding("abroad/canada", text, "X").verdict is wanted


LIT = """
lighting: {{lights: [{{id: X, function: anti-collision, load: L}}]}}
electrical:
  loads: [{{id: L, current: 1 A, nature: led, duty: {{taxi: 100 %, takeoff: 100 %, climb: 100 %, cruise: {}, landing: 100 %}}}}]
"""


def test_flasher_is_lit_by_day_in_europe() -> None:
    """SERA.3215(d)."""
    for authority in ("EU", "GB"):
        aircraft = AIRCRAFT.format(authority, "day-vfr", "")
        assert asked(authority, aircraft + LIT.format("100 %"), "X") == [PASS]
        assert asked(authority, aircraft + LIT.format("99 %"), "X") == [WARN]
        assert asked(authority, aircraft + LIT.format("100 %").replace(", load: L", ""), "X") == [NO_DATA]
        none = aircraft + "lighting: {lights: []}\nelectrical: {loads: []}\n"
        assert asked(authority, none, "flasher-lit") == [NA]
        assert asked(authority, aircraft, "flasher-lit") == [NO_DATA]


def test_british_permit() -> None:
    """Article 23(4) and (5) of the order of 2009."""
    warned = "markings: {placards: [{id: P, purpose: passenger-warning, text: WARNING}]}\n"
    aircraft = AIRCRAFT.format("GB", "day-vfr", "")
    assert asked("GB", aircraft + warned, "gb-placard") == [PASS]
    assert asked("GB", aircraft + "markings: {placards: []}\n", "gb-placard") == [WARN]
    assert asked("GB", aircraft, "gb-placard") == [NO_DATA]
    allowed = ", operating_limitations: [{id: OL, text: as permitted, on: [night-vfr], says: allows}]"
    assert asked("GB", AIRCRAFT.format("GB", "night-vfr", allowed), "gb-night", "gb-ifr") == [PASS, NA]
    assert asked("GB", AIRCRAFT.format("GB", "night-vfr, ifr", allowed), "gb-night", "gb-ifr") == [PASS, WARN]
    assert asked("GB", aircraft, "gb-night", "gb-ifr") == [NA, NA]


@pytest.mark.parametrize(
    ("authority", "wanted"), [("US", PASS), ("CA", WARN), ("GB", WARN), ("EU", WARN), ("AU", WARN), ("XX", WARN)]
)
def test_authority(authority: str, wanted: Verdict) -> None:
    found = findings("abroad/authority-known", AIRCRAFT.format(authority, "day-vfr", ""))
    assert [finding.verdict for finding in found] == [wanted]


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
