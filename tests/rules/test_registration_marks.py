"""Characters of the registration marks: 14 CFR 45.29(c) to (e), read; and their contrast, 45.21(c) at second hand."""

from __future__ import annotations

import pytest

from jurystrut.rulebook import Verdict
from jurystrut.testing import findings, the_finding

ORACLES = {
    "45-29-c": "markings/registration-characters",
    "wcag-contrast": "markings/registration-contrast",
}

PASS, WARN, FAIL, NO_DATA = Verdict.PASS, Verdict.WARN, Verdict.FAIL, Verdict.NO_DATA


def marks(fields: str) -> str:
    return f"markings:\n  registration_marks:\n    {{{fields}}}\n"


@pytest.mark.parametrize(
    ("fields", "subject", "wanted"),
    [  # 12 in high: 8 in wide, 2 in thick, 2 in apart
        ("height: 12 in, width: 8 in", "width", PASS),
        ("height: 12 in, width: 8.0625 in", "width", PASS),
        ("height: 12 in, width: 8.07 in", "width", FAIL),
        ("height: 12 in, width: 7.9 in", "width", FAIL),
        ("height: 12 in, stroke: 2 in", "stroke", PASS),
        ("height: 12 in, stroke: 1.9375 in", "stroke", PASS),
        ("height: 12 in, stroke: 1.9 in", "stroke", FAIL),
        ("height: 12 in, width: 8 in, spacing: 2 in", "spacing", PASS),
        ("height: 12 in, width: 8 in, spacing: 5 in", "spacing", PASS),
        ("height: 12 in, width: 8 in, spacing: 1.99 in", "spacing", FAIL),
        ("height: 12 in, spacing: 2 in", "spacing", NO_DATA),
        ("height: 12 in", "width", NO_DATA),
    ],
)
def test_proportions(fields: str, subject: str, wanted: Verdict) -> None:
    finding = the_finding("markings/registration-characters", marks(fields), subject)
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 4)


def test_proportions_without_a_height_or_marks() -> None:
    for text in (marks("width: 8 in"), "markings: {placards: []}\n"):
        for rule in ("registration-characters", "registration-contrast"):
            assert [f.verdict for f in findings(f"markings/{rule}", text)] == [NO_DATA]


@pytest.mark.parametrize(
    ("colour", "background", "wanted"),
    [
        ("black", "white", PASS),
        ("Dark  Blue", "white", PASS),
        ("red", "white", PASS),  # 4.00 to 1
        ("yellow", "white", WARN),  # 1.07 to 1
        ("grey", "silver", WARN),
        ("white", "White", FAIL),
        ("sunrise", "white", WARN),
        ("sunrise", "sunrise", FAIL),
    ],
)
def test_contrast(colour: str, background: str, wanted: Verdict) -> None:
    text = marks(f"colour: {colour}, background: {background}")
    finding = the_finding("markings/registration-contrast", text, "registration-marks")
    assert (finding.verdict, finding.where[0].position.line) == (wanted, 4)


def test_contrast_without_one_of_the_colours() -> None:
    assert [f.verdict for f in findings("markings/registration-contrast", marks("colour: red"))] == [NO_DATA]


def test_the_contrast_is_told() -> None:
    text = marks("colour: yellow, background: white")
    finding = the_finding("markings/registration-contrast", text, "registration-marks")
    assert finding.message == "yellow on white has a contrast of 1.1 to 1"
