"""What a wire carries as installed, and what it loses: published tables and curves, applied and never extrapolated.

The tables are data files of a rule pack; these functions take them as arguments. Temperatures in degrees Celsius, as the
tables print them; currents in amperes.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jurystrut.calculations.errors import OutsideTable

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

__all__ = ["Ampacity", "BundleTable", "ConductorTables", "FreeAirCurve", "TableRow", "ampacity", "resistance_at"]

_ZERO_RESISTANCE_C = 234.5
"""Copper's inferred temperature of zero resistance is -234.5 degC (100 % IACS; from memory)."""


@dataclass(frozen=True, slots=True)
class FreeAirCurve:
    """Current of one wire alone in free air: `factor` x rise ^ `exponent`, for a rise of 30 to 250 degC."""

    factor: float
    exponent: float

    def current(self, rise: float) -> float:
        """The current that heats the wire by `rise` degC; OutsideTable where the curve does not reach."""
        if not 30 <= rise <= 250:
            raise OutsideTable(f"the free-air curve covers a rise of 30 to 250 degC, not {rise:.0f} degC")
        return float(self.factor * rise**self.exponent)


@dataclass(frozen=True, slots=True)
class TableRow:
    """One size of AC 43.13-1B Table 11-9: current by the insulation's temperature in degC, and ohms per 1000 ft at 20 degC."""

    currents: Mapping[int, float]
    ohm_per_1000_ft: float


@dataclass(frozen=True, slots=True)
class BundleTable:
    """Share of its free-air current that a wire keeps in a bundle: by the number of wires, for each loading in percent."""

    loadings: tuple[int, ...]
    factors: Mapping[int, Sequence[float | None]]

    def factor(self, wires: int, loading: float) -> float:
        """The factor for a bundle whose wires together carry `loading` (a fraction) of what they could.

        Between two published loadings the higher one is taken, which errs to the safe side. OutsideTable beyond the last row.
        """
        column = bisect_left(self.loadings, round(loading * 100, 6))
        row = self.factors.get(wires)
        value = row[column] if row is not None and column < len(self.loadings) else None
        if value is None:
            most = max(self.factors)
            raise OutsideTable(f"the bundle curves cover up to {most} wires, not {wires} wires at {loading:.0%} loading")
        return value


@dataclass(frozen=True, slots=True)
class ConductorTables:
    """All that `ampacity` looks up: by size name (18, 0, 00), and altitude points as (feet, factor)."""

    free_air: Mapping[str, FreeAirCurve]
    installed: Mapping[str, TableRow]
    bundles: BundleTable
    altitudes: tuple[tuple[float, float], ...]

    def altitude_factor(self, feet: float) -> float:
        """Straight line between the published points; OutsideTable above the highest."""
        points = self.altitudes
        if feet > points[-1][0]:
            raise OutsideTable(f"the altitude curve ends at {points[-1][0]:.0f} ft, below {feet:.0f} ft")
        for (low, above), (high, below) in zip(points, points[1:], strict=False):
            if feet <= high:
                return above + (below - above) * (max(feet, low) - low) / (high - low)
        return points[-1][1]


@dataclass(frozen=True, slots=True)
class Ampacity:
    """The current that a wire carries as installed, and the steps that led to it."""

    amperes: float
    steps: tuple[str, ...]


_MOST_IN_BUNDLE_BY_CURVE = 20
_TABLE_LOADING = 0.20


def ampacity(
    size: str, rating: int, ambient: float, wires: int, loading: float, feet: float, tables: ConductorTables
) -> Ampacity:
    """The current that a copper wire may carry without exceeding its insulation's temperature.

    Sizes 26 to 10: free-air curve at the rise `rating - ambient`, times bundle and altitude factors (AC 43.13-1B paragraph
    11-68 and figures 11-4a, 11-5, 11-6). Larger sizes, and bundles beyond the curves: Table 11-9, under its own conditions.
    OutsideTable where neither covers the case.
    """
    if ambient >= rating:
        return Ampacity(0.0, (f"ambient {ambient:.0f} degC reaches the insulation's {rating} degC: no current is left",))
    if size in tables.free_air and (wires <= _MOST_IN_BUNDLE_BY_CURVE or loading > _TABLE_LOADING):
        return _from_curves(size, rating, ambient, wires, loading, feet, tables)
    return _from_table(size, rating, ambient, wires, loading, tables)


def _from_curves(
    size: str, rating: int, ambient: float, wires: int, loading: float, feet: float, tables: ConductorTables
) -> Ampacity:
    rise = rating - ambient
    free = tables.free_air[size].current(rise)
    bundled = tables.bundles.factor(wires, loading)
    high = tables.altitude_factor(feet)
    return Ampacity(
        free * bundled * high,
        (
            f"temperature rise: {rating} - {ambient:.0f} = {rise:.0f} degC",
            f"{size} AWG alone in free air at that rise: {free:.1f} A (figure 11-4a, as read off by others)",
            f"bundle of {wires} at {loading:.0%} loading: factor {bundled:g} (figure 11-5, as read off by others)",
            f"altitude {feet:.0f} ft: factor {high:.3f} (figure 11-6, interpolated)",
            f"ampacity: {free:.1f} x {bundled:g} x {high:.3f} = {free * bundled * high:.1f} A",
        ),
    )


_TABLE_AMBIENT_C = 70
_TABLE_WIRES = {"small": 33, "large": 9}


def _from_table(size: str, rating: int, ambient: float, wires: int, loading: float, tables: ConductorTables) -> Ampacity:
    """Table 11-9 where the installation is no hotter and no fuller than the table's own conditions."""
    row = tables.installed.get(size)
    columns = [column for column in row.currents if column <= rating] if row else []
    if row is None or not columns:
        raise OutsideTable(f"Table 11-9 has no current for {size} AWG at {rating} degC")
    if ambient > _TABLE_AMBIENT_C:
        raise OutsideTable(f"Table 11-9 is for air of {_TABLE_AMBIENT_C} degC, not {ambient:.0f} degC")
    if wires > 1 and loading > _TABLE_LOADING:
        raise OutsideTable(f"Table 11-9 is for bundles at {_TABLE_LOADING:.0%} loading, not {loading:.0%}")
    if size not in tables.free_air and wires > _TABLE_WIRES["large"]:
        raise OutsideTable(f"Table 11-9 is for bundles of {_TABLE_WIRES['large']} such wires, not {wires}")
    column = max(columns)
    current = row.currents[column]
    step = f"Table 11-9, {size} AWG, {column} degC: {current:g} A in a full bundle at 70 degC and 60,000 ft"
    return Ampacity(current, (step, "the installation is cooler or emptier than that, so this errs to the safe side"))


def resistance_at(ohm_at_20: float, celsius: float) -> float:
    """A copper conductor's resistance at another temperature (AC 43.13-1B paragraph 11-66, L2 = 254.5 L1 / (234.5 + T2))."""
    return ohm_at_20 * (_ZERO_RESISTANCE_C + celsius) / (_ZERO_RESISTANCE_C + 20)
