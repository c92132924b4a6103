"""Parts of a pot, weather through the cure, test strips and added weight: all against what the builder declares."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, record_line, the_finding

ORACLES = {
    "own arithmetic": "covering/cure covering/mix covering/test-strip covering/weight-counted",
    "nothing computed": "covering/drains",
}

PASS, WARN, FAIL, NO_DATA, APART = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA, Verdict.NOT_APPLICABLE
Changes = dict[str, str | None]

LOG = """\
covering:
  products: [{{id: P, what: coat{product}}}]
  surfaces: [{{id: W, what: wing}}]
  applications:
    - {{id: X, product: P, surface: W, started: 2026-05-02 09:00{entry}}}
"""


def log(product: str = "", entry: str = "") -> str:
    return LOG.format(product=product, entry=entry)


@pytest.mark.parametrize(
    ("declared", "tolerance", "measured", "verdict"),
    [
        ("[4, 1]", ", mix_tolerance: 5 %", "[400, 100]", PASS),
        ("[4, 1]", ", mix_tolerance: 5 %", "[400, 105]", PASS),  # 5 % too much
        ("[4, 1]", ", mix_tolerance: 5 %", "[400, 105.04]", FAIL),
        ("[4, 1]", ", mix_tolerance: 5 %", "[400, 94]", FAIL),
        ("[2, 1, 0.5]", ", mix_tolerance: 5 %", "[200, 100, 50]", PASS),
        ("[2, 1, 0.5]", ", mix_tolerance: 5 %", "[200, 100, 53]", FAIL),
        ("[3, 1]", "", "[0.3, 0.1]", PASS),
        ("[4, 1]", "", "[401, 100]", WARN),  # nothing says how far it may be off
        ("[4, 1]", "", "[400, 100, 5]", FAIL),
        ("[4, 1]", "", "[400, 0]", FAIL),
        ("[0, 1]", "", "[0, 1]", FAIL),
    ],
)
def test_mix(declared: str, tolerance: str, measured: str, verdict: Verdict) -> None:
    finding = the_finding("covering/mix", log(f", mix: {declared}{tolerance}", f", mix: {measured}"), "X")
    assert finding.verdict is verdict, finding.message


def test_mix_without_one_of_its_records() -> None:
    assert the_finding("covering/mix", log(", mix: [4, 1]"), "X").verdict is NO_DATA
    assert the_finding("covering/mix", log(entry=", mix: [4, 1]"), "X").verdict is NO_DATA
    assert findings("covering/mix", log())[0].verdict is APART


CURE = ", cure: 24 h, cure_minimum: 50 degF, cure_humidity: 80 %"


@pytest.mark.parametrize(
    ("entry", "verdicts"),
    [
        (", cure_low: 51 degF, cure_humidity: 79 %", [PASS, PASS]),
        (", cure_low: 50 degF, cure_humidity: 80 %", [PASS, PASS]),
        (", cure_low: 49.9 degF, cure_humidity: 80.1 %", [FAIL, FAIL]),
        ("", [NO_DATA, NO_DATA]),
    ],
)
def test_cure(entry: str, verdicts: list[Verdict]) -> None:
    assert [finding.verdict for finding in findings("covering/cure", log(CURE, entry))] == verdicts


def test_a_cure_without_limits_and_a_product_without_a_cure() -> None:
    assert the_finding("covering/cure", log(", cure: 24 h"), "X").verdict is NO_DATA
    assert findings("covering/cure", log())[0].verdict is APART


STRIPS = """\
covering:
  products: [{{id: P, what: cement{least}}}]
  surfaces: [{{id: W, what: wing}}]
  batches: [{{id: B, product: P}}, {{id: UNUSED, product: P}}]
  strips: [{strips}]
  applications:
    - {{id: A, product: P, surface: W, batch: B, started: 2026-05-02 09:00}}
