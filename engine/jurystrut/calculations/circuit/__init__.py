"""The electrical network: what feeds each wire, what it carries, and what its protection lets through."""

from __future__ import annotations

from jurystrut.calculations.circuit.analysis import Analysis, Side, analyse
from jurystrut.calculations.circuit.deciding import Deciding, Limit, deciding
from jurystrut.calculations.circuit.drops import Drop, drops_to, voltage_drops
from jurystrut.calculations.circuit.failures import Failure, SingleFailures
from jurystrut.calculations.circuit.flow import Way, greatest_flow
from jurystrut.calculations.circuit.network import Edge, Network, Sink, Supply
from jurystrut.calculations.circuit.operating import Demand, Grid, NoSteadyState, OperatingPoint, Source
from jurystrut.calculations.circuit.reaching import can_be_switched_off, has_return, reaches_source

__all__ = [
    "Analysis",
    "Deciding",
    "Demand",
    "Drop",
    "Edge",
    "Failure",
    "Grid",
    "Limit",
    "Network",
    "NoSteadyState",
    "OperatingPoint",
    "Side",
    "SingleFailures",
    "Sink",
    "Source",
    "Supply",
    "Way",
    "analyse",
    "can_be_switched_off",
    "deciding",
    "drops_to",
    "greatest_flow",
    "has_return",
    "reaches_source",
    "voltage_drops",
]
