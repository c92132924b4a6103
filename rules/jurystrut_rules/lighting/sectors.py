"""The recorded sectors of a light as the calculations take them, in degrees."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.light_arcs import Sector, uncovered
from jurystrut.calculations.solid_angles import Beam, Shadow

if TYPE_CHECKING:
    from jurystrut.quantities import Angle, Range
    from jurystrut.records.lighting import Light

__all__ = ["beam_in_words", "beam_of", "degrees_of", "sector_of", "seen_level"]


def degrees_of(angle: Angle) -> float:
    """An angle in degrees without the last bits that its conversion leaves: 350 must lie on the edge at 350."""
    return round(angle.to("deg"), 9)


def sector_of(sector: Range[Angle]) -> Sector:
    """A recorded sector."""
    return degrees_of(sector.low), degrees_of(sector.high)


def seen_level(light: Light) -> tuple[Sector, ...]:
    """Where an eye level with a light sees it: what it covers, less what hides it there."""
    hidden = [sector_of(sector) for sector in light.hidden_level()]
    return tuple(part for sector in light.covers for part in uncovered(sector_of(sector), hidden))


def beam_of(light: Light) -> Beam:
    """A light and all that hides it, at whatever height."""
    shadows = [Shadow(sector_of(sector)) for sector in light.blocked]
    shadows += [Shadow(sector_of(s.bearing), *sector_of(s.elevation)) for s in light.shadows]
    return Beam(tuple(map(sector_of, light.covers)), tuple(shadows))


def beam_in_words(name: str, beam: Beam) -> str:
    """What a light shines into and what hides it, for the working of a rule."""
    lit = " and ".join(f"{start:g} to {end:g}" for start, end in beam.lit)
    hidden = "".join(
        f", hidden from {s.sector[0]:g} to {s.sector[1]:g} deg at {s.low:g} to {s.high:g} deg up" for s in beam.shadows
    )
    return f"{name} lights {lit} deg{hidden}"
