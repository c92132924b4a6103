"""What quits when something opens: the loads that lose their supply or their return without some edges of the network."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Set

    from jurystrut.calculations.circuit.network import Network

__all__ = ["lost_without", "running"]


def running(network: Network) -> set[str]:
    """The ids of the loads that a source feeds and that have a return, every switch closed."""
    fed, returned = network.fed(), network.returned()
    return {sink.id for sink in network.sinks if sink.point in fed and sink.back in returned}


def lost_without(network: Network, ids: Collection[str], before: Set[str] | None = None) -> tuple[str, ...]:
    """The loads that stop when the edges or supplies with these ids are open, in the network's order.

    `before` is what `running` says of the whole network, for a caller that asks about many devices.

    A relay or contactor whose coil stops opens too, and what hangs on it stops with it; one that rests closed is taken to
    open all the same, which errs to the side of losing. Takes time proportional to the network for each round of relays:
    meant for one device at a time, as for a table in a report.
    """
    before = running(network) if before is None else before
    gone = set(ids)
    while True:
        after = running(_without(network, gone))
        lost = before - after
        dropped = {edge.id for edge in network.edges if edge.kind == "switch" and edge.id in lost} - gone
        if not dropped:
            return tuple(sink.id for sink in network.sinks if sink.id in lost)
        gone |= dropped


def _without(network: Network, ids: Set[str]) -> Network:
    edges = tuple(edge for edge in network.edges if edge.id not in ids)
    supplies = tuple(supply for supply in network.supplies if supply.id not in ids)
    return replace(network, edges=edges, supplies=supplies)
