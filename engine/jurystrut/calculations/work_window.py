"""Which hours of a forecast allow a coat and its cure. Temperatures in degrees Celsius, humidity a fraction, wind in knots."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from jurystrut.calculations.atmosphere import dew_point

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["Hour", "Needs", "Window", "hindrances", "windows"]


@dataclass(frozen=True, slots=True)
class Hour:
    """The forecast from this time until the next line's; wind is None where none is given."""

    time: datetime
    celsius: float
    humidity: float
    wind: float | None = None


@dataclass(frozen=True, slots=True)
class Needs:
    """What one coat needs: while it is applied, and until it has cured; `recoat` is when the coat before lets it be begun.
    None where nothing limits it.
    """

    celsius: tuple[float, float]
    humidity: tuple[float, float] | None
    dew_point_margin: float
    wind: float | None
    cure: timedelta
    least_while_curing: float
    dampest_while_curing: float | None = None
    recoat: tuple[datetime, datetime] | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """Hours in a row with the same answer: what hinders the work in them, or nothing."""

    start: datetime
    end: datetime
    reasons: tuple[str, ...]


def hindrances(hours: Sequence[Hour], index: int, needs: Needs) -> tuple[str, ...]:
    """What forbids beginning the coat in one hour of the forecast; nothing where it may be begun.

    The surface is taken to be as cold as the air. A cure that the forecast does not reach to the end of is no permission.
    """
    hour = hours[index]
    low, high = needs.celsius
    reasons = []
    if hour.celsius < low:
        reasons.append("too cold")
    if hour.celsius > high:
        reasons.append("too hot")
    if needs.humidity and hour.humidity < needs.humidity[0]:
        reasons.append("too dry")
    if needs.humidity and hour.humidity > needs.humidity[1]:
        reasons.append("too humid")
    try:
        if hour.celsius - dew_point(hour.celsius, hour.humidity) < needs.dew_point_margin:
            reasons.append("too near the dew point")
    except ValueError as error:
        reasons.append(str(error))
    if needs.wind is not None and (hour.wind is None or hour.wind > needs.wind):
        reasons.append("no wind is forecast" if hour.wind is None else "too much wind")
    return (*reasons, *_recoat(hours, index, needs), *_while_curing(hours, index, needs))


def _recoat(hours: Sequence[Hour], index: int, needs: Needs) -> tuple[str, ...]:
    """Whether any moment of this hour lies outside the window that the coat before leaves."""
    if needs.recoat is None:
        return ()
    if hours[index].time < needs.recoat[0]:
        return ("too soon after the coat before",)
    return ("too late after the coat before",) if _end(hours, index) > needs.recoat[1] else ()


def _while_curing(hours: Sequence[Hour], index: int, needs: Needs) -> tuple[str, ...]:
    """What comes before the cure of a coat has ended that is begun at the last moment of this hour."""
    end = _end(hours, index) + needs.cure
    following = hours[index : bisect_left(hours, end, key=lambda hour: hour.time)]
    reasons = []
    if any(hour.celsius < needs.least_while_curing for hour in following):
        reasons.append("too cold before it has cured")
    dampest = needs.dampest_while_curing
    if dampest is not None and any(hour.humidity > dampest for hour in following):
        reasons.append("too humid before it has cured")
    if not reasons and _end(hours, len(hours) - 1) < end:
        reasons.append("the forecast ends before it has cured")
    return tuple(reasons)


def _end(hours: Sequence[Hour], index: int) -> datetime:
    """Where a line of the forecast ends: at the next one; the last holds for an hour."""
    return hours[index + 1].time if index + 1 < len(hours) else hours[index].time + timedelta(hours=1)


def windows(hours: Sequence[Hour], needs: Needs) -> list[Window]:
    """The whole forecast as windows, hours in a row with the same answer together; its lines must be in order of time."""
    found: list[Window] = []
    for index, hour in enumerate(hours):
        reasons = hindrances(hours, index, needs)
        end = _end(hours, index)
        if found and found[-1].reasons == reasons:
            found[-1] = Window(found[-1].start, end, reasons)
        else:
            found.append(Window(hour.time, end, reasons))
    return found
