"""What a wire carries as installed, and what it loses: published tables and curves, applied and never extrapolated.

The tables are data files of a rule pack; these functions take them as arguments. Temperatures in degrees Celsius, as the
tables print them; currents in amperes.
"""

from __future__ import annotations

import itertools
from bisect import bisect_left
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.errors import OutsideTable

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    Row = Mapping[str, str | float | None]
    """One row of a table's data file: a cell is text or a number, None where it is blank."""

__all__ = [
    "AllowableDrops",
    "Ampacity",
    "BundleTable",
    "ConductorTables",
    "FreeAirCurve",
    "ProtectorTable",
    "SwitchFactors",
    "TableRow",
    "aluminium_as_copper",
    "ampacity",
    "area_cmil",
    "diameter_inches",
    "resistance_at",
    "voltage_drop",
]

_ZERO_RESISTANCE_C = {"copper": 234.5, "aluminium": 238.1}  # ac43-11-66
"""By how many degrees a metal's inferred temperature of zero resistance lies below 0 degC (AC 43.13-1B paragraph 11-66)."""


def _number(row: Row, column: str) -> float:
    cell = row[column]
    if cell is None:
        raise OutsideTable(f"the table has a blank under {column} where a figure belongs")
    return float(cell)


def _maybe(row: Row, column: str) -> float | None:
    return None if row[column] is None else _number(row, column)


class FreeAirCurve(NamedTuple):
    """Current of one wire alone in free air: `factor` x rise ^ `exponent`, for a rise of 30 to 250 degC."""

    factor: float
    exponent: float

    @classmethod
    def from_rows(cls, rows: Iterable[Row]) -> dict[str, FreeAirCurve]:
        """The curve of each size, from rows of `size`, `factor` and `exponent`."""
        return {str(row["size"]): cls(_number(row, "factor"), _number(row, "exponent")) for row in rows}

    def current(self, rise: float) -> float:
        """The current that heats the wire by `rise` degC; OutsideTable where the curve does not reach."""
        if not 30 <= rise <= 250:  # ac43-figure-11-4a
            raise OutsideTable(f"the free-air curve covers a rise of 30 to 250 degC, not {rise:.0f} degC")
        return float(self.factor * rise**self.exponent)


class TableRow(NamedTuple):
    """One size of AC 43.13-1B Table 11-9: current by the insulation's temperature in degC, and ohms per 1000 ft at 20 degC."""

    currents: Mapping[int, float]
    ohm_per_1000_ft: float

    @classmethod
    def from_rows(cls, rows: Iterable[Row]) -> dict[str, TableRow]:
        """The row of each size, from rows of `size`, `a105`, `a150`, `a200` and `ohm`."""
        columns = (105, 150, 200)  # ac43-table-11-9
        return {
            str(row["size"]): cls({celsius: _number(row, f"a{celsius}") for celsius in columns}, _number(row, "ohm"))
            for row in rows
        }


class BundleTable(NamedTuple):
    """Share of its free-air current that a wire keeps in a bundle: by the number of wires, for each loading in percent."""

    loadings: tuple[int, ...]
    factors: Mapping[int, Sequence[float | None]]

    @classmethod
    def from_rows(cls, rows: Iterable[Row]) -> BundleTable:
        """From rows of `wires` and one column `p20` ... `p100` for each loading in percent; blank cells allowed."""
        loadings = (20, 40, 60, 80, 100)  # ac43-figure-11-5
        return cls(loadings, {int(_number(row, "wires")): [_maybe(row, f"p{p}") for p in loadings] for row in rows})

    def factor(self, wires: int, loading: float) -> float:
        """The factor for a bundle whose wires together carry `loading` (a fraction) of what they could.

        Between two published loadings the higher one is taken, which errs to the safe side. OutsideTable beyond the last row.
        """
        if loading < 0:
            raise OutsideTable(f"a bundle cannot be loaded to {loading:.0%}")
        column = bisect_left(self.loadings, round(loading * 100, 6))
        row = self.factors.get(wires)
        value = row[column] if row is not None and column < len(self.loadings) else None
        if value is None:
            most = max(self.factors)
            raise OutsideTable(
                f"the bundle curves cover up to {most} wires, not {wires} wires at {loading:.0%} loading; "
                f"Table 11-9 serves fuller bundles at {_TABLE_LOADING:.0%} or less"
            )
        return value


