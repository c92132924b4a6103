"""Aviation colours: the limits of 14 CFR 23.1397, and the black body's locus against published chromaticities."""

from __future__ import annotations

import pytest

from jurystrut.calculations.chromaticity import AviationColour, outside, planckian_y


@pytest.mark.parametrize(
    ("x", "y"),
    [
        (0.44757, 0.40745),  # CIE standard illuminant A, 2856 K (ISO 11664-2)
        # Planck's law summed over the observer of 1931 by a general colour library, 1900 K to 7300 K
        (0.53778, 0.41120),
        (0.50340, 0.41526),
        (0.48614, 0.41467),
        (0.43693, 0.40408),
        (0.40531, 0.39072),
        (0.38044, 0.37675),
        (0.34510, 0.35161),
        (0.30263, 0.31267),
    ],
)
def test_the_locus_of_black_bodies(x: float, y: float) -> None:
    assert planckian_y(x) == pytest.approx(y, abs=3e-4)


@pytest.mark.parametrize("x", [0.2, 0.6, float("nan")])
def test_beyond_the_locus(x: float) -> None:
    with pytest.raises(ValueError, match="black bodies"):
        planckian_y(x)


INSIDE = [
    ("red", 0.690, 0.308),
    ("red", 0.6645, 0.335),  # y and z at their limits: z = 1 - 0.6645 - 0.335 = 0.0005
    ("green", 0.1, 0.7),
    ("green", 0.216, 0.700),  # x = 0.440 - 0.320 * 0.7
    ("green", 0.200, 0.370),  # x = y - 0.170
    ("white", 0.44757, 0.40745),  # illuminant A
    ("white", 0.3127, 0.3290),  # illuminant D65
    ("white", 0.300, 0.310),
    ("white", 0.540, 0.415),
]


@pytest.mark.parametrize(("colour", "x", "y"), INSIDE)
def test_inside(colour: AviationColour, x: float, y: float) -> None:
    assert outside(colour, x, y) == []


OUTSIDE = [
    ("red", 0.660, 0.339, "y is at most 0.335", 0.004),
    ("red", 0.680, 0.310, "z is at most 0.002", 0.008),
    ("green", 0.217, 0.700, "x is at most 0.440 - 0.320 y", 0.001),
    ("green", 0.201, 0.370, "x is at most y - 0.170", 0.001),
    ("green", 0.100, 0.372, "y is at least 0.390 - 0.170 x", 0.001),
    ("white", 0.299, 0.310, "x is at least 0.300", 0.001),
    ("white", 0.541, 0.415, "x is at most 0.540", 0.001),
    ("white", 0.310, 0.331, "y is at most x + 0.020", 0.001),
    ("white", 0.500, 0.437, "y is at most 0.636 - 0.400 x", 0.001),
    ("white", 0.350, 0.309, "y is at least the smaller of x - 0.040 and 0.010 below a black body's", 0.001),
    # at x 0.48614 the black body's y is 0.41467, so that 0.40467 is asked, and not 0.44614
    ("white", 0.48614, 0.40367, "y is at least the smaller of x - 0.040 and 0.010 below a black body's", 0.001),
]


@pytest.mark.parametrize(("colour", "x", "y", "limit", "excess"), OUTSIDE)
def test_outside(colour: AviationColour, x: float, y: float, limit: str, excess: float) -> None:
    broken = dict(outside(colour, x, y))
    assert broken[limit] == pytest.approx(excess, abs=3e-4)


@pytest.mark.parametrize(("x", "known"), [(0.2499, False), (0.25, True), (0.5646, True), (0.5647, False)])
def test_how_far_the_locus_is_known(x: float, known: bool) -> None:
    if known:
        assert 0.2 < planckian_y(x) < 0.45
    else:
        with pytest.raises(ValueError, match="black bodies"):
            planckian_y(x)


@pytest.mark.parametrize("x", [0.1, 0.299, 0.541, 0.7])
def test_outside_white_altogether_no_black_body_is_asked_about(x: float) -> None:
    assert [words for words, _ in outside("white", x, 0.3) if "black body" in words] == []
    assert outside("white", x, 0.3)


@pytest.mark.parametrize("x", [0.300, 0.540])
def test_at_either_end_of_white_the_black_body_is_asked_about(x: float) -> None:
    assert [words for words, _ in outside("white", x, 0.2) if "black body" in words]
