"""What quits when one thing fails: one row for all that stop the same loads, the worst first."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit.quitting import Lost, Quitting

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from jurystrut.calculations.circuit import Network
    from jurystrut.records.electrical import Electrical

__all__ = ["Group", "QuitRow", "Quits", "quits"]

_MOST_THINGS, _MOST_EDGES_WALKED = 600, 1_500_000
"""What a page, and half a minute, can hold."""


class Group(NamedTuple):
    """Loads that stop together: those needed for flight, and the others."""

    essential: str
    others: str


class QuitRow(NamedTuple):
    """Things that stop the same loads, and which loads when one of them opens, and when it is shorted to ground."""

    things: str
    opened: Group
    shorted: Group


class Quits(NamedTuple):
    """The rows, the worst first, and what is told in a line: the things that stop one load alone, not needed for flight, by
    that load; the things that stop nothing; and how many were not looked at.
    """

    rows: list[QuitRow]
    single: list[tuple[str, str]]
    harmless: str
    left_out: int


def quits(electrical: Electrical, network: Network) -> Quits:
    """Sources, buses, protective devices and wires, one at a time, in this order where not all can be looked at."""
    things = list(_things(electrical))
    looked_at = things[: min(_MOST_THINGS, max(10, _MOST_EDGES_WALKED // (len(network.edges) or 1)))]
    asked = Quitting(network)
    together: dict[Lost, list[str]] = {}
    for name, words, is_bus in looked_at:
        lost = asked.of_bus(name) if is_bus else asked.of(name)
        together.setdefault(lost, []).append(words)
    harmless = together.pop(Lost((), ()), [])
    essential = {load.id for load in electrical.loads if load.essential}
    single: dict[str, list[str]] = {}
    rows: list[QuitRow] = []
    for lost in sorted(together, key=lambda lost: _weight(lost, essential), reverse=True):
        stopped = {*lost.opened, *lost.shorted}
        if len(stopped) == 1 and not stopped & essential:
            single.setdefault(stopped.pop(), []).extend(together[lost])
        else:
            groups = _group(lost.opened, essential), _group(lost.shorted, essential)
            rows.append(QuitRow(", ".join(together[lost]), *groups))
    alone = sorted((load, ", ".join(names)) for load, names in single.items())
    return Quits(rows, alone, ", ".join(harmless), len(things) - len(looked_at))


def _things(electrical: Electrical) -> Iterator[tuple[str, str, bool]]:
    """The id of each thing, its words in the table, and whether it is a bus."""
    for source in electrical.sources:
        yield source.id, f"{source.kind} {source.id}", False
    for bus in electrical.buses:
        yield bus.id, f"bus {bus.id}", True
    for device in electrical.protection:
        yield device.id, f"{device.id} {device.rating or ''}".strip(), False
    for wire in electrical.wires:
        yield wire.id, wire.id, False


def _weight(lost: Lost, essential: set[str]) -> tuple[int, int, int]:
    """How bad it is: essential loads first, then all of them, then what an opening alone takes."""
    either = {*lost.opened, *lost.shorted}
    return len(either & essential), len(either), len(lost.opened)


def _group(loads: Collection[str], essential: set[str]) -> Group:
    return Group(
        ", ".join(load for load in loads if load in essential),
        ", ".join(load for load in loads if load not in essential),
    )