class ConductorTables(NamedTuple):
    """All that `ampacity` looks up: by size name (18, 0, 00), and altitude points as (feet, factor)."""

    free_air: Mapping[str, FreeAirCurve]
    installed: Mapping[str, TableRow]
    bundles: BundleTable
    altitudes: tuple[tuple[float, float], ...]

    @classmethod
    def from_rows(
        cls, free_air: Iterable[Row], installed: Iterable[Row], bundles: Iterable[Row], altitudes: Iterable[Row]
    ) -> ConductorTables:
        """From the rows of the four tables; altitudes have `feet` and `factor`, lowest first."""
        points = tuple((_number(row, "feet"), _number(row, "factor")) for row in altitudes)
        return cls(
            FreeAirCurve.from_rows(free_air), TableRow.from_rows(installed), BundleTable.from_rows(bundles), points
        )

    def altitude_factor(self, feet: float) -> float:
        """Straight line between the published points; OutsideTable above the highest."""
        points = self.altitudes
        if feet > points[-1][0]:
            raise OutsideTable(f"the altitude curve ends at {points[-1][0]:.0f} ft, below {feet:.0f} ft")
        (low, above), (high, below) = next(pair for pair in itertools.pairwise(points) if feet <= pair[1][0])
        return above + (below - above) * (max(feet, low) - low) / (high - low)


class Ampacity(NamedTuple):
    """The current that a wire carries as installed, and the steps that led to it."""

    amperes: float
    steps: tuple[str, ...]


_MOST_IN_BUNDLE_BY_CURVE = 20  # ac43-figure-11-5
_TABLE_LOADING = 0.20  # ac43-table-11-9


def ampacity(
    size: str, rating: int, ambient: float, wires: int, loading: float, feet: float, tables: ConductorTables
) -> Ampacity:
    """The current that a copper wire may carry without exceeding its insulation's temperature.

    Sizes 26 to 10: free-air curve at the rise `rating - ambient`, times bundle and altitude factors (AC 43.13-1B paragraph
    11-68 and figures 11-4a, 11-5, 11-6). Larger sizes, and bundles beyond the curves: Table 11-9, under its own conditions.
    OutsideTable where neither covers the case.
    """
    if ambient >= rating:
        return Ampacity(
            0.0, (f"ambient {ambient:.0f} degC reaches the insulation's {rating} degC: no current is left",)
        )
    if size in tables.free_air and (wires <= _MOST_IN_BUNDLE_BY_CURVE or loading > _TABLE_LOADING):
        return _from_curves(size, rating, ambient, wires, loading, feet, tables)
    return _from_table(size, rating, ambient, wires, loading, feet, tables)


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


_TABLE_AMBIENT_C = 70  # ac43-table-11-9
_TABLE_LARGE_WIRES = 9  # ac43-table-11-9
_TABLE_FEET = 60_000  # ac43-table-11-9


def _from_table(
    size: str, rating: int, ambient: float, wires: int, loading: float, feet: float, tables: ConductorTables
) -> Ampacity:
    """Table 11-9 where the installation is no hotter and no fuller than the table's own conditions."""
    row = tables.installed.get(size)
    columns = [column for column in row.currents if column <= rating] if row else []
    if row is None or not columns:
        raise OutsideTable(f"Table 11-9 has no current for {size} AWG at {rating} degC")
    if ambient > _TABLE_AMBIENT_C:
        raise OutsideTable(f"Table 11-9 is for air of {_TABLE_AMBIENT_C} degC, not {ambient:.0f} degC")
    if wires > 1 and loading > _TABLE_LOADING:
        raise OutsideTable(f"Table 11-9 is for bundles at {_TABLE_LOADING:.0%} loading, not {loading:.0%}")
    if feet > _TABLE_FEET:
        raise OutsideTable(f"Table 11-9 is for altitudes up to {_TABLE_FEET:,} ft, not {feet:,.0f} ft")
    if size not in tables.free_air and wires > _TABLE_LARGE_WIRES:
        raise OutsideTable(f"Table 11-9 is for bundles of {_TABLE_LARGE_WIRES} such wires, not {wires}")
    column = max(columns)
    current = row.currents[column]
    step = f"Table 11-9, {size} AWG, {column} degC: {current:g} A in a full bundle at 70 degC and 60,000 ft"
    return Ampacity(current, (step, "the installation is cooler or emptier than that, so this errs to the safe side"))


def resistance_at(ohm_at_20: float, celsius: float, metal: str = "copper") -> float:
    """A conductor's resistance at another temperature, of copper or aluminium.

    AC 43.13-1B paragraph 11-66: L2 = 254.5 L1 / (234.5 + T2) for copper, 258.1 L1 / (238.1 + T2) for aluminium.
    """
    zero = _ZERO_RESISTANCE_C[metal]
    return ohm_at_20 * (zero + celsius) / (zero + 20)  # ac43-11-66


def voltage_drop(ohm_per_ft: float, run_ft: float, amperes: float) -> float:
    """The volts that a run of wire loses (AC 43.13-1B Table 11-7). The run is all the wire used, not doubled."""
    return ohm_per_ft * run_ft * amperes