"""
LEAST = ", least_peel: 2 lb/in"


@pytest.mark.parametrize(
    ("least", "strips", "verdicts"),
    [
        (LEAST, "{id: S, batch: B, tested: 2026-05-01, peel: 2.5 lb/in}", [PASS]),
        (LEAST, "{id: S, batch: B, tested: 2026-05-01, peel: 2 lb/in}", [PASS]),
        (LEAST, "{id: S, batch: B, tested: 2026-05-01, peel: 1.9 lb/in}", [FAIL]),
        (
            LEAST,
            "{id: S, batch: B, tested: 2026-05-01, peel: 3 lb/in}, {id: T, batch: B, tested: 2026-05-01, peel: 1 lb/in}",
            [PASS, FAIL],
        ),
        (LEAST, "{id: S, batch: UNUSED, tested: 2026-05-01, peel: 3 lb/in}", [NO_DATA]),
        (LEAST, "{id: S, batch: B, peel: 3 lb/in}", [NO_DATA]),
        (LEAST, "", [NO_DATA]),
        ("", "", [APART]),
    ],
)
def test_strips(least: str, strips: str, verdicts: list[Verdict]) -> None:
    found = findings("covering/test-strip", STRIPS.format(least=least, strips=strips))
    assert [finding.verdict for finding in found] == verdicts


WEIGHED = """\
weights:
  components:
    - {{id: CLOTH, weight: {cloth}, arm: 20 in}}
    - {{id: FLAP, arm: 40 in}}
covering:
  products: [{{id: P, what: cement}}]
  surfaces:
    - {upper}
    - {{id: LOWER, what: below, weight_added: 2 lb, counted_in: [CLOTH]}}
    - {{id: LATER, what: tail}}
  applications:
    - {{id: A, product: P, surface: UPPER, started: 2026-05-02 09:00}}
    - {{id: B, product: P, surface: LOWER, started: 2026-05-02 09:00}}
"""
UPPER = {"id": "UPPER", "what": "above", "weight_added": "3.1 lb", "counted_in": "[CLOTH]"}


def weighed(cloth: str = "5.1 lb", changes: Changes | None = None) -> str:
    return WEIGHED.format(cloth=cloth, upper=record_line(UPPER, **(changes or {})))


@pytest.mark.parametrize(("cloth", "verdict"), [("6 lb", PASS), ("5.1 lb", PASS), ("5 lb", WARN)])
def test_added_weight(cloth: str, verdict: Verdict) -> None:
    finding = the_finding("covering/weight-counted", weighed(cloth), "UPPER")
    assert finding.verdict is verdict
    assert finding.limit
    assert finding.limit.value == pytest.approx(5.1)  # 3.1 and 2 lb, both counted in CLOTH
    assert finding.where[0].position.line == 4


@pytest.mark.parametrize("changes", [{"weight_added": None}, {"counted_in": None}, {"counted_in": "[FLAP]"}])
def test_added_weight_that_is_not_known(changes: Changes) -> None:
    assert the_finding("covering/weight-counted", weighed(changes=changes), "UPPER").verdict is NO_DATA


def test_a_surface_that_waits_is_not_asked_and_no_surface_is_no_data() -> None:
    assert the_finding("covering/weight-counted", weighed(), "LATER").verdict is APART
    assert (
        findings("covering/weight-counted", "covering: {cloths: []}\nweights: {components: []}\n")[0].verdict is NO_DATA
    )


@pytest.mark.parametrize(
    ("surface", "panel", "verdicts"),
    [
        ("", ", drained: true", {"ELEV": PASS}),
        ("", ", drained: false", {"ELEV": FAIL}),
        ("", "", {"ELEV": NO_DATA}),
        # what is said of all of them does not excuse one, and a panel that drains does not excuse the rest
        (", lies_below: true, drained: true", ", drained: false", {"ELEV": FAIL}),
        (", lies_below: true, drained: false", ", drained: true", {"ELEV": PASS, "TAIL": FAIL}),
    ],
)
def test_each_panel_has_its_drain(surface: str, panel: str, verdicts: dict[str, Verdict]) -> None:
    text = (
        f"covering:\n  surfaces: [{{id: TAIL, what: tail{surface}}}]\n  panels: [{{id: ELEV, surface: TAIL{panel}}}]\n"
    )
    assert {finding.subject: finding.verdict for finding in findings("covering/drains", text)} == verdicts
