"""Is it square: two diagonals, a straightedge on a wheel. Lengths in any one unit, angles in radians."""

from __future__ import annotations

import math

__all__ = ["off_square", "off_square_angle", "toe_angle"]


def off_square(left: float, right: float, base: float) -> float:
    """How far the apex of a triangle lies off the middle line of its base, towards the right where positive.

    `left` and `right` run from the ends of the base to the apex. With L^2 = (b + x)^2 + h^2 and R^2 = (b - x)^2 + h^2,
    b half the base: x = (L^2 - R^2) / 4b. ValueError where the three do not close to a triangle.
    """
    if base <= 0 or abs(left - right) >= base or left + right <= base:
        raise ValueError("these three lengths do not close to a triangle")
    return (left - right) * (left + right) / (2 * base)


def off_square_angle(left: float, right: float, base: float) -> float:
    """The angle between the line from the middle of the base to the apex and the normal of the base."""
    offset = off_square(left, right, base)
    height = math.sqrt(max(0.0, left * left - (base / 2 + offset) ** 2))
    return math.atan2(offset, height)


def toe_angle(front: float, rear: float, straightedge: float) -> float:
    """A wheel's angle to the centre line, from the distances of a straightedge's ends to it; toed out where positive.

    ValueError where the distances differ by more than the straightedge is long.
    """
    if abs(front - rear) > straightedge or straightedge <= 0:
        raise ValueError("the ends differ by more than the straightedge is long")
    return math.asin((front - rear) / straightedge)
