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
        "jurystrut_rules.electrical.protection",
        "jurystrut_rules.electrical.supply",
        "jurystrut_rules.electrical.switching",
        "jurystrut_rules.lighting",
        "jurystrut_rules.markings",
        "jurystrut_rules.panel.agreement",
        "jurystrut_rules.panel.behind",
        "jurystrut_rules.panel.compass",
        "jurystrut_rules.panel.controls",
        "jurystrut_rules.panel.engine_controls",
        "jurystrut_rules.panel.instruments",
        "jurystrut_rules.panel.leftovers",
        "jurystrut_rules.panel.shapes",
        "jurystrut_rules.panel.sheet",
        "jurystrut_rules.weights.balance",
        "jurystrut_rules.weights.ledger",
        "jurystrut_rules.weights.weighing",
    ),
    sources=Path(__file__).parent / "sources",
)
