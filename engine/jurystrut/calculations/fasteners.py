"""Bolts, nuts and rivets: what a part number says, and what a stack of parts asks of it. Inches and inch-pounds throughout.

Sources: the military standard drawing of AN3 to AN20 bolts (part numbers); NAVEDTRA 14014 and 14018 (threads, rivets);
AC 43.13-1B paragraph 7-40 and table 7-1 (torque).
"""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

__all__ = [
    "FINE_THREADS",
    "AnBolt",
    "BoltSteps",
    "Stack",
    "decoded",
    "grip_and_length",
    "rivet_length",
    "threads_per_inch",
    "torque_window",
    "wrench_reading",
]

FINE_THREADS = {  # an3-an20
    3: "10-32",
    4: "1/4-28",
    5: "5/16-24",
    6: "3/8-24",
    7: "7/16-20",
    8: "1/2-20",
    9: "9/16-18",
    10: "5/8-18",
    12: "3/4-16",
    14: "7/8-14",
    16: "1-14",
    18: "1-1/8-12",
    20: "1-1/4-12",
}
"""The fine thread of each series of AN bolts; the names are those of AC 43.13-1B table 7-1."""

_PART = re.compile(r"AN(\d{1,2})(DD|C)?(H)?-(\d{1,2})(A)?")
_MATERIALS: dict[str | None, Literal["steel", "stainless", "aluminium"]] = {
    None: "steel",
    "C": "stainless",
    "DD": "aluminium",
}
_LONGEST_DASH = 27  # an3-an20
"""AN5H-27A is the longest bolt whose grip a second copy of the drawing bears out."""


class AnBolt(NamedTuple):
    """What the part number of an AN3 to AN20 bolt says."""

    part: str
    series: int
    dash: int
    material: Literal["steel", "stainless", "aluminium"]
    drilled_head: bool
    drilled_shank: bool

    @property
    def diameter(self) -> float:
        """Nominal diameter: series in sixteenths, but AN3 is No. 10, 0.190 in."""
        return 0.190 if self.series == 3 else self.series / 16  # an3-an20

    @property
    def thread(self) -> str:
        """Its thread, as table 7-1 names it."""
        return FINE_THREADS[self.series]

    @property
    def eighths(self) -> int:
        """The dash number in eighths of an inch: one digit counts eighths, the first of two counts whole inches."""
        return 8 * (self.dash // 10) + self.dash % 10  # an3-an20


def decoded(part: str) -> AnBolt:
    """Read an AN bolt's part number, for example AN4-15A; ValueError says why it is none.

    Without a trailing A the shank is drilled for a cotter; H drills the head. Dash numbers that end in 8 or 9 do not exist.
    """
    found = _PART.fullmatch(part.strip().upper().replace(" ", ""))
    if not found:
        raise ValueError(f"'{part}' is not the part number of an AN bolt, such as AN4-15A")
    series, material, head, dash, plain = found.groups()
    if int(series) not in FINE_THREADS:
        raise ValueError(f"'{part}': there is no series AN{series} among AN3 to AN20")
    if int(dash) % 10 > 7 or (len(dash) == 2 and dash[0] == "0"):  # an3-an20
        raise ValueError(f"'{part}': there is no dash number {dash}; it counts eighths of an inch from 0 to 7")
    return AnBolt(part, int(series), int(dash), _MATERIALS[material], head is not None, plain is None)


class BoltSteps(NamedTuple):
    """How grip and length of one series follow from the dash number: grip e/8 - less, length e/8 + more."""

    less: float
    more: float


def grip_and_length(
    bolt: AnBolt, listed: dict[tuple[int, int], tuple[float, float | None]], steps: dict[int, BoltSteps]
) -> tuple[float, float]:
    """Grip and length of an AN bolt in inches, from the listed rows, beyond them by the series' steps.

    ValueError where neither reaches: a series not listed, or a dash number above 27.
    """
    if bolt.series not in steps:
        raise ValueError(f"the dimensions of AN{bolt.series} bolts are not in the tables")
    if bolt.dash > _LONGEST_DASH:
        raise ValueError(f"the tables end at dash {_LONGEST_DASH}; {bolt.part} is longer")
    step = steps[bolt.series]
    grip, length = listed.get((bolt.series, bolt.dash), (None, None))
    if grip is None and bolt.dash < 10:  # an3-an20
        raise ValueError(f"there is no AN{bolt.series}-{bolt.dash} in the tables")
    inches = bolt.eighths / 8  # arithmetic
    return inches - step.less if grip is None else grip, inches + step.more if length is None else length


def threads_per_inch(thread: str) -> int:
    """The pitch in a thread's name: 28 for 1/4-28."""
    return int(thread.rpartition("-")[2])


class Stack(NamedTuple):
    """What lies between a bolt's head and its nut."""

    under_head: float
    parts: float
    under_nut: float

    @property
    def thickness(self) -> float:
        """All of it."""
        return self.under_head + self.parts + self.under_nut

    def spare_grip(self, grip: float) -> float:
        """How far the smooth shank reaches beyond the last washer, where a nut would run onto it; below zero where not."""
        return grip - self.thickness

    def threads_in_hole(self, grip: float, thread: str) -> float:
        """How many threads lie inside the parts, those under the nut's washers not counted."""
        return max(0.0, self.under_head + self.parts - grip) * threads_per_inch(thread)


def torque_window(least: float, most: float, drag: float) -> tuple[float, float]:
    """What the wrench may show: the table's range with the nut's own drag added, AC 43.13-1B paragraph 7-40."""
    return least + drag, most + drag


def rivet_length(grip: float, diameter: float) -> float:
    """Length of a solid rivet before driving: grip + 1.5 D, NAVEDTRA 14018."""
    return grip + 1.5 * diameter  # navy-14018


def wrench_reading(torque: float, length: float, adapter: float) -> float:
    """What a torque wrench shows when the nut gets `torque`, in its unit, through an adapter in line with the wrench.

    `length` goes from the grip to the wrench's own square, `adapter` from there to the nut, negative where it points back to
    the grip. AC 43.13-1B figure 7-2, from memory. Raises ValueError where the nut would lie at the grip or behind it.
    """
    if length <= 0 or length + adapter <= 0:
        raise ValueError("no lever is left between grip and nut")
    return torque * length / (length + adapter)
