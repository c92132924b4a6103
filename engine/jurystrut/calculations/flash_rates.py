"""How often several flashing lights are seen to flash together, from each bearing."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.light_arcs import Sector, uncovered

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

__all__ = ["Flasher", "Together", "fastest"]

_ALL_ROUND = (0.0, 360.0)  # arithmetic


class Flasher(NamedTuple):
    """One light: the sectors in which it is seen, its flashes a minute, and what it flashes in step with."""

    name: str
    sectors: tuple[Sector, ...]
    rate: float
    step: str
    """Lights of one step flash at the same moments, so they count once, at the rate of the fastest."""


class Together(NamedTuple):
    """What is seen from one bearing, in degrees from the nose: flashes a minute, and whose they are."""

    rate: float
    bearing: float
    names: tuple[str, ...]


def fastest(flashers: Sequence[Flasher]) -> Together:
    """The bearing from which most flashes a minute are seen; of several alike the first clockwise from the nose.

    Sectors that only touch are not seen together. Sorted once, the edges of the sectors are walked around the circle.
    """
    rates: dict[str, float] = {}
    for flasher in flashers:
        rates[flasher.step] = max(rates.get(flasher.step, 0.0), flasher.rate)
    shining: Counter[str] = Counter()
    rate, most, bearing = 0.0, 0.0, 0.0
    for place, starts, step in sorted(edge for flasher in flashers for edge in _edges(flasher)):
        if not starts:
            shining[step] -= 1
        if not shining[step]:
            rate += rates[step] if starts else -rates[step]
        if starts:
            shining[step] += 1
        if rate > most + 1e-9:
            most, bearing = rate, place
    names = (f.name for f in flashers if any(start <= bearing < end for start, end in _seen(f)))
    return Together(most, bearing, tuple(names))


def _seen(flasher: Flasher) -> tuple[Sector, ...]:
    """Its sectors on one turn from the nose, joined where they overlap."""
    return uncovered(_ALL_ROUND, uncovered(_ALL_ROUND, flasher.sectors))


def _edges(flasher: Flasher) -> Iterator[tuple[float, bool, str]]:
    """Where it begins (True) and ceases (False) to be seen; at one place, what ceases sorts first."""
    for start, end in _seen(flasher):
        yield start, True, flasher.step
        yield end, False, flasher.step
