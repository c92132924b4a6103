"""What quits when something opens: the loads that lose their supply or their return without some edges of the network."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection

    from jurystrut.calculations.circuit.network import Network

__all__ = ["lost_without", "running"]


def running(network: Network) -> set[str]:
    """The ids of the loads that a source feeds and that have a return, every switch closed."""
    fed, returned = network.fed(), network.returned()
    return {sink.id for sink in network.sinks if sink.point in fed and sink.back in returned}


def lost_without(network: Network, ids: Collection[str]) -> tuple[str, ...]:
    """The loads that stop when the edges or supplies with these ids are open, in the network's order.

    Takes time proportional to the network: meant for one device at a time, as for a table in a report.
    """
    gone = frozenset(ids)
    edges = tuple(edge for edge in network.edges if edge.id not in gone)
    supplies = tuple(supply for supply in network.supplies if supply.id not in gone)
    before, after = running(network), running(replace(network, edges=edges, supplies=supplies))
    return tuple(sink.id for sink in network.sinks if sink.id in before and sink.id not in after)
