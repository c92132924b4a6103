"""The magnetic field of wires, and how far it turns a compass. SI throughout."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["VACUUM_PERMEABILITY", "Vector", "deviation", "field_of_path", "field_of_segment"]

Vector = tuple[float, float, float]

VACUUM_PERMEABILITY = 1.25663706127e-6  # codata-2022
"""N/A2, CODATA 2022."""


def field_of_segment(start: Vector, end: Vector, current: float, place: Vector) -> Vector:
    """The flux density at a place, in tesla, of a current in amperes along a straight piece of wire, by Biot and Savart.

    With r and s from the ends to the place: mu0 I / 4 pi (|r| + |s|) (r x s) / (|r| |s| (|r| |s| + r . s)). ValueError for a
    place on the wire itself.
    """
    r, s = _minus(place, start), _minus(place, end)
    lengths = math.hypot(*r) * math.hypot(*s)
    below = lengths * (lengths + sum(a * b for a, b in zip(r, s, strict=True)))
    if below <= 1e-18 * max(lengths, 1e-9) ** 2:
        raise ValueError("the place lies on the wire")
    factor = VACUUM_PERMEABILITY * current / (4 * math.pi) * (math.hypot(*r) + math.hypot(*s)) / below  # arithmetic
    return (
        factor * (r[1] * s[2] - r[2] * s[1]),
        factor * (r[2] * s[0] - r[0] * s[2]),
        factor * (r[0] * s[1] - r[1] * s[0]),
    )


def field_of_path(path: Sequence[Vector], current: float, place: Vector) -> Vector:
    """The flux density at a place, in tesla, of a current that runs along the corners of a path in order."""
    fields = [field_of_segment(a, b, current, place) for a, b in pairwise(path) if a != b]
    x, y, z = (math.fsum(parts) for parts in zip(*fields, strict=True)) if fields else (0.0, 0.0, 0.0)
    return x, y, z


def deviation(level_field: float, earth_field: float) -> float:
    """The greatest turn of a compass needle, in radians, over all headings, by a field beside the Earth's, both level.

    A quarter turn where the field reaches the Earth's: the needle may then point anywhere.
    """
    return math.asin(min(level_field / earth_field, 1.0))


def _minus(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]
