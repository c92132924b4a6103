"""The published tables of this domain, read from their data files once and only when a rule needs them."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from jurystrut.calculations.conductors import BundleTable, ConductorTables, FreeAirCurve, ProtectorTable, TableRow
from jurystrut.calculations.opening import OpeningTimes, TimeRow
from jurystrut.rulebook import read_table

if TYPE_CHECKING:
    from jurystrut.rulebook import Table

__all__ = [
    "allowable_drop",
    "allowed_strands",
    "blade_ratings",
    "blade_times",
    "circular_mils",
    "conductor_tables",
    "insulation_celsius",
    "ohm_per_1000_ft",
    "pounds_per_1000_ft",
    "protector_table",
    "switch_factor",
]

_FOLDER = Path(__file__).parent.parent / "tables" / "electrical"
_LOADINGS = (20, 40, 60, 80, 100)  # ac43-figure-11-5
_RATINGS = (105, 150, 200)  # ac43-table-11-9
_SYSTEMS = (14, 28)  # ac43-table-11-4


@cache
def _table(name: str) -> Table:
    return read_table(_FOLDER / f"{name}.yaml")


@cache
def conductor_tables() -> ConductorTables:
    """Free-air curves, Table 11-9, bundle and altitude factors."""
    free_air = {
        _cell(r, "size"): FreeAirCurve(_value(r, "factor"), _value(r, "exponent")) for r in _table("free_air").rows
    }
    installed = {
        _cell(row, "size"): TableRow({t: _value(row, f"a{t}") for t in _RATINGS}, _value(row, "ohm"))
        for row in _table("table_11_9").rows
    }
    factors = {int(_cell(r, "wires")): [_optional(r, f"p{p}") for p in _LOADINGS] for r in _table("bundle").rows}
    altitudes = tuple((_value(row, "feet"), _value(row, "factor")) for row in _table("altitude").rows)
    return ConductorTables(free_air, installed, BundleTable(_LOADINGS, factors), altitudes)


def ohm_per_1000_ft(size: str, metal: str = "copper") -> float | None:
    """A conductor's resistance at 20 degC by its size's name; None where Table 11-9 or, for aluminium, 11-10 has no such size."""
    if metal == "aluminium":
        return _aluminium_ohms().get(size)
    row = conductor_tables().installed.get(size)
    return row.ohm_per_1000_ft if row else None


@cache
def _aluminium_ohms() -> dict[str, float]:
    return {_cell(row, "size"): _value(row, "ohm") for row in _table("table_11_10").rows}


@cache
def protector_table() -> ProtectorTable:
    """Table 11-3: the largest breaker and fuse by size of wire."""
    return ProtectorTable.from_rows(_table("table_11_3").rows)


@cache
def insulation_celsius(spec: str | None) -> float | None:
    """The temperature that a specification's insulation stands; None for one that the table does not know."""
    known = {_cell(row, "spec"): _value(row, "celsius") for row in _table("wire_types").rows}
    return known.get(spec.partition("-")[0].strip()) if spec else None


def switch_factor(volts: float, load: str) -> float:
    """Table 11-4: by what a load's current is multiplied to give the rating its switch needs, at 14 or 28 V."""
    column = 12 if volts <= _SYSTEMS[0] else 28  # ac43-table-11-4
    rows = _table("table_11_4").rows
    return {(int(_cell(row, "volts")), _cell(row, "load")): _value(row, "factor") for row in rows}[column, load]


_BY_BATTERY = {12.0: 14.0, 24.0: 28.0}  # ac43-table-11-6 (none)


def allowable_drop(volts: float) -> tuple[float, float] | None:
    """Table 11-6: volts that may be lost continuously and intermittently; None for a system it does not list.

    It names systems by their generators; 12 and 24 V name the same ones by their batteries.
    """
    volts = _BY_BATTERY.get(volts, volts)
    for row in _table("table_11_6").rows:
        if _value(row, "volts") == volts:
            return _value(row, "continuous"), _value(row, "intermittent")
    return None


@cache
def blade_ratings() -> tuple[float, ...]:
    """The ratings in which blade fuses are made, in amperes, rising."""
    return tuple(_value(row, "amperes") for row in _table("blade_fuses").rows)


@cache
def blade_times() -> OpeningTimes:
    """When a regular or miniature blade fuse of 3 to 30 A opens."""
    rows = (
        TimeRow(_value(r, "percent"), _optional(r, "least"), _optional(r, "most")) for r in _table("blade_times").rows
    )
    return OpeningTimes(tuple(rows))


@cache
def allowed_strands(size: str, metal: str) -> tuple[int, int] | None:
    """Table 11-13: nicked and broken strands that a wire of a size and metal may have; None for what it does not list."""
    for row in _table("table_11_13").rows:
        if (_cell(row, "size"), _cell(row, "metal")) == (size, metal):
            return int(_cell(row, "nicked")), int(_cell(row, "broken"))
    return None


@cache
def circular_mils(size: str) -> float | None:
    """A conductor's section by Table 11-9; None for a size it does not list."""
    return next((_value(row, "cmil") for row in _table("table_11_9").rows if _cell(row, "size") == size), None)


@cache
def pounds_per_1000_ft(size: str) -> float:
    """The estimated weight of ETFE-insulated copper wire; of thicker sizes that of the copper alone."""
    for row in _table("wire_weight").rows:
        if _cell(row, "size") == size:
            return _value(row, "pounds")
    return _POUNDS_PER_CMIL * (circular_mils(size) or 0.0)


_POUNDS_PER_CMIL = 0.003027  # wire-weight: lb per 1000 ft and circular mil of copper, from its density


def _cell(row: dict[str, str | None], column: str) -> str:
    return str(row[column])


def _value(row: dict[str, str | None], column: str) -> float:
    return float(_cell(row, column))


def _optional(row: dict[str, str | None], column: str) -> float | None:
    return None if row[column] is None else _value(row, column)
