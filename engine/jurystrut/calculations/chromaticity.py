"""Colours by their place in the chromaticity diagram of the CIE of 1931, against the limits of aviation colours."""

from __future__ import annotations

from typing import Literal

__all__ = ["AviationColour", "limits_of", "outside", "planckian_y"]

AviationColour = Literal["red", "green", "white"]

_LOCUS = (  # planckian-locus
    (0.3805, (3.0817580, -5.87338670, 3.75112997, -0.37001483)),  # planckian-locus: from 4000 K up
    (0.5034, (-0.9549476, -1.37418593, 2.09137015, -0.16748867)),  # planckian-locus: 2222 to 4000 K
    (0.5646, (-1.1063814, -1.34811020, 2.18555832, -0.20219683)),  # planckian-locus: 1667 to 2222 K
)
"""Cubic pieces of the locus by the greatest x of each (Kim and others, US patent 7024034, from memory). They lie within
0.0003 of Planck's law summed over the observer of 1931."""


def planckian_y(x: float) -> float:
    """The y of a black body's light at an x, for 0.25 to 0.56; ValueError elsewhere."""
    if not 0.25 <= x <= _LOCUS[-1][0]:  # planckian-locus
        raise ValueError("black bodies of 1667 K to 25,000 K alone are known")
    a, b, c, d = next(piece for upto, piece in _LOCUS if x <= upto)
    return ((a * x + b) * x + c) * x + d


def outside(colour: AviationColour, x: float, y: float) -> list[tuple[str, float]]:
    """The limits of 14 CFR 23.1397 that a colour breaks, in words, and by how much; empty where it is that colour."""
    return [(words, excess) for words, excess in limits_of(colour, x, y) if excess > 1e-9]


def limits_of(colour: AviationColour, x: float, y: float) -> list[tuple[str, float]]:
    """Each limit in words, and how far beyond it a colour lies; not above 0 inside."""
    if colour == "red":
        return [("y is at most 0.335", y - 0.335), ("z is at most 0.002", 1 - x - y - 0.002)]  # 23-1397
    if colour == "green":
        return [
            ("x is at most 0.440 - 0.320 y", x - (0.440 - 0.320 * y)),  # 23-1397
            ("x is at most y - 0.170", x - (y - 0.170)),  # 23-1397
            ("y is at least 0.390 - 0.170 x", 0.390 - 0.170 * x - y),  # 23-1397
        ]
    limits = [
        ("x is at least 0.300", 0.300 - x),  # 23-1397-c
        ("x is at most 0.540", x - 0.540),  # 23-1397-c
        ("y is at most x + 0.020", y - (x + 0.020)),  # 23-1397-c
        ("y is at most 0.636 - 0.400 x", y - (0.636 - 0.400 * x)),  # 23-1397-c
    ]
    if 0.300 <= x <= 0.540:  # 23-1397-c
        least = min(x - 0.040, planckian_y(x) - 0.010)  # 23-1397-c
        limits.append(("y is at least the smaller of x - 0.040 and 0.010 below a black body's", least - y))
    return limits
