"""Which loads have a way from a source, a way back to one, and a switch that cuts one of the two."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jurystrut.calculations.circuit.network import Network

__all__ = ["can_be_switched_off", "has_return", "reaches_source"]


def reaches_source(network: Network) -> set[str]:
    """The ids of the loads that current from a source can reach with every switch closed."""
    fed = network.fed()
    return {sink.id for sink in network.sinks if sink.point in fed}


def has_return(network: Network) -> set[str]:
    """The ids of the loads whose current can go back to a source with every switch closed."""
    returned = network.returned()
    return {sink.id for sink in network.sinks if sink.back in returned}


def can_be_switched_off(network: Network) -> set[str]:
    """The ids of the loads that work with every switch closed, and lose supply or return when every switch is open.

    Protective devices are not taken as switches: AC 43.13-1B paragraph 11-51 does not recommend using a breaker so.
    """
    fed, returned = network.fed(closed=False), network.returned(closed=False)
    working = reaches_source(network) & has_return(network)
    live = {sink.id for sink in network.sinks if sink.point in fed and sink.back in returned}
    return working - live
