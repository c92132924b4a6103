"""The electrical network: what feeds each wire, what it carries, and what its protection lets through."""

from __future__ import annotations

from jurystrut.calculations.circuit.analysis import Analysis, Side, analyse
from jurystrut.calculations.circuit.flow import greatest_flow
from jurystrut.calculations.circuit.network import Edge, Network, Sink, Supply

__all__ = ["Analysis", "Edge", "Network", "Side", "Sink", "Supply", "analyse", "greatest_flow"]
