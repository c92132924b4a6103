"""Contrast against figures published with the guidelines for web content 2.1: 21 for black on white, 4.48 for #777777."""

from __future__ import annotations

import pytest

from jurystrut.calculations.contrast import contrast, luminance


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("000000", "ffffff", 21.0),
        ("ffffff", "ffffff", 1.0),
        ("777777", "ffffff", 4.48),  # the grey that just misses 4.5, and the next darker one that does not
        ("767676", "ffffff", 4.54),
        ("ff0000", "ffffff", 4.00),
        ("0000ff", "ffffff", 8.59),
        ("ffff00", "ffffff", 1.07),
    ],
)
def test_published_ratios(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert contrast(other, one) == contrast(one, other)


@pytest.mark.parametrize("srgb", ["", "fff", "white!", "fffffff"])
def test_other_text_is_refused(srgb: str) -> None:
    with pytest.raises(ValueError, match=r"hexadecimal|invalid literal"):
        luminance(srgb)


@pytest.mark.parametrize(
    ("share", "linear"),
    [
        (0x00, 0.0),
        (0x0A, 10 / 255 / 12.92),  # IEC 61966-2-1: up to 0.04045 the curve is a straight line
        (0x0B, 0.0033465),  # and a power above; the two values are those of the usual table of 256
        (0xBC, 0.5028865),
        (0xFF, 1.0),
    ],
)
def test_a_grey_is_as_bright_as_the_curve_of_srgb(share: int, linear: float) -> None:
    assert luminance(f"{share:02x}" * 3) == pytest.approx(linear, abs=1e-7)


def test_the_weights_of_the_primaries() -> None:
    assert [luminance(one) for one in ("ff0000", "00ff00", "0000ff")] == pytest.approx([0.2126, 0.7152, 0.0722])