# -- sizes -------------------------------------------------------------------------------------------------------------

_SIZES = ("0000", "000", "00", "0", "1", "2", "4", "6", "8", "10", "12", "14", "16", "18", "20", "22", "24", "26")
_SMALLEST_ALUMINIUM = 8  # ac43-aluminium


def _gauge(size: str) -> int:
    """The number of a size by name: 18 for 18, 0 for 0, -1 for 00."""
    return 1 - len(size) if set(size) == {"0"} else int(size)


def diameter_inches(size: str) -> float:
    """The diameter of a solid round wire of an American gauge: 0.005 in x 92^((36 - n) / 39) (ASTM B258, from memory)."""
    return float(0.005 * 92 ** ((36 - _gauge(size)) / 39))  # astm-b258


def area_cmil(size: str) -> float:
    """Its section in circular mils: the square of its diameter in thousandths of an inch (ASTM B258, from memory)."""
    return (1000 * diameter_inches(size)) ** 2


def aluminium_as_copper(size: str) -> str:
    """The copper size whose ratings an aluminium wire is given: two numbers higher (AC 43.13-1B, note to Table 11-9).

    Where no such size is made, the next thinner one. OutsideTable below size 8: aluminium is not recommended there.
    """
    if _gauge(size) > _SMALLEST_ALUMINIUM:
        raise OutsideTable(
            f"aluminium wire thinner than size {_SMALLEST_ALUMINIUM} is not recommended, so not size {size}"
        )
    return next(copper for copper in _SIZES if _gauge(copper) >= _gauge(size) + 2)


# -- devices and allowances --------------------------------------------------------------------------------------------


class ProtectorTable(NamedTuple):
    """AC 43.13-1B Table 11-3: the largest breaker and fuse for a size, under that table's own conditions."""

    breakers: Mapping[str, float | None]
    fuses: Mapping[str, float | None]

    @classmethod
    def from_rows(cls, rows: Iterable[Row]) -> ProtectorTable:
        """From rows of `size`, `breaker` and `fuse`; blank cells allowed."""
        held = list(rows)
        return cls(*({str(row["size"]): _maybe(row, kind) for row in held} for kind in ("breaker", "fuse")))

    def largest_breaker(self, size: str) -> float:
        """In amperes; OutsideTable where the table has no row or a blank."""
        return self._largest(self.breakers, size, "breaker")

    def largest_fuse(self, size: str) -> float:
        """In amperes; OutsideTable where the table has no row."""
        return self._largest(self.fuses, size, "fuse")

    @staticmethod
    def _largest(column: Mapping[str, float | None], size: str, kind: str) -> float:
        amperes = column.get(size)
        if amperes is None:
            covered = [name for name, value in column.items() if value is not None]
            raise OutsideTable(f"Table 11-3 has a {kind} for sizes {covered[0]} to {covered[-1]}, not for {size}")
        return amperes


class SwitchFactors(NamedTuple):
    """AC 43.13-1B Table 11-4: nominal rating of a switch = continuous current x factor."""

    factors: Mapping[tuple[int, str], float]

    @classmethod
    def from_rows(cls, rows: Iterable[Row]) -> SwitchFactors:
        """From rows of `volts`, `load` and `factor`."""
        return cls({(int(_number(row, "volts")), str(row["load"])): _number(row, "factor") for row in rows})

    def factor(self, volts: float, load: str) -> float:
        """The factor at 12 or 14 V and at 24 or 28 V; OutsideTable elsewhere. The table itself prints 12 and 28 V."""
        column = {12: 12, 14: 12, 24: 28, 28: 28}.get(int(volts)) if volts == int(volts) else None  # ac43-table-11-4
        if column is None or (column, load) not in self.factors:
            raise OutsideTable(f"Table 11-4 covers systems of 12 and 28 V, not a {load} load at {volts:g} V")
        return self.factors[column, load]


class AllowableDrops(NamedTuple):
    """AC 43.13-1B Table 11-6: volts that may be lost, continuously and intermittently, by nominal voltage."""

    limits: Mapping[float, tuple[float, float]]

    @classmethod
    def from_rows(cls, rows: Iterable[Row]) -> AllowableDrops:
        """From rows of `volts`, `continuous` and `intermittent`."""
        pair = ("continuous", "intermittent")
        return cls({_number(row, "volts"): (_number(row, pair[0]), _number(row, pair[1])) for row in rows})

    def limit(self, volts: float, *, intermittent: bool) -> float:
        """In volts; OutsideTable for a system that the table does not list."""
        if volts not in self.limits:
            listed = ", ".join(f"{listed:g}" for listed in self.limits)
            raise OutsideTable(f"Table 11-6 covers systems of {listed} V, not {volts:g} V")
        return self.limits[volts][intermittent]
