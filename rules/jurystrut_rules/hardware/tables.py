"""The tables of hardware, read once: bolts, nuts, washers, torque, cable, safety wire, countersinks."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import NamedTuple

from jurystrut.calculations.fasteners import FINE_THREADS, BoltSteps
from jurystrut.rulebook import Table, read_table

__all__ = [
    "Nut",
    "TorqueRow",
    "bolt_dimensions",
    "bolt_steps",
    "cable_strength",
    "countersink_sheet",
    "inches",
    "least_drag",
    "nut_of",
    "same_size",
    "table",
    "torque_row",
    "turnbuckle_wire",
    "washer_series",
    "washer_thickness",
]

_FOLDER = Path(__file__).parents[1] / "tables" / "hardware"


class Nut(NamedTuple):
    """What a nut's part number says; `known` is how its kind is known: read, or memory."""

    part: str
    kind: str
    duty: str
    thread: str | None
    known: str

    def __str__(self) -> str:
        return f"{self.part}, {'an' if self.kind == 'all-metal' else 'a'} {self.kind} nut"

    @property
    def castle(self) -> bool:
        """Whether it takes a cotter."""
        return self.kind.startswith("castle")

    @property
    def self_locking(self) -> bool:
        """Whether it locks by its own drag."""
        return self.kind in {"fibre", "all-metal", "castle-locking"}


class TorqueRow(NamedTuple):
    """One row of table 7-1, inch-pounds: the ranges, and the most that the thread may ever get."""

    tension: tuple[float, float]
    shear: tuple[float, float]
    most_tension: float
    most_shear: float


@cache
def table(name: str) -> Table:
    """One of the tables of hardware, by its name."""
    return read_table(_FOLDER / f"{name}.yaml")


def inches(text: str | None) -> float:
    """A table's cell in inches, which may be a fraction."""
    return float(Fraction(str(text)))


def same_size(one: float, other: float) -> bool:
    """Sizes of tube, cable and rivet are told apart to a thousandth of an inch: 0.156 in is 5/32 in."""
    return abs(one - other) < 0.0011  # own-reading-precision


@cache
def bolt_dimensions() -> dict[tuple[int, int], tuple[float, float | None]]:
    """Grip and length in inches by series and dash number."""
    return {
        (int(str(row["series"])), int(str(row["dash"]))): (inches(row["grip"]), inches(length) if length else None)
        for row in table("an_bolts").rows
        for length in [row.get("length")]
    }


@cache
def bolt_steps() -> dict[int, BoltSteps]:
    """What holds beyond the listed dash numbers, by series."""
    rows = table("an_bolt_steps").rows
    return {int(str(row["series"])): BoltSteps(inches(row["less"]), inches(row["more"])) for row in rows}


_NUT = re.compile(r"((?:AN|MS)\d+)-(\d+)[A-Z]*")


@cache
def nut_of(part: str) -> Nut | None:
    """A nut by its part number; None for one that the tables do not know."""
    found = _NUT.fullmatch(part.strip().upper())
    row = next((row for row in table("nuts").rows if found and row["nut"] == found[1]), None)
    if not found or not row:
        return None
    if row["sizes"] == "sixteenths":
        thread = FINE_THREADS.get(int(found[2]))
    else:
        thread = next((str(size["thread"]) for size in table("nut_sizes").rows if size["code"] == found[2]), None)
    return Nut(part, str(row["kind"]), str(row["duty"]), thread, str(row["status"]))


_WASHER = re.compile(r"AN960[A-Z]*-(\d+)(L)?")
_WASHER_SIZES = frozenset({"10", "416", "516", "616", "716", "816"})


@cache
def washer_thickness(part: str) -> float | None:
    """Thickness of an AN960 washer in inches; None for one that the tables do not know."""
    found = _WASHER.fullmatch(part.strip().upper())
    if not found or found[1] not in _WASHER_SIZES:
        return None
    row = next(row for row in table("washers").rows if row["kind"] == ("thin" if found[2] else "regular"))
    return inches(row["thickness"])


def washer_series(part: str) -> int | None:
    """The series of bolts that an AN960 washer is for: -10 for AN3, -416 for AN4, and so on; None where it is not known."""
    found = _WASHER.fullmatch(part.strip().upper())
    if not found or found[1] not in _WASHER_SIZES:
        return None
    return 3 if found[1] == "10" else int(found[1]) // 100  # an960-thickness (memory): No. 10 is for AN3


@cache
def torque_row(thread: str) -> TorqueRow | None:
    """Table 7-1 for a thread; None where it has no such row."""
    for row in table("table_7_1").rows:
        if row["size"] == thread:
            ends = [float(str(row[column])) for column in ("tension_min", "tension_max", "shear_min", "shear_max")]
            most = [float(str(row[column])) for column in ("most_tension", "most_shear")]
            return TorqueRow((ends[0], ends[1]), (ends[2], ends[3]), *most)
    return None


@cache
def least_drag(thread: str) -> float | None:
    """Table 7-2 for a thread, inch-pounds; None where it has no such row."""
    return next((float(str(row["least"])) for row in table("table_7_2").rows if row["size"] == thread), None)


def cable_strength(diameter: float, construction: str, material: str) -> float | None:
    """Table 7-3, pounds; None where it has no such cable."""
    for row in table("table_7_3").rows:
        if same_size(inches(row["diameter"]), diameter) and row["construction"] == construction:
            return float(str(row[material]))
    return None


def turnbuckle_wire(cable: float, wrap: str, material: str) -> float | None:
    """Table 7-8: the thinnest wire in inches for a cable; None where the table does not allow that wrap and material."""
    for row in table("table_7_8").rows:
        listed = inches(row["cable"])
        reaches = same_size(listed, cable) or (row["larger"] == "yes" and cable > listed)
        if reaches and row["wrap"] == wrap and row["material"] == material:
            return inches(row["wire"])
    return None


def countersink_sheet(diameter: float) -> float | None:
    """The thinnest sheet in inches for a machine countersink; None for a rivet that the table does not hold."""
    rows = table("countersink").rows
    return next((inches(row["sheet"]) for row in rows if same_size(inches(row["diameter"]), diameter)), None)
