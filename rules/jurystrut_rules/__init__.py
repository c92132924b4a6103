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
        "jurystrut_rules.covering",
        "jurystrut_rules.electrical.circuit",
        "jurystrut_rules.electrical.conductors",
        "jurystrut_rules.electrical.crosschecks",
        "jurystrut_rules.electrical.devices",
        "jurystrut_rules.electrical.endurance",
        "jurystrut_rules.electrical.failures",
        "jurystrut_rules.electrical.grounds",
        "jurystrut_rules.electrical.installation",
        "jurystrut_rules.electrical.load_analysis",
        "jurystrut_rules.electrical.operation",
        "jurystrut_rules.electrical.protection",
        "jurystrut_rules.electrical.supply",
        "jurystrut_rules.electrical.switching",
        "jurystrut_rules.electrical.timing",
        "jurystrut_rules.lighting",
        "jurystrut_rules.markings",
        "jurystrut_rules.panel",
        "jurystrut_rules.weights.balance",
        "jurystrut_rules.weights.ledger",
        "jurystrut_rules.weights.weighing",
    ),
    sources=Path(__file__).parent / "sources",
)
