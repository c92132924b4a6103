"""The rules that come with jurystrut, on American published sources."""

from __future__ import annotations

from pathlib import Path

from jurystrut.rulebook import Pack

__all__ = ["PACK"]

PACK = Pack(
    name="us",
    authority="US",
    modules=(
        "jurystrut_rules.airspeed_marks",
        "jurystrut_rules.covering.cloth",
        "jurystrut_rules.covering.limits",
        "jurystrut_rules.covering.process",
        "jurystrut_rules.electrical.circuit",
        "jurystrut_rules.electrical.conductors",
        "jurystrut_rules.electrical.protection",
        "jurystrut_rules.electrical.supply",
        "jurystrut_rules.electrical.switching",
        "jurystrut_rules.fuel.flow",
        "jurystrut_rules.fuel.lines",
        "jurystrut_rules.fuel.propeller",
        "jurystrut_rules.fuel.tanks",
        "jurystrut_rules.hardware.nuts",
        "jurystrut_rules.hardware.restraints",
        "jurystrut_rules.hardware.safeties",
        "jurystrut_rules.hardware.sheet",
        "jurystrut_rules.hardware.stack",
        "jurystrut_rules.hardware.torque",
        "jurystrut_rules.lighting",
        "jurystrut_rules.markings",
        "jurystrut_rules.measured_lights",
        "jurystrut_rules.operations.airspace",
        "jurystrut_rules.operations.dates",
        "jurystrut_rules.operations.equipment",
        "jurystrut_rules.operations.lamps",
        "jurystrut_rules.operations.limitations",
        "jurystrut_rules.operations.lists",
        "jurystrut_rules.operations.seats",
        "jurystrut_rules.rigging.cables",
        "jurystrut_rules.rigging.controls",
        "jurystrut_rules.rigging.measured",
        "jurystrut_rules.panel.agreement",
        "jurystrut_rules.panel.behind",
        "jurystrut_rules.panel.compass",
        "jurystrut_rules.panel.controls",
        "jurystrut_rules.panel.engine_controls",
        "jurystrut_rules.panel.instruments",
        "jurystrut_rules.panel.shapes",
        "jurystrut_rules.panel.sheet",
        "jurystrut_rules.weights.balance",
        "jurystrut_rules.weights.changes",
        "jurystrut_rules.weights.extremes",
        "jurystrut_rules.weights.finished",
        "jurystrut_rules.weights.ledger",
        "jurystrut_rules.weights.places",
        "jurystrut_rules.weights.possible",
        "jurystrut_rules.weights.report",
        "jurystrut_rules.weights.weighing",
    ),
    sources=Path(__file__).parent / "sources",
)
