"""Where a bearing lies among the three angles of the position lights, in degrees clockwise from the nose.

The angles are those of 14 CFR 23.1387: 110 degrees to the right of dead ahead, 110 to the left, and 140 behind.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

__all__ = ["Overlap", "PositionLight", "from_ahead", "overlap"]

PositionLight = Literal["left", "right", "rear"]

_HALF_FRONT = 110.0  # 23-1391
_TURN = 360.0  # arithmetic


class Overlap(NamedTuple):
    """How a bearing lies to a light: degrees past its boundary, 0 inside its own angle, and whose angle it is."""

    past: float
    within: Literal["forward", "rear"]


def from_ahead(bearing: float) -> float:
    """Degrees to either side of dead ahead, 0 to 180."""
    turned = bearing % _TURN
    return min(turned, _TURN - turned)


def overlap(light: PositionLight, bearing: float) -> Overlap:
    """How far a bearing lies past the boundary that a light's angle has in common with the angle it lies in."""
    if light == "rear":
        aside = from_ahead(bearing)
        return Overlap(max(0.0, _HALF_FRONT - aside), "forward" if aside < _HALF_FRONT else "rear")
    turned = bearing % _TURN if light == "right" else -bearing % _TURN  # the left light is the right one's mirror image
    if turned <= _HALF_FRONT:
        return Overlap(0.0, "forward")
    if turned < _TURN - _HALF_FRONT:
        return Overlap(turned - _HALF_FRONT, "rear")
    return Overlap(_TURN - turned, "forward")
