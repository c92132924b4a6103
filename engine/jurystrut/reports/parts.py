"""The buying list: standard parts of the joints that are still open, by part number."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from jurystrut.calculations.parts import Demand, spare, to_buy, waiting
from jurystrut.reports.plain import Paint, safe, wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.hardware import Hardware, Joint
    from jurystrut.records.project import Project

__all__ = ["write_parts"]


def write_parts(project: Project, *, coloured: bool = False) -> str:
    """What to buy, which joints wait for it, which name no part yet, and what stays at hand."""
    hardware: Hardware | None = project.sections.get("hardware")
    if hardware is None or not hardware.joints:
        return "No joint is recorded.\n"
    paint = Paint(coloured)
    still_open = [joint for joint in hardware.joints if joint.torque is None or joint.torqued is None]
    demands = [Demand(joint.id, _parts(joint)) for joint in still_open]
    stock: Counter[str] = Counter()
    for item in hardware.stock:
        stock[_number(item.part)] += item.count
    sections = [
        [_summary(len(still_open), len(hardware.joints))],
        _section(paint, "To buy", _purchases(demands, stock)),
        _section(paint, "Joints that wait for a part", _waiting(demands, stock, still_open)),
        _section(paint, "Joints that do not name all their parts", _unnamed(still_open)),
        _section(paint, "At hand and not needed", (f"  {part}  {n}" for part, n in spare(demands, stock).items())),
    ]
    return "\n\n".join("\n".join(lines) for lines in sections) + "\n"


def _summary(still_open: int, all_joints: int) -> str:
    if not still_open:
        return "Every joint is closed: its torque is on record."
    return f"{still_open} of {all_joints} joints are open: no torque is on record."


def _section(paint: Paint, title: str, lines: Iterator[str]) -> list[str]:
    return [paint.strong(title), *([safe(line) for line in lines] or ["  none"])]


def _number(part: str) -> str:
    return part.strip().upper()


def _parts(joint: Joint) -> tuple[str, ...]:
    named = (joint.bolt, *joint.head_washers, *joint.nut_washers, joint.nut, joint.cotter)
    return tuple(_number(part) for part in named if part)


def _purchases(demands: list[Demand], stock: Mapping[str, int]) -> Iterator[str]:
    purchases = to_buy(demands, stock)
    width = max((len(purchase.part) for purchase in purchases), default=0)
    for purchase in purchases:
        at_hand = f" ({purchase.at_hand} at hand)" if purchase.at_hand else ""
        first = f"  {purchase.part:<{width}}  {purchase.count:>3}  "
        yield wrapped(f"for {', '.join(purchase.joints)}{at_hand}", " " * len(first), first)


def _waiting(demands: list[Demand], stock: Mapping[str, int], joints: list[Joint]) -> Iterator[str]:
    what = {joint.id: joint.what for joint in joints}
    for demand in waiting(demands, stock):
        lacks = ", ".join(f"{n} x {part}" if n > 1 else part for part, n in Counter(demand.parts).items())
        name = f"{demand.joint}, {what[demand.joint]}" if what[demand.joint] else demand.joint
        yield wrapped(f"{name}: {lacks}", "    ", "  ")


def _unnamed(joints: list[Joint]) -> Iterator[str]:
    for joint in joints:
        absent = [word for word in ("bolt", "nut") if getattr(joint, word) is None]
        named = len(joint.head_washers) + len(joint.nut_washers)
        if named < (joint.washers if joint.washers is not None else 1):
            absent.append("washers")
        if absent:
            yield wrapped(f"{joint.id}: its {', '.join(absent)}", "    ", "  ")
